//! How rows stand above each other: the white between them, and a block's height.

use super::lists::{ByLine, Rows, listed};
use super::pieces::ALLOWED;
use super::problem::{LineProblem, Problem};

/// White that is kept between the ink of two rows, as a share of the smaller cap
/// height and in mm, whichever is more; common practice, no source.
const LEAST_WHITE_SHARE: f64 = 0.10;
const LEAST_WHITE_MM: f64 = 0.3;

/// How much leading may rise, and by which share `space` may, when spare height is
/// given to the gaps; common practice, no source.
const LEADING_RISE: f64 = 0.25;
const SPACE_RISE: f64 = 0.5;

/// Leading of a line when gaps take a share (0 to 1) of what they may.
pub(super) fn spread_leading(line: &LineProblem, share: f64) -> f64 {
    line.leading + LEADING_RISE * share
}

/// `space` of a line when gaps take a share of what they may.
pub(super) fn spread_space(line: &LineProblem, share: f64) -> f64 {
    line.space * (1.0 + SPACE_RISE * share)
}

/// Distances between baselines for given cap heights, mm.
#[derive(Debug, Clone)]
pub(super) struct Steps {
    /// Cap heights.
    pub(super) heights: ByLine<f64>,
    /// From the block's top edge to the first baseline.
    first: f64,
    /// From one row's baseline to the next within a line, by line.
    pub(super) within: ByLine<f64>,
    /// From the last row of a line to the first of the next, by line; the last
    /// line's entry is the distance to the block's bottom edge.
    pub(super) after: ByLine<f64>,
}

impl Steps {
    /// Steps for cap heights in mm, gaps spread by a share of what they may.
    pub(super) fn new(problem: &Problem, heights: ByLine<f64>, share: f64) -> Self {
        let row = |at: usize| (&problem.lines[at], heights[at]);
        let count = problem.lines.len();
        let within = listed(count, |at| white(row(at), row(at), false, share) + heights[at]);
        let after = listed(count, |at| {
            if at + 1 < count {
                white(row(at), row(at + 1), true, share) + heights[at + 1]
            } else {
                problem.lines[at].below(heights[at])
            }
        });
        let first = problem.lines.first().map_or(0.0, |line| line.above(heights[0]));
        Self { first, within, after, heights }
    }

    /// From the block's top edge to the first baseline, mm.
    pub(super) fn first(&self) -> f64 {
        self.first
    }

    /// Height of a block with so many rows a line, mm; 0 without lines.
    pub(super) fn block(&self, counts: &[usize]) -> f64 {
        let lines = counts.iter().zip(self.within.iter().zip(&self.after));
        lines.fold(self.first, |sum, (&count, (within, after))| {
            sum + rows_between(count) * within + after
        })
    }

    /// From each line's last baseline to the block's bottom edge, mm, when the lines
    /// after it have so many rows.
    pub(super) fn rest(&self, counts: &[usize]) -> ByLine<f64> {
        let mut rest = self.after.clone();
        for at in (0..rest.len().saturating_sub(1)).rev() {
            rest[at] += rows_between(counts[at + 1]) * self.within[at + 1] + rest[at + 1];
        }
        rest
    }

    /// Baselines of all rows below the block's top edge, mm, line by line.
    pub(super) fn baselines(&self, counts: &[usize]) -> Rows<f64> {
        let mut next = self.first;
        let mut all = Rows::new();
        for (at, &count) in counts.iter().enumerate() {
            let mut last = next;
            for row in 0..count {
                last = next + rows_between(row + 1) * self.within[at];
                all.push(last);
            }
            all.end_line();
            next = last + self.after[at];
        }
        all
    }
}

/// Height of a block with so many rows a line, mm; gaps take a share of what they may.
/// `height`: cap height of a line, mm. The same as that of [`Steps`], without keeping them.
pub(super) fn block(
    problem: &Problem,
    height: impl Fn(usize) -> f64,
    counts: &[usize],
    share: f64,
) -> f64 {
    let row = |at: usize| (&problem.lines[at], height(at));
    if problem.lines.is_empty() {
        return 0.0;
    }
    let mut below = row(0);
    let mut sum = below.0.above(below.1);
    for (at, &count) in counts.iter().enumerate() {
        let above = below;
        if count > 1 {
            sum += rows_between(count) * (white(above, above, false, share) + above.1);
        }
        sum += if at + 1 < problem.lines.len() {
            below = row(at + 1);
            white(above, below, true, share) + below.1
        } else {
            above.0.below(above.1)
        };
    }
    sum
}

/// Rounds in which a height is sought.
const ROUNDS: usize = 64;

/// The highest number from `low` to `high` at which a height is at most `most`, or is short
/// of it by a billionth of a millimetre. The height never falls and is a polygon: a secant
/// hits its root unless a corner lies between. At `low` it is not too much.
pub(super) fn highest(height: impl Fn(f64) -> f64, low: f64, high: f64, most: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let (mut at_low, mut at_high) = (height(low), height(high));
    if at_high <= most {
        return high;
    }
    // Aimed a hair below, so that a last digit does no harm.
    let (least, aim) = (most - ALLOWED, most - ALLOWED / 2.0);
    for round in 0..ROUNDS {
        let halves = round % 2 == 1;
        let share = if halves { 0.5 } else { (aim - at_low) / (at_high - at_low) };
        let middle = low + (high - low) * share.clamp(0.0, 1.0);
        if middle <= low || middle >= high {
            if halves {
                break;
            }
            continue;
        }
        let at_middle = height(middle);
        if (least..=most).contains(&at_middle) {
            return middle;
        }
        if at_middle <= aim {
            (low, at_low) = (middle, at_middle);
        } else {
            (high, at_high) = (middle, at_middle);
        }
    }
    low
}

