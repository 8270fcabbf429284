//! The true inset of an edge of sides and arcs: all points at least so far inside.
//!
//! Every piece is moved in, and round every corner that points into the plate runs
//! an arc; these are cut where they meet, and what is nearer to some other part of
//! the edge than asked is left out. What stays closes into rounds: several where a
//! neck is too narrow for the inset.

use super::piece::{At, Curve, EQUAL, Piece, arc, cross, dot, far, minus, moved};
use super::region::inside;

/// How much nearer than asked a kept part may come, mm: far above the rounding of
/// distances on plates of metres, far below anything that is seen.
const KEPT: f64 = 1e-10;

/// Parts shorter than this are left out, mm.
const CRUMB: f64 = 1e-8;

/// How far apart ends that belong together may be, mm.
const JOINT: f64 = 1e-6;

/// The rounds of the inset; empty where nothing is left.
pub(super) fn rounds(edge: &[Piece], depth: f64) -> Vec<Vec<Piece>> {
    let raw = raw(edge, depth);
    let mut cuts: Vec<Vec<At>> = vec![Vec::new(); raw.len()];
    for (index, first) in raw.iter().enumerate() {
        for (other, second) in raw.iter().enumerate().skip(index + 1) {
            for at in crossings(first, second) {
                for cut in [index, other] {
                    cuts[cut].push(at);
                }
            }
        }
    }
    let parts = raw.iter().zip(cuts).flat_map(|(piece, cuts)| parts(piece, cuts));
    let kept = parts.filter(|part| {
        let middle = part.middle();
        inside(edge, middle) && edge.iter().all(|piece| piece.distance(middle) >= depth - KEPT)
    });
    closed(kept.collect())
}

/// All pieces moved in, with an arc round each corner that points into the plate.
fn raw(edge: &[Piece], depth: f64) -> Vec<Piece> {
    // A turn so slight that a mitre stands off the arc, or a piece too long comes
    // nearer, by less than is told from nothing.
    let slight = (8.0 * KEPT / depth).sqrt();
    let mut raw: Vec<Piece> = Vec::new();
    let mut first_at: Option<At> = None;
    let nexts = edge.iter().cycle().skip(1);
    for (piece, next) in edge.iter().zip(nexts) {
        let (end, start) = (piece.tangents().1, next.tangents().0);
        let turn = cross(end, start);
        let start_at = first_at.take();
        let mut moved_in = piece.inward(depth).map(|moved_in| match start_at {
            Some(at) => moved_in.between(at, moved_in.b),
            None => moved_in,
        });
        let (out, on) = ((-end.1, end.0), (-start.1, start.0));
        let corner = piece.b;
        let straight_on = turn.abs() < slight && dot(end, start) > 0.0;
        if straight_on {
            // Straight on: both end where they meet.
            let both = (out.0 + on.0, out.1 + on.1);
            let at = moved(corner, both, depth / (1.0 + dot(out, on)));
            moved_in = moved_in.map(|moved_in| moved_in.between(moved_in.a, at));
            first_at = Some(at);
        }
        raw.extend(moved_in);
        if turn < 0.0 && !straight_on {
            raw.extend(arc(corner, depth, (out, on), -1.0));
        }
    }
    if let (Some(at), Some(first), Some(piece)) = (first_at, raw.first_mut(), edge.first())
        && piece.inward(depth).is_some()
    {
        *first = first.between(at, first.b);
    }
    raw
}

/// A piece cut at points of it.
fn parts(piece: &Piece, cuts: Vec<At>) -> Vec<Piece> {
    let mut cuts: Vec<(f64, At)> = cuts
        .into_iter()
        .map(|at| (piece.share(at), at))
        .filter(|(share, _)| *share > 0.0 && *share < 1.0)
        .collect();
    cuts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut parts = Vec::with_capacity(cuts.len() + 1);
    let mut from = piece.a;
    for to in cuts.into_iter().map(|(_, at)| at).chain([piece.b]) {
        if far(from, to) > CRUMB {
            parts.push(piece.between(from, to));
            from = to;
        }
    }
    parts
}

