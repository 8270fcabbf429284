//! The plaque at true size with its overall dimensions.

use crate::drawing::Group;
use crate::job::Job;

use super::super::block::{Block, Layer, moved};
use super::super::dimension::{Along, clear_of, plain};
use super::super::edge::touches;
use super::super::heading::READ;
use super::super::plaque::{Heads, extent, plaque};
use super::super::text::{Labels, SetRow};
use super::super::words;

/// How far dimension lines stand from the plate, at least, mm.
const OFF: f64 = 6.0;
/// How far extension lines run past them, and a little white, mm.
const PAST: f64 = 2.0;

/// The picture laid out about the plate's middle; all mm.
pub(super) struct Picture {
    across: SetRow,
    down: SetRow,
    /// From the plate's middle to what stands furthest left: plate, a head, or text.
    left: f64,
    /// From the plate's middle to the upright dimension's line.
    right: f64,
    /// From the picture's top to the plate's top edge.
    top: f64,
    /// Width of the whole picture.
    pub(super) width: f64,
    /// Height of the whole picture.
    pub(super) height: f64,
}

impl Picture {
    pub(super) fn new(labels: &Labels, job: &Job) -> Self {
        let plate = &job.layout.plate;
        let set = |value| labels.set(&words::both(job.layout.inches, value), READ.figures(), None);
        let (across, down) = (set(plate.width), set(plate.height));
        let all = extent(job);
        let middle = plate.width / 2.0;
        // On a plate smaller than its own dimensions the two texts must not meet.
        let left = (middle - all.x0).max(across.width / 2.0);
        let right = (all.x1 - middle).max(across.width / 2.0) + off(&down);
        let over = (down.width - plate.height) / 2.0;
        let top = over.max(-all.y0).max(0.0);
        let foot = (plate.height + over).max(all.y1 + off(&across) + PAST);
        Self { across, down, left, right, top, width: left + right + PAST, height: top + foot }
    }

    /// The picture in a block of a width; the plate in its middle where the
    /// dimension at its right leaves room for that.
    pub(super) fn block(&self, job: &Job, width: f64) -> Block {
        let plate = &job.layout.plate;
        let all = extent(job);
        let touch = |along, at| touches(plate, along, at).1;
        let middle = (width / 2.0).min(width - self.right - PAST).max(self.left);
        let (x, y) = (middle - plate.width / 2.0, self.top);
        let mut block = Block::empty(self.height);
        block.push(Layer::Plaque, moved(plaque(job, Heads::Drawn).into(), x, y));
        let foot = y + all.y1;
        let mut lines = Block::empty(0.0);
        plain(
            &mut lines,
            Along::Across,
            (x, x + plate.width),
            ([0.0, plate.width].map(|at| y + touch(Along::Across, at)), foot + off(&self.across)),
            &self.across,
        );
        plain(
            &mut lines,
            Along::Down,
            (y, y + plate.height),
            ([0.0, plate.height].map(|at| x + touch(Along::Down, at)), middle + self.right),
            &self.down,
        );
        let both = |value| words::both(job.layout.inches, value);
        let told = format!("{} wide, {} high", both(plate.width), both(plate.height));
        let group = Group::new("plate-dimensions", &told, Vec::new());
        block.add(lines.gathered(Layer::Dimensions, group), 0.0, 0.0);
        block
    }
}

fn off(row: &SetRow) -> f64 {
    clear_of(row).max(OFF)
}
