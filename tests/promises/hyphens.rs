//! Promises about words divided at soft hyphens, where the layout allows it.

use ansata::job::{Job, job};
use ansata::layout::{Shop, Source, Vocabulary, read};
use ansata::lettering::{Face, catalogue, shaped_run};
use kurbo::Shape;

use crate::outside::run;
use crate::support::Bench;

/// Margin of every plate here, mm.
const MARGIN: f64 = 3.0;

/// Wordings with soft hyphens: beside kerned letters and spaces, inside a ligature, several
/// to a word.
const WORDINGS: [&str; 4] = [
    "Marrowby Vale Obser\u{AD}va\u{AD}tory",
    "The Plane\u{AD}tarium of\u{AD}fi\u{AD}cers Elowen Tarrant",
    "BELL\u{AD}RING\u{AD}ERS OF MAR\u{AD}ROW\u{AD}BY",
    "To a stead\u{AD}fast T\u{AD}enor, the back\u{AD}bone",
];

const FACES: [&str; 3] = ["EB Garamond", "Archivo", "Besley Italic"];

/// A layout of one line on a plate, as large as it goes.
fn layout((width, height): (u16, u16), face: &str, text: &str, fit: &str, line: &str) -> String {
    format!(
        "ansata = 1\ntitle = \"Plate\"\n[plate]\nsize = \"{width} x {height} mm\"\n\
         material = \"brass\"\nmargin = \"{MARGIN} mm\"\n[fit]\nease = \"100 %\"\n{fit}\n\
         [lettering]\ndefault = \"{face}\"\n[[line]]\ntext = \"{text}\"\nat_most = \"99 mm\"\n\
         breaks = \"free\"\n{line}\n"
    )
}

fn made(text: &str) -> Job {
    let source = Source { name: "plate.toml".to_owned(), text: text.to_owned() };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let layout = read(&source, Shop::default(), &Vocabulary { lettering }, &|_| Err(String::new()))
        .unwrap_or_else(|told| panic!("{text}\n{told:?}"));
    job(&layout).unwrap_or_else(|told| panic!("{told:?}"))
}

fn plates() -> impl Iterator<Item = (u16, u16)> {
    [24, 30, 38, 52].into_iter().flat_map(|wide| [16, 34, 60].map(|tall| (wide, tall)))
}

const ALLOWED: &str = "hyphens = \"at soft hyphens\"";

/// Ink width of a text set by itself, in cap heights.
fn ink_width(face: &std::sync::Arc<Face>, text: &str) -> f64 {
    let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
    for glyph in shaped_run(text, face, &[]).glyphs {
        let outline = face.outline(glyph.id);
        if !outline.is_empty() {
            let ink = outline.bounding_box();
            left = left.min(ink.x0 + glyph.x_em);
            right = right.max(ink.x1 + glyph.x_em);
        }
    }
    (right - left).max(0.0) / face.cap_em()
}

/// Height of a block of so many rows of a line at a cap height, mm: the rules of the fit,
/// worked out once more.
fn block(job: &Job, rows: usize, height: f64) -> f64 {
    let line = &job.lines[0];
    let leading = if line.all_capitals { 1.45 } else { 1.65 };
    let least = (0.10 * height).max(0.3);
    let ink = (line.depth + line.rise - 1.0) * height + least;
    let white = ((leading - 1.0) * height).max(ink);
    (line.rise + line.depth) * height + (rows - 1) as f64 * (height + white)
}

/// The largest cap height over all breakings at spaces and soft hyphens, each piece set by
/// itself with its hyphen.
fn largest(job: &Job, text: &str, (width, height): (u16, u16)) -> f64 {
    let (width, height) = (f64::from(width) - 2.0 * MARGIN, f64::from(height) - 2.0 * MARGIN);
    let places: Vec<usize> = text
        .char_indices()
        .filter(|(_, c)| matches!(c, ' ' | '\u{AD}'))
        .map(|(at, _)| at)
        .collect();
    let mut best = 0.0_f64;
    for chosen in 0_u32..1 << places.len() {
        let mut rows = Vec::new();
        let mut from = 0;
        for (index, &at) in places.iter().enumerate() {
            if chosen >> index & 1 == 1 {
                let hyphen = if text[at..].starts_with('\u{AD}') { "\u{2010}" } else { "" };
                rows.push(format!("{}{hyphen}", text[from..at].trim()));
                from = at + if hyphen.is_empty() { 1 } else { 2 };
            }
        }
        rows.push(text[from..].trim().to_owned());
        let widest = rows.iter().map(|row| ink_width(&job.lines[0].face, row)).fold(0.0, f64::max);
        let (mut low, mut high) = (0.0, width / widest);
        if block(job, rows.len(), high) <= height {
            low = high;
        }
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if block(job, rows.len(), middle) <= height { low = middle } else { high = middle }
        }
        best = best.max(low);
    }
    best
}

#[test]
fn divided_words_give_the_largest_lettering_that_any_division_gives() {
    let (mut divided, mut larger) = (0, 0);
    for face in FACES {
        for text in WORDINGS {
            for plate in plates() {
                let whole = made(&layout(plate, face, text, "", ""));
                let parted = made(&layout(plate, face, text, ALLOWED, ""));
                let best = largest(&parted, text, plate);
                // Too small for the floor is a misfit, and the limit is none.
                let Some(limit) = parted.fitted.limit_scale else {
                    assert!(best < 2.5, "{face} {text:?} {plate:?}: {best}");
                    continue;
                };
                assert!((limit - best).abs() < 1e-6, "{face} {text:?} {plate:?}: {limit} {best}");
                let before = whole.fitted.limit_scale.unwrap_or(0.0);
                assert!(limit >= before - 1e-9);
                larger += usize::from(limit > before + 1e-6);
                divided += parted.fitted.rows.iter().filter(|row| row.divided).count();
            }
        }
    }
    println!("larger on {larger} plates, {divided} words divided");
    assert!(larger > 40 && divided > larger, "{larger} {divided}");
}

