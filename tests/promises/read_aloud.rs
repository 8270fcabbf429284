//! PDFs for readers who cannot see them, or only want one part: title, language, bookmarks
//! and words for pictures, as qpdf and poppler find them.

use serde_json::Value;

use crate::outside::run;
use crate::support::{Bench, shipped};

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
        // The picture is told by its wording; the rest is read in the order of the sheet.
        let places: Vec<usize> = ["Figure", "The Elowen Tarrant", "H1", "Approval"]
            .iter()
            .map(|part| read.find(part).unwrap_or_else(|| panic!("{part}: {read}")))
            .collect();
        assert!(places[0] < places[2] && places[2] < places[3], "{places:?}");
    }
}
