//! The mount pattern: true size, on paper to tape to the face; then the figures
//! to drill by, how to go about it, cautions; then the plate drilling sheet.

mod drills;

use crate::drawing::Drawing;
use crate::job::Job;
use crate::layout::Place;
use crate::units::digits::{fixed, trimmed};

use super::dimension::Along;
use super::drilling;
use super::heading::{BENCH, facts, footer, footer_height, heading, prose, section};
use super::page::{Flow, Size, finished, first, grown, sheets};
use super::plaque::wording;
use super::sheet::Sheet;
use super::table::{Cell, Para, Table, columns, paragraphs, width_of};
use super::text::Labels;
use super::view::{Datum, Subject, View, rings};
use super::words;

pub(super) use drills::drill_words;

/// The mount pattern and, where the plate has holes, the plate drilling sheet.
///
/// A face that is told is measured from the datum that the layout chose; without
/// one the plate is measured from its own centre lines.
#[must_use]
pub fn pattern(job: &Job) -> Sheet {
    let labels = Labels::new(job, &[]);
    let foot = footer_height(&labels, BENCH, job);
    let subject = subject(job);
    let kind = if job.mount.holes.is_empty() {
        "Placing pattern, true size: tape this sheet to the face"
    } else {
        "Mount pattern, true size: tape this sheet to the face"
    };
    let mut flow = opened(&labels, job, &subject, kind, &datum_notes(job), foot);
    if job.mount.holes.is_empty() {
        placing(&mut flow, &labels);
    } else {
        holes(&mut flow, &labels, job);
        drills::drills(&mut flow, &labels, job);
        methods(&mut flow, &labels);
        cautions(&mut flow, &labels, &words::CAUTIONS);
    }
    let mut pages = flow.pages();
    if !job.mount.holes.is_empty() {
        pages.extend(drilling::pages(&labels, job, foot));
    }
    Sheet::with_plates(Drawing {
        title: format!("{}: mount pattern", job.layout.title),
        description: format!(
            "Mount pattern at true size for proof {}, mark {}.\nWording of the plaque:\n{}",
            job.layout.proof.number,
            job.mark,
            wording(job)
        ),
        background: Some([255; 3]),
        pages: finished(pages, |page, count, width| {
            footer(&labels, BENCH, job, page, count, width)
        }),
    })
}

/// A cursor whose first page carries heading, view and the notes under it, on
/// the smallest sheet of the shop's kind that holds all that at true size.
pub(super) fn opened(
    labels: &Labels,
    job: &Job,
    subject: &Subject<'_>,
    kind: &str,
    notes: &[String],
    foot: f64,
) -> Flow {
    let paper = job.layout.proof.paper;
    let parts =
        |size: Size| {
            let (width, height) = size.inside(foot);
            let head = heading(labels, BENCH, job, kind, &facts(job), width);
            let mut paras = vec![Para::new(words::BARS_BEFORE_DRILLING, BENCH.strong())];
            paras.extend(notes.iter().map(|note| Para {
                before: BETWEEN_NOTES,
                ..Para::new(note.clone(), BENCH.text())
            }));
            let notes = paragraphs(labels, &paras, width);
            let room =
                height - head.height - notes.height - 2.0 * AROUND - 2.0 * BENCH.text().leading();
            (head, notes, (width, room))
        };
    let sizes = sheets(paper, BENCH.margin);
    let rooms: Vec<(f64, f64)> = sizes.iter().map(|size| parts(*size).2).collect();
    let (view, found) = View::laid(labels, subject, &rooms);
    let size = found.and_then(|index| sizes.get(index).copied()).unwrap_or_else(|| {
        let (width, height) = view.size();
        let first = first(paper, BENCH.margin);
        let taken = first.inside(foot).1 - parts(first).2.1;
        grown(paper, BENCH.margin, foot, (width, height + taken))
    });
    let (head, mut notes, _) = parts(size);
    let off: Vec<String> = [(Along::Across, "across"), (Along::Down, "up and down")]
        .into_iter()
        .filter(|(axis, _)| !view.shows(*axis))
        .map(|(_, words)| words.to_owned())
        .collect();
    if !off.is_empty() {
        notes.height += BETWEEN_NOTES;
        let text = [Para::new(words::zero_off(&off), BENCH.text())];
        notes.stack(paragraphs(labels, &text, size.inside(foot).0));
    }
    let mut flow = Flow::new(size, foot);
    let width = flow.width();
    flow.put(head);
    flow.space(AROUND);
    flow.put(view.block(labels, width));
    flow.space(AROUND);
    flow.put(notes);
    flow
}

/// White between the notes under the view, mm.
const BETWEEN_NOTES: f64 = 1.0;
/// White above and below the view, mm.
const AROUND: f64 = 5.0;

fn datum(place: Place, plate_at: f64, face: f64) -> Datum {
    match place {
        Place::Centred => Datum { at: face / 2.0 - plate_at, centre: true },
        Place::FromStart(_) => Datum { at: -plate_at, centre: false },
        Place::FromEnd(_) => Datum { at: face - plate_at, centre: false },
    }
}

