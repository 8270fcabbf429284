//! The check bar: 100 mm and 4 in on one line, by which anyone with a rule
//! finds out whether a printer kept the size.

use super::block::{Block, Layer, line_of, straight};
use super::dimension::Along;
use super::text::{Labels, SetRow, Style};
use super::words;
use crate::drawing::{Group, Path};

/// Inches on the bar.
const BAR_IN: u32 = 4;
/// Length of the whole bar: four inches are the longer side.
pub(super) const BAR_LENGTH: f64 = 25.4 * BAR_IN as f64;
/// Width of the bar's line and ticks, mm.
const LINE: f64 = 0.25;

/// A bar with its captions.
pub(super) struct Bar {
    /// Everything drawn; the bar's own top left corner at 0, 0.
    pub(super) block: Block,
    /// Width that it takes, mm.
    pub(super) width: f64,
}

/// Height of ticks, mm: of tens (quarter inches), of halves (inches).
fn ticks() -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    for step in 0..=10_u32 {
        let at = f64::from(step) * 10.0;
        all.push((at, if step % 5 == 0 { -3.2 } else { -2.2 }));
    }
    // Single millimetres over the first ten: a worn rule shows there.
    for step in 1..10_u32 {
        all.push((f64::from(step), if step == 5 { -1.7 } else { -1.2 }));
    }
    for step in 0..=(4 * BAR_IN) {
        let height = match step % 4 {
            0 => 3.2,
            2 => 2.2,
            _ => 1.2,
        };
        all.push((f64::from(step) * 6.35, height));
    }
    all
}

/// The bar across or down the sheet. Its line stands at `axis` from the
/// block's edge; captions say what it measures.
pub(super) fn bar(labels: &Labels, along: Along, style: Style) -> Bar {
    let figures = style.figures();
    let above: Vec<(f64, SetRow)> = [(0.0, "0"), (50.0, "50"), (100.0, "100 mm")]
        .into_iter()
        .map(|(at, text)| (at, labels.set(text, figures, None)))
        .collect();
    let below: Vec<(f64, SetRow)> = [(0.0, "0"), (50.8, "2"), (101.6, "4 in")]
        .into_iter()
        .map(|(at, text)| (at, labels.set(text, figures, None)))
        .collect();
    // Labels hang over the ends by half their width.
    let half = |at: f64| {
        let there = above.iter().chain(&below).filter(|(place, _)| (place - at).abs() < 2.0);
        there.map(|(place, row)| row.width / 2.0 + (place - at).abs()).fold(0.0, f64::max)
    };
    let (lead, tail) = (half(0.0), half(BAR_LENGTH));
    let axis = 4.0 + style.leading();
    let depth = axis + 4.0 + style.leading();
    let mut block = Block::empty(0.0);
    let place = |at: f64, off: f64| match along {
        Along::Across => (lead + at, axis + off),
        // Zero at the bottom, so that its figures read upwards as a rule's do.
        Along::Down => (axis + off, tail + BAR_LENGTH - at),
    };
    let stroke = |block: &mut Block, from: (f64, f64), to: (f64, f64)| {
        block.push(Layer::Bar, Path::stroked(straight(from, to), line_of(LINE)));
    };
    stroke(&mut block, place(0.0, 0.0), place(BAR_LENGTH, 0.0));
    for (at, height) in ticks() {
        stroke(&mut block, place(at, 0.0), place(at, height));
    }
    let mut write = |at: f64, row: &SetRow, off: f64| {
        let (x, y) = place(at - row.width / 2.0, off);
        match along {
            Along::Across => block.text(Layer::Bar, row, x, y),
            Along::Down => block.upright(Layer::Bar, row, x, y),
        }
    };
    for (at, row) in &above {
        write(*at, row, -4.2);
    }
    for (at, row) in &below {
        write(*at, row, 4.2 + style.cap);
    }
    let length = BAR_LENGTH + lead + tail;
    let (width, height) = match along {
        Along::Across => (length, depth),
        Along::Down => (depth, length),
    };
    block.height = height;
    let group = Group::new("bar", words::BAR_TOLD, Vec::new());
    Bar { block: block.gathered(Layer::Bar, group), width }
}
