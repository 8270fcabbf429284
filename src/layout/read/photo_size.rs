//! Outline and size of a photograph: keys of `[[photo]]` that hang together.

use serde_json::json;
use toml::de::DeValue;

use super::value::Entry;
use super::{Notes, Table, Within};
use crate::layout::diagnostic::quoted;
use crate::layout::schema::{self, Schema};
use crate::layout::{Named, PhotoSize, Shape};

/// Widths and heights, mm: below, nobody is known by a face.
const SIDE: Within = Within::new(3.0, 1000.0);
/// Radius of rounded corners, mm.
const CORNER: Within = Within::new(0.1, 500.0);
/// Parts of a proportion: a strip of more than 10 to 1 is no photograph.
const MOST_PROPORTION: f64 = 10.0;
/// Cap heights, mm.
pub(super) const CAP_HEIGHT: Within = Within::new(0.1, 1000.0);

/// A size that is worked out.
const LARGEST: &str = "as large as the wording allows";

/// Words for an outline; the radius of its corners is a key of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outline {
    Rectangle,
    Rounded,
    Oval,
    Circle,
    Arch,
}

impl Named for Outline {
    const ALL: &'static [(&'static str, Self)] = &[
        ("rectangle", Self::Rectangle),
        ("rounded", Self::Rounded),
        ("oval", Self::Oval),
        ("circle", Self::Circle),
        ("arch", Self::Arch),
    ];
}

/// What editors and other programs are told of these keys.
pub(super) fn keys() -> Vec<(&'static str, Schema)> {
    let width = schema::one_of(
        "Its width.",
        [
            schema::length("So much.", SIDE),
            schema::constant("The largest that leaves every line its floor.", LARGEST),
        ],
    );
    let keeps = "Cap height that every line keeps beside a photograph as large as the wording \
                 allows; its floor where this is left out.";
    let proportion = "Width to height, such as 3:4; that of the picture where it is left out.";
    let part = "[0-9]+(?:[.,][0-9]+)?";
    vec![
        ("width", width),
        ("height", schema::length("Its height.", SIDE)),
        ("keeps", schema::length(keeps, CAP_HEIGHT)),
        ("shape", schema::word::<Outline>("Its outline.").usual("rectangle")),
        ("corner", schema::length("Radius of the corners of a rounded one.", CORNER)),
        ("proportion", schema::text(proportion, &format!("^\\s*{part}\\s*:\\s*{part}\\s*$"), 20)),
    ]
}

/// Which keys go with which, in JSON Schema's own words.
pub(super) fn conditions(photo: Schema) -> Schema {
    let shaped =
        |word: &str| json!({ "required": ["shape"], "properties": { "shape": { "const": word } } });
    photo
        .also(json!({ "anyOf": [{ "required": ["width"] }, { "required": ["height"] }] }))
        .also(json!({ "if": shaped("rounded"), "then": { "required": ["corner"] },
            "else": { "properties": { "corner": false } } }))
        .also(json!({ "if": shaped("circle"),
            "then": { "properties": { "height": false, "proportion": false } } }))
        .also(json!({ "if": { "required": ["width", "height"] },
            "then": { "properties": { "proportion": false } } }))
        .also(json!({ "if": { "required": ["width"], "properties": { "width": { "const": LARGEST } } },
            "then": { "properties": { "height": false } },
            "else": { "properties": { "keeps": false } } }))
}

