//! Which breaking, when heights, the number of rows of each line and each row's
//! width are settled: least sense cost, then least raggedness rounded to 1/1000,
//! then the earliest differing break later in the text.

use super::exact::limit_in_caps;
use super::pieces::{ALLOWED, Pieces};
use super::problem::{LineProblem, Problem};
use crate::lettering::Ladder;

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
    limits: Vec<f64>,
    /// By row, the first and last node at which it may begin.
    windows: Vec<(usize, usize)>,
}

/// What a line's rows from one on cost at least, by that row and the node at which it
/// begins. Rows have an entry for each node of their window; the line's end is one more.
struct Table<'a> {
    windows: &'a [(usize, usize)],
    /// By row, where its entries begin.
    starts: Vec<usize>,
    /// Least sense cost of the break at the node and all later ones; [`IMPOSSIBLE`] where
    /// the rows cannot end at the line's end.
    costs: Vec<u64>,
    /// Least raggedness of the rows at that cost; known where the whole line can cost least
    /// when its row begins there.
    raggedness: Vec<f64>,
}

/// Cost of what cannot be.
const IMPOSSIBLE: u64 = u64::MAX;

impl Table<'_> {
    /// Costs and raggedness by the nodes of a row's window, and the first of these.
    fn row(&self, row: usize) -> (&[u64], &[f64], usize) {
        let (first, last) = self.windows[row];
        let places = self.starts[row]..self.starts[row] + (last - first + 1);
        (&self.costs[places.clone()], &self.raggedness[places], first)
    }

    /// Where the entry of a row and node stands.
    fn place(&self, row: usize, node: usize) -> usize {
        self.starts[row] + (node - self.windows[row].0)
    }

    /// Least cost of what comes after a row that begins at a node, whose own cost is `own`.
    fn left(&self, row: usize, node: usize, own: u64) -> u64 {
        self.costs[self.place(row, node)] - own
    }

    /// Least cost of the whole line.
    fn least_cost(&self) -> u64 {
        self.costs[self.starts[0]]
    }

    /// Of the whole line; `None` where no breaking keeps to its rows.
    fn least(&self) -> Option<Merit> {
        let (cost, raggedness) = (self.least_cost(), self.raggedness[self.starts[0]]);
        (cost < IMPOSSIBLE).then_some(Merit { cost, raggedness })
    }
}

impl<'a> Asked<'a> {
    fn new(
        line: &'a LineProblem,
        pieces: &'a Pieces,
        height: f64,
        rooms: &'a [f64],
    ) -> Option<Self> {
        let limits: Vec<f64> =
            rooms.iter().map(|&room| limit_in_caps(line, room, height)).collect();
        let windows = pieces.windows(&limits)?;
        Some(Self { line, pieces, height, rooms, limits, windows })
    }

    /// Costs first; raggedness then only for what costs least in all: nothing else is ever
    /// asked for it.
    fn table(&self) -> Table<'_> {
        let (mut starts, mut nodes) = (vec![0; self.windows.len()], 0);
        for (start, (first, last)) in starts.iter_mut().zip(&self.windows).rev() {
            *start = nodes;
            nodes += last - first + 1;
        }
        let (costs, raggedness) = (vec![0; nodes], vec![f64::INFINITY; nodes]);
        let mut table = Table { windows: &self.windows, starts, costs, raggedness };
        table.raggedness[0] = 0.0;
        for row in (0..self.rooms.len()).rev() {
            let (after, own) = table.costs.split_at_mut(table.starts[row]);
            self.row_costs(row, &after[table.starts[row + 1]..], own);
        }
        for &(row, node) in self.best(&table).iter().rev() {
            let left = table.left(row, node, self.cost(node));
            let (costs, ragged, first) = table.row(row + 1);
            let mut raggedness = f64::INFINITY;
            self.onward(node, row, |to, width| {
                if costs[to - first] == left {
                    let whole = self.raggedness(row, width) + ragged[to - first];
                    raggedness = if whole < raggedness { whole } else { raggedness };
                }
            });
            let place = table.place(row, node);
            table.raggedness[place] = raggedness;
        }
        table
    }

    /// Least costs of a row's nodes, with their own, by those of the next row.
    fn row_costs(&self, row: usize, after: &[u64], found: &mut [u64]) {
        let (first, last) = self.windows[row];
        let (after_first, after_last) = self.windows[row + 1];
        let costs = &self.pieces.costs[first..=last];
        let Some(Ladder { begins, ends }) = self.pieces.rising() else {
            for ((node, own), found) in (first..).zip(costs).zip(found) {
                *found = IMPOSSIBLE;
                self.onward(node, row, |to, _| *found = after[to - after_first].min(*found));
                *found = found.saturating_add(u64::from(*own));
            }
            return;
        };
        let limit = self.limits[row];
        let nodes = (first..).zip(&begins[first..=last]);
        // Before which node the ends within reach stop: from node to node never an earlier one.
        let mut past = after_first;
        for (((node, begin), own), found) in nodes.zip(costs).zip(found) {
            let bound = after_last.min(self.pieces.bound(node));
            while past <= bound && ends[past] - begin <= limit {
                past += 1;
            }
            let from = after_first.max(node + 1);
            let within = after.get(from - after_first..past - after_first).unwrap_or_default();
            let least = within.iter().copied().fold(IMPOSSIBLE, u64::min);
            *found = least.saturating_add(u64::from(*own));
        }
    }

    /// Rows with nodes at which they begin in some breaking of the whole line that costs
    /// least, row by row.
    fn best(&self, table: &Table<'_>) -> Vec<(usize, usize)> {
        let rows = self.rooms.len();
        let mut best = Vec::with_capacity(4 * rows);
        if rows > 0 && table.least_cost() < IMPOSSIBLE {
            best.push((0, self.windows[0].0));
        }
        let mut seen = vec![false; table.costs.len()];
        let mut at = 0;
        while let Some(&(row, node)) = best.get(at) {
            at += 1;
            if row + 1 == rows {
                continue;
            }
            let left = table.left(row, node, self.cost(node));
            let (costs, _, first) = table.row(row + 1);
            let seen = &mut seen[table.starts[row + 1]..];
            self.onward(node, row, |to, _| {
                if costs[to - first] == left && !seen[to - first] {
                    seen[to - first] = true;
                    best.push((row + 1, to));
                }
            });
        }
        best
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
    Asked::new(line, pieces, height, rooms)?.table().least()
}

