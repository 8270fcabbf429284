//! How long shaping, fit, field, photographs, a whole job and the desk take, and how that grows.
//!
//! `cargo bench` prints one table a topic, in microseconds: medians of many samples,
//! with the ratio to the table's first column where that says something. A word after
//! `--` picks the tables whose name holds it: `cargo bench --bench speed -- words`.
//! Nothing here passes or fails; a machine with other work to do shows in the figures.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a benchmark prints, and stops where what it needs is not there"
)]

mod cases;
mod clock;
mod desk;
mod photo;

use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

use ansata::drawing::write::{pdf, png, svg};
use ansata::layout::{Axis, AxisValue, FontFile, LetteringChoice, Paper};
use ansata::lettering::{Catalogue, Face, Minima, ShapedLine, shaped_line};
use ansata::wording::Marks;
use ansata::{fit, floors, job, lettering, plate, remedies, report, sheets, wording};

use cases::{Case, OUTLINES, WORDS};
use clock::{median, table};

/// Heights at which the field is asked for its stretches.
const BANDS: u32 = 100;

fn main() {
    let asked: Vec<String> =
        std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let wanted = |name: &str| asked.is_empty() || asked.iter().any(|word| name.contains(word));
    let tables: [(&str, fn()); 10] = [
        ("words", by_words),
        ("outlines", by_outline),
        ("parts", parts),
        ("field", by_field),
        ("make", make),
        ("catalogue", catalogue),
        ("strokes", strokes),
        ("photo", photo::photo),
        ("desk", desk::desk),
        ("minima", minima),
    ];
    for (name, run) in tables {
        // The table of least widths is a file, and printed only for its own sake.
        if wanted(name) && (name != "minima" || asked.iter().any(|word| word == name)) {
            run();
        }
    }
}

/// Shaping and the fit in numbers: from text, face and break marks to rows on their
/// baselines.
fn sized(case: &Case, faces: &[Arc<Face>], marks: &[Marks]) -> fit::Plan {
    let lines = shaped(case, faces, marks);
    let floors = floors::of(&lines, &case.layout);
    let problem = fit::problem(&case.layout, &lines, marks, &floors, &case.field);
    fit::plan(&problem, &case.field)
}

fn shaped(case: &Case, faces: &[Arc<Face>], marks: &[Marks]) -> Vec<ShapedLine> {
    (case.layout.lines.iter().zip(marks).zip(faces))
        .map(|((line, marks), face)| shaped_line(&line.text, face, &line.features, &marks.stops))
        .collect()
}

fn marks(case: &Case) -> Vec<Marks> {
    case.layout.lines.iter().map(wording::marks).collect()
}

/// The same with the break marks found and every glyph placed, as the job does it.
fn shaped_and_fitted(case: &Case, faces: &[Arc<Face>]) -> fit::Fitted {
    let marks = marks(case);
    let lines = shaped(case, faces, &marks);
    let floors = floors::of(&lines, &case.layout);
    fit::fitted(&case.layout, &lines, &marks, &floors, &case.field)
}

/// Growth with the number of words, in a rectangle.
fn by_words() {
    let mut rows = Vec::new();
    for words in WORDS {
        let case = Case::rectangle(words);
        let faces = case.faces();
        let known = marks(&case);
        let mut times = case.shaping_and(|| sized(&case, &faces, &known));
        times.push(median(|| shaped_and_fitted(&case, &faces)));
        times.push(median(|| shaped_and_fitted(&case, &case.fresh_faces())));
        let set = shaped_and_fitted(&case, &faces).rows.len();
        rows.push((format!("{words} words, {set} rows"), times));
    }
    let columns = ["shaping alone", "shaping and fit", "breaks to glyphs", "the same, cold"];
    table("words: a rectangle, mode even", &columns, &rows);
}

/// Growth with the outline, 60 words.
fn by_outline() {
    let mut rows = Vec::new();
    for (name, plate) in OUTLINES {
        for words in [12, 60, 120, 300] {
            let case = Case::on(plate, words);
            let faces = case.faces();
            let known = marks(&case);
            let times = case.shaping_and(|| sized(&case, &faces, &known));
            let fitted = shaped_and_fitted(&case, &faces);
            let gap = fitted.scale_high - fitted.scale_low;
            let name = format!(
                "{name}, {words} words: {} rows, limit {:.3}, bracket {gap:.4} mm",
                fitted.rows.len(),
                fitted.scale_low
            );
            rows.push((name, times));
        }
    }
    table("outlines: mode even, warm", &["shaping alone", "shaping and fit"], &rows);
}

/// Where the time of one fit goes.
fn parts() {
    let mut rows = Vec::new();
    for words in [12, 60, 300] {
        let case = Case::rectangle(words);
        let faces = case.faces();
        let known = marks(&case);
        let breaks = median(|| marks(&case));
        let times = case.shaping_and(|| shaped(&case, &faces, &known));
        let lines = shaped(&case, &faces, &known);
        let floors = floors::of(&lines, &case.layout);
        let stated = || fit::problem(&case.layout, &lines, &known, &floors, &case.field);
        let problem = stated();
        let stating = median(stated);
        let planning = median(|| fit::plan(&problem, &case.field));
        let fitting = median(|| fit::fitted(&case.layout, &lines, &known, &floors, &case.field));
        let open = median(|| case.fresh_faces());
        let glyphs = (fitting - planning - stating).max(0.0);
        let times = vec![times[0], breaks, times[1], stating, planning, glyphs, open];
        rows.push((format!("{words} words"), times));
    }
    let columns =
        ["shaping alone", "breaks", "lines", "problem", "plan", "glyphs", "opening the face"];
    table("parts: a rectangle, mode even, warm", &columns, &rows);
}

