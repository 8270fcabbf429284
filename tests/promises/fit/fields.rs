//! Fields that are no plain rectangle: ovals, circles, rectangles with holes.

use ansata::fit::{LineProblem, Plan, Problem, plan};
use ansata::layout::{Align, Breaks, FitMode, Shape};
use ansata::lettering::Widths;
use ansata::plate::{ClearZone, Field, Outline, Side, ZoneKind, ZoneShape};

use super::brute::{self, ALLOWED, Numbers};
use super::field;

/// How near the scan's best the result must come, mm of cap height at size 1.
const NEAR: f64 = 0.05;

fn hole(x: f64, y: f64, radius: f64) -> ClearZone {
    ClearZone { shape: ZoneShape::Disc { x, y, radius }, kind: ZoneKind::Hole(0) }
}

/// A field of one of the usual kinds, about as large as the random lines ask for.
fn random_field(numbers: &mut Numbers, kind: usize) -> Field {
    let (width, height) = (numbers.between(40.0, 110.0), numbers.between(20.0, 60.0));
    let radius = numbers.between(1.5, 5.0);
    match kind {
        0 => field(width, height, Shape::Oval),
        1 => field(width, width, Shape::Circle),
        2 => {
            // A hole in each corner: the commonest plate.
            let inset = numbers.between(0.0, 5.0);
            let (right, bottom) = (width - inset, height - inset);
            let zones = [(inset, inset), (right, inset), (inset, bottom), (right, bottom)]
                .map(|(x, y)| hole(x, y, radius));
            Field { zones: zones.to_vec(), ..field(width, height, Shape::Rectangle) }
        }
        3 => {
            // Top and bottom, on the axis.
            let zones = [hole(width / 2.0, 2.0, radius), hole(width / 2.0, height - 2.0, radius)];
            Field { zones: zones.to_vec(), ..field(width, height, Shape::Rectangle) }
        }
        _ => {
            // Anywhere.
            let zones = (0..2)
                .map(|_| hole(numbers.between(0.0, width), numbers.between(0.0, height), radius));
            Field { zones: zones.collect(), ..field(width, height, Shape::Rectangle) }
        }
    }
}

/// Whether a box lies inside the outline and off every hole; worked out from corners and
/// distances, not from chords.
fn inside(field: &Field, [x0, y0, x1, y1]: [f64; 4], allowed: f64) -> bool {
    let [_, _, width, height] = field.bounds().expect("an outline");
    let (a, b) = (width / 2.0, height / 2.0);
    let in_outline = match field.outline.as_ref() {
        Some(outline) if !outline.is_rectangle() => {
            [(x0, y0), (x0, y1), (x1, y0), (x1, y1)].iter().all(|(x, y)| {
                let (u, v) = ((x - a) / (a + allowed), (y - b) / (b + allowed));
                u * u + v * v <= 1.0
            })
        }
        _ => x0 >= -allowed && y0 >= -allowed && x1 <= width + allowed && y1 <= height + allowed,
    };
    in_outline
        && field.zones.iter().all(|zone| match zone.shape {
            ZoneShape::Disc { x, y, radius } => {
                let (dx, dy) = (x - x.clamp(x0, x1), y - y.clamp(y0, y1));
                libm::hypot(dx, dy) >= radius - allowed
            }
            other => panic!("no such zone here: {other:?}"),
        })
}

/// Boxes of a plan's rows, centred on the field's axis.
fn row_boxes(problem: &Problem, field: &Field, plan: &Plan) -> Vec<[f64; 4]> {
    plan.rows
        .iter()
        .map(|row| {
            let line = &problem.lines[row.line];
            let half = brute::width(line, (row.from, row.to), row.height) / 2.0;
            [
                field.axis_x - half,
                row.baseline - brute::reach(line, row.height).0,
                field.axis_x + half,
                row.baseline + brute::reach(line, row.height).1,
            ]
        })
        .collect()
}

