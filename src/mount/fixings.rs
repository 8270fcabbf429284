//! Fixings and their published figures, from `fixings.toml`.

use crate::layout::{FixingAsked, Head};

use super::WoodRow;

/// A fixing with every figure that a drill or a check needs; mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixing {
    /// What it is called in the shop: `No. 4 round-head wood screw, 1/2 in`.
    pub name: String,
    /// Head, for wood screws.
    pub head: Option<Head>,
    /// Shank diameter.
    pub shank: f64,
    /// Root diameter of the thread; the shank for pins.
    pub root: f64,
    /// Head diameter.
    pub head_diameter: f64,
    /// Depth of a countersunk head's cone below the plate's surface; `None` for others.
    pub cone_depth: Option<f64>,
    /// Countersink angle in degrees, where countersunk.
    pub countersink_angle: Option<f64>,
    /// Nominal length as the trade measures it.
    pub length: f64,
    /// Clearance hole through the plate.
    pub clearance: f64,
    /// Hole in the wood for the smooth shank; `None` where the shank does not reach the wood.
    pub shank_bore: Option<f64>,
    /// Pilot hole in the wood for the thread.
    pub pilot: f64,
    /// Which pilot rule was used, and its source.
    pub pilot_rule: String,
    /// Source of shank and head figures.
    pub source: String,
}

/// A fixing's figures in a wood. `None` for tape, which has none.
#[must_use]
pub fn fixing(asked: &FixingAsked, wood: Option<&WoodRow>) -> Option<Fixing> {
    let _ = (asked, wood);
    todo!()
}

impl Fixing {
    /// How far the fixing goes into the wood behind a plate of this thickness, mm.
    #[must_use]
    pub fn penetration(&self, plate_thickness: f64) -> f64 {
        let _ = plate_thickness;
        todo!()
    }
}
