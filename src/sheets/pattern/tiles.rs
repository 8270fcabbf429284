//! A drawing that is larger than the paper, cut into tiles: where the cuts run and
//! what each tile shows. Nothing is scaled; neighbours overlap.
//!
//! mm on the canvas, the whole drawing, from its top left corner, y down.

use kurbo::Rect;

use crate::sheets::dimension::Along;
use crate::sheets::page::Size;
use crate::sheets::view::View;

/// What two neighbours both show, mm: half of it on either side of the cut. Room for a
/// register mark with its letter on both sides, and more than any figure's height, so
/// that each stands whole on one tile at least.
pub(super) const OVERLAP: f64 = 12.0;
/// How many tiles more than the least a row may take for the sake of a better cut.
const SPARE: usize = 3;

/// Where one axis is cut, and what each tile shows of it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cuts {
    /// Length of the whole, mm.
    pub(super) total: f64,
    /// The cuts, rising.
    pub(super) at: Vec<f64>,
}

impl Cuts {
    /// Number of tiles.
    pub(super) fn count(&self) -> usize {
        self.at.len() + 1
    }

    /// The cuts before and behind a tile, or the ends of the whole.
    pub(super) fn core(&self, tile: usize) -> (f64, f64) {
        let before = tile.checked_sub(1).and_then(|index| self.at.get(index).copied());
        let behind = self.at.get(tile).copied();
        (before.unwrap_or(0.0), behind.unwrap_or(self.total))
    }

    /// What a tile shows.
    pub(super) fn shown(&self, tile: usize) -> (f64, f64) {
        let (from, to) = self.core(tile);
        let half = OVERLAP / 2.0;
        ((from - half).max(0.0), (to + half).min(self.total))
    }
}

/// Cuts of a length into as few tiles as keep to `room` each, evenly, none within a
/// stretch of `uncut`, mm. Where no cut keeps out of them with [`SPARE`] tiles more,
/// they are cut all the same.
pub(super) fn cuts(total: f64, room: f64, uncut: &[(f64, f64)]) -> Cuts {
    if total <= room {
        return Cuts { total, at: Vec::new() };
    }
    // A tile without room for more than its overlaps would never end.
    let room = room.max(3.0 * OVERLAP);
    let mut least = 2_usize;
    while OVERLAP + least as f64 * (room - OVERLAP) < total {
        least += 1;
    }
    let free = (least..=least + SPARE).find_map(|count| even(total, room, count, uncut));
    let at = free.or_else(|| even(total, room, least, &[])).unwrap_or_default();
    Cuts { total, at }
}

fn even(total: f64, room: f64, count: usize, uncut: &[(f64, f64)]) -> Option<Vec<f64>> {
    let (inner, outer) = (room - OVERLAP, room - OVERLAP / 2.0);
    let mut all: Vec<f64> = Vec::new();
    for index in 1..count {
        let before = all.last().copied();
        let most = before.map_or(outer, |before| before + inner);
        let behind = (count - 1 - index) as f64;
        let least = (total - outer - behind * inner).max(before.unwrap_or(0.0) + OVERLAP);
        if least > most {
            return None;
        }
        let wish = (total * index as f64 / count as f64).clamp(least, most);
        all.push(nearest(wish, (least, most), uncut)?);
    }
    Some(all)
}

/// The place nearest to a wish, between two bounds, that lies within no stretch.
fn nearest(wish: f64, (least, most): (f64, f64), uncut: &[(f64, f64)]) -> Option<f64> {
    let ends = uncut.iter().flat_map(|stretch| [stretch.0, stretch.1]);
    std::iter::once(wish)
        .chain(ends)
        .filter(|at| (least..=most).contains(at))
        .filter(|at| uncut.iter().all(|stretch| *at <= stretch.0 || *at >= stretch.1))
        .min_by(|a, b| (a - wish).abs().total_cmp(&(b - wish).abs()))
}

/// A drawing cut into columns and rows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Grid {
    /// Paper of every tile.
    pub(super) size: Size,
    /// Cuts that run up and down.
    pub(super) columns: Cuts,
    /// Cuts that run across.
    pub(super) rows: Cuts,
}

