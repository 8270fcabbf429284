//! Ink widths of all pieces of a line, from the line shaped once.
//!
//! Where the shaper says that a cut changes nothing on either side, the piece is
//! read off the whole line. Where a cut is unsafe, only the stretch from there to
//! the nearest safe place inside the piece is shaped again, and joined to the rest
//! if its letterforms stayed the same.
//! So a line of `n` pieces costs one shaping, at most two short ones a stop, and
//! a constant time a piece, unless directions are mixed.

use std::ops::Range;

use kurbo::Rect;

use super::Face;
use super::line::{glyph_ink, ink, trimmed};
use super::runs::TextRuns;
use super::shape::{ShapedGlyph, Shaper};

/// Most bytes of a piece that is shaped as a whole only to be measured. Bounds the
/// time of hostile wording; a row of a plate holds far fewer.
pub(super) const MOST_RESHAPED: usize = 400;

/// What the pieces of a line measure.
pub(super) struct Pieces {
    /// Ink widths, em, by [`super::ShapedLine::slot`].
    pub(super) widths_em: Vec<f64>,
    /// Greatest ink height over the line and its pieces, em; 0 without ink.
    pub(super) top_em: f64,
    /// Least ink height, em; 0 without ink.
    pub(super) bottom_em: f64,
}

/// Horizontal ink of a stretch, em.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Extent {
    left: f64,
    right: f64,
}

impl Extent {
    const NONE: Self = Self { left: f64::INFINITY, right: f64::NEG_INFINITY };

    fn union(self, other: Self) -> Self {
        Self { left: self.left.min(other.left), right: self.right.max(other.right) }
    }

    fn moved(self, by: f64) -> Self {
        Self { left: self.left + by, right: self.right + by }
    }

    fn width(self) -> f64 {
        (self.right - self.left).max(0.0)
    }
}

/// Widths of all pieces between `stops`; `glyphs` are those of the whole text.
pub(super) fn pieces(
    text: &str,
    face: &Face,
    runs: &TextRuns,
    shaper: &mut Shaper<'_>,
    glyphs: &[ShapedGlyph],
    stops: &[usize],
) -> Pieces {
    let whole = ink(face, glyphs).unwrap_or(Rect::ZERO);
    let mut bench =
        Bench { text, face, runs, shaper, top_em: whole.y1.max(0.0), bottom_em: whole.y0.min(0.0) };
    let widths_em = if runs.one_direction() {
        bench.widths_from_the_line(&Strip::new(face, runs, glyphs, text.len()), stops)
    } else {
        bench.widths_piece_by_piece(stops)
    };
    Pieces { widths_em, top_em: bench.top_em, bottom_em: bench.bottom_em }
}

/// What shaping a part of the line again needs, and the heights seen in doing so.
struct Bench<'a, 'f> {
    text: &'a str,
    face: &'a Face,
    runs: &'a TextRuns,
    shaper: &'a mut Shaper<'f>,
    top_em: f64,
    bottom_em: f64,
}

/// The head or tail of a piece, shaped alone, up to a safe cut of the line.
#[derive(Debug, Clone, Copy)]
struct Joint {
    /// Byte of the safe cut.
    safe: usize,
    alone: Alone,
}

/// A part shaped alone: its ink from its own origin, and its advance.
#[derive(Debug, Clone, Copy)]
struct Alone {
    extent: Extent,
    advance: f64,
}

impl Bench<'_, '_> {
    fn shaped_alone(&mut self, from: usize, to: usize) -> (Vec<ShapedGlyph>, Alone) {
        let (glyphs, advance) = self.shaper.shaped(self.text, &self.runs.visual(&(from..to)));
        let Some(ink) = ink(self.face, &glyphs) else {
            return (glyphs, Alone { extent: Extent::NONE, advance });
        };
        self.top_em = self.top_em.max(ink.y1);
        self.bottom_em = self.bottom_em.min(ink.y0);
        (glyphs, Alone { extent: Extent { left: ink.x0, right: ink.x1 }, advance })
    }

    /// The width of a piece by shaping it alone.
    fn width_alone(&mut self, from: usize, to: usize, single: bool) -> f64 {
        if to - from > MOST_RESHAPED && !single {
            return f64::INFINITY;
        }
        self.shaped_alone(from, to).1.extent.width()
    }

