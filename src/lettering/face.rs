//! A font opened once, at one instance.

use std::sync::Arc;

use kurbo::BezPath;

use crate::layout::LetteringChoice;

/// Why a lettering could not be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FaceError {
    /// What is wrong, for the person who chose the file.
    pub message: String,
    /// What to do.
    pub help: Option<String>,
}

/// A font at one instance: every axis set.
pub struct Face {
    /// Name for people: the catalogue's, or the file's path.
    pub name: String,
    /// The file's bytes.
    pub bytes: Arc<[u8]>,
    /// SHA-256 of the bytes, hexadecimal.
    pub sha256: String,
    /// Face index in a collection.
    pub index: u32,
    /// Every axis with its value, in the font's order.
    pub axes: Vec<(String, f32)>,
    /// Units to the em.
    pub upem: f64,
    /// Cap height, font units: median ink height of E F H I T Z, or the
    /// catalogue's reference letter.
    pub cap_units: f64,
    /// Ink height of x, font units, where the face has one.
    pub x_units: Option<f64>,
    /// Licence in short, `None` for the user's own file.
    pub licence: Option<String>,
}

impl std::fmt::Debug for Face {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Face({:?} {:?})", self.name, self.axes)
    }
}

impl Face {
    /// Opens a lettering: a shipped one by its catalogue name, or the user's own bytes.
    ///
    /// # Errors
    /// A name that is not in the catalogue; bytes that are not a readable font;
    /// an index past the collection; a face without the reference capitals.
    pub fn open(choice: &LetteringChoice) -> Result<Arc<Self>, FaceError> {
        let _ = choice;
        todo!()
    }

    /// Cap height in em.
    #[must_use]
    pub fn cap_em(&self) -> f64 {
        self.cap_units / self.upem
    }

    /// Outline of a glyph in em, y up; empty for a glyph without one.
    #[must_use]
    pub fn outline(&self, glyph: u16) -> BezPath {
        let _ = glyph;
        todo!()
    }
}
