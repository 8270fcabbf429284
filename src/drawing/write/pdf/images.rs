//! Pictures: their pixels as they are, packed without loss, under their own transform.

use krilla::geom::{Size, Transform};
use krilla::image::{BitsPerComponent, CustomImage, ImageColorspace};
use krilla::surface::Surface;
use kurbo::Affine;

use super::super::{WriteError, pixels};
use super::{paths, single};
use crate::drawing::{Image, Pixels, Scaling};

/// Draws a picture, its place moved by `to`; nothing where nothing of it is to be seen.
pub(super) fn draw(surface: &mut Surface<'_>, item: &Image, to: Affine) -> Result<(), WriteError> {
    if !item.shows() {
        return Ok(());
    }
    let area = pixels::checked(item, to)?;
    // A box too flat for the precision of the file is not to be seen either.
    let Some(size) = Size::from_wh(single(area.width()), single(area.height())) else {
        return Ok(());
    };
    let packed = krilla::image::Image::from_custom(
        Content::of(&item.pixels),
        item.scaling == Scaling::Smooth,
    )
    .map_err(|error| WriteError(format!("a picture cannot be put into a PDF: {error}")))?;
    let clipped = match &item.clip {
        None => false,
        Some(shown) if paths::clip(surface, shown, to)? => true,
        Some(_) => return Ok(()),
    };
    let [a, b, c, d, e, f] = (to * Affine::translate((area.x0, area.y0))).as_coeffs().map(single);
    surface.push_transform(&Transform::from_row(a, b, c, d, e, f));
    surface.draw_image(packed, size);
    surface.pop();
    if clipped {
        surface.pop();
    }
    Ok(())
}

/// Pixels that were looked at.
#[derive(Clone)]
struct Content {
    pixels: Pixels,
    /// Of paint, its colour for each pixel and how much of it there is.
    paint: Option<(Vec<u8>, Vec<u8>)>,
}

impl Content {
    fn of(pixels: &Pixels) -> Self {
        let paint = match pixels {
            Pixels::Paint { bare, colour } => Some((
                colour.repeat(bare.levels.len()),
                bare.levels.iter().map(|level| 255 - level).collect(),
            )),
            _ => None,
        };
        Self { pixels: pixels.clone(), paint }
    }
}

impl std::hash::Hash for Content {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.pixels.size().hash(state);
        self.pixels.bytes().hash(state);
        self.paint.hash(state);
    }
}

impl CustomImage for Content {
    fn color_channel(&self) -> &[u8] {
        self.paint.as_ref().map_or(self.pixels.bytes().0, |(colour, _)| colour)
    }

    fn alpha_channel(&self) -> Option<&[u8]> {
        self.paint.as_ref().map(|(_, share)| share.as_slice())
    }

    fn bits_per_component(&self) -> BitsPerComponent {
        BitsPerComponent::Eight
    }

    fn size(&self) -> (u32, u32) {
        self.pixels.size()
    }

    fn icc_profile(&self) -> Option<&[u8]> {
        None
    }

    fn color_space(&self) -> ImageColorspace {
        match self.pixels {
            Pixels::Colour(_) | Pixels::Paint { .. } => ImageColorspace::Rgb,
            Pixels::Grey(_) => ImageColorspace::Luma,
        }
    }
}
