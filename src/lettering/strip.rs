//! A line of one direction as it is read: its glyphs, where it may be cut, and the ink
//! along it.

use std::ops::Range;

use super::Face;
use super::runs::TextRuns;
use super::shape::{ShapedGlyph, units};

/// Horizontal ink of a stretch, em.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Extent {
    pub(super) left: f64,
    pub(super) right: f64,
}

impl Extent {
    pub(super) const NONE: Self = Self { left: f64::INFINITY, right: f64::NEG_INFINITY };

    #[inline]
    pub(super) fn union(self, other: Self) -> Self {
        Self { left: lesser(self.left, other.left), right: greater(self.right, other.right) }
    }

    pub(super) fn moved(self, by: f64) -> Self {
        Self { left: self.left + by, right: self.right + by }
    }

    pub(super) fn width(self) -> f64 {
        (self.right - self.left).max(0.0)
    }
}

/// The lesser of two numbers. A plain comparison: no extent is not a number, and this is
/// done for every glyph.
#[inline]
pub(super) fn lesser(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

/// The greater of two numbers, likewise.
#[inline]
pub(super) fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// The head or tail of a piece, shaped alone, up to a safe cut of the line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Joint {
    /// Byte of the safe cut.
    pub(super) safe: usize,
    pub(super) alone: Alone,
}

/// A part shaped alone: its ink from its own origin, and its advance.
#[derive(Debug, Clone, Copy)]
pub(super) struct Alone {
    pub(super) extent: Extent,
    pub(super) advance: f64,
}

impl Alone {
    /// The part from a place to that place.
    pub(super) const NOTHING: Self = Self { extent: Extent::NONE, advance: 0.0 };
}

/// A line of one direction, by logical order.
pub(super) struct Strip<'a> {
    pub(super) face: &'a Face,
    pub(super) runs: &'a TextRuns,
    pub(super) right_to_left: bool,
    /// The text's length in bytes.
    pub(super) length: usize,
    pub(super) glyphs: &'a [ShapedGlyph],
    /// Ink over 2^level glyphs from each glyph on; only where a table of widths is filled.
    pub(super) levels: Vec<Vec<Extent>>,
}

