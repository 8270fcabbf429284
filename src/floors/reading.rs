//! Reading distance and angle.

/// Height in mm that subtends `minutes` of arc at `distance` mm: `2·d·tan(θ/2)`.
#[must_use]
pub fn letter_height(distance: f64, minutes: f64) -> f64 {
    2.0 * distance * libm::tan((minutes / 60.0).to_radians() / 2.0)
}
