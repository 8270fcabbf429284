//! Rows stacked in any field, at one place or for a whole cell of scales and places.
//!
//! Where a row stands follows from the scale, the block's top edge and the number of
//! rows of the lines above it. For a cell (scales from `s_a` to `s_b`, tops from
//! `y_a` to `y_b`) each baseline lies in a stretch; the part of the plate that a row
//! covers wherever it stands in the cell is its core, and the chord over the core
//! bounds from above what the row can have. What does not fit by that bound fits
//! nowhere in the cell. A cell of one scale and one top is exact.

use std::collections::BTreeSet;

use crate::layout::Align;
use crate::plate::{Field, Interval};

use super::exact::{Rectangle, fewest_rows, limit_in_caps};
use super::heights::Steps;
use super::lists::ByLine;
use super::pieces::{ALLOWED, Nodes, Pieces};
use super::problem::Problem;

/// What is to be placed, and where.
#[derive(Debug, Clone, Copy)]
pub(super) struct Site<'a> {
    pub(super) problem: &'a Problem,
    pub(super) pieces: &'a [Pieces],
    pub(super) field: &'a Field,
    /// Bounding box of the field: left, top, right, bottom.
    pub(super) bounds: [f64; 4],
    /// The field, if that is a plain rectangle.
    pub(super) rectangle: Option<Rectangle>,
    /// Heights between which the axis is in no zone (see [`Field::axis_free`]).
    pub(super) axis: &'a [(f64, f64)],
}

impl Site<'_> {
    /// The bounding box as rows see it.
    pub(super) fn bounding(&self) -> Rectangle {
        Rectangle::new(self.bounds, self.field.axis_x)
    }

    /// Steps and fewest rows at a scale, by the bounding box: no block in the field has
    /// fewer rows or less height. `None` where even the box is too narrow.
    pub(super) fn least_block(&self, scale: f64) -> Option<Least> {
        let heights = self.problem.heights(scale);
        let counts = fewest_rows(self.problem, self.pieces, &self.bounding(), &heights)?;
        let steps = Steps::new(self.problem, heights, 0.0);
        Some(Least { height: steps.block(&counts), rest: steps.rest(&counts), counts, steps })
    }
}

/// The least that any block needs at a scale.
#[derive(Debug, Clone)]
pub(super) struct Least {
    pub(super) steps: Steps,
    /// Rows of each line.
    pub(super) counts: ByLine<usize>,
    /// Height of the block, mm.
    pub(super) height: f64,
    /// By line, from its last baseline to the block's bottom edge, mm.
    pub(super) rest: ByLine<f64>,
}

/// The stretch that a row gets between two heights, on its alignment's terms; `None`
/// where it does not stand there. Centred: the axis and the nearer distance from it to
/// the ends of the interval that holds it, both ways. Left and right: the widest interval,
/// of equals the leftmost.
pub(super) fn stretch(field: &Field, align: Align, top: f64, bottom: f64) -> Option<Interval> {
    stretch_in(field, align, top, bottom, &mut Vec::new())
}

/// The same for a search that asks often: `intervals` is a list that it keeps.
pub(super) fn stretch_in(
    field: &Field,
    align: Align,
    top: f64,
    bottom: f64,
    intervals: &mut Vec<Interval>,
) -> Option<Interval> {
    // A row may touch the field's edges: the band is a hair smaller than its box.
    let (top, bottom) = if bottom - top > 2.0 * ALLOWED {
        (top + ALLOWED, bottom - ALLOWED)
    } else {
        let middle = top + (bottom - top) / 2.0;
        (middle, middle)
    };
    field.intervals_into(top, bottom, intervals);
    match align {
        Align::Centre => {
            let axis = field.axis_x;
            let half = |interval: &Interval| (axis - interval.left).min(interval.right - axis);
            let halves = intervals.iter().map(half).filter(|&half| half >= 0.0);
            let half = halves.fold(None, |most: Option<f64>, half| {
                Some(most.map_or(half, |most| most.max(half)))
            })?;
            Some(Interval { left: axis - half, right: axis + half })
        }
        Align::Left | Align::Right => {
            let wider = |most: Option<Interval>, next: Interval| match most {
                Some(most) if most.right - most.left >= next.right - next.left => Some(most),
                _ => Some(next),
            };
            intervals.iter().copied().fold(None, wider)
        }
    }
}

