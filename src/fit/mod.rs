//! Breaking, sizing and placing: pure arithmetic on shaped lines, break marks,
//! floors and a field. Knows nothing of files, fonts' insides or drawing.
//!
//! One scale `s` serves all lines: a line of ratio `r` has the cap height
//! `clamp(r·s, floor, ceiling)`. A scale is feasible if some permitted breaking and
//! some place of the block put every row's box (its line's greatest rise and depth)
//! inside the field on its axis. The limit is the supremum of the feasible scales:
//! exact in a rectangle, bracketed elsewhere. In mode `full` a line has the height
//! `clamp(min(s, W/w), floor, ceiling)` with `w` its widest piece by the user's own breaks,
//! and none is taller than one with a greater ratio. The plate is set at a share of it
//! (`ease`), with fewest rows, then least sense cost, then least raggedness
//! `Σ((W−w)/W)²` rounded to 1/1000, then later breaks. Half of the spare height at
//! most goes into the gaps; the block stands in the middle, its rows centred by ink, of
//! which closing stops, commas and quotes count half. A hyphen that divides a word counts
//! whole: it is as wide and as dark as one that belongs to a word, and a row that ends with
//! either is to stand alike. Last of all, capitals that ask for it are opened by the width
//! that is still spare.

mod bracket;
mod choose;
mod exact;
mod fewest;
mod fitted;
mod full;
mod heights;
mod lists;
mod misfit;
mod pieces;
mod place;
mod plan;
mod problem;
mod settle;
mod stack;
#[cfg(test)]
mod testing;
mod tracking;

pub use fitted::{Fitted, FittedLine, PlacedGlyph, Row};
pub use plan::{Plan, PlannedRow, plan};
pub use problem::{LineProblem, Problem, problem};

use crate::floors::Floor;
use crate::layout::Layout;
use crate::lettering::ShapedLine;
use crate::plate::Field;
use crate::wording::Marks;

/// Every glyph placed. The lists run along the layout's lines.
///
/// What does not fit at its floors is set below them, all lines by one share `phi`;
/// an empty field, or one without room even then, gives a result without rows.
#[must_use]
pub fn fitted(
    layout: &Layout,
    lines: &[ShapedLine],
    marks: &[Marks],
    floors: &[Floor],
    field: &Field,
) -> Fitted {
    let problem = problem(layout, lines, marks, floors, field);
    let plan = plan(&problem, field);
    set(layout, lines, floors, field, &problem, &plan)
}

/// The same, if every line keeps its floor: quicker to tell where one does not.
#[must_use]
pub fn fitted_if_kept(
    layout: &Layout,
    lines: &[ShapedLine],
    marks: &[Marks],
    floors: &[Floor],
    field: &Field,
) -> Option<Fitted> {
    let problem = problem(layout, lines, marks, floors, field);
    let plan = plan::plan_that_keeps(&problem, field)?;
    Some(set(layout, lines, floors, field, &problem, &plan))
}

/// The glyphs of a plan.
fn set(
    layout: &Layout,
    lines: &[ShapedLine],
    floors: &[Floor],
    field: &Field,
    problem: &Problem,
    plan: &Plan,
) -> Fitted {
    let whites = tracking::whites(layout, lines, problem, plan, field);
    let rows = plan.rows.iter().map(|row| Row {
        drawn: layout.lines[row.line].ornament.as_ref().map(|drawn| drawn.told().to_owned()),
        ..place::placed(row, &lines[row.line], whites[row.line], problem, field)
    });
    let told = (problem.lines.iter().zip(lines).zip(floors.iter().zip(&whites)).enumerate()).map(
        |(at, ((line, shaped), (floor, white)))| FittedLine {
            tracking: *white,
            ..fitted::line(plan, at, line, shaped, floor)
        },
    );
    Fitted {
        mode: layout.fit.mode,
        ease: problem.ease,
        limit_scale: plan.low,
        scale_low: plan.low.unwrap_or(0.0),
        scale_high: plan.high.unwrap_or(0.0),
        scale: plan.scale,
        phi: plan.phi,
        lines: told.collect(),
        rows: rows.collect(),
    }
}