impl Grid {
    /// The view cut for a room on a paper.
    pub(super) fn of(view: &View<'_>, size: Size, room: (f64, f64)) -> Self {
        let (width, height) = view.canvas();
        Self {
            size,
            columns: cuts(width, room.0, &view.uncut(Along::Across)),
            rows: cuts(height, room.1, &view.uncut(Along::Down)),
        }
    }

    /// Number of tiles.
    pub(super) fn count(&self) -> usize {
        self.columns.count() * self.rows.count()
    }

    /// Column and row of a tile, counted row by row, all from 0.
    pub(super) fn place(&self, tile: usize) -> (usize, usize) {
        (tile % self.columns.count(), tile / self.columns.count())
    }

    /// The tile in a column and row.
    pub(super) fn tile(&self, column: usize, row: usize) -> usize {
        row * self.columns.count() + column
    }

    /// What a tile shows.
    pub(super) fn shown(&self, tile: usize) -> Rect {
        let (column, row) = self.place(tile);
        let ((x0, x1), (y0, y1)) = (self.columns.shown(column), self.rows.shown(row));
        Rect::new(x0, y0, x1, y1)
    }

    /// What is left of a tile after cutting.
    pub(super) fn core(&self, tile: usize) -> Rect {
        let (column, row) = self.place(tile);
        let ((x0, x1), (y0, y1)) = (self.columns.core(column), self.rows.core(row));
        Rect::new(x0, y0, x1, y1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fits_is_not_cut() {
        let whole = cuts(170.0, 170.0, &[]);
        assert_eq!((whole.count(), whole.shown(0)), (1, (0.0, 170.0)));
    }

    #[test]
    fn tiles_are_even_and_overlap() {
        // Two of 170 hold 340 - 12 = 328; three are needed for 400. Worked by hand: cuts
        // at thirds, 6 mm more on either side.
        let three = cuts(400.0, 170.0, &[]);
        assert_eq!(three.count(), 3);
        let shown: Vec<(f64, f64)> = (0..3).map(|tile| three.shown(tile)).collect();
        for ((from, to), (low, high)) in
            shown.iter().zip([(0.0, 139.333), (127.333, 272.667), (260.667, 400.0)])
        {
            assert!((from - low).abs() < 0.001 && (to - high).abs() < 0.001, "{shown:?}");
        }
        assert_eq!(cuts(328.0, 170.0, &[]).count(), 2);
        assert_eq!(cuts(328.1, 170.0, &[]).count(), 3);
    }

    #[test]
    fn a_cut_goes_round_what_must_stay_whole() {
        // Middle of 300 is 150; the stretch about it is left at its nearer end.
        assert_eq!(cuts(300.0, 170.0, &[(140.0, 156.0)]).at, [156.0]);
        // 300 - 164 = 136 to 164 is all that two tiles of 170 leave; three may go elsewhere.
        let three = cuts(300.0, 170.0, &[(130.0, 170.0)]);
        assert_eq!(three.count(), 3);
        assert!(three.at.iter().all(|at| !(130.0..170.0).contains(at)), "{three:?}");
        // Where everything must stay whole it is cut evenly.
        assert_eq!(cuts(300.0, 170.0, &[(0.0, 300.0)]).at, [150.0]);
    }

    #[test]
    fn every_tile_keeps_to_its_room_and_everything_small_stands_whole_on_one() {
        for total in 171..1500_u32 {
            let total = f64::from(total);
            let uncut = [(total * 0.3, total * 0.3 + 20.0), (total * 0.5 - 9.0, total * 0.5 + 9.0)];
            let cut = cuts(total, 170.0, &uncut);
            let shown: Vec<(f64, f64)> = (0..cut.count()).map(|tile| cut.shown(tile)).collect();
            assert!(shown.iter().all(|(from, to)| to - from <= 170.0 + 1e-9), "{cut:?}");
            let mut small: Vec<(f64, f64)> = uncut.to_vec();
            small.extend((0..100).map(|step| {
                let at = f64::from(step) / 100.0 * (total - OVERLAP);
                (at, at + OVERLAP)
            }));
            for (low, high) in small {
                let whole =
                    shown.iter().any(|(from, to)| *from <= low + 1e-9 && *to >= high - 1e-9);
                assert!(whole, "{low} to {high} of {cut:?}");
            }
        }
    }
}
