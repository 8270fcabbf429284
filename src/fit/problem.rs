//! The fit's own view of a plaque: numbers only, so that a brute force can
//! state the same problem.

use crate::layout::{Align, Breaks};

/// One line as numbers. Heights in mm, widths and whites in cap heights.
#[derive(Debug, Clone, PartialEq)]
pub struct LineProblem {
    /// Relative size `r`.
    pub ratio: f64,
    /// Least cap height.
    pub floor: f64,
    /// Greatest cap height; where below the floor it is used instead of it.
    pub ceiling: f64,
    /// Reading wish, where the line has one.
    pub wish: Option<f64>,
    /// Rise `A`.
    pub rise: f64,
    /// Depth `D`.
    pub depth: f64,
    /// Leading λ.
    pub leading: f64,
    /// White asked above the line.
    pub space: f64,
    /// Alignment.
    pub align: Align,
    /// Whether it may break.
    pub breaks: Breaks,
    /// Number of stops (pieces run between stops).
    pub stops: usize,
    /// Stops at which the user broke the line.
    pub forced: Vec<bool>,
    /// Sense cost at each stop.
    pub costs: Vec<u32>,
    /// Ink widths of pieces, by [`crate::lettering::ShapedLine::slot`].
    pub widths: Vec<f64>,
}

/// The whole problem but for the field.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Lines, top to bottom.
    pub lines: Vec<LineProblem>,
    /// Share of the limit that is used.
    pub ease: f64,
}
