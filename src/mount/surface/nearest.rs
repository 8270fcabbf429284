//! The nearest place at which a plate can stand.

use crate::layout::{Layout, OnPlate, Place};
use crate::mount::MountPlan;
use crate::plate::{Outline, outline};

use super::edges::room;
use super::old_holes::{all_clear, on_face};
use super::room::EXACT;
use super::{FacePlan, Laid, least_depth};

/// Steps of the place that the layout tells: 0.1 mm, or 1/64 in where it is in inches.
const STEP_MM: f64 = 0.1;
const STEP_INCH_MM: f64 = 25.4 / 64.0;
/// How far the plate is moved at most from where it would have room by its sides alone, mm.
const REACH: f64 = 40.0;
/// Rings of places are looked at in turn, each so wide, mm.
const RING: f64 = 1.0;

/// One key of the layout changed: its path, and the length or lengths it gets, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// The layout with the plate there.
    pub layout: Layout,
    /// How far the plate moves, mm: to the right and down.
    pub by: (f64, f64),
    /// The keys that say so, each with its lengths in mm.
    pub keys: Vec<(&'static str, Vec<f64>)>,
}

/// A place along one axis.
#[derive(Debug, Clone, Copy)]
struct Stop {
    /// From where the plate stands now, mm.
    off: f64,
    /// What the layout would say; `None` where it stays.
    told: Option<f64>,
}

/// The nearest place, among those a whole step from where the layout counts, at which the
/// plate lies on the face clear of trim, its bores keep their distance from old holes,
/// and old holes that were hidden stay so. `None` where there is none within 40 mm of
/// where the plate would be on the face, where the plate stands there already, and
/// where a recess or the face itself says where it stands.
#[must_use]
pub fn nearest_place(layout: &Layout, plan: &MountPlan) -> Option<Moved> {
    let face = plan.face.as_ref()?;
    if face.face.recess.is_some() || layout.plate.from_face.is_some() {
        return None;
    }
    let room = room(&face.face, 0.0);
    if room.is_none() && face.edge.is_some() {
        return None;
    }
    let step = if layout.inches { STEP_INCH_MM } else { STEP_MM };
    let ranges = ranges(layout, face, room.as_ref())?;
    let across = stops(layout, face, Axis::Across, step, ranges.0);
    let along = stops(layout, face, Axis::Along, step, ranges.1);
    let tried = Tried { plate: outline(&layout.plate), plan, face, room };
    let mut out = vec![false; across.len() * along.len()];
    let farthest = |stops: &[Stop]| stops.iter().map(|stop| stop.off.abs()).fold(0.0, f64::max);
    let most = libm::hypot(farthest(&across), farthest(&along));
    let mut inner = tried.shortest();
    while inner <= most {
        let mut ring: Vec<(f64, usize, usize)> = Vec::new();
        for (column, x) in across.iter().enumerate() {
            for (row, y) in along.iter().enumerate() {
                let far = libm::hypot(x.off, y.off);
                if far >= inner && far < inner + RING && !out[column * along.len() + row] {
                    ring.push((far, column, row));
                }
            }
        }
        ring.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (far, column, row) in ring {
            if out[column * along.len() + row] {
                continue;
            }
            let (x, y) = (across[column], along[row]);
            let Some(over) = tried.over((x.off, y.off)) else {
                return (far > EXACT).then(|| moved(layout, face, x, y));
            };
            rule_out(&mut out, (&across, &along), (x.off, y.off), over - 2.0 * EXACT);
        }
        inner += RING;
    }
    None
}

/// Rules out every place nearer to one than `by`, mm: the depth of a plate in its room
/// changes by no more than the plate moves, so where it stands over by so much every
/// place that is nearer stands over too.
fn rule_out(out: &mut [bool], (across, along): (&[Stop], &[Stop]), at: (f64, f64), by: f64) {
    if by <= 0.0 {
        return;
    }
    let near = |from: f64, to: f64| (from - to).abs() < by;
    let columns = out.chunks_exact_mut(along.len().max(1)).zip(across);
    for (column, x) in columns.filter(|(_, x)| near(x.off, at.0)) {
        for (out, y) in column.iter_mut().zip(along).filter(|(_, y)| near(y.off, at.1)) {
            *out = *out || libm::hypot(x.off - at.0, y.off - at.1) < by;
        }
    }
}

struct Tried<'a> {
    plate: Outline,
    plan: &'a MountPlan,
    face: &'a FacePlan,
    room: Option<Laid>,
}

impl Tried<'_> {
    fn depth(&self, (dx, dy): (f64, f64)) -> f64 {
        self.room.as_ref().map_or(f64::INFINITY, |room| {
            let at = (self.face.plate_x + dx, self.face.plate_y + dy);
            least_depth(&self.plate, at, room)
        })
    }

    /// No shift shorter than this can bring the plate into the room.
    fn shortest(&self) -> f64 {
        (-self.depth((0.0, 0.0)) - RING).max(0.0)
    }

    /// How far the plate stands over its room when moved by so much, mm, 0 where something
    /// else is in the way; `None` where it goes.
    fn over(&self, by: (f64, f64)) -> Option<f64> {
        if !all_clear(self.plan, by) || !self.hides(by) {
            return Some(0.0);
        }
        let depth = self.depth(by);
        (depth < -EXACT).then_some(-depth)
    }

    /// Whether every old hole that the plate hides where it stands is hidden there too.
    fn hides(&self, (dx, dy): (f64, f64)) -> bool {
        let edge = &self.plate;
        let holes = self.face.face.old.iter().flat_map(|old| &old.holes);
        holes.into_iter().all(|hole| {
            let (x, y) = on_face(self.face, hole);
            let (x, y) = (x - self.face.plate_x, y - self.face.plate_y);
            let radius = hole.diameter / 2.0;
            edge.depth_of(x, y) < radius || edge.depth_of(x - dx, y - dy) >= radius
        })
    }
}

