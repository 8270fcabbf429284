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
        Content(item.pixels.clone()),
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
struct Content(Pixels);

impl std::hash::Hash for Content {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.0.size().hash(state);
        self.0.bytes().hash(state);
    }
}

impl CustomImage for Content {
    fn color_channel(&self) -> &[u8] {
        self.0.bytes().0
    }

    fn alpha_channel(&self) -> Option<&[u8]> {
        None
    }

    fn bits_per_component(&self) -> BitsPerComponent {
        BitsPerComponent::Eight
    }

    fn size(&self) -> (u32, u32) {
        self.0.size()
    }

    fn icc_profile(&self) -> Option<&[u8]> {
        None
    }

    fn color_space(&self) -> ImageColorspace {
        match self.0 {
            Pixels::Colour(_) => ImageColorspace::Rgb,
            Pixels::Grey(_) => ImageColorspace::Luma,
        }
    }
}
