//! The pieces into which a line may be broken, and how few of them do.

use std::iter;
use std::sync::Arc;

use crate::layout::{Breaks, FitMode};
use crate::lettering::Rung;

use super::problem::{LineProblem, Problem};

/// What a comparison of lengths allows, mm.
pub(super) const ALLOWED: f64 = 1e-9;

/// A line as a graph: nodes are the stops at which it may be broken, first and
/// last included; a piece runs from one node to a later one and never across a
/// break of the user's own. Widths in cap heights.
#[derive(Debug, Clone)]
pub(super) struct Pieces {
    /// Index of each node among the line's stops, where not every stop is a node.
    stops: Option<Vec<usize>>,
    /// Sense cost of a break at each node; the line's own ends are no breaks and cost nothing.
    pub(super) costs: Arc<[u32]>,
    /// By node, the last node that a piece from it may reach; none where that is the end.
    bounds: Vec<usize>,
    widths: Kind,
}

/// How the widths of pieces are held.
#[derive(Debug, Clone)]
enum Kind {
    /// By node, where a piece begins that begins there, and where one ends that ends
    /// there. And the widest piece from a node to the next.
    Ladder { ladder: Arc<[Rung]>, widest_step: f64 },
    /// By node, widths of the pieces to the following nodes; and the least width of the
    /// piece to a following node or any later one: widths need not grow with the text
    /// (kerning, overhang), so only this tells when to look no further.
    Table { widths: Vec<Vec<f64>>, least: Vec<Vec<f64>> },
}

/// A row that a line is to have; after the last one, the line's end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Window {
    /// Width of a piece in it at most, cap heights; of no meaning at the line's end.
    pub(super) limit: f64,
    /// First and last node at which it may begin.
    pub(super) first: usize,
    pub(super) last: usize,
}

/// Some nodes of a line.
#[derive(Debug, Clone)]
pub(super) enum Nodes {
    /// From the first to the last.
    Stretch(usize, usize),
    /// Those that are marked.
    Each(Vec<bool>),
}

impl Nodes {
    /// Whether a node is one of them.
    pub(super) fn holds(&self, node: usize) -> bool {
        match self {
            Self::Stretch(first, last) => (*first..=*last).contains(&node),
            Self::Each(marked) => marked.get(node).copied().unwrap_or(false),
        }
    }

    /// Whether one of them lies before a node.
    pub(super) fn any_before(&self, node: usize) -> bool {
        match self {
            Self::Stretch(first, last) => first <= last && *first < node,
            Self::Each(marked) => marked.iter().take(node).any(|marked| *marked),
        }
    }
}

impl Pieces {
    /// The pieces of a line. Unless `free`, only the user's own breaks are nodes.
    pub(super) fn new(line: &LineProblem, free: bool) -> Self {
        let last = line.widths.stops().saturating_sub(1);
        let is_forced = |at: usize| line.forced.get(at).copied().unwrap_or(false);
        let stops = (!free || last == 0).then(|| -> Vec<usize> {
            let inner = (1..last).filter(|&at| is_forced(at));
            iter::once(0).chain(inner).chain([last]).collect()
        });
        let nodes = stops.as_ref().map_or(last + 1, Vec::len);
        let stop = |node: usize| stops.as_ref().map_or(node, |stops| stops[node]);
        let mut bounds = Vec::new();
        if line.forced.contains(&true) {
            bounds = vec![nodes - 1; nodes];
            let mut from = 0;
            for node in (1..nodes).filter(|&node| is_forced(stop(node))) {
                bounds[from..node].fill(node);
                from = node;
            }
        }
        let bound = |node: usize| bounds.get(node).copied().unwrap_or(nodes - 1);
        let widths = match line.widths.ladder() {
            Some(whole) => {
                let ladder = match &stops {
                    None => Arc::clone(whole),
                    Some(stops) => stops.iter().map(|&stop| whole[stop]).collect(),
                };
                let steps = ladder.windows(2).map(|step| step[1].end - step[0].begin);
                let widest_step =
                    steps.fold(0.0, |most, step| if step > most { step } else { most });
                Kind::Ladder { ladder, widest_step }
            }
            None => {
                let row = |node: usize| -> Vec<f64> {
                    let to = node + 1..=bound(node);
                    to.map(|to| line.widths.of(stop(node), stop(to))).collect()
                };
                let widths: Vec<Vec<f64>> = (0..nodes - 1).map(row).collect();
                let least = widths.iter().map(|row| least_from_here(row)).collect();
                Kind::Table { widths, least }
            }
        };
        let costs = costs(line, nodes, stop);
        Self { stops, costs, bounds, widths }
    }

