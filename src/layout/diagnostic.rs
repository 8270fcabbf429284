//! Every word about bad input, and how a message with its source line is drawn.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::{Position, Source};

/// Characters shown of a source line, and how many of them before the place spoken of
/// where the line is longer. It may be a megabyte long; a terminal is some hundred
/// columns wide.
const SHOWN: usize = 120;
const SHOWN_BEFORE: usize = 50;

/// Stands where something was left out.
const CUT: char = '…';

/// Most characters of the user's own words repeated inside a message.
const QUOTED: usize = 48;

/// Most words of a list that a message repeats.
pub(super) const LISTED: usize = 16;

/// One readable mistake.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// The file it stands in.
    pub source: Source,
    /// Bytes of the source it speaks of; `None` for the file as a whole.
    pub span: Option<Range<usize>>,
    /// What is wrong, in one line.
    pub message: String,
    /// What was expected or what to do; with the nearest right word where there is one.
    pub help: Option<String>,
}

impl Diagnostic {
    /// Where it stands; `None` for the file as a whole.
    #[must_use]
    pub fn position(&self) -> Option<Position> {
        self.span.as_ref().map(|span| self.source.position(span.start))
    }

    /// The message with file, line, column, source line and caret, as a compiler
    /// shows it; with terminal colours when `colour` is set. Of a long source line
    /// only the part around the place is shown; no line feed at the end.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let name = clipped(&self.source.name, QUOTED * 4);
        let mut group: Group<'_> =
            Group::with_title(Level::ERROR.primary_title(self.message.as_str()));
        group = match &self.span {
            None => group.element(Origin::path(name)),
            Some(span) => {
                let place = self.source.position(span.start);
                let (text, marked) = window(&self.source.text, span);
                let cut = text.starts_with(CUT);
                let snippet = Snippet::source(text)
                    .line_start(place.line)
                    .annotation(AnnotationKind::Primary.span(marked));
                if cut {
                    // The snippet would count columns from the cut.
                    let origin = Origin::path(name).line(place.line).char_column(place.column);
                    group.element(origin).element(snippet)
                } else {
                    group.element(snippet.path(name))
                }
            }
        };
        if let Some(help) = &self.help {
            group = group.element(Level::HELP.message(help.as_str()));
        }
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        renderer.render(&[group])
    }
}

/// The part of a source line that is shown, and where in it the span stands. A span
/// over several lines is marked on its first.
fn window(text: &str, span: &Range<usize>) -> (String, Range<usize>) {
    let at = floor_char(text, span.start);
    let (before, after) = text.split_at(at);
    // A byte order mark is no part of the first line.
    let first = if before.starts_with('\u{FEFF}') { '\u{FEFF}'.len_utf8() } else { 0 };
    let line_start = before.rfind('\n').map_or(first, |feed| feed + 1);
    let line_end = after.find('\n').map_or(text.len(), |feed| at + feed);
    let line_before = before.get(line_start..).unwrap_or_default();
    let line_after = text.get(at..line_end).unwrap_or_default().trim_end_matches('\r');

    let length = line_before.chars().chain(line_after.chars()).take(SHOWN + 1).count();
    let (cut_left, cut_right) = if length <= SHOWN {
        (0, line_after.len())
    } else {
        let left = line_before.char_indices().rev().nth(SHOWN_BEFORE - 1);
        let right = line_after.char_indices().nth(SHOWN - SHOWN_BEFORE);
        (left.map_or(0, |(i, _)| i), right.map_or(line_after.len(), |(i, _)| i))
    };
    let mut shown = String::new();
    if cut_left > 0 {
        shown.push(CUT);
    }
    shown.push_str(line_before.get(cut_left..).unwrap_or_default());
    let start = shown.len();
    shown.push_str(line_after.get(..cut_right).unwrap_or_default());
    let end = floor_char(&shown, start + span.end.saturating_sub(at)).max(start);
    if cut_right < line_after.len() {
        shown.push(CUT);
    }
    (shown, start..end)
}

/// The greatest character boundary at or below an offset.
fn floor_char(text: &str, offset: usize) -> usize {
    let mut at = offset.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// The user's own words inside a message: in one line, of bounded length, with
/// control characters spelt out.
pub(super) fn quoted(text: &str) -> String {
    format!("`{}`", clipped(text, QUOTED))
}

fn clipped(text: &str, most: usize) -> String {
    let mut out = String::new();
    for (count, c) in text.chars().enumerate() {
        if count == most {
            out.push(CUT);
            break;
        }
        if c.is_control() { out.extend(c.escape_default()) } else { out.push(c) }
    }
    out
}

/// The nearest of some words to one that was typed: the same but for case, else the
/// least number of slips (letters wrong, missing, doubled or changed about), at most
/// one and a quarter of the length. Between equals the same first letter goes first,
/// then the order given.
pub(super) fn nearest<'w>(
    typed: &str,
    words: impl IntoIterator<Item = &'w str>,
) -> Option<&'w str> {
    let length = typed.chars().take(QUOTED + 1).count();
    if length > QUOTED {
        return None;
    }
    let typed = typed.to_lowercase();
    let mut best: Option<((usize, bool), &str)> = None;
    for word in words {
        let lower = word.to_lowercase();
        let other_start = lower.chars().next() != typed.chars().next();
        let rank = (strsim::damerau_levenshtein(&typed, &lower), other_start);
        if rank.0 <= 1 + length / 4 && best.is_none_or(|(least, _)| rank < least) {
            best = Some((rank, word));
        }
    }
    best.map(|(_, word)| word)
}

