//! Holes in the corners, at the sides and in the handles.

use crate::layout::{Plate, Shape};
use crate::plate::outline;

use super::beside;

/// Halvings that exhaust a double.
const HALVINGS: u32 = 64;

pub(super) fn four(plate: &Plate, inset: f64) -> Vec<(f64, f64)> {
    [beside(plate, upper(plate, inset)), beside(plate, lower(plate, inset))].concat()
}

pub(super) fn two_sides(plate: &Plate, inset: f64) -> Vec<(f64, f64)> {
    let (middle_x, middle_y) = (plate.width / 2.0, plate.height / 2.0);
    let x = match plate.shape {
        Shape::Arch { .. } => in_by(plate, inset, (0.0, middle_y), (1.0, 0.0), middle_x).0,
        _ => inset,
    };
    beside(plate, (x, middle_y)).to_vec()
}

pub(super) fn in_the_handles(plate: &Plate, inset: Option<f64>) -> Vec<(f64, f64)> {
    let x = inset.unwrap_or_else(|| handle(plate) / 2.0);
    beside(plate, (x, plate.height / 2.0)).to_vec()
}

/// Width of a handle; 0 where there is none.
fn handle(plate: &Plate) -> f64 {
    match &plate.shape {
        Shape::Ansate(handles) => handles.on(plate.width, plate.height).width,
        _ => 0.0,
    }
}

/// The top left hole of four.
pub(super) fn upper(plate: &Plate, inset: f64) -> (f64, f64) {
    let (half_width, half_height) = (plate.width / 2.0, plate.height / 2.0);
    match plate.shape {
        Shape::Oval | Shape::Circle => {
            in_by(plate, inset, (0.0, 0.0), (half_width, half_height), 1.0)
        }
        Shape::Notched { .. } | Shape::Arch { .. } => {
            in_by(plate, inset, (0.0, 0.0), (1.0, 1.0), half_width.min(half_height))
        }
        _ => (inset + handle(plate), inset),
    }
}

/// The bottom left hole of four: on all but an arch the upper one mirrored.
pub(super) fn lower(plate: &Plate, inset: f64) -> (f64, f64) {
    if matches!(plate.shape, Shape::Arch { .. }) {
        return in_by(plate, inset, (0.0, plate.height - inset), (1.0, 0.0), plate.width / 2.0);
    }
    let (x, y) = upper(plate, inset);
    (x, plate.height - y)
}

/// The first point of a line from outside the plate that lies `inset` mm deep; the
/// line's end, `most` steps on, where none does. Along the lines that are asked for
/// here the depth grows all the way.
fn in_by(plate: &Plate, inset: f64, from: (f64, f64), step: (f64, f64), most: f64) -> (f64, f64) {
    let outline = outline(plate);
    let at = |steps: f64| (from.0 + step.0 * steps, from.1 + step.1 * steps);
    let (mut low, mut high) = (0.0, most);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        let (x, y) = at(middle);
        if outline.depth_of(x, y) < inset {
            low = middle;
        } else {
            high = middle;
        }
    }
    at(high)
}
