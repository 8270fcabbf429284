//! Where holes are wanted.

use super::{FixingAsked, Named};

words! {
    /// The edges along which holes are spread evenly.
    Edges {
        /// The upper edge.
        Top = "top",
        /// The lower edge.
        Bottom = "bottom",
        /// The left edge.
        Left = "left",
        /// The right edge.
        Right = "right",
        /// Upper and lower edge, alike.
        TopAndBottom = "top and bottom",
        /// Left and right edge, alike.
        LeftAndRight = "left and right",
    }
}

words! {
    /// Where the first hole of a circle stands; the others follow at equal steps.
    FirstHole {
        /// At the highest point.
        AtTheTop = "at the top",
        /// Half a step beside the highest point, so that two holes stand level there.
        BesideTheTop = "beside the top",
    }
}

/// Where holes are wanted.
#[derive(Debug, Clone, PartialEq)]
pub enum HolesAsked {
    /// No holes: the plate is stuck on.
    None,
    /// One in each corner.
    FourCorners,
    /// One at the middle of the left and of the right side.
    TwoSides,
    /// One at the middle of the top and of the bottom side.
    TopAndBottom,
    /// One in each handle of an ansate plate, on its middle line, this far from the
    /// handle's outer end, mm; `None`: in the middle of the handle.
    InTheHandles(Option<f64>),
    /// Spread evenly along one edge or two; the first and the last stand where those of
    /// four corners do.
    Along {
        /// Which edges.
        edges: Edges,
        /// How many along each, at least two.
        count: u32,
    },
    /// On a circle about the middle of the plate.
    Circle {
        /// Diameter of the circle through their centres, mm.
        diameter: f64,
        /// How many, at least two.
        count: u32,
        /// Where the first stands.
        first: FirstHole,
    },
    /// Chosen by the plate's shape, size, thickness and weight; the inset in mm where
    /// it was stated, else chosen too.
    Auto(Option<f64>),
    /// At these points of the plate, mm from its top left corner.
    Points(Vec<(f64, f64)>),
}

/// From the plate's edges to the hole centres where nothing is said, mm: common practice,
/// no source.
pub const USUAL_INSET_MM: f64 = 8.0;

/// How the plate is fixed.
#[derive(Debug, Clone, PartialEq)]
pub struct Mount {
    /// Fixing; `None` where nothing is said.
    pub fixing: Option<FixingAsked>,
    /// Hole set.
    pub holes: HolesAsked,
    /// From the plate's edges to the hole centres, mm.
    pub inset: f64,
    /// Whether holes are drawn out to slots across the grain, so that the wood can move.
    pub slots: bool,
    /// How far a fixing gives way in the wood before movement matters, mm; `None` where
    /// nothing is said.
    pub give: Option<f64>,
}
