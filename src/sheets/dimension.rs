//! Dimensions as ISO 129-1 draws them: narrow lines, filled arrowheads, text
//! above the line and readable from the bottom or from the right.
//!
//! Two kinds: a plain dimension between two points, and running dimensions from
//! one origin (a small circle), which a person checks by laying a rule along
//! them once.

use kurbo::{BezPath, Point};

use crate::drawing::{LineType, Path};

use super::block::{Block, Layer, circle, line_of, narrow};
use super::text::{BLACK, Labels, SetRow, Style};

/// Length of an arrowhead, mm.
const ARROW: f64 = 2.8;
/// Half the width of an arrowhead at its back, mm: 18° in all (ISO 129-1 allows
/// 15° to 90°).
const ARROW_HALF: f64 = 0.44;
/// From the feature to the start of its extension line, mm.
const GAP: f64 = 0.8;
/// How far extension lines run past the dimension line: 8 line widths, mm.
const PAST: f64 = 1.5;
/// From the dimension line to text above it, mm.
const TEXT_GAP: f64 = 0.9;
/// Diameter of the origin of running dimensions, mm.
const ORIGIN: f64 = 2.4;
/// Between an extension line and the figures beside it, mm.
const VALUE_GAP: f64 = 0.5;
/// Between two labels of running dimensions side by side, mm.
const APART: f64 = 1.2;

/// Which way a dimension runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Along {
    /// Left to right; its text stands above it.
    Across,
    /// Top to bottom; its text stands left of it and reads from the right.
    Down,
}

impl Along {
    /// Page coordinates of a place `at` along and `off` across the dimension.
    fn point(self, at: f64, off: f64) -> Point {
        match self {
            Self::Across => Point::new(at, off),
            Self::Down => Point::new(off, at),
        }
    }
}

/// A filled arrowhead with its tip at `at`, pointing towards greater values
/// (`sense` 1) or smaller (−1).
fn arrow(block: &mut Block, along: Along, at: f64, off: f64, sense: f64) {
    let mut head = BezPath::new();
    head.move_to(along.point(at, off));
    head.line_to(along.point(at - sense * ARROW, off - ARROW_HALF));
    head.line_to(along.point(at - sense * ARROW, off + ARROW_HALF));
    head.close_path();
    block.push(Layer::Dimensions, Path::filled(head, BLACK));
}

fn line(block: &mut Block, along: Along, from: (f64, f64), to: (f64, f64)) {
    let (a, b) = (along.point(from.0, from.1), along.point(to.0, to.1));
    block.rule(Layer::Dimensions, (a.x, a.y), (b.x, b.y));
}

/// A plain dimension from `from` to `to`, its line at `off`; the extension line of
/// each comes from the feature's edge, at the first and second of `features`. The text stands over the middle
/// even where it is wider than the dimension: it is then lifted over the ends
/// of the extension lines.
pub(super) fn plain(
    block: &mut Block,
    along: Along,
    (from, to): (f64, f64),
    (features, off): ([f64; 2], f64),
    row: &SetRow,
) {
    for (at, feature) in [from, to].into_iter().zip(features) {
        extension(block, along, at, (feature, off));
    }
    let away = if off < features[0] { -1.0 } else { 1.0 };
    between(block, along, (from, to), (off, away), row);
}

/// The extension line of a dimension whose line is at `off`, from a feature.
pub(super) fn extension(block: &mut Block, along: Along, at: f64, (feature, off): (f64, f64)) {
    let away = if off < feature { -1.0 } else { 1.0 };
    line(block, along, (at, feature + away * GAP), (at, off + away * PAST));
}

