//! The exact limit in a rectangle.
//!
//! A line's fewest pieces never fall as the scale rises, the white between rows
//! and so the block's height never fall either: the feasible scales are one
//! interval that ends at the limit. A guess by area and a few steps from it come near. From there on the
//! events that can end it are looked at one by one: a piece becomes as wide as the
//! field, so that its line needs another row or cannot be broken further; or the block
//! becomes as high as the field.

use super::heights::{block, highest};
use super::lists::ByLine;
use super::pieces::{ALLOWED, Pieces};
use super::problem::{LineProblem, Problem};
use crate::layout::Align;
use crate::plate::Interval;

/// How near the ends of the stretch that holds the limit come before events are looked at:
/// the higher is at most so many times the lower. And halvings for that at most.
const NEAR: f64 = 1.02;
const HALVINGS: usize = 16;

/// Questions with which such a stretch is sought from a guess, the first step away from it,
/// and how far behind the place aimed at the next question lies.
const GUESSES: usize = 8;
const STEP: f64 = 1.01;
const BEHIND: f64 = 1.01;

/// Halvings that find a height among neighbouring numbers.
const FINE_HALVINGS: usize = 64;

/// Most events that are looked at; then halving goes on.
const MOST_EVENTS: usize = 64;

/// A rectangle as rows see it, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rectangle {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
    /// The axis of centred rows.
    axis: f64,
}

impl Rectangle {
    /// From left, top, right, bottom and the axis of centred rows.
    pub(super) fn new([left, top, right, bottom]: [f64; 4], axis: f64) -> Self {
        Self { left, top, right, bottom, axis }
    }

    /// Height, mm.
    fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Width for centred rows: twice the nearer distance from the axis to a side.
    fn centred(&self) -> f64 {
        2.0 * (self.axis - self.left).min(self.right - self.axis).max(0.0)
    }

    /// Width for the rows of a line.
    pub(super) fn width(&self, line: &LineProblem) -> f64 {
        match line.align {
            Align::Centre => self.centred(),
            Align::Left | Align::Right => self.right - self.left,
        }
    }

    /// What [`super::stack::stretch`] is in it: the same for all rows between its top and its
    /// bottom.
    pub(super) fn stretch(&self, align: Align, top: f64, bottom: f64) -> Option<Interval> {
        if top < self.top - 2.0 * ALLOWED || bottom > self.bottom + 2.0 * ALLOWED {
            return None;
        }
        match align {
            Align::Centre => {
                let half = (self.axis - self.left).min(self.right - self.axis);
                let stretch = Interval { left: self.axis - half, right: self.axis + half };
                (half >= 0.0).then_some(stretch)
            }
            Align::Left | Align::Right => Some(Interval { left: self.left, right: self.right }),
        }
    }
}

/// Fewest rows of each line at given cap heights; `None` where a piece is too wide
/// however the line breaks.
pub(super) fn fewest_rows(
    problem: &Problem,
    pieces: &[Pieces],
    room: &Rectangle,
    heights: &[f64],
) -> Option<ByLine<usize>> {
    let mut counts = ByLine::new();
    for ((line, pieces), &height) in problem.lines.iter().zip(pieces).zip(heights) {
        let (count, _) = pieces.fewest(limit_in_caps(line, room.width(line), height))?;
        counts.push(count);
    }
    Some(counts)
}

/// A width in mm as a limit for the pieces of a line in cap heights; below 0 where its cut
/// alone is wider.
pub(super) fn limit_in_caps(line: &LineProblem, width: f64, height: f64) -> f64 {
    let (spare, unit) = (width + ALLOWED - line.cut, line.unit(height));
    match (unit > 0.0, spare < 0.0) {
        (true, _) => spare / unit,
        (false, false) => f64::INFINITY,
        (false, true) => f64::NEG_INFINITY,
    }
}

/// A problem in a rectangle, with what is known at the scale last asked for.
struct Asked<'a> {
    problem: &'a Problem,
    pieces: &'a [Pieces],
    room: &'a Rectangle,
    /// Rows of each line.
    counts: ByLine<usize>,
    /// Widest piece of each line, cap heights.
    widest: ByLine<f64>,
}

