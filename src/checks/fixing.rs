//! The fixing against plate and face: its cone, what it is driven into, its tape.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::layout::{FixingAsked, Named};
use crate::mount::{
    Fixing, Verdict, drivable, face_row, gauge_of_smaller_cone, taped, thread_of_smaller_cone,
};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_key, depth};

/// Source of what a material allows.
const MATERIAL: &str = "how the material behaves";

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = [suited(facts), tape(facts)].into_iter().flatten().collect();
    if let Some(fixing) = facts.mount.fixing.as_ref().filter(|_| !facts.mount.holes.is_empty()) {
        found.extend(cone(facts, fixing));
        found.extend(depth::findings(facts, fixing));
    }
    found
}

fn cone(facts: &Facts<'_>, fixing: &Fixing) -> Option<Finding> {
    let depth = fixing.countersink?.depth;
    let thickness = facts.layout.plate.thickness;
    (depth > thickness + EQUAL_MM).then(|| {
        let mut cures = vec![
            format!("a plate of at least {} mm", fixed((depth * 10.0 - 1e-9).ceil() / 10.0, 1)),
        ];
        match facts.layout.mount.fixing {
            Some(FixingAsked::WoodScrew { gauge, .. }) => {
                cures.push("a round head of the same size".to_owned());
                let smaller = gauge_of_smaller_cone(gauge, thickness);
                cures.extend(smaller.map(|gauge| format!("a No. {gauge} screw, whose cone fits")));
            }
            Some(FixingAsked::MachineScrew { thread, .. }) => {
                cures.push("a pan head of the same size".to_owned());
                let smaller = thread_of_smaller_cone(thread, thickness);
                let smaller = smaller.map(Named::word);
                cures.extend(smaller.map(|thread| format!("an {thread} screw, whose cone fits")));
            }
            _ => {}
        }
        Finding {
            code: "cone-too-deep",
            severity: Severity::Stop,
            scope: Scope::Mount,
            place: at_key("mount.fixing"),
            message: format!(
                "The cone of the {} is {} mm deep, the plate {} mm thick: the head would stand proud. Take {}; or relieve the {} behind each hole by {} mm.",
                fixing.name,
                fixed(depth, 2),
                fixed(thickness, 2),
                cures.join(", or "),
                facts.layout.face.as_ref().map_or("face", |face| face_row(face.material).kind.noun()),
                fixed(depth - thickness, 2)
            ),
            measured: Some(Quantity::mm(depth)),
            required: Some(Quantity::mm(thickness)),
            rule: "a countersunk head's cone is no deeper than the plate is thick".to_owned(),
            source: fixing.source.clone(),
        }
    })
}

/// Whether what is behind the plate takes this fixing.
fn suited(facts: &Facts<'_>) -> Option<Finding> {
    let asked = facts.layout.mount.fixing.as_ref()?;
    let material = facts.layout.face.as_ref()?.material;
    let (code, severity, why, source) = match drivable(asked, material) {
        Verdict::Yes => return None,
        Verdict::Care(why) => ("fixing-needs-care", Severity::Caution, why, COMMON),
        Verdict::No(why) => ("fixing-unsuited", Severity::Stop, why, MATERIAL),
    };
    Some(Finding {
        code,
        severity,
        scope: Scope::Mount,
        place: at_key("mount.fixing"),
        message: format!("The face is {}: {why}.", material.word()),
        measured: None,
        required: None,
        rule: "the face takes the fixing".to_owned(),
        source: source.to_owned(),
    })
}

/// Strips that the plate's back has no room for.
fn tape(facts: &Facts<'_>) -> Option<Finding> {
    let taped = taped(facts.layout)?;
    let strips = taped.strips?;
    let placed = strips.lengths.iter().filter(|length| **length > EQUAL_MM).count();
    let asked = usize::try_from(strips.asked).unwrap_or(usize::MAX);
    (placed < asked).then(|| Finding {
        code: "tape-too-wide",
        severity: Severity::Stop,
        scope: Scope::Mount,
        place: at_key("mount.fixing"),
        message: format!(
            "{} strips {} mm wide are asked for; the plate's back, {} mm in from its edge, has room for {placed}.",
            strips.asked,
            fixed(strips.width, 2),
            fixed(taped.edge, 0)
        ),
        measured: None,
        required: None,
        rule: "strips lie on the plate's back, beside each other".to_owned(),
        source: GEOMETRY.to_owned(),
    })
}
