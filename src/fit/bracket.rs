//! The limit in fields that are no plain rectangle: bracketed.
//!
//! The feasible scales may be several intervals, so nothing is assumed of their
//! order. Cells of (scale, top edge) are looked at from the highest scale down. A
//! cell in which rows cannot stand even by a bound from above is dropped; the others
//! are probed at a point with exact chords and halved. What is found feasible is a
//! scale from below; the highest scale of the cells that are left is a proven scale
//! from above.
//!
//! Before that some single scales are asked whether a block stands anywhere, so that a
//! fit is known early; and if the work allowed ends without any, the scales between are
//! asked once more, each on its own, down to the floors.

use std::collections::BinaryHeap;

use super::exact;
use super::stack::{Answer, Cell, Least, Site, stands};

/// How near the two ends are to come, mm of the largest cap height.
const CLOSE: f64 = 0.01;

/// A cell smaller than this, mm of top edge and of the largest cap height, is not
/// halved further.
const SMALLEST: f64 = 0.00005;

/// Most work (see [`WORK_A_ROW`](super::stack::WORK_A_ROW)) of one search; then the
/// bracket is reported as wide as it is. Ground: about a second on a common machine.
const MOST_WORK: usize = 150_000_000;

/// Scales that are asked one by one where the work allowed ends without any fit.
const SINGLE_SCALES: u8 = 16;

/// Scales from `low` (known to fit, with its top edge) to `high` (no larger fits).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bracket {
    pub(super) low: f64,
    pub(super) high: f64,
    /// Top edge of a block that stands at `low`, mm.
    pub(super) top: f64,
}

/// A cell in the queue; the highest scale comes first, of equals the earliest.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Waiting {
    scales: (f64, f64),
    tops: (f64, f64),
    born: usize,
}

impl Eq for Waiting {}

impl Ord for Waiting {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.scales.1.total_cmp(&other.scales.1).then(other.born.cmp(&self.born))
    }
}

impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

/// The bracket of the limit; `None` where nothing is found to fit at the floors.
pub(super) fn limit(site: &Site<'_>) -> Option<Bracket> {
    let high = exact::limit(site.problem, site.pieces, &site.bounding())?;
    let low = site.problem.domain_start().min(high);
    Hunt::new(site).run(low, high)
}

/// The bracket of the largest feasible scale from `low` to `high`.
pub(super) fn between(site: &Site<'_>, low: f64, high: f64) -> Option<Bracket> {
    let most = exact::limit(site.problem, site.pieces, &site.bounding())?;
    Hunt::new(site).run(low, high.min(most))
}

/// The highest of some scales, from the highest down to the floors, at which a block stands
/// anywhere; with its top edge.
fn one_by_one(site: &Site<'_>, low: f64, high: f64) -> Option<(f64, f64)> {
    (0..=SINGLE_SCALES).rev().find_map(|step| {
        let scale = low + (high - low) * f64::from(step) / f64::from(SINGLE_SCALES);
        Hunt::new(site).run(scale, scale).map(|found| (found.low, found.top))
    })
}

/// A search under way.
struct Hunt<'a> {
    site: &'a Site<'a>,
    queue: BinaryHeap<Waiting>,
    born: usize,
    work: usize,
    /// Best scale that is known to fit, with its top edge.
    best: Option<(f64, f64)>,
}

impl<'a> Hunt<'a> {
    fn new(site: &'a Site<'a>) -> Self {
        Self { site, queue: BinaryHeap::new(), born: 0, work: 0, best: None }
    }

    fn run(mut self, low: f64, high: f64) -> Option<Bracket> {
        self.first_guess(low, high);
        let above = self.search(low, high);
        if self.best.is_none() && self.work > MOST_WORK && high > low {
            self.best = one_by_one(self.site, low, high);
        }
        let (scale, top) = self.best?;
        Some(Bracket { low: scale, high: above.unwrap_or(scale).max(scale), top })
    }

    /// Looks at cells from the highest down; the highest scale that is left, if any.
    fn search(&mut self, low: f64, high: f64) -> Option<f64> {
        self.push((low, high), (self.site.bounds[1], self.site.bounds[3]));
        let mut above = None;
        while let Some(cell) = self.queue.pop() {
            if self.is_close(cell.scales.1) || self.work > MOST_WORK {
                above = above.or(Some(cell.scales.1));
                break;
            }
            if !self.look(cell) {
                // Too small to halve, and nothing speaks against it.
                above = above.or(Some(cell.scales.1));
            }
        }
        above
    }

