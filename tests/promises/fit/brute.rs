//! The fit's rules worked out the long way: every breaking of every line, one by one.
//!
//! Written from the definitions alone; shares no code with the program but the
//! numbers of the problem and the place of a piece in the triangle of widths.

use ansata::fit::{LineProblem, Problem};
use ansata::layout::{Align, Breaks, FitMode};
use ansata::lettering::Widths;

/// What a comparison of lengths allows, mm.
pub(super) const ALLOWED: f64 = 1e-9;

/// A stream of numbers (xorshift64*, Vigna 2016, written from memory) so that the cases are
/// the same on every run.
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// A number from `low` to `high`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        let share = f64::from(u32::try_from(self.next() >> 32).expect("32 bits"));
        low + (high - low) * share / f64::from(u32::MAX)
    }

    /// A whole number below `end`.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.next() >> 33).expect("31 bits") % end
    }
}

/// A case: up to four lines, eight words in all.
pub(super) fn random_problem(numbers: &mut Numbers, aligned: bool) -> Problem {
    let lines = 1 + numbers.below(4);
    let mut words = vec![1; lines];
    for _ in 0..numbers.below(9 - lines) {
        words[numbers.below(lines)] += 1;
    }
    let lines = words.iter().map(|&words| random_line(numbers, words, aligned));
    Problem { lines: lines.collect(), mode: FitMode::Even, ease: 1.0 }
}

fn random_line(numbers: &mut Numbers, words: usize, aligned: bool) -> LineProblem {
    let stops = words + 1;
    let each: Vec<f64> = (0..words).map(|_| numbers.between(1.0, 9.0)).collect();
    let mut widths = vec![0.0; stops * words / 2];
    for from in 0..words {
        for to in from + 1..=words {
            let letters: f64 = each[from..to].iter().sum();
            let spaces = 0.4 * (to - from - 1) as f64;
            // Kerning and overhang: a piece is not quite the sum of its words, and now
            // and then narrower than a part of it.
            let odd = numbers.below(12) == 0;
            let kerning = if odd { -1.2 } else { numbers.between(-0.1, 0.0) };
            widths[Widths::slot(stops, from, to)] = (letters + spaces + kerning).max(0.1);
        }
    }
    let floor = numbers.between(0.5, 2.5);
    let ceiling = if numbers.below(12) == 0 { floor - 0.3 } else { numbers.between(2.5, 12.0) };
    let forced: Vec<bool> =
        (0..stops).map(|at| at > 0 && at < words && numbers.below(10) == 0).collect();
    let costs = (0..stops).map(|_| u32::from(numbers.below(4) == 0)).collect();
    let ratio = [1.0, 1.0, 1.5, 2.0, 0.7][numbers.below(5)];
    let wish = (numbers.below(3) > 0).then(|| numbers.between(0.5, 3.5));
    let rise = numbers.between(1.0, 1.4);
    LineProblem {
        ratio,
        floor,
        ceiling,
        wish,
        rise,
        depth: numbers.between(0.0, 0.4),
        leading: numbers.between(1.2, 1.8),
        space: [0.0, 0.35, 0.8][numbers.below(3)],
        align: if aligned {
            [Align::Centre, Align::Left, Align::Right][numbers.below(3)]
        } else {
            Align::Centre
        },
        breaks: [Breaks::Free, Breaks::Free, Breaks::LastResort, Breaks::Never][numbers.below(4)],
        forced: forced.into(),
        costs,
        widths: Widths::table(stops, widths),
        // Now and then a drawing, told by what is there already.
        drawn: rise > 1.33,
        // Some below the floors, some above: then only the cut itself is left.
        cut: [0.0, 0.0, 0.25, 0.8][numbers.below(4)],
    }
}

/// One breaking of all lines: for each line its pieces, from stop to stop.
pub(super) type Breaking = Vec<Vec<(usize, usize)>>;

/// Width in mm of a piece at a cap height: what is measured along centre lines grows with
/// the cap height less the cut, and the cut is added once.
pub(super) fn width(line: &LineProblem, (from, to): (usize, usize), height: f64) -> f64 {
    line.widths.of(from, to) * between_centres(line, height) + line.cut
}

/// Height of the centre lines of capitals so high over the strokes (ISO 3098's nominal height).
fn between_centres(line: &LineProblem, height: f64) -> f64 {
    f64::max(height - line.cut, 0.0)
}

/// Ink above and below the baseline, mm: that of the centre lines, and the strokes that
/// stand half above and half below theirs, the lower half upon the baseline.
pub(super) fn reach(line: &LineProblem, height: f64) -> (f64, f64) {
    let unit = between_centres(line, height);
    (line.rise * unit + line.cut, line.depth * unit)
}

