//! Woods of faces and what they ask of a pilot hole, from `woods.toml`.

use crate::layout::FaceMaterial;

/// A wood.
#[derive(Debug, Clone, PartialEq)]
pub struct WoodRow {
    /// Whether it is a hardwood (botanically).
    pub hardwood: bool,
    /// Specific gravity at 12 % moisture, where published.
    pub gravity: Option<f64>,
    /// Source.
    pub source: String,
}

/// Figures of a face's wood.
#[must_use]
pub fn wood_row(material: FaceMaterial) -> &'static WoodRow {
    let _ = material;
    todo!()
}
