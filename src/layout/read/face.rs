//! `[face]`: the trophy face that the plate goes on.

use std::ops::Range;

use serde_json::json;
use toml::de::DeValue;

use super::face_edge;
use super::value::Entry;
use super::{Notes, Table, Within, grain, old_holes, polygon, recess};
use crate::layout::schema::{self, Schema};
use crate::layout::{
    Face, FaceEdge, FaceMark, FaceMaterial, FaceShape, FixingAsked, Mount, OnPlate, Place,
    PlateSpot, Trim,
};

/// What is behind the plate, mm.
const THICKNESS: Within = Within::new(1.0, 500.0);
/// From an edge of the face to one of the plate's, mm.
const FROM_EDGE: Within = Within::new(0.0, 5000.0);
/// Width of a moulding or trim, mm; 0 on a side without one.
const TRIM: Within = Within::new(0.0, 1000.0);
/// From the trim to the plate, mm, and where nothing is said: a breadth that the eye
/// takes for meant and that lets a cloth in. Common practice, no source.
const GAP: Within = Within::new(0.0, 100.0);
const USUAL_GAP: f64 = 1.0;

const MARK_EXAMPLE: &str = "mark = \"centre\", or the point of the plate that is set on it: mark = \
                            [\"60 mm\", \"10 mm\"]";
const MARK_AT_EXAMPLE: &str =
    "mark_at = [\"75 mm\", \"55 mm\"]: from the face's left, from its top";

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let mut keys = face_edge::keys();
    keys.extend([
        ("material", schema::word::<FaceMaterial>("What it is made of.").needed()),
        (
            "thickness",
            schema::length(
                "Thickness of what is behind the plate; needed where the fixing goes into it.",
                THICKNESS,
            ),
        ),
        ("trim", trim_keys()),
        ("recess", recess::keys()),
        ("place", place_keys()),
    ]);
    keys.extend(old_holes::keys());
    keys.extend(grain::keys());
    let mut all = face_edge::conditions();
    all.push(grain::conditions());
    all.into_iter()
        .fold(schema::table("The trophy face that the plate goes on.", keys), Schema::also)
}

