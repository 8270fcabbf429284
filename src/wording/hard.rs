//! Places where a line may be broken, and where it must.
//!
//! UAX #14 says where text may be broken at all; what belongs together by the
//! user's word (`keep`) or by a no-break space stays whole. A word is divided only where
//! its writer put a soft hyphen and the layout allows it: no list of syllables knows
//! names, and a name that a machine tore stands on the plate for good.

use std::sync::Arc;

use icu_segmenter::LineSegmenter;

use unicode_segmentation::UnicodeSegmentation;

use crate::layout::{Hyphens, Line};

use super::sense;

/// Where a word may be divided (U+00AD); nothing to see elsewhere.
const SOFT_HYPHEN: char = '\u{AD}';

/// The break marks of one line. Offsets are byte offsets into its text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Marks {
    /// Starts of possible pieces: 0, then every permitted break, then the text's
    /// length; strictly rising. A piece runs from one stop to a later one.
    pub stops: Vec<usize>,
    /// For each entry of `stops`, whether the user broke the line there (a line
    /// feed). No piece runs across such a stop. First and last are `false`.
    pub forced: Arc<[bool]>,
    /// For each entry of `stops`, the sense cost of breaking there: 0 is free, and so
    /// are the ends and the user's own breaks.
    pub costs: Arc<[u32]>,
}

/// The break marks of a line: opportunities of UAX #14 less those inside `keep`,
/// at no-break spaces and, unless the line's `hyphens` allow them, at soft hyphens; line
/// feeds are forced. Sense costs by the rules of `sense.toml`. See [`divides`].
///
/// No two stops have nothing but white between them, so that no row is empty:
/// several line feeds in a row are one break, and those at the ends are none.
/// A text of white alone has the stops 0 and its length; an empty text only 0.
#[must_use]
pub fn marks(line: &Line) -> Marks {
    let text = line.text.as_str();
    let kept = kept_spans(text, &line.keep);
    let mut stops = vec![0];
    let mut forced = vec![false];
    for at in opportunities(text) {
        let must = is_mandatory(text, at);
        let divided = line.hyphens == Hyphens::AtSoftHyphens && divides(text, at);
        if !must
            && (is_hard(text, at) && !divided
                || kept.iter().any(|&(from, to)| from < at && at < to))
        {
            continue;
        }
        let last = stops.last().copied().unwrap_or(0);
        if !is_blank(&text[last..at]) {
            stops.push(at);
            forced.push(must);
        } else if last > 0 {
            // White after a break moves the break behind it.
            stops.pop();
            stops.push(at);
            let before = forced.pop().unwrap_or(false);
            forced.push(must || before);
        }
    }
    while stops.last().is_some_and(|&last| last > 0 && is_blank(&text[last..])) {
        stops.pop();
        forced.pop();
    }
    if !text.is_empty() {
        stops.push(text.len());
        forced.push(false);
    }
    Marks { costs: sense::costs(text, &stops, &forced).into(), stops, forced: forced.into() }
}

/// Byte offsets between 0 and the text's length, both left out, at which UAX #14
/// allows a break, in rising order.
fn opportunities(text: &str) -> impl Iterator<Item = usize> {
    LineSegmenter::new_for_non_complex_scripts(Default::default())
        .segment_str(text)
        .filter(move |&at| at > 0 && at < text.len())
}

/// Whether the break before byte `at` is one that the user wrote: a line feed,
/// or another of UAX #14's mandatory breaks (rules LB4 and LB5).
fn is_mandatory(text: &str, at: usize) -> bool {
    matches!(
        text[..at].chars().next_back(),
        Some('\n' | '\r' | '\u{0B}' | '\u{0C}' | '\u{85}' | '\u{2028}' | '\u{2029}')
    )
}

