//! `size = "from face"`: the largest plate that its face has room for.

use std::borrow::Cow;

use crate::layout::{Face, FaceShape, Layout, Place, Plate, Shape, usual_margin};
use crate::plate::Outline;

use super::edges::room;
use super::room::{EXACT, clip_to, nearest_of, spots};
use super::{Laid, least_depth, stand, start};

/// Steps of a side: whole millimetres, or eighths of an inch where the layout is in
/// inches.
const STEP_MM: f64 = 1.0;
const STEP_INCH_MM: f64 = 25.4 / 8.0;
/// The least and the greatest side that a layout may ask for, mm.
const LEAST_MM: f64 = 5.0;
const MOST_MM: f64 = 2000.0;
/// Places are tried this far apart, mm, on a face that is not convex; no more than so many.
const BETWEEN: f64 = 0.5;
const MOST_PLACES: f64 = 300.0;
/// How far a drawn curve may stand over the true one, mm.
const CURVES: f64 = 0.001;
/// A place is brought to tenths of a millimetre where that leaves the plate its room.
const GRID: f64 = 0.1;

/// The layout with a plate that is to be sized from its face at its size; any other as
/// it is, and one that was sized before.
///
/// The plate is the largest by width times height, both in whole steps, whose outline
/// keeps the reveal from the face's edge and trim all round, or the fit gap in a recess:
/// the wider of two as large. A place that the layout tells holds; where it tells none
/// the plate stands as near to the middle of its room as it can. On a face that is not
/// convex places are tried half a millimetre apart (300 of them on larger ones), and the plate counts by its box.
/// Where there is no room for a side of 5 mm the plate is one of 5 mm, and marked so.
#[must_use]
pub fn sized(layout: &Layout) -> Cow<'_, Layout> {
    let (Some(asked), Some(face)) = (layout.plate.from_face, &layout.face) else {
        return Cow::Borrowed(layout);
    };
    if asked.stands.is_some() || asked.none {
        return Cow::Borrowed(layout);
    }
    let mut changed = layout.clone();
    let plate = &mut changed.plate;
    let found = room(face, asked.reveal).and_then(|room| {
        let step = if layout.inches { STEP_INCH_MM } else { STEP_MM };
        let search = Search { face, plate: &layout.plate, room, step, centred: false };
        search.largest((MOST_MM, MOST_MM))
    });
    let (width, height, stands) = match found {
        Some(found) => (found.width, found.height, Some(found.at)),
        None => (LEAST_MM, LEAST_MM, None),
    };
    (plate.width, plate.height) = (width, height);
    if let Some(from_face) = &mut plate.from_face {
        from_face.stands = stands;
        from_face.none = stands.is_none();
        if from_face.usual_margin {
            plate.margin = usual_margin(width.min(height));
        }
    }
    Cow::Owned(changed)
}

/// Width and height, mm, of the largest plate of the layout's shape that goes on its face
/// where the layout places it, in whole steps, no wider and no higher than the one asked
/// for. `None` where none does, where the face has no size, and of plates by points,
/// whose size is where their points are.
#[must_use]
pub fn largest_plate(layout: &Layout) -> Option<(f64, f64)> {
    let (plate, face) = (&layout.plate, layout.face.as_ref()?);
    if matches!(plate.shape, Shape::Points(_)) {
        return None;
    }
    let step = if layout.inches { STEP_INCH_MM } else { STEP_MM };
    let search = Search { face, plate, room: room(face, 0.0)?, step, centred: true };
    search.largest((plate.width, plate.height)).map(|found| (found.width, found.height))
}

pub(super) struct Search<'a> {
    pub(super) face: &'a Face,
    pub(super) plate: &'a Plate,
    pub(super) room: Laid,
    pub(super) step: f64,
    /// Whether a place that is not told is on the centre lines, as for a plate of a told
    /// size, and not wherever there is room.
    pub(super) centred: bool,
}

/// A plate that goes on, mm.
#[derive(Debug, Clone, Copy)]
struct Found {
    width: f64,
    height: f64,
    at: (f64, f64),
}