/// Help for a word that is none of a list: the nearest; else those that hold it as a
/// part, such as `black walnut` for `walnut`; and the list, if it is short.
pub(super) fn choices(typed: &str, words: &[&str]) -> String {
    if words.len() > LISTED {
        advice(typed, words, String::new())
    } else {
        every_choice(typed, words)
    }
}

/// As [`choices`], with all words however many: where there is no other list of them.
pub(super) fn every_choice(typed: &str, words: &[&str]) -> String {
    advice(typed, words, words.join(", "))
}

fn advice(typed: &str, words: &[&str], list: String) -> String {
    let lower = typed.trim().to_lowercase();
    let holding = || {
        let words = words.iter().filter(|word| word.to_lowercase().contains(&lower));
        words.map(|word| quoted(word)).collect()
    };
    let near: Vec<String> = match nearest(typed, words.iter().copied()) {
        Some(word) => vec![quoted(word)],
        // Less than three letters stand in many words.
        None if lower.chars().nth(2).is_none() => Vec::new(),
        None => holding(),
    };
    match (near.is_empty(), list.is_empty()) {
        (false, true) => format!("did you mean {}?", near.join(" or ")),
        (false, false) => format!("did you mean {}? It may be: {list}", near.join(" or ")),
        (true, false) => format!("it may be: {list}"),
        (true, true) => format!("none of the {} words allowed is near to it.", words.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::{Diagnostic, choices, nearest, quoted};
    use crate::layout::Source;

    fn rendered(text: &str, span: std::ops::Range<usize>) -> String {
        let source = Source { name: "a.toml".to_owned(), text: text.to_owned() };
        let message = "wrong".to_owned();
        Diagnostic { source, span: Some(span), message, help: None }.render(false)
    }

    #[test]
    fn the_nearest_word_forgives_case_and_one_slip_in_four_letters() {
        let words = ["size", "shape", "corner", "margin"];
        let near = |typed: &str| nearest(typed, words);
        assert_eq!(near("Margin"), Some("margin"));
        assert_eq!(near("mragin"), Some("margin"));
        assert_eq!(near("corners"), Some("corner"));
        assert_eq!(near("sise"), Some("size"));
        assert_eq!(near("width"), None);
        assert_eq!(near(&"margin".repeat(1000)), None);
    }

    #[test]
    fn a_part_of_a_name_is_offered_the_names_that_hold_it() {
        let woods = ["white oak", "birch", "red oak"];
        assert_eq!(
            choices("oak", &woods),
            "did you mean `white oak` or `red oak`? It may be: white oak, birch, red oak"
        );
        assert_eq!(choices("q", &woods), "it may be: white oak, birch, red oak");
    }

    #[test]
    fn quoted_words_are_short_and_of_one_line() {
        assert_eq!(quoted("a\nb\u{7}"), "`a\\nb\\u{7}`");
        assert_eq!(quoted(&"x".repeat(1 << 20)).chars().count(), 51);
    }

    #[test]
    fn only_the_part_of_a_long_line_around_the_place_is_shown() {
        let line = format!("{}HERE{}", "a".repeat(5000), "b".repeat(5000));
        let text = format!("first\n{line}\nlast\n");
        let shown = rendered(&text, 5006..5010);
        assert!(shown.contains("a.toml:2:5001"), "{shown}");
        assert!(shown.contains("HERE"), "{shown}");
        assert!(shown.contains("^^^^") && !shown.contains("^^^^^"), "{shown}");
        assert!(shown.len() < 600, "{shown}");
    }

    #[test]
    fn a_place_of_several_lines_is_marked_on_the_first_and_odd_offsets_do_no_harm() {
        let shown = rendered("a = [\n 1,\n]\n", 4..12);
        assert_eq!(shown.matches('^').count(), 1, "{shown}");
        for (start, end) in [(0, 0), (1, 1), (4, 4), (1, 99), (99, 100), (2, 1)] {
            assert!(rendered("é = ü", start..end).contains("a.toml:1:"), "{start}..{end}");
        }
        assert!(rendered("", 0..0).contains("a.toml:1:1"));
    }
}
