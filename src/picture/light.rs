//! Light: between coded sRGB values and what the eye gets, by IEC 61966-2-1 and ITU-R BT.709.
//!
//! Everything that averages or weighs pixels does it in light, where half of the points white
//! is half as bright; coded values are only kept and shown.

use std::sync::LazyLock;

use super::{Grey, Picture};

/// What red, green and blue give to luminance (ITU-R BT.709, item 3.2).
pub const WEIGHTS: [f64; 3] = [0.2126, 0.7152, 0.0722];

/// Finest step of light that tables know: 1/65535 is a twentieth of a coded step even in the
/// deepest shadow, where sRGB is steepest (12.92 · 255/65535).
const STEPS: u16 = u16::MAX;

/// Light of a coded sRGB value, both from 0 to 1 (IEC 61966-2-1). Outside that range the same
/// formulas go on; below 0 along their straight part.
#[must_use]
pub fn decode(coded: f64) -> f64 {
    if coded <= 0.040_45 { coded / 12.92 } else { libm::pow((coded + 0.055) / 1.055, 2.4) }
}

/// Coded sRGB value of some light, both from 0 to 1 (IEC 61966-2-1). The two formulas of the
/// standard miss each other by 1e-8 at their joint, so it is not the exact inverse there.
#[must_use]
pub fn encode(light: f64) -> f64 {
    if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 }
}

/// Relative luminance of an sRGB colour, 0 for black to 1 for white (WCAG 2.2, with the bound
/// of IEC 61966-2-1).
#[must_use]
pub fn luminance(rgb: [u8; 3]) -> f64 {
    let [red, green, blue] = rgb.map(|level| decode(f64::from(level) / 255.0));
    WEIGHTS[0] * red + WEIGHTS[1] * green + WEIGHTS[2] * blue
}

/// Light of each of the 256 coded levels.
pub(super) fn lights() -> &'static [f32; 256] {
    static LIGHTS: LazyLock<[f32; 256]> = LazyLock::new(|| {
        std::array::from_fn(|level| {
            let level = u8::try_from(level).unwrap_or(u8::MAX);
            single(decode(f64::from(level) / 255.0))
        })
    });
    &LIGHTS
}

/// Light to the nearest coded level; below 0 is black, above 1 white, what is no number black.
pub(super) fn level(light: f32) -> u8 {
    static CODES: LazyLock<Vec<u8>> = LazyLock::new(|| {
        let code = |step| rounded(encode(f64::from(step) / f64::from(STEPS)) * 255.0);
        (0..=STEPS).map(code).collect()
    });
    let step = whole(light * f32::from(STEPS) + 0.5);
    CODES[usize::from(step)]
}

/// The nearest level of 0 to 255; what is below or above is the nearest of these.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "`as` saturates, and a level is nothing else"
)]
pub(super) fn rounded(value: f64) -> u8 {
    (value + 0.5) as u8
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "`as` saturates at the ends of the table, which are black and white"
)]
fn whole(value: f32) -> u16 {
    value as u16
}

/// For pixels, single precision is a thousand times finer than a coded step.
#[expect(clippy::cast_possible_truncation, reason = "pixels need no more")]
pub(super) fn single(value: f64) -> f32 {
    value as f32
}

impl Picture {
    /// The picture in grey: each pixel's luminance with the weights of BT.709, taken in light
    /// and coded again. A pixel that is grey already keeps its level.
    #[must_use]
    pub fn grey(&self) -> Grey {
        let lights = lights();
        let weights = WEIGHTS.map(single);
        let luminance = |pixel: &[u8]| {
            let light = |at: usize| weights[at] * lights[usize::from(pixel[at])];
            level(light(0) + light(1) + light(2))
        };
        let levels = self.rgb.chunks_exact(3).map(luminance).collect();
        Grey { width: self.width, height: self.height, levels }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Figures worked out from the formulas of IEC 61966-2-1 to nine places.
    #[test]
    fn the_curve_is_that_of_the_standard() {
        for (coded, light) in [
            (0.5, 0.214_041_140),
            (128.0 / 255.0, 0.215_860_500),
            (0.040_45, 0.003_130_805_0),
            (0.0, 0.0),
            (1.0, 1.0),
        ] {
            assert!((decode(coded) - light).abs() < 1e-9, "{coded}: {}", decode(coded));
        }
        for (light, coded) in [(0.18, 0.461_356_130), (0.5, 0.735_356_983), (1.0, 1.0)] {
            assert!((encode(light) - coded).abs() < 1e-9, "{light}: {}", encode(light));
        }
    }

    /// Luma weighs coded values, luminance light: 117.65 of (200, 100, 50) by the weights of
    /// BT.709 is not the grey that is as bright.
    #[test]
    fn grey_is_as_bright_as_the_colour_and_not_its_luma() {
        let weighed = |rgb: [f64; 3]| -> f64 { rgb.iter().zip(WEIGHTS).map(|(v, w)| v * w).sum() };
        assert!((weighed([200.0, 100.0, 50.0]) - 117.65).abs() < 1e-9);
        assert!((weighed([255.0, 0.0, 0.0]) - 54.213).abs() < 1e-9);
        // Light of 200, 100 and 50 is 0.577580, 0.127438 and 0.031896: 0.216240, coded 128.
        let picture =
            Picture { width: 2, height: 1, rgb: [200, 100, 50, 255, 0, 0].as_slice().into() };
        assert_eq!(picture.grey().levels, [128, 127]);
        assert!((luminance([200, 100, 50]) - 0.216_240).abs() < 1e-6);
    }

    #[test]
    fn what_is_grey_already_keeps_its_level() {
        let rgb: Vec<u8> = (0..=255).flat_map(|level| [level; 3]).collect();
        let grey = Picture { width: 256, height: 1, rgb: rgb.into() }.grey();
        assert!(grey.levels.iter().copied().eq(0..=255));
    }

    #[test]
    fn no_light_is_outside_the_table() {
        let strange = [-1.0, 0.0, 1.0, 7.0, f32::INFINITY, f32::NEG_INFINITY, f32::NAN];
        assert_eq!(strange.map(level), [0, 0, 255, 255, 255, 0, 0]);
    }
}