/// How far the plate may be moved each way, mm: least and most across, and along. `None`
/// where it is larger than its room.
fn ranges(
    layout: &Layout,
    face: &FacePlan,
    room: Option<&Laid>,
) -> Option<((f64, f64), (f64, f64))> {
    let Some(room) = room else { return Some(((-REACH, REACH), (-REACH, REACH))) };
    let [left, top, right, bottom] = room.bounds();
    let (x, y) = (face.plate_x, face.plate_y);
    let range = |low: f64, high: f64| {
        let (low, high) = if low > 0.0 {
            (low, high.min(low + REACH))
        } else if high < 0.0 {
            (low.max(high - REACH), high)
        } else {
            (low.max(-REACH), high.min(REACH))
        };
        (low <= high + EXACT).then_some((low - EXACT, high + EXACT))
    };
    let plate = &layout.plate;
    Some((range(left - x, right - plate.width - x)?, range(top - y, bottom - plate.height - y)?))
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Axis {
    Across,
    Along,
}

/// The places along an axis, that where the plate stands among them.
fn stops(
    layout: &Layout,
    face: &FacePlan,
    axis: Axis,
    step: f64,
    (low, high): (f64, f64),
) -> Vec<Stop> {
    let size = face.size().unwrap_or_default();
    let plate = &layout.plate;
    let (place, whole, part, now) = match axis {
        Axis::Across => (face.face.across, size.0, plate.width, face.plate_x),
        Axis::Along => (face.face.along, size.1, plate.height, face.plate_y),
    };
    // The told length grows as the plate moves one way or the other.
    let (zero, sense) = if let Some(mark) = face.mark {
        (if axis == Axis::Across { mark.0 } else { mark.1 }, -1.0)
    } else if matches!(place, Place::FromEnd(_)) {
        (whole - part, -1.0)
    } else {
        (0.0, 1.0)
    };
    let (first, last) = ((low + now - zero) * sense, (high + now - zero) * sense);
    let (least, most) = (first.min(last).max(0.0), first.max(last));
    let mut found = Vec::new();
    if low <= 0.0 && high >= 0.0 {
        found.push(Stop { off: 0.0, told: None });
    }
    let mut count = (least / step - EXACT).ceil();
    while count * step <= most + EXACT {
        let told = count * step;
        found.push(Stop { off: zero + told * sense - now, told: Some(told) });
        count += 1.0;
    }
    found
}

fn moved(layout: &Layout, plan: &FacePlan, x: Stop, y: Stop) -> Moved {
    let mut changed = layout.clone();
    let mut keys = Vec::new();
    if let Some(face) = &mut changed.face {
        if let Some(mark) = &mut face.mark {
            let now = mark.on_plate.on(layout.plate.width, layout.plate.height);
            let (left, top) = (x.told.unwrap_or(now.0), y.told.unwrap_or(now.1));
            mark.on_plate = OnPlate::Point(left, top);
            keys.push(("face.place.mark", vec![left, top]));
        } else {
            if let Some(told) = x.told {
                let end = matches!(plan.face.across, Place::FromEnd(_));
                face.across = if end { Place::FromEnd(told) } else { Place::FromStart(told) };
                let key = if end { "face.place.from_right" } else { "face.place.from_left" };
                keys.push((key, vec![told]));
            }
            if let Some(told) = y.told {
                let end = matches!(plan.face.along, Place::FromEnd(_));
                face.along = if end { Place::FromEnd(told) } else { Place::FromStart(told) };
                let key = if end { "face.place.from_bottom" } else { "face.place.from_top" };
                keys.push((key, vec![told]));
            }
        }
    }
    Moved { layout: changed, by: (x.off, y.off), keys }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Shape;

    #[test]
    fn a_place_that_is_ruled_out_never_goes() {
        // An L, 60 mm long and high, its arms 25 mm wide, with a slit in the lower one.
        let points = [
            (0.0, 0.0),
            (25.0, 0.0),
            (25.0, 35.0),
            (40.0, 35.0),
            (40.0, 50.0),
            (42.0, 50.0),
            (42.0, 35.0),
            (60.0, 35.0),
            (60.0, 60.0),
            (0.0, 60.0),
        ];
        let outline = Outline::new(60.0, 60.0, &Shape::Points(points.to_vec()));
        let room = Laid { x: 0.0, y: 0.0, outline };
        let plate = Outline::new(22.0, 20.0, &Shape::Oval);
        let depth = |x: &Stop, y: &Stop| least_depth(&plate, (x.off, y.off), &room);
        let stops: Vec<Stop> =
            (-20..=160).map(|half| Stop { off: f64::from(half) / 2.0, told: None }).collect();
        let mut out = vec![false; stops.len() * stops.len()];
        let mut asked = 0;
        for (column, x) in stops.iter().enumerate() {
            for (row, y) in stops.iter().enumerate() {
                let known = out[column * stops.len() + row];
                let depth = depth(x, y);
                assert!(!known || depth < -EXACT, "{}, {}: {depth}", x.off, y.off);
                if !known {
                    asked += 1;
                    let by = -depth - 2.0 * EXACT;
                    rule_out(&mut out, (&stops, &stops), (x.off, y.off), by);
                }
            }
        }
        // Some go, and of the rest few had to be asked for.
        assert!(out.contains(&false) && asked * 4 < out.len(), "{asked} of {}", out.len());
    }
}
