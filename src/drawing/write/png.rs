//! PNG, from the SVG, with the resolution recorded.
//!
//! The picture is drawn and packed in bands, so that memory follows the width
//! of a picture and not its area.

use std::io::Write as _;

use resvg::tiny_skia::{Color, Pixmap, Transform};

use super::pictures::Pictures;
use super::svg::svg_for_screen;
use super::{WriteError, placed};
use crate::drawing::Drawing;
use crate::units::digits::fixed;

/// Most pixels of one picture: a plate of 400 × 400 mm at 600 dpi has 89
/// million. More is likelier a slip in the resolution than a wish.
const PIXELS_MAX: f64 = 100_000_000.0;

/// Pixels drawn at a time, 64 MB at four bytes each: A4 at 400 dpi is one band.
const BAND_PIXELS: u32 = 16_000_000;

/// CSS pixels to the inch (CSS Values and Units, section 6.2): the unit in
/// which the SVG reader gives sizes.
const CSS_DPI: f64 = 96.0;

/// Millimetres in an inch, exactly.
const INCH_MM: f64 = 25.4;

/// The drawing as PNG at a resolution in dots per inch: 8 bits a channel, RGB on
/// the drawing's ground or RGBA where it has none. Each side has as many pixels
/// as its length in mm / 25.4 × `dpi`, rounded. The resolution is recorded in
/// whole pixels per metre, as the format has it.
///
/// # Errors
/// What [`super::svg()`] refuses; a resolution that is not a number above 0; a picture of
/// less than one pixel or of more pixels than the limit, with the resolution
/// that would do.
pub fn png(drawing: &Drawing, dpi: f64) -> Result<Vec<u8>, WriteError> {
    let pages = placed::pages(drawing)?;
    let width_mm = pages.iter().map(|page| page.width).fold(0.0, f64::max);
    let height_mm: f64 = pages.iter().map(|page| page.height).sum();
    let (width, height) = pixels(width_mm, height_mm, dpi)?;

    let mut options = usvg::Options::default();
    // Nothing outside the drawing is ever read.
    options.image_href_resolver.resolve_data =
        Box::new(|mime, bytes, _| (mime == "image/png").then_some(usvg::ImageKind::PNG(bytes)));
    options.image_href_resolver.resolve_string = Box::new(|_, _| None);
    let tree = usvg::Tree::from_str(
        &svg_for_screen(drawing, dpi / INCH_MM, &Pictures::default())?,
        &options,
    )
    .map_err(|error| WriteError(format!("the drawing could not be read back: {error}")))?;

    let mut bytes = Vec::new();
    let mut writer = encoder(&mut bytes, width, height, dpi, drawing.background.is_none())
        .map_err(|error| packing(&error))?;
    let mut stream = writer.stream_writer().map_err(|error| packing(&error))?;
    let rows = (BAND_PIXELS / width).clamp(1, height);
    let mut top = 0;
    while top < height {
        let band = Band { width, rows: rows.min(height - top), top };
        let pixels = band.drawn(&tree, single(dpi / CSS_DPI), drawing.background)?;
        stream.write_all(&pixels).map_err(|error| packing(&error))?;
        top += band.rows;
    }
    stream.finish().map_err(|error| packing(&error))?;
    writer.finish().map_err(|error| packing(&error))?;
    Ok(bytes)
}

/// The resolution to draw at where none was asked for: `usual` dots per inch,
/// or as many whole ones as keep a large drawing within the limit of [`png()`].
///
/// # Errors
/// What [`super::svg()`] refuses of the drawing's size.
pub fn usual_dpi(drawing: &Drawing, usual: f64) -> Result<f64, WriteError> {
    let pages = placed::pages(drawing)?;
    let width_mm = pages.iter().map(|page| page.width).fold(0.0, f64::max);
    let height_mm: f64 = pages.iter().map(|page| page.height).sum();
    let most = INCH_MM * (PIXELS_MAX / (width_mm * height_mm).max(1.0)).sqrt();
    // One less, so that rounding each side up to a pixel stays within the limit.
    Ok(usual.min((most - 1.0).floor().max(1.0)))
}

