//! Contrast of two colours as WCAG 2.2 defines it (W3C, "contrast ratio" and "relative
//! luminance"), for colours on a screen: of a real surface it says what its paint can do,
//! not what the light does.

/// Below this a channel is linear (WCAG 2.2; IEC 61966-2-1).
const LINEAR: f64 = 0.040_45;

/// Relative luminance of an sRGB colour, 0 for black to 1 for white.
#[must_use]
pub fn luminance(rgb: [u8; 3]) -> f64 {
    let [red, green, blue] = rgb.map(|level| {
        let share = f64::from(level) / 255.0;
        if share <= LINEAR { share / 12.92 } else { libm::pow((share + 0.055) / 1.055, 2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Contrast ratio of two sRGB colours, 1 (alike) to 21 (black and white), whichever
/// comes first. Not rounded: 2.996 is below 3.
#[must_use]
pub fn contrast(one: [u8; 3], other: [u8; 3]) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}