/// Gaps in a stack of rows, as a factor.
#[expect(clippy::cast_precision_loss, reason = "rows are counted in thousands at most")]
fn rows_between(count: usize) -> f64 {
    count.saturating_sub(1) as f64
}

/// White from the baseline of one row to the cap line of the row below it, mm.
/// Each row is its line and its cap height; `starts`: the lower row begins a line.
///
/// `max((λ−1)·m + [starts]·space·m, D_a·h_a + (A_b−1)·h_b + max(0.1·min(h_a,h_b), 0.3 mm))`
/// with `m` the mean of the two heights and λ of the two leadings: the second term
/// keeps accents and tails apart however small the leading is. Beside a drawing `m` is the
/// height of the lettering: white belongs to the letters, whether a hairline or a crest
/// stands among them. It never falls as the heights rise.
fn white(above: (&LineProblem, f64), below: (&LineProblem, f64), starts: bool, share: f64) -> f64 {
    let ((a, h_a), (b, h_b)) = (above, below);
    let mean = match (a.drawn, b.drawn) {
        (true, false) => h_b,
        (false, true) => h_a,
        _ => (h_a + h_b) / 2.0,
    };
    let leading = (spread_leading(a, share) + spread_leading(b, share)) / 2.0;
    let space = if starts { spread_space(b, share) } else { 0.0 };
    let asked = (leading - 1.0 + space) * mean;
    let least = (LEAST_WHITE_SHARE * h_a.min(h_b)).max(LEAST_WHITE_MM);
    asked.max(a.below(h_a) + b.over_capitals(h_b) + least)
}

#[cfg(test)]
mod tests {
    use super::Steps;
    use crate::fit::lists::ByLine;
    use crate::fit::testing::{line, problem};

    fn near(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-9, "{a} is not {b}");
    }

    #[test]
    fn white_beside_a_drawing_goes_by_the_lettering() {
        // Capitals of 4, a rule of 0.5, capitals of 2; λ 2, space 0.5: 1.5·4 above the
        // rule, 1.5·2 below it, and 1.5·1.25 between rule and a drawing of 2.
        let mut lines =
            [line(2.0, &[9.0]), line(0.25, &[9.0]), line(1.0, &[9.0]), line(1.0, &[1.0])];
        for line in &mut lines {
            line.space = 0.5;
        }
        lines[1].drawn = true;
        let heights = ByLine::from_slice(&[4.0, 0.5, 2.0, 2.0]);
        let steps = Steps::new(&problem(lines.to_vec()), heights.clone(), 0.0);
        near(steps.after[0], 6.0 + 0.5);
        near(steps.after[1], 3.0 + 2.0);
        lines[2].drawn = true;
        near(Steps::new(&problem(lines.to_vec()), heights, 0.0).after[1], 1.875 + 2.0);
    }

    #[test]
    fn the_white_between_rows_is_the_stated_formula() {
        // λ 1.45 and 1.65, mean 1.55; heights 4 and 2, mean 3; space 0.35 of the lower:
        // 0.55·3 + 0.35·3 = 2.70. Depth 0.3 of the upper and rise 1.1 of the lower:
        // 1.2 + 0.2 + max(0.2, 0.3) = 1.7: the first holds.
        let mut upper = line(2.0, &[10.0]);
        (upper.leading, upper.depth) = (1.45, 0.3);
        let mut lower = line(1.0, &[10.0]);
        (lower.leading, lower.rise, lower.depth, lower.space) = (1.65, 1.1, 0.25, 0.35);
        let problem = problem(vec![upper, lower]);
        let heights = ByLine::from_slice(&[4.0, 2.0]);
        let steps = Steps::new(&problem, heights.clone(), 0.0);
        near(steps.after[0], 2.7 + 2.0);
        // Within the lower line: 0.65·2 = 1.3 against 0.5 + 0.2 + 0.3 = 1.0.
        near(steps.within[1], 1.3 + 2.0);
        // Block of one and two rows: 4 + 4.7 + 3.3 + 0.25·2.
        near(steps.block(&[1, 2]), 12.5);
        near(super::block(&problem, |at| [4.0, 2.0][at], &[1, 2], 0.0), 12.5);
        assert_eq!(steps.baselines(&[1, 2]).len(), 3);
        near(steps.baselines(&[1, 2]).of(1)[1], 12.0);
        near(steps.rest(&[1, 2])[0], 4.7 + 3.3 + 0.5);
        // Spread whole: λ 1.80, space 0.525: (0.80 + 0.525)·3.
        let spread = Steps::new(&problem, heights, 1.0);
        near(spread.after[0], 1.325 * 3.0 + 2.0);
    }

    #[test]
    fn tails_and_accents_keep_apart_under_tight_leading() {
        let mut tight = line(1.0, &[10.0]);
        (tight.leading, tight.rise, tight.depth) = (1.0, 1.4, 0.3);
        let problem = problem(vec![tight]);
        // 0.3·5 + 0.4·5 + max(0.5, 0.3).
        near(Steps::new(&problem, ByLine::from_slice(&[5.0]), 0.0).within[0], 4.0 + 5.0);
        // At 2 mm the 0.3 mm govern: 0.6 + 0.8 + 0.3.
        near(Steps::new(&problem, ByLine::from_slice(&[2.0]), 0.0).within[0], 1.7 + 2.0);
    }
}
