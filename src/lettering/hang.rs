//! Marks that hang: closing stops, commas and quotes weigh less to the eye than
//! letters, so that a row centred by all of its ink looks moved (common practice,
//! no source).

use super::Face;
use super::line::{glyph_ink, ink};
use super::shape::ShapedGlyph;

/// Stops and commas, which hang where reading ends.
const STOPS: &str = ".,;:…·،؛۔。、";

/// Quotes, which hang at both ends.
const QUOTES: &str = "\"'‘’‚‛“”„‟‹›«»′″";

/// Width in em of the ink at the left and right that belongs to hanging marks only;
/// 0 where there are none, or nothing else.
pub(super) fn shares(
    text: &str,
    face: &Face,
    glyphs: &[ShapedGlyph],
    right_to_left: bool,
) -> (f64, f64) {
    let character = |shaped: &ShapedGlyph| {
        text.get(shaped.glyph.cluster..).and_then(|rest| rest.chars().next())
    };
    let hangs = |shaped: &ShapedGlyph, reading_ends: bool| {
        let mark = |c: char| QUOTES.contains(c) || (reading_ends && STOPS.contains(c));
        glyph_ink(face, shaped).is_none() || character(shaped).is_some_and(mark)
    };
    let left = glyphs.iter().take_while(|g| hangs(g, right_to_left)).count();
    let right = glyphs.iter().rev().take_while(|g| hangs(g, !right_to_left)).count();
    let without = |skip: usize, take: usize| {
        let rest: Vec<ShapedGlyph> = glyphs.iter().skip(skip).take(take).copied().collect();
        ink(face, &rest)
    };
    let Some(all) = ink(face, glyphs) else { return (0.0, 0.0) };
    let past_left = without(left, glyphs.len()).map_or(0.0, |rest| rest.x0 - all.x0);
    let past_right = without(0, glyphs.len() - right).map_or(0.0, |rest| all.x1 - rest.x1);
    (past_left.max(0.0), past_right.max(0.0))
}
