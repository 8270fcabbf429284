//! Promises about lettering.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use ansata::layout::{FontFile, LetteringChoice};
use ansata::lettering::{
    Body, BodyKind, Face, catalogue, feature_is_valid, missing, nearest_entry, shaped_line,
    shaped_run, united, who_has,
};
use arbtest::arbtest;
use kurbo::Shape;
use sha2::{Digest, Sha256};
use unicode_segmentation::UnicodeSegmentation;

fn fonts() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fonts-open")
}

pub(crate) fn shipped(name: &str) -> Arc<Face> {
    Face::open(&LetteringChoice::shipped(name.to_owned())).unwrap()
}

fn own(path: &str, index: u32, bytes: Vec<u8>) -> Result<Arc<Face>, String> {
    let file = FontFile { path: path.to_owned(), index, bytes: bytes.into() };
    Face::open(&LetteringChoice::own(file)).map_err(|error| error.message)
}

fn file(path: &str) -> Vec<u8> {
    std::fs::read(fonts().join(path)).unwrap()
}

fn glyph(face: &Arc<Face>, letter: char) -> u16 {
    shaped_run(&letter.to_string(), face, &[]).glyphs[0].id
}

fn ink(face: &Arc<Face>, letter: char) -> kurbo::Rect {
    face.outline(glyph(face, letter)).bounding_box()
}

fn features(list: &[&str]) -> Vec<String> {
    list.iter().map(|feature| (*feature).to_owned()).collect()
}

/// `fit.md`'s definition of a cap height: where flat capitals differ by more than
/// 3 % a reference letter stands for all, else each is within that of the median.
#[test]
fn flat_capitals_of_one_cap_height_look_alike_across_letterings() {
    for entry in &catalogue().entries {
        let face = shipped(&entry.name);
        let letters = entry.reference.map_or("EFHITZ".to_owned(), |letter| letter.to_string());
        for letter in letters.chars() {
            let ink = ink(&face, letter);
            let height = if entry.reference.is_some() { ink.y1 } else { ink.height() };
            let share = height / face.cap_em();
            assert!((share - 1.0).abs() < 0.03, "{} {letter} {share}", entry.name);
        }
    }
}

/// Figures in the catalogue: measured with fontTools, apart from this program.
#[test]
fn the_catalogue_states_the_heights_that_the_files_have() {
    for entry in &catalogue().entries {
        let face = shipped(&entry.name);
        let near = |ours: f64, stated: f64| (ours - stated).abs() < 0.004 * face.cap_units;
        assert!(near(face.cap_units, entry.cap_units), "{face:?} cap {}", face.cap_units);
        assert!(near(face.x_units.unwrap(), entry.x_units), "{face:?} x {:?}", face.x_units);
    }
}

/// Never the file's own default: Archivo's is semi-bold.
#[test]
fn every_axis_of_every_lettering_is_set_by_the_catalogue() {
    for entry in &catalogue().entries {
        let face = shipped(&entry.name);
        let sorted = |axes: &[(String, f32)]| -> BTreeMap<String, String> {
            axes.iter().map(|(tag, value)| (tag.clone(), value.to_string())).collect()
        };
        assert_eq!(sorted(&face.axes), sorted(&entry.axes), "{}", entry.name);
    }
}

#[test]
fn a_narrower_lettering_makes_a_narrower_line_of_the_same_height() {
    let faces = ["Archivo Narrow", "Archivo", "Archivo Wide"].map(shipped);
    let text = "PRESENTED TO";
    let widths = faces.clone().map(|f| shaped_line(text, &f, &[], &[0, text.len()]).width(0, 1));
    // At wdth 62 and 125 the line is 0.653 and 1.287 of its length at 100 (measured
    // with HarfBuzz at wght 400); 75 lies between.
    assert!(widths[0] / widths[1] > 0.653 && widths[0] / widths[1] < 0.85, "{widths:?}");
    assert!(widths[2] / widths[1] > 1.2 && widths[2] / widths[1] < 1.35, "{widths:?}");
    for face in &faces {
        assert!((face.cap_em() - faces[1].cap_em()).abs() < 0.002);
    }
}

