//! The flat trophy face and where the plate stands on it.

use kurbo::{Affine, BezPath};

use crate::layout::{Face, FaceShape, Layout, Place, Plate, Recess, RecessShape, Shape, Trim};
use crate::plate::Outline;

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
    let trim = face.trim.and_then(|trim| trim_edge(&face, &trim, 0.0));
    let recess = face.recess.and_then(|recess| recess_edge(&face, &recess));
    let mark = face.mark.map(|mark| mark.at.unwrap_or((0.0, 0.0)));
    let (plate_x, plate_y) = stand(&face, &layout.plate);
    Some(FacePlan { face, plate_x, plate_y, edge, trim, recess, mark })
}

/// Where the plate's top left corner stands.
fn stand(face: &Face, plate: &Plate) -> (f64, f64) {
    if let Some(mark) = face.mark {
        let (x, y) = mark.on_plate.on(plate.width, plate.height);
        let at = mark.at.unwrap_or((0.0, 0.0));
        return (at.0 - x, at.1 - y);
    }
    let (width, height) = face.edge.as_ref().map_or((0.0, 0.0), |edge| (edge.width, edge.height));
    if let Some(recess) = face.recess {
        let x = start(recess.across, width, recess.width);
        let y = start(recess.along, height, recess.height);
        return (x + (recess.width - plate.width) / 2.0, y + (recess.height - plate.height) / 2.0);
    }
    (start(face.across, width, plate.width), start(face.along, height, plate.height))
}

/// The face's own edge.
fn edge(face: &Face) -> Option<Laid> {
    let edge = face.edge.as_ref()?;
    let shape = match &edge.shape {
        FaceShape::Rectangle => Shape::Rectangle,
        FaceShape::Circle => Shape::Circle,
        FaceShape::Points(points) => Shape::Points(points.clone()),
        FaceShape::Trapezium { .. } => return inside_sides(face, [0.0; 4]),
    };
    let outline = Outline::new(edge.width, edge.height, &shape);
    Some(Laid { x: 0.0, y: 0.0, outline })
}

/// The inner edge of a trim, `more` mm further in where there is any; `None` where
/// nothing is left. A side without trim stays where it is.
fn trim_edge(face: &Face, trim: &Trim, more: f64) -> Option<Laid> {
    let wide = |width: f64| if width > 0.0 { width + more } else { 0.0 };
    match face.edge.as_ref()?.shape {
        FaceShape::Rectangle | FaceShape::Trapezium { .. } => {
            inside_sides(face, [trim.left, trim.top, trim.right, trim.bottom].map(wide))
        }
        FaceShape::Circle | FaceShape::Points(_) => edge(face)?.inset(wide(trim.left)),
    }
}

/// What is left of a rectangle or trapezium when strips along left, top, right and
/// bottom are taken off; `None` where nothing is.
fn inside_sides(face: &Face, [left, top, right, bottom]: [f64; 4]) -> Option<Laid> {
    let edge = face.edge.as_ref()?;
    let (above, below) = match edge.shape {
        FaceShape::Trapezium { top, foot } => (top, foot),
        _ => (edge.width, edge.width),
    };
    let (high, low) = (top, edge.height - bottom);
    // A side leans by so much a mm of height; a strip beside it is wider level than square.
    let lean = (below - above) / 2.0 / edge.height;
    let level = libm::hypot(1.0, lean);
    let middle = edge.width / 2.0;
    let half = |y: f64| above / 2.0 + lean * y;
    let ends = |y: f64| (middle - half(y) + left * level, middle + half(y) - right * level);
    let (upper, lower) = (ends(high), ends(low));
    if high >= low || (upper.0 >= upper.1 && lower.0 >= lower.1) {
        return None;
    }
    if lean == 0.0 {
        let (width, height) = (upper.1 - upper.0, low - high);
        let outline = Outline::new(width, height, &Shape::Rectangle);
        return Some(Laid { x: upper.0, y: high, outline });
    }
    // Where the two slants meet between top and foot, the rest is a triangle.
    let meet = |y: f64| (middle + (left - right) * level / 2.0, y);
    let closed = (left + right) * level / 2.0 - above / 2.0;
    let corners = if upper.0 >= upper.1 {
        vec![meet(closed / lean), (lower.1, low), (lower.0, low)]
    } else if lower.0 >= lower.1 {
        vec![(upper.0, high), (upper.1, high), meet(closed / lean)]
    } else {
        vec![(upper.0, high), (upper.1, high), (lower.1, low), (lower.0, low)]
    };
    let outline = Outline::new(edge.width, edge.height, &Shape::Points(corners));
    Some(Laid { x: 0.0, y: 0.0, outline })
}

fn recess_edge(face: &Face, recess: &Recess) -> Option<Laid> {
    let edge = face.edge.as_ref()?;
    let shape = match recess.shape {
        RecessShape::Circle => Shape::Circle,
        RecessShape::Box { corner } if corner > 0.0 => Shape::Rounded { corner },
        RecessShape::Box { .. } => Shape::Rectangle,
    };
    Some(Laid {
        x: start(recess.across, edge.width, recess.width),
        y: start(recess.along, edge.height, recess.height),
        outline: Outline::new(recess.width, recess.height, &shape),
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