/// Whether a word may be divided before byte `at` of a text: a soft hyphen ends there that
/// stands between two letters, marks on the first one passed over. (Figures are not
/// divided, and what ends with a hyphen or a dash has one already.) A row that ends at such
/// a stop of [`marks`] shows a hyphen. False where `at` lies on no character.
#[must_use]
pub fn divides(text: &str, at: usize) -> bool {
    let (Some(before), Some(after)) = (text.get(..at), text.get(at..)) else { return false };
    let word = before.trim_end_matches(SOFT_HYPHEN);
    word.len() < at
        && after.starts_with(char::is_alphabetic)
        && word
            .graphemes(true)
            .next_back()
            .is_some_and(|last| last.starts_with(char::is_alphabetic))
}

/// Whether a soft hyphen or a no-break space touches the break before byte `at`.
fn is_hard(text: &str, at: usize) -> bool {
    let no_break = |c: char| matches!(c, '\u{A0}' | '\u{2007}' | '\u{202F}' | '\u{2060}');
    text[..at].chars().next_back().is_some_and(|c| c == SOFT_HYPHEN || no_break(c))
        || text[at..].chars().next().is_some_and(no_break)
}

/// Byte spans of every occurrence of a phrase that is kept whole, overlapping ones too.
fn kept_spans(text: &str, keep: &[String]) -> Vec<(usize, usize)> {
    let mut spans = Vec::new();
    for phrase in keep.iter().map(|phrase| phrase.trim()).filter(|phrase| !phrase.is_empty()) {
        let starts = text.char_indices().map(|(at, _)| at);
        let found = starts.filter(|&at| text[at..].starts_with(phrase));
        spans.extend(found.map(|at| (at, at + phrase.len())));
    }
    spans
}

