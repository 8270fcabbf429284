//! How a sheet with a drawing at true size begins: on one page where the paper asked
//! for holds it upright or lying; otherwise with how the tiles are joined.

use crate::drawing::Page;
use crate::job::Job;
use crate::sheets::block::Block;
use crate::sheets::dimension::Along;
use crate::sheets::heading::{BENCH, facts, footer, heading, prose, section};
use crate::sheets::page::{Flow, Size, both_ways};
use crate::sheets::table::{Para, paragraphs};
use crate::sheets::text::Labels;
use crate::sheets::view::{Laid, Subject, View};
use crate::sheets::words;

use super::key_plan::key_plan;
use super::printer::PrintedBars;
use super::tile_page;
use super::tiles::Grid;
use super::{plate_size, steps};

/// White between the notes under the view, mm.
const BETWEEN_NOTES: f64 = 1.0;
/// White above and below the view, mm.
const AROUND: f64 = 5.0;
/// Room for the key plan on the page that says how to join the tiles, mm.
const PLAN: (f64, f64) = (120.0, 55.0);

/// The paper that a pattern is printed on, and what stands at every foot.
pub(in crate::sheets) struct Stock {
    /// Upright and lying.
    sizes: [Size; 2],
    /// Height of the footer, mm.
    foot: f64,
    /// What the printer made of the bars, where that is to be made good.
    bars: Option<PrintedBars>,
    /// Whether they were measured on a lying page.
    measured_lying: bool,
}

impl Stock {
    pub(super) fn new(labels: &Labels, job: &Job, bars: Option<PrintedBars>) -> Self {
        let mut sizes = both_ways(job.layout.proof.paper, BENCH.margin);
        if let Some(bars) = bars {
            sizes = sizes.map(|size| bars.kept(size));
        }
        let mut stock = Self { sizes, foot: 0.0, bars, measured_lying: false };
        let narrowest = sizes.iter().map(|size| size.inside(0.0).0).fold(f64::INFINITY, f64::min);
        stock.foot = stock.footer(labels, job, 888, 888, narrowest).height;
        stock
    }

    /// Says on which of the two papers the bars were measured: that of the drawing.
    pub(super) fn measured_on(&mut self, size: Size) {
        self.measured_lying = size.width > size.height;
    }

    /// Whether a page with so much room across lies the other way than the one that the
    /// bars were measured on: the printer turns it, and its axes with it.
    fn turned(&self, width: f64) -> bool {
        let lying = width > self.sizes[0].inside(0.0).0 + 1e-9;
        lying != self.measured_lying
    }

    /// A page as it is printed.
    pub(super) fn printed(&self, page: Page) -> Page {
        let Some(bars) = self.bars else { return page };
        let turned = (page.width > page.height) != self.measured_lying;
        if turned { bars.turned() } else { bars }.corrected(page)
    }

    /// The foot of a page.
    pub(super) fn footer(
        &self,
        labels: &Labels,
        job: &Job,
        page: usize,
        count: usize,
        width: f64,
    ) -> Block {
        let own = footer(labels, BENCH, job, page, count, width);
        let Some(bars) = self.bars else { return own };
        let bars = if self.turned(width) { bars.turned() } else { bars };
        let mut block = paragraphs(labels, &[Para::new(bars.told(), BENCH.strong())], width);
        block.height += 1.0;
        block.stack(own);
        block
    }
}

/// A sheet begun.
pub(in crate::sheets) struct Opened {
    /// A cursor under what is there.
    pub(in crate::sheets) flow: Flow,
    /// Pages that follow those of the cursor.
    tiles: Vec<(Size, Block)>,
    /// The paper of the drawing itself, upright or lying.
    pub(super) size: Size,
}

impl Opened {
    /// All pages.
    pub(in crate::sheets) fn pages(self) -> Vec<(Size, Block)> {
        let mut pages = self.flow.pages();
        pages.extend(self.tiles);
        pages
    }
}

/// What a sheet is called, and what is to be measured before it is used.
#[derive(Debug, Clone, Copy)]
pub(super) struct Titles<'a> {
    pub(super) kind: &'a str,
    pub(super) measure: &'a str,
}

/// Notes as one block, under what is to be measured first where bars stand there too.
fn noted(labels: &Labels, measure: Option<&str>, notes: &[String], width: f64) -> Block {
    let mut paras: Vec<Para> =
        measure.map(|text| Para::new(text, BENCH.strong())).into_iter().collect();
    paras.extend(
        notes
            .iter()
            .map(|note| Para { before: BETWEEN_NOTES, ..Para::new(note.clone(), BENCH.text()) }),
    );
    paragraphs(labels, &paras, width)
}

