//! PDF with exact page sizes, vector outlines and real text.

use super::WriteError;
use crate::drawing::Drawing;

/// The drawing as PDF.
///
/// # Errors
/// A font that cannot be embedded.
pub fn pdf(drawing: &Drawing) -> Result<Vec<u8>, WriteError> {
    let _ = drawing;
    todo!()
}
