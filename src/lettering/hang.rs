//! Marks that hang: closing stops, commas and quotes weigh less to the eye than
//! letters, so that a row centred by all of its ink looks moved (common practice,
//! no source).

use kurbo::Rect;

/// Stops and commas, which hang where reading ends.
const STOPS: &str = ".,;:…·،؛۔。、";

/// Quotes, which hang at both ends.
const QUOTES: &str = "\"'‘’‚‛“”„‟‹›«»′″";

/// Width in em of the ink at the left and right that belongs to hanging marks only, of
/// glyphs in visual order; 0 where there are none, or nothing else. A glyph is asked for
/// its cluster and for its ink where it stands.
pub(super) fn shares<G>(
    text: &str,
    glyphs: &[G],
    right_to_left: bool,
    cluster: impl Fn(&G) -> usize,
    ink: impl Fn(&G) -> Option<Rect>,
) -> (f64, f64) {
    let hangs = |shaped: &G, reading_ends: bool| {
        let character = text.get(cluster(shaped)..).and_then(|rest| rest.chars().next());
        let mark = |c: char| QUOTES.contains(c) || (reading_ends && STOPS.contains(c));
        // Letters are dealt with first: they are nearly all there is.
        character.is_some_and(|c| !c.is_ascii_alphanumeric())
            && (character.is_some_and(mark) || ink(shaped).is_none())
    };
    let left = glyphs.iter().take_while(|g| hangs(g, right_to_left)).count();
    let right = glyphs.iter().rev().take_while(|g| hangs(g, !right_to_left)).count();
    if left == 0 && right == 0 {
        return (0.0, 0.0);
    }
    let all_of = |glyphs: &[G]| glyphs.iter().filter_map(&ink).reduce(|a, b| a.union(b));
    let Some(all) = all_of(glyphs) else { return (0.0, 0.0) };
    let past_left = all_of(&glyphs[left..]).map_or(0.0, |rest| rest.x0 - all.x0);
    let past_right = all_of(&glyphs[..glyphs.len() - right]).map_or(0.0, |rest| all.x1 - rest.x1);
    (past_left.max(0.0), past_right.max(0.0))
}
