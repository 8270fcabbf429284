//! Promises about the picture of the engraving as the cutter leaves it: what is black in it
//! is missing on the plate, and nothing else is.

use ansata::checks::{ThinKind, ThinPart, thin_parts};
use ansata::drawing::{Drawing, Item, Paint};
use ansata::job::Job;
use ansata::sheets::{artwork, proof};
use kurbo::{Affine, BezPath, PathEl, Point, Shape};
use serde_json::{Value, json};

use crate::lettering_outside::say;
use crate::outside::asked;
use crate::sheets::boxes::assert_tidy;
use crate::sheets::jobs::job_of;
use crate::sheets::{group, said};

const DIDONE: &str = "{ name = \"Bodoni Moda\", weight = 400, optical_size = 28 }";
const PLAIN: &str = "{ name = \"Archivo\", weight = 600, width = 100 }";

/// Letters with bowls, apertures, crotches, dots and diagonals.
const LETTERS: [&str; 26] = [
    "A", "B", "E", "G", "K", "M", "Q", "R", "S", "W", "a", "e", "f", "g", "i", "k", "m", "s", "t",
    "w", "y", "z", "3", "8", "&", "Å",
];

fn layout(lettering: &str, engraving: &str, size: &str, lines: &[(&str, f64)]) -> String {
    let mut text = format!(
        "ansata = 1\ntitle = \"Test\"\n[plate]\nsize = \"{size}\"\nmaterial = \"brass\"\n\
         margin = \"4 mm\"\n[engraving]\n{engraving}\n[lettering]\ndefault = {lettering}\n"
    );
    for (line, cap_height) in lines {
        text.push_str(&format!(
            "[[line]]\ntext = \"{line}\"\ncap_height = \"{cap_height} mm\"\nbreaks = \"never\"\n"
        ));
    }
    text.push_str("[mount]\nholes = \"none\"\n");
    text
}

fn engraving(cut: &str, tip: f64) -> String {
    format!("cut = \"{cut}\"\ncutter = {{ tip = \"{tip} mm\" }}\nleast_land = \"0.02 mm\"")
}

/// The picture at true size, in plate coordinates.
#[derive(Default)]
struct Picture {
    removed: BezPath,
    standing: BezPath,
    missed: BezPath,
}

fn picture(drawing: &Drawing) -> Option<Picture> {
    let mut picture = Picture::default();
    let found = drawing.pages.iter().find_map(|page| group(&page.items, "as-cut"))?;
    for item in &found.items {
        let Item::Path(path) = item else { panic!("only paths: {item:?}") };
        let part = match path.fill {
            Some(Paint::Solid([0, 0, 0])) => &mut picture.missed,
            Some(Paint::Solid([255, 255, 255])) => &mut picture.standing,
            _ => &mut picture.removed,
        };
        part.extend(path.path.iter());
    }
    Some(picture)
}

fn pictured(text: &str) -> (Job, Picture) {
    let job = job_of(text);
    let picture = picture(&proof(&job, &[]).drawing).expect("a cutter is told");
    (job, picture)
}

fn part(job: &Job, line: usize, kind: ThinKind) -> ThinPart {
    let parts = thin_parts(&job.layout, &job.lines, &job.fitted);
    parts.into_iter().find(|part| part.line == line && part.kind == kind).expect("a letter")
}

fn at(part: &ThinPart) -> Point {
    Point::new(part.letters.x, part.letters.y)
}

fn contours(path: &BezPath) -> Vec<Vec<[f64; 2]>> {
    let mut all: Vec<Vec<[f64; 2]>> = Vec::new();
    kurbo::flatten(path.iter(), 1e-4, |element| match element {
        PathEl::MoveTo(point) => all.push(vec![[point.x, point.y]]),
        PathEl::LineTo(point) => all.last_mut().unwrap().push([point.x, point.y]),
        _ => {}
    });
    all
}

/// What shapely makes of pictures; `None`, said loudly, where no Python is named and none is
/// demanded by `ANSATA_OUTSIDE=1`.
fn shapely(cases: &[Value]) -> Option<Value> {
    let answer = asked("opening.py", &json!({ "cases": cases }))?;
    Some(answer["letters"].clone())
}