/// Stretches of a field at a hundred heights, and the field itself.
fn by_field() {
    let mut rows = Vec::new();
    let plates = OUTLINES.map(|(name, plate)| (name, Case::on(plate, 12)));
    let photo = ("beside an oval photograph", Case::beside_an_oval(12));
    for (name, case) in plates.into_iter().chain([photo]) {
        let [_, top, _, bottom] = case.field.bounds().unwrap();
        let asked = median(|| {
            (0..BANDS)
                .map(|band| {
                    let at = top + (bottom - top) * f64::from(band) / f64::from(BANDS);
                    case.field.intervals(at, at + 3.0).len()
                })
                .sum::<usize>()
        });
        let made = median(|| plate::field(&case.layout.plate, &case.zones));
        let centre = median(|| case.field.centre_y());
        rows.push((name.to_owned(), vec![asked / f64::from(BANDS), made, centre]));
    }
    table("field", &["one stretch", "field", "centre"], &rows);
}

/// The list of shipped lettering read, a face opened at axes of its own, and a specimen.
fn catalogue() {
    let read = median(|| Catalogue::shipped().unwrap());
    let mut choice = LetteringChoice::shipped("Archivo");
    choice.ask(Axis::Width, AxisValue::Thousandths(83_000));
    let face = median(|| Face::open(&choice).unwrap());
    let case = Case::rectangle(5);
    let list = lettering::catalogue();
    let entries = list.shown();
    let wishes = sheets::SpecimenWishes {
        title: None,
        lines: &case.layout.lines,
        entries: &entries,
        cap_height: None,
        paper: Paper::A4,
    };
    let specimen = median(|| sheets::specimen(&wishes, list).sheet.unwrap());
    let sheet = sheets::specimen(&wishes, list).sheet.unwrap();
    let written = median(|| pdf(&sheet.drawing).unwrap());
    let name = format!("{} letterings", list.entries.len());
    let columns = ["reading the list", "a face at its axes", "specimen", "its PDF"];
    table("catalogue", &columns, &[(name, vec![read, face, specimen, written])]);
}

/// Strokes of every shipped style measured for the first time, letter by letter, the drawing
/// of the outline with it: of each letter the least of some rounds, each with the face opened
/// anew, since nothing of a face is measured twice.
fn strokes() {
    const ROUNDS: usize = 7;
    let list = lettering::catalogue();
    let mut rows = Vec::new();
    for entry in list.entries.iter().filter(|entry| !entry.single_stroke()) {
        let known = Face::open(&LetteringChoice::shipped(&*entry.name)).unwrap();
        let alphabet = lettering::alphabet(list, entry, &known);
        let mut times = vec![f64::INFINITY; alphabet.len()];
        for _ in 0..ROUNDS {
            let face = opened_anew(&known);
            for (letter, least) in alphabet.iter().zip(&mut times) {
                let glyph = face.nominal(*letter).unwrap();
                let begun = Instant::now();
                black_box(face.strokes(glyph));
                *least = least.min(begun.elapsed().as_secs_f64() * 1e6);
            }
        }
        let mean = times.iter().sum::<f64>() / f64::from(u32::try_from(times.len()).unwrap());
        times.sort_by(f64::total_cmp);
        rows.push((entry.name.clone(), vec![mean, times[times.len() / 2], times[times.len() - 1]]));
    }
    table("strokes: a letter, cold", &["mean", "median", "most"], &rows);
}

/// The same face as a file of the user's own: nothing of it is known yet.
fn opened_anew(known: &Face) -> Arc<Face> {
    let bytes = Arc::clone(&known.bytes);
    let file = FontFile { path: "own.ttf".to_owned(), index: 0, bytes };
    let mut choice = LetteringChoice::own(file);
    for axis in Axis::ALL {
        let value = known.axes.iter().find(|(tag, _)| tag == axis.tag());
        let thousandths = value.map(|(_, value)| format!("{:.0}", value * 1000.0));
        if let Some(thousandths) = thousandths {
            choice.ask(axis, AxisValue::Thousandths(thousandths.parse().unwrap()));
        }
    }
    Face::open(&choice).unwrap()
}

/// The rows of `src/lettering/minima.toml`.
fn minima() {
    let list = lettering::catalogue();
    println!("# Made by `cargo bench --bench speed -- minima`; a test measures again.");
    println!("# Least widths over each style's own alphabet, cap heights, rounded down.");
    for entry in list.entries.iter().filter(|entry| !entry.single_stroke()) {
        let face = Face::open(&LetteringChoice::shipped(&*entry.name)).unwrap();
        let alphabet = lettering::alphabet(list, entry, &face);
        print!("\n{}", Minima::measured(&entry.name, &face, &alphabet).unwrap().row());
    }
}

/// The whole of `make` in memory: job, remedies, sheets and their files.
fn make() {
    let mut rows = Vec::new();
    for (name, plate) in OUTLINES {
        let case = Case::on(plate, 60);
        let done = median(|| job::job(&case.layout).unwrap());
        let whole = median(|| {
            let job = job::job(&case.layout).unwrap();
            let cures = remedies::cures(&job);
            let proof = sheets::proof(&job, &cures);
            let pattern = sheets::pattern(&job);
            let report = report::report(&job, &cures, &case.source, &[], &[]);
            (
                (svg(&proof.drawing), png(&proof.drawing, 150.0), pdf(&proof.drawing)),
                (svg(&pattern.drawing), pdf(&pattern.drawing)),
                pdf(&sheets::mockup(&job).drawing),
                svg(&sheets::artwork(&job).whole.sheet.drawing),
                report,
            )
        });
        rows.push((format!("{name}, 60 words"), vec![done, whole]));
    }
    table("make: in memory", &["job", "make"], &rows);
}
