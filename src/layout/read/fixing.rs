//! `fixing` of `[mount]`: what holds the plate.

use serde_json::json;
use toml::de::DeValue;

use super::mount::SCREW_EXAMPLE;
use super::value::Entry;
use super::{Notes, Table, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{FixingAsked, Head, HoleFit, Into, MachineHead, Named, ScrewMetal, Thread};

/// Lengths of screws, pins and studs, mm.
const LENGTH: Within = Within::new(2.0, 150.0);
/// Shanks of pins and studs, mm.
const SHANK: Within = Within::new(0.3, 6.0);
const STUD: Within = Within::new(1.0, 20.0);
/// Heads of pins, mm.
const HEAD: Within = Within::new(0.5, 20.0);
/// Cover caps, mm.
const CAP: Within = Within::new(2.0, 100.0);
/// Holes stated by the maker of an insert, stud or standoff, mm.
const BORE: Within = Within::new(1.0, 50.0);
/// How deep an insert sits, mm.
const DEPTH: Within = Within::new(1.0, 100.0);
/// From the face to a plate that stands off it, mm.
const OFF: Within = Within::new(1.0, 200.0);
/// Width of a strip of tape, mm.
const STRIP: Within = Within::new(2.0, 500.0);
const MOST_STRIPS: u32 = 100;
/// Greatest gauge of wood screw in the table.
const GREATEST_GAUGE: u32 = 10;

/// Kinds of fixing; each has keys of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    WoodScrew,
    MachineScrew,
    Pin,
    Stud,
    Standoff,
    Tape,
}

impl Named for Kind {
    const ALL: &'static [(&'static str, Self)] = &[
        ("wood screw", Self::WoodScrew),
        ("machine screw", Self::MachineScrew),
        ("pin", Self::Pin),
        ("rear stud", Self::Stud),
        ("standoff", Self::Standoff),
        ("tape", Self::Tape),
    ];
}

/// What a machine screw is turned into, before its figures are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Turned {
    Insert,
    Nut,
    Tapped,
}

impl Named for Turned {
    const ALL: &'static [(&'static str, Self)] =
        &[("insert", Self::Insert), ("nut", Self::Nut), ("tapped hole", Self::Tapped)];
}

fn of_kind(kind: Kind) -> Schema {
    schema::constant("Kind of fixing.", kind.word()).needed()
}

fn gauge_key() -> Schema {
    schema::whole("Number that screws are sold by.", 0, GREATEST_GAUGE).needed()
}

fn metal_key() -> Schema {
    schema::word::<ScrewMetal>(
        "What the screw is made of: it decides the pilot hole in hardwood. Where it is left \
         out the pilot is that of a steel screw.",
    )
}

pub(super) fn keys() -> Schema {
    let length = |about| schema::length(about, LENGTH).needed();
    let cap = "A cover cap over the head: its diameter, which then counts as the head.";
    let screw = schema::table(
        "A wood screw.",
        [
            ("kind", of_kind(Kind::WoodScrew)),
            ("gauge", gauge_key()),
            ("head", schema::word::<Head>("Shape of its head.").needed()),
            ("length", length("Length as screws are sold.").example("3/8 in")),
            ("metal", metal_key()),
            ("cap", schema::length(cap, CAP)),
        ],
    );
    let pin = schema::table(
        "An escutcheon pin.",
        [
            ("kind", of_kind(Kind::Pin)),
            ("shank", schema::length("The pin's thickness.", SHANK).needed()),
            ("head", schema::length("Across its head, more than the shank.", HEAD).needed()),
            ("length", length("Length under the head.")),
        ],
    );
    let bore = "Hole for the stud in the face; where it is left out 0.4 mm more than the stud.";
    let stud = schema::table(
        "Studs on the plate's back, glued into blind holes.",
        [
            ("kind", of_kind(Kind::Stud)),
            ("diameter", schema::length("The stud's thickness.", STUD).needed()),
            ("length", length("How far it stands out behind the plate.")),
            ("bore", schema::length(bore, BORE)),
        ],
    );
    let standoff = schema::table(
        "A barrel that holds the plate off the face, with a cap in front.",
        [
            ("kind", of_kind(Kind::Standoff)),
            ("cap", schema::length("Across its cap.", CAP).needed()),
            ("hole", schema::length("Hole through the plate, as its maker says.", BORE).needed()),
            ("off", schema::length("From the face to the plate's back.", OFF).needed()),
            ("gauge", gauge_key()),
            ("length", length("How far its wood screw reaches out of the barrel's foot.")),
            ("metal", metal_key()),
        ],
    );
    let strips = schema::whole("How many strips.", 1, MOST_STRIPS);
    let tape = schema::table(
        "Tape or pads: no holes.",
        [
            ("kind", of_kind(Kind::Tape)),
            ("width", schema::length("Width of a strip.", STRIP)),
            ("strips", strips),
        ],
    )
    .also(json!({ "dependentRequired": { "width": ["strips"], "strips": ["width"] } }));
    schema::one_of("What holds the plate.", [screw, machine_keys(), pin, stud, standoff, tape])
}

