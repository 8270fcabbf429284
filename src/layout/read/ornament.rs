//! A `[[line]]` that holds a divider or an emblem instead of words, and `[corners]`.

use std::sync::Arc;

use serde_json::json;
use toml::de::DeValue;

use super::line::{CAP_HEIGHT, SPACE, USUAL_SPACE};
use super::value::Entry;
use super::{Companions, Notes, Table, Within};
use crate::layout::diagnostic::quoted;
use crate::layout::schema::{self, Schema};
use crate::layout::{
    Align, Breaks, CornerOrnament, Corners, Divider, DividerWidth, Emblem, Hyphens,
    LetteringChoice, Line, Named, Ornament, OwnEmblem, Setting, Shape, svg,
};
use crate::units::digits::trimmed;

/// Widths of dividers and sizes of corner ornaments, mm.
const SIZE: Within = Within::new(1.0, 1000.0);
/// Thickness of lines, mm: as thin as any graver's, as thick as a bar.
const WEIGHT: Within = Within::new(0.05, 20.0);
/// Thickness where none is said, mm. Common practice, no source: a line that is seen at
/// arm's length and cut by a usual tip in one pass.
const USUAL_WEIGHT: f64 = 0.5;
/// Share of the field's width that a divider takes where none is said, per cent. Common
/// practice, no source: less than most rows, so that it parts them and does not frame them.
const USUAL_SHARE: u8 = 40;
/// From the bevel's inner edge to corner ornaments, and from them to lettering, mm.
const APART: Within = Within::new(0.0, 200.0);
/// The same where nothing is said, mm. Common practice, no source.
const USUAL_INSET: f64 = 3.0;
const USUAL_GAP: f64 = 1.0;

/// Keys of a line with a divider, and of one with an emblem.
const DIVIDER_KEYS: [&str; 5] = ["divider", "width", "weight", "space", "align"];
const EMBLEM_KEYS: [&str; 7] =
    ["emblem", "height", "size", "at_least", "at_most", "space", "align"];

/// What editors and other programs are told of the keys of such a line.
pub(super) fn line_keys() -> Vec<(&'static str, Schema)> {
    let own = schema::table(
        "A drawing of your own (SVG): filled shapes and lines in one colour.",
        [
            ("file", schema::note("Path of the file, from the layout's folder.").needed()),
            (
                "permission",
                schema::note("Who allowed it to be engraved, when and how; printed on the proof."),
            ),
        ],
    );
    let emblem = [schema::word::<Emblem>("One of our own."), own];
    let width = [
        schema::length("So wide.", SIZE),
        schema::percent("A share of the field's width, 1 % to 100 %."),
    ];
    vec![
        ("divider", schema::word::<Divider>("What stands in the line instead of words.")),
        ("width", schema::one_of("Width of the divider.", width).usual(format!("{USUAL_SHARE} %"))),
        (
            "weight",
            schema::length("Thickness of the divider's line.", WEIGHT).usual_mm(USUAL_WEIGHT),
        ),
        ("emblem", schema::one_of("What stands in the line instead of words.", emblem)),
        ("height", schema::length("Stated height of the emblem.", CAP_HEIGHT)),
    ]
}

/// Which keys go with which, in JSON Schema's own words.
pub(super) fn line_conditions(line: Schema) -> Schema {
    let only = |key: &str, names: &[&str]| json!({ "if": { "required": [key] }, "then": { "propertyNames": { "enum": names } } });
    line.also(json!({ "oneOf": [{ "required": ["text"] }, { "required": ["divider"] },
        { "required": ["emblem"] }] }))
        .also(json!({ "if": { "required": ["text"] },
            "then": { "properties": { "width": false, "weight": false, "height": false } } }))
        .also(only("divider", &DIVIDER_KEYS))
        .also(only("emblem", &EMBLEM_KEYS))
        .also(json!({ "if": { "required": ["height"] },
            "then": { "properties": { "size": false, "at_least": false, "at_most": false } } }))
}

