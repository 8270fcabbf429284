//! The pieces into which a line may be broken, and how few of them do.

use crate::layout::{Breaks, FitMode};
use crate::lettering::ShapedLine;

use super::problem::{LineProblem, Problem};

/// What a comparison of lengths allows, mm.
pub(super) const ALLOWED: f64 = 1e-9;

/// A line as a graph: nodes are the stops at which it may be broken, first and
/// last included; a piece runs from one node to a later one and never across a
/// break of the user's own. Widths in cap heights.
#[derive(Debug, Clone)]
pub(super) struct Pieces {
    /// Index of each node among the line's stops.
    pub(super) stops: Vec<usize>,
    /// Sense cost of a break at each node.
    pub(super) costs: Vec<u32>,
    /// By node, widths of the pieces to the following nodes.
    widths: Vec<Vec<f64>>,
    /// By node, the least width of the piece to a following node or any later one:
    /// widths need not grow with the text (kerning, overhang), so only this tells
    /// when to look no further.
    least: Vec<Vec<f64>>,
}

impl Pieces {
    /// The pieces of a line. Unless `free`, only the user's own breaks are nodes.
    pub(super) fn new(line: &LineProblem, free: bool) -> Self {
        let last = line.stops.saturating_sub(1);
        let is_forced = |at: usize| line.forced.get(at).copied().unwrap_or(false);
        let mut stops: Vec<usize> =
            (0..last).filter(|&at| at == 0 || free || is_forced(at)).collect();
        if stops.is_empty() {
            stops.push(0);
        }
        stops.push(last);
        let mut widths = Vec::with_capacity(stops.len());
        for (node, &from) in stops.iter().enumerate() {
            let mut row = Vec::new();
            for &to in stops.iter().skip(node + 1) {
                let slot = (from < to).then(|| ShapedLine::slot(line.stops, from, to));
                let width = slot.and_then(|slot| line.widths.get(slot)).copied();
                row.push(width.map_or(0.0, |width| width.max(0.0)));
                if is_forced(to) {
                    break;
                }
            }
            widths.push(row);
        }
        let least = widths.iter().map(|row| least_from_here(row)).collect();
        let cost = |&stop: &usize| line.costs.get(stop).copied().unwrap_or(0);
        Self { costs: stops.iter().map(cost).collect(), stops, widths, least }
    }

    /// Index of the last node.
    pub(super) fn end(&self) -> usize {
        self.stops.len() - 1
    }

    /// Nodes that a piece from `node` of at most `limit` reaches, nearest first,
    /// with the pieces' widths.
    pub(super) fn reach(&self, node: usize, limit: f64) -> impl Iterator<Item = (usize, f64)> {
        let widths = self.widths[node].iter().zip(&self.least[node]);
        widths
            .take_while(move |&(_, &least)| least <= limit)
            .enumerate()
            .filter(move |&(_, (&width, _))| width <= limit)
            .map(move |(step, (&width, _))| (node + 1 + step, width))
    }

    /// Width of one piece.
    pub(super) fn width(&self, from: usize, to: usize) -> f64 {
        self.widths[from][to - from - 1]
    }

    /// Fewest pieces none of which is wider than `limit`; `None` where no breaking
    /// keeps to it.
    ///
    /// With `w(k)` the least possible widest piece over breakings into at most `k`
    /// pieces, this is the least `k` with `w(k) ≤ limit`.
    pub(super) fn fewest(&self, limit: f64) -> Option<usize> {
        let mut fewest = vec![usize::MAX; self.stops.len()];
        fewest[0] = 0;
        for node in 0..self.end() {
            if fewest[node] == usize::MAX {
                continue;
            }
            let count = fewest[node] + 1;
            for (to, _) in self.reach(node, limit) {
                fewest[to] = fewest[to].min(count);
            }
        }
        fewest.last().copied().filter(|&count| count < usize::MAX)
    }

    /// Nodes at which a row can end when its piece begins at one of `starts` and is at
    /// most `limit` wide. `work` grows by the pieces looked at.
    pub(super) fn ends(&self, starts: &[bool], limit: f64, work: &mut usize) -> Vec<bool> {
        let mut ends = vec![false; self.stops.len()];
        *work += ends.len();
        for node in (0..self.end()).filter(|&node| starts[node]) {
            for (to, _) in self.reach(node, limit) {
                ends[to] = true;
                *work += 1;
            }
        }
        ends
    }

