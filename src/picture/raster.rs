//! What pictures are kept in.

use std::sync::Arc;

/// A picture in colour as people see it: upright, sRGB (IEC 61966-2-1), opaque.
#[derive(Clone, PartialEq, Eq)]
pub struct Picture {
    /// Pixels from left to right, at least 1.
    pub width: u32,
    /// Pixels from top to bottom, at least 1.
    pub height: u32,
    /// Red, green and blue of each pixel, row by row from the top left.
    pub rgb: Arc<[u8]>,
}

/// A picture in grey, coded as sRGB is, so that equal steps look about equal.
#[derive(Clone, PartialEq, Eq)]
pub struct Grey {
    /// Pixels from left to right, at least 1.
    pub width: u32,
    /// Pixels from top to bottom, at least 1.
    pub height: u32,
    /// Each pixel from 0 (black) to 255 (white), row by row from the top left.
    pub levels: Vec<u8>,
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Picture({} x {})", self.width, self.height)
    }
}

impl std::fmt::Debug for Grey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Grey({} x {})", self.width, self.height)
    }
}

/// Bytes to be written into and then shared. A vector would be copied for that.
pub(super) fn room(bytes: usize) -> Arc<[u8]> {
    std::iter::repeat_n(0, bytes).collect()
}

/// The bytes of [`room`], to write into.
pub(super) fn open(room: &mut Arc<[u8]>) -> &mut [u8] {
    Arc::get_mut(room).expect("nobody else has it yet")
}