    /// Whether a scale is as near to the best as is asked.
    fn is_close(&self, scale: f64) -> bool {
        self.best.is_some_and(|(best, _)| scale <= best || self.growth(best, scale) <= CLOSE)
    }

    /// Greatest difference of a line's cap heights between two scales, mm.
    fn growth(&self, low: f64, high: f64) -> f64 {
        let lines = self.site.problem.lines.iter();
        lines.map(|line| line.height(high) - line.height(low)).fold(0.0, f64::max)
    }

    /// Puts a cell in the queue, less the tops at which the least block would stick out.
    fn push(&mut self, scales: (f64, f64), tops: (f64, f64)) {
        let Some(least) = self.site.least_block(scales.0) else { return };
        let lowest = self.site.bounds[3] - least.height;
        // A block as high as the field stands at its top, whatever the last digit says.
        let lowest = if lowest < self.site.bounds[1] && lowest > self.site.bounds[1] - 1e-8 {
            self.site.bounds[1]
        } else {
            lowest
        };
        let tops = (tops.0, tops.1.min(lowest));
        if tops.0 <= tops.1 {
            self.born += 1;
            self.queue.push(Waiting { scales, tops, born: self.born });
        }
    }

    /// Looks at a cell: drops it, or probes and halves it. `false` where it is too small
    /// to be halved.
    fn look(&mut self, cell: Waiting) -> bool {
        let low = match self.best {
            Some((best, _)) => cell.scales.0.max(best),
            None => cell.scales.0,
        };
        let scales = (low, cell.scales.1);
        let (Some(least), steps) =
            (self.site.least_block(low), self.site.problem.heights(scales.1))
        else {
            return true;
        };
        let high = super::heights::Steps::new(self.site.problem, steps, 0.0);
        let bound = Cell { low: &least, high: &high, tops: cell.tops };
        if stands(self.site, bound, &mut self.work) == Answer::No {
            return true;
        }
        let middle_top = cell.tops.0 + (cell.tops.1 - cell.tops.0) / 2.0;
        self.probe(scales, middle_top);
        let tall = cell.tops.1 - cell.tops.0;
        let wide = self.growth(scales.0, scales.1);
        if tall <= SMALLEST && wide <= SMALLEST {
            return false;
        }
        let ones = vec![1; self.site.pieces.len()];
        let block_growth = high.block(&ones) - least.steps.block(&ones);
        if (block_growth > tall && wide > SMALLEST) || tall <= SMALLEST {
            let middle = scales.0 + (scales.1 - scales.0) / 2.0;
            self.push((scales.0, middle), cell.tops);
            self.push((middle, scales.1), cell.tops);
        } else {
            self.push(scales, (cell.tops.0, middle_top));
            self.push(scales, (middle_top, cell.tops.1));
        }
        true
    }

    /// Whether rows stand at exactly this scale and top edge; keeps the best.
    fn stands_at(&mut self, least: &Least, scale: f64, top: f64) -> bool {
        let point = Cell { low: least, high: &least.steps, tops: (top, top) };
        let stands = stands(self.site, point, &mut self.work) == Answer::Yes;
        if stands && self.best.is_none_or(|(best, _)| scale > best) {
            self.best = Some((scale, top));
        }
        stands
    }

    /// Tries the lowest scale of a cell, and from there up by halving, at one top edge.
    fn probe(&mut self, scales: (f64, f64), top: f64) {
        let (mut low, mut high) = scales;
        let known = self.best.is_some_and(|(best, _)| low <= best);
        if known {
            low += (high - low) / 2.0;
        }
        let Some(least) = self.site.least_block(low) else { return };
        if !self.stands_at(&least, low, top) {
            return;
        }
        while self.growth(low, high) > CLOSE / 4.0 {
            let middle = low + (high - low) / 2.0;
            let Some(least) = self.site.least_block(middle) else { return };
            if self.stands_at(&least, middle, top) {
                low = middle;
            } else {
                high = middle;
            }
        }
    }

    /// A scale to begin with: from the highest down in even steps, the block in the
    /// middle, at the top, at the bottom and between.
    fn first_guess(&mut self, low: f64, high: f64) {
        const STEPS: u8 = 24;
        for step in 0..=STEPS {
            let scale = high - (high - low) * f64::from(step) / f64::from(STEPS);
            let Some(least) = self.site.least_block(scale) else { continue };
            let spare = (self.site.bounds[3] - self.site.bounds[1] - least.height).max(0.0);
            for share in [0.5, 0.25, 0.75, 0.0, 1.0] {
                let top = self.site.bounds[1] + share * spare;
                if self.stands_at(&least, scale, top) {
                    return;
                }
            }
        }
    }
}
