//! How the plate is fixed, and to what. A layout in; holes with every figure a
//! drill needs out, in plate and face coordinates. Knows nothing of sheets.

mod drills;
mod fixings;
mod holes;
mod surface;
mod woods;

pub use drills::{Drill, nearest_drill};
pub use fixings::{Fixing, fixing};
pub use holes::hole_places;
pub use surface::FacePlan;
pub use woods::{WoodRow, wood_row};

use crate::layout::Layout;
use crate::plate::ClearZone;

/// One hole with all its figures, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Centre on the plate, from its left edge.
    pub x: f64,
    /// Centre on the plate, from its top edge.
    pub y: f64,
    /// Hole through the plate.
    pub clearance_diameter: f64,
    /// Head that will cover it.
    pub head_diameter: f64,
    /// Radius that lettering stays out of.
    pub clear_zone_radius: f64,
    /// Centre on the face from its left edge, where a face is told.
    pub face: Option<(f64, f64)>,
}

/// The whole mount.
#[derive(Debug, Clone, PartialEq)]
pub struct MountPlan {
    /// The fixing with its figures; `None` for tape or nothing.
    pub fixing: Option<Fixing>,
    /// Holes in a fixed order: top row left to right, then downwards.
    pub holes: Vec<Hole>,
    /// The plate on its face, where a face is told.
    pub face: Option<FacePlan>,
}

/// The mount plan of a layout.
#[must_use]
pub fn plan(layout: &Layout) -> MountPlan {
    let _ = layout;
    todo!()
}

impl MountPlan {
    /// Clear zones of the holes, in their order.
    #[must_use]
    pub fn zones(&self) -> Vec<ClearZone> {
        todo!()
    }
}
