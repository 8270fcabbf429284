//! Pictures as files hold them: looked at before they are written, packed as PNG, and
//! as text.

use kurbo::{Affine, Rect};

use super::png::pixel_dimensions;
use super::{WriteError, placed};
use crate::drawing::{Image, Pixels};
use crate::picture::{Picture, decode, encode};

/// Most pixels of one picture: 400 × 400 mm at 600 dpi are 89 million.
const PIXELS_MAX: u64 = 100_000_000;

/// The box of a picture, mm, and the picture itself as good enough to be written.
///
/// # Errors
/// A place that is no number or out of all proportion, in the picture's own coordinates or
/// on the page; a picture without pixels, with too many, or with another number of them
/// than its sides say.
pub(super) fn checked(image: &Image, to: Affine) -> Result<Rect, WriteError> {
    let area = image.area;
    for (x, y) in [(area.x0, area.y0), (area.x1, area.y0), (area.x0, area.y1), (area.x1, area.y1)] {
        placed::length(x)?;
        placed::length(y)?;
        placed::point((x, y).into(), to)?;
    }
    let (width, height) = image.pixels.size();
    let pixels = u64::from(width) * u64::from(height);
    let (bytes, channels) = image.pixels.bytes();
    let right = u64::try_from(bytes.len() / channels).ok() == Some(pixels)
        && bytes.len().is_multiple_of(channels);
    if pixels == 0 || pixels > PIXELS_MAX || !right {
        return Err(WriteError(format!(
            "a picture of {width} x {height} pixels with {} bytes cannot be written",
            bytes.len()
        )));
    }
    Ok(area)
}

/// A picture by itself as a PNG with its resolution recorded, in whole pixels per metre as the
/// format has it.
///
/// # Errors
/// A picture without pixels, or with another number of them than its sides say; a resolution
/// that is not a number above 0.
pub fn png_of_pixels(pixels: &Pixels, per_mm: f64) -> Result<Vec<u8>, WriteError> {
    if !(per_mm.is_finite() && per_mm > 0.0) {
        let what = "a resolution must be a number of pixels per mm above 0";
        return Err(WriteError(format!("{what}; it is {per_mm}")));
    }
    png(pixels, Some(pixel_dimensions(per_mm)))
}

/// The pixels as a PNG, without loss.
fn png(pixels: &Pixels, resolution: Option<png::PixelDimensions>) -> Result<Vec<u8>, WriteError> {
    let (width, height) = pixels.size();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(match pixels {
        Pixels::Colour(_) => png::ColorType::Rgb,
        Pixels::Grey(_) => png::ColorType::Grayscale,
        Pixels::Paint { .. } => png::ColorType::Rgba,
    });
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_filter(png::Filter::Adaptive);
    encoder.set_pixel_dims(resolution);
    let packing =
        |error: png::EncodingError| WriteError(format!("a picture could not be packed: {error}"));
    let mut writer = encoder.write_header().map_err(packing)?;
    match pixels {
        Pixels::Paint { bare, colour: [red, green, blue] } => {
            let paint = |level: &u8| [*red, *green, *blue, 255 - level];
            let all: Vec<u8> = bare.levels.iter().flat_map(paint).collect();
            writer.write_image_data(&all).map_err(packing)?;
        }
        _ => writer.write_image_data(pixels.bytes().0).map_err(packing)?,
    }
    writer.finish().map_err(packing)?;
    Ok(bytes)
}

/// The pixels as an address that holds them (RFC 2397).
pub(super) fn address(pixels: &Pixels) -> Result<String, WriteError> {
    let mut text = "data:image/png;base64,".to_owned();
    base64(&mut text, &png(pixels, None)?);
    Ok(text)
}

/// The pixels with no more of them to a mm than `most`, in each direction by itself, where
/// they fill a box of `width` × `height` mm; `None` where they need not be reduced.
///
/// What draws a picture smaller than it is takes single pixels out of it, and dots or fine
/// lines make patterns that are not there. A mean over all of them does not.
pub(super) fn reduced(pixels: &Pixels, sides: (f64, f64), most: f64) -> Option<Pixels> {
    let size = pixels.size();
    let (across, down) = reduced_size(pixels, sides, most);
    if (across, down) == size {
        return None;
    }
    let part = |picture: &Picture| {
        picture.part([0.0, 0.0, f64::from(size.0), f64::from(size.1)], across, down)
    };
    Some(match pixels {
        Pixels::Colour(picture) => Pixels::Colour(part(picture)),
        Pixels::Grey(grey) => {
            let rgb = grey.levels.iter().flat_map(|level| [*level; 3]).collect();
            let small = part(&Picture { width: size.0, height: size.1, rgb });
            pixels.with(across, down, small.rgb.iter().step_by(3).copied().collect())
        }
        // What is bare is a share already and no light: coded as if it were, and back.
        Pixels::Paint { bare, .. } => {
            let share = |level: u8| f64::from(level) / 255.0;
            let coded: [u8; 256] = std::array::from_fn(|level| rounded(encode(share(byte(level)))));
            let back: [u8; 256] = std::array::from_fn(|level| rounded(decode(share(byte(level)))));
            let of = |table: &[u8; 256], level: u8| table[usize::from(level)];
            let rgb = bare.levels.iter().flat_map(|level| [of(&coded, *level); 3]).collect();
            let small = part(&Picture { width: size.0, height: size.1, rgb });
            let levels = small.rgb.iter().step_by(3).map(|level| of(&back, *level)).collect();
            pixels.with(across, down, levels)
        }
    })
}

