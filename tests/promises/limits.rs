//! Promises about strange and hostile input: a clear error or a right result,
//! nothing half-written, never a panic.

use crate::support::{Bench, Ran, codes, plain};

/// Runs `make` into `made` and checks what must hold whatever came in.
fn make(bench: &Bench) -> Ran {
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    match ran.status {
        0 | 1 => assert!(bench.has("made/report.json"), "no report: {}", ran.out),
        2 | 3 => {
            assert!(!bench.has("made"), "something was written: {:?}", bench.names("made"));
            assert!(!ran.err.trim().is_empty(), "no word about what is wrong");
        }
        other => panic!("exit status {other}"),
    }
    assert!(ran.err.len() < 100_000, "a message of {} bytes", ran.err.len());
    ran
}

fn refused(layout: &str, words: &str) {
    let bench = Bench::with(layout);
    let ran = make(&bench);
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(ran.err.contains(words), "expected {words:?} in: {}", ran.err);
}

fn made(layout: &str) -> (Bench, serde_json::Value) {
    let bench = Bench::with(layout);
    let ran = make(&bench);
    assert!(ran.status < 2, "{}", ran.err);
    let report = serde_json::from_slice(&bench.read("made/report.json")).unwrap();
    (bench, report)
}

fn stopped_by(layout: &str, code: &str) {
    let (_, report) = made(layout);
    assert!(codes(&report).iter().any(|c| c == code), "no {code}: {:?}", codes(&report));
}

/// Every piece's ink lies inside the plate less its margin (tolerance: the 1 µm
/// grid on which ink is placed).
fn ink_is_inside(report: &serde_json::Value) {
    let number = |value: &serde_json::Value| value.as_f64().unwrap();
    let margin = number(&report["margin_mm"]);
    let (width, height) =
        (number(&report["plate"]["width_mm"]), number(&report["plate"]["height_mm"]));
    let pieces = report["pieces"].as_array().unwrap();
    for piece in pieces.iter().filter(|piece| !piece["glyphs"].as_array().unwrap().is_empty()) {
        let ink = &piece["ink"];
        assert!(number(&ink["x0"]) >= margin - 0.002, "{piece}");
        assert!(number(&ink["x1"]) <= width - margin + 0.002, "{piece}");
        assert!(number(&ink["y0"]) >= margin - 0.002, "{piece}");
        assert!(number(&ink["y1"]) <= height - margin + 0.002, "{piece}");
    }
}

#[test]
fn a_line_of_two_mebibytes_is_refused() {
    refused(&plain("90 x 50 mm", &[&"x".repeat(2 * 1024 * 1024)], ""), "error");
}

#[test]
fn ten_thousand_lines_are_refused() {
    refused(&plain("90 x 50 mm", &vec!["bell"; 10_000], ""), "500");
}

#[test]
fn control_characters_are_refused_by_name() {
    refused(&plain("90 x 50 mm", &["ring\u{7}ing"], ""), "U+0007");
}

#[test]
fn empty_wording_is_refused() {
    for text in ["", "   ", "\u{200B}", "\n"] {
        refused(&plain("90 x 50 mm", &[text], ""), "error");
    }
}

#[test]
fn a_layout_that_is_not_text_is_refused() {
    let bench = Bench::new();
    bench.put("cup.toml", [b"ansata = 1\ntitle = \"".as_slice(), &[0xff, 0xfe]].concat());
    let ran = make(&bench);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("UTF-8"), "{}", ran.err);
    assert!(ran.err.contains("cup.toml:2:10"), "{}", ran.err);
}

