//! PDFs for readers who cannot see them, or only want one part: title, language, bookmarks
//! and words for pictures, as qpdf and poppler find them.

use ansata::drawing::write::pdf;
use ansata::sheets::proof;
use serde_json::{Value, json};

use crate::outside::{asked, run};
use crate::sheets::jobs::job_of;
use crate::support::{Bench, plain, shipped};

#[test]
fn a_pdf_has_title_language_bookmarks_and_words_for_its_picture() {
    let bench = Bench::new();
    shipped(&bench);
    let ran = bench.run(&["make", "dedication.toml", "-o", "made", "--dpi", "20"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let folder = bench.path("made");
    for (name, heads) in [
        ("proof.pdf", ["Wording and lettering", "Findings", "Plate", "Approval"]),
        ("pattern.pdf", ["Drills", "Cautions", "Order of work", "Cautions"]),
    ] {
        let Some(text) = run("qpdf", &["--json", name], &folder) else { continue };
        let all: Value = serde_json::from_str(&text).unwrap();
        let marks = all["outlines"].as_array().unwrap();
        let titles: Vec<&str> = marks.iter().map(|one| one["title"].as_str().unwrap()).collect();
        for head in heads {
            assert!(titles.iter().any(|title| title.starts_with(head)), "{head}: {titles:?}");
        }
        for mark in marks {
            assert!(mark["destpageposfrom1"].as_u64().is_some_and(|page| page >= 1), "{mark}");
        }
        for part in ["\"/Lang\": \"u:en\"", "\"/MarkInfo\"", "Striking cup: dedication plaque"] {
            assert!(text.contains(part), "{name}: {part}");
        }
    }
    if let Some(info) = run("pdfinfo", &["proof.pdf"], &folder) {
        assert!(info.contains("Tagged:          yes"), "{info}");
    }
    if let Some(read) = run("pdfinfo", &["-struct-text", "proof.pdf"], &folder) {
        // The title, then the picture, which its wording tells; then the sheet from top to foot.
        let places: Vec<usize> = ["H1", "Figure", "H2", "The Elowen Tarrant", "Approval"]
            .iter()
            .map(|part| read.find(part).unwrap_or_else(|| panic!("{part}: {read}")))
            .collect();
        assert!(places.is_sorted(), "{places:?}");
    }
}

/// What two libraries read in a PDF of the bench.
fn structure(bench: &Bench, name: &str) -> Option<Value> {
    let told = asked("pdf_structure.py", &json!({ "file": bench.path(name) }))?;
    assert_eq!(told["language"], "en");
    assert_eq!(told["marked"], true);
    assert_eq!(told["same"], true, "two readers see two trees");
    Some(told)
}

/// The texts of a value's strings, one array deep.
fn texts(value: &Value) -> Vec<&str> {
    value.as_array().unwrap().iter().map(|text| text.as_str().unwrap()).collect()
}

#[test]
fn rows_and_cells_of_a_table_are_told_apart() {
    let bench = Bench::new();
    shipped(&bench);
    let ran = bench.run(&["proof", "dedication.toml", "-o", "proof.pdf"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let Some(told) = structure(&bench, "proof.pdf") else { return };
    let headings: Vec<(&str, &str)> = told["headings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one[0].as_str().unwrap(), one[1].as_str().unwrap()))
        .collect();
    let sections = ["Wording and lettering", "Findings", "Enlarged", "Plate", "Approval"];
    assert_eq!(headings[0], ("H1", "Striking cup: dedication plaque"));
    assert_eq!(headings[1..], sections.map(|section| ("H2", section)));

    let tables = told["tables"].as_array().unwrap();
    let [facts, wording, plate] = tables.as_slice() else { panic!("{tables:?}") };
    assert_eq!(facts[0][0], json!(["TH", "Row", ["Proof number"]]));
    assert_eq!(facts[0][1], json!(["TD", null, ["1"]]));
    // Rows of the plaque, heights and their units are apart, and heads say whose they are.
    assert_eq!(wording[0][1], json!(["TH", "Column", ["Wording, row by row"]]));
    assert_eq!(wording[2][0], json!(["TH", "Row", ["2"]]));
    assert_eq!(wording[2][1], json!(["TD", null, ["The Elowen Tarrant", "Striking Cup"]]));
    assert_eq!(wording[2][4], json!(["TD", null, ["7.58 mm", "0.298 in"]]));
    assert!(wording.as_array().unwrap().iter().all(|row| row.as_array().unwrap().len() == 7));
    assert_eq!(plate[0][0], json!(["TH", "Row", ["Material"]]));

    let figures = texts(&told["figures"]);
    for part in ["it reads:", "120 mm (4.724 in) wide", "Check bar", "MARROWBY VALE", "corner"] {
        assert!(figures.iter().any(|figure| figure.contains(part)), "{part}: {figures:?}");
    }
    // Footers are told once, by the heading: no page ends in the middle of what is read.
    let unread = texts(&told["unread"]);
    assert!(unread.iter().all(|text| text.contains("page ")), "{unread:?}");
    let said = texts(&told["paragraphs"]);
    assert!(!said.iter().any(|text| text.contains("page 1 of")), "{said:?}");
}

#[test]
fn the_longest_wording_is_one_table_over_its_pages_and_loses_nothing() {
    // Forty lines, unbroken words of sixty letters, a line from right to left.
    let word = "Quillfeather".repeat(5);
    let mut lines: Vec<String> =
        (1..=37).map(|number| format!("{number} {word} rang the {number}th peal")).collect();
    lines.push(word.clone());
    lines.push("the bells of Marrowby Vale were rung by hand ".repeat(12).trim().to_owned());
    lines.push(
        "\u{5e9}\u{5dc}\u{5d5}\u{5dd} \u{5dc}\u{5db}\u{5dc} \u{5d4}\u{5e2}\u{5de}\u{5e7}"
            .to_owned(),
    );
    let borrowed: Vec<&str> = lines.iter().map(String::as_str).collect();
    for paper in ["A4", "Letter"] {
        let more = format!("[proof]\npaper = \"{paper}\"\n");
        let layout = plain("180 x 120 mm", &borrowed, &more)
            .replace("Atkinson Hyperlegible\"", "EB Garamond\"\nothers = [\"Frank Ruhl Libre\"]");
        // Without cures, which take their time where nothing fits.
        let sheet = proof(&job_of(&layout), &[]);
        let bench = Bench::new();
        bench.put("proof.pdf", pdf(&sheet.drawing).unwrap());
        let Some(told) = structure(&bench, "proof.pdf") else { return };
        assert!(told["pages"].as_u64().unwrap() > 2);
        let tables = told["tables"].as_array().unwrap();
        let wording = tables.iter().find(|table| table[0].as_array().unwrap().len() == 7).unwrap();
        let rows = wording.as_array().unwrap();
        assert_eq!(rows.len(), 1 + lines.len(), "{paper}: one row a line, heads once");
        for (row, line) in rows[1..].iter().zip(&lines) {
            assert_eq!(row.as_array().unwrap().len(), 7);
            let said = texts(&row[1][2]).join(" ");
            let letters =
                |text: &str| -> String { text.chars().filter(|c| !c.is_whitespace()).collect() };
            assert!(letters(&said).starts_with(&letters(line)), "{paper}: {said}\n{line}");
        }
    }
}
