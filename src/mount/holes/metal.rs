//! How much metal a hole and its head need round them.

use crate::layout::Plate;

use super::super::Fixing;

/// Hole centre to the plate's edge, in hole diameters. Common practice, no source.
pub(super) const CENTRE_TO_EDGE: f64 = 2.0;
/// Metal left round a countersunk head, mm. Common practice, no source.
const ROUND_COUNTERSINK_MM: f64 = 1.5;

/// Least way from a hole's centre to the plate's edge, mm: two hole diameters; one
/// plate thickness of metal outside the head, round a countersink at least 1.5 mm; and
/// the head off the bevel, which takes metal from under it. Common practice, no source.
#[must_use]
pub fn metal_needed(fixing: &Fixing, plate: &Plate) -> f64 {
    let head = fixing.head_diameter / 2.0;
    let outside = if fixing.countersink.is_some() {
        ROUND_COUNTERSINK_MM.max(plate.thickness)
    } else {
        plate.thickness
    };
    (CENTRE_TO_EDGE * fixing.clearance).max(head + outside).max(plate.bevel + head)
}
