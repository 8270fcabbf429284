//! What lies inside an edge of sides and arcs, `inset` mm in.
//!
//! A point belongs to it if it is inside the edge and no piece of the edge is
//! nearer than the inset. Everything follows from that sentence: a stretch across
//! a band is free where no piece blocks it, whatever the shape; no step asks for
//! convexity. The drawn line is worked out once, by `inset`.

use std::sync::Arc;

use kurbo::BezPath;

use super::curves::closed_pieces;
use super::inset::rounds;
use super::piece::{At, Curve, EQUAL, Piece, cross};
use super::stretch::{Interval, take_out};

/// Insets below this are none, mm.
const NOTHING: f64 = 1e-7;

/// Cuts without width that are this near are one, mm.
const ONE_CUT: f64 = 1e-12;

/// The inside of an edge, less an inset.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Region {
    /// The plate's edge.
    edge: Arc<[Piece]>,
    /// How far inside it the region begins, mm.
    inset: f64,
    /// Its own outline, round by round.
    rounds: Vec<Vec<Piece>>,
    /// Left, top, right, bottom of the outline.
    bounds: [f64; 4],
}

impl Region {
    /// All inside an edge.
    pub(super) fn whole(edge: Vec<Piece>) -> Self {
        let edge: Arc<[Piece]> = edge.into();
        let rounds = vec![edge.to_vec()];
        Self { bounds: bounds(&rounds), edge, inset: 0.0, rounds }
    }

    /// The region `inset` mm inside the same edge; `None` where nothing is left.
    pub(super) fn at(&self, inset: f64) -> Option<Self> {
        if inset < NOTHING {
            return Some(Self::whole(self.edge.to_vec()));
        }
        let rounds = rounds(&self.edge, inset);
        (!rounds.is_empty()).then(|| Self {
            edge: Arc::clone(&self.edge),
            inset,
            bounds: bounds(&rounds),
            rounds,
        })
    }

    pub(super) fn bounds(&self) -> [f64; 4] {
        self.bounds
    }

    /// Free stretches common to a band inside the bounds, into a list that is empty.
    pub(super) fn stretches(&self, top: f64, bottom: f64, found: &mut Vec<Interval>) {
        let [left, _, right, _] = self.bounds;
        found.push(Interval { left: left - 1.0, right: right + 1.0 });
        for piece in self.edge.iter() {
            if let Some((left, right)) = piece.blocks(self.inset, top, bottom) {
                take_out(found, Interval { left, right });
            }
        }
        // Between two blocks all is inside or all is outside.
        let middle = f64::midpoint(top, bottom);
        found.retain(|free| {
            let at = (f64::midpoint(free.left, free.right), middle);
            inside(&self.edge, at) || (top >= bottom && self.inset <= 0.0 && self.on_level(at))
        });
        // A corner that only touches parts nothing.
        found.dedup_by(|next, free| {
            let one = next.left - free.right <= ONE_CUT;
            if one {
                free.right = next.right;
            }
            one
        });
        found.retain(|free| free.right - free.left > ONE_CUT);
    }

    /// Whether a point lies on a level side.
    fn on_level(&self, (x, y): At) -> bool {
        self.edge.iter().any(|piece| {
            let (low, high) = piece.heights();
            low >= high && (low - y).abs() <= EQUAL && {
                let (left, right) = piece.reach(y, y);
                left <= x && x <= right
            }
        })
    }

    /// Signed distance to the outline, positive inside, mm.
    pub(super) fn depth(&self, at: At) -> f64 {
        let to = |pieces: &[Piece]| {
            pieces.iter().map(|piece| piece.distance(at)).fold(f64::INFINITY, f64::min)
        };
        let from_edge = to(&self.edge);
        let within = inside(&self.edge, at);
        if within && from_edge >= self.inset {
            // Along the shortest way to the edge every mm brings it a mm nearer.
            return from_edge - self.inset;
        }
        if self.inset <= 0.0 {
            return -from_edge;
        }
        -self.rounds.iter().map(|round| to(round)).fold(f64::INFINITY, f64::min)
    }

