//! Every word about bad input, and how a message with its source line is drawn.

use std::ops::Range;

use super::Source;

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
    /// The message with file, line, column, source line and caret, as a compiler
    /// shows it; with terminal colours when `colour` is set.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let _ = colour;
        todo!()
    }
}