fn machine_keys() -> Schema {
    let insert = json!({ "properties": { "into": { "const": Turned::Insert.word() } } });
    let figures = json!({ "required": ["insert_bore", "insert_depth"] });
    let none = json!({ "properties": { "insert_bore": false, "insert_depth": false } });
    schema::table(
        "A machine screw.",
        [
            ("kind", of_kind(Kind::MachineScrew)),
            ("thread", schema::word::<Thread>("Its thread: ISO metric, coarse.").needed()),
            ("head", schema::word::<MachineHead>("Shape of its head; domes from M3 on.").needed()),
            ("length", schema::length("Length as screws are sold.", LENGTH).needed()),
            (
                "into",
                schema::word::<Turned>(
                    "What it is turned into: a threaded insert in the face, a nut behind it, or \
                     a thread cut into a metal face.",
                )
                .needed(),
            ),
            ("insert_bore", schema::length("Hole that the insert's maker asks for.", BORE)),
            ("insert_depth", schema::length("How deep the insert sits.", DEPTH)),
            (
                "fit",
                schema::word::<HoleFit>("How wide its hole is (ISO 273).")
                    .usual(HoleFit::Medium.word()),
            ),
        ],
    )
    .also(json!({ "if": insert, "then": figures, "else": none }))
}

pub(super) fn fixing(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    if let DeValue::String(word) = entry.value {
        notes.of_kind(entry, "a table", format!("write {}", example(word)));
        return None;
    }
    let mut table = notes.table(entry)?;
    let kinds = "kind = \"wood screw\", \"machine screw\", \"pin\", \"rear stud\", \"standoff\" or \
                 \"tape\"";
    let kind = table.need(notes, "kind", kinds);
    let kind = notes.word(&kind?)?;
    let fixing = match kind {
        Kind::WoodScrew => wood_screw(&mut table, notes),
        Kind::MachineScrew => machine_screw(&mut table, notes),
        Kind::Pin => pin(&mut table, notes),
        Kind::Stud => stud(&mut table, notes),
        Kind::Standoff => standoff(&mut table, notes),
        Kind::Tape => tape(&mut table, notes),
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
        Some(Kind::MachineScrew) => {
            "fixing = { kind = \"machine screw\", thread = \"M3\", head = \"pan\", length = \
             \"30 mm\", into = \"nut\" }"
        }
        Some(Kind::Stud) => {
            "fixing = { kind = \"rear stud\", diameter = \"3 mm\", length = \"12 mm\" }"
        }
        Some(Kind::Standoff) => {
            "fixing = { kind = \"standoff\", cap = \"16 mm\", hole = \"10 mm\", off = \"15 mm\", \
             gauge = 6, length = \"1 in\" }"
        }
        Some(Kind::Tape) => "fixing = { kind = \"tape\" }",
        Some(Kind::WoodScrew) | None => SCREW_EXAMPLE,
    }
}

/// A length that must be there.
fn length(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    name: &'static str,
    within: Within,
    example: &str,
) -> Option<f64> {
    let entry = table.need(notes, name, &format!("{name} = {example}"))?;
    notes.length(&entry, within)
}

/// A word that must be there.
fn word<T: Named>(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    name: &'static str,
    example: &str,
) -> Option<T> {
    let entry = table.need(notes, name, &format!("{name} = {example}"))?;
    notes.word(&entry)
}

