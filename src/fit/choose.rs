//! Which breaking, when heights, the number of rows of each line and each row's
//! width are settled: least sense cost, then least raggedness rounded to 1/1000,
//! then the earliest differing break later in the text.

use smallvec::SmallVec;

use super::exact::limit_in_caps;
use super::lists::{ByRow, Rows};
use super::pieces::{ALLOWED, Pieces};
use super::problem::{LineProblem, Problem};

/// What raggedness is rounded to: parts of 1.
const RAGGEDNESS_PARTS: f64 = 1000.0;

/// Sense cost and raggedness of some rows; compared in this order.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(super) struct Merit {
    pub(super) cost: u64,
    pub(super) raggedness: f64,
}

impl Merit {
    pub(super) const NONE: Self = Self { cost: 0, raggedness: 0.0 };

    /// Of both sets of rows together.
    pub(super) fn and(self, other: Self) -> Self {
        Self { cost: self.cost + other.cost, raggedness: self.raggedness + other.raggedness }
    }
}

/// One line with its cap height and the width of each of its rows, mm.
#[derive(Debug, Clone)]
struct Asked<'a> {
    line: &'a LineProblem,
    pieces: &'a Pieces,
    height: f64,
    rooms: &'a [f64],
    /// The same in cap heights, for the width of a piece.
    limits: ByRow<f64>,
    /// By row, the first and last node at which it may begin; the line's end is one more.
    windows: ByRow<(usize, usize)>,
    /// By row, where the entries of its nodes begin: those of the line's end come first.
    starts: ByRow<usize>,
}

/// What a line's rows from one on cost at least, when it begins at a node.
#[derive(Debug, Clone, Copy)]
struct Entry {
    /// Least sense cost of the break at the node and all later ones; [`IMPOSSIBLE`] where
    /// the rows cannot end at the line's end.
    cost: u64,
    /// Least raggedness of the rows at that cost; known where `best`.
    raggedness: f64,
    /// Whether the whole line can cost least when its row begins here.
    best: bool,
}

/// Cost of what cannot be.
const IMPOSSIBLE: u64 = u64::MAX;

/// Entries of nodes by row, line after line.
type Entries = SmallVec<[Entry; 32]>;

impl Entry {
    const UNKNOWN: Self = Self { cost: 0, raggedness: f64::INFINITY, best: false };
}

impl<'a> Asked<'a> {
    fn new(
        line: &'a LineProblem,
        pieces: &'a Pieces,
        height: f64,
        rooms: &'a [f64],
    ) -> Option<Self> {
        let limits: ByRow<f64> =
            rooms.iter().map(|&room| limit_in_caps(line, room, height)).collect();
        let windows = pieces.windows(&limits)?;
        let mut starts = ByRow::from_elem(0, windows.len());
        for row in (0..rooms.len()).rev() {
            let (first, last) = windows[row + 1];
            starts[row] = starts[row + 1] + (last - first + 1);
        }
        Some(Self { line, pieces, height, rooms, limits, windows, starts })
    }

    /// How many entries the line has.
    fn entries(&self) -> usize {
        let (first, last) = self.windows[0];
        self.starts[0] + (last - first + 1)
    }

    /// Costs first; raggedness then only for what costs least in all: nothing else is ever
    /// asked for it.
    fn fill(&self, entries: &mut [Entry]) {
        entries[0].raggedness = 0.0;
        for row in (0..self.rooms.len()).rev() {
            let (after, own) = self.parted(entries, row);
            self.row_costs(row, after, own);
        }
        entries[self.starts[0]].best = entries[self.starts[0]].cost < IMPOSSIBLE;
        for row in 0..self.rooms.len() {
            let (after, own) = self.parted(entries, row);
            let next = self.windows[row + 1].0;
            for (node, own) in (self.windows[row].0..).zip(own).filter(|(_, own)| own.best) {
                let left = own.cost - self.cost(node);
                self.onward(node, row, |to, _| {
                    let after = &mut after[to - next];
                    after.best |= after.cost == left;
                });
            }
        }
        for row in (0..self.rooms.len()).rev() {
            let (after, own) = self.parted(entries, row);
            let next = self.windows[row + 1].0;
            for (node, own) in (self.windows[row].0..).zip(own).filter(|(_, own)| own.best) {
                let left = own.cost - self.cost(node);
                self.onward(node, row, |to, width| {
                    let after = after[to - next];
                    if after.cost == left {
                        let whole = self.raggedness(row, width) + after.raggedness;
                        own.raggedness =
                            if whole < own.raggedness { whole } else { own.raggedness };
                    }
                });
            }
        }
    }

