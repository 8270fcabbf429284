//! How the wood of a trophy face lies, and how damp and dry it will live.

use super::{FaceMaterial, Named};

words! {
    /// The way in which the grain of a face runs; wood moves across it.
    GrainWay {
        /// Up and down.
        Vertical = "vertical",
        /// From left to right.
        Horizontal = "horizontal",
    }
}

words! {
    /// How a board was cut from the log: which of its two movements lies across its face.
    Sawn {
        /// Growth rings about level with the face: the larger, tangential movement.
        Flat = "flat sawn",
        /// Growth rings about upright in the face: the smaller, radial movement.
        Quarter = "quarter sawn",
    }
}

/// The grain of a wooden face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grain {
    /// The way in which it runs.
    pub way: GrainWay,
    /// How the board was cut.
    pub sawn: Sawn,
    /// Least and greatest moisture content that the wood will live through, in per cent;
    /// `None` where nothing is said.
    pub moisture: Option<(f64, f64)>,
}

impl FaceMaterial {
    /// Whether it is solid wood, which has a grain to move across.
    #[must_use]
    pub fn is_solid_wood(self) -> bool {
        use FaceMaterial as M;
        match self {
            M::Hardwood
            | M::Softwood
            | M::BlackWalnut
            | M::WhiteOak
            | M::RedOak
            | M::HardMaple
            | M::BlackCherry
            | M::YellowBirch
            | M::WhiteAsh
            | M::Beech
            | M::DouglasFir
            | M::WhitePine
            | M::WhiteFir
            | M::Mahogany
            | M::Teak => true,
            M::Mdf
            | M::Plywood
            | M::Chipboard
            | M::VeneeredBoard
            | M::VeneeredWood
            | M::Stone
            | M::Metal
            | M::Resin
            | M::Hollow => false,
        }
    }
}
