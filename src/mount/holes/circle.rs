//! Holes on a circle about the middle of the plate.

use std::f64::consts::PI;

use crate::layout::{FirstHole, Plate};

/// `count` holes at equal steps round a circle of a diameter in mm.
///
/// Angles are counted in half steps from the top and brought into the first eighth of
/// the circle before a sine is taken, so that whatever mirrors itself in the plate's
/// middle lines or diagonals does so to the last digit.
pub(super) fn circle(
    plate: &Plate,
    diameter: f64,
    count: u32,
    first: FirstHole,
) -> Vec<(f64, f64)> {
    let radius = diameter / 2.0;
    let (middle_x, middle_y) = (plate.width / 2.0, plate.height / 2.0);
    let odd = u32::from(first == FirstHole::BesideTheTop);
    (0..count)
        .map(|index| {
            // Half steps clockwise from the top: a whole turn has 2 · count of them.
            let turn = 2 * index + odd;
            let (left, turn) = if turn > count { (true, 2 * count - turn) } else { (false, turn) };
            let (low, turn) = if 2 * turn > count { (true, count - turn) } else { (false, turn) };
            let (across, up) = first_quarter(turn, count);
            // The right and the lower place mirror the left and the upper one.
            let (x, y) = (middle_x - radius * across, middle_y - radius * up);
            (
                if left || turn == 0 { x } else { plate.width - x },
                if low { plate.height - y } else { y },
            )
        })
        .collect()
}

/// Sine and cosine of `turn` half steps of π / `count` each, up to a quarter turn.
fn first_quarter(turn: u32, count: u32) -> (f64, f64) {
    // From the diagonal on, the complement: π/2 is count / 2 half steps.
    let past = 4 * turn > count;
    let share = if past {
        f64::from(count - 2 * turn) / f64::from(2 * count)
    } else {
        f64::from(turn) / f64::from(count)
    };
    let angle = PI * share;
    let (sine, cosine) = if 4 * turn == count {
        // Half a right angle has one figure for both.
        (std::f64::consts::FRAC_1_SQRT_2, std::f64::consts::FRAC_1_SQRT_2)
    } else {
        (libm::sin(angle), libm::cos(angle))
    };
    if past { (cosine, sine) } else { (sine, cosine) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_turn_has_the_known_sines() {
        assert_eq!(first_quarter(0, 4), (0.0, 1.0));
        assert_eq!(first_quarter(2, 4), (1.0, 0.0));
        let (sine, cosine) = first_quarter(1, 4);
        assert!((sine - cosine).abs() == 0.0 && (sine * sine - 0.5).abs() < 1e-15);
        // 30 and 60 degrees: two and four half steps of 180° / 12.
        let (sine, cosine) = first_quarter(2, 12);
        assert!((sine - 0.5).abs() < 1e-15 && (cosine - 0.75_f64.sqrt()).abs() < 1e-15);
        let (sine, cosine) = first_quarter(4, 12);
        assert!((cosine - 0.5).abs() < 1e-15 && (sine - 0.75_f64.sqrt()).abs() < 1e-15);
    }
}
