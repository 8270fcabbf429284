//! What becomes of the holes that are already in the face.

use crate::layout::{Layout, OldHole};
use crate::mount::{Bore, Bored, Fixing, MountPlan};
use crate::plate::outline;

use super::FacePlan;

/// Least wood between an old hole and a new bore, in bores and in mm: with less, the
/// drill runs off into the old hole. Common practice, no source.
const WOOD_BORES: f64 = 1.0;
const WOOD_MM: f64 = 1.5;

/// An old hole that a new one falls on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reused {
    /// Index of the new hole in the plan.
    pub hole: usize,
    /// From centre to centre, mm.
    pub off: f64,
}

/// A new bore beside an old hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// Index of the new hole in the plan.
    pub hole: usize,
    /// Wood between the two, mm; below 0 where they run into each other.
    pub wood: f64,
    /// Least that keeps the drill in its place, mm.
    pub needed: f64,
}

/// An old hole and what becomes of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OldHolePlan {
    /// Centre on the face, mm across.
    pub x: f64,
    /// Centre on the face, mm down.
    pub y: f64,
    /// Diameter, mm.
    pub diameter: f64,
    /// Whether it is filled with a glued plug of wood.
    pub plugged: bool,
    /// How far the plate reaches past its rim where it reaches least, mm; below 0: how
    /// far it shows.
    pub cover: f64,
    /// The new hole that falls on it.
    pub reused: Option<Reused>,
    /// The new bore that stands too near, the nearest of several.
    pub beside: Option<Beside>,
}

/// Wood that has to stay between an old hole and a new bore of a diameter, mm.
fn wood_needed(bore: f64) -> f64 {
    (WOOD_BORES * bore).max(WOOD_MM)
}

/// The widest bore that a fixing asks of the face, mm; `None` where it asks none.
fn widest(fixing: &Fixing) -> Option<f64> {
    fixing.bores.iter().map(|bore| bore.diameter).reduce(f64::max)
}

/// The largest old hole in which a fixing still holds, mm: a screw's thread as far as its
/// root, all else as far as the bore that was to be drilled for it; and the diameter at
/// which nothing is left to hold: what is driven, or screwed into a thread cut for it,
/// is lost in a hole as wide as itself. `None` where nothing is bored.
#[must_use]
pub fn largest_reused(fixing: &Fixing) -> Option<(f64, f64)> {
    let holding = fixing.bores.iter().filter(|bore| bore.what != Bored::Shank);
    let bore = holding.map(|bore| bore.diameter).reduce(f64::min)?;
    let screwed = fixing.root < fixing.shank;
    let driven = |bore: &Bore| matches!(bore.what, Bored::Pilot | Bored::Tap);
    let driven = fixing.bores.iter().any(driven);
    let least = if driven && screwed { bore.max(fixing.root) } else { bore };
    Some((least, if driven { fixing.shank } else { f64::INFINITY }))
}

/// Where an old hole is on the face.
pub(super) fn on_face(plan: &FacePlan, old: &OldHole) -> (f64, f64) {
    // Where the plate is set by a mark they count from the mark.
    let (left, top) = plan.mark.unwrap_or((0.0, 0.0));
    (left + old.x, top + old.y)
}

/// What becomes of each old hole, in the layout's order.
#[must_use]
pub fn old_holes(layout: &Layout, plan: &MountPlan) -> Vec<OldHolePlan> {
    let Some((face, old)) =
        plan.face.as_ref().and_then(|face| Some((face, face.face.old.as_ref()?)))
    else {
        return Vec::new();
    };
    let edge = outline(&layout.plate);
    let bore = plan.fixing.as_ref().and_then(widest);
    let found = old.holes.iter().map(|hole| {
        let (x, y) = on_face(face, hole);
        let mut becomes = OldHolePlan {
            x,
            y,
            diameter: hole.diameter,
            plugged: hole.plugged,
            cover: edge.depth_of(x - face.plate_x, y - face.plate_y) - hole.diameter / 2.0,
            reused: None,
            beside: None,
        };
        let Some(bore) = bore else { return becomes };
        for (index, new) in plan.holes.iter().enumerate() {
            let Some(at) = new.face else { continue };
            match meeting((x, y), hole, at, bore, old.same) {
                Meeting::Same(off) => {
                    if becomes.reused.is_none_or(|known| off < known.off) {
                        becomes.reused = Some(Reused { hole: index, off });
                    }
                }
                Meeting::Beside(wood) => {
                    if becomes.beside.is_none_or(|known| wood < known.wood) {
                        let needed = wood_needed(bore);
                        becomes.beside = Some(Beside { hole: index, wood, needed });
                    }
                }
                Meeting::Apart => {}
            }
        }
        becomes
    });
    found.collect()
}

/// How an old hole and a new bore stand to each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Meeting {
    /// One hole: from centre to centre, mm.
    Same(f64),
    /// Too near: the wood between them, mm.
    Beside(f64),
    /// Far enough apart.
    Apart,
}

/// How an old hole at a point of the face and a new bore at another stand to each other.
pub(super) fn meeting(
    at: (f64, f64),
    old: &OldHole,
    new: (f64, f64),
    bore: f64,
    same: f64,
) -> Meeting {
    let far = libm::hypot(at.0 - new.0, at.1 - new.1);
    if far <= same + 1e-9 {
        return Meeting::Same(far);
    }
    let wood = far - (old.diameter + bore) / 2.0;
    if wood < wood_needed(bore) - 1e-9 { Meeting::Beside(wood) } else { Meeting::Apart }
}

/// Whether every new bore keeps its distance from every old hole that is not plugged, or
/// falls on one in which its fixing holds, when the plate stands moved by so much.
pub(super) fn all_clear(plan: &MountPlan, (dx, dy): (f64, f64)) -> bool {
    let Some((face, old)) =
        plan.face.as_ref().and_then(|face| Some((face, face.face.old.as_ref()?)))
    else {
        return true;
    };
    let Some(fixing) = &plan.fixing else { return true };
    let Some((bore, (most, _))) = widest(fixing).zip(largest_reused(fixing)) else { return true };
    let open = || old.holes.iter().filter(|hole| !hole.plugged);
    plan.holes.iter().filter_map(|hole| hole.face).all(|(x, y)| {
        open().all(|hole| {
            match meeting(on_face(face, hole), hole, (x + dx, y + dy), bore, old.same) {
                Meeting::Apart => true,
                Meeting::Same(_) => hole.diameter <= most + 1e-9,
                Meeting::Beside(_) => false,
            }
        })
    })
}
