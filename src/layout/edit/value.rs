//! Values as JSON has them, from TOML and to it.

use serde_json::{Map, Number, Value};
use toml_edit::{Array, ArrayOfTables, InlineTable, Item, Table};

/// A value of the file as JSON. Dates are texts; numbers that JSON has not are null.
pub(super) fn json(item: &Item) -> Value {
    match item {
        Item::None => Value::Null,
        Item::Value(value) => of_value(value),
        Item::Table(table) => {
            Value::Object(table.iter().map(|(key, item)| (key.to_owned(), json(item))).collect())
        }
        Item::ArrayOfTables(tables) => {
            Value::Array(tables.iter().map(|table| json(&Item::Table(table.clone()))).collect())
        }
    }
}

fn of_value(value: &toml_edit::Value) -> Value {
    match value {
        toml_edit::Value::String(text) => Value::String(text.value().clone()),
        toml_edit::Value::Integer(number) => Value::Number((*number.value()).into()),
        toml_edit::Value::Float(number) => {
            Number::from_f64(*number.value()).map_or(Value::Null, Value::Number)
        }
        toml_edit::Value::Boolean(truth) => Value::Bool(*truth.value()),
        toml_edit::Value::Datetime(date) => Value::String(date.value().to_string()),
        toml_edit::Value::Array(values) => Value::Array(values.iter().map(of_value).collect()),
        toml_edit::Value::InlineTable(table) => Value::Object(
            table.iter().map(|(key, value)| (key.to_owned(), of_value(value))).collect(),
        ),
    }
}

/// A value for the file; at the top tables stand under headers. `None` for null.
pub(super) fn item(value: &Value, top: bool) -> Option<Item> {
    match value {
        Value::Object(keys) if top => Some(Item::Table(table(keys)?)),
        Value::Array(all) if top && !all.is_empty() && all.iter().all(Value::is_object) => {
            let mut tables = ArrayOfTables::new();
            for keys in all.iter().filter_map(Value::as_object) {
                tables.push(table(keys)?);
            }
            Some(Item::ArrayOfTables(tables))
        }
        other => written(other).map(Item::Value),
    }
}

/// Keys that say what a table is about: they are written first.
const FIRST: [&str; 7] = ["kind", "file", "name", "text", "divider", "emblem", "code"];

/// The keys of a table in the order in which they are written.
fn ordered(keys: &Map<String, Value>) -> Vec<(&String, &Value)> {
    let mut all: Vec<_> = keys.iter().filter(|(_, value)| !value.is_null()).collect();
    let place = |key: &str| FIRST.iter().position(|first| *first == key).unwrap_or(FIRST.len());
    all.sort_by_key(|(key, _)| place(key));
    all
}

fn table(keys: &Map<String, Value>) -> Option<Table> {
    let mut table = Table::new();
    for (key, value) in ordered(keys) {
        table.insert(key, Item::Value(written(value)?));
    }
    Some(table)
}

fn written(value: &Value) -> Option<toml_edit::Value> {
    Some(match value {
        Value::Null => return None,
        Value::Bool(truth) => (*truth).into(),
        Value::Number(number) => match number.as_i64() {
            Some(whole) => whole.into(),
            None => number.as_f64().filter(|number| number.is_finite())?.into(),
        },
        Value::String(text) => text.as_str().into(),
        Value::Array(all) => {
            toml_edit::Value::Array(all.iter().map(written).collect::<Option<Array>>()?)
        }
        Value::Object(keys) => {
            let mut table = InlineTable::new();
            for (key, value) in ordered(keys) {
                table.insert(key, written(value)?);
            }
            toml_edit::Value::InlineTable(table)
        }
    })
}
