//! The comparison: two versions side by side and laid over each other, told apart by line
//! type alone, and a table of all that is otherwise. It is drawn from what is cut, so that a
//! record needs neither its lettering nor its layout.

mod drawn;

use kurbo::BezPath;

use crate::drawing::{Drawing, LineType};
use crate::layout::Paper;
use crate::signoff::{Change, Topic, Version};

use super::block::{Block, Layer, moved, straight};
use super::heading::{Fact, Footer, READ, foot, head, prose, section};
use super::page::{Flow, finished, first};
use super::sheet::Sheet;
use super::table::{Cell, Para, Table, columns, paragraphs, width_of};
use super::text::Labels;
use super::words;
use crate::drawing::Path;
use drawn::{Box2, MOST, in_lines, line, over, plaque, rows, scale_of};

/// One of the two versions.
#[derive(Debug, Clone, Copy)]
pub struct Side<'a> {
    /// What its file is called.
    pub name: &'a str,
    /// The version.
    pub version: &'a Version,
    /// Who signed for it, and when, where it is a record.
    pub signed: &'a [String],
}

/// White between the two pictures, mm.
const BETWEEN: f64 = 8.0;
/// Greatest share of a page's height that what is laid over each other, or a line, takes.
const SHARE: f64 = 0.42;
/// The same of pictures side by side: they are for an overview.
const OVERVIEW: f64 = 0.19;
/// Length of a sample of a line type, mm.
const SAMPLE: f64 = 16.0;

/// The comparison of two versions; `changes` are theirs. As many pages of the paper as it
/// takes; pictures are drawn smaller than true size where they must, and say so.
#[must_use]
pub fn comparison(old: Side<'_>, new: Side<'_>, changes: &[Change], paper: Paper) -> Sheet {
    let labels = labels(old, new, changes);
    let size = first(paper, READ.margin);
    let title = new.version.title.as_str();
    let marks = format!("old {} \u{b7} new {}", old.version.mark, new.version.mark);
    let footer = |page: usize, count: usize, width: f64| {
        let right = format!("{marks} \u{b7} page {page} of {count}");
        let left = title.replace('\n', " ");
        foot(&labels, READ, Footer { left: &left, instead: "", right: &right }, width)
    };
    let foot_height = footer(888, 888, size.inside(0.0).0).height;
    let mut flow = Flow::new(size, foot_height);
    let width = flow.width();
    flow.put(head(&labels, READ, (title, None), "Comparison", &facts(old, new), width));
    flow.space(4.0);
    let most = flow.height() * SHARE;
    let overview = flow.height() * OVERVIEW;
    flow.put(beside(&labels, old.version, new.version, (width, overview)));
    let laid = laid(&labels, old.version, new.version, (width, most));
    section(&mut flow, &labels, READ, words::LAID_OVER, laid.height);
    flow.put(laid);
    table(&mut flow, &labels, changes);
    details(&mut flow, &labels, (old.version, new.version), changes);
    let told: Vec<String> = changes.iter().map(Change::told).collect();
    let drawing = Drawing {
        title: format!("{title}: comparison"),
        description: format!(
            "Old: {}, mark {}. New: {}, mark {}.\n{}",
            old.name,
            old.version.mark,
            new.name,
            new.version.mark,
            if told.is_empty() { words::NOTHING_DIFFERS.to_owned() } else { told.join("\n") }
        ),
        background: Some([255; 3]),
        pages: finished(flow.pages(), footer),
    };
    let plate_at = drawing.pages.iter().map(|_| None).collect();
    Sheet { drawing, plate_at }
}

/// Label faces for everything that is printed.
fn labels(old: Side<'_>, new: Side<'_>, changes: &[Change]) -> Labels {
    let mut labels = Labels::plain();
    for side in [old, new] {
        labels.provide(&side.version.title);
        labels.provide(side.name);
        side.signed.iter().for_each(|text| labels.provide(text));
    }
    for change in changes {
        for text in [&change.place, &change.old, &change.new, &change.told()] {
            labels.provide(text);
        }
    }
    labels
}