#[test]
fn a_divided_word_shows_a_hyphen_and_the_wording_stays_exact() {
    let mut seen = 0;
    for face in FACES {
        for text in WORDINGS {
            for plate in plates() {
                let job = made(&layout(plate, face, text, ALLOWED, ""));
                let (line, rows) = (&job.lines[0], &job.fitted.rows);
                let ids = |text: &str| -> Vec<u16> {
                    let inked = shaped_run(text, &line.face, &[]).glyphs.into_iter();
                    inked.map(|g| g.id).filter(|id| !line.face.outline(*id).is_empty()).collect()
                };
                let mut from = 0;
                for row in rows {
                    assert!(text[from..row.range.start].chars().all(char::is_whitespace));
                    assert_eq!(row.text, text[row.range.clone()]);
                    from = row.range.end;
                    let inked = row.glyphs.iter().map(|g| g.id);
                    let inked: Vec<u16> =
                        inked.filter(|id| !line.face.outline(*id).is_empty()).collect();
                    assert_eq!(inked, ids(&row.reads()), "{face} {row:?}");
                    assert_eq!(row.reads().ends_with('\u{2010}'), row.divided);
                    assert_eq!(row.text.ends_with('\u{AD}'), row.divided);
                    let room = f64::from(plate.0) - MARGIN + 1e-3;
                    assert!(row.ink.x0 >= MARGIN - 1e-3 && row.ink.x1 <= room, "{row:?}");
                    seen += usize::from(row.divided);
                }
                assert!(text[from..].is_empty());
                let starts: Vec<usize> = rows.iter().skip(1).map(|row| row.range.start).collect();
                assert_eq!(job.fitted.lines[0].breaks, starts);
            }
        }
    }
    assert!(seen > 40, "{seen}");
}

#[test]
fn soft_hyphens_are_not_seen_unless_the_layout_allows_them() {
    for face in FACES {
        for text in WORDINGS {
            let bare = text.replace('\u{AD}', "");
            for plate in plates() {
                let job = made(&layout(plate, face, text, "", ""));
                let plain = made(&layout(plate, face, &bare, "", ""));
                let ink = |job: &Job| -> Vec<kurbo::Rect> {
                    job.fitted.rows.iter().map(|row| row.ink).collect()
                };
                assert_eq!(ink(&job), ink(&plain), "{face} {text:?} {plate:?}");
                let codes = |job: &Job| -> Vec<&str> {
                    job.findings.iter().map(|judged| judged.finding.code).collect()
                };
                assert_eq!(codes(&job), codes(&plain));
            }
        }
    }
}

#[test]
fn a_line_says_for_itself_whether_its_words_are_divided() {
    let text = "Obser\u{AD}va\u{AD}tory";
    let rows = |fit: &str, line: &str| -> Vec<String> {
        let job = made(&layout((24, 40), "Archivo", text, fit, line));
        job.fitted.rows.iter().map(ansata::fit::Row::reads).collect()
    };
    let divided = ["Obser\u{2010}", "vatory"];
    assert_eq!(rows("", ALLOWED), divided);
    assert_eq!(rows(ALLOWED, ""), divided);
    assert_eq!(rows(ALLOWED, "hyphens = \"never\""), ["Observatory"]);
    assert_eq!(rows(ALLOWED, "keep = [\"Obser\u{AD}va\u{AD}tory\"]"), ["Observatory"]);
    assert_eq!(rows(ALLOWED, "keep = [\"Obser\u{AD}va\"]"), ["Observa\u{2010}", "tory"]);
}

#[test]
fn between_two_breakings_into_as_many_rows_the_one_that_divides_no_word_is_taken() {
    // Both halves fit with either break; the worst tie costs less than a divided word.
    let text = "18 July, obser\u{AD}vatory";
    let job = made(&layout((60, 40), "Archivo", text, ALLOWED, "at_most = \"5 mm\"").replacen(
        "at_most = \"99 mm\"\n",
        "",
        1,
    ));
    let rows: Vec<String> = job.fitted.rows.iter().map(ansata::fit::Row::reads).collect();
    assert_eq!(rows, ["18 July,", "observatory"]);
}

#[test]
fn the_proof_shows_the_hyphens_and_its_text_has_the_wording() {
    let text = layout((30, 60), "EB Garamond", "Commu\u{AD}nity Obser\u{AD}vatory", ALLOWED, "");
    let bench = Bench::with(&text);
    let ran = bench.run(&["make", "cup.toml"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let report = bench.report("cup.toml");
    let pieces: Vec<&str> =
        report["pieces"].as_array().unwrap().iter().map(|p| p["text"].as_str().unwrap()).collect();
    assert_eq!(pieces, ["Commu\u{AD}", "nity", "Obser\u{AD}", "vatory"]);
    let proof = bench.path("out/cup/proof.pdf");
    let proof = proof.to_str().unwrap();
    let Some(said) = run("pdftotext", &["-raw", "-enc", "UTF-8", proof, "-"], &bench.path(""))
    else {
        return;
    };
    assert!(said.contains("Commu\u{AD}\nnity\nObser\u{AD}\nvatory\n"), "{said}");
}
