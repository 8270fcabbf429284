//! Pixels: a photograph's file becomes an upright picture in sRGB, and a picture becomes what
//! a process can make of it.
//!
//! In: the bytes of a file. Out: a [`Picture`], a part of it at another size, its [`Grey`],
//! its tone changed, its dots as [`Bits`].
//! Knows nothing of plates; where a picture stands is for later rooms.

mod bits;
mod light;
mod raster;
mod read;
mod reduce;
mod screen;
mod tone;

pub use bits::Bits;
pub use light::{WEIGHTS, decode, encode, luminance};
pub use raster::{Grey, Picture};
pub use read::{
    Colours, Facts, Format, MOST_MEMORY, MOST_PIXELS, PictureError, Profile, Reading, read,
};
pub use screen::{Kernel, Screen, finest_ruling, screened};
pub use tone::{LocalContrast, Toning, Unsharp, toned};