#[test]
fn the_picture_is_what_a_disc_of_the_cut_s_width_can_sweep() {
    let line = LETTERS.join("   ");
    let mut cases = Vec::new();
    let mut names = Vec::new();
    for lettering in [DIDONE, PLAIN, "\"EB Garamond\"", "\"Cinzel\""] {
        for (cut, tip) in [("incised", 0.15), ("incised", 0.3), ("raised", 0.15), ("raised", 0.4)] {
            let text = layout(lettering, &engraving(cut, tip), "400 x 30 mm", &[(&line, 3.0)]);
            let (job, picture) = pictured(&text);
            let drawing = artwork(&job).whole.sheet.drawing;
            let letters = group(&drawing.pages[0].items, "lettering").expect("letters");
            let asked: BezPath = (letters.items.iter())
                .flat_map(|item| match item {
                    Item::Path(path) => path.path.clone(),
                    other => panic!("only paths: {other:?}"),
                })
                .collect();
            let incised = cut == "incised";
            let made = if incised { &picture.removed } else { &picture.standing };
            // Black is the rest: of the letters, or of the ground within them.
            let rest =
                if incised { asked.area() - made.area() } else { made.area() - asked.area() };
            let rest = rest.abs() - picture.missed.area().abs();
            assert!(rest.abs() < 0.01 * asked.area().abs(), "{lettering} {cut} {tip}: {rest}");
            cases.push(json!({
                "width": tip, "incised": incised, "asked": contours(&asked), "made": contours(made),
            }));
            names.push(format!("{lettering} {cut} {tip}"));
        }
    }
    let Some(answer) = shapely(&cases) else { return };
    let (mut pairs, mut changed, mut worst) = (0, 0, 0.0_f64);
    for (name, case) in names.iter().zip(answer.as_array().unwrap()) {
        let letters = case.as_array().unwrap();
        assert_eq!(letters.len(), LETTERS.len(), "{name}");
        for (letter, answer) in LETTERS.iter().zip(letters) {
            let value = |key: &str| answer[key].as_f64().unwrap();
            let apart = value("apart") / value("asked");
            assert!(apart < 0.02, "{letter} of {name}: {answer}");
            worst = worst.max(apart);
            changed += usize::from((value("truth") / value("asked") - 1.0).abs() > 0.02);
            pairs += 1;
        }
    }
    assert!(pairs > 400 && changed > 200, "{pairs} {changed}");
    say(&format!("{pairs} letters and widths as cut; apart by {:.2} % at most", worst * 100.0));
}

#[test]
fn a_hairline_thinner_than_the_cut_is_black_and_the_stem_beside_it_is_cut() {
    let lines = [("HEATHEN", 2.5)];
    let (job, picture) =
        pictured(&layout(DIDONE, &engraving("incised", 0.25), "60 x 20 mm", &lines));
    let hairline = at(&part(&job, 0, ThinKind::Stroke));
    assert_eq!(picture.removed.winding(hairline), 0);
    assert_ne!(picture.missed.winding(hairline), 0);
    // The left stem of the first H, 0.3 mm thick: half a cap height above the baseline there
    // is the bar, a quarter above it nothing but stems.
    let row = &job.fitted.rows[0];
    let y = row.baseline - 0.25 * row.cap_height;
    let across = (0..2000).map(|step| Point::new(row.ink.x0 + f64::from(step) * 0.001, y));
    let stem: Vec<Point> = across.filter(|at| picture.removed.winding(*at) != 0).collect();
    assert!(stem.len() > 250, "{} µm of stem are cut", stem.len());
    // With a finer tool all of it is cut but for corners.
    let fine = layout(DIDONE, &engraving("incised", 0.02), "60 x 20 mm", &lines);
    let (_, fine) = pictured(&fine);
    assert_ne!(fine.removed.winding(hairline), 0);
}

