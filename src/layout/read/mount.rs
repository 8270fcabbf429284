//! `[mount]`: how the plate is fixed.

use std::ops::Range;

use serde_json::json;

use super::holes::{self, POINTS_EXAMPLE};
use super::value::Entry;
use super::{Notes, Table, Within, fixing};
use crate::layout::schema::{self, Schema};
use crate::layout::{Face, FixingAsked, HolesAsked, Mount, Named, Shape, USUAL_INSET_MM};

/// Insets, mm: nearer the edge no drill finds metal on both sides.
const INSETS: Within = Within::new(0.5, 1000.0);
/// How far a fixing may be said to give way, mm.
const GIVE: Within = Within::new(0.0, 5.0);

const HOLES_EXAMPLE: &str = "holes = \"four corners\", \"two sides\", \"top and bottom\" or { \
                             points = [[\"8 mm\", \"8 mm\"]] }";
pub(super) const SCREW_EXAMPLE: &str =
    "fixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }";

/// Whether holes are drawn out to slots.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slots {
    None,
    AcrossTheGrain,
}

impl Named for Slots {
    const ALL: &'static [(&'static str, Self)] =
        &[("none", Self::None), ("across the grain", Self::AcrossTheGrain)];
}

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let tape = json!({ "required": ["fixing"], "properties": { "fixing": { "required": ["kind"],
        "properties": { "kind": { "const": "tape" } } } } });
    let through = json!({ "required": ["fixing"], "not": tape });
    let said = |words: &[&str]| json!({ "required": ["holes"], "properties": { "holes": { "enum": words } } });
    let but = |words: &[&str]| json!({ "not": { "required": ["holes"], "not": said(words) } });
    // Where `holes` is left out the plate's shape may bring them.
    let none_said = said(&["none"]);
    let no_fixing = json!({ "not": { "required": ["fixing"] } });
    let placed = json!({ "required": ["holes"], "properties": { "holes": { "type": "object",
        "anyOf": [{ "required": ["points"] }, { "required": ["circle"] }] } } });
    let inset = "From the plate's edges to the hole centres; where it is left out 8 mm, in \
                 handles the middle, with auto by size.";
    let slots = "Whether holes are drawn out, so that the wood behind the plate can move.";
    let give = "How far a fixing gives way before the wood's movement matters.";
    schema::table(
        "How the plate is fixed.",
        [
            ("fixing", fixing::keys()),
            ("holes", holes::keys()),
            ("inset", schema::length(inset, INSETS)),
            ("slots", schema::word::<Slots>(slots).usual(Slots::None.word())),
            ("give", schema::length(give, GIVE)),
        ],
    )
    .also(json!({ "if": through, "then": { "not": none_said } }))
    .also(json!({ "if": tape, "then": but(&["none", "auto"]) }))
    .also(json!({ "if": no_fixing, "then": but(&["none"]) }))
    .also(json!({ "if": { "anyOf": [none_said, placed, no_fixing, tape] },
        "then": { "properties": { "inset": false } } }))
    .also(json!({ "if": { "anyOf": [none_said, no_fixing, tape] },
        "then": { "properties": { "slots": { "const": "none" }, "give": false } } }))
}

/// What the schema of the whole file is told: slots need the grain of a face.
pub(super) fn conditions() -> serde_json::Value {
    let slots = json!({ "required": ["mount"], "properties": { "mount": { "required": ["slots"],
        "properties": { "slots": { "const": Slots::AcrossTheGrain.word() } } } } });
    json!({ "if": slots, "then": { "required": ["face"],
        "properties": { "face": { "required": ["grain"] } } } })
}

