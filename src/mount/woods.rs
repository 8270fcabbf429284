//! Woods of faces and what they ask of a pilot hole, from `woods.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{FaceMaterial, Named, Sawn};

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
    radial: Option<f64>,
    tangential: Option<f64>,
    movement_source: Option<String>,
}

/// How far a wood moves across its face: the share of the width for each per cent of
/// moisture, by equation 13-2 of the Wood Handbook.
#[derive(Debug, Clone, PartialEq)]
pub struct Coefficient {
    /// The share.
    pub share: f64,
    /// Whose figure it is, and what was taken for granted.
    pub source: String,
}

/// What the coefficients of movement are from, and for.
const BOOK: &str = "Wood Handbook (FPL-GTR-190), equation 13-2";

#[derive(Debug, Deserialize)]
struct Woods {
    wood: Vec<WoodRow>,
}

static WOODS: LazyLock<Woods> = LazyLock::new(|| {
    toml::from_str(include_str!("woods.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// What is behind a plate, as far as a pilot hole asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Behind {
    /// No face is told.
    Untold,
    /// A face of something else than solid wood.
    NoWood,
    /// Solid wood.
    Wood(&'static WoodRow),
}

impl Behind {
    /// What a face of a material is, where one is told.
    #[must_use]
    pub fn of(material: Option<FaceMaterial>) -> Self {
        material
            .map_or(Self::Untold, |material| wood_row(material).map_or(Self::NoWood, Self::Wood))
    }
}

/// Figures of a face's wood; `None` of what is no solid wood.
#[must_use]
pub fn wood_row(material: FaceMaterial) -> Option<&'static WoodRow> {
    WOODS.wood.iter().find(|row| row.name == material.word())
}

impl WoodRow {
    fn share(&self, sawn: Sawn) -> Option<f64> {
        match sawn {
            Sawn::Flat => self.tangential,
            Sawn::Quarter => self.radial,
        }
    }

    /// How far it moves across a face that was cut so. A hardwood or softwood that is
    /// not named takes the greatest of the table for its kind. `None` where the table
    /// has none of the kind.
    #[must_use]
    pub fn movement(&self, sawn: Sawn) -> Option<Coefficient> {
        if let (Some(share), Some(source)) = (self.share(sawn), &self.movement_source) {
            return Some(Coefficient { share, source: format!("{BOOK} and {source}") });
        }
        let kind = WOODS.wood.iter().filter(|row| row.hardwood == self.hardwood);
        let greatest = kind
            .filter_map(|row| Some((row.share(sawn)?, row)))
            .max_by(|a, b| a.0.total_cmp(&b.0))?;
        let (share, row) = greatest;
        let source = format!(
            "{BOOK} and {}: that of {}, the greatest in the table for a {}, as the wood is not named",
            row.movement_source.as_deref().unwrap_or_default(),
            row.name,
            self.name
        );
        Some(Coefficient { share, source })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mount::{FaceKind, face_row};

    #[test]
    fn every_row_has_its_word_and_a_source() {
        let mut found = 0;
        for (word, material) in FaceMaterial::ALL {
            let Some(row) = wood_row(*material) else { continue };
            found += 1;
            assert_eq!(row.name, *word);
            assert!(!row.source.is_empty(), "{word}");
            assert!(row.gravity.is_none_or(|g| g > 0.1 && g < 1.4), "{word}");
        }
        assert_eq!(WOODS.wood.len(), found);
    }

    #[test]
    fn what_is_solid_wood_has_a_row_and_nothing_else_has() {
        for (word, material) in FaceMaterial::ALL {
            let wood = material.is_solid_wood();
            assert_eq!(wood_row(*material).is_some(), wood, "{word}");
            assert_eq!(face_row(*material).kind == FaceKind::Wood, wood, "{word}");
        }
    }

    #[test]
    fn a_wood_without_a_name_moves_as_the_most_lively_of_its_kind() {
        let share = |material, sawn| wood_row(material).unwrap().movement(sawn).unwrap();
        for (kind, sawn, most, of) in [
            (FaceMaterial::Hardwood, Sawn::Flat, 0.00431, "beech"),
            (FaceMaterial::Hardwood, Sawn::Quarter, 0.00256, "yellow birch"),
            (FaceMaterial::Softwood, Sawn::Flat, 0.00267, "douglas fir"),
            (FaceMaterial::Softwood, Sawn::Quarter, 0.00165, "douglas fir"),
        ] {
            let got = share(kind, sawn);
            assert!((got.share - most).abs() < 1e-12, "{got:?}");
            assert!(got.source.contains(of) && got.source.contains("not named"), "{got:?}");
        }
        // Flat-sawn boards move more than quarter-sawn ones, whatever the wood.
        let woods = FaceMaterial::ALL.iter().filter(|(_, wood)| wood_row(*wood).is_some());
        for (_, material) in woods {
            assert!(share(*material, Sawn::Flat).share > share(*material, Sawn::Quarter).share);
        }
    }
}
