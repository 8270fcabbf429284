//! `accept`: findings accepted by name.

use super::value::Entry;
use super::{Notes, Within};
use crate::layout::Acceptance;
use crate::layout::schema::{self, Schema};

/// Values that a finding may have measured, in whatever unit.
const MEASURED: Within = Within::new(-1e6, 1e6);

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let keys = [
        ("code", schema::note("The finding, as the report calls it.").needed()),
        ("where", schema::note("The place that the finding names.").needed().example("line.2")),
        ("measured", schema::number("What was measured, in the finding's unit.", MEASURED)),
        ("reason", schema::note("Why; it is printed on the proof.").needed()),
    ];
    let one = schema::table("A finding accepted by name.", keys);
    schema::any_list("Findings accepted by name, each with a reason that is printed.", one)
}

pub(super) fn accepted(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Vec<Acceptance> {
    let example = "accept = [{ code = \"…\", where = \"line.2\", reason = \"…\" }]";
    let mut all: Vec<Acceptance> = Vec::new();
    for item in notes.list(entry, example).unwrap_or_default() {
        let Some(acceptance) = one(&item, notes) else { continue };
        if all.iter().any(|a| a.code == acceptance.code && a.place == acceptance.place) {
            notes.wrong(&item.span, "this finding is accepted twice", "keep one of the two");
        }
        all.push(acceptance);
    }
    all
}

fn one(item: &Entry<'_>, notes: &mut Notes<'_>) -> Option<Acceptance> {
    notes.keys.insert(item.path.clone(), item.span.clone());
    let mut table = notes.table(item)?;
    let code = table.need(notes, "code", "code = \"…\", as the finding is called in the report");
    let code = code.and_then(|entry| notes.note(&entry));
    let place = table.need(notes, "where", "where = \"…\", the place that the finding names");
    let place = place.and_then(|entry| notes.note(&entry));
    let measured = table.number(notes, "measured", MEASURED);
    let reason = table.need(notes, "reason", "reason = \"…\": it is printed on the proof");
    let reason = reason.and_then(|entry| notes.note(&entry));
    table.finish(notes);
    Some(Acceptance { code: code?, place: place?, measured, reason: reason? })
}
