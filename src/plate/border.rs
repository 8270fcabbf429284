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

/// Zones in which a border turns in round a hole; empty unless it does.
#[must_use]
pub fn border_zones(plate: &Plate, zones: &[ClearZone]) -> Vec<ClearZone> {
    let _ = (plate, zones);
    todo!()
}

/// From the bevel's inner edge to the inner edge of the innermost border line,
/// mm; `None` without a border.
#[must_use]
pub fn border_inner_edge(plate: &Plate) -> Option<f64> {
    let _ = plate;
    todo!()
}
