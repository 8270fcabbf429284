//! Contrast of two colours as WCAG 2.2 defines it (W3C, "contrast ratio" and "relative
//! luminance"), for colours on a screen: of a real surface it says what its paint can do,
//! not what the light does.

use crate::picture::luminance;

/// Contrast ratio of two sRGB colours, 1 (alike) to 21 (black and white), whichever
/// comes first. Not rounded: 2.996 is below 3.
#[must_use]
pub fn contrast(one: [u8; 3], other: [u8; 3]) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}
