//! How a view is drawn: the face's edges, plate, holes, centre lines, numbers.

use kurbo::{Affine, BezPath, Line, ParamCurve, Point, Rect};

use crate::drawing::{Group, Item, LineType, Path};
use crate::mount::FacePlan;
use crate::plate;
use crate::sheets::block::{Block, Layer, NARROW, WIDE, circle, hole_edge, line_of, moved, narrow};
use crate::sheets::dimension::{centre_line, crossing};
use crate::sheets::heading::BENCH;
use crate::sheets::plaque::wording;
use crate::sheets::text::{Labels, SetRow};

use super::{BARS, Datum, LINE, Old, PAST, SAME, View, Zero};

impl View<'_> {
    /// The drawing in a block of a width, the check bars beside and under it.
    pub(in crate::sheets) fn block(self, labels: &Labels, width: f64) -> Block {
        let size = self.size();
        let spare = ((width - size.0) / 2.0).max(0.0);
        let mut block = Block::empty(size.1);
        block.add(self.drawing(labels), spare, 0.0);
        let canvas = self.canvas();
        let (along, up) = self.bars;
        let inner = (canvas.0.max(along.width), canvas.1.max(up.block.height));
        let middle = ((inner.1 - up.block.height) / 2.0).max(0.0);
        block.add(up.block, spare + inner.0 + BARS, middle);
        let centred = ((inner.0 - along.width) / 2.0).max(0.0);
        block.add(along.block, spare + centred, inner.1 + BARS);
        block
    }

    /// Everything but the check bars, from the canvas's top left corner.
    pub(in crate::sheets) fn drawing(&self, labels: &Labels) -> Block {
        let (ox, oy) = self.plate_at();
        let mut block = Block::empty(self.canvas().1);
        self.face_groups(&mut block, ox, oy);
        self.plate_group(&mut block, ox, oy);
        self.centre_lines(&mut block, ox, oy);
        self.numbers(&mut block, labels, ox, oy);
        self.running.0.draw(&mut block, oy + self.window.y0 - LINE, (ox, oy));
        self.running.1.draw(&mut block, ox + self.window.x0 - LINE, (oy, ox));
        self.taping(&mut block, labels, (ox, oy));
        block
    }

    /// The face's edge, trim and recess as adjacent parts, and old holes as what is
    /// hidden, as far as they lie in the window; in plate coordinates.
    fn face_groups(&self, block: &mut Block, ox: f64, oy: f64) {
        if self.subject.face.is_none() && self.subject.old.is_empty() {
            return;
        }
        let Some(plan) = &self.subject.job.mount.face else { return };
        let adjacent = |edge: BezPath| -> Vec<Item> {
            let stroke = narrow(LineType::LongDashedDoubleDotted);
            if edge.is_empty() { Vec::new() } else { vec![Path::stroked(edge, stroke).into()] }
        };
        let recess = plan.recess.as_ref().map(|laid| to_plate(plan) * laid.path());
        let old = |old: &Old| -> Item {
            Path::stroked(circle(old.x, old.y, old.radius), narrow(LineType::Dashed)).into()
        };
        for (name, description, items) in [
            ("face", "Edge of the face", adjacent(edge_of_face(plan))),
            ("trim", "Inner edge of the trim", adjacent(edge_of_trim(plan))),
            ("recess", "Edge of the recess", adjacent(recess.unwrap_or_default())),
            ("old-holes", "Holes that are already there", self.old().map(old).collect()),
        ] {
            if items.is_empty() {
                continue;
            }
            let mut group = Group::new(name, description, items);
            group.clip = Some(self.window);
            block.push(Layer::Plaque, moved(group.into(), ox, oy));
        }
    }

    /// Old holes that lie in the window.
    fn old(&self) -> impl Iterator<Item = &Old> {
        self.subject.old.iter().filter(|old| self.sees(old))
    }

    fn sees(&self, old: &Old) -> bool {
        let box_ = Rect::new(old.x, old.y, old.x, old.y).inflate(old.radius, old.radius);
        self.window.union(box_) == self.window
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
        block.push(Layer::Plaque, moved(group.into(), ox, oy));
    }

    fn centre_lines(&self, block: &mut Block, ox: f64, oy: f64) {
        let plate = self.subject.plate();
        let (across, along) = (self.subject.across, self.subject.along);
        let (x, y) = self.lines();
        // A line that is zero runs through to the dimensions.
        let zero = |at: f64, middle: f64| (at - middle).abs() <= SAME;
        let (top, foot) = if across.zero != Zero::Edge && zero(across.at, x) {
            (self.window.y0 - LINE, self.window.y1)
        } else {
            (-PAST, plate.y1 + PAST)
        };
        let (left, right) = if along.zero != Zero::Edge && zero(along.at, y) {
            (self.window.x0 - LINE, self.window.x1)
        } else {
            (-PAST, plate.x1 + PAST)
        };
        for end in [(x, top), (x, foot), (left, y), (right, y)] {
            centre_line(block, (ox + x, oy + y), (ox + end.0, oy + end.1));
        }
        self.mark_lines(block, ox, oy);
        for ring in &self.subject.rings {
            crossing(block, ox + ring.x, oy + ring.y, ring.reach() + PAST);
        }
        for old in self.old() {
            crossing(block, ox + old.x, oy + old.y, old.radius + PAST);
        }
    }

    /// Where the upright and the level centre line run: through zero where that is a
    /// centre line, though the plate's own is another; else through the plate's middle.
    fn lines(&self) -> (f64, f64) {
        let middle = self.subject.plate().center();
        let line = |datum: Datum, middle: f64, (from, to): (f64, f64)| {
            let seen = from <= datum.at && datum.at <= to;
            if datum.zero == Zero::Centre && seen { datum.at } else { middle }
        };
        let window = self.window;
        (
            line(self.subject.across, middle.x, (window.x0, window.x1)),
            line(self.subject.along, middle.y, (window.y0, window.y1)),
        )
    }

    /// Lines through the mark that the plate is set by, and a circle round it.
    fn mark_lines(&self, block: &mut Block, ox: f64, oy: f64) {
        let (across, along) = (self.subject.across, self.subject.along);
        if across.zero != Zero::Mark || along.zero != Zero::Mark {
            return;
        }
        let (x, y) = (across.at, along.at);
        if !self.window.contains((x, y)) {
            return;
        }
        let middle = self.subject.plate().center();
        if (x - middle.x).abs() > SAME {
            for end in [self.window.y0 - LINE, self.window.y1] {
                centre_line(block, (ox + x, oy + y), (ox + x, oy + end));
            }
        }
        if (y - middle.y).abs() > SAME {
            for end in [self.window.x0 - LINE, self.window.x1] {
                centre_line(block, (ox + x, oy + y), (ox + end, oy + y));
            }
        }
        block.push(Layer::Dimensions, Path::stroked(circle(ox + x, oy + y, MARK), line_of(WIDE)));
    }

    /// The number of each hole beside it, where it meets neither a ring nor
    /// another number; further off, with a leader, where holes stand close. New holes
    /// are 1, 2 …, old ones O1, O2 ….
    fn numbers(&self, block: &mut Block, labels: &Labels, ox: f64, oy: f64) {
        let centre = self.subject.plate().center();
        let new = self.subject.rings.iter().enumerate().map(|(index, ring)| Spot {
            x: ring.x,
            y: ring.y,
            reach: ring.reach(),
            label: (index + 1).to_string(),
        });
        let old = self.subject.old.iter().enumerate().filter(|(_, old)| self.sees(old));
        let old = old.map(|(index, old)| Spot {
            x: old.x,
            y: old.y,
            reach: old.radius,
            label: format!("O{}", index + 1),
        });
        let spots: Vec<Spot> = new.chain(old).collect();
        let mut taken: Vec<Rect> = spots
            .iter()
            .map(|spot| {
                let reach = spot.reach + 0.3;
                Rect::new(spot.x - reach, spot.y - reach, spot.x + reach, spot.y + reach)
            })
            .collect();
        // Nor do they stand on the centre lines and the sides of its box.
        let plate = self.subject.plate();
        let mut lines = Vec::new();
        let (x, y) = self.lines();
        lines.push(Rect::new(x, plate.y0, x, plate.y1).inflate(0.2, 0.0));
        lines.push(Rect::new(plate.x0, y, plate.x1, y).inflate(0.0, 0.2));
        for x in [plate.x0, plate.x1] {
            lines.push(Rect::new(x, plate.y0, x, plate.y1).inflate(0.2, 0.0));
        }
        for y in [plate.y0, plate.y1] {
            lines.push(Rect::new(plate.x0, y, plate.x1, y).inflate(0.0, 0.2));
        }
        for spot in &spots {
            let row = labels.set(&spot.label, BENCH.strong().figures(), None);
            let Some(place) = number_place(spot, &row, centre, (&taken, &lines), self.window)
            else {
                continue;
            };
            // Numbers one above the other keep half a cap height of white (ISO 3098-0).
            taken.push(place.inflate(0.0, BENCH.body * 0.3));
            if let Some(leader) = spot.leader(place) {
                taken.extend(dots(leader).map(|dot| Rect::from_points(dot, dot).inflate(0.2, 0.2)));
                let (from, to) = (leader.p0, leader.p1);
                block.rule(Layer::Dimensions, (ox + from.x, oy + from.y), (ox + to.x, oy + to.y));
            }
            block.text(Layer::Labels, &row, ox + place.x0, oy + place.y1);
        }
    }
}