fn facts(old: Side<'_>, new: Side<'_>) -> Vec<Fact> {
    let mut facts: Vec<Fact> = Vec::new();
    for (name, side) in [("Old", old), ("New", new)] {
        facts.push((name, Some(side.name.to_owned())));
        facts.push(("Proof mark", Some(side.version.mark.clone())));
        if let Some(signed) = words::signed_by(side.signed) {
            facts.push(("Signed", Some(signed)));
        }
    }
    facts
}

/// Both plaques at one scale, each under its name.
fn beside(labels: &Labels, old: &Version, new: &Version, (width, most): (f64, f64)) -> Block {
    let half = (width - BETWEEN) / 2.0;
    let extent = Box2::of(&old.cut).joined(Box2::of(&new.cut));
    // Never larger than true: that is for the pictures below.
    let scale = whole((half / extent.width()).min(most / extent.height()).min(1.0));
    let named = |name: &str| {
        let text = format!("{name}, {}", words::scaled(scale));
        paragraphs(labels, &[Para::new(text, READ.caption().figures())], half)
    };
    let mut block = Block::empty(0.0);
    for (name, version, left) in [("Old", old, 0.0), ("New", new, half + BETWEEN)] {
        let caption = named(name);
        let top = caption.height + 1.5;
        block.add(caption, left, 0.0);
        let x = left + (half - extent.width() * scale) / 2.0;
        let picture = plaque(&version.cut, scale, name);
        let (dx, dy) = (x - extent.left * scale, top - extent.top * scale);
        block.push(Layer::Plaque, moved(picture.into(), dx, dy));
        block.height = block.height.max(top + extent.height() * scale);
    }
    block
}

/// A scale in whole per cent that is no larger; as it is where that would be none.
fn whole(scale: f64) -> f64 {
    let whole = (scale * 100.0 + 1e-9).floor() / 100.0;
    if whole > 0.0 { whole } else { scale }
}

/// Both laid over each other by the corner of the plate, with a key of the lines.
fn laid(labels: &Labels, old: &Version, new: &Version, (width, most): (f64, f64)) -> Block {
    let extent = Box2::of(&old.cut).joined(Box2::of(&new.cut));
    let scale = scale_of(width / extent.width(), most / extent.height());
    let mut block = key(labels, scale, width);
    block.height += 2.5;
    let x = (width - extent.width() * scale) / 2.0;
    let (dx, dy) = (x - extent.left * scale, block.height - extent.top * scale);
    for group in over(&old.cut, &new.cut, scale) {
        block.push(Layer::Plaque, moved(group.into(), dx, dy));
    }
    block.height += extent.height() * scale;
    block
}

/// What the two line types mean, and the scale.
fn key(labels: &Labels, scale: f64, width: f64) -> Block {
    let style = READ.caption().figures();
    let mut block = Block::empty(style.leading());
    let mut x = 0.0;
    let samples = [(LineType::Dashed, words::OLD_LINE), (LineType::Continuous, words::NEW_LINE)];
    for (line_type, text) in samples {
        let row = labels.set(text, style, None);
        let y = style.baseline() - style.cap / 2.0;
        let sample = straight((x, y), (x + SAMPLE, y));
        block.push(Layer::Frame, Path::stroked(sample, line(line_type)));
        block.text(Layer::Labels, &row, x + SAMPLE + 2.0, style.baseline());
        x += SAMPLE + 2.0 + row.width + 8.0;
    }
    let row = labels.set(&words::scaled(scale), style, None);
    block.text(Layer::Labels, &row, (width - row.width).max(x), style.baseline());
    block
}

