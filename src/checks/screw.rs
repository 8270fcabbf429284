//! The fixing itself: its cone against the plate, its point against the wood.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::mount::Fixing;
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_key};

/// Wood that must stay whole beyond a fixing's point, mm.
const WOOD_BEYOND_MM: f64 = 3.0;
/// Penetration below which a thread or pin holds little, in shank diameters.
const LEAST_HOLD: f64 = 3.0;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let Some(fixing) = facts.mount.fixing.as_ref() else { return Vec::new() };
    if facts.mount.holes.is_empty() {
        return Vec::new();
    }
    [cone(facts, fixing), through_wood(facts, fixing), hold(facts, fixing)]
        .into_iter()
        .flatten()
        .collect()
}

fn cone(facts: &Facts<'_>, fixing: &Fixing) -> Option<Finding> {
    let depth = fixing.cone_depth?;
    let thickness = facts.layout.plate.thickness;
    (depth > thickness + EQUAL_MM).then(|| Finding {
        code: "cone-too-deep",
        severity: Severity::Stop,
        scope: Scope::Mount,
        place: at_key("mount.fixing"),
        message: format!(
            "The cone of the {} is {} mm deep, the plate {} mm thick: the head would stand proud. Take a round head, or a plate of at least {} mm, or relieve the wood behind each hole by {} mm.",
            fixing.name,
            fixed(depth, 2),
            fixed(thickness, 2),
            fixed((depth * 10.0).ceil() / 10.0, 1),
            fixed(depth - thickness, 2)
        ),
        measured: Some(Quantity::mm(depth)),
        required: Some(Quantity::mm(thickness)),
        rule: "a countersunk head's cone is no deeper than the plate is thick".to_owned(),
        source: fixing.source.clone(),
    })
}

fn through_wood(facts: &Facts<'_>, fixing: &Fixing) -> Option<Finding> {
    let behind = facts.layout.face.as_ref()?.thickness?;
    let plate = facts.layout.plate.thickness;
    let penetration = fixing.penetration(plate);
    let most = behind - WOOD_BEYOND_MM;
    let longest = most + (fixing.length - penetration);
    (penetration > most + EQUAL_MM).then(|| Finding {
        code: "screw-through-wood",
        severity: Severity::Stop,
        scope: Scope::Mount,
        place: at_key("mount.fixing"),
        message: format!(
            "The {} goes {} mm into wood that is {} mm thick; it may go {} mm. {}",
            fixing.name,
            fixed(penetration, 2),
            fixed(behind, 2),
            fixed(most.max(0.0), 2),
            if longest > 0.0 {
                format!("A length of up to {} mm would do.", fixed(longest, 1))
            } else {
                "The wood is too thin for any of this kind.".to_owned()
            }
        ),
        measured: Some(Quantity::mm(penetration)),
        required: Some(Quantity::mm(most)),
        rule: "3 mm of wood stay whole beyond the point".to_owned(),
        source: GEOMETRY.to_owned(),
    })
}

fn hold(facts: &Facts<'_>, fixing: &Fixing) -> Option<Finding> {
    let penetration = fixing.penetration(facts.layout.plate.thickness);
    let required = LEAST_HOLD * fixing.shank;
    if penetration >= required - EQUAL_MM {
        return None;
    }
    let none = penetration <= 0.0;
    Some(Finding {
        code: if none { "fixing-too-short" } else { "little-hold" },
        severity: if none { Severity::Stop } else { Severity::Caution },
        scope: Scope::Mount,
        place: at_key("mount.fixing"),
        message: format!(
            "The {} goes {} mm into what is behind the plate; {} mm is the least that holds.",
            fixing.name,
            fixed(penetration.max(0.0), 2),
            fixed(required, 2)
        ),
        measured: Some(Quantity::mm(penetration)),
        required: Some(Quantity::mm(required)),
        rule: "penetration of at least three shank diameters".to_owned(),
        source: if none { GEOMETRY } else { COMMON }.to_owned(),
    })
}
