//! TIFF, by the tiff crate.

use std::io::Cursor;

use tiff::decoder::{Decoder, DecodingResult, Limits};
use tiff::tags::{SampleFormat, Tag};
use tiff::{ColorType, TiffError};

use super::stored::{Channels, Colours, Embedded, Format, Samples, Stored, affordable};
use super::{MOST_PROFILE, PictureError, words};

/// What one strip or tile may take beside the samples: four times a strip of the usual sort
/// for the widest picture, compressed badly.
const STRIP: usize = 64 << 20;

type Reader<'a> = Decoder<Cursor<&'a [u8]>>;

/// The first photograph of a TIFF file.
pub(super) fn stored(bytes: &[u8]) -> Result<Stored, PictureError> {
    let mut limits = Limits::default();
    limits.ifd_value_size = MOST_PROFILE;
    limits.intermediate_buffer_size = STRIP;
    let decoder = Decoder::new(Cursor::new(bytes)).map_err(|error| refused(&error))?;
    let mut decoder = decoder.with_limits(limits.clone());
    let size = decoder.dimensions().map_err(|error| refused(&error))?;
    // The least that any picture of that size takes, before more is looked at.
    affordable(size, 1, 1)?;
    // A preview first: cameras' raw files are made so (TIFF 6.0, page 36, bit 0).
    let preview = number(&mut decoder, Tag::NewSubfileType).is_some_and(|kind| kind & 1 == 1);
    if preview || number(&mut decoder, Tag::Unknown(DNG_VERSION)).is_some() {
        return Err(words::raw());
    }
    let kind = decoder.colortype().map_err(|error| refused(&error))?;
    let (channels, colours, bits) = told(kind)?;
    if !whole_numbers(&mut decoder) {
        return Err(words::unsupported(Format::Tiff, "samples that are not whole numbers"));
    }
    let extra: Vec<u16> =
        decoder.find_tag_unsigned_vec(Tag::ExtraSamples).ok().flatten().unwrap_or_default();
    let orientation = number(&mut decoder, Tag::Orientation).and_then(|n| u8::try_from(n).ok());
    let profile = embedded(&mut decoder);
    let count = channels.count();
    let each = u64::try_from(count * if bits == 16 { 2 } else { 1 }).unwrap_or(8);
    // Planes one by one are laid together in a second copy.
    let planar = number(&mut decoder, Tag::PlanarConfiguration) == Some(2) && count > 1;
    let pixels = affordable(size, if planar { 2 * each } else { each }, each)?;
    limits.decoding_buffer_size = pixels * count * if bits == 16 { 2 } else { 1 };
    let mut decoder = decoder.with_limits(limits);
    let mut found = DecodingResult::U8(Vec::new());
    decoder.read_image_to_buffer(&mut found).map_err(|error| refused(&error))?;
    let samples = match found {
        DecodingResult::U8(samples) if bits == 1 => Samples::Eight(opened(&samples, size).into()),
        DecodingResult::U8(samples) => Samples::Eight(woven(samples, pixels, planar, count).into()),
        DecodingResult::U16(samples) => Samples::Sixteen(woven(samples, pixels, planar, count)),
        _ => return Err(words::unsupported(Format::Tiff, "samples that are not whole numbers")),
    };
    let stored = Stored {
        format: Format::Tiff,
        width: size.0,
        height: size.1,
        bits,
        colours,
        channels,
        samples,
        multiplied: extra.first() == Some(&1),
        orientation: orientation.filter(|found| (1..=8).contains(found)).unwrap_or(1),
        profile,
    };
    if stored.samples.len() != pixels * count {
        return Err(words::cut_short(Format::Tiff));
    }
    Ok(without_spare(stored, extra.first()))
}

/// Tag that only cameras' raw files have (Adobe DNG 1.7, page 22).
const DNG_VERSION: u16 = 50706;

