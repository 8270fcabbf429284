//! A text with its name, and places in it.

use std::collections::BTreeMap;
use std::ops::Range;

use super::Diagnostic;

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
    /// A file as text.
    ///
    /// # Errors
    /// The bytes are not UTF-8: with the place of the first that belongs to no character.
    pub fn decoded(name: &str, bytes: Vec<u8>) -> Result<Self, Box<Diagnostic>> {
        let name = name.to_owned();
        let utf16 = bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]);
        let error = match String::from_utf8(bytes) {
            Ok(text) => return Ok(Self { name, text }),
            Err(error) => error,
        };
        let sound = error.utf8_error().valid_up_to();
        // Up to the first unsound byte, the text that is shown has the file's offsets.
        let (text, span, message) = if utf16 {
            (String::new(), None, "the file is UTF-16, not UTF-8 text")
        } else {
            let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            (text, Some(sound..sound + 1), "this is not UTF-8 text: the byte is no character")
        };
        Err(Box::new(Diagnostic {
            source: Self { name, text },
            span,
            message: message.to_owned(),
            help: Some("save the file again as UTF-8".to_owned()),
        }))
    }

    /// Line and column of a byte offset. An offset past the end gives the end;
    /// one inside a character gives that character.
    #[must_use]
    pub fn position(&self, offset: usize) -> Position {
        let mut end = offset.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let before = self.text.get(..end).unwrap_or_default();
        // A byte order mark is no character of the first line.
        let before = before.strip_prefix('\u{FEFF}').unwrap_or(before);
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

#[cfg(test)]
mod tests {
    use super::{Keys, Position, Source};

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let source = Source { name: String::new(), text: "ab\né¾x\r\n\nz".to_owned() };
        let at = |offset| {
            let Position { line, column } = source.position(offset);
            (line, column)
        };
        assert_eq!(at(0), (1, 1));
        assert_eq!(at(2), (1, 3));
        assert_eq!(at(3), (2, 1));
        assert_eq!(at(4), (2, 1), "inside é");
        assert_eq!(at(7), (2, 3));
        assert_eq!(at(10), (3, 1));
        assert_eq!(at(11), (4, 1));
        assert_eq!(at(999), (4, 2));
    }

    #[test]
    fn a_byte_order_mark_takes_no_column() {
        let source = Source { name: String::new(), text: "\u{FEFF}ab\ncd".to_owned() };
        assert_eq!(source.position(0), Position { line: 1, column: 1 });
        assert_eq!(source.position(4), Position { line: 1, column: 2 });
        assert_eq!(source.position(6), Position { line: 2, column: 1 });
    }

    #[test]
    fn what_is_not_utf_8_is_told_where() {
        let error = Source::decoded("a", b"One\nCaf\xe9 two".to_vec()).expect_err("Latin-1");
        assert_eq!(error.position(), Some(Position { line: 2, column: 4 }));
        let error = Source::decoded("a", b"\xff\xfeO\0".to_vec()).expect_err("UTF-16");
        assert_eq!(error.message, "the file is UTF-16, not UTF-8 text");
        assert_eq!(Source::decoded("a", "é".into()).expect("UTF-8").text, "é");
    }

    #[test]
    fn a_key_not_written_is_looked_for_in_the_tables_above_it() {
        let mut keys = Keys::default();
        keys.insert("plate".to_owned(), 3..8);
        keys.insert("plate.size".to_owned(), 9..20);
        assert_eq!(keys.span("plate.size"), Some(9..20));
        assert_eq!(keys.span("plate.border.inset"), Some(3..8));
        assert_eq!(keys.span("mount.inset"), None);
    }
}
