//! Numbers with what they count, measure or name.

use super::lexicon::{Kind, Rule, kinds};
use super::ties::Ties;
use super::words::{Word, is_currency};

/// Years that a number of four figures is taken for: of those, "in 2026 the bells"
/// says nothing about two thousand and twenty-six bells.
const YEARS: std::ops::RangeInclusive<u32> = 1000..=2199;

/// What is written in figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Figures {
    /// Its value, where it is a whole number without marks.
    pub(super) value: Option<u32>,
    /// Whether it is an ordinal, such as `3rd`.
    pub(super) ordinal: bool,
}

/// A word in figures: `41`, `1,250`, `7.30`, `£500`, `25%`, `3rd`, `½`, `1976–2026`.
pub(super) fn figures(word: &Word<'_>) -> Option<Figures> {
    let plain = word.bare.trim_matches(is_currency);
    let lead = plain.trim_start_matches(char::is_numeric);
    let ordinal = ["st", "nd", "rd", "th"].iter().any(|end| lead.eq_ignore_ascii_case(end));
    let digits = if ordinal { &plain[..plain.len() - lead.len()] } else { plain };
    let fine = digits.starts_with(char::is_numeric)
        && digits.chars().all(|c| c.is_numeric() || ".,:'’/-–".contains(c));
    fine.then(|| Figures { value: digits.parse().ok(), ordinal })
}

/// Whether a word is a year: four figures, or a span of years `1976–2026`.
pub(super) fn is_year(word: &Word<'_>) -> bool {
    let (first, rest) = word.bare.split_once(['–', '-']).unwrap_or((word.bare, "0"));
    let value = |text: &str| text.parse::<u32>().ok();
    first.len() == 4
        && value(first).is_some_and(|year| YEARS.contains(&year))
        && value(rest).is_some()
}

