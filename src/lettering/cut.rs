//! Ink widths of all pieces of a line, from the line shaped once.
//!
//! Where the shaper says that a cut changes nothing on either side, the piece is
//! read off the whole line. Where a cut is unsafe, only the stretch from there to
//! the nearest safe place inside the piece is shaped again, and joined to the rest
//! if its letterforms stayed the same.
//! Where every piece's ink begins with its first word and ends with its last, which is
//! nearly always so, two numbers a stop hold the widths of all pieces; else a table does.
//! A piece that ends within a word ends with a hyphen, which the line does not have: a line
//! with such stops has a table.
//! So a line costs one shaping, at most two short ones a stop, and in the second case a
//! constant time a piece, unless directions are mixed.

use std::ops::Range;
use std::slice;
use std::sync::Arc;

use super::line::{ink, trimmed};
use super::runs::TextRuns;
use super::shape::{ShapedGlyph, Shaper, units};
use super::strip::{Alone, Extent, Joint, Strip, doubled, greater, lesser};
use super::{Face, Rung, Widths, divide};
use crate::wording::divides;

/// Most bytes of a piece that is shaped as a whole only to be measured. Bounds the
/// time of hostile wording; a row of a plate holds far fewer.
pub(super) const MOST_RESHAPED: usize = 400;

/// What the pieces of a line measure.
pub(super) struct Pieces {
    /// Ink widths, cap heights.
    pub(super) widths: Widths,
    /// Greatest ink height over the line and its pieces, em; 0 without ink.
    pub(super) top_em: f64,
    /// Least ink height, em; 0 without ink.
    pub(super) bottom_em: f64,
}

/// Widths of all pieces between stops; `glyphs` are those of the whole text, `hyphen` is
/// what is shown where a stop divides a word, if any does.
pub(super) fn pieces(
    text: &str,
    face: &Face,
    runs: &TextRuns,
    shaper: &mut Shaper<'_>,
    glyphs: &[ShapedGlyph],
    (stops, hyphen): (&[usize], Option<char>),
) -> Pieces {
    let mut bench = Bench { text, face, runs, shaper, hyphen, top_em: 0.0, bottom_em: 0.0 };
    let caps = 1.0 / face.cap_em();
    let in_caps = |widths: Vec<f64>| widths.into_iter().map(|width| width * caps).collect();
    let widths = if runs.one_direction() {
        let reversed: Vec<ShapedGlyph>;
        let glyphs = if runs.right_to_left() {
            reversed = glyphs.iter().rev().copied().collect();
            &reversed
        } else {
            glyphs
        };
        let mut strip = Strip {
            face,
            runs,
            right_to_left: runs.right_to_left(),
            length: text.len(),
            glyphs,
            levels: Vec::new(),
        };
        let ladder = if hyphen.is_none() { bench.ladder(&strip, stops) } else { None };
        match ladder {
            Some(ladder) => Widths::rising(ladder),
            None => {
                let extents = strip.glyphs.iter().map(|shaped| bench.ink(slice::from_ref(shaped)));
                strip.levels = doubled(extents.collect());
                Widths::table(stops.len(), in_caps(bench.widths_from_the_line(&strip, stops)))
            }
        }
    } else {
        bench.ink(glyphs);
        Widths::table(stops.len(), in_caps(bench.widths_piece_by_piece(stops)))
    };
    Pieces { widths, top_em: bench.top_em, bottom_em: bench.bottom_em }
}

/// What shaping a part of the line again needs, and the heights seen in doing so.
struct Bench<'a, 'f> {
    text: &'a str,
    face: &'a Face,
    runs: &'a TextRuns,
    shaper: &'a mut Shaper<'f>,
    /// What is shown where a stop divides a word.
    hyphen: Option<char>,
    top_em: f64,
    bottom_em: f64,
}

/// How a piece ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ends {
    WithItsWord,
    /// With a hyphen in the place of the soft hyphen there.
    WithinAWord,
}

/// What [`known_ink`] gives for glyphs that have not all been drawn.
const UNDRAWN: Extent = Extent { left: f64::NAN, right: f64::NAN };

/// Ink of glyphs that have been drawn, em; their heights are taken in. [`UNDRAWN`] otherwise.
// Drawing is left to others, and this is a function of its own, so that the four sums stay in
// registers: it is done for every glyph. So does what it gives, where a `Result` would not.
#[inline(never)]
fn known_ink(face: &Face, glyphs: &[ShapedGlyph], top_em: &mut f64, bottom_em: &mut f64) -> Extent {
    let Extent { mut left, mut right } = Extent::NONE;
    let (mut top, mut bottom) = (*top_em, *bottom_em);
    for shaped in glyphs {
        let Ok(ink) = face.known_ink(shaped.id) else { return UNDRAWN };
        let Some(ink) = ink else { continue };
        let origin = shaped.origin_em(face);
        left = lesser(left, ink.x0 + origin.x);
        bottom = lesser(bottom, ink.y0 + origin.y);
        right = greater(right, ink.x1 + origin.x);
        top = greater(top, ink.y1 + origin.y);
    }
    (*top_em, *bottom_em) = (top, bottom);
    Extent { left, right }
}