impl Asked<'_> {
    /// Breaks all lines into the fewest rows at a scale. Whether that can be done.
    fn breaks(&mut self, scale: f64) -> bool {
        for (at, (line, pieces)) in self.problem.lines.iter().zip(self.pieces).enumerate() {
            let limit = limit_in_caps(line, self.room.width(line), line.height(scale));
            let Some((count, widest)) = pieces.fewest(limit) else { return false };
            (self.counts[at], self.widest[at]) = (count, widest);
        }
        true
    }

    /// Whether the rows last counted stand at a scale as far as the height goes.
    fn is_low_enough(&self, scale: f64) -> bool {
        self.block(scale) <= self.room.height() + ALLOWED
    }

    /// Height of a block of the rows last counted at a scale.
    fn block(&self, scale: f64) -> f64 {
        let lines = &self.problem.lines;
        block(self.problem, |at| lines[at].height(scale), &self.counts, 0.0)
    }

    /// Near the limit where lines break: the scale at which the area of all rows, each as
    /// full as can be, is that of the field.
    fn guess(&self) -> f64 {
        let lines = self.problem.lines.iter();
        let asked = lines.map(|line| {
            let length = line.widths.of(0, line.widths.stops().saturating_sub(1));
            length * line.ratio * line.ratio * line.leading / self.room.width(line)
        });
        (self.room.height() / asked.sum::<f64>()).sqrt()
    }

    /// Whether some permitted breaking stands at a scale.
    fn fits(&mut self, scale: f64) -> bool {
        self.breaks(scale) && self.is_low_enough(scale)
    }

    /// The scale from `from` on up to which the pieces last found keep to the width, at
    /// most `end`.
    fn widths_hold(&self, from: f64, end: f64) -> f64 {
        let lines = self.problem.lines.iter().zip(&self.widest);
        let holds = lines.filter_map(|(line, &widest)| {
            let width = self.room.width(line) + ALLOWED;
            // At its ceiling a line's pieces grow no more.
            let grows = line.wide(widest, line.ceiling) > width;
            // A last digit less, so that the pieces do keep to it.
            grows.then(|| line.height_of(widest, width) / line.ratio * (1.0 - 4.0 * f64::EPSILON))
        });
        holds.fold(end, f64::min).max(from)
    }

    /// The highest scale from `low`, which fits, to `high` at which the rows last counted
    /// are low enough.
    fn heights_hold(&self, low: f64, high: f64) -> f64 {
        highest(|scale| self.block(scale), low, high, self.room.height() + ALLOWED)
    }
}

/// The limit: the supremum of the feasible scales; `None` where nothing fits at the floors.
pub(super) fn limit(problem: &Problem, pieces: &[Pieces], room: &Rectangle) -> Option<f64> {
    let lines = problem.lines.len();
    let (counts, widest) = (ByLine::from_elem(0, lines), ByLine::from_elem(0.0, lines));
    let mut asked = Asked { problem, pieces, room, counts, widest };
    let (mut low, mut high) = enclosed(&mut asked)?;
    if low >= high {
        return Some(high);
    }
    halve(&mut asked, &mut low, &mut high, NEAR, HALVINGS);
    let mut stands = asked.fits(low);
    for _ in 0..MOST_EVENTS {
        if !stands {
            break;
        }
        let widths = asked.widths_hold(low, high);
        let heights = asked.heights_hold(low, widths);
        if heights < widths {
            return Some(heights);
        }
        // The pieces found become too wide here; others may do, or another row.
        let past = widths * (1.0 + 64.0 * f64::EPSILON);
        stands = past < high && asked.fits(past);
        if !stands {
            return Some(widths.min(high));
        }
        low = past;
    }
    halve(&mut asked, &mut low, &mut high, 1.0, FINE_HALVINGS);
    Some(low)
}

/// A scale that fits and a higher one that does not; where all of the domain fits both are
/// its end. `None` where nothing does.
fn enclosed(asked: &mut Asked<'_>) -> Option<(f64, f64)> {
    let (start, end) = (asked.problem.domain_start(), asked.problem.domain_end());
    let most = asked.room.height() + ALLOWED;
    let (mut low, mut high) = (None, None);
    let mut at = asked.guess().max(start).min(end);
    let mut step = STEP;
    for _ in 0..GUESSES {
        let breaks = asked.breaks(at);
        let block = asked.block(at);
        // Rows and their number grow together, so the block does with the square.
        let aimed = at * (most / block).sqrt();
        if breaks && block <= most {
            if at >= end {
                return Some((end, end));
            }
            low = Some(at);
            at = (aimed * BEHIND).max(at * step).min(end);
        } else {
            if at <= start {
                return None;
            }
            high = Some(at);
            let aimed = if breaks { aimed / BEHIND } else { at };
            at = aimed.min(at / step).max(start);
        }
        if let (Some(low), Some(high)) = (low, high) {
            return Some((low, high));
        }
        step *= step;
    }
    match (low, high) {
        (Some(low), _) if !asked.fits(end) => Some((low, end)),
        (Some(_), _) => Some((end, end)),
        (None, high) => asked.fits(start).then_some((start, high.unwrap_or(end))),
    }
}

