//! Pixels: a photograph's file becomes an upright picture in sRGB, and a picture becomes what
//! a process can make of it.
//!
//! In: the bytes of a file. Out: a [`Picture`], a part of it at another size, its [`Grey`].
//! Knows nothing of plates; where a picture stands is for later rooms.

mod raster;

pub use raster::{Grey, Picture};