#[test]
fn a_missing_character_is_named_with_its_place_and_who_has_it() {
    let text = "Vale, שלום";
    let lacking = missing(&shipped("Cinzel"), text);
    let named: Vec<(char, usize)> = lacking.iter().map(|m| (m.character, m.offset)).collect();
    assert_eq!(named, [('ש', 6), ('ל', 8), ('ו', 10), ('ם', 12)]);
    assert!(missing(&shipped("Frank Ruhl Libre"), text).is_empty());
    assert!(who_has('ש').contains(&"Frank Ruhl Libre"));
    assert!(who_has('Ж').contains(&"EB Garamond"));
}

#[test]
fn a_misspelt_lettering_is_answered_with_the_nearest_name() {
    let error = Face::open(&LetteringChoice::shipped("EB Garamont".to_owned())).unwrap_err();
    assert_eq!(error.message, "no lettering is called `EB Garamont`");
    assert_eq!(error.help.as_deref(), Some("did you mean `EB Garamond`?"));
    assert!(nearest_entry("").is_none());
}

#[test]
fn shipped_files_are_unmodified_and_licences_stand_beside_them() {
    let sums = std::fs::read_to_string(fonts().join("SHA256SUMS")).unwrap();
    let listed: BTreeMap<&str, &str> = sums
        .lines()
        .filter_map(|line| line.split_once("  "))
        .map(|(sum, name)| (name, sum))
        .collect();
    let sum = |bytes: &[u8]| -> String {
        Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
    };
    // Files, licences, the log that Berenika asks to travel with it, and the licence of the
    // package that the Hershey Fonts came in.
    assert_eq!(listed.len(), 38 + 25 + 1 + 1);
    for (name, expected) in &listed {
        assert_eq!(&sum(&file(name)), expected, "{name}");
    }
    for entry in &catalogue().entries {
        assert_eq!(listed.get(entry.file.as_str()), Some(&entry.sha256.as_str()));
        let face = shipped(&entry.name);
        // What is in the program is what is in the folder.
        assert_eq!(sum(&face.bytes), entry.sha256);
        assert_eq!(face.sha256, entry.sha256);
    }
    for family in &catalogue().families {
        let beside = file(&format!("{}/LICENSE.txt", family.folder));
        let mut beside = String::from_utf8(beside).unwrap();
        if family.folder == "hershey-svg" {
            let package = file("hershey-svg/LICENSE-package-MIT.txt");
            beside.push('\n');
            beside.push_str(std::str::from_utf8(&package).unwrap());
        }
        assert_eq!(family.licence_text, beside);
    }
}

#[test]
fn every_piece_of_a_line_is_as_wide_as_that_piece_shaped_alone() {
    // Breaks inside ligatures, kerned pairs and after hyphens are the hard cases.
    let text = "To Vale, AVATAR fly-fishing offices T. V- W' fi fl Yes “Æther” 1914–2003";
    let mut stops: Vec<usize> = vec![0];
    stops.extend(text.match_indices([' ', '-']).map(|(at, _)| at + 1));
    stops.push(text.len());
    for name in catalogue().names() {
        let face = shipped(name);
        for set in [&[][..], &["smcp", "-liga"], &["onum", "-kern"]] {
            let line = shaped_line(text, &face, &features(set), &stops);
            for (from, start) in stops.iter().enumerate() {
                for (to, end) in stops.iter().enumerate().skip(from + 1) {
                    let alone = line.piece(*start..*end);
                    let width = (alone.ink_right_em - alone.ink_left_em) / face.cap_em();
                    assert!((width - line.width(from, to)).abs() < 1e-9, "{name} {start} {end}");
                    assert!(alone.ink_top_em <= line.rise * face.cap_em() + 1e-9);
                    assert!(-alone.ink_bottom_em <= line.depth * face.cap_em() + 1e-9);
                }
            }
        }
    }
}