/// What editors and other programs are told of `[corners]`.
pub(super) fn corners_keys() -> Schema {
    schema::table(
        "Ornaments in the four corners of the plate.",
        [
            ("ornament", schema::word::<CornerOrnament>("Which.").needed()),
            ("size", schema::length("Side of the square that each one fills.", SIZE).needed()),
            (
                "inset",
                schema::length("From the bevel's inner edge to it.", APART).usual_mm(USUAL_INSET),
            ),
            ("weight", schema::length("Thickness of its lines.", WEIGHT).usual_mm(USUAL_WEIGHT)),
            ("gap", schema::length("White from it to lettering.", APART).usual_mm(USUAL_GAP)),
        ],
    )
    .also(json!({ "if": { "properties": { "ornament": { "const": CornerOrnament::Leaf.word() } } },
        "then": { "properties": { "weight": false } } }))
}

/// A line that holds a divider or an emblem; it names no lettering.
pub(super) fn line(
    mut table: Table<'_>,
    notes: &mut Notes<'_>,
    companions: Companions<'_>,
    fixed: bool,
) -> Option<Line> {
    let why = "a line holds words, or a divider, or an emblem: give each a [[line]] of its own";
    for (first, second) in [("text", "divider"), ("text", "emblem"), ("divider", "emblem")] {
        table.contradiction(notes, first, second, why);
    }
    let divider = table.take(notes, "divider");
    let emblem = table.take(notes, "emblem");
    // Both known, so that no other mistake is told of a second one.
    let _ = table.take(notes, "text");
    let (ornament, heights) = match (divider, emblem) {
        (Some(entry), _) => {
            let divider = divider_line(&mut table, &entry, notes);
            let height = divider.as_ref().map(|(_, height)| *height);
            (divider.map(|(divider, _)| divider), (1.0, [height, None, None]))
        }
        (None, Some(entry)) => {
            let emblem = emblem_of(&entry, notes, companions);
            (emblem, emblem_heights(&mut table, notes, fixed))
        }
        (None, None) => return None,
    };
    let space = table.number(notes, "space", SPACE).unwrap_or(USUAL_SPACE);
    let align = table.word(notes, "align").unwrap_or(Align::Centre);
    table.finish(notes);
    let (size, [cap_height, at_least, at_most]) = heights;
    Some(Line {
        text: String::new(),
        ornament: Some(ornament?),
        size,
        cap_height,
        at_least,
        at_most,
        lettering: LetteringChoice::shipped(""),
        features: Vec::new(),
        setting: Setting::default(),
        align,
        space,
        leading: None,
        breaks: Breaks::Never,
        hyphens: Hyphens::Never,
        keep: Vec::new(),
    })
}

/// In a line of words these keys are known, so that a slip in one of them is told, and
/// what only a drawing has is told as that.
pub(super) fn words_have_none(table: &mut Table<'_>, notes: &mut Notes<'_>) {
    let _ = (table.take(notes, "divider"), table.take(notes, "emblem"));
    for (key, of) in [("width", "a divider"), ("weight", "a divider"), ("height", "an emblem")] {
        if let Some(entry) = table.take(notes, key) {
            let message = format!("`{key}` is a key of {of}, and this line holds words");
            let help = "leave it out; the height of capitals is `cap_height`";
            notes.wrong(&entry.span, message, help);
        }
    }
}

/// The divider, and how high it is.
fn divider_line(
    table: &mut Table<'_>,
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
) -> Option<(Ornament, f64)> {
    let kind: Option<Divider> = notes.word(entry);
    let width = table.take(notes, "width");
    let width = match width {
        None => Some(DividerWidth::Share(f64::from(USUAL_SHARE) / 100.0)),
        Some(entry) => match entry.value {
            DeValue::String(text) if text.trim_end().ends_with('%') => {
                notes.percent(&entry).map(DividerWidth::Share)
            }
            _ => notes.length(&entry, SIZE).map(DividerWidth::Stated),
        },
    };
    let weight = table.length(notes, "weight", WEIGHT).unwrap_or(USUAL_WEIGHT);
    let (kind, width) = (kind?, width?);
    let height = kind.weights() * weight;
    if let DividerWidth::Stated(width) = width
        && width < kind.least_weights() * weight
    {
        let message = "the divider is too short for its weight";
        let least = trimmed(kind.least_weights(), 0);
        notes.wrong(&entry.span, message, format!("it must be {least} times as wide, or more"));
    }
    Some((Ornament::Divider { kind, width, weight }, height))
}

