//! Hole sets, symmetric by construction.

use crate::layout::{HolesAsked, Layout, Plate, Shape};
use crate::plate::outline;

/// Halvings that exhaust a double.
const HALVINGS: u32 = 64;

/// Hole centres on the plate, mm: top row left to right, then downwards.
///
/// Each set mirrors one computed hole, so that left and right, top and bottom
/// agree to the last digit. On rectangles and rounded plates the inset counts
/// from the two edges to the centre; on ovals and circles the corners stand on
/// the lines from the middle through the corners of the size, the inset being the
/// shortest way to the edge. Two sides and top and bottom stand on the middle
/// lines. An inset past the middle crosses over, and the checks tell of it; on an
/// oval it stops at the middle. Points are those of the layout, sorted.
#[must_use]
pub fn hole_places(layout: &Layout) -> Vec<(f64, f64)> {
    let plate = &layout.plate;
    let inset = layout.mount.inset;
    let mirrored = |x: f64, y: f64| {
        let (right, bottom) = (plate.width - x, plate.height - y);
        vec![(x, y), (right, y), (x, bottom), (right, bottom)]
    };
    let (middle_x, middle_y) = (plate.width / 2.0, plate.height / 2.0);
    let mut places = match &layout.mount.holes {
        HolesAsked::None => Vec::new(),
        HolesAsked::FourCorners => {
            let (x, y) = corner(plate, inset);
            mirrored(x, y)
        }
        HolesAsked::TwoSides => vec![(inset, middle_y), (plate.width - inset, middle_y)],
        HolesAsked::TopAndBottom => vec![(middle_x, inset), (middle_x, plate.height - inset)],
        HolesAsked::Points(points) => points.clone(),
    };
    places.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    places
}

/// The top left hole of four.
fn corner(plate: &Plate, inset: f64) -> (f64, f64) {
    if !matches!(plate.shape, Shape::Oval | Shape::Circle) {
        return (inset, inset);
    }
    let outline = outline(plate);
    let at = |share: f64| (plate.width / 2.0 * share, plate.height / 2.0 * share);
    // From the corner of the size (share 0) to the middle (share 1) the depth
    // grows all the way: the outline is convex and symmetric.
    let (mut low, mut high) = (0.0, 1.0);
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
