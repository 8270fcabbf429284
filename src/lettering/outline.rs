//! One glyph's curves, by `ab_glyph`, which gives the font's own points unrounded.

use ab_glyph::{Font, FontVec, GlyphId, OutlineCurve};
use kurbo::{BezPath, Point, Rect, Shape};

/// A glyph drawn: its outline and the box of its ink, in em, y up.
#[derive(Debug, Default)]
pub(super) struct Drawn {
    /// Closed contours.
    pub(super) path: BezPath,
    /// Exact box of the curves, `None` without an outline or without area.
    pub(super) ink: Option<Rect>,
}

/// The outline of a glyph; empty where the font draws none or draws it with
/// points that are not finite.
pub(super) fn drawn(font: &FontVec, glyph: u16, upem: f64) -> Drawn {
    let Some(outline) = font.outline(GlyphId(glyph)) else { return Drawn::default() };
    let path = closed_contours(&outline.curves, upem);
    if path.is_empty() || !path.is_finite() {
        return Drawn::default();
    }
    let ink = path.bounding_box();
    let ink = (ink.width() > 0.0 && ink.height() > 0.0).then_some(ink);
    Drawn { path, ink }
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
