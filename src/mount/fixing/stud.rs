//! Studs on the plate's back, glued into blind holes. All of it is common practice.

use crate::units::digits::trimmed;

use super::{Bore, Bored, Counted, Depth, Fixing, Front, length_name};

/// What the hole is wider than its stud, for the glue, mm.
const GLUE_GAP: f64 = 0.4;
/// What the hole is deeper than its stud is long, mm.
const BELOW_END: f64 = 1.0;
/// Least length in the face, in diameters.
const LEAST_DIAMETERS: f64 = 2.0;

pub(super) fn stud(diameter: f64, length: f64, bore: Option<f64>) -> Fixing {
    let hole = match bore {
        Some(_) => "as the layout states it",
        None => "0.4 mm more than the stud, for the glue",
    };
    Fixing {
        name: format!("{} mm rear stud, {}", trimmed(diameter, 2), length_name(length)),
        front: Front::Nothing,
        shank: diameter,
        root: diameter,
        head_diameter: 0.0,
        countersink: None,
        length,
        counted: Counted::FromFace,
        smooth: 0.0,
        clearance: 0.0,
        off: 0.0,
        least_hold: Some((
            LEAST_DIAMETERS * diameter,
            "a stud at least two diameters long in the face",
        )),
        behind: 0.0,
        past_nut: 0.0,
        bores: vec![Bore {
            what: Bored::Stud,
            diameter: bore.unwrap_or(diameter + GLUE_GAP),
            depth: Depth::FullWidth(length + BELOW_END),
            rule: format!("{hole}; 1 mm deeper than the stud is long: common practice, no source"),
        }],
        work: vec![
            "Try the plate dry: every stud must drop in freely. Roughen the studs, degrease studs \
             and holes, then glue; no glue on the face. Hold the plate until the glue is hard.",
        ],
        source: "diameter and length as the layout states them".to_owned(),
    }
}
