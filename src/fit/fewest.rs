//! How many rows each line gets at a settled scale in a field that is no plain
//! rectangle: fewest rows in all, then least sense cost, then least raggedness; but a
//! block far from the middle is a fault that no better break makes good.

use std::collections::BTreeMap;

use super::choose::{Merit, least_merit};
use super::lists::Rows;
use super::pieces::ALLOWED;
use super::stack::{Least, Site, WORK_A_ROW, place_key, stretch};

/// Places for the block's top edge that are looked at, beside those handed in.
const PLACES: u16 = 64;

/// How far from the middle a block may stand for the sake of better breaks, as a share
/// of the field's height: little enough to pass for the middle. Common practice, no source.
const OFF_MIDDLE: f64 = 0.025;

/// Most work for one place, and for all of them.
const WORK_A_PLACE: usize = 20_000_000;
const MOST_WORK: usize = 40_000_000;

/// Rows and their merit; compared in this order.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
struct Outcome {
    rows: usize,
    merit: Merit,
}

/// Rows of each line, their widths, and the top edge at which they stand.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Arrangement {
    /// Width of every row, mm, line by line.
    pub(super) rooms: Rows<f64>,
    /// Top edge, mm.
    pub(super) top: f64,
}

/// The arrangement with the fewest rows over places of the block from the field's top
/// to its bottom; of equals the one whose middle is nearest to `centre` (mm). Within
/// [`OFF_MIDDLE`] the place with the least sense cost goes before the nearest. `known`: a top edge at which rows are known to stand.
pub(super) fn arrangement(
    site: &Site<'_>,
    scale: f64,
    centre: f64,
    known: f64,
) -> Option<Arrangement> {
    let least = site.least_block(scale)?;
    let [_, top, _, bottom] = site.bounds;
    let spare = (bottom - top - least.height).max(0.0);
    let near = OFF_MIDDLE * (bottom - top);
    let fewest: usize = least.counts.iter().sum();
    let middle = centred_top(site, &least, &least.counts, centre);
    let places = (0..=PLACES).map(|step| top + spare * f64::from(step) / f64::from(PLACES));
    let mut best: Option<Found> = None;
    let mut asked: Vec<u64> = Vec::new();
    let mut work = 0;
    for at in [middle, known].into_iter().chain(places) {
        // Once so few rows stand near the middle, other places than those near it lose.
        let stands = best.as_ref().filter(|best| best.outcome.rows == fewest && best.far <= 0.0);
        if stands.is_some_and(|best| (at - best.top).abs() > best.off + near) {
            continue;
        }
        // Where so many rows would stand in the middle is a place worth trying too.
        let mut next = Some(at);
        while let Some(at) = next.filter(|&at| !asked.contains(&place_key(at))) {
            asked.push(place_key(at));
            next = outcome_at(site, &least, at, &mut work).map(|(outcome, counts)| {
                let ideal = centred_top(site, &least, &counts, centre);
                let off = (at - ideal).abs();
                let found = Found { outcome, far: (off - near).max(0.0), off, counts, top: at };
                if best.as_ref().is_none_or(|best| found.key() < best.key()) {
                    best = Some(found);
                }
                ideal
            });
        }
        // Not fewer rows, not less cost, not nearer: nothing better is to be found.
        let done = |best: &Found| best.key() <= (fewest, 0.0, 0, ALLOWED) || work > MOST_WORK;
        if best.as_ref().is_some_and(done) {
            break;
        }
    }
    let best = best?;
    let rooms = rooms_at(site, &least, &best.counts, best.top)?;
    Some(Arrangement { rooms, top: best.top })
}

/// What is found at one place of the block.
#[derive(Debug, Clone)]
struct Found {
    outcome: Outcome,
    /// How much farther from the middle it stands than passes for it, mm.
    far: f64,
    /// From where the block would stand in the middle, mm.
    off: f64,
    counts: Vec<usize>,
    top: f64,
}

impl Found {
    fn key(&self) -> (usize, f64, u64, f64) {
        (self.outcome.rows, self.far, self.outcome.merit.cost, self.off)
    }
}

