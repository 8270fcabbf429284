//! Why the holes are where they are, and how the wood moves behind them.

use crate::job::Job;
use crate::layout::{GrainWay, Named};
use crate::mount::{KELVIN, Movement, numbered};
use crate::sheets::heading::{BENCH, prose, section};
use crate::sheets::page::Flow;
use crate::sheets::table::Para;
use crate::sheets::text::Labels;
use crate::units::digits::{fixed, trimmed};

/// The ground of a set that was left to be chosen, under the table of holes.
pub(super) fn chosen(flow: &mut Flow, labels: &Labels, job: &Job) {
    let Some(why) = &job.mount.set.why else { return };
    flow.space(1.0);
    let text = format!(
        "The holes were chosen: {}, because {why} (common practice, no source).",
        job.mount.set.told()
    );
    prose(flow, labels, vec![Para::new(text, BENCH.text())]);
}

/// How far the wood moves, what the fixings take of it, and what is to be done.
pub(super) fn movement(flow: &mut Flow, labels: &Labels, job: &Job) {
    let (Some(movement), Some(fixing)) = (&job.mount.movement, &job.mount.fixing) else { return };
    section(flow, labels, BENCH, "Wood across the grain", 20.0);
    let mut texts = vec![reckoned(movement), taken(movement, fixing.still())];
    if job.mount.holes.iter().any(|hole| hole.slot.is_some()) {
        texts.extend(slotted(job, movement));
    }
    texts.push(format!(
        "Source: {}.{} Movement is known to a tenth of \
         a millimetre at best.",
        movement.coefficient.source,
        if movement.moisture_told { "" } else { " The range of moisture is assumed." }
    ));
    prose(flow, labels, texts.into_iter().map(|text| Para::new(text, BENCH.text())).collect());
}

fn mm(value: f64) -> String {
    format!("{} mm", fixed(value, 1))
}

fn reckoned(movement: &Movement) -> String {
    let way = match movement.way {
        GrainWay::Vertical => "The grain runs up and down, the wood moves from left to right",
        GrainWay::Horizontal => "The grain runs from left to right, the wood moves up and down",
    };
    if movement.span <= 0.0 {
        return format!("{way}. All holes stand in one line along the grain: nothing to share.");
    }
    let (least, most) = movement.plate_change;
    let plate = if fixed(least, 2) == fixed(most, 2) {
        format!("{} mm", fixed(most, 2))
    } else {
        format!("{} to {} mm", fixed(least, 2), fixed(most, 2))
    };
    format!(
        "{way}. From {} % to {} % moisture the {} of {} ({}) between the outer holes change by \
         {}; the plate by {plate} over {} K.",
        trimmed(movement.moisture.0, 1),
        trimmed(movement.moisture.1, 1),
        mm(movement.span),
        movement.wood,
        movement.sawn.word(),
        mm(movement.wood_change),
        trimmed(KELVIN, 0)
    )
}

fn taken(movement: &Movement, still: &str) -> String {
    let float = match movement.float {
        Some(float) => {
            format!("the float of a fixing in its hole (clearance less shank) is {}", mm(float))
        }
        None => still.to_owned(),
    };
    let judged = if movement.matters() { "more" } else { "no more" };
    format!(
        "Wood and plate may move against each other: together {}, half of it at each outer hole, \
         {}; {float}. What is left, {}, is {judged} than the {} that a fixing gives (common \
         practice, no source).",
        mm(movement.difference),
        mm(movement.at_outer_hole),
        mm(movement.past_float()),
        mm(movement.give)
    )
}

/// Which holes are slots, and where the fixings go in them.
fn slotted(job: &Job, movement: &Movement) -> Vec<String> {
    let runs = match movement.way {
        GrainWay::Vertical => "level",
        GrainWay::Horizontal => "upright",
    };
    let holes = job.mount.holes.iter().enumerate();
    let slots: Vec<usize> =
        holes.filter(|(_, hole)| hole.slot.is_some()).map(|(index, _)| index).collect();
    vec![
        format!(
            "Slots take it: {}, {runs}, across the grain; {} left tight. A fixing stands in the \
             middle of its slot where the wood is halfway between dry and damp; where it is bone \
             dry from a heated room, at the end nearer to the tight holes; fresh from a damp one, \
             at the other end.",
            numbered(&slots),
            numbered(&movement.tight)
        ),
        "No bit centres itself in a slot: mark its place with an awl. Drive fixings in slots only so \
         far that the plate can just slide under their heads."
            .to_owned(),
    ]
}
