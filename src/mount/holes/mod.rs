//! Hole sets, symmetric by construction: each computes one hole of every kind and
//! mirrors it, so that left and right, top and bottom agree to the last digit.

mod along;
mod auto;
mod circle;
mod corners;
mod metal;

pub use metal::metal_needed;

use crate::layout::{Edges, HolesAsked, Layout, Named, Plate};
use crate::units::digits::trimmed;

use super::Fixing;

/// The set of holes that a plate gets.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleSet {
    /// The set: as asked, or as chosen; never [`HolesAsked::Auto`].
    pub set: HolesAsked,
    /// From the plate's edges to the hole centres, mm, where the set counts from them.
    pub inset: f64,
    /// Why it was chosen, in words, where it was left to be chosen.
    pub why: Option<String>,
}

impl HoleSet {
    /// The set in words: `four corners`, `3 each, evenly along top and bottom`.
    #[must_use]
    pub fn told(&self) -> String {
        match &self.set {
            HolesAsked::None | HolesAsked::Auto(_) => "none".to_owned(),
            HolesAsked::FourCorners => "four corners".to_owned(),
            HolesAsked::TwoSides => "two sides".to_owned(),
            HolesAsked::TopAndBottom => "top and bottom".to_owned(),
            HolesAsked::InTheHandles(_) => "in the handles".to_owned(),
            HolesAsked::Along {
                edges: edges @ (Edges::TopAndBottom | Edges::LeftAndRight),
                count,
            } => format!("{count} each, evenly along {}", edges.word()),
            HolesAsked::Along { edges, count } => {
                format!("{count} evenly along {}", edges.word())
            }
            HolesAsked::Circle { diameter, count, .. } => {
                format!("{count} on a circle of {} mm", trimmed(*diameter, 2))
            }
            HolesAsked::Points(points) => format!("{} at points", points.len()),
        }
    }
}

/// Hole centres on the plate, mm: top row left to right, then downwards.
///
/// The inset counts from the two edges to the centre where these meet in a square or
/// rounded corner; elsewhere it is the shortest way from the edge, and the corners
/// stand on these lines:
/// - oval and circle: from the middle through the corners of the size;
/// - notched: the diagonals of the notches;
/// - arch: the upper two on the slant through the corners of the size at 45°, the lower
///   two the inset above the foot;
/// - ansate: the corners are those of the tablet.
///
/// Two sides and top and bottom stand on the middle lines, and on an arch too the
/// inset is then the shortest way from the edge. In the handles: on the middle line,
/// the inset from the outer end, or in the middle of the handle. Along an edge: the
/// first and the last are the corners of that edge, the others stand at equal steps on
/// the straight line between them; on the upright sides of an arch the first stands
/// level with the springing of its head. On a circle: about the middle of the size. An
/// inset past the middle crosses over, and the checks tell of it; where it is the
/// shortest way, it stops at the middle. Points are those of the layout, sorted.
///
/// Sets that a shape has no meaning for (along the edges of an oval, say) give no
/// holes; the reader refuses them.
#[must_use]
pub fn hole_places(layout: &Layout) -> Vec<(f64, f64)> {
    places(&layout.plate, &hole_set(layout, super::fixing_of(layout).as_ref()))
}

/// The set of a layout whose fixing has these figures.
pub(super) fn hole_set(layout: &Layout, fixing: Option<&Fixing>) -> HoleSet {
    match &layout.mount.holes {
        HolesAsked::Auto(inset) => auto::chosen(layout, fixing, *inset),
        set => HoleSet { set: set.clone(), inset: layout.mount.inset, why: None },
    }
}

/// The centres of a set on a plate, sorted.
pub(super) fn places(plate: &Plate, set: &HoleSet) -> Vec<(f64, f64)> {
    let inset = set.inset;
    let mut places = match &set.set {
        HolesAsked::None | HolesAsked::Auto(_) => Vec::new(),
        HolesAsked::FourCorners => corners::four(plate, inset),
        HolesAsked::TwoSides => corners::two_sides(plate, inset),
        HolesAsked::TopAndBottom => {
            let middle = plate.width / 2.0;
            vec![(middle, inset), (middle, plate.height - inset)]
        }
        HolesAsked::InTheHandles(inset) => corners::in_the_handles(plate, *inset),
        HolesAsked::Along { edges, count } => along::along(plate, inset, *edges, *count),
        HolesAsked::Circle { diameter, count, first } => {
            circle::circle(plate, *diameter, *count, *first)
        }
        HolesAsked::Points(points) => points.clone(),
    };
    places.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    places
}

/// A place and its mirror image in the plate's upright middle line.
fn beside(plate: &Plate, (x, y): (f64, f64)) -> [(f64, f64); 2] {
    [(x, y), (plate.width - x, y)]
}
