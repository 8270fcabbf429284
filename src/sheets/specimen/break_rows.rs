//! At which cap height a wording stands in all letterings, and where it breaks: alike
//! in all of them, so that only the letters differ.

use std::ops::Range;

use crate::lettering::ShapedLine;
use crate::wording::Marks;

/// Greatest cap height that is chosen, mm: larger ones say no more about the letters.
const MOST: f64 = 9.0;
/// Cap height below which a wording is rather broken into more rows, mm.
const COMFORT: f64 = 3.2;
/// Height of a sample that leaves room for several on a page, mm.
const SAMPLE: f64 = 36.0;
/// Least height that a broken sample may take before its letters become small, mm.
const TALL: f64 = 90.0;
/// Steps in which heights are tried, mm, and the least of them.
const STEP: f64 = 0.05;
const LEAST: f64 = 0.2;
/// Baseline to baseline, cap heights, at least; more where ink is higher. Common practice,
/// no source.
const LEADING: f64 = 1.6;
/// White between the ink of one row and of the next, cap heights, at least.
const BETWEEN: f64 = 0.15;

/// The height of all samples, and their rows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Setting {
    /// Cap height, mm.
    pub(super) cap_height: f64,
    /// Rows by line: byte ranges of its text.
    pub(super) rows: Vec<Vec<Range<usize>>>,
}

/// Rise, baseline distance and depth of a lettering's rows, cap heights.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stack {
    /// Ink above the first baseline.
    pub(super) rise: f64,
    /// Baseline to baseline.
    pub(super) leading: f64,
    /// Ink below the last baseline.
    pub(super) depth: f64,
}

impl Stack {
    /// What the lines of a lettering need.
    pub(super) fn of(lines: &[ShapedLine]) -> Self {
        let rise = lines.iter().map(|line| line.rise).fold(1.0, f64::max);
        let depth = lines.iter().map(|line| line.depth).fold(0.0, f64::max);
        Self { rise, leading: LEADING.max(rise + depth + BETWEEN), depth }
    }

    /// Height of so many rows, cap heights.
    pub(super) fn height(self, rows: usize) -> f64 {
        self.rise + self.leading * rows.saturating_sub(1) as f64 + self.depth
    }
}

/// Widths of a line's pieces in the lettering that is widest there.
struct Widest<'a> {
    marks: &'a Marks,
    lines: Vec<&'a ShapedLine>,
}

impl Widest<'_> {
    fn width(&self, from: usize, to: usize) -> f64 {
        self.lines.iter().map(|line| line.width(from, to)).fold(0.0, f64::max)
    }

    /// Pieces, as stops, of which each is as long as a width allows; one without a stop
    /// in it may be wider.
    fn pieces(&self, most: f64) -> Vec<(usize, usize)> {
        let last = self.marks.stops.len().saturating_sub(1);
        let (mut pieces, mut from) = (Vec::new(), 0);
        while from < last {
            let mut to = from + 1;
            let forced = |at: usize| self.marks.forced.get(at).copied().unwrap_or(true);
            while to < last && !forced(to) && self.width(from, to + 1) <= most {
                to += 1;
            }
            pieces.push((from, to));
            from = to;
        }
        pieces
    }

    /// The same number of pieces, more alike: broken at the least width that gives no more.
    fn balanced(&self, most: f64) -> Vec<(usize, usize)> {
        let count = self.pieces(most).len();
        let (mut low, mut high) = (0.0, most);
        for _ in 0..24 {
            let middle = f64::midpoint(low, high);
            if self.pieces(middle).len() <= count { high = middle } else { low = middle }
        }
        self.pieces(high)
    }

    fn widest(&self, pieces: &[(usize, usize)]) -> f64 {
        pieces.iter().map(|(from, to)| self.width(*from, *to)).fold(0.0, f64::max)
    }
}

/// Height and rows for samples (the lines of each lettering) in a room of width and
/// height, mm. A stated height holds where it fits.
pub(super) fn setting(
    samples: &[&[ShapedLine]],
    marks: &[Marks],
    stated: Option<f64>,
    room: (f64, f64),
) -> Setting {
    let widest: Vec<Widest<'_>> = (marks.iter().enumerate())
        .map(|(at, marks)| Widest {
            marks,
            lines: samples.iter().filter_map(|lines| lines.get(at)).collect(),
        })
        .collect();
    let stacks: Vec<Stack> = samples.iter().map(|lines| Stack::of(lines)).collect();
    let height = |rows: usize| stacks.iter().map(|stack| stack.height(rows)).fold(1.0, f64::max);
    // The greatest height at which rows broken for `cap` keep to width and height.
    let fits = |cap: f64, tall: f64| {
        let pieces: Vec<_> = widest.iter().map(|line| line.pieces(room.0 / cap)).collect();
        let rows: usize = pieces.iter().map(Vec::len).sum();
        let width = widest.iter().zip(&pieces).map(|(l, p)| l.widest(p)).fold(0.0, f64::max);
        cap * width <= room.0 + 1e-9 && cap * height(rows) <= tall
    };
    let down = |from: f64, to: f64, tall: f64| {
        let mut cap = from;
        while cap >= to {
            if fits(cap, tall) {
                return Some(cap);
            }
            cap -= STEP;
        }
        None
    };
    let tall = room.1;
    let unbroken = || {
        let pieces: Vec<_> = widest.iter().map(|line| line.pieces(f64::INFINITY)).collect();
        let rows: usize = pieces.iter().map(Vec::len).sum();
        let width = widest.iter().zip(&pieces).map(|(l, p)| l.widest(p)).fold(0.0, f64::max);
        let wide = MOST.min(room.0 / width.max(1e-9));
        let cap = wide.min(SAMPLE / height(rows)).max(wide.min(COMFORT));
        let cap = (cap / STEP).floor() * STEP;
        (wide >= COMFORT && rows > 0 && cap * height(rows) <= tall).then_some(cap)
    };
    let found = match stated {
        Some(stated) => down(stated, LEAST, tall),
        None => unbroken()
            .or_else(|| down(1.5 * COMFORT, COMFORT, TALL.min(tall)))
            .or_else(|| down(COMFORT, LEAST, tall)),
    };
    // A single word longer than any row: as small as it must be.
    let cap_height = found.unwrap_or_else(|| {
        let pieces: Vec<_> = widest.iter().map(|line| line.pieces(0.0)).collect();
        let width = widest.iter().zip(&pieces).map(|(l, p)| l.widest(p)).fold(1.0, f64::max);
        let rows: usize = pieces.iter().map(Vec::len).sum();
        LEAST.min(room.0 / width).min(tall / height(rows))
    });
    let rows = widest.iter().map(|line| {
        let pieces = line.balanced(room.0 / cap_height);
        let stop = |at: usize| line.marks.stops.get(at).copied().unwrap_or(0);
        pieces.into_iter().map(|(from, to)| stop(from)..stop(to)).collect()
    });
    Setting { cap_height, rows: rows.collect() }
}
