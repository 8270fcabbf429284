//! `[mount]`: how the plate is fixed.

use serde_json::json;
use toml::de::DeValue;

use super::polygon::point;
use super::value::Entry;
use super::{Notes, Table, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{FixingAsked, Head, HolesAsked, Mount, Named, Shape};

/// From the plate's edges to the hole centres where nothing is said, mm. Common
/// practice, no source.
pub(super) const INSET: f64 = 8.0;
/// Insets, mm: nearer the edge no drill finds metal on both sides.
const INSETS: Within = Within::new(0.5, 1000.0);

/// Lengths of wood screws and pins, mm.
const LENGTH: Within = Within::new(2.0, 150.0);
/// Shanks and heads of pins, mm.
const SHANK: Within = Within::new(0.3, 6.0);
const HEAD: Within = Within::new(0.5, 20.0);
/// Greatest gauge of wood screw in the table.
const GREATEST_GAUGE: u32 = 10;
/// Where a hole may be asked for, mm; whether it lies on the plate is a check.
const POINT: Within = Within::new(0.0, 2000.0);
/// Most holes of one plate.
const MOST_HOLES: usize = 100;

const HOLES_EXAMPLE: &str = "holes = \"four corners\", \"two sides\", \"top and bottom\" or { \
                             points = [[\"8 mm\", \"8 mm\"]] }";
const SCREW_EXAMPLE: &str =
    "fixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }";
/// For plates whose corners and sides are where their points are.
const POINTS_EXAMPLE: &str = "holes = { points = [[\"8 mm\", \"8 mm\"]] }";

/// Kinds of fixing; each has keys of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    WoodScrew,
    Pin,
    Tape,
}

impl Named for Kind {
    const ALL: &'static [(&'static str, Self)] =
        &[("wood screw", Self::WoodScrew), ("pin", Self::Pin), ("tape", Self::Tape)];
}

/// Hole sets that a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Set {
    None,
    FourCorners,
    TwoSides,
    TopAndBottom,
    InTheHandles,
}

impl Named for Set {
    const ALL: &'static [(&'static str, Self)] = &[
        ("none", Self::None),
        ("four corners", Self::FourCorners),
        ("two sides", Self::TwoSides),
        ("top and bottom", Self::TopAndBottom),
        ("in the handles", Self::InTheHandles),
    ];
}

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
            ("fixing", fixing_keys()),
            ("holes", hole_keys()),
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

fn fixing_keys() -> Schema {
    let gauge = schema::whole("Number that screws are sold by.", 0, GREATEST_GAUGE).needed();
    let head = schema::word::<Head>("Shape of its head.").needed();
    let screw_length = "Length as screws are sold.";
    let screw = schema::table(
        "A wood screw.",
        [
            ("kind", schema::constant("Kind of fixing.", Kind::WoodScrew.word()).needed()),
            ("gauge", gauge),
            ("head", head),
            ("length", schema::length(screw_length, LENGTH).needed().example("3/8 in")),
        ],
    );
    let pin = schema::table(
        "An escutcheon pin.",
        [
            ("kind", schema::constant("Kind of fixing.", Kind::Pin.word()).needed()),
            ("shank", schema::length("The pin's thickness.", SHANK).needed()),
            ("head", schema::length("Across its head, more than the shank.", HEAD).needed()),
            ("length", schema::length("Length under the head.", LENGTH).needed()),
        ],
    );
    let tape = schema::table(
        "Tape or pads: no holes.",
        [("kind", schema::constant("Kind of fixing.", Kind::Tape.word()).needed())],
    );
    schema::one_of("What holds the plate.", [screw, pin, tape])
}

fn hole_keys() -> Schema {
    let coordinate = schema::length("From the plate's left, or from its top.", POINT);
    let point = schema::list("From the left, from the top.", 2, 2, coordinate);
    let points = schema::list("A hole at each of these points.", 1, MOST_HOLES, point);
    let example = json!([["8 mm", "8 mm"], ["112 mm", "8 mm"]]);
    schema::one_of(
        "Where the holes are; where it is left out none, but in the handles of an ansate plate \
         that is screwed or pinned.",
        [
            schema::word::<Set>("A set of holes, inset alike from the edges."),
            schema::table("Holes at points.", [("points", points.needed().example(example))]),
        ],
    )
}