#[test]
fn a_counter_narrower_than_the_tool_stays_filled_and_a_wider_one_opens() {
    let lines = [("ooo", 2.5)];
    let raised =
        |tip: f64| pictured(&layout(PLAIN, &engraving("raised", tip), "60 x 20 mm", &lines));
    let (job, finest) = raised(0.02);
    let counter = part(&job, 0, ThinKind::Counter);
    assert_ne!(finest.removed.winding(at(&counter)), 0);
    for (share, filled) in [(1.05, true), (0.95, false)] {
        let (_, picture) = raised((counter.letters.width * share * 1000.0).round() / 1000.0);
        assert_eq!(picture.standing.winding(at(&counter)) != 0, filled, "{share}");
        assert_eq!(picture.missed.winding(at(&counter)) != 0, filled, "{share}");
    }
    // Cut in, the same letters have no counter that the tool must enter.
    let (_, incised) = pictured(&layout(PLAIN, &engraving("incised", 0.25), "60 x 20 mm", &lines));
    assert_eq!(incised.removed.winding(at(&counter)), 0);
    assert_eq!(incised.missed.winding(at(&counter)), 0);
}

#[test]
fn raised_letters_stand_on_ground_removed_to_the_plate_s_edge() {
    let text = layout(PLAIN, &engraving("raised", 0.3), "60 x 20 mm", &[("TENOR", 6.0)]);
    let text = text
        .replace("[engraving]", "border = { inset = \"1 mm\", weight = \"0.4 mm\" }\n[engraving]");
    let (_, picture) = pictured(&text);
    for place in [(0.1, 0.1), (59.9, 10.0), (3.0, 3.0), (30.0, 19.9)] {
        assert_ne!(picture.removed.winding(Point::from(place)), 0, "{place:?}");
        assert_eq!(picture.standing.winding(Point::from(place)), 0, "{place:?}");
    }
    // The border stands too, 1 mm in.
    assert_ne!(picture.standing.winding(Point::new(30.0, 1.0)), 0);
}

#[test]
fn a_line_as_wide_as_the_cut_is_cut_whole() {
    let border = "border = { inset = \"1 mm\", weight = \"0.25 mm\" }\n[engraving]";
    let text = layout(PLAIN, &engraving("incised", 0.25), "60 x 20 mm", &[("TENOR", 6.0)]);
    let (_, picture) = pictured(&text.replace("[engraving]", border));
    for place in [(30.0, 1.0), (1.0, 10.0), (1.0, 1.0), (30.0, 1.11)] {
        assert_ne!(picture.removed.winding(Point::from(place)), 0, "{place:?}");
    }
    // A finer line than the tool is wide is not cut at all.
    let (_, picture) = pictured(&text.replace("[engraving]", &border.replace("0.25", "0.2")));
    assert_eq!(picture.removed.winding(Point::new(30.0, 1.0)), 0);
    assert_ne!(picture.missed.winding(Point::new(30.0, 1.0)), 0);
}

#[test]
fn every_place_that_is_too_narrow_is_enlarged_with_the_width_it_needs() {
    let lines = [("Elowen Tarrant", 2.5), ("1976 to 2026", 2.5)];
    let job = job_of(&layout(DIDONE, &engraving("incised", 0.25), "100 x 30 mm", &lines));
    let drawing = proof(&job, &[]).drawing;
    for line in 0..2 {
        let part = part(&job, line, ThinKind::Stroke);
        let name = format!("as-cut-{}-stroke", line + 1);
        let tile = drawing.pages.iter().find_map(|page| group(&page.items, &name)).expect(&name);
        // The ring is 0.25 mm at the enlargement that the caption names, round the place.
        let rings = tile.items.iter().filter_map(|item| match item {
            Item::Path(path) if path.fill.is_none() => Some(path.path.bounding_box()),
            _ => None,
        });
        for ring in rings {
            assert!((ring.width() - 2.5).abs() < 0.01 && (ring.height() - 2.5).abs() < 0.01);
            let off = ring.center() - (at(&part).to_vec2() * 10.0).to_point();
            assert!(off.hypot() < 0.01, "{off:?}");
            assert!(tile.clip.unwrap().contains(ring.center()));
        }
        let caption = format!("10 : 1. Line {}: the thinnest stroke", line + 1);
        assert!(said(&drawing).contains(&caption), "{}", said(&drawing));
    }
    assert!(said(&drawing).contains("As cut"));
}

