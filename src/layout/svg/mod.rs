//! A drawing of the user's own: the shape of an SVG file, for engraving.
//!
//! What a cutter can follow is an outline, so a drawing is its filled shapes and its lines,
//! all in one colour; white takes away what lies beneath it. Everything else is refused
//! with its place rather than left out, and so is everything that a picture has no need of:
//! scripts, other files, entities. The XML is looked through first ([`scan`]), then `usvg`
//! resolves styles, transforms and units, and the paths are united ([`paths`]).

mod numbers;
mod paths;
mod scan;

use std::ops::Range;

use kurbo::BezPath;
use usvg::roxmltree;

use super::{Diagnostic, Source};

/// Most bytes of a file: a crest with all its curves is some ten thousand.
const MOST_BYTES: usize = 1 << 20;
/// Most nodes of its XML (elements, texts, comments).
const MOST_NODES: u32 = 20_000;
/// Most groups inside each other, repeated parts followed.
const MOST_NESTED: usize = 40;
/// Most shapes, repeated parts counted as often as they are drawn.
const MOST_SHAPES: usize = 1_000;
/// Most straight lines and curves: a drawing a few centimetres high holds no more that a
/// cutter could show.
const MOST_CURVES: usize = 3_000;
/// Most places where lines of the drawing may cross: each makes two more of them.
const MOST_CROSSINGS: usize = 50_000;
/// Most times that the drawing goes on in white over dark, or in dark over white.
const MOST_TURNS: usize = 40;
/// Greatest number that is read: far beyond any page, and far from where sums fail.
const GREATEST: f64 = 1e6;
/// How much wider than high a drawing may be, or higher than wide.
const MOST_SLENDER: f64 = 50.0;

/// Why a drawing is refused.
#[derive(Debug)]
struct Refused {
    /// Bytes it speaks of, where that is known.
    at: Option<Range<usize>>,
    message: String,
    help: String,
}

impl Refused {
    fn new(at: Option<Range<usize>>, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { at, message: message.into(), help: help.into() }
    }
}

/// The shape of an SVG file, without overlaps: closed contours, the box of the ink 1 high,
/// its bottom left corner at 0, y up.
///
/// Arcs are followed within 0.0003 of their radius, other curves exactly. What stands
/// outside of the page does not count, as in any viewer.
///
/// # Errors
/// The file is no SVG, is larger or more intricate than the limits above, draws nothing, or
/// holds what cannot be engraved; told at its own line and column where it has one.
pub(super) fn shape(path: &str, bytes: Vec<u8>) -> Result<BezPath, Box<Diagnostic>> {
    if bytes.len() > MOST_BYTES {
        let message = format!("the file has {} bytes; at most {MOST_BYTES} are read", bytes.len());
        let source = Source { name: path.to_owned(), text: String::new() };
        let help = Some("take a simpler drawing, without embedded pictures".to_owned());
        return Err(Box::new(Diagnostic { source, span: None, message, help }));
    }
    let source = Source::decoded(path, bytes)?;
    drawn(&source.text).map_err(|refused| {
        let Refused { at, message, help } = refused;
        Box::new(Diagnostic { source, span: at, message, help: Some(help) })
    })
}

fn drawn(text: &str) -> Result<BezPath, Refused> {
    scan::declarations(text)?;
    let options = roxmltree::ParsingOptions {
        allow_dtd: true,
        nodes_limit: MOST_NODES,
        ..roxmltree::ParsingOptions::default()
    };
    let document = roxmltree::Document::parse_with_options(text, options)
        .map_err(|error| not_xml(text, &error))?;
    scan::elements(&document)?;
    let tree = usvg::Tree::from_xmltree(&document, &usvg::Options::default()).map_err(|error| {
        Refused::new(
            Some(document.root_element().range()),
            format!("the drawing cannot be read: {error}"),
            "save it again as plain SVG",
        )
    })?;
    paths::outline(&tree)
}

/// What the XML reader found wrong, at its place.
fn not_xml(text: &str, error: &roxmltree::Error) -> Refused {
    let pos = error.pos();
    let (row, column) = (pos.row.max(1), pos.col.max(1));
    let mut start = 0;
    for line in text.split_inclusive('\n').take(usize::try_from(row - 1).unwrap_or(0)) {
        start += line.len();
    }
    let line = text.get(start..).unwrap_or_default();
    let offset = usize::try_from(column - 1).unwrap_or(0);
    let within = line.char_indices().nth(offset).map_or(line.len(), |(at, _)| at);
    let at = start + within;
    if let roxmltree::Error::NodesLimitReached = error {
        return Refused::new(
            None,
            format!("the file has more than {MOST_NODES} parts"),
            "simplify the drawing: a cutter follows a few hundred curves",
        );
    }
    let told = error.to_string();
    let told = told.rsplit_once(" at ").map_or(told.as_str(), |(what, _)| what);
    Refused::new(
        Some(at..at + 1),
        format!("this is not sound XML: {told}"),
        "save the drawing again as plain SVG",
    )
}

#[cfg(test)]
mod tests;