/// All that is otherwise, a row each.
fn table(flow: &mut Flow, labels: &Labels, changes: &[Change]) {
    if changes.is_empty() {
        section(flow, labels, READ, words::CHANGES, 5.0);
        prose(flow, labels, vec![Para::new(words::NOTHING_DIFFERS, READ.text())]);
        return;
    }
    let head: Vec<Cell> = ["Where", "What", "Old", "New"]
        .iter()
        .map(|text| vec![Para::new(*text, READ.caption())])
        .collect();
    let rows: Vec<Vec<Cell>> = changes.iter().map(row).collect();
    let firsts = rows.iter().filter_map(|row| row.first()).flatten();
    let wide = width_of(labels, firsts.map(|para| (para.text.as_str(), para.style)));
    let (wide, what) = (wide.min(flow.width() * 0.2), flow.width() * 0.24);
    let columns = columns(flow.width(), &[Some(wide), Some(what), None, None]);
    let table = Table { columns, head, rows, ruled: true };
    section(flow, labels, READ, words::CHANGES, table.kept_height(labels));
    table.put(flow, labels);
}

fn row(change: &Change) -> Vec<Cell> {
    let what: Cell = if change.words.is_empty() {
        let what = if change.is_cut() { change.what } else { words::NOT_CUT };
        vec![Para::new(what, READ.text())]
    } else {
        let told = change.words.iter().map(|word| Para::new(word.told(), READ.strong().figures()));
        told.collect()
    };
    let text = |text: &str| vec![Para::new(text, READ.text().figures())];
    vec![text(&change.place), what, text(&change.old), text(&change.new)]
}

/// The lines whose wording or lettering is another, old above new, as large as the page
/// allows: laid over each other, words that moved a little could not be read.
fn details(flow: &mut Flow, labels: &Labels, (old, new): (&Version, &Version), changes: &[Change]) {
    let mut lines: Vec<_> = changes
        .iter()
        .filter(|change| change.topic <= Topic::Lettering)
        .map(|change| change.line)
        .collect();
    lines.dedup();
    let (width, most) = (flow.width(), flow.height() * SHARE);
    let blocks: Vec<Block> = lines
        .into_iter()
        .filter_map(|(was, is)| {
            let number = is.or(was).unwrap_or(0) + 1;
            let old = rows(&old.cut, old.rows_of(was));
            let new = rows(&new.cut, new.rows_of(is));
            detail(labels, number, (&old, &new), (width, most))
        })
        .collect();
    if let Some(first) = blocks.first() {
        section(flow, labels, READ, words::ENLARGED, first.height);
    }
    for (index, block) in blocks.into_iter().enumerate() {
        if index > 0 {
            flow.space(5.0);
        }
        flow.put(block);
    }
}

/// One line, old above new at one scale, each from where it stands across the plate; `None`
/// where neither shows anything.
fn detail(
    labels: &Labels,
    number: usize,
    (old, new): (&[BezPath], &[BezPath]),
    (width, most): (f64, f64),
) -> Option<Block> {
    let boxes: Vec<Box2> = [old, new].iter().filter_map(|paths| Box2::round(paths)).collect();
    let all = boxes.iter().copied().reduce(Box2::joined)?;
    let high: f64 = boxes.iter().map(|one| one.height()).sum();
    let scale = (width / all.width()).min(most / high).min(MOST);
    let text = words::line_enlarged(number, &words::scaled(scale));
    let mut block = paragraphs(labels, &[Para::new(text, READ.caption().figures())], width);
    let sides = [("old", old, LineType::Dashed), ("new", new, LineType::Continuous)];
    for (name, paths, line_type) in sides {
        let Some(own) = Box2::round(paths) else { continue };
        block.height += 2.5;
        let (dx, dy) = (-all.left * scale, block.height - own.top * scale);
        let names = (format!("line-{number}-{name}"), format!("Line {number}, {name}"));
        let group = in_lines((&names.0, &names.1), paths, line_type, scale);
        block.push(Layer::Plaque, moved(group.into(), dx, dy));
        block.height += own.height() * scale;
    }
    Some(block)
}
