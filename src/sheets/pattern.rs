//! The mount pattern: true size, on paper to tape to the face; then the figures
//! to drill by, how to go about it, cautions; then the plate drilling sheet.

mod drills;

mod datum;
mod key_plan;
mod methods;
mod old_holes;
mod opening;
mod printer;
mod register;
mod taping;
mod tile_page;
mod tiles;
mod wood;

use crate::drawing::{Drawing, Page};
use crate::job::Job;
use crate::units::digits::trimmed;

use super::dimension::Along;
use super::drilling;
use super::heading::{BENCH, section};
use super::page::{Flow, finished};
use super::plaque::wording;
use super::sheet::Sheet;
use super::table::{Cell, Para, Table, columns, width_of};
use super::text::Labels;
use super::words;

use datum::from_datum;

pub(super) use datum::{datum_words, subject};
pub(super) use drills::drills_for;
pub(super) use opening::{Stock, opened};
pub use printer::{MOST_OFF_PER_CENT, PrintedBars};

/// The mount pattern and, where the plate has holes, the plate drilling sheet, on the
/// paper asked for; over several pages of it where the plate is larger.
///
/// A face that is told is measured from the datum that the layout chose; without
/// one the plate is measured from its own centre lines.
#[must_use]
pub fn pattern(job: &Job) -> Sheet {
    drawn(job, None)
}

/// The same, made larger or smaller to come out true on a printer that made `bars` of
/// its check bars. No page of it shows the plate at true size before it is printed.
#[must_use]
pub fn corrected_pattern(job: &Job, bars: PrintedBars) -> Sheet {
    drawn(job, Some(bars))
}

fn drawn(job: &Job, bars: Option<PrintedBars>) -> Sheet {
    let labels = Labels::new(job, &[]);
    let mut stock = Stock::new(&labels, job, bars);
    let subject = subject(job);
    let kind = if job.mount.holes.is_empty() {
        "Placing pattern, true size"
    } else {
        "Mount pattern, true size"
    };
    let how = ": tape this sheet to the face";
    let mut sheet = opened(&labels, &subject, &stock, (kind, how), &datum::notes(job));
    stock.measured_on(sheet.size);
    let flow = &mut sheet.flow;
    if job.mount.holes.is_empty() {
        taping::taping(flow, &labels, job);
        old_holes::table(flow, &labels, job);
        methods::placing(flow, &labels, job);
    } else {
        holes(flow, &labels, job);
        wood::chosen(flow, &labels, job);
        drills::drills(flow, &labels, job);
        old_holes::table(flow, &labels, job);
        wood::movement(flow, &labels, job);
        taping::taping(flow, &labels, job);
        methods::methods(flow, &labels, job);
    }
    let mut pages = sheet.pages();
    if !job.mount.holes.is_empty() {
        pages.extend(drilling::pages(&labels, job, &stock));
    }
    let pages: Vec<Page> =
        finished(pages, |page, count, width| stock.footer(&labels, job, page, count, width));
    Sheet::with_plates(Drawing {
        title: format!("{}: mount pattern", job.layout.title),
        description: format!(
            "Mount pattern at true size for proof {}, mark {}. {}\nWording of the plaque:\n{}",
            job.layout.proof.number,
            job.mark,
            words::signed_off_in_full(job.signed.as_ref()),
            wording(job)
        ),
        background: Some([255; 3]),
        pages: pages.into_iter().map(|page| stock.printed(page)).collect(),
    })
}

/// `120 × 80 mm (4 23/32 × 3 5/32 in)`, inches as `inch` writes them.
pub(super) fn plate_size(job: &Job, inch: impl Fn(f64) -> String) -> String {
    let plate = &job.layout.plate;
    let mm = format!("{} \u{d7} {}", trimmed(plate.width, 2), words::mm(plate.height));
    let wide = inch(plate.width);
    let inch = format!("{} \u{d7} {}", wide.trim_end_matches(" in"), inch(plate.height));
    if job.layout.inches { format!("{inch} ({mm})") } else { format!("{mm} ({inch})") }
}

/// A head cell.
fn head(text: &str) -> Cell {
    vec![Para::new(text, BENCH.strong())]
}

/// Columns as wide as their contents, the rest of the width shared by those without.
pub(super) fn fitted_columns(
    labels: &Labels,
    width: f64,
    head: &[Cell],
    rows: &[Vec<Cell>],
    open: &[usize],
) -> Vec<super::table::Column> {
    let count = head.len().max(rows.first().map_or(0, Vec::len));
    let parts: Vec<Option<f64>> = (0..count)
        .map(|column| {
            if open.contains(&column) {
                return None;
            }
            let cells = std::iter::once(head)
                .chain(rows.iter().map(Vec::as_slice))
                .filter_map(|row| row.get(column))
                .flatten();
            Some(width_of(labels, cells.map(|para| (para.text.as_str(), para.style))))
        })
        .collect();
    columns(width, &parts)
}

fn holes(flow: &mut Flow, labels: &Labels, job: &Job) {
    let subject = subject(job);
    let across = format!("Across, from {}", datum_words(job, Along::Across));
    let along = format!("Up or down, from {}", datum_words(job, Along::Down));
    let rows: Vec<Vec<Cell>> = job
        .mount
        .holes
        .iter()
        .enumerate()
        .map(|(index, hole)| {
            let cell = |text: String| vec![Para::new(text, BENCH.figures())];
            vec![
                cell((index + 1).to_string()),
                cell(from_datum(job, Along::Across, hole.x, subject.across)),
                cell(from_datum(job, Along::Down, hole.y, subject.along)),
            ]
        })
        .collect();
    let heads = vec![head("Hole"), head(&across), head(&along)];
    let columns = fitted_columns(labels, flow.width(), &heads, &rows, &[1, 2]);
    let table = Table { columns, head: heads, rows, ruled: true };
    section(flow, labels, BENCH, "Hole centres on the face", table.kept_height(labels));
    table.put(flow, labels);
}

/// Numbered steps.
pub(super) fn steps(flow: &mut Flow, labels: &Labels, texts: &[String]) {
    let rows: Vec<Vec<Cell>> = texts
        .iter()
        .enumerate()
        .map(|(index, text)| {
            vec![
                vec![Para::new(format!("{}.", index + 1), BENCH.figures())],
                vec![Para::new(text.clone(), BENCH.text())],
            ]
        })
        .collect();
    let columns = fitted_columns(labels, flow.width(), &[], &rows, &[1]);
    Table { columns, head: Vec::new(), rows, ruled: false }.put(flow, labels);
}

/// Cautions as a list.
pub(super) fn cautions(flow: &mut Flow, labels: &Labels, texts: &[&str]) {
    let rows: Vec<Vec<Cell>> = texts
        .iter()
        .map(|text| {
            vec![vec![Para::new("\u{2013}", BENCH.text())], vec![Para::new(*text, BENCH.text())]]
        })
        .collect();
    let columns = fitted_columns(labels, flow.width(), &[], &rows, &[1]);
    let table = Table { columns, head: Vec::new(), rows, ruled: false };
    // Read as one: a caution by itself on the next page is passed over.
    section(flow, labels, BENCH, "Cautions", table.kept_height(labels));
    table.put(flow, labels);
}
