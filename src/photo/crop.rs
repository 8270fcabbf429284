//! What part of a picture is shown.

use kurbo::{Affine, BezPath, Shape};

use crate::layout::Photo;

/// Steps round the edge of what must stay inside.
const STEPS: u32 = 256;

/// The part of a picture that fills a box of a proportion (width by height): left, top, right,
/// bottom in pixels of the picture, whole ones or not. It is the largest such part, less
/// `zoom`, with its middle as near to the focus as the picture allows.
#[must_use]
pub fn crop(photo: &Photo, proportion: f64) -> [f64; 4] {
    let (width, height) = (f64::from(photo.picture.width), f64::from(photo.picture.height));
    let whole = if width > height * proportion {
        (height * proportion, height)
    } else {
        (width, width / proportion)
    };
    let (across, down) = (whole.0 / photo.zoom, whole.1 / photo.zoom);
    let from = |focus: f64, all: f64, part: f64| {
        (focus * all - part / 2.0).clamp(0.0, (all - part).max(0.0))
    };
    let (left, top) = (from(photo.focus.0, width, across), from(photo.focus.1, height, down));
    [left, top, left + across, top + down]
}

/// The share of a heads box that is seen, from 0 to 1: the ellipse in the box against the
/// outline of the photograph, both in the box [0, 1] x [0, 1] of the crop. 1 where nothing of
/// it is cut.
#[must_use]
pub fn shown_of(photo: &Photo, crop: [f64; 4], outline: &BezPath, sides: [f64; 4]) -> Option<f64> {
    let [left, top, right, bottom] = photo.heads?;
    let (width, height) = (f64::from(photo.picture.width), f64::from(photo.picture.height));
    // From pixels of the picture to mm of the plate.
    let scale = (sides[2] - sides[0]) / (crop[2] - crop[0]);
    let place = Affine::translate((sides[0], sides[1]))
        * Affine::scale(scale)
        * Affine::translate((-crop[0], -crop[1]));
    let (middle_x, middle_y) =
        (f64::midpoint(left, right) * width, f64::midpoint(top, bottom) * height);
    let (half_x, half_y) = ((right - left) / 2.0 * width, (bottom - top) / 2.0 * height);
    let inside = (0..STEPS).filter(|step| {
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * f64::from(*step) / f64::from(STEPS));
        let at = place * kurbo::Point::new(middle_x + half_x * cos, middle_y + half_y * sin);
        outline.contains(at)
    });
    let count = u32::try_from(inside.count()).unwrap_or(STEPS);
    Some(f64::from(count) / f64::from(STEPS))
}
