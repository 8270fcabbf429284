//! One sample: its number, name, licence and width over the wording.

use kurbo::Affine;

use crate::drawing::{Ends, Group as Named, Item, Path, Setting as Place, Stroke, Text};
use crate::lettering::{Family, PieceShape};

use super::super::block::{Block, Layer, line_of};
use super::super::heading::READ;
use super::super::table::{Para, paragraphs};
use super::super::text::{BLACK, Labels, Style};
use super::break_rows::{Setting, Stack};
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

/// Stroke of single-stroke letterings, as a share of the cap height, where no cutter makes
/// it: that of ISO 3098's lettering B (from memory).
const STROKE_SHARE: f64 = 0.1;

/// Rows of a sample, each a piece with its text and where that begins in the line's.
struct Row<'t> {
    piece: PieceShape,
    text: &'t str,
    start: usize,
}

pub(super) fn block(
    labels: &Labels,
    sample: &Sample<'_>,
    family: Option<&Family>,
    number: usize,
    set: &Setting,
    width: f64,
) -> Block {
    let rows = rows(sample, set);
    let cut = if sample.face.single_stroke() { STROKE_SHARE * set.cap_height } else { 0.0 };
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
        if cut > 0.0 {
            items.push(centre_lines(row, sample, (x, baseline - cut / 2.0), size, cut));
            continue;
        }
        let place = Place { size, x, y: baseline, turned: 0.0, colour: BLACK };
        let glyphs: Vec<_> = (row.piece.glyphs.iter())
            .map(|glyph| {
                let mut glyph = *glyph;
                glyph.cluster = glyph.cluster.saturating_sub(row.start);
                glyph
            })
            .collect();
        items.push(Text::from_glyphs(row.text, &sample.face, &glyphs, place).into());
    }
    let about = format!("Number {number}: {}", sample.entry.name);
    block.push(Layer::Plaque, Named::new(&format!("specimen-{number}"), &about, items));
    block.height = top + stack.height(rows.len()) * set.cap_height + BELOW;
    block
}

/// A row of centre lines from its origin, `size` mm to the em, drawn `cut` mm wide.
fn centre_lines(row: &Row<'_>, sample: &Sample<'_>, at: (f64, f64), size: f64, cut: f64) -> Item {
    let glyphs = row.piece.glyphs.iter().flat_map(|glyph| {
        let (x, y) = (at.0 + glyph.x_em * size, at.1 - glyph.y_em * size);
        Affine::new([size, 0.0, 0.0, -size, x, y]) * sample.face.outline(glyph.id)
    });
    let stroke = Stroke { ends: Ends::Round, ..line_of(cut) };
    Path::stroked(glyphs.collect(), stroke).into()
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
