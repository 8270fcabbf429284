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
        match self {
            Self::Hardwood
            | Self::Softwood
            | Self::BlackWalnut
            | Self::WhiteOak
            | Self::RedOak
            | Self::HardMaple
            | Self::BlackCherry
            | Self::YellowBirch
            | Self::WhiteAsh
            | Self::Beech
            | Self::DouglasFir
            | Self::WhitePine
            | Self::WhiteFir
            | Self::Mahogany
            | Self::Teak => true,
            Self::Mdf
            | Self::Plywood
            | Self::Chipboard
            | Self::VeneeredBoard
            | Self::VeneeredWood
            | Self::Stone
            | Self::Metal
            | Self::Resin
            | Self::Hollow => false,
        }
    }
}
