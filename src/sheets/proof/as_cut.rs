//! The engraving as the cutter leaves it: all of it at true size, and enlarged where the
//! measures say that it matters. Only where a cutter is told.

use std::sync::Arc;

use kurbo::{Affine, Point, Rect};

use crate::checks::{self, ThinKind, ThinPart};
use crate::drawing::{Group, Path, Stroke};
use crate::job::Job;
use crate::layout::Cutter;
use crate::units::digits::{fixed, trimmed};

use super::super::as_cut::AsCut;
use super::super::block::{Block, Layer, NARROW, circle, line_of, rectangle};
use super::super::engraved::Engraved;
use super::super::heading::{READ, section};
use super::super::page::Flow;
use super::super::table::{Para, paragraphs};
use super::super::text::{BLACK, Labels};
use super::super::words;

/// Metal that the cutter removes: a grey that stays apart from black and from paper on any
/// printer.
const REMOVED: [u8; 3] = [165; 3];
/// Metal that is left.
const LEFT: [u8; 3] = [255; 3];

/// Most places that are enlarged: two rows of three on the narrowest paper.
const MOST: usize = 6;
/// Most outlines that are shown at true size; of longer wordings only the rows of the places
/// below are, so that no proof takes long.
const MOST_OUTLINES: usize = 4000;
/// Width and height of an enlarged picture, mm.
const TILE: (f64, f64) = (56.0, 42.0);
/// White between them, mm.
const GUTTER: f64 = 6.0;
/// Scales of ISO 5455 for enlargement (from memory), and on by the same steps.
const SCALES: [f64; 7] = [2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];
/// A picture shows at least so many cap heights, where that leaves the width needed large
/// enough.
const CAPS_SHOWN: f64 = 1.4;
/// The width needed is drawn at least so wide, mm.
const LEAST_CIRCLE: f64 = 0.8;
/// White round the engraving at true size, mm.
const ROUND: f64 = 1.5;
/// Size of a swatch in the key, mm.
const SWATCH: (f64, f64) = (4.0, 2.4);

pub(super) fn put(flow: &mut Flow, labels: &Labels, job: &Job) {
    let Some(cutter) = job.layout.cutter() else { return };
    let parts = checks::thin_parts(&job.layout, &job.lines, &job.fitted);
    let (shown, failing) = worth_showing(job, &parts);
    if shown.is_empty() {
        return;
    }
    let engraved = Engraved::of(job);
    let all = engraved.stands.len() <= MOST_OUTLINES;
    let rows: Vec<usize> = shown.iter().filter_map(|part| row_of(job, part)).collect();
    let cut = AsCut::new(job, &engraved, cutter.width(), (!all).then_some(&rows));
    let Some(bounds) = cut.bounds() else { return };

    let width = flow.width();
    let mut opening = paragraphs(labels, &told(job, cutter, &cut, all), width);
    opening.height += 2.0;
    opening.stack(key(labels, job.layout.incised(), width));
    opening.height += 3.0;
    opening.stack(true_size(&cut, bounds, width));
    section(flow, labels, READ, "As cut", opening.height);
    flow.put(opening);

    let columns = across(width);
    let tiles: Vec<Block> = shown.iter().map(|part| tile(labels, job, &cut, part)).collect();
    let caption = [Para::new(words::enlarged(shown.len(), failing), READ.caption())];
    let mut caption = paragraphs(labels, &caption, width);
    caption.height += 1.5;
    let first = tiles.iter().take(columns).map(|tile| tile.height).fold(0.0, f64::max);
    flow.space(4.0);
    flow.keep(caption.height + first);
    flow.put(caption);
    for (index, row) in tiles.chunks(columns).enumerate() {
        flow.space(if index > 0 { 3.0 } else { 0.0 });
        let mut block = Block::empty(row.iter().map(|tile| tile.height).fold(0.0, f64::max));
        let mut left = 0.0;
        for tile in row {
            block.add(tile.clone(), left, 0.0);
            left += TILE.0 + GUTTER;
        }
        flow.put(block);
    }
}

