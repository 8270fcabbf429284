//! Figures and looks of materials and fills, from `materials.toml`.

use crate::layout::{Fill, Finish, Material};

/// A plain gradient of our own that suggests the surface, and the colour of a bare cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// Stops from the top left to the bottom right: offset 0 to 1, red, green, blue.
    pub stops: Vec<(f64, [u8; 3])>,
    /// Colour of an unfilled cut.
    pub cut: [u8; 3],
}

/// Figures of a material.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialRow {
    /// Density, g/cm³.
    pub density: f64,
    /// Linear expansion, 10⁻⁶ per °C: least and greatest published.
    pub expansion: (f64, f64),
    /// Source of the figures.
    pub source: String,
    /// Cautions in working it.
    pub cautions: Vec<String>,
}

/// The colour of paint.
#[derive(Debug, Clone, PartialEq)]
pub struct FillLook {
    /// Red, green, blue.
    pub rgb: [u8; 3],
}

/// Figures of a material.
#[must_use]
pub fn material_row(material: Material) -> &'static MaterialRow {
    let _ = material;
    todo!()
}

/// How a material with a finish is drawn.
#[must_use]
pub fn look(material: Material, finish: Finish) -> Look {
    let _ = (material, finish);
    todo!()
}

/// The colour of a paint; `None` for no paint.
#[must_use]
pub fn fill_row(fill: Fill) -> Option<FillLook> {
    let _ = fill;
    todo!()
}
