//! A piece of an outline: a straight side, or an arc within one quadrant of its
//! circle. Either way its x and its y run one way only from end to end, which is
//! what makes the exact formulas here short.
//!
//! Outlines run clockwise as seen on the plate (y down): the plate lies to the
//! right of a piece.

/// A point or a direction, mm in plate coordinates.
pub(super) type At = (f64, f64);

/// Lengths closer than this count as equal, mm.
pub(super) const EQUAL: f64 = 1e-9;

/// How a piece runs between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Curve {
    /// Straight; the unit normal points into the plate.
    Straight { normal: At },
    /// About a centre; `turn` is 1 where the plate bulges out, −1 where it is cut in.
    Arc { centre: At, radius: f64, turn: f64 },
}

/// A piece of an outline from `a` to `b`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Piece {
    pub(super) a: At,
    pub(super) b: At,
    pub(super) curve: Curve,
}

pub(super) fn minus(a: At, b: At) -> At {
    (a.0 - b.0, a.1 - b.1)
}

pub(super) fn moved(a: At, direction: At, by: f64) -> At {
    (a.0 + direction.0 * by, a.1 + direction.1 * by)
}

pub(super) fn cross(a: At, b: At) -> f64 {
    a.0 * b.1 - a.1 * b.0
}

pub(super) fn dot(a: At, b: At) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

pub(super) fn far(a: At, b: At) -> f64 {
    libm::hypot(a.0 - b.0, a.1 - b.1)
}

/// √(radius² − off²), 0 where there is none.
pub(super) fn leg(radius: f64, off: f64) -> f64 {
    ((radius - off) * (radius + off)).max(0.0).sqrt()
}

impl Piece {
    /// A straight side; `None` where both ends are one.
    pub(super) fn straight(a: At, b: At) -> Option<Self> {
        let length = far(a, b);
        let normal = ((a.1 - b.1) / length, (b.0 - a.0) / length);
        (length > 0.0 && length.is_finite()).then_some(Self {
            a,
            b,
            curve: Curve::Straight { normal },
        })
    }

    /// The same curve between two other points of it.
    pub(super) fn between(&self, a: At, b: At) -> Self {
        Self { a, b, curve: self.curve }
    }

    /// Least and greatest y.
    pub(super) fn heights(&self) -> (f64, f64) {
        (self.a.1.min(self.b.1), self.a.1.max(self.b.1))
    }

    /// Unit tangents at both ends, the way the outline runs.
    pub(super) fn tangents(&self) -> (At, At) {
        match self.curve {
            Curve::Straight { normal: (x, y) } => ((y, -x), (y, -x)),
            Curve::Arc { centre, radius, turn } => {
                let at = |end: At| {
                    let spoke = minus(end, centre);
                    (-turn * spoke.1 / radius, turn * spoke.0 / radius)
                };
                (at(self.a), at(self.b))
            }
        }
    }

    /// The middle of the piece.
    pub(super) fn middle(&self) -> At {
        let middle = (f64::midpoint(self.a.0, self.b.0), f64::midpoint(self.a.1, self.b.1));
        match self.curve {
            Curve::Straight { .. } => middle,
            Curve::Arc { centre, radius, .. } => {
                let out = minus(middle, centre);
                let length = libm::hypot(out.0, out.1);
                if length > 0.0 { moved(centre, out, radius / length) } else { self.a }
            }
        }
    }

    /// Whether a direction from an arc's centre lies between those of its ends.
    fn faces(&self, centre: At, turn: f64, spoke: At) -> bool {
        turn * cross(minus(self.a, centre), spoke) >= 0.0
            && turn * cross(spoke, minus(self.b, centre)) >= 0.0
    }

    /// Distance from a point, mm.
    pub(super) fn distance(&self, at: At) -> f64 {
        match self.curve {
            Curve::Straight { normal } => {
                let along = minus(self.b, self.a);
                let share = dot(minus(at, self.a), along);
                if share > 0.0 && share < dot(along, along) {
                    return dot(minus(at, self.a), normal).abs();
                }
            }
            Curve::Arc { centre, radius, turn } => {
                let spoke = minus(at, centre);
                if self.faces(centre, turn, spoke) {
                    return (libm::hypot(spoke.0, spoke.1) - radius).abs();
                }
            }
        }
        far(at, self.a).min(far(at, self.b))
    }

