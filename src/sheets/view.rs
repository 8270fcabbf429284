//! The plate in plain lines at true size, measured from a datum, with check
//! bars across and up the sheet: what pattern and drilling sheet both show.
//!
//! Everything is worked out in plate coordinates (mm, y down) and moved onto
//! the sheet at the end.

use kurbo::{BezPath, Rect};

use crate::drawing::{Group, Item, LineType, Path};
use crate::job::Job;
use crate::mount::Hole;
use crate::plate;

use super::bar::{Bar, bar};
use super::block::{Block, Layer, NARROW, WIDE, circle, hole_edge, line_of, narrow, straight};
use super::dimension::{Along, Mark, Running, centre_line, crossing, running};
use super::edge::touches;
use super::heading::BENCH;
use super::plaque::wording;
use super::text::{Labels, SetRow};
use super::words;

/// How far centre lines run past what they mark, mm.
const PAST: f64 = 2.5;
/// White between the drawing and the figures round it, mm.
const AIR: f64 = 5.0;
/// From the drawing to the line of running dimensions, mm.
const LINE: f64 = AIR - 1.0;
/// White between the drawing and the check bars, mm.
const BARS: f64 = 4.0;
/// Two marks nearer than this are one, mm.
const SAME: f64 = 0.005;
/// A datum edge further than this from the plate does not make a sheet grow, mm.
const NEAR: f64 = 100.0;

/// Where one axis is measured from, in plate coordinates, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Datum {
    /// Its place.
    pub(super) at: f64,
    /// Whether a centre line runs there (otherwise an edge).
    pub(super) centre: bool,
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
    fn reach(&self) -> f64 {
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
    /// Datum across.
    pub(super) across: Datum,
    /// Datum along (down the sheet).
    pub(super) along: Datum,
    /// The face in plate coordinates.
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

/// A view laid out, with everything round it.
pub(super) struct View<'a> {
    subject: &'a Subject<'a>,
    /// What of the plate's plane is drawn.
    window: Rect,
    running: (Running, Running),
    bars: (Bar, Bar),
}