/// How many pictures stand side by side.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "paper is some metres wide at most, and the least is 1"
)]
fn across(width: f64) -> usize {
    ((width + GUTTER) / (TILE.0 + GUTTER) + 1e-9).floor().max(1.0) as usize
}

/// The places that are enlarged, and how many do not hold: the worst of those; where all
/// hold, the stroke and the counter or gap that come nearest to it.
fn worth_showing<'p>(job: &Job, parts: &'p [ThinPart]) -> (Vec<&'p ThinPart>, usize) {
    let share = |part: &ThinPart| part.letters.width / part.need.least;
    let cap = |part: &ThinPart| job.fitted.lines.get(part.line).map_or(0.0, |line| line.cap_height);
    let mut failing: Vec<&ThinPart> = parts.iter().filter(|part| !part.holds()).collect();
    let count = failing.len();
    if failing.is_empty() {
        let nearest = |ground: bool| {
            let of = |kind| matches!(kind, ThinKind::Counter | ThinKind::Gap) == ground;
            let kept = parts.iter().filter(|part| of(part.kind));
            kept.min_by(|a, b| share(a).total_cmp(&share(b)))
        };
        return ([nearest(false), nearest(true)].into_iter().flatten().collect(), 0);
    }
    failing.sort_by(|a, b| b.stops().cmp(&a.stops()).then(share(a).total_cmp(&share(b))));
    let mut shown: Vec<&ThinPart> = Vec::new();
    for part in failing {
        // The same letter in another line of the same height looks the same.
        let same = |other: &&ThinPart| {
            (other.kind, &other.letters.letter, &other.letters.other)
                == (part.kind, &part.letters.letter, &part.letters.other)
                && (cap(other) - cap(part)).abs() < 0.01
        };
        if !shown.iter().any(same) {
            shown.push(part);
        }
    }
    shown.truncate(MOST);
    (shown, count)
}

/// The row that a place stands in: of its line the one whose middle is nearest.
fn row_of(job: &Job, part: &ThinPart) -> Option<usize> {
    let away = |index: &usize| {
        let row = job.fitted.rows.get(*index);
        row.map_or(f64::INFINITY, |row| (middle(row) - part.letters.y).abs())
    };
    let rows = (0..job.fitted.rows.len())
        .filter(|index| job.fitted.rows.get(*index).is_some_and(|row| row.line == part.line));
    rows.min_by(|a, b| away(a).total_cmp(&away(b)))
}

fn middle(row: &crate::fit::Row) -> f64 {
    row.baseline - row.cap_height / 2.0
}

/// What stands above the pictures.
fn told(job: &Job, cutter: Cutter, cut: &AsCut, all: bool) -> Vec<Para> {
    let missed = cut.missed_share() * 100.0;
    let mut text = words::as_cut(job.layout.incised(), &fixed(cutter.width(), 2), missed);
    if !all {
        text = format!("{text} {}", words::AS_CUT_ROWS);
    }
    vec![Para::new(text, READ.text().figures())]
}

/// What the tones mean, in one line where there is room for it.
fn key(labels: &Labels, incised: bool, width: f64) -> Block {
    const AFTER_SWATCH: f64 = 1.5;
    const APART: f64 = 6.0;
    let style = READ.caption();
    let (mut block, mut x, mut top) = (Block::empty(0.0), 0.0, 0.0);
    for (index, text) in words::as_cut_key(incised).into_iter().enumerate() {
        let row = labels.set(text, style, None);
        let whole = SWATCH.0 + AFTER_SWATCH + row.width;
        if x > 0.0 && x + whole > width {
            (x, top) = (0.0, top + style.leading() + 0.8);
        }
        let baseline = top + style.baseline();
        let y = baseline - style.cap / 2.0;
        let swatch = rectangle(x, y - SWATCH.1 / 2.0, SWATCH.0, SWATCH.1);
        match index {
            0 => block.push(Layer::Frame, Path::filled(swatch, REMOVED)),
            1 => block.push(Layer::Frame, Path::filled(swatch, BLACK)),
            2 => block.push(Layer::Frame, Path::stroked(swatch, line_of(NARROW))),
            _ => {
                let disc = circle(x + SWATCH.0 / 2.0, y, SWATCH.1 / 2.0);
                block.push(Layer::Frame, Path::stroked(disc, line_of(NARROW)));
            }
        }
        block.text(Layer::Labels, &row, x + SWATCH.0 + AFTER_SWATCH, baseline);
        x += whole + APART;
        block.height = top + style.leading();
    }
    block
}