/// The mount of a layout that says nothing of it.
pub(super) fn unsaid() -> Mount {
    Mount { fixing: None, holes: HolesAsked::None, inset: USUAL_INSET_MM, slots: false, give: None }
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
    let slots_entry = table.take(notes, "slots");
    let slots = slots_entry.as_ref().and_then(|entry| notes.word::<Slots>(entry));
    let give_entry = table.take(notes, "give");
    let give = give_entry.as_ref().and_then(|entry| notes.length(entry, GIVE));

    let through = matches!(&fixing, Some(Some(asked)) if asked.is_driven());
    if holes.is_none() && through && matches!(shape, Some(Shape::Ansate(_))) {
        holes = Some(Some(HolesAsked::InTheHandles(None)));
    }
    if let (Some(Some(asked)), Some(at), Some(shape)) = (&holes, &holes_entry, shape) {
        holes::suited(asked, shape, at, notes);
    }
    let told = Told { fixing: fixing.as_ref(), holes: holes.as_ref(), at: holes_entry.as_ref() };
    told.together(&table.span, notes, shape);
    if let Some(at) = &inset_entry
        && let Some(why) = told.no_inset(shape)
    {
        notes.wrong(&at.span, format!("`inset` has no meaning here: {why}"), "leave it out");
    }
    let slots = slots == Some(Slots::AcrossTheGrain);
    let movable = [("slots", slots_entry.filter(|_| slots)), ("give", give_entry)];
    let no_holes = told.no_holes(shape);
    if no_holes {
        for (name, entry) in movable.iter().filter_map(|(name, at)| Some((name, at.as_ref()?))) {
            let message = format!("`{name}` has no meaning here: there are no holes");
            notes.wrong(&entry.span, message, "leave it out");
        }
    }
    table.finish(notes);
    let (holes, inset) = (
        holes.unwrap_or(Some(HolesAsked::None))?,
        inset.map_or(Some(None), |given| given.map(Some))?,
    );
    let holes = match holes {
        HolesAsked::InTheHandles(_) => HolesAsked::InTheHandles(inset),
        HolesAsked::Auto(_) => HolesAsked::Auto(inset),
        other => other,
    };
    let inset = inset.unwrap_or(USUAL_INSET_MM);
    // Slots of no holes were told above, and need no grain.
    let slots = slots && !no_holes;
    Some(Mount { fixing: fixing.unwrap_or(None), holes, inset, slots, give })
}

/// Fixing and holes as far as they were told and could be read.
struct Told<'a, 't> {
    fixing: Option<&'a Option<FixingAsked>>,
    holes: Option<&'a Option<HolesAsked>>,
    at: Option<&'a Entry<'t>>,
}

impl Told<'_, '_> {
    /// Tells what of fixing and holes does not go together.
    fn together(&self, place: &Range<usize>, notes: &mut Notes<'_>, shape: Option<&Shape>) {
        match (self.fixing, self.holes, self.at) {
            (Some(Some(FixingAsked::Tape { .. })), Some(Some(holes)), Some(at))
                if !matches!(holes, HolesAsked::None | HolesAsked::Auto(_)) =>
            {
                let message = "tape needs no holes, and holes are asked for";
                notes.wrong(&at.span, message, "leave `holes` out, or name a screw or pin");
            }
            (Some(Some(FixingAsked::Tape { .. })), ..) => {}
            // A shape that is itself a mistake may bring its own holes.
            (Some(Some(_)), None, _) if shape.is_some() => {
                let message = "the fixing goes through holes, and none are asked for";
                notes.missing("mount.holes", place, message, format!("write {}", example(shape)));
            }
            (Some(Some(_)), Some(Some(HolesAsked::None)), Some(at)) => {
                let message = "the fixing goes through holes, and there are to be none";
                notes.wrong(&at.span, message, format!("write {}", example(shape)));
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
    }

    /// Whether there are certainly no holes.
    fn no_holes(&self, shape: Option<&Shape>) -> bool {
        match (self.holes, self.fixing) {
            (Some(Some(HolesAsked::None)), _)
            | (Some(Some(HolesAsked::Auto(_))), Some(Some(FixingAsked::Tape { .. }))) => true,
            (None, _) => shape.is_some(),
            _ => false,
        }
    }

    /// Why an inset says nothing, where it does not.
    fn no_inset(&self, shape: Option<&Shape>) -> Option<&'static str> {
        match self.holes {
            Some(Some(HolesAsked::Points(_))) => Some("the points say where the holes are"),
            Some(Some(HolesAsked::Circle { .. })) => Some("the circle says where the holes are"),
            _ if self.no_holes(shape) => Some("there are no holes to set in"),
            _ => None,
        }
    }
}

/// What to write for holes on a plate of this shape.
fn example(shape: Option<&Shape>) -> &'static str {
    match shape {
        Some(Shape::Points(_)) => POINTS_EXAMPLE,
        _ => HOLES_EXAMPLE,
    }
}

/// Tells slots that no grain gives a direction to; `told` says whether the file has a
/// face at all, which may be a mistake by itself.
pub(super) fn slots_on(mount: &Mount, face: Option<&Face>, told: bool, notes: &mut Notes<'_>) {
    let grain = face.is_some_and(|face| face.grain.is_some());
    let unread = told && face.is_none();
    if let Some(at) = notes.keys.exact("mount.slots").filter(|_| mount.slots && !grain && !unread) {
        let message = "slots run across the grain of the face, and it is not told";
        let help = "write grain = \"vertical\" or \"horizontal\" in [face]";
        notes.missing("face.grain", &at, message, help);
    }
}
