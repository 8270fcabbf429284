//! How lengths are written, as a pattern by which other programs can check them.

use super::length::UNITS;
use super::number::VULGAR;

/// Between a number and its unit, as in `12-mm`.
const BETWEEN: &str = "[\\s\u{2013}-]*";

/// A number as the reader of lengths takes it, without a sign: `120`, `12,5`, `.5`,
/// `3/8`, `4 3/4`, `4-3/4`, `4¾`.
fn number() -> String {
    let vulgar: String = VULGAR.iter().map(|(sign, _)| *sign).collect();
    format!(
        "(?:(?:[0-9]+(?:\\s+|\\s*[-\u{2013}]\\s*))?[0-9]+\\s*[/\u{2044}]\\s*[0-9]+\
         |(?:[0-9]+(?:\\s*[-\u{2013}])?\\s*)?[{vulgar}]|[0-9]*[.,][0-9]+|[0-9]+)"
    )
}

/// Any of the units, in capitals or not.
fn unit() -> String {
    let either = |c: char| match c {
        '.' => "\\.".to_owned(),
        c if c.is_ascii_alphabetic() => format!("[{}{c}]", c.to_ascii_uppercase()),
        c => c.to_string(),
    };
    let words: Vec<String> =
        UNITS.iter().map(|(word, _)| word.chars().map(either).collect()).collect();
    format!("(?:{})", words.join("|"))
}

/// A regular expression (ECMA-262, as JSON Schema asks for) that every text matches
/// which [`super::Length::parse`] reads as a length that is not negative. It also matches
/// a few that are no length for a reason that no pattern finds, such as `5/0 in`.
#[must_use]
pub fn length_pattern() -> String {
    format!("^\\s*{}{BETWEEN}{}\\s*$", number(), unit())
}

/// As [`length_pattern`], with or without a minus.
#[must_use]
pub fn signed_length_pattern() -> String {
    format!("^\\s*[-\u{2212}]?\\s*{}{BETWEEN}{}\\s*$", number(), unit())
}

/// As [`length_pattern`], for what [`super::Length::parse_size`] reads.
#[must_use]
pub fn size_pattern() -> String {
    let (number, unit) = (number(), unit());
    format!("^\\s*{number}{BETWEEN}{unit}?\\s*[xX\u{D7}\u{2A2F}]\\s*{number}{BETWEEN}{unit}\\s*$")
}

#[cfg(test)]
mod tests {
    use super::{length_pattern, size_pattern};

    #[test]
    fn every_unit_and_sign_stands_in_the_patterns() {
        for pattern in [length_pattern(), size_pattern()] {
            for part in ["[Mm][Mm]", "[Ii][Nn]\\.", "\"", "''", "\u{2033}", "¾", "↉"] {
                assert!(pattern.contains(part), "{part} is not in {pattern}");
            }
        }
    }
}
