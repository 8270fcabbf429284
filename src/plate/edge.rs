//! The edges of plates that are made of sides and arcs.

use crate::layout::HandleSize;

use super::piece::{At, Curve, Piece};

/// A closed polygon, clockwise as seen on the plate whichever way it was given.
pub(super) fn polygon(points: &[At]) -> Vec<Piece> {
    let next = points.iter().cycle().skip(1);
    let sides = points.iter().zip(next).filter_map(|(a, b)| Piece::straight(*a, *b));
    let edge: Vec<Piece> = sides.collect();
    if edge.iter().map(|piece| piece.moments().0).sum::<f64>() >= 0.0 {
        return edge;
    }
    edge.iter().rev().filter_map(|piece| Piece::straight(piece.b, piece.a)).collect()
}

/// Corners cut out as quarter circles about the corners of the size.
pub(super) fn notched(width: f64, height: f64, corner: f64) -> Vec<Piece> {
    let notch = |centre: At, a: At, b: At| {
        Some(Piece { a, b, curve: Curve::Arc { centre, radius: corner, turn: -1.0 } })
    };
    let (right, bottom) = (width - corner, height - corner);
    [
        Piece::straight((corner, 0.0), (right, 0.0)),
        notch((width, 0.0), (right, 0.0), (width, corner)),
        Piece::straight((width, corner), (width, bottom)),
        notch((width, height), (width, bottom), (right, height)),
        Piece::straight((right, height), (corner, height)),
        notch((0.0, height), (corner, height), (0.0, bottom)),
        Piece::straight((0.0, bottom), (0.0, corner)),
        notch((0.0, 0.0), (0.0, corner), (corner, 0.0)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A flat foot and a head of `rise`: one arc, at most a half circle.
pub(super) fn arch(width: f64, height: f64, rise: f64) -> Vec<Piece> {
    let half = width / 2.0;
    // From the chord and the rise: R = w²/8s + s/2.
    let radius = if rise < half { half * half / (2.0 * rise) + rise / 2.0 } else { half };
    let centre = (half, radius);
    let head = |a: At, b: At| Some(Piece { a, b, curve: Curve::Arc { centre, radius, turn: 1.0 } });
    [
        Piece::straight((width, height), (0.0, height)),
        Piece::straight((0.0, height), (0.0, rise)),
        head((0.0, rise), (half, 0.0)),
        head((half, 0.0), (width, rise)),
        Piece::straight((width, rise), (width, height)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A tablet with a dovetail handle on either side.
pub(super) fn ansate(width: f64, height: f64, handle: HandleSize) -> Vec<Piece> {
    let (left, right) = (handle.width, width - handle.width);
    let up = |tall: f64| ((height - tall) / 2.0, (height + tall) / 2.0);
    let (root, tip) = (up(handle.root), up(handle.tip));
    polygon(&[
        (left, 0.0),
        (right, 0.0),
        (right, root.0),
        (width, tip.0),
        (width, tip.1),
        (right, root.1),
        (right, height),
        (left, height),
        (left, root.1),
        (0.0, tip.1),
        (0.0, tip.0),
        (left, root.0),
    ])
}
