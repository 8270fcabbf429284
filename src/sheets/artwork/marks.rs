//! Corner marks: where the plate's box lies, for setting the work. They stand clear of
//! the plate and are not cut.

use crate::drawing::{Group, Item, Path};
use crate::layout::Plate;

use super::super::block::{line_of, straight};
use super::ROUND;

/// Name of their group.
pub(super) const NAME: &str = "corner-marks";
/// From the corner to a mark, mm: what runs over the plate's edge stays clear of it.
const AWAY: f64 = 2.0;
/// From the corner to a mark's far end, mm.
const REACH: f64 = ROUND - 1.0;
/// Width of their lines, mm: a hairline.
const WIDTH: f64 = 0.1;

/// Two short lines at each corner of the plate's box, in line with its sides, mm from
/// the box's top left corner.
pub(super) fn corner_marks(plate: &Plate) -> Group {
    let across = [(0.0, -1.0), (plate.width, 1.0)];
    let down = [(0.0, -1.0), (plate.height, 1.0)];
    let corners = across.iter().flat_map(|x| down.iter().map(move |y| (*x, *y)));
    let line = |from, to| Item::from(Path::stroked(straight(from, to), line_of(WIDTH)));
    let marks = corners.flat_map(|((x, right), (y, below))| {
        [
            line((x + right * AWAY, y), (x + right * REACH, y)),
            line((x, y + below * AWAY), (x, y + below * REACH)),
        ]
    });
    Group::new(NAME, "Corners of the plate's box, for setting the work; not cut", marks.collect())
}
