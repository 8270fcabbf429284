//! Photographs read: bytes in, an upright opaque sRGB picture and what is known of it out.
//!
//! `kind.rs` tells the format by what the file holds; a file a format (`jpeg.rs`, `png.rs`,
//! `tiff.rs`, `webp.rs`) makes [`stored::Stored`] of it, samples as the file has them;
//! `colour.rs` brings those to sRGB by the profile (`profile.rs`), `upright.rs` puts them
//! where they belong. All words about bad files stand in `words.rs`.

mod colour;
mod exif;
mod jpeg;
mod kind;
mod png;
mod profile;
mod stored;
mod tiff;
mod upright;
mod webp;
mod words;

#[cfg(test)]
mod tests;

use super::Picture;
use colour::Conversion;

pub use stored::{Colours, Format};

/// Most pixels of a photograph: 120 million. The largest cameras in trade give 102 million
/// (from memory); a plate of 300 x 200 mm at 300 pixels an inch shows 8 million.
pub const MOST_PIXELS: u64 = 120_000_000;

/// Most bytes that reading one photograph may take beside its file: 1 GiB, what a workshop's
/// computer of 4 GB can spare. It counts what the decoder keeps, the samples as stored and the
/// finished picture, as far as they are kept at one time.
pub const MOST_MEMORY: u64 = 1 << 30;

/// Most bytes of an embedded colour profile: 10 MB, the bound of the library that reads it.
/// Profiles of printing presses with many inks, the largest there are, take 1 to 3 MB.
const MOST_PROFILE: usize = 10_000_000;

/// A photograph as read.
#[derive(Clone, Debug)]
pub struct Reading {
    /// Upright, opaque, sRGB.
    pub picture: Picture,
    /// What the file said of it.
    pub facts: Facts,
}

/// What is known of a photograph's file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Facts {
    /// What kind of file it is, by what it holds.
    pub format: Format,
    /// Pixels from left to right as stored, before it was put upright.
    pub width: u32,
    /// Pixels from top to bottom as stored.
    pub height: u32,
    /// Bits of each channel as stored: 1, 2, 4, 8 or 16.
    pub bits: u8,
    /// Kind of colour as stored.
    pub colours: Colours,
    /// How it was put upright: the orientation of EXIF and TIFF, 1 (as stored) to 8.
    pub orientation: u8,
    /// The embedded colour profile and what became of it.
    pub profile: Profile,
    /// Whether it was see-through in places and was laid over white.
    pub over_white: bool,
}

/// An embedded colour profile (ICC) and what became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Profile {
    /// There is none: colours are taken as sRGB, inks as plain inks.
    None,
    /// Colours were brought from it to sRGB; its own description, cleaned and shortened.
    Used(String),
    /// It could not be used, and colours are taken as if there were none: why, as the end of a
    /// sentence. A profile is not worth refusing a photograph for: it shifts colours a little,
    /// the engraver cannot mend it, and whoever looks at the proof is told.
    Passed(&'static str),
}

/// Why a file could not be read as a photograph, without its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureError {
    /// What is wrong, a whole sentence.
    pub message: String,
    /// What to do, a whole sentence.
    pub help: String,
}

impl std::fmt::Display for PictureError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.message, self.help)
    }
}

impl std::error::Error for PictureError {}

/// Reads a photograph: JPEG, PNG, TIFF or WebP, told by what it holds and not by its name.
///
/// # Errors
///
/// [`PictureError`] where the bytes are another kind of file, are damaged or cut short, hold
/// something that is not read (a moving picture, floating-point samples), or would take more
/// than [`MOST_PIXELS`] or [`MOST_MEMORY`], which is found out before memory is taken.
pub fn read(bytes: &[u8]) -> Result<Reading, PictureError> {
    let stored = match kind::told(bytes)? {
        Format::Jpeg => jpeg::stored(bytes),
        Format::Png => png::stored(bytes),
        Format::Tiff => tiff::stored(bytes),
        Format::WebP => webp::stored(bytes),
    }?;
    let (conversion, profile) = Conversion::of(&stored);
    let facts = Facts {
        format: stored.format,
        width: stored.width,
        height: stored.height,
        bits: stored.bits,
        colours: stored.colours,
        orientation: stored.orientation,
        profile,
        over_white: stored.channels.alpha(),
    };
    Ok(Reading { picture: upright::picture(stored, &conversion), facts })
}