#[test]
fn where_all_holds_the_place_that_comes_nearest_is_shown() {
    let text = layout(PLAIN, &engraving("incised", 0.1), "100 x 30 mm", &[("Elowen Tarrant", 6.0)]);
    let job = job_of(&text);
    assert!(thin_parts(&job.layout, &job.lines, &job.fitted).iter().all(ThinPart::holds));
    let drawing = proof(&job, &[]).drawing;
    let said = said(&drawing);
    assert!(said.contains("comes nearest to being too narrow, and is not"), "{said}");
    let shown = |kind: &str| {
        let name = format!("as-cut-1-{kind}");
        drawing.pages.iter().any(|page| group(&page.items, &name).is_some())
    };
    assert!(shown("stroke") || shown("join"));
    assert!(shown("counter") || shown("gap"));
}

#[test]
fn without_a_cutter_nothing_is_shown_as_cut() {
    let job = job_of(&layout(DIDONE, "", "100 x 30 mm", &[("Elowen Tarrant", 2.5)]));
    let drawing = proof(&job, &[]).drawing;
    assert!(picture(&drawing).is_none() && !said(&drawing).contains("As cut"));
}

#[test]
fn a_wording_too_long_to_be_drawn_twice_shows_the_rows_that_matter_and_says_so() {
    let words = "ringers of Marrowby Vale and all their kin ".repeat(30);
    let lines: Vec<(&str, f64)> = vec![(words.trim(), 2.0); 4];
    let text = layout(PLAIN, &engraving("incised", 0.25), "900 x 300 mm", &lines)
        .replace("breaks = \"never\"", "breaks = \"free\"");
    let job = job_of(&text);
    let letters: usize = job.fitted.rows.iter().map(|row| row.glyphs.len()).sum();
    assert!(letters > 4000, "{letters}");
    let drawing = proof(&job, &[]).drawing;
    assert!(said(&drawing).contains("Only the rows of the places enlarged are drawn"));
    let picture = picture(&drawing).unwrap();
    let rows = job.fitted.rows.iter().filter(|row| {
        let strip =
            kurbo::Rect::new(row.ink.x0, row.baseline - 1.0, row.ink.x1, row.baseline - 0.9);
        contours(&picture.removed).iter().flatten().any(|p| strip.contains(Point::new(p[0], p[1])))
    });
    let (rows, all) = (rows.count(), job.fitted.rows.len());
    assert!((1..=6).contains(&rows) && all > 6, "{rows} of {all}");
}

#[test]
fn the_proof_stays_tidy_whatever_the_cutter_and_the_letters() {
    let arabic_and_hebrew = "\u{5e9}\u{5dc}\u{5d5}\u{5dd} Elowen";
    let lines: [(&str, f64); 5] = [
        ("AVATAR", 14.0),
        ("Ångström & office", 2.5),
        (arabic_and_hebrew, 3.0),
        ("Elowen Tarrant", 0.6),
        ("1976", 30.0),
    ];
    for (cut, tip) in [("incised", 0.01), ("incised", 0.3), ("raised", 0.3), ("raised", 15.0)] {
        for lettering in [DIDONE, "\"Great Vibes\"", "\"Frank Ruhl Libre\""] {
            let text = layout(lettering, &engraving(cut, tip), "300 x 110 mm", &lines);
            let job = job_of(&text);
            let drawing = proof(&job, &[]).drawing;
            for page in &drawing.pages {
                assert_tidy(page, 15.0, 1.8, &format!("{cut} {tip} {lettering}"));
            }
            // What is drawn is drawn within the paper, pictures among it.
            for page in &drawing.pages {
                for item in &page.items {
                    let Item::Group(group) = item else { continue };
                    if let Some(clip) = group.clip {
                        let place: Affine = group.transform;
                        let shown = place.transform_rect_bbox(clip);
                        assert!(
                            shown.x0 > 14.9 && shown.x1 < page.width - 14.9 && shown.y0 > 14.9,
                            "{}: {shown:?}",
                            group.name
                        );
                        assert!(shown.y1 < page.height - 14.9, "{}: {shown:?}", group.name);
                    }
                }
            }
        }
    }
}

#[test]
fn the_same_layout_gives_the_same_picture() {
    let text =
        layout(DIDONE, &engraving("raised", 0.25), "100 x 30 mm", &[("Elowen Tarrant", 2.5)]);
    let (first, second) = (pictured(&text).1, pictured(&text).1);
    assert_eq!(first.standing, second.standing);
    assert_eq!(first.missed, second.missed);
}
