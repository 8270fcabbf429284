//! The wood behind the plate, as it moves across its grain.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::GrainWay;
use crate::mount::{Fixing, KELVIN, Movement, SlotNeeded, movement_at_most, numbered};
use crate::units::digits::{fixed, trimmed};

use super::{COMMON, Facts, at_key};

/// Below this share of the whole difference a slot's travel counts as halved by a tight
/// hole in the middle; own choice, between the half and the whole.
const HALVED_SHARE: f64 = 0.75;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let Some(fixing) = facts.mount.fixing.as_ref() else { return Vec::new() };
    let Some(movement) = facts.mount.movement.as_ref() else {
        return grain_not_told(facts, fixing).into_iter().collect();
    };
    let asked = facts.layout.mount.slots;
    let mut found = Vec::new();
    if movement.matters() && !(asked && movement.float.is_some()) {
        found.push(too_much(movement, fixing));
    }
    if asked {
        found.extend(not_made(movement, fixing));
        found.extend(shows(movement, fixing));
    }
    found
}

/// The movement is more than the fixings give.
fn too_much(movement: &Movement, fixing: &Fixing) -> Finding {
    let float = movement.float.map_or_else(
        || fixing.still().to_owned(),
        |float| format!("its float takes {}", mm(float)),
    );
    Finding {
        code: "wood-movement",
        severity: Severity::Caution,
        scope: Scope::Mount,
        place: at_key("mount.holes"),
        message: format!(
            "{} moves about {} across the grain over the {} between the outer holes ({} % to {} % moisture), the plate {} over {} K. Each outer hole takes half of both, {}; {float}, and a fixing gives {}. {}",
            capital(movement.wood),
            mm(movement.wood_change),
            mm(movement.span),
            trimmed(movement.moisture.0, 1),
            trimmed(movement.moisture.1, 1),
            mm(movement.plate_change.1),
            trimmed(KELVIN, 0),
            mm(movement.at_outer_hole),
            mm(movement.give),
            advice(movement, fixing)
        ),
        measured: Some(Quantity::mm(movement.past_float())),
        required: Some(Quantity::mm(movement.give)),
        rule: "movement at an outer hole beyond its float is no more than the fixing gives"
            .to_owned(),
        source: format!("{}; what a fixing gives: {COMMON}", movement.coefficient.source),
    }
}

/// What to do about it, in words.
fn advice(movement: &Movement, fixing: &Fixing) -> String {
    let Some(worst) = longest(movement) else {
        return match unslotted(fixing) {
            Some(why) => why.to_owned(),
            None => {
                "Take round or pan heads, whose holes can be slotted across the grain.".to_owned()
            }
        };
    };
    if movement.uncovered(fixing.head_diameter).next().is_none() {
        return format!(
            "Slot the holes across the grain, {} left tight: up to {} long (slots = \"across the grain\").",
            tight(movement),
            mm(worst.slot.length)
        );
    }
    format!(
        "Slots across the grain, {} left tight, would have to be up to {} long, and a head of {} does not cover that as the wood moves: take a head or washer of {}, {}.",
        tight(movement),
        mm(worst.slot.length),
        mm(fixing.head_diameter),
        mm(worst.head_needed),
        otherwise(movement)
    )
}

/// What is left to do for fixings that no other head lets slide: studs and standoffs.
fn unslotted(fixing: &Fixing) -> Option<&'static str> {
    fixing.countersink.is_none().then_some(
        "Set the holes nearer together across the grain, or stick the plate on with tape, which \
         gives.",
    )
}

/// What else shortens the slots.
fn otherwise(movement: &Movement) -> &'static str {
    let halved =
        longest(movement).is_some_and(|worst| worst.travel < HALVED_SHARE * movement.difference);
    if halved {
        "or set the holes nearer together across the grain"
    } else {
        "set the holes nearer together across the grain, or one more in the middle, which stays tight"
    }
}

fn longest(movement: &Movement) -> Option<&SlotNeeded> {
    movement.slots.iter().max_by(|a, b| a.travel.total_cmp(&b.travel))
}

/// The holes that stay tight: `hole 1`, `holes 1 and 3`.
fn tight(movement: &Movement) -> String {
    numbered(&movement.tight)
}

/// Slots under fixings that cannot slide.
fn not_made(movement: &Movement, fixing: &Fixing) -> Option<Finding> {
    movement.float.is_none().then(|| Finding {
        code: "slots-not-made",
        severity: Severity::Caution,
        scope: Scope::Mount,
        place: at_key("mount.slots"),
        message: format!(
            "No slots are made for the {}: {}. {}",
            fixing.name,
            fixing.still(),
            unslotted(fixing).unwrap_or("Take a round or pan head.")
        ),
        measured: None,
        required: None,
        rule: "slots go under heads that can slide".to_owned(),
        source: COMMON.to_owned(),
    })
}

/// Slots that their heads leave open at an end of the travel.
fn shows(movement: &Movement, fixing: &Fixing) -> Option<Finding> {
    let open: Vec<&SlotNeeded> = movement.uncovered(fixing.head_diameter).collect();
    let worst = open.iter().max_by(|a, b| a.head_needed.total_cmp(&b.head_needed))?;
    let holes: Vec<usize> = open.iter().map(|needed| needed.hole).collect();
    Some(Finding {
        code: "slot-not-covered",
        severity: Severity::Caution,
        scope: Scope::Mount,
        place: at_key("mount.slots"),
        message: format!(
            "The slot of {} is up to {} long; at an end of its travel a head of {} leaves it open. Take a head or washer of {}, {}.",
            numbered(&holes),
            mm(worst.slot.length),
            mm(fixing.head_diameter),
            mm(worst.head_needed),
            otherwise(movement)
        ),
        measured: Some(Quantity::mm(fixing.head_diameter)),
        required: Some(Quantity::mm(worst.head_needed)),
        rule: "a head covers its slot at both ends of the travel".to_owned(),
        source: super::GEOMETRY.to_owned(),
    })
}

/// A face of wood whose grain is not told, where it could matter.
fn grain_not_told(facts: &Facts<'_>, fixing: &Fixing) -> Option<Finding> {
    let worst = movement_at_most(facts.layout, &facts.mount.holes, fixing)?;
    worst.matters().then(|| Finding {
        code: "grain-not-told",
        severity: Severity::Note,
        scope: Scope::Mount,
        place: at_key("face"),
        message: format!(
            "Which way the grain runs is not told: were it {}, {} would move about {} between the outer holes, more than the fixings take. Write grain = \"vertical\" or \"horizontal\" in [face].",
            match worst.way {
                GrainWay::Vertical => "vertical",
                GrainWay::Horizontal => "horizontal",
            },
            worst.wood,
            mm(worst.wood_change)
        ),
        measured: Some(Quantity::mm(worst.past_float())),
        required: Some(Quantity::mm(worst.give)),
        rule: "the grain is told where the wood's movement could matter".to_owned(),
        source: worst.coefficient.source.clone(),
    })
}

/// Movements are known to a tenth of a millimetre at best.
fn mm(value: f64) -> String {
    format!("{} mm", fixed(value, 1))
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
