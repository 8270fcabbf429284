//! PNG, by the png crate.

use std::io::Cursor;

use png::{BitDepth, ColorType, DecodingError, Limits, Transformations};

use super::stored::{Channels, Colours, Embedded, Format, Samples, Stored, affordable, credible};
use super::{MOST_PROFILE, PictureError, exif, words};
use crate::picture::raster::{open, room};

/// What the decoder may take beside the samples: rows, texts, the profile unpacked.
const BESIDE: usize = 2 * MOST_PROFILE;

/// Most bytes that one byte can hold: a match of 258 bytes in two bits (RFC 1951, 3.2.5), and
/// some more for safety.
const MOST_PACKED: usize = 1100;

/// The photograph of a PNG file. Fewer than eight bits, lists of colours and a colour named as
/// see-through are brought to eight bits with alpha by the decoder.
pub(super) fn stored(bytes: &[u8]) -> Result<Stored, PictureError> {
    let limits = Limits { bytes: BESIDE };
    let mut decoder = png::Decoder::new_with_limits(Cursor::new(bytes), limits);
    decoder.set_transformations(Transformations::EXPAND);
    decoder.set_ignore_text_chunk(true);
    let size = {
        let header = decoder.read_header_info().map_err(|error| refused(&error))?;
        (header.width, header.height)
    };
    // The least that any picture of that size takes, before the rest of the file is read.
    affordable(size, 1, 1)?;
    let mut reader = decoder.read_info().map_err(|error| refused(&error))?;
    if reader.info().animation_control.is_some() {
        return Err(words::moving(Format::Png));
    }
    let (kind, depth) = reader.output_color_type();
    let channels = match kind {
        ColorType::Grayscale => Channels::Grey,
        ColorType::GrayscaleAlpha => Channels::GreyAlpha,
        ColorType::Rgb | ColorType::Indexed => Channels::Rgb,
        ColorType::Rgba => Channels::RgbAlpha,
    };
    let sixteen = depth == BitDepth::Sixteen;
    let count = channels.count() * if sixteen { 2 } else { 1 };
    let each = u64::try_from(count).unwrap_or(8);
    let pixels = affordable(size, each, each)?;
    let packed = pixels / 8 * reader.info().bits_per_pixel();
    if !credible(packed, MOST_PACKED, bytes) {
        return Err(words::cut_short(Format::Png));
    }
    let mut samples = room(pixels * count);
    if reader.output_buffer_size() != Some(samples.len()) {
        return Err(words::damaged(Format::Png, "rows of another length than the header says"));
    }
    reader.next_frame(open(&mut samples)).map_err(|error| refused(&error))?;
    // What follows the pixels may hold the orientation, and shows that the file is whole.
    reader.finish().map_err(|error| refused(&error))?;
    let info = reader.info();
    let colours = match info.color_type {
        ColorType::Grayscale | ColorType::GrayscaleAlpha => Colours::Grey,
        ColorType::Rgb | ColorType::Rgba => Colours::Rgb,
        ColorType::Indexed => Colours::Palette,
    };
    Ok(Stored {
        format: Format::Png,
        width: size.0,
        height: size.1,
        bits: match info.bit_depth {
            BitDepth::One => 1,
            BitDepth::Two => 2,
            BitDepth::Four => 4,
            BitDepth::Eight => 8,
            BitDepth::Sixteen => 16,
        },
        colours,
        channels,
        samples: if sixteen { Samples::SixteenBytes(samples) } else { Samples::Eight(samples) },
        multiplied: false,
        orientation: info.exif_metadata.as_ref().map_or(1, |block| exif::orientation(block)),
        profile: match &info.icc_profile {
            Some(profile) => Embedded::Bytes(profile.to_vec()),
            None if has_chunk(bytes, *b"iCCP") => Embedded::Damaged,
            None => Embedded::None,
        },
    })
}

/// Whether a chunk of that name stands before the pixels. The decoder passes over a profile
/// that it cannot unpack without a word.
fn has_chunk(bytes: &[u8], name: [u8; 4]) -> bool {
    let mut at = 8;
    while let Some(head) = bytes.get(at..).and_then(|rest| rest.first_chunk::<8>()) {
        let [a, b, c, d, found @ ..] = *head;
        if found == name || found == *b"IDAT" {
            return found == name;
        }
        let long = usize::try_from(u32::from_be_bytes([a, b, c, d])).unwrap_or(usize::MAX);
        at = at.saturating_add(long).saturating_add(12);
    }
    false
}

fn refused(error: &DecodingError) -> PictureError {
    match error {
        DecodingError::IoError(_) => words::cut_short(Format::Png),
        DecodingError::LimitsExceeded => words::damaged(Format::Png, "remarks of a huge length"),
        DecodingError::Format(what) => words::damaged(Format::Png, &what.to_string()),
        DecodingError::Parameter(what) => words::damaged(Format::Png, &what.to_string()),
    }
}