#[test]
fn spaces_at_the_edges_of_a_piece_take_no_room() {
    let face = shipped("Besley");
    let text = "  The Elowen Tarrant Cup \u{00A0} ";
    let line = shaped_line(text, &face, &[], &[0, 6, text.len()]);
    assert_eq!(line.piece(0..text.len()), line.piece(2..text.len() - 4));
    let word = shaped_line("The", &face, &[], &[0, 3]);
    assert!((line.width(0, 1) - word.width(0, 1)).abs() < 1e-12 && word.width(0, 1) > 1.0);
    let blank = shaped_line(" \u{2003} ", &face, &[], &[0, 5]);
    assert_eq!((blank.width(0, 1), blank.rise, blank.depth), (0.0, 1.0, 0.0));
    assert_eq!(blank.body, None);
}

#[test]
fn characters_without_ink_are_not_seen_on_the_plate() {
    for name in catalogue().names() {
        let face = shipped(name);
        let plain = shaped_run("AVE", &face, &["-kern".to_owned()]);
        let text = "A\u{00AD}V\u{200B}E\u{2060}";
        let marked = shaped_run(text, &face, &["-kern".to_owned()]);
        assert!((plain.advance_em - marked.advance_em).abs() < 1e-9, "{name}");
        let inked = |run: &ansata::lettering::Run| -> Vec<u16> {
            run.glyphs.iter().map(|g| g.id).filter(|id| !face.outline(*id).is_empty()).collect()
        };
        assert_eq!(inked(&plain), inked(&marked), "{name}");
        assert!(missing(&face, text).is_empty());
    }
}

#[test]
fn hebrew_runs_from_right_to_left_and_its_year_from_left_to_right() {
    let face = shipped("Frank Ruhl Libre");
    let run = shaped_run("אב 2024", &face, &[]);
    let places: BTreeMap<usize, f64> = run.glyphs.iter().map(|g| (g.cluster, g.x_em)).collect();
    // UAX #9: the whole line right to left, the number inside it left to right.
    assert!(places[&0] > places[&2] && places[&2] > places[&5], "{places:?}");
    assert!(places[&5] < places[&6] && places[&6] < places[&7] && places[&7] < places[&8]);
    let xs: Vec<f64> = run.glyphs.iter().map(|g| g.x_em).collect();
    assert!(xs.is_sorted(), "glyphs come in visual order");
}

#[test]
fn a_line_knows_its_smallest_letters() {
    let body = |name: &str, text: &str, set: &[&str]| {
        let line = shaped_line(text, &shipped(name), &features(set), &[0, text.len()]);
        (
            line.body.map(|Body { kind, ratio }| (kind, (ratio * 1000.0).round() / 1000.0)),
            line.all_capitals,
        )
    };
    // Archivo at wght 500: x 526, capitals 686, old-style figures are measured.
    assert_eq!(body("Archivo", "Vale", &[]), (Some((BodyKind::LowerCase, 0.767)), false));
    assert_eq!(body("Archivo", "VALE", &[]), (Some((BodyKind::Capitals, 1.0)), true));
    // Marks do not count, nor one lower-case letter in a capitalised word.
    assert_eq!(body("Archivo", "McKAY – ‘A’, Nº", &[]), (Some((BodyKind::Capitals, 1.0)), true));
    assert_eq!(body("Archivo", "McKay", &[]).0, Some((BodyKind::LowerCase, 0.767)));
    assert_eq!(body("Archivo", "– , .", &[]), (None, true));
    // Great Vibes: figures 0.71 of the capital (1 is 574.7 high, H 807 above the baseline).
    assert_eq!(body("Great Vibes", "1", &[]).0, Some((BodyKind::Figures, 0.712)));
    // EB Garamond: small capitals are lower than capitals and higher than x.
    let (small, capitals) = body("EB Garamond", "vale", &["smcp"]);
    let (kind, ratio) = small.unwrap();
    assert!(
        capitals && kind == BodyKind::SmallCapitals && ratio > 0.631 && ratio < 0.75,
        "{ratio}"
    );
    // Frank Ruhl Libre: he is 597 above the baseline at wght 500, H 660 (fontTools).
    assert_eq!(body("Frank Ruhl Libre", "שלום", &[]), (Some((BodyKind::Uncased, 0.905)), true));
}

