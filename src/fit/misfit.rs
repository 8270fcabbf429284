//! When nothing fits: all lines under their floors, by one share.
//!
//! Every line goes to `φ·f_i` with the largest φ below 1 that fits, by the same
//! search as for the scale, so that all lines are told with the same ratio to what
//! they need. Which lines may break has been decided at their floors and stays.

use super::problem::Problem;
use crate::layout::FitMode;

/// Least φ at which lettering is placed at all; below it there is no room. Ground: a
/// letter at a thousandth of its floor is nothing that anyone could look at.
const LEAST_SHARE: f64 = 0.001;

/// The problem whose "scale" is φ, from [`LEAST_SHARE`] to 1: of letters without any height
/// nothing could ever be ruled out.
pub(super) fn under_floors(problem: &Problem) -> Problem {
    let lines = problem.lines.iter().map(|line| {
        let floor = line.low();
        super::LineProblem {
            ratio: floor,
            floor: floor * LEAST_SHARE,
            ceiling: floor,
            ..line.clone()
        }
    });
    Problem { lines: lines.collect(), mode: FitMode::Even, ease: 1.0 }
}