    /// The head of pieces that begin at a byte, up to the next safe cut.
    fn head(&mut self, at: usize, strip: &Strip) -> Option<Joint> {
        let safe = strip.safe_from(at);
        self.joint(at, safe, strip).map(|alone| Joint { safe, alone })
    }

    /// The tail of pieces that end at a byte, from the last safe cut.
    fn tail(&mut self, at: usize, strip: &Strip) -> Option<Joint> {
        let safe = strip.safe_up_to(at);
        self.joint(safe, at, strip).map(|alone| Joint { safe, alone })
    }

    /// A head or tail that may be joined to the line at its safe cut; `None` where
    /// it begins or ends inside what the shaper made one, is too long to be worth
    /// it, or takes other letterforms than in the line: these might kern with what
    /// they are joined to.
    fn joint(&mut self, from: usize, to: usize, strip: &Strip) -> Option<Alone> {
        if !strip.divides(from) || !strip.divides(to) || to - from > MOST_RESHAPED {
            return None;
        }
        let (glyphs, alone) = self.shaped_alone(from, to);
        let same = strip.shows(from..to, glyphs.iter().map(|shaped| shaped.glyph.id));
        same.then_some(alone)
    }

    fn widths_piece_by_piece(&mut self, stops: &[usize]) -> Vec<f64> {
        let mut widths = Vec::with_capacity(stops.len() * stops.len().saturating_sub(1) / 2);
        for (i, start) in stops.iter().enumerate() {
            for (j, end) in stops.iter().enumerate().skip(i + 1) {
                let piece = trimmed(self.text, *start..*end);
                widths.push(self.width_alone(piece.start, piece.end, j == i + 1));
            }
        }
        widths
    }

    fn widths_from_the_line(&mut self, strip: &Strip, stops: &[usize]) -> Vec<f64> {
        let length = self.text.len();
        let starts: Vec<usize> =
            stops.iter().map(|s| trimmed(self.text, *s..length).start).collect();
        let ends: Vec<usize> = stops.iter().map(|s| trimmed(self.text, 0..*s).end).collect();
        let heads: Vec<Option<Joint>> = starts.iter().map(|at| self.head(*at, strip)).collect();
        let tails: Vec<Option<Joint>> = ends.iter().map(|at| self.tail(*at, strip)).collect();
        let mut widths = Vec::with_capacity(stops.len() * stops.len().saturating_sub(1) / 2);
        for (i, (start, head)) in starts.iter().zip(&heads).enumerate() {
            for (j, (end, tail)) in ends.iter().zip(&tails).enumerate().skip(i + 1) {
                let joints = head.zip(*tail).filter(|(head, tail)| head.safe <= tail.safe);
                widths.push(match joints {
                    _ if start >= end => 0.0,
                    Some((head, tail)) => strip.joined(head, tail).width(),
                    None => self.width_alone(*start, *end, j == i + 1),
                });
            }
        }
        widths
    }
}

/// A line of one direction, by logical order.
struct Strip {
    right_to_left: bool,
    /// First byte of each glyph's characters, rising.
    clusters: Vec<usize>,
    /// Each glyph's index in the font.
    ids: Vec<u16>,
    /// Where the pen stands on the side of each glyph from which reading comes;
    /// one more at the end, where reading leaves.
    pens: Vec<f64>,
    /// Bytes at which the line may be cut, rising; begins with 0 and ends with the
    /// text's length.
    safe: Vec<usize>,
    /// Ink over 2^level glyphs from each glyph on.
    levels: Vec<Vec<Extent>>,
}

