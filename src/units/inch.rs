//! Vulgar fractions of an inch.

use super::digits::fixed;
use super::length::MM_PER_INCH;

/// The finest fraction that shop rules and drill gauges carry.
const PARTS: u8 = 64;

/// The nearest 64th of an inch to a length, and how far off it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Fraction {
    /// Reduced, as a shop says it: `4 3/4 in`, `3/64 in`, `0 in`.
    pub text: String,
    /// Fraction minus the true length, mm.
    pub error_mm: f64,
}

/// The nearest 64th of an inch to `mm`; a length half way between two goes to the
/// one farther from zero. A negative length keeps its sign; one that is not finite
/// prints as `?` with an error that is not a number.
#[must_use]
pub fn nearest_64th(mm: f64) -> Fraction {
    if !mm.is_finite() {
        return Fraction { text: "?".to_owned(), error_mm: f64::NAN };
    }
    let parts = (mm.abs() / MM_PER_INCH * f64::from(PARTS)).round();
    let whole = (parts / f64::from(PARTS)).floor();
    let rest = parts - whole * f64::from(PARTS);
    // The rest is a whole number from 0 to 63: looked up, not cast.
    let rest = (0..PARTS).find(|part| (f64::from(*part) - rest).abs() < 0.5).unwrap_or(0);
    let near = (whole + f64::from(rest) / f64::from(PARTS)) * MM_PER_INCH;
    let sign = if mm < 0.0 && near > 0.0 { "-" } else { "" };
    let text = match (whole > 0.0, rest > 0) {
        (_, false) => format!("{sign}{} in", fixed(whole, 0)),
        (false, true) => format!("{sign}{} in", reduced(rest)),
        (true, true) => format!("{sign}{} {} in", fixed(whole, 0), reduced(rest)),
    };
    Fraction { text, error_mm: near.copysign(mm) - mm }
}

/// `part` 64ths in lowest terms; 64 is a power of two, so halving is enough.
fn reduced(part: u8) -> String {
    let (mut over, mut under) = (part, PARTS);
    while over > 0 && over.is_multiple_of(2) {
        over /= 2;
        under /= 2;
    }
    format!("{over}/{under}")
}

#[cfg(test)]
mod tests {
    use super::nearest_64th;

    fn text(mm: f64) -> String {
        nearest_64th(mm).text
    }

    /// Worked from 1 in = 25.4 mm exactly (international inch, 1959).
    #[test]
    fn whole_inches_and_reduced_fractions_are_exact() {
        for (mm, want) in [
            (0.0, "0 in"),
            (25.4, "1 in"),
            (12.7, "1/2 in"),
            (9.525, "3/8 in"),
            (120.65, "4 3/4 in"),
            (1.190625, "3/64 in"),
            (76.2, "3 in"),
            (-9.525, "-3/8 in"),
        ] {
            let near = nearest_64th(mm);
            assert_eq!(near.text, want, "{mm}");
            assert!(near.error_mm.abs() < 1e-12, "{mm}: {}", near.error_mm);
        }
    }

    #[test]
    fn what_lies_between_says_how_far_off_the_fraction_is() {
        // 80 mm = 201.57… sixty-fourths; 202/64 = 3 5/32 in = 80.16875 mm.
        let near = nearest_64th(80.0);
        assert_eq!(near.text, "3 5/32 in");
        assert!((near.error_mm - 0.16875).abs() < 1e-12);
        // 120 mm = 302.36… sixty-fourths; 302/64 = 4 23/32 in = 119.85625 mm.
        let near = nearest_64th(120.0);
        assert_eq!(near.text, "4 23/32 in");
        assert!((near.error_mm + 0.14375).abs() < 1e-12);
        let near = nearest_64th(-120.0);
        assert_eq!(near.text, "-4 23/32 in");
        assert!((near.error_mm - 0.14375).abs() < 1e-12);
    }

    #[test]
    fn rounding_up_carries_into_the_inch_and_never_gives_a_negative_nought() {
        assert_eq!(text(25.39), "1 in");
        assert_eq!(text(-0.01), "0 in");
        assert!(nearest_64th(f64::NAN).error_mm.is_nan());
        assert_eq!(text(f64::INFINITY), "?");
    }
}
