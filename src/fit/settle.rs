//! Where the rows of a chosen breaking stand: spare height, and the block's place.

use smallvec::SmallVec;

use super::heights::{Steps, block, highest};
use super::lists::Rows;
use super::pieces::ALLOWED;
use super::plan::PlannedRow;
use super::stack::{Site, stretch_in};

/// Share of the spare height that may go into the gaps; common practice, no source.
const SPARE_SHARE: f64 = 0.5;

/// How far spreading is tried to learn the spare height where chords bound it: twice
/// what the gaps may take is used of it at most, so a little more suffices.
const SPREAD_TRIED: f64 = 3.0;

/// Steps in which spreading is tried.
const SPREAD_STEPS: u8 = 24;

/// Steps in which a place is sought outward from the middle.
const PLACE_STEPS: u16 = 100;

/// Halvings with which a place or spread that is found is sharpened.
const HALVINGS: u8 = 24;

/// A breaking with its heights, to be placed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Chosen<'a> {
    pub(super) site: &'a Site<'a>,
    pub(super) heights: &'a [f64],
    /// By line, nodes at which its rows end.
    pub(super) ends: &'a Rows<usize>,
    /// How many rows each line has.
    pub(super) counts: &'a [usize],
    /// Height at which the block's middle is wished, mm from the plate's top.
    pub(super) middle: f64,
}

/// Places the rows; with them the share of what they may that the gaps took. `known`: a top
/// edge (mm) at which they stand unspread, used where no better is found. `None` where they do
/// not stand there either.
pub(super) fn settled(chosen: &Chosen<'_>, known: f64) -> Option<(Vec<PlannedRow>, f64)> {
    let mut share = chosen.share();
    for _ in 0..HALVINGS {
        if let Some((_, rows)) = chosen.centred(share, None) {
            return Some((rows, share));
        }
        share /= 2.0;
    }
    let (_, rows) = chosen.centred(0.0, Some(known))?;
    Some((rows, 0.0))
}

impl Chosen<'_> {
    fn block(&self, share: f64) -> f64 {
        block(self.site.problem, |at| self.heights[at], self.counts, share)
    }

    /// The share that the gaps take of what they may: as far as the block grows by
    /// half of the spare height at most.
    fn share(&self) -> f64 {
        let still = self.block(0.0);
        let bound = still + SPARE_SHARE * self.spare(still);
        highest(|share| self.block(share), 0.0, 1.0, bound)
    }

    /// Spare height, mm: by how much the block could grow in its gaps before a row is
    /// too wide for its chord. In a rectangle that is the field's height less the block's.
    fn spare(&self, still: f64) -> f64 {
        if self.site.rectangle.is_some() {
            let [_, top, _, bottom] = self.site.bounds;
            return (bottom - top - still).max(0.0);
        }
        let stands = |share: f64| self.centred(share, None).is_some();
        let (mut low, mut high) = (0.0, None);
        for step in 1..=SPREAD_STEPS {
            let share = SPREAD_TRIED * f64::from(step) / f64::from(SPREAD_STEPS);
            if !stands(share) {
                high = Some(share);
                break;
            }
            low = share;
        }
        if let Some(mut high) = high {
            for _ in 0..HALVINGS / 3 {
                let middle = (low + high) / 2.0;
                if stands(middle) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
        }
        self.block(low) - still
    }

    /// The place at which the rows stand and the block's middle, between its first cap
    /// line and its last baseline, is nearest to where it is wished; and the rows.
    /// `known`: a top edge to fall back on.
    fn centred(&self, share: f64, known: Option<f64>) -> Option<(f64, Vec<PlannedRow>)> {
        let Site { problem, bounds: [_, top, _, bottom], .. } = *self.site;
        let steps = Steps::new(problem, SmallVec::from_slice(self.heights), share);
        let height = steps.block(self.counts);
        let above = problem.lines.first()?.over_capitals(*self.heights.first()?);
        let below = problem.lines.last()?.below(*self.heights.last()?);
        let wished = self.middle - (height - above - below) / 2.0 - above;
        let wished = wished.min(bottom - height).max(top);
        let baselines = steps.baselines(self.counts);
        let rows = |at: f64| self.rows(&baselines, at);
        if let Some(found) = rows(wished) {
            return Some((wished, found));
        }
        let room = (top - ALLOWED)..=(bottom - height + ALLOWED);
        let step = (wished - top).max(bottom - height - wished) / f64::from(PLACE_STEPS);
        for count in 1..=PLACE_STEPS {
            let off = step * f64::from(count);
            let places = [wished - off, wished + off];
            for (at, sign) in places.into_iter().zip([-1.0, 1.0]) {
                let Some(mut found) = room.contains(&at).then(|| rows(at)).flatten() else {
                    continue;
                };
                let (mut near, mut far) = (off - step, off);
                for _ in 0..HALVINGS {
                    let between = f64::midpoint(near, far);
                    if let Some(nearer) = rows(wished + sign * between) {
                        (far, found) = (between, nearer);
                    } else {
                        near = between;
                    }
                }
                return Some((wished + sign * far, found));
            }
        }
        let known = known?;
        rows(known).map(|found| (known, found))
    }

    /// The rows with the block's top edge at `top`; `None` where one has not room enough.
    fn rows(&self, baselines: &Rows<f64>, top: f64) -> Option<Vec<PlannedRow>> {
        let mut rows = Vec::with_capacity(baselines.len());
        let mut intervals = Vec::new();
        for (line, (ends, below)) in self.ends.lines().zip(baselines.lines()).enumerate() {
            let (asked, height) = (&self.site.problem.lines[line], self.heights[line]);
            let pieces = &self.site.pieces[line];
            let mut from = 0;
            for (&to, &below) in ends.iter().zip(below) {
                let baseline = top + below;
                let box_top = baseline - asked.above(height);
                let box_bottom = baseline + asked.below(height);
                let stretch = match &self.site.rectangle {
                    Some(room) => room.stretch(asked.align, box_top, box_bottom)?,
                    None => {
                        let field = self.site.field;
                        stretch_in(field, asked.align, box_top, box_bottom, &mut intervals)?
                    }
                };
                let width = asked.wide(pieces.width(from, to), height);
                if width > stretch.right - stretch.left + 2.0 * ALLOWED {
                    return None;
                }
                let stops = (pieces.stop(from), pieces.stop(to));
                rows.push(PlannedRow {
                    line,
                    from: stops.0,
                    to: stops.1,
                    height,
                    baseline,
                    stretch,
                });
                from = to;
            }
        }
        Some(rows)
    }
}

