//! Every word about bad input, and how a message with its source line is drawn.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::{Position, Source};

/// Characters of a source line shown before and after the place spoken of. A line may
/// be a megabyte long; a terminal is some hundred columns wide.
const SHOWN_BEFORE: usize = 40;
const SHOWN_AFTER: usize = 60;

/// Stands where something was left out.
const CUT: char = '…';

/// Most characters of the user's own words repeated inside a message.
const QUOTED: usize = 48;

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
    let line_start = before.rfind('\n').map_or(0, |feed| feed + 1);
    let line_end = after.find('\n').map_or(text.len(), |feed| at + feed);
    let line_before = before.get(line_start..).unwrap_or_default();
    let line_after = text.get(at..line_end).unwrap_or_default().trim_end_matches('\r');

    let cut_left = line_before.char_indices().rev().nth(SHOWN_BEFORE - 1).map_or(0, |(i, _)| i);
    let cut_right = line_after.char_indices().nth(SHOWN_AFTER).map_or(line_after.len(), |(i, _)| i);
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

/// Help for a word that is none of a list: the nearest, and the list if it is short.
pub(super) fn choices(typed: &str, words: &[&str]) -> String {
    const SHORT: usize = 24;
    let list = words.join(", ");
    match nearest(typed, words.iter().copied()) {
        Some(word) if words.len() > SHORT => format!("did you mean `{word}`?"),
        Some(word) => format!("did you mean `{word}`? It may be: {list}"),
        None => format!("it may be: {list}"),
    }
}
