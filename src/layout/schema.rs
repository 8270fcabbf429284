//! The JSON Schema of layout and shop file, by which editors complete keys and other
//! programs check files.
//!
//! Each part of the reader describes its own table beside the code that reads it, in the
//! words below: these descriptions are the one list of keys. A file that the reader takes
//! is valid by the schema; a schema cannot say everything (that a circle is as wide as it
//! is high), so some files are valid that the reader refuses.
//!
//! Source: JSON Schema, draft 2020-12, Core and Validation.

use serde_json::{Map, Value, json};

use super::read::{LONGEST_LIST, LONGEST_NOTE, Vocabulary, Within, braces_keys};
use super::{Named, read, shop};
use crate::units::digits::trimmed;
use crate::units::{length_pattern, signed_length_pattern, size_pattern};

/// Which draft of JSON Schema is written.
const DRAFT: &str = "https://json-schema.org/draft/2020-12/schema";

/// The schema of one value, being put together.
pub(super) struct Schema {
    body: Map<String, Value>,
    needed: bool,
}

/// The JSON Schema (draft 2020-12) of a layout file: every key with what it means, what it
/// may hold and what holds without it. One JSON object, indented, with a final line feed.
#[must_use]
pub fn layout_schema(vocabulary: &Vocabulary) -> String {
    printed(read::keys(), "ansata layout", &vocabulary.lettering)
}

/// As [`layout_schema`], of a shop file.
#[must_use]
pub fn shop_schema() -> String {
    printed(shop::keys(), "ansata shop", &[])
}

fn printed(schema: Schema, title: &str, lettering: &[String]) -> String {
    let mut body = schema.body;
    body.insert("$schema".to_owned(), DRAFT.into());
    body.insert("title".to_owned(), title.into());
    let mut kinds = json!({
        "length": { "type": "string", "pattern": length_pattern() },
        "size": { "type": "string", "pattern": size_pattern() },
        "note": {
            "type": "string",
            "maxLength": LONGEST_NOTE,
            "pattern": "^[^\\u0000-\\u001F\\u007F-\\u009F\\u2028\\u2029]*$",
            "allOf": [{ "pattern": "\\S" }],
        },
    });
    if let (Some(kinds), false) = (kinds.as_object_mut(), lettering.is_empty()) {
        let names = json!({ "type": "string", "enum": lettering });
        kinds.insert("lettering-name".to_owned(), names);
        let names = json!({ "$ref": "#/$defs/lettering-name" });
        kinds.insert("lettering".to_owned(), json!({ "anyOf": [names, braces_keys().body] }));
    }
    body.insert("$defs".to_owned(), kinds);
    let text = serde_json::to_string_pretty(&Value::Object(body)).unwrap_or_default();
    format!("{text}\n")
}

impl Schema {
    fn new(about: &str, body: Value) -> Self {
        let mut body = if let Value::Object(body) = body { body } else { Map::new() };
        body.insert("description".to_owned(), about.into());
        Self { body, needed: false }
    }

    /// Marks a key that must be there.
    pub(super) fn needed(mut self) -> Self {
        self.needed = true;
        self
    }

    /// What holds where the key is left out.
    pub(super) fn usual(mut self, value: impl Into<Value>) -> Self {
        self.body.insert("default".to_owned(), value.into());
        self
    }

    /// As [`Self::usual`], for a length in mm.
    pub(super) fn usual_mm(self, mm: f64) -> Self {
        self.usual(format!("{} mm", trimmed(mm, 3)))
    }

    /// A value as a user may write it.
    pub(super) fn example(mut self, value: impl Into<Value>) -> Self {
        self.body.insert("examples".to_owned(), Value::Array(vec![value.into()]));
        self
    }

    /// One more condition, in JSON Schema's own words.
    pub(super) fn also(mut self, condition: Value) -> Self {
        if let Value::Array(all) =
            self.body.entry("allOf").or_insert_with(|| Value::Array(Vec::new()))
        {
            all.push(condition);
        }
        self
    }
}

/// A length; the bounds are told, since no schema can compare texts with units.
pub(super) fn length(about: &str, within: Within) -> Schema {
    Schema::new(&bounded(about, within), json!({ "$ref": "#/$defs/length" }))
}

/// A length that may be below 0.
pub(super) fn signed_length(about: &str, within: Within) -> Schema {
    Schema::new(
        &bounded(about, within),
        json!({ "type": "string", "pattern": signed_length_pattern() }),
    )
}

