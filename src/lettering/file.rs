//! A font file as it comes: what is refused at once, and the reading that outlines come
//! from.

use ab_glyph::{FontRef, FontVec, VariableFont};
use kurbo::{BezPath, Shape};
use sha2::{Digest, Sha256};

use super::outline::Drawn;
use super::{FaceError, outline};

/// Most bytes that a lettering file may have; the largest collections of all
/// scripts are near 100 MB.
const MOST_BYTES: usize = 256 << 20;

/// The font as outlines are read from it.
pub(super) enum Drawing {
    /// A shipped file: the program's own bytes.
    Shipped(Box<FontRef<'static>>),
    /// A file of the user's own.
    Own(FontVec),
    /// Centre lines of a shipped single-stroke lettering, by glyph.
    Strokes(Vec<BezPath>),
}

impl Drawing {
    /// The reading of a shipped file; `None` where it is no font.
    pub(super) fn shipped(bytes: &'static [u8]) -> Option<Self> {
        FontRef::try_from_slice(bytes).ok().map(|font| Self::Shipped(Box::new(font)))
    }

    /// The reading of a copy of the user's own bytes; `None` where they are no font.
    pub(super) fn own(bytes: &[u8], index: u32) -> Option<Self> {
        FontVec::try_from_vec_and_index(bytes.to_vec(), index).ok().map(Self::Own)
    }

    /// Sets axes, those that the font has.
    pub(super) fn set(&mut self, axes: &[(String, f32)]) {
        for (tag, value) in axes {
            let Ok(tag) = <&[u8; 4]>::try_from(tag.as_bytes()) else { continue };
            match self {
                Self::Shipped(font) => font.set_variation(tag, *value),
                Self::Own(font) => font.set_variation(tag, *value),
                Self::Strokes(_) => false,
            };
        }
    }

    /// Number of glyphs.
    pub(super) fn glyph_count(&self) -> usize {
        match self {
            Self::Shipped(font) => ab_glyph::Font::glyph_count(font.as_ref()),
            Self::Own(font) => ab_glyph::Font::glyph_count(font),
            Self::Strokes(glyphs) => glyphs.len(),
        }
    }

    /// One glyph drawn.
    pub(super) fn drawn(&self, glyph: u16, upem: f64) -> Drawn {
        match self {
            Self::Shipped(font) => outline::drawn(font.as_ref(), glyph, upem),
            Self::Own(font) => outline::drawn(font, glyph, upem),
            Self::Strokes(glyphs) => {
                glyphs.get(usize::from(glyph)).map_or_else(Drawn::default, |path| {
                    // A single upright line is ink without area.
                    let ink = (!path.is_empty()).then(|| path.bounding_box());
                    Drawn { path: path.clone(), ink }
                })
            }
        }
    }
}

/// Refuses what is plainly no font, or an index that its file does not have.
pub(super) fn check_container(name: &str, bytes: &[u8], index: u32) -> Result<(), FaceError> {
    let error = |message: String, help: Option<&str>| {
        Err(FaceError { message, help: help.map(str::to_owned), axis: None })
    };
    if bytes.len() > MOST_BYTES {
        return error(format!("`{name}` is larger than {} MiB", MOST_BYTES >> 20), None);
    }
    match bytes.first_chunk::<4>() {
        Some(b"wOFF" | b"wOF2") => error(
            format!("`{name}` is a web font, packed for browsers"),
            Some("unpack it to a TTF or OTF file, or take that from its source"),
        ),
        Some(b"ttcf") => {
            let count =
                bytes.get(8..12).and_then(|b| b.first_chunk()).map(|b| u32::from_be_bytes(*b));
            match count {
                Some(count) if index < count => Ok(()),
                Some(count) if count > 0 => error(
                    format!("`{name}` holds {count} faces, so there is no face {index}"),
                    Some(&format!("count from 0: the last one is {}", count - 1)),
                ),
                _ => error(format!("`{name}` is an empty or cut-off collection"), None),
            }
        }
        _ if index > 0 => error(
            format!("`{name}` holds one face only, so there is no face {index}"),
            Some("leave the index out, or write 0"),
        ),
        _ => Ok(()),
    }
}

/// SHA-256 of bytes, hexadecimal.
pub(super) fn hexadecimal(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}
