//! `[face]`: the trophy face that the plate goes on.

use serde_json::json;

use super::{Notes, Table, Within, grain};
use crate::layout::schema::{self, Schema};
use crate::layout::{Face, FaceMaterial, Place};

/// Sides of a face, mm: from a medal's stand to an honour board.
const SIDE: Within = Within::new(5.0, 5000.0);
/// Wood behind the plate, mm.
const THICKNESS: Within = Within::new(1.0, 500.0);
/// From an edge of the face to one of the plate's, mm.
const FROM_EDGE: Within = Within::new(0.0, 5000.0);

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let side = |name: &str, from: &str| {
        schema::length(&format!("From the face's {name} edge to the plate's {from}."), FROM_EDGE)
    };
    let keys = [
        ("from_left", side("left", "left")),
        ("from_right", side("right", "right")),
        ("from_top", side("top", "top")),
        ("from_bottom", side("bottom", "bottom")),
    ];
    let apart = |one, other| json!({ "not": { "required": [one, other] } });
    let place = schema::table("Where the plate goes on it; centred where nothing is said.", keys)
        .also(apart("from_left", "from_right"))
        .also(apart("from_top", "from_bottom"));
    schema::table(
        "The trophy face that the plate goes on.",
        [
            ("size", schema::size("Width x height of the face.", SIDE).needed()),
            ("material", schema::word::<FaceMaterial>("The wood it is made of.").needed()),
            ("thickness", schema::length("Wood behind the plate.", THICKNESS).needed()),
            ("place", place),
        ]
        .into_iter()
        .chain(grain::keys()),
    )
    .also(grain::conditions())
}

pub(super) fn face(mut table: Table<'_>, notes: &mut Notes<'_>) -> Option<Face> {
    let size = table.need(notes, "size", "size = \"150 x 110 mm\"");
    let size = size.and_then(|entry| notes.size(&entry, SIDE));
    let material = table.need(notes, "material", "material = \"hardwood\", or the wood's name");
    let material = material.and_then(|entry| notes.word(&entry));
    let thickness = table.need(notes, "thickness", "thickness = \"19 mm\", the wood behind it");
    let thickness = thickness.and_then(|entry| notes.length(&entry, THICKNESS));
    let grain = grain::grain(&mut table, notes);
    let (mut across, mut along) = (Place::Centred, Place::Centred);
    if let Some(mut place) = table.table(notes, "place") {
        across = axis(&mut place, notes, "from_left", "from_right");
        along = axis(&mut place, notes, "from_top", "from_bottom");
        place.finish(notes);
    }
    table.finish(notes);
    let ((width, height), material, thickness) = (size?, material?, thickness?);
    Some(Face { width, height, material, thickness, grain, across, along })
}

/// The place along one axis: from one edge, from the other, or on the centre line.
fn axis(
    place: &mut Table<'_>,
    notes: &mut Notes<'_>,
    start: &'static str,
    end: &'static str,
) -> Place {
    place.contradiction(
        notes,
        start,
        end,
        "give one of the two: the plate's own size gives the other",
    );
    let from_start = place.length(notes, start, FROM_EDGE);
    let from_end = place.length(notes, end, FROM_EDGE);
    match (from_start, from_end) {
        (Some(distance), _) => Place::FromStart(distance),
        (None, Some(distance)) => Place::FromEnd(distance),
        (None, None) => Place::Centred,
    }
}
