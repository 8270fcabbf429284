//! An outline as straight edges with the ink on their left.

use kurbo::{BezPath, PathEl, Point, Rect, Vec2};

use super::ball::STEP;
use super::{CORNER_COS, FLATTEN};

/// Most edges that are measured: a letter has a few hundred. One with more is a picture,
/// and is followed more coarsely, up to `COARSEST`, until it has fewer.
const MOST_EDGES: usize = 6000;

/// How far the polygon of such a picture may leave the curve, cap heights.
const COARSEST: f64 = 0.001;

/// Most places times edges that are looked at: a letter has a fiftieth of it, and this takes
/// about a quarter of a second. Beyond it a glyph is not measured, and a finding says so.
const MOST_LOOKS: f64 = 4e7;

/// Edges shorter than this are left out, cap heights: they have no direction to speak of.
const NO_LENGTH: f64 = 1e-9;

/// A hole that is narrower than this on average, cap heights, is a slip of whoever drew the
/// overlap of two strokes (the worst of the shipped faces is 0.0003, their thinnest hairline
/// 0.010), and no counter: it is 0.01 mm wide on capitals of 10 mm. Own choice.
const SLIVER: f64 = 0.001;

/// Ink as thin as that is such a slip if it is no longer round than this, cap heights.
const SPECK: f64 = 0.05;

/// Edges to a block.
const BLOCK: usize = 16;

/// One straight edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    pub(super) from: Point,
    pub(super) to: Point,
    /// Direction, of length 1.
    pub(super) along: Vec2,
    pub(super) length: f64,
    /// Index of its contour.
    pub(super) contour: usize,
    /// Length of the contour before it.
    pub(super) start: f64,
    /// Twice the area swept from the origin by the contour before it.
    pub(super) swept: f64,
}

impl Edge {
    pub(super) fn middle(&self) -> Point {
        self.from.midpoint(self.to)
    }

    /// The point at a distance from its start.
    pub(super) fn point(&self, distance: f64) -> Point {
        self.from + self.along * distance
    }

    /// Distance along it of the point nearest to another.
    pub(super) fn foot(&self, point: Point) -> f64 {
        (point - self.from).dot(self.along).clamp(0.0, self.length)
    }

    /// Unit normal into the ink.
    pub(super) fn ink_normal(&self) -> Vec2 {
        Vec2::new(-self.along.y, self.along.x)
    }
}

/// A closed contour: its edges and what they sum up to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contour {
    pub(super) first: usize,
    pub(super) end: usize,
    pub(super) length: f64,
    /// Area, below 0 for a hole.
    pub(super) area: f64,
    /// Index of the outer contour that it belongs to; its own for an outer one.
    pub(super) part: usize,
}

/// Some edges that follow each other, and the box round them, by which all of them are ruled
/// out at once.
#[derive(Debug, Clone, Copy)]
pub(super) struct Block {
    pub(super) first: usize,
    pub(super) end: usize,
    bounds: Rect,
}

impl Block {
    /// Whether no ball of a radius that touches `point` and lies on the side of `normal`
    /// reaches it.
    pub(super) fn out_of_reach(&self, point: Point, normal: Vec2, radius: f64) -> bool {
        let (x, y) = (self.bounds.x0..self.bounds.x1, self.bounds.y0..self.bounds.y1);
        let far = |low: f64, high: f64, at: f64| (low - at).max(at - high).max(0.0);
        let across = Vec2::new(far(x.start, x.end, point.x), far(y.start, y.end, point.y));
        let ahead = (if normal.x > 0.0 { x.end } else { x.start } - point.x) * normal.x
            + (if normal.y > 0.0 { y.end } else { y.start } - point.y) * normal.y;
        ahead < 0.0 || across.hypot2() > 4.0 * radius * radius
    }

