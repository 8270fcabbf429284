//! WebP, by image-webp.

use std::io::Cursor;

use image_webp::{DecodingError, WebPDecoder};

use super::stored::{Channels, Colours, Embedded, Format, Samples, Stored, affordable};
use super::{MOST_PROFILE, PictureError, exif, words};
use crate::picture::raster::{open, room};

/// Bytes a pixel that the decoder keeps beside the finished samples: a lossy picture's planes
/// and its alpha, or a lossless one before alpha is dropped.
const PLANES: u64 = 4;

/// The photograph of a WebP file.
pub(super) fn stored(bytes: &[u8]) -> Result<Stored, PictureError> {
    if let Some(size) = inner_size(bytes)? {
        // The decoder takes memory for this size, whatever the canvas is said to be.
        affordable(size, PLANES, PLANES)?;
    }
    let mut decoder = WebPDecoder::new(Cursor::new(bytes)).map_err(|error| refused(&error))?;
    decoder.set_memory_limit(MOST_PROFILE);
    if decoder.is_animated() {
        return Err(words::moving(Format::WebP));
    }
    let size = decoder.dimensions();
    let channels = if decoder.has_alpha() { Channels::RgbAlpha } else { Channels::Rgb };
    let each = u64::try_from(channels.count()).unwrap_or(4);
    let pixels = affordable(size, each + PLANES, each)?;
    let mut samples = room(pixels * channels.count());
    decoder.read_image(open(&mut samples)).map_err(|error| refused(&error))?;
    let profile = match decoder.icc_profile() {
        Ok(Some(profile)) => Embedded::Bytes(profile),
        Ok(None) => Embedded::None,
        Err(_) => Embedded::Damaged,
    };
    let block = decoder.exif_metadata().ok().flatten();
    Ok(Stored {
        format: Format::WebP,
        width: size.0,
        height: size.1,
        bits: 8,
        colours: Colours::Rgb,
        channels,
        samples: Samples::Eight(samples),
        multiplied: false,
        orientation: block.map_or(1, |block| exif::orientation(&block)),
        profile,
    })
}

/// Size of the lossy picture within, if there is one (RFC 9649, section 2.5; RFC 6386,
/// section 9.1), and whether the wrapping is as long as it says.
fn inner_size(bytes: &[u8]) -> Result<Option<(u32, u32)>, PictureError> {
    let four = |at: usize| bytes.get(at..at.checked_add(4)?)?.try_into().ok();
    let long = |at: usize| usize::try_from(u32::from_le_bytes(four(at)?)).ok();
    if long(4).and_then(|long| long.checked_add(8)).is_none_or(|end| end > bytes.len()) {
        return Err(words::cut_short(Format::WebP));
    }
    let mut at = 12;
    while let (Some(name), Some(size)) = (four(at), long(at + 4)) {
        if name == *b"VP8 " {
            let side = |at: usize| {
                let pair = bytes.get(at..at + 2)?.try_into().ok()?;
                Some(u32::from(u16::from_le_bytes(pair) & 0x3FFF))
            };
            return Ok(side(at + 14).zip(side(at + 16)));
        }
        let Some(next) = size.checked_add(size % 2 + 8).and_then(|far| at.checked_add(far)) else {
            break;
        };
        at = next;
    }
    Ok(None)
}

fn refused(error: &DecodingError) -> PictureError {
    match error {
        DecodingError::IoError(_) => words::cut_short(Format::WebP),
        other => words::damaged(Format::WebP, &other.to_string()),
    }
}
