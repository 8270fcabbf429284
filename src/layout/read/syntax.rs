//! Where a file is not TOML: the parser's findings in words for a person at the bench.

use std::ops::Range;

use toml::Spanned;
use toml::de::DeTable;

use super::notes::{MOST_TOLD, Notes, line_of};
use crate::layout::Source;
use crate::layout::diagnostic::quoted;
use crate::units::Length;

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
    let (mut last_line, mut told) = (0..0, 0);
    for (fault, number) in faults.iter().zip(0_usize..) {
        let span = fault.span().unwrap_or(0..0);
        // One slip on a line makes the parser stumble on: the first is the true one.
        if told > 0 && (last_line.start..=last_line.end).contains(&span.start) {
            continue;
        }
        if told == MOST_TOLD {
            notes.count_more(faults.len() - number);
            break;
        }
        told += 1;
        let line = line_of(&source.text, span.start);
        last_line = line.clone();
        let slip = slip(&source.text, fault.message(), span, line);
        let start = slip.span.start;
        notes.syntax(slip.span, slip.message, slip.help);
        if slip.swallows {
            notes.swallowed(start);
            break;
        }
    }
    Some(tree)
}

/// A syntax mistake as a person should know it.
struct Slip {
    span: Range<usize>,
    message: String,
    help: String,
    /// Whether what follows it was read as a part of something else.
    swallows: bool,
}

const EACH_LINE: &str = "each line is key = value, a [table] header or a # comment";

/// Kinds of syntax mistakes: a word of the parser's finding, what is wrong, what to do.
const KINDS: [(&str, &str, &str); 11] = [
    ("key with no value", "here is a key without `=` and a value", EACH_LINE),
    (
        "unexpected key or value",
        "something stands behind the value",
        "begin the next key on a line of its own; a quote inside a text is written \\\"",
    ),
    ("missing value", "here is a key without a value", "write the value behind the `=`"),
    ("extra `=`", "there is one `=` too many", "write key = value"),
    ("unquoted key", "a key holds other characters than a to z, 0 to 9, _ and -", EACH_LINE),
    ("unclosed table", "a table header is not closed", "write [table]"),
    ("unclosed array table", "a table header is not closed", "write [[line]]"),
    (
        "escaped value",
        "a backslash stands before a character that it cannot change",
        "write \\\\ for a backslash itself",
    ),
    ("unicode value", "a \\u does not name a character", "write it with four digits: \\u00BE"),
    ("carriage return", "a carriage return stands alone", "end each line with a line feed"),
    ("recurs", "tables or lists stand too deep in each other", "no layout needs more than three"),
];

fn slip(text: &str, fault: &str, span: Range<usize>, line: Range<usize>) -> Slip {
    let line_text = text.get(line.clone()).unwrap_or_default();
    let fault = fault.lines().next().unwrap_or_default();
    let known = |message: &str, help: &str| (message.to_owned(), help.to_owned());
    let is = |word: &str| fault.contains(word);
    let (message, help) = if fault.starts_with("duplicate key") {
        let key = text.get(span.clone()).unwrap_or_default();
        (format!("{} is given twice", quoted(key)), "keep one of the two".to_owned())
    } else if let Some((key, value)) = bare_value(line_text) {
        let shown = quoted(value);
        let shown = shown.trim_matches('`');
        // A length without a unit would be the next mistake.
        let in_mm = format!("{value} mm");
        let help = if Length::parse_size(&in_mm).is_ok() || Length::parse(&in_mm).is_ok() {
            format!("write {key} = \"{shown} mm\" (or cm, or in)")
        } else {
            format!("write {key} = \"{shown}\"")
        };
        (format!("the value of {} is not in quotes", quoted(key)), help)
    } else if let Some((key, value)) = curly_value(line_text) {
        let message = format!("the value of {} is in quotes that TOML does not know", quoted(key));
        let value = quoted(value);
        (message, format!("write {key} = \"{}\"", value.trim_matches('`')))
    } else if is("multi-line") {
        return open_text(text, span);
    } else if is("string") && line_text.matches('"').count() % 2 == 1 {
        known("a text in quotes is not closed", "end it with \"")
    } else if is("string") && line_text.matches('\'').count() % 2 == 1 {
        known("a text in quotes is not closed", "end it with '")
    } else if is("inline table") || is("key-value pairs") || is("array") && !is("array table") {
        return open_bracket(text, span, line);
    } else if let Some((_, message, help)) = KINDS.iter().find(|(word, ..)| is(word)) {
        known(message, help)
    } else {
        let finding = quoted(fault.split(", expected").next().unwrap_or_default());
        (format!("this is not TOML: {}", finding.trim_matches('`')), EACH_LINE.to_owned())
    };
    Slip { span, message, help, swallows: false }
}

