//! A text with its name, and places in it.

use std::collections::BTreeMap;
use std::ops::Range;

/// A line and column, both from 1; columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Position {
    /// Line number from 1.
    pub line: usize,
    /// Column in characters from 1.
    pub column: usize,
}

/// A file's text under the name that messages give it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Name shown in messages.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl Source {
    /// Line and column of a byte offset. An offset past the end gives the end;
    /// one inside a character gives that character.
    #[must_use]
    pub fn position(&self, offset: usize) -> Position {
        let mut end = offset.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let before = self.text.get(..end).unwrap_or_default();
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        Position {
            line: before.matches('\n').count() + 1,
            column: before.get(line_start..).unwrap_or_default().chars().count() + 1,
        }
    }
}

/// Where each key of a layout was written: dotted path (`plate.margin`,
/// `line.2.text`, lines counted from 1) to the byte range of its value.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Keys {
    spans: BTreeMap<String, Range<usize>>,
}

impl Keys {
    /// Remembers where a key's value stands.
    pub fn insert(&mut self, path: String, span: Range<usize>) {
        self.spans.insert(path, span);
    }

    /// The span of exactly this key.
    #[must_use]
    pub fn exact(&self, path: &str) -> Option<Range<usize>> {
        self.spans.get(path).cloned()
    }

    /// The span of a key, or of the nearest table above it that was written.
    #[must_use]
    pub fn span(&self, path: &str) -> Option<Range<usize>> {
        let mut path = path;
        loop {
            if let Some(span) = self.spans.get(path) {
                return Some(span.clone());
            }
            path = path.rfind('.').and_then(|dot| path.get(..dot))?;
        }
    }
}
