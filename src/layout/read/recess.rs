//! `recess` of `[face]`: what the plate is let into.

use serde_json::json;

use super::face::{by_edges, distances, needs_size, one_edge_each_way};
use super::plate::SIDE;
use super::value::Entry;
use super::{Notes, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{FaceEdge, Place, Recess, RecessShape};

/// Depth, mm: from a coat of lacquer to a niche.
const DEPTH: Within = Within::new(0.1, 100.0);
/// Wanted all round between plate and recess, mm, and where nothing is said: 0.3 to
/// 0.5 mm, common practice, no source.
const GAP: Within = Within::new(0.0, 10.0);
const USUAL_GAP: f64 = 0.4;
/// Least corner radius, mm: that of the finest cutter.
const LEAST_CORNER: f64 = 0.1;

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let place = one_edge_each_way(schema::table(
        "Where it is on the face; centred where nothing is said.",
        distances("recess"),
    ));
    schema::table(
        "A recess that the plate is let into; the plate stands in its middle.",
        [
            ("size", schema::size("Width x height of an upright recess.", SIDE)),
            (
                "corner",
                schema::length(
                    "Radius of its corners; square where it is left out.",
                    Within::new(LEAST_CORNER, SIDE.most / 2.0),
                ),
            ),
            ("diameter", schema::length("Diameter of a round recess.", SIDE)),
            ("depth", schema::length("Depth.", DEPTH).needed()),
            (
                "gap",
                schema::length("Wanted all round the plate, so that it goes in.", GAP)
                    .usual_mm(USUAL_GAP),
            ),
            ("place", place),
        ],
    )
    .also(json!({ "oneOf": [{ "required": ["size"] }, { "required": ["diameter"] }] }))
    .also(json!({ "if": { "required": ["diameter"] },
        "then": { "properties": { "corner": false } } }))
}

/// The recess. `edge` is the face's, `None` where it is a mistake.
pub(super) fn recess(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    edge: Option<&Option<FaceEdge>>,
) -> Option<Recess> {
    let mut table = notes.table(entry)?;
    for key in ["size", "corner", "diameter"] {
        let _ = table.take(notes, key);
    }
    let why = "give `size` of an upright recess, or `diameter` of a round one";
    table.contradiction(notes, "size", "diameter", why);
    table.contradiction(notes, "corner", "diameter", "a round recess has no corners");
    let outline = if table.has("diameter") {
        let diameter = table.length(notes, "diameter", SIDE);
        diameter.map(|diameter| (diameter, diameter, RecessShape::Circle))
    } else {
        let size = table.need(notes, "size", "size = \"122 x 82 mm\", or diameter = \"60 mm\"");
        let size = size.and_then(|entry| notes.size(&entry, SIDE));
        let most = size.map_or(SIDE.most, |(width, height)| width.min(height)) / 2.0;
        let corner = table.length(notes, "corner", Within::new(LEAST_CORNER, most));
        let shape = RecessShape::Box { corner: corner.unwrap_or(0.0) };
        size.map(|(width, height)| (width, height, shape))
    };
    let depth = table.need(notes, "depth", "depth = \"1 mm\"");
    let depth = depth.and_then(|entry| notes.length(&entry, DEPTH));
    let gap = table.length(notes, "gap", GAP).unwrap_or(USUAL_GAP);
    let (mut across, mut along) = (Place::Centred, Place::Centred);
    if let Some(mut place) = table.table(notes, "place") {
        (across, along) = by_edges(&mut place, notes);
        place.finish(notes);
    }
    table.finish(notes);
    if let Some(None) = edge {
        needs_size(entry, notes);
        return None;
    }
    let ((width, height, shape), depth) = (outline?, depth?);
    Some(Recess { width, height, shape, depth, gap, across, along })
}
