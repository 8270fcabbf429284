//! A line of the inscription shaped at unit size, and its pieces.

use std::ops::Range;
use std::sync::Arc;

use super::Face;

/// One glyph of a piece, placed along the baseline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glyph {
    /// Glyph index in the font file.
    pub id: u16,
    /// Origin from the piece's origin, em, x to the right.
    pub x_em: f64,
    /// Origin above the baseline, em.
    pub y_em: f64,
    /// Byte offset in the line's text of the first character it stands for.
    pub cluster: usize,
}

/// A piece shaped alone.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceShape {
    /// Glyphs in visual order, left to right.
    pub glyphs: Vec<Glyph>,
    /// Least ink x from the piece's origin, em.
    pub ink_left_em: f64,
    /// Greatest ink x, em.
    pub ink_right_em: f64,
    /// Least ink y (below the baseline is negative), em.
    pub ink_bottom_em: f64,
    /// Greatest ink y, em.
    pub ink_top_em: f64,
    /// Share of ink width at the left that hangs (counts half when centring), em.
    pub hang_left_em: f64,
    /// The same at the right: closing stops, commas, quotes; em.
    pub hang_right_em: f64,
}

/// A kind of letters that has a height of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BodyKind {
    /// Capitals.
    Capitals,
    /// Lower case.
    LowerCase,
    /// Figures.
    Figures,
    /// Small capitals.
    SmallCapitals,
    /// Letters without case, by their script's reference letter.
    Uncased,
}

/// The smallest body height among the kinds that a line contains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Which kind is the smallest.
    pub kind: BodyKind,
    /// Its height in cap heights.
    pub ratio: f64,
}

/// One line, shaped once; ink widths of every possible piece.
#[derive(Debug, Clone)]
pub struct ShapedLine {
    /// The exact text.
    pub text: String,
    /// The face it is set in.
    pub face: Arc<Face>,
    /// Features asked for.
    pub features: Vec<String>,
    /// Stops between which pieces run; byte offsets (see [`crate::wording::Marks`]).
    pub stops: Vec<usize>,
    /// Greatest ink height above the baseline over the whole line, in cap heights; at least 1.
    pub rise: f64,
    /// Greatest ink depth below the baseline, in cap heights; at least 0.
    pub depth: f64,
    /// Whether the line holds no lower-case letters (capitals, figures, uncased).
    pub all_capitals: bool,
    /// Smallest body, `None` for a line without letters and figures.
    pub body: Option<Body>,
    /// Ink widths in cap heights, by [`ShapedLine::slot`].
    pub(super) widths: Vec<f64>,
}

impl ShapedLine {
    /// Index of the piece between stops `from < to` into the triangle of widths,
    /// for `stops` stops.
    #[must_use]
    pub fn slot(stops: usize, from: usize, to: usize) -> usize {
        let pieces_before = from * (2 * stops - from - 1) / 2;
        pieces_before + (to - from - 1)
    }

    /// Ink width of the piece between two stops, in cap heights; 0 where it has no ink.
    #[must_use]
    pub fn width(&self, from: usize, to: usize) -> f64 {
        self.widths.get(Self::slot(self.stops.len(), from, to)).copied().unwrap_or(0.0)
    }

    /// All widths, for arithmetic that wants the whole triangle.
    #[must_use]
    pub fn widths(&self) -> &[f64] {
        &self.widths
    }

    /// The piece between two byte offsets, shaped alone, edge spaces removed.
    #[must_use]
    pub fn piece(&self, range: Range<usize>) -> PieceShape {
        let _ = range;
        todo!()
    }
}

/// A line shaped once with the widths of all its pieces.
///
/// `stops` are the stops of its break marks. Missing characters do not fail
/// here: they are shaped as the face's missing glyph and told by
/// [`super::coverage`].
#[must_use]
pub fn shaped_line(
    text: &str,
    face: &Arc<Face>,
    features: &[String],
    stops: &[usize],
) -> ShapedLine {
    let _ = (text, face, features, stops);
    todo!()
}
