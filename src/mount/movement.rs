//! How far the wood behind a plate moves across its grain, what the plate does beside
//! it, what the holes take of that, and the slots that would take the rest.
//!
//! - Wood: `ΔD = D · C · (M_F − M_I)`, Wood Handbook (USDA FPL-GTR-190) chapter 13,
//!   equation 13-2, between the outer holes across the grain, over the whole range of
//!   moisture. The handbook refers its coefficients to the width at 10 %.
//! - Plate: its expansion over [`KELVIN`]. Wood follows the damp and metal the warmth,
//!   and a heated room is dry: they may move against each other, so the two are added.
//! - The outer holes share the difference by halves. A fixing of shank `s` in a hole `c`
//!   wide stands up to `(c − s) / 2` off its middle to either side: from one end of its
//!   travel to the other it has `c − s`, the float. Against that stands the travel at a
//!   hole, from its driest to its dampest: half the difference. A countersunk head
//!   centres itself and floats nowhere.
//! - Slots: the holes nearest the middle stay tight; from there the travel at a hole
//!   grows with the way across the grain. A slot is as long as its hole and that travel
//!   together; where the float takes the travel the hole stays round.

use crate::layout::{Grain, GrainWay, Layout, Named, Sawn};
use crate::plate::growth;

use super::{Coefficient, Fixing, Hole, Slot, SlotWay, wood_row};

/// Change of temperature that the plate goes through, K: own assumption, a heated room
/// in winter against a warm one in summer.
pub const KELVIN: f64 = 20.0;
/// Driest and dampest where the layout says nothing, per cent: own assumption, indoors
/// in a temperate climate.
const USUAL_MOISTURE: (f64, f64) = (6.0, 10.0);
/// How far a fixing gives way in the wood before movement matters, mm. Common practice,
/// no source.
const GIVE_MM: f64 = 0.5;
/// Lengths of slots are rounded up to this, mm.
const SLOT_STEP_MM: f64 = 0.1;
/// A head this much too small still covers its slot, mm.
const COVERED_MM: f64 = 1e-6;
/// Places nearer than this lie on one line, mm.
const SAME_MM: f64 = 1e-6;

/// The movement of a wooden face across its grain, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Movement {
    /// The wood, by its word in the layout.
    pub wood: &'static str,
    /// The way the grain runs.
    pub way: GrainWay,
    /// How the board was cut.
    pub sawn: Sawn,
    /// Driest and dampest, per cent.
    pub moisture: (f64, f64),
    /// Whether the layout told them.
    pub moisture_told: bool,
    /// Share of the width for each per cent of moisture.
    pub coefficient: Coefficient,
    /// Between the outer holes across the grain.
    pub span: f64,
    /// How much the wood between them changes from driest to dampest.
    pub wood_change: f64,
    /// How much the plate between them changes over [`KELVIN`]: least and greatest
    /// published for its material.
    pub plate_change: (f64, f64),
    /// The two against each other, at worst.
    pub difference: f64,
    /// Travel at an outer hole: half the difference.
    pub at_outer_hole: f64,
    /// Clearance less shank; `None` under countersunk heads, which centre themselves.
    pub float: Option<f64>,
    /// What a fixing gives before it matters.
    pub give: f64,
    /// The slots that would take it: where the travel is more than the float. Empty
    /// where none is, and under countersunk heads.
    pub slots: Vec<SlotNeeded>,
    /// Indices of the holes that stay tight.
    pub tight: Vec<usize>,
}

/// A slot that a hole would need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlotNeeded {
    /// Index of the hole.
    pub hole: usize,
    /// Travel there, mm.
    pub travel: f64,
    /// The slot.
    pub slot: Slot,
    /// Head that covers it at both ends of the travel, mm.
    pub head_needed: f64,
}

impl Movement {
    /// What is left of the travel at an outer hole beyond its float, mm.
    #[must_use]
    pub fn past_float(&self) -> f64 {
        (self.at_outer_hole - self.float.unwrap_or(0.0)).max(0.0)
    }

    /// Whether that is more than the fixings give.
    #[must_use]
    pub fn matters(&self) -> bool {
        self.past_float() > self.give
    }

    /// The slots that a head of a diameter in mm would leave open at an end of the
    /// travel.
    pub fn uncovered(&self, head: f64) -> impl Iterator<Item = &SlotNeeded> {
        self.slots.iter().filter(move |needed| needed.head_needed > head + COVERED_MM)
    }
}

fn across(way: GrainWay) -> SlotWay {
    match way {
        GrainWay::Vertical => SlotWay::Level,
        GrainWay::Horizontal => SlotWay::Upright,
    }
}

/// How much a width of wood in mm changes as its moisture goes from one content to
/// another, per cent, both from 6 to 14: equation 13-2.
#[must_use]
pub fn wood_change(width: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    width * coefficient * (to - from)
}

/// The movement behind holes at these places of the plate; `None` where no grain is
/// told, and without holes.
pub(super) fn movement(
    layout: &Layout,
    places: &[(f64, f64)],
    fixing: &Fixing,
) -> Option<Movement> {
    moved(layout, layout.face.as_ref()?.grain?, places, fixing)
}

/// The movement that there would be if the grain of a wooden face, which is not told,
/// ran the worse way; flat sawn, in the usual moisture. `None` where it is told, and
/// where nothing moves.
#[must_use]
pub fn movement_at_most(layout: &Layout, holes: &[Hole], fixing: &Fixing) -> Option<Movement> {
    if layout.face.as_ref()?.grain.is_some() {
        return None;
    }
    let places: Vec<(f64, f64)> = holes.iter().map(|hole| (hole.x, hole.y)).collect();
    let ways = [GrainWay::Vertical, GrainWay::Horizontal].into_iter();
    let either = ways.filter_map(|way| {
        moved(layout, Grain { way, sawn: Sawn::Flat, moisture: None }, &places, fixing)
    });
    either.max_by(|a, b| a.difference.total_cmp(&b.difference))
}

