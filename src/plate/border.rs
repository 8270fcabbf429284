//! Border lines and what they do at holes.

use kurbo::BezPath;

use crate::layout::Plate;

use super::ClearZone;

/// Centre lines of the border's strokes (each drawn at the border's weight), mm
/// in plate coordinates; outer line first. Empty without a border.
#[must_use]
pub fn border_paths(plate: &Plate, zones: &[ClearZone]) -> Vec<BezPath> {
    let _ = (plate, zones);
    todo!()
}
