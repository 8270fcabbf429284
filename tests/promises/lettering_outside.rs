//! Lettering held against HarfBuzz and fontTools, live: `tests/outside/lettering.py`
//! runs in the Python that `ANSATA_PYTHON` names. `tests/all` sets it.

use std::io::Write;
use std::path::{Path, PathBuf};

use ansata::lettering::{Entry, Face, catalogue, shaped_run};
use kurbo::Shape;
use serde_json::{Value, json};

use crate::lettering::shipped;
use crate::outside::asked;

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Says it on the real standard error, which the test harness does not swallow.
pub(crate) fn say(text: &str) {
    let _ = writeln!(std::io::stderr(), "{text}");
}

/// The script's answer; `None`, said loudly, where no Python is named and none is
/// demanded by `ANSATA_OUTSIDE=1`.
pub(crate) fn outside(question: &Value) -> Option<Value> {
    asked("lettering.py", question)
}

pub(crate) fn file(entry: &Entry) -> String {
    Path::new(&root()).join("fonts-open").join(&entry.file).display().to_string()
}

pub(crate) fn axes(face: &Face) -> Value {
    face.axes.iter().map(|(tag, value)| (tag.clone(), json!(value))).collect()
}

/// Kerning, ligatures, marks, figures, swashes: each text of one direction and script.
const TEXTS: [&str; 20] = [
    "AVATAR",
    "To Wye Vale, Tarrant",
    "LYRA & VEGA",
    "office fjord difficult",
    "“Treble’s” Ring",
    "The Elowen Tarrant Striking Cup",
    "1914–2003 № 7",
    "P. A. W. LTV Y.",
    "Åse Ødegård",
    "Cafe\u{0301} ü u\u{0308}",
    "Quoth AVE",
    "fi ffi fl ffl ft",
    "½ ¼ ¾ £5 §3",
    "q\u{0307} Z\u{030C} ẞ ß",
    "T\u{00AD}o V\u{200B}a W\u{200D}a",
    "PRESENTED TO",
    "Dr J. Q. Vyse, 12th May",
    "‘Twas’ … — –",
    "WAVY wavy Kv rv y,",
    "Great Vale of bells st ct",
];

const HEBREW: [&str; 3] = ["שלום", "שָׁלוֹם לְךָ", "ידידי הטוב"];

#[test]
fn advances_and_kerning_agree_with_harfbuzz() {
    let names = [
        "EB Garamond",
        "Archivo Narrow",
        "Cinzel",
        "Great Vibes",
        "Besley Italic",
        "Libre Baskerville Bold",
        "Atkinson Hyperlegible",
        "Frank Ruhl Libre",
    ];
    let sets: [&[&str]; 3] = [&[], &["smcp", "-liga"], &["onum", "-kern"]];
    let mut items = Vec::new();
    for name in names {
        let mut texts = TEXTS.to_vec();
        if name == "Frank Ruhl Libre" {
            texts.extend(HEBREW);
        }
        items.extend(sets.map(|set| (shipped(name), set, texts.clone())));
    }
    let question: Vec<Value> = items
        .iter()
        .map(|(face, set, texts)| {
            let entry = catalogue().entry(&face.name).unwrap();
            json!({ "file": file(entry), "axes": axes(face), "features": set, "texts": texts })
        })
        .collect();
    let Some(answer) = outside(&json!({ "shape": question, "ink": [] })) else { return };
    let (mut runs, mut kerned) = (0, 0);
    for (at, (face, set, texts)) in items.iter().enumerate() {
        let set: Vec<String> = set.iter().map(|feature| (*feature).to_owned()).collect();
        let plain = [set.clone(), vec!["-kern".to_owned()]].concat();
        for (text_at, text) in texts.iter().enumerate() {
            let theirs = &answer["shape"][at][text_at];
            let ours = shaped_run(text, face, &set);
            let case = format!("{} {set:?} {text:?}", face.name);
            let glyphs = theirs["glyphs"].as_array().unwrap();
            assert_eq!(ours.glyphs.len(), glyphs.len(), "{case}");
            for (glyph, other) in ours.glyphs.iter().zip(glyphs) {
                assert_eq!(json!(glyph.id), other[0], "{case}");
                assert_eq!(json!(glyph.cluster), other[1], "{case}");
                for (ours, theirs) in [(glyph.x_em, &other[2]), (glyph.y_em, &other[3])] {
                    let off = ours * face.upem - theirs.as_f64().unwrap();
                    assert!(off.abs() <= 1.0, "{case}: {glyph:?} is {off} units off");
                }
            }
            let off = ours.advance_em * face.upem - theirs["advance"].as_f64().unwrap();
            assert!(off.abs() <= 1.0, "{case}: {off} units off");
            runs += 1;
            let unkerned = shaped_run(text, face, &plain).advance_em;
            kerned += usize::from((unkerned - ours.advance_em).abs() * face.upem > 1.0);
        }
    }
    say(&format!("{runs} runs agree within 1 font unit; kerning moved {kerned} of them"));
    assert!(runs >= 6 * 20 && kerned > 100);
}

