//! The plate drilling sheet: the plate measured from its own edges, hole sizes,
//! countersinks, and the order of work.

use crate::job::Job;
use crate::layout::{Cut, Fill, Finish, Named, Process, Shape, Side};
use crate::mount::{Countersink, Hole, Slot, SlotWay};
use crate::plate;
use crate::units::digits::trimmed;

use super::block::Block;
use super::edge::told;
use super::heading::{BENCH, prose, section};
use super::page::Size;
use super::pattern::{Stock, cautions, drills_for, fitted_columns, opened, plate_size, steps};
use super::table::{Cell, Para, Table};
use super::text::Labels;
use super::view::{Datum, Subject, Tape, Zero, rings};
use super::words;

/// Pages of the plate drilling sheet. Studs stand on the plate's back, so theirs is seen
/// from there.
pub(super) fn pages(labels: &Labels, job: &Job, stock: &Stock) -> Vec<(Size, Block)> {
    let behind = job.mount.fixing.as_ref().is_some_and(|fixing| !fixing.through_plate());
    let turned;
    let shown = if behind {
        turned = seen_from_behind(job);
        &turned
    } else {
        job
    };
    let rings = rings(shown, |_| countersink(job).map_or(0.0, |sunk| sunk.top / 2.0));
    let edge = Datum { at: 0.0, zero: Zero::Edge };
    let (old, tape) = (Vec::new(), Tape::None);
    let subject = Subject { job: shown, rings, old, tape, across: edge, along: edge, face: None };
    let size = plate_size(job, words::vulgar);
    let notes = if behind {
        [
            format!(
                "Plate {size}, seen from the BACK: left and right have changed sides. Zero (small \
                 circles): its left and top edge as they are seen here. Inches to the nearest 1/64."
            ),
            "Thick: plate and studs; dash-dot: centre lines. Numbers are those of the mount pattern."
                .to_owned(),
        ]
    } else {
        [
            format!(
                "Plate {size}, seen from the front. Zero (small circles): its left and top edge. \
                 Inches to the nearest 1/64."
            ),
            if countersink(job).is_some() {
                "Thick: plate and holes; thin circles: countersinks on the front; dash-dot: centre lines."
            } else {
                "Thick: plate and holes; dash-dot: centre lines."
            }
            .to_owned(),
        ]
    };
    let kind = if behind {
        "Plate drilling sheet, true size, BACK of the plate (mirrored)"
    } else {
        "Plate drilling sheet, true size, front of the plate"
    };
    let mut sheet = opened(labels, &subject, stock, (kind, ""), &notes);
    let flow = &mut sheet.flow;
    holes(flow, labels, shown);
    section(flow, labels, BENCH, "Order of work", 30.0);
    steps(flow, labels, &order(job));
    let mut own = vec![
        "Wear eye protection, clamp the plate on scrap wood, no gloves or loose sleeves near a \
         turning drill; edges and swarf cut.",
    ];
    own.extend(plate::cautions(&job.layout.plate));
    cautions(flow, labels, &own);
    sheet.pages()
}

/// The same plate turned over, left for right.
fn seen_from_behind(job: &Job) -> Job {
    let mut turned = job.clone();
    let width = job.layout.plate.width;
    if let Shape::Points(points) = &mut turned.layout.plate.shape {
        *points = points.iter().rev().map(|(x, y)| (width - x, *y)).collect();
    }
    for hole in &mut turned.mount.holes {
        hole.x = width - hole.x;
    }
    turned
}

/// The countersink, where the head asks for one.
pub(super) fn countersink(job: &Job) -> Option<Countersink> {
    job.mount.fixing.as_ref()?.countersink
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
    let title = if job.mount.holes.iter().any(|hole| hole.through) {
        "Holes in the plate"
    } else {
        "Studs on the plate's back"
    };
    section(flow, labels, BENCH, title, table.kept_height(labels));
    table.put(flow, labels);
    flow.space(1.0);
    let notes = hole_notes(job).into_iter().map(|text| Para::new(text, BENCH.text())).collect();
    prose(flow, labels, notes);
}

/// Diameter of a hole, length and width of a slot.
fn size(hole: &Hole) -> String {
    match hole.slot {
        _ if !hole.through => {
            format!("stud \u{d8}{}: centre mark only", words::mm(hole.clearance_diameter))
        }
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
    let Some(fixing) = &job.mount.fixing else { return notes };
    if !fixing.through_plate() {
        notes.push(
            "Do not drill through: mark the centres lightly on the back. The front stays whole."
                .to_owned(),
        );
        return notes;
    }
    if let Some(hole) = job.mount.holes.first() {
        let drills = drills_for(job, hole.clearance_diameter);
        notes.push(format!("Drill for the holes: {}.", drills.join(", or ")));
    }
    let most = job.mount.holes.iter().map(|hole| {
        let (across, down) = hole.travel();
        across.max(down)
    });
    let most = most.fold(0.0, f64::max);
    if most > 0.0 {
        notes.push(format!(
            "Slots: drill at both ends, half of length less width to either side of the centre (up \
             to {}); take out what is between and file it straight.",
            words::mm(most)
        ));
    }
    if let Some(Countersink { top, depth, angle }) = fixing.countersink {
        notes.push(format!(
            "Countersink on the front, {}\u{b0}, to \u{d8}{} at the surface, the cone of the head \
             {} deep. Try the screw as you go: its head stands flush, no deeper.",
            trimmed(angle, 1),
            words::mm(top),
            words::mm(depth)
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
    if job.mount.holes.iter().any(|hole| hole.through) {
        all.push("Drill the holes from the front; deburr both sides.".to_owned());
    } else {
        all.push(
            "Mark the studs' centres on the back. Solder, weld or glue the studs on square; heat \
             marks the front, so finish it afterwards."
                .to_owned(),
        );
    }
    if countersink(job).is_some() {
        all.push("Countersink on the front, after drilling.".to_owned());
    }
    all.push(match plate.finish {
        Finish::Lacquered => "Finish the surface (polish); the lacquer comes last.".to_owned(),
        finish => format!("Finish the surface ({}).", finish.word()),
    });
    let work = match engraving.cut {
        _ if engraving.process == Process::Printed => "Print the lettering".to_owned(),
        Cut::Incised => format!("Engrave the lettering ({})", engraving.process.word()),
        Cut::Raised => format!("Take the ground away ({})", engraving.process.word()),
    };
    all.push(match engraving.from {
        Side::Front => format!("{work}."),
        Side::Behind => format!(
            "{work}, in the BACK: the plate lies face down, turned over left for right, as the \
             mirrored artwork shows it."
        ),
    });
    if engraving.fill != Fill::None && engraving.process != Process::Printed {
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
