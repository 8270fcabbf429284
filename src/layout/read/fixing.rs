//! `fixing` of `[mount]`: what holds the plate.

use toml::de::DeValue;

use super::mount::SCREW_EXAMPLE;
use super::value::Entry;
use super::{Notes, Table, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{FixingAsked, Head, Named};

/// Lengths of wood screws and pins, mm.
const LENGTH: Within = Within::new(2.0, 150.0);
/// Shanks and heads of pins, mm.
const SHANK: Within = Within::new(0.3, 6.0);
const HEAD: Within = Within::new(0.5, 20.0);
/// Greatest gauge of wood screw in the table.
const GREATEST_GAUGE: u32 = 10;
/// Kinds of fixing; each has keys of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    WoodScrew,
    Pin,
    Tape,
}

impl Named for Kind {
    const ALL: &'static [(&'static str, Self)] =
        &[("wood screw", Self::WoodScrew), ("pin", Self::Pin), ("tape", Self::Tape)];
}

pub(super) fn keys() -> Schema {
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

pub(super) fn fixing(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<FixingAsked> {
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
