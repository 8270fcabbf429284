//! PNG, from the SVG, with the resolution recorded.

use super::WriteError;
use crate::drawing::Drawing;

/// The drawing as PNG at a resolution in dots per inch.
///
/// # Errors
/// A picture of more pixels than the limit.
pub fn png(drawing: &Drawing, dpi: f64) -> Result<Vec<u8>, WriteError> {
    let _ = (drawing, dpi);
    todo!()
}
