//! Stretches of a closed path, and those of them that come too near to a disc.
//!
//! A place on the path is a number: the index of its segment and how far along
//! it (2.25 is a quarter along the third), counted round and round.

use kurbo::{BezPath, Line, ParamCurve, PathSeg, Point};

/// Fineness to which the end of a cut is found, mm.
const FINE: f64 = 1e-6;

/// Places closer than this are one.
const SAME_PLACE: f64 = 1e-9;

/// A disc that a line keeps out of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Disc {
    pub(super) centre: Point,
    pub(super) radius: f64,
}

/// A stretch of the closed path: `from` in 0..n, `len` on from there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    pub(super) from: f64,
    pub(super) len: f64,
}

/// A closed path as segments.
#[derive(Debug, Clone)]
pub(super) struct Round {
    segments: Vec<PathSeg>,
    count: f64,
}

impl Round {
    pub(super) fn new(path: &BezPath) -> Self {
        // Nothing closes a path whose start and end agree; no segment is empty.
        let segments: Vec<PathSeg> =
            path.segments().filter(|segment| leg(segment) > SAME_PLACE).collect();
        let count = segments.iter().fold(0.0, |count, _| count + 1.0);
        Self { segments, count }
    }

    /// Number of segments: the length of the whole round in places.
    pub(super) fn count(&self) -> f64 {
        self.count
    }

    /// Stretches inside a disc, in order; never less than what is inside, at most
    /// [`FINE`] mm more at each end.
    pub(super) fn inside(&self, disc: &Disc) -> Vec<Span> {
        let mut found = Vec::new();
        let mut base = 0.0;
        for segment in &self.segments {
            search(segment, disc, (0.0, 1.0), &mut |from, to| {
                found.push(Span { from: base + from, len: to - from });
            });
            base += 1.0;
        }
        merged(found, self.count)
    }

    /// The place's point.
    pub(super) fn point(&self, place: f64) -> Point {
        let mut left = place.rem_euclid(self.count.max(1.0));
        for segment in &self.segments {
            if left <= 1.0 {
                return segment.eval(left);
            }
            left -= 1.0;
        }
        self.segments.last().map_or(Point::ZERO, PathSeg::end)
    }

    /// The segments of a stretch.
    pub(super) fn stretch(&self, span: Span) -> Vec<PathSeg> {
        let mut parts = Vec::new();
        let to = span.from + span.len;
        let mut base = 0.0;
        // The stretch may run past the start once.
        for segment in self.segments.iter().chain(&self.segments) {
            let (low, high) = ((span.from - base).max(0.0), (to - base).min(1.0));
            if high - low > SAME_PLACE {
                parts.push(segment.subsegment(low..high));
            }
            base += 1.0;
        }
        parts
    }
}

/// Length of segments, mm: of the chords of sixteenths, enough to compare by.
pub(super) fn length(segments: &[PathSeg]) -> f64 {
    segments
        .iter()
        .map(|segment| {
            (0..16u32)
                .map(|step| {
                    let at = |step: u32| segment.eval(f64::from(step) / 16.0);
                    apart(at(step), at(step + 1))
                })
                .sum::<f64>()
        })
        .sum()
}

/// Distance of two points by `libm`.
pub(super) fn apart(a: Point, b: Point) -> f64 {
    libm::hypot(a.x - b.x, a.y - b.y)
}

/// Merges stretches that overlap or touch, round the end too; a stretch is never
/// longer than the round.
pub(super) fn merged(spans: Vec<Span>, count: f64) -> Vec<Span> {
    let mut done: Vec<Span> = Vec::new();
    for mut span in spans {
        // Whatever it meets is taken in, and may let it meet more.
        while let Some(index) = done.iter().position(|other| union(*other, span, count).is_some()) {
            let other = done.swap_remove(index);
            span = union(other, span, count).unwrap_or(span);
        }
        done.push(span);
    }
    done.sort_by(|a, b| a.from.total_cmp(&b.from));
    done
}

/// Two stretches as one, where they overlap or touch.
pub(super) fn union(a: Span, b: Span, count: f64) -> Option<Span> {
    let (a_to_b, b_to_a) =
        ((b.from - a.from).rem_euclid(count), (a.from - b.from).rem_euclid(count));
    let span = if a_to_b <= a.len + SAME_PLACE {
        Span { from: a.from, len: a.len.max(a_to_b + b.len) }
    } else if b_to_a <= b.len + SAME_PLACE {
        Span { from: b.from, len: b.len.max(b_to_a + a.len) }
    } else {
        return None;
    };
    Some(Span { from: span.from, len: span.len.min(count) })
}

/// Halves a segment until each part is surely outside the disc, surely inside, or
/// so short that it may be called inside. No point moves faster along a segment
/// than its longest leg says, so "surely" is meant.
fn search(segment: &PathSeg, disc: &Disc, range: (f64, f64), found: &mut impl FnMut(f64, f64)) {
    let (from, to) = range;
    let middle = f64::midpoint(from, to);
    let reach = leg(segment) * (to - from) / 2.0;
    let gap = apart(segment.eval(middle), disc.centre) - disc.radius;
    if gap > reach {
        return;
    }
    if gap < -reach || reach < FINE / 2.0 || middle <= from || middle >= to {
        found(from, to);
        return;
    }
    search(segment, disc, (from, middle), found);
    search(segment, disc, (middle, to), found);
}

/// Greatest speed along a segment, mm for the whole parameter.
fn leg(segment: &PathSeg) -> f64 {
    match segment {
        PathSeg::Line(line) => apart(line.p0, line.p1),
        PathSeg::Quad(quad) => 2.0 * apart(quad.p0, quad.p1).max(apart(quad.p1, quad.p2)),
        PathSeg::Cubic(cubic) => {
            3.0 * apart(cubic.p0, cubic.p1)
                .max(apart(cubic.p1, cubic.p2))
                .max(apart(cubic.p2, cubic.p3))
        }
    }
}

/// Segments drawn one after another; `close` joins the last to the first.
pub(super) fn drawn(path: &mut BezPath, segments: &[PathSeg], close: bool) {
    let Some(first) = segments.first() else { return };
    path.move_to(first.start());
    for segment in segments {
        match *segment {
            PathSeg::Line(Line { p1, .. }) => path.line_to(p1),
            PathSeg::Quad(quad) => path.quad_to(quad.p1, quad.p2),
            PathSeg::Cubic(cubic) => path.curve_to(cubic.p1, cubic.p2, cubic.p3),
        }
    }
    if close {
        path.close_path();
    }
}
