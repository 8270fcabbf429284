//! `--printed-bars`: what the check bars measured on paper, as typed.

use crate::sheets::{MOST_OFF_PER_CENT, PrintedBars};
use crate::units::digits::trimmed;
use crate::units::{Length, Unit};

/// How it is written.
const EXAMPLE: &str = "\"99.2 mm across, 100.4 mm along\" or \"3 31/32 in across, 4 in along\"";
/// The two bars by name: the lying one, the standing one.
const NAMES: [&str; 2] = ["across", "along"];
/// Most characters that are read; no two lengths need more.
const LONGEST: usize = 200;

/// Length of the side that is measured in a unit, mm: bars carry 100 mm on one side and
/// 4 in on the other.
fn side(unit: Unit) -> f64 {
    match unit {
        Unit::Inch => 101.6,
        Unit::Millimetre | Unit::Centimetre => 100.0,
    }
}

/// Both bars, in either order: a length and `across`, a length and `along`.
///
/// # Errors
/// What is wrong, at which character, and an example.
pub(super) fn printed_bars(text: &str) -> Result<PrintedBars, String> {
    let wrong = |at: usize, message: &str| {
        let column = text.get(..at).map_or(1, |before| before.chars().count() + 1);
        Err(format!("column {column}: {message}; write {EXAMPLE}"))
    };
    if text.chars().count() > LONGEST {
        return wrong(0, "too long for two lengths");
    }
    // Lower case of ASCII keeps every place.
    let lower = text.to_ascii_lowercase();
    let mut bars: [Option<f64>; 2] = [None, None];
    let mut at = 0;
    while let Some(start) = next_part(&lower, at) {
        let rest = part(lower.get(start..).unwrap_or_default());
        let found = NAMES
            .iter()
            .enumerate()
            .filter_map(|(bar, name)| Some((rest.find(name)?, bar, name.len())))
            .min();
        let Some((far, bar, long)) = found else {
            let word = rest.trim_end().rfind(' ').map_or(0, |space| space + 1);
            return wrong(start + word, "expected a length and then `across` or `along`");
        };
        let length = match Length::parse(rest.get(..far).unwrap_or_default()) {
            Ok(length) => length,
            Err(error) => return wrong(start, &format!("{}: {}", error.message, error.help)),
        };
        // To a millionth, so that a length is the same in whatever unit it was typed.
        let share = (length.mm / side(length.unit) * 1e8).round() / 1e6;
        if PrintedBars::new(share, 100.0).is_err() {
            return Err(refused(length, NAMES.get(bar).copied().unwrap_or_default()));
        }
        match bars.get_mut(bar) {
            Some(slot @ None) => *slot = Some(share),
            _ => return wrong(start + far, "this bar is told twice"),
        }
        at = start + far + long;
    }
    match bars {
        [Some(across), Some(along)] => {
            PrintedBars::new(across, along).map_err(|off| format!("{off} is not a length"))
        }
        [None, _] => wrong(text.len(), "the bar `across` is missing"),
        [_, None] => wrong(text.len(), "the bar `along` is missing"),
    }
}

/// What stands before a comma with white space, a semicolon or `and`; a comma within a
/// number stays.
fn part(rest: &str) -> &str {
    let ends = [", ", ",\t", ";", " and "].into_iter().filter_map(|end| rest.find(end));
    ends.min().and_then(|end| rest.get(..end)).unwrap_or(rest)
}

/// Where the next bar's words begin, past white space, commas and `and`.
fn next_part(lower: &str, mut at: usize) -> Option<usize> {
    loop {
        let rest = lower.get(at..)?;
        let trimmed = rest.trim_start_matches([' ', '\t', ',', ';']);
        at += rest.len() - trimmed.len();
        match trimmed.strip_prefix("and ") {
            Some(after) => at += trimmed.len() - after.len(),
            None => return (!trimmed.is_empty()).then_some(at),
        }
    }
}

/// A bar that is off by more than any printer is.
fn refused(length: Length, bar: &str) -> String {
    let (measured, side) = match length.unit {
        Unit::Inch => (format!("{} in", trimmed(length.mm / 25.4, 3)), "4 in"),
        Unit::Millimetre | Unit::Centimetre => (format!("{} mm", trimmed(length.mm, 2)), "100 mm"),
    };
    format!(
        "{measured} {bar} where {side} was drawn: more than {} % off is no printer's own error. \
         The page was probably fitted to the paper: print at 100 % (\"actual size\"), and measure \
         the {side} side of the bar again",
        trimmed(MOST_OFF_PER_CENT, 1)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mistake(text: &str) -> String {
        printed_bars(text).map(|_| ()).unwrap_err()
    }

    #[test]
    fn bars_are_read_in_either_order_and_in_either_unit() {
        let bars = PrintedBars::new(99.2, 100.4).unwrap();
        for text in [
            "99.2 mm across, 100.4 mm along",
            "100.4mm ALONG and 99,2 mm across",
            "9.92 cm across; 10.04 cm along",
            "99.2 mm across 100.4 mm along",
        ] {
            assert_eq!(printed_bars(text), Ok(bars), "{text}");
        }
        // 4 in as drawn; 3 31/32 of them are 99.21875 in the hundred.
        let inches = PrintedBars::new(99.21875, 100.0).unwrap();
        assert_eq!(printed_bars("3 31/32 in across, 4 in along"), Ok(inches));
    }

    #[test]
    fn nonsense_is_told_at_its_column_with_an_example() {
        for (text, start) in [
            ("", "column 1: the bar `across` is missing"),
            ("99.2 mm across", "column 15: the bar `along` is missing"),
            ("99.2 mm acros, 100.4 mm along", "column 9: expected a length and then `across`"),
            ("99.2 mm across, wide", "column 17: expected a length and then"),
            ("wide across, 100 mm along", "column 1: `wide` is not a length"),
            ("99.2 across, 100 mm along", "column 1: `99.2`"),
            ("99 mm across, 99 mm across", "column 21: this bar is told twice"),
        ] {
            let said = mistake(text);
            assert!(said.starts_with(start), "{text}: {said}");
            assert!(said.ends_with(EXAMPLE), "{said}");
        }
        assert!(mistake(&"9".repeat(500)).starts_with("column 1: too long"));
    }

    #[test]
    fn what_is_no_printers_error_is_refused_with_its_cause() {
        assert_eq!(
            mistake("94.1 mm across, 94 mm along"),
            "94.1 mm across where 100 mm was drawn: more than 3 % off is no printer's own error. \
             The page was probably fitted to the paper: print at 100 % (\"actual size\"), and \
             measure the 100 mm side of the bar again"
        );
        assert!(mistake("3.5 in along, 4 in across").starts_with("3.5 in along where 4 in was"));
        assert!(mistake("0 mm across, 100 mm along").contains("0 mm across"));
    }
}
