//! Letters as a cutter may follow them: where strokes of a letter overlap, or
//! letters of a joined script do, only the outer outline is left.
//!
//! Fonts with weights draw a letter from overlapping strokes. Filled, nothing of
//! that shows; followed along its outline, the inner edges would be engraved.
//! Letters that overlap nowhere keep their own curves untouched.

use kurbo::{BezPath, Rect, Shape};

use crate::lettering;

/// How far a united outline may leave the letters' own, mm: a thousandth of the
/// grid on which everything is placed.
const ACCURACY: f64 = 1e-6;

/// The glyphs of a row as one path without overlaps.
pub(super) fn united(glyphs: Vec<BezPath>) -> BezPath {
    clusters(glyphs).iter().flat_map(|cluster| lettering::united(cluster, ACCURACY)).collect()
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

#[cfg(test)]
mod tests {
    use kurbo::{BezPath, Circle, Rect, Shape};

    use super::united;

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
    fn joined_curves_stay_curves() {
        // Two circles of radius 1, centres 1 apart: 4π/3 + √3/2 is covered.
        let circle = |x: f64| Circle::new((x, 0.0), 1.0).to_path(1e-9);
        let both = united(vec![circle(0.0), circle(1.0)]);
        let covered = 4.0 * std::f64::consts::PI / 3.0 + libm::sqrt(3.0) / 2.0;
        assert!((both.area().abs() - covered).abs() < 1e-5, "{}", both.area());
        assert_eq!(contours(&both), 1);
        assert!(both.elements().iter().all(|part| !matches!(part, kurbo::PathEl::LineTo(_))));
    }

    #[test]
    fn nothing_united_is_nothing() {
        assert!(united(Vec::new()).elements().is_empty());
        assert!(united(vec![BezPath::new()]).elements().is_empty());
    }
}