impl Strip {
    fn new(face: &Face, runs: &TextRuns, glyphs: &[ShapedGlyph], length: usize) -> Self {
        let right_to_left = runs.right_to_left();
        let mut ordered: Vec<&ShapedGlyph> = glyphs.iter().collect();
        if right_to_left {
            ordered.reverse();
        }
        let (before, after) = if right_to_left { (1.0, 0.0) } else { (0.0, 1.0) };
        let pen = |shaped: &ShapedGlyph, share: f64| shaped.pen_em + share * shaped.advance_em;
        let mut pens: Vec<f64> = ordered.iter().map(|shaped| pen(shaped, before)).collect();
        pens.push(ordered.last().map_or(0.0, |shaped| pen(shaped, after)));

        let mut safe = vec![0];
        for shaped in &ordered {
            let cluster = shaped.glyph.cluster;
            let cut = !shaped.unsafe_to_break || runs.begin_at(cluster);
            if cut && safe.last().is_none_or(|last| *last < cluster) {
                safe.push(cluster);
            }
        }
        if length > 0 {
            safe.push(length);
        }

        let ink = |shaped: &&ShapedGlyph| {
            let ink = glyph_ink(face, shaped);
            ink.map_or(Extent::NONE, |ink| Extent { left: ink.x0, right: ink.x1 })
        };
        let levels = doubled(ordered.iter().map(ink).collect());
        let clusters = ordered.iter().map(|shaped| shaped.glyph.cluster).collect();
        let ids = ordered.iter().map(|shaped| shaped.glyph.id).collect();
        Self { right_to_left, clusters, ids, pens, safe, levels }
    }

    /// Whether this byte lies between characters that the shaper kept apart.
    fn divides(&self, byte: usize) -> bool {
        self.safe.last() == Some(&byte) || self.clusters.binary_search(&byte).is_ok()
    }

    /// Whether the line shows just these glyphs (in visual order) for a part of the text.
    fn shows(&self, part: Range<usize>, visual: impl DoubleEndedIterator<Item = u16>) -> bool {
        let first = self.clusters.partition_point(|cluster| *cluster < part.start);
        let end = self.clusters.partition_point(|cluster| *cluster < part.end);
        let own = self.ids.get(first..end).unwrap_or_default().iter().copied();
        if self.right_to_left { own.eq(visual.rev()) } else { own.eq(visual) }
    }

    /// The first byte from this one on at which a cut is safe.
    fn safe_from(&self, byte: usize) -> usize {
        let at = self.safe.partition_point(|safe| *safe < byte);
        self.safe.get(at).copied().unwrap_or(byte)
    }

    /// The last byte up to this one at which a cut is safe.
    fn safe_up_to(&self, byte: usize) -> usize {
        let at = self.safe.partition_point(|safe| *safe <= byte);
        at.checked_sub(1).and_then(|at| self.safe.get(at)).copied().unwrap_or(byte)
    }

    /// Ink of a piece: its head up to a safe place, the line from there to another,
    /// its tail from there on.
    fn joined(&self, head: Joint, tail: Joint) -> Extent {
        let first = self.clusters.partition_point(|cluster| *cluster < head.safe);
        let end = self.clusters.partition_point(|cluster| *cluster < tail.safe);
        let pen = |glyph: usize| self.pens.get(glyph).copied().unwrap_or(0.0);
        // The head ends where the middle begins, and the tail begins where it ends;
        // from right to left a part's own origin is on its far side.
        let (head_at, tail_at) = if self.right_to_left {
            (pen(first), pen(end) - tail.alone.advance)
        } else {
            (pen(first) - head.alone.advance, pen(end))
        };
        self.middle(first, end)
            .union(head.alone.extent.moved(head_at))
            .union(tail.alone.extent.moved(tail_at))
    }

    /// Ink of the glyphs from `first` to before `end`, in the line's place.
    fn middle(&self, first: usize, end: usize) -> Extent {
        let Some(level) = end.checked_sub(first).and_then(usize::checked_ilog2) else {
            return Extent::NONE;
        };
        let Some(extents) = usize::try_from(level).ok().and_then(|level| self.levels.get(level))
        else {
            return Extent::NONE;
        };
        let at = |glyph: usize| extents.get(glyph).copied().unwrap_or(Extent::NONE);
        at(first).union(at(end - (1 << level)))
    }
}

/// Unions over 1, 2, 4 … neighbours, so that any stretch is the union of two.
fn doubled(single: Vec<Extent>) -> Vec<Vec<Extent>> {
    let mut levels = vec![single];
    let mut step = 1;
    while let Some(below) = levels.last().filter(|below| below.len() > step) {
        let next = below.iter().zip(below.iter().skip(step)).map(|(a, b)| a.union(*b)).collect();
        levels.push(next);
        step *= 2;
    }
    levels
}
