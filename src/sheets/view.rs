//! The plate in plain lines at true size, measured from a datum, with check
//! bars across and up the sheet: what pattern and drilling sheet both show.
//!
//! Everything is worked out in plate coordinates (mm, y down) and moved onto
//! the sheet at the end.

mod drawn;
mod taping;

pub(super) use drawn::{edge_of_face, edge_of_trim};

use kurbo::Rect;

use crate::job::Job;
use crate::mount::Hole;

use super::bar::{Bar, bar};
use super::dimension::{Along, Mark, Running, running};
use super::edge::touches;
use super::heading::BENCH;
use super::text::Labels;
use super::words;

/// How far centre lines run past what they mark, mm.
pub(super) const PAST: f64 = 2.5;
/// White between the drawing and the figures round it, mm.
const AIR: f64 = 5.0;
/// From the drawing to the line of running dimensions, mm.
const LINE: f64 = AIR - 1.0;
/// White between the drawing and the check bars, mm.
pub(super) const BARS: f64 = 4.0;
/// Two marks nearer than this are one, mm.
const SAME: f64 = 0.005;
/// A datum edge further than this from the plate is given up before the view goes over
/// several sheets, mm.
const NEAR: f64 = 100.0;

/// No cut runs nearer than this beside a line, mm.
const BESIDE_LINES: f64 = 3.0;

/// What zero is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Zero {
    /// A centre line, which need not be the plate's own.
    Centre,
    /// An edge.
    Edge,
    /// A mark that the face already bears.
    Mark,
}

/// Where one axis is measured from, in plate coordinates, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Datum {
    /// Its place.
    pub(super) at: f64,
    /// What it is.
    pub(super) zero: Zero,
}

/// Where the paper is taped down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tape {
    /// Nowhere: the sheet is not for the face.
    None,
    /// Where the plate will hide it.
    Under,
    /// Beside the plate.
    Beside,
}

/// A hole that is already in the face, in plate coordinates, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Old {
    /// Centre.
    pub(super) x: f64,
    /// Centre.
    pub(super) y: f64,
    /// Radius.
    pub(super) radius: f64,
}

/// How one hole is drawn: a wide circle for the hole, a narrow one round it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ring {
    /// Centre.
    pub(super) x: f64,
    /// Centre.
    pub(super) y: f64,
    /// Radius of the hole; of a slot half its width.
    pub(super) hole: f64,
    /// How far a slot's round ends lie from its middle, across and down.
    pub(super) travel: (f64, f64),
    /// Radius of head or countersink; no larger than the hole: none.
    pub(super) round: f64,
}

impl Ring {
    /// As far as anything of it reaches from its centre.
    pub(super) fn reach(&self) -> f64 {
        (self.hole + self.travel.0.max(self.travel.1)).max(self.round)
    }
}

/// The holes of a plate, each with what is drawn round it, by its radius.
pub(super) fn rings(job: &Job, round: impl Fn(&Hole) -> f64) -> Vec<Ring> {
    let holes = job.mount.holes.iter();
    let ring = |hole: &Hole| Ring {
        x: hole.x,
        y: hole.y,
        hole: hole.clearance_diameter / 2.0,
        travel: hole.travel(),
        round: round(hole),
    };
    holes.map(ring).collect()
}

/// What a view shows.
pub(super) struct Subject<'a> {
    /// The job.
    pub(super) job: &'a Job,
    /// Holes.
    pub(super) rings: Vec<Ring>,
    /// Holes that are already there.
    pub(super) old: Vec<Old>,
    /// Where the paper is taped down.
    pub(super) tape: Tape,
    /// Datum across.
    pub(super) across: Datum,
    /// Datum along (down the sheet).
    pub(super) along: Datum,
    /// The face's box in plate coordinates.
    pub(super) face: Option<Rect>,
}

/// How much of a subject is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Wish {
    every_hole: bool,
    datum_edges: bool,
}

/// Most wanted first.
const WISHES: [Wish; 4] = [
    Wish { every_hole: true, datum_edges: true },
    Wish { every_hole: false, datum_edges: true },
    Wish { every_hole: true, datum_edges: false },
    Wish { every_hole: false, datum_edges: false },
];

/// What lies no further than this from the plate is shown if there is any way, mm.
const NEAR_PLATE: f64 = 20.0;

/// The box of a circle.
fn square(x: f64, y: f64, reach: f64) -> Rect {
    Rect::new(x - reach, y - reach, x + reach, y + reach)
}

/// A view laid out, with everything round it.
pub(super) struct View<'a> {
    subject: &'a Subject<'a>,
    /// What of the plate's plane is drawn.
    window: Rect,
    running: (Running, Running),
    bars: (Bar, Bar),
}

