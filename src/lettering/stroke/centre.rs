//! Centre lines: what is narrow between them, whatever width is cut along them.
//!
//! The lines are drawn with the finest stroke of ISO 3098's lettering, measured like any
//! outline, and its width is given back: what is told is the distance from centre to centre
//! of lines that run side by side. Lines nearer to each other than that stroke are one
//! stroke, drawn to and fro, or letters that join. Strokes and joins are none of their own:
//! these are as wide as the cut.

use kurbo::{BezPath, Cap, Join, PathEl, Point, Shape, Stroke, StrokeOpts};

use super::glyph::{GlyphStrokes, UNITED, in_caps, measured_between};
use crate::lettering::united;

/// Width that the lines are given, in heights of the capitals' centre lines: a fourteenth of
/// the height over the strokes, ISO 3098's lettering A (from memory), is a thirteenth of the
/// height between centres.
const STROKE: f64 = 1.0 / 13.0;

/// Ground shut in by lines that reach at most this many cap heights either way, such as a dot
/// drawn as a small round, is meant to fill: larger than the dots of the shipped alphabets,
/// and smaller than any eye of their letters.
const DOT: f64 = 0.12;

/// How far the outline of the lines may leave them, cap heights.
const ACCURACY: f64 = 1e-5;

/// Measures the centre lines of a glyph, em, whose face has capitals so high, em. `None` for
/// lines that are longer, or larger, than any letter's.
pub(in crate::lettering) fn of_centre_lines(path: &BezPath, cap_em: f64) -> Option<GlyphStrokes> {
    let style = Stroke::new(STROKE).with_caps(Cap::Round).with_join(Join::Round);
    let mut outline = BezPath::new();
    for part in in_caps(path, cap_em)?.subpaths() {
        let mut line: BezPath = part.iter().copied().collect();
        // A closed line would be outlined with loops inside its turns, which are no ground.
        if let Some(start) = returns(&line) {
            line.line_to(start);
        }
        outline.extend(kurbo::stroke(line, &style, &StrokeOpts::default(), ACCURACY));
    }
    let outline: BezPath = united(&outline, UNITED)
        .subpaths()
        .map(|contour| contour.iter().copied().collect::<BezPath>())
        .filter(|contour| contour.area() > 0.0 || !fills(contour))
        .flatten()
        .collect();
    let mut found = measured_between(&outline, STROKE)?;
    if let Some(counter) = &mut found.counter {
        counter.width += STROKE;
    }
    Some(found)
}

/// Where a line began, if it comes back to there but for half of a stroke.
fn returns(line: &BezPath) -> Option<Point> {
    let mut points = line.elements().iter().filter_map(PathEl::end_point);
    let first = points.next()?;
    points.next_back().filter(|last| first.distance(*last) <= STROKE / 2.0).map(|_| first)
}

/// Whether ground shut in is no larger than a dot.
fn fills(hole: &BezPath) -> bool {
    let size = hole.bounding_box();
    size.width().max(size.height()) + STROKE <= DOT
}
