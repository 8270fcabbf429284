//! What a decoder hands over.

use std::sync::Arc;

use super::{MOST_MEMORY, MOST_PIXELS, PictureError, words};

/// Kinds of file that are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// ISO/IEC 10918-1, baseline or progressive.
    Jpeg,
    /// W3C PNG, third edition.
    Png,
    /// TIFF 6.0 and BigTIFF; the first picture of the file.
    Tiff,
    /// RFC 9649, lossy or lossless.
    WebP,
}

impl Format {
    /// Its name as people write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Tiff => "TIFF",
            Self::WebP => "WebP",
        }
    }
}

/// Kinds of colour that a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colours {
    /// Shades of grey.
    Grey,
    /// Red, green and blue.
    Rgb,
    /// A list of colours.
    Palette,
    /// Cyan, magenta, yellow and black ink, or YCCK, which is that in other words.
    Cmyk,
}

impl Colours {
    /// Its name as people write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Grey => "grey",
            Self::Rgb => "RGB",
            Self::Palette => "a list of colours",
            Self::Cmyk => "CMYK",
        }
    }
}

/// What the samples of a pixel are, in their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Channels {
    Grey,
    GreyAlpha,
    Rgb,
    RgbAlpha,
    /// As ICC has it: 0 is no ink.
    Cmyk,
}

impl Channels {
    /// Samples of a pixel.
    pub(super) fn count(self) -> usize {
        match self {
            Self::Grey => 1,
            Self::GreyAlpha => 2,
            Self::Rgb => 3,
            Self::RgbAlpha | Self::Cmyk => 4,
        }
    }

    /// Whether the last sample says how opaque the pixel is.
    pub(super) fn alpha(self) -> bool {
        matches!(self, Self::GreyAlpha | Self::RgbAlpha)
    }
}

/// Samples, pixel by pixel, row by row.
pub(super) enum Samples {
    /// 0 to 255; shared, so that they can be the finished picture where nothing is to do.
    Eight(Arc<[u8]>),
    /// 0 to 65535.
    Sixteen(Vec<u16>),
    /// The same, each as two bytes with the higher first, as PNG has them.
    SixteenBytes(Arc<[u8]>),
}

impl Samples {
    /// The largest value a sample can have.
    pub(super) fn most(&self) -> u16 {
        match self {
            Self::Eight(_) => 255,
            Self::Sixteen(_) | Self::SixteenBytes(_) => u16::MAX,
        }
    }

    pub(super) fn len(&self) -> usize {
        match self {
            Self::Eight(samples) => samples.len(),
            Self::Sixteen(samples) => samples.len(),
            Self::SixteenBytes(bytes) => bytes.len() / 2,
        }
    }

    /// Leaves out the last sample of each `count`.
    pub(super) fn drop_last_of(&mut self, count: usize) {
        let mut at = 0;
        let mut keep = || {
            at += 1;
            at % count != 0
        };
        match self {
            Self::Eight(samples) => {
                *samples = samples.iter().filter(|_| keep()).copied().collect::<Vec<u8>>().into();
            }
            Self::Sixteen(samples) => samples.retain(|_| keep()),
            Self::SixteenBytes(bytes) => {
                let kept = bytes.chunks_exact(2).filter(|_| keep()).flatten();
                *bytes = kept.copied().collect::<Vec<u8>>().into();
            }
        }
    }

    /// Samples from `from` on into `into`, as many as it holds.
    pub(super) fn copy(&self, from: usize, into: &mut [u16]) {
        let to = from + into.len();
        match self {
            Self::Eight(bytes) => {
                for (into, sample) in into.iter_mut().zip(&bytes[from..to]) {
                    *into = u16::from(*sample);
                }
            }
            Self::Sixteen(samples) => into.copy_from_slice(&samples[from..to]),
            Self::SixteenBytes(bytes) => {
                for (into, pair) in into.iter_mut().zip(bytes[2 * from..2 * to].chunks_exact(2)) {
                    *into = u16::from_be_bytes([pair[0], pair[1]]);
                }
            }
        }
    }
}

/// Whether so many `units` can be packed into a file of so many bytes, `most` to a byte. A
/// header that promises more than its file can hold is found out before memory is taken.
pub(super) fn credible(units: usize, most: usize, file: &[u8]) -> bool {
    units <= most.saturating_mul(file.len())
}

/// The embedded profile as found.
pub(super) enum Embedded {
    None,
    Bytes(Vec<u8>),
    /// There is one, in a damaged wrapping.
    Damaged,
}

/// A photograph as its file has it.
pub(super) struct Stored {
    pub(super) format: Format,
    pub(super) width: u32,
    pub(super) height: u32,
    pub(super) bits: u8,
    pub(super) colours: Colours,
    pub(super) channels: Channels,
    pub(super) samples: Samples,
    /// Whether colours were multiplied by how opaque they are.
    pub(super) multiplied: bool,
    /// 1 to 8.
    pub(super) orientation: u8,
    pub(super) profile: Embedded,
}

/// Whether a photograph of that size may be read, asked before memory is taken for it.
/// `decoding` is what a pixel takes while the samples are made, they among it; `kept` what
/// they take of it once they are made. The finished picture takes three bytes a pixel.
pub(super) fn affordable(
    (width, height): (u32, u32),
    decoding: u64,
    kept: u64,
) -> Result<usize, PictureError> {
    if width == 0 || height == 0 {
        return Err(words::empty_picture());
    }
    let pixels = u64::from(width) * u64::from(height);
    if pixels > MOST_PIXELS {
        return Err(words::too_large(width, height));
    }
    if pixels * decoding.max(kept + 3) > MOST_MEMORY {
        return Err(words::too_much(width, height));
    }
    usize::try_from(pixels).map_err(|_| words::too_large(width, height))
}