fn subject(job: &Job) -> Subject<'_> {
    let plate = &job.layout.plate;
    let rings = rings(job, |hole| hole.head_diameter / 2.0);
    let own = |size: f64| Datum { at: size / 2.0, centre: true };
    let (across, along, face) = match &job.mount.face {
        Some(plan) => {
            let (plate_x, plate_y) = (plan.plate_x, plan.plate_y);
            let (width, height) = plan.size().unwrap_or_default();
            (
                datum(plan.face.across, plate_x, width),
                datum(plan.face.along, plate_y, height),
                Some(kurbo::Rect::new(-plate_x, -plate_y, width - plate_x, height - plate_y)),
            )
        }
        None => (own(plate.width), own(plate.height), None),
    };
    Subject { job, rings, across, along, face }
}

/// What an axis is measured from, in words.
fn datum_words(job: &Job, axis: Along) -> &'static str {
    let Some(plan) = &job.mount.face else {
        return match axis {
            Along::Across => "the plate's upright centre line",
            Along::Down => "the plate's level centre line",
        };
    };
    match (axis, plan.face.across, plan.face.along) {
        (Along::Across, Place::Centred, _) => "the face's upright centre line",
        (Along::Across, Place::FromStart(_), _) => "the face's left edge",
        (Along::Across, Place::FromEnd(_), _) => "the face's right edge",
        (Along::Down, _, Place::Centred) => "the face's level centre line",
        (Along::Down, _, Place::FromStart(_)) => "the face's top edge",
        (Along::Down, _, Place::FromEnd(_)) => "the face's bottom edge",
    }
}

/// `120 × 80 mm (4 23/32 × 3 5/32 in)`, inches as `inch` writes them.
pub(super) fn plate_size(job: &Job, inch: impl Fn(f64) -> String) -> String {
    let plate = &job.layout.plate;
    let mm = format!("{} \u{d7} {}", trimmed(plate.width, 2), words::mm(plate.height));
    let wide = inch(plate.width);
    let inch = format!("{} \u{d7} {}", wide.trim_end_matches(" in"), inch(plate.height));
    if job.layout.inches { format!("{inch} ({mm})") } else { format!("{mm} ({inch})") }
}

fn datum_notes(job: &Job) -> Vec<String> {
    let mut notes = vec![format!(
        "Plate {}. Zero (small circles): across, {}; up and down, {}. Inches to the nearest 1/64.",
        plate_size(job, words::vulgar),
        datum_words(job, Along::Across),
        datum_words(job, Along::Down)
    )];
    let mut lines = vec!["Thick: the plate"];
    if !job.mount.holes.is_empty() {
        lines = vec!["Thick: plate and holes", "thin circles: heads"];
    }
    lines.push("dash-dot: centre lines");
    if job.mount.face.is_some() {
        lines.push("dash-dot-dot: edge of the face");
    }
    notes.push(format!("{}.", lines.join("; ")));
    if job.mount.face.is_none() {
        notes.push(
            "No face was told: set the centre lines to your own marks on the trophy.".to_owned(),
        );
    }
    notes
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

/// Where a hole lies from a datum, in words and both units.
fn from_datum(job: &Job, axis: Along, at: f64, datum: Datum) -> String {
    let far = at - datum.at;
    let side = match (axis, far < 0.0) {
        _ if !datum.centre || far.abs() <= 0.005 => "",
        (Along::Across, true) => " left",
        (Along::Across, false) => " right",
        (Along::Down, true) => " up",
        (Along::Down, false) => " down",
    };
    let mm = format!("{} mm", fixed(far.abs(), 2));
    let inch = words::vulgar(far.abs());
    if job.layout.inches { format!("{inch} ({mm}){side}") } else { format!("{mm} ({inch}){side}") }
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

/// Steps from fixed sentences; the last of the first method is its ground.
fn methods(flow: &mut Flow, labels: &Labels) {
    section(flow, labels, BENCH, "First method: the drilled plate marks the holes", 30.0);
    let own: Vec<String> = words::FIRST_METHOD.iter().map(|text| (*text).to_owned()).collect();
    let (numbered, ground) = own.split_at(own.len().saturating_sub(1));
    steps(flow, labels, numbered);
    prose(flow, labels, ground.iter().map(|text| Para::new(text.clone(), BENCH.text())).collect());
    section(flow, labels, BENCH, "Second method: the paper alone", 20.0);
    prose(flow, labels, vec![Para::new(words::SECOND_METHOD, BENCH.text())]);
}

fn placing(flow: &mut Flow, labels: &Labels) {
    section(flow, labels, BENCH, "No holes: how to place the plate", 30.0);
    let own: Vec<String> = words::PLACING.iter().map(|text| (*text).to_owned()).collect();
    steps(flow, labels, &own);
    cautions(flow, labels, &words::STICKING);
}

/// Cautions as a list.
pub(super) fn cautions(flow: &mut Flow, labels: &Labels, texts: &[&str]) {
    section(flow, labels, BENCH, "Cautions", 20.0);
    let rows: Vec<Vec<Cell>> = texts
        .iter()
        .map(|text| {
            vec![vec![Para::new("\u{2013}", BENCH.text())], vec![Para::new(*text, BENCH.text())]]
        })
        .collect();
    let columns = fitted_columns(labels, flow.width(), &[], &rows, &[1]);
    Table { columns, head: Vec::new(), rows, ruled: false }.put(flow, labels);
}
