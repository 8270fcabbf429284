//! Reading distance and angle.

/// Height in mm that subtends `minutes` of arc at `distance` mm: `2·d·tan(θ/2)`.
#[must_use]
pub fn letter_height(distance: f64, minutes: f64) -> f64 {
    2.0 * distance * libm::tan((minutes / 60.0).to_radians() / 2.0)
}

/// Distance in mm from which a letter of `height` mm subtends `minutes` of arc: the
/// inverse of [`letter_height`].
#[must_use]
pub fn reading_distance(height: f64, minutes: f64) -> f64 {
    height / (2.0 * libm::tan((minutes / 60.0).to_radians() / 2.0))
}

#[cfg(test)]
mod tests {
    use super::{letter_height, reading_distance};

    #[test]
    fn distance_and_height_undo_each_other() {
        // NUREG-0700's least angle: 1.745 mm at 400 mm.
        assert!((reading_distance(1.745_33, 15.0) - 400.0).abs() < 0.001);
        assert!((letter_height(reading_distance(3.0, 20.0), 20.0) - 3.0).abs() < 1e-12);
    }
}
