//! JPEG, by zune-jpeg.

use zune_jpeg::errors::DecodeErrors;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::stored::{Channels, Colours, Embedded, Format, Samples, Stored, affordable, credible};
use super::{MOST_PROFILE, PictureError, exif, words};
use crate::picture::light::rounded;
use crate::picture::raster::{open, room};

/// Most pixels that one byte can hold: a bit at least for a block of 64, blocks that cover the
/// picture twice as coarse each way at worst, and that doubled for safety.
const MOST_PACKED: usize = 8 * 64 * 4 * 2;

/// The photograph of a JPEG file.
///
/// The decoder alone is content with half a file and greys out the rest. So the file's own
/// marks are followed to the last one, and the decoder is strict.
pub(super) fn stored(bytes: &[u8]) -> Result<Stored, PictureError> {
    let outline = Outline::of(bytes);
    // Only paths without instructions of a certain processor: the same bytes everywhere.
    let options = DecoderOptions::default()
        .set_use_unsafe(false)
        .set_strict_mode(true)
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX));
    let mut decoder = zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(|error| refused(&error, &outline))?;
    let info = decoder.info().ok_or_else(|| words::damaged(Format::Jpeg, "no size"))?;
    let told = decoder.input_colorspace();
    let (as_read, channels, colours) = match told {
        Some(ColorSpace::Luma) => (ColorSpace::Luma, Channels::Grey, Colours::Grey),
        Some(ColorSpace::YCbCr | ColorSpace::RGB) => (ColorSpace::RGB, Channels::Rgb, Colours::Rgb),
        // As stored: the decoder would make RGB of inks, past any profile.
        Some(ColorSpace::CMYK) => (ColorSpace::CMYK, Channels::Cmyk, Colours::Cmyk),
        Some(ColorSpace::YCCK) => (ColorSpace::YCCK, Channels::Cmyk, Colours::Cmyk),
        _ => return Err(words::unsupported(Format::Jpeg, "an unusual number of colours")),
    };
    let size = (u32::from(info.width), u32::from(info.height));
    let samples = u64::try_from(channels.count()).unwrap_or(4);
    // In several scans, all coefficients of 16 bits are kept until the last has come.
    let decoding = if outline.scans > 1 { 3 * samples } else { samples };
    let pixels = affordable(size, decoding, samples)?;
    if !outline.whole || !credible(pixels, MOST_PACKED, bytes) {
        return Err(words::cut_short(Format::Jpeg));
    }
    let profile = match decoder.icc_profile() {
        Some(bytes) if bytes.len() <= MOST_PROFILE => Embedded::Bytes(bytes),
        Some(_) => Embedded::Damaged,
        None if outline.profile => Embedded::Damaged,
        None => Embedded::None,
    };
    let orientation = decoder.exif().map_or(1, |block| exif::orientation(block));
    decoder.set_options(options.jpeg_set_out_colorspace(as_read));
    let mut samples = room(pixels * channels.count());
    let into = open(&mut samples);
    decoder.decode_into(into).map_err(|error| refused(&error, &outline))?;
    match told {
        Some(ColorSpace::CMYK) => into.iter_mut().for_each(|ink| *ink = 255 - *ink),
        Some(ColorSpace::YCCK) => into.chunks_exact_mut(4).for_each(inks),
        _ => {}
    }
    Ok(Stored {
        format: Format::Jpeg,
        width: size.0,
        height: size.1,
        bits: 8,
        colours,
        channels,
        samples: Samples::Eight(samples),
        multiplied: false,
        orientation,
        profile,
    })
}

/// A pixel of YCCK to inks. Files of four inks hold them inverted, 255 for none, as the
/// program does that first wrote them (Adobe Technical Note 5116) and all readers take it;
/// YCCK is YCbCr (JFIF 1.02, page 3) of the inks so inverted, inverted once more.
fn inks(pixel: &mut [u8]) {
    let [y, cb, cr] = [pixel[0], pixel[1], pixel[2]].map(f64::from);
    let (cb, cr) = (cb - 128.0, cr - 128.0);
    pixel[0] = rounded(y + 1.402 * cr);
    pixel[1] = rounded(y - 0.344_14 * cb - 0.714_14 * cr);
    pixel[2] = rounded(y + 1.772 * cb);
    pixel[3] = 255 - pixel[3];
}

fn refused(error: &DecodeErrors, outline: &Outline) -> PictureError {
    match error {
        DecodeErrors::Unsupported(_) => {
            words::unsupported(Format::Jpeg, "a rare kind of JPEG (lossless or arithmetic)")
        }
        _ if !outline.whole => words::cut_short(Format::Jpeg),
        DecodeErrors::FormatStatic(what) => words::damaged(Format::Jpeg, what),
        DecodeErrors::Format(what)
        | DecodeErrors::HuffmanDecode(what)
        | DecodeErrors::DqtError(what)
        | DecodeErrors::SofError(what)
        | DecodeErrors::SosError(what)
        | DecodeErrors::MCUError(what) => words::damaged(Format::Jpeg, what),
        _ => words::damaged(Format::Jpeg, ""),
    }
}

/// What the marks of a file say (ISO/IEC 10918-1, annex B).
#[derive(Default)]
struct Outline {
    /// Whether the mark of the end comes where it should.
    whole: bool,
    scans: u32,
    /// Whether a part of a colour profile was seen (ICC.1:2022, annex B.4).
    profile: bool,
}

impl Outline {
    fn of(bytes: &[u8]) -> Self {
        let mut seen = Self::default();
        let mut at = 2;
        while let Some(mark) = next_mark(bytes, &mut at) {
            match mark {
                0xD9 => {
                    seen.whole = true;
                    break;
                }
                // Restarts and what stands alone.
                0x01 | 0xD0..=0xD8 => continue,
                _ => {}
            }
            let Some(long) = bytes.get(at..at + 2) else { break };
            let long = usize::from(u16::from_be_bytes([long[0], long[1]]));
            let segment = bytes.get(at + 2..at + long.max(2)).unwrap_or_default();
            seen.profile |= mark == 0xE2 && segment.starts_with(b"ICC_PROFILE\0");
            seen.scans += u32::from(mark == 0xDA);
            at += long.max(2);
        }
        seen
    }
}

/// The next mark from `at` on, past coded data: 0xFF and what is neither 0 (a 0xFF of the
/// data) nor 0xFF (filling).
fn next_mark(bytes: &[u8], at: &mut usize) -> Option<u8> {
    loop {
        *at += bytes.get(*at..)?.iter().position(|byte| *byte == 0xFF)? + 1;
        match bytes.get(*at)? {
            0 | 0xFF => {}
            mark => {
                *at += 1;
                return Some(*mark);
            }
        }
    }
}
