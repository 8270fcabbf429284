//! Text wrapped to a width. Nothing is ever shortened: what is too wide goes on
//! in a further row.

use std::sync::Arc;

use icu_segmenter::LineSegmenter;
use icu_segmenter::options::LineBreakOptions;
use unicode_segmentation::UnicodeSegmentation;

use crate::lettering::Face;

use super::text::{Labels, SetRow, Style};

/// Graphemes in the longest piece that is measured as one, so that measuring
/// stays quick whatever is written.
const LONGEST_PIECE: usize = 100;

/// A row of a wrapped text.
#[derive(Debug, Clone)]
pub(super) struct Wrapped {
    /// The row.
    pub(super) row: SetRow,
    /// Whether it starts a paragraph.
    pub(super) first: bool,
}

/// A piece of text between two places where a row may end.
struct Word {
    text: String,
    /// Whether it goes on from the piece before it without such a place.
    joined: bool,
}

impl Labels {
    /// A text wrapped to a width: rows broken at the opportunities of UAX #14,
    /// and between graphemes where one word alone is too wide. A line feed
    /// starts a new row. Rows after the first of a paragraph are set
    /// `hang` mm narrower. Always at least one row.
    pub(super) fn wrapped(
        &self,
        text: &str,
        style: Style,
        width: f64,
        hang: f64,
        prefer: Option<&Arc<Face>>,
    ) -> Vec<Wrapped> {
        let mut rows = Vec::new();
        for paragraph in text.split('\n') {
            let mut words = words(paragraph);
            words.reverse();
            let mut first = true;
            while !words.is_empty() || first {
                let room = if first { width } else { width - hang };
                let measure = |text: &str| self.advance(text, style, prefer);
                let line = next_row(&mut words, room, &measure);
                let mut row = self.set(line.trim_end(), style, prefer);
                // Whoever copies the text, or hears it, finds the words apart.
                if !words.is_empty() && line.ends_with(char::is_whitespace) {
                    row.texts.extend(self.space_after(&row, style));
                }
                rows.push(Wrapped { row, first });
                first = false;
            }
        }
        rows
    }
}

/// Takes from the end of `words` (which stand in reverse) what fits `room`: at
/// least one grapheme, where there is any.
fn next_row(words: &mut Vec<Word>, room: f64, measure: &impl Fn(&str) -> f64) -> String {
    let mut taken: Vec<Word> = Vec::new();
    let mut used = 0.0;
    while let Some(word) = words.pop() {
        if used + measure(word.text.trim_end()) <= room {
            used += measure(&word.text);
            taken.push(word);
            continue;
        }
        if taken.is_empty() || word.joined {
            let least = usize::from(taken.is_empty());
            let (head, rest) = split(&word.text, room - used, least, measure);
            taken.push(Word { text: head, joined: word.joined });
            if !rest.is_empty() {
                words.push(Word { text: rest, joined: true });
            }
        } else {
            words.push(word);
        }
        break;
    }
    let whole = |taken: &[Word]| taken.iter().map(|word| word.text.as_str()).collect::<String>();
    // Kerning across words may widen a row beyond the sum of its words.
    while taken.len() > 1 && measure(whole(&taken).trim_end()) > room {
        words.extend(taken.pop());
    }
    whole(&taken)
}

/// As many graphemes of a word as fit, at least `least`; and the rest.
fn split(word: &str, room: f64, least: usize, measure: &impl Fn(&str) -> f64) -> (String, String) {
    let graphemes: Vec<&str> = word.graphemes(true).collect();
    let fits =
        |count: usize| graphemes.get(..count).is_some_and(|part| measure(&part.concat()) <= room);
    let (mut low, mut high) = (least, graphemes.len().max(least));
    while low + 1 < high {
        let middle = usize::midpoint(low, high);
        if fits(middle) { low = middle } else { high = middle }
    }
    let (head, rest) = graphemes.split_at(low.min(graphemes.len()));
    (head.concat(), rest.concat())
}

/// A paragraph cut at its break opportunities but for soft hyphens, which are shown only
/// where the plate shows a hyphen; and further where a piece is longer than any row.
fn words(paragraph: &str) -> Vec<Word> {
    let segmenter = LineSegmenter::new_for_non_complex_scripts(LineBreakOptions::default());
    let ends = segmenter.segment_str(paragraph);
    let ends: Vec<usize> =
        ends.filter(|&at| at == paragraph.len() || !paragraph[..at].ends_with('\u{AD}')).collect();
    ends.windows(2)
        .filter_map(|pair| match pair {
            [from, to] => paragraph.get(*from..*to),
            _ => None,
        })
        .flat_map(|piece| {
            let graphemes: Vec<&str> = piece.graphemes(true).collect();
            let parts = graphemes.chunks(LONGEST_PIECE).enumerate();
            parts
                .map(|(index, part)| Word { text: part.concat(), joined: index > 0 })
                .collect::<Vec<_>>()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use unicode_segmentation::UnicodeSegmentation;

    use super::super::text::{Labels, Style};

    const BODY: Style = Style::regular(2.0);

    fn wrapped(text: &str, width: f64) -> Vec<String> {
        let labels = Labels::plain();
        let rows = labels.wrapped(text, BODY, width, 0.0, None);
        for row in &rows {
            let letters = row.row.texts.iter().map(|text| text.text.graphemes(true).count());
            assert!(row.row.width <= width || letters.sum::<usize>() <= 1, "{}", row.row.width);
        }
        rows.iter()
            .map(|row| row.row.texts.iter().map(|text| text.text.as_str()).collect())
            .collect()
    }

    #[test]
    fn a_text_that_fits_stays_in_one_row() {
        assert_eq!(wrapped("Marrowby Vale", 100.0), ["Marrowby Vale"]);
    }

    #[test]
    fn a_long_text_wraps_between_words_and_loses_nothing() {
        let text = "rung by the band of Marrowby Vale on the longest night ".repeat(20);
        let rows = wrapped(&text, 40.0);
        assert!(rows.len() > 15);
        assert_eq!(rows.concat(), text.trim_end());
    }

    #[test]
    fn a_word_wider_than_its_column_goes_on_between_letters() {
        let word = "Quillfeather".repeat(30);
        let rows = wrapped(&word, 20.0);
        assert!(rows.len() > 10);
        assert_eq!(rows.concat(), word);
    }

    #[test]
    fn a_word_longer_than_any_row_fills_its_rows() {
        // 400 letters are measured in pieces; no row may end where a piece does.
        let word = "ringer".repeat(67);
        let rows = wrapped(&word, 50.0);
        let full: Vec<usize> = rows.iter().map(|row| row.chars().count()).collect();
        let (last, full) = full.split_last().unwrap();
        assert!(full.iter().all(|count| count.abs_diff(full[0]) <= 2), "{full:?} {last}");
    }

    #[test]
    fn an_accent_stays_with_its_letter_in_the_narrowest_column() {
        assert_eq!(wrapped("e\u{301}e\u{301}", 0.1), ["e\u{301}", "e\u{301}"]);
    }

    #[test]
    fn line_feeds_start_rows_and_empty_text_is_one_row() {
        assert_eq!(wrapped("one\n\ntwo", 50.0), ["one", "", "two"]);
        assert_eq!(wrapped("", 50.0), [""]);
    }
}
