//! A plate that is larger than the paper: tiles that hold together.

use std::collections::BTreeMap;

use ansata::drawing::write::pdf;
use ansata::drawing::{Item, Page};
use ansata::job::Job;
use ansata::sheets::{Sheet, pattern};
use kurbo::{Affine, Point, Rect, Shape};

use super::{board, board_job, group, tile};
use crate::outside::run;
use crate::sheets::boxes::{assert_tidy, paths, texts};
use crate::support::Bench;

/// Paper as ISO 216 and ASME Y14.1 have it; Legal is 8.5 x 14 in. mm.
const PAPERS: [(&str, f64, f64); 5] = [
    ("A4", 210.0, 297.0),
    ("A3", 297.0, 420.0),
    ("Letter", 215.9, 279.4),
    ("Legal", 215.9, 355.6),
    ("Tabloid", 279.4, 431.8),
];
/// White round the contents of every sheet, mm.
const MARGIN: f64 = 10.0;

/// All pages that show a tile, with what it shows in plate coordinates.
fn tiles(sheet: &Sheet) -> Vec<(usize, Rect, (f64, f64))> {
    let pages = sheet.drawing.pages.iter().zip(&sheet.plate_at).enumerate();
    pages
        .filter_map(|(index, (page, plate))| {
            let (shown, at) = tile(page, *plate)?;
            Some((index, shown, at))
        })
        .collect()
}

fn mounting(job: &Job, sheet: &Sheet) -> usize {
    // The plate drilling sheet follows: it has a heading with the title.
    let heading = |page: &&Page| {
        texts(page).iter().any(|text| text.0.text.starts_with("Plate drilling sheet"))
    };
    assert!(!job.mount.holes.is_empty());
    sheet.drawing.pages.iter().take_while(|page| !heading(page)).count()
}

#[test]
fn a_pattern_never_asks_for_other_paper_than_is_there() {
    let sizes = [(60, 40), (180, 100), (240, 160), (380, 120), (600, 400), (900, 40), (40, 700)];
    let mut tiled = 0;
    for (paper, width, height) in PAPERS {
        for size in sizes {
            let job = board_job(paper, size);
            let sheet = pattern(&job);
            for page in &sheet.drawing.pages {
                let place = format!("{paper}, {size:?}");
                let ways = [(width, height), (height, width)];
                assert!(ways.contains(&(page.width, page.height)), "{place}");
                assert_tidy(page, MARGIN, 2.5, &place);
            }
            tiled += tiles(&sheet).len();
        }
    }
    assert!(tiled > 100, "{tiled} tiles looked at");
}

#[test]
fn every_page_with_a_part_of_the_plate_has_check_bars_in_both_directions() {
    for paper in ["A4", "Letter"] {
        let sheet = pattern(&board_job(paper, (380, 120)));
        assert!(tiles(&sheet).len() >= 4);
        for (index, ..) in tiles(&sheet) {
            let bar = group(&sheet.drawing.pages[index].items, "check-bar").expect("check bars");
            let long: Vec<Rect> = paths(&bar.items, Affine::IDENTITY)
                .iter()
                .map(|(path, place)| (*place * path.path.clone()).bounding_box())
                .filter(|line| line.width().max(line.height()) > 50.0)
                .collect();
            // 4 in of 25.4 mm, the longer side of a bar.
            let across = long.iter().filter(|line| (line.width() - 101.6).abs() < 1e-6).count();
            let along = long.iter().filter(|line| (line.height() - 101.6).abs() < 1e-6).count();
            assert_eq!((across, along, long.len()), (1, 1, 2), "page {}", index + 1);
        }
    }
}

