//! The one place where mistakes are noted while a file is read.

use std::ops::Range;

use crate::layout::{Diagnostic, Keys, Source};

/// Most mistakes told of one file; a file of noise should not fill a terminal.
pub(super) const MOST_TOLD: usize = 40;

/// What a mistake is about; decides what is told of a file that is not sound TOML.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// The file is not TOML here.
    Syntax,
    /// Something is not there. A broken line may have held it, so this is told only of
    /// files that are sound.
    Missing,
    /// A key or value is wrong.
    Wrong,
}

struct Mistake {
    kind: Kind,
    span: Option<Range<usize>>,
    message: String,
    help: String,
    /// Dotted path of the key that is missing.
    key: Option<String>,
}

/// What is noted while a file is read: mistakes, places of keys, units of lengths.
pub(in crate::layout) struct Notes<'s> {
    source: &'s Source,
    /// Where each key was written.
    pub(in crate::layout) keys: Keys,
    /// Lengths read so far that were typed in inches, less those that were not.
    pub(in crate::layout) inch_lead: i64,
    mistakes: Vec<Mistake>,
    elsewhere: Vec<Diagnostic>,
    /// Mistakes that were counted and not kept.
    uncounted: usize,
    /// From here on the file was read as a part of something left open.
    swallowed: usize,
}

impl<'s> Notes<'s> {
    pub(in crate::layout) fn new(source: &'s Source) -> Self {
        Self {
            source,
            keys: Keys::default(),
            inch_lead: 0,
            mistakes: Vec::new(),
            elsewhere: Vec::new(),
            uncounted: 0,
            swallowed: usize::MAX,
        }
    }

    /// Notes that a key or value is wrong.
    pub(in crate::layout) fn wrong(
        &mut self,
        span: &Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.push(Kind::Wrong, Some(span.clone()), message.into(), help.into());
    }

    /// Notes that the key of a path is not there; the span is where it was looked for.
    pub(in crate::layout) fn missing(
        &mut self,
        key: &str,
        span: &Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.push(Kind::Missing, Some(span.clone()), message.into(), help.into());
        if let Some(last) = self.mistakes.last_mut() {
            last.key = Some(key.to_owned());
        }
    }

    /// Takes back that a key is missing: it is there, misspelt, and that is told.
    pub(super) fn misspelt(&mut self, key: &str) {
        self.mistakes.retain(|m| m.key.as_deref() != Some(key));
    }

    /// Counts mistakes beyond those that can be told.
    pub(super) fn count_more(&mut self, more: usize) {
        self.uncounted += more;
    }

    /// Notes that the file is not TOML at a place.
    pub(in crate::layout) fn syntax(
        &mut self,
        span: Range<usize>,
        message: String,
        help: impl Into<String>,
    ) {
        self.push(Kind::Syntax, Some(span), message, help.into());
    }

    /// Notes a mistake of the file as a whole.
    pub(in crate::layout) fn of_file(&mut self, message: String, help: impl Into<String>) {
        self.push(Kind::Wrong, None, message, help.into());
    }

    /// Notes that something is left open at a place: what follows was not read as it
    /// was meant.
    pub(super) fn swallowed(&mut self, from: usize) {
        self.swallowed = self.swallowed.min(from);
    }

    fn push(&mut self, kind: Kind, span: Option<Range<usize>>, message: String, help: String) {
        self.mistakes.push(Mistake { kind, span, message, help, key: None });
    }

    /// Notes a mistake in a file that this one names.
    pub(in crate::layout) fn elsewhere(&mut self, mistake: Diagnostic) {
        self.elsewhere.push(mistake);
    }

    /// Whether nothing was found wrong.
    pub(in crate::layout) fn clean(&self) -> bool {
        self.mistakes.is_empty() && self.elsewhere.is_empty()
    }

    /// All mistakes by place, those of files named in this one last.
    pub(in crate::layout) fn told(mut self) -> Vec<Diagnostic> {
        self.drop_echoes();
        self.mistakes.sort_by(|a, b| {
            let place = |m: &Mistake| m.span.as_ref().map(|span| (span.start, span.end));
            place(a).cmp(&place(b)).then_with(|| a.message.cmp(&b.message))
        });
        self.mistakes.dedup_by(|a, b| a.span == b.span && a.message == b.message);
        let total = self.mistakes.len() + self.elsewhere.len() + self.uncounted;
        let told = |m: Mistake| Diagnostic {
            source: self.source.clone(),
            span: m.span,
            message: m.message,
            help: Some(m.help),
        };
        let mut all: Vec<Diagnostic> =
            self.mistakes.into_iter().take(MOST_TOLD).map(told).collect();
        let room = MOST_TOLD - all.len();
        all.extend(self.elsewhere.into_iter().take(room));
        if total > all.len() {
            all.push(Diagnostic {
                source: self.source.clone(),
                span: None,
                message: format!("{} more mistakes are not shown", total - all.len()),
                help: Some("mend those above first: one slip often makes others".to_owned()),
            });
        }
        all
    }

    /// Where a file is not TOML, the parser goes on as well as it can. What it makes of
    /// the rest of a broken line is not the user's mistake, nor what it did not see.
    fn drop_echoes(&mut self) {
        let mut lines: Vec<Range<usize>> = self
            .mistakes
            .iter()
            .filter(|m| m.kind == Kind::Syntax)
            .filter_map(|m| Some(line_of(&self.source.text, m.span.as_ref()?.start)))
            .collect();
        if lines.is_empty() {
            return;
        }
        lines.sort_by_key(|line| line.start);
        self.mistakes.retain(|m| match (m.kind, &m.span) {
            (Kind::Syntax, _) => true,
            (Kind::Missing, _) | (_, None) => false,
            (Kind::Wrong, Some(span)) if span.start >= self.swallowed => false,
            (Kind::Wrong, Some(span)) => {
                let after = lines.partition_point(|line| line.start <= span.start);
                after.checked_sub(1).and_then(|i| lines.get(i)).is_none_or(|l| l.end < span.start)
            }
        });
    }
}

/// The line that holds an offset, as a byte range without its line feed.
pub(super) fn line_of(text: &str, offset: usize) -> Range<usize> {
    let bytes = text.as_bytes();
    let at = offset.min(bytes.len());
    let before = bytes.get(..at).unwrap_or_default();
    let after = bytes.get(at..).unwrap_or_default();
    let start = before.iter().rposition(|b| *b == b'\n').map_or(0, |feed| feed + 1);
    let end = after.iter().position(|b| *b == b'\n').map_or(bytes.len(), |feed| at + feed);
    start..end
}
