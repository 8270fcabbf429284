//! Outlines of plates and their true insets.

use kurbo::BezPath;

use crate::layout::Plate;

/// A closed convex outline, mm in plate coordinates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    /// Plate width, mm.
    pub width: f64,
    /// Plate height, mm.
    pub height: f64,
    /// Shape.
    pub shape: crate::layout::Shape,
    /// How far inside the plate's edge this outline runs, mm; 0 is the edge.
    pub inset: f64,
}

/// The plate's own edge.
#[must_use]
pub fn outline(plate: &Plate) -> Outline {
    Outline { width: plate.width, height: plate.height, shape: plate.shape, inset: 0.0 }
}

impl Outline {
    /// The outline `by` mm further in (true inset: every point that far from this
    /// outline); `None` where nothing is left.
    #[must_use]
    pub fn inset(&self, by: f64) -> Option<Self> {
        let _ = by;
        todo!()
    }

    /// Left and right end of the outline's chord at height `y`; `None` outside it.
    #[must_use]
    pub fn chord(&self, y: f64) -> Option<(f64, f64)> {
        let _ = y;
        todo!()
    }

    /// Top and bottom of the outline, mm.
    #[must_use]
    pub fn extent(&self) -> (f64, f64) {
        (self.inset, self.height - self.inset)
    }

    /// Shortest distance from a point to the outline, mm: positive inside, negative outside.
    #[must_use]
    pub fn depth_of(&self, x: f64, y: f64) -> f64 {
        let _ = (x, y);
        todo!()
    }

    /// The outline as a closed path.
    #[must_use]
    pub fn path(&self) -> BezPath {
        todo!()
    }

    /// Area inside the outline, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        todo!()
    }
}
