//! The outlines that a face has: its edge, the inner edge of its trim, its recess.

use crate::layout::{Face, FaceShape, Recess, RecessShape, Shape, Trim};
use crate::plate::Outline;

use super::{Laid, start};

/// The face's own edge.
pub(super) fn edge(face: &Face) -> Option<Laid> {
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

/// The inner edge of a trim; `None` where nothing is left. A side without trim stays
/// where it is.
pub(super) fn trim_edge(face: &Face, trim: &Trim) -> Option<Laid> {
    match face.edge.as_ref()?.shape {
        FaceShape::Rectangle | FaceShape::Trapezium { .. } => {
            inside_sides(face, [trim.left, trim.top, trim.right, trim.bottom])
        }
        FaceShape::Circle | FaceShape::Points(_) => edge(face)?.inset(trim.left),
    }
}

/// Where a plate may stand: in a recess all within its fit gap; else what is `reveal` mm
/// from the edge all round and, where there is trim, no less than the trim's gap from
/// it. `None` where nothing is left, and where the face has no size.
pub(super) fn room(face: &Face, reveal: f64) -> Option<Laid> {
    if let Some(recess) = &face.recess {
        return recess_edge(face, recess)?.inset(recess.gap);
    }
    let trim = face.trim.unwrap_or(Trim { left: 0.0, top: 0.0, right: 0.0, bottom: 0.0, gap: 0.0 });
    let wide = |width: f64| {
        if width > 0.0 { width + reveal.max(trim.gap) } else { reveal }
    };
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

/// The edge of a recess.
pub(super) fn recess_edge(face: &Face, recess: &Recess) -> Option<Laid> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{FaceEdge, FaceMaterial, Place};

    fn face(width: f64, height: f64, shape: FaceShape) -> Face {
        Face {
            edge: Some(FaceEdge { width, height, shape, slope: None }),
            material: FaceMaterial::Beech,
            thickness: None,
            grain: None,
            trim: None,
            recess: None,
            across: Place::Centred,
            along: Place::Centred,
            mark: None,
            old: None,
        }
    }

    fn near(got: [f64; 4], wanted: [f64; 4]) {
        let off = got.iter().zip(wanted).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(off < 1e-9, "{got:?} is not {wanted:?}");
    }

    #[test]
    fn strips_come_off_each_side_of_a_rectangle() {
        let face = face(150.0, 110.0, FaceShape::Rectangle);
        let left = inside_sides(&face, [10.0, 5.0, 20.0, 15.0]).unwrap();
        near(left.bounds(), [10.0, 5.0, 130.0, 95.0]);
        assert!(inside_sides(&face, [75.0, 0.0, 75.0, 0.0]).is_none());
        assert!(inside_sides(&face, [0.0, 60.0, 0.0, 60.0]).is_none());
    }

    #[test]
    fn a_strip_along_a_slant_is_as_wide_as_it_says_square_to_it() {
        // A side that leans 3 in 4: 60 mm out on 80 mm of height.
        let face = face(220.0, 80.0, FaceShape::Trapezium { top: 100.0, foot: 220.0 });
        let whole = edge(&face).unwrap();
        near(whole.bounds(), [0.0, 0.0, 220.0, 80.0]);
        let left = inside_sides(&face, [8.0, 0.0, 8.0, 10.0]).unwrap();
        // 8 mm square to a slant of 3 in 4 are 10 mm level: at the new foot, 70 mm down,
        // the slant stands 52.5 mm out from the top's end at 60 mm.
        near(left.bounds(), [60.0 - 52.5 + 10.0, 0.0, 220.0 - (60.0 - 52.5 + 10.0), 70.0]);
        // Every corner of what is left is 8 mm from its slant.
        assert!((whole.depth_of(70.0, 1e-9)).abs() < 1e-6);
        assert!((whole.depth_of(17.5, 70.0) - 8.0).abs() < 1e-9);
        // Slants that meet leave a triangle, and then nothing.
        let tip = inside_sides(&face, [44.0, 0.0, 44.0, 0.0]).unwrap();
        near(tip.bounds(), [55.0, 20.0 / 3.0, 165.0, 80.0]);
        assert!(inside_sides(&face, [88.0, 0.0, 88.0, 0.0]).is_none());
    }
}
