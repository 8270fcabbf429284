//! The key plan: all tiles small, as they lie, and the plate on them. A diagram, not a
//! drawing at any scale to measure by.

use kurbo::{Affine, BezPath, PathEl, Point, Rect};

use crate::drawing::{Item, Path};
use crate::plate;
use crate::sheets::block::{Block, Layer, NARROW, circle, line_of, rectangle};
use crate::sheets::heading::BENCH;
use crate::sheets::text::Labels;
use crate::sheets::view::View;

use super::tiles::Grid;

/// Width of the frame round the tile that is meant, mm.
const MEANT: f64 = 0.7;
/// Least radius of a hole on the plan, mm.
const DOT: f64 = 0.3;
/// White round a number, mm.
const INSET: f64 = 1.0;

/// Between two points at which the plate's edge is looked for, mm.
const BETWEEN_DOTS: f64 = 0.5;
/// Where in a tile its number may stand: shares of the spare width and height.
const PLACES: [(f64, f64); 9] = [
    (0.0, 0.0),
    (1.0, 0.0),
    (0.0, 1.0),
    (1.0, 1.0),
    (0.5, 0.0),
    (0.0, 0.5),
    (1.0, 0.5),
    (0.5, 1.0),
    (0.5, 0.5),
];

/// The plan in a room of a width and height, mm; `meant` is framed. Each tile that has
/// room for its number carries it.
pub(super) fn key_plan(
    labels: &Labels,
    (view, grid): (&View<'_>, &Grid),
    meant: Option<usize>,
    room: (f64, f64),
) -> Block {
    let canvas = view.canvas();
    let scale = ((room.0 - MEANT) / canvas.0).min((room.1 - MEANT) / canvas.1);
    let edge = MEANT / 2.0;
    let mut block = Block::empty(canvas.1 * scale + MEANT);
    let to = Affine::new([scale, 0.0, 0.0, scale, edge, edge]);
    let frame = |core: Rect, width: f64| {
        let all = to.transform_rect_bbox(core);
        Path::stroked(rectangle(all.x0, all.y0, all.width(), all.height()), line_of(width))
    };
    let (x, y) = view.plate_at();
    let on = to * Affine::translate((x, y));
    let plate = on * plate::outline(&view.subject().job.layout.plate).path();
    let inked = dots(&plate);
    let mut items: Vec<Item> = vec![Path::stroked(plate, line_of(NARROW)).into()];
    for ring in &view.subject().rings {
        let at = on * Point::new(ring.x, ring.y);
        let radius = (ring.hole * scale).max(DOT);
        items.push(Path::stroked(circle(at.x, at.y, radius), line_of(NARROW)).into());
    }
    for tile in 0..grid.count() {
        items.push(frame(grid.core(tile), NARROW).into());
    }
    if let Some(meant) = meant {
        items.push(frame(grid.core(meant), MEANT).into());
    }
    for item in items {
        block.push(Layer::Frame, item);
    }
    for tile in 0..grid.count() {
        let style = if meant == Some(tile) { BENCH.strong() } else { BENCH.text() };
        let row = labels.set(&(tile + 1).to_string(), style.figures(), None);
        let core = to.transform_rect_bbox(grid.core(tile));
        if let Some(at) = clear(core.inset(-INSET), (row.width, BENCH.body), &inked) {
            block.text(Layer::Labels, &row, at.x, at.y);
        }
    }
    block
}

/// Points along a line, close enough that no number slips between two of them.
fn dots(line: &BezPath) -> Vec<Point> {
    let steps = |from: Point, to: Point| {
        let count = ((to - from).hypot() / BETWEEN_DOTS).ceil().max(1.0);
        std::iter::successors(Some(0.0), move |step| (*step < count).then_some(*step + 1.0))
            .map(move |step| from.lerp(to, step / count))
    };
    let mut all = Vec::new();
    let mut pen = Point::ORIGIN;
    kurbo::flatten(line, BETWEEN_DOTS / 10.0, |element| match element {
        PathEl::MoveTo(to) => pen = to,
        PathEl::LineTo(to) => {
            all.extend(steps(pen, to));
            pen = to;
        }
        _ => {}
    });
    all
}

/// Where a number of a width and height goes in a tile: a corner, else the middle of a
/// side, else the middle, the first that the plate's edge does not cross; the first
/// corner where all are crossed. `None` where the tile is too small for it.
fn clear(room: Rect, (width, height): (f64, f64), inked: &[Point]) -> Option<Point> {
    let spare = (room.width() - width, room.height() - height);
    if spare.0 <= 0.0 || spare.1 <= 0.0 {
        return None;
    }
    let at = |(across, down): (f64, f64)| {
        Point::new(room.x0 + spare.0 * across, room.y0 + spare.1 * down + height)
    };
    let crossed = |at: &Point| {
        let number = Rect::new(at.x, at.y - height, at.x + width, at.y).inflate(INSET, INSET);
        inked.iter().any(|dot| number.contains(*dot))
    };
    let places = PLACES.iter().copied().map(at);
    places.clone().find(|place| !crossed(place)).or_else(|| places.clone().next())
}
