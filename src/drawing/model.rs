//! What a drawing is made of. All lengths mm, y down, origin at a page's top left.

use std::sync::Arc;

use kurbo::{Affine, BezPath};

use crate::lettering::Face;

use super::LineType;

/// How an area is coloured.
#[derive(Debug, Clone, PartialEq)]
pub enum Paint {
    /// One colour, sRGB.
    Solid([u8; 3]),
    /// A straight gradient between two points of the item's own coordinates.
    Linear {
        /// Start point, mm.
        from: (f64, f64),
        /// End point, mm.
        to: (f64, f64),
        /// Offsets from 0 to 1 with their colours, rising.
        stops: Vec<(f64, [u8; 3])>,
    },
}

/// How a path's line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Width, mm.
    pub width: f64,
    /// ISO 128 line type.
    pub line_type: LineType,
    /// Colour, sRGB.
    pub colour: [u8; 3],
}

/// A path, filled by the nonzero rule, stroked, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// The path.
    pub path: BezPath,
    /// Fill.
    pub fill: Option<Paint>,
    /// Line.
    pub stroke: Option<Stroke>,
}

/// One glyph of a text.
#[derive(Debug, Clone, PartialEq)]
pub struct TextGlyph {
    /// Glyph index.
    pub id: u16,
    /// Origin from the text's origin, em, x right.
    pub x_em: f64,
    /// Origin above the baseline, em.
    pub y_em: f64,
    /// Bytes of the text it stands for.
    pub range: std::ops::Range<usize>,
}

/// Real text with its glyphs: searchable in PDF, drawn as outlines elsewhere.
#[derive(Debug, Clone)]
pub struct Text {
    /// The characters.
    pub text: String,
    /// Face of the glyphs.
    pub face: Arc<Face>,
    /// Size of the em, mm.
    pub size: f64,
    /// Origin on the baseline, mm.
    pub x: f64,
    /// Baseline, mm.
    pub y: f64,
    /// Turned anticlockwise about the origin, degrees; 0 or 90.
    pub turned: f64,
    /// Colour, sRGB.
    pub colour: [u8; 3],
    /// Glyphs, left to right.
    pub glyphs: Vec<TextGlyph>,
}

/// A named group: an operation or a part of a sheet.
#[derive(Debug, Clone)]
pub struct Group {
    /// Name, kebab-case, unique on its page.
    pub name: String,
    /// What it is, for people who cannot see it; empty for none.
    pub description: String,
    /// Moves the items within.
    pub transform: Affine,
    /// Items in the order of drawing.
    pub items: Vec<Item>,
}

/// One thing drawn.
#[derive(Debug, Clone)]
pub enum Item {
    /// A path.
    Path(Path),
    /// Real text.
    Text(Text),
    /// A named group.
    Group(Group),
}

/// One page.
#[derive(Debug, Clone)]
pub struct Page {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Items in the order of drawing.
    pub items: Vec<Item>,
}

/// A whole drawing.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Title, for metadata.
    pub title: String,
    /// What it shows, with the exact wording, for people who cannot see it.
    pub description: String,
    /// Colour laid under each whole page, sRGB; `None` leaves the ground clear,
    /// as artwork must.
    pub background: Option<[u8; 3]>,
    /// Pages, at least one.
    pub pages: Vec<Page>,
}