fn moved(
    layout: &Layout,
    grain: Grain,
    places: &[(f64, f64)],
    fixing: &Fixing,
) -> Option<Movement> {
    let material = layout.face.as_ref()?.material;
    let coefficient = wood_row(material)?.movement(grain.sawn)?;
    let across = |place: &(f64, f64)| match grain.way {
        GrainWay::Vertical => place.0,
        GrainWay::Horizontal => place.1,
    };
    let at: Vec<f64> = places.iter().map(across).collect();
    let first = at.iter().copied().reduce(f64::min)?;
    let last = at.iter().copied().reduce(f64::max)?;
    let span = last - first;
    let moisture = grain.moisture.unwrap_or(USUAL_MOISTURE);
    let wood_change = wood_change(span, coefficient.share, moisture.0, moisture.1);
    let plate_change = growth(&layout.plate, span, KELVIN);
    let difference = wood_change + plate_change.1;
    let float = fixing.float();
    let tight = tight_line(&at, (first, last));
    let on_tight = |place: f64| (place - tight).abs() <= SAME_MM;
    let share = if span > 0.0 { difference / span } else { 0.0 };
    let slots = float.map_or_else(Vec::new, |float| {
        let travels = at.iter().map(|place| (place - tight).abs() * share).enumerate();
        let needed = travels.filter(|(_, travel)| *travel > float);
        needed.map(|(hole, travel)| slot(hole, travel, fixing.clearance, grain.way)).collect()
    });
    Some(Movement {
        wood: material.word(),
        way: grain.way,
        sawn: grain.sawn,
        moisture,
        moisture_told: grain.moisture.is_some(),
        coefficient,
        span,
        wood_change,
        plate_change,
        difference,
        at_outer_hole: difference / 2.0,
        float,
        give: layout.mount.give.unwrap_or(GIVE_MM),
        slots,
        tight: at.iter().enumerate().filter(|(_, at)| on_tight(**at)).map(|(i, _)| i).collect(),
    })
}

/// The line along the grain whose holes stay tight: that from which the farthest hole
/// is nearest; of two alike the first.
fn tight_line(at: &[f64], (first, last): (f64, f64)) -> f64 {
    let far = |place: f64| (place - first).max(last - place);
    at.iter().copied().fold(first, |best, place| {
        let nearer = far(place) < far(best) - SAME_MM;
        let before = (far(place) - far(best)).abs() <= SAME_MM && place < best;
        if nearer || before { place } else { best }
    })
}

/// Holes by their indices as people count them: `hole 1`, `holes 1, 3 and 4`.
#[must_use]
pub fn numbered(holes: &[usize]) -> String {
    let numbers: Vec<String> = holes.iter().map(|index| (index + 1).to_string()).collect();
    match numbers.as_slice() {
        [] => "none".to_owned(),
        [one] => format!("hole {one}"),
        [most @ .., last] => format!("holes {} and {last}", most.join(", ")),
    }
}

fn slot(hole: usize, travel: f64, clearance: f64, way: GrainWay) -> SlotNeeded {
    let length = ((clearance + travel) / SLOT_STEP_MM - 1e-9).ceil() * SLOT_STEP_MM;
    SlotNeeded {
        hole,
        travel,
        slot: Slot { length, way: across(way) },
        // At one end of the travel, half of `length − clearance` from the middle, the
        // head must reach the other end of the slot, half its length from the middle.
        head_needed: 2.0 * length - clearance,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_handbooks_own_board_grows_as_it_says() {
        // Wood Handbook (GTR-190) p. 13-17: white fir, flat-sawn, 232 mm, three points up
        // to 11 %: +1.7 mm.
        let got = wood_change(232.0, 0.00245, 8.0, 11.0);
        assert!((got - 1.705).abs() < 0.001, "{got}");
        // And back again.
        assert!((wood_change(232.0, 0.00245, 11.0, 8.0) + got).abs() < 1e-12);
    }

    #[test]
    fn the_holes_nearest_the_middle_stay_tight() {
        let tight = |at: &[f64]| {
            let last = at.iter().copied().fold(f64::MIN, f64::max);
            tight_line(at, (at[0], last))
        };
        assert!((tight(&[8.0, 112.0]) - 8.0).abs() < 1e-12);
        assert!((tight(&[8.0, 60.0, 112.0]) - 60.0).abs() < 1e-12);
        assert!((tight(&[0.0, 100.0, 200.0, 300.0]) - 100.0).abs() < 1e-12);
        assert!((tight(&[8.0, 8.0]) - 8.0).abs() < 1e-12);
    }

    #[test]
    fn a_slot_is_as_long_as_hole_and_travel_and_the_head_covers_its_far_end() {
        let needed = slot(1, 1.02, 3.0, GrainWay::Vertical);
        // 4.02, rounded up; the head's centre 0.55 off the middle must reach 2.05 to the
        // other side: a radius of 2.6.
        assert!((needed.slot.length - 4.1).abs() < 1e-9);
        assert!((needed.head_needed - 5.2).abs() < 1e-9);
        assert_eq!(needed.slot.way, SlotWay::Level);
        assert_eq!(slot(1, 1.0, 3.0, GrainWay::Horizontal).slot.way, SlotWay::Upright);
    }
}
