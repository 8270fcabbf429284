//! A few words in one lettering, to be chosen by its look.

use crate::drawing::{Drawing, Page};
use crate::layout::LetteringChoice;
use crate::lettering::{Entry, Face, missing, shaped_line};

use super::specimen::{Row, Stand, stroke_of};

/// White round the ink, mm: what a screen's smoothing takes.
const ROUND: f64 = 0.2;

/// Words in a lettering at a cap height in mm, on a page as large as their ink. Nothing
/// where the lettering lacks one of their characters, and of words without ink.
#[must_use]
pub fn lettering_sample(words: &str, entry: &Entry, cap_height: f64) -> Option<Drawing> {
    let face = Face::open(&LetteringChoice::shipped(entry.name.as_str())).ok()?;
    let words = words.trim();
    if !missing(&face, words).is_empty() {
        return None;
    }
    let line = shaped_line(words, &face, &[], &[0, words.len()]);
    let row = Row { piece: line.piece(0..words.len()), text: words, start: 0 };
    let cut = stroke_of(&face, cap_height);
    let size = (cap_height - cut) / face.cap_em();
    let piece = &row.piece;
    let width = (piece.ink_right_em - piece.ink_left_em) * size;
    let height = (piece.ink_top_em - piece.ink_bottom_em) * size;
    if width <= 0.0 && height <= 0.0 {
        return None;
    }
    let round = ROUND + cut / 2.0;
    let stand = Stand {
        x: round - piece.ink_left_em * size,
        baseline: round + piece.ink_top_em * size,
        size,
        cut,
    };
    Some(Drawing {
        title: entry.name.clone(),
        description: format!("{words}, in {}", entry.name),
        background: None,
        pages: vec![Page {
            width: width + 2.0 * round,
            height: height + 2.0 * round,
            items: vec![row.item(&face, stand)],
        }],
    })
}

#[cfg(test)]
mod tests {
    use kurbo::Shape;

    use super::*;
    use crate::drawing::Item;
    use crate::lettering::catalogue;

    fn sample(words: &str, name: &str) -> Option<Drawing> {
        lettering_sample(words, catalogue().entry(name).unwrap(), 5.0)
    }

    #[test]
    fn the_page_is_as_high_as_flat_capitals_and_the_white_round_them() {
        // An H has neither overshoot nor descent: 5 mm, and twice 0.2 mm.
        for name in ["Atkinson Hyperlegible", "Oswald", "EMS Readability"] {
            let page = &sample("H", name).unwrap().pages[0];
            assert!((page.height - 5.4).abs() < 0.02, "{name}: {}", page.height);
        }
    }

    #[test]
    fn every_shipped_lettering_has_a_sample_of_plain_words_in_its_own_name() {
        for entry in catalogue().shown() {
            let drawing = lettering_sample("Marrowby Vale 1976", entry, 5.0).unwrap();
            assert_eq!(drawing.title, entry.name);
            assert!(drawing.pages[0].width > 20.0, "{}", entry.name);
        }
    }

    #[test]
    fn ink_fills_the_page_but_for_the_white_round_it() {
        for entry in catalogue().shown() {
            let page = lettering_sample("Marrowby Vale", entry, 5.0).unwrap().pages.remove(0);
            let ink = match &page.items[0] {
                Item::Text(text) => text.ink().unwrap(),
                Item::Path(path) => {
                    let half = path.stroke.unwrap().width / 2.0;
                    path.path.bounding_box().inflate(half, half)
                }
                other => panic!("{other:?}"),
            };
            let white = [ink.x0, ink.y0, page.width - ink.x1, page.height - ink.y1];
            assert!(white.iter().all(|white| (white - ROUND).abs() < 0.01), "{}", entry.name);
        }
    }

    #[test]
    fn what_it_cannot_set_it_does_not_show() {
        assert!(sample("\u{5e9}\u{5dc}\u{5d5}\u{5dd}", "EB Garamond").is_none());
        assert!(sample("  ", "EB Garamond").is_none());
    }
}
