//! How shapes are put together: parts added, parts taken away, halves mirrored. Here y
//! runs down, as on paper.

use kurbo::{Affine, Arc, BezPath, Circle, Point, Rect, Shape, Vec2};
use linesweeper::{BinaryOp, FillRule, binary_op_with_eps};

use crate::lettering::united;

/// How far united curves may leave the parts', in units of a drawing that is some hundred
/// units high.
const ACCURACY: f64 = 1e-6;

/// How far a bow may leave its circle, in radii.
const ROUND: f64 = 1e-5;

/// Parts united.
pub(super) fn all(parts: impl IntoIterator<Item = BezPath>) -> BezPath {
    let turned = parts
        .into_iter()
        .map(|part| if part.area() < 0.0 { part.reverse_subpaths() } else { part });
    united(&turned.flat_map(|part| part.into_iter()).collect(), ACCURACY)
}

/// A shape without what another covers.
pub(super) fn without(shape: &BezPath, taken: &BezPath) -> BezPath {
    let left = binary_op_with_eps(shape, taken, FillRule::NonZero, BinaryOp::Difference, ACCURACY);
    // Both are finite: they are our own.
    left.map_or_else(
        |_| shape.clone(),
        |left| left.contours().flat_map(|contour| contour.path.iter()).collect(),
    )
}

/// A shape and its mirror image to the left of the line x = 0.
pub(super) fn both_sides(half: BezPath) -> BezPath {
    let mirrored = Affine::FLIP_X * half.clone();
    all([half, mirrored])
}

/// A drawing as lettering has it: y up.
pub(super) fn upright(drawing: BezPath) -> BezPath {
    Affine::FLIP_Y * drawing
}

/// A rectangle by two corners.
pub(super) fn bar((x0, y0): (f64, f64), (x1, y1): (f64, f64)) -> BezPath {
    Rect::new(x0, y0, x1, y1).to_path(ACCURACY)
}

/// A disc.
pub(super) fn disc(x: f64, y: f64, radius: f64) -> BezPath {
    Circle::new((x, y), radius).to_path(ACCURACY)
}

/// A line of even thickness along a circle about 0, from an angle (radians, clockwise from
/// the right) by another, between two radii.
pub(super) fn bow(outer: f64, inner: f64, from: f64, sweep: f64) -> BezPath {
    let arc = |radius: f64, from: f64, sweep: f64| {
        Arc::new(Point::ORIGIN, Vec2::new(radius, radius), from, sweep, 0.0)
    };
    let (sin, cos) = libm::sincos(from);
    let mut path = BezPath::new();
    path.move_to((outer * cos, outer * sin));
    path.extend(arc(outer, from, sweep).append_iter(ROUND * outer));
    let (sin, cos) = libm::sincos(from + sweep);
    path.line_to((inner * cos, inner * sin));
    path.extend(arc(inner, from + sweep, -sweep).append_iter(ROUND * outer));
    path.close_path();
    path
}

/// A leaf from its foot in a direction (radians, clockwise from the right): widest at two
/// fifths of its length, its tip pointed, its foot narrow.
pub(super) fn leaf(foot: Point, direction: f64, length: f64, width: f64) -> BezPath {
    let (sin, cos) = libm::sincos(direction);
    let along = Vec2::new(cos, sin);
    let across = Vec2::new(-sin, cos);
    let at = |share: f64, off: f64| foot + along * (length * share) + across * (width * off);
    let mut path = BezPath::new();
    path.move_to(at(0.0, 0.0));
    path.curve_to(at(0.12, 0.42), at(0.52, 0.98), at(1.0, 0.0));
    path.curve_to(at(0.52, -0.98), at(0.12, -0.42), at(0.0, 0.0));
    path.close_path();
    path
}
