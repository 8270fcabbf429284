//! A length as typed, with its unit.

use super::digits::trimmed;
use super::number::{LONGEST, LengthError, VULGAR, clipped, not_a_number, quantity};

/// Millimetres in an inch, exactly: the international inch, 1 July 1959.
pub const MM_PER_INCH: f64 = 25.4;

/// Unit in which a length was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetre.
    Millimetre,
    /// Centimetre.
    Centimetre,
    /// International inch.
    Inch,
}

impl Unit {
    /// Millimetres in one.
    #[must_use]
    pub fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Inch => MM_PER_INCH,
        }
    }
}

/// How units are written, the usual word first. Capitals are accepted too.
pub(super) const UNITS: [(&str, Unit); 18] = [
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("in", Unit::Inch),
    ("\"", Unit::Inch),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("in.", Unit::Inch),
    // What word processors and careful typists put for the inch sign.
    ("\u{2033}", Unit::Inch),
    ("\u{201D}", Unit::Inch),
    ("''", Unit::Inch),
    ("millimetre", Unit::Millimetre),
    ("millimetres", Unit::Millimetre),
    ("millimeter", Unit::Millimetre),
    ("millimeters", Unit::Millimetre),
    ("centimetre", Unit::Centimetre),
    ("centimetres", Unit::Centimetre),
    ("centimeter", Unit::Centimetre),
    ("centimeters", Unit::Centimetre),
];

/// Units that are right elsewhere, with what one of them is here: better than a guess
/// at a slip of the finger.
const ELSEWHERE: [(&str, f64, &str); 7] = [
    ("m", 1000.0, "mm"),
    ("metre", 1000.0, "mm"),
    ("meter", 1000.0, "mm"),
    ("ft", 12.0, "in"),
    ("foot", 12.0, "in"),
    ("feet", 12.0, "in"),
    ("'", 12.0, "in"),
];

/// A finite length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Length {
    /// In mm.
    pub mm: f64,
    /// As typed.
    pub unit: Unit,
}

impl Length {
    /// Reads `120 mm`, `12 cm`, `12,5 mm`, `4 3/4 in`, `4-3/4 in`, `4¾ in`, `4.75"`,
    /// `3/8 in`. A leading minus is read, so that whoever asks for a length can say
    /// that his may not be negative.
    ///
    /// # Errors
    /// No number, no unit, an unknown unit (with the nearest), a fraction over zero,
    /// a comma that may be decimal or may part thousands.
    pub fn parse(text: &str) -> Result<Self, LengthError> {
        let (number, unit) = parts(text)?;
        if unit.is_empty() {
            // A number that is none should be told before its unit is missed.
            quantity(number)?;
            return Err(unitless(number));
        }
        let unit = known_unit(number, unit)?;
        Self::of(number, unit)
    }

    /// Reads a width and a height: `120 x 80 mm`, `120 mm x 80 mm`, `4 3/4 x 3 in`,
    /// `4¾" × 3"`. A width without a unit has the height's.
    ///
    /// # Errors
    /// No `x` between two lengths, or what [`Length::parse`] says of either.
    pub fn parse_size(text: &str) -> Result<(Self, Self), LengthError> {
        let halves = text.split_once(['x', 'X', '×', '\u{2A2F}']);
        let Some((width, height)) = halves.filter(|_| short(text)) else {
            return Err(LengthError::new(
                format!("`{}` is not a width and a height", clipped(text)),
                "write width x height, such as \"120 x 80 mm\" or \"4 3/4 x 3 in\"",
            ));
        };
        let (number, unit) = parts(width)?;
        if unit.is_empty() && parts(height)?.1.is_empty() {
            quantity(number)?;
            return Err(unitless(text.trim()));
        }
        let height = Self::parse(height)?;
        let width =
            if unit.is_empty() { Self::of(number, height.unit)? } else { Self::parse(width)? };
        Ok((width, height))
    }

    fn of(number: &str, unit: Unit) -> Result<Self, LengthError> {
        let number_value = quantity(number)?;
        let mm = match unit {
            // Times 254 and over 10: so 3/8 in is 9.525 and not a hair less, since 25.4
            // has no exact double.
            Unit::Inch => number_value * (10.0 * MM_PER_INCH) / 10.0,
            _ => number_value * unit.mm(),
        };
        if mm.is_finite() {
            Ok(Self { mm, unit })
        } else {
            Err(LengthError::new(
                format!("`{}` is too great a number", clipped(number)),
                "write it without so many digits",
            ))
        }
    }
}

