//! One glyph's curves, by `ab_glyph`, which gives the font's own points unrounded;
//! and curves united where they overlap.
//!
//! Variable fonts draw a letter of strokes that lie over each other, and scripts
//! join their letters. A tool that follows the contours would cut the inner edges
//! too. `linesweeper` takes them out and keeps curves curves; it was chosen over a
//! union of polygons because that one ran for ever on a damaged font's glyph.

use ab_glyph::{Font, GlyphId, OutlineCurve};
use kurbo::{BezPath, Point, Rect, Shape};
use linesweeper::{BinaryOp, FillRule, binary_op_with_eps};

/// A difference of lengths or areas below this many times the accuracy is that
/// accuracy's, not an overlap's.
const SAME: f64 = 100.0;

/// A glyph drawn: its outline and the box of its ink, in em, y up.
#[derive(Debug, Default)]
pub(super) struct Drawn {
    /// Closed contours as the font has them.
    pub(super) path: BezPath,
    /// Exact box of the curves, `None` without an outline or without area.
    pub(super) ink: Option<Rect>,
}

/// The outline of a glyph; empty where the font draws none or draws it with
/// points that are not finite.
pub(super) fn drawn(font: &impl Font, glyph: u16, upem: f64) -> Drawn {
    let Some(outline) = font.outline(GlyphId(glyph)) else { return Drawn::default() };
    let path = closed_contours(&outline.curves, upem);
    if path.is_empty() || !path.is_finite() {
        return Drawn::default();
    }
    let ink = path.bounding_box();
    let ink = (ink.width() > 0.0 && ink.height() > 0.0).then_some(ink);
    Drawn { path, ink }
}

/// The same shape (filled by the nonzero rule) by closed contours that do not
/// overlap, outer ones of positive area and holes of negative.
///
/// United curves leave the given ones by at most `accuracy`, in the path's own
/// unit; above 0, and far below what can be seen. A path whose contours do not
/// overlap keeps its points. One that is empty, open or not finite comes back as
/// it is.
#[must_use]
pub fn united(path: &BezPath, accuracy: f64) -> BezPath {
    let nothing = BezPath::new();
    let union = if path.is_finite() && accuracy > 0.0 {
        binary_op_with_eps(path, &nothing, FillRule::NonZero, BinaryOp::Union, accuracy)
    } else {
        return path.clone();
    };
    let Ok(contours) = union else { return path.clone() };
    let united: BezPath = contours.contours().flat_map(|contour| contour.path.iter()).collect();
    // Where an edge goes, the outline is shorter; where a contour turns, areas differ.
    let same = SAME * accuracy;
    let length = |path: &BezPath| path.perimeter(same / 10.0);
    let kept = (path.area().abs() - united.area().abs()).abs() < same
        && (length(path) - length(&united)).abs() < same;
    let path = if kept { path.clone() } else { united };
    if path.area() < 0.0 { path.reverse_subpaths() } else { path }
}

/// Curves as closed contours in em. The list has no moves: a contour begins where
/// a curve does not start at the last one's end.
fn closed_contours(curves: &[OutlineCurve], upem: f64) -> BezPath {
    let em = |p: &ab_glyph::Point| Point::new(f64::from(p.x) / upem, f64::from(p.y) / upem);
    let mut path = BezPath::new();
    let mut start: Option<Point> = None;
    let mut last: Option<Point> = None;
    for curve in curves {
        let (from, to) = match curve {
            OutlineCurve::Line(a, b) | OutlineCurve::Quad(a, _, b) => (em(a), em(b)),
            OutlineCurve::Cubic(a, _, _, b) => (em(a), em(b)),
        };
        if last != Some(from) {
            if start.is_some() {
                path.close_path();
            }
            path.move_to(from);
            start = Some(from);
        }
        match curve {
            // Fonts close a contour with a line even where it is closed already.
            OutlineCurve::Line(..) if from == to => {}
            OutlineCurve::Line(..) => path.line_to(to),
            OutlineCurve::Quad(_, c, _) => path.quad_to(em(c), to),
            OutlineCurve::Cubic(_, c, d, _) => path.curve_to(em(c), em(d), to),
        }
        last = Some(to);
    }
    if start.is_some() {
        path.close_path();
    }
    path
}

#[cfg(test)]
mod tests {
    use i_overlay::core::fill_rule::FillRule as Filled;
    use i_overlay::float::simplify::SimplifyShape;
    use kurbo::PathEl;