#[cfg(test)]
mod tests {
    use crate::fit::plan::plan;
    use crate::fit::testing::{field, line, problem};
    use crate::layout::Shape;

    /// Baselines of one-word lines 4 mm high with one cap height of white, in a
    /// rectangle 100 mm wide.
    fn baselines(lines: usize, height: f64) -> (Vec<f64>, f64) {
        let mut short = line(1.0, &[5.0]);
        short.ceiling = 4.0;
        let plan = plan(&problem(vec![short; lines]), &field(100.0, height, Shape::Rectangle));
        (plan.rows.iter().map(|row| row.baseline).collect(), plan.spread)
    }

    fn near(found: &[f64], expected: &[f64]) {
        assert_eq!(found.len(), expected.len());
        for (found, expected) in found.iter().zip(expected) {
            assert!((found - expected).abs() < 1e-9, "{found} is not {expected}");
        }
    }

    #[test]
    fn half_of_the_spare_height_at_most_goes_into_the_gaps() {
        // 12 mm unspread; λ + 0.25 makes 13. In 40 mm all of that is had, the rest
        // stays above and below: 13.5.
        let (rows, spread) = baselines(2, 40.0);
        near(&rows, &[17.5, 26.5]);
        near(&[spread], &[1.0]);
        // In 13 mm half of the spare millimetre: 12.5 high, a quarter above and below.
        let (rows, spread) = baselines(2, 13.0);
        near(&rows, &[4.25, 12.75]);
        near(&[spread], &[0.5]);
    }

    #[test]
    fn a_block_stands_in_the_middle_from_first_cap_line_to_last_baseline() {
        let mut tailed = line(1.0, &[5.0]);
        (tailed.ceiling, tailed.rise, tailed.depth) = (10.0, 1.2, 0.3);
        let problem = problem(vec![tailed]);
        let baseline =
            |height: f64| plan(&problem, &field(100.0, height, Shape::Rectangle)).rows[0].baseline;
        near(&[baseline(30.0)], &[20.0]);
        // 15.5 high: in the middle the tail would be out by 0.25.
        near(&[baseline(15.5)], &[12.5]);
    }

    #[test]
    fn a_block_in_a_circle_stands_in_the_middle_of_its_area() {
        let mut short = line(1.0, &[5.0]);
        short.ceiling = 4.0;
        let rows = plan(&problem(vec![short; 2]), &field(60.0, 60.0, Shape::Circle)).rows;
        near(&[rows[0].baseline, rows[1].baseline], &[27.5, 36.5]);
    }
}
