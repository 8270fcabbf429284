//! The flat trophy face and where the plate stands on it.

use crate::layout::{Face, Layout, Place};

/// The plate's place on its face, mm from the face's top left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FacePlan {
    /// The face as asked.
    pub face: Face,
    /// Plate's left edge; below 0 where the plate hangs over.
    pub plate_x: f64,
    /// Plate's top edge; below 0 where the plate hangs over.
    pub plate_y: f64,
}

impl FacePlan {
    /// A point of the plate as a point of the face.
    #[must_use]
    pub fn on_face(&self, x: f64, y: f64) -> (f64, f64) {
        (self.plate_x + x, self.plate_y + y)
    }
}

/// The plate on its face; `None` where no face is told.
pub(super) fn face_plan(layout: &Layout) -> Option<FacePlan> {
    let face = layout.face?;
    Some(FacePlan {
        face,
        plate_x: start(face.across, face.width, layout.plate.width),
        plate_y: start(face.along, face.height, layout.plate.height),
    })
}

/// Where something of a size begins on something of another.
fn start(place: Place, whole: f64, part: f64) -> f64 {
    match place {
        Place::Centred => (whole - part) / 2.0,
        Place::FromStart(distance) => distance,
        Place::FromEnd(distance) => whole - part - distance,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_counts_from_the_edge_it_names() {
        // A plate of 120 on a face of 150.
        assert!((start(Place::Centred, 150.0, 120.0) - 15.0).abs() < 1e-12);
        assert!((start(Place::FromStart(10.0), 150.0, 120.0) - 10.0).abs() < 1e-12);
        assert!((start(Place::FromEnd(10.0), 150.0, 120.0) - 20.0).abs() < 1e-12);
        assert!((start(Place::Centred, 100.0, 120.0) + 10.0).abs() < 1e-12);
    }
}
