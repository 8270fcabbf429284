//! One sample: its number, name, licence and width over the wording.

use crate::drawing::{Group as Named, Item};
use crate::lettering::Family;

use super::super::block::{Block, Layer};
use super::super::heading::READ;
use super::super::table::{Para, paragraphs};
use super::super::text::{Labels, Style};
use super::break_rows::{Setting, Stack};
use super::row::{Row, Stand, stroke_of};
use super::{Sample, millimetres};

/// Where wording and names begin, mm: numbers stand to the left of it.
pub(super) const LEFT: f64 = 11.0;
/// White above a caption, and between caption and wording, mm.
const ABOVE: f64 = 1.6;
const UNDER: f64 = 3.2;
/// White under the wording, mm.
const BELOW: f64 = 4.6;
/// What a sample takes beside its rows, mm, about.
pub(super) const AROUND: f64 = 18.0;
/// White between parts of a caption, mm.
const BESIDE: f64 = 6.0;

/// What is said of a single-stroke lettering behind its look.
const STROKE_HERE: &str = "; its strokes are as wide as the cut, here a tenth of the cap height";

pub(super) fn block(
    labels: &Labels,
    sample: &Sample<'_>,
    family: Option<&Family>,
    number: usize,
    set: &Setting,
    width: f64,
) -> Block {
    let rows = rows(sample, set);
    let cut = stroke_of(&sample.face, set.cap_height);
    let size = (set.cap_height - cut) / sample.face.cap_em();
    let ink = |row: &Row<'_>| (row.piece.ink_right_em - row.piece.ink_left_em) * size + cut;
    let widest = rows.iter().map(ink).fold(0.0, f64::max);
    let mut block = caption(labels, sample, family, number, widest, width);

    let stack = Stack::of(&sample.lines);
    let top = block.height + UNDER;
    let mut items: Vec<Item> = Vec::new();
    for (row, at) in rows.iter().zip(0_u32..) {
        let baseline = top + (stack.rise + stack.leading * f64::from(at)) * set.cap_height;
        // Ink begins where the names do; from the right where the script does.
        let x = if right_to_left(row.text) {
            width - row.piece.ink_right_em * size - cut / 2.0
        } else {
            LEFT - row.piece.ink_left_em * size + cut / 2.0
        };
        let stand = Stand { x, baseline: baseline - cut / 2.0, size, cut };
        items.push(row.item(&sample.face, stand));
    }
    let about = format!("Number {number}: {}", sample.entry.name);
    block.push(Layer::Plaque, Named::new(&format!("specimen-{number}"), &about, items));
    block.height = top + stack.height(rows.len()) * set.cap_height + BELOW;
    block
}

/// The pieces that stand in rows, those without ink left out.
fn rows<'s>(sample: &'s Sample<'_>, set: &Setting) -> Vec<Row<'s>> {
    let mut rows = Vec::new();
    for (line, ranges) in sample.lines.iter().zip(&set.rows) {
        for range in ranges {
            let Some(text) = line.text.get(range.clone()) else { continue };
            let start = range.start + (text.len() - text.trim_start().len());
            rows.push(Row { piece: line.piece(range.clone()), text: text.trim(), start });
        }
    }
    rows
}

/// Whether a row reads from the right, by its first letter that has a direction
/// (UAX #9, rules P2 and P3).
fn right_to_left(text: &str) -> bool {
    unicode_bidi::get_base_direction(text) == unicode_bidi::Direction::Rtl
}

/// Rule, number, name and look at the left; width and licence at the right.
fn caption(
    labels: &Labels,
    sample: &Sample<'_>,
    family: Option<&Family>,
    number: usize,
    widest: f64,
    width: f64,
) -> Block {
    let mut block = Block::empty(0.0);
    block.rule(Layer::Frame, (0.0, 0.0), (width, 0.0));
    let strong = Style::bold(READ.section).figures();
    let number = labels.set(&number.to_string(), strong, None);
    let name = labels.set(&sample.entry.name, Style::bold(READ.body), None);
    let licence = family.map_or("", |family| family.spdx.as_str());
    let right = format!("{} wide \u{b7} {licence}", millimetres(widest));
    let right = labels.set(&right, READ.caption().figures(), None);
    let baseline = ABOVE + number.above.max(name.above);
    block.text(Layer::Labels, &number, 0.0, baseline);
    block.text(Layer::Labels, &name, LEFT, baseline);
    block.text(Layer::Labels, &right, width - right.width, baseline);
    let from = LEFT + name.width + BESIDE;
    let room = width - right.width - BESIDE - from;
    let mut look = family.map(|family| family.look.join(", ")).unwrap_or_default();
    if sample.face.single_stroke() {
        look.push_str(STROKE_HERE);
    }
    let look = paragraphs(labels, &[Para::new(look, READ.caption())], room.max(20.0));
    block.height =
        (baseline + number.below).max(baseline - READ.caption().baseline() + look.height);
    block.add(look, from, baseline - READ.caption().baseline());
    block
}