impl Bench<'_, '_> {
    /// Ink of some glyphs of the line; heights are taken in.
    fn ink(&mut self, glyphs: &[ShapedGlyph]) -> Extent {
        let found = known_ink(self.face, glyphs, &mut self.top_em, &mut self.bottom_em);
        if !found.left.is_nan() {
            return found;
        }
        self.face.draw(glyphs.iter().map(|shaped| shaped.id));
        known_ink(self.face, glyphs, &mut self.top_em, &mut self.bottom_em)
    }

    /// Whether glyphs are none, or one that is known to have no ink: so are most that stand
    /// between words.
    #[inline]
    fn is_blank(&self, glyphs: &[ShapedGlyph]) -> bool {
        match glyphs {
            [] => true,
            [one] => matches!(self.face.known_ink(one.id), Ok(None)),
            _ => false,
        }
    }

    fn shaped_alone(&mut self, part: Range<usize>, ends: Ends) -> (Vec<ShapedGlyph>, Alone) {
        let (glyphs, advance) = match (ends, self.hyphen) {
            (Ends::WithinAWord, Some(hyphen)) if !part.is_empty() => {
                divide::shaped(self.shaper, self.text, self.runs, &part, hyphen)
            }
            _ => self.shaper.shaped(self.text, &self.runs.visual(&part)),
        };
        let advance = units(advance) * self.face.em_per_unit();
        let Some(ink) = ink(self.face, &glyphs) else {
            return (glyphs, Alone { extent: Extent::NONE, advance });
        };
        self.top_em = self.top_em.max(ink.y1);
        self.bottom_em = self.bottom_em.min(ink.y0);
        (glyphs, Alone { extent: Extent { left: ink.x0, right: ink.x1 }, advance })
    }

    /// How pieces end at a stop.
    fn ends(&self, stop: usize) -> Ends {
        if self.hyphen.is_some() && divides(self.text, stop) {
            Ends::WithinAWord
        } else {
            Ends::WithItsWord
        }
    }

    /// The width of a piece by shaping it alone.
    fn width_alone(&mut self, part: Range<usize>, ends: Ends, single: bool) -> f64 {
        if part.len() > MOST_RESHAPED && !single {
            return f64::INFINITY;
        }
        self.shaped_alone(part, ends).1.extent.width()
    }

    /// The head of pieces that begin at a byte, up to the next safe cut.
    fn head(&mut self, at: usize, strip: &Strip<'_>) -> Option<Joint> {
        let safe = strip.safe_from(at);
        if safe == at && strip.divides(at) {
            return Some(Joint { safe, alone: Alone::NOTHING });
        }
        self.joint(at, safe, strip).map(|alone| Joint { safe, alone })
    }

    /// The tail of pieces that end at a byte, from the last safe cut.
    fn tail(&mut self, at: usize, strip: &Strip<'_>) -> Option<Joint> {
        let safe = strip.safe_up_to(at);
        if safe == at && strip.divides(at) {
            return Some(Joint { safe, alone: Alone::NOTHING });
        }
        self.joint(safe, at, strip).map(|alone| Joint { safe, alone })
    }

    /// The tail of pieces that end within a word at a byte, its hyphen included, from the
    /// last safe cut before the hyphen's letter; `None` where the hyphen changes what
    /// stands before that cut, or the letters behind it.
    fn hyphened_tail(&mut self, at: usize, strip: &Strip<'_>) -> Option<Joint> {
        let end = divide::word_end(self.text, at);
        let safe = strip.safe_up_to(end.checked_sub(1)?);
        let before = safe.checked_sub(1).map_or(0, |byte| strip.safe_up_to(byte));
        if !strip.divides(safe) || !strip.divides(before) || at - before > MOST_RESHAPED {
            return None;
        }
        // Whether the cut is still safe, the shaper knows that has seen the hyphen.
        let (glyphs, _) = self.shaped_alone(before..at, Ends::WithinAWord);
        let cut = glyphs.iter().find(|shaped| shaped.cluster == safe)?;
        if before < safe && !strip.is_safe(cut) {
            return None;
        }
        let (glyphs, alone) = self.shaped_alone(safe..at, Ends::WithinAWord);
        let word = glyphs.iter().filter(|shaped| shaped.cluster < end).map(|shaped| shaped.id);
        strip.shows(safe..end, word).then_some(Joint { safe, alone })
    }

    /// A head or tail that may be joined to the line at its safe cut; `None` where
    /// it begins or ends inside what the shaper made one, is too long to be worth
    /// it, or takes other letterforms than in the line: these might kern with what
    /// they are joined to.
    fn joint(&mut self, from: usize, to: usize, strip: &Strip<'_>) -> Option<Alone> {
        if !strip.divides(from) || !strip.divides(to) || to - from > MOST_RESHAPED {
            return None;
        }
        let (glyphs, alone) = self.shaped_alone(from..to, Ends::WithItsWord);
        let same = strip.shows(from..to, glyphs.iter().map(|shaped| shaped.id));
        same.then_some(alone)
    }

