//! SVG: mm on the root, a viewBox in mm, every glyph an outline.

use super::WriteError;
use crate::drawing::Drawing;

/// The drawing as SVG. Several pages stand one beneath the other.
///
/// # Errors
/// A length that is not a number or out of all proportion.
pub fn svg(drawing: &Drawing) -> Result<String, WriteError> {
    let _ = drawing;
    todo!()
}
