//! `[mount]`: how the plate is fixed.

use serde_json::json;

use super::value::Entry;
use super::{Notes, Table, Within, fixing, holes};
use crate::layout::schema::{self, Schema};
use crate::layout::{FixingAsked, HolesAsked, Mount, Shape};

/// From the plate's edges to the hole centres where nothing is said, mm. Common
/// practice, no source.
pub(super) const INSET: f64 = 8.0;
/// Insets, mm: nearer the edge no drill finds metal on both sides.
const INSETS: Within = Within::new(0.5, 1000.0);

const HOLES_EXAMPLE: &str = "holes = \"four corners\", \"two sides\", \"top and bottom\" or { \
                             points = [[\"8 mm\", \"8 mm\"]] }";
pub(super) const SCREW_EXAMPLE: &str =
    "fixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }";
/// For plates whose corners and sides are where their points are.
const POINTS_EXAMPLE: &str = "holes = { points = [[\"8 mm\", \"8 mm\"]] }";

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let through = ["wood screw", "pin"];
    let kind = |kinds: &[&str]| {
        json!({ "required": ["fixing"], "properties": { "fixing": { "required": ["kind"],
            "properties": { "kind": { "enum": kinds } } } } })
    };
    let holes =
        json!({ "required": ["holes"], "not": { "properties": { "holes": { "const": "none" } } } });
    let no_holes = json!({ "not": holes });
    // Where `holes` is left out the plate's shape may bring them.
    let none_said =
        json!({ "required": ["holes"], "properties": { "holes": { "const": "none" } } });
    let no_fixing = json!({ "not": { "required": ["fixing"] } });
    let by_points =
        json!({ "required": ["holes"], "properties": { "holes": { "type": "object" } } });
    schema::table(
        "How the plate is fixed.",
        [
            ("fixing", fixing::keys()),
            ("holes", holes::keys()),
            (
                "inset",
                schema::length(
                    "From the plate's edges to the hole centres; where it is left out 8 mm, in \
                     handles the middle.",
                    INSETS,
                ),
            ),
        ],
    )
    .also(json!({ "if": kind(&through), "then": { "not": none_said } }))
    .also(json!({ "if": kind(&["tape"]), "then": no_holes }))
    .also(json!({ "if": no_fixing, "then": no_holes }))
    .also(json!({ "if": { "anyOf": [none_said, by_points, no_fixing, kind(&["tape"])] },
        "then": { "properties": { "inset": false } } }))
}

/// The mount; `shape` is the plate's, where it could be read.
pub(super) fn mount(
    mut table: Table<'_>,
    notes: &mut Notes<'_>,
    shape: Option<&Shape>,
) -> Option<Mount> {
    let fixing_entry = table.take(notes, "fixing");
    let fixing = fixing_entry.as_ref().map(|entry| fixing::fixing(entry, notes));
    let holes_entry = table.take(notes, "holes");
    let mut holes = holes_entry.as_ref().map(|entry| holes::holes(entry, notes));
    let inset_entry = table.take(notes, "inset");
    let inset = inset_entry.as_ref().map(|entry| notes.length(entry, INSETS));

    let through =
        matches!(fixing, Some(Some(FixingAsked::WoodScrew { .. } | FixingAsked::Pin { .. })));
    if holes.is_none() && through && matches!(shape, Some(Shape::Ansate(_))) {
        holes = Some(Some(HolesAsked::InTheHandles(None)));
    }
    if let (Some(Some(asked)), Some(at), Some(shape)) = (&holes, &holes_entry, shape) {
        suited(asked, shape, at, notes);
    }
    let place = table.span.clone();
    match (&fixing, &holes, &holes_entry) {
        (Some(Some(FixingAsked::Tape)), Some(Some(holes)), Some(at))
            if *holes != HolesAsked::None =>
        {
            let message = "tape needs no holes, and holes are asked for";
            notes.wrong(&at.span, message, "leave `holes` out, or name a screw or pin");
        }
        (Some(Some(_)), given, at) if through => {
            let example = match shape {
                Some(Shape::Points(_)) => POINTS_EXAMPLE,
                _ => HOLES_EXAMPLE,
            };
            match (given, at) {
                // A shape that is itself a mistake may bring its own holes.
                (None, _) if shape.is_some() => {
                    let message = "the fixing goes through holes, and none are asked for";
                    notes.missing("mount.holes", &place, message, format!("write {example}"));
                }
                (Some(Some(HolesAsked::None)), Some(at)) => {
                    let message = "the fixing goes through holes, and there are to be none";
                    notes.wrong(&at.span, message, format!("write {example}"));
                }
                _ => {}
            }
        }
        (None, Some(Some(holes)), Some(at)) if *holes != HolesAsked::None => {
            notes.missing(
                "mount.fixing",
                &at.span,
                "holes are asked for, but nothing that goes through them",
                format!("write {SCREW_EXAMPLE}"),
            );
        }
        _ => {}
    }
    if let Some(at) = &inset_entry {
        let why = match &holes {
            Some(Some(HolesAsked::Points(_))) => Some("the points say where the holes are"),
            None if shape.is_none() => None,
            None | Some(Some(HolesAsked::None)) => Some("there are no holes to set in"),
            _ => None,
        };
        if let Some(why) = why {
            notes.wrong(&at.span, format!("`inset` has no meaning here: {why}"), "leave it out");
        }
    }
    table.finish(notes);
    let (holes, inset) = (
        holes.unwrap_or(Some(HolesAsked::None))?,
        inset.map_or(Some(None), |given| given.map(Some))?,
    );
    let holes = match holes {
        HolesAsked::InTheHandles(_) => HolesAsked::InTheHandles(inset),
        other => other,
    };
    Some(Mount { fixing: fixing.unwrap_or(None), holes, inset: inset.unwrap_or(INSET) })
}

/// Tells a set of holes that the plate's shape has no place for.
fn suited(holes: &HolesAsked, shape: &Shape, at: &Entry<'_>, notes: &mut Notes<'_>) {
    let by_word = !matches!(holes, HolesAsked::None | HolesAsked::Points(_));
    if matches!(shape, Shape::Points(_)) && by_word {
        let message = "a plate by points has its holes by points too";
        notes.wrong(&at.span, message, format!("write {POINTS_EXAMPLE}"));
    } else if matches!(holes, HolesAsked::InTheHandles(_)) && !matches!(shape, Shape::Ansate(_)) {
        let message = "only an ansate plate has handles";
        notes.wrong(&at.span, message, "write shape = \"ansate\" in [plate], or name other holes");
    }
}
