//! The flat trophy face and where the plate stands on it.

mod edges;
mod nearest;
mod offered;
mod old_holes;
mod reveals;
mod room;
mod sized;

use kurbo::{Affine, BezPath};

use crate::layout::{Face, Layout, Place};
use crate::plate::Outline;

use edges::{edge, recess_edge, room as room_of, trim_edge};

pub use nearest::{Moved, nearest_place};
pub use offered::{Offered, Why, offered_sizes};
pub use old_holes::{Beside, OldHolePlan, Reused, largest_reused, old_holes};
pub use reveals::Reveals;
pub use room::least_depth;
pub use sized::{largest_plate, sized};

/// An outline laid on the face.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Left of the outline's own zero, mm from the face's.
    pub x: f64,
    /// Top of the outline's own zero, mm from the face's.
    pub y: f64,
    /// The outline, in its own coordinates.
    pub outline: Outline,
}

impl Laid {
    /// The outline in face coordinates: closed rounds, as [`Outline::paths`] has them.
    #[must_use]
    pub fn path(&self) -> BezPath {
        Affine::translate((self.x, self.y)) * self.outline.path()
    }

    /// Left, top, right, bottom on the face, mm.
    #[must_use]
    pub fn bounds(&self) -> [f64; 4] {
        let [left, top, right, bottom] = self.outline.bounds();
        [left + self.x, top + self.y, right + self.x, bottom + self.y]
    }

    /// Shortest distance from a point of the face to the outline, mm: positive inside.
    #[must_use]
    pub fn depth_of(&self, x: f64, y: f64) -> f64 {
        self.outline.depth_of(x - self.x, y - self.y)
    }

    /// The outline `by` mm further in; `None` where nothing is left.
    #[must_use]
    pub fn inset(&self, by: f64) -> Option<Self> {
        Some(Self { x: self.x, y: self.y, outline: self.outline.inset(by)? })
    }
}

/// The plate's place on its face. Face coordinates: mm from the top left corner of the
/// face's box, y down, in the plane of the face; where the face has no size, from the
/// mark that the plate is set by.
#[derive(Debug, Clone, PartialEq)]
pub struct FacePlan {
    /// The face as asked.
    pub face: Face,
    /// Plate's left edge; below 0 where the plate hangs over.
    pub plate_x: f64,
    /// Plate's top edge; below 0 where the plate hangs over.
    pub plate_y: f64,
    /// Edge of the face; `None` where its size is not told.
    pub edge: Option<Laid>,
    /// Inner edge of its trim, where it has one that leaves something.
    pub trim: Option<Laid>,
    /// Where the plate may stand: on the face, and a gap clear of its trim; in a recess, a
    /// gap clear of its sides. `None` where that leaves nothing, or no size is told.
    pub gap_room: Option<Laid>,
    /// Edge of its recess.
    pub recess: Option<Laid>,
    /// The mark that the plate is set by.
    pub mark: Option<(f64, f64)>,
}

impl FacePlan {
    /// A point of the plate as a point of the face.
    #[must_use]
    pub fn on_face(&self, x: f64, y: f64) -> (f64, f64) {
        (self.plate_x + x, self.plate_y + y)
    }

    /// Width and height of the face's box, mm, where they are told.
    #[must_use]
    pub fn size(&self) -> Option<(f64, f64)> {
        self.face.edge.as_ref().map(|edge| (edge.width, edge.height))
    }
}

/// The plate on its face; `None` where no face is told.
pub(super) fn face_plan(layout: &Layout) -> Option<FacePlan> {
    let face = layout.face.clone()?;
    let edge = edge(&face);
    let trim = face.trim.and_then(|trim| trim_edge(&face, &trim));
    let recess = face.recess.and_then(|recess| recess_edge(&face, &recess));
    let gap_room = room_of(&face, 0.0);
    let mark = face.mark.map(|mark| mark.at.unwrap_or((0.0, 0.0)));
    let plate = &layout.plate;
    let sized = plate.from_face.and_then(|from_face| from_face.stands);
    let (plate_x, plate_y) = sized.unwrap_or_else(|| stand(&face, plate.width, plate.height));
    Some(FacePlan { face, plate_x, plate_y, edge, trim, gap_room, recess, mark })
}

/// Where the top left corner of a plate of a size stands.
fn stand(face: &Face, plate_width: f64, plate_height: f64) -> (f64, f64) {
    if let Some(mark) = face.mark {
        let (x, y) = mark.on_plate.on(plate_width, plate_height);
        let at = mark.at.unwrap_or((0.0, 0.0));
        return (at.0 - x, at.1 - y);
    }
    let (width, height) = face.edge.as_ref().map_or((0.0, 0.0), |edge| (edge.width, edge.height));
    if let Some(recess) = face.recess {
        let x = start(recess.across, width, recess.width);
        let y = start(recess.along, height, recess.height);
        return (x + (recess.width - plate_width) / 2.0, y + (recess.height - plate_height) / 2.0);
    }
    (start(face.across, width, plate_width), start(face.along, height, plate_height))
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
