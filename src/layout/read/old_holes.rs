//! `old_holes` of `[face]`: what is already in it.

use serde_json::json;

use super::value::Entry;
use super::{Notes, Table, Within, polygon};
use crate::layout::schema::{self, Schema};
use crate::layout::{FaceEdge, OldHole, OldHoles};

/// Where an old hole may be, mm; to both sides where it counts from a mark.
const FROM_EDGE: Within = Within::new(0.0, 5000.0);
const FROM_MARK: Within = Within::new(-5000.0, 5000.0);
/// Diameters, mm: from a panel pin to a bung.
const DIAMETER: Within = Within::new(0.3, 50.0);
/// How near an old hole is to a new one for both to be one hole, mm, and where nothing
/// is said: what a pilot drill still follows. Common practice, no source.
const SAME: Within = Within::new(0.0, 2.0);
const USUAL_SAME: f64 = 0.3;
/// Most old holes of one face.
const MOST: usize = 100;

const EXAMPLE: &str = "old_holes = [{ at = [\"20 mm\", \"30 mm\"], diameter = \"3 mm\" }]";

/// The two keys.
pub(super) fn keys() -> [(&'static str, Schema); 2] {
    let at = "Its centre: from the face's left and top edges; where the plate is set by a mark, to \
              the right of the mark and below it, with a minus to the left or above.";
    let hole = schema::table(
        "A hole that is already there.",
        [
            (
                "at",
                schema::list(at, 2, 2, schema::signed_length("A distance.", FROM_MARK)).needed(),
            ),
            ("diameter", schema::length("Its diameter at the surface.", DIAMETER).needed()),
            (
                "plugged",
                schema::truth("Whether it is filled with a glued plug of wood.").usual(false),
            ),
        ],
    );
    let same = "How near an old hole may be to a new one, centre to centre, for both to be one.";
    [
        (
            "old_holes",
            schema::list("Holes that are already in the face.", 1, MOST, hole).example(json!([
                { "at": ["20 mm", "30 mm"], "diameter": "3 mm" }])),
        ),
        ("same_hole", schema::length(same, SAME).usual_mm(USUAL_SAME)),
    ]
}

/// The old holes; `marked` where the plate is set by a mark.
pub(super) fn old_holes(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    edge: Option<&FaceEdge>,
    marked: bool,
) -> Option<OldHoles> {
    let entry = table.take(notes, "old_holes");
    let same_entry = table.take(notes, "same_hole");
    let same = same_entry.as_ref().map_or(Some(USUAL_SAME), |entry| notes.length(entry, SAME));
    let Some(entry) = entry else {
        if let Some(same) = same_entry {
            let message = "`same_hole` is about old holes, and there are none";
            notes.wrong(&same.span, message, format!("write {EXAMPLE}, or leave it out"));
        }
        return None;
    };
    let items = notes.list(&entry, EXAMPLE)?;
    if items.is_empty() || items.len() > MOST {
        let message = format!("{} old holes are told", items.len());
        notes.wrong(&entry.span, message, format!("give 1 to {MOST}, or leave `old_holes` out"));
        return None;
    }
    let read: Vec<_> = items.iter().map(|item| old_hole(item, notes, edge, marked)).collect();
    let holes = read.into_iter().collect::<Option<Vec<_>>>()?;
    Some(OldHoles { holes, same: same? })
}

fn old_hole(
    item: &Entry<'_>,
    notes: &mut Notes<'_>,
    edge: Option<&FaceEdge>,
    marked: bool,
) -> Option<OldHole> {
    notes.keys.insert(item.path.clone(), item.span.clone());
    let mut table = notes.table(item)?;
    let at_entry =
        table.need(notes, "at", "at = [\"20 mm\", \"30 mm\"]: from the left, from the top");
    let within = if marked { FROM_MARK } else { FROM_EDGE };
    let at = at_entry.as_ref().and_then(|entry| polygon::point(entry, notes, within));
    let diameter = table.need(notes, "diameter", "diameter = \"3 mm\", at the surface");
    let diameter = diameter.and_then(|entry| notes.length(&entry, DIAMETER));
    let plugged = match table.take(notes, "plugged") {
        Some(entry) => notes.truth(&entry),
        None => Some(false),
    };
    table.finish(notes);
    if let (Some(entry), Some((x, y)), Some(edge), false) = (&at_entry, at, edge, marked)
        && (x > edge.width || y > edge.height)
    {
        let message = "this hole is told to be off the face";
        notes.wrong(&entry.span, message, "measure it from the face's left and top edges");
    }
    let ((x, y), diameter, plugged) = (at?, diameter?, plugged?);
    Some(OldHole { x, y, diameter, plugged })
}
