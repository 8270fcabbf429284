//! `grain`, `cut` and `moisture` of `[face]`.

use serde_json::json;

use super::value::Entry;
use super::{Notes, Table};
use crate::layout::schema::{self, Schema};
use crate::layout::{FaceMaterial, Grain, GrainWay, Named, Sawn};
use crate::units::digits::trimmed;

/// Moisture contents, per cent, between which the coefficients of movement hold: Wood
/// Handbook (USDA FPL-GTR-190), chapter 13, equation 13-2.
const LEAST_MOISTURE: f64 = 6.0;
const MOST_MOISTURE: f64 = 14.0;

const MOISTURE_EXAMPLE: &str = "moisture = [\"6 %\", \"12 %\"], driest and dampest";

/// 6 % to 14 % as a pattern.
const CONTENT: &str = "^\\s*0*(?:(?:[6-9]|1[0-3])(?:[.,][0-9]*)?|14(?:[.,]0*)?)\\s*%\\s*$";

/// The three keys.
pub(super) fn keys() -> [(&'static str, Schema); 3] {
    let moisture = "Driest and dampest that the wood will live through, 6 % to 14 %; where it is \
                    left out 6 % and 10 %.";
    let content = schema::text("Moisture content.", CONTENT, 1000);
    [
        ("grain", schema::word::<GrainWay>("The way the grain runs; wood moves across it.")),
        (
            "cut",
            schema::word::<Sawn>("How the board was cut from the log.").usual(Sawn::Flat.word()),
        ),
        ("moisture", schema::list(moisture, 2, 2, content)),
    ]
}

/// What the schema is told of the three together: the other two need `grain`.
/// Only solid wood has one.
pub(super) fn conditions() -> serde_json::Value {
    let woods = FaceMaterial::ALL.iter().filter(|(_, material)| material.is_solid_wood());
    let woods: Vec<&str> = woods.map(|(word, _)| *word).collect();
    json!({ "dependentRequired": { "cut": ["grain"], "moisture": ["grain"] },
        "if": { "required": ["grain"] },
        "then": { "properties": { "material": { "enum": woods } } } })
}

/// The grain; `None` where nothing is said of it. `material` is the face's, where it
/// could be read.
pub(super) fn grain(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    material: Option<FaceMaterial>,
) -> Option<Grain> {
    let way_entry = table.take(notes, "grain");
    let cut_entry = table.take(notes, "cut");
    let moisture_entry = table.take(notes, "moisture");
    if way_entry.is_none() {
        for entry in [&cut_entry, &moisture_entry].into_iter().flatten() {
            let message = format!("`{}` says nothing without the grain", entry.path);
            notes.wrong(&entry.span, message, "write grain = \"vertical\" or \"horizontal\" too");
        }
    }
    if let (Some(material), Some(entry)) = (material, &way_entry)
        && !material.is_solid_wood()
    {
        let message = format!("`{}` has no meaning here: only solid wood has one", entry.path);
        let help = format!("leave it out: {} does not move across a grain", material.word());
        notes.wrong(&entry.span, message, help);
        return None;
    }
    let way = way_entry.and_then(|entry| notes.word::<GrainWay>(&entry));
    let sawn = cut_entry.and_then(|entry| notes.word::<Sawn>(&entry));
    let moisture = moisture_entry.and_then(|entry| moisture(&entry, notes));
    Some(Grain { way: way?, sawn: sawn.unwrap_or(Sawn::Flat), moisture })
}

/// Driest and dampest, per cent.
fn moisture(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<(f64, f64)> {
    let items = notes.list(entry, MOISTURE_EXAMPLE)?;
    let [dry, damp] = items.as_slice() else {
        let message = format!("`{}` has {} entries", entry.path, items.len());
        notes.wrong(&entry.span, message, format!("write {MOISTURE_EXAMPLE}"));
        return None;
    };
    let (dry, damp) = (content(dry, notes), content(damp, notes));
    let (dry, damp) = (dry?, damp?);
    if dry >= damp {
        let message = format!("`{}` does not go from dry to damp", entry.path);
        notes.wrong(&entry.span, message, format!("write {MOISTURE_EXAMPLE}"));
        return None;
    }
    Some((dry, damp))
}

/// One moisture content, per cent.
fn content(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<f64> {
    // To a millionth, so that 7 % is 7.
    let percent = (notes.percent(entry)? * 1e8).round() / 1e6;
    if (LEAST_MOISTURE..=MOST_MOISTURE).contains(&percent) {
        return Some(percent);
    }
    let message = format!("`{}` cannot be `{} %`", entry.path, trimmed(percent, 3));
    let help = "it may be 6 % to 14 %, where the coefficients of the Wood Handbook hold (equation \
                13-2); what lies outside needs its equation 13-3, which is not offered here";
    notes.wrong(&entry.span, message, help);
    None
}