pub(super) fn packing(error: &dyn std::fmt::Display) -> WriteError {
    WriteError(format!("the picture could not be packed: {error}"))
}

/// Width and height of the picture in pixels.
fn pixels(width_mm: f64, height_mm: f64, dpi: f64) -> Result<(u32, u32), WriteError> {
    if !(dpi.is_finite() && dpi > 0.0) {
        return Err(WriteError(format!(
            "a resolution must be a number of dots per inch above 0; it is {dpi}"
        )));
    }
    let side = |mm: f64| (mm / INCH_MM * dpi).round();
    let (width, height) = (side(width_mm), side(height_mm));
    let size = || format!("{} x {} mm", fixed(width_mm, 1), fixed(height_mm, 1));
    if width < 1.0 || height < 1.0 {
        let need = INCH_MM / width_mm.min(height_mm);
        return Err(WriteError(format!(
            "at {dpi} dpi a picture of {} has no pixel; {} dpi or more will do",
            size(),
            fixed(need.ceil(), 0)
        )));
    }
    if width * height > PIXELS_MAX {
        let most = (PIXELS_MAX / (width_mm * height_mm)).sqrt() * INCH_MM;
        return Err(WriteError(format!(
            "at {dpi} dpi a picture of {} has {} million pixels, more than {} million; \
             {} dpi or less will do",
            size(),
            fixed((width * height / 1e6).ceil(), 0),
            fixed(PIXELS_MAX / 1e6, 0),
            fixed((most * 0.999).floor().max(1.0), 0)
        )));
    }
    Ok((whole(width), whole(height)))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "only for whole numbers from 1 to the limit of pixels, or a resolution; \
              out of range it ends at the bounds of the type"
)]
fn whole(value: f64) -> u32 {
    value.round() as u32
}

#[expect(clippy::cast_possible_truncation, reason = "the renderer takes single precision")]
fn single(value: f64) -> f32 {
    value as f32
}

/// The start of the file: size, colours, resolution.
fn encoder(
    bytes: &mut Vec<u8>,
    width: u32,
    height: u32,
    dpi: f64,
    clear: bool,
) -> Result<png::Writer<&mut Vec<u8>>, png::EncodingError> {
    let mut encoder = png::Encoder::new(bytes, width, height);
    encoder.set_color(if clear { png::ColorType::Rgba } else { png::ColorType::Rgb });
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_filter(png::Filter::Up);
    encoder.set_deflate_compression(png::DeflateCompression::Level(4));
    encoder.set_pixel_dims(Some(pixel_dimensions(dpi / INCH_MM)));
    encoder.write_header()
}

/// The resolution as the file records it: pHYs, PNG specification (third edition) section
/// 11.3.4.3.
pub(super) fn pixel_dimensions(per_mm: f64) -> png::PixelDimensions {
    let per_metre = whole(per_mm * 1000.0);
    png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: png::Unit::Meter }
}

/// Some rows of the picture.
struct Band {
    width: u32,
    rows: u32,
    top: u32,
}

