//! Where the paper is folded over the face's edge, and windows to tape it down through.

use kurbo::{Affine, PathSeg, Point, Rect};

use crate::drawing::Path;
use crate::plate;
use crate::sheets::block::{Block, Layer, NARROW, line_of, rectangle};
use crate::sheets::heading::BENCH;
use crate::sheets::text::{Labels, SetRow};
use crate::sheets::within::{line_boxes, slant_boxes, text_boxes};

use super::drawn::{edge_of_face, edge_of_trim};
use super::{Tape, View, square};

/// White between words and a line, mm.
const BESIDE: f64 = 0.4;
/// Words along an edge of the face.
const FOLD: &str = "edge of the face: fold";
/// Words along the inner edge of the trim.
const TRIM: &str = "edge of the trim";
/// Word in a window.
const TAPE: &str = "tape";
/// Sizes of a window, mm: common tape is 19 or 25 mm wide; the first that finds room.
const WINDOWS: [(f64, f64); 3] = [(30.0, 14.0), (22.0, 10.0), (14.0, 8.0)];
/// Least white between a window and the edges of plate and face, mm.
const ROUND: f64 = 3.0;
/// Step in which places are tried, mm.
const STEP: f64 = 2.0;
/// Most places that are tried along an axis.
const MOST: f64 = 120.0;

impl View<'_> {
    /// Draws both where there is room that nothing has taken yet. All in canvas
    /// coordinates; the plate stands at `ox`, `oy`.
    pub(super) fn taping(&self, block: &mut Block, labels: &Labels, (ox, oy): (f64, f64)) {
        if self.subject.tape == Tape::None {
            return;
        }
        let drawn = block.clone().into_items();
        let mut taken = text_boxes(&drawn, Affine::IDENTITY);
        taken.extend(line_boxes(&drawn, Affine::IDENTITY, BESIDE));
        taken.extend(slant_boxes(&drawn, Affine::IDENTITY, BESIDE));
        let rings = self.subject.rings.iter().map(|ring| (ring.x, ring.y, ring.reach()));
        let old = self.subject.old.iter().map(|old| (old.x, old.y, old.radius));
        taken.extend(rings.chain(old).map(|(x, y, reach)| square(ox + x, oy + y, reach)));
        self.folds(block, labels, (ox, oy), &mut taken);
        for left in [true, false] {
            self.window(block, labels, (ox, oy), (left, &mut taken));
        }
    }

    /// Words along every straight edge of face and trim that runs across the sheet.
    fn folds(
        &self,
        block: &mut Block,
        labels: &Labels,
        (ox, oy): (f64, f64),
        taken: &mut Vec<Rect>,
    ) {
        let Some(plan) = &self.subject.job.mount.face else { return };
        let window = self.window;
        let centre = self.subject.plate().center();
        for (edge, words) in [(edge_of_face(plan), FOLD), (edge_of_trim(plan), TRIM)] {
            let row = labels.set(words, BENCH.text(), None);
            for segment in edge.segments() {
                let PathSeg::Line(line) = segment else { continue };
                let own = Rect::from_points(line.p0, line.p1);
                let upright = own.width() < 1e-6;
                let apart = own.x1 < window.x0
                    || own.x0 > window.x1
                    || own.y1 < window.y0
                    || own.y0 > window.y1;
                if apart || !(upright || own.height() < 1e-6) {
                    continue;
                }
                let seen = own.intersect(window);
                match beside(&row, seen, centre, upright, (ox, oy, taken)) {
                    Some((x, y)) if upright => block.upright(Layer::Labels, &row, x, y),
                    Some((x, y)) => block.text(Layer::Labels, &row, x, y),
                    None => {}
                }
            }
        }
    }

    /// One window, nearest to the place where it would hold the paper best: under the
    /// plate, which will hide it; or beside a plate whose outline is cut out.
    fn window(
        &self,
        block: &mut Block,
        labels: &Labels,
        (ox, oy): (f64, f64),
        (left, taken): (bool, &mut Vec<Rect>),
    ) {
        let row = labels.set(TAPE, BENCH.text(), None);
        let plate = self.subject.plate();
        let under = self.subject.tape == Tape::Under;
        let share = match (under, left) {
            (true, true) => 0.22,
            (true, false) => 0.78,
            (false, true) => 0.0,
            (false, false) => 1.0,
        };
        let wish =
            Point::new(plate.width() * share, plate.height() * if under { 0.72 } else { 0.5 });
        for (width, height) in WINDOWS {
            let free = |at: &Point| {
                let own = Rect::new(
                    at.x - width / 2.0,
                    at.y - height / 2.0,
                    at.x + width / 2.0,
                    at.y + height / 2.0,
                );
                let on_canvas = (own + kurbo::Vec2::new(ox, oy)).inflate(1.0, 1.0);
                taken.iter().all(|other| other.intersect(on_canvas).is_zero_area())
                    && self.can_be_taped(own, under)
            };
            let Some(at) = self.places(wish).into_iter().find(free) else { continue };
            let (x, y) = (ox + at.x, oy + at.y);
            let frame = rectangle(x - width / 2.0, y - height / 2.0, width, height);
            block.push(Layer::Dimensions, Path::stroked(frame, line_of(NARROW)));
            block.text(Layer::Labels, &row, x - row.width / 2.0, y + BENCH.body / 2.0);
            taken.push(Rect::new(x, y, x, y).inflate(width / 2.0 + ROUND, height / 2.0 + ROUND));
            return;
        }
    }

    /// Places of the window, the nearest to a wish first.
    fn places(&self, wish: Point) -> Vec<Point> {
        let window = self.window;
        let step = STEP.max(window.width() / MOST).max(window.height() / MOST);
        let along = |from: f64, to: f64| {
            let mut all = Vec::new();
            let mut at = from;
            while at < to {
                all.push(at);
                at += step;
            }
            all
        };
        let columns = along(window.x0, window.x1);
        let mut all: Vec<Point> = along(window.y0, window.y1)
            .into_iter()
            .flat_map(|y| columns.iter().map(move |x| Point::new(*x, y)))
            .collect();
        all.sort_by(|a, b| {
            a.distance_squared(wish).total_cmp(&b.distance_squared(wish)).then(a.y.total_cmp(&b.y))
        });
        all
    }

    /// Whether a window lies where it should be: all under the plate, or all of it
    /// beside the plate; on the face, and on the sheet.
    fn can_be_taped(&self, own: Rect, under: bool) -> bool {
        if self.window.union(own) != self.window {
            return false;
        }
        let outline = plate::outline(&self.subject.job.layout.plate);
        let plan = self.subject.job.mount.face.as_ref();
        let middle = own.center();
        let corners = [
            (own.x0, own.y0),
            (own.x1, own.y0),
            (own.x1, own.y1),
            (own.x0, own.y1),
            (middle.x, own.y0),
            (middle.x, own.y1),
        ];
        corners.into_iter().all(|(x, y)| {
            let depth = outline.depth_of(x, y);
            let placed = if under { depth >= ROUND } else { depth <= -ROUND };
            let on_face = plan.and_then(|plan| {
                let (x, y) = plan.on_face(x, y);
                Some(plan.edge.as_ref()?.depth_of(x, y) >= ROUND)
            });
            placed && on_face.unwrap_or(true)
        })
    }
}

