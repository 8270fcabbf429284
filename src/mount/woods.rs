//! Woods of faces and what they ask of a pilot hole, from `woods.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{FaceMaterial, Named};

/// A wood.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct WoodRow {
    name: String,
    /// Whether it is a hardwood (botanically).
    pub hardwood: bool,
    /// Specific gravity (ovendry weight) at 12 % moisture, where published; for
    /// mahogany and teak that on green volume, which is lower.
    pub gravity: Option<f64>,
    /// Source.
    pub source: String,
}

#[derive(Debug, Deserialize)]
struct Woods {
    wood: Vec<WoodRow>,
}

static WOODS: LazyLock<Woods> = LazyLock::new(|| {
    toml::from_str(include_str!("woods.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// Figures of a face's wood.
#[must_use]
pub fn wood_row(material: FaceMaterial) -> &'static WoodRow {
    known(material.word())
}

/// The row of a name that is a face material's word.
fn known(name: &str) -> &'static WoodRow {
    let row = WOODS.wood.iter().find(|row| row.name == name);
    row.expect("a test holds every face material's word to a row")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_has_its_row_and_a_source() {
        for (word, material) in FaceMaterial::ALL {
            let row = wood_row(*material);
            assert_eq!(row.name, *word);
            assert!(!row.source.is_empty(), "{word}");
            assert!(row.gravity.is_none_or(|g| g > 0.1 && g < 1.4), "{word}");
        }
        assert_eq!(WOODS.wood.len(), FaceMaterial::ALL.len());
    }
}
