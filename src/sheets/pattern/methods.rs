//! How to go about it: steps and cautions, by what the fixing asks for.

use crate::job::Job;
use crate::mount::{Bored, Depth, FaceKind, face_row, taped};
use crate::sheets::heading::{BENCH, prose, section};
use crate::sheets::page::Flow;
use crate::sheets::table::Para;
use crate::sheets::text::Labels;
use crate::sheets::words;
use crate::units::digits::{fixed, trimmed};

use super::drills::face_noun;
use super::{cautions, steps};

/// Work on a face that is to have holes.
pub(super) fn methods(flow: &mut Flow, labels: &Labels, job: &Job) {
    let Some(fixing) = &job.mount.fixing else { return };
    let noun = face_noun(job);
    let kind = job.layout.face.as_ref().map(|face| face_row(face.material).kind);
    let hard = matches!(kind, Some(FaceKind::Metal | FaceKind::Stone));
    let point = if hard { "a centre punch" } else { "an awl" };
    let deep = fixing.bores.iter().any(|bore| bore.depth != Depth::Through);
    if fixing.through_plate() {
        section(flow, labels, BENCH, "First method: the drilled plate marks the holes", 30.0);
        let (first, ground) = words::first_method(noun, (hard, deep), by_mark(job), &fixing.work);
        steps(flow, labels, &first);
        prose(flow, labels, vec![Para::new(ground, BENCH.text())]);
        section(flow, labels, BENCH, "Second method: the paper alone", 20.0);
        prose(flow, labels, vec![Para::new(words::second_method(point), BENCH.text())]);
    } else {
        section(flow, labels, BENCH, "Order of work: the studs mark the paper", 30.0);
        steps(flow, labels, &words::stud_method(noun, point, by_mark(job), &fixing.work));
    }
    let dust = !hard && kind != Some(FaceKind::Resin);
    let mut own = words::drilling_cautions(noun, dust);
    own.extend(more_cautions(job).into_iter().map(str::to_owned));
    let own: Vec<&str> = own.iter().map(String::as_str).collect();
    cautions(flow, labels, &own);
}

/// Whether a mark on the face sets the plate.
fn by_mark(job: &Job) -> bool {
    job.mount.face.as_ref().is_some_and(|plan| plan.mark.is_some())
}

/// Cautions that the face or the fixing adds.
fn more_cautions(job: &Job) -> Vec<&'static str> {
    let mut more = Vec::new();
    match job.layout.face.as_ref().map(|face| face_row(face.material).kind) {
        Some(FaceKind::Board) => more.push(words::BOARD),
        Some(FaceKind::Veneered) => more.push(words::VENEER),
        Some(FaceKind::Resin) => more.push(words::RESIN),
        Some(FaceKind::Hollow) => more.push(words::HOLLOW),
        Some(FaceKind::Metal) => more.push(words::METAL_FACE),
        Some(FaceKind::Wood | FaceKind::Stone) | None => {}
    }
    if job.mount.fixing.as_ref().is_some_and(|fixing| fixing.bore(Bored::Stud).is_some()) {
        more.push(words::GLUE);
    }
    more
}

/// How a plate without holes is put on.
pub(super) fn placing(flow: &mut Flow, labels: &Labels, job: &Job) {
    section(flow, labels, BENCH, "No holes: how to place the plate", 30.0);
    let own = std::iter::once(words::line_up(by_mark(job))).chain(words::PLACING);
    let own: Vec<String> = own.map(str::to_owned).collect();
    steps(flow, labels, &own);
    let tape = tape_words(job);
    if !tape.is_empty() {
        section(flow, labels, BENCH, "Tape", 20.0);
        prose(flow, labels, tape.into_iter().map(|text| Para::new(text, BENCH.text())).collect());
    }
    cautions(flow, labels, &words::STICKING);
}

/// Area, weight and load of tape; nothing where the fixing is none.
fn tape_words(job: &Job) -> Vec<String> {
    let Some(taped) = taped(&job.layout) else { return Vec::new() };
    let area = format!("{} cm\u{b2}", fixed(taped.area / 100.0, 1));
    let edge = words::mm(taped.edge);
    let first = match &taped.strips {
        None => format!(
            "The plate's back has room for {area} of tape or pads, {edge} in from its edge (common \
             practice, no source)."
        ),
        Some(strips) => {
            let lengths: Vec<String> =
                strips.lengths.iter().map(|length| trimmed(*length, 1)).collect();
            format!(
                "{} strips {} wide, laid level and evenly from top to bottom, {edge} in from the \
                 edge (common practice, no source): from the top {} mm long, {area} in all.",
                strips.lengths.len(),
                words::mm(strips.width),
                words::listed(&lengths)
            )
        }
    };
    let load = taped.load();
    let mut all = vec![first];
    if load.is_finite() {
        all.push(format!(
            "The plate weighs about {} g ({}): {} g on each cm\u{b2} of tape. Hold that against \
             what the tape's maker allows for your two surfaces, for its own time and warmth. No \
             strength is promised here.",
            if taped.grams < 10.0 {
                trimmed(taped.grams, 1)
            } else {
                trimmed(taped.grams.round(), 0)
            },
            words::WEIGHT,
            fixed(load, 2)
        ));
    }
    all
}
