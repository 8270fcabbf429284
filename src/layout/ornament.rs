//! What is engraved beside the wording: dividers and emblems as lines of the inscription,
//! ornaments in the corners.

use std::sync::Arc;

use kurbo::BezPath;

use super::Named;

words! {
    /// What parts two lines of an inscription.
    Divider {
        /// One line of even weight.
        Rule = "rule",
        /// Thickest in the middle, running out to both ends.
        SwelledRule = "swelled rule",
        /// Two lines of one weight.
        DoubleRule = "double rule",
        /// A line with a lozenge in its middle.
        LozengeRule = "lozenge rule",
        /// A row of dots.
        DottedRule = "dotted rule",
    }
}

impl Divider {
    /// Height of the whole divider in weights of its line: two rules stand two weights
    /// apart, a lozenge is six weights high.
    #[must_use]
    pub const fn weights(self) -> f64 {
        match self {
            Self::Rule | Self::SwelledRule | Self::DottedRule => 1.0,
            Self::DoubleRule => 4.0,
            Self::LozengeRule => 6.0,
        }
    }

    /// The least that it can be wide, in weights: two dots, a lozenge with some rule on
    /// either side.
    #[must_use]
    pub const fn least_weights(self) -> f64 {
        match self {
            Self::Rule => 1.0,
            Self::SwelledRule | Self::DoubleRule | Self::DottedRule => 4.0,
            Self::LozengeRule => 20.0,
        }
    }
}

words! {
    /// A plain shape of our own drawing.
    Emblem {
        /// A church bell with its clapper.
        Bell = "bell",
        /// A star of five points.
        Star = "star",
        /// A young moon, open to the right.
        Crescent = "crescent",
        /// A lozenge in a frame.
        Lozenge = "lozenge",
        /// Two laurel sprigs, open at the top.
        Laurel = "laurel",
        /// A telescope on its stand.
        Telescope = "telescope",
    }
}

words! {
    /// An ornament for the corners of a plate, mirrored from one to the next.
    CornerOrnament {
        /// A hollow quarter circle about the corner.
        QuarterRound = "quarter round",
        /// Two nested angles.
        Bracket = "bracket",
        /// A spray of three leaves.
        Leaf = "leaf",
    }
}

/// How wide a divider is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DividerWidth {
    /// So many mm.
    Stated(f64),
    /// A share of the field's width, above 0 and at most 1.
    Share(f64),
}

/// A drawing of the user's own, already read.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnEmblem {
    /// Path as written in the layout.
    pub path: String,
    /// Who allowed it to be engraved, when and how.
    pub permission: Option<String>,
    /// Its shape: closed contours that do not overlap, filled by the nonzero rule; the box
    /// of its ink is 1 high, its bottom left corner at 0, y up.
    pub outline: Arc<BezPath>,
}

/// What stands in a line of the inscription instead of words.
#[derive(Debug, Clone, PartialEq)]
pub enum Ornament {
    /// A divider; its height follows from its weight.
    Divider {
        /// Which.
        kind: Divider,
        /// Its width.
        width: DividerWidth,
        /// Thickness of its line, mm: where a rule swells, in the middle; of dots, across.
        weight: f64,
    },
    /// One of our own emblems.
    Emblem(Emblem),
    /// A drawing of the user's own.
    Own(OwnEmblem),
}

impl Ornament {
    /// What it is, as sheets and findings call it.
    #[must_use]
    pub fn told(&self) -> &str {
        match self {
            Self::Divider { kind, .. } => kind.word(),
            Self::Emblem(emblem) => emblem.word(),
            Self::Own(own) => &own.path,
        }
    }
}

/// Ornaments in the four corners of a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corners {
    /// Which.
    pub ornament: CornerOrnament,
    /// Side of the square that each one fills, mm.
    pub size: f64,
    /// From the bevel's inner edge to that square, on both sides, mm.
    pub inset: f64,
    /// Thickness of its lines, mm; a leaf has none.
    pub weight: f64,
    /// White between the square and lettering, at least, mm.
    pub gap: f64,
}