impl Search<'_> {
    /// The largest plate no wider and no higher than `most`.
    fn largest(&self, most: (f64, f64)) -> Option<Found> {
        let [left, top, right, bottom] = self.room.bounds();
        let steps = |room: f64, most: f64| (room.min(most) / self.step + 1e-9).floor();
        let (wide, high) = (steps(right - left, most.0), steps(bottom - top, most.1));
        let least = (LEAST_MM / self.step - 1e-9).ceil();
        let at = |width: f64, height: f64| {
            let (width, height) = (width * self.step, height * self.step);
            self.place(width, height).map(|at| Found { width, height, at })
        };
        if self.plate.shape == Shape::Circle {
            let mut side = wide.min(high);
            while side >= least {
                if let Some(found) = at(side, side) {
                    return Some(found);
                }
                side -= 1.0;
            }
            return None;
        }
        let mut best: Option<(f64, Found)> = None;
        let (mut width, mut height) = (wide, least);
        // A plate that fits holds every narrower and every lower one of its shape, so
        // the edge between what fits and what does not is one flight of stairs. Where
        // that does not hold every pair of sides is tried that would be larger.
        let nested = self.nested();
        while width >= least {
            if !nested {
                height = best.map_or(least, |(area, _)| (area / width).floor() + 1.0).max(least);
            }
            while height <= high {
                let area = width * height;
                let larger = best.is_none_or(|(known, _)| area > known);
                match larger.then(|| at(width, height)) {
                    Some(Some(found)) => best = Some((area, found)),
                    Some(None) if nested => break,
                    None if nested && at(width, height).is_none() => break,
                    _ => {}
                }
                height += 1.0;
            }
            width -= 1.0;
        }
        best.map(|(_, found)| found)
    }

    /// Whether a plate of this shape holds every smaller one where it stands.
    fn nested(&self) -> bool {
        match self.plate.shape {
            Shape::Rectangle | Shape::Rounded { .. } | Shape::Notched { .. } => true,
            Shape::Oval | Shape::Arch { .. } => {
                self.face.mark.is_none()
                    && self.face.across == Place::Centred
                    && self.face.along == Place::Centred
            }
            _ => false,
        }
    }

    /// Where a plate of a size goes on, if it does.
    pub(super) fn place(&self, width: f64, height: f64) -> Option<(f64, f64)> {
        let outline = Outline::new(width, height, &self.plate.shape);
        let (x, y) = self.told(width, height);
        let [left, top, right, bottom] = self.room.bounds();
        let middle = (
            x.unwrap_or_else(|| f64::midpoint(left, right) - width / 2.0),
            y.unwrap_or_else(|| f64::midpoint(top, bottom) - height / 2.0),
        );
        if least_depth(&outline, middle, &self.room) >= -self.slack() {
            return Some(middle);
        }
        if (x.is_some() && y.is_some()) || (x.is_none() && y.is_none() && self.symmetric()) {
            return None;
        }
        if !self.room.outline.convex() {
            return self.by_bands((width, height), (x, y), middle);
        }
        let mut found = spots(&outline, &self.room);
        if let Some(x) = x {
            found = clip_to(&found, |at| at.0 - x);
        }
        if let Some(y) = y {
            found = clip_to(&found, |at| at.1 - y);
        }
        let at = nearest_of(&found, middle)?;
        Some(self.rounded(&outline, at, (x, y)))
    }

    /// What an exact fit may come out below 0, mm: a drawn curve keeps to 0.001 mm.
    fn slack(&self) -> f64 {
        match self.plate.shape {
            Shape::Rectangle | Shape::Ansate(_) | Shape::Points(_) => EXACT,
            _ => CURVES,
        }
    }

    /// Whether plate and room are each the same when turned half round. Where such a plate
    /// goes on anywhere in a convex room it goes on in the middle: half way between the
    /// place and the place turned half round.
    fn symmetric(&self) -> bool {
        let room = match (&self.face.recess, &self.face.edge) {
            (Some(_), _) => true,
            (None, Some(edge)) => matches!(edge.shape, FaceShape::Rectangle | FaceShape::Circle),
            (None, None) => false,
        };
        room && !matches!(self.plate.shape, Shape::Arch { .. } | Shape::Points(_))
    }

    /// A place on the grid near one that is good, if one is.
    fn rounded(
        &self,
        outline: &Outline,
        at: (f64, f64),
        told: (Option<f64>, Option<f64>),
    ) -> (f64, f64) {
        let both = |told: Option<f64>, value: f64| match told {
            Some(told) => [told; 2],
            None => [(value / GRID).floor() * GRID, (value / GRID).ceil() * GRID],
        };
        let candidates = both(told.0, at.0)
            .into_iter()
            .flat_map(|x| both(told.1, at.1).into_iter().map(move |y| (x, y)));
        candidates
            .filter(|at| least_depth(outline, *at, &self.room) >= -self.slack())
            .min_by(|a, b| {
                let far = |p: &(f64, f64)| libm::hypot(p.0 - at.0, p.1 - at.1);
                far(a).total_cmp(&far(b))
            })
            .unwrap_or(at)
    }

    /// Where the layout says that a plate of a size stands, across and along.
    fn told(&self, width: f64, height: f64) -> (Option<f64>, Option<f64>) {
        let face = self.face;
        if face.mark.is_some() || face.recess.is_some() || self.centred {
            let (x, y) = stand(face, width, height);
            return (Some(x), Some(y));
        }
        let size = face.edge.as_ref().map_or((0.0, 0.0), |edge| (edge.width, edge.height));
        let told = |place: Place, whole: f64, part: f64| {
            (place != Place::Centred).then(|| start(place, whole, part))
        };
        (told(face.across, size.0, width), told(face.along, size.1, height))
    }

    /// A place for a box in a room that is not convex, the nearest to the middle.
    fn by_bands(
        &self,
        (width, height): (f64, f64),
        (x, y): (Option<f64>, Option<f64>),
        middle: (f64, f64),
    ) -> Option<(f64, f64)> {
        let [_, top, _, bottom] = self.room.bounds();
        let mut tops: Vec<f64> = Vec::new();
        if let Some(y) = y {
            tops.push(y);
        } else {
            let between = BETWEEN.max((bottom - top) / MOST_PLACES);
            let mut next = top;
            while next + height <= bottom + EXACT {
                tops.push(next);
                next += between;
            }
            tops.push(bottom - height);
        }
        let mut best: Option<(f64, (f64, f64))> = None;
        for y in tops {
            let from = y - self.room.y;
            for free in self.room.outline.free_across(from + EXACT, from + height - EXACT) {
                let (low, high) = (free.left + self.room.x, free.right + self.room.x - width);
                if low > high + EXACT {
                    continue;
                }
                let x = x.unwrap_or_else(|| middle.0.min(high).max(low));
                if x < low - EXACT || x > high + EXACT {
                    continue;
                }
                let far = libm::hypot(x - middle.0, y - middle.1);
                if best.is_none_or(|(known, _)| far < known - EXACT) {
                    best = Some((far, (x, y)));
                }
            }
        }
        best.map(|(_, at)| at)
    }
}
