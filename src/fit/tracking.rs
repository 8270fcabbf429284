//! White between capitals, after the fit: it only opens, and only what width is spare.

use crate::layout::{Align, Layout};
use crate::lettering::ShapedLine;
use crate::plate::Field;

use super::plan::{Plan, PlannedRow};
use super::problem::{LineProblem, Problem};

/// Share of a row's spare width that tracking takes at most, so that the row does not
/// touch the margins again. Common practice, no source.
const SHARE: f64 = 0.5;

/// White that is added between neighbours in each line, in cap heights: as much as the
/// line allows, but in no row more than half of its spare width. A line has the same in
/// all its rows. 0 where none is asked for, or the letters do not stand apart.
pub(super) fn whites(
    layout: &Layout,
    lines: &[ShapedLine],
    problem: &Problem,
    plan: &Plan,
    field: &Field,
) -> Vec<f64> {
    let asked = layout.lines.iter().zip(lines).enumerate();
    let white = |(at, (line, shaped)): (usize, (&crate::layout::Line, &ShapedLine))| {
        let Some(most) = line.setting.tracking.filter(|_| shaped.opens()) else { return 0.0 };
        let rows = plan.rows.iter().filter(|row| row.line == at);
        rows.filter_map(|row| spare(row, shaped, &problem.lines[at], field))
            .fold(most, f64::min)
            .max(0.0)
    };
    asked.map(white).collect()
}

/// How much white a row could have between neighbours, cap heights; `None` where it has
/// none.
fn spare(row: &PlannedRow, line: &ShapedLine, asked: &LineProblem, field: &Field) -> Option<f64> {
    let stop = |at: usize| line.stops.get(at).copied().unwrap_or(0);
    let range = stop(row.from)..stop(row.to);
    let piece = line.piece(range.clone());
    let gaps = line.gaps_before(range, &piece.glyphs);
    let gaps = gaps.last().copied().filter(|gaps| *gaps > 0)?;
    let usable = match asked.align {
        Align::Left | Align::Right => row.stretch.right - row.stretch.left,
        Align::Centre => {
            2.0 * (field.axis_x - row.stretch.left).min(row.stretch.right - field.axis_x)
        }
    };
    let width = (piece.ink_right_em - piece.ink_left_em) / line.face.cap_em();
    Some((usable - asked.wide(width, row.height)) / row.height * SHARE / f64::from(gaps))
}
