//! The key plan: all tiles small, as they lie, and the plate on them. A diagram, not a
//! drawing at any scale to measure by.

use kurbo::{Affine, Rect};

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
/// From a tile's corner to its number, mm.
const INSET: f64 = 1.0;

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
    let mut items: Vec<Item> = vec![Path::stroked(plate, line_of(NARROW)).into()];
    for ring in &view.subject().rings {
        let at = on * kurbo::Point::new(ring.x, ring.y);
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
        let (wide, high) = (row.width + 2.0 * INSET, BENCH.body + 2.0 * INSET);
        if core.width() > wide && core.height() > high {
            let baseline = core.y0 + INSET + BENCH.body;
            block.text(Layer::Labels, &row, core.x0 + INSET, baseline);
        }
    }
    block
}
