//! Promises about fit.

mod brute;
mod fields;
mod outlines;
mod pango;
mod properties;

use ansata::fit::{Plan, Problem, plan};
use ansata::layout::{FitMode, Shape};
use ansata::plate::{Field, Outline};

pub(crate) use brute::Numbers;

/// A field without margin, its axis in the middle.
fn field(width: f64, height: f64, shape: Shape) -> Field {
    let outline = Outline::new(width, height, &shape);
    Field { outline: Some(outline), zones: Vec::new(), axis_x: width / 2.0 }
}

/// The breaking of a plan, as stops from which and to which each row of each line runs.
fn breaking(problem: &Problem, plan: &Plan) -> brute::Breaking {
    let mut breaking = vec![Vec::new(); problem.lines.len()];
    for row in &plan.rows {
        breaking[row.line].push((row.from, row.to));
    }
    breaking
}

/// The size is found, not guessed: the limit, the breaking chosen at 90 % and the share of
/// the floors are those of a brute force over all breakings, in 700 cases and to 1e-6 mm.
#[test]
fn the_size_is_the_largest_that_any_breaking_allows() {
    let mut numbers = Numbers(0x5eed_0001);
    let (mut fitting, mut broken) = (0, 0);
    for case in 0..700 {
        let mut problem = brute::random_problem(&mut numbers, true);
        let room = (numbers.between(15.0, 110.0), numbers.between(6.0, 60.0));
        let field = field(room.0, room.1, Shape::Rectangle);
        let found = plan(&problem, &field);
        let Some(limit) = brute::limit(&problem, room) else {
            assert_eq!(found.low, None, "case {case}");
            match brute::share_of_floors(&problem, room) {
                Some(share) if share > 0.001 => {
                    assert!((found.phi - share).abs() < 1e-6, "case {case}: {} {share}", found.phi);
                    assert!(!found.rows.is_empty(), "case {case}");
                }
                _ => assert!(found.phi < 0.001 && found.rows.is_empty(), "case {case}"),
            }
            continue;
        };
        fitting += 1;
        let low = found.low.expect("fits");
        for line in &problem.lines {
            let (ours, theirs) = (brute::height(line, low), brute::height(line, limit));
            assert!((ours - theirs).abs() < 1e-6, "case {case}: {ours} is not {theirs}");
        }
        problem.ease = 0.9;
        let found = plan(&problem, &field);
        let scale = brute::eased(&problem, limit);
        assert!((found.scale - scale).abs() < 1e-6, "case {case}: {} {scale}", found.scale);
        let chosen = brute::choice(&problem, scale, room).expect("feasible");
        assert_eq!(breaking(&problem, &found), chosen, "case {case}");
        broken += usize::from(chosen.iter().any(|pieces| pieces.len() > 1));
    }
    // The cases must be worth something.
    assert!(fitting > 350 && fitting < 670, "{fitting} of 700 fit");
    assert!(broken > 100, "{broken} are broken");
}

/// Mode `full`: every line as wide as the field, as far as height, floors, ceilings and the
/// order of sizes allow, in 300 cases against the definition.
#[test]
fn in_mode_full_lines_are_as_wide_as_the_field_and_in_the_order_of_their_sizes() {
    let mut numbers = Numbers(0x5eed_0004);
    let (mut fitting, mut wide) = (0, 0);
    for case in 0..300 {
        let mut problem = brute::random_problem(&mut numbers, true);
        problem.mode = FitMode::Full;
        let room = (numbers.between(25.0, 110.0), numbers.between(10.0, 60.0));
        let found = plan(&problem, &field(room.0, room.1, Shape::Rectangle));
        let Some(limit) = brute::full_limit(&problem, room) else {
            assert_eq!(found.low, None, "case {case}");
            continue;
        };
        fitting += 1;
        assert!(found.low.is_some(), "case {case}");
        let expected = brute::full_heights(&problem, room.0, limit);
        for (ours, theirs) in found.heights.iter().zip(&expected) {
            assert!((ours - theirs).abs() < 1e-6, "case {case}: {ours} is not {theirs}");
        }
        for row in &found.rows {
            let width = brute::width(&problem.lines[row.line], (row.from, row.to), row.height);
            assert!(width <= room.0 + 1e-6, "case {case}");
            wide += usize::from(width > room.0 - 1e-6);
        }
    }
    assert!(fitting > 150 && wide > 100, "{fitting} fit, {wide} rows are as wide as the field");
}