/// A text in three quotes that runs to the end of the file, where the parser tells it:
/// the last three quotes in the file are those that opened it.
fn open_text(text: &str, span: Range<usize>) -> Slip {
    let opened = ["\"\"\"", "'''"].into_iter().filter_map(|quotes| text.rfind(quotes)).max();
    Slip {
        span: opened.map_or(span, |start| start..start + 3),
        message: "a text in three quotes is not closed".to_owned(),
        help: "end it with three quotes of the same kind".to_owned(),
        swallows: true,
    }
}

/// Most lines that an open bracket is looked for above the place where it was noticed.
const LOOKED_BACK: usize = 200;

/// A list or a table in braces that goes wrong. The parser says so where it stumbles,
/// which may be lines below the bracket that was left open: that is looked for.
fn open_bracket(text: &str, span: Range<usize>, line: Range<usize>) -> Slip {
    let mut at = line;
    for _ in 0..LOOKED_BACK {
        let row = text.get(at.clone()).unwrap_or_default();
        let value = row.split_once('=').map_or("", |(_, value)| value);
        let open = [('{', '}'), ('[', ']')]
            .into_iter()
            .find(|(open, close)| value.matches(*open).count() > value.matches(*close).count());
        if let Some((open, close)) = open {
            let start = at.end - value.len() + value.find(open).unwrap_or(0);
            return Slip {
                span: start..start + 1,
                message: format!("a `{open}` is not closed"),
                help: format!("end it with {close}, and put one comma between two entries"),
                swallows: true,
            };
        }
        if at.start == 0 {
            break;
        }
        at = line_of(text, at.start - 1);
    }
    Slip {
        span,
        message: "a list or a table in braces goes wrong here".to_owned(),
        help: "write [1, 2] or { key = value, key = value }".to_owned(),
        swallows: true,
    }
}

/// Quotes that word processors and phones put for straight ones.
const CURLY: [char; 7] =
    ['\u{201C}', '\u{201D}', '\u{201E}', '\u{2018}', '\u{2019}', '\u{201A}', '\u{AB}'];

/// Key and value of `key = “brass”`.
fn curly_value(line: &str) -> Option<(&str, &str)> {
    let (key, value) = keyed(line)?;
    let inner = value.strip_prefix(CURLY)?;
    let end = inner.find(|c| CURLY.contains(&c) || matches!(c, '"' | '\u{BB}'));
    let inner = inner.get(..end.unwrap_or(inner.len()))?;
    (!inner.contains('\\')).then_some((key, inner))
}

/// Key and what follows the `=`, each without its edge spaces.
fn keyed(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once('=')?;
    let (key, value) = (key.trim(), value.trim());
    let plain = |c: char| c.is_alphanumeric() || "_-".contains(c);
    let fine = !key.is_empty() && key.chars().count() < 40 && key.chars().all(plain);
    fine.then_some((key, value))
}

/// Key and value of `key = 7 mm`, the commonest slip: a value that begins like a number
/// or word and holds more than one.
fn bare_value(line: &str) -> Option<(&str, &str)> {
    let (key, value) = keyed(line)?;
    let value = value.split('#').next().unwrap_or_default().trim();
    let starts = value.starts_with(|c: char| c.is_alphanumeric() || "-.½¼¾".contains(c));
    let quoted = value.contains(['"', '\'', '{', '[']);
    (starts && !quoted).then_some((key, value))
}
