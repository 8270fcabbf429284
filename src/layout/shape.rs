//! Outlines that a plate may be cut to.

use super::Named;

/// The outline of the plate.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Square corners.
    Rectangle,
    /// Corners of a radius in mm, above 0 and at most half the short side.
    Rounded {
        /// Corner radius, mm.
        corner: f64,
    },
    /// Corners cut out as concave quarter circles about the corners of the size.
    Notched {
        /// Radius of the notches, mm: above 0, less than half the short side.
        corner: f64,
    },
    /// An ellipse that touches all four sides of the size.
    Oval,
    /// A circle; width equals height.
    Circle,
    /// A flat foot, upright sides and a head that is one arc of a circle.
    Arch {
        /// Height of the head above its springing, mm, at most half the width;
        /// `None` for a half circle.
        rise: Option<f64>,
    },
    /// A *tabula ansata*: a tablet with a dovetail handle on either side.
    Ansate(Handles),
    /// A polygon by its corners, mm in plate coordinates, in their order: at least
    /// three, its sides neither crossing nor touching; its box is the plate's.
    Points(Vec<(f64, f64)>),
}

impl Shape {
    /// The word for it in layout and report.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Rectangle => "rectangle",
            Self::Rounded { .. } => "rounded",
            Self::Notched { .. } => "notched",
            Self::Oval => "oval",
            Self::Circle => "circle",
            Self::Arch { .. } => "arch",
            Self::Ansate(_) => "ansate",
            Self::Points(_) => "points",
        }
    }
}

/// How far lettering reaches on an ansate plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandleLettering {
    /// It keeps to the tablet; the margin counts from the tablet's four sides, the
    /// handles being left to the fixings.
    Between,
    /// It may run into the handles; the margin counts from the whole outline.
    Into,
}

impl Named for HandleLettering {
    const ALL: &'static [(&'static str, Self)] =
        &[("between the handles", Self::Between), ("into the handles", Self::Into)];
}

/// The handles of an ansate plate as asked; what is not told follows the plate's size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Handles {
    /// How far each stands out from the tablet, mm.
    pub width: Option<f64>,
    /// Height where it joins the tablet, mm.
    pub root: Option<f64>,
    /// Height at its outer end, mm.
    pub tip: Option<f64>,
    /// How far lettering reaches.
    pub lettering: HandleLettering,
}

/// Handles with every measure filled in, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandleSize {
    /// How far each stands out from the tablet.
    pub width: f64,
    /// Height where it joins the tablet.
    pub root: f64,
    /// Height at its outer end.
    pub tip: f64,
}

/// Width of a handle in plate heights, and at most in plate widths; its height at
/// the root and at the tip in plate heights: own choice, by eye after Roman tablets.
const WIDTH_OF_HEIGHT: f64 = 0.25;
const WIDTH_OF_WIDTH: f64 = 1.0 / 6.0;
const ROOT_OF_HEIGHT: f64 = 0.3;
const TIP_OF_HEIGHT: f64 = 0.6;

impl Handles {
    /// The measures on a plate of a size, mm: those told, else a quarter of the
    /// plate's height in width (but no more than a sixth of its width), 0.3 of it at
    /// the root, 0.6 of it at the tip (but no less than at the root).
    #[must_use]
    pub fn on(&self, width: f64, height: f64) -> HandleSize {
        let usual = (WIDTH_OF_HEIGHT * height).min(WIDTH_OF_WIDTH * width);
        let told_tip = self.tip.unwrap_or(height);
        let root = self.root.unwrap_or((ROOT_OF_HEIGHT * height).min(told_tip));
        let tip = self.tip.unwrap_or((TIP_OF_HEIGHT * height).max(root));
        HandleSize { width: self.width.unwrap_or(usual), root, tip }
    }
}

#[cfg(test)]
mod tests {
    use super::{HandleLettering, HandleSize, Handles};

    #[test]
    fn handles_follow_the_size_of_the_plate_where_nothing_is_told() {
        let mut asked =
            Handles { width: None, root: None, tip: None, lettering: HandleLettering::Between };
        assert_eq!(asked.on(150.0, 60.0), HandleSize { width: 15.0, root: 18.0, tip: 36.0 });
        // A sixth of a narrow plate's width.
        assert_eq!(asked.on(60.0, 60.0), HandleSize { width: 10.0, root: 18.0, tip: 36.0 });
        // A root wider than the usual tip takes the tip with it, and the other way round.
        asked.root = Some(50.0);
        assert_eq!(asked.on(150.0, 60.0), HandleSize { width: 15.0, root: 50.0, tip: 50.0 });
        (asked.root, asked.tip) = (None, Some(10.0));
        assert_eq!(asked.on(150.0, 60.0), HandleSize { width: 15.0, root: 10.0, tip: 10.0 });
    }
}
