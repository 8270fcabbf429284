//! Where lettering may stand, and how wide it is at a height.

use std::f64::consts::PI;

use crate::layout::Plate;

use super::shadow::reaches;
use super::stretch::{Interval, take_out};
use super::{ClearZone, Outline, Side, ZoneShape, lettering_edge};

/// Steps of the quadrature between two breaks of the field's width.
const AREA_STEPS: u32 = 128;

/// The plate inside bevel, margin, border and clear zones.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// The inset outline; `None` where the margin leaves nothing.
    pub outline: Option<Outline>,
    /// Zones that reach into the outline.
    pub zones: Vec<ClearZone>,
    /// The axis on which centred rows stand, x in mm: the plate's centre line, or the
    /// middle of what is left where a zone takes the left or the right side.
    pub axis_x: f64,
}

/// The field of a plate: its outline less bevel and margin, out of which the
/// zones are taken. Zones that do not reach into the inset outline are dropped. On an
/// ansate plate lettering keeps to the tablet unless the layout lets it into the
/// handles (see [`lettering_edge`]).
///
/// A zone that takes a whole side makes the field smaller and leaves it convex, and a
/// rectangle a rectangle; zones that lie on that side altogether are dropped too.
///
/// The border's straight run takes nothing away: lettering keeps the margin, and
/// a border that reaches in past the margin is for the checks to tell. Where it
/// turns in round holes, its own zones ([`super::border_zones`]) say so.
#[must_use]
pub fn field(plate: &Plate, zones: &[ClearZone]) -> Field {
    let outline = lettering_edge(plate).inset(plate.bevel + plate.margin);
    let within = |outline: &Outline| -> Vec<ClearZone> {
        zones.iter().filter(|zone| reaches(outline, zone)).copied().collect()
    };
    let zones = outline.as_ref().map(within).unwrap_or_default();
    let mut field = Field { outline, zones, axis_x: plate.width / 2.0 };
    let upright = |zone: &ClearZone| {
        matches!(zone.shape, ZoneShape::Side { side: Side::Left | Side::Right, .. })
    };
    if field.zones.iter().any(is_side) {
        let Some(left @ [x0, _, x1, _]) = field.bounds() else {
            return Field { outline: None, zones: Vec::new(), ..field };
        };
        if field.zones.iter().any(upright) {
            field.axis_x = f64::midpoint(x0, x1);
        }
        let rest = Outline::upright(left, 0.0);
        field.zones.retain(|zone| is_side(zone) || reaches(&rest, zone));
    }
    field
}

fn is_side(zone: &ClearZone) -> bool {
    matches!(zone.shape, ZoneShape::Side { .. })
}

impl Field {
    /// Left, top, right, bottom if the field is a plain rectangle: its outline is, and of
    /// zones there are none but such as take whole sides.
    #[must_use]
    pub fn rectangle(&self) -> Option<[f64; 4]> {
        self.outline.as_ref().filter(|outline| outline.is_rectangle())?;
        self.zones.iter().all(is_side).then(|| self.bounds())?
    }

    /// Left, top, right, bottom of the inset outline's bounding box, less the sides that
    /// zones take; `None` if nothing is left.
    #[must_use]
    pub fn bounds(&self) -> Option<[f64; 4]> {
        let mut left = self.outline.as_ref()?.bounds();
        for zone in &self.zones {
            let ZoneShape::Side { side, at } = zone.shape else { continue };
            match side {
                Side::Left => left[0] = left[0].max(at),
                Side::Top => left[1] = left[1].max(at),
                Side::Right => left[2] = left[2].min(at),
                Side::Bottom => left[3] = left[3].min(at),
            }
        }
        (left[0] < left[2] && left[1] < left[3]).then_some(left)
    }

    /// Whether the field is convex: its outline is, and no zone reaches into it but such
    /// as take whole sides.
    #[must_use]
    pub fn convex(&self) -> bool {
        self.zones.iter().all(is_side) && self.outline.as_ref().is_none_or(Outline::convex)
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
            if let Some(shade) = zone.shape.shadow(top, bottom) {
                take_out(free, shade);
            }
        }
        free.retain(|interval| interval.right > interval.left);
    }

    /// The heights between which its axis is in no zone, from the top down; rather too many
    /// by a hair than too few. Whether the axis is within the outline there is another
    /// question.
    pub(crate) fn axis_free(&self) -> Vec<(f64, f64)> {
        let Some(outline) = &self.outline else { return Vec::new() };
        let (top, bottom) = outline.extent();
        let mut free = vec![Interval { left: top, right: bottom }];
        for zone in &self.zones {
            if let Some((from, to)) = zone.shape.blocked_upright(self.axis_x) {
                take_out(&mut free, Interval { left: from, right: to });
            }
        }
        free.iter().map(|part| (part.left, part.right)).collect()
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
        if let Some([_, top, _, bottom]) = self.rectangle() {
            return f64::midpoint(top, bottom);
        }
        let (first, last) = outline.extent();
        let mut breaks = outline.breaks();
        for zone in &self.zones {
            breaks.extend(zone.shape.breaks());
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