/// The mount; `shape` is the plate's, where it could be read.
pub(super) fn mount(
    mut table: Table<'_>,
    notes: &mut Notes<'_>,
    shape: Option<&Shape>,
) -> Option<Mount> {
    let fixing_entry = table.take(notes, "fixing");
    let fixing = fixing_entry.as_ref().map(|entry| fixing(entry, notes));
    let holes_entry = table.take(notes, "holes");
    let mut holes = holes_entry.as_ref().map(|entry| holes(entry, notes));
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

fn fixing(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    if let DeValue::String(word) = entry.value {
        notes.of_kind(entry, "a table", format!("write {}", example(word)));
        return None;
    }
    let mut table = notes.table(entry)?;
    let kind = table.need(notes, "kind", "kind = \"wood screw\", \"pin\" or \"tape\"");
    let kind = notes.word(&kind?)?;
    let fixing = match kind {
        Kind::WoodScrew => wood_screw(&mut table, notes),
        Kind::Pin => pin(&mut table, notes),
        Kind::Tape => Some(FixingAsked::Tape),
    };
    table.finish(notes);
    fixing
}

/// What to write for a kind of fixing that was named in a word: that kind, where the word
/// says it, else the commonest.
fn example(word: &str) -> &'static str {
    let said = |kind: &str| kind.contains(word.trim_end_matches('s')) && word.len() > 2;
    match Kind::ALL.iter().find(|(kind, _)| said(kind)).map(|(_, kind)| *kind) {
        Some(Kind::Pin) => {
            "fixing = { kind = \"pin\", shank = \"1.3 mm\", head = \"3 mm\", length = \"13 mm\" }"
        }
        Some(Kind::Tape) => "fixing = { kind = \"tape\" }",
        Some(Kind::WoodScrew) | None => SCREW_EXAMPLE,
    }
}

fn wood_screw(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let gauge = table.need(notes, "gauge", "gauge = 2, the number that screws are sold by");
    let gauge = gauge.and_then(|entry| notes.whole(&entry, 0, GREATEST_GAUGE));
    let head = table.need(notes, "head", "head = \"flat\", \"oval\" or \"round\"");
    let head = head.and_then(|entry| notes.word::<Head>(&entry));
    let length = table.need(notes, "length", "length = \"3/8 in\", as screws are sold");
    let length = length.and_then(|entry| notes.length(&entry, LENGTH));
    let gauge = u8::try_from(gauge?).ok()?;
    Some(FixingAsked::WoodScrew { gauge, head: head?, length: length? })
}

fn pin(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let shank = table.need(notes, "shank", "shank = \"1.2 mm\", the pin's thickness");
    let shank = shank.and_then(|entry| notes.length(&entry, SHANK));
    let head = table.need(notes, "head", "head = \"2.5 mm\", across its head");
    let head = head.and_then(|entry| Some((notes.length(&entry, HEAD)?, entry)));
    let length = table.need(notes, "length", "length = \"10 mm\", under the head");
    let length = length.and_then(|entry| notes.length(&entry, LENGTH));
    let (shank, (head, at)) = (shank?, head?);
    if head <= shank {
        let message = "the pin's head is no wider than its shank";
        notes.wrong(&at.span, message, "give the diameter of the head, which holds the plate");
    }
    Some(FixingAsked::Pin { shank, head, length: length? })
}

fn holes(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<HolesAsked> {
    if !matches!(entry.value, DeValue::Table(_)) {
        return notes.word(entry).map(|set| match set {
            Set::None => HolesAsked::None,
            Set::FourCorners => HolesAsked::FourCorners,
            Set::TwoSides => HolesAsked::TwoSides,
            Set::TopAndBottom => HolesAsked::TopAndBottom,
            Set::InTheHandles => HolesAsked::InTheHandles(None),
        });
    }
    let mut table = notes.table(entry)?;
    let example = "points = [[\"8 mm\", \"8 mm\"], [\"112 mm\", \"8 mm\"]]";
    let points = table.need(notes, "points", example);
    table.finish(notes);
    let points = points?;
    let items = notes.list(&points, example)?;
    if items.is_empty() || items.len() > MOST_HOLES {
        let message = format!("{} holes are asked for", items.len());
        notes.wrong(&points.span, message, format!("give 1 to {MOST_HOLES} points"));
        return None;
    }
    let read: Vec<_> = items.iter().map(|item| point(item, notes, POINT)).collect();
    read.into_iter().collect::<Option<Vec<_>>>().map(HolesAsked::Points)
}