fn to_plate(plan: &FacePlan) -> Affine {
    Affine::translate((-plan.plate_x, -plan.plate_y))
}

/// The face's edge in plate coordinates; empty where none is told.
pub(in crate::sheets) fn edge_of_face(plan: &FacePlan) -> BezPath {
    plan.edge.as_ref().map_or_else(BezPath::new, |edge| to_plate(plan) * edge.path())
}

/// The trim's inner edge in plate coordinates, as far as it is not the face's own edge,
/// which it is on sides without trim.
pub(in crate::sheets) fn edge_of_trim(plan: &FacePlan) -> BezPath {
    let Some(trim) = &plan.trim else { return BezPath::new() };
    let on_face =
        |at: Point| plan.edge.as_ref().is_some_and(|edge| edge.depth_of(at.x, at.y).abs() <= SAME);
    let mut own = BezPath::new();
    for segment in trim.path().segments() {
        if [0.0, 0.5, 1.0].into_iter().all(|share| on_face(segment.eval(share))) {
            continue;
        }
        own.move_to(segment.start());
        own.push(segment.as_path_el());
    }
    to_plate(plan) * own
}

/// A number this much further off than its hole reaches has a leader, mm.
const FAR: f64 = 6.0;
/// Where a leader ends before the middle of its number, mm.
const BEFORE_NUMBER: f64 = 2.6;
/// Steps in which a leader is looked at, mm.
const BETWEEN_DOTS: f64 = 0.5;
/// Radius of the circle round a mark, mm.
const MARK: f64 = 1.5;

