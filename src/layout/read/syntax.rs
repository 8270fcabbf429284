//! Where a file is not TOML: the parser's findings in words for a person at the bench.

use std::ops::Range;

use toml::Spanned;
use toml::de::DeTable;

use super::notes::{Notes, line_of};
use crate::layout::Source;
use crate::layout::diagnostic::quoted;

/// Most bytes of a layout: four hundred times a long one. What is longer is some other
/// file, and is refused before it is read.
const LARGEST: usize = 1 << 20;

/// The file as a tree of tables; its syntax mistakes are noted, and what can be read
/// beside them is given all the same.
pub(in crate::layout) fn parsed<'s>(
    notes: &mut Notes<'_>,
    source: &'s Source,
) -> Option<Spanned<DeTable<'s>>> {
    if source.text.len() > LARGEST {
        notes.of_file(
            format!("the file has {} bytes; at most {LARGEST} are read", source.text.len()),
            "name the layout file: it is a text of some dozens of lines",
        );
        return None;
    }
    let (tree, faults) = DeTable::parse_recoverable(&source.text);
    let mut last_line = usize::MAX;
    for fault in &faults {
        let span = fault.span().unwrap_or(0..0);
        let line = line_of(&source.text, span.start);
        // One slip on a line makes the parser stumble on: the first is the true one.
        if line.start == last_line {
            continue;
        }
        last_line = line.start;
        let (message, help) = explained(&source.text, fault.message(), &span, &line);
        notes.syntax(span, message, help);
    }
    Some(tree)
}

/// What a person should know of a syntax mistake.
fn explained(
    text: &str,
    fault: &str,
    span: &Range<usize>,
    line: &Range<usize>,
) -> (String, String) {
    let line_text = text.get(line.clone()).unwrap_or_default();
    let first = fault.lines().next().unwrap_or_default();
    if first.starts_with("duplicate key") {
        let key = text.get(span.clone()).unwrap_or_default();
        return (format!("{} is given twice", quoted(key)), "keep one of the two".to_owned());
    }
    if let Some((key, value)) = bare_value(line_text) {
        return (
            format!("the value of {} is not in quotes", quoted(key)),
            format!("write {key} = \"{}\"", quoted(value).trim_matches('`')),
        );
    }
    if first.contains("string") && line_text.matches('"').count() % 2 == 1 {
        return ("a text in quotes is not closed".to_owned(), "end it with \"".to_owned());
    }
    (format!("this is not TOML: {}", quoted(first).trim_matches('`')), told(first).to_owned())
}

/// Key and value of `key = 7 mm`, the commonest slip: a value that begins like a number
/// or word and holds more than one.
fn bare_value(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once('=')?;
    let (key, value) = (key.trim(), value.trim());
    let value = value.split('#').next().unwrap_or_default().trim();
    let plain = |c: char| c.is_alphanumeric() || "_-".contains(c);
    let keyed = !key.is_empty() && key.chars().all(plain);
    let starts = value.starts_with(|c: char| c.is_alphanumeric() || "-.½¼¾".contains(c));
    let quoted = value.contains(['"', '\'', '{', '[']);
    (keyed && starts && !quoted).then_some((key, value))
}

/// What to do about the commoner kinds.
fn told(fault: &str) -> &'static str {
    if fault.contains("unclosed") {
        "close it, or begin the next key on a line of its own"
    } else if fault.contains("comma") {
        "put one comma between two values"
    } else if fault.contains("recurs") {
        "no layout nests tables and lists so deeply"
    } else if fault.contains("escape") || fault.contains("backslash") {
        "write \\\\ for a backslash, or put the text in 'single quotes'"
    } else if fault.contains("string") {
        "write texts in \"quotes\", and \\\" for a quote inside them"
    } else {
        "each line is key = value, a [table] header or a # comment"
    }
}