/// Whether rows stand in a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Answer {
    /// In an exact cell: they do. In a wider one: nothing speaks against it.
    Yes,
    /// They do not, anywhere in the cell.
    No,
    /// The work allowed did not suffice to tell.
    Unknown,
}

/// A cell of scales and of heights for the block's top edge, low and high end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cell<'a> {
    /// Least block and steps at the lowest scale.
    pub(super) low: &'a Least,
    /// Steps at the highest scale.
    pub(super) high: &'a Steps,
    /// Lowest and highest number for the top edge, mm.
    pub(super) tops: (f64, f64),
}

/// Work of one row's chord, in pieces looked at; the unit in which work is counted.
pub(super) const WORK_A_ROW: usize = 100;

/// Most work that one question may take.
const WORK_A_QUESTION: usize = 20_000_000;

/// The search for a breaking in one cell, line after line.
struct Search<'a> {
    site: &'a Site<'a>,
    cell: Cell<'a>,
    /// Lines and first baselines from which no breaking was found.
    failed: BTreeSet<(usize, u64, u64)>,
    work: usize,
    intervals: Vec<Interval>,
}

/// Whether a breaking stands in the cell. `work` grows by what it took.
pub(super) fn stands(site: &Site<'_>, cell: Cell<'_>, work: &mut usize) -> Answer {
    let mut search = Search { site, cell, failed: BTreeSet::new(), work: 0, intervals: Vec::new() };
    let (low, high) = (cell.tops.0 + cell.low.steps.first(), cell.tops.1 + cell.high.first());
    let found = search.lines_onward(0, low, high);
    *work += search.work;
    if found {
        Answer::Yes
    } else if search.work > WORK_A_QUESTION {
        Answer::Unknown
    } else {
        Answer::No
    }
}

impl Search<'_> {
    /// Whether the lines from `line` on stand when the first of their baselines lies
    /// between `low` and `high`.
    fn lines_onward(&mut self, line: usize, low: f64, high: f64) -> bool {
        if line == self.site.pieces.len() {
            return true;
        }
        let key = (line, place_key(low), place_key(high));
        if self.failed.contains(&key) {
            return false;
        }
        let pieces = &self.site.pieces[line];
        let (within_low, within_high) =
            (self.cell.low.steps.within[line], self.cell.high.within[line]);
        let (after_low, after_high) = (self.cell.low.steps.after[line], self.cell.high.after[line]);
        let (mut low, mut high) = (low, high);
        let mut reached = Nodes::Stretch(0, 0);
        while reached.any_before(pieces.end())
            && low + self.cell.low.rest[line] <= self.site.bounds[3] + ALLOWED
            && self.work <= WORK_A_QUESTION
        {
            self.work += WORK_A_ROW;
            let Some(room) = self.room(line, low, high) else { break };
            let height = self.cell.low.steps.heights[line];
            reached = pieces.ends(
                reached,
                limit_in_caps(&self.site.problem.lines[line], room, height),
                &mut self.work,
            );
            if reached.holds(pieces.end())
                && self.lines_onward(line + 1, low + after_low, high + after_high)
            {
                return true;
            }
            low += within_low;
            high += within_high;
        }
        self.failed.insert(key);
        false
    }

    /// Greatest width of a row whose baseline lies between `low` and `high`.
    fn room(&mut self, line: usize, low: f64, high: f64) -> Option<f64> {
        let asked = &self.site.problem.lines[line];
        let height = self.cell.low.steps.heights[line];
        let (top, bottom) = (high - asked.above(height), low + asked.below(height));
        if top > bottom {
            // No core: only the bounding box bounds it, and that a row on the axis is to stand
            // between what lies across it.
            let axis = self.site.axis.iter().any(|&(from, to)| {
                let (from, to) = (from + asked.above(height), to - asked.below(height));
                low.max(from) <= high.min(to) + 2.0 * ALLOWED
            });
            let stands = axis || asked.align != Align::Centre;
            return stands.then(|| self.site.bounding().width(asked));
        }
        let stretch = stretch_in(self.site.field, asked.align, top, bottom, &mut self.intervals)?;
        Some(stretch.right - stretch.left)
    }
}

