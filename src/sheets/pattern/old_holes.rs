//! The holes that are already in the face: where they are, what becomes of them, how
//! they are plugged.

use crate::job::Job;
use crate::mount::{FaceKind, OldHolePlan, face_row, largest_reused, old_holes};
use crate::sheets::dimension::Along;
use crate::sheets::heading::{BENCH, prose, section};
use crate::sheets::page::Flow;
use crate::sheets::table::{Cell, Para, Table};
use crate::sheets::text::Labels;
use crate::sheets::words;
use crate::units::digits::fixed;

use super::{datum_words, fitted_columns, from_datum, head, subject};

/// The table of old holes, and how those in the way are plugged.
pub(super) fn table(flow: &mut Flow, labels: &Labels, job: &Job) {
    let Some(plan) = &job.mount.face else { return };
    let old = old_holes(&job.layout, &job.mount);
    if old.is_empty() {
        return;
    }
    let kind = face_row(plan.face.material).kind;
    let subject = subject(job);
    let rows: Vec<Vec<Cell>> = old
        .iter()
        .enumerate()
        .map(|(index, hole)| {
            let cell = |text: String| vec![Para::new(text, BENCH.figures())];
            vec![
                cell(format!("O{}", index + 1)),
                cell(from_datum(job, Along::Across, hole.x - plan.plate_x, subject.across)),
                cell(from_datum(job, Along::Down, hole.y - plan.plate_y, subject.along)),
                cell(words::mm(hole.diameter)),
                vec![Para::new(becomes(job, kind, hole), BENCH.text())],
            ]
        })
        .collect();
    let across = format!("Across, from {}", datum_words(job, Along::Across));
    let along = format!("Up or down, from {}", datum_words(job, Along::Down));
    let heads =
        vec![head("Old"), head(&across), head(&along), head("Wide"), head("What becomes of it")];
    let columns = fitted_columns(labels, flow.width(), &heads, &rows, &[1, 2, 4]);
    let table = Table { columns, head: heads, rows, ruled: true };
    section(flow, labels, BENCH, "Holes that are already there", table.kept_height(labels));
    table.put(flow, labels);
    flow.space(1.0);
    let in_the_way: Vec<String> = if kind.takes_plugs() {
        words::OLD_HOLES_PLUGGED.map(str::to_owned).to_vec()
    } else {
        vec![words::old_holes_left(kind.noun())]
    };
    let texts = in_the_way.into_iter().chain([words::OLD_HOLES_HIDDEN.to_owned()]);
    prose(flow, labels, texts.map(|text| Para::new(text, BENCH.text())).collect());
}

/// What becomes of an old hole, in words.
fn becomes(job: &Job, kind: FaceKind, hole: &OldHolePlan) -> String {
    let mut parts = Vec::new();
    if let Some(beside) = hole.beside.filter(|beside| !hole.plugged || beside.wood < 0.0) {
        parts.push(if hole.plugged {
            format!("hole {} meets the seam of its plug", beside.hole + 1)
        } else {
            format!("too near to hole {}", beside.hole + 1)
        });
    }
    if let Some(reused) = hole.reused {
        let most = job.mount.fixing.as_ref().and_then(largest_reused);
        let wide = most.is_some_and(|(most, _)| hole.diameter > most + 0.0015);
        parts.push(match (hole.plugged, wide) {
            (true, _) => format!("plugged: drill hole {} anew in the plug", reused.hole + 1),
            (false, true) if kind.takes_plugs() => {
                format!("too wide for hole {}: plug it, then drill anew", reused.hole + 1)
            }
            (false, true) => format!("too wide for hole {}: move the plate", reused.hole + 1),
            (false, false) => format!("used again for hole {}", reused.hole + 1),
        });
    } else if hole.plugged {
        parts.push("plugged".to_owned());
    }
    parts.push(if hole.cover >= -0.0015 {
        format!("hidden, its rim {} mm inside the plate", fixed(hole.cover.max(0.0), 1))
    } else if -hole.cover >= hole.diameter - 0.0015 {
        "shows whole".to_owned()
    } else {
        format!("shows by {} mm", fixed(-hole.cover, 1))
    });
    parts.join("; ")
}

/// What is to be known of a face that leans.
pub(super) fn slope(job: &Job) -> Option<String> {
    let edge = job.mount.face.as_ref()?.face.edge.as_ref()?;
    let slope = edge.slope?;
    Some(format!(
        "The face leans: {} plumb, its top {} behind its foot, so {} along the slope. This sheet \
         lies in the face itself; all that is measured up and down is measured along the slope.",
        words::mm(slope.rise),
        words::mm(slope.run),
        words::mm(edge.height)
    ))
}