    /// Of a line's entries those of the row after one, and its own.
    #[inline]
    fn parted<'e>(
        &self,
        entries: &'e mut [Entry],
        row: usize,
    ) -> (&'e mut [Entry], &'e mut [Entry]) {
        let (after, own) = entries.split_at_mut(self.starts[row]);
        let (first, last) = self.windows[row];
        (&mut after[self.starts[row + 1]..], &mut own[..=last - first])
    }

    /// Of a line's entries those of a row's window, and the node at which that begins.
    #[inline]
    fn row<'e>(&self, entries: &'e [Entry], row: usize) -> (&'e [Entry], usize) {
        let (first, last) = self.windows[row];
        (&entries[self.starts[row]..][..=last - first], first)
    }

    /// Least merit of the whole line; `None` where no breaking keeps to its rows.
    fn least(&self, entries: &[Entry]) -> Option<Merit> {
        let Entry { cost, raggedness, .. } = entries[self.starts[0]];
        (cost < IMPOSSIBLE).then_some(Merit { cost, raggedness })
    }

    /// Least costs of a row's nodes, with their own, by those of the next row.
    fn row_costs(&self, row: usize, after: &[Entry], found: &mut [Entry]) {
        let (first, last) = self.windows[row];
        let (after_first, after_last) = self.windows[row + 1];
        let costs = &self.pieces.costs[first..=last];
        let Some(ladder) = self.pieces.rising() else {
            for ((node, own), found) in (first..).zip(costs).zip(found) {
                let mut least = IMPOSSIBLE;
                self.onward(node, row, |to, _| least = after[to - after_first].cost.min(least));
                found.cost = least.saturating_add(u64::from(*own));
            }
            return;
        };
        let limit = self.limits[row];
        let nodes = (first..).zip(&ladder[first..=last]);
        // Before which node the ends within reach stop: from node to node never an earlier one.
        let mut past = after_first;
        for (((node, rung), own), found) in nodes.zip(costs).zip(found) {
            let bound = after_last.min(self.pieces.bound(node));
            while past <= bound && ladder[past].end - rung.begin <= limit {
                past += 1;
            }
            let from = after_first.max(node + 1);
            let within = after.get(from - after_first..past - after_first).unwrap_or_default();
            let least = within.iter().map(|after| after.cost).fold(IMPOSSIBLE, u64::min);
            found.cost = least.saturating_add(u64::from(*own));
        }
    }

    /// Where row `row` can end when it begins at `node`: `found` is told each such node with
    /// the width of the piece up to it, cap heights.
    #[inline]
    fn onward(&self, node: usize, row: usize, found: impl FnMut(usize, f64)) {
        self.pieces.reach_within(node, self.windows[row + 1], self.limits[row], found);
    }

    /// Sense cost of a break at a node.
    fn cost(&self, node: usize) -> u64 {
        u64::from(self.pieces.costs[node])
    }

    /// Raggedness of a row so wide, cap heights.
    fn raggedness(&self, row: usize, width: f64) -> f64 {
        let room = self.rooms[row];
        let short = if room > 0.0 {
            (room - self.line.wide(width, self.height)).max(0.0) / room
        } else {
            0.0
        };
        short * short
    }
}

/// The least merit of one line in just these rows, `height` mm high and so wide, mm; `None`
/// where no breaking keeps to them.
pub(super) fn least_merit(
    line: &LineProblem,
    pieces: &Pieces,
    height: f64,
    rooms: &[f64],
) -> Option<Merit> {
    let asked = Asked::new(line, pieces, height, rooms)?;
    let mut entries = Entries::from_elem(Entry::UNKNOWN, asked.entries());
    asked.fill(&mut entries);
    asked.least(&entries)
}

/// The breaking of every line into as many rows as `rooms` has entries for it: nodes
/// after the first at which its rows end. `rooms`: width of every row, mm. `None` where
/// no breaking keeps to them.
pub(super) fn breaking(
    problem: &Problem,
    pieces: &[Pieces],
    heights: &[f64],
    rooms: &Rows<f64>,
) -> Option<Rows<usize>> {
    let lines = problem.lines.iter().zip(pieces).zip(heights.iter().zip(rooms.lines()));
    let mut all = Vec::with_capacity(problem.lines.len());
    for ((line, pieces), (&height, rooms)) in lines {
        all.push(Asked::new(line, pieces, height, rooms)?);
    }
    let mut entries = Entries::from_elem(Entry::UNKNOWN, all.iter().map(Asked::entries).sum());
    // Raggedness of the rows chosen so far, and the least of the lines not yet begun.
    let (mut chosen, mut later) = (0.0, 0.0);
    let mut others = &mut entries[..];
    for asked in &all {
        let (own, rest) = others.split_at_mut(asked.entries());
        asked.fill(own);
        later += asked.least(own)?.raggedness;
        others = rest;
    }
    let rounded = |raggedness: f64| (raggedness * RAGGEDNESS_PARTS).round();
    let bound = rounded(later);
    let mut breaking = Rows::new();
    let mut others = &entries[..];
    for asked in &all {
        let (entries, rest) = others.split_at(asked.entries());
        others = rest;
        let least = asked.least(entries)?;
        later -= least.raggedness;
        let mut left = least.cost;
        let mut node = 0;
        for row in 0..asked.rooms.len() {
            // The last end that keeps the rounded total; failing that, which only a last
            // digit of the sum can bring about, the least ragged.
            let (mut keeps, mut even) = (None, None);
            let mut least_raggedness = f64::INFINITY;
            let (after, first) = asked.row(entries, row + 1);
            asked.onward(node, row, |to, width| {
                let after = after[to - first];
                if after.cost != left {
                    return;
                }
                let own = asked.raggedness(row, width);
                let whole = own + after.raggedness;
                if rounded(chosen + whole + later) <= bound {
                    keeps = Some((to, own));
                }
                if whole < least_raggedness {
                    least_raggedness = whole;
                    even = Some((to, own));
                }
            });
            let (to, own) = keeps.or(even)?;
            left -= asked.cost(to);
            chosen += own;
            node = to;
            breaking.push(to);
        }
        breaking.end_line();
    }
    Some(breaking)
}

