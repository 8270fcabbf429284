//! Ornaments in the corners of a plate: one is drawn, the others are its mirror images.

use std::f64::consts::PI;
use std::sync::Arc;

use kurbo::{Affine, BezPath, Point, Shape, Vec2};

use super::known::known;
use super::pen::{all, bar, bow, disc, leaf, upright, without};
use super::{Placed, Stands};
use crate::layout::{CornerOrnament, Corners, Plate};
use crate::lettering::Ornament;
use crate::plate::{ClearZone, ZoneKind, ZoneShape, lettering_edge};

/// White between the two angles of a bracket, in weights, and how long the inner one is.
const BETWEEN: f64 = 2.0;
const INNER: f64 = 0.5;

/// The ornaments in the corners: top left, top right, bottom left, bottom right. On an
/// ansate plate the corners are the tablet's.
#[must_use]
pub fn corners(plate: &Plate, asked: &Corners) -> Vec<Placed> {
    let Some(ornament) = top_left(asked) else { return Vec::new() };
    let off = plate.bevel + asked.inset;
    let [left, top, right, bottom] = lettering_edge(plate).bounds();
    let (left, top, right, bottom) = (left + off, top + off, right - off, bottom - off);
    let size = asked.size;
    [
        [size, 0.0, 0.0, -size, left, top + size],
        [-size, 0.0, 0.0, -size, right, top + size],
        [size, 0.0, 0.0, size, left, bottom - size],
        [-size, 0.0, 0.0, size, right, bottom - size],
    ]
    .into_iter()
    .enumerate()
    .map(|(corner, place)| Placed::new(Stands::Corner(corner), &ornament, size, Affine::new(place)))
    .collect()
}

/// The ornament as it stands in the corner at the top left.
pub(super) fn top_left(asked: &Corners) -> Option<Arc<Ornament>> {
    let drawing = match asked.ornament {
        CornerOrnament::QuarterRound => quarter_round(asked.size, asked.weight),
        CornerOrnament::Bracket => bracket(asked.size, asked.weight),
        CornerOrnament::Leaf => leaves(),
    };
    known(upright(drawing), Ornament::new)
}

/// What lettering stays out of: the square of each ornament and the white round it.
#[must_use]
pub fn zones(corners: &[Placed], gap: f64) -> Vec<ClearZone> {
    let zone = |(index, placed): (usize, &Placed)| {
        let ink = placed.path.bounding_box().inflate(gap, gap);
        let shape = ZoneShape::Box { x0: ink.x0, y0: ink.y0, x1: ink.x1, y1: ink.y1 };
        ClearZone { shape, kind: ZoneKind::Corner(index) }
    };
    corners.iter().enumerate().map(zone).collect()
}

/// A line along a quarter circle about the corner, hollow side out.
fn quarter_round(size: f64, weight: f64) -> BezPath {
    bow(size, size - weight, 0.0, PI / 2.0)
}

/// Two nested angles, the inner one half as long.
fn bracket(size: f64, weight: f64) -> BezPath {
    let from = weight * (1.0 + BETWEEN);
    let to = from + size * INNER;
    all([
        bar((0.0, 0.0), (size, weight)),
        bar((0.0, 0.0), (weight, size)),
        bar((from, from), (to, from + weight)),
        bar((from, from), (from + weight, to)),
    ])
}

/// Three leaves from the corner: one along the diagonal, one along either side.
fn leaves() -> BezPath {
    let foot = Point::new(9.0, 9.0);
    let turned = |path: BezPath| Affine::new([0.0, 1.0, 1.0, 0.0, 0.0, 0.0]) * path;
    let middle = without(
        &leaf(foot, PI / 4.0, 88.0, 34.0),
        &leaf(foot + Vec2::new(14.0, 14.0), PI / 4.0, 48.0, 6.0),
    );
    let lean = 0.06;
    let side =
        without(&leaf(foot, lean, 91.0, 24.0), &leaf(foot + Vec2::new(20.0, 1.2), lean, 52.0, 5.6));
    all([middle, turned(side.clone()), side, disc(6.5, 6.5, 6.5)])
}
