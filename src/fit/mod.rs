//! Breaking, sizing and placing: pure arithmetic on shaped lines, break marks,
//! floors and a field. Knows nothing of files, fonts' insides or drawing.

mod bracket;
mod choose;
mod exact;
mod fitted;
mod heights;
mod misfit;
mod pieces;
mod problem;
mod settle;

pub use fitted::{Fitted, FittedLine, PlacedGlyph, Row};
pub use problem::{LineProblem, Problem};

use crate::floors::Floor;
use crate::layout::Layout;
use crate::lettering::ShapedLine;
use crate::plate::Field;
use crate::wording::Marks;

/// Every glyph placed.
#[must_use]
pub fn fitted(
    layout: &Layout,
    lines: &[ShapedLine],
    marks: &[Marks],
    floors: &[Floor],
    field: &Field,
) -> Fitted {
    let _ = (layout, lines, marks, floors, field);
    todo!()
}