#[test]
fn a_layout_that_is_not_there_or_is_a_folder_is_said() {
    let bench = Bench::new();
    let ran = bench.run(&["make", "nowhere.toml"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("nowhere.toml: there is no such file"), "{}", ran.err);
    let ran = bench.run(&["make", "."]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("folder"), "{}", ran.err);
}

#[test]
fn plates_too_small_and_too_large_are_refused() {
    for size in ["4 x 50 mm", "90 x 2001 mm", "0 x 10 mm", "-5 x 10 mm"] {
        refused(&plain(size, &["TENOR"], ""), "cup.toml:4:8");
    }
}

#[test]
fn the_largest_plate_is_made_at_true_size() {
    let (_, report) = made(&plain("2000 x 2000 mm", &["TENOR"], ""));
    ink_is_inside(&report);
    let sheets = report["sheets"].as_array().unwrap();
    let page = sheets.iter().find(|sheet| sheet["file"] == "mockup.pdf").unwrap();
    assert!(page["width_mm"].as_f64().unwrap() > 2000.0);
}

#[test]
fn the_smallest_plate_gives_a_right_result_or_a_clear_stop() {
    stopped_by(&plain("5 x 5 mm", &["TENOR"], ""), "no-room");
    let (_, report) =
        made(&plain("5 x 5 mm", &["I"], "").replace("material", "margin = \"0.5 mm\"\nmaterial"));
    ink_is_inside(&report);
}

#[test]
fn no_break_spaces_hold_and_zero_width_spaces_break() {
    let (_, report) =
        made(&plain("40 x 40 mm", &["Fifty\u{a0}years of ringing at the tenor bell"], ""));
    let pieces = report["pieces"].as_array().unwrap();
    assert!(pieces.len() > 1);
    for piece in pieces {
        let text = piece["text"].as_str().unwrap();
        assert!(!text.ends_with("Fifty") && !text.starts_with("years"), "torn: {text:?}");
    }
    let (_, report) = made(&plain(
        "40 x 40 mm",
        &[
            "ringing\u{200B}chamber\u{200B}and\u{200B}belfry\u{200B}and\u{200B}spire\u{200B}and\u{200B}clock",
        ],
        "",
    ));
    assert!(report["pieces"].as_array().unwrap().len() > 1);
    assert!(!codes(&report).contains(&"missing-character".to_owned()));
    ink_is_inside(&report);
}

#[test]
fn a_bare_combining_mark_is_drawn_or_named() {
    let (_, report) = made(&plain("90 x 50 mm", &["\u{301}", "a\u{301}e\u{308}"], ""));
    ink_is_inside(&report);
}

#[test]
fn a_right_to_left_line_reads_from_the_right() {
    let layout =
        plain("90 x 50 mm", &["שלום אבג"], "").replace("Atkinson Hyperlegible", "Frank Ruhl Libre");
    let (_, report) = made(&layout);
    assert!(codes(&report).iter().all(|code| code != "missing-character"), "{:?}", codes(&report));
    ink_is_inside(&report);
    let glyphs = report["pieces"][0]["glyphs"].as_array().unwrap();
    let xs: Vec<f64> = glyphs.iter().map(|glyph| glyph["x_mm"].as_f64().unwrap()).collect();
    assert!(xs.windows(2).all(|pair| pair[0] <= pair[1]), "glyphs stand left to right: {xs:?}");
    // The first letter read, shin, stands rightmost: the same glyph as in a line of its own.
    let alone =
        plain("90 x 50 mm", &["ש"], "").replace("Atkinson Hyperlegible", "Frank Ruhl Libre");
    let (_, alone) = made(&alone);
    assert_eq!(glyphs.last().unwrap()["id"], alone["pieces"][0]["glyphs"][0]["id"]);
}

#[test]
fn an_unbreakable_word_too_wide_at_its_floor_is_told_with_its_height() {
    let layout = plain("40 x 40 mm", &["Bellringersassociationmembership"], "")
        .replace("text =", "at_least = \"4 mm\"\ntext =");
    let (_, report) = made(&layout);
    let found = codes(&report);
    assert!(found.contains(&"below-asked-height".to_owned()), "{found:?}");
    assert!(report["phi"].as_f64().unwrap() < 1.0);
    ink_is_inside(&report);
}

const SCREW: &str =
    "fixing = { kind = \"wood screw\", gauge = 4, head = \"round\", length = \"1/2 in\" }";

#[test]
fn a_field_emptied_by_its_margin_is_told() {
    let layout =
        plain("40 x 30 mm", &["TENOR"], "").replace("material", "margin = \"15 mm\"\nmaterial");
    stopped_by(&layout, "no-room");
}

#[test]
fn a_field_split_by_holes_gives_ink_clear_of_them() {
    let points = "[mount]\nholes = { points = [[\"30 mm\", \"25 mm\"], [\"60 mm\", \"25 mm\"]] }\n";
    let (_, report) =
        made(&plain("90 x 50 mm", &["TENOR", "rung by hand"], &format!("{points}{SCREW}\n")));
    ink_is_inside(&report);
    for hole in report["holes"].as_array().unwrap() {
        let of = |key: &str| hole[key].as_f64().unwrap();
        for piece in report["pieces"].as_array().unwrap() {
            let ink = |key: &str| piece["ink"][key].as_f64().unwrap();
            let dx = (ink("x0") - of("x_mm")).max(of("x_mm") - ink("x1")).max(0.0);
            let dy = (ink("y0") - of("y_mm")).max(of("y_mm") - ink("y1")).max(0.0);
            assert!(libm::hypot(dx, dy) >= of("clear_zone_radius_mm") - 0.002, "{piece} at {hole}");
        }
    }
}

#[test]
fn holes_that_overlap_are_a_stop_of_the_mount() {
    let points = "[mount]\nholes = { points = [[\"30 mm\", \"25 mm\"], [\"31 mm\", \"25 mm\"]] }\n";
    stopped_by(&plain("90 x 50 mm", &["TENOR"], &format!("{points}{SCREW}\n")), "holes-overlap");
}

#[test]
fn a_border_through_a_hole_stops_short_or_steps_in() {
    for way in ["stop short", "step in"] {
        let border = format!(
            "border = {{ inset = \"3 mm\", lines = 2, weight = \"0.3 mm\", gap = \"0.8 mm\", at_holes = \"{way}\" }}\nmaterial"
        );
        let layout = plain(
            "90 x 50 mm",
            &["TENOR"],
            &format!("[mount]\n{SCREW}\nholes = \"four corners\"\ninset = \"7 mm\"\n"),
        )
        .replace("material", &border);
        let (_, report) = made(&layout);
        ink_is_inside(&report);
        assert!(
            report["findings"].as_array().unwrap().iter().all(|f| f["severity"] != "stop"),
            "{way}: {report}"
        );
    }
}

#[test]
fn a_damaged_font_is_refused_at_the_key_that_names_it() {
    let shipped = concat!(env!("CARGO_MANIFEST_DIR"), "/fonts-open/besley/Besley_700Bold.ttf");
    let whole = std::fs::read(shipped).unwrap();
    let layout = plain("90 x 50 mm", &["TENOR"], "")
        .replace("default = \"Atkinson Hyperlegible\"", "default = { file = \"mine.ttf\" }");
    let bench = Bench::with(&layout);
    bench.put("mine.ttf", &whole);
    assert_eq!(bench.run(&["fit", "cup.toml"]).status, 0, "a sound file of the user's own is used");
    for damaged in [&whole[..0], &whole[..100], &whole[..whole.len() / 2], b"not a font at all"] {
        bench.put("mine.ttf", damaged);
        let ran = make(&bench);
        assert_eq!(ran.status, 2, "{} bytes: {}", damaged.len(), ran.out);
        assert!(ran.err.contains("cup.toml:7:11"), "{}", ran.err);
    }
    let index = layout.replace("\"mine.ttf\" }", "\"mine.ttf\", index = 3 }");
    bench.put("mine.ttf", &whole);
    bench.put("cup.toml", index);
    assert_eq!(make(&bench).status, 2);
}

#[test]
fn a_font_with_bytes_turned_over_never_brings_the_program_down() {
    let shipped = concat!(env!("CARGO_MANIFEST_DIR"), "/fonts-open/besley/Besley_700Bold.ttf");
    let whole = std::fs::read(shipped).unwrap();
    let layout = plain("90 x 50 mm", &["TENOR & office, Wa\u{308}ter"], "")
        .replace("default = \"Atkinson Hyperlegible\"", "default = { file = \"mine.ttf\" }");
    let bench = Bench::with(&layout);
    let mut seed = 0x2545_f491_4f6c_dd1d_u64;
    for _ in 0..60 {
        let mut damaged = whole.clone();
        for _ in 0..20 {
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            let at = usize::try_from(seed % damaged.len() as u64).unwrap();
            damaged[at] ^= u8::try_from(seed >> 56).unwrap() | 1;
        }
        bench.put("mine.ttf", damaged);
        assert!((0..=2).contains(&bench.run(&["fit", "cup.toml"]).status));
    }
}

#[test]
fn a_companion_that_is_missing_is_told_at_the_key_that_names_it() {
    let layout = "ansata = 1\ntitle = \"Cup\"\nwording = \"letter.txt\"\n[plate]\nsize = \"90 x 50 mm\"\n[lettering]\ndefault = \"Besley\"\n";
    refused(layout, "cup.toml:3:11");
}

#[test]
fn the_clients_text_is_taken_word_for_word() {
    let layout = "ansata = 1\ntitle = \"Cup\"\nwording = \"letter.txt\"\n[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n[lettering]\ndefault = \"EB Garamond\"\n";
    let bench = Bench::with(layout);
    bench.put(
        "letter.txt",
        "\u{feff}Given by  the ringers\r\nof Marrowby Vale\r\n\r\n\u{201c}Ring on\u{201d}\n",
    );
    let report = bench.report("cup.toml");
    let texts: Vec<&str> =
        report["lines"].as_array().unwrap().iter().map(|l| l["text"].as_str().unwrap()).collect();
    assert_eq!(texts, ["Given by  the ringers", "of Marrowby Vale", "\u{201c}Ring on\u{201d}"]);
}
