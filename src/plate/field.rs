//! Where lettering may stand, and how wide it is at a height.

use crate::layout::Plate;

use super::{ClearZone, Outline};

/// A free stretch across the field, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Left end.
    pub left: f64,
    /// Right end.
    pub right: f64,
}

/// The plate inside bevel, margin, border and clear zones.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// The inset outline; `None` where the margin leaves nothing.
    pub outline: Option<Outline>,
    /// Zones that reach into the outline.
    pub zones: Vec<ClearZone>,
    /// The axis on which centred rows stand, x in mm: the plate's centre line.
    pub axis_x: f64,
}

/// The field of a plate. Zones that do not reach into the inset outline are dropped.
#[must_use]
pub fn field(plate: &Plate, zones: &[ClearZone]) -> Field {
    let _ = (plate, zones);
    todo!()
}

impl Field {
    /// Left, top, right, bottom if the field is a plain rectangle without zones.
    #[must_use]
    pub fn rectangle(&self) -> Option<[f64; 4]> {
        todo!()
    }

    /// Left, top, right, bottom of the inset outline's bounding box; `None` if empty.
    #[must_use]
    pub fn bounds(&self) -> Option<[f64; 4]> {
        todo!()
    }

    /// Whether the field is convex (no zone reaches into it).
    #[must_use]
    pub fn convex(&self) -> bool {
        self.zones.is_empty()
    }

    /// Free stretches common to every height from `top` to `bottom`, left to
    /// right: the intersection of the chords over the whole band. Empty where the
    /// band leaves the field.
    #[must_use]
    pub fn intervals(&self, top: f64, bottom: f64) -> Vec<Interval> {
        let _ = (top, bottom);
        todo!()
    }

    /// y of the field's centre of area, mm.
    #[must_use]
    pub fn centre_y(&self) -> f64 {
        todo!()
    }
}