/// A plain dimension without its extension lines; `away` is -1 where they come from greater
/// values across, else 1.
pub(super) fn between(
    block: &mut Block,
    along: Along,
    (from, to): (f64, f64),
    (off, away): (f64, f64),
    row: &SetRow,
) {
    let short = to - from < 3.0 * ARROW;
    if short {
        line(block, along, (from - 2.0 * ARROW, off), (to + 2.0 * ARROW, off));
    } else {
        line(block, along, (from, off), (to, off));
    }
    let sense = if short { -1.0 } else { 1.0 };
    arrow(block, along, from, off, -sense);
    arrow(block, along, to, off, sense);
    // Extension lines that run on past the line would meet text wider than it.
    let wide = row.width > to - from - 1.0 || short;
    let lift = if wide && away < 0.0 { PAST + TEXT_GAP } else { TEXT_GAP };
    let middle = f64::midpoint(from, to);
    match along {
        Along::Across => {
            block.text(Layer::Dimensions, row, middle - row.width / 2.0, off - lift);
        }
        Along::Down => {
            block.upright(Layer::Dimensions, row, off - lift, middle + row.width / 2.0);
        }
    }
}

/// Which end of a dimension its text stands beyond.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Beyond {
    /// The end of the smaller value.
    First,
    /// The end of the greater value.
    Second,
}

/// White between the arrowhead and text beyond the end of a dimension, mm.
const BEYOND_GAP: f64 = 1.0;

/// How far a dimension with its text beyond an end reaches past that end, mm.
pub(super) fn beyond_reach(row: &SetRow) -> f64 {
    ARROW + 2.0 * BEYOND_GAP + row.width
}

/// A dimension as [`between`], too short for its text: arrowheads come from outside, and the
/// text stands over the line beyond one end (ISO 129-1).
pub(super) fn beyond(
    block: &mut Block,
    along: Along,
    (from, to): (f64, f64),
    (off, end): (f64, Beyond),
    row: &SetRow,
) {
    let reach = beyond_reach(row);
    let (start, stop) = match end {
        Beyond::First => (from - reach, to + 2.0 * ARROW),
        Beyond::Second => (from - 2.0 * ARROW, to + reach),
    };
    line(block, along, (start, off), (stop, off));
    arrow(block, along, from, off, 1.0);
    arrow(block, along, to, off, -1.0);
    let begin = match end {
        Beyond::First => start + BEYOND_GAP,
        Beyond::Second => stop - BEYOND_GAP - row.width,
    };
    match along {
        Along::Across => block.text(Layer::Dimensions, row, begin, off - TEXT_GAP),
        Along::Down => block.upright(Layer::Dimensions, row, off - TEXT_GAP, begin + row.width),
    }
}

/// Whether a plain dimension has room for its text and its arrowheads between its ends.
pub(super) fn goes_between(row: &SetRow, length: f64) -> bool {
    length >= 3.0 * ARROW && row.width <= length - 1.0
}

/// Words between two arrows that point away from them: which way something runs. The block
/// and its width and height, mm.
pub(super) fn between_arrows(along: Along, row: &SetRow) -> (Block, (f64, f64)) {
    let cap = row.above - row.below;
    let (long, half) = (row.width + 4.0 * ARROW, cap / 2.0);
    let mut block = Block::empty(0.0);
    let words = (2.0 * ARROW, 2.0 * ARROW + row.width);
    line(&mut block, along, (0.0, half), (words.0 - BEYOND_GAP, half));
    line(&mut block, along, (words.1 + BEYOND_GAP, half), (long, half));
    arrow(&mut block, along, 0.0, half, -1.0);
    arrow(&mut block, along, long, half, 1.0);
    match along {
        Along::Across => {
            block.text(Layer::Dimensions, row, words.0, cap);
            (block, (long, cap))
        }
        Along::Down => {
            block.upright(Layer::Dimensions, row, cap, words.1);
            (block, (cap, long))
        }
    }
}

/// How far from the feature a plain dimension's line stands so that its text
/// clears the feature, mm. For lines right of or below the feature, whose text
/// stands between the two.
pub(super) fn clear_of(row: &SetRow) -> f64 {
    row.height() + TEXT_GAP + 2.0 * GAP
}