/// The breaking of every line into as many rows as `rooms` has entries for it: nodes
/// after the first at which its rows end. `rooms`: width of every row, mm. `None` where
/// no breaking keeps to them.
pub(super) fn breaking(
    problem: &Problem,
    pieces: &[Pieces],
    heights: &[f64],
    rooms: &[Vec<f64>],
) -> Option<Vec<Vec<usize>>> {
    debug_assert_eq!(problem.lines.len(), rooms.len());
    let asked: Vec<Asked<'_>> = (problem.lines.iter().zip(pieces).zip(heights.iter().zip(rooms)))
        .map(|((line, pieces), (&height, rooms))| Asked::new(line, pieces, height, rooms))
        .collect::<Option<_>>()?;
    let tables: Vec<_> = asked.iter().map(Asked::table).collect();
    let least: Vec<Merit> = tables.iter().map(Table::least).collect::<Option<_>>()?;
    let total: f64 = least.iter().map(|merit| merit.raggedness).sum();
    let rounded = |raggedness: f64| (raggedness * RAGGEDNESS_PARTS).round();
    let bound = rounded(total);
    // Raggedness of the rows chosen so far, and the least of the lines not yet begun.
    let (mut chosen, mut later) = (0.0, total);
    let mut breaking = Vec::with_capacity(asked.len());
    for ((asked, table), &least) in asked.iter().zip(&tables).zip(&least) {
        later -= least.raggedness;
        let mut left = least.cost;
        let mut node = 0;
        let mut ends = Vec::with_capacity(asked.rooms.len());
        for row in 0..asked.rooms.len() {
            // The last end that keeps the rounded total; failing that, which only a last
            // digit of the sum can bring about, the least ragged.
            let (mut keeps, mut even) = (None, None);
            let mut least_raggedness = f64::INFINITY;
            let (costs, ragged, first) = table.row(row + 1);
            asked.onward(node, row, |to, width| {
                if costs[to - first] != left {
                    return;
                }
                let own = asked.raggedness(row, width);
                let whole = own + ragged[to - first];
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
            ends.push(to);
        }
        breaking.push(ends);
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
    use crate::fit::pieces::Pieces;
    use crate::fit::problem::LineProblem;
    use crate::fit::testing::{line, problem};

    /// Nodes at which the rows end: `height` mm high in rows `width` mm wide.
    fn ends(lines: Vec<LineProblem>, height: f64, width: f64, rows: &[usize]) -> Vec<Vec<usize>> {
        let pieces: Vec<Pieces> = lines.iter().map(|line| Pieces::new(line, true)).collect();
        let rooms: Vec<Vec<f64>> = rows.iter().map(|&rows| vec![width; rows]).collect();
        let heights = vec![height; lines.len()];
        breaking(&problem(lines), &pieces, &heights, &rooms).expect("fits")
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