    fn widths_piece_by_piece(&mut self, stops: &[usize]) -> Vec<f64> {
        let mut widths = Vec::with_capacity(stops.len() * stops.len().saturating_sub(1) / 2);
        for (i, start) in stops.iter().enumerate() {
            for (j, end) in stops.iter().enumerate().skip(i + 1) {
                let piece = trimmed(self.text, *start..*end);
                widths.push(self.width_alone(piece, self.ends(*end), j == i + 1));
            }
        }
        widths
    }

    /// Where the ink of pieces begins and ends, cap heights, along the line as it is read;
    /// `None` where a piece's ink does not begin with its first word and end with its last.
    fn ladder(&mut self, strip: &Strip<'_>, stops: &[usize]) -> Option<Arc<[Rung]>> {
        let mut ladder: Arc<[Rung]> = stops.iter().map(|_| Rung { end: 0.0, begin: 0.0 }).collect();
        let (rungs, caps) = (Arc::get_mut(&mut ladder)?, 1.0 / self.face.cap_em());
        // The word before, and the nearest ink of its tail.
        let (mut earlier, mut tail) =
            (Extent { left: f64::NEG_INFINITY, right: 0.0 }, f64::INFINITY);
        // Farthest ink of all that stands before a word; ink of the word before it and of
        // what stands between them.
        let (mut before, mut passed) = (f64::NEG_INFINITY, Extent::NONE);
        let mut next = 0;
        for (at, pair) in stops.windows(2).enumerate() {
            let &[from, to] = pair else { continue };
            let Range { start, end } = trimmed(self.text, from..to);
            if start >= end {
                return None;
            }
            let mut first = strip.first_from(next, start);
            let mut last = strip.first_from(first, end);
            // Ink of what was shaped again before and behind the word.
            let mut ends = None;
            if !(strip.cuts(first, start) && strip.cuts(last, end)) {
                let (head, tail) = (self.head(start, strip)?, self.tail(end, strip)?);
                if head.safe > tail.safe {
                    return None;
                }
                (first, last) = (strip.first(head.safe), strip.first(tail.safe));
                let (head_at, tail_at) = strip.places(head, tail, first, last);
                let head = strip.read(head.alone.extent.moved(head_at));
                ends = Some((head, strip.read(tail.alone.extent.moved(tail_at))));
                if first < next {
                    return None;
                }
            }
            let between = strip.part(next, first);
            if !self.is_blank(between) {
                passed = passed.union(strip.read(self.ink(between)));
            }
            // Nothing that follows its beginning may be nearer than a word begins.
            if earlier.left > lesser(tail, passed.left) {
                return None;
            }
            before = greater(before, passed.right);
            let own = strip.read(self.ink(strip.part(first, last)));
            (passed, next) = (own, last);
            let mut word = own;
            tail = f64::INFINITY;
            if let Some((head, behind)) = ends {
                before = greater(before, head.right);
                word = Extent {
                    left: lesser(own.left, head.left),
                    right: greater(own.right, behind.right),
                };
                tail = behind.left;
            }
            let rises = at == 0 || earlier.left <= word.left && earlier.right <= word.right;
            if !(before <= word.right && word.left <= word.right && rises) {
                return None;
            }
            rungs[at] = Rung { end: earlier.right * caps, begin: word.left * caps };
            earlier = word;
        }
        let rest = strip.read(self.ink(strip.part(next, strip.glyphs.len())));
        if stops.len() < 2 || earlier.left > lesser(tail, passed.union(rest).left) {
            return None;
        }
        rungs.last_mut()?.end = earlier.right * caps;
        Some(ladder)
    }

    fn widths_from_the_line(&mut self, strip: &Strip<'_>, stops: &[usize]) -> Vec<f64> {
        let length = self.text.len();
        let starts: Vec<usize> =
            stops.iter().map(|s| trimmed(self.text, *s..length).start).collect();
        let ends: Vec<usize> = stops.iter().map(|s| trimmed(self.text, 0..*s).end).collect();
        let heads: Vec<Option<Joint>> = starts.iter().map(|at| self.head(*at, strip)).collect();
        let endings: Vec<Ends> = stops.iter().map(|stop| self.ends(*stop)).collect();
        let tails: Vec<Option<Joint>> = ends
            .iter()
            .zip(&endings)
            .map(|(at, ending)| match ending {
                Ends::WithItsWord => self.tail(*at, strip),
                Ends::WithinAWord => self.hyphened_tail(*at, strip),
            })
            .collect();
        let mut widths = Vec::with_capacity(stops.len() * stops.len().saturating_sub(1) / 2);
        for (i, (start, head)) in starts.iter().zip(&heads).enumerate() {
            for (j, (end, tail)) in ends.iter().zip(&tails).enumerate().skip(i + 1) {
                let joints = head.zip(*tail).filter(|(head, tail)| head.safe <= tail.safe);
                widths.push(match joints {
                    _ if start >= end => 0.0,
                    Some((head, tail)) => strip.joined(head, tail).width(),
                    None => self.width_alone(*start..*end, endings[j], j == i + 1),
                });
            }
        }
        widths
    }
}
