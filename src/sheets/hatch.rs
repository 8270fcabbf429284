//! Hatching of cut material: narrow lines at an even distance (ISO 128-50).

use kurbo::{BezPath, PathEl, Point};

/// Which way hatching leans: parts that touch lean differently.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lean {
    /// 45 degrees up to the right.
    Right,
    /// 45 degrees up to the left.
    Left,
}

/// Curves are flattened to this, mm.
const FLAT: f64 = 0.02;

/// The lines of a hatching within an area (by the even-odd rule), `apart` mm from each
/// other, through the origin: adjoining areas of one part have one hatching.
pub(super) fn hatching(area: &BezPath, lean: Lean, apart: f64) -> BezPath {
    let sides = sides(area);
    // The lines run along `x + y` or `x - y` even; that sum is the height to scan by.
    let height = |at: Point| match lean {
        Lean::Right => at.x + at.y,
        Lean::Left => at.x - at.y,
    };
    let step = apart * std::f64::consts::SQRT_2;
    let heights = || sides.iter().flat_map(|(a, b)| [height(*a), height(*b)]);
    let low = heights().fold(f64::INFINITY, f64::min);
    let high = heights().fold(f64::NEG_INFINITY, f64::max);
    let mut lines = BezPath::new();
    let mut count = (low / step).ceil();
    while count * step < high {
        let at = count * step;
        let mut meets: Vec<Point> = sides
            .iter()
            .filter(|(a, b)| (height(*a) <= at) != (height(*b) <= at))
            .map(|(a, b)| a.lerp(*b, (at - height(*a)) / (height(*b) - height(*a))))
            .collect();
        meets.sort_by(|a, b| a.x.total_cmp(&b.x));
        for pair in meets.chunks_exact(2) {
            if let [from, to] = pair {
                lines.move_to(*from);
                lines.line_to(*to);
            }
        }
        count += 1.0;
    }
    lines
}

/// All sides of an area, each round closed.
fn sides(area: &BezPath) -> Vec<(Point, Point)> {
    let mut sides = Vec::new();
    let (mut first, mut last) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(area.elements().iter().copied(), FLAT, |element| match element {
        PathEl::MoveTo(at) => {
            sides.push((last, first));
            (first, last) = (at, at);
        }
        PathEl::LineTo(at) => {
            sides.push((last, at));
            last = at;
        }
        PathEl::ClosePath => {
            sides.push((last, first));
            last = first;
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    sides.push((last, first));
    sides
}

#[cfg(test)]
mod tests {
    use kurbo::{ParamCurve, Rect, Shape};

    use super::*;

    fn length(lines: &BezPath) -> f64 {
        lines.segments().map(|line| (line.end() - line.start()).hypot()).sum()
    }

    #[test]
    fn lines_cover_an_area_by_their_distance() {
        // Together they are as long as the area is large by their distance: 40 x 30 / 0.5.
        let area = Rect::new(3.0, 5.0, 43.0, 35.0).to_path(0.1);
        for lean in [Lean::Left, Lean::Right] {
            let total = length(&hatching(&area, lean, 0.5));
            assert!((total / 2400.0 - 1.0).abs() < 0.01, "{total}");
        }
    }

    #[test]
    fn a_hole_stays_white() {
        let mut area = Rect::new(0.0, 0.0, 20.0, 20.0).to_path(0.1);
        area.extend(Rect::new(5.0, 5.0, 15.0, 15.0).to_path(0.1));
        let lines = hatching(&area, Lean::Right, 0.7);
        assert!((length(&lines) / (300.0 / 0.7) - 1.0).abs() < 0.02);
        for line in lines.segments() {
            let middle = line.eval(0.5);
            assert!(!Rect::new(5.0, 5.0, 15.0, 15.0).inflate(-1e-6, -1e-6).contains(middle));
        }
    }
}
