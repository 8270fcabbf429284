//! Problems for unit tests.

use super::problem::{LineProblem, Problem};
use crate::layout::{Align, Breaks, FitMode, Shape};
use crate::lettering::Widths;
use crate::plate::{Field, Outline};

/// Width of the space between two words of [`line`], in cap heights.
pub(super) const SPACE: f64 = 1.0;

/// A line of words of given widths in cap heights, parted by spaces 1 wide; heights
/// from 0.001 to 1000 mm, one cap height of white between its rows, rise 1, depth 0,
/// no `space`.
pub(super) fn line(ratio: f64, words: &[f64]) -> LineProblem {
    let stops = words.len() + 1;
    let mut widths = vec![0.0; stops * (stops - 1) / 2];
    for from in 0..stops {
        for to in from + 1..stops {
            let letters: f64 = words[from..to].iter().sum();
            let spaces = f64::from(u16::try_from(to - from - 1).expect("few words"));
            widths[Widths::slot(stops, from, to)] = letters + SPACE * spaces;
        }
    }
    LineProblem {
        ratio,
        floor: 0.001,
        ceiling: 1000.0,
        wish: None,
        rise: 1.0,
        depth: 0.0,
        leading: 2.0,
        space: 0.0,
        align: Align::Centre,
        breaks: Breaks::Free,
        forced: vec![false; stops].into(),
        costs: vec![0; stops].into(),
        widths: Widths::table(stops, widths),
        drawn: false,
        cut: 0.0,
    }
}

/// A problem at the limit.
pub(super) fn problem(lines: Vec<LineProblem>) -> Problem {
    Problem { lines, mode: FitMode::Even, ease: 1.0 }
}

/// A field without margin, its axis in the middle.
pub(super) fn field(width: f64, height: f64, shape: Shape) -> Field {
    let outline = Outline::new(width, height, &shape);
    Field { outline: Some(outline), zones: Vec::new(), axis_x: width / 2.0 }
}
