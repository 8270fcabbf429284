//! Tables that grow: cells wrap, rows are as high as their fullest cell, and a
//! row that is higher than a page goes on over pages. Nothing overflows.

use std::sync::Arc;

use crate::drawing::{Group, Role, RowOf};
use crate::lettering::Face;

use super::block::{Block, Layer};
use super::page::Flow;
use super::text::{Labels, SetRow, Style};

/// White between columns, mm.
const GUTTER: f64 = 4.0;
/// White above and below the contents of a row between rules, mm.
const PAD: f64 = 0.9;
/// The same in a list without rules.
const LOOSE: f64 = 0.5;

/// Room on a page that is worth starting a row in which is higher than a page, mm.
const LEAST_PART: f64 = 25.0;

/// A table up to this height is kept on one page, mm.
const SHORT: f64 = 75.0;

/// One paragraph of a cell.
#[derive(Debug, Clone)]
pub(super) struct Para {
    /// The characters; a line feed starts a new row.
    pub(super) text: String,
    /// How it is set.
    pub(super) style: Style,
    /// How far rows after the first stand in, mm.
    pub(super) hang: f64,
    /// White above it where it is not the first, mm.
    pub(super) before: f64,
    /// Face for characters that the label face lacks.
    pub(super) prefer: Option<Arc<Face>>,
    /// What it is to who has it read aloud.
    pub(super) role: Role,
}

impl Para {
    /// A plain paragraph.
    pub(super) fn new(text: impl Into<String>, style: Style) -> Self {
        let role = Role::Paragraph;
        Self { text: text.into(), style, hang: 0.0, before: 0.0, prefer: None, role }
    }
}

/// The paragraphs of a cell.
pub(super) type Cell = Vec<Para>;

/// A column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Column {
    /// Width without the gutter, mm.
    pub(super) width: f64,
    /// Whether figures stand at its right edge.
    pub(super) right: bool,
    /// Whether its cells name what stands beside them.
    pub(super) names: bool,
}

impl Column {
    /// A column whose texts begin at its left edge.
    const fn of(width: f64) -> Self {
        Self { width, right: false, names: false }
    }
}

/// A table: columns, a head that is repeated on every page, rows.
pub(super) struct Table {
    /// Columns from the left.
    pub(super) columns: Vec<Column>,
    /// Heads of the columns; empty for none.
    pub(super) head: Vec<Cell>,
    /// Rows.
    pub(super) rows: Vec<Vec<Cell>>,
    /// Whether a rule stands under every row.
    pub(super) ruled: bool,
}

/// Width of a column that holds these texts in one row each, mm.
pub(super) fn width_of<'t>(
    labels: &Labels,
    texts: impl IntoIterator<Item = (&'t str, Style)>,
) -> f64 {
    texts
        .into_iter()
        .flat_map(|(text, style)| text.split('\n').map(move |row| (row, style)))
        .map(|(row, style)| labels.set(row, style, None).width)
        .fold(0.0, f64::max)
        + 0.2
}

/// Columns whose last, or `wide`, takes what the others leave of a width.
pub(super) fn columns(total: f64, parts: &[Option<f64>]) -> Vec<Column> {
    let gutters = GUTTER * (parts.len().saturating_sub(1)) as f64;
    let fixed: f64 = parts.iter().flatten().sum();
    let open = parts.iter().filter(|part| part.is_none()).count().max(1) as f64;
    let rest = ((total - gutters - fixed) / open).max(8.0);
    parts.iter().map(|part| Column::of(part.unwrap_or(rest))).collect()
}

/// One row of text in a cell.
struct Set {
    row: SetRow,
    /// What it begins; `None` where it goes on.
    begins: Option<Role>,
    x: f64,
    baseline: f64,
    bottom: f64,
}

/// A row laid out: per column its rows of text from the top.
struct Laid {
    cells: Vec<Vec<Set>>,
}

impl Laid {
    fn bottom(&self) -> f64 {
        self.cells.iter().flatten().map(|set| set.bottom).fold(0.0, f64::max)
    }

    /// What stands above `limit`, and the rest moved up; the first row of text
    /// of each cell is always taken, so that this ends.
    fn split(self, limit: f64) -> (Self, Self) {
        let (mut above, mut below) = (Vec::new(), Vec::new());
        for cell in self.cells {
            let fits = cell.iter().take_while(|set| set.bottom <= limit).count();
            let mut cell = cell;
            let mut rest = cell.split_off(fits.max(1).min(cell.len()));
            let shift = rest.first().map_or(0.0, |set| set.baseline - set.row.above);
            for set in &mut rest {
                set.baseline -= shift;
                set.bottom -= shift;
            }
            above.push(cell);
            below.push(rest);
        }
        (Self { cells: above }, Self { cells: below })
    }

    fn is_empty(&self) -> bool {
        self.cells.iter().all(Vec::is_empty)
    }

    /// As a block: a row of a table, or paragraphs where there is none; `role` is that of
    /// the cell of a column.
    fn block(self, pad: f64, of: Option<RowOf>, role: impl Fn(usize) -> Role) -> Block {
        let mut block = Block::empty(self.bottom() + 2.0 * pad);
        for (index, cell) in self.cells.into_iter().enumerate() {
            let mut inside = Block::empty(0.0);
            put_cell(&mut inside, cell);
            if of.is_some() {
                let bare = inside.is_empty();
                inside = inside.read_as(if bare { Role::Cell } else { role(index) });
            }
            block.add(inside, 0.0, pad);
        }
        match of {
            Some(of) => block.read_as(Role::Row(of)),
            None => block,
        }
    }
}

