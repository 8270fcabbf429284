//! Where lettering may stand, and how wide it is at a height.

use std::f64::consts::PI;

use crate::layout::Plate;

use super::piece::EQUAL;
use super::stretch::{Interval, take_out};
use super::{ClearZone, Outline, ZoneShape, lettering_edge};

/// Steps of the quadrature between two breaks of the field's width.
const AREA_STEPS: u32 = 128;

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

/// The field of a plate: its outline less bevel and margin, out of which the
/// zones are taken. Zones that do not reach into the inset outline are dropped. On an
/// ansate plate lettering keeps to the tablet unless the layout lets it into the
/// handles (see [`lettering_edge`]).
///
/// The border's straight run takes nothing away: lettering keeps the margin, and
/// a border that reaches in past the margin is for the checks to tell. Where it
/// turns in round holes, its own zones ([`super::border_zones`]) say so.
#[must_use]
pub fn field(plate: &Plate, zones: &[ClearZone]) -> Field {
    let outline = lettering_edge(plate).inset(plate.bevel + plate.margin);
    let zones = zones
        .iter()
        .filter(|zone| outline.as_ref().is_some_and(|outline| reaches(outline, zone)))
        .copied()
        .collect();
    Field { outline, zones, axis_x: plate.width / 2.0 }
}

/// Whether a zone takes something away from an outline; touching does not count.
fn reaches(outline: &Outline, zone: &ClearZone) -> bool {
    match zone.shape {
        ZoneShape::Disc { x, y, radius } => radius > 0.0 && outline.depth_of(x, y) + radius > EQUAL,
        ZoneShape::Box { x0, y0, x1, y1 } => outline.meets_box([x0, y0, x1, y1]),
    }
}

impl Field {
    /// Left, top, right, bottom if the field is a plain rectangle without zones.
    #[must_use]
    pub fn rectangle(&self) -> Option<[f64; 4]> {
        let outline = self.outline.as_ref().filter(|outline| outline.is_rectangle())?;
        self.zones.is_empty().then(|| outline.bounds())
    }

    /// Left, top, right, bottom of the inset outline's bounding box; `None` if empty.
    #[must_use]
    pub fn bounds(&self) -> Option<[f64; 4]> {
        self.outline.as_ref().map(Outline::bounds)
    }

    /// Whether the field is convex: its outline is, and no zone reaches into it.
    #[must_use]
    pub fn convex(&self) -> bool {
        self.zones.is_empty() && self.outline.as_ref().is_none_or(Outline::convex)
    }

    /// Free stretches common to every height from `top` to `bottom`, left to
    /// right, none of them empty: the intersection of the chords over the whole
    /// band. Empty where the band leaves the field (by more than 1e-9 mm), is
    /// upside down, or is not a number.
    #[must_use]
    pub fn intervals(&self, top: f64, bottom: f64) -> Vec<Interval> {
        let mut free = Vec::with_capacity(self.zones.len() + 1);
        self.intervals_into(top, bottom, &mut free);
        free
    }

    /// As [`Self::intervals`], into a list that is emptied first: for a search that
    /// asks millions of times and keeps its list.
    pub fn intervals_into(&self, top: f64, bottom: f64, free: &mut Vec<Interval>) {
        free.clear();
        let Some(outline) = &self.outline else { return };
        outline.stretches(top, bottom, free);
        for zone in &self.zones {
            if let Some(shade) = shadow(&zone.shape, top, bottom) {
                take_out(free, shade);
            }
        }
        free.retain(|interval| interval.right > interval.left);
    }

    /// y of the field's centre of area, mm: by closed formulas without zones, else by
    /// quadrature to 0.001 mm; that of the outline where zones leave nothing, and 0
    /// where there is no outline either.
    #[must_use]
    pub fn centre_y(&self) -> f64 {
        let Some(outline) = &self.outline else { return 0.0 };
        let middle = outline.centre_y();
        if self.zones.is_empty() {
            return middle;
        }
        let (first, last) = outline.extent();
        let mut breaks = outline.breaks();
        for zone in &self.zones {
            match zone.shape {
                ZoneShape::Disc { y, radius, .. } => breaks.extend([y - radius, y, y + radius]),
                ZoneShape::Box { y0, y1, .. } => breaks.extend([y0, y1]),
            }
        }
        breaks.retain(|at| (first..=last).contains(at));
        breaks.sort_by(f64::total_cmp);
        let (mut area, mut moment) = (0.0, 0.0);
        for pair in breaks.windows(2) {
            let &[from, to] = pair else { continue };
            let (part, part_moment) = self.moments(from, to);
            area += part;
            moment += part_moment;
        }
        if area > 0.0 { moment / area } else { middle }
    }

    /// Area and first moment about y = 0 between two heights. The width may end in
    /// a root at either height; with y = m − h·cos θ that root is smooth, and
    /// Simpson's rule in θ meets nothing sharp.
    fn moments(&self, from: f64, to: f64) -> (f64, f64) {
        let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
        let step = PI / f64::from(AREA_STEPS);
        let (mut area, mut moment) = (0.0, 0.0);
        let mut found = Vec::new();
        for index in 1..AREA_STEPS {
            let (sin, cos) = libm::sincos(step * f64::from(index));
            let y = middle - half * cos;
            self.intervals_into(y, y, &mut found);
            let free: f64 = found.iter().map(|free| free.right - free.left).sum();
            let weight = if index % 2 == 1 { 4.0 } else { 2.0 } * half * sin * step / 3.0;
            area += free * weight;
            moment += free * y * weight;
        }
        (area, moment)
    }
}

/// What a zone blocks over a band; `None` where it only touches or misses it.
fn shadow(shape: &ZoneShape, top: f64, bottom: f64) -> Option<Interval> {
    match *shape {
        ZoneShape::Disc { x, y, radius } => {
            let off = (top - y).max(y - bottom).max(0.0);
            let half = ((radius - off) * (radius + off)).max(0.0).sqrt();
            (half > 0.0 && off < radius).then_some(Interval { left: x - half, right: x + half })
        }
        ZoneShape::Box { x0, y0, x1, y1 } => {
            let meets = y0 < bottom && top < y1 && y0 < y1;
            (meets && x0 < x1).then_some(Interval { left: x0, right: x1 })
        }
    }
}