/// Points in which two pieces meet.
fn crossings(first: &Piece, second: &Piece) -> Vec<At> {
    let low = |piece: &Piece| (piece.a.0.min(piece.b.0), piece.a.1.min(piece.b.1));
    let high = |piece: &Piece| (piece.a.0.max(piece.b.0), piece.a.1.max(piece.b.1));
    let ((a, b), (c, d)) = ((low(first), high(first)), (low(second), high(second)));
    if b.0 < c.0 - EQUAL || d.0 < a.0 - EQUAL || b.1 < c.1 - EQUAL || d.1 < a.1 - EQUAL {
        return Vec::new();
    }
    let found = match (first.curve, second.curve) {
        (Curve::Straight { .. }, Curve::Straight { .. }) => lines(first, second),
        (Curve::Straight { .. }, Curve::Arc { centre, radius, .. }) => {
            line_and_circle(first, centre, radius)
        }
        (Curve::Arc { centre, radius, .. }, Curve::Straight { .. }) => {
            line_and_circle(second, centre, radius)
        }
        (
            Curve::Arc { centre, radius, .. },
            Curve::Arc { centre: other, radius: other_radius, .. },
        ) => circles((centre, radius), (other, other_radius)),
    };
    let on = |at: &At| first.distance(*at) < EQUAL && second.distance(*at) < EQUAL;
    found.into_iter().filter(on).collect()
}

fn lines(first: &Piece, second: &Piece) -> Vec<At> {
    let (along, other) = (minus(first.b, first.a), minus(second.b, second.a));
    let turn = cross(along, other);
    if turn == 0.0 {
        return Vec::new();
    }
    let share = cross(minus(second.a, first.a), other) / turn;
    vec![moved(first.a, along, share)]
}

fn line_and_circle(line: &Piece, centre: At, radius: f64) -> Vec<At> {
    let Curve::Straight { normal } = line.curve else { return Vec::new() };
    let off = dot(minus(line.a, centre), normal);
    let foot = moved(centre, normal, off);
    let square = (radius - off.abs()) * (radius + off.abs());
    if square < 0.0 {
        // A line that grazes a circle by less than the last digit still meets it.
        return if off.abs() - radius < EQUAL { vec![foot] } else { Vec::new() };
    }
    let (along, half) = ((normal.1, -normal.0), square.sqrt());
    vec![moved(foot, along, half), moved(foot, along, -half)]
}

fn circles((centre, radius): (At, f64), (other, other_radius): (At, f64)) -> Vec<At> {
    let apart = far(centre, other);
    if apart < EQUAL {
        return Vec::new();
    }
    let towards = ((other.0 - centre.0) / apart, (other.1 - centre.1) / apart);
    let along = (apart + (radius - other_radius) * (radius + other_radius) / apart) / 2.0;
    let foot = moved(centre, towards, along);
    let square = (radius - along) * (radius + along);
    if square < 0.0 {
        return if along.abs() - radius < EQUAL { vec![foot] } else { Vec::new() };
    }
    let (side, half) = ((-towards.1, towards.0), square.sqrt());
    vec![moved(foot, side, half), moved(foot, side, -half)]
}

/// Kept parts put end to end.
fn closed(mut parts: Vec<Piece>) -> Vec<Vec<Piece>> {
    let mut rounds = Vec::new();
    parts.reverse();
    while let Some(first) = parts.pop() {
        let mut round = vec![first];
        let mut end = first.b;
        while far(end, first.a) > JOINT {
            let nearest = parts
                .iter()
                .enumerate()
                .map(|(index, part)| (far(end, part.a), index))
                .filter(|(gap, _)| *gap <= JOINT)
                .min_by(|a, b| a.0.total_cmp(&b.0));
            let Some((_, index)) = nearest else { break };
            let part = parts.remove(index);
            round.push(part);
            end = part.b;
        }
        let area: f64 = round.iter().map(|piece| piece.moments().0).sum();
        if area > CRUMB {
            rounds.push(round);
        }
    }
    rounds
}