/// The number and the unit of a length, each without its edge spaces; either may be
/// empty, the number only where the text is.
fn parts(text: &str) -> Result<(&str, &str), LengthError> {
    let text = text.trim();
    let belongs = |c: char| {
        c.is_ascii_digit()
            || c.is_whitespace()
            || matches!(c, '.' | ',' | '/' | '\u{2044}' | '-' | '\u{2212}' | '\u{2013}')
            || VULGAR.iter().any(|(sign, _)| *sign == c)
    };
    let end = text.find(|c| !belongs(c)).unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    if number.trim().is_empty() || !short(text) {
        return Err(not_a_number(text));
    }
    Ok((number.trim(), unit.trim()))
}

fn short(text: &str) -> bool {
    text.chars().nth(2 * LONGEST).is_none()
}

fn unitless(typed: &str) -> LengthError {
    LengthError::new(
        format!("`{}` has no unit", clipped(typed)),
        format!("write \"{} mm\" (or cm, or in)", clipped(typed)),
    )
}

fn known_unit(number: &str, typed: &str) -> Result<Unit, LengthError> {
    let lower = typed.to_lowercase();
    if let Some((_, unit)) = UNITS.iter().find(|(word, _)| *word == lower) {
        return Ok(*unit);
    }
    let message = format!("unknown unit `{}`", clipped(typed));
    if let Some((_, ratio, unit)) = ELSEWHERE.iter().find(|(word, ..)| *word == lower) {
        let value = trimmed(quantity(number)? * ratio, 6);
        return Err(LengthError::new(
            message,
            format!("lengths are in mm, cm or in; write \"{value} {unit}\""),
        ));
    }
    let allowed = 1 + lower.chars().count() / 4;
    let nearest = UNITS
        .iter()
        .map(|(word, _)| {
            let same_start = word.chars().next() == lower.chars().next();
            (strsim::damerau_levenshtein(word, &lower), !same_start, *word)
        })
        // A sign of one character is near to any other: it is no likely slip.
        .filter(|(distance, _, word)| *distance <= allowed && word.chars().count() > 1)
        // The least distance; then the same first letter; then the order of the list.
        .min_by_key(|(distance, other_start, _)| (*distance, *other_start));
    Err(match nearest {
        Some((.., word)) => LengthError::new(message, format!("did you mean \"{number} {word}\"?")),
        None => LengthError::new(message, "lengths are in mm, cm or in"),
    })
}

#[cfg(test)]
mod tests {
    use super::{Length, Unit};

    fn mm(text: &str) -> f64 {
        Length::parse(text).unwrap_or_else(|e| panic!("{text}: {e:?}")).mm
    }

    fn error(text: &str) -> (String, String) {
        let error = Length::parse(text).expect_err(text);
        (error.message, error.help)
    }

    /// 1 in = 25.4 mm exactly (international inch, 1959); 4 3/4 in by hand: 120.65 mm.
    #[test]
    fn one_length_in_every_way_a_shop_writes_it() {
        for text in [
            "4 3/4 in",
            "4-3/4 in",
            "4\u{2013}3/4 in",
            "4¾ in",
            "4 ¾ in",
            "4¾-in",
            "4-¾ in",
            "4.75 in",
            "4,75 in",
            "4.75\"",
            "4 3/4\"",
            "4¾\u{2033}",
            "4¾\u{201D}",
            "4 3/4 inches",
            "4 3/4 INCH",
            "4 3\u{2044}4 in.",
            "  4\u{00A0}3 / 4  in ",
            "19/4 in",
            "120.65 mm",
            "120,65mm",
            "12.065 cm",
            "12.065 centimetres",
        ] {
            assert!((mm(text) - 120.65).abs() < 1e-12, "{text}: {}", mm(text));
        }
    }

