//! A word divided at the end of a row: its hyphen takes the place of the soft hyphen.

use std::ops::Range;

use super::Face;
use super::runs::{RunList, TextRuns};
use super::shape::{ShapedGlyph, Shaper};

/// What stands in the wording where a word may be divided.
const SOFT_HYPHEN: char = '\u{AD}';

/// Hyphen, and the character that does for it in faces without one.
const HYPHEN: char = '\u{2010}';
const HYPHEN_MINUS: char = '-';

/// What a face shows where a word is divided: its hyphen, else its hyphen-minus.
pub(super) fn hyphen(face: &Face) -> char {
    if face.nominal(HYPHEN).is_some() { HYPHEN } else { HYPHEN_MINUS }
}

/// Where the word ends that is divided before byte `end` of a text: the last byte that is
/// none of a soft hyphen.
pub(super) fn word_end(text: &str, end: usize) -> usize {
    text.get(..end).map_or(0, |before| before.trim_end_matches(SOFT_HYPHEN).len())
}

/// Glyphs and advance, as by [`Shaper::shaped`], of a part of a text that ends with a soft
/// hyphen, a hyphen shown in its place; the clusters are still bytes of the text.
pub(super) fn shaped(
    shaper: &mut Shaper<'_>,
    text: &str,
    runs: &TextRuns,
    part: &Range<usize>,
    hyphen: char,
) -> (Vec<ShapedGlyph>, i64) {
    let (shown, runs) = shown(text, runs, part, hyphen);
    shaper.shaped(&shown, &runs)
}

/// The text up to the end of such a part with the hyphen shown, and the part's runs in it,
/// left to right.
pub(super) fn shown(
    text: &str,
    runs: &TextRuns,
    part: &Range<usize>,
    hyphen: char,
) -> (String, RunList) {
    let before = text.get(..part.end).and_then(|text| text.strip_suffix(SOFT_HYPHEN));
    let mut shown = before.unwrap_or_default().to_owned();
    shown.push(hyphen);
    let mut runs = runs.visual(part);
    for run in &mut runs {
        if run.range.end == part.end {
            run.range.end = shown.len();
        }
    }
    (shown, runs)
}
