//! From places in messages to paths in the file.

use std::ops::Range;

use toml_edit::{Document, Item, TableLike, Value};

use super::Step;

/// The path of a dotted key as findings tell it, lists counted from 1: `line.2.text`.
#[must_use]
pub fn path_of(key: &str) -> Vec<Step> {
    let steps = key.split('.').filter(|step| !step.is_empty());
    steps
        .map(|step| match step.parse::<usize>() {
            Ok(number) if number > 0 => Step::Index(number - 1),
            _ => Step::Key(step.to_owned()),
        })
        .collect()
}

/// The path of the innermost value, or of the table, that stands at a byte of the text; empty
/// where nothing does, and where the text is no TOML.
#[must_use]
pub fn path_at(text: &str, at: usize) -> Vec<Step> {
    let Ok(document) = Document::parse(text) else { return Vec::new() };
    let mut seen = Vec::new();
    keys(document.as_table(), &[], &mut seen);
    // The innermost is the shortest stretch; a table without one reaches to the next.
    let inner =
        seen.iter().filter(|(span, _)| span.start <= at && at < span.end.max(span.start + 1));
    if let Some((_, path)) = inner.min_by_key(|(span, _)| span.end - span.start) {
        return path.clone();
    }
    let before = seen.iter().filter(|(span, _)| span.start <= at);
    let header = before.max_by_key(|(span, _)| span.start).map(|(_, path)| path.clone());
    header.map_or_else(Vec::new, |mut path| {
        // Behind a value, what is spoken of is its table.
        path.truncate(path.len().saturating_sub(1));
        path
    })
}

type Seen = Vec<(Range<usize>, Vec<Step>)>;

fn keys(table: &dyn TableLike, path: &[Step], seen: &mut Seen) {
    for (name, item) in table.iter() {
        let path = [path, &[Step::Key(name.to_owned())]].concat();
        let key = table.key(name).and_then(toml_edit::Key::span);
        let span = match (key, item.span()) {
            (Some(key), Some(value)) => Some(key.start.min(value.start)..key.end.max(value.end)),
            (key, value) => key.or(value),
        };
        // Tables under headers are told by their entries.
        if let (Some(span), true) = (span, item.is_value()) {
            seen.push((span, path.clone()));
        }
        below(item, &path, seen);
    }
}

fn below(item: &Item, path: &[Step], seen: &mut Seen) {
    let entry = |index: usize| [path, &[Step::Index(index)]].concat();
    match item {
        Item::None => {}
        Item::Value(value) => within(value, path, seen),
        Item::Table(table) => {
            seen.extend(table.span().map(|span| (span, path.to_vec())));
            keys(table, path, seen);
        }
        Item::ArrayOfTables(tables) => {
            for (index, table) in tables.iter().enumerate() {
                let path = entry(index);
                seen.extend(table.span().map(|span| (span, path.clone())));
                keys(table, &path, seen);
            }
        }
    }
}

fn within(value: &Value, path: &[Step], seen: &mut Seen) {
    match value {
        Value::InlineTable(table) => keys(table, path, seen),
        Value::Array(values) => {
            for (index, value) in values.iter().enumerate() {
                let path = [path, &[Step::Index(index)]].concat();
                seen.extend(value.span().map(|span| (span, path.clone())));
                within(value, &path, seen);
            }
        }
        _ => {}
    }
}