/// Top edge at which a block stands in the middle from its first cap line to its last
/// baseline, as near as the field's bounding box allows.
fn centred_top(site: &Site<'_>, least: &Least, counts: &[usize], centre: f64) -> f64 {
    let height = least.steps.block(counts);
    let above = site.problem.lines.first().zip(least.steps.heights.first());
    let below = site.problem.lines.last().zip(least.steps.heights.last());
    let above = above.map_or(0.0, |(line, height)| line.over_capitals(*height));
    let below = below.map_or(0.0, |(line, height)| line.below(*height));
    let [_, top, _, bottom] = site.bounds;
    (centre - (height - above - below) / 2.0 - above).min(bottom - height).max(top)
}

/// Width of every row of a block with its top edge at `top`.
fn rooms_at(site: &Site<'_>, least: &Least, counts: &[usize], top: f64) -> Option<Rows<f64>> {
    let mut rooms = Rows::new();
    for (line, rows) in least.steps.baselines(counts).lines().enumerate() {
        for row in rows {
            rooms.push(room(site, least, line, top + row)?);
        }
        rooms.end_line();
    }
    Some(rooms)
}

/// Width of a row with its baseline at `baseline`, mm.
fn room(site: &Site<'_>, least: &Least, line: usize, baseline: f64) -> Option<f64> {
    let (asked, height) = (&site.problem.lines[line], least.steps.heights[line]);
    let (top, bottom) = (baseline - asked.above(height), baseline + asked.below(height));
    stretch(site.field, asked.align, top, bottom).map(|stretch| stretch.right - stretch.left)
}

/// The best outcome of a block with its top edge at `top`, and the rows of each line.
fn outcome_at(
    site: &Site<'_>,
    least: &Least,
    top: f64,
    work: &mut usize,
) -> Option<(Outcome, Vec<usize>)> {
    let mut places = Places { site, least, known: BTreeMap::new(), work: 0 };
    let first = top + least.steps.first();
    let outcome = places.onward(0, first);
    *work += places.work;
    let outcome = outcome?;
    // Follow the best from line to line.
    let (mut counts, mut baseline) = (Vec::with_capacity(site.pieces.len()), first);
    for line in 0..site.pieces.len() {
        let best = (*places.known.get(&(line, place_key(baseline)))?)?;
        counts.push(best.count);
        baseline = best.next;
    }
    Some((outcome, counts))
}

/// The best from a line on, whose first baseline is given.
#[derive(Debug, Clone, Copy)]
struct Best {
    outcome: Outcome,
    /// Rows of that line.
    count: usize,
    /// First baseline of the next line, mm.
    next: f64,
}

/// Best outcomes by line and first baseline, as far as they have been asked for.
struct Places<'a> {
    site: &'a Site<'a>,
    least: &'a Least,
    known: BTreeMap<(usize, u64), Option<Best>>,
    work: usize,
}

impl Places<'_> {
    /// Best outcome of the lines from `line` on with the first baseline at `first`.
    fn onward(&mut self, line: usize, first: f64) -> Option<Outcome> {
        if line == self.site.pieces.len() {
            return Some(Outcome { rows: 0, merit: Merit::NONE });
        }
        let key = (line, place_key(first));
        if let Some(known) = self.known.get(&key) {
            return known.map(|best| best.outcome);
        }
        let (asked, pieces) = (&self.site.problem.lines[line], &self.site.pieces[line]);
        let height = self.least.steps.heights[line];
        // No breaking has fewer rows in the lines after this one.
        let later: usize = self.least.counts[line + 1..].iter().sum();
        let (mut best, mut baseline) = (None::<Best>, first);
        let mut rooms = Vec::new();
        while rooms.len() < pieces.end()
            && baseline + self.least.rest[line] <= self.site.bounds[3] + ALLOWED
            && best.is_none_or(|best| rooms.len() + 1 + later <= best.outcome.rows)
            && self.work < WORK_A_PLACE
        {
            self.work += WORK_A_ROW;
            let Some(room) = room(self.site, self.least, line, baseline) else { break };
            rooms.push(room);
            let next = baseline + self.least.steps.after[line];
            baseline += self.least.steps.within[line];
            if rooms.len() < self.least.counts[line] {
                continue;
            }
            self.work += pieces.end();
            if let Some(merit) = least_merit(asked, pieces, height, &rooms)
                && let Some(rest) = self.onward(line + 1, next)
            {
                let count = rooms.len();
                let outcome = Outcome { rows: count + rest.rows, merit: merit.and(rest.merit) };
                if best.is_none_or(|best| outcome < best.outcome) {
                    best = Some(Best { outcome, count, next });
                }
            }
        }
        self.known.insert(key, best);
        best.map(|best| best.outcome)
    }
}
