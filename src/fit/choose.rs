//! Which breaking, when heights, the number of rows of each line and each row's
//! width are settled: least sense cost, then least raggedness rounded to 1/1000,
//! then the earliest differing break later in the text.

use smallvec::SmallVec;

use super::exact::limit_in_caps;
use super::lists::{ByLine, Rows};
use super::pieces::{ALLOWED, Pieces, Window};
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

/// One line with its cap height and its rows.
#[derive(Debug, Clone, Copy)]
struct Asked<'a> {
    line: &'a LineProblem,
    pieces: &'a Pieces,
    height: f64,
    /// Width of each row, mm.
    rooms: &'a [f64],
    /// Where each may begin, and last where the line ends.
    windows: &'a [Window],
}

/// What a line's rows from one on come to at best, when that one begins at a node: the least
/// sense cost of the break at the node and of all later ones, and the least raggedness at that
/// cost.
#[derive(Debug, Clone, Copy)]
struct Entry {
    cost: u64,
    raggedness: f64,
}

/// Entries of nodes by row, those of the line's end last; line after line.
type Entries = SmallVec<[Entry; 64]>;

/// Windows of rows; line after line.
type Windows = SmallVec<[Window; 16]>;

impl Entry {
    /// Where the rows cannot end at the line's end.
    const NONE: Self = Self { cost: u64::MAX, raggedness: f64::INFINITY };
}

/// Adds the windows of a line's rows; `None` where it is plain that no breaking keeps to them.
fn open(
    line: &LineProblem,
    pieces: &Pieces,
    height: f64,
    rooms: &[f64],
    windows: &mut Windows,
) -> Option<()> {
    let from = windows.len();
    let window = |limit: f64| Window { limit, first: 0, last: 0 };
    for &room in rooms {
        windows.push(window(limit_in_caps(line, room, height)));
    }
    windows.push(window(0.0));
    pieces.narrow(&mut windows[from..]).then_some(())
}

impl Asked<'_> {
    /// Adds the entries of all nodes at which its rows may begin.
    fn fill(&self, entries: &mut Entries) {
        let nodes = |window: &Window| window.last - window.first + 1;
        entries.resize(entries.len() + self.windows.iter().map(nodes).sum::<usize>(), Entry::NONE);
        let mut later = entries.len() - 1;
        entries[later] = Entry { cost: 0, raggedness: 0.0 };
        for (row, pair) in self.windows.windows(2).enumerate().rev() {
            let (own, next) = (pair[0], pair[1]);
            let (before, after) = entries.split_at_mut(later);
            let after = (next.first, &after[..nodes(&next)]);
            later -= nodes(&own);
            let ragged = self.ragged(row);
            for (node, found) in (own.first..=own.last).zip(&mut before[later..]) {
                let mut least = Entry::NONE;
                self.pieces.reach_within(node, after, own.limit, |_, width, after| {
                    let raggedness = ragged.of(width) + after.raggedness;
                    let even = after.cost == least.cost && raggedness < least.raggedness;
                    if after.cost < least.cost || even {
                        least = Entry { cost: after.cost, raggedness };
                    }
                });
                *found = Entry { cost: least.cost.saturating_add(self.cost(node)), ..least };
            }
        }
    }

    /// Sense cost of a break at a node.
    fn cost(&self, node: usize) -> u64 {
        u64::from(self.pieces.costs[node])
    }

    /// How ragged pieces stand in a row.
    fn ragged(&self, row: usize) -> Ragged {
        let room = self.rooms[row];
        let share = if room > 0.0 { 1.0 / room } else { 0.0 };
        Ragged { room, share, unit: self.line.unit(self.height), cut: self.line.cut }
    }
}

/// What the raggedness of pieces in one row follows from: looked at for every piece.
struct Ragged {
    /// Width of the row, mm, and its reciprocal; 0 where it has none.
    room: f64,
    share: f64,
    /// As [`LineProblem::wide`] has them.
    unit: f64,
    cut: f64,
}

impl Ragged {
    /// Raggedness of a piece so wide, cap heights.
    #[inline]
    fn of(&self, width: f64) -> f64 {
        let short = (self.room - (width * self.unit + self.cut)).max(0.0) * self.share;
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
    let (mut windows, mut entries) = (Windows::new(), Entries::new());
    open(line, pieces, height, rooms, &mut windows)?;
    Asked { line, pieces, height, rooms, windows: &windows }.fill(&mut entries);
    merit(entries[0])
}

/// The merit of a whole line by the entry of its beginning; `None` where no breaking keeps to
/// its rows.
fn merit(Entry { cost, raggedness }: Entry) -> Option<Merit> {
    (cost < Entry::NONE.cost).then_some(Merit { cost, raggedness })
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
    let lines = || problem.lines.iter().zip(pieces).zip(heights.iter().zip(rooms.lines()));
    let mut windows = Windows::new();
    for ((line, pieces), (&height, rooms)) in lines() {
        open(line, pieces, height, rooms, &mut windows)?;
    }
    let mut others = &windows[..];
    let mut asked: ByLine<Asked<'_>> = ByLine::new();
    for ((line, pieces), (&height, rooms)) in lines() {
        let (windows, rest) = others.split_at(rooms.len() + 1);
        others = rest;
        asked.push(Asked { line, pieces, height, rooms, windows });
    }
    let mut entries = Entries::new();
    // Raggedness of the rows chosen so far, and the least of the lines not yet begun.
    let (mut chosen, mut later) = (0.0, 0.0);
    for asked in &asked {
        let begins = entries.len();
        asked.fill(&mut entries);
        later += merit(entries[begins])?.raggedness;
    }
    // What is less than this rounds to no more than the least that can be had.
    let bound = (later * RAGGEDNESS_PARTS).round() + 0.5;
    let mut breaking = Rows::new();
    let mut others = &entries[..];
    for asked in &asked {
        let mut least = others[0];
        later -= least.raggedness;
        let mut node = 0;
        for (row, pair) in asked.windows.windows(2).enumerate() {
            let (own, next) = (pair[0], pair[1]);
            others = &others[own.last - own.first + 1..];
            let after = &others[..=next.last - next.first];
            let left = least.cost - asked.cost(node);
            let ragged = asked.ragged(row);
            // The last end that keeps the rounded total; failing that, which only a last
            // digit of the sum can bring about, the least ragged.
            let (mut keeps, mut even) = (None, None);
            let mut least_raggedness = f64::INFINITY;
            asked.pieces.reach_within(node, (next.first, after), own.limit, |to, width, after| {
                if after.cost != left {
                    return;
                }
                let own = ragged.of(width);
                let whole = own + after.raggedness;
                if (chosen + whole + later) * RAGGEDNESS_PARTS < bound {
                    keeps = Some((to, own));
                }
                if whole < least_raggedness {
                    least_raggedness = whole;
                    even = Some((to, own));
                }
            });
            let (to, own) = keeps.or(even)?;
            chosen += own;
            (node, least) = (to, after[to - next.first]);
            breaking.push(to);
        }
        others = &others[1..];
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
