//! The trophy face that the plate goes on, as asked for.

use super::{Grain, Named};

words! {
    /// What the trophy face is made of; figures stand in the mount's tables of woods and faces.
    FaceMaterial {
        /// A hardwood that the table does not list.
        Hardwood = "hardwood",
        /// A softwood that the table does not list.
        Softwood = "softwood",
        /// Black walnut.
        BlackWalnut = "black walnut",
        /// White oak.
        WhiteOak = "white oak",
        /// Northern red oak.
        RedOak = "red oak",
        /// Hard maple.
        HardMaple = "hard maple",
        /// Black cherry.
        BlackCherry = "black cherry",
        /// Yellow birch.
        YellowBirch = "yellow birch",
        /// White ash.
        WhiteAsh = "white ash",
        /// American beech.
        Beech = "beech",
        /// Coast Douglas-fir.
        DouglasFir = "douglas fir",
        /// Eastern white pine.
        WhitePine = "white pine",
        /// White fir.
        WhiteFir = "white fir",
        /// True mahogany.
        Mahogany = "mahogany",
        /// Teak.
        Teak = "teak",
        /// Medium density fibreboard.
        Mdf = "mdf",
        /// Plywood.
        Plywood = "plywood",
        /// Chipboard.
        Chipboard = "chipboard",
        /// Veneer over a board.
        VeneeredBoard = "veneered board",
        /// Veneer over wood.
        VeneeredWood = "veneered wood",
        /// Stone of any kind.
        Stone = "stone",
        /// Metal of any kind.
        Metal = "metal",
        /// Cast resin or another solid plastic.
        Resin = "resin",
        /// A thin skin over a hollow, of whatever it may be.
        Hollow = "hollow",
    }
}

words! {
    /// A spot of the plate that a mark on the face may stand for.
    PlateSpot {
        /// The middle of its size.
        Centre = "centre",
        /// The top left corner of its size.
        TopLeft = "top left corner",
        /// The top right corner of its size.
        TopRight = "top right corner",
        /// The bottom left corner of its size.
        BottomLeft = "bottom left corner",
        /// The bottom right corner of its size.
        BottomRight = "bottom right corner",
        /// The middle of the top side of its size.
        Top = "middle of the top edge",
        /// The middle of the bottom side of its size.
        Bottom = "middle of the bottom edge",
        /// The middle of the left side of its size.
        Left = "middle of the left edge",
        /// The middle of the right side of its size.
        Right = "middle of the right edge",
    }
}

/// Where on the face the plate goes. An axis without a distance is centred.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// On the centre line.
    Centred,
    /// From the left (across) or top (along) edge of the face to the plate's, mm.
    FromStart(f64),
    /// From the right (across) or bottom (along) edge of the face to the plate's, mm.
    FromEnd(f64),
}

/// Which point of the plate is set on a mark that the face already bears.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OnPlate {
    /// A spot with a name.
    Spot(PlateSpot),
    /// A point, mm from the plate's left and top.
    Point(f64, f64),
}

impl OnPlate {
    /// The point of a plate of a size, mm from its left and top.
    #[must_use]
    pub fn on(self, width: f64, height: f64) -> (f64, f64) {
        let (x, y) = match self {
            Self::Point(x, y) => return (x, y),
            Self::Spot(PlateSpot::Centre) => (0.5, 0.5),
            Self::Spot(PlateSpot::TopLeft) => (0.0, 0.0),
            Self::Spot(PlateSpot::TopRight) => (1.0, 0.0),
            Self::Spot(PlateSpot::BottomLeft) => (0.0, 1.0),
            Self::Spot(PlateSpot::BottomRight) => (1.0, 1.0),
            Self::Spot(PlateSpot::Top) => (0.5, 0.0),
            Self::Spot(PlateSpot::Bottom) => (0.5, 1.0),
            Self::Spot(PlateSpot::Left) => (0.0, 0.5),
            Self::Spot(PlateSpot::Right) => (1.0, 0.5),
        };
        (width * x, height * y)
    }
}