impl Subject<'_> {
    /// The plate's box.
    pub(super) fn plate(&self) -> Rect {
        Rect::new(0.0, 0.0, self.job.layout.plate.width, self.job.layout.plate.height)
    }

    /// Plate, holes and the ends of their centre lines; the recess round it, and old
    /// holes, as far as they lie near.
    fn extent(&self) -> Rect {
        let rings = self.rings.iter().map(|ring| square(ring.x, ring.y, ring.reach()));
        let near = self.plate().inflate(NEAR_PLATE, NEAR_PLATE);
        let old = self.old.iter().map(|old| square(old.x, old.y, old.radius));
        let old = old.filter(|old| near.union(*old) == near);
        let all = rings.chain(old).fold(self.plate(), |all, next| all.union(next));
        let plan = self.job.mount.face.as_ref().filter(|_| self.face.is_some());
        let recess = plan.and_then(|plan| {
            let [x0, y0, x1, y1] = plan.recess.as_ref()?.bounds();
            Some(Rect::new(x0, y0, x1, y1) - kurbo::Vec2::new(plan.plate_x, plan.plate_y))
        });
        let recess = recess.map_or(all, |recess| recess.intersect(near));
        all.union(recess).inflate(PAST, PAST)
    }

    /// Places to be measured along one axis, each with where its extension line starts.
    fn places(&self, axis: Along, every_hole: bool) -> Vec<(f64, Option<f64>)> {
        let plate = self.plate();
        let (datum, end) = match axis {
            Along::Across => (self.across, plate.x1),
            Along::Down => (self.along, plate.y1),
        };
        let touch = |at| Some(touches(&self.job.layout.plate, axis, at).0);
        let mut all: Vec<(f64, Option<f64>)> = vec![(0.0, touch(0.0)), (end, touch(end))];
        for ring in self.rings.iter().filter(|_| every_hole) {
            let reach = ring.reach() + PAST;
            all.push(match axis {
                Along::Across => (ring.x, Some(ring.y - reach)),
                Along::Down => (ring.y, Some(ring.x - reach)),
            });
        }
        let edge = self.face.map(|face| match axis {
            Along::Across => face.y0,
            Along::Down => face.x0,
        });
        all.push((datum.at, edge));
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        // One mark for all things at one place: its line comes from the nearest.
        let mut merged: Vec<(f64, Option<f64>)> = Vec::new();
        for (at, feature) in all {
            match merged.last_mut() {
                Some((last, nearest)) if (at - *last).abs() <= SAME => {
                    *nearest = match (*nearest, feature) {
                        (Some(a), Some(b)) => Some(a.min(b)),
                        (a, b) => a.or(b),
                    };
                }
                _ => merged.push((at, feature)),
            }
        }
        if datum.zero != Zero::Edge {
            // The line through zero itself runs up to the dimensions.
            for (at, feature) in &mut merged {
                if (*at - datum.at).abs() <= SAME {
                    *feature = None;
                }
            }
        }
        merged
    }

    fn marks(&self, axis: Along, every_hole: bool) -> Vec<Mark> {
        let datum = match axis {
            Along::Across => self.across,
            Along::Down => self.along,
        };
        self.places(axis, every_hole)
            .into_iter()
            .map(|(at, feature)| {
                let far = (at - datum.at).abs();
                let (first, second) = if far <= SAME {
                    ("0".to_owned(), String::new())
                } else if self.job.layout.inches {
                    (words::vulgar(far), words::mm(far))
                } else {
                    (words::mm(far), words::vulgar(far))
                };
                Mark { at, feature, first, second }
            })
            .collect()
    }
}

/// The range of a window along one axis, widened to hold a place and a little more.
fn holding(range: (f64, f64), at: f64) -> (f64, f64) {
    (range.0.min(at - PAST), range.1.max(at + PAST))
}

