//! Letters as shapes. Text and a lettering in; shaped lines, outlines and
//! measures out, in em units (1 = the font's em) or in cap heights, as each
//! name says; y runs up here. Knows nothing of plates or sheets.
//!
//! Glyphs are shaped by `harfrust` and drawn by `ab_glyph`, which read the same
//! bytes; advances come from shaping only, heights from outlines only.

mod area;
mod axes;
mod body;
mod catalogue;
mod coverage;
mod cut;
mod divide;
mod face;
mod faces;
mod file;
mod filter;
mod glyphs;
mod hang;
mod inside;
mod kinds;
mod line;
mod measure;
mod minima;
mod mixed;
mod narrow;
mod ornament;
mod outline;
mod runs;
mod sfnt;
mod shape;
mod shipped;
mod single;
mod strip;
mod stroke;
mod widths;

pub use area::Area;
pub use catalogue::{
    Catalogue, CatalogueError, Entry, Family, FamilyAxis, catalogue, nearest_entry,
};
pub use coverage::{Missing, blank, missing, who_has};
pub use face::{Face, FaceError};
pub use filter::{Filter, UnknownWord, script_name};
pub use inside::Inside;
pub use kinds::{Figures, Group, SmallCapitals};
pub use line::{
    Body, BodyKind, Glyph, LineStyle, PieceShape, ShapedLine, shaped_line, styled_line,
};
pub use minima::{Minima, alphabet, minima_row};
pub use mixed::face_runs;
pub use narrow::Narrower;
pub use ornament::Ornament;
pub use outline::united;
pub use shape::{Run, feature_is_valid, shaped_run};
pub use stroke::{GlyphStrokes, Measure, Narrow, SetGlyph, Thin, ThinPlace, thin};
pub use widths::{Rung, Widths};
