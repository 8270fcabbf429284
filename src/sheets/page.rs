//! Paper, margins, and the cursor that fills page after page from the top.
//!
//! Paper sizes: ISO 216 (A4, A3) and ASME Y14.1 sizes A and B (Letter,
//! Tabloid); Legal is 8.5 by 14 in by common practice. Nothing is ever drawn smaller
//! than it is: a proof or mock-up that is too large for the paper asked for takes the
//! next larger of its kind, then a sheet grown to fit; a pattern, which people print
//! themselves, goes over several pages of the paper asked for.

use crate::drawing::Page;
use crate::layout::Paper;

use super::block::Block;

/// White between contents and footer, mm.
const FOOTER_GAP: f64 = 5.0;

/// Width and height of a sheet of paper, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Size {
    /// Width.
    pub(super) width: f64,
    /// Height.
    pub(super) height: f64,
    /// White left and right of the contents, and above and below them.
    pub(super) margin: (f64, f64),
}

impl Size {
    /// A sheet with the same margin all round.
    fn new((width, height): (f64, f64), margin: f64) -> Self {
        Self { width, height, margin: (margin, margin) }
    }

    /// Room between the margins, above a footer of a height.
    pub(super) fn inside(self, footer: f64) -> (f64, f64) {
        let foot = if footer > 0.0 { footer + FOOTER_GAP } else { 0.0 };
        (self.width - 2.0 * self.margin.0, self.height - 2.0 * self.margin.1 - foot)
    }
}

/// Width and height of an upright sheet, mm.
const fn upright(paper: Paper) -> (f64, f64) {
    match paper {
        Paper::A4 => (210.0, 297.0),
        Paper::A3 => (297.0, 420.0),
        Paper::Letter => (215.9, 279.4),
        Paper::Legal => (215.9, 355.6),
        Paper::Tabloid => (279.4, 431.8),
    }
}

/// The next larger paper of the same kind that offices have.
const fn larger(paper: Paper) -> Option<Paper> {
    match paper {
        Paper::A4 => Some(Paper::A3),
        Paper::Letter | Paper::Legal => Some(Paper::Tabloid),
        Paper::A3 | Paper::Tabloid => None,
    }
}

/// The paper asked for, upright and lying.
pub(super) fn both_ways(paper: Paper, margin: f64) -> [Size; 2] {
    let (width, height) = upright(paper);
    [Size::new((width, height), margin), Size::new((height, width), margin)]
}

/// Sheets of a paper and of the next larger of its kind, upright first.
fn sheets(paper: Paper, margin: f64) -> Vec<Size> {
    std::iter::once(paper).chain(larger(paper)).flat_map(|paper| both_ways(paper, margin)).collect()
}

/// The paper asked for, upright.
pub(super) fn first(paper: Paper, margin: f64) -> Size {
    Size::new(upright(paper), margin)
}

/// The first sheet whose inside `holds` the contents; without one, a sheet grown
/// so that its inside is at least as large as `need`.
pub(super) fn smallest(
    (paper, margin): (Paper, f64),
    footer: f64,
    need: (f64, f64),
    holds: impl Fn((f64, f64)) -> bool,
) -> Size {
    let held = sheets(paper, margin).into_iter().find(|size| holds(size.inside(footer)));
    held.unwrap_or_else(|| grown(paper, margin, footer, need))
}

/// The paper asked for, grown so that its inside is at least as large as `need`.
fn grown(paper: Paper, margin: f64, footer: f64, need: (f64, f64)) -> Size {
    let least = first(paper, margin);
    let (width, height) = least.inside(footer);
    Size {
        width: least.width + (need.0 - width).max(0.0).ceil(),
        height: least.height + (need.1 - height).max(0.0).ceil(),
        margin: least.margin,
    }
}

/// Fills pages from the top; what does not fit goes on the next page.
pub(super) struct Flow {
    size: Size,
    footer: f64,
    done: Vec<Block>,
    page: Block,
}

impl Flow {
    /// A cursor at the top of a first page.
    pub(super) fn new(size: Size, footer: f64) -> Self {
        Self { size, footer, done: Vec::new(), page: Block::empty(0.0) }
    }

    /// Width between the margins, mm.
    pub(super) fn width(&self) -> f64 {
        self.size.inside(self.footer).0
    }

    /// Height between the margins, mm.
    pub(super) fn height(&self) -> f64 {
        self.size.inside(self.footer).1
    }

    /// Height left on this page, mm.
    pub(super) fn room(&self) -> f64 {
        self.height() - self.page.height
    }

    /// Whether nothing stands on this page yet.
    pub(super) fn at_top(&self) -> bool {
        self.page.height <= 0.0
    }

    /// White; none at the top of a page.
    pub(super) fn space(&mut self, height: f64) {
        if !self.at_top() {
            self.page.height += height.min(self.room().max(0.0));
        }
    }

    /// Goes on to a new page, unless this one is empty.
    pub(super) fn turn(&mut self) {
        if !self.at_top() {
            self.done.push(std::mem::take(&mut self.page));
        }
    }

    /// Puts a block under what is there, or on the next page where it does not fit.
    pub(super) fn put(&mut self, block: Block) {
        if block.height > self.room() + 1e-9 {
            self.turn();
        }
        self.page.stack(block);
    }

    /// Turns the page unless this much height is left on it.
    pub(super) fn keep(&mut self, height: f64) {
        if height > self.room() + 1e-9 {
            self.turn();
        }
    }

    /// The pages, at least one.
    pub(super) fn pages(mut self) -> Vec<(Size, Block)> {
        self.turn();
        let size = self.size;
        if self.done.is_empty() {
            self.done.push(Block::empty(0.0));
        }
        self.done.into_iter().map(|block| (size, block)).collect()
    }
}

/// Pages with their footers: `footer(number, count, width)`.
pub(super) fn finished(
    pages: Vec<(Size, Block)>,
    footer: impl Fn(usize, usize, f64) -> Block,
) -> Vec<Page> {
    let count = pages.len();
    pages
        .into_iter()
        .enumerate()
        .map(|(index, (size, contents))| {
            let foot = footer(index + 1, count, size.inside(0.0).0);
            let (left, top) = size.margin;
            let mut page = Block::empty(size.height);
            page.add(contents, left, top);
            let foot_top = size.height - top - foot.height;
            page.add(foot, left, foot_top);
            Page { width: size.width, height: size.height, items: page.into_items() }
        })
        .collect()
}