#[test]
fn closing_marks_hang_and_nothing_else_does() {
    let face = shipped("Libre Baskerville");
    let hang = |text: &str| {
        let piece = shaped_line(text, &face, &[], &[0, text.len()]).piece(0..text.len());
        (piece.hang_left_em, piece.hang_right_em)
    };
    assert_eq!(hang("Vale"), (0.0, 0.0));
    assert_eq!(hang("What?"), (0.0, 0.0));
    assert_eq!(hang("…"), (0.0, 0.0));
    let (left, right) = hang("“Vale,”");
    assert!(left > 0.2 && right > 0.4, "{left} {right}");
    let (left, right) = hang(".5 mm.");
    assert!(left == 0.0 && right > 0.1, "a stop before a figure does not hang: {left} {right}");
}

#[test]
fn features_are_read_as_harfbuzz_writes_them() {
    for good in ["smcp", "-liga", "+onum", "salt=2", "kern=0", "smcp[0:4]"] {
        assert!(feature_is_valid(good), "{good}");
    }
    for bad in ["", "-", "a very long one", "smcpp", "liga=x", "+-liga", "é"] {
        assert!(!feature_is_valid(bad), "{bad}");
    }
}

/// Two static faces in one TTC: its header, then each file with its table offsets moved.
fn collection(files: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = b"ttcf\0\x01\0\0".to_vec();
    bytes.extend(u32::try_from(files.len()).unwrap().to_be_bytes());
    let mut start = bytes.len() + 4 * files.len();
    for file in files {
        bytes.extend(u32::try_from(start).unwrap().to_be_bytes());
        start += file.len();
    }
    for file in files {
        let base = u32::try_from(bytes.len()).unwrap();
        let mut file = file.clone();
        let tables = usize::from(u16::from_be_bytes([file[4], file[5]]));
        for table in 0..tables {
            let place = &mut file[12 + 16 * table + 8..][..4];
            let offset = u32::from_be_bytes((&*place).try_into().unwrap());
            place.copy_from_slice(&(offset + base).to_be_bytes());
        }
        bytes.extend(file);
    }
    bytes
}

#[test]
fn a_file_of_ones_own_is_measured_by_the_same_rules() {
    let besley = own("shop/besley.ttf", 0, file("besley/Besley_400Regular.ttf")).unwrap();
    assert_eq!((besley.name.as_str(), &besley.licence), ("shop/besley.ttf", &None));
    assert_eq!(besley.cap_units.to_bits(), shipped("Besley").cap_units.to_bits());
    assert_eq!(besley.sha256, shipped("Besley").sha256);
    let script = own("vibes.ttf", 0, file("great-vibes/GreatVibes-Regular.ttf")).unwrap();
    assert_eq!(script.cap_units.to_bits(), shipped("Great Vibes").cap_units.to_bits());
}

#[test]
fn a_face_of_a_collection_is_taken_by_its_index() {
    let both = collection(&[
        file("besley/Besley_400Regular.ttf"),
        file("atkinson-hyperlegible/AtkinsonHyperlegible-Bold.ttf"),
    ]);
    let second = own("both.ttc", 1, both.clone()).unwrap();
    let single = shipped("Atkinson Hyperlegible Bold");
    assert_eq!(shaped_run("AVATAR", &second, &[]), shaped_run("AVATAR", &single, &[]));
    assert_eq!(second.outline(40), single.outline(40));
    let past = own("both.ttc", 2, both).unwrap_err();
    assert_eq!(past, "`both.ttc` holds 2 faces, so there is no face 2");
    let alone = own("one.ttf", 1, file("besley/Besley_700Bold.ttf")).unwrap_err();
    assert_eq!(alone, "`one.ttf` holds one face only, so there is no face 1");
}

