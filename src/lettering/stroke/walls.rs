//! An outline as straight edges with the ink on their left.

use kurbo::{BezPath, PathEl, Point, Rect, Vec2};

use super::{CORNER_COS, FLATTEN_EM};

/// Most edges that are measured: a letter has a few hundred. One with more is a picture,
/// and is followed more coarsely until it has fewer.
const MOST_EDGES: usize = 6000;

/// Edges shorter than this are left out, em: they have no direction to speak of.
const NO_LENGTH: f64 = 1e-9;

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
    pub(super) contours: Vec<Contour>,
    pub(super) bounds: Option<Rect>,
}

impl Walls {
    /// Edges of a united outline (outer contours of positive area, holes of negative).
    pub(super) fn of(path: &BezPath) -> Self {
        if !path.is_finite() {
            return Self::default();
        }
        let mut tolerance = FLATTEN_EM;
        loop {
            let walls = Self::flattened(path, tolerance);
            // Straight edges stay: a few doublings are enough for any curve.
            if walls.edges.len() <= MOST_EDGES || tolerance > 0.1 {
                return if walls.edges.len() <= MOST_EDGES { walls } else { Self::default() };
            }
            tolerance *= 2.0;
        }
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
        walls.bounds = walls
            .edges
            .iter()
            .map(|edge| Rect::from_points(edge.from, edge.to))
            .reduce(|a, b| a.union(b));
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
        self.contours.push(Contour { first, end, length: start, area, part: contour });
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