    /// x at a height; that of the nearer end beyond them.
    pub(super) fn x_at(&self, y: f64) -> f64 {
        let (low, high) = if self.a.1 <= self.b.1 { (self.a, self.b) } else { (self.b, self.a) };
        if y <= low.1 {
            return low.0;
        }
        if y >= high.1 {
            return high.0;
        }
        match self.curve {
            Curve::Straight { .. } => low.0 + (high.0 - low.0) * ((y - low.1) / (high.1 - low.1)),
            Curve::Arc { centre, radius, .. } => {
                let side = self.side(centre);
                let x = centre.0 + side * leg(radius, (y - centre.1).abs());
                x.clamp(low.0.min(high.0), low.0.max(high.0))
            }
        }
    }

    /// On which side of its centre an arc lies: 1 right, −1 left.
    fn side(&self, centre: At) -> f64 {
        if self.a.0 + self.b.0 >= 2.0 * centre.0 { 1.0 } else { -1.0 }
    }

    /// Least and greatest x between two heights that the piece reaches.
    pub(super) fn reach(&self, top: f64, bottom: f64) -> (f64, f64) {
        let (low, high) = self.heights();
        let (first, last) = if top <= low && bottom >= high {
            (self.a.0, self.b.0)
        } else {
            (self.x_at(low.max(top)), self.x_at(high.min(bottom)))
        };
        (first.min(last), first.max(last))
    }

    /// What the piece blocks across a band, as left and right end: every x from
    /// which some height of the band is nearer to the piece than `depth`. As x and
    /// y run one way along the piece, that is one stretch: as a point walks along
    /// it, what a disc about the point blocks moves without a jump.
    pub(super) fn blocks(&self, depth: f64, top: f64, bottom: f64) -> Option<(f64, f64)> {
        let (low, high) = self.heights();
        if depth <= 0.0 {
            // Nothing is nearer than 0: it blocks what it runs through.
            let meets = if top < bottom { low < bottom && top < high } else { low < high };
            let meets = meets && low <= bottom && top <= high;
            return meets.then(|| self.reach(top, bottom));
        }
        if low - bottom >= depth - EQUAL || top - high >= depth - EQUAL {
            return None;
        }
        let left = -self.end(-1.0, depth, (top, bottom));
        let right = self.end(1.0, depth, (top, bottom));
        (left < right).then_some((left, right))
    }

    /// How far the piece, thickened by `depth` on both sides, reaches within a band
    /// to the right (`sense` 1) or, mirrored, to the left (−1). Along y that reach
    /// rises up to the height of the piece's own outermost end, and falls from
    /// there: for each point of the piece there is one nearer to that end which
    /// reaches as far at a height nearer to it. What is touched by less than 1e-9 mm
    /// counts as reached, so that at the very ends nothing is lost to rounding.
    fn end(&self, sense: f64, depth: f64, (top, bottom): (f64, f64)) -> f64 {
        let (a, b) = (sense * self.a.0, sense * self.b.0);
        let low = self.heights().0;
        let y = if a > b {
            self.a.1.clamp(top, bottom)
        } else if b > a {
            self.b.1.clamp(top, bottom)
        } else {
            low.max(top).min(bottom)
        };
        let disc = |x: f64, at: f64| {
            let off = (y - at).abs();
            if off <= depth + EQUAL { x + leg(depth, off) } else { f64::NEG_INFINITY }
        };
        let ends = disc(a, self.a.1).max(disc(b, self.b.1));
        let between = match self.curve {
            Curve::Straight { normal } => {
                // The normal that points to this side.
                let flip = if sense * normal.0 >= 0.0 { 1.0 } else { -1.0 };
                let (out, down) = (sense * normal.0 * flip * depth, normal.1 * flip * depth);
                let (from, to) = (self.a.1 + down, self.b.1 + down);
                let share = (y - from) / (to - from);
                if (0.0..=1.0).contains(&share) {
                    a + out + share * (b - a)
                } else {
                    f64::NEG_INFINITY
                }
            }
            Curve::Arc { centre, radius, turn } => {
                let side = sense * self.side(centre);
                let round = radius + side * depth;
                let off = y - centre.1;
                let across = side * leg(round, off.abs());
                if round >= off.abs() - EQUAL && self.faces(centre, turn, (sense * across, off)) {
                    sense * centre.0 + across
                } else {
                    f64::NEG_INFINITY
                }
            }
        };
        ends.max(between)
    }