/// One place on running dimensions.
#[derive(Debug, Clone)]
pub(super) struct Mark {
    /// Where it stands along the sheet, mm.
    pub(super) at: f64,
    /// Where its extension line starts, across the dimension, mm; `None` where
    /// a line of the drawing (a centre line) already runs there.
    pub(super) feature: Option<f64>,
    /// First value, before the extension line.
    pub(super) first: String,
    /// Second value, behind it; may be empty.
    pub(super) second: String,
}

/// A mark with the place of its labels.
struct Placed {
    at: f64,
    label_at: f64,
    feature: Option<f64>,
    first: Option<SetRow>,
    second: Option<SetRow>,
}

/// Running dimensions laid out: what they take of the sheet.
pub(super) struct Running {
    along: Along,
    origin: f64,
    /// Whether the origin lies off the sheet; the line then runs out in dots.
    off_sheet: bool,
    marks: Vec<Placed>,
    /// From the dimension line to the far end of the labels, mm.
    pub(super) depth: f64,
    /// Least and greatest place along that labels take, mm.
    pub(super) span: (f64, f64),
}

/// Running dimensions from `origin`. Labels are moved apart along the line
/// where marks stand too close; their extension lines then bend.
pub(super) fn running(
    labels: &Labels,
    style: Style,
    along: Along,
    (origin, off_sheet): (f64, bool),
    marks: &[Mark],
) -> Running {
    let half = style.leading() + APART / 2.0;
    let mut marks: Vec<&Mark> = marks.iter().collect();
    marks.sort_by(|a, b| a.at.total_cmp(&b.at));
    let places = spread(&marks.iter().map(|mark| mark.at).collect::<Vec<_>>(), 2.0 * half);
    let set = |text: &String| (!text.is_empty()).then(|| labels.set(text, style, None));
    let placed: Vec<Placed> = marks
        .iter()
        .zip(&places)
        .map(|(mark, &label_at)| Placed {
            at: mark.at,
            label_at,
            feature: mark.feature,
            first: set(&mark.first),
            second: set(&mark.second),
        })
        .collect();
    let longest = placed.iter().map(Placed::longest).fold(0.0, f64::max);
    let ends = |value: fn(f64, f64) -> f64, start: f64| places.iter().copied().fold(start, value);
    Running {
        along,
        origin,
        off_sheet,
        depth: BEND + TEXT_GAP + longest + 1.0,
        span: (ends(f64::min, origin) - half, ends(f64::max, origin) + half),
        marks: placed,
    }
}

impl Placed {
    fn longest(&self) -> f64 {
        [&self.first, &self.second].into_iter().flatten().map(|row| row.width).fold(0.0, f64::max)
    }
}

/// From the dimension line to where bent extension lines run straight again, mm.
const BEND: f64 = 3.5;

impl Running {
    /// Draws them with the dimension line at `off`, moved by `shift` along the
    /// line and `across` it from the coordinates of the marks.
    pub(super) fn draw(&self, block: &mut Block, off: f64, (shift, across): (f64, f64)) {
        let along = self.along;
        let origin = self.origin + shift;
        let reach = |value: fn(f64, f64) -> f64| {
            self.marks.iter().map(|mark| mark.at + shift).fold(origin, value)
        };
        line(block, along, (reach(f64::min), off), (reach(f64::max), off));
        for mark in &self.marks {
            let (at, place) = (mark.at + shift, mark.label_at + shift);
            if let Some(feature) = mark.feature {
                // What starts beyond the sheet's window starts at the line.
                line(block, along, (at, (feature + across - GAP).max(off)), (at, off));
            }
            let end = off - BEND - TEXT_GAP - mark.longest();
            line(block, along, (at, off), (place, off - BEND));
            line(block, along, (place, off - BEND), (place, end));
            let far = (at - origin).abs();
            if far > ORIGIN {
                arrow(block, along, at, off, if at < origin { -1.0 } else { 1.0 });
            } else if far > 1e-9 {
                // No room for an arrowhead: a dot (ISO 129-1).
                dot(block, along, (at, off), 0.4);
            }
            self.values(block, place, off, mark);
        }
        if self.off_sheet {
            let away = if origin > reach(f64::min) { 1.0 } else { -1.0 };
            for step in 1..=3_u8 {
                dot(block, along, (origin + away * 1.2 * f64::from(step), off), 0.25);
            }
            return;
        }
        // The circle lies over the lines that meet in it.
        let centre = along.point(origin, off);
        let mut ring = Path::stroked(circle(centre.x, centre.y, ORIGIN / 2.0), line_of(0.25));
        ring.fill = Some(crate::drawing::Paint::Solid([255; 3]));
        block.push(Layer::Dimensions, ring);
    }

