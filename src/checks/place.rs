//! The plate and its holes on the trophy face.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_hole, at_key};

/// Fixing to the edge of visible wood, in shank diameters, and never less than this, mm.
const EDGE_SHANKS: f64 = 4.0;
const EDGE_MM: f64 = 6.0;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let Some(plan) = &facts.mount.face else { return Vec::new() };
    let Some((width, height)) = plan.size() else { return Vec::new() };
    let plate = &facts.layout.plate;
    let sides = [
        ("left", plan.plate_x),
        ("top", plan.plate_y),
        ("right", width - plan.plate_x - plate.width),
        ("bottom", height - plan.plate_y - plate.height),
    ];
    let mut found: Vec<Finding> = sides
        .iter()
        .filter(|(_, room)| *room < -EQUAL_MM)
        .map(|(side, room)| Finding {
            code: "plate-off-face",
            severity: Severity::Stop,
            scope: Scope::Mount,
            place: at_key("face.place"),
            message: format!(
                "The plate stands {} mm over the {side} edge of the face.",
                fixed(-room, 2)
            ),
            measured: Some(Quantity::mm(*room)),
            required: Some(Quantity::mm(0.0)),
            rule: "the whole plate lies on the face".to_owned(),
            source: GEOMETRY.to_owned(),
        })
        .collect();
    if let Some(fixing) = facts.mount.fixing.as_ref() {
        for (index, hole) in facts.mount.holes.iter().enumerate() {
            let Some((x, y)) = hole.face else { continue };
            let edge = x.min(y).min(width - x).min(height - y);
            found.extend(near_edge(index, edge, fixing.shank));
        }
    }
    found
}

fn near_edge(index: usize, edge: f64, shank: f64) -> Option<Finding> {
    let careful = EDGE_MM.max(EDGE_SHANKS * shank);
    let off = edge < shank / 2.0;
    (off || edge < careful - EQUAL_MM).then(|| Finding {
        code: if off { "hole-off-face" } else { "hole-near-edge" },
        severity: if off { Severity::Stop } else { Severity::Caution },
        scope: Scope::Mount,
        place: at_hole(index),
        message: format!(
            "Hole {}: its centre is {} mm from the edge of the face; {} mm keeps the wood from splitting.",
            index + 1,
            fixed(edge, 2),
            fixed(careful, 2)
        ),
        measured: Some(Quantity::mm(edge)),
        required: Some(Quantity::mm(careful)),
        rule: "four shank diameters and at least 6 mm from the edge of visible wood".to_owned(),
        source: if off { GEOMETRY } else { COMMON }.to_owned(),
    })
}