#[test]
fn a_damaged_font_is_refused_with_a_reason() {
    let whole = file("besley/Besley_400Regular.ttf");
    for length in [0, 1, 3, 4, 11, 12, 100, 1000, 5000] {
        let error = own("cut.ttf", 0, whole[..length].to_vec()).unwrap_err();
        assert!(error.starts_with("`cut.ttf` "), "{error}");
    }
    assert!(own("words.ttf", 0, b"This is not a font at all.".to_vec()).is_err());
    assert!(own("packed.woff2", 0, b"wOF2 and so on".to_vec()).unwrap_err().contains("web font"));
    assert!(own("none.ttc", 0, b"ttcf\0\x01\0\0\0\0\0\0".to_vec()).is_err());
    // A font whose letters have no outline: the table of outlines is renamed away.
    let mut blind = whole;
    let at = blind.windows(4).position(|tag| tag == b"glyf").unwrap();
    blind[at..at + 4].copy_from_slice(b"gone");
    let error = own("blind.ttf", 0, blind).unwrap_err();
    assert_eq!(error, "`blind.ttf` has no letter to take the cap height from");
}

/// Uses everything of a face that opened.
fn use_face(face: &Arc<Face>, text: &str) {
    let stops = [0, text.find(' ').map_or(text.len(), |at| at + 1), text.len()];
    let line = shaped_line(text, face, &features(&["smcp", "onum"]), &stops);
    let _ = (line.piece(0..text.len()), missing(face, text));
    for glyph in (0..=u16::MAX).step_by(37) {
        let _ = united(&face.outline(glyph), 1e-6);
    }
}

#[test]
fn no_bytes_make_the_loader_panic() {
    arbtest(|u| {
        let bytes: Vec<u8> = u.arbitrary()?;
        for start in [&b""[..], b"\0\x01\0\0", b"OTTO", b"ttcf", b"true", b"%!PS"] {
            let _ = own("noise", 0, [start, &bytes].concat());
        }
        Ok(())
    })
    .budget_ms(500);
}

#[test]
fn no_damage_to_a_font_makes_it_panic() {
    let files = [
        "besley/Besley_400Regular.ttf",
        "frank-ruhl-libre/FrankRuhlLibre[wght].ttf",
        "great-vibes/GreatVibes-Regular.ttf",
    ]
    .map(file);
    arbtest(|u| {
        let mut bytes = u.choose(&files)?.clone();
        for _ in 0..u.int_in_range(1..=40)? {
            // Half of the damage goes to the directory and the tables' heads.
            let reach = if u.arbitrary()? { bytes.len() } else { 600 };
            let at = u.int_in_range(0..=reach - 1)?;
            bytes[at] = u.arbitrary()?;
        }
        if u.ratio(1, 8)? {
            bytes.truncate(u.int_in_range(0..=bytes.len() - 1)?);
        }
        if let Ok(face) = own("damaged", 0, bytes) {
            use_face(&face, "Affix é T\u{0301} 1914 שָׁלוֹם");
        }
        Ok(())
    })
    .budget_ms(3000);
}

/// Texts of everything that is awkward: joiners, marks of direction, bare marks,
/// controls, scripts that the faces have and have not.
fn odd_text(
    u: &mut arbtest::arbitrary::Unstructured<'_>,
    odd: &str,
) -> arbtest::arbitrary::Result<String> {
    let odd: Vec<char> = odd.chars().collect();
    let length = u.int_in_range(0..=30)?;
    (0..length).map(|_| Ok(*u.choose(&odd)?)).collect()
}