    /// Whether there are nodes beside the line's ends and the user's own breaks.
    pub(super) fn is_freed(&self, line: &LineProblem) -> bool {
        let inner = self.stops.iter().take(self.end()).skip(1);
        inner.into_iter().any(|&stop| !line.forced.get(stop).copied().unwrap_or(false))
    }

    /// Widest piece when the line is broken at every node.
    pub(super) fn widest_at_every_node(&self) -> f64 {
        (0..self.end()).map(|node| self.width(node, node + 1)).fold(0.0, f64::max)
    }
}

/// The least of a row's values from each place on.
fn least_from_here(row: &[f64]) -> Vec<f64> {
    let mut least = row.to_vec();
    for at in (0..least.len().saturating_sub(1)).rev() {
        least[at] = least[at].min(least[at + 1]);
    }
    least
}

/// The pieces of all lines. Whether a line of `breaks = "last resort"` may be broken
/// is decided here, once: only if, unbroken, it would be too wide at its wish, or at
/// its floor where that is greater. In mode `full` every line is of that kind, but for
/// those that never break, and only its floor counts. `widest(line, height)` is the greatest width that
/// the field has for a row of that line at that cap height, mm.
pub(super) fn pieces(problem: &Problem, widest: impl Fn(&LineProblem, f64) -> f64) -> Vec<Pieces> {
    let of_line = |line: &LineProblem| {
        let whole = Pieces::new(line, false);
        let too_wide =
            |height: f64| whole.widest_at_every_node() * height > widest(line, height) + ALLOWED;
        let free = match line.breaks {
            Breaks::Never => false,
            _ if problem.mode == FitMode::Full => too_wide(line.low()),
            Breaks::Free => true,
            Breaks::LastResort => too_wide(line.wish.unwrap_or(0.0).max(line.low())),
        };
        if free { Pieces::new(line, true) } else { whole }
    };
    problem.lines.iter().map(of_line).collect()
}

#[cfg(test)]
mod tests {
    use super::{Pieces, pieces};
    use crate::fit::testing::{line, problem};
    use crate::layout::Breaks;

    #[test]
    fn the_fewest_pieces_are_found_where_greed_would_miss_them() {
        // Words of 4, 4, 4; but the first two together are 9 wide, all three only 8
        // (say, a ligature): a greedy first row would take one word and need three rows
        // of at most 8, while the whole fits in one.
        let mut odd = line(1.0, &[4.0, 4.0, 4.0]);
        odd.widths = vec![4.0, 9.0, 8.0, 4.0, 9.0, 4.0];
        let pieces = Pieces::new(&odd, true);
        assert_eq!(pieces.fewest(8.0), Some(1));
        assert_eq!(pieces.fewest(7.0), Some(3));
        assert_eq!(pieces.fewest(3.9), None);
    }

    #[test]
    fn no_piece_runs_across_a_break_of_the_users_own() {
        let mut broken = line(1.0, &[2.0, 2.0, 2.0]);
        broken.forced[2] = true;
        let free = Pieces::new(&broken, true);
        assert_eq!(free.fewest(100.0), Some(2));
        let whole = Pieces::new(&broken, false);
        assert_eq!(whole.stops, [0, 2, 3]);
        assert_eq!(whole.fewest(100.0), Some(2));
        assert_eq!(whole.fewest(3.0), None);
    }

    #[test]
    fn a_last_resort_line_is_broken_only_if_too_wide_at_its_wish_or_floor() {
        let mut last = line(1.0, &[10.0, 10.0]);
        last.breaks = Breaks::LastResort;
        (last.floor, last.wish) = (1.0, Some(2.0));
        // Unbroken 21 wide with the space: 42 mm at its wish of 2 mm.
        let nodes = |last: &crate::fit::LineProblem, wide: f64| {
            pieces(&problem(vec![last.clone()]), |_, _| wide)[0].stops.len()
        };
        assert_eq!(nodes(&last, 42.0), 2);
        assert_eq!(nodes(&last, 41.9), 3);
        last.floor = 3.0;
        assert_eq!(nodes(&last, 62.9), 3);
        last.breaks = Breaks::Never;
        assert_eq!(nodes(&last, 1.0), 2);
    }

    #[test]
    fn a_line_without_stops_is_one_piece_without_ink() {
        let mut empty = line(1.0, &[1.0]);
        (empty.stops, empty.widths) = (0, Vec::new());
        assert_eq!(Pieces::new(&empty, true).fewest(0.0), Some(1));
    }
}
