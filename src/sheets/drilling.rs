//! The plate drilling sheet: the plate measured from its own edges, hole sizes,
//! countersinks, and the order of work.

use crate::job::Job;
use crate::layout::{Cut, Fill, Finish, Named};
use crate::mount::{Fixing, Hole, Slot, SlotWay, nearest_drill};
use crate::plate::material_row;
use crate::units::digits::trimmed;

use super::block::Block;
use super::edge::told;
use super::heading::{BENCH, prose, section};
use super::page::Size;
use super::pattern::{Stock, cautions, drill_words, fitted_columns, opened, plate_size, steps};
use super::table::{Cell, Para, Table};
use super::text::Labels;
use super::view::{Datum, Subject, Zero, rings};
use super::words;

/// Pages of the plate drilling sheet.
pub(super) fn pages(labels: &Labels, job: &Job, stock: &Stock) -> Vec<(Size, Block)> {
    let rings = rings(job, |_| countersink(job).map_or(0.0, |(diameter, _)| diameter / 2.0));
    let edge = Datum { at: 0.0, zero: Zero::Edge };
    let subject = Subject { job, rings, old: Vec::new(), across: edge, along: edge, face: None };
    let notes = [
        format!(
            "Plate {}, seen from the front. Zero (small circles): its left and top edge. Inches to the \
             nearest 1/64.",
            plate_size(job, words::vulgar)
        ),
        if countersink(job).is_some() {
            "Thick: plate and holes; thin circles: countersinks on the front; dash-dot: centre lines."
                .to_owned()
        } else {
            "Thick: plate and holes; dash-dot: centre lines.".to_owned()
        },
    ];
    let kind = "Plate drilling sheet, true size, front of the plate";
    let mut sheet = opened(labels, &subject, stock, (kind, ""), &notes);
    let flow = &mut sheet.flow;
    holes(flow, labels, job);
    section(flow, labels, BENCH, "Order of work", 30.0);
    steps(flow, labels, &order(job));
    let row = material_row(job.layout.plate.material);
    let mut own = vec![
        "Wear eye protection, clamp the plate on scrap wood, no gloves or loose sleeves near a \
         turning drill; edges and swarf cut.",
    ];
    own.extend(row.cautions.iter().map(String::as_str));
    cautions(flow, labels, &own);
    sheet.pages()
}

/// Top diameter and angle of the countersink, where the head asks for one.
pub(super) fn countersink(job: &Job) -> Option<(f64, f64)> {
    let fixing = job.mount.fixing.as_ref()?;
    Some((fixing.head_diameter, fixing.countersink_angle?))
}

fn holes(flow: &mut super::page::Flow, labels: &Labels, job: &Job) {
    let cell = |text: String| vec![Para::new(text, BENCH.figures())];
    let rows: Vec<Vec<Cell>> = job
        .mount
        .holes
        .iter()
        .enumerate()
        .map(|(index, hole)| {
            vec![
                cell((index + 1).to_string()),
                cell(both(job, hole.x)),
                cell(both(job, hole.y)),
                cell(size(hole)),
            ]
        })
        .collect();
    let heads: Vec<Cell> = ["Hole", "From the left edge", "From the top edge", "Size"]
        .iter()
        .map(|text| vec![Para::new(*text, BENCH.strong())])
        .collect();
    let columns = fitted_columns(labels, flow.width(), &heads, &rows, &[1, 2]);
    let table = Table { columns, head: heads, rows, ruled: true };
    section(flow, labels, BENCH, "Holes in the plate", table.kept_height(labels));
    table.put(flow, labels);
    flow.space(1.0);
    let notes = hole_notes(job).into_iter().map(|text| Para::new(text, BENCH.text())).collect();
    prose(flow, labels, notes);
}

/// Diameter of a hole, length and width of a slot.
fn size(hole: &Hole) -> String {
    match hole.slot {
        None => format!("\u{d8}{} through", words::mm(hole.clearance_diameter)),
        Some(Slot { length, way }) => format!(
            "slot {} \u{d7} {}, {}",
            trimmed(length, 2),
            words::mm(hole.clearance_diameter),
            match way {
                SlotWay::Level => "level",
                SlotWay::Upright => "upright",
            }
        ),
    }
}

fn both(job: &Job, value: f64) -> String {
    let (mm, inch) = (words::mm(value), words::vulgar(value));
    if job.layout.inches { format!("{inch} ({mm})") } else { format!("{mm} ({inch})") }
}

fn hole_notes(job: &Job) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(hole) = job.mount.holes.first() {
        let (metric, inch) = nearest_drill(hole.clearance_diameter, &job.layout.shop.drills);
        let wanted = hole.clearance_diameter;
        notes.push(format!(
            "Drill for the holes: {}, or {}.",
            drill_words(&metric.name, metric.diameter, wanted),
            drill_words(&inch.name, inch.diameter, wanted)
        ));
    }
    if let Some((diameter, angle)) = countersink(job) {
        let depth = job.mount.fixing.as_ref().and_then(|fixing: &Fixing| fixing.cone_depth);
        let depth = depth.map_or_else(String::new, |depth| {
            format!(", the cone of the head {} deep", words::mm(depth))
        });
        notes.push(format!(
            "Countersink on the front, {}\u{b0}, to \u{d8}{} at the surface{depth}. Try the screw \
             as you go: its head stands flush, no deeper.",
            trimmed(angle, 1),
            words::mm(diameter)
        ));
    }
    notes
}

/// The order of work, leaving out what this plate does not ask for.
fn order(job: &Job) -> Vec<String> {
    let plate = &job.layout.plate;
    let engraving = &job.layout.engraving;
    let mut all = vec![format!(
        "Cut the plate to its outline, {} \u{d7} {} mm, {} thick: {}.",
        trimmed(plate.width, 2),
        trimmed(plate.height, 2),
        words::mm(plate.thickness),
        told(plate, words::mm)
    )];
    if plate.bevel > 0.0 {
        all.push(format!("Bevel the front edge, {} wide.", words::mm(plate.bevel)));
    }
    all.push("Drill the holes from the front; deburr both sides.".to_owned());
    if countersink(job).is_some() {
        all.push("Countersink on the front, after drilling.".to_owned());
    }
    all.push(match plate.finish {
        Finish::Lacquered => "Finish the surface (polish); the lacquer comes last.".to_owned(),
        finish => format!("Finish the surface ({}).", finish.word()),
    });
    all.push(match engraving.cut {
        Cut::Incised => format!("Engrave the lettering ({}).", engraving.process.word()),
        Cut::Raised => format!("Take the ground away ({}).", engraving.process.word()),
    });
    if engraving.fill != Fill::None {
        all.push(format!("Fill with {} paint; clean the surface.", engraving.fill.word()));
    }
    if plate.finish == Finish::Lacquered {
        all.push(
            "Lacquer, outdoors or in a booth, away from flame, with the right respirator."
                .to_owned(),
        );
    }
    all
}