fn number(decoder: &mut Reader, tag: Tag) -> Option<u32> {
    decoder.find_tag_unsigned(tag).ok().flatten()
}

fn whole_numbers(decoder: &mut Reader) -> bool {
    let formats: Option<Vec<u16>> = decoder.find_tag_unsigned_vec(Tag::SampleFormat).ok().flatten();
    let whole = |format: &u16| *format == SampleFormat::Uint.to_u16();
    formats.is_none_or(|formats| formats.iter().all(whole))
}

fn told(kind: ColorType) -> Result<(Channels, Colours, u8), PictureError> {
    Ok(match kind {
        ColorType::Gray(bits @ (1 | 8 | 16)) => (Channels::Grey, Colours::Grey, bits),
        ColorType::GrayA(bits @ (8 | 16))
        | ColorType::Multiband { bit_depth: bits @ (8 | 16), num_samples: 2 } => {
            (Channels::GreyAlpha, Colours::Grey, bits)
        }
        ColorType::RGB(bits @ (8 | 16)) => (Channels::Rgb, Colours::Rgb, bits),
        ColorType::RGBA(bits @ (8 | 16)) => (Channels::RgbAlpha, Colours::Rgb, bits),
        ColorType::CMYK(bits @ (8 | 16)) => (Channels::Cmyk, Colours::Cmyk, bits),
        ColorType::Palette(_) => {
            return Err(words::unsupported(Format::Tiff, "a list of colours"));
        }
        other => {
            let what = format!("colours of the kind {other:?}");
            return Err(words::unsupported(Format::Tiff, &what));
        }
    })
}

fn embedded(decoder: &mut Reader) -> Embedded {
    match decoder.find_tag(Tag::IccProfile) {
        Ok(None) => Embedded::None,
        Ok(Some(value)) => value.into_u8_vec().map_or(Embedded::Damaged, Embedded::Bytes),
        Err(_) => Embedded::Damaged,
    }
}

/// Bits, eight to a byte and each row on its own, to samples of 0 and 255.
fn opened(bytes: &[u8], (width, height): (u32, u32)) -> Vec<u8> {
    let width = usize::try_from(width).unwrap_or(usize::MAX);
    let height = usize::try_from(height).unwrap_or(usize::MAX);
    let bit = |row: &[u8], x: usize| if row[x / 8] >> (7 - x % 8) & 1 == 1 { 255 } else { 0 };
    let rows = bytes.chunks_exact(width.div_ceil(8)).take(height);
    rows.flat_map(|row| (0..width).map(move |x| bit(row, x))).collect()
}

/// Samples of planes one after another, laid pixel by pixel.
fn woven<S: Copy>(samples: Vec<S>, pixels: usize, planar: bool, count: usize) -> Vec<S> {
    if !planar || samples.len() != pixels * count {
        return samples;
    }
    (0..pixels)
        .flat_map(|at| (0..count).map(move |plane| plane * pixels + at))
        .map(|at| samples[at])
        .collect()
}

/// A last channel that is not said to be alpha (ExtraSamples 0; TIFF 6.0, page 31) is left out.
fn without_spare(mut stored: Stored, extra: Option<&u16>) -> Stored {
    if stored.channels.alpha() && extra.is_none_or(|kind| !matches!(kind, 1 | 2)) {
        let count = stored.channels.count();
        stored.samples.drop_last_of(count);
        stored.channels = if count == 2 { Channels::Grey } else { Channels::Rgb };
    }
    stored
}

fn refused(error: &TiffError) -> PictureError {
    match error {
        TiffError::IoError(_) => words::cut_short(Format::Tiff),
        TiffError::UnsupportedError(what) => {
            let what = format!("something unusual ({what})");
            words::unsupported(Format::Tiff, &what)
        }
        TiffError::LimitsExceeded => {
            words::damaged(Format::Tiff, "it asks for more memory than its picture can need")
        }
        other => words::damaged(Format::Tiff, &other.to_string()),
    }
}
