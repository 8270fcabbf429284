//! Decoration: dividers, emblems and corner ornaments as outlines at true size.
//!
//! What the layout asks for goes in; drawings at unit size, which stand in rows like
//! letters, and ornaments in their corners come out. All shapes here are of our own drawing.
//! Knows nothing of fitting: a row tells where its drawing stands, and [`Placed`] is what
//! is engraved there.

mod corners;
mod dividers;
mod emblems;
mod known;
mod pen;

use std::sync::Arc;

use kurbo::{Affine, BezPath, Shape};

pub use corners::{corners, zones};

use crate::layout;
use crate::lettering::Ornament;
use crate::plate::Field;

/// Where a piece of decoration stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// In a line of the inscription; its index.
    Line(usize),
    /// In a corner: 0 top left, 1 top right, 2 bottom left, 3 bottom right.
    Corner(usize),
}

/// A piece of decoration on the plate.
#[derive(Debug, Clone)]
pub struct Placed {
    /// Where it stands.
    pub stands: Stands,
    /// The drawing at unit size, with its widths.
    pub ornament: Arc<Ornament>,
    /// Its height, mm.
    pub height: f64,
    /// From unit size, y up, to plate coordinates in mm.
    pub place: Affine,
    /// What is engraved: closed contours without overlaps, filled by the nonzero rule; mm
    /// in plate coordinates.
    pub path: BezPath,
}

impl Placed {
    fn new(stands: Stands, ornament: &Arc<Ornament>, height: f64, place: Affine) -> Self {
        let path = place * ornament.outline.clone();
        // Outer contours run clockwise as seen, as those of letters do.
        let path = if path.area() < 0.0 { path.reverse_subpaths() } else { path };
        Self { stands, ornament: Arc::clone(ornament), height, place, path }
    }

    /// The drawing of a line whose row begins at `x` and stands on `baseline`, mm.
    #[must_use]
    pub fn in_row(
        line: usize,
        ornament: &Arc<Ornament>,
        (x, baseline): (f64, f64),
        height: f64,
    ) -> Self {
        let place = Affine::new([height, 0.0, 0.0, -height, x, baseline]);
        Self::new(Stands::Line(line), ornament, height, place)
    }
}

/// The drawing that a line holds instead of words, at unit size; `None` for an outline
/// without ink. The field's width is that of which a divider may take a share.
#[must_use]
pub fn ornament(asked: &layout::Ornament, field: &Field) -> Option<Arc<Ornament>> {
    match asked {
        layout::Ornament::Divider { kind, width, weight } => {
            let room = field.bounds().map_or(0.0, |[left, _, right, _]| right - left);
            dividers::divider(*kind, *width, *weight, room)
        }
        layout::Ornament::Emblem(emblem) => emblems::at_unit_size(*emblem),
        layout::Ornament::Own(own) => known::known((*own.outline).clone(), Ornament::new),
    }
}

#[cfg(test)]
mod tests;
