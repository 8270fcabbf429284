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

words! {
    /// What a wood screw is made of; it decides how tight its pilot may be.
    ScrewMetal {
        /// Brass: soft, breaks in a tight hole.
        Brass = "brass",
        /// Steel.
        Steel = "steel",
        /// Stainless steel.
        StainlessSteel = "stainless steel",
    }
}

words! {
    /// Thread of a machine screw: ISO metric, coarse.
    Thread {
        /// 1.6 mm.
        M1_6 = "M1.6",
        /// 2 mm.
        M2 = "M2",
        /// 2.5 mm.
        M2_5 = "M2.5",
        /// 3 mm.
        M3 = "M3",
        /// 3.5 mm.
        M3_5 = "M3.5",
        /// 4 mm.
        M4 = "M4",
        /// 5 mm.
        M5 = "M5",
        /// 6 mm.
        M6 = "M6",
    }
}

words! {
    /// Shape of a machine screw's head.
    MachineHead {
        /// Countersunk, 90 degrees.
        Countersunk = "countersunk",
        /// Pan: low, flat under the head.
        Pan = "pan",
        /// Dome: a button.
        Dome = "dome",
    }
}

words! {
    /// How much wider than its screw a hole is (ISO 273).
    HoleFit {
        /// Little play; holes must agree well.
        Fine = "fine",
        /// The usual.
        Medium = "medium",
        /// Much play.
        Coarse = "coarse",
    }
}

/// What a machine screw is turned into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Into {
    /// A threaded insert in the face.
    Insert {
        /// Hole that the insert asks for, mm.
        bore: f64,
        /// How deep the insert sits, mm.
        depth: f64,
    },
    /// A nut with its washer behind the face.
    Nut,
    /// A thread cut into the face itself.
    Tapped,
}

/// A fixing as asked for; figures come from the mount's tables. Lengths in mm, as the
/// trade measures them: to the top of flat and countersunk heads, to the rim of oval
/// ones, under the head of all others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FixingAsked {
    /// Slotted or cross wood screw by gauge.
    WoodScrew {
        /// Gauge number, 0 to 10.
        gauge: u8,
        /// Head.
        head: Head,
        /// Nominal length, mm.
        length: f64,
        /// What it is made of; `None` where nothing is said.
        metal: Option<ScrewMetal>,
        /// Diameter of a cover cap over its head, mm.
        cap: Option<f64>,
    },
    /// Machine screw by thread.
    MachineScrew {
        /// Thread.
        thread: Thread,
        /// Head.
        head: MachineHead,
        /// Nominal length, mm.
        length: f64,
        /// What holds its thread.
        into: Into,
        /// Width of its hole through the plate, and through the face.
        fit: HoleFit,
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
    /// Studs on the plate's back, glued into blind holes: nothing shows in front.
    Stud {
        /// Diameter, mm.
        diameter: f64,
        /// Length beyond the plate's back, mm.
        length: f64,
        /// Hole for it in the face, mm; `None` for stud and glue gap.
        bore: Option<f64>,
    },
    /// A barrel that holds the plate off the face, closed by a cap in front.
    Standoff {
        /// Diameter of the cap, mm.
        cap: f64,
        /// Hole through the plate, mm.
        hole: f64,
        /// From the face to the plate's back, mm.
        off: f64,
        /// Gauge of the wood screw that holds the barrel, 0 to 10.
        gauge: u8,
        /// How far that screw reaches out of the barrel's foot, mm.
        length: f64,
        /// What that screw is made of.
        metal: Option<ScrewMetal>,
    },
    /// Adhesive tape or pads; no holes.
    Tape {
        /// Width and number of strips; `None` where nothing is said.
        strips: Option<(f64, u32)>,
    },
}

impl FixingAsked {
    /// Whether it goes into what is behind the plate, at places of its own: all but tape.
    #[must_use]
    pub fn is_driven(&self) -> bool {
        !matches!(self, Self::Tape { .. })
    }
}