/// The eased scale: `ease·s*`, but not so low that a line falls under its reading wish
/// that keeps it at the limit.
pub(super) fn eased(problem: &Problem, limit: f64) -> f64 {
    let asked = problem.ease * limit;
    let kept = problem.lines.iter().filter_map(|line| {
        let wish = line.wish?;
        let could = line.height(limit) >= wish - ALLOWED;
        let would = line.height(asked) >= wish - ALLOWED;
        (could && !would).then_some(wish / line.ratio)
    });
    kept.fold(asked, f64::max).min(limit)
}

#[cfg(test)]
mod tests {
    use super::{breaking, eased};
    use crate::fit::lists::Rows;
    use crate::fit::pieces::Pieces;
    use crate::fit::problem::LineProblem;
    use crate::fit::testing::{line, problem};

    /// Nodes at which the rows end: `height` mm high in rows `width` mm wide.
    fn ends(lines: Vec<LineProblem>, height: f64, width: f64, rows: &[usize]) -> Vec<Vec<usize>> {
        let pieces: Vec<Pieces> = lines.iter().map(|line| Pieces::new(line, true)).collect();
        let mut rooms = Rows::new();
        for &rows in rows {
            (0..rows).for_each(|_| rooms.push(width));
            rooms.end_line();
        }
        let heights = vec![height; lines.len()];
        let ends = breaking(&problem(lines), &pieces, &heights, &rooms).expect("fits");
        ends.lines().map(<[usize]>::to_vec).collect()
    }

    #[test]
    fn rows_are_as_even_as_they_can_be() {
        // Words 2 3 2 3 2 in rows of 11: two rows. Breaks after 2, 3, 4 words give
        // 6|9, 9|6, 13|…: the first two are equally ragged, the later break wins.
        let words = [2.0, 3.0, 2.0, 3.0, 2.0];
        assert_eq!(ends(vec![line(1.0, &words)], 1.0, 11.0, &[2]), [[3, 5]]);
        // Words 4 3 3 4: 8|8 beats the rest.
        assert_eq!(ends(vec![line(1.0, &[4.0, 3.0, 3.0, 4.0])], 1.0, 12.0, &[2]), [[2, 4]]);
    }

    #[test]
    fn sense_outranks_evenness() {
        let mut costly = line(1.0, &[4.0, 3.0, 3.0, 4.0]);
        costly.costs = [0, 0, 5, 0, 0].into();
        // After three words 12, after one 12: both fit in 12; the later wins.
        assert_eq!(ends(vec![costly], 1.0, 12.0, &[2]), [[3, 4]]);
    }

    #[test]
    fn raggedness_is_compared_over_all_lines_together_rounded() {
        // Room 100. Words 50.0, 0.001, 49.999…: moving the tiny word changes raggedness
        // far below 1/1000, so the later break wins in both lines.
        let tiny = line(1.0, &[50.0, 0.001, 50.1]);
        let ends = ends(vec![tiny.clone(), tiny], 1.0, 100.0, &[2, 2]);
        assert_eq!(ends, [[2, 3], [2, 3]]);
    }

    #[test]
    fn ease_never_costs_a_line_its_reading_wish() {
        let mut wished = problem(vec![line(1.0, &[1.0]), line(0.5, &[1.0])]);
        wished.ease = 0.9;
        assert!((eased(&wished, 4.0) - 3.6).abs() < 1e-12);
        wished.lines[1].wish = Some(1.9);
        assert!((eased(&wished, 4.0) - 3.8).abs() < 1e-12);
        // A wish that the limit itself does not reach is not kept.
        wished.lines[1].wish = Some(2.1);
        assert!((eased(&wished, 4.0) - 3.6).abs() < 1e-12);
    }
}
