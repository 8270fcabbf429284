//! Clear zones: what lettering must stay out of.

/// The shape of a zone, mm in plate coordinates. Where a shape is kept clear with a gap
/// all round, the zone is the shape and all within that gap of it: its true offset, with
/// arcs round square corners and the parallel curve of an ellipse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ZoneShape {
    /// A disc.
    Disc {
        /// Centre x.
        x: f64,
        /// Centre y.
        y: f64,
        /// Radius.
        radius: f64,
    },
    /// An upright rectangle.
    Box {
        /// Left.
        x0: f64,
        /// Top.
        y0: f64,
        /// Right.
        x1: f64,
        /// Bottom.
        y1: f64,
    },
    /// An upright rectangle with round corners: what a gap makes of a rectangle, square
    /// or round at its own corners.
    Rounded {
        /// Left.
        x0: f64,
        /// Top.
        y0: f64,
        /// Right.
        x1: f64,
        /// Bottom.
        y1: f64,
        /// Radius of the corners; taken as half the shorter side at most.
        radius: f64,
    },
    /// An upright ellipse and all within a gap of it.
    Oval {
        /// Centre x.
        x: f64,
        /// Centre y.
        y: f64,
        /// Half axis across.
        across: f64,
        /// Half axis down.
        down: f64,
        /// The gap.
        gap: f64,
    },
    /// A flat foot under a round head, and all within a gap of it.
    Arch {
        /// Left of the arch.
        x0: f64,
        /// Its top.
        y0: f64,
        /// Its right.
        x1: f64,
        /// Its foot.
        y1: f64,
        /// Height of the head, one arc from side to side; taken as half the width or the
        /// whole height at most.
        rise: f64,
        /// The gap.
        gap: f64,
    },
    /// All that lies on one side of a line right across the plate.
    Side {
        /// Which side of the line.
        side: Side,
        /// Where the line runs: x of an upright one, y of a level one.
        at: f64,
    },
}

/// A side of the plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Left of an upright line.
    Left,
    /// Right of an upright line.
    Right,
    /// Above a level line.
    Top,
    /// Below a level line.
    Bottom,
}

/// Why a zone is kept clear.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ZoneKind {
    /// A hole with its head and the white round it; the hole's index.
    Hole(usize),
    /// Where a border turns in round a hole; the hole's index.
    Border(usize),
    /// An ornament in a corner and the white round it; the corner's index.
    Corner(usize),
    /// A photograph and the white round it; the photograph's index.
    Photo(usize),
}

/// A shape that lettering stays out of, and why.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearZone {
    /// The shape.
    pub shape: ZoneShape,
    /// The reason.
    pub kind: ZoneKind,
}
