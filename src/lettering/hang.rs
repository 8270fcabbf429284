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
    let hangs = |shaped: &ShapedGlyph, reading_ends: bool| {
        let character = text.get(shaped.cluster..).and_then(|rest| rest.chars().next());
        let mark = |c: char| QUOTES.contains(c) || (reading_ends && STOPS.contains(c));
        // Letters are dealt with first: they are nearly all there is.
        character.is_some_and(|c| !c.is_ascii_alphanumeric())
            && (character.is_some_and(mark) || glyph_ink(face, shaped).is_none())
    };
    let left = glyphs.iter().take_while(|g| hangs(g, right_to_left)).count();
    let right = glyphs.iter().rev().take_while(|g| hangs(g, !right_to_left)).count();
    if left == 0 && right == 0 {
        return (0.0, 0.0);
    }
    let Some(all) = ink(face, glyphs) else { return (0.0, 0.0) };
    let past_left = ink(face, &glyphs[left..]).map_or(0.0, |rest| rest.x0 - all.x0);
    let past_right =
        ink(face, &glyphs[..glyphs.len() - right]).map_or(0.0, |rest| all.x1 - rest.x1);
    (past_left.max(0.0), past_right.max(0.0))
}