/// The largest scale on a coarse grid of scales and places at which any breaking stands.
fn scan(problem: &Problem, field: &Field, highest: f64) -> Option<f64> {
    const SCALES: u32 = 150;
    const PLACES: u32 = 60;
    let [_, _, plate_width, plate_height] = field.bounds().expect("an outline");
    // Which lines may break is asked of the field's own widest place, sought finely here.
    let breakings = brute::breakings(problem, |line, height| {
        let (rise, depth) = brute::reach(line, height);
        let tall = rise + depth;
        let spare = plate_height - tall;
        (0..=4000)
            .map(|step| spare * f64::from(step) / 4000.0)
            .filter(|_| spare >= 0.0)
            .map(|top| {
                brute::last_yes(plate_width, |wide| {
                    let (x0, x1) = (field.axis_x - wide / 2.0, field.axis_x + wide / 2.0);
                    inside(field, [x0, top, x1, top + tall], ALLOWED)
                })
                .unwrap_or(0.0)
            })
            .fold(0.0, f64::max)
    });
    (0..=SCALES).rev().map(|step| highest * f64::from(step) / f64::from(SCALES)).find(|&scale| {
        let heights: Vec<f64> =
            problem.lines.iter().map(|line| brute::height(line, scale)).collect();
        breakings.iter().any(|breaking| {
            let rows = brute::boxes(problem, breaking, &heights);
            let spare = plate_height - rows.last().expect("rows").bottom;
            spare >= 0.0
                && (0..=PLACES).any(|place| {
                    let top = spare * f64::from(place) / f64::from(PLACES);
                    rows.iter().all(|row| {
                        let (x0, x1) =
                            (field.axis_x - row.width / 2.0, field.axis_x + row.width / 2.0);
                        inside(field, [x0, top + row.top, x1, top + row.bottom], 0.0)
                    })
                })
        })
    })
}

/// What fits in ovals, circles and between holes stands inside them, is as large as a scan
/// over scales and places finds, and the scale said to be out of reach is out of its reach.
#[test]
fn lettering_fills_ovals_and_the_room_between_holes() {
    let mut numbers = Numbers(0x5eed_0002);
    let mut fitting = 0;
    let mut widest_bracket: f64 = 0.0;
    for case in 0..150 {
        let mut problem = brute::random_problem(&mut numbers, false);
        let field = random_field(&mut numbers, case % 5);
        let found = plan(&problem, &field);
        let end = problem.lines.iter().map(|line| line.ceiling / line.ratio).fold(0.0, f64::max);
        let (Some(low), Some(high)) = (found.low, found.high) else {
            assert_eq!(scan(&problem, &field, end), None, "case {case}");
            for row in row_boxes(&problem, &field, &found) {
                assert!(inside(&field, row, 1e-6), "case {case}: {row:?}");
            }
            assert!(found.phi < 1.0, "case {case}");
            continue;
        };
        fitting += 1;
        for row in row_boxes(&problem, &field, &found) {
            assert!(inside(&field, row, 1e-6), "case {case}: {row:?}");
        }
        let scanned = scan(&problem, &field, end.min(high + 1.0));
        if let Some(scanned) = scanned {
            assert!(scanned <= high + 1e-6, "case {case}: {scanned} fits above {high}");
            assert!(low >= scanned - NEAR, "case {case}: {scanned} fits, {low} found");
        }
        for line in &problem.lines {
            let gap = brute::height(line, high) - brute::height(line, low);
            widest_bracket = widest_bracket.max(gap);
        }
        problem.ease = 0.9;
        let eased = plan(&problem, &field);
        assert!(eased.scale <= low + ALLOWED, "case {case}");
        for row in row_boxes(&problem, &field, &eased) {
            assert!(inside(&field, row, 1e-6), "case {case}: {row:?}");
        }
    }
    assert!(fitting > 70, "{fitting} of 150 fit");
    println!("{fitting} fit, bracket {widest_bracket}");
    assert!(widest_bracket <= 0.0101, "a bracket of {widest_bracket} mm");
}

/// A line in one piece, so many cap heights wide; one cap height of white above the next.
fn piece(width: f64) -> LineProblem {
    LineProblem {
        ratio: 1.0,
        floor: 0.01,
        ceiling: 100.0,
        wish: None,
        rise: 1.0,
        depth: 0.0,
        leading: 2.0,
        space: 0.0,
        align: Align::Centre,
        breaks: Breaks::Never,
        forced: vec![false; 2].into(),
        costs: vec![0; 2].into(),
        widths: Widths::table(2, vec![width]),
        drawn: false,
        cut: 0.0,
    }
}