/// Keys of a place by distances from the edges; `what` goes there.
pub(super) fn distances(what: &str) -> [(&'static str, Schema); 4] {
    let side = |name: &str| {
        let about = format!(
            "From the face's {name} edge to the {what}'s; the edges are those of \
                             the box round the face."
        );
        schema::length(&about, FROM_EDGE)
    };
    [
        ("from_left", side("left")),
        ("from_right", side("right")),
        ("from_top", side("top")),
        ("from_bottom", side("bottom")),
    ]
}

/// That a place does not count from two opposite edges.
pub(super) fn one_edge_each_way(place: Schema) -> Schema {
    let apart = |one, other| json!({ "not": { "required": [one, other] } });
    place.also(apart("from_left", "from_right")).also(apart("from_top", "from_bottom"))
}

fn place_keys() -> Schema {
    let coordinate = || schema::length("A distance.", FROM_EDGE);
    let mark = schema::one_of(
        "A mark that the face bears already: which point of the plate is set on it.",
        [
            schema::word::<PlateSpot>("A spot of the plate."),
            schema::list("From the plate's left, from its top.", 2, 2, coordinate()),
        ],
    );
    let at = "Where the mark is, from the face's left and top: only where the face's size is told, \
              for the checks.";
    let keys = distances("plate")
        .into_iter()
        .chain([("mark", mark), ("mark_at", schema::list(at, 2, 2, coordinate()))]);
    let about = "Where the plate goes on it; centred where nothing is said.";
    let by_edges = ["from_left", "from_right", "from_top", "from_bottom"]
        .map(|key| json!({ "required": [key] }));
    one_edge_each_way(schema::table(about, keys))
        .also(json!({ "dependentRequired": { "mark_at": ["mark"] } }))
        .also(json!({ "not": { "required": ["mark"], "anyOf": by_edges } }))
}

fn trim_keys() -> Schema {
    let side = |name: &str| schema::length(&format!("Its width along the {name}."), TRIM);
    let some_side = ["left", "top", "right", "bottom"].map(|key| json!({ "required": [key] }));
    schema::table(
        "Moulding or trim that the plate stays clear of, from the face's edge inwards.",
        [
            ("width", schema::length("Its width all round.", TRIM)),
            ("left", side("left")),
            ("top", side("top")),
            ("right", side("right")),
            ("bottom", side("bottom")),
            ("gap", schema::length("From the trim to the plate.", GAP).usual_mm(USUAL_GAP)),
        ],
    )
    .also(json!({ "if": { "required": ["width"] },
        "then": { "properties": { "left": false, "top": false, "right": false, "bottom": false } },
        "else": { "anyOf": some_side } }))
}

/// The face, and where its table stands.
pub(super) fn face(mut table: Table<'_>, notes: &mut Notes<'_>) -> Option<(Face, Range<usize>)> {
    let span = table.span.clone();
    // A mark needs no measuring, so the face needs no size either.
    face_edge::asked(&mut table, notes);
    for key in ["material", "thickness"] {
        let _ = table.take(notes, key);
    }
    let marked = table.take(notes, "place").is_some_and(|entry| match entry.value {
        DeValue::Table(place) => place.contains_key("mark"),
        _ => false,
    });
    let edge = face_edge::edge(&mut table, notes, marked);
    let size = edge.as_ref().and_then(Option::as_ref);
    let material = table.need(notes, "material", "material = \"hardwood\", or the wood's name");
    let material = material.and_then(|entry| notes.word(&entry));
    let thickness = table.length(notes, "thickness", THICKNESS);
    let grain = grain::grain(&mut table, notes, material);
    let trim = table.take(notes, "trim");
    let trim = trim.and_then(|entry| trim_of(&entry, notes, edge.as_ref()));
    let recess = table.take(notes, "recess");
    let recess = recess.and_then(|entry| recess::recess(&entry, notes, edge.as_ref()));
    let (mut across, mut along, mut mark) = (Place::Centred, Place::Centred, None);
    table.contradiction(
        notes,
        "recess",
        "place",
        "the plate stands in the middle of the recess: write `place` inside `recess`, or leave it \
         out",
    );
    if let Some(mut place) = table.table(notes, "place") {
        mark = mark_of(&mut place, notes, edge.as_ref());
        (across, along) = by_edges(&mut place, notes);
        place.finish(notes);
    }
    let old = old_holes::old_holes(&mut table, notes, size, marked);
    table.finish(notes);
    let (edge, material) = (edge?, material?);
    let face = Face { edge, material, thickness, grain, trim, recess, across, along, mark, old };
    Some((face, span))
}

/// Tells a face without a thickness where something is driven into it.
pub(super) fn thickness_told(
    face: &Face,
    span: &Range<usize>,
    mount: Option<&Mount>,
    notes: &mut Notes<'_>,
) {
    let fixing = mount.and_then(|mount| mount.fixing.as_ref());
    // A thickness that is itself a mistake is told already.
    if face.thickness.is_none()
        && fixing.is_some_and(FixingAsked::is_driven)
        && notes.keys.exact("face.thickness").is_none()
    {
        notes.missing(
            "face.thickness",
            span,
            "`thickness` is missing in [face]",
            "write thickness = \"19 mm\", the wood behind it",
        );
    }
}

/// The place by distances from the edges, across and along.
pub(super) fn by_edges(place: &mut Table<'_>, notes: &mut Notes<'_>) -> (Place, Place) {
    let across = axis(place, notes, "from_left", "from_right");
    (across, axis(place, notes, "from_top", "from_bottom"))
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

/// The mark that the plate is set by. `edge` is the face's, `None` where it is a mistake.
fn mark_of(
    place: &mut Table<'_>,
    notes: &mut Notes<'_>,
    edge: Option<&Option<FaceEdge>>,
) -> Option<FaceMark> {
    let entry = place.take(notes, "mark");
    for key in ["from_left", "from_right", "from_top", "from_bottom"] {
        place.contradiction(notes, "mark", key, "the mark says where the plate goes");
    }
    let at_entry = place.take(notes, "mark_at");
    let at = at_entry.as_ref().map(|entry| polygon::point(entry, notes, FROM_EDGE));
    let Some(entry) = entry else {
        if let Some(at) = at_entry {
            let message = "`mark_at` says where a mark is, and the plate is set by none";
            notes.wrong(&at.span, message, format!("write {MARK_EXAMPLE}, or leave it out"));
        }
        return None;
    };
    let on_plate = match entry.value {
        DeValue::Array(_) => {
            let (x, y) = polygon::point(&entry, notes, FROM_EDGE)?;
            OnPlate::Point(x, y)
        }
        _ => OnPlate::Spot(notes.word(&entry)?),
    };
    match (edge, &at_entry, at) {
        (Some(None), Some(entry), _) => {
            let message = "`mark_at` has no meaning where the face has no size";
            notes.wrong(&entry.span, message, "leave it out: the mark itself is the datum");
            None
        }
        (Some(Some(_)), None, _) => {
            let message = "the face has a size, and where its mark is on it is not told";
            let help = format!("write {MARK_AT_EXAMPLE}; or leave the face's size out");
            notes.missing("face.place.mark_at", &entry.span, message, help);
            None
        }
        (Some(Some(edge)), Some(entry), Some(Some((x, y)))) => {
            if x > edge.width || y > edge.height {
                let message = "the mark stands off the face";
                notes.wrong(&entry.span, message, format!("write {MARK_AT_EXAMPLE}"));
            }
            Some(FaceMark { on_plate, at: Some((x, y)) })
        }
        (Some(None), None, _) => Some(FaceMark { on_plate, at: None }),
        _ => None,
    }
}

/// Tells that a key needs the face's size, which is left out for a mark.
pub(super) fn needs_size(entry: &Entry<'_>, notes: &mut Notes<'_>) {
    let message =
        format!("`{}` counts from the face's edges, and its size is not told", entry.path);
    notes.wrong(&entry.span, message, "write the face's size too, such as size = \"150 x 110 mm\"");
}

/// Moulding or trim along the edge. `edge` is the face's, `None` where it is a mistake.
fn trim_of(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    edge: Option<&Option<FaceEdge>>,
) -> Option<Trim> {
    let mut table = notes.table(entry)?;
    for side in ["left", "top", "right", "bottom"] {
        let why = "give the width all round, or those of the sides";
        table.contradiction(notes, "width", side, why);
    }
    let all = table.length(notes, "width", TRIM);
    let sides = ["left", "top", "right", "bottom"].map(|side| table.take(notes, side));
    let gap = table.length(notes, "gap", GAP).unwrap_or(USUAL_GAP);
    let told = table.has("width") || sides.iter().any(Option::is_some);
    if !told {
        let message = "`trim` has no width";
        let help = "write trim = { width = \"12 mm\" }, or { top = \"12 mm\", bottom = \"20 mm\" }";
        notes.missing("face.trim.width", &table.span, message, help);
    }
    if let (Some(side), Some(Some(edge))) = (sides.iter().flatten().next(), edge)
        && matches!(edge.shape, FaceShape::Circle | FaceShape::Points(_))
    {
        let message = format!("`{}` has no meaning: this face has no such side", side.path);
        notes.wrong(&side.span, message, "write trim = { width = \"12 mm\" }, alike all round");
    }
    let sides = sides.map(|side| side.map(|entry| notes.length(&entry, TRIM)));
    table.finish(notes);
    if let Some(None) = edge {
        needs_size(entry, notes);
        return None;
    }
    let width = |side: Option<Option<f64>>| side.flatten().or(all).unwrap_or(0.0);
    let [left, top, right, bottom] = sides.map(width);
    Some(Trim { left, top, right, bottom, gap })
}
