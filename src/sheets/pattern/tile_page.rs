//! One page a tile: where it belongs, its part of the drawing at true size, the cuts
//! with their register marks, both check bars, the key plan.

use kurbo::{Affine, Rect};

use crate::drawing::{Group, Item};
use crate::sheets::block::{Block, Layer};
use crate::sheets::heading::BENCH;
use crate::sheets::page::Size;
use crate::sheets::table::{Para, paragraphs};
use crate::sheets::text::Labels;
use crate::sheets::view::{BARS, View};
use crate::sheets::within::{line_boxes, slant_boxes, text_boxes, within};
use crate::sheets::words;

use super::key_plan::key_plan;
use super::opening::Titles;
use super::register::{Joint, Taken, joints};
use super::tiles::Grid;

/// White under the words at the head of a tile, mm.
const UNDER_HEAD: f64 = 4.0;
/// White between the check bar and the key plan, mm.
const BEFORE_PLAN: f64 = 8.0;
/// Least white between marks or words of a cut and a line of the drawing, mm.
const BESIDE_LINES: f64 = 0.3;
/// Greatest width of the key plan on a tile, mm.
const PLAN: f64 = 80.0;

/// Words at the head of a tile: how it is joined and its place, where it is not alone.
fn head(labels: &Labels, titles: Titles<'_>, tile: Option<(String, &str)>, width: f64) -> Block {
    let measure = Para { before: 0.8, ..Para::new(titles.measure, BENCH.strong()) };
    let paras = match tile {
        Some((join, place)) => vec![
            Para::new(format!("{}: {place}", titles.kind), BENCH.strong()),
            Para { before: 0.8, ..Para::new(join, BENCH.text()) },
            measure,
        ],
        None => vec![Para::new(titles.kind, BENCH.strong()), measure],
    };
    paragraphs(labels, &paras, width)
}

/// The longest head that a tile may have, for its height.
fn highest_head(labels: &Labels, titles: Titles<'_>, width: f64) -> f64 {
    let marks = || vec!["MM".to_owned(), "MM".to_owned()];
    let longest = joining(&[(888, true, marks()), (888, false, marks())]);
    head(labels, titles, Some((longest, "tile 888 of 888, column 88, row 88")), width).height
}

/// How a tile is joined to those before it: each with its number, whether it lies to
/// the left, and the letters of the marks between the two.
fn joining(before: &[(usize, bool, Vec<String>)]) -> String {
    let marks = |letters: &[String]| {
        let pairs: Vec<String> = letters.iter().map(|l| format!("{l} on {l}")).collect();
        if pairs.is_empty() { String::new() } else { format!(", {}", words::listed(&pairs)) }
    };
    match before {
        [] => "Lay this tile down first; the others are cut and laid over it, mark on mark."
            .to_owned(),
        [(tile, left, letters)] => format!(
            "Cut along the thick dash-dot line {} and lay the edge on tile {tile}{}.",
            if *left { "at the left" } else { "at the top" },
            marks(letters)
        ),
        [(one, _, first), (other, _, second), ..] => format!(
            "Cut along the thick dash-dot lines at the left and at the top; lay the edges on tile \
             {one}{}, and on tile {other}{}.",
            marks(first),
            marks(second)
        ),
    }
}

/// Room for a tile on a paper, above a footer, mm.
pub(super) fn room(
    labels: &Labels,
    view: &View<'_>,
    titles: Titles<'_>,
    (size, foot): (Size, f64),
) -> (f64, f64) {
    let (width, height) = size.inside(foot);
    let (along, up) = view.bars();
    let head = highest_head(labels, titles, width) + UNDER_HEAD;
    (width - BARS - up.width, height - head - BARS - along.block.height)
}

/// The pages of all tiles, in the order of joining.
pub(super) fn pages(
    labels: &Labels,
    view: &View<'_>,
    titles: Titles<'_>,
    (grid, foot): (&Grid, f64),
) -> Vec<(Size, Block)> {
    let drawing = view.drawing(labels).into_items();
    let mut never = text_boxes(&drawing, Affine::IDENTITY);
    let (x, y) = view.plate_at();
    never.extend(view.subject().rings.iter().map(|ring| {
        let reach = ring.reach();
        let (x, y) = (x + ring.x, y + ring.y);
        Rect::new(x - reach, y - reach, x + reach, y + reach)
    }));
    let rather_not = line_boxes(&drawing, Affine::IDENTITY, BESIDE_LINES);
    let taken = Taken { never, rather_not };
    let joints = joints(grid, &taken);
    let slants = slant_boxes(&drawing, Affine::IDENTITY, BESIDE_LINES);
    let taken: Vec<Rect> = [taken.never, taken.rather_not, slants].concat();
    (0..grid.count())
        .map(|tile| {
            let page = Tile { labels, view, grid, joints: &joints, taken: &taken, tile };
            (grid.size, page.block(titles, &drawing, grid.size.inside(foot)))
        })
        .collect()
}

/// One tile with all that its page needs.
struct Tile<'a> {
    labels: &'a Labels,
    view: &'a View<'a>,
    grid: &'a Grid,
    joints: &'a [Joint],
    taken: &'a [Rect],
    tile: usize,
}

impl Tile<'_> {
    fn block(&self, titles: Titles<'_>, drawing: &[Item], (width, height): (f64, f64)) -> Block {
        let labels = self.labels;
        let mut block = Block::empty(height);
        let place = self.place();
        let alone = self.grid.count() == 1;
        let tile = (!alone).then(|| (self.joining(), place.as_str()));
        block.add(head(labels, titles, tile, width), 0.0, 0.0);
        let top = highest_head(labels, titles, width) + UNDER_HEAD;
        let shown = self.grid.shown(self.tile);
        let shift = (-shown.x0, top - shown.y0);
        let mut group = Group::new("tile", &place, within(drawing, shown));
        group.clip = Some(shown);
        group.transform = Affine::translate(shift);
        block.push(Layer::Plaque, group);
        let seen: Vec<Rect> = self
            .taken
            .iter()
            .copied()
            .filter(|other| !other.intersect(shown).is_zero_area())
            .collect();
        for joint in self.joints {
            if joint.under == self.tile || joint.over == self.tile {
                joint.draw(&mut block, labels, self.tile, (shown, shift), &seen);
            }
        }
        let (along, up) = self.view.bars();
        let inner = shown.height().max(up.block.height);
        let middle = (inner - up.block.height) / 2.0;
        block.add(up.block.clone(), shown.width() + BARS, top + middle);
        let under = top + inner + BARS;
        block.add(along.block.clone(), 0.0, under);
        let beside = along.width + BEFORE_PLAN;
        let plan_room = ((width - beside).min(PLAN), along.block.height);
        if !alone {
            let plan = key_plan(labels, (self.view, self.grid), Some(self.tile), plan_room);
            block.add(plan, beside, under);
        }
        block
    }

    /// `tile 2 of 6, column 2, row 1`.
    fn place(&self) -> String {
        let (column, row) = self.grid.place(self.tile);
        let count = self.grid.count();
        format!("tile {} of {count}, column {}, row {}", self.tile + 1, column + 1, row + 1)
    }

    fn joining(&self) -> String {
        let before: Vec<(usize, bool, Vec<String>)> = self
            .joints
            .iter()
            .filter(|joint| joint.over == self.tile)
            .map(|joint| {
                let letters = joint.marks.iter().map(|(_, letter)| letter.clone()).collect();
                (joint.under + 1, joint.upright, letters)
            })
            .collect();
        joining(&before)
    }
}
