//! The neutral drawing in mm: paths, real text, pictures, named groups, line
//! types; and one writer a format in `write/`. Knows no plaques.

mod image;
mod line_type;
mod model;
pub mod write;

pub use image::{Image, Pixels, Scaling};
pub use line_type::LineType;
pub use model::{
    Circle, Drawing, Ends, Group, Item, Page, Paint, Path, Role, RowOf, Setting, Stroke, Text,
    TextGlyph,
};