/// One of our own emblems by its word, or a file in braces.
fn emblem_of(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    companions: Companions<'_>,
) -> Option<Ornament> {
    let DeValue::Table(_) = entry.value else {
        return notes.word(entry).map(Ornament::Emblem);
    };
    let mut table = notes.table(entry)?;
    let file = table.need(notes, "file", "file = \"crest.svg\"");
    let permission = table.note(notes, "permission");
    table.finish(notes);
    let file = file?;
    let path = notes.note(&file)?;
    let bytes = match companions(&path) {
        Ok(bytes) => bytes,
        Err(why) => {
            let message = format!("the drawing {} cannot be read", quoted(&path));
            notes.wrong(&file.span, message, why);
            return None;
        }
    };
    match svg::shape(&path, bytes) {
        Ok(outline) => {
            Some(Ornament::Own(OwnEmblem { path, permission, outline: Arc::new(outline) }))
        }
        Err(mistake) => {
            notes.elsewhere(*mistake);
            None
        }
    }
}

/// Relative height; stated, least and greatest height, mm.
fn emblem_heights(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    fixed: bool,
) -> (f64, [Option<f64>; 3]) {
    let why = "a stated height is floor, ceiling and size in one: leave the other out";
    for other in ["size", "at_least", "at_most"] {
        table.contradiction(notes, "height", other, why);
    }
    if fixed && !table.has("height") {
        notes.missing(
            &format!("{}.height", table.path),
            &table.span,
            format!("line {} has no height", table.path.trim_start_matches("line.")),
            "fit.mode = \"fixed\" needs height = \"12 mm\" in every line with an emblem",
        );
    }
    let height = table.length(notes, "height", CAP_HEIGHT);
    let size = table.number(notes, "size", super::line::SIZE).unwrap_or(1.0);
    let [at_least, at_most] = super::line::bounds(table, notes);
    (size, [height, at_least, at_most])
}

/// `[corners]`, on a plate that has some.
pub(super) fn corners(
    mut table: Table<'_>,
    notes: &mut Notes<'_>,
    shape: Option<&Shape>,
) -> Option<Corners> {
    let cornerless = match shape {
        Some(Shape::Oval) => Some("an oval has no corners"),
        Some(Shape::Circle) => Some("a circle has no corners"),
        Some(Shape::Arch { .. }) => Some("an arch has no corners at its head"),
        Some(Shape::Points(_)) => Some("the corners of a plate by points are not alike"),
        _ => None,
    };
    if let Some(message) = cornerless {
        let help = "leave [corners] out, or put an emblem in a line of the inscription";
        notes.wrong(&table.span, message, help);
    }
    let ornament = table.need(notes, "ornament", "ornament = \"leaf\"");
    let ornament = ornament.and_then(|entry| notes.word(&entry));
    let size = table.need(notes, "size", "size = \"8 mm\", the side of the square it fills");
    let size = size.and_then(|entry| notes.length(&entry, SIZE));
    let inset = table.length(notes, "inset", APART).unwrap_or(USUAL_INSET);
    let weight = table.take(notes, "weight");
    if let (Some(entry), Some(CornerOrnament::Leaf)) = (&weight, ornament) {
        let message = "a leaf has no lines of one weight";
        notes.wrong(&entry.span, message, "leave `weight` out: it grows with its size");
    }
    let weight = weight.map_or(Some(USUAL_WEIGHT), |entry| {
        let weight = notes.length(&entry, WEIGHT)?;
        if size.is_some_and(|size| weight * LINES > size) {
            let message = "the lines fill the whole ornament";
            notes.wrong(&entry.span, message, "make them thinner, or the ornament larger");
        }
        Some(weight)
    });
    let gap = table.length(notes, "gap", APART).unwrap_or(USUAL_GAP);
    table.finish(notes);
    Some(Corners { ornament: ornament?, size: size?, inset, weight: weight?, gap })
}

/// Weights of line that a corner ornament has room for, at least.
const LINES: f64 = 6.0;