/// As many pixels as [`reduced`] leaves, across and down.
pub(super) fn reduced_size(pixels: &Pixels, (width, height): (f64, f64), most: f64) -> (u32, u32) {
    let size = pixels.size();
    (fewer(size.0, width * most), fewer(size.1, height * most))
}

/// An index of a table of levels.
fn byte(index: usize) -> u8 {
    u8::try_from(index).unwrap_or(u8::MAX)
}

/// A share of white as a level.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 0 to 255"
)]
fn rounded(share: f64) -> u8 {
    (share * 255.0).round().clamp(0.0, 255.0) as u8
}

/// `wanted` as a whole number of pixels, from 1 to what there are.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 1 to another of the type"
)]
fn fewer(have: u32, wanted: f64) -> u32 {
    wanted.round().clamp(1.0, f64::from(have.max(1))) as u32
}

/// Appends `bytes` in base 64 (RFC 4648, section 4).
fn base64(out: &mut String, bytes: &[u8]) {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    out.reserve(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let three = [0, 1, 2].map(|index| u32::from(group.get(index).copied().unwrap_or(0)));
        let bits = (three[0] << 16) | (three[1] << 8) | three[2];
        for place in 0..4_usize {
            let letter = usize::try_from((bits >> (18 - 6 * place)) & 63).unwrap_or(0);
            let letter = LETTERS.get(letter).filter(|_| place <= group.len());
            out.push(letter.map_or('=', |letter| char::from(*letter)));
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::picture::Grey;

    #[test]
    fn base64_is_that_of_rfc_4648() {
        // Section 10 of the RFC.
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            let mut out = String::new();
            base64(&mut out, bytes.as_bytes());
            assert_eq!(out, text);
        }
        let mut out = String::new();
        base64(&mut out, &[0xfb, 0xff, 0xfe]);
        assert_eq!(out, "+//+");
    }

    #[test]
    fn fine_dots_become_their_mean_and_coarse_ones_stay() {
        // Every other pixel black: at half as many to the mm each has half the light of white,
        // which sRGB codes as 188 (IEC 61966-2-1: 255 · (1.055 · 0.5^(1/2.4) − 0.055)).
        let levels = (0..64 * 64).map(|at| if (at + at / 64) % 2 == 0 { 0 } else { 255 });
        let dots = Pixels::Grey(Arc::new(Grey { width: 64, height: 64, levels: levels.collect() }));
        assert_eq!(reduced(&dots, (6.4, 6.4), 10.0), None);
        let half = reduced(&dots, (6.4, 6.4), 5.0).unwrap();
        assert_eq!((half.size(), half.bytes().0.len()), ((32, 32), 32 * 32));
        assert!(half.bytes().0.iter().all(|level| level.abs_diff(188) < 6), "{:?}", half.bytes());
        // Only one direction is too fine.
        assert_eq!(reduced(&dots, (12.8, 3.2), 10.0).unwrap().size(), (64, 32));
        // Never without a pixel.
        assert_eq!(reduced(&dots, (0.001, 6.4), 10.0).unwrap().size(), (1, 64));
    }

    #[test]
    fn a_picture_that_is_not_what_it_says_is_refused() {
        let image = |width, rgb: &[u8], x1| Image {
            area: Rect::new(0.0, 0.0, x1, 5.0),
            pixels: Pixels::Colour(Picture { width, height: 1, rgb: rgb.into() }),
            scaling: crate::drawing::Scaling::Smooth,
            clip: None,
            description: String::new(),
        };
        let said = |image: &Image| checked(image, Affine::IDENTITY).is_ok();
        assert!(said(&image(2, &[0; 6], 5.0)));
        for wrong in [
            image(2, &[0; 7], 5.0),
            image(2, &[0; 3], 5.0),
            image(0, &[], 5.0),
            image(u32::MAX, &[], 5.0),
            image(2, &[0; 6], f64::NAN),
            image(2, &[0; 6], 1e9),
        ] {
            assert!(!said(&wrong), "{wrong:?}");
        }
        assert!(checked(&image(2, &[0; 6], 5.0), Affine::scale(1e9)).is_err());
    }
}