/// A mark that the face already bears and that the plate is set by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceMark {
    /// Which point of the plate is set on it.
    pub on_plate: OnPlate,
    /// Where it is, mm from the face's left and top; always told where the face has a
    /// size, never where it has none.
    pub at: Option<(f64, f64)>,
}

/// The outline of a flat face.
#[derive(Debug, Clone, PartialEq)]
pub enum FaceShape {
    /// Upright, with square corners.
    Rectangle,
    /// Level top and foot about one upright centre line.
    Trapezium {
        /// Width at the top, mm.
        top: f64,
        /// Width at the foot, mm.
        foot: f64,
    },
    /// A circle; width equals height.
    Circle,
    /// A simple polygon, mm from the top left corner of its box.
    Points(Vec<(f64, f64)>),
}

impl FaceShape {
    /// The word for it in layout and report.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Rectangle => "rectangle",
            Self::Trapezium { .. } => "trapezium",
            Self::Circle => "circle",
            Self::Points(_) => "points",
        }
    }
}

/// How a face leans: its height in its own plane is the long side of this triangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// Plumb height, mm.
    pub rise: f64,
    /// How far the top stands behind the foot, level, mm.
    pub run: f64,
}

impl Slope {
    /// Height of the face in its own plane, mm.
    #[must_use]
    pub fn height(self) -> f64 {
        libm::hypot(self.rise, self.run)
    }
}

/// Outline and size of a face, in its own plane.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceEdge {
    /// Width of its box, mm.
    pub width: f64,
    /// Height of its box, mm.
    pub height: f64,
    /// Outline.
    pub shape: FaceShape,
    /// How it leans, where its height was told by that.
    pub slope: Option<Slope>,
}

/// Moulding or trim along the edge of a face, that the plate stays clear of. Widths
/// inwards from the edge, mm; on circles and polygons all four are alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Along the left side.
    pub left: f64,
    /// Along the top side.
    pub top: f64,
    /// Along the right side.
    pub right: f64,
    /// Along the bottom side.
    pub bottom: f64,
    /// Least distance from the trim to the plate.
    pub gap: f64,
}

/// Outline of a recess.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RecessShape {
    /// Upright; its corners have a radius in mm, 0 for square.
    Box {
        /// Corner radius, mm.
        corner: f64,
    },
    /// A circle; width equals height.
    Circle,
}

/// A recess that the plate is let into; the plate stands in its middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recess {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Outline.
    pub shape: RecessShape,
    /// Depth, mm.
    pub depth: f64,
    /// Wanted all round between plate and recess, mm.
    pub gap: f64,
    /// Place across the face.
    pub across: Place,
    /// Place along the face.
    pub along: Place,
}

/// A hole that is already in the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OldHole {
    /// Across, mm: from the face's left; from the mark, to the right, where the plate
    /// is set by one.
    pub x: f64,
    /// Down, mm: from the face's top, or from the mark.
    pub y: f64,
    /// Diameter, mm.
    pub diameter: f64,
    /// Whether it is filled with a glued plug of wood.
    pub plugged: bool,
}

/// The holes that are already in the face, and by what measure they count.
#[derive(Debug, Clone, PartialEq)]
pub struct OldHoles {
    /// The holes, in the layout's order.
    pub holes: Vec<OldHole>,
    /// An old hole this near to a new one is the same hole, mm between centres.
    pub same: f64,
}

/// The flat trophy face that the plate goes on.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Outline and size; `None` only where the plate is set by a mark.
    pub edge: Option<FaceEdge>,
    /// Material.
    pub material: FaceMaterial,
    /// Thickness of what is behind the plate, mm; always told where the fixing is
    /// driven into it.
    pub thickness: Option<f64>,
    /// Grain of the wood, where it is told.
    pub grain: Option<Grain>,
    /// Moulding or trim.
    pub trim: Option<Trim>,
    /// Recess.
    pub recess: Option<Recess>,
    /// Place across (left to right), where neither mark nor recess says it.
    pub across: Place,
    /// Place along (top to bottom), where neither mark nor recess says it.
    pub along: Place,
    /// The mark that the plate is set by.
    pub mark: Option<FaceMark>,
    /// Holes that are already there.
    pub old: Option<OldHoles>,
}