/// Yes or no.
pub(super) fn truth(about: &str) -> Schema {
    Schema::new(about, json!({ "type": "boolean" }))
}

/// A width and a height.
pub(super) fn size(about: &str, within: Within) -> Schema {
    Schema::new(&bounded(about, within), json!({ "$ref": "#/$defs/size" }))
}

fn bounded(about: &str, within: Within) -> String {
    let bounds = within.told(" mm");
    format!("{about} I{}.", bounds.trim_start_matches('i'))
}

/// A number without a unit.
pub(super) fn number(about: &str, within: Within) -> Schema {
    let (least, most) = (exact(within.least), exact(within.most));
    Schema::new(about, json!({ "type": "number", "minimum": least, "maximum": most }))
}

fn exact(value: f64) -> Value {
    serde_json::from_str(&trimmed(value, 3)).unwrap_or(Value::Null)
}

/// A whole number.
pub(super) fn whole(about: &str, least: u32, most: u32) -> Schema {
    Schema::new(about, json!({ "type": "integer", "minimum": least, "maximum": most }))
}

/// A share from 1 to 100 per cent.
pub(super) fn percent(about: &str) -> Schema {
    let pattern = "^\\s*0*(?:[1-9][0-9]?(?:[.,][0-9]*)?|100(?:[.,]0*)?)\\s*%\\s*$";
    Schema::new(about, json!({ "type": "string", "pattern": pattern }))
}

/// One of a closed list of words.
pub(super) fn word<T: Named>(about: &str) -> Schema {
    let words: Vec<&str> = T::ALL.iter().map(|(word, _)| *word).collect();
    Schema::new(about, json!({ "type": "string", "enum": words }))
}

/// One of a list of words that is not the layout's own.
pub(super) fn any_word(about: &str, words: &[impl AsRef<str>]) -> Schema {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    Schema::new(about, json!({ "type": "string", "enum": words }))
}

/// A text of one line that is printed on the sheets.
pub(super) fn note(about: &str) -> Schema {
    Schema::new(about, json!({ "$ref": "#/$defs/note" }))
}

/// A day as ISO 8601 writes it.
pub(super) fn date(about: &str) -> Schema {
    let pattern = "^[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])$";
    Schema::new(about, json!({ "type": "string", "format": "date", "pattern": pattern }))
}

/// A text by a pattern.
pub(super) fn text(about: &str, pattern: &str, most: usize) -> Schema {
    Schema::new(about, json!({ "type": "string", "pattern": pattern, "maxLength": most }))
}

/// A lettering: a name of the catalogue, or a file.
pub(super) fn lettering(about: &str) -> Schema {
    Schema::new(about, json!({ "$ref": "#/$defs/lettering" }))
}

/// A name of the catalogue.
pub(super) fn lettering_name(about: &str) -> Schema {
    Schema::new(about, json!({ "$ref": "#/$defs/lettering-name" }))
}

/// The version of a file.
pub(super) fn version(about: &str, version: u32) -> Schema {
    Schema::new(about, json!({ "type": "integer", "const": version }))
}

/// One value that has to be.
pub(super) fn constant(about: &str, value: &str) -> Schema {
    Schema::new(about, json!({ "type": "string", "const": value }))
}

/// A list of up to so many.
pub(super) fn list(about: &str, least: usize, most: usize, item: Schema) -> Schema {
    let body = json!({
        "type": "array", "minItems": least, "maxItems": most, "items": item.body,
    });
    Schema::new(about, body)
}

/// A list of as many as any list may have.
pub(super) fn any_list(about: &str, item: Schema) -> Schema {
    list(about, 0, LONGEST_LIST, item)
}

/// One of several.
pub(super) fn one_of<const N: usize>(about: &str, schemas: [Schema; N]) -> Schema {
    let all: Vec<Value> = schemas.into_iter().map(|schema| schema.body.into()).collect();
    Schema::new(about, json!({ "oneOf": all }))
}

/// A table with these keys and no others.
pub(super) fn table<'k>(about: &str, keys: impl IntoIterator<Item = (&'k str, Schema)>) -> Schema {
    let (mut needed, mut properties) = (Vec::new(), Map::new());
    for (key, schema) in keys {
        if schema.needed {
            needed.push(key);
        }
        properties.insert(key.to_owned(), schema.body.into());
    }
    let body = json!({
        "type": "object",
        "additionalProperties": false,
        "required": needed,
        "properties": properties,
    });
    Schema::new(about, body)
}