/// Every breaking of one line; `free`: at any stop, else only where the user broke it.
fn breakings_of_line(line: &LineProblem, free: bool) -> Vec<Vec<(usize, usize)>> {
    let inner = line.widths.stops() - 2;
    let mut all = Vec::new();
    for chosen in 0..1_usize << inner {
        let is_broken = |stop: usize| chosen >> (stop - 1) & 1 == 1;
        let allowed = (1..=inner)
            .all(|stop| if line.forced[stop] { is_broken(stop) } else { free || !is_broken(stop) });
        if allowed {
            let mut ends: Vec<usize> = (1..=inner).filter(|&stop| is_broken(stop)).collect();
            ends.push(line.widths.stops() - 1);
            let mut from = 0;
            all.push(
                ends.into_iter()
                    .map(|to| (std::mem::replace(&mut from, to), to))
                    .collect::<Vec<_>>(),
            );
        }
    }
    all
}

/// Every breaking of all lines. `widest`: greatest width for a line at a cap height, which
/// decides about last resorts.
pub(super) fn breakings(
    problem: &Problem,
    widest: impl Fn(&LineProblem, f64) -> f64,
) -> Vec<Breaking> {
    let mut all: Vec<Breaking> = vec![Vec::new()];
    for line in &problem.lines {
        let least = if line.ceiling < line.floor { line.ceiling } else { line.floor };
        let full = problem.mode == FitMode::Full;
        let free = match line.breaks {
            Breaks::Free if !full => true,
            Breaks::Never => false,
            _ => {
                let wished = line.wish.filter(|_| !full);
                let height = wished.map_or(least, |wish| wish.max(least));
                let unbroken = &breakings_of_line(line, false)[0];
                unbroken
                    .iter()
                    .any(|&piece| width(line, piece, height) > widest(line, height) + ALLOWED)
            }
        };
        let of_line = breakings_of_line(line, free);
        all = all
            .iter()
            .flat_map(|before| {
                of_line.iter().map(|pieces| {
                    let mut breaking = before.clone();
                    breaking.push(pieces.clone());
                    breaking
                })
            })
            .collect();
    }
    all
}

/// Cap height of a line at a scale.
pub(super) fn height(line: &LineProblem, scale: f64) -> f64 {
    let least = if line.ceiling < line.floor { line.ceiling } else { line.floor };
    let wanted = line.ratio * scale;
    if wanted < least {
        least
    } else if wanted > line.ceiling {
        line.ceiling
    } else {
        wanted
    }
}

/// A row with its box below the block's top edge.
pub(super) struct Box {
    pub(super) width: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
}

/// The rows of a breaking below the block's top edge, heights given.
pub(super) fn boxes(problem: &Problem, breaking: &Breaking, heights: &[f64]) -> Vec<Box> {
    let mut rows: Vec<Box> = Vec::new();
    let mut before: Option<(usize, f64)> = None;
    for (at, (line, pieces)) in problem.lines.iter().zip(breaking).enumerate() {
        let h_b = heights[at];
        for (row, &piece) in pieces.iter().enumerate() {
            let baseline = match before {
                None => reach(line, h_b).0,
                Some((above, baseline)) => {
                    let (a, h_a) = (&problem.lines[above], heights[above]);
                    let lambda = (a.leading + line.leading) / 2.0;
                    let height = match (a.drawn, line.drawn) {
                        (true, false) => h_b,
                        (false, true) => h_a,
                        _ => (h_a + h_b) / 2.0,
                    };
                    let mut asked = (lambda - 1.0) * height;
                    if row == 0 {
                        asked += line.space * height;
                    }
                    let over = (line.rise - 1.0) * between_centres(line, h_b);
                    let kept = reach(a, h_a).1 + over + f64::max(0.10 * h_a.min(h_b), 0.3);
                    baseline + asked.max(kept) + h_b
                }
            };
            rows.push(Box {
                width: width(line, piece, h_b),
                top: baseline - reach(line, h_b).0,
                bottom: baseline + reach(line, h_b).1,
            });
            before = Some((at, baseline));
        }
    }
    rows
}

/// Whether a breaking stands in a rectangle at given heights.
pub(super) fn stands(
    problem: &Problem,
    breaking: &Breaking,
    heights: &[f64],
    (wide, tall): (f64, f64),
) -> bool {
    let rows = boxes(problem, breaking, heights);
    rows.iter().all(|row| row.width <= wide + ALLOWED)
        && rows.last().is_some_and(|row| row.bottom <= tall + ALLOWED)
}