    /// Whether it lies off a ball.
    pub(super) fn off(&self, centre: Point, radius: f64) -> bool {
        let near = Point::new(
            centre.x.clamp(self.bounds.x0, self.bounds.x1),
            centre.y.clamp(self.bounds.y0, self.bounds.y1),
        );
        (near - centre).hypot2() > radius * radius
    }
}

/// A place on a contour.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub(super) edge: usize,
    /// From the edge's start.
    pub(super) distance: f64,
}

/// What a stretch of a contour shuts off together with the straight line between its ends.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cap {
    /// Length of the stretch.
    pub(super) arc: f64,
    /// Area shut off: above 0 if ink lies along it, below 0 for ground.
    pub(super) area: f64,
}

/// All edges of an outline.
#[derive(Debug, Clone, Default)]
pub(super) struct Walls {
    pub(super) edges: Vec<Edge>,
    pub(super) blocks: Vec<Block>,
    pub(super) contours: Vec<Contour>,
    pub(super) bounds: Option<Rect>,
}

impl Walls {
    /// Edges of a united outline (outer contours of positive area, holes of negative).
    /// `None` for one that is not finite, or is more than can be measured.
    pub(super) fn of(path: &BezPath) -> Option<Self> {
        if !path.is_finite() {
            return None;
        }
        let mut tolerance = FLATTEN;
        while tolerance <= COARSEST {
            let walls = Self::flattened(path, tolerance);
            if walls.edges.len() <= MOST_EDGES {
                return (walls.looks() <= MOST_LOOKS).then_some(walls);
            }
            tolerance *= 2.0;
        }
        None
    }

    /// Places that will be looked at, times edges to look for.
    fn looks(&self) -> f64 {
        let places: f64 = self.edges.iter().map(|edge| (edge.length / STEP).ceil()).sum();
        self.edges.iter().map(|_| places).sum()
    }

    fn flattened(path: &BezPath, tolerance: f64) -> Self {
        let mut rounds: Vec<Vec<Point>> = Vec::new();
        kurbo::flatten(path.iter(), tolerance, |element| match element {
            PathEl::MoveTo(point) => rounds.push(vec![point]),
            PathEl::LineTo(point) => {
                if let Some(round) = rounds.last_mut() {
                    round.push(point);
                }
            }
            _ => {}
        });
        let mut walls = Self::default();
        for round in &rounds {
            walls.add(round);
        }
        walls.bounds = walls.blocks.iter().map(|block| block.bounds).reduce(|a, b| a.union(b));
        let parts: Vec<usize> =
            (0..walls.contours.len()).map(|contour| walls.part(contour)).collect();
        for (contour, part) in walls.contours.iter_mut().zip(parts) {
            contour.part = part;
        }
        walls
    }

    fn add(&mut self, round: &[Point]) {
        let mut points: Vec<Point> = Vec::with_capacity(round.len());
        for point in round {
            if points.last().is_none_or(|last| last.distance(*point) > NO_LENGTH) {
                points.push(*point);
            }
        }
        while points.len() > 1
            && points.first().zip(points.last()).is_some_and(|(a, b)| a.distance(*b) <= NO_LENGTH)
        {
            points.pop();
        }
        if points.len() < 3 {
            return;
        }
        let contour = self.contours.len();
        let first = self.edges.len();
        let (mut start, mut swept) = (0.0, 0.0);
        for (from, to) in points.iter().zip(points.iter().cycle().skip(1)) {
            let across = *to - *from;
            let length = libm::hypot(across.x, across.y);
            let along = across / length;
            self.edges.push(Edge { from: *from, to: *to, along, length, contour, start, swept });
            start += length;
            swept += from.to_vec2().cross(to.to_vec2());
        }
        let end = self.edges.len();
        let area = swept / 2.0;
        if 2.0 * area.abs() < SLIVER * start && (area < 0.0 || start < SPECK) {
            self.edges.truncate(first);
            return;
        }
        self.contours.push(Contour { first, end, length: start, area, part: contour });
        for first in (first..end).step_by(BLOCK) {
            let end = (first + BLOCK).min(end);
            let edges = self.edges.get(first..end).unwrap_or_default().iter();
            let boxes = edges.map(|edge| Rect::from_points(edge.from, edge.to));
            if let Some(bounds) = boxes.reduce(|a, b| a.union(b)) {
                self.blocks.push(Block { first, end, bounds });
            }
        }
    }