impl Strip<'_> {
    /// Index of the first glyph of characters from a byte on.
    pub(super) fn first(&self, byte: usize) -> usize {
        self.glyphs.partition_point(|shaped| shaped.cluster < byte)
    }

    /// The same, looked for from a glyph on that is not far before it.
    #[inline]
    pub(super) fn first_from(&self, glyph: usize, byte: usize) -> usize {
        let cluster = |at: usize| self.glyphs.get(at).map_or(self.length, |g| g.cluster);
        // Mostly every byte has its glyph.
        let likely = glyph + byte.saturating_sub(cluster(glyph));
        if cluster(likely) == byte && likely > 0 && cluster(likely - 1) < byte {
            return likely;
        }
        let mut first = likely.min(self.glyphs.len());
        while first > glyph && cluster(first - 1) >= byte {
            first -= 1;
        }
        while first < self.glyphs.len() && cluster(first) < byte {
            first += 1;
        }
        first
    }

    /// Whether the line may be cut at a byte, before the first glyph that is not before it.
    #[inline]
    pub(super) fn cuts(&self, glyph: usize, byte: usize) -> bool {
        byte == self.length
            || self.glyphs.get(glyph).is_some_and(|g| g.cluster == byte && self.is_safe(g))
    }

    /// Where the pen stands on the side of a glyph from which reading comes, em; past the
    /// last one, where reading leaves.
    pub(super) fn pen(&self, glyph: usize) -> f64 {
        let (shaped, reading_ends) = match self.glyphs.get(glyph) {
            Some(shaped) => (shaped, false),
            None => match self.glyphs.last() {
                Some(last) => (last, true),
                None => return 0.0,
            },
        };
        let right = self.right_to_left != reading_ends;
        let moved = if right { i64::from(shaped.advance) } else { 0 };
        units(shaped.pen + moved) * self.face.em_per_unit()
    }

    /// Whether the line may be cut before a glyph.
    #[inline]
    pub(super) fn is_safe(&self, shaped: &ShapedGlyph) -> bool {
        !shaped.unsafe_to_break || shaped.cluster == 0 || self.runs.begin_at(shaped.cluster)
    }

    /// An extent along the line as it is read.
    #[inline]
    pub(super) fn read(&self, extent: Extent) -> Extent {
        if self.right_to_left {
            Extent { left: -extent.right, right: -extent.left }
        } else {
            extent
        }
    }

    /// Glyphs from one to before another.
    #[inline]
    pub(super) fn part(&self, first: usize, end: usize) -> &[ShapedGlyph] {
        self.glyphs.get(first..end).unwrap_or_default()
    }

    /// Where the head and the tail of a piece have their origins.
    pub(super) fn places(&self, head: Joint, tail: Joint, first: usize, end: usize) -> (f64, f64) {
        // The head ends where the middle begins, and the tail begins where it ends;
        // from right to left a part's own origin is on its far side.
        if self.right_to_left {
            (self.pen(first), self.pen(end) - tail.alone.advance)
        } else {
            (self.pen(first) - head.alone.advance, self.pen(end))
        }
    }

    /// Whether this byte lies between characters that the shaper kept apart.
    pub(super) fn divides(&self, byte: usize) -> bool {
        byte == self.length
            || self.glyphs.get(self.first(byte)).is_some_and(|shaped| shaped.cluster == byte)
    }

    /// Whether the line shows just these glyphs (in visual order) for a part of the text.
    pub(super) fn shows(
        &self,
        part: Range<usize>,
        visual: impl DoubleEndedIterator<Item = u16>,
    ) -> bool {
        let own = self.glyphs.get(self.first(part.start)..self.first(part.end));
        let own = own.unwrap_or_default().iter().map(|shaped| shaped.id);
        if self.right_to_left { own.eq(visual.rev()) } else { own.eq(visual) }
    }

    /// The first byte from this one on at which a cut is safe.
    pub(super) fn safe_from(&self, byte: usize) -> usize {
        let onward = self.glyphs.get(self.first(byte)..).unwrap_or_default();
        let safe = onward.iter().find(|shaped| self.is_safe(shaped));
        safe.map_or(self.length, |shaped| shaped.cluster)
    }

    /// The last byte up to this one at which a cut is safe.
    pub(super) fn safe_up_to(&self, byte: usize) -> usize {
        if byte == self.length {
            return byte;
        }
        let back = self.glyphs.get(..self.first(byte + 1)).unwrap_or_default();
        back.iter().rev().find(|shaped| self.is_safe(shaped)).map_or(0, |shaped| shaped.cluster)
    }

    /// Ink of a piece: its head up to a safe place, the line from there to another,
    /// its tail from there on.
    pub(super) fn joined(&self, head: Joint, tail: Joint) -> Extent {
        let (first, end) = (self.first(head.safe), self.first(tail.safe));
        let (head_at, tail_at) = self.places(head, tail, first, end);
        self.middle(first, end)
            .union(head.alone.extent.moved(head_at))
            .union(tail.alone.extent.moved(tail_at))
    }

    /// Ink of the glyphs from `first` to before `end`, in the line's place.
    pub(super) fn middle(&self, first: usize, end: usize) -> Extent {
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
pub(super) fn doubled(single: Vec<Extent>) -> Vec<Vec<Extent>> {
    let mut levels = vec![single];
    let mut step = 1;
    while let Some(below) = levels.last().filter(|below| below.len() > step) {
        let next = below.iter().zip(below.iter().skip(step)).map(|(a, b)| a.union(*b)).collect();
        levels.push(next);
        step *= 2;
    }
    levels
}