/// The outline; a rounded one with its radius.
pub(super) fn shape(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<Shape> {
    let outline = table.take(notes, "shape");
    let outline = outline.map_or(Some(Outline::Rectangle), |entry| notes.word(&entry));
    let corner = table.take(notes, "corner");
    if let (Some(entry), Some(outline)) = (&corner, outline)
        && outline != Outline::Rounded
    {
        let message = "`corner` is for rounded photographs";
        notes.wrong(&entry.span, message, "write shape = \"rounded\", or leave it out");
        return None;
    }
    Some(match outline? {
        Outline::Rectangle => Shape::Rectangle,
        Outline::Oval => Shape::Oval,
        Outline::Circle => Shape::Circle,
        Outline::Arch => Shape::Arch { rise: None },
        Outline::Rounded => {
            let Some(entry) = corner else {
                let message = "`corner` is missing: a rounded photograph has a radius";
                notes.missing(
                    &format!("{}.corner", table.path),
                    &table.span,
                    message,
                    "write corner = \"3 mm\"",
                );
                return None;
            };
            Shape::Rounded { corner: notes.length(&entry, CORNER)? }
        }
    })
}

/// How large it is: by width, by height, by both, or worked out.
pub(super) fn size(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    shape: Option<&Shape>,
) -> Option<PhotoSize> {
    if shape == Some(&Shape::Circle) {
        for key in ["height", "proportion"] {
            if let Some(entry) = table.take(notes, key) {
                let message = format!("a circle has no `{key}`");
                notes.wrong(&entry.span, message, "tell its `width` alone");
            }
        }
    }
    let width = table.take(notes, "width");
    let height = table.take(notes, "height");
    let keeps = table.take(notes, "keeps");
    if width.is_some() && height.is_some() {
        let why = "width and height give the proportion: leave one of the three out";
        table.contradiction(notes, "width", "proportion", why);
    }
    let largest = width.as_ref().is_some_and(|entry| is_largest(entry));
    if let (Some(entry), false) = (&keeps, largest) {
        let message = "`keeps` is about a photograph whose size is worked out";
        notes.wrong(&entry.span, message, format!("write width = \"{LARGEST}\", or leave it out"));
    }
    if largest {
        let why = "the size is worked out: leave `height` out";
        table.contradiction(notes, "width", "height", why);
        let keeps = keeps.map(|entry| notes.length(&entry, CAP_HEIGHT));
        return Some(PhotoSize::Largest(match keeps {
            Some(told) => Some(told?),
            None => None,
        }));
    }
    let width = width.map(|entry| {
        if nearly_largest(&entry) {
            let message = format!("`{}` is neither a length nor those words", entry.path);
            notes.wrong(&entry.span, message, format!("did you mean \"{LARGEST}\"?"));
            return None;
        }
        notes.length(&entry, SIDE)
    });
    let height = height.map(|entry| notes.length(&entry, SIDE));
    match (width, height) {
        (Some(width), Some(height)) => Some(PhotoSize::Both(width?, height?)),
        (Some(width), None) => Some(PhotoSize::Width(width?)),
        (None, Some(height)) => Some(PhotoSize::Height(height?)),
        (None, None) => {
            let message = "the photograph has no size";
            let help = format!("write width = \"34 mm\", or height, or width = \"{LARGEST}\"");
            notes.missing(&format!("{}.width", table.path), &table.span, message, help);
            None
        }
    }
}

fn is_largest(entry: &Entry<'_>) -> bool {
    matches!(entry.value, DeValue::String(text) if text.trim() == LARGEST)
}

/// Whether a width is meant to be worked out and misspelt.
fn nearly_largest(entry: &Entry<'_>) -> bool {
    let DeValue::String(text) = entry.value else { return false };
    strsim::damerau_levenshtein(text.trim(), LARGEST) <= LARGEST.len() / 2
}

/// `3:4` as width by height.
pub(super) fn proportion_of(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<f64> {
    let text = notes.text(entry)?;
    let part = |part: &str| {
        let part = part.trim().replace(',', ".");
        let plain = part.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        part.parse::<f64>().ok().filter(|value| plain && *value > 0.0)
    };
    let share = text.split_once(':').and_then(|(width, height)| Some(part(width)? / part(height)?));
    let within = Within::new(1.0 / MOST_PROPORTION, MOST_PROPORTION);
    let share = share.filter(|share| within.holds(*share));
    if share.is_none() {
        let message = format!("`{}` cannot be {}", entry.path, quoted(text));
        notes.wrong(&entry.span, message, "write width to height, 1:10 to 10:1, such as \"3:4\"");
    }
    share
}
