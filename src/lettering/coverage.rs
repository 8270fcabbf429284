//! Characters that a lettering lacks, and which shipped lettering has them.

use super::Face;

/// A character without a glyph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// The character.
    pub character: char,
    /// Byte offset of its first use.
    pub offset: usize,
}

/// Characters of a text that a face lacks, each once, in order of first use.
#[must_use]
pub fn missing(face: &Face, text: &str) -> Vec<Missing> {
    let _ = (face, text);
    todo!()
}

/// Names of shipped lettering that has this character.
#[must_use]
pub fn who_has(character: char) -> Vec<&'static str> {
    let _ = character;
    todo!()
}
