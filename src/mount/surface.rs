//! The flat trophy face and where the plate stands on it.

use crate::layout::Face;

/// The plate's place on its face, mm from the face's top left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FacePlan {
    /// The face as asked.
    pub face: Face,
    /// Plate's left edge.
    pub plate_x: f64,
    /// Plate's top edge.
    pub plate_y: f64,
}