    /// Least distance from a box inside to the outline; 0 where the outline enters
    /// the box; the depth of the corner farthest out where one is outside.
    pub(super) fn depth_of_box(&self, sides: [f64; 4]) -> f64 {
        let [left, top, right, bottom] = sides;
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        let worst =
            corners.into_iter().map(|corner| self.depth(corner)).fold(f64::INFINITY, f64::min);
        if worst <= 0.0 {
            return worst;
        }
        let pieces = self.rounds.iter().flatten();
        pieces.map(|piece| piece.distance_to_box(sides)).fold(worst, f64::min)
    }

    /// Whether a box takes something away from the region.
    pub(super) fn meets_box(&self, sides: [f64; 4]) -> bool {
        let [left, top, right, bottom] = sides;
        let middle = (f64::midpoint(left, right), f64::midpoint(top, bottom));
        left < right
            && top < bottom
            && (self.depth(middle) > 0.0
                || self.rounds.iter().flatten().any(|piece| piece.distance_to_box(sides) <= 0.0))
    }

    /// The outline, a path a round.
    pub(super) fn paths(&self) -> Vec<BezPath> {
        self.rounds.iter().map(|round| closed_pieces(round)).collect()
    }

    /// Area, mm².
    pub(super) fn area(&self) -> f64 {
        self.rounds.iter().flatten().map(|piece| piece.moments().0).sum::<f64>() / 2.0
    }

    /// y of the centre of area, mm.
    pub(super) fn centre_y(&self) -> f64 {
        let moments = self.rounds.iter().flatten().map(Piece::moments);
        let (area, moment) = moments.fold((0.0, 0.0), |sum, at| (sum.0 + at.0, sum.1 + at.1));
        if area > 0.0 {
            moment / (3.0 * area)
        } else {
            f64::midpoint(self.bounds[1], self.bounds[3])
        }
    }

    /// Heights at which the width changes its course.
    pub(super) fn breaks(&self) -> impl Iterator<Item = f64> {
        self.rounds.iter().flatten().map(|piece| piece.a.1)
    }

    /// Whether the outline is convex.
    pub(super) fn convex(&self) -> bool {
        let [round] = self.rounds.as_slice() else { return false };
        let nexts = round.iter().cycle().skip(1);
        round.iter().zip(nexts).all(|(piece, next)| {
            let cut_in = matches!(piece.curve, Curve::Arc { turn, .. } if turn < 0.0);
            !cut_in && cross(piece.tangents().1, next.tangents().0) >= -EQUAL
        })
    }

    /// Whether the outline is a plain upright rectangle.
    pub(super) fn is_rectangle(&self) -> bool {
        let upright = |piece: &Piece| match piece.curve {
            Curve::Straight { normal } => normal.0 == 0.0 || normal.1 == 0.0,
            Curve::Arc { .. } => false,
        };
        self.rounds.iter().flatten().all(upright) && self.convex()
    }
}

/// Whether a point is inside an edge: a line to its left crosses it an odd number
/// of times.
pub(super) fn inside(edge: &[Piece], (x, y): At) -> bool {
    let crossed = edge.iter().filter(|piece| {
        let (low, high) = piece.heights();
        low <= y && y < high && piece.x_at(y) < x
    });
    crossed.count() % 2 == 1
}

fn bounds(rounds: &[Vec<Piece>]) -> [f64; 4] {
    let ends = || rounds.iter().flatten().map(|piece| piece.a);
    let least = |of: fn(At) -> f64| ends().map(of).fold(f64::INFINITY, f64::min);
    let most = |of: fn(At) -> f64| ends().map(of).fold(f64::NEG_INFINITY, f64::max);
    [least(|at| at.0), least(|at| at.1), most(|at| at.0), most(|at| at.1)]
}
