//! The demo photograph: the church tower of Marrowby Vale at dusk, painted by arithmetic.

mod brush;
mod church;
mod land;
mod plants;

use brush::{Place, bell, ease, hash, scaled};

/// Quality of the file: as fine as keeps it under 350 kB.
const QUALITY: u8 = 61;

/// Width and height of the picture.
pub(crate) const SIZE: (u32, u32) = (1800, 2400);

/// Red, green and blue of each dot, row by row, as sRGB codes them.
pub(crate) fn painted((width, height): (u32, u32)) -> Vec<u8> {
    let mut rgb = vec![0; width as usize * height as usize * 3];
    let bands = std::thread::available_parallelism().map_or(1, usize::from);
    let rows = (height as usize).div_ceil(bands);
    std::thread::scope(|scope| {
        for (band, pixels) in rgb.chunks_mut(rows * width as usize * 3).enumerate() {
            scope.spawn(move || {
                for (number, pixel) in pixels.chunks_mut(3).enumerate() {
                    let number = number + band * rows * width as usize;
                    let (x, y) = (number % width as usize, number / width as usize);
                    pixel.copy_from_slice(&dot(x as f64, y as f64, (width, height)));
                }
            });
        }
    });
    rgb
}

/// The picture as a JPEG.
pub(crate) fn jpeg(rgb: &[u8], (width, height): (u32, u32)) -> Vec<u8> {
    let mut bytes = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, QUALITY)
        .encode(rgb, width, height, image::ExtendedColorType::Rgb8)
        .unwrap();
    bytes
}

fn dot(x: f64, y: f64, (width, height): (u32, u32)) -> [u8; 3] {
    let (width, height) = (f64::from(width), f64::from(height));
    let place =
        Place { q: (x + 0.5 - width / 2.0) / height, y: (y + 0.5) / height, dot: 1.0 / height };
    // What the ground hides need not be painted.
    let mut colour = [0.0; 3];
    if place.y < land::crest(place.q) + 0.02 {
        colour = plants::rooks(land::hills(land::sky(place), place), place);
        colour = church::church(colour, place);
    }
    colour = plants::stones(land::churchyard(colour, place), place);
    colour = plants::trees(colour, place);
    // The lens darkens corners; the highest light is bent to white; film has grain.
    let off = libm::hypot(place.q * 1.15, place.y - 0.5);
    colour = scaled(colour, 0.74 + 0.26 * bell(off, 0.0, 0.60));
    let grain = (hash(x, y, 301) + hash(x, y, 303) + hash(x / 2.0, y / 2.0, 305) - 1.5) * 0.010;
    colour.map(|light| {
        let shown = ansata::picture::encode(1.0 - libm::exp(-2.3 * light.max(0.0)));
        coded(shown + 0.35 * (ease(0.0, 1.0, shown) - shown) + grain)
    })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "kept to the range of levels before"
)]
fn coded(value: f64) -> u8 {
    (value.clamp(0.0, 1.0) * 255.0).round() as u8
}
