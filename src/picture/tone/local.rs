//! Contrast of each part of a picture by itself.

use super::share;
use crate::picture::Grey;
use crate::picture::light::rounded;

/// Contrast limited adaptive histogram equalization (K. Zuiderveld, Graphics Gems IV, 1994,
/// VIII.5).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LocalContrast {
    /// Tiles that the picture is cut into, across and down; 1 to 64 each, and no more than
    /// it has dots.
    pub tiles: (u32, u32),
    /// How many times as often as on average a level may count in its tile, from 1 (nothing
    /// is gained) to 256 (no limit).
    pub clip: f64,
}

const TILES_MOST: u32 = 64;

/// A level for each level.
type Table = [f64; 256];

/// Each tile's levels equalized as far as the limit lets them; between the tiles' middles the tables of the
/// nearest four tiles are weighed by how near their middles are.
pub(super) fn equalized(grey: &Grey, contrast: LocalContrast) -> Grey {
    if grey.levels.is_empty() {
        return grey.clone();
    }
    let tiles = |asked: u32, side: u32| asked.clamp(1, side.clamp(1, TILES_MOST));
    let across = Tiles::new(grey.width, tiles(contrast.tiles.0, grey.width));
    let down = Tiles::new(grey.height, tiles(contrast.tiles.1, grey.height));
    let clip = 1.0 + share(contrast.clip - 1.0, 255.0);
    let rows = || grey.levels.chunks_exact(grey.width as usize);
    let tables: Vec<Vec<Table>> = (0..down.count)
        .map(|row| {
            let tile = |column| {
                let across = across.from(column)..across.from(column + 1);
                let band = rows().skip(down.from(row)).take(down.from(row + 1) - down.from(row));
                table(band.filter_map(|levels| levels.get(across.clone())).flatten(), clip)
            };
            (0..across.count).map(tile).collect()
        })
        .collect();
    let beside = across.beside();
    let mut levels = Vec::with_capacity(grey.levels.len());
    for (row, (above, below, lower)) in rows().zip(down.beside()) {
        for (from, (left, right, righter)) in row.iter().zip(&beside) {
            let at = |row: usize, column: usize| {
                let table = tables.get(row).and_then(|row| row.get(column));
                table.and_then(|table| table.get(usize::from(*from))).copied().unwrap_or(0.0)
            };
            let between = |row| at(row, *left) * (1.0 - righter) + at(row, *right) * righter;
            levels.push(rounded(between(above) * (1.0 - lower) + between(below) * lower));
        }
    }
    Grey { width: grey.width, height: grey.height, levels }
}

/// What the levels of a tile become: each the share of the tile that is darker, with half of
/// those as dark as it. What levels count beyond the limit goes to the others, so that with
/// the least limit every level stays what it is.
fn table<'a>(levels: impl Iterator<Item = &'a u8>, clip: f64) -> Table {
    let mut counts = [0.0; 256];
    let mut all: f64 = 0.0;
    for level in levels {
        if let Some(count) = counts.get_mut(usize::from(*level)) {
            *count += 1.0;
        }
        all += 1.0;
    }
    limit(&mut counts, clip * all / 256.0);
    let mut before = 0.0;
    counts.map(|count: f64| {
        before += count;
        (before - count / 2.0) / all.max(1.0) * 255.0
    })
}

/// Cuts counts off at a limit, of at least their mean, and shares out evenly what was over
/// among those that are below it.
fn limit(counts: &mut Table, limit: f64) {
    // Each time some reach the limit, or all is shared out.
    for _ in 0..counts.len() {
        let mut over = 0.0;
        let mut below = 0.0;
        for count in counts.iter_mut() {
            over += (*count - limit).max(0.0);
            *count = count.min(limit);
            below += if *count < limit { 1.0 } else { 0.0 };
        }
        if over <= 0.0 || below <= 0.0 {
            return;
        }
        for count in counts.iter_mut().filter(|count| **count < limit) {
            *count += over / below;
        }
    }
}

/// Tiles along a side.
struct Tiles {
    side: u32,
    count: usize,
}

impl Tiles {
    fn new(side: u32, count: u32) -> Self {
        Self { side, count: count as usize }
    }

    /// Where a tile begins.
    fn from(&self, tile: usize) -> usize {
        tile * self.side as usize / self.count
    }

    /// For each dot of the side, the tiles whose middles lie before and behind it, and how far
    /// it is from the one to the other, from 0 to 1. Before the first and behind the last,
    /// these alone.
    fn beside(&self) -> Vec<(usize, usize, f64)> {
        let middle = |tile: usize| (self.from(tile) + self.from(tile + 1)) as f64 / 2.0;
        let mut behind = 0;
        (0..self.side)
            .map(|dot| {
                let place = f64::from(dot) + 0.5;
                while behind < self.count && middle(behind) <= place {
                    behind += 1;
                }
                let before = behind.saturating_sub(1);
                if behind == 0 || behind == self.count {
                    return (before, before, 0.0);
                }
                let way = (place - middle(before)) / (middle(behind) - middle(before));
                (before, behind, way)
            })
            .collect()
    }
}
