//! What holds the plate, as asked for.

use super::Named;

words! {
    /// Shape of a wood screw's head.
    Head {
        /// Flat, countersunk.
        Flat = "flat",
        /// Oval, countersunk with a raised top.
        Oval = "oval",
        /// Round, not countersunk.
        Round = "round",
    }
}

/// A fixing as asked for; figures come from the mount's tables.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FixingAsked {
    /// Slotted or cross wood screw by gauge.
    WoodScrew {
        /// Gauge number, 0 to 10.
        gauge: u8,
        /// Head.
        head: Head,
        /// Nominal length, mm, as the trade measures it for this head.
        length: f64,
    },
    /// Escutcheon pin.
    Pin {
        /// Shank diameter, mm.
        shank: f64,
        /// Head diameter, mm.
        head: f64,
        /// Length under the head, mm.
        length: f64,
    },
    /// Adhesive tape or pads; no holes.
    Tape,
}