    /// The smallest outer contour round a hole; an outer contour is its own.
    fn part(&self, at: usize) -> usize {
        let Some(own) = self.contours.get(at) else { return at };
        let Some(point) = self.edges.get(own.first).map(Edge::middle) else { return at };
        if own.area >= 0.0 {
            return at;
        }
        let outer =
            self.contours.iter().enumerate().filter(|(_, contour)| contour.area > -own.area);
        outer
            .filter(|(_, contour)| self.inside(contour, point))
            .min_by(|(_, a), (_, b)| a.area.total_cmp(&b.area))
            .map_or(at, |(index, _)| index)
    }

    fn inside(&self, contour: &Contour, point: Point) -> bool {
        let edges = self.edges.get(contour.first..contour.end).unwrap_or_default();
        let crossed = edges.iter().filter(|edge| {
            (edge.from.y > point.y) != (edge.to.y > point.y)
                && (point.y - edge.from.y) / (edge.to.y - edge.from.y) * (edge.to.x - edge.from.x)
                    + edge.from.x
                    > point.x
        });
        crossed.count() % 2 == 1
    }

    /// Whether a point lies in the ink, by the even-odd rule, which is the nonzero one for
    /// united outlines.
    pub(super) fn holds(&self, point: Point) -> bool {
        self.contours.iter().filter(|contour| self.inside(contour, point)).count() % 2 == 1
    }

    /// Distance of a point from the nearest edge.
    pub(super) fn distance(&self, point: Point) -> f64 {
        let mut least = f64::INFINITY;
        for block in self.blocks.iter() {
            if block.off(point, least) {
                continue;
            }
            for edge in self.edges.get(block.first..block.end).unwrap_or_default() {
                let across = edge.point(edge.foot(point)) - point;
                least = least.min(libm::hypot(across.x, across.y));
            }
        }
        least
    }

    /// The edge before one on its contour.
    pub(super) fn before(&self, at: usize) -> Option<&Edge> {
        let contour = self.contours.get(self.edges.get(at)?.contour)?;
        let before = if at == contour.first { contour.end - 1 } else { at - 1 };
        self.edges.get(before)
    }

    /// Whether the start of an edge is a corner, and how it turns: above 0 to the left,
    /// where the ink has the corner; below 0 where the ground has it.
    pub(super) fn corner(&self, at: usize) -> Option<f64> {
        let (edge, before) = (self.edges.get(at)?, self.before(at)?);
        (before.along.dot(edge.along) < CORNER_COS).then(|| before.along.cross(edge.along))
    }

    /// What the contour shuts off from one spot on to another; `None` for spots of two
    /// contours.
    pub(super) fn cap(&self, from: Spot, to: Spot) -> Option<Cap> {
        let (a, b) = (self.edges.get(from.edge)?, self.edges.get(to.edge)?);
        if a.contour != b.contour {
            return None;
        }
        let contour = self.contours.get(a.contour)?;
        let (start, end) = (a.point(from.distance), b.point(to.distance));
        let swept =
            |edge: &Edge, point: Point| edge.swept + edge.from.to_vec2().cross(point.to_vec2());
        let mut arc = b.start + to.distance - a.start - from.distance;
        let mut twice = swept(b, end) - swept(a, start);
        if arc < 0.0 {
            arc += contour.length;
            twice += 2.0 * contour.area;
        }
        Some(Cap { arc, area: (twice + end.to_vec2().cross(start.to_vec2())) / 2.0 })
    }
}
