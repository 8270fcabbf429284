//! A picture in a drawing: pixels stretched over a box.

use std::sync::Arc;

use kurbo::{Affine, BezPath, Rect};

use crate::picture::{Grey, Picture};

/// Pixels, at the size at which they are to be printed: writers put all of them into
/// their files, however small the box is.
#[derive(Debug, Clone, PartialEq)]
pub enum Pixels {
    /// In colour.
    Colour(Picture),
    /// In grey; a picture of two levels is one of 0 and 255.
    Grey(Arc<Grey>),
    /// Paint of one colour, all of it where the picture is black and none where it is white:
    /// what lies beneath is seen through.
    Paint {
        /// How much of it there is.
        bare: Arc<Grey>,
        /// Its colour, sRGB.
        colour: [u8; 3],
    },
}

impl Pixels {
    /// Pixels across and down.
    #[must_use]
    pub fn size(&self) -> (u32, u32) {
        match self {
            Self::Colour(picture) => (picture.width, picture.height),
            Self::Grey(grey) | Self::Paint { bare: grey, .. } => (grey.width, grey.height),
        }
    }

    /// Bytes row by row from the top left, with how many there are to a pixel.
    #[must_use]
    pub fn bytes(&self) -> (&[u8], usize) {
        match self {
            Self::Colour(picture) => (&picture.rgb, 3),
            Self::Grey(grey) | Self::Paint { bare: grey, .. } => (&grey.levels, 1),
        }
    }

    /// Whether these are the very pixels of another, by where they lie in memory.
    pub(super) fn is(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Colour(a), Self::Colour(b)) => Arc::ptr_eq(&a.rgb, &b.rgb),
            (Self::Grey(a), Self::Grey(b)) => Arc::ptr_eq(a, b),
            (Self::Paint { bare: a, colour }, Self::Paint { bare: b, colour: other }) => {
                Arc::ptr_eq(a, b) && colour == other
            }
            _ => false,
        }
    }

    /// Other pixels of the same kind.
    pub(super) fn with(&self, width: u32, height: u32, bytes: Vec<u8>) -> Self {
        match self {
            Self::Colour(_) => Self::Colour(Picture { width, height, rgb: bytes.into() }),
            Self::Grey(_) => Self::Grey(Arc::new(Grey { width, height, levels: bytes })),
            Self::Paint { colour, .. } => Self::Paint {
                bare: Arc::new(Grey { width, height, levels: bytes }),
                colour: *colour,
            },
        }
    }

    /// The same with left and right exchanged.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let (bytes, channels) = self.bytes();
        let (width, height) = self.size();
        let row = usize::try_from(width).unwrap_or(0) * channels;
        // Rows without pixels have nothing to exchange.
        let rows = bytes.chunks(row.max(1));
        let turned = rows.flat_map(|row| row.rchunks(channels).flatten().copied());
        self.with(width, height, turned.collect())
    }
}

/// What viewers are asked to do where a pixel of the picture is larger than theirs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scaling {
    /// Run from one pixel into the next: for what was photographed.
    Smooth,
    /// Show each pixel as a sharp rectangle: for dots that a machine follows.
    Crisp,
}

/// A picture: pixels stretched over an upright box of its own coordinates, cut to a
/// shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Image {
    /// The box that all pixels together fill, mm; one without area shows nothing.
    pub area: Rect,
    /// The pixels.
    pub pixels: Pixels,
    /// How they are enlarged.
    pub scaling: Scaling,
    /// What of it is shown, by the nonzero rule, in the coordinates of `area`; `None` for
    /// all, an empty path for nothing.
    pub clip: Option<BezPath>,
    /// What it shows, for people who cannot see it; empty where the group that it
    /// stands in says so.
    pub description: String,
}

impl Image {
    /// Whether there is anything of it to be seen.
    #[must_use]
    pub fn shows(&self) -> bool {
        let cut = self.clip.as_ref().is_some_and(|clip| clip.segments().next().is_none());
        let Rect { x0, y0, x1, y1 } = self.area;
        // A box that is no number is not passed over: writers refuse it.
        !(cut || x1 <= x0 || y1 <= y0)
    }

    /// The picture moved.
    #[must_use]
    pub fn moved(self, dx: f64, dy: f64) -> Self {
        let by = Affine::translate((dx, dy));
        let clip = self.clip.map(|clip| by * clip);
        Self { area: self.area + kurbo::Vec2::new(dx, dy), clip, ..self }
    }

    /// The picture as a mirror at the upright line x = `about` / 2 shows it: its pixels
    /// are exchanged, so that no program has to mirror them.
    #[must_use]
    pub fn mirrored(self, about: f64) -> Self {
        let mirror = Affine::new([-1.0, 0.0, 0.0, 1.0, about, 0.0]);
        Self {
            area: mirror.transform_rect_bbox(self.area),
            pixels: self.pixels.mirrored(),
            clip: self.clip.map(|clip| (mirror * clip).reverse_subpaths()),
            ..self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mirrored_picture_has_its_rows_turned_round_and_its_box_across() {
        let rgb = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
        let image = Image {
            area: Rect::new(10.0, 5.0, 30.0, 25.0),
            pixels: Pixels::Colour(Picture { width: 2, height: 2, rgb: rgb.into() }),
            scaling: Scaling::Crisp,
            clip: None,
            description: String::new(),
        };
        let turned = image.clone().mirrored(100.0);
        assert_eq!(turned.area, Rect::new(70.0, 5.0, 90.0, 25.0));
        assert_eq!(turned.pixels.bytes().0, [4, 5, 6, 1, 2, 3, 10, 11, 12, 7, 8, 9]);
        assert_eq!(turned.mirrored(100.0), image);
        let grey = Pixels::Grey(Arc::new(Grey { width: 3, height: 1, levels: vec![7, 8, 9] }));
        assert_eq!(grey.mirrored().bytes(), ([9, 8, 7].as_slice(), 1));
        let none = Pixels::Grey(Arc::new(Grey { width: 0, height: 1, levels: vec![] }));
        assert_eq!(none.mirrored(), none);
    }
}
