//! The largest ball that touches an edge at a place, and what else it touches.

use kurbo::{Point, Vec2};

use super::FACING_COS;
use super::walls::{Edge, Spot, Walls};

/// Touches within this many times the smallest ball count as at once: in a round counter
/// a ball touches everywhere. Own choice: the share by which the measure may err.
pub(super) const TOGETHER: f64 = 1.02;

/// Greatest distance between places that are looked at, cap heights: the hairlines of a
/// Didone at display size, so that a run of a thin stroke's own length is seen.
pub(super) const STEP: f64 = 0.01;

/// Products of unit vectors smaller than this are 0.
const NOTHING: f64 = 1e-12;

/// Where the ball lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Medium {
    Ink,
    Ground,
}

impl Medium {
    /// Unit normal of an edge into the medium.
    fn normal(self, edge: &Edge) -> Vec2 {
        match self {
            Self::Ink => edge.ink_normal(),
            Self::Ground => -edge.ink_normal(),
        }
    }

    /// 1 for ink, -1 for ground: the sign of its caps and of turns away from it.
    pub(super) fn sign(self) -> f64 {
        match self {
            Self::Ink => 1.0,
            Self::Ground => -1.0,
        }
    }
}

/// Two places that face each other.
#[derive(Debug, Clone, Copy)]
pub(super) struct Facing {
    pub(super) width: f64,
    /// Middle of the ball between the two.
    pub(super) at: Point,
    pub(super) here: Spot,
    pub(super) there: Spot,
}

/// A place that was looked at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sample {
    /// Index of its contour.
    pub(super) contour: usize,
    /// Where it is.
    pub(super) here: Spot,
    /// Length of edge that it stands for.
    pub(super) length: f64,
    /// Largest ball, radius and centre; `None` where nothing bounds it.
    pub(super) ball: Option<(f64, Point)>,
    /// What it faces straight across.
    pub(super) facing: Option<Facing>,
}

/// All places of all edges, in their order along the contours.
pub(super) fn samples(walls: &Walls, medium: Medium) -> Vec<Sample> {
    let mut samples = Vec::with_capacity(walls.edges.len() * 2);
    let mut hint = 0;
    for (index, edge) in walls.edges.iter().enumerate() {
        let pieces = (edge.length / STEP).ceil().max(1.0);
        let step = edge.length / pieces;
        let mut middle = step / 2.0;
        while middle < edge.length {
            let here = Spot { edge: index, distance: middle };
            let (ball, facing) = touched(walls, medium, here, &mut hint);
            samples.push(Sample { contour: edge.contour, here, length: step, ball, facing });
            middle += step;
        }
    }
    samples
}

/// The largest ball that touches the stretch of edge round a sample: the stretch is cut
/// by thirds, its radius rises to one greatest value there and falls again.
pub(super) fn largest_near(walls: &Walls, medium: Medium, sample: &Sample) -> Option<(f64, Point)> {
    const CUTS: usize = 24;
    let edge = walls.edges.get(sample.here.edge)?;
    let mut low = (sample.here.distance - sample.length).max(0.0);
    let mut high = (sample.here.distance + sample.length).min(edge.length);
    let mut hint = sample.here.edge;
    let mut ball =
        |distance: f64| touched(walls, medium, Spot { distance, ..sample.here }, &mut hint).0;
    let radius = |ball: Option<(f64, Point)>| ball.map_or(0.0, |(radius, _)| radius);
    for _ in 0..CUTS {
        let third = (high - low) / 3.0;
        if radius(ball(low + third)) < radius(ball(high - third)) {
            low += third;
        } else {
            high -= third;
        }
    }
    let found = ball(f64::midpoint(low, high));
    if radius(found) < radius(sample.ball) { sample.ball } else { found }
}

/// A touch: radius of the ball, where, and the ball's direction to it.
struct Touch {
    radius: f64,
    distance: f64,
    towards: Vec2,
}

type Found = (Option<(f64, Point)>, Option<Facing>);