impl Band {
    /// The band's pixels, row by row, as the file wants them.
    fn drawn(
        &self,
        tree: &usvg::Tree,
        scale: f32,
        ground: Option<[u8; 3]>,
    ) -> Result<Vec<u8>, WriteError> {
        let mut pixmap = Pixmap::new(self.width, self.rows)
            .ok_or_else(|| packing(&"a picture of this width is too large"))?;
        if let Some([red, green, blue]) = ground {
            // Under the whole picture: a last row that the page fills only in part is not clear.
            pixmap.fill(Color::from_rgba8(red, green, blue, u8::MAX));
        }
        let to_band =
            Transform::from_row(scale, 0.0, 0.0, scale, 0.0, -single(f64::from(self.top)));
        resvg::render(tree, to_band, &mut pixmap.as_mut());
        let channels = if ground.is_some() { 3 } else { 4 };
        let mut bytes = Vec::with_capacity(pixmap.pixels().len() * channels);
        for pixel in pixmap.pixels() {
            let plain = pixel.demultiply();
            let rgba = [plain.red(), plain.green(), plain.blue(), plain.alpha()];
            bytes.extend_from_slice(rgba.get(..channels).unwrap_or(&rgba));
        }
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::super::svg;
    use super::*;
    use crate::drawing::{Page, Path};
    use kurbo::{Circle, Shape as _};

    #[test]
    fn sides_are_rounded_and_a_resolution_that_would_do_is_named() {
        // US Letter, 8.5 x 11 in.
        assert_eq!(pixels(215.9, 279.4, 300.0), Ok((2550, 3300)));
        // 152.4 mm are 6 in; 120 mm at 300 dpi are 1417.32, 80 mm are 944.88.
        assert_eq!(pixels(152.4, 101.6, 254.0), Ok((1524, 1016)));
        assert_eq!(pixels(120.0, 80.0, 300.0), Ok((1417, 945)));

        let said = pixels(2000.0, 1000.0, 600.0).unwrap_err().to_string();
        // 47 244 x 23 622 pixels; 179.6 dpi would just do.
        assert_eq!(
            said,
            "at 600 dpi a picture of 2000.0 x 1000.0 mm has 1116 million pixels, more than 100 \
             million; 179 dpi or less will do"
        );
        assert!(pixels(2000.0, 1000.0, 179.0).is_ok());

        let said = pixels(5.0, 2000.0, 1.0).unwrap_err().to_string();
        assert!(said.ends_with("has no pixel; 6 dpi or more will do"), "{said}");
        assert!(pixels(5.0, 2000.0, 6.0).is_ok());
        for dpi in [0.0, -300.0, f64::NAN, f64::INFINITY] {
            assert!(pixels(100.0, 100.0, dpi).is_err(), "{dpi}");
        }
    }

    #[test]
    fn a_picture_in_bands_is_the_picture() {
        let drawing = Drawing {
            title: String::new(),
            description: String::new(),
            background: None,
            pages: vec![Page {
                width: 30.0,
                height: 20.0,
                items: vec![
                    Path::filled(Circle::new((15.2, 9.7), 9.1).to_path(1e-6), [200, 60, 20]).into(),
                ],
            }],
        };
        let tree =
            usvg::Tree::from_str(&svg(&drawing).unwrap(), &usvg::Options::default()).unwrap();
        let drawn = |rows, top| Band { width: 354, rows, top }.drawn(&tree, 3.125, None).unwrap();
        let whole = drawn(236, 0);
        let bands: Vec<u8> =
            [(100, 0), (100, 100), (36, 200)].into_iter().flat_map(|(r, t)| drawn(r, t)).collect();
        assert_eq!(whole.len(), bands.len());
        assert!(whole.chunks(4).any(|pixel| pixel == [200, 60, 20, 255]));
        assert!(whole.chunks(4).any(|pixel| pixel == [0, 0, 0, 0]));
        // The renderer cuts curves where a band ends and takes each part in straight steps,
        // so an edge may fall up to a quarter of a pixel apart; its area may not.
        let alpha = |bytes: &[u8]| -> Vec<u8> { bytes.chunks(4).map(|p| p[3]).collect() };
        let (whole, bands) = (alpha(&whole), alpha(&bands));
        let apart: Vec<u8> = whole.iter().zip(&bands).map(|(a, b)| a.abs_diff(*b)).collect();
        assert!(apart.iter().all(|apart| *apart <= 64), "{:?}", apart.iter().max());
        let ink = |alpha: &[u8]| alpha.iter().map(|a| f64::from(*a) / 255.0).sum::<f64>();
        // A circle of 18.2 mm at 300 dpi: pi x (9.1 / 25.4 x 300)^2 pixels.
        for ink in [ink(&whole), ink(&bands)] {
            assert!((ink - 36_291.7).abs() < 36.0, "{ink}");
        }
    }
}