/// A hole that is labelled.
struct Spot {
    x: f64,
    y: f64,
    reach: f64,
    label: String,
}

impl Spot {
    /// The line from its rim to its number, where that stands far off.
    fn leader(&self, place: Rect) -> Option<Line> {
        let (spot, middle) = (Point::new(self.x, self.y), place.center());
        let way = middle - spot;
        let far = libm::hypot(way.x, way.y);
        let along = way / far;
        (far > self.reach + FAR)
            .then(|| Line::new(spot + along * self.reach, middle - along * BEFORE_NUMBER))
    }
}

/// Points along a leader, mm apart as [`BETWEEN_DOTS`] says.
fn dots(leader: Line) -> impl Iterator<Item = Point> {
    let way = leader.p1 - leader.p0;
    let count = (libm::hypot(way.x, way.y) / BETWEEN_DOTS).ceil().max(1.0);
    std::iter::successors(Some(0.0), move |step| (*step < count).then_some(*step + 1.0))
        .map(move |step: f64| leader.eval(step / count))
}

/// A free box for a hole's number: diagonals first, inwards before outwards.
fn number_place(
    spot: &Spot,
    row: &SetRow,
    centre: Point,
    (taken, lines): (&[Rect], &[Rect]),
    window: Rect,
) -> Option<Rect> {
    let inward = |value: f64, middle: f64| if value <= middle { 1.0 } else { -1.0 };
    let (sx, sy) = (inward(spot.x, centre.x), inward(spot.y, centre.y));
    let own = Point::new(spot.x, spot.y);
    let round = spot.reach;
    let cap = BENCH.body;
    for step in 0..40_u8 {
        let reach = round + 0.6 + f64::from(step) * 1.5;
        for (dx, dy) in [(sx, sy), (-sx, sy), (sx, -sy), (-sx, -sy), (sx * 0.4, sy), (sx, sy * 0.4)]
        {
            let (x, y) = (spot.x + dx * reach * 0.75, spot.y + dy * reach * 0.75);
            let x0 = if dx < 0.0 { x - row.width } else { x };
            let y1 = if dy < 0.0 { y } else { y + cap };
            let place = Rect::new(x0, y1 - cap, x0 + row.width, y1);
            let grown = place.inflate(0.5, 0.5);
            let inside = window.intersect(place) == place;
            let free =
                || taken.iter().chain(lines).all(|other| other.intersect(grown).is_zero_area());
            // A leader may leave what it starts from and cross lines, and meets nothing else.
            let clear = || {
                let others = taken.iter().filter(|other| !other.contains(own));
                let others: Vec<&Rect> = others.collect();
                let meets = |dot: Point| others.iter().any(|other| other.contains(dot));
                spot.leader(place).is_none_or(|leader| !dots(leader).any(meets))
            };
            if inside && free() && clear() {
                return Some(place);
            }
        }
    }
    None
}
