//! Dates.

use super::lexicon::{Kind, Rule};
use super::numbers::{figures, is_year};
use super::ties::Ties;
use super::words::Word;

/// Days of a month.
const DAYS: std::ops::RangeInclusive<u32> = 1..=31;

/// Ties the words of every date.
pub(super) fn tie(words: &[Word<'_>], ties: &mut Ties) {
    for first in 0..words.len() {
        let rest = &words[first..];
        let ends = [day_of_month(rest), month_first(rest), years(rest), era(rest)];
        let Some(last) = ends.into_iter().flatten().max() else { continue };
        // The article and the day of the week before it.
        let leads = |word: &Word<'_>| {
            word.is(Kind::Weekday) && !word.pause
                || word.is(Kind::Article) && figures(&rest[0]).is_some_and(|day| day.ordinal)
        };
        let lead = first.checked_sub(1).filter(|&before| leads(&words[before]));
        ties.hold(lead.unwrap_or(first), first + last, Rule::Date);
    }
}

/// Whether a word can be the day in a date.
fn is_day(word: &Word<'_>) -> bool {
    figures(word).and_then(|day| day.value).is_some_and(|day| DAYS.contains(&day))
}

/// Whether a word is a month, which has a capital.
fn is_month(word: &Word<'_>) -> bool {
    word.is(Kind::Month) && word.is_capital()
}

/// Last word of `18 July`, `the 3rd of May`, `18th day of July`, with or without a year,
/// when it begins at the first word.
fn day_of_month(words: &[Word<'_>]) -> Option<usize> {
    if !is_day(words.first()?) || words[0].pause {
        return None;
    }
    let mut at = 1;
    if words.get(at)?.bare.eq_ignore_ascii_case("day") && !words[at].pause {
        at += 1;
    }
    if words.get(at)?.is(Kind::Of) {
        at += 1;
    }
    words.get(at).filter(|word| is_month(word))?;
    Some(with_year(words, at))
}

/// Last word of `July 18`, `July 18, 2094`, `July 2094`, `Easter 2094`, `born 2094`, when it
/// begins at the first word.
fn month_first(words: &[Word<'_>]) -> Option<usize> {
    let [first, second, ..] = words else { return None };
    if is_month(first) && !first.pause && is_day(second) {
        return Some(with_year(words, 1));
    }
    let names_year = is_month(first) || first.is(Kind::BeforeYear);
    let last = with_year(words, 0);
    (names_year && last > 0).then_some(last)
}

/// Last word of a span of years, `1976 – 2026`, `1976 to 2026`, when it begins at the first.
fn years(words: &[Word<'_>]) -> Option<usize> {
    let [first, between, last, ..] = words else { return None };
    let joins = between.is_spaced_mark() || between.bare.eq_ignore_ascii_case("to");
    (is_year(first) && !first.pause && joins && is_year(last)).then_some(2)
}

/// Last word of `A.D. 1066` or `44 BC`, when it begins at the first.
fn era(words: &[Word<'_>]) -> Option<usize> {
    let [first, second, ..] = words else { return None };
    let is_era = |word: &Word<'_>| word.is(Kind::Era) && word.is_capital();
    let whole = |word: &Word<'_>| figures(word).is_some_and(|year| year.value.is_some());
    let stands = is_era(first) && whole(second) || whole(first) && is_era(second);
    (stands && !first.pause).then_some(1)
}

/// The place of the year after the word at `at`, a comma between them or not; else `at`.
fn with_year(words: &[Word<'_>], at: usize) -> usize {
    let next = words.get(at + 1).filter(|next| words[at].runs_on() && is_year(next));
    next.map_or(at, |_| at + 1)
}

#[cfg(test)]
mod tests {
    use crate::wording::lexicon::Rule;
    use crate::wording::testing::{loose, tied};

    #[test]
    fn a_date_stays_whole_however_it_is_written() {
        for text in [
            "18 July 2094",
            "18th July, 2094",
            "July 18, 2094",
            "the 3rd of May",
            "18 JULY 2094",
            "1976 – 2026",
            "1976 to 2026",
            "Sept. 18, 2094",
        ] {
            let gaps: Vec<usize> = (0..text.split(' ').count() - 1).collect();
            tied(text, Rule::Date, &gaps);
        }
        tied("on the 3rd of May 2026 we", Rule::Date, &[1, 2, 3, 4]);
        tied("this 18th day of July 2094", Rule::Date, &[1, 2, 3, 4]);
        tied("Saturday 18 July", Rule::Date, &[0, 1]);
        for text in ["July 2094", "Midsummer 2094", "A.D. 1066", "44 BC", "c. 1700", "MAY 2026"] {
            tied(text, Rule::Date, &[0]);
        }
    }

    #[test]
    fn what_only_looks_like_a_date_is_none() {
        loose("Saturday, 18 July", 0);
        loose("18 July. 2026 was late", 1);
        loose("it may 2026 end", 1);
        loose("rang 2026 changes", 0);
        loose("in 1976 and 2026", 1);
        loose("ad 1066", 0);
    }
}
