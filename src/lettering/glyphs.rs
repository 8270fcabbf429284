//! The glyphs of a line, in a list that its face lends.

use std::mem;
use std::ops::Deref;
use std::sync::Arc;

use super::Face;
use super::shape::ShapedGlyph;

/// Glyphs of a whole line, left to right.
///
/// Cures are proved by setting the same lines many times, and a list of some hundred glyphs
/// is by far the largest thing that a line holds: it goes back to the face, for the next line.
#[derive(Debug)]
pub(super) struct Glyphs {
    list: Vec<ShapedGlyph>,
    face: Arc<Face>,
}

impl Glyphs {
    /// What a face's shaper gave.
    pub(super) fn new(list: Vec<ShapedGlyph>, face: &Arc<Face>) -> Self {
        Self { list, face: Arc::clone(face) }
    }
}

impl Deref for Glyphs {
    type Target = [ShapedGlyph];

    fn deref(&self) -> &[ShapedGlyph] {
        &self.list
    }
}

impl Clone for Glyphs {
    fn clone(&self) -> Self {
        Self::new(self.list.clone(), &self.face)
    }
}

impl Drop for Glyphs {
    fn drop(&mut self) {
        if let Some(mut kept) = self.face.kept() {
            kept.take_back(mem::take(&mut self.list));
        }
    }
}
