//! Glyphs of a text by `harfrust`.

use std::sync::Arc;

use super::{Face, Glyph};

/// A text of one face, shaped: glyphs in visual order and its advance.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Glyphs, left to right.
    pub glyphs: Vec<Glyph>,
    /// Whole advance, em.
    pub advance_em: f64,
}

/// A whole text shaped in visual order (bidi and script runs handled).
#[must_use]
pub fn shaped_run(text: &str, face: &Arc<Face>, features: &[String]) -> Run {
    let _ = (text, face, features);
    todo!()
}
