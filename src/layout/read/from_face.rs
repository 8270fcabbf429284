//! `size = "from face"` and `reveal` of `[plate]`.

use serde_json::{Value, json};
use toml::de::DeValue;

use super::plate::SIDE;
use super::{Notes, Table, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{Face, FromFace};
use crate::units::digits::trimmed;

/// What `size` says then.
const WORDS: &str = "from face";
/// From the plate to the face's edge or trim, mm.
const REVEAL: Within = Within::new(0.0, 1000.0);

const REVEAL_EXAMPLE: &str = "reveal = \"10 mm\", from the plate to the face's edge or trim";

/// The size key.
pub(super) fn size_keys() -> Schema {
    let about = "Width x height over all, or \"from face\": the largest plate in whole millimetres \
                 (or eighths of an inch) for which the face has room.";
    schema::one_of(
        about,
        [
            schema::size("Width x height.", SIDE).example("120 x 80 mm"),
            schema::constant("From the face.", WORDS),
        ],
    )
}

/// The key that only such a plate has.
pub(super) fn reveal_keys() -> Schema {
    schema::length(
        "From the plate to the face's edge or trim all round, where the size is from the face.",
        REVEAL,
    )
}

/// What the schema is told of the two together.
pub(super) fn conditions() -> Value {
    let so = json!({ "required": ["size"], "properties": { "size": { "const": WORDS } } });
    json!({ "if": so, "else": { "properties": { "reveal": false } } })
}

/// The face that a plate goes on, as far as it is known when the plate is read.
#[derive(Debug, Clone, Copy)]
pub(super) enum FaceTold<'f> {
    /// There is no table for it.
    None,
    /// Its table has a mistake.
    Wrong,
    /// This one.
    Told(&'f Face),
}

/// A size that is to come from the face: the sides of the room, and what is asked;
/// `None` where a mistake is noted.
pub(super) type Asked = Option<((f64, f64), FromFace)>;

/// Whether the size is to come from the face; nothing where it is told otherwise.
pub(super) fn from_face(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    face: FaceTold<'_>,
) -> Option<Asked> {
    let size = table.take(notes, "size");
    let reveal_entry = table.take(notes, "reveal");
    let size = size.filter(|entry| match entry.value {
        DeValue::String(text) => text.trim() == WORDS,
        _ => false,
    });
    let Some(size) = size else {
        if let Some(reveal) = reveal_entry {
            let message = "`reveal` is for a plate whose size comes from the face";
            let help = "write size = \"from face\", or leave it out";
            notes.wrong(&reveal.span, message, help);
        }
        return None;
    };
    let face = match face {
        FaceTold::Told(face) => face,
        FaceTold::None => {
            let message = "the size is to come from the face, and none is told";
            let help = "write [face] and under it its size, or give the plate its own";
            notes.missing("face", &size.span, message, help);
            return Some(None);
        }
        FaceTold::Wrong => {
            if let Some(entry) = reveal_entry {
                let _ = notes.length(&entry, REVEAL);
            }
            return Some(None);
        }
    };
    let Some(edge) = &face.edge else {
        let message = "the size is to come from the face, and the face's size is not told";
        notes.wrong(&size.span, message, "write it in [face], or give the plate its own size");
        return Some(None);
    };
    let (reveal, width, height) = if let Some(recess) = &face.recess {
        if let Some(entry) = &reveal_entry {
            let message = "`reveal` has no meaning here: the plate fills the recess, less its gap";
            notes.wrong(&entry.span, message, "leave it out, or write `gap` in the recess");
            return Some(None);
        }
        (0.0, recess.width - 2.0 * recess.gap, recess.height - 2.0 * recess.gap)
    } else {
        let entry = reveal_entry.or_else(|| table.need(notes, "reveal", REVEAL_EXAMPLE));
        let Some(reveal) = entry.and_then(|entry| notes.length(&entry, REVEAL)) else {
            return Some(None);
        };
        let trim =
            face.trim.map_or((0.0, 0.0), |trim| (trim.left + trim.right, trim.top + trim.bottom));
        (reveal, edge.width - trim.0 - 2.0 * reveal, edge.height - trim.1 - 2.0 * reveal)
    };
    if width < SIDE.least || height < SIDE.least {
        let mm = |length: f64| trimmed(length.max(0.0), 2);
        let message = format!(
            "no plate goes on: {} x {} mm are left of the face, and a side is at least {} mm",
            mm(width),
            mm(height),
            mm(SIDE.least)
        );
        notes.wrong(&size.span, message, "make the reveal or the trim less");
        return Some(None);
    }
    let sides = (width.min(SIDE.most), height.min(SIDE.most));
    let from_face = FromFace { reveal, usual_margin: true, stands: None, none: false };
    Some(Some((sides, from_face)))
}
