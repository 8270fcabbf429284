//! Letters as a cutter may follow them: where strokes of a letter overlap, or
//! letters of a joined script do, only the outer outline is left.
//!
//! Fonts with weights draw a letter from overlapping strokes. Filled, nothing of
//! that shows; followed along its outline, the inner edges would be engraved.
//! Letters that overlap nowhere keep their own curves untouched.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::float::simplify::SimplifyShape;
use kurbo::{BezPath, PathEl, Point, Rect, Shape};

/// Greatest distance between a curve and the lines that stand for it, mm: a
/// micrometre, the grid on which everything is placed.
const TOLERANCE: f64 = 0.001;
/// Overlap that is taken for none, mm²: a dot of 3 µm.
const NOTHING: f64 = 1e-5;
/// Most lines for one curve, against absurd outlines.
const MOST_LINES: f64 = 512.0;

type Contours = Vec<Vec<[f64; 2]>>;

/// The glyphs of a row as one path without overlaps.
pub(super) fn united(glyphs: Vec<BezPath>) -> BezPath {
    let mut all = BezPath::new();
    for cluster in clusters(glyphs) {
        let contours = flattened(&cluster);
        let drawn: f64 = contours.iter().map(|contour| area(contour)).sum();
        let shapes = contours.simplify_shape(FillRule::NonZero);
        let outer: Contours = shapes.into_iter().flatten().collect();
        let filled: f64 = outer.iter().map(|contour| area(contour)).sum();
        if (drawn.abs() - filled.abs()).abs() <= NOTHING {
            all.extend(cluster);
        } else {
            all.extend(closed(&outer));
        }
    }
    all
}

/// Glyphs whose boxes meet, joined; others each for itself. A glyph is compared
/// with all before it: swashes reach over more than one neighbour.
fn clusters(glyphs: Vec<BezPath>) -> Vec<BezPath> {
    let mut all: Vec<(Rect, BezPath)> = Vec::new();
    for glyph in glyphs.into_iter().filter(|glyph| !glyph.elements().is_empty()) {
        let mut box_ = glyph.bounding_box();
        let mut path = glyph;
        while let Some(index) = all.iter().rposition(|other| meet(other.0, box_)) {
            let (other, before) = all.remove(index);
            box_ = box_.union(other);
            path = before.into_iter().chain(path).collect();
        }
        all.push((box_, path));
    }
    all.into_iter().map(|(_, path)| path).collect()
}

fn meet(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Closed contours of straight lines. Curves are cut into equal steps of their
/// parameter, as many as the bound on their second derivative asks for: a chord
/// over a step `h` strays at most `max|B″|·h²/8`.
fn flattened(path: &BezPath) -> Contours {
    let mut all: Contours = Vec::new();
    let mut last = Point::ZERO;
    let add = |all: &mut Contours, point: Point| {
        if let Some(contour) = all.last_mut() {
            contour.push([point.x, point.y]);
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => {
                all.push(Vec::new());
                add(&mut all, to);
                last = to;
            }
            PathEl::LineTo(to) => {
                add(&mut all, to);
                last = to;
            }
            PathEl::QuadTo(a, to) => {
                let bend = 2.0 * second(last, a, to);
                for t in steps(bend) {
                    let s = 1.0 - t;
                    let at = last.to_vec2() * (s * s)
                        + a.to_vec2() * (2.0 * s * t)
                        + to.to_vec2() * (t * t);
                    add(&mut all, at.to_point());
                }
                last = to;
            }
            PathEl::CurveTo(a, b, to) => {
                let bend = 6.0 * second(last, a, b).max(second(a, b, to));
                for t in steps(bend) {
                    let s = 1.0 - t;
                    let at = last.to_vec2() * (s * s * s)
                        + a.to_vec2() * (3.0 * s * s * t)
                        + b.to_vec2() * (3.0 * s * t * t)
                        + to.to_vec2() * (t * t * t);
                    add(&mut all, at.to_point());
                }
                last = to;
            }
            PathEl::ClosePath => {}
        }
    }
    all
}

/// Length of the second difference of three points.
fn second(a: Point, b: Point, c: Point) -> f64 {
    libm::hypot(a.x - 2.0 * b.x + c.x, a.y - 2.0 * b.y + c.y)
}

/// Parameters of the ends of as many steps as a second derivative asks for.
fn steps(bend: f64) -> impl Iterator<Item = f64> {
    let count = (bend / (8.0 * TOLERANCE)).sqrt().ceil().clamp(1.0, MOST_LINES);
    (1..=512_u16)
        .map(f64::from)
        .take_while(move |step| *step <= count)
        .map(move |step| step / count)
}

/// Signed area inside a contour.
fn area(contour: &[[f64; 2]]) -> f64 {
    let next = contour.iter().cycle().skip(1);
    contour.iter().zip(next).map(|(a, b)| (a[0] * b[1] - b[0] * a[1]) / 2.0).sum()
}

fn closed(contours: &Contours) -> BezPath {
    let mut path = BezPath::new();
    for contour in contours {
        for (index, [x, y]) in contour.iter().enumerate() {
            let point = Point::new(*x, *y);
            if index == 0 { path.move_to(point) } else { path.line_to(point) }
        }
        if !contour.is_empty() {
            path.close_path();
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use kurbo::{BezPath, Circle, Rect, Shape};

    use super::{flattened, united};

    fn square(x: f64) -> BezPath {
        Rect::new(x, 0.0, x + 2.0, 2.0).to_path(0.1)
    }

    fn contours(path: &BezPath) -> usize {
        path.elements().iter().filter(|part| matches!(part, kurbo::PathEl::MoveTo(_))).count()
    }

    #[test]
    fn overlapping_strokes_become_one_outline() {
        // Two squares of 4 mm² that share 1 x 2 mm: 6 mm², one contour.
        let both = united(vec![square(0.0).into_iter().chain(square(1.0)).collect()]);
        assert_eq!(contours(&both), 1);
        assert!((both.area().abs() - 6.0).abs() < 1e-6, "{}", both.area());
    }

    #[test]
    fn joined_letters_become_one_outline_even_over_a_neighbour() {
        let row = united(vec![square(0.0), square(10.0), square(1.0)]);
        assert_eq!(contours(&row), 2);
        assert!((row.area().abs() - 10.0).abs() < 1e-6);
    }

    #[test]
    fn letters_that_only_stand_side_by_side_keep_their_curves() {
        let ring: BezPath = Circle::new((0.0, 0.0), 2.0)
            .to_path(1e-6)
            .into_iter()
            .chain(Circle::new((0.0, 0.0), 1.0).to_path(1e-6).reverse_subpaths())
            .collect();
        let row = united(vec![ring.clone(), square(5.0)]);
        let expected: BezPath = ring.into_iter().chain(square(5.0)).collect();
        assert_eq!(row, expected);
    }

    #[test]
    fn lines_stand_within_a_micrometre_of_their_curve() {
        let circle = Circle::new((0.0, 0.0), 10.0).to_path(1e-9);
        for [contour] in [flattened(&circle)].iter().map(|all| [all.first().unwrap()]) {
            for pair in contour.windows(2) {
                let middle = [(pair[0][0] + pair[1][0]) / 2.0, (pair[0][1] + pair[1][1]) / 2.0];
                let off = 10.0 - libm::hypot(middle[0], middle[1]);
                assert!(off.abs() < 0.0011, "{off}");
            }
        }
    }

    #[test]
    fn nothing_united_is_nothing() {
        assert!(united(Vec::new()).elements().is_empty());
        assert!(united(vec![BezPath::new()]).elements().is_empty());
    }
}
