//! The exact limit in a rectangle.
//!
//! A line's fewest pieces never fall as the scale rises, the white between rows
//! and so the block's height never fall either: the feasible scales are one
//! interval that ends at the limit. Halving finds that end to the last digits of
//! the number, whatever kind of event it is: a piece as wide as the field, a block
//! as high as the field, a jump where a row is added, or the end of the domain.

use super::heights::Steps;
use super::pieces::{ALLOWED, Pieces};
use super::problem::{LineProblem, Problem};
use crate::layout::Align;

/// Halvings: enough to come from the whole domain to neighbouring numbers.
const HALVINGS: usize = 64;

/// A rectangle as rows see it, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rectangle {
    /// Width for centred rows: twice the nearer distance from the axis to a side.
    pub(super) centred: f64,
    /// Width for rows against a side.
    pub(super) full: f64,
    /// Height.
    pub(super) height: f64,
}

impl Rectangle {
    /// From left, top, right, bottom and the axis of centred rows.
    pub(super) fn new([left, top, right, bottom]: [f64; 4], axis: f64) -> Self {
        let centred = 2.0 * (axis - left).min(right - axis).max(0.0);
        Self { centred, full: right - left, height: bottom - top }
    }

    /// Width for the rows of a line.
    pub(super) fn width(&self, line: &LineProblem) -> f64 {
        match line.align {
            Align::Centre => self.centred,
            Align::Left | Align::Right => self.full,
        }
    }
}

/// Fewest rows of each line at given cap heights; `None` where a piece is too wide
/// however the line breaks.
pub(super) fn fewest_rows(
    problem: &Problem,
    pieces: &[Pieces],
    room: &Rectangle,
    heights: &[f64],
) -> Option<Vec<usize>> {
    let lines = problem.lines.iter().zip(pieces).zip(heights);
    lines
        .map(|((line, pieces), &height)| pieces.fewest(limit_in_caps(room.width(line), height)))
        .collect()
}

/// A width in mm as a limit for pieces in cap heights.
pub(super) fn limit_in_caps(width: f64, height: f64) -> f64 {
    if height > 0.0 { (width + ALLOWED) / height } else { f64::INFINITY }
}

/// Whether some permitted breaking stands in the rectangle at a scale.
fn fits(problem: &Problem, pieces: &[Pieces], room: &Rectangle, scale: f64) -> bool {
    let heights = problem.heights(scale);
    fewest_rows(problem, pieces, room, &heights).is_some_and(|counts| {
        Steps::new(problem, heights, 0.0).block(&counts) <= room.height + ALLOWED
    })
}

/// The limit: the supremum of the feasible scales; `None` where nothing fits at the floors.
pub(super) fn limit(problem: &Problem, pieces: &[Pieces], room: &Rectangle) -> Option<f64> {
    let (mut low, mut high) = (0.0, problem.domain_end());
    if fits(problem, pieces, room, high) {
        return Some(high);
    }
    if !fits(problem, pieces, room, low) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = low + (high - low) / 2.0;
        if middle <= low || middle >= high {
            break;
        }
        if fits(problem, pieces, room, middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

#[cfg(test)]
mod tests {
    use super::{Rectangle, limit};
    use crate::fit::pieces::pieces;
    use crate::fit::problem::LineProblem;
    use crate::fit::testing::{line, problem};

    fn limit_of(lines: Vec<LineProblem>, width: f64, height: f64) -> Option<f64> {
        let problem = problem(lines);
        let room = Rectangle { centred: width, full: width, height };
        limit(&problem, &pieces(&problem, |line, _| room.width(line)), &room)
    }

    fn near(found: Option<f64>, expected: f64) {
        let found = found.expect("fits");
        assert!((found - expected).abs() < 1e-8, "{found} is not {expected}");
    }

    #[test]
    fn one_word_is_as_high_as_width_or_height_allow() {
        near(limit_of(vec![line(1.0, &[10.0])], 50.0, 30.0), 5.0);
        near(limit_of(vec![line(1.0, &[10.0])], 50.0, 4.0), 4.0);
        near(limit_of(vec![line(2.0, &[10.0])], 50.0, 30.0), 2.5);
    }

    #[test]
    fn breaking_pays_where_height_is_to_spare() {
        // Two words of 10: in one row 21·h ≤ 42, h = 2; in two rows 10·h ≤ 42 and
        // 3·h ≤ 9 (one cap height of white): h = 3.
        near(limit_of(vec![line(1.0, &[10.0, 10.0])], 42.0, 9.0), 3.0);
        // In 5.4 mm two rows would be 1.8 high: one row of 2 is better.
        near(limit_of(vec![line(1.0, &[10.0, 10.0])], 42.0, 5.4), 2.0);
    }

    #[test]
    fn hierarchy_bends_before_legibility() {
        // Ratios 2 and 1, the smaller with a floor of 2: widths 10·2s ≤ 60 would allow
        // s = 3; heights 2s + mean + s … with s < 2 the small line stays at 2:
        // 2s + (2s + 2)/2 + 2 = 9 gives s = 2: from there on 4.5s = 9, s = 2 too.
        let mut small = line(1.0, &[10.0]);
        small.floor = 2.0;
        near(limit_of(vec![line(2.0, &[10.0]), small.clone()], 60.0, 9.0), 2.0);
        // 8 mm: 3s + 3 = 8, s = 5/3: the large line 3.33, the small one still 2.
        near(limit_of(vec![line(2.0, &[10.0]), small], 60.0, 8.0), 5.0 / 3.0);
    }

    #[test]
    fn above_the_ceilings_nothing_changes_and_below_the_floors_nothing_fits() {
        let mut short = line(2.0, &[1.0]);
        short.ceiling = 5.0;
        near(limit_of(vec![short.clone()], 100.0, 100.0), 2.5);
        short.floor = 4.0;
        assert_eq!(limit_of(vec![short.clone()], 3.9, 100.0), None);
        // A ceiling below the floor is used.
        short.ceiling = 3.0;
        near(limit_of(vec![short], 3.9, 100.0), 1.5);
    }
}
