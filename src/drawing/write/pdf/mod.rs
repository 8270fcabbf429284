//! PDF with exact page sizes, vector outlines and real text.
//!
//! Pages are drawn in mm under one transform to points of 1/72 in; texts are
//! text, with the used glyphs of their fonts embedded at the instance they are
//! set in. Headings become bookmarks, and what is drawn is tagged for reading aloud
//! (`structure.rs`). There is no date, so that the same drawing gives the same bytes.

mod images;
mod paths;
mod structure;
mod text;

use krilla::error::KrillaError;
use krilla::geom::Transform;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag};
use krilla::{Document, SerializeSettings};
use kurbo::{Affine, Rect, Shape as _};

use self::structure::Structure;
use self::text::Fonts;
use super::{WriteError, placed};
use crate::drawing::{Drawing, Item, Page, Path};

/// Points in a millimetre. A PDF's unit is 1/72 in (ISO 32000-1, section 8.3.2.3).
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// Longest side of a page in points that readers are bound to take (ISO 32000-1,
/// annex C.2): 5.08 m.
const SIDE_MAX_PT: f64 = 14_400.0;

/// Language of the words that sheets print.
const LANGUAGE: &str = "en";

/// The drawing as PDF, a page of its own size for each page of the drawing.
///
/// # Errors
/// No page, a page without area or longer than 5.08 m; a length that is not a
/// number or out of all proportion; a font that cannot be embedded.
pub fn pdf(drawing: &Drawing) -> Result<Vec<u8>, WriteError> {
    let mut document = Document::new_with(SerializeSettings {
        // XMP would repeat the metadata.
        xmp_metadata: false,
        ..SerializeSettings::default()
    });
    document.set_metadata(
        Metadata::new()
            .title(drawing.title.clone())
            .description(drawing.description.clone())
            .language(LANGUAGE.to_owned())
            .creator(concat!("ansata ", env!("CARGO_PKG_VERSION")).to_owned()),
    );
    let mut fonts = Fonts::default();
    let mut structure = Structure::default();
    for (index, page) in placed::pages(drawing)?.iter().enumerate() {
        let (width, height) = (page.width * POINTS_PER_MM, page.height * POINTS_PER_MM);
        let settings = Some((width, height))
            .filter(|_| width.max(height) <= SIDE_MAX_PT)
            .and_then(|_| PageSettings::from_wh(single(width), single(height)))
            .ok_or_else(|| {
                WriteError(format!(
                    "a page of {} x {} mm is too large for PDF, which ends at 5080 mm",
                    page.width, page.height
                ))
            })?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        let scale = single(POINTS_PER_MM);
        surface.push_transform(&Transform::from_scale(scale, scale));
        let drawn = ground(&mut surface, page, drawing.background)
            .and_then(|()| structure.page(&mut surface, page, index, &mut fonts));
        // The surface must be left as it was found, whatever happened.
        surface.pop();
        surface.finish();
        sheet.finish();
        drawn?;
    }
    if let Some(outline) = structure.outline() {
        document.set_outline(outline);
    }
    document.set_tag_tree(structure.tree());
    document.finish().map_err(|error| match error {
        KrillaError::Font(font, reason) => WriteError(format!(
            "the lettering `{}` cannot be put into a PDF: {reason}",
            fonts.name(&font)
        )),
        other => WriteError(format!("the PDF could not be written: {other}")),
    })
}

/// The colour under a whole page.
fn ground(
    surface: &mut Surface<'_>,
    page: &Page,
    colour: Option<[u8; 3]>,
) -> Result<(), WriteError> {
    let Some(colour) = colour else { return Ok(()) };
    let whole = Rect::new(0.0, 0.0, page.width, page.height).to_path(0.1);
    let behind = ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout));
    let _ = surface.start_tagged(behind);
    let drawn = paths::draw(surface, &Path::filled(whole, colour), Affine::IDENTITY);
    surface.end_tagged();
    drawn
}

fn items(
    surface: &mut Surface<'_>,
    items: &[Item],
    to: Affine,
    fonts: &mut Fonts,
) -> Result<(), WriteError> {
    for item in items {
        match item {
            Item::Path(path) => paths::draw(surface, path, to)?,
            Item::Text(text) => text::draw(surface, text, to, fonts)?,
            Item::Image(image) => images::draw(surface, image, to)?,
            Item::Circle(circle) => paths::draw(surface, &circle.path(), to)?,
            Item::Group(group) => {
                let to = to * group.transform;
                let clipped = match group.clip {
                    Some(shown) => paths::clip(surface, &shown.to_path(0.1), to)?,
                    None => false,
                };
                let drawn = self::items(surface, &group.items, to, fonts);
                if clipped {
                    surface.pop();
                }
                drawn?;
            }
        }
    }
    Ok(())
}

/// A checked length in the precision that the PDF is written with: about seven
/// figures, a ten-thousandth of a mm at 1 m.
#[expect(clippy::cast_possible_truncation, reason = "lengths are checked to be within 100 m")]
fn single(value: f64) -> f32 {
    value as f32
}