/// Ties numbers to their units, nouns, signs and labels.
pub(super) fn tie(words: &[Word<'_>], ties: &mut Ties) {
    for (at, pair) in words.windows(2).enumerate() {
        let (word, next) = (&pair[0], &pair[1]);
        if word.pause {
            continue;
        }
        let before = at.checked_sub(1).map(|at| &words[at]).filter(|before| !before.pause);
        let after = words.get(at + 2).filter(|_| !next.pause);
        if is_with_number(word, next) || continues(before, word, next, after) {
            ties.hold(at, at + 1, Rule::Number);
        }
        if is_note(before, word, next) {
            ties.hold(at, at + 1, Rule::Note);
        }
        if is_count(word) {
            let joined = ["and", "or", "to"].contains(&next.bare.to_lowercase().as_str());
            if joined && after.is_some_and(is_count) {
                ties.hold(at, at + 2, Rule::Counted);
            } else if next.has_letter() && !next.is_function() {
                ties.hold(at, at + 1, Rule::Counted);
            }
        }
    }
}

/// Whether one of two words is a number and the other what goes with it.
fn is_with_number(word: &Word<'_>, next: &Word<'_>) -> bool {
    let Some(figure) = figures(word) else {
        let named = word.is(Kind::Label) || word.is_currency();
        let verse = word.is_name() && next.bare.contains(':');
        return (named || verse) && figures(next).is_some();
    };
    if next.is(Kind::Unit) || next.is_currency() {
        return true;
    }
    if let Some(follows) = figures(next) {
        // Thousands parted by spaces: 12 500.
        let leads = figure.value.is_some_and(|value| value < 1000);
        return leads && next.bare.len() == 3 && follows.value.is_some();
    }
    let is_sign = next.bare.is_empty() && !next.is_spaced_mark() && !next.is_ampersand();
    let is_noun = next.has_letter() && !next.is_function();
    !is_year(word) && (is_sign || is_noun)
}

/// Whether a measure goes on: `19 cwt | 2 qr`, `120 x | 80`.
fn continues(
    before: Option<&Word<'_>>,
    word: &Word<'_>,
    next: &Word<'_>,
    after: Option<&Word<'_>>,
) -> bool {
    let between = before.is_some_and(|before| figures(before).is_some()) && figures(next).is_some();
    let times = matches!(word.text, "x" | "×");
    between && (times || word.is(Kind::Unit) && after.is_some_and(|after| after.is(Kind::Unit)))
}

/// Whether two words name a musical note: `E flat`, `C sharp minor`.
fn is_note(before: Option<&Word<'_>>, word: &Word<'_>, next: &Word<'_>) -> bool {
    let note = |word: &Word<'_>| matches!(word.bare, "A" | "B" | "C" | "D" | "E" | "F" | "G");
    next.is(Kind::Accidental)
        && (note(word) || word.is(Kind::Accidental) && before.is_some_and(note))
}

/// Whether a word is a number in words: `eight`, `forty-one`.
pub(super) fn is_count(word: &Word<'_>) -> bool {
    let mut parts = word.bare.split('-');
    word.is(Kind::Count)
        || parts.clone().count() > 1
            && parts.all(|part| {
                let kinds = kinds(part);
                kinds.has(Kind::Count) || kinds.has(Kind::CountPart)
            })
}

#[cfg(test)]
mod tests {
    use super::{figures, is_year};
    use crate::wording::lexicon::Rule;
    use crate::wording::testing::{loose, tied};
    use crate::wording::words::words;

    #[test]
    fn figures_are_read_as_people_write_them() {
        let read = |text: &str| figures(&words(text)[0]);
        for text in ["41", "1,250", "7.30", "£500", "25%", "½", "1976–2026", "(8)", "150:1"] {
            assert!(read(text).is_some_and(|figure| !figure.ordinal), "{text}");
        }
        for text in ["3rd", "21ST", "18th,"] {
            assert!(read(text).is_some_and(|figure| figure.ordinal), "{text}");
        }
        assert_eq!(read("3rd").and_then(|figure| figure.value), Some(3));
        for text in ["rd", "cwt", "–", "19cwt", "x", "£"] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn a_year_has_four_figures_of_our_age() {
        for (text, year) in [
            ("2026", true),
            ("1976–2026", true),
            ("1976–26,", true),
            ("5040", false),
            ("500", false),
        ] {
            assert_eq!(is_year(&words(text)[0]), year, "{text}");
        }
    }

    #[test]
    fn a_number_stays_with_its_unit_noun_sign_or_label() {
        for text in
            ["19 cwt", "41 years", "No. 4", "Nos 7", "£ 500", "500 €", "8 bells", "12 500", "25 %"]
        {
            tied(text, Rule::Number, &[0]);
        }
        tied("19 cwt 2 qr", Rule::Number, &[0, 1, 2]);
        tied("120 x 80 mm", Rule::Number, &[0, 1, 2]);
        tied("John 3:16", Rule::Number, &[0]);
        tied("5040 changes", Rule::Number, &[0]);
        tied("2000 ft", Rule::Number, &[0]);
    }

    #[test]
    fn a_number_is_free_of_what_it_does_not_count() {
        loose("rang 41 of them", 1);
        loose("in 2026 ringers came", 1);
        loose("aged 41, ringers came", 1);
        loose("ringers 41 in all", 0);
        loose("no bells 4 us", 0);
    }

    #[test]
    fn a_number_in_words_stays_with_its_noun() {
        tied("eight bells", Rule::Counted, &[0]);
        tied("forty-one years", Rule::Counted, &[0]);
        tied("two hundred and forty ringers", Rule::Counted, &[0, 1, 2, 3]);
        loose("eight of them", 0);
        loose("one bell", 0);
        loose("all eight, ringers", 1);
    }

    #[test]
    fn a_note_stays_whole() {
        tied("E flat", Rule::Note, &[0]);
        tied("C sharp minor", Rule::Note, &[0, 1]);
        loose("a flat roof", 0);
        loose("H flat", 0);
    }
}
