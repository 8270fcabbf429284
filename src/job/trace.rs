//! A path in whole micrometres: what is digested, kept in a record and printed in a report.

use std::fmt::Write;

use kurbo::{BezPath, PathEl, Point};

/// Farthest that a coordinate may lie from zero, µm: a hundred metres. Plates are far
/// smaller; records that say more are not ours.
const FARTHEST: i64 = 100_000_000;

/// A point in whole µm, y down.
pub type Spot = (i64, i64);

/// One step of a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// A new part begins.
    Move(Spot),
    /// A straight line.
    Line(Spot),
    /// A curve with one control point.
    Quad(Spot, Spot),
    /// A curve with two.
    Cubic(Spot, Spot, Spot),
    /// Back to where the part began.
    Close,
}

impl Step {
    /// Its points, the end last, and whether there are any.
    fn points(self) -> Vec<Spot> {
        match self {
            Self::Move(a) | Self::Line(a) => vec![a],
            Self::Quad(a, b) => vec![a, b],
            Self::Cubic(a, b, c) => vec![a, b, c],
            Self::Close => Vec::new(),
        }
    }

    /// The step through the same points shifted.
    fn shifted(self, (dx, dy): Spot) -> Self {
        let to = |(x, y): Spot| (x + dx, y + dy);
        match self {
            Self::Move(a) => Self::Move(to(a)),
            Self::Line(a) => Self::Line(to(a)),
            Self::Quad(a, b) => Self::Quad(to(a), to(b)),
            Self::Cubic(a, b, c) => Self::Cubic(to(a), to(b), to(c)),
            Self::Close => Self::Close,
        }
    }
}

/// A path in whole µm.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Trace {
    /// Its steps.
    pub steps: Vec<Step>,
}

/// A length in whole µm; nothing finite on a plate comes near the ends of the range.
#[expect(clippy::cast_possible_truncation, reason = "`as` saturates; plates are at most metres")]
pub(super) fn micrometres(mm: f64) -> i64 {
    (mm * 1000.0).round() as i64
}

/// The same length in mm.
#[must_use]
pub fn millimetres(um: i64) -> f64 {
    um as f64 / 1000.0
}

impl Trace {
    /// A path in mm, rounded.
    #[must_use]
    pub fn of(path: &BezPath) -> Self {
        let spot = |p: Point| (micrometres(p.x), micrometres(p.y));
        let steps = path.elements().iter().map(|element| match *element {
            PathEl::MoveTo(a) => Step::Move(spot(a)),
            PathEl::LineTo(a) => Step::Line(spot(a)),
            PathEl::QuadTo(a, b) => Step::Quad(spot(a), spot(b)),
            PathEl::CurveTo(a, b, c) => Step::Cubic(spot(a), spot(b), spot(c)),
            PathEl::ClosePath => Step::Close,
        });
        Self { steps: steps.collect() }
    }

    /// The path moved.
    #[must_use]
    pub fn at(&self, by: Spot) -> Self {
        Self { steps: self.steps.iter().map(|step| step.shifted(by)).collect() }
    }