    /// Number of nodes.
    fn nodes(&self) -> usize {
        self.costs.len()
    }

    /// Index of the last node.
    pub(super) fn end(&self) -> usize {
        self.nodes() - 1
    }

    /// A node as a stop of the line.
    pub(super) fn stop(&self, node: usize) -> usize {
        self.stops.as_ref().map_or(node, |stops| stops[node])
    }

    /// The last node that a piece from a node may reach.
    #[inline]
    pub(super) fn bound(&self, node: usize) -> usize {
        self.bounds.get(node).copied().unwrap_or(self.end())
    }

    /// Nodes that a piece from `node` of at most `limit` reaches, nearest first,
    /// with the pieces' widths.
    pub(super) fn reach(&self, node: usize, limit: f64) -> impl Iterator<Item = (usize, f64)> {
        let (last, tabled) = match &self.widths {
            Kind::Ladder { .. } => (self.furthest(node, limit), None),
            Kind::Table { widths, least } => {
                let within = least[node].partition_point(|&least| least <= limit);
                (node + within, Some(&widths[node]))
            }
        };
        (node + 1..=last).filter_map(move |to| {
            let width = tabled.map_or_else(|| self.width(node, to), |row| row[to - node - 1]);
            (width <= limit).then_some((to, width))
        })
    }