#[test]
fn every_hole_stands_whole_with_its_centre_mark_on_a_tile_and_no_cut_runs_through_it() {
    for paper in ["A4", "Letter", "Legal"] {
        for width in (300..700).step_by(37) {
            let job = board_job(paper, (width, 120));
            let sheet = pattern(&job);
            let mount = mounting(&job, &sheet);
            let all = tiles(&sheet);
            for hole in &job.mount.holes {
                // Head and centre lines 2.5 mm past it.
                let reach = hole.head_diameter.max(hole.clearance_diameter) / 2.0 + 2.5;
                let mark = Rect::new(hole.x, hole.y, hole.x, hole.y).inflate(reach, reach);
                for drilling in [false, true] {
                    let whole = all
                        .iter()
                        .filter(|(index, ..)| (*index >= mount) == drilling)
                        .filter(|(_, shown, _)| shown.union(mark) == *shown);
                    let mut seen = 0;
                    for (index, ..) in whole {
                        let page = &sheet.drawing.pages[*index];
                        let holes = group(&page.items, "holes").expect("holes");
                        let drawn = holes.items.iter().any(|item| match item {
                            Item::Path(path) => {
                                let middle = path.path.bounding_box().center();
                                middle.distance(Point::new(hole.x, hole.y)) < 1e-6
                            }
                            _ => false,
                        });
                        assert!(drawn, "{paper}, {width}: page {} lacks {mark:?}", index + 1);
                        seen += 1;
                    }
                    assert!(seen > 0, "{paper}, {width}: {mark:?} is cut everywhere");
                }
                for (index, ..) in &all {
                    for (x, y, upright) in cuts(&sheet, *index) {
                        let far = if upright { (x - hole.x).abs() } else { (y - hole.y).abs() };
                        assert!(far >= reach, "{paper}, {width}: cut {far} mm from a hole");
                    }
                }
            }
        }
    }
}

/// Cut lines of a page in plate coordinates: a point of each, and whether it is upright.
fn cuts(sheet: &Sheet, index: usize) -> Vec<(f64, f64, bool)> {
    let (x, y) = sheet.plate_at[index].expect("a plate");
    let frame = group(&sheet.drawing.pages[index].items, "frame").expect("cuts");
    paths(&frame.items, Affine::IDENTITY)
        .into_iter()
        .filter(|(path, _)| {
            path.stroke.is_some_and(|s| s.line_type == ansata::drawing::LineType::LongDashedDotted)
        })
        .map(|(path, place)| {
            let line = (place * path.path).bounding_box();
            (line.x0 - x, line.y0 - y, line.width() < 1e-9)
        })
        .collect()
}

#[test]
fn register_marks_have_one_letter_and_one_place_on_both_neighbours() {
    for (paper, size) in [("A4", (380, 120)), ("Letter", (600, 400)), ("A4", (900, 600))] {
        let job = board_job(paper, size);
        let sheet = pattern(&job);
        let mount = mounting(&job, &sheet);
        let mut seen: BTreeMap<String, Vec<(Point, usize)>> = BTreeMap::new();
        for (index, _, at) in tiles(&sheet).into_iter().filter(|(index, ..)| *index < mount) {
            let page = &sheet.drawing.pages[index];
            let rounds: Vec<Rect> =
                paths(&group(&page.items, "frame").unwrap().items, Affine::IDENTITY)
                    .into_iter()
                    .map(|(path, place)| (place * path.path).bounding_box())
                    .filter(|box_| {
                        (box_.width() - 4.0).abs() < 1e-6 && (box_.height() - 4.0).abs() < 1e-6
                    })
                    .collect();
            assert!(!rounds.is_empty(), "page {}", index + 1);
            for round in rounds {
                // The two letters beside a circle.
                let letters: Vec<String> = texts(page)
                    .into_iter()
                    .filter(|(text, ink)| {
                        text.text.chars().all(|c| c.is_ascii_uppercase())
                            && ink.center().distance(round.center()) < 6.5
                    })
                    .map(|(text, _)| text.text)
                    .collect();
                let [one, other] = letters.as_slice() else { panic!("{letters:?} at {round:?}") };
                assert_eq!(one, other);
                let centre = round.center() - kurbo::Vec2::new(at.0, at.1);
                seen.entry(one.clone()).or_default().push((centre, index));
            }
        }
        for (letter, places) in &seen {
            let [(one, first), (other, second)] = places.as_slice() else {
                panic!("{letter} stands on {} pages", places.len())
            };
            assert!(first != second && one.distance(*other) < 1e-9, "{letter}: {places:?}");
        }
        let tiles = tiles(&sheet).iter().filter(|(index, ..)| *index < mount).count();
        assert!(seen.len() >= 2 * (tiles - 1), "{} marks on {tiles} tiles", seen.len());
    }
}