fn touched(walls: &Walls, medium: Medium, here: Spot, hint: &mut usize) -> Found {
    let Some(own) = walls.edges.get(here.edge) else { return (None, None) };
    let (point, normal) = (own.point(here.distance), medium.normal(own));
    let mut least = f64::INFINITY;
    // What the last place touched is near what this one touches.
    if let Some(touch) = walls.edges.get(*hint).and_then(|edge| touch(medium, point, normal, edge))
    {
        least = touch.radius;
    }
    let mut touches: Vec<(usize, Touch)> = Vec::new();
    for block in &walls.blocks {
        if block.out_of_reach(point, normal, least * TOGETHER) {
            continue;
        }
        let edges = walls.edges.get(block.first..block.end).unwrap_or_default();
        for (index, edge) in (block.first..block.end).zip(edges) {
            if index == here.edge || too_far(point, edge, least * TOGETHER) {
                continue;
            }
            let touch = touch(medium, point, normal, edge);
            let touch = touch.filter(|touch| touch.radius <= least * TOGETHER);
            let Some(touch) = touch else { continue };
            if touch.radius < least {
                least = touch.radius;
                *hint = index;
            }
            touches.push((index, touch));
        }
    }
    if !least.is_finite() {
        return (None, None);
    }
    let most = least * TOGETHER;
    let mut best: Option<(f64, Facing)> = None;
    for (index, touch) in touches {
        let nearer = best.is_none_or(|(radius, _)| touch.radius < radius);
        if touch.radius <= most && touch.towards.dot(normal) >= FACING_COS && nearer {
            let there = Spot { edge: index, distance: touch.distance };
            let at = point + normal * touch.radius;
            let width = 2.0 * touch.radius;
            best = Some((touch.radius, Facing { width, at, here, there }));
        }
    }
    (Some((least, point + normal * least)), best.map(|(_, facing)| facing))
}

/// Whether no ball of a radius that touches `point` reaches an edge.
fn too_far(point: Point, edge: &Edge, radius: f64) -> bool {
    let reach = 2.0 * radius + edge.length / 2.0;
    (edge.middle() - point).hypot2() > reach * reach
}

/// The ball that touches `point` of an edge with this normal, and another edge from
/// inside: on the edge itself `r = d / (1 - m·n)`, at its end `r = |q-p|² / 2n·(q-p)`.
fn touch(medium: Medium, point: Point, normal: Vec2, edge: &Edge) -> Option<Touch> {
    let other = medium.normal(edge);
    let off = other.dot(point - edge.from);
    let turned = 1.0 - other.dot(normal);
    if off > 0.0 && turned > NOTHING {
        let radius = off / turned;
        let foot = (point + (normal - other) * radius - edge.from).dot(edge.along);
        if foot >= 0.0 && foot <= edge.length {
            return Some(Touch { radius, distance: foot, towards: -other });
        }
    }
    let end = |distance: f64, end: Point| {
        let across = end - point;
        let ahead = normal.dot(across);
        (ahead > NOTHING).then(|| {
            let radius = across.hypot2() / (2.0 * ahead);
            Touch { radius, distance, towards: (across - normal * radius) / radius }
        })
    };
    let ends = end(0.0, edge.from).into_iter().chain(end(edge.length, edge.to));
    ends.min_by(|a, b| a.radius.total_cmp(&b.radius))
}

/// Corners of the medium's other side and what they face: the nearest point of an edge or
/// another such corner, where the ball between the two is empty.
pub(super) fn corners(walls: &Walls, medium: Medium) -> Vec<Facing> {
    let into = |at: usize| walls.corner(at).is_some_and(|turn| turn * medium.sign() < 0.0);
    let mut found = Vec::new();
    for at in (0..walls.edges.len()).filter(|at| into(*at)) {
        let Some(corner) = walls.edges.get(at).map(|edge| edge.from) else { continue };
        for (index, edge) in walls.edges.iter().enumerate() {
            let distance = edge.foot(corner);
            // The far end is the start of the next edge.
            let ends = distance >= edge.length - NOTHING;
            let starts = distance <= NOTHING;
            let across = edge.point(distance) - corner;
            let width = libm::hypot(across.x, across.y);
            let faces = !ends
                && width > NOTHING
                && nearest_of_corner(walls, at, across)
                && (starts || medium.normal(edge).dot(across) < 0.0)
                && (!starts || (into(index) && nearest_of_corner(walls, index, -across)));
            let middle = corner + across / 2.0;
            if faces && empty(walls, middle, width / 2.0) {
                let here = Spot { edge: at, distance: 0.0 };
                let there = Spot { edge: index, distance };
                found.push(Facing { width, at: middle, here, there });
            }
        }
    }
    found
}

/// Whether no point beside a corner lies nearer to what lies `across`.
fn nearest_of_corner(walls: &Walls, at: usize, across: Vec2) -> bool {
    let (Some(edge), Some(before)) = (walls.edges.get(at), walls.before(at)) else { return false };
    across.dot(edge.along) <= NOTHING && across.dot(before.along) >= -NOTHING
}

/// Whether no edge comes into a ball, but for a hundredth of it.
fn empty(walls: &Walls, centre: Point, radius: f64) -> bool {
    let least = radius * (1.0 - (TOGETHER - 1.0) / 2.0);
    let near = walls.blocks.iter().filter(|block| !block.off(centre, least));
    near.flat_map(|block| walls.edges.get(block.first..block.end).unwrap_or_default()).all(|edge| {
        let near = edge.point(edge.foot(centre)) - centre;
        near.hypot2() >= least * least
    })
}
