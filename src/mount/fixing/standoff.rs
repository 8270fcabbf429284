//! Standoffs: a barrel on the face, held by a wood screw; the plate on the barrel, held by
//! a cap. Cap, hole and distance are the maker's figures.

use crate::units::digits::trimmed;

use super::{Fixing, Front};

/// A standoff on its wood screw.
pub(super) fn standoff(screw: Fixing, cap: f64, hole: f64, off: f64) -> Fixing {
    Fixing {
        name: format!(
            "standoff with a {} mm cap, {} mm off the face, on a {}",
            trimmed(cap, 2),
            trimmed(off, 2),
            screw.name
        ),
        front: Front::Plain,
        head_diameter: cap,
        clearance: hole,
        off,
        work: [
            &["Screw each barrel to the face through its foot, all at one height; then the plate, \
               then the caps, by hand, with a soft washer if the maker gives one."],
            screw.work.as_slice(),
        ]
        .concat(),
        source: format!("cap, hole and distance as the layout states them; screw: {}", screw.source),
        ..screw
    }
}