/// The largest number from 0 to `end` at which a monotone question is answered yes.
pub(super) fn last_yes(end: f64, yes: impl Fn(f64) -> bool) -> Option<f64> {
    if yes(end) {
        return Some(end);
    }
    if !yes(0.0) {
        return None;
    }
    let (mut low, mut high) = (0.0, end);
    while high - low > 1e-13 * end {
        let middle = (low + high) / 2.0;
        if yes(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

/// The limit in a rectangle: the largest over all breakings of the largest scale at which
/// that breaking stands.
pub(super) fn limit(problem: &Problem, room: (f64, f64)) -> Option<f64> {
    let end = problem.lines.iter().map(|line| line.ceiling / line.ratio).fold(0.0, f64::max);
    let limits = breakings(problem, |_, _| room.0).into_iter().filter_map(|breaking| {
        last_yes(end, |scale| {
            let heights: Vec<f64> = problem.lines.iter().map(|line| height(line, scale)).collect();
            stands(problem, &breaking, &heights, room)
        })
    });
    limits.fold(None, |most: Option<f64>, limit| Some(most.map_or(limit, |most| most.max(limit))))
}

/// The largest share of their floors at which the lines stand.
pub(super) fn share_of_floors(problem: &Problem, room: (f64, f64)) -> Option<f64> {
    let shares = breakings(problem, |_, _| room.0).into_iter().filter_map(|breaking| {
        last_yes(1.0, |share| {
            let least = |line: &LineProblem| share * line.floor.min(line.ceiling);
            let heights: Vec<f64> = problem.lines.iter().map(least).collect();
            stands(problem, &breaking, &heights, room)
        })
    });
    shares.fold(None, |most: Option<f64>, share| Some(most.map_or(share, |most| most.max(share))))
}

/// The scale in use: a share of the limit, but the wish kept that the limit keeps.
pub(super) fn eased(problem: &Problem, limit: f64) -> f64 {
    let mut scale = problem.ease * limit;
    for line in &problem.lines {
        if let Some(wish) = line.wish
            && height(line, limit) >= wish - ALLOWED
            && height(line, scale) < wish - ALLOWED
        {
            scale = wish / line.ratio;
        }
    }
    scale.min(limit)
}

/// The breaking that the rules choose at a scale in a rectangle.
pub(super) fn choice(problem: &Problem, scale: f64, room: (f64, f64)) -> Option<Breaking> {
    let heights: Vec<f64> = problem.lines.iter().map(|line| height(line, scale)).collect();
    let mut feasible = breakings(problem, |_, _| room.0);
    feasible.retain(|breaking| stands(problem, breaking, &heights, room));
    feasible.into_iter().min_by(|a, b| {
        let key = |breaking: &Breaking| {
            let (mut rows, mut cost, mut ragged) = (0, 0, 0.0);
            for (line, pieces) in problem.lines.iter().zip(breaking) {
                rows += pieces.len();
                for &(_, to) in pieces.iter().filter(|&&(_, to)| to + 1 < line.widths.stops()) {
                    cost += line.costs[to];
                }
            }
            for row in boxes(problem, breaking, &heights) {
                let short = (room.0 - row.width) / room.0;
                ragged += short * short;
            }
            (rows, cost, (ragged * 1000.0).round())
        };
        let breaks = |breaking: &Breaking| -> Vec<(usize, usize)> {
            let lines = breaking.iter().enumerate();
            lines.flat_map(|(at, pieces)| pieces.iter().map(move |&(_, to)| (at, to))).collect()
        };
        key(a).partial_cmp(&key(b)).expect("numbers").then_with(|| breaks(b).cmp(&breaks(a)))
    })
}

/// Cap heights in mode `full` at a scale, by the definition: `clamp(min(s, W/w), f, c)`, no
/// line taller than one with a greater ratio.
pub(super) fn full_heights(problem: &Problem, wide: f64, scale: f64) -> Vec<f64> {
    let mut heights = vec![0.0; problem.lines.len()];
    let mut order: Vec<usize> = (0..heights.len()).collect();
    order.sort_by(|&a, &b| problem.lines[b].ratio.total_cmp(&problem.lines[a].ratio));
    for &at in &order {
        let line = &problem.lines[at];
        let pieces = &breakings_of_line(line, false)[0];
        let widest = pieces.iter().map(|&(from, to)| line.widths.of(from, to)).fold(0.0, f64::max);
        let filling = (wide - line.cut) / widest + line.cut;
        let greater = order.iter().filter(|&&other| {
            let other = &problem.lines[other];
            !line.drawn && !other.drawn && other.ratio > line.ratio
        });
        let most = greater.map(|&other| heights[other]).fold(scale.min(filling), f64::min);
        let least = if line.ceiling < line.floor { line.ceiling } else { line.floor };
        heights[at] = most.min(line.ceiling).max(least);
    }
    heights
}

/// The limit of mode `full` in a rectangle.
pub(super) fn full_limit(problem: &Problem, room: (f64, f64)) -> Option<f64> {
    let end = problem.lines.iter().map(|line| line.ceiling).fold(0.0, f64::max);
    let limits = breakings(problem, |_, _| room.0).into_iter().filter_map(|breaking| {
        last_yes(end, |scale| {
            stands(problem, &breaking, &full_heights(problem, room.0, scale), room)
        })
    });
    limits.fold(None, |most: Option<f64>, limit| Some(most.map_or(limit, |most| most.max(limit))))
}