/// A field 100 by 40 mm with a hole of 10 mm in its middle, two lines 7 wide with one cap
/// height of white: cap heights up to 5 stand above the hole, those from 10 to 13.33 on
/// both sides of it, and none between.
#[test]
fn a_hole_in_the_middle_may_part_the_sizes_that_fit() {
    let plate = field(100.0, 40.0, Shape::Rectangle);
    let field = Field { zones: vec![hole(50.0, 20.0, 5.0)], ..plate };
    let at_most = |ceiling: f64, ease: f64| {
        let lines = vec![piece(7.0), piece(7.0)]
            .into_iter()
            .map(|line| LineProblem { ceiling, ..line })
            .collect();
        plan(&Problem { lines, mode: FitMode::Even, ease }, &field)
    };
    let near = |found: f64, expected: f64| {
        assert!((found - expected).abs() < 0.01, "{found} is not {expected}");
    };
    near(at_most(100.0, 1.0).low.expect("fits"), 40.0 / 3.0);
    near(at_most(100.0, 1.0).high.expect("fits"), 40.0 / 3.0);
    near(at_most(9.9, 1.0).low.expect("fits"), 5.0);
    near(at_most(9.9, 1.0).high.expect("fits"), 5.0);
    // Nine tenths of 13.33 is 12; half of it, 6.67, is not to be had: 5 is next below.
    near(at_most(100.0, 0.9).scale, 12.0);
    near(at_most(100.0, 0.5).scale, 5.0);
}

/// Where a photograph takes a whole side of a rectangle, the fit is that of a rectangle as
/// large as what is left, moved there.
#[test]
fn beside_a_photograph_that_takes_a_side_all_is_as_on_a_smaller_plate() {
    let mut numbers = Numbers(0x5eed_0007);
    let mut fitting = 0;
    for case in 0..120 {
        let problem = brute::random_problem(&mut numbers, true);
        let (width, height) = (numbers.between(40.0, 110.0), numbers.between(20.0, 60.0));
        // Whole micrometres, in which rows are placed.
        let share = |whole: f64| (whole * 300.0).round() / 1000.0;
        let whole = field(width, height, Shape::Rectangle);
        let (side, at, (left, top, wide, tall)) = match case % 4 {
            0 => (Side::Left, share(width), (share(width), 0.0, width - share(width), height)),
            1 => (Side::Right, share(width), (0.0, 0.0, share(width), height)),
            2 => (Side::Top, share(height), (0.0, share(height), width, height - share(height))),
            _ => (Side::Bottom, share(height), (0.0, 0.0, width, share(height))),
        };
        let axis_x = left + wide / 2.0;
        let shape = ZoneShape::Side { side, at };
        let zones = vec![ClearZone { shape, kind: ZoneKind::Photo(0) }];
        let found = plan(&problem, &Field { zones, axis_x, ..whole });
        let small = Outline::new(wide, tall, &Shape::Rectangle);
        let small = Field { outline: Some(small), zones: vec![], axis_x: wide / 2.0 };
        let alone = plan(&problem, &small);
        fitting += usize::from(found.low.is_some());
        assert_eq!(found.low.is_some(), alone.low.is_some(), "case {case}");
        let near = |a: f64, b: f64| assert!((a - b).abs() < 2e-3, "case {case}: {a} and {b}");
        if let (Some(found), Some(alone)) = (found.low, alone.low) {
            assert!((found - alone).abs() < 1e-6, "case {case}: {found} and {alone}");
        }
        near(found.phi, alone.phi);
        assert_eq!(found.rows.len(), alone.rows.len(), "case {case}");
        for (row, other) in found.rows.iter().zip(&alone.rows) {
            assert_eq!((row.line, row.from, row.to), (other.line, other.from, other.to));
            near(row.height, other.height);
            near(row.baseline, other.baseline + top);
            near(row.stretch.left, other.stretch.left + left);
            near(row.stretch.right, other.stretch.right + left);
        }
    }
    assert!(fitting > 50, "{fitting} of 120 fit");
}
