//! A calendar date as ISO 8601 writes it.

use toml::de::DeValue;

use super::Notes;
use super::value::Entry;

/// A date as written, if there is such a day. TOML's own dates, without quotes, are
/// taken too.
pub(super) fn checked_date(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<String> {
    let text = match entry.value {
        DeValue::Datetime(date) => date.to_string(),
        _ => notes.text(entry)?.to_owned(),
    };
    if is_date(&text) {
        return Some(text);
    }
    let message = format!("{} is not a date", crate::layout::diagnostic::quoted(&text));
    notes.wrong(&entry.span, message, "write year-month-day, such as \"2026-03-14\"");
    None
}

/// Whether a text is `YYYY-MM-DD` and names a day of the Gregorian calendar.
#[must_use]
pub fn is_date(text: &str) -> bool {
    let [y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2] = text.as_bytes() else {
        return false;
    };
    let number = |digits: &[u8]| {
        digits.iter().try_fold(0_u32, |sum, digit| {
            digit.is_ascii_digit().then(|| sum * 10 + u32::from(digit - b'0'))
        })
    };
    let (Some(year), Some(month), Some(day)) =
        (number(&[*y1, *y2, *y3, *y4]), number(&[*m1, *m2]), number(&[*d1, *d2]))
    else {
        return false;
    };
    let leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
    let days = match month {
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        1..=12 => 31,
        _ => return false,
    };
    (1..=days).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::is_date;

    /// Leap years by the Gregorian rule: divisible by 4 and not by 100, or by 400; the
    /// dates are among those of "Calendrical Calculations", appendix C, and the
    /// neighbours of its leap days.
    #[test]
    fn only_days_of_the_calendar_are_dates() {
        for date in ["2000-02-29", "2024-02-29", "2038-11-10", "2094-07-18", "1900-03-01"] {
            assert!(is_date(date), "{date}");
        }
        for date in [
            "1900-02-29",
            "2100-02-29",
            "2023-02-29",
            "2024-02-30",
            "2024-04-31",
            "2024-13-01",
            "2024-00-10",
            "2024-01-00",
            "2024-1-01",
            "14 March 2026",
            "2026/03/14",
            "",
            "２０２６-03-14",
        ] {
            assert!(!is_date(date), "{date}");
        }
    }
}
