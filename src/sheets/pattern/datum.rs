//! What the pattern is measured from: centre line, edge or mark; in plate coordinates
//! and in words.

use crate::job::Job;
use crate::layout::{Face, FaceShape, Place};
use crate::sheets::dimension::Along;
use crate::sheets::view::{Datum, Old, Subject, Tape, Zero, rings};
use crate::sheets::words;
use crate::units::digits::fixed;

/// The places across and along that set the plate on its face: the recess's, where it
/// is let into one.
fn places(face: &Face) -> (Place, Place) {
    face.recess.map_or((face.across, face.along), |recess| (recess.across, recess.along))
}

fn datum(place: Place, plate_at: f64, face: f64) -> Datum {
    match place {
        Place::Centred => Datum { at: face / 2.0 - plate_at, zero: Zero::Centre },
        Place::FromStart(_) => Datum { at: -plate_at, zero: Zero::Edge },
        Place::FromEnd(_) => Datum { at: face - plate_at, zero: Zero::Edge },
    }
}

/// The plate on its face, measured from the datum that the layout chose; without a face
/// from its own centre lines.
pub(in crate::sheets) fn subject(job: &Job) -> Subject<'_> {
    let plate = &job.layout.plate;
    let rings = rings(job, |hole| hole.head_diameter / 2.0);
    // A plate without holes is placed by the paper that its outline was cut out of.
    let tape = if job.mount.holes.is_empty() { Tape::Beside } else { Tape::Under };
    let own = |size: f64| Datum { at: size / 2.0, zero: Zero::Centre };
    let Some(plan) = &job.mount.face else {
        let (across, along) = (own(plate.width), own(plate.height));
        return Subject { job, rings, old: Vec::new(), tape, across, along, face: None };
    };
    let (plate_x, plate_y) = (plan.plate_x, plan.plate_y);
    let (across, along) = match (plan.mark, plan.size()) {
        (Some((x, y)), _) => (
            Datum { at: x - plate_x, zero: Zero::Mark },
            Datum { at: y - plate_y, zero: Zero::Mark },
        ),
        (None, Some((width, height))) => {
            let (across, along) = places(&plan.face);
            (datum(across, plate_x, width), datum(along, plate_y, height))
        }
        (None, None) => (own(plate.width), own(plate.height)),
    };
    let face = plan.edge.as_ref().map(|edge| {
        let [left, top, right, bottom] = edge.bounds();
        kurbo::Rect::new(left - plate_x, top - plate_y, right - plate_x, bottom - plate_y)
    });
    Subject { job, rings, old: old(job), tape, across, along, face }
}

/// Old holes in plate coordinates.
fn old(job: &Job) -> Vec<Old> {
    let Some(plan) = &job.mount.face else { return Vec::new() };
    // Where the plate is set by a mark they count from the mark.
    let (left, top) = plan.mark.unwrap_or((0.0, 0.0));
    let holes = plan.face.old.iter().flat_map(|old| &old.holes);
    holes
        .map(|hole| Old {
            x: left + hole.x - plan.plate_x,
            y: top + hole.y - plan.plate_y,
            radius: hole.diameter / 2.0,
        })
        .collect()
}

/// What an axis is measured from, in words.
pub(in crate::sheets) fn datum_words(job: &Job, axis: Along) -> &'static str {
    let own = match axis {
        Along::Across => "the plate's upright centre line",
        Along::Down => "the plate's level centre line",
    };
    let Some(plan) = &job.mount.face else { return own };
    if plan.mark.is_some() {
        return "the mark on the face";
    }
    let Some(edge) = &plan.face.edge else { return own };
    let (across, along) = places(&plan.face);
    // Only a rectangle has an edge there all along.
    let square = edge.shape == FaceShape::Rectangle;
    match (axis, across, along) {
        (Along::Across, Place::Centred, _) => "the face's upright centre line",
        (Along::Across, Place::FromStart(_), _) if square => "the face's left edge",
        (Along::Across, Place::FromStart(_), _) => "the face's left end",
        (Along::Across, Place::FromEnd(_), _) if square => "the face's right edge",
        (Along::Across, Place::FromEnd(_), _) => "the face's right end",
        (Along::Down, _, Place::Centred) => "the face's level centre line",
        (Along::Down, _, Place::FromStart(_)) if square => "the face's top edge",
        (Along::Down, _, Place::FromStart(_)) => "the face's top end",
        (Along::Down, _, Place::FromEnd(_)) if square => "the face's bottom edge",
        (Along::Down, _, Place::FromEnd(_)) => "the face's bottom end",
    }
}

/// Where a hole lies from a datum, in words and both units.
pub(super) fn from_datum(job: &Job, axis: Along, at: f64, datum: Datum) -> String {
    let far = at - datum.at;
    let side = match (axis, far < 0.0) {
        _ if datum.zero == Zero::Edge || far.abs() <= 0.005 => "",
        (Along::Across, true) => " left",
        (Along::Across, false) => " right",
        (Along::Down, true) => " up",
        (Along::Down, false) => " down",
    };
    let mm = format!("{} mm", fixed(far.abs(), 2));
    let inch = words::vulgar_with_error(far.abs());
    if job.layout.inches { format!("{inch} ({mm}){side}") } else { format!("{mm} ({inch}){side}") }
}

/// The notes under the drawing: size, zero, the legend of its lines.
pub(super) fn notes(job: &Job) -> Vec<String> {
    let mut notes = vec![format!(
        "Plate {}. Zero (small circles): across, {}; up and down, {}. Inches to the nearest 1/64.",
        super::plate_size(job, words::vulgar),
        datum_words(job, Along::Across),
        datum_words(job, Along::Down)
    )];
    notes.extend(super::old_holes::slope(job));
    notes.push(legend(job));
    if job.mount.face.is_none() {
        notes.push(
            "No face was told: set the centre lines to your own marks on the trophy.".to_owned(),
        );
    }
    notes
}

/// What each kind of line means, ISO 128.
fn legend(job: &Job) -> String {
    let mut lines = vec!["Thick: the plate"];
    if job.mount.holes.iter().any(|hole| hole.through) {
        lines = vec!["Thick: plate and holes", "thin circles: heads"];
    } else if !job.mount.holes.is_empty() {
        lines = vec!["Thick: the plate and the studs on its back"];
    }
    lines.push("dash-dot: centre lines");
    let plan = job.mount.face.as_ref();
    let told = |what: fn(&crate::mount::FacePlan) -> bool| plan.is_some_and(what);
    let parts: Vec<String> = [
        (told(|plan| plan.edge.is_some()), "the face"),
        (told(|plan| plan.trim.is_some()), "its trim"),
        (told(|plan| plan.recess.is_some()), "the recess"),
    ]
    .into_iter()
    .filter(|(there, _)| *there)
    .map(|(_, words)| words.to_owned())
    .collect();
    let edges = format!("dash-dot-dot: edge of {}", words::listed(&parts));
    if !parts.is_empty() {
        lines.push(&edges);
    }
    if told(|plan| plan.mark.is_some()) {
        lines.push("small thick circle: the mark on the face");
    }
    if told(|plan| plan.face.old.as_ref().is_some_and(|old| !old.holes.is_empty())) {
        lines.push("dashed circles O1, O2 \u{2026}: old holes");
    }
    format!("{}.", lines.join("; "))
}