    /// The same, only nodes from `first` on for which there are entries, the first of which is
    /// of that node; `found` is told each with its width and its entry.
    #[inline]
    pub(super) fn reach_within<'e, T>(
        &self,
        node: usize,
        (first, entries): (usize, &'e [T]),
        limit: f64,
        mut found: impl FnMut(usize, f64, &'e T),
    ) {
        let from = first.max(node + 1);
        let entries = entries.get(from - first..).unwrap_or_default();
        if let Kind::Ladder { ladder, .. } = &self.widths {
            let begin = ladder[node].begin;
            let rungs = ladder.get(from..=self.bound(node)).unwrap_or_default();
            for (step, (rung, entry)) in rungs.iter().zip(entries).enumerate() {
                let width = (rung.end - begin).max(0.0);
                if width > limit {
                    break;
                }
                found(from + step, width, entry);
            }
            return;
        }
        for (to, entry) in (from..=self.bound(node)).zip(entries) {
            let width = self.width(node, to);
            if width <= limit {
                found(to, width, entry);
            }
        }
    }

    /// In a line with rising widths, by node where pieces begin that begin there and where
    /// those end that end there.
    #[inline]
    pub(super) fn rising(&self) -> Option<&[Rung]> {
        let Kind::Ladder { ladder, .. } = &self.widths else { return None };
        Some(ladder)
    }

    /// In a line with rising widths, the last node that a piece of at most `limit` reaches
    /// from a node; the node itself where it reaches none.
    fn furthest(&self, node: usize, limit: f64) -> usize {
        self.furthest_near(node, node + 1, limit)
    }

    /// The same, sought from a node on that is likely to be near it: rows of a line are
    /// about as long as each other.
    #[inline]
    fn furthest_near(&self, node: usize, near: usize, limit: f64) -> usize {
        let Some(ladder) = self.rising() else { return node };
        let (begin, last) = (ladder[node].begin, self.bound(node));
        let fits = |to: usize| (ladder[to].end - begin).max(0.0) <= limit;
        let mut to = near.min(last);
        while to > node && !fits(to) {
            to -= 1;
        }
        while to < last && fits(to + 1) {
            to += 1;
        }
        to
    }

    /// Width of one piece.
    #[inline]
    pub(super) fn width(&self, from: usize, to: usize) -> f64 {
        match &self.widths {
            Kind::Ladder { ladder, .. } => (ladder[to].end - ladder[from].begin).max(0.0),
            Kind::Table { widths, .. } => widths[from][to - from - 1],
        }
    }

    /// Fewest pieces none of which is wider than `limit`, and how wide the widest is of
    /// one such breaking; `None` where no breaking keeps to it.
    ///
    /// With `w(k)` the least possible widest piece over breakings into at most `k`
    /// pieces, this is the least `k` with `w(k) ≤ limit`.
    pub(super) fn fewest(&self, limit: f64) -> Option<(usize, f64)> {
        if let Kind::Ladder { .. } = self.widths {
            // Widths rise: a piece as long as may be leaves the least to the others.
            let (mut node, mut count, mut widest) = (0, 0, 0.0_f64);
            let mut length = 1;
            while node < self.end() {
                let to = self.furthest_near(node, node + length, limit);
                if to == node {
                    return None;
                }
                widest = widest.max(self.width(node, to));
                length = to - node;
                (node, count) = (to, count + 1);
            }
            return Some((count, widest));
        }
        let mut fewest = vec![(usize::MAX, 0.0); self.nodes()];
        fewest[0] = (0, 0.0_f64);
        for node in 0..self.end() {
            let (count, widest) = fewest[node];
            if count == usize::MAX {
                continue;
            }
            for (to, width) in self.reach(node, limit) {
                let found = (count + 1, widest.max(width));
                if found < fewest[to] {
                    fewest[to] = found;
                }
            }
        }
        fewest.last().copied().filter(|&(count, _)| count < usize::MAX)
    }

    /// The nodes at which a row can end when its piece begins at one of `starts` and is at
    /// most `limit` wide. `work` grows by the pieces looked at.
    pub(super) fn ends(&self, starts: Nodes, limit: f64, work: &mut usize) -> Nodes {
        *work += 1;
        if let (Kind::Ladder { widest_step, .. }, Nodes::Stretch(first, last)) =
            (&self.widths, &starts)
            && *widest_step <= limit
        {
            // From every node the next one is reached, so what is reached has no gap.
            let last = (*last).min(self.end() - 1);
            return Nodes::Stretch(first + 1, self.furthest(last, limit));
        }
        *work += self.nodes();
        let mut ends = vec![false; self.nodes()];
        for node in (0..self.end()).filter(|&node| starts.holds(node)) {
            for (to, _) in self.reach(node, limit) {
                ends[to] = true;
                *work += 1;
            }
        }
        Nodes::Each(ends)
    }

    /// Finds where the rows of a line may begin, by their limits; the last of the windows is
    /// that of the line's end. Wider than need be where widths do not rise; `false` where it is
    /// plain that no breaking keeps to them.
    pub(super) fn narrow(&self, windows: &mut [Window]) -> bool {
        let Some((end, rows)) = windows.split_last_mut() else { return false };
        let rising = matches!(self.widths, Kind::Ladder { .. });
        let (mut latest, mut length) = (0, 1);
        for row in &mut *rows {
            row.last = latest;
            let reached = if rising {
                self.furthest_near(latest, latest + length, row.limit)
            } else {
                self.end()
            };
            (latest, length) = (reached, reached - latest);
        }
        (end.first, end.last) = (self.end(), latest);
        let mut next = self.end();
        for (at, row) in rows.iter_mut().enumerate().rev() {
            let mut from = if rising { next.min(row.last) } else { at };
            let reaches =
                |node: usize| next <= self.bound(node) && self.width(node, next) <= row.limit;
            while rising && from > at && reaches(from - 1) {
                from -= 1;
            }
            row.first = from;
            next = from;
        }
        next == 0 && latest == self.end() && rows.iter().all(|row| row.first <= row.last)
    }

    /// Whether there are nodes beside the line's ends and the user's own breaks.
    pub(super) fn is_freed(&self, line: &LineProblem) -> bool {
        let inner = (1..self.end()).map(|node| self.stop(node));
        inner.into_iter().any(|stop| !line.forced.get(stop).copied().unwrap_or(false))
    }

    /// Widest piece when the line is broken at every node.
    pub(super) fn widest_at_every_node(&self) -> f64 {
        if let Kind::Ladder { widest_step, .. } = self.widths {
            return widest_step;
        }
        (0..self.end()).map(|node| self.width(node, node + 1)).fold(0.0, f64::max)
    }
}

/// Sense costs of a line's nodes, their stops given: the line's own where these say it.
fn costs(line: &LineProblem, nodes: usize, stop: impl Fn(usize) -> usize) -> Arc<[u32]> {
    if nodes == line.widths.stops()
        && let [0, .., 0] = *line.costs
        && line.costs.len() == nodes
    {
        return Arc::clone(&line.costs);
    }
    let inner = 1..nodes - 1;
    let own = |node: usize| line.costs.get(stop(node)).copied().unwrap_or(0);
    (0..nodes).map(|node| if inner.contains(&node) { own(node) } else { 0 }).collect()
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
/// those that never break, and only its floor counts. `widest(line, height)` is the
/// greatest width that the field has for a row of that line at that cap height, mm.
pub(super) fn pieces(problem: &Problem, widest: impl Fn(&LineProblem, f64) -> f64) -> Vec<Pieces> {
    let of_line = |line: &LineProblem| {
        if problem.mode != FitMode::Full && line.breaks == Breaks::Free {
            return Pieces::new(line, true);
        }
        let whole = Pieces::new(line, false);
        let too_wide = |height: f64| {
            line.wide(whole.widest_at_every_node(), height) > widest(line, height) + ALLOWED
        };
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
    use crate::lettering::Widths;

    #[test]
    fn the_fewest_pieces_are_found_where_greed_would_miss_them() {
        // Words of 4, 4, 4; but the first two together are 9 wide, all three only 8
        // (say, a ligature): a greedy first row would take one word and need three rows
        // of at most 8, while the whole fits in one.
        let mut odd = line(1.0, &[4.0, 4.0, 4.0]);
        odd.widths = Widths::table(4, vec![4.0, 9.0, 8.0, 4.0, 9.0, 4.0]);
        let pieces = Pieces::new(&odd, true);
        assert_eq!(pieces.fewest(8.0), Some((1, 8.0)));
        assert_eq!(pieces.fewest(7.0), Some((3, 4.0)));
        assert_eq!(pieces.fewest(3.9), None);
    }

    #[test]
    fn no_piece_runs_across_a_break_of_the_users_own() {
        let mut broken = line(1.0, &[2.0, 2.0, 2.0]);
        broken.forced = [false, false, true, false].into();
        let free = Pieces::new(&broken, true);
        assert_eq!(free.fewest(100.0), Some((2, 5.0)));
        let whole = Pieces::new(&broken, false);
        assert_eq!((0..whole.nodes()).map(|node| whole.stop(node)).collect::<Vec<_>>(), [0, 2, 3]);
        assert_eq!(whole.fewest(100.0), Some((2, 5.0)));
        assert_eq!(whole.fewest(3.0), None);
    }

    #[test]
    fn a_last_resort_line_is_broken_only_if_too_wide_at_its_wish_or_floor() {
        let mut last = line(1.0, &[10.0, 10.0]);
        last.breaks = Breaks::LastResort;
        (last.floor, last.wish) = (1.0, Some(2.0));
        // Unbroken 21 wide with the space: 42 mm at its wish of 2 mm.
        let nodes = |last: &crate::fit::LineProblem, wide: f64| {
            pieces(&problem(vec![last.clone()]), |_, _| wide)[0].nodes()
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
        empty.widths = Widths::table(0, Vec::new());
        assert_eq!(Pieces::new(&empty, true).fewest(0.0), Some((1, 0.0)));
    }
}