const WITH_GLYPHS: &str = "aAfi1VT -\n\t\u{AD}\u{200B}\u{200D}\u{202E}\u{2066}\u{2069}\u{301}.,’é";
const WITHOUT: &str = "aA1 \u{0}\u{7}\u{202E}\u{2029}\u{301}\u{5B8}\u{5D0}\u{628}क永\u{1F514}\u{FE0F}\u{E0001}\u{10FFFF}";

#[test]
fn no_text_makes_it_panic() {
    let faces = ["EB Garamond", "Great Vibes", "Frank Ruhl Libre"].map(shipped);
    arbtest(|u| {
        let text = odd_text(u, WITHOUT)?;
        let mut stops: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
        stops.push(text.len());
        let face = u.choose(&faces)?;
        let line = shaped_line(&text, face, &features(&["c2sc"]), &stops);
        let pairs = (0..stops.len()).flat_map(|from| (from..stops.len()).map(move |to| (from, to)));
        assert!(pairs.into_iter().all(|(from, to)| line.width(from, to) >= 0.0));
        // Ranges that are none of the text, or cut a character in two.
        let (from, to) = (u.int_in_range(0..=40)?, u.int_in_range(0..=40)?);
        let piece = line.piece(from..to);
        assert!(piece.ink_left_em.is_finite() && piece.ink_right_em.is_finite());
        let _ = missing(face, &text);
        Ok(())
    })
    .budget_ms(1000);
}

#[test]
fn pieces_of_odd_texts_are_as_wide_as_when_shaped_alone() {
    let faces =
        ["EB Garamond", "Great Vibes", "Frank Ruhl Libre", "Libre Baskerville"].map(shipped);
    arbtest(|u| {
        // No Hebrew points: one on a Latin sign turns round with its neighbours.
        let hebrew = "\u{5D0}\u{5E9}\u{5D5}\u{5D9}";
        let face = u.choose(&faces)?;
        let known = if face.name.starts_with("Frank") { hebrew } else { "" };
        let text = odd_text(u, &format!("{WITH_GLYPHS}{known}"))?;
        let mut stops: Vec<usize> = text.grapheme_indices(true).map(|(at, _)| at).collect();
        stops.push(text.len());
        let line = shaped_line(&text, face, &[], &stops);
        for start in 0..stops.len() {
            for end in start + 1..stops.len() {
                let alone = line.piece(stops[start]..stops[end]);
                let width = (alone.ink_right_em - alone.ink_left_em) / face.cap_em();
                assert!((width - line.width(start, end)).abs() < 1e-9, "{text:?} {start} {end}");
            }
        }
        Ok(())
    })
    .budget_ms(1500);
}

/// `rusttype` 0.9 reads the same static files by its own code: advances without
/// kerning, and outlines.
#[test]
fn unkerned_advances_agree_with_a_second_reader() {
    let names = [
        "Besley",
        "Besley Italic",
        "Besley Bold",
        "Great Vibes",
        "Atkinson Hyperlegible",
        "Atkinson Hyperlegible Bold Italic",
    ];
    let mut compared = 0;
    for name in names {
        let face = shipped(name);
        let second = rusttype::Font::try_from_vec(face.bytes.to_vec()).unwrap();
        let em = rusttype::Scale::uniform(1.0);
        // At this scale rusttype's unit is ascent to descent, not the em.
        let metrics = second.v_metrics_unscaled();
        let units = f64::from(metrics.ascent - metrics.descent);
        for letter in ('A'..='Z').chain('a'..='z').chain('0'..='9').chain("&.,’£".chars()) {
            let plain = features(&["-kern", "-liga", "-calt", "-locl"]);
            let ours = shaped_run(&letter.to_string(), &face, &plain);
            let theirs = second.glyph(letter);
            assert_eq!(u32::from(ours.glyphs[0].id), u32::from(theirs.id().0), "{name} {letter}");
            let advance = f64::from(theirs.scaled(em).h_metrics().advance_width) * units;
            assert!((ours.advance_em * face.upem - advance).abs() < 0.5, "{name} {letter}");
            compared += 1;
        }
    }
    assert_eq!(compared, 6 * 67);
}
