//! How the plate is fixed, and to what. A layout in; holes with every figure a
//! drill needs out, in plate and face coordinates. Knows nothing of sheets.

mod drills;
mod faces;
mod fixing;
mod holes;
mod movement;
mod suits;
mod surface;
mod tape;
mod woods;

pub use drills::{Drill, Drills, nearest_drills};
pub use faces::{FaceKind, FaceRow, Suits, face_row};
pub(crate) use fixing::length_name;
pub use fixing::{
    Bore, Bored, Countersink, Depth, Fixing, Front, fixing, gauge_of_smaller_cone, point,
    stocked_lengths, thread_of_smaller_cone,
};
pub use holes::{HoleSet, hole_places, metal_needed};
pub use movement::{KELVIN, Movement, SlotNeeded, movement_at_most, numbered, wood_change};
pub use suits::{Verdict, drivable};
pub use surface::{
    Beside, FacePlan, Laid, Moved, Offered, OldHolePlan, Reused, Reveals, Why, largest_plate,
    largest_reused, least_depth, nearest_place, offered_sizes, old_holes, sized,
};
pub use tape::{Strips, Taped, taped};
pub use woods::{Behind, Coefficient, WoodRow, wood_row};

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
    /// Whether it goes through the plate; a stud's place is on its back alone.
    pub through: bool,
    /// Hole through the plate; of a stud its own diameter.
    pub clearance_diameter: f64,
    /// Head that will cover it; 0 where nothing shows.
    pub head_diameter: f64,
    /// What it is drawn out to, where the wood moves behind it; `None`: round.
    pub slot: Option<Slot>,
    /// Radius that lettering stays out of; under a slot wherever the head comes to stand;
    /// 0 where nothing shows.
    pub clear_zone_radius: f64,
    /// Centre on the face from its left edge, where a face is told.
    pub face: Option<(f64, f64)>,
}

impl Hole {
    fn new(
        (x, y): (f64, f64),
        fixing: &Fixing,
        slot: Option<Slot>,
        white: f64,
        face: Option<(f64, f64)>,
    ) -> Self {
        let through = fixing.through_plate();
        // A stated pin may have a head smaller than its hole.
        let covered = fixing.head_diameter.max(fixing.clearance);
        let mut hole = Self {
            x,
            y,
            through,
            clearance_diameter: if through { fixing.clearance } else { fixing.shank },
            head_diameter: fixing.head_diameter,
            slot,
            clear_zone_radius: if through { covered / 2.0 + white } else { 0.0 },
            face,
        };
        let (across, down) = hole.travel();
        hole.clear_zone_radius += across.max(down);
        hole
    }

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
    /// The set of holes, and why it was chosen where it was left to be chosen.
    pub set: HoleSet,
    /// Holes in a fixed order: top row left to right, then downwards.
    pub holes: Vec<Hole>,
    /// The plate on its face, where a face is told.
    pub face: Option<FacePlan>,
    /// How the wood moves behind the holes, where its grain is told.
    pub movement: Option<Movement>,
}

/// White from lettering to a screw's head where the shop gives none, mm: common
/// practice, no source.
const TEXT_TO_HEAD_MM: f64 = 2.0;

/// The fixing of a layout with its figures.
fn fixing_of(layout: &Layout) -> Option<Fixing> {
    let behind = Behind::of(layout.face.as_ref().map(|face| face.material));
    let asked = layout.mount.fixing.as_ref()?;
    let fixing = fixing(asked, behind, layout.plate.thickness)?;
    let thickness = layout.face.as_ref().and_then(|face| face.thickness);
    Some(match thickness {
        Some(thickness) => fixing.on_face(thickness),
        None => fixing,
    })
}

/// The mount plan of a layout. Holes need a fixing to take their figures from:
/// without one, and with tape, there are none.
#[must_use]
pub fn plan(layout: &Layout) -> MountPlan {
    let face = surface::face_plan(layout);
    let fixing = fixing_of(layout);
    let set = holes::hole_set(layout, fixing.as_ref());
    let mut plan = MountPlan { fixing: None, set, holes: Vec::new(), face, movement: None };
    if let Some(fixing) = fixing {
        let places = holes::places(&layout.plate, &plan.set);
        let movement = movement::movement(layout, &places, &fixing);
        let slots = movement.as_ref().filter(|_| layout.mount.slots);
        let slots = slots.map(|movement| movement.slots.as_slice()).unwrap_or_default();
        let white = layout.shop.text_to_head.unwrap_or(TEXT_TO_HEAD_MM).max(0.0);
        let hole = |(index, (x, y)): (usize, (f64, f64))| {
            let slot = slots.iter().find(|needed| needed.hole == index).map(|needed| needed.slot);
            let face = plan.face.as_ref().map(|face| face.on_face(x, y));
            Hole::new((x, y), &fixing, slot, white, face)
        };
        plan.holes = places.into_iter().enumerate().map(hole).collect();
        plan.movement = movement;
        plan.fixing = Some(fixing);
    }
    plan
}

impl MountPlan {
    /// Clear zones of the holes, in their order; what stays behind the plate has none.
    #[must_use]
    pub fn zones(&self) -> Vec<ClearZone> {
        self.holes
            .iter()
            .enumerate()
            .filter(|(_, hole)| hole.through)
            .map(|(index, hole)| ClearZone {
                shape: ZoneShape::Disc { x: hole.x, y: hole.y, radius: hole.clear_zone_radius },
                kind: ZoneKind::Hole(index),
            })
            .collect()
    }
}