    /// The piece moved into the plate; `None` where an arc is used up.
    pub(super) fn inward(&self, depth: f64) -> Option<Self> {
        match self.curve {
            Curve::Straight { normal } => {
                Some(self.between(moved(self.a, normal, depth), moved(self.b, normal, depth)))
            }
            Curve::Arc { centre, radius, turn } => {
                let left = radius - turn * depth;
                let at = |end: At| moved(centre, minus(end, centre), left / radius);
                (left > EQUAL).then(|| Self {
                    a: at(self.a),
                    b: at(self.b),
                    curve: Curve::Arc { centre, radius: left, turn },
                })
            }
        }
    }

    /// How far along a point of the curve lies: 0 at `a`, 1 at `b`, rising between.
    pub(super) fn share(&self, at: At) -> f64 {
        let along = minus(self.b, self.a);
        dot(minus(at, self.a), along) / dot(along, along)
    }

    /// Twice the area between the piece and the origin, and six times its first
    /// moment about y = 0 (Green's theorem; an arc adds its circular segment).
    pub(super) fn moments(&self) -> (f64, f64) {
        let (a, b) = (self.a, self.b);
        let double = cross(a, b);
        let moment = double * (a.1 + b.1);
        let Curve::Arc { centre, radius, turn } = self.curve else { return (double, moment) };
        let (from, to) = (minus(a, centre), minus(b, centre));
        let angle = libm::atan2(cross(from, to).abs(), dot(from, to));
        let segment = turn * radius * radius * (angle - libm::sin(angle));
        // Centroid of a circular segment: 4r·sin³(θ/2) / 3(θ − sin θ) from the centre.
        let half = libm::sin(angle / 2.0);
        let out = minus(self.middle(), centre).1 / radius;
        let lever = turn * 4.0 * radius * radius * radius * half * half * half * out;
        (double + segment, moment + 3.0 * segment * centre.1 + lever)
    }

    /// Distance from an upright box, mm; 0 where the piece enters it.
    pub(super) fn distance_to_box(&self, [left, top, right, bottom]: [f64; 4]) -> f64 {
        let (low, high) = self.heights();
        if low < bottom && top < high {
            let (first, last) = self.reach(top, bottom);
            if first < right && left < last {
                return 0.0;
            }
        }
        let off = |(x, y): At| {
            libm::hypot((left - x).max(x - right).max(0.0), (top - y).max(y - bottom).max(0.0))
        };
        // The nearest point of a piece to a side is one of its ends: between them
        // it runs neither level nor upright.
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        let corners = corners.into_iter().map(|corner| self.distance(corner));
        corners.fold(off(self.a).min(off(self.b)), f64::min)
    }
}

/// An arc about a centre from one direction to another, as pieces within quadrants.
/// Directions are unit vectors.
pub(super) fn arc(centre: At, radius: f64, (from, to): (At, At), turn: f64) -> Vec<Piece> {
    /// Directions along the axes, clockwise as seen on the plate.
    const AXES: [At; 4] = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
    let mut stops = vec![from];
    // The axis next in the turn's sense: the first one less than a quarter on.
    let ahead = |at: At| {
        AXES.into_iter().find(|axis| turn * cross(at, *axis) > 1e-12 && dot(at, *axis) >= -1e-12)
    };
    let mut at = from;
    for _ in 0..4 {
        let Some(axis) = ahead(at) else { break };
        // Reached before the axis?
        let before = turn * cross(at, to) >= 0.0
            && dot(at, to) >= -1e-12
            && turn * cross(to, axis) >= -1e-12;
        if before {
            break;
        }
        stops.push(axis);
        at = axis;
    }
    stops.push(to);
    let point = |direction: At| moved(centre, direction, radius);
    let curve = Curve::Arc { centre, radius, turn };
    let pairs = stops.iter().zip(stops.iter().skip(1));
    pairs
        .map(|(from, to)| Piece { a: point(*from), b: point(*to), curve })
        .filter(|piece| far(piece.a, piece.b) > 1e-12)
        .collect()
}