/// What a window shows, as one group; the window's corner at 0, 0 of the group.
fn picture(name: &str, cut: &AsCut, window: Rect, scale: f64) -> Group {
    let drawn = cut.drawn(window, scale);
    let tones = [(drawn.removed, REMOVED), (drawn.standing, LEFT), (drawn.missed, BLACK)];
    let items = tones
        .into_iter()
        .filter(|(path, _)| !path.elements().is_empty())
        .map(|(path, tone)| Path::filled(path, tone).into())
        .collect();
    let shown = Affine::scale(scale).transform_rect_bbox(window);
    let mut group = Group::new(name, "The engraving as the cutter leaves it", items);
    group.clip = Some(shown);
    group.transform = Affine::translate((-shown.x0, -shown.y0));
    group
}

/// The whole engraving at true size, in the middle of a width.
fn true_size(cut: &AsCut, bounds: Rect, width: f64) -> Block {
    let window = bounds.inflate(ROUND, ROUND);
    let mut block = Block::empty(window.height());
    let mut whole = Block::empty(window.height());
    whole.push(Layer::Plaque, picture("as-cut", cut, window, 1.0));
    block.add(whole, ((width - window.width()) / 2.0).max(0.0), 0.0);
    block
}

/// The scale at which a picture shows a place: the largest at which the letter's height is
/// seen, or the least at which the width needed is.
fn scale_for(cap_height: f64, need: f64) -> f64 {
    let whole = SCALES.into_iter().rfind(|scale| cap_height * CAPS_SHOWN * scale <= TILE.1);
    let seen = SCALES.into_iter().find(|scale| need * scale >= LEAST_CIRCLE);
    let last = SCALES.last().copied().unwrap_or(1.0);
    whole.unwrap_or(2.0).max(seen.unwrap_or(last))
}

/// One place enlarged, with its caption.
fn tile(labels: &Labels, job: &Job, cut: &AsCut, part: &ThinPart) -> Block {
    let row = row_of(job, part).and_then(|index| job.fitted.rows.get(index));
    let cap_height = row.map_or(0.0, |row| row.cap_height);
    let scale = scale_for(cap_height, part.need.least);
    let at = Point::new(part.letters.x, part.letters.y);
    let (wide, high) = (TILE.0 / scale, TILE.1 / scale);
    // The row's middle in the picture's, unless the place is then too near its edge.
    let slack = (high * 0.42 - part.need.least).max(0.0);
    let y = row.map_or(at.y, middle).clamp(at.y - slack, at.y + slack);
    let window = Rect::from_center_size((at.x, y), (wide, high));
    let name = format!("as-cut-{}-{}", part.line + 1, part.kind.word());
    let mut block = Block::empty(TILE.1);
    let mut picture = picture(&name, cut, window, scale);
    // Black on a white one, so that it is seen on every tone.
    let needed = circle(at.x * scale, at.y * scale, part.need.least * scale / 2.0);
    for (width, colour) in [(2.4 * NARROW, LEFT), (NARROW, BLACK)] {
        let line = Stroke { colour, ..line_of(width) };
        picture.items.push(Path::stroked(needed.clone(), line).into());
    }
    block.push(Layer::Plaque, picture);
    block.push(Layer::Frame, Path::stroked(rectangle(0.0, 0.0, TILE.0, TILE.1), line_of(NARROW)));
    let prefer = job.lines.get(part.line).map(|line| Arc::clone(&line.face));
    let said = words::enlarged_place(part, &trimmed(scale, 0));
    let text = [Para { prefer, ..Para::new(said, READ.caption().figures()) }];
    block.height += 1.5;
    block.stack(paragraphs(labels, &text, TILE.0));
    block
}