/// A baseline as a key: equal to a tenth of a nanometre.
pub(super) fn place_key(baseline: f64) -> u64 {
    // Adding zero makes minus zero zero.
    ((baseline * 1e7).round() + 0.0).to_bits()
}

#[cfg(test)]
mod tests {
    use super::{Answer, Cell, Site, stands, stretch};
    use crate::fit::pieces::pieces;
    use crate::fit::testing::{field, line, problem};
    use crate::layout::{Align, Shape};
    use crate::plate::{ClearZone, Field, ZoneKind, ZoneShape};

    /// Ends of a row's stretch from 15 to 25 mm in a field 100 by 40 with a hole of
    /// 10 mm at `x`, half way down.
    fn ends(align: Align, x: f64) -> Option<(f64, f64)> {
        let shape = ZoneShape::Disc { x, y: 20.0, radius: 5.0 };
        let zones = vec![ClearZone { shape, kind: ZoneKind::Hole(0) }];
        let field = Field { zones, ..field(100.0, 40.0, Shape::Rectangle) };
        stretch(&field, align, 15.0, 25.0).map(|found| (found.left, found.right))
    }

    /// Whether a row 2 mm high, 4 mm wide, may stand in a field 100 by 40 with a hole in its
    /// middle, its top anywhere between two heights: in one question, without any core.
    fn may_stand(radius: f64, tops: (f64, f64)) -> bool {
        let shape = ZoneShape::Disc { x: 50.0, y: 20.0, radius };
        let zones = vec![ClearZone { shape, kind: ZoneKind::Photo(0) }];
        let field = Field { zones, ..field(100.0, 40.0, Shape::Rectangle) };
        let problem = problem(vec![line(1.0, &[2.0])]);
        let pieces = pieces(&problem, |_, _| 100.0);
        let axis = field.axis_free();
        let bounds = field.bounds().unwrap();
        let (problem, pieces, field, axis) = (&problem, &pieces, &field, &axis);
        let site = Site { problem, pieces, field, bounds, rectangle: None, axis };
        let least = site.least_block(2.0).unwrap();
        let cell = Cell { low: &least, high: &least.steps, tops };
        stands(&site, cell, &mut 0) == Answer::Yes
    }

    #[test]
    fn no_row_stands_on_an_axis_that_is_blocked_however_large_the_cell() {
        // A photograph across the whole field leaves the axis nowhere.
        assert!(!may_stand(20.0, (0.0, 38.0)));
        // Less than a row is high is left above it and below; then just enough.
        assert!(!may_stand(18.001, (0.0, 38.0)));
        assert!(may_stand(18.0, (0.0, 38.0)) && may_stand(17.0, (0.0, 38.0)));
        // A hole of 12 mm: not from 12 to 26 mm, but just before and after.
        assert!(!may_stand(6.0, (12.001, 25.999)));
        assert!(may_stand(6.0, (12.0, 25.0)) && may_stand(6.0, (13.0, 26.0)));
    }

    #[test]
    fn a_centred_row_has_the_nearer_distance_on_both_sides() {
        assert_eq!(ends(Align::Centre, 40.0), Some((45.0, 55.0)));
        assert_eq!(ends(Align::Centre, 70.0), Some((35.0, 65.0)));
    }

    #[test]
    fn a_row_whose_axis_is_blocked_does_not_stand_there() {
        assert_eq!(ends(Align::Centre, 52.0), None);
    }

    #[test]
    fn a_row_against_a_side_has_the_widest_stretch_of_equals_the_left() {
        assert_eq!(ends(Align::Left, 40.0), Some((45.0, 100.0)));
        assert_eq!(ends(Align::Right, 70.0), Some((0.0, 65.0)));
        assert_eq!(ends(Align::Right, 50.0), Some((0.0, 45.0)));
    }
}
