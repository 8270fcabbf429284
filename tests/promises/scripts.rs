//! Twenty texts of each shipped script, shaped as HarfBuzz shapes them, glyph by glyph:
//! `tests/outside/lettering.py`, in the Python that `ANSATA_PYTHON` names. And a plaque of
//! several scripts as Pango reads it: `tests/outside/pango_text.c`, in the folder that
//! `ANSATA_PANGO` names.

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;

use ansata::layout::{Axis, AxisValue, LetteringChoice};
use ansata::lettering::{Face, LineStyle, catalogue, shaped_run, styled_line};
use serde_json::{Value, json};

use crate::lettering::shipped;
use crate::lettering_outside::{axes, file, outside, say};

/// Each text of one direction and script, letters first, so that both sides take it for
/// one run. Invented wording, made to hold what the script joins, marks and reorders.
const WELSH: [&str; 20] = [
    "Canwyd y clychau",
    "tŵr yr eglwys",
    "Dŵr a thân",
    "gŵyl y gaeaf",
    "Llŷn ac Eifionydd",
    "hŷn na’r dderwen",
    "Gwŷr y glannau",
    "Ỳ ỳ Ẁ ẁ Ẃ ẃ",
    "Ÿ ÿ Ẅ ẅ",
    "âêîôûŵŷ",
    "ÂÊÎÔÛŴŶ",
    "Er cof am Elowen Tarrant",
    "y gloch fechan",
    "Dyffryn Marrowby",
    "a’i chyfeillion",
    "pêl-droediwr",
    "Rhoddwyd gan y canwyr",
    "ŵyn a’r ŵydd",
    "llythrennau",
    "ffynnon",
];
const VIETNAMESE: [&str; 20] = [
    "Tiếng chuông",
    "đã ngân ở đây",
    "Những người kéo chuông",
    "thung lũng",
    "Ấp Ầm Ẩn Ẫn Ận",
    "Ếch Ềnh Ểu Ễn Ệ",
    "ố ồ ổ ỗ ộ",
    "ớ ờ ở ỡ ợ",
    "ứ ừ ử ữ ự",
    "ắ ằ ẳ ẵ ặ",
    "Ước mơ",
    "trời đêm",
    "kính viễn vọng",
    "quả chuông mới",
    "Đài quan sát",
    "lễ hội mùa đông",
    "Nguyễn Ánh Dương",
    "khắc trên đồng",
    "Ơ ơ Ư ư Đ đ",
    "tưởng nhớ",
];
const GREEK: [&str; 20] = [
    "Οι καμπάνες ήχησαν",
    "Παρατηρητήριο",
    "Ιφιγένεια",
    "άυλος ΐ ΰ",
    "Ἐν ἀρχῇ ἦν ὁ λόγος",
    "ᾠδή ᾳ ῃ ῳ",
    "ἄνθρωπος",
    "Ῥόδος ῥέω",
    "ᾯ ᾮ ᾭ",
    "ὦ ὧ ὢ ὣ",
    "ς σ Σ ϲ",
    "ΑΒΓΔΕΖΗΘ",
    "ΛΜΝΞΟΠΡΣΤΥΦΧΨΩ",
    "Τη νέα καμπάνα",
    "εδώ, στον πύργο",
    "Α\u{301} ι\u{308}\u{301}",
    "Ὀκτώβριος",
    "νὺξ ἀστερόεσσα",
    "φαίνεται",
    "ΤΑΥ ΑΥΓΗ",
];
const CYRILLIC: [&str; 20] = [
    "Колокола звонили",
    "Обсерватория",
    "Щедрый вечер",
    "ёжик и чай",
    "ЪЫЬЭЮЯ",
    "Ђорђе Љубица Његош",
    "Ґанок Їжак Єва",
    "Ўлад і Ірына",
    "башня и долина",
    "ТАТА УХОДИТ",
    "Гаврила",
    "ѐ ѝ Ѐ Ѝ",
    "а\u{301} о\u{301} и\u{301}",
    "новый колокол",
    "АВГУСТ",
    "Жжение, ффф",
    "Ќирил Ѓорѓи",
    "подъезд объём",
    "Эхо",
    "Цифры 1914",
];
const HEBREW: [&str; 20] = [
    "שלום",
    "שָׁלוֹם לְךָ",
    "פַּעֲמוֹן חָדָשׁ",
    "בְּרֵאשִׁית",
    "אביגיל טרנט",
    "צלצלו בפעמון",
    "מִגְדָּל",
    "וּבַלַּיְלָה",
    "שׂ שׁ שּׂ שּׁ",
    "כּ ךּ פּ ףּ",
    "הֳרָפִים עֲלֵיהֶם",
    "אִמָּא",
    "ג׳ ז׳ צ׳",
    "תשפ״ד",
    "כָּל־הַכּוֹכָבִים",
    "קמץ ץ ף ך ם ן",
    "לָהּ",
    "חֻלְצָה",
    "מצפה הכוכבים",
    "נר\u{5C1} ש\u{5C2}\u{5BC}",
];
const ARABIC: [&str; 20] = [
    "قرعت الأجراس",
    "هنا",
    "لا إله",
    "الله",
    "مُحَمَّد",
    "السَّلَامُ عَلَيْكُمْ",
    "وأبيغيل تارانت",
    "الجرس الجديد",
    "مرصد الوادي",
    "لأ لإ لآ لا",
    "بين يدي",
    "ليلة النجوم",
    "شكرًا جزيلًا",
    "مؤسّسة",
    "تلسكوب",
    "ههه كككك",
    "يوليو",
    "پچژگ",
    "ذِكْرَى",
    "قلعة البرج",
];
const DEVANAGARI: [&str; 20] = [
    "नमस्ते",
    "घंटियाँ बजीं",
    "क्षत्रिय",
    "ज्ञान",
    "श्री",
    "हिन्दी",
    "कीर्ति",
    "र्क र्कि र्की",
    "विद्यार्थी",
    "द्ध द्व द्य ट्ट",
    "त्र प्र क्र ट्र",
    "स्त्री",
    "कृपा हृदय",
    "ऋतु",
    "आकाशवाणी",
    "नई घंटी",
    "वेधशाला",
    "क़ ख़ ग़ ज़ ड़ ढ़ फ़",
    "पूर्णिमा",
    "उत्कृष्ट",
];

