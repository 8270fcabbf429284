//! Promises about single-stroke lettering: lines that a tool follows once, as wide as its cut.

use ansata::drawing::write::svg;
use ansata::job::{Job, job};
use ansata::layout::{Shop, Source, Vocabulary, read};
use ansata::lettering::{catalogue, shaped_run};
use ansata::sheets;
use kurbo::Shape;
use serde_json::json;

use crate::lettering::shipped;
use crate::lettering_outside::{file, outside, say};

fn made(lettering: &str, engraving: &str) -> Job {
    let text = format!(
        "ansata = 1\ntitle = \"Tag\"\n[plate]\nsize = \"90 x 50 mm\"\nmaterial = \"brass\"\n\
         [engraving]\nprocess = \"rotary\"\n{engraving}\n[lettering]\ndefault = \"{lettering}\"\n\
         [[line]]\ntext = \"Élodie Tarrant\"\nsize = 1.5\n\
         [[line]]\ntext = \"IN THE TOWER OF MARROWBY VALE\"\n[mount]\nholes = \"none\"\n"
    );
    let source = Source { name: "tag.toml".to_owned(), text };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let layout = read(&source, Shop::default(), &Vocabulary { lettering }, &|_| Err(String::new()));
    job(&layout.unwrap_or_else(|told| panic!("{}", told[0].render(false)))).unwrap()
}

fn stops(job: &Job) -> Vec<&'static str> {
    job.findings.iter().filter(|judged| judged.stops()).map(|j| j.finding.code).collect()
}

/// Boxes of stroked paths of a drawing as usvg works them out, mm.
fn stroked(text: &str) -> Vec<[f64; 4]> {
    fn within(group: &usvg::Group, found: &mut Vec<[f64; 4]>) {
        for node in group.children() {
            match node {
                usvg::Node::Group(group) => within(group, found),
                usvg::Node::Path(path) if path.stroke().is_some() => {
                    // A viewBox in mm on a page in mm: usvg counts 96 pixels to the inch.
                    let b = path.abs_stroke_bounding_box();
                    let mm = |px: f32| f64::from(px) * 25.4 / 96.0;
                    found.push([mm(b.left()), mm(b.top()), mm(b.right()), mm(b.bottom())]);
                }
                _ => {}
            }
        }
    }
    let tree = usvg::Tree::from_str(text, &usvg::Options::default()).unwrap();
    let mut found = Vec::new();
    within(tree.root(), &mut found);
    found
}

#[test]
fn the_ink_of_a_row_is_that_of_its_lines_drawn_as_wide_as_the_cut() {
    for entry in catalogue().single_stroke() {
        for width in [0.2, 0.5] {
            let job = made(&entry.name, &format!("cutter = {{ tip = \"{width} mm\" }}"));
            let drawn = stroked(&svg(&sheets::proof_lettering(&job).drawing).unwrap());
            assert_eq!(drawn.len(), job.fitted.rows.len());
            for (row, theirs) in job.fitted.rows.iter().zip(drawn) {
                let ours = [row.ink.x0, row.ink.y0, row.ink.x1, row.ink.y1];
                let near = ours.iter().zip(theirs).all(|(a, b)| (a - b).abs() < 0.01);
                assert!(near, "{} {width}: {ours:?} {theirs:?}", entry.name);
            }
        }
    }
}

/// ISO 3098's nominal height is that over the strokes (from memory).
#[test]
fn capitals_are_as_high_as_is_told_over_their_strokes() {
    for name in ["EMS Nixish", "Hershey Sans"] {
        for width in [0.2, 0.6] {
            let job = made(name, &format!("cutter = {{ tip = \"{width} mm\" }}"));
            let row = job.fitted.rows.last().unwrap();
            let tall = row.ink.y1 - row.ink.y0;
            // Serifs and rounds differ by hairs.
            assert!((tall / row.cap_height - 1.0).abs() < 0.03, "{name}: {tall} {row:?}");
            assert!((row.cut - width).abs() < 1e-12);
        }
    }
}

#[test]
fn artwork_holds_open_lines_in_a_group_of_their_own() {
    let job = made("EMS Readability", "cutter = { tip = \"0.3 mm\" }");
    let text = svg(&sheets::artwork(&job).whole.sheet.drawing).unwrap();
    let group =
        text.split("<g id=\"single-stroke\">").nth(1).unwrap().split("</g>").next().unwrap();
    assert!(!text.contains("id=\"lettering\"") && group.matches("<path").count() == 2, "{text}");
    assert!(group.contains("fill=\"none\"") && !group.contains('Z'), "{group}");
}

#[test]
fn without_a_cutter_or_raised_it_is_a_stop() {
    assert_eq!(stops(&made("EMS Nixish", "")), ["cutter-not-told"]);
    assert_eq!(stops(&made("EMS Nixish", "cutter = { tip = \"0.2 mm\" }")), [""; 0]);
    let raised = made("EMS Nixish", "cut = \"raised\"\ncutter = { tip = \"0.1 mm\" }");
    assert!(stops(&raised).contains(&"single-stroke-raised"));
    assert!(!stops(&made("Archivo", "")).contains(&"cutter-not-told"));
}

/// The files read a second time, by fontTools' parser of SVG paths.
#[test]
fn centre_lines_are_those_of_the_files_as_fonttools_reads_them() {
    let entries: Vec<_> = catalogue().single_stroke().collect();
    let files: Vec<String> = entries.iter().map(|entry| file(entry)).collect();
    let Some(answer) = outside(&json!({ "centre_lines": files })) else { return };
    let mut compared = 0;
    for (entry, theirs) in entries.iter().zip(answer["centre_lines"].as_array().unwrap()) {
        let face = shipped(&entry.name);
        let foot = theirs["foot"].as_f64().unwrap();
        for (letter, at) in theirs["glyphs"].as_object().unwrap() {
            let glyph = shaped_run(letter, &face, &[]).glyphs[0].id;
            let ours = face.outline(glyph).bounding_box();
            let theirs: Vec<f64> = (0..4).map(|side| at[side].as_f64().unwrap()).collect();
            let moved = [ours.x0, ours.y0, ours.x1, ours.y1].map(|side| side * face.upem);
            let off = [theirs[0], theirs[1] - foot, theirs[2], theirs[3] - foot];
            let near = moved.iter().zip(off).all(|(a, b)| (a - b).abs() < 0.01);
            assert!(near, "{} {letter}: {moved:?} {off:?}", entry.name);
            compared += 1;
        }
    }
    say(&format!("{compared} centre lines agree"));
    assert!(compared > 5 * 90, "{compared}");
}
