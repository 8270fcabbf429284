//! What may be driven into a face, by what it is made of, from `faces.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{FaceMaterial, Named};

use super::wood_row;

/// What a face is made of, as far as fixings and movement ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum FaceKind {
    /// Solid wood: it moves across the grain.
    Wood,
    /// Board: fibreboard, chipboard, plywood.
    Board,
    /// Veneer over board or wood.
    Veneered,
    /// Stone.
    Stone,
    /// Metal.
    Metal,
    /// Cast resin.
    Resin,
    /// A thin skin over a hollow.
    Hollow,
}

/// Whether a way of fixing suits a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Suits {
    /// It does.
    Yes,
    /// It does, with the care that the row names.
    Care,
    /// It does not.
    No,
}

/// What may be driven into a face or stuck onto it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct FaceRow {
    name: String,
    /// What it is.
    pub kind: FaceKind,
    /// Wood screws.
    pub wood_screw: Suits,
    /// Pins.
    pub pin: Suits,
    /// Threaded inserts, for machine screws.
    pub insert: Suits,
    /// Machine screws through the face.
    pub through: Suits,
    /// Adhesive tape and pads.
    pub tape: Suits,
    /// Why, in words: common practice, no source.
    pub why: String,
}

#[derive(Debug, Deserialize)]
struct Faces {
    face: Vec<FaceRow>,
}

static FACES: LazyLock<Faces> = LazyLock::new(|| {
    toml::from_str(include_str!("faces.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// What may be driven into a face of a material.
#[must_use]
pub fn face_row(material: FaceMaterial) -> &'static FaceRow {
    known(if wood_row(material).is_some() { "wood" } else { material.word() })
}

/// The row of a name that is `wood` or a face material's word.
fn known(name: &str) -> &'static FaceRow {
    let row = FACES.face.iter().find(|row| row.name == name);
    row.expect("a test holds every face material's word to a row")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_is_a_wood_or_has_its_own_row() {
        let mut own = 0;
        for (word, material) in FaceMaterial::ALL {
            let row = face_row(*material);
            assert!(!row.why.is_empty(), "{word}");
            assert_eq!(row.kind == FaceKind::Wood, wood_row(*material).is_some(), "{word}");
            own += usize::from(row.kind != FaceKind::Wood);
        }
        assert_eq!(FACES.face.len(), own + 1);
    }

    #[test]
    fn nothing_is_driven_into_stone() {
        let stone = face_row(FaceMaterial::Stone);
        assert_eq!([stone.wood_screw, stone.pin, stone.insert, stone.through], [Suits::No; 4]);
        assert_eq!(stone.tape, Suits::Yes);
    }
}