#[test]
fn outlines_and_ink_agree_with_fonttools() {
    let letters: String = ('!'..='~').chain('¡'..='ÿ').chain("ŒœŠšŽž‘’“”–—…".chars()).collect();
    let filled = catalogue().entries.iter().filter(|entry| !entry.single_stroke());
    let faces: Vec<_> = filled.map(|entry| shipped(&entry.name)).collect();
    let glyphs = |face: &std::sync::Arc<Face>| -> Vec<u16> {
        let single = |letter: char| shaped_run(&letter.to_string(), face, &[]);
        let all = letters.chars().flat_map(|letter| single(letter).glyphs);
        all.map(|glyph| glyph.id).collect()
    };
    let question: Vec<Value> = faces
        .iter()
        .map(|face| {
            let entry = catalogue().entry(&face.name).unwrap();
            json!({ "file": file(entry), "axes": axes(face), "glyphs": glyphs(face) })
        })
        .collect();
    let Some(answer) = outside(&json!({ "shape": [], "ink": question })) else { return };
    let mut compared = 0;
    for (at, face) in faces.iter().enumerate() {
        for (glyph_at, glyph) in glyphs(face).into_iter().enumerate() {
            let outline = face.outline(glyph);
            let Some(theirs) = answer["ink"][at][glyph_at].as_array() else {
                assert!(outline.is_empty(), "{face:?} glyph {glyph}");
                continue;
            };
            let ours = outline.bounding_box();
            for (ours, theirs) in [ours.x0, ours.y0, ours.x1, ours.y1].iter().zip(theirs) {
                let off = ours - theirs.as_f64().unwrap() / face.upem;
                assert!(off.abs() <= 0.001, "{face:?} glyph {glyph} is {off} em off");
            }
            compared += 1;
        }
    }
    say(&format!("ink of {compared} glyphs agrees within 0.1 % of the em"));
    assert!(compared > 22 * 180);
}

/// Axes, their words, embedding, licence, O to I (703.5.4 of the 2010 ADA Standards),
/// reference letters and features, of every style in the catalogue but the single-stroke ones.
#[test]
fn what_the_catalogue_says_agrees_with_fonttools() {
    let entries: Vec<&Entry> =
        catalogue().entries.iter().filter(|entry| !entry.single_stroke()).collect();
    let question: Vec<Value> = entries
        .iter()
        .map(|entry| {
            let family = catalogue().family(entry).unwrap();
            let letters: Vec<char> = family.scripts.iter().map(|(_, letter)| *letter).collect();
            let axes: Value = entry.axes.iter().map(|(tag, at)| (tag.clone(), json!(at))).collect();
            json!({ "file": file(entry), "axes": axes, "letters": letters })
        })
        .collect();
    let Some(answer) = outside(&json!({ "facts": question })) else { return };
    let (mut words, mut passing) = (0, 0);
    for (entry, theirs) in entries.iter().copied().zip(answer["facts"].as_array().unwrap()) {
        let (face, family) = (shipped(&entry.name), catalogue().family(entry).unwrap());
        let ranges = family.axes.iter().map(|axis| {
            let tag = axis.axis.tag().to_owned();
            (tag, json!([f64::from(axis.least), f64::from(axis.most)]))
        });
        assert_eq!(theirs["ranges"], ranges.collect::<Value>(), "{}", entry.name);
        // "SemiBold" of the file is our "semibold", its "ExtraLight" our "extra light".
        let plain = |text: &str| text.to_lowercase().replace(' ', "");
        for named in theirs["named"].as_array().unwrap() {
            let name = named[0].as_str().unwrap().replace("Italic", "").replace("Condensed", "");
            let name = if name.trim().is_empty() { "regular".to_owned() } else { plain(&name) };
            let axis = family.axis(ansata::layout::Axis::Weight).unwrap();
            let word = axis.words.iter().find(|(word, _)| plain(word) == name);
            let (_, value) = word.unwrap_or_else(|| panic!("{} {name}", entry.name));
            assert_eq!(json!(f64::from(*value)), named[1]["wght"], "{} {name}", entry.name);
            words += 1;
        }
        assert_eq!(theirs["fs_type"], 0, "{}", entry.name);
        let ratio = theirs["o_to_i"].as_f64().unwrap();
        assert!((face.o_to_i().unwrap() - ratio).abs() < 0.002, "{} {ratio}", entry.name);
        passing += usize::from((0.55..=1.10).contains(&ratio));
        for ((script, _), top) in family.scripts.iter().zip(theirs["tops"].as_array().unwrap()) {
            let off = face.reference_units(script).unwrap() - top.as_f64().unwrap();
            assert!(off.abs() < 0.001 * face.upem, "{} {script} {off}", entry.name);
        }
        let features: Vec<&str> = theirs["features"]
            .as_array()
            .unwrap()
            .iter()
            .map(|tag| tag.as_str().unwrap())
            .collect();
        for tag in ["smcp", "c2sc", "lnum", "onum", "pnum", "tnum"] {
            assert_eq!(face.offers(tag), features.contains(&tag), "{} {tag}", entry.name);
        }
    }
    say(&format!("{words} named weights agree; O to I: {passing} of {} pass", entries.len()));
    assert!(words > 150 && passing == 43);
}