/// Texts and the lettering for them.
fn scripts() -> [(&'static str, [&'static str; 20]); 10] {
    [
        ("EB Garamond", WELSH),
        ("Archivo", WELSH),
        ("EB Garamond", VIETNAMESE),
        ("Roboto", VIETNAMESE),
        ("EB Garamond", GREEK),
        ("EB Garamond", CYRILLIC),
        ("Roboto", CYRILLIC),
        ("Frank Ruhl Libre", HEBREW),
        ("Amiri", ARABIC),
        ("Noto Sans Devanagari", DEVANAGARI),
    ]
}

#[test]
fn every_shipped_script_is_shaped_as_harfbuzz_shapes_it() {
    let faces: Vec<Arc<Face>> = scripts().iter().map(|(name, _)| shipped(name)).collect();
    let question: Vec<Value> = faces
        .iter()
        .zip(scripts())
        .map(|(face, (_, texts))| {
            let entry = catalogue().entry(&face.name).unwrap();
            let none: [&str; 0] = [];
            json!({ "file": file(entry), "axes": axes(face), "features": none, "texts": texts })
        })
        .collect();
    let Some(answer) = outside(&json!({ "shape": question, "ink": [] })) else { return };
    let (mut runs, mut count) = (0, 0);
    for (at, (face, (_, texts))) in faces.iter().zip(scripts()).enumerate() {
        for (text_at, text) in texts.iter().enumerate() {
            let theirs = &answer["shape"][at][text_at];
            let ours = shaped_run(text, face, &[]);
            let case = format!("{} {text:?}", face.name);
            let glyphs = theirs["glyphs"].as_array().unwrap();
            let ids: Vec<Value> = ours.glyphs.iter().map(|glyph| json!(glyph.id)).collect();
            let other: Vec<&Value> = glyphs.iter().map(|glyph| &glyph[0]).collect();
            assert_eq!(ids.iter().collect::<Vec<_>>(), other, "{case}");
            for (glyph, other) in ours.glyphs.iter().zip(glyphs) {
                assert_eq!(json!(glyph.cluster), other[1], "{case}");
                for (ours, theirs) in [(glyph.x_em, &other[2]), (glyph.y_em, &other[3])] {
                    let off = ours * face.upem - theirs.as_f64().unwrap();
                    assert!(off.abs() <= 1.0, "{case}: {glyph:?} is {off} units off");
                }
                count += 1;
            }
            assert!(ours.glyphs.iter().all(|glyph| glyph.id != 0), "{case} lacks a letter");
            runs += 1;
        }
    }
    say(&format!("{runs} texts of 7 scripts and languages agree in {count} glyphs"));
    assert_eq!(runs, 200);
}