fn gauge(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<u8> {
    let entry = table.need(notes, "gauge", "gauge = 2, the number that screws are sold by")?;
    u8::try_from(notes.whole(&entry, 0, GREATEST_GAUGE)?).ok()
}

fn wood_screw(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let gauge = gauge(table, notes);
    let head = word(table, notes, "head", "\"flat\", \"oval\" or \"round\"");
    let length = length(table, notes, "length", LENGTH, "\"3/8 in\", as screws are sold");
    let metal = table.word(notes, "metal");
    let cap = table.length(notes, "cap", CAP);
    Some(FixingAsked::WoodScrew { gauge: gauge?, head: head?, length: length?, metal, cap })
}

fn machine_screw(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let thread = word(table, notes, "thread", "\"M3\", \"M4\" or another of M1.6 to M6");
    let head = table.need(notes, "head", "head = \"countersunk\", \"pan\" or \"dome\"");
    let head = head.and_then(|entry| Some((notes.word(&entry)?, entry)));
    let screw = length(table, notes, "length", LENGTH, "\"12 mm\", as screws are sold");
    let turned = word(table, notes, "into", "\"insert\", \"nut\" or \"tapped hole\"");
    let into = turned.and_then(|turned| into(turned, table, notes));
    let fit = table.word(notes, "fit").unwrap_or(HoleFit::Medium);
    let (thread, (head, at)) = (thread?, head?);
    if head == MachineHead::Dome && thread < Thread::M3 || (head, thread) == DOME_GAP {
        let message = format!("there is no dome head of {} in ISO 7380-1", thread.word());
        let help = if thread < Thread::M3 {
            "the nearest is M3; or take a pan head, which all sizes have"
        } else {
            "the nearest are M3 and M4; or take a pan head, which all sizes have"
        };
        notes.wrong(&at.span, message, help);
        return None;
    }
    Some(FixingAsked::MachineScrew { thread, head, length: screw?, into: into?, fit })
}

/// The size from M3 on that ISO 7380-1 leaves out.
const DOME_GAP: (MachineHead, Thread) = (MachineHead::Dome, Thread::M3_5);

fn into(turned: Turned, table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<Into> {
    if turned == Turned::Insert {
        let bore =
            length(table, notes, "insert_bore", BORE, "\"4 mm\", as the insert's maker says");
        let depth = length(table, notes, "insert_depth", DEPTH, "\"6 mm\", how deep it sits");
        return Some(Into::Insert { bore: bore?, depth: depth? });
    }
    for name in ["insert_bore", "insert_depth"] {
        if let Some(entry) = table.take(notes, name) {
            let message = format!("`{name}` has no meaning here: no insert is asked for");
            notes.wrong(&entry.span, message, "leave it out, or write into = \"insert\"");
        }
    }
    Some(if turned == Turned::Nut { Into::Nut } else { Into::Tapped })
}

fn pin(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let shank = length(table, notes, "shank", SHANK, "\"1.2 mm\", the pin's thickness");
    let head = table.need(notes, "head", "head = \"2.5 mm\", across its head");
    let head = head.and_then(|entry| Some((notes.length(&entry, HEAD)?, entry)));
    let length = length(table, notes, "length", LENGTH, "\"10 mm\", under the head");
    let (shank, (head, at)) = (shank?, head?);
    if head <= shank {
        let message = "the pin's head is no wider than its shank";
        notes.wrong(&at.span, message, "give the diameter of the head, which holds the plate");
    }
    Some(FixingAsked::Pin { shank, head, length: length? })
}

fn stud(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let diameter = length(table, notes, "diameter", STUD, "\"3 mm\", the stud's thickness");
    let long = length(table, notes, "length", LENGTH, "\"12 mm\", behind the plate");
    let bore = table.take(notes, "bore");
    let bore = bore.and_then(|entry| Some((notes.length(&entry, BORE)?, entry)));
    if let (Some(diameter), Some((bore, at))) = (diameter, &bore)
        && *bore < diameter
    {
        let message = "the hole for the stud is narrower than the stud";
        notes.wrong(&at.span, message, "give it room for the glue, or leave it out");
    }
    let bore = bore.map(|(bore, _)| bore);
    Some(FixingAsked::Stud { diameter: diameter?, length: long?, bore })
}

fn standoff(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let cap = table.need(notes, "cap", "cap = \"16 mm\", across its cap");
    let cap = cap.and_then(|entry| Some((notes.length(&entry, CAP)?, entry)));
    let hole = length(table, notes, "hole", BORE, "\"10 mm\", as the standoff's maker says");
    let off = length(table, notes, "off", OFF, "\"15 mm\", from the face to the plate's back");
    let gauge = gauge(table, notes);
    let long = length(table, notes, "length", LENGTH, "\"1 in\", out of the barrel's foot");
    let metal = table.word(notes, "metal");
    let ((cap, at), hole) = (cap?, hole?);
    if cap <= hole {
        let message = "the standoff's cap is no wider than its hole";
        notes.wrong(&at.span, message, "give the diameter of the cap, which holds the plate");
    }
    Some(FixingAsked::Standoff { cap, hole, off: off?, gauge: gauge?, length: long?, metal })
}

fn tape(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
    let (wide, many) = (table.has("width"), table.has("strips"));
    let width = table.length(notes, "width", STRIP);
    let strips = table.whole(notes, "strips", 1, MOST_STRIPS);
    if wide != many {
        let name = if wide { "strips" } else { "width" };
        let example = if wide { "strips = 2" } else { "width = \"12 mm\"" };
        let other = if wide { "width" } else { "strips" };
        let key = format!("mount.fixing.{name}");
        let message =
            format!("`{name}` is missing in `mount.fixing`: `{other}` alone gives no area");
        let span = table.span.clone();
        notes.missing(&key, &span, message, format!("write {example}"));
    }
    let strips = if wide && many { Some((width?, strips?)) } else { None };
    Some(FixingAsked::Tape { strips })
}