/// The rows of a cell where they stand, each paragraph a part of the text.
fn put_cell(block: &mut Block, cell: Vec<Set>) {
    let mut open: Option<Group> = None;
    for set in cell {
        let items = set.row.level(set.x, set.baseline);
        match (&mut open, set.begins) {
            (Some(group), None) => group.items.extend(items),
            (_, begins) => {
                let role = begins.unwrap_or(Role::Paragraph);
                let done = open.replace(Group::part(role, items));
                done.into_iter().for_each(|group| block.push(Layer::Labels, group));
            }
        }
    }
    open.into_iter().for_each(|group| block.push(Layer::Labels, group));
}

/// A cell set to a width: its block, without padding.
pub(super) fn paragraphs(labels: &Labels, cell: &[Para], width: f64) -> Block {
    let laid = Laid { cells: vec![set_cell(labels, cell, Column::of(width), 0.0)] };
    let mut block = Block::empty(laid.bottom());
    for cell in laid.cells {
        put_cell(&mut block, cell);
    }
    block
}

fn set_cell(labels: &Labels, cell: &[Para], column: Column, left: f64) -> Vec<Set> {
    let mut sets: Vec<Set> = Vec::new();
    let mut y = 0.0;
    for (index, para) in cell.iter().enumerate() {
        if index > 0 {
            y += para.before;
        }
        let rows =
            labels.wrapped(&para.text, para.style, column.width, para.hang, para.prefer.as_ref());
        for wrapped in rows {
            let begins = wrapped.first.then_some(para.role);
            let indent = if wrapped.first { 0.0 } else { para.hang };
            let x = if column.right { column.width - wrapped.row.width } else { indent };
            let baseline = y + wrapped.row.above;
            y = baseline + wrapped.row.below;
            let x = left + x.max(0.0);
            sets.push(Set { row: wrapped.row, begins, x, baseline, bottom: y });
        }
    }
    sets
}

impl Table {
    /// Width of all columns with their gutters, mm.
    fn width(&self) -> f64 {
        let gutters = GUTTER * (self.columns.len().saturating_sub(1)) as f64;
        self.columns.iter().map(|column| column.width).sum::<f64>() + gutters
    }

    fn laid(&self, labels: &Labels, row: &[Cell]) -> Laid {
        let mut left = 0.0;
        let mut cells = Vec::new();
        for (column, cell) in self.columns.iter().zip(row) {
            cells.push(set_cell(labels, cell, *column, left));
            left += column.width + GUTTER;
        }
        Laid { cells }
    }

    fn head_block(&self, labels: &Labels) -> Option<Block> {
        (!self.head.is_empty()).then(|| {
            let head = self.laid(labels, &self.head);
            let head = head.block(PAD, Some(RowOf::NewTable), |_| Role::ColumnHead);
            self.with_rule(head)
        })
    }

    /// A row, or the part of one that ends it, with its rule.
    fn with_rule(&self, mut block: Block) -> Block {
        block.rule(Layer::Frame, (0.0, block.height), (self.width(), block.height));
        block
    }

    /// A row as a block; one column without a head is no table but running text. Under heads
    /// the first column names its rows.
    fn row_block(&self, laid: Laid, of: RowOf) -> Block {
        let table = self.columns.len() > 1 || !self.head.is_empty();
        laid.block(self.pad(), table.then_some(of), |column| {
            let named = self.columns.get(column).is_some_and(|column| column.names);
            let names = named || (column == 0 && !self.head.is_empty());
            if names { Role::RowHead } else { Role::Cell }
        })
    }

    fn pad(&self) -> f64 {
        if self.ruled { PAD } else { LOOSE }
    }

    /// Height that should stay together, mm: the whole table where it is short,
    /// otherwise its head and the first row.
    pub(super) fn kept_height(&self, labels: &Labels) -> f64 {
        let pad = self.pad();
        let head = self.head_block(labels).map_or(0.0, |block| block.height);
        let rows: Vec<f64> =
            self.rows.iter().map(|row| self.laid(labels, row).bottom() + 2.0 * pad).collect();
        let whole = head + rows.iter().sum::<f64>();
        if whole <= SHORT { whole } else { head + rows.first().copied().unwrap_or(0.0).min(SHORT) }
    }

    /// Puts the table under what is there, over as many pages as it takes.
    pub(super) fn put(&self, flow: &mut Flow, labels: &Labels) {
        let pad = self.pad();
        let head = self.head_block(labels);
        let head_height = head.as_ref().map_or(0.0, |block| block.height);
        let again = head.clone().map(|block| block.read_as(Role::Repeated));
        let turn = |flow: &mut Flow| {
            flow.turn();
            again.iter().for_each(|block| flow.put(block.clone()));
        };
        let mut of = if head.is_some() { RowOf::SameTable } else { RowOf::NewTable };
        head.into_iter().for_each(|block| flow.put(block));
        for row in &self.rows {
            let mut laid = self.laid(labels, row);
            let height = laid.bottom() + 2.0 * pad;
            // Long rows start where they stand, unless that leaves a mere scrap.
            let whole = height <= SHORT.min(flow.height() - head_height);
            if height > flow.room() && (whole || flow.room() < LEAST_PART) {
                turn(flow);
            }
            while laid.bottom() + 2.0 * pad > flow.room() + 1e-9 {
                let (above, below) = laid.split(flow.room() - 2.0 * pad);
                flow.put(self.row_block(above, of));
                (laid, of) = (below, RowOf::SameRow);
                if laid.is_empty() {
                    break;
                }
                turn(flow);
            }
            if !laid.is_empty() {
                let block = self.row_block(laid, of);
                flow.put(if self.ruled { self.with_rule(block) } else { block });
            }
            of = RowOf::SameTable;
        }
    }
}