/// Halves the stretch from a scale that fits to one that does not, until the one is at most
/// `near` times the other.
fn halve(asked: &mut Asked<'_>, low: &mut f64, high: &mut f64, near: f64, times: usize) {
    for _ in 0..times {
        if *high <= *low * near {
            break;
        }
        let middle = *low + (*high - *low) / 2.0;
        if middle <= *low || middle >= *high {
            break;
        }
        if asked.fits(middle) {
            *low = middle;
        } else {
            *high = middle;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Rectangle, limit};
    use crate::fit::pieces::pieces;
    use crate::fit::problem::LineProblem;
    use crate::fit::stack::stretch;
    use crate::fit::testing::{field, line, problem};
    use crate::layout::{Align, Shape};
    use crate::plate::Field;

    fn limit_of(lines: Vec<LineProblem>, width: f64, height: f64) -> Option<f64> {
        let problem = problem(lines);
        let room = Rectangle::new([0.0, 0.0, width, height], width / 2.0);
        limit(&problem, &pieces(&problem, |line, _| room.width(line)), &room)
    }

    fn near(found: Option<f64>, expected: f64) {
        let found = found.expect("fits");
        assert!((found - expected).abs() < 1e-8, "{found} is not {expected}");
    }

    #[test]
    fn one_word_is_as_high_as_width_or_height_allow() {
        near(limit_of(vec![line(1.0, &[10.0])], 50.0, 30.0), 5.0);
        near(limit_of(vec![line(1.0, &[10.0])], 50.0, 4.0), 4.0);
        near(limit_of(vec![line(2.0, &[10.0])], 50.0, 30.0), 2.5);
    }

    #[test]
    fn breaking_pays_where_height_is_to_spare() {
        // Two words of 10: in one row 21·h ≤ 42, h = 2; in two rows 10·h ≤ 42 and
        // 3·h ≤ 9 (one cap height of white): h = 3.
        near(limit_of(vec![line(1.0, &[10.0, 10.0])], 42.0, 9.0), 3.0);
        // In 5.4 mm two rows would be 1.8 high: one row of 2 is better.
        near(limit_of(vec![line(1.0, &[10.0, 10.0])], 42.0, 5.4), 2.0);
    }

    #[test]
    fn a_cut_is_as_wide_however_high_the_letters_are() {
        // 10 between centres and a cut of 0.5: 10·(h − 0.5) + 0.5 = 50.
        let single = |words: &[f64]| LineProblem { cut: 0.5, ..line(1.0, words) };
        near(limit_of(vec![single(&[10.0])], 50.0, 30.0), 5.45);
        // Over the strokes it is h high, accents (1.4) and tails (0.3) grow with the centre
        // lines: 1.4·(h − 0.5) + 0.5 + 0.3·(h − 0.5) = 9.
        let tailed = LineProblem { rise: 1.4, depth: 0.3, ..single(&[1.0]) };
        near(limit_of(vec![tailed], 50.0, 9.0), 0.5 + 8.5 / 1.7);
        // Two rows of 10 against one of 21 in 42 mm: as high as three heights allow, 3.
        near(limit_of(vec![single(&[10.0, 10.0])], 42.0, 9.0), 3.0);
        // Where the cut alone is too wide nothing fits.
        assert_eq!(limit_of(vec![single(&[10.0])], 0.4, 30.0), None);
    }

    #[test]
    fn a_rectangle_gives_rows_the_same_stretch_as_any_field() {
        let field = field(100.0, 40.0, Shape::Rectangle);
        let room = Rectangle::new(field.rectangle().expect("one"), field.axis_x);
        // Across the top and the bottom, and just outside them.
        let bands =
            [(0.0, 40.0), (0.0, 5.0), (35.0, 40.0), (-0.001, 5.0), (35.0, 40.001), (50.0, 60.0)];
        for align in [Align::Centre, Align::Left, Align::Right] {
            for (top, bottom) in bands {
                let own = room.stretch(align, top, bottom);
                assert_eq!(own, stretch(&field, align, top, bottom), "{align:?} {top} {bottom}");
            }
        }
        // Where the axis is beside it nothing stands on that.
        let beside = Field { axis_x: 120.0, ..field };
        let room = Rectangle::new(beside.rectangle().expect("one"), beside.axis_x);
        assert_eq!(stretch(&beside, Align::Centre, 5.0, 9.0), None);
        assert_eq!(room.stretch(Align::Centre, 5.0, 9.0), None);
        assert!(room.stretch(Align::Left, 5.0, 9.0).is_some());
    }

    #[test]
    fn hierarchy_bends_before_legibility() {
        // Ratios 2 and 1, the smaller with a floor of 2: widths 10·2s ≤ 60 would allow
        // s = 3; heights 2s + mean + s … with s < 2 the small line stays at 2:
        // 2s + (2s + 2)/2 + 2 = 9 gives s = 2: from there on 4.5s = 9, s = 2 too.
        let mut small = line(1.0, &[10.0]);
        small.floor = 2.0;
        near(limit_of(vec![line(2.0, &[10.0]), small.clone()], 60.0, 9.0), 2.0);
        // 8 mm: 3s + 3 = 8, s = 5/3: the large line 3.33, the small one still 2.
        near(limit_of(vec![line(2.0, &[10.0]), small], 60.0, 8.0), 5.0 / 3.0);
    }

    #[test]
    fn above_the_ceilings_nothing_changes_and_below_the_floors_nothing_fits() {
        let mut short = line(2.0, &[1.0]);
        short.ceiling = 5.0;
        near(limit_of(vec![short.clone()], 100.0, 100.0), 2.5);
        short.floor = 4.0;
        assert_eq!(limit_of(vec![short.clone()], 3.9, 100.0), None);
        // A ceiling below the floor is used.
        short.ceiling = 3.0;
        near(limit_of(vec![short], 3.9, 100.0), 1.5);
    }
}
