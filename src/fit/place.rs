//! From a planned row to its glyphs, snapped to 1 µm.

use std::ops::Range;

use kurbo::Rect;

use crate::layout::Align;
use crate::lettering::ShapedLine;
use crate::plate::{Field, Interval};
use crate::wording::divides;

use super::fitted::{PlacedGlyph, Row};
use super::plan::PlannedRow;
use super::problem::Problem;

/// Positions per mm: what is drawn is what is hashed.
const STEPS_PER_MM: f64 = 1000.0;

/// A length on the grid of 1 µm; never minus zero.
fn snapped(mm: f64) -> f64 {
    (mm * STEPS_PER_MM).round() / STEPS_PER_MM + 0.0
}

/// Bytes of a piece, edge spaces removed.
pub(super) fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let piece = text.get(range.clone()).unwrap_or_default();
    let start = range.start + (piece.len() - piece.trim_start().len());
    start..(start + piece.trim().len())
}

/// Ink of a piece from its origin, and what of it hangs, mm.
struct Ink {
    left: f64,
    right: f64,
    hang_left: f64,
    hang_right: f64,
}

/// Origin of a piece in its stretch, mm. Centred by ink on the axis, hanging marks
/// counted half; but nothing leaves the stretch.
fn origin(align: Align, axis: f64, ink: &Ink, stretch: Interval) -> f64 {
    let (first, last) = (stretch.left - ink.left, stretch.right - ink.right);
    match align {
        Align::Left => first,
        Align::Right => last,
        Align::Centre => {
            let left = ink.left + ink.hang_left / 2.0;
            let right = ink.right - ink.hang_right / 2.0;
            (axis - (left + right) / 2.0).min(last).max(first)
        }
    }
}

/// A planned row with its glyphs, opened by some white between them, in cap heights.
pub(super) fn placed(
    row: &PlannedRow,
    line: &ShapedLine,
    white: f64,
    problem: &Problem,
    field: &Field,
) -> Row {
    let stop = |at: usize| line.stops.get(at).copied().unwrap_or(0);
    let range = trimmed(&line.text, stop(row.from)..stop(row.to));
    let asked = &problem.lines[row.line];
    let mm_per_em = asked.unit(row.height) / line.face.cap_em();
    let piece = if white > 0.0 && mm_per_em > 0.0 {
        line.opened(range.clone(), white * row.height / mm_per_em)
    } else {
        line.piece(range.clone())
    };
    let drawn = line.ornament.as_ref();
    let (right, top) = match drawn {
        Some(ornament) => (ornament.width * row.height, row.height),
        None => (piece.ink_right_em * mm_per_em, piece.ink_top_em * mm_per_em),
    };
    // The cut is as wide on either side of a centre line, and capitals stand on the baseline
    // with its outer edge.
    let half = asked.cut / 2.0;
    let ink = Ink {
        left: piece.ink_left_em * mm_per_em - half,
        right: right + half,
        hang_left: piece.hang_left_em * mm_per_em,
        hang_right: piece.hang_right_em * mm_per_em,
    };
    let origin_x = snapped(origin(asked.align, field.axis_x, &ink, row.stretch));
    let baseline = snapped(row.baseline);
    let glyphs = piece.glyphs.iter().map(|glyph| PlacedGlyph {
        id: glyph.id,
        face: glyph.face,
        x: snapped(origin_x + glyph.x_em * mm_per_em),
        y: snapped(baseline - half - glyph.y_em * mm_per_em),
    });
    Row {
        line: row.line,
        text: line.text.get(range.clone()).unwrap_or_default().to_owned(),
        divided: range.end == stop(row.to) && divides(&line.text, range.end),
        range,
        baseline,
        origin_x,
        cap_height: row.height,
        cut: asked.cut,
        ink: Rect::new(
            origin_x + ink.left,
            baseline - asked.cut - top,
            origin_x + ink.right,
            baseline - piece.ink_bottom_em * mm_per_em,
        ),
        usable_left: row.stretch.left,
        usable_right: row.stretch.right,
        glyphs: glyphs.collect(),
        drawn: None,
    }
}

#[cfg(test)]
mod tests {
    use super::{Ink, origin, snapped, trimmed};
    use crate::layout::Align;
    use crate::plate::Interval;

    const STRETCH: Interval = Interval { left: 10.0, right: 50.0 };

    #[test]
    fn rows_are_centred_by_ink_and_closing_marks_hang() {
        // Ink from 1 to 21: its middle, 11, comes to 30.
        let mut ink = Ink { left: 1.0, right: 21.0, hang_left: 0.0, hang_right: 0.0 };
        assert!((origin(Align::Centre, 30.0, &ink, STRETCH) - 19.0).abs() < 1e-12);
        // A stop 2 wide counts half: the middle of 1 to 20 is 10.5.
        ink.hang_right = 2.0;
        assert!((origin(Align::Centre, 30.0, &ink, STRETCH) - 19.5).abs() < 1e-12);
        // In a full row the margin is kept.
        let full = Ink { left: 0.0, right: 40.0, ..ink };
        assert!((origin(Align::Centre, 30.0, &full, STRETCH) - 10.0).abs() < 1e-12);
    }

    #[test]
    fn rows_against_a_side_touch_it_with_their_ink() {
        let ink = Ink { left: 1.0, right: 21.0, hang_left: 0.0, hang_right: 2.0 };
        assert!((origin(Align::Left, 30.0, &ink, STRETCH) - 9.0).abs() < 1e-12);
        assert!((origin(Align::Right, 30.0, &ink, STRETCH) - 29.0).abs() < 1e-12);
    }

    #[test]
    fn positions_lie_on_whole_micrometres() {
        assert_eq!(snapped(1.234_56).to_string(), "1.235");
        assert_eq!(snapped(-0.000_1).to_string(), "0");
    }

    #[test]
    fn edge_spaces_are_no_part_of_a_piece() {
        assert_eq!(trimmed("one two \n", 4..9), 4..7);
        assert_eq!(trimmed("  ", 0..2), 2..2);
        assert_eq!(trimmed("é", 1..9), 1..1);
    }
}