impl Subject<'_> {
    fn plate(&self) -> Rect {
        Rect::new(0.0, 0.0, self.job.layout.plate.width, self.job.layout.plate.height)
    }

    /// Plate, holes and the ends of their centre lines.
    fn extent(&self) -> Rect {
        self.rings.iter().fold(self.plate().inflate(PAST, PAST), |all, ring| {
            let reach = ring.reach() + PAST;
            all.union(Rect::new(ring.x - reach, ring.y - reach, ring.x + reach, ring.y + reach))
        })
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
        if datum.centre {
            // The centre line itself runs up to the dimensions.
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

impl<'a> View<'a> {
    /// The view with as much shown as one of the rooms (width, height) holds:
    /// rooms are tried in order for each wish. Without any that holds it, the
    /// view takes what it needs. Gives the index of the room too.
    pub(super) fn laid(
        labels: &Labels,
        subject: &'a Subject<'a>,
        rooms: &[(f64, f64)],
    ) -> (Self, Option<usize>) {
        for wish in WISHES {
            let mut view = Self::least(labels, subject, wish);
            let (width, height) = view.size();
            if let Some(index) = rooms.iter().position(|room| room.0 >= width && room.1 >= height) {
                if let Some(room) = rooms.get(index) {
                    view.widen(*room);
                }
                return (view, Some(index));
            }
        }
        let plate = subject.plate();
        let near = |at: f64, end: f64| at > -NEAR && at < end + NEAR;
        let datum_edges = near(subject.across.at, plate.x1) && near(subject.along.at, plate.y1);
        (Self::least(labels, subject, Wish { every_hole: true, datum_edges }), None)
    }

    /// The smallest window that shows what is wished.
    fn least(labels: &Labels, subject: &'a Subject<'a>, wish: Wish) -> Self {
        let extent = subject.extent();
        let axis = |along: Along, datum: Datum, range: (f64, f64)| {
            let shown = wish.datum_edges || datum.centre;
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

    /// White taken left of and above the window by the running dimensions, mm.
    fn rims(&self) -> (f64, f64) {
        (self.running.1.depth + AIR, self.running.0.depth + AIR)
    }

    /// Width and height with everything round it, mm.
    pub(super) fn size(&self) -> (f64, f64) {
        let (left, top) = self.rims();
        let (along, up) = (&self.bars.0, &self.bars.1);
        let width = left + self.window.width();
        let height = top + self.window.height();
        (
            width.max(along.width) + BARS + up.width,
            height.max(up.block.height) + BARS + along.block.height,
        )
    }

    /// Widens the window to the whole face, axis by axis, where the room holds it.
    fn widen(&mut self, room: (f64, f64)) {
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
            let (width, height) = self.size();
            if width > room.0 || height > room.1 {
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

    /// Everything drawn, in a block of a width.
    pub(super) fn block(self, labels: &Labels, width: f64) -> Block {
        let (left, top) = self.rims();
        let size = self.size();
        let spare = ((width - size.0) / 2.0).max(0.0);
        let drawing = (left + self.window.width(), top + self.window.height());
        // Where the plate's top left corner comes to stand.
        let (ox, oy) = (spare + left - self.window.x0, top - self.window.y0);
        let mut block = Block::empty(size.1);
        self.face_edges(&mut block, ox, oy);
        self.plate_group(&mut block, ox, oy);
        self.centre_lines(&mut block, ox, oy);
        self.numbers(&mut block, labels, ox, oy);
        self.running.0.draw(&mut block, oy + self.window.y0 - LINE, (ox, oy));
        self.running.1.draw(&mut block, ox + self.window.x0 - LINE, (oy, ox));
        let (along, up) = self.bars;
        let inner = (drawing.0.max(along.width), drawing.1.max(up.block.height));
        let middle = ((inner.1 - up.block.height) / 2.0).max(0.0);
        block.add(up.block, spare + inner.0 + BARS, middle);
        let centred = ((inner.0 - along.width) / 2.0).max(0.0);
        block.add(along.block, spare + centred, inner.1 + BARS);
        block
    }

    /// Edges of the face as far as they lie in the window.
    fn face_edges(&self, block: &mut Block, ox: f64, oy: f64) {
        let Some(face) = self.subject.face else { return };
        let seen = face.intersect(self.window);
        let mut edge = |from: (f64, f64), to: (f64, f64)| {
            let path = straight((ox + from.0, oy + from.1), (ox + to.0, oy + to.1));
            let stroke = narrow(LineType::LongDashedDoubleDotted);
            block.push(Layer::Dimensions, Path::stroked(path, stroke));
        };
        for x in [face.x0, face.x1] {
            if x >= self.window.x0 && x <= self.window.x1 {
                edge((x, seen.y0), (x, seen.y1));
            }
        }
        for y in [face.y0, face.y1] {
            if y >= self.window.y0 && y <= self.window.y1 {
                edge((seen.x0, y), (seen.x1, y));
            }
        }
    }

    /// The plate's outline and holes as named groups, in plate coordinates.
    fn plate_group(&self, block: &mut Block, ox: f64, oy: f64) {
        let job = self.subject.job;
        let plate = &job.layout.plate;
        let path = |path: BezPath, width| Item::from(Path::stroked(path, line_of(width)));
        let mut edges = vec![path(plate::outline(plate).path(), WIDE)];
        if plate.bevel > 0.0 {
            let inner = plate::outline(plate).inset(plate.bevel);
            edges.extend(inner.map(|inner| path(inner.path(), NARROW)));
        }
        let outline = Group::new("outline", "Edge of the plate", edges);
        let mut items: Vec<Item> = vec![outline.into()];
        let mut circles = Vec::new();
        for ring in &self.subject.rings {
            circles.push(path(hole_edge((ring.x, ring.y), ring.travel, ring.hole), WIDE));
            if ring.round > ring.hole {
                circles.push(path(circle(ring.x, ring.y, ring.round), NARROW));
            }
        }
        if !circles.is_empty() {
            items.push(Group::new("holes", "Holes and heads", circles).into());
        }
        let group = Group::new("plate", &wording(job), items);
        block.push(Layer::Plaque, super::block::moved(group.into(), ox, oy));
    }

    fn centre_lines(&self, block: &mut Block, ox: f64, oy: f64) {
        let plate = self.subject.plate();
        let (x, y) = (plate.center().x, plate.center().y);
        let (datum_x, datum_y) = (self.subject.across, self.subject.along);
        // A centre line that is the datum runs through to the dimensions.
        let (top, foot) = if datum_x.centre {
            (self.window.y0 - LINE, self.window.y1)
        } else {
            (-PAST, plate.y1 + PAST)
        };
        let (left, right) = if datum_y.centre {
            (self.window.x0 - LINE, self.window.x1)
        } else {
            (-PAST, plate.x1 + PAST)
        };
        for end in [(x, top), (x, foot), (left, y), (right, y)] {
            centre_line(block, (ox + x, oy + y), (ox + end.0, oy + end.1));
        }
        for ring in &self.subject.rings {
            crossing(block, ox + ring.x, oy + ring.y, ring.reach() + PAST);
        }
    }

    /// The number of each hole beside it, where it meets neither a ring nor
    /// another number; further off, with a leader, where holes stand close.
    fn numbers(&self, block: &mut Block, labels: &Labels, ox: f64, oy: f64) {
        let centre = self.subject.plate().center();
        let mut taken: Vec<Rect> = self
            .subject
            .rings
            .iter()
            .map(|ring| {
                let reach = ring.reach() + 0.3;
                Rect::new(ring.x - reach, ring.y - reach, ring.x + reach, ring.y + reach)
            })
            .collect();
        for (index, ring) in self.subject.rings.iter().enumerate() {
            let row = labels.set(&(index + 1).to_string(), BENCH.strong().figures(), None);
            let Some(place) = number_place(ring, &row, centre, (&taken, self.window)) else {
                continue;
            };
            // Numbers one above the other keep half a cap height of white (ISO 3098-0).
            taken.push(place.inflate(0.0, BENCH.body * 0.3));
            let from = ring.reach();
            let middle = place.center();
            let (dx, dy) = (middle.x - ring.x, middle.y - ring.y);
            let far = libm::hypot(dx, dy);
            if far > from + 6.0 {
                let near = (ring.x + dx / far * from, ring.y + dy / far * from);
                let end = (middle.x - dx / far * 2.6, middle.y - dy / far * 2.6);
                block.rule(Layer::Dimensions, (ox + near.0, oy + near.1), (ox + end.0, oy + end.1));
            }
            block.text(Layer::Labels, &row, ox + place.x0, oy + place.y1);
        }
    }
}

/// A free box for a hole's number: diagonals first, inwards before outwards.
fn number_place(
    ring: &Ring,
    row: &SetRow,
    centre: kurbo::Point,
    (taken, window): (&[Rect], Rect),
) -> Option<Rect> {
    let inward = |value: f64, middle: f64| if value <= middle { 1.0 } else { -1.0 };
    let (sx, sy) = (inward(ring.x, centre.x), inward(ring.y, centre.y));
    let round = ring.reach();
    let cap = BENCH.body;
    for step in 0..40_u8 {
        let reach = round + 0.6 + f64::from(step) * 1.5;
        for (dx, dy) in [(sx, sy), (-sx, sy), (sx, -sy), (-sx, -sy), (sx * 0.4, sy), (sx, sy * 0.4)]
        {
            let (x, y) = (ring.x + dx * reach * 0.75, ring.y + dy * reach * 0.75);
            let x0 = if dx < 0.0 { x - row.width } else { x };
            let y1 = if dy < 0.0 { y } else { y + cap };
            let place = Rect::new(x0, y1 - cap, x0 + row.width, y1);
            let grown = place.inflate(0.5, 0.5);
            let inside = window.intersect(place) == place;
            if inside && taken.iter().all(|other| other.intersect(grown).is_zero_area()) {
                return Some(place);
            }
        }
    }
    None
}