/// Languages for which a shipped lettering has forms of its own, or joins letters otherwise.
const LANGUAGES: [(&str, &str, &str); 8] = [
    ("EB Garamond", "tr", "fişek fiyat figür"),
    ("EB Garamond", "az", "fil fikir"),
    ("EB Garamond", "ro", "Şoseaua ţării"),
    ("EB Garamond", "nl", "bijzonder íj́"),
    ("EB Garamond", "ca", "col·lecció"),
    ("Roboto", "ro", "Şoseaua ţării"),
    ("Archivo", "ro", "Şoseaua ţării"),
    ("EB Garamond Italic", "sr", "бгдпт"),
];

#[test]
fn a_language_chooses_the_forms_that_harfbuzz_chooses() {
    let question: Vec<Value> = LANGUAGES
        .iter()
        .map(|(name, language, text)| {
            let face = shipped(name);
            let entry = catalogue().entry(name).unwrap();
            let none: [&str; 0] = [];
            json!({ "file": file(entry), "axes": axes(&face), "features": none,
                "language": language, "texts": [text] })
        })
        .collect();
    let Some(answer) = outside(&json!({ "shape": question, "ink": [] })) else { return };
    let mut changed = 0;
    for (at, (name, language, text)) in LANGUAGES.iter().enumerate() {
        let face = shipped(name);
        let set = |language: Option<&str>| -> Vec<u16> {
            let style = LineStyle { language, ..LineStyle::default() };
            let line = styled_line(text, &face, &style, &[0, text.len()]);
            line.piece(0..text.len()).glyphs.iter().map(|glyph| glyph.id).collect()
        };
        let theirs = answer["shape"][at][0]["glyphs"].as_array().unwrap();
        let theirs: Vec<&Value> = theirs.iter().map(|glyph| &glyph[0]).collect();
        let ours: Vec<Value> = set(Some(language)).iter().map(|id| json!(id)).collect();
        assert_eq!(ours.iter().collect::<Vec<_>>(), theirs, "{name} {language}");
        changed += usize::from(set(Some(language)) != set(None));
    }
    say(&format!(
        "{} languages agree; in {changed} the forms differ from the usual",
        LANGUAGES.len()
    ));
    assert!(changed >= 3, "{changed}");
}

/// The families of the plaque, in order.
const FAMILIES: [&str; 3] = ["EB Garamond", "Frank Ruhl Libre", "Amiri"];

/// Language and wording of each line of the shipped plaque, each in one row, and more with
/// names mixed both ways.
fn mixed_lines() -> Vec<(String, String)> {
    let plaque: toml::Table = include_str!("../../layouts/many-scripts.toml").parse().unwrap();
    let lines = plaque["line"].as_array().unwrap().iter().map(|line| {
        let of = |key: &str| line.get(key).and_then(toml::Value::as_str);
        (of("language").unwrap_or("en").to_owned(), of("text").unwrap().replace('\n', " "))
    });
    let more = [
        ("en", "Vale אביגיל Tarrant שלום هنا Elowen"),
        ("he", "אביגיל Vale הנה Elowen هنا טרנט"),
        ("ar", "هنا Vale الجرس שלום Elowen قرعت"),
        ("el", "Ιφιγένεια שלום και Vale"),
        ("he", "שלום «Vale» שלום"),
    ];
    lines.chain(more.map(|(language, text)| (language.to_owned(), text.to_owned()))).collect()
}

/// A family at the weight that Pango takes for its usual one.
fn regular(name: &str) -> Arc<Face> {
    let mut choice = LetteringChoice::shipped(name);
    if shipped(name).axes.iter().any(|(tag, _)| tag == "wght") {
        choice.ask(Axis::Weight, AxisValue::Word("regular"));
    }
    Face::open(&choice).unwrap()
}

/// A glyph on a row: family, glyph, byte and x.
type Shown = (String, u16, usize, f64);