/// Whether a stretch holds nothing that could leave ink: white space and
/// characters that are never drawn.
fn is_blank(text: &str) -> bool {
    text.chars().all(|c| {
        c.is_whitespace()
            || matches!(c, SOFT_HYPHEN | '\u{200B}'..='\u{200F}' | '\u{2060}' | '\u{FEFF}')
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;
    use std::path::PathBuf;

    use super::{marks, opportunities};
    use crate::layout::{Hyphens, Line};
    use crate::wording::testing::line;

    fn pieces(text: &str, keep: &[&str]) -> Vec<String> {
        let stops = marks(&line(text, keep)).stops;
        stops.windows(2).map(|pair| text[pair[0]..pair[1]].to_owned()).collect()
    }

    #[test]
    fn words_may_be_parted_at_spaces() {
        assert_eq!(pieces("For the ringers", &[]), ["For ", "the ", "ringers"]);
        let marks = marks(&line("For the ringers", &[]));
        assert_eq!(marks.stops, [0, 4, 8, 15]);
        assert_eq!(*marks.forced, [false; 4]);
    }

    #[test]
    fn a_kept_phrase_is_never_torn_even_where_two_overlap() {
        let text = "the Elowen Tarrant Striking Cup";
        assert_eq!(
            pieces(text, &["Elowen Tarrant"]),
            ["the ", "Elowen Tarrant ", "Striking ", "Cup"]
        );
        assert_eq!(pieces("a b a b a", &["a b a"]), ["a b a b a"]);
        assert_eq!(pieces("a b", &["", "  "]), ["a ", "b"]);
    }

    #[test]
    fn no_break_spaces_and_soft_hyphens_hold() {
        assert_eq!(pieces("No.\u{A0}7 bell", &[]), ["No.\u{A0}7 ", "bell"]);
        assert_eq!(pieces("a \u{A0}b", &[]), ["a \u{A0}b"]);
        assert_eq!(pieces("observa\u{AD}tory hill", &[]), ["observa\u{AD}tory ", "hill"]);
    }

    /// The pieces of a text that may be divided at its soft hyphens.
    fn divided(text: &str, keep: &[&str]) -> Vec<String> {
        let marks = marks(&Line { hyphens: Hyphens::AtSoftHyphens, ..line(text, keep) });
        let told: Vec<&str> = marks.stops.windows(2).map(|pair| &text[pair[0]..pair[1]]).collect();
        told.into_iter().map(|piece| piece.replace('\u{AD}', "~")).collect()
    }

    #[test]
    fn a_word_is_divided_at_its_soft_hyphens_if_the_layout_allows_it() {
        let text = "observa\u{AD}tory on the hill\u{AD}top";
        assert_eq!(divided(text, &[]), ["observa~", "tory ", "on ", "the ", "hill~", "top"]);
        assert_eq!(divided(text, &["hill\u{AD}top"])[4..], ["hill~top"]);
        assert_eq!(divided("e\u{301}\u{AD}\u{AD}toile", &[]), ["e\u{301}~~", "toile"]);
    }

    #[test]
    fn only_letters_are_parted_by_a_soft_hyphen() {
        for text in ["20~94", "Vale~", "~Vale", "Vale ~", "sub-~tenor", "(~a)", "Vale~, all"] {
            let typed = text.replace('~', "\u{AD}");
            let torn = divided(&typed, &[]);
            assert!(
                torn.iter().all(|piece| !piece.ends_with('~') || text.ends_with('~')),
                "{torn:?}"
            );
        }
        // A break that the writer made is theirs, hyphen or none.
        assert_eq!(divided("observa\u{AD}\ntory", &[]), ["observa~\n", "tory"]);
    }

    #[test]
    fn a_zero_width_space_and_a_hyphen_are_places_to_break() {
        assert_eq!(pieces("Bell\u{200B}tower", &[]), ["Bell\u{200B}", "tower"]);
        assert_eq!(pieces("sub-tenor", &[]), ["sub-", "tenor"]);
    }

    #[test]
    fn line_feeds_are_forced_and_leave_no_empty_row() {
        let found = marks(&line("one two\nthree", &["two\nthree"]));
        assert_eq!(found.stops, [0, 4, 8, 13]);
        assert_eq!(*found.forced, [false, false, true, false]);
        let found = marks(&line("\n\none\n\n \ntwo\n", &[]));
        assert_eq!(found.stops, [0, 9, 13]);
        assert_eq!(*found.forced, [false, true, false]);
    }

    #[test]
    fn degenerate_texts_have_marks_too() {
        assert_eq!(marks(&line("", &[])).stops, [0]);
        assert_eq!(marks(&line(" ", &[])).stops, [0, 1]);
        assert_eq!(marks(&line("\n", &[])).stops, [0, 1]);
        assert_eq!(marks(&line("\u{301}", &[])).stops, [0, 2]);
    }

    #[test]
    fn any_text_has_a_cost_for_every_stop() {
        const PARTS: [&str; 24] = [
            " ",
            " ",
            "\n",
            "\u{A0}",
            "\u{AD}",
            "\u{200B}",
            "-",
            "–",
            "—",
            "&",
            "£",
            "St",
            "Mr",
            "the",
            "J.",
            "18",
            "July",
            "2094,",
            "No.",
            "3rd",
            "forty-one",
            "鐘",
            "é\u{301}",
            "(“",
        ];
        arbtest::arbtest(|u| {
            let parts = (0..u.int_in_range(0..=20)?).map(|_| u.choose(&PARTS).copied());
            let text = parts.collect::<Result<String, _>>()?;
            let hyphens = *u.choose(&[Hyphens::Never, Hyphens::AtSoftHyphens])?;
            let marks = marks(&Line { hyphens, ..line(&text, &["July"]) });
            assert_eq!(marks.stops.len(), marks.costs.len());
            let places = marks.stops.iter().zip(&*marks.costs).zip(&*marks.forced);
            for ((&at, &cost), &forced) in places {
                assert!(!(forced || at == 0 || at == text.len()) || cost == 0, "{text:?}");
            }
            Ok(())
        })
        .budget_ms(500);
    }

    /// A place between two characters of a case: its byte offset, the rule that the
    /// file's comment names there, and the classes before and after it (combining
    /// marks passed over, as rule LB9 does).
    struct Place {
        at: usize,
        rule: String,
        before: String,
        after: String,
    }

    /// One case of the Unicode file: its text, the offsets of its inner breaks, and
    /// its inner places.
    fn case(row: &str) -> Option<(String, Vec<usize>, Vec<Place>)> {
        let (body, comment) = row.split_once('#')?;
        let (mut text, mut offsets, mut breaks) = (String::new(), Vec::new(), Vec::new());
        for item in body.split_whitespace() {
            match item {
                "÷" => {
                    breaks.push(text.len());
                    offsets.push(text.len());
                }
                "×" => offsets.push(text.len()),
                code => text.push(char::from_u32(u32::from_str_radix(code, 16).ok()?)?),
            }
        }
        breaks.retain(|&at| at > 0 && at < text.len());
        let mut places = Vec::new();
        let mut before = String::new();
        for (at, part) in offsets.into_iter().zip(comment.split('[').skip(1)) {
            let (rule, name) = part.split_once(']')?;
            let Some((_, class)) = name.rsplit_once('(') else { continue };
            let after = class.split([')', '_']).next()?.to_owned();
            places.push(Place { at, rule: rule.to_owned(), before, after: after.clone() });
            before = if after == "CM1" { places.last()?.before.clone() } else { after };
        }
        Some((text, breaks, places))
    }

    /// Unicode's own cases: UCD 15.0.0 `auxiliary/LineBreakTest.txt` (Debian package
    /// unicode-data 15.0.0-1; read where it is installed, not carried here).
    ///
    /// The library's tables hold the rules of Unicode 15.1, untailored; the file
    /// tests 15.0 with the tailored number rule (UAX #14 section 8.2, example 7, as
    /// its header says). So 42 cases differ, first at:
    ///
    /// - **LB25**, 34 cases: the tailored rule keeps numbers with what stands round
    ///   them by a pattern; the untailored one forbids breaks by pairs: never at
    ///   `CL|CP × PO|PR`, `PO|PR × OP`, `IS|SY × NU`, whether or not a number is there.
    /// - **LB15**, 6 cases: since 15.1 an opening bracket stays with a quotation mark
    ///   before a space only if the mark opens (rule LB15a took the place of LB15).
    /// - **LB15a** where the file names LB18, 2 cases: since 15.1 no break after an
    ///   opening quotation mark and a space.
    ///
    /// The counts are pinned by rule and pair of classes, so that no further
    /// difference comes in unseen.
    #[test]
    fn opportunities_are_those_of_the_unicode_test_file() {
        let folder = std::env::var_os("ANSATA_UNICODE_DATA")
            .map_or_else(|| PathBuf::from("/usr/share/unicode"), PathBuf::from);
        let file = folder.join("auxiliary/LineBreakTest.txt");
        let Ok(data) = std::fs::read_to_string(&file) else {
            eprintln!("SKIPPED: no {}; install unicode-data 15.0.0", file.display());
            return;
        };
        if !data.starts_with("# LineBreakTest-15.0.0.txt") {
            eprintln!("SKIPPED: {} is not of Unicode 15.0.0", file.display());
            return;
        }
        let (mut cases, mut differing) = (0, BTreeMap::new());
        for row in data.lines().filter(|row| !row.starts_with('#')) {
            let (text, expected, places) = case(row).expect("the file's own format");
            cases += 1;
            let found: Vec<usize> = opportunities(&text).collect();
            if found != expected {
                let first = places
                    .iter()
                    .find(|place| found.contains(&place.at) != expected.contains(&place.at))
                    .expect("they differ somewhere");
                let key = format!("{}: {} {}", first.rule, first.before, first.after);
                *differing.entry(key).or_insert(0) += 1;
            }
        }
        assert_eq!(cases, 7654);
        let pinned = [
            ("15.0: SP OP", 6),
            ("18.0: SP CM1", 2),
            ("999.0: CL PO", 2),
            ("999.0: CL PR", 2),
            ("999.0: CP PO", 2),
            ("999.0: CP PR", 2),
            ("999.0: IS NU", 14),
            ("999.0: PO OP", 4),
            ("999.0: PR OP", 6),
            ("999.0: SY NU", 2),
        ];
        let pinned = pinned.map(|(key, count)| (key.to_owned(), count));
        assert_eq!(differing, BTreeMap::from(pinned));
    }
}
