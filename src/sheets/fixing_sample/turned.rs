//! Shapes about an axis, from their half profiles.

use kurbo::{Arc, BezPath, Point, Shape};

/// Along the axis, and from it, mm.
pub(super) type Half = (f64, f64);

/// The closed outline of something turned, by its half profile from left to right.
pub(super) fn turned(profile: &[Half]) -> BezPath {
    let mut path = BezPath::new();
    let upper = profile.iter().map(|(x, r)| Point::new(*x, -r));
    let lower = profile.iter().rev().map(|(x, r)| Point::new(*x, *r));
    for (index, at) in upper.chain(lower).enumerate() {
        if index == 0 { path.move_to(at) } else { path.line_to(at) }
    }
    path.close_path();
    path
}

/// A box about the axis.
pub(super) fn straight_body(from: f64, to: f64, radius: f64) -> BezPath {
    turned(&[(from, radius), (to, radius)])
}

/// A dome whose flat side stands at `base`, and whose top at `top`.
pub(super) fn dome(base: f64, top: f64, radius: f64) -> BezPath {
    let (quarter, half) = (std::f64::consts::FRAC_PI_2, std::f64::consts::PI);
    let arc = Arc::new((base, 0.0), (base - top, radius), quarter, half, 0.0);
    let mut path = arc.to_path(0.005);
    path.close_path();
    path
}

/// Two lines along the axis, one on each side of it.
pub(super) fn both_sides(from: f64, to: f64, radius: f64) -> BezPath {
    let mut path = BezPath::new();
    for side in [-radius, radius] {
        path.move_to((from, side));
        path.line_to((to, side));
    }
    path
}