#[test]
fn no_figure_of_the_dimensions_is_lost_in_a_cut() {
    // The same board on A3, where the whole stands on one sheet.
    let words = |sheet: &Sheet, until: usize| {
        let mut all: Vec<String> = sheet.drawing.pages[..until]
            .iter()
            .filter_map(|page| group(&page.items, "dimensions").map(|group| (page, group)))
            .flat_map(|(page, group)| {
                let items = vec![Item::Group(group.clone())];
                texts(&Page { items, ..page.clone() })
            })
            .map(|text| text.0.text)
            .collect();
        all.sort();
        all.dedup();
        all
    };
    let whole = board_job("A3", (330, 150));
    let tiled = board_job("A4", (330, 150));
    let (one, many) = (pattern(&whole), pattern(&tiled));
    assert!(tiles(&one).is_empty() && tiles(&many).len() > 3);
    let wanted = words(&one, mounting(&whole, &one));
    assert!(wanted.len() > 8, "{wanted:?}");
    assert_eq!(wanted, words(&many, mounting(&tiled, &many)));
}

/// Dots in a mm at the resolution of the comparison.
const DOTS: f64 = 200.0 / 25.4;
/// Darker than this is ink.
const INK: u8 = 128;

/// A page drawn by poppler.
struct Picture {
    levels: image::GrayImage,
}

impl Picture {
    /// Whether there is ink at a place, or within `round` dots of it.
    fn ink(&self, x: f64, y: f64, round: i32) -> bool {
        let (x, y) = (dot(x), dot(y));
        (-round..=round).any(|dx| {
            (-round..=round).any(|dy| {
                let at = u32::try_from(x + dx).ok().zip(u32::try_from(y + dy).ok());
                at.and_then(|(x, y)| self.levels.get_pixel_checked(x, y))
                    .is_some_and(|pixel| pixel.0[0] < INK)
            })
        })
    }
}

/// The dot in which a place on a page lies.
fn dot(mm: f64) -> i32 {
    format!("{:.0}", (mm * DOTS).floor()).parse().unwrap()
}

fn pictures(bench: &Bench, name: &str, pages: usize) -> Option<Vec<Picture>> {
    run("pdftoppm", &["-r", "200", "-gray", "-png", name, "page"], &bench.path(""))?;
    let digits = if pages > 9 { 2 } else { 1 };
    let read = |page: usize| {
        let path = bench.path(&format!("page-{page:0digits$}.png"));
        let levels = image::open(&path).unwrap_or_else(|e| panic!("{path:?}: {e}")).to_luma8();
        std::fs::remove_file(path).unwrap();
        Picture { levels }
    };
    Some((1..=pages).map(read).collect())
}