    use super::*;
    use crate::layout::LetteringChoice;
    use crate::lettering::{Face, catalogue};

    fn square(x: f64, y: f64, side: f64, anticlockwise: bool) -> BezPath {
        let path = Rect::new(x, y, x + side, y + side).to_path(0.1);
        if anticlockwise { path } else { path.reverse_subpaths() }
    }

    fn both(a: &BezPath, b: &BezPath) -> BezPath {
        a.iter().chain(b.iter()).collect()
    }

    #[test]
    fn overlapping_squares_become_one_contour() {
        // Two squares of 0.4 share one of 0.2: 0.16 + 0.16 - 0.04.
        let cross = both(&square(0.0, 0.0, 0.4, false), &square(0.2, 0.2, 0.4, false));
        let one = united(&cross, 1e-6);
        assert!((one.area() - 0.28).abs() < 1e-6, "{}", one.area());
        assert_eq!(one.subpaths().count(), 1);
    }

    #[test]
    fn squares_that_share_an_edge_lose_it() {
        let pair = both(&square(0.0, 0.0, 0.4, true), &square(0.4, 0.0, 0.4, true));
        let one = united(&pair, 1e-6);
        assert!((one.area() - 0.32).abs() < 1e-6, "{}", one.area());
        assert_eq!(one.subpaths().count(), 1);
    }

    #[test]
    fn a_hole_stays_a_hole_and_keeps_its_points() {
        let ring = both(&square(0.0, 0.0, 0.6, false), &square(0.2, 0.2, 0.2, true));
        let turned = united(&ring, 1e-6);
        assert!((turned.area() - 0.32).abs() < 1e-12);
        assert_eq!(turned, ring.reverse_subpaths());
    }

    #[test]
    fn what_has_no_area_is_left_as_it_is() {
        assert!(united(&BezPath::new(), 1e-6).is_empty());
        let mut line = BezPath::new();
        line.move_to((0.0, 0.0));
        line.line_to((1.0, 1.0));
        line.close_path();
        assert!(united(&line, 1e-6).area().abs() < 1e-12);
    }

    /// Area of a shape and of its contours one by one, flattened: `i_overlay`
    /// unites polygons by another method than ours.
    fn areas(path: &BezPath) -> (f64, f64) {
        let mut contours: Vec<Vec<[f64; 2]>> = Vec::new();
        kurbo::flatten(path.iter(), 1e-5, |element| match element {
            PathEl::MoveTo(point) => contours.push(vec![[point.x, point.y]]),
            PathEl::LineTo(point) => contours.last_mut().unwrap().push([point.x, point.y]),
            _ => {}
        });
        let area = |contour: &Vec<[f64; 2]>| {
            let next = contour.iter().cycle().skip(1);
            contour.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
        };
        let whole = contours.simplify_shape(Filled::NonZero);
        (whole.iter().flatten().map(area).sum(), contours.iter().map(area).sum())
    }

    #[test]
    fn every_glyph_of_every_shipped_lettering_is_free_of_overlaps() {
        // Agreement of two methods on curves and chords, em²: 0.01 % of the em square.
        const NEAR: f64 = 1e-4;
        let (mut glyphs, mut mended) = (0, 0);
        for name in catalogue().names() {
            let face = Face::open(&LetteringChoice::shipped(name.to_owned())).unwrap();
            if face.single_stroke() {
                continue;
            }
            for glyph in 0..=u16::MAX {
                let Some(ink) = face.ink(glyph) else { continue };
                let drawn = face.outline(glyph);
                let outline = united(&drawn, 1e-6);
                let case = format!("{name} glyph {glyph}");
                let (shape, _) = areas(&drawn);
                let (own_shape, own_contours) = areas(&outline);
                assert!((own_shape - shape).abs() < NEAR, "{case}: another shape");
                assert!((own_shape - own_contours).abs() < NEAR, "{case}: overlaps");
                let own = outline.bounding_box();
                let off = [own.x0 - ink.x0, own.y0 - ink.y0, own.x1 - ink.x1, own.y1 - ink.y1];
                assert!(off.iter().all(|off| off.abs() < NEAR), "{case}: another box {off:?}");
                glyphs += 1;
                mended += usize::from(outline.elements().len() != drawn.elements().len());
            }
        }
        assert!(glyphs > 20_000 && mended > 2_000, "{glyphs} {mended}");
    }
}
