//! Hole sets, symmetric by construction.

use crate::layout::Layout;

/// Hole centres on the plate, mm: top row left to right, then downwards.
#[must_use]
pub fn hole_places(layout: &Layout) -> Vec<(f64, f64)> {
    let _ = layout;
    todo!()
}
