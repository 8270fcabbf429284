//! Closed paths of arcs and parallel curves as cubic Béziers.
//!
//! Kurbo's own arcs lean on the standard sines, which differ between machines;
//! these are built from `libm` and tested against their own true curve.

use std::f64::consts::FRAC_PI_2;

use kurbo::{BezPath, Point};

use super::cut::apart;
use super::oval::Parallel;
use super::piece::{Curve, Piece, cross, dot, minus, moved};

/// How far a Bézier may stand off its true curve where it is tested (at its
/// eighths), mm: half of the 0.001 mm that is promised.
const TOLERANCE: f64 = 0.0005;

/// Most pieces a quadrant is cut into; error falls with the fourth power at
/// least, so only hostile proportions get here.
const MOST_PIECES: u32 = 1024;

/// A corner arc: its centre, and which way it bulges (1 or −1).
#[derive(Debug, Clone, Copy)]
pub(super) struct Corner {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) right: f64,
    pub(super) down: f64,
}

/// A closed polygon through its corners in turn, of which it has at least one.
#[must_use]
pub fn closed_polygon(points: &[(f64, f64)]) -> BezPath {
    let mut path = BezPath::new();
    for (index, point) in points.iter().enumerate() {
        if index == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path.close_path();
    path
}

/// A closed round of sides and arcs.
pub(super) fn closed_pieces(round: &[Piece]) -> BezPath {
    let mut path = BezPath::new();
    let count = round.len();
    for (index, piece) in round.iter().enumerate() {
        if index == 0 {
            path.move_to(piece.a);
        }
        match piece.curve {
            Curve::Straight { .. } if index + 1 == count => {}
            Curve::Straight { .. } => path.line_to(piece.b),
            Curve::Arc { .. } => push_arc(&mut path, piece),
        }
    }
    path.close_path();
    path
}

/// An arc as cubics. One that turns by θ stands off by at most
/// r·2/27·sin⁶(θ/4)/cos²(θ/4).
fn push_arc(path: &mut BezPath, piece: &Piece) {
    let Curve::Arc { centre, radius, turn } = piece.curve else { return };
    let (from, to) = (minus(piece.a, centre), minus(piece.b, centre));
    let angle = libm::atan2(cross(from, to).abs(), dot(from, to));
    let mut count = 1u32;
    while count < MOST_PIECES {
        let (sin, cos) = libm::sincos(angle / f64::from(count) / 4.0);
        if radius * 2.0 / 27.0 * sin * sin * sin * sin * sin * sin / (cos * cos) <= TOLERANCE {
            break;
        }
        count *= 2;
    }
    let step = angle / f64::from(count);
    let handle = 4.0 / 3.0 * libm::tan(step / 4.0) * turn;
    let spoke = |index: u32| {
        if index == count {
            return to;
        }
        let (sin, cos) = libm::sincos(step * f64::from(index) * turn);
        (from.0 * cos - from.1 * sin, from.0 * sin + from.1 * cos)
    };
    for index in 0..count {
        let (a, b) = (spoke(index), spoke(index + 1));
        let out =
            |spoke: (f64, f64), by: f64| moved(moved(centre, spoke, 1.0), (-spoke.1, spoke.0), by);
        let end = if index + 1 == count { piece.b } else { moved(centre, b, 1.0) };
        path.curve_to(out(a, handle), out(b, -handle), end);
    }
}

/// A rectangle with round corners, given clockwise from the top right.
pub(super) fn closed_rounded(radius: f64, corners: [Corner; 4]) -> BezPath {
    let quadrant = quadrant(&Parallel::new(radius, radius, 0.0));
    let mut path = BezPath::new();
    for (index, corner) in corners.iter().enumerate() {
        let place = |(u, v): (f64, f64)| {
            Point::new(corner.x + corner.right * u, corner.y + corner.down * v)
        };
        // The quadrant runs from (r, 0) to (0, r); clockwise on the plate that is
        // forwards at the bottom right and the top left.
        push(&mut path, &quadrant, corner.right * corner.down > 0.0, index == 0, place);
    }
    path.close_path();
    path
}

/// An oval or its parallel curve about `centre`; `tall`: long axis upright.
pub(super) fn closed_oval(curve: &Parallel, centre: (f64, f64), tall: bool) -> BezPath {
    let quadrant = quadrant(curve);
    let mut path = BezPath::new();
    for (index, (long, short)) in
        [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].into_iter().enumerate()
    {
        let place = |(u, v): (f64, f64)| {
            if tall {
                Point::new(centre.0 - short * v, centre.1 + long * u)
            } else {
                Point::new(centre.0 + long * u, centre.1 + short * v)
            }
        };
        push(&mut path, &quadrant, long * short > 0.0, index == 0, place);
    }
    path.close_path();
    path
}

/// A cubic: start, two handles, end.
type Cubic = [(f64, f64); 4];

/// Adds a quadrant, forwards or backwards, with a line to its start where the
/// path is not there yet.
fn push(
    path: &mut BezPath,
    quadrant: &[Cubic],
    forwards: bool,
    first: bool,
    place: impl Fn((f64, f64)) -> Point,
) {
    let count = quadrant.len();
    for index in 0..count {
        let piece = if forwards { index } else { count - 1 - index };
        let Some([a, b, c, d]) = quadrant.get(piece).copied() else { continue };
        let [a, b, c, d] = if forwards { [a, b, c, d] } else { [d, c, b, a] }.map(&place);
        if index == 0 && first {
            path.move_to(a);
        } else if index == 0 && path.current_position().is_some_and(|at| apart(at, a) > 1e-9) {
            path.line_to(a);
        }
        path.curve_to(b, c, d);
    }
}

/// The first quadrant of a curve, long axis to short, in as few pieces as hold
/// the tolerance.
fn quadrant(curve: &Parallel) -> Vec<Cubic> {
    let mut pieces = 2;
    loop {
        let cubics = cubics(curve, pieces);
        if pieces >= MOST_PIECES || cubics.iter().all(|cubic| true_to(curve, cubic)) {
            return cubics;
        }
        pieces *= 2;
    }
}

fn cubics(curve: &Parallel, pieces: u32) -> Vec<Cubic> {
    let span = FRAC_PI_2 - curve.start();
    let step = span / f64::from(pieces);
    // Handles of the best cubic for a circular arc of this angle; for other curves
    // the same to the order that matters.
    let handle = 4.0 / 3.0 * libm::tan(step / 4.0);
    let node = |index: u32| {
        // The ends are on the axes exactly.
        let t = curve.start() + step * f64::from(index);
        let at = match index {
            0 => (curve.reach(), 0.0),
            last if last == pieces => (0.0, curve.height()),
            _ => curve.at(t),
        };
        (at, curve.tangent(t))
    };
    (0..pieces)
        .map(|index| {
            let ((a, from), (d, to)) = (node(index), node(index + 1));
            let b = (a.0 + handle * from.0, a.1 + handle * from.1);
            let c = (d.0 - handle * to.0, d.1 - handle * to.1);
            [a, b, c, d]
        })
        .collect()
}

fn true_to(curve: &Parallel, cubic: &Cubic) -> bool {
    (1..8u32).all(|eighth| {
        let (u, v) = point_at(cubic, f64::from(eighth) / 8.0);
        curve.depth(u, v).abs() <= TOLERANCE
    })
}

fn point_at(cubic: &Cubic, t: f64) -> (f64, f64) {
    let s = 1.0 - t;
    let [a, b, c, d] = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
    let [p, q, r, z] = *cubic;
    (a * p.0 + b * q.0 + c * r.0 + d * z.0, a * p.1 + b * q.1 + c * r.1 + d * z.1)
}
