//! Promises about comparing two versions of a plaque.

use serde_json::Value;

use crate::support::{Bench, plain};

const WITH: &str = "For the ringers, who rang";
const WITHOUT: &str = "For the ringers who rang";

fn good() -> String {
    plain("90 x 50 mm", &["RUNG IN HONOUR", WITH], MOUNT)
}

const MOUNT: &str = "[mount]\nfixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n\
    holes = \"two sides\"\ninset = \"6 mm\"\n[face]\nsize = \"120 x 80 mm\"\nmaterial = \"white oak\"\nthickness = \"19 mm\"\n";

/// A bench with an old layout, `old.toml`, and a new one, `new.toml`.
fn both(old: &str, new: &str) -> Bench {
    let bench = Bench::new();
    bench.put("old.toml", old);
    bench.put("new.toml", new);
    bench
}

fn told(bench: &Bench) -> String {
    let ran = bench.run(&["compare", "old.toml", "new.toml"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    ran.out
}

fn as_json(bench: &Bench) -> Value {
    let ran = bench.run(&["compare", "old.toml", "new.toml", "--json"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    serde_json::from_str(&ran.out).unwrap()
}

fn changes(json: &Value, topic: &str) -> Vec<Value> {
    let all = json["changes"].as_array().unwrap().iter();
    all.filter(|change| change["topic"] == topic).cloned().collect()
}

#[test]
fn a_wording_is_compared_by_word_and_letter() {
    let bench = both(&good(), &good().replace(WITH, WITHOUT).replace("HONOUR", "HONOR"));
    let out = told(&bench);
    for said in [
        "line 1, wording\n  was   RUNG IN HONOUR\n  now   RUNG IN HONOR\n",
        "“HONOUR” became “HONOR” (without “U”)",
        "line 2, wording\n",
        "“,” left out after “ringers”",
    ] {
        assert!(out.contains(said), "no `{said}` in {out}");
    }
    let json = as_json(&bench);
    let wording = changes(&json, "wording");
    assert_eq!(wording.len(), 2, "{json}");
    assert_eq!(wording[1]["words"][0]["old"], ",");
    assert_eq!(wording[1]["words"][0]["new"], "");
    assert_eq!(json["cut_alike"], false);
}

#[test]
fn two_versions_alike_have_no_changes() {
    let bench = both(&good(), &format!("# a comment\n{}", good()));
    assert!(told(&bench).contains("nothing differs"));
    let json = as_json(&bench);
    assert_eq!(json["changes"], Value::Array(Vec::new()));
    assert_eq!(json["cut_alike"], true);
    assert_eq!(json["old"]["proof_mark"], json["new"]["proof_mark"]);
}

/// What changed in mm is what the two reports have otherwise: the comparison's own figures
/// are not asked.
#[test]
fn geometry_is_compared_in_mm() {
    let new =
        good().replace("inset = \"6 mm\"", "inset = \"7.5 mm\"").replace("90 x 50", "88 x 50");
    let bench = both(&good(), &new);
    let json = as_json(&bench);
    let (old, new) = (bench.report("old.toml"), bench.report("new.toml"));
    let plate = changes(&json, "plate");
    assert_eq!(plate.len(), 1, "{json}");
    assert_eq!(plate[0]["old"], "90 × 50 mm");
    assert_eq!(plate[0]["new"], "88 × 50 mm");
    let holes = changes(&json, "holes");
    assert_eq!(holes.len(), 2, "{json}");
    let mm = |value: &Value| {
        let text = format!("{:.3}", value.as_f64().unwrap());
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    for (index, hole) in holes.iter().enumerate() {
        for (side, report) in [("old", &old), ("new", &new)] {
            let place = &report["holes"][index];
            let said = format!("{} across, {} mm down", mm(&place["x_mm"]), mm(&place["y_mm"]));
            assert_eq!(hole[side], said, "{hole}");
        }
    }
    let heights: Vec<Value> =
        changes(&json, "lines").into_iter().filter(|c| c["what"] == "cap height").collect();
    assert!(!heights.is_empty(), "{json}");
    for change in heights {
        let line = usize::try_from(change["new_line"].as_u64().unwrap()).unwrap() - 1;
        let height = |report: &Value| report["lines"][line]["cap_height_mm"].as_f64().unwrap();
        let grown = change["difference_mm"].as_f64().unwrap();
        assert!((grown - (height(&new) - height(&old))).abs() < 0.0011, "{change}");
    }
}

#[test]
fn a_layout_is_compared_with_its_record_without_the_lettering_it_was_signed_with() {
    let bench = Bench::new();
    let layout = good().replace("Atkinson Hyperlegible", "EB Garamond");
    bench.put("old.toml", &layout);
    bench.sign("old.toml");
    std::fs::rename(bench.path("old.toml"), bench.path("kept.toml")).unwrap();
    bench.put("new.toml", good());
    let ran = bench.run(&["compare", "old.signed.toml", "new.toml", "-o", "sheet.svg"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let lettering = "line 1, lettering: Atkinson Hyperlegible, was EB Garamond";
    assert!(ran.out.contains(lettering), "{}", ran.out);
    let sheet = String::from_utf8(bench.read("sheet.svg")).unwrap();
    assert!(sheet.contains("Orla Penhallick"));
    // The record draws what its layout draws.
    let ran = bench.run(&["compare", "old.signed.toml", "kept.toml", "--json"]);
    let json: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(json["changes"], Value::Array(Vec::new()));
    assert_eq!(json["old"]["signed"][0], "Orla Penhallick, 2026-11-25");
}

#[test]
fn a_line_put_in_or_taken_out_is_told_as_one() {
    let more = good().replacen("[[line]]", "[[line]]\ntext = \"MARROWBY VALE\"\n[[line]]", 1);
    let bench = both(&good(), &more);
    let wording = changes(&as_json(&bench), "wording");
    assert_eq!(wording.len(), 1, "{wording:?}");
    assert_eq!(wording[0]["new"], "MARROWBY VALE");
    assert_eq!(wording[0]["old_line"], Value::Null);
    assert_eq!(wording[0]["new_line"], 1);
    let back = both(&more, &good());
    let out = told(&back);
    assert!(out.contains("line 1, line: gone, was MARROWBY VALE"), "{out}");
}

/// Runs of dashes and their place in the drawing, as SVG has them.
#[test]
fn old_and_new_are_told_apart_by_line_type_and_never_by_colour() {
    let bench = both(&good(), &good().replace(WITH, WITHOUT));
    let ran = bench.run(&["compare", "old.toml", "new.toml", "-o", "sheet.svg", "-q"]);
    assert_eq!((ran.status, ran.out.as_str()), (0, ""), "{}", ran.err);
    let sheet = String::from_utf8(bench.read("sheet.svg")).unwrap();
    let group = |name: &str| {
        let start = sheet.find(&format!("{name}\"")).unwrap_or_else(|| panic!("no {name}"));
        let rest = sheet.get(start..).unwrap();
        rest.get(..rest.find("</g>").unwrap()).unwrap()
    };
    for name in ["over-old", "line-2-old"] {
        let all = group(name);
        assert!(all.matches("<path").count() > 0, "{name}");
        assert_eq!(all.matches("<path").count(), all.matches("stroke-dasharray").count(), "{name}");
    }
    for name in ["over-new", "line-2-new"] {
        let all = group(name);
        assert!(all.matches("<path").count() > 0, "{name}");
        assert!(!all.contains("stroke-dasharray"), "{name}");
    }
    // Every colour named is a grey: black lines and letters on white.
    for (at, _) in sheet.match_indices("=\"#") {
        let colour = sheet.get(at + 3..at + 9).unwrap().to_lowercase();
        assert!(
            ["000000", "ffffff"].contains(&colour.as_str())
                || colour.starts_with("000\"")
                || colour.starts_with("fff\""),
            "{colour}"
        );
    }
}

#[test]
fn the_sheet_of_many_long_changes_goes_on_over_pages_and_cuts_nothing_off() {
    let long = |word: &str| {
        let lines: Vec<String> = (1..=14)
            .map(|n| format!("{word} number {n} that was given by the ringers of Marrowby Vale and all who heard them"))
            .collect();
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        plain("300 x 400 mm", &lines, "")
    };
    let bench = both(&long("Bell"), &long("Great old bell"));
    let ran = bench.run(&["compare", "old.toml", "new.toml", "-o", "sheet.pdf"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let Some(info) = crate::outside::run("pdfinfo", &["sheet.pdf"], &bench.path(".")) else {
        return;
    };
    let pages = info.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap();
    assert!(pages.trim().parse::<u32>().unwrap() >= 2, "{info}");
    let text =
        crate::outside::run("pdftotext", &["-bbox", "sheet.pdf", "-"], &bench.path(".")).unwrap();
    let (mut width, mut height, mut words) = (0.0, 0.0, 0);
    for line in text.lines() {
        let figure = |key: &str| -> Option<f64> {
            let start = line.find(&format!(" {key}=\""))? + key.len() + 3;
            let rest = line.get(start..)?;
            rest.get(..rest.find('"')?)?.parse().ok()
        };
        if line.contains("<page ") {
            (width, height) = (figure("width").unwrap(), figure("height").unwrap());
        }
        if line.contains("<word ") {
            words += 1;
            assert!(figure("xMin").unwrap() > 0.0 && figure("xMax").unwrap() < width, "{line}");
            assert!(figure("yMin").unwrap() > 0.0 && figure("yMax").unwrap() < height, "{line}");
        }
    }
    assert!(words > 300, "{words} words");
    for n in 1..=14 {
        let place = format!("line {n}");
        let plain =
            crate::outside::run("pdftotext", &["-layout", "sheet.pdf", "-"], &bench.path("."))
                .unwrap();
        assert!(plain.contains(&place), "no {place}");
    }
}

#[test]
fn a_file_that_cannot_be_compared_is_told_at_its_place() {
    let bench = both(&good(), &good().replace("inset = \"6 mm\"", "inset = 6"));
    let ran = bench.run(&["compare", "old.toml", "new.toml"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("new.toml:"), "{}", ran.err);
    let ran = bench.run(&["compare", "old.toml", "nwe.toml"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("did you mean new.toml?"), "{}", ran.err);
    bench.put("new.toml", good());
    let ran = bench.run(&["compare", "old.toml", "new.toml", "-o", "old.toml"]);
    assert_eq!(ran.status, 2, "{}", ran.err);
    let ran = bench.run(&["compare", "old.toml", "new.toml", "-o", "sheet.txt"]);
    assert_eq!(ran.status, 2, "{}", ran.err);
    let ran = bench.run(&["compare", "-", "-"]);
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert_eq!(bench.names("."), ["new.toml", "old.toml"]);
}

/// A soft hyphen at which nothing is divided moves no outline.
#[test]
fn a_wording_that_looks_the_same_is_told_as_nothing_cut() {
    let bench = both(&good(), &good().replace("ringers", "ring\\u00ADers").replace("Test", "Our"));
    let out = told(&bench);
    assert!(out.contains("nothing is cut otherwise"), "{out}");
    assert!(out.contains("became “ring[soft hyphen]ers” (with “[soft hyphen]”)"), "{out}");
    assert!(out.contains("title: Our plate, was Test plate"), "{out}");
    assert_eq!(as_json(&bench)["cut_alike"], true);
}

#[test]
fn a_new_layout_can_come_from_standard_input() {
    let bench = both(&good(), &good());
    let ran = bench.run_with(&["compare", "old.toml", "-"], &good().replace(WITH, WITHOUT));
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("“,” left out after “ringers”"), "{}", ran.out);
}
