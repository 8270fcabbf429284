//! Clear zones: what lettering must stay out of.

/// The shape of a zone, mm in plate coordinates.
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
}

/// A shape that lettering stays out of, and why.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearZone {
    /// The shape.
    pub shape: ZoneShape,
    /// The reason.
    pub kind: ZoneKind,
}
