//! A plate that cannot go where it is asked to: the nearest place that it can, the
//! largest plate that goes on, old holes plugged first.

use crate::finding::{Scope, Severity};
use crate::job::Job;
use crate::layout::Layout;
use crate::mount::{Moved, face_row, largest_plate, nearest_place, old_holes};
use crate::units::digits::trimmed;
use crate::units::inch;

use super::plate::{size_text, toml_string};
use super::prove::cured;
use super::{Cures, Edit, Remedy};

/// What a move or a smaller plate cures.
const ROOM: &[&str] = &[
    "plate-off-face",
    "plate-on-trim",
    "plate-near-trim",
    "plate-not-in-recess",
    "plate-tight-in-recess",
    "hole-off-face",
];
/// What a move or a plug cures.
const OLD: &[&str] = &["old-hole-near", "old-hole-too-large"];
/// What a plug counts when remedies are ranked: it is work on the finished face.
const PLUG_SHARE: f64 = 0.5;

/// Remedies for a plate that does not go on its face where it is asked to, and for bores
/// in the way of old holes.
pub(super) fn cures(job: &Job) -> Vec<Cures> {
    let open = |codes: &[&str]| {
        job.findings.iter().position(|judged| {
            judged.accepted.is_none()
                && judged.finding.severity >= Severity::Caution
                && codes.contains(&judged.finding.code)
        })
    };
    let room = open(ROOM).map(|finding| (finding, [moved(job, ROOM), smaller(job)]));
    let old = open(OLD).map(|finding| (finding, [moved(job, OLD), plugged(job)]));
    let found = [room, old].into_iter().flatten().map(|(finding, remedies)| {
        let mut remedies: Vec<Remedy> = remedies.into_iter().flatten().collect();
        remedies.sort_by(|a, b| a.share.total_cmp(&b.share));
        Cures { finding, remedies }
    });
    found.filter(|cures| !cures.remedies.is_empty()).collect()
}

/// The nearest place.
fn moved(job: &Job, codes: &[&str]) -> Option<Remedy> {
    let found = nearest_place(&job.layout, &job.mount)?;
    if !cured(job, &found.layout, codes) {
        return None;
    }
    let inches = job.layout.inches;
    let edits = found.keys.iter().map(|(key, lengths)| {
        let lengths: Vec<String> =
            lengths.iter().map(|mm| toml_string(&length(*mm, inches))).collect();
        let value = match lengths.as_slice() {
            [one] => one.clone(),
            several => format!("[{}]", several.join(", ")),
        };
        Edit { key: (*key).to_owned(), value }
    });
    let short = job.layout.plate.width.min(job.layout.plate.height);
    Some(Remedy {
        kind: "other-place",
        message: format!(
            "Move the plate {}: that is the nearest place for it.",
            way(&found, inches)
        ),
        edits: edits.collect(),
        share: libm::hypot(found.by.0, found.by.1) / short,
        layout: found.layout,
    })
}

/// `2.3 mm to the right and 1 mm down`.
fn way(found: &Moved, inches: bool) -> String {
    let (across, down) = found.by;
    let part = |by: f64, more: &str, less: &str| {
        (by.abs() > 1e-6)
            .then(|| format!("{} {}", length(by.abs(), inches), if by > 0.0 { more } else { less }))
    };
    let parts = [part(across, "to the right", "to the left"), part(down, "down", "up")];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" and ")
}

/// A length as the layout would write it.
fn length(mm: f64, inches: bool) -> String {
    let fraction = inch::nearest_64th(mm);
    if inches && fraction.error_mm.abs() < 0.001 {
        fraction.text
    } else {
        format!("{} mm", trimmed(mm, 2))
    }
}

/// The largest plate that goes on where it is asked to. It is proved as to the face
/// alone: where the wording has no room on it any more, the message says so.
fn smaller(job: &Job) -> Option<Remedy> {
    let (width, height) = largest_plate(&job.layout)?;
    let old = &job.layout.plate;
    let mut layout = job.layout.clone();
    layout.resize(width, height);
    let after = crate::job::job(&layout).ok()?;
    let left = after.findings.iter().any(|judged| {
        judged.accepted.is_none()
            && (ROOM.contains(&judged.finding.code)
                || (judged.stops()
                    && judged.finding.scope == Scope::Mount
                    && !stops_already(job, judged.finding.code)))
    });
    if left {
        return None;
    }
    let size = size_text(width, height, layout.inches);
    let wording = if !job.withholds(Scope::Lettering) && after.withholds(Scope::Lettering) {
        " The wording has no room on it as it is."
    } else {
        ""
    };
    Some(Remedy {
        kind: "smaller-plate",
        message: format!(
            "Take a plate of {size} instead of {}: the largest that goes on there.{wording}",
            size_text(old.width, old.height, layout.inches)
        ),
        edits: vec![Edit { key: "plate.size".to_owned(), value: toml_string(&size) }],
        share: 1.0 - width * height / (old.width * old.height),
        layout,
    })
}

fn stops_already(job: &Job, code: &str) -> bool {
    job.findings.iter().any(|judged| judged.stops() && judged.finding.code == code)
}

/// Every old hole in the way filled with a plug of wood, in a face that takes one.
fn plugged(job: &Job) -> Option<Remedy> {
    let mut layout: Layout = job.layout.clone();
    let face = layout.face.as_mut().filter(|face| face_row(face.material).kind.takes_plugs())?;
    let old = face.old.as_mut()?;
    let mut edits = Vec::new();
    let mut names = Vec::new();
    for (index, becomes) in old_holes(&job.layout, &job.mount).iter().enumerate() {
        let in_the_way = becomes.beside.is_some() || becomes.reused.is_some();
        let Some(hole) = old.holes.get_mut(index).filter(|hole| in_the_way && !hole.plugged) else {
            continue;
        };
        hole.plugged = true;
        names.push(format!("O{}", index + 1));
        let key = format!("face.old_holes.{}.plugged", index + 1);
        edits.push(Edit { key, value: "true".to_owned() });
    }
    if edits.is_empty() || !cured(job, &layout, OLD) {
        return None;
    }
    Some(Remedy {
        kind: "plug-old-holes",
        message: format!(
            "Plug {} first: glue in hardwood plugs or dowels, let them set, and drill the new holes \
             in them.",
            names.join(", ")
        ),
        edits,
        share: PLUG_SHARE,
        layout,
    })
}
