//! Where lettering may stand, and how wide it is at a height.

use std::f64::consts::PI;

use crate::layout::Plate;

use super::{ClearZone, Outline, ZoneShape, outline};

/// Lengths closer than this count as equal, mm.
const EQUAL: f64 = 1e-9;

/// Steps of the quadrature between two breaks of the field's width.
const AREA_STEPS: u32 = 128;

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

/// The field of a plate: its outline less bevel and margin, out of which the
/// zones are taken. Zones that do not reach into the inset outline are dropped.
///
/// The border's straight run takes nothing away: lettering keeps the margin, and
/// a border that reaches in past the margin is for the checks to tell. Where it
/// turns in round holes, its own zones ([`super::border_zones`]) say so.
#[must_use]
pub fn field(plate: &Plate, zones: &[ClearZone]) -> Field {
    let outline = outline(plate).inset(plate.bevel + plate.margin);
    let zones = zones
        .iter()
        .filter(|zone| outline.is_some_and(|outline| reaches(&outline, zone)))
        .copied()
        .collect();
    Field { outline, zones, axis_x: plate.width / 2.0 }
}

/// Whether a zone takes something away from an outline; touching does not count.
fn reaches(outline: &Outline, zone: &ClearZone) -> bool {
    match zone.shape {
        ZoneShape::Disc { x, y, radius } => radius > 0.0 && outline.depth_of(x, y) + radius > EQUAL,
        ZoneShape::Box { x0, y0, x1, y1 } => {
            let (top, bottom) = outline.extent();
            let (top, bottom) = (top.max(y0), bottom.min(y1));
            // The outline is symmetric and convex: where the box comes nearest to
            // the middle line, the chord is widest to both sides.
            let widest = outline.centre().1.clamp(top.min(bottom), bottom.max(top));
            top < bottom
                && x0 < x1
                && outline.chord(widest).is_some_and(|(left, right)| left < x1 && x0 < right)
        }
    }
}

impl Field {
    /// Left, top, right, bottom if the field is a plain rectangle without zones.
    #[must_use]
    pub fn rectangle(&self) -> Option<[f64; 4]> {
        let outline = self.outline.filter(Outline::is_rectangle)?;
        self.zones.is_empty().then(|| outline.bounds())
    }

    /// Left, top, right, bottom of the inset outline's bounding box; `None` if empty.
    #[must_use]
    pub fn bounds(&self) -> Option<[f64; 4]> {
        self.outline.map(|outline| outline.bounds())
    }

    /// Whether the field is convex (no zone reaches into it).
    #[must_use]
    pub fn convex(&self) -> bool {
        self.zones.is_empty()
    }

    /// Free stretches common to every height from `top` to `bottom`, left to
    /// right, none of them empty: the intersection of the chords over the whole
    /// band. Empty where the band leaves the field (by more than 1e-9 mm), is
    /// upside down, or is not a number.
    #[must_use]
    pub fn intervals(&self, top: f64, bottom: f64) -> Vec<Interval> {
        let Some(whole) = self.common_chord(top, bottom) else { return Vec::new() };
        let mut blocked: Vec<Interval> =
            self.zones.iter().filter_map(|zone| shadow(&zone.shape, top, bottom)).collect();
        blocked.sort_by(|a, b| a.left.total_cmp(&b.left));
        let mut free = Vec::with_capacity(blocked.len() + 1);
        let mut left = whole.left;
        for shade in blocked {
            free.push(Interval { left, right: shade.left.min(whole.right) });
            left = left.max(shade.right);
        }
        free.push(Interval { left, right: whole.right });
        free.retain(|interval| interval.right > interval.left);
        free
    }

    /// The chord of the outline common to a band. The left ends of a convex
    /// outline's chords bulge one way and the right ends the other, so the two
    /// outer chords of the band decide.
    fn common_chord(&self, top: f64, bottom: f64) -> Option<Interval> {
        let outline = self.outline?;
        let (first, last) = outline.extent();
        if !(top >= first - EQUAL && bottom <= last + EQUAL && top <= bottom) {
            return None;
        }
        let (upper, lower) =
            (outline.chord(top.clamp(first, last))?, outline.chord(bottom.clamp(first, last))?);
        Some(Interval { left: upper.0.max(lower.0), right: upper.1.min(lower.1) })
    }

    /// y of the field's centre of area, mm: exact without zones (the middle of the
    /// plate), else by quadrature to 0.001 mm; the middle of the plate where
    /// nothing is left, and 0 where there is no outline either.
    #[must_use]
    pub fn centre_y(&self) -> f64 {
        let Some(outline) = self.outline else { return 0.0 };
        let middle = outline.centre().1;
        if self.zones.is_empty() {
            return middle;
        }
        let (first, last) = outline.extent();
        let mut breaks = vec![first, middle, last];
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
        for index in 1..AREA_STEPS {
            let (sin, cos) = libm::sincos(step * f64::from(index));
            let y = middle - half * cos;
            let free: f64 = self.intervals(y, y).iter().map(|free| free.right - free.left).sum();
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
