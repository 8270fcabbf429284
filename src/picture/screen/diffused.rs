//! Error diffusion: each dot is made or left by what is asked for there and what its
//! neighbours still owe.

use super::kernel::{Kernel, Share};
use super::{Dark, spread};
use crate::picture::Bits;

/// Rows that a kernel reaches, its own among them.
const ROWS: usize = 3;

/// By how much a threshold may lie off the middle, in hundredths of a dot: as much as breaks
/// up rows of equal spacing (after R. Ulichney, Digital Halftoning, 1987), which look like
/// worms. Owed is what was left out, whatever the threshold, so tone is not moved by it.
const UNREST: i64 = 30;

/// Rows of cells that are gone through before the first, as in a mirror, so that the first owes
/// what it would further down. Without them light parts stay bare at the top for as many
/// rows as they take to owe half a dot: seven at 1 % of darkness.
const RUN_IN: usize = 64;

/// The picture in cells of `least` x `least` dots, each made or left as a whole, so that
/// neither a dot nor a gap is smaller. Where a side is no multiple of `least` some cells are
/// a dot longer; a picture that is smaller is one cell.
///
/// Rows run to and fro. What a kernel would hand on past a side goes to the neighbours that
/// are there, in their proportion. What is owed below the last row is what was owed above the
/// first, but for chance. All in whole numbers.
pub(super) fn diffused(dark: &Dark, kernel: Kernel, least: u32) -> Bits {
    let cells = Cells { across: cuts(dark.width(), least), down: cuts(dark.height(), least) };
    let (columns, rows) = (cells.across.len() - 1, cells.down.len() - 1);
    let mut bits = Bits::blank(dark.width(), dark.height());
    let mut owed: [Vec<i64>; ROWS] = std::array::from_fn(|_| vec![0; columns]);
    for step in 0..RUN_IN + rows {
        let row = mirrored(step, RUN_IN, rows);
        let ahead: i64 = if step % 2 == 0 { 1 } else { -1 };
        for along in 0..columns {
            let column = if ahead == 1 { along } else { columns - 1 - along };
            let (asked, whole) = cells.asked(dark, column, row);
            let owing = owed.first().and_then(|owed| owed.get(column)).copied().unwrap_or(0);
            let due = asked + owing;
            let made = due * 200 >= whole * (100 + unrest(column, step));
            if made && step >= RUN_IN {
                cells.make(&mut bits, column, row);
            }
            hand_on(&mut owed, kernel, due - if made { whole } else { 0 }, |share| {
                let there = i64::try_from(column).ok()? + ahead * share.0;
                usize::try_from(there).ok().filter(|there| *there < columns)
            });
        }
        owed.rotate_left(1);
        if let Some(last) = owed.last_mut() {
            last.fill(0);
        }
    }
    bits
}

/// The row that is gone through at a step: `before` steps up to the first, mirrored at it and
/// at the last, then row by row.
fn mirrored(step: usize, before: usize, rows: usize) -> usize {
    if step >= before {
        return step - before;
    }
    let row = (before - 1 - step) % (2 * rows);
    row.min(2 * rows - 1 - row)
}

/// Shares out what is owed among those who are `there` (in which column), to the last unit.
fn hand_on(
    owed: &mut [Vec<i64>; ROWS],
    kernel: Kernel,
    mut left: i64,
    there: impl Fn(Share) -> Option<usize>,
) {
    let mut weights: i64 =
        kernel.shares().iter().filter(|share| there(**share).is_some()).map(|share| share.2).sum();
    for share in kernel.shares() {
        let Some(column) = there(*share) else { continue };
        let part = left * share.2 / weights;
        if let Some(cell) = owed.get_mut(share.1).and_then(|row| row.get_mut(column)) {
            *cell += part;
        }
        left -= part;
        weights -= share.2;
    }
}

/// How far off the middle the threshold of a cell lies, in hundredths of a dot.
fn unrest(column: usize, row: usize) -> i64 {
    spread(column as u64, row as u64) * UNREST / 32_768
}

/// Where cells begin and end along a side.
fn cuts(side: u32, least: u32) -> Vec<u32> {
    let cells = (side / least).max(1);
    let cut = |cell: u32| u64::from(cell) * u64::from(side) / u64::from(cells);
    (0..=cells).map(|cell| u32::try_from(cut(cell)).unwrap_or(side)).collect()
}

struct Cells {
    across: Vec<u32>,
    down: Vec<u32>,
}

impl Cells {
    /// The dots of a cell.
    fn dots(&self, column: usize, row: usize) -> impl Iterator<Item = (u32, u32)> + use<> {
        let side = |cuts: &[u32], cell: usize| {
            let at = |cell: usize| cuts.get(cell).copied().unwrap_or(0);
            at(cell)..at(cell + 1)
        };
        let (across, down) = (side(&self.across, column), side(&self.down, row));
        down.flat_map(move |y| across.clone().map(move |x| (x, y)))
    }

    /// How dark a cell shall be, and how dark it is when made.
    fn asked(&self, dark: &Dark, column: usize, row: usize) -> (i64, i64) {
        self.dots(column, row).fold((0, 0), |(asked, whole), (x, y)| {
            (asked + i64::from(dark.at(x, y)), whole + i64::from(Dark::FULL))
        })
    }

    fn make(&self, bits: &mut Bits, column: usize, row: usize) {
        for (x, y) in self.dots(column, row) {
            bits.make(x, y);
        }
    }
}
