//! Writers: one format each, a [`super::Drawing`] in, bytes out. The same
//! drawing gives the same bytes.
//!
//! SVG, PDF and DXF are written straight from the drawing; PNG is the SVG, drawn, so
//! that picture and vector cannot differ. Dots of a screen are written by themselves.

mod bits;
mod dxf;
mod path;
mod pdf;
mod pictures;
mod pixels;
mod placed;
mod png;
mod svg;
mod xml;

pub use bits::png_of_bits;
pub use dxf::{DXF_TOLERANCE_MM, dxf};
pub use pdf::pdf;
pub use pictures::Pictures;
pub use pixels::png_of_pixels;
pub use png::{png, usual_dpi};
pub use svg::{svg, svg_about, svg_for_screen};

/// Why a drawing could not be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WriteError(pub String);

impl std::fmt::Display for WriteError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for WriteError {}