/// What Pango shows for each text: family, glyph, byte and x of every glyph.
fn pango(texts: &[(String, String)]) -> Option<Vec<Vec<Shown>>> {
    let Ok(folder) = std::env::var("ANSATA_PANGO") else {
        let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
        assert!(!must, "ANSATA_PANGO must name the folder that tests/outside/pango fills");
        say("NOT CHECKED: ANSATA_PANGO is not set; `tests/all` compares mixed scripts with Pango");
        return None;
    };
    let mut child = Command::new(Path::new(&folder).join("text"))
        .arg(FAMILIES.join(","))
        .env("FONTCONFIG_FILE", Path::new(&folder).join("fonts.conf"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("tests/outside/pango builds this program");
    let mut question = String::new();
    for (language, text) in texts {
        let _ = writeln!(question, "{language}\t{text}");
    }
    child.stdin.take().unwrap().write_all(question.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    let answer = String::from_utf8(output.stdout).unwrap();
    let (versions, rows) = answer.split_once('\n').unwrap();
    say(&format!("compared with {versions}"));
    let glyph = |line: &str| {
        let fields: Vec<&str> = line.split('\t').collect();
        let [family, id, byte, x] = fields[..] else { panic!("{line}") };
        (family.to_owned(), id.parse().unwrap(), byte.parse().unwrap(), x.parse().unwrap())
    };
    let rows = rows.trim_end().split("\n\n").map(|row| row.lines().map(glyph).collect());
    Some(rows.collect())
}

/// Letters (unpointed: HarfBuzz 6, on which the Pango of Debian 12 stands, composes points
/// that the HarfBuzz of the check above leaves apart): figures, spaces and signs belong to no script, and Pango sets
/// them in the first family, where a plaque keeps them with the letters they go with.
fn is_letter(text: &str, byte: usize) -> bool {
    text[byte..].chars().next().is_some_and(char::is_alphabetic)
}

#[test]
fn a_plaque_of_several_scripts_reads_as_pango_reads_it() {
    let texts = mixed_lines();
    let Some(rows) = pango(&texts) else { return };
    assert_eq!(rows.len(), texts.len());
    let faces: Vec<Arc<Face>> = FAMILIES.iter().map(|name| regular(name)).collect();
    let (mut count, mut steps) = (0, 0);
    for ((language, text), theirs) in texts.iter().zip(rows) {
        let style =
            LineStyle { language: Some(language), others: &faces[1..], ..LineStyle::default() };
        let line = styled_line(text, &faces[0], &style, &[0, text.len()]);
        let cap = faces[0].cap_em();
        let ours: Vec<Shown> = line
            .piece(0..text.len())
            .glyphs
            .iter()
            .map(|glyph| {
                let face = line.face_of(glyph.face);
                // Pango sets all families at one em, a plaque at one cap height.
                let x = glyph.x_em * face.cap_em() / cap * 1000.0;
                let name = face.name.split(',').next().unwrap_or_default();
                (name.to_owned(), glyph.id, glyph.cluster, x)
            })
            .filter(|(_, _, byte, _)| is_letter(text, *byte))
            .collect();
        let theirs: Vec<_> =
            theirs.into_iter().filter(|(_, _, byte, _)| is_letter(text, *byte)).collect();
        let names = |glyphs: &[Shown]| {
            glyphs.iter().map(|(name, id, byte, _)| (name.clone(), *id, *byte)).collect::<Vec<_>>()
        };
        assert_eq!(names(&ours), names(&theirs), "{text}");
        count += ours.len();
        for (ours, theirs) in ours.windows(2).zip(theirs.windows(2)) {
            // Neighbours in one word.
            let (from, to) = (ours[0].2.min(ours[1].2), ours[0].2.max(ours[1].2));
            if ours[0].0 == ours[1].0 && text[from..to].chars().all(char::is_alphabetic) {
                let off = (ours[1].3 - ours[0].3) - (theirs[1].3 - theirs[0].3);
                assert!(off.abs() <= 1.0, "{text}: {ours:?} {off}");
                steps += 1;
            }
        }
    }
    say(&format!(
        "{count} letters of {} rows in the same order and shape; {steps} steps",
        texts.len()
    ));
    assert!(count > 250 && steps > 150, "{count} {steps}");
}