    #[test]
    fn every_vulgar_sign_has_its_value() {
        for (text, inches) in [
            ("¼ in", 0.25),
            ("½ in", 0.5),
            ("⅛ in", 0.125),
            ("⅜ in", 0.375),
            ("⅝ in", 0.625),
            ("⅞ in", 0.875),
            ("1⅓ in", 4.0 / 3.0),
            ("⅔ in", 2.0 / 3.0),
            ("⅕ in", 0.2),
            ("1\u{2044}2 in", 0.5),
            (".5 in", 0.5),
            ("3/64 in", 0.046875),
        ] {
            assert!((mm(text) - inches * 25.4).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn every_64th_of_an_inch_is_the_nearest_number_to_its_millimetres() {
        for part in 1..=640_u32 {
            // 25.4 n/64 mm = 254 n / 640 mm: one division of whole numbers.
            let nearest = f64::from(254 * part) / 640.0;
            assert_eq!(mm(&format!("{part}/64 in")).to_bits(), nearest.to_bits(), "{part}/64");
        }
    }

    #[test]
    fn the_unit_is_remembered_and_a_minus_is_read() {
        assert_eq!(Length::parse("1 in").expect("an inch").unit, Unit::Inch);
        assert_eq!(Length::parse("1 cm").expect("a centimetre").unit, Unit::Centimetre);
        assert_eq!(Length::parse("1 mm").expect("a millimetre").unit, Unit::Millimetre);
        assert!((mm("-3 mm") + 3.0).abs() < 1e-12);
        assert!((mm("\u{2212}4-3/4 in") + 120.65).abs() < 1e-12);
    }

    #[test]
    fn what_is_not_a_length_says_what_would_be() {
        let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        let example = "write a number and its unit, such as \"120 mm\", \"12 cm\" or \"4 3/4 in\"";
        for (text, message, help) in [
            ("15", "`15` has no unit", "write \"15 mm\" (or cm, or in)"),
            ("15 cn", "unknown unit `cn`", "did you mean \"15 cm\"?"),
            ("15 im", "unknown unit `im`", "did you mean \"15 in\"?"),
            ("15 nm", "unknown unit `nm`", "did you mean \"15 mm\"?"),
            ("3/8 inchs", "unknown unit `inchs`", "did you mean \"3/8 inch\"?"),
            ("1.2 m", "unknown unit `m`", "lengths are in mm, cm or in; write \"1200 mm\""),
            ("½ ft", "unknown unit `ft`", "lengths are in mm, cm or in; write \"6 in\""),
            ("15 furlongs", "unknown unit `furlongs`", "lengths are in mm, cm or in"),
            ("", "`` is not a length", example),
            ("wide", "`wide` is not a length", example),
            ("mm", "`mm` is not a length", example),
            ("1.2.3 mm", "`1.2.3` is not a length", example),
            ("1 2 mm", "`1 2` is not a length", example),
            ("¾1 in", "`¾1` is not a length", example),
            // Once read as 5/5: a hyphen that joins nothing to a digit.
            ("5-/5 in", "`5-/5` is not a length", example),
            ("5. mm", "`5.` is not a length", example),
            ("4 3/4 1/2 in", "`4 3/4 1/2` is not a length", example),
            ("3/0 in", "`3/0` divides by zero", "write a fraction such as \"3/4 in\""),
            ("1,200 mm", "`1,200` can be read in two ways", "write 1200 or 1.200"),
            (
                "4 5/4 in",
                "the fraction in `4 5/4` is not less than one",
                "write the whole inches first, then less than one: \"4 3/4 in\"",
            ),
        ] {
            assert_eq!(error(text), pair(message, help), "{text}");
        }
    }

    #[test]
    fn a_length_of_a_thousand_digits_is_refused_in_few_words() {
        for text in [format!("{} mm", "9".repeat(1000)), "x".repeat(1 << 20)] {
            let (message, help) = error(&text);
            assert!(message.len() + help.len() < 400, "{message}");
        }
        assert!(Length::parse(&format!("{} mm", "9".repeat(100))).is_ok());
    }

    #[test]
    fn a_size_is_read_with_one_unit_or_two() {
        for text in [
            "120.65 x 76.2 mm",
            "120.65 mm x 76.2 mm",
            "4 3/4 x 3 in",
            "4¾\" × 3\"",
            "4-3/4X3in",
            "12.065 cm x 3 in",
        ] {
            let (width, height) = Length::parse_size(text).unwrap_or_else(|e| panic!("{e:?}"));
            assert!((width.mm - 120.65).abs() < 1e-12, "{text}");
            assert!((height.mm - 76.2).abs() < 1e-12, "{text}");
        }
        for text in ["120 mm", "", "120 by 80 mm", &"1 x".repeat(5000)] {
            let error = Length::parse_size(text).expect_err(text);
            assert!(error.message.ends_with("is not a width and a height"), "{error:?}");
        }
        let error = Length::parse_size("120 x 80").expect_err("no unit");
        assert_eq!(error.message, "`120 x 80` has no unit");
        assert_eq!(error.help, "write \"120 x 80 mm\" (or cm, or in)");
        let error = Length::parse_size("120 mm x 80").expect_err("no unit");
        assert_eq!(error.message, "`80` has no unit");
    }
}