    /// The values of one mark: the first above (left of) its line, the second
    /// below (right of) it.
    fn values(&self, block: &mut Block, place: f64, off: f64, mark: &Placed) {
        let start = off - BEND - TEXT_GAP;
        if let Some(row) = &mark.first {
            self.value(block, row, place - VALUE_GAP - row.below / 2.0, start);
        }
        if let Some(row) = &mark.second {
            self.value(block, row, place + VALUE_GAP + row.above * 0.8, start);
        }
    }

    fn value(&self, block: &mut Block, row: &SetRow, baseline: f64, start: f64) {
        match self.along {
            Along::Across => block.upright(Layer::Dimensions, row, baseline, start),
            Along::Down => block.text(Layer::Dimensions, row, start - row.width, baseline),
        }
    }
}

fn dot(block: &mut Block, along: Along, (at, off): (f64, f64), radius: f64) {
    let centre = along.point(at, off);
    block.push(Layer::Dimensions, Path::filled(circle(centre.x, centre.y, radius), BLACK));
}

/// Places nearest to the wanted ones (least squares) that keep a distance.
/// `wanted` rises. Pool-adjacent-violators on the places less their share of
/// the distance.
fn spread(wanted: &[f64], apart: f64) -> Vec<f64> {
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (index, at) in wanted.iter().enumerate() {
        pools.push((at - apart * index as f64, 1));
        while let [.., (a, m), (b, n)] = pools.as_slice()
            && a > b
        {
            let count = m + n;
            let mean = (a * *m as f64 + b * *n as f64) / count as f64;
            pools.truncate(pools.len() - 2);
            pools.push((mean, count));
        }
    }
    pools
        .iter()
        .flat_map(|(mean, count)| std::iter::repeat_n(*mean, *count))
        .enumerate()
        .map(|(index, at)| at + apart * index as f64)
        .collect()
}

/// A centre line (ISO 128, 04) from `from` to `to`.
pub(super) fn centre_line(block: &mut Block, from: (f64, f64), to: (f64, f64)) {
    let path = super::block::straight(from, to);
    block.push(Layer::Dimensions, Path::stroked(path, narrow(LineType::LongDashedDotted)));
}

/// Crossing centre lines of a hole, `reach` mm each way: four arms from the
/// middle, so that long dashes cross there.
pub(super) fn crossing(block: &mut Block, x: f64, y: f64, reach: f64) {
    for (dx, dy) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
        centre_line(block, (x, y), (x + dx * reach, y + dy * reach));
    }
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn places_that_are_far_apart_stay() {
        assert_eq!(spread(&[0.0, 10.0, 25.0], 8.0), vec![0.0, 10.0, 25.0]);
    }

    #[test]
    fn close_places_part_evenly_about_their_middle() {
        // Worked by hand: two at 10 and 12 that must stand 8 apart stand at 7 and 15.
        assert_eq!(spread(&[10.0, 12.0], 8.0), vec![7.0, 15.0]);
        // Three at one place: 8 to either side.
        assert_eq!(spread(&[5.0, 5.0, 5.0], 8.0), vec![-3.0, 5.0, 13.0]);
    }

    #[test]
    fn nothing_to_spread_is_nothing() {
        assert!(spread(&[], 8.0).is_empty());
    }
}