/// A view, and how it goes on paper.
pub(super) enum Laid<'a> {
    /// Whole, in the room of this index.
    Whole(View<'a>, usize),
    /// Too large for every room.
    Parts(View<'a>),
}

impl<'a> View<'a> {
    /// The view with as much shown as one of the rooms (width, height) holds:
    /// rooms are tried in order for each wish. A zero that is near the plate is not
    /// given up for that: then, and where no room holds even the plate, the view is one
    /// for several sheets.
    pub(super) fn laid(
        labels: &Labels,
        subject: &'a Subject<'a>,
        rooms: &[(f64, f64)],
    ) -> Laid<'a> {
        let plate = subject.plate();
        let near = |at: f64, end: f64| at > -NEAR && at < end + NEAR;
        let datum_edges = near(subject.across.at, plate.x1) && near(subject.along.at, plate.y1);
        for wish in WISHES.into_iter().filter(|wish| wish.datum_edges || !datum_edges) {
            let mut view = Self::least(labels, subject, wish);
            let (width, height) = view.size();
            if let Some(index) = rooms.iter().position(|room| room.0 >= width && room.1 >= height) {
                if let Some(room) = rooms.get(index) {
                    view.widen(|wider| {
                        let (width, height) = wider.size();
                        room.0 >= width && room.1 >= height
                    });
                }
                return Laid::Whole(view, index);
            }
        }
        Laid::Parts(Self::least(labels, subject, Wish { every_hole: true, datum_edges }))
    }

    /// The smallest window that shows what is wished.
    fn least(labels: &Labels, subject: &'a Subject<'a>, wish: Wish) -> Self {
        let extent = subject.extent();
        let axis = |along: Along, datum: Datum, range: (f64, f64)| {
            let shown = wish.datum_edges || datum.zero == Zero::Centre;
            let range = if shown { holding(range, datum.at) } else { range };
            let marks: Vec<Mark> = subject
                .marks(along, wish.every_hole)
                .into_iter()
                .filter(|mark| mark.at >= range.0 && mark.at <= range.1)
                .collect();
            let off_sheet = datum.at < range.0 || datum.at > range.1;
            let origin = (datum.at.clamp(range.0, range.1), off_sheet);
            let running = running(labels, BENCH.figures(), along, origin, &marks);
            let range = (range.0.min(running.span.0), range.1.max(running.span.1));
            (running, range)
        };
        let (across, x) = axis(Along::Across, subject.across, (extent.x0, extent.x1));
        let (down, y) = axis(Along::Down, subject.along, (extent.y0, extent.y1));
        let window = Rect::new(x.0, y.0, x.1, y.1);
        let caption = BENCH.caption();
        let bars = (bar(labels, Along::Across, caption), bar(labels, Along::Down, caption));
        Self { subject, window, running: (across, down), bars }
    }

    /// What the view shows.
    pub(super) fn subject(&self) -> &'a Subject<'a> {
        self.subject
    }

    /// Stretches of the canvas along an axis in which no cut may run, mm: hole marks,
    /// the figures at its start, and a little to both sides of every line that runs
    /// the same way.
    pub(super) fn uncut(&self, axis: Along) -> Vec<(f64, f64)> {
        let subject = self.subject;
        let pick = |x: f64, y: f64| match axis {
            Along::Across => x,
            Along::Down => y,
        };
        let ends = |all: Rect| [pick(all.x0, all.y0), pick(all.x1, all.y1)];
        let middle = subject.plate().center();
        let mut lines = vec![pick(subject.across.at, subject.along.at), pick(middle.x, middle.y)];
        lines.extend(ends(subject.plate()));
        lines.extend(subject.face.into_iter().flat_map(ends));
        let (x, y) = self.plate_at();
        let shift = pick(x, y);
        let near = |at: f64, reach: f64| (shift + at - reach, shift + at + reach);
        let mut all: Vec<(f64, f64)> = lines.into_iter().map(|at| near(at, BESIDE_LINES)).collect();
        let rings = self.subject.rings.iter();
        all.extend(rings.map(|ring| near(pick(ring.x, ring.y), ring.reach() + PAST + 1.0)));
        let (left, top) = self.rims();
        all.push((0.0, pick(left, top)));
        all
    }

    /// White taken left of and above the window by the running dimensions, mm.
    fn rims(&self) -> (f64, f64) {
        (self.running.1.depth + AIR, self.running.0.depth + AIR)
    }

    /// Width and height of the drawing without the check bars, mm.
    pub(super) fn canvas(&self) -> (f64, f64) {
        let (left, top) = self.rims();
        (left + self.window.width(), top + self.window.height())
    }

    /// Where the plate's top left corner stands on the canvas, mm.
    pub(super) fn plate_at(&self) -> (f64, f64) {
        let (left, top) = self.rims();
        (left - self.window.x0, top - self.window.y0)
    }

    /// The check bars, across and up the sheet.
    pub(super) fn bars(&self) -> (&Bar, &Bar) {
        (&self.bars.0, &self.bars.1)
    }

    /// Width and height with everything round it, mm.
    pub(super) fn size(&self) -> (f64, f64) {
        let (along, up) = self.bars();
        let (width, height) = self.canvas();
        (
            width.max(along.width) + BARS + up.width,
            height.max(up.block.height) + BARS + along.block.height,
        )
    }

    /// Widens the window to the whole face, axis by axis, where what comes of it is held.
    pub(super) fn widen(&mut self, holds: impl Fn(&Self) -> bool) {
        let Some(face) = self.subject.face else { return };
        let face = face.inflate(PAST, PAST);
        for wider in [
            Rect::new(
                face.x0.min(self.window.x0),
                self.window.y0,
                face.x1.max(self.window.x1),
                self.window.y1,
            ),
            Rect::new(
                self.window.x0,
                face.y0.min(self.window.y0),
                self.window.x1,
                face.y1.max(self.window.y1),
            ),
        ] {
            let before = self.window;
            self.window = before.union(wider);
            if !holds(self) {
                self.window = before;
            }
        }
    }

    /// Whether zero of an axis is on the sheet.
    pub(super) fn shows(&self, axis: Along) -> bool {
        let (datum, low, high) = match axis {
            Along::Across => (self.subject.across, self.window.x0, self.window.x1),
            Along::Down => (self.subject.along, self.window.y0, self.window.y1),
        };
        datum.at >= low && datum.at <= high
    }
}
