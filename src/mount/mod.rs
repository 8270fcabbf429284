//! How the plate is fixed, and to what. A layout in; holes with every figure a
//! drill needs out, in plate and face coordinates. Knows nothing of sheets.

mod drills;
mod faces;
mod fixings;
mod holes;
mod surface;
mod woods;

pub use drills::{Drill, nearest_drill};
pub use faces::{FaceKind, FaceRow, Suits, face_row};
pub use fixings::{Fixing, fixing};
pub use holes::hole_places;
pub use surface::{FacePlan, Laid};
pub use woods::{Coefficient, WoodRow, wood_row};

use crate::layout::Layout;
use crate::plate::{ClearZone, ZoneKind, ZoneShape};

/// The way in which a slot runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlotWay {
    /// From left to right.
    Level,
    /// Up and down.
    Upright,
}

/// A hole drawn out, round at both ends, its middle at the hole's centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slot {
    /// From end to end, mm: more than the hole's diameter, which is its width.
    pub length: f64,
    /// The way in which it runs.
    pub way: SlotWay,
}

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
    /// What it is drawn out to, where the wood moves behind it; `None`: round.
    pub slot: Option<Slot>,
    /// Radius that lettering stays out of; under a slot wherever the head comes to stand.
    pub clear_zone_radius: f64,
    /// Centre on the face from its left edge, where a face is told.
    pub face: Option<(f64, f64)>,
}

impl Hole {
    /// How far the ends of a slot lie from its middle, mm across and down, measured
    /// between the centres of the round ends; nothing for a round hole. As far a
    /// fixing can travel in it from the middle, its float apart.
    #[must_use]
    pub fn travel(&self) -> (f64, f64) {
        let Some(slot) = self.slot else { return (0.0, 0.0) };
        let half = ((slot.length - self.clearance_diameter) / 2.0).max(0.0);
        match slot.way {
            SlotWay::Level => (half, 0.0),
            SlotWay::Upright => (0.0, half),
        }
    }
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

/// White from lettering to a screw's head where the shop gives none, mm: common
/// practice, no source.
const TEXT_TO_HEAD_MM: f64 = 2.0;

/// The mount plan of a layout. Holes need a fixing to take their figures from:
/// without one, and with tape, there are none.
#[must_use]
pub fn plan(layout: &Layout) -> MountPlan {
    let wood = layout.face.as_ref().and_then(|face| wood_row(face.material));
    let face = surface::face_plan(layout);
    let fixing =
        layout.mount.fixing.as_ref().and_then(|asked| fixing(asked, wood, layout.plate.thickness));
    let white = layout.shop.text_to_head.unwrap_or(TEXT_TO_HEAD_MM).max(0.0);
    let holes = fixing.as_ref().map_or_else(Vec::new, |fixing| {
        // A stated pin may have a head smaller than its hole.
        let covered = fixing.head_diameter.max(fixing.clearance);
        hole_places(layout)
            .into_iter()
            .map(|(x, y)| Hole {
                x,
                y,
                clearance_diameter: fixing.clearance,
                head_diameter: fixing.head_diameter,
                slot: None,
                clear_zone_radius: covered / 2.0 + white,
                face: face.as_ref().map(|face| face.on_face(x, y)),
            })
            .collect()
    });
    MountPlan { fixing, holes, face }
}

impl MountPlan {
    /// Clear zones of the holes, in their order.
    #[must_use]
    pub fn zones(&self) -> Vec<ClearZone> {
        self.holes
            .iter()
            .enumerate()
            .map(|(index, hole)| ClearZone {
                shape: ZoneShape::Disc { x: hole.x, y: hole.y, radius: hole.clear_zone_radius },
                kind: ZoneKind::Hole(index),
            })
            .collect()
    }
}