/// The sheet `kind` begun; `how` it is used follows the kind where it stands on one page.
pub(in crate::sheets) fn opened(
    labels: &Labels,
    subject: &Subject<'_>,
    stock: &Stock,
    (kind, how): (&str, &str),
    notes: &[String],
) -> Opened {
    let job = subject.job;
    let measure = words::measure_first(!job.mount.holes.is_empty(), stock.bars.is_some());
    let titles = Titles { kind, measure: &measure };
    let head = |size: Size| {
        heading(labels, BENCH, job, &format!("{kind}{how}"), &facts(job), size.inside(0.0).0)
    };
    let rooms = stock.sizes.map(|size| {
        let (width, height) = size.inside(stock.foot);
        let taken = head(size).height + noted(labels, Some(&measure), notes, width).height;
        (width, height - taken - 2.0 * AROUND - 2.0 * BENCH.text().leading())
    });
    match View::laid(labels, subject, &rooms) {
        Laid::Whole(view, index) => {
            let size = stock.sizes.get(index).copied().unwrap_or(stock.sizes[0]);
            let mut flow = Flow::new(size, stock.foot);
            flow.put(head(size));
            whole(&mut flow, labels, view, (&measure, notes));
            Opened { flow, tiles: Vec::new(), size }
        }
        Laid::Parts(view) => {
            let mut flow = Flow::new(stock.sizes[0], stock.foot);
            let (view, grid) = parted(labels, stock, titles, view);
            flow.put(heading(labels, BENCH, job, kind, &facts(job), flow.width()));
            if grid.count() == 1 {
                alone(&mut flow, labels, &view, notes);
            } else {
                joined(&mut flow, labels, (&view, &grid), (&measure, notes));
            }
            let tiles = tile_page::pages(labels, &view, titles, (&grid, stock.foot));
            Opened { flow, tiles, size: grid.size }
        }
    }
}

/// The view on one page, with its notes.
fn whole(flow: &mut Flow, labels: &Labels, view: View<'_>, (measure, notes): (&str, &[String])) {
    let width = flow.width();
    let mut notes = noted(labels, Some(measure), notes, width);
    if let Some(off) = off_sheet(labels, &view, width) {
        notes.height += BETWEEN_NOTES;
        notes.stack(off);
    }
    flow.space(AROUND);
    flow.put(view.block(labels, width));
    flow.space(AROUND);
    flow.put(notes);
}

/// The notes of a view that needs a page for itself.
fn alone(flow: &mut Flow, labels: &Labels, view: &View<'_>, notes: &[String]) {
    let width = flow.width();
    flow.space(AROUND / 2.0);
    prose(flow, labels, vec![Para::new(words::ALONE, BENCH.text())]);
    flow.space(AROUND / 2.0);
    flow.put(noted(labels, None, notes, width));
    zero_told(flow, labels, view, width);
}

/// Tells of a zero that is not on the sheet, where that is so.
fn zero_told(flow: &mut Flow, labels: &Labels, view: &View<'_>, width: f64) {
    if let Some(off) = off_sheet(labels, view, width) {
        flow.space(BETWEEN_NOTES);
        flow.put(off);
    }
}

/// What is said where zero is not on the sheet.
fn off_sheet(labels: &Labels, view: &View<'_>, width: f64) -> Option<Block> {
    let off: Vec<String> = [(Along::Across, "across"), (Along::Down, "up and down")]
        .into_iter()
        .filter(|(axis, _)| !view.shows(*axis))
        .map(|(_, words)| words.to_owned())
        .collect();
    let text = || [Para::new(words::zero_off(&off), BENCH.text())];
    (!off.is_empty()).then(|| paragraphs(labels, &text(), width))
}

/// The paper, upright or lying, that takes the fewest tiles; as much of the face is
/// shown as takes no more.
fn parted<'a>(
    labels: &Labels,
    stock: &Stock,
    titles: Titles<'_>,
    mut view: View<'a>,
) -> (View<'a>, Grid) {
    let cut = |view: &View<'_>, size: Size| {
        Grid::of(view, size, tile_page::room(labels, view, titles, (size, stock.foot)))
    };
    let [upright, lying] = stock.sizes.map(|size| cut(&view, size));
    let grid = if lying.count() < upright.count() { lying } else { upright };
    let (size, most) = (grid.size, grid.count());
    view.widen(|wider| cut(wider, size).count() <= most);
    let grid = cut(&view, size);
    (view, grid)
}

/// How the tiles are joined, with a plan of them, and the notes.
fn joined(
    flow: &mut Flow,
    labels: &Labels,
    (view, grid): (&View<'_>, &Grid),
    (measure, notes): (&str, &[String]),
) {
    let job = view.subject().job;
    let title = format!(
        "Larger than the paper: {} tiles, {} across and {} down",
        grid.count(),
        grid.columns.count(),
        grid.rows.count()
    );
    section(flow, labels, BENCH, &title, 40.0);
    let mut own: Vec<String> = words::JOINING.iter().map(|text| (*text).to_owned()).collect();
    own.push(format!(
        "Check the whole before you go on: on the joined sheet the plate measures {}.",
        plate_size(job, words::vulgar)
    ));
    steps(flow, labels, &own);
    flow.space(AROUND / 2.0);
    flow.put(key_plan(labels, (view, grid), None, PLAN));
    flow.space(1.0);
    prose(flow, labels, vec![Para::new(words::KEY_PLAN, BENCH.text())]);
    flow.space(AROUND / 2.0);
    let width = flow.width();
    flow.put(noted(labels, Some(measure), notes, width));
    zero_told(flow, labels, view, width);
}