#[test]
fn tiles_put_together_again_equal_the_whole() {
    // The plate drilling sheet of one board on tiles of A4 and whole on A3, both drawn by
    // poppler; laid together by the places that the report gives.
    let size = (330, 120);
    let (whole_job, tiled_job) = (board_job("A3", size), board_job("A4", size));
    let (whole, tiled) = (pattern(&whole_job), pattern(&tiled_job));
    let bench = Bench::with(&board("A4", size));
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made", "-q", "--dpi", "20"]).status, 0);
    let report: serde_json::Value =
        serde_json::from_slice(&bench.read("made/report.json")).unwrap();
    bench.put("tiled.pdf", bench.read("made/pattern.pdf"));
    bench.put("whole.pdf", pdf(&whole.drawing).unwrap());
    let Some(parts) = pictures(&bench, "tiled.pdf", tiled.drawing.pages.len()) else { return };
    let Some(one) = pictures(&bench, "whole.pdf", whole.drawing.pages.len()) else { return };

    let first = mounting(&tiled_job, &tiled);
    let laid: Vec<(usize, Rect, (f64, f64))> = tiles(&tiled)
        .into_iter()
        .filter(|(index, ..)| *index >= first)
        .map(|(index, shown, _)| {
            // The report's place, not the drawing's.
            let entry = report["sheets"]
                .as_array()
                .unwrap()
                .iter()
                .find(|sheet| sheet["file"] == "pattern.pdf" && sheet["page"] == index + 1)
                .unwrap();
            let at = |key: &str| entry[key].as_f64().unwrap();
            (index, shown, (at("plate_x_mm"), at("plate_y_mm")))
        })
        .collect();
    assert!(laid.len() > 1 && laid.iter().any(|(_, _, at)| at.0 < 0.0), "{laid:?}");
    let cut: Vec<f64> = laid
        .iter()
        .flat_map(|(index, ..)| cuts(&tiled, *index))
        .filter(|(_, _, upright)| *upright)
        .map(|(place, ..)| place)
        .collect();
    let at = mounting(&whole_job, &whole);
    let (x, y) = whole.plate_at[at].unwrap();
    let (mut compared, mut off) = (0, 0);
    // The plate and 2 mm round it, dot by dot.
    let (mut v, step) = (-2.0, 1.0 / DOTS);
    while v < f64::from(size.1) + 2.0 {
        let mut u = -2.0;
        while u < f64::from(size.0) + 2.0 {
            let here = one[at].ink(x + u, y + v, 0);
            let covering = laid.iter().filter(|(_, shown, _)| shown.contains((u, v)));
            let shown: Vec<bool> = covering
                .map(|(index, _, (px, py))| {
                    parts[*index].ink(px + u, py + v, if here { 1 } else { 0 })
                })
                .collect();
            assert!(!shown.is_empty(), "({u}, {v}) stands on no tile");
            let near_cut = cut.iter().any(|place| (place - u).abs() < 6.5);
            if here {
                compared += 1;
                // Figures that are cut stand on one tile alone; holes on all that show
                // the place.
                let hole = tiled_job.mount.holes.iter().any(|hole| {
                    let reach = hole.head_diameter / 2.0 + 0.3;
                    Point::new(hole.x, hole.y).distance(Point::new(u, v)) < reach
                });
                let there = shown.iter().filter(|ink| **ink).count();
                off += usize::from(there == 0 || (hole && there < shown.len()));
            } else if !near_cut && shown.iter().any(|ink| *ink) && !one[at].ink(x + u, y + v, 1) {
                off += 1;
            }
            u += step;
        }
        v += step;
    }
    assert!(compared > 10_000, "{compared} dots of ink");
    // Edges of glyphs may round another way; a shift of 0.3 mm would miss thousands.
    assert!(off * 500 < compared, "{off} of {compared} dots differ");
}

#[test]
fn the_plate_of_every_tile_has_its_true_size_on_paper() {
    // Poppler draws each tile; its check bars are measured in dots.
    let job = board_job("Letter", (380, 120));
    let sheet = pattern(&job);
    let bench = Bench::new();
    bench.put("tiles.pdf", pdf(&sheet.drawing).unwrap());
    let Some(pages) = pictures(&bench, "tiles.pdf", sheet.drawing.pages.len()) else { return };
    for (index, ..) in tiles(&sheet) {
        let bar = group(&sheet.drawing.pages[index].items, "check-bar").unwrap();
        for (path, place) in paths(&bar.items, Affine::IDENTITY) {
            let line = (place * path.path).bounding_box();
            if line.width().max(line.height()) < 50.0 {
                continue;
            }
            let across = line.width() > line.height();
            let ink = (0..3000)
                .filter(|step| {
                    let at = f64::from(*step) / DOTS;
                    // From 5 mm before the bar to 5 mm behind it.
                    if at > line.width().max(line.height()) + 10.0 {
                        return false;
                    }
                    if across {
                        pages[index].ink(line.x0 - 5.0 + at, line.y0, 0)
                    } else {
                        pages[index].ink(line.x0, line.y0 - 5.0 + at, 0)
                    }
                })
                .count();
            let length = ink as f64 / DOTS;
            // Ticks of 0.25 mm stand half outside at both ends; a dot is 0.127 mm.
            assert!((length - 101.6 - 0.25).abs() < 0.26, "page {}: {length} mm", index + 1);
        }
    }
}