/// Where words stand along an edge, on the canvas: on the side of the plate if there is
/// room, else on the other; `None` without room.
fn beside(
    row: &SetRow,
    edge: Rect,
    centre: Point,
    upright: bool,
    (ox, oy, taken): (f64, f64, &mut Vec<Rect>),
) -> Option<(f64, f64)> {
    let cap = BENCH.body;
    let (from, to, line, middle) = if upright {
        (edge.y0 + oy, edge.y1 + oy, edge.x0 + ox, centre.x + ox)
    } else {
        (edge.x0 + ox, edge.x1 + ox, edge.y0 + oy, centre.y + oy)
    };
    let before = -1.0 - row.below;
    let behind = 1.2 + cap;
    let sides = if middle < line { [before, behind] } else { [behind, before] };
    for off in sides {
        let mut start = from + 3.0;
        while start + row.width < to - 3.0 {
            let box_ = if upright {
                Rect::new(line + off - cap, start, line + off + row.below, start + row.width)
            } else {
                Rect::new(start, line + off - cap, start + row.width, line + off + row.below)
            };
            // The edge's own box does not count: the words keep their distance from it.
            let own = box_.inflate(0.5, 0.5);
            if taken.iter().all(|other| other.intersect(own).is_zero_area()) {
                taken.push(box_.inflate(1.0, 1.0));
                return Some(if upright {
                    (line + off, start + row.width)
                } else {
                    (start, line + off)
                });
            }
            start += STEP;
        }
    }
    None
}
