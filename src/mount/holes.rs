//! Hole sets, symmetric by construction.

use crate::layout::{HolesAsked, Layout, Plate, Shape};
use crate::plate::outline;

/// Halvings that exhaust a double.
const HALVINGS: u32 = 64;

/// Hole centres on the plate, mm: top row left to right, then downwards.
///
/// Each set mirrors one computed hole, so that left and right, top and bottom
/// agree to the last digit. The inset counts from the two edges to the centre where
/// these meet in a square or rounded corner; elsewhere it is the shortest way from
/// the edge, and the corners stand on these lines:
/// - oval and circle: from the middle through the corners of the size;
/// - notched: the diagonals of the notches;
/// - arch: the upper two on the slant through the corners of the size at 45°, the lower
///   two the inset above the foot;
/// - ansate: the corners are those of the tablet.
///
/// Two sides and top and bottom stand on the middle lines, and on an arch too the
/// inset is then the shortest way from the edge. In the handles: on the middle line,
/// the inset from the outer end, or in the middle of the handle. An inset past the
/// middle crosses over, and the checks tell of it; where it is the shortest way, it
/// stops at the middle. Points are those of the layout, sorted.
#[must_use]
pub fn hole_places(layout: &Layout) -> Vec<(f64, f64)> {
    let plate = &layout.plate;
    let inset = layout.mount.inset;
    let (middle_x, middle_y) = (plate.width / 2.0, plate.height / 2.0);
    let beside = |x: f64, y: f64| [(x, y), (plate.width - x, y)];
    let mut places = match &layout.mount.holes {
        HolesAsked::None => Vec::new(),
        HolesAsked::FourCorners => {
            let (x, y) = corner(plate, inset);
            let (low_x, low_y) = match plate.shape {
                Shape::Arch { .. } => {
                    in_by(plate, inset, (0.0, plate.height - inset), (1.0, 0.0), middle_x)
                }
                _ => (x, plate.height - y),
            };
            [beside(x, y), beside(low_x, low_y)].concat()
        }
        HolesAsked::TwoSides => {
            let x = match plate.shape {
                Shape::Arch { .. } => in_by(plate, inset, (0.0, middle_y), (1.0, 0.0), middle_x).0,
                _ => inset,
            };
            beside(x, middle_y).to_vec()
        }
        HolesAsked::TopAndBottom => vec![(middle_x, inset), (middle_x, plate.height - inset)],
        HolesAsked::InTheHandles(inset) => {
            let x = inset.unwrap_or_else(|| handle(plate) / 2.0);
            beside(x, middle_y).to_vec()
        }
        HolesAsked::Points(points) => points.clone(),
    };
    places.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    places
}

/// Width of a handle; 0 where there is none.
fn handle(plate: &Plate) -> f64 {
    match &plate.shape {
        Shape::Ansate(handles) => handles.on(plate.width, plate.height).width,
        _ => 0.0,
    }
}

/// The top left hole of four.
fn corner(plate: &Plate, inset: f64) -> (f64, f64) {
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