    /// The path in mm.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let point = |(x, y): Spot| Point::new(millimetres(x), millimetres(y));
        let steps = self.steps.iter().map(|step| match *step {
            Step::Move(a) => PathEl::MoveTo(point(a)),
            Step::Line(a) => PathEl::LineTo(point(a)),
            Step::Quad(a, b) => PathEl::QuadTo(point(a), point(b)),
            Step::Cubic(a, b, c) => PathEl::CurveTo(point(a), point(b), point(c)),
            Step::Close => PathEl::ClosePath,
        });
        steps.collect()
    }

    /// As SVG writes path data (SVG 2, 9.3): `M` with its place, all else from the point
    /// before, so that figures are short.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::new();
        let (mut here, mut began) = ((0, 0), (0, 0));
        for step in &self.steps {
            let (letter, from) = match step {
                Step::Move(_) => ('M', (0, 0)),
                Step::Line(_) => ('l', here),
                Step::Quad(..) => ('q', here),
                Step::Cubic(..) => ('c', here),
                Step::Close => ('z', here),
            };
            text.push(letter);
            for (index, (x, y)) in step.points().into_iter().enumerate() {
                let between = if index > 0 { " " } else { "" };
                // Writing into a String cannot fail.
                let _ = write!(text, "{between}{} {}", x - from.0, y - from.1);
                here = (x, y);
            }
            match step {
                Step::Move(at) => began = *at,
                Step::Close => here = began,
                _ => {}
            }
        }
        text
    }

    /// Reads what [`Self::text`] writes; `None` for anything else, and for a path that does
    /// not begin with a move or leaves a hundred metres.
    #[must_use]
    pub fn parsed(text: &str) -> Option<Self> {
        let mut steps: Vec<Step> = Vec::new();
        let (mut here, mut began) = ((0, 0), (0, 0));
        let mut rest = text;
        while let Some(letter) = rest.chars().next() {
            let tail = rest.get(letter.len_utf8()..)?;
            let end = tail.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(tail.len());
            let figures = numbers(tail.get(..end)?)?;
            rest = tail.get(end..)?;
            if steps.is_empty() && letter != 'M' {
                return None;
            }
            let from = if letter == 'M' { (0, 0) } else { here };
            let spots: Vec<Spot> =
                figures.chunks_exact(2).map(|c| (from.0 + c[0], from.1 + c[1])).collect();
            let near = |(x, y): &Spot| x.abs() <= FARTHEST && y.abs() <= FARTHEST;
            if figures.len() % 2 != 0 || !spots.iter().all(near) {
                return None;
            }
            let step = match (letter, spots.as_slice()) {
                ('M', [a]) => Step::Move(*a),
                ('l', [a]) => Step::Line(*a),
                ('q', [a, b]) => Step::Quad(*a, *b),
                ('c', [a, b, c]) => Step::Cubic(*a, *b, *c),
                ('z', []) => Step::Close,
                _ => return None,
            };
            here = spots.last().copied().unwrap_or(began);
            if letter == 'M' {
                began = here;
            }
            steps.push(step);
        }
        Some(Self { steps })
    }
}

/// Whole numbers with a space between two; `None` where one is none of ours.
pub(super) fn numbers(text: &str) -> Option<Vec<i64>> {
    if text.is_empty() {
        return Some(Vec::new());
    }
    let bounded = |n: &i64| n.abs() <= 2 * FARTHEST;
    text.split(' ').map(|word| word.parse().ok().filter(bounded)).collect()
}

#[cfg(test)]
mod tests {
    use kurbo::{BezPath, Shape};

    use super::{Step, Trace};

    #[test]
    fn a_path_is_written_from_point_to_point_and_read_back() {
        let path = BezPath::from_svg("M1 2 L4 6 Q5 6 5 7 C6 7 7 8 7 9 Z M0 0 L1 0 Z").expect("SVG");
        let trace = Trace::of(&path);
        let text = "M1000 2000l3000 4000q1000 0 1000 1000c1000 0 2000 1000 2000 2000zM0 0l1000 0z";
        assert_eq!(trace.text(), text);
        assert_eq!(Trace::parsed(text).as_ref(), Some(&trace));
        assert_eq!(trace.path(), path);
        // Another reader of path data: kurbo's.
        let read = BezPath::from_svg(text).expect("SVG");
        assert!((read.area() - path.area() * 1e6).abs() < 1e-3);
    }

    #[test]
    fn a_path_moved_keeps_its_steps() {
        let trace = Trace::parsed("M1 2l3 4z").expect("ours").at((10, -2));
        assert_eq!(trace.steps, [Step::Move((11, 0)), Step::Line((14, 4)), Step::Close]);
    }

    #[test]
    fn what_is_not_ours_is_no_path() {
        for text in [
            "l1 2",
            "M1",
            "M1 2 3",
            "M1 2l",
            "M1 2x",
            "M1 2 l3 4",
            "M1,2",
            "M 1 2",
            "M1 2z3",
            "M999999999 0",
            "M1 2l1e3 0",
            "M99999999999999999999 0",
            "é",
            "M1 2é",
        ] {
            assert_eq!(Trace::parsed(text), None, "{text}");
        }
        assert_eq!(Trace::parsed(""), Some(Trace::default()));
    }
}
