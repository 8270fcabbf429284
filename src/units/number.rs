//! Numbers as a shop writes them: decimals, vulgar fractions, whole and fraction.

/// Most characters of a length; the longest sensible one, `119 63/64 inches`, has
/// seventeen, and what is longer need not be searched for the nearest unit.
pub(super) const LONGEST: usize = 60;

/// Vulgar fractions that Unicode gives a character of their own.
pub(super) const VULGAR: [(char, &str); 19] = [
    ('¼', "1/4"),
    ('½', "1/2"),
    ('¾', "3/4"),
    ('⅐', "1/7"),
    ('⅑', "1/9"),
    ('⅒', "1/10"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('⅕', "1/5"),
    ('⅖', "2/5"),
    ('⅗', "3/5"),
    ('⅘', "4/5"),
    ('⅙', "1/6"),
    ('⅚', "5/6"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('↉', "0/3"),
];

/// Why a text is not a length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LengthError {
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub help: String,
}

impl LengthError {
    pub(super) fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { message: message.into(), help: help.into() }
    }
}

/// The start of a text that may be of any length.
pub(super) fn clipped(text: &str) -> String {
    let mut start: String = text.trim().chars().take(LONGEST).collect();
    if start.len() < text.trim().len() {
        start.push('…');
    }
    start
}

pub(super) fn not_a_number(text: &str) -> LengthError {
    LengthError::new(
        format!("`{}` is not a length", clipped(text)),
        "write a number and its unit, such as \"120 mm\", \"12 cm\" or \"4 3/4 in\"",
    )
}

/// The value of `4.75`, `12,5`, `3/8`, `4 3/4`, `4-3/4`, `4¾`, with or without a minus.
pub(super) fn quantity(typed: &str) -> Result<f64, LengthError> {
    let (sign, rest) = match typed.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, typed),
    };
    let plain = spelt_out(rest);
    let mut words = plain.split(' ');
    let value = match (words.next(), words.next(), words.next()) {
        (Some(only), None, _) if only.contains('/') => fraction(typed, only)?,
        (Some(only), None, _) => decimal(typed, only)?,
        (Some(whole), Some(part), None) if part.contains('/') => {
            let part_value = fraction(typed, part)?;
            if part_value >= 1.0 {
                return Err(LengthError::new(
                    format!("the fraction in `{}` is not less than one", clipped(typed)),
                    "write the whole inches first, then less than one: \"4 3/4 in\"",
                ));
            }
            digits(whole).ok_or_else(|| not_a_number(typed))? + part_value
        }
        _ => return Err(not_a_number(typed)),
    };
    Ok(sign * value)
}

/// Vulgar signs as `3/4`, every kind of space as one, the hyphen of `4-3/4` as a space;
/// any other hyphen stays, and makes the text no number.
fn spelt_out(number: &str) -> String {
    let mut out = String::with_capacity(number.len() + 8);
    let mut after_vulgar = false;
    let joins = |after: &str| {
        let next = after.trim_start().chars().next();
        next.is_none_or(|c| c.is_ascii_digit() || VULGAR.iter().any(|(sign, _)| *sign == c))
    };
    for (at, c) in number.char_indices() {
        let after = number.get(at + c.len_utf8()..).unwrap_or_default();
        if let Some((_, fraction)) = VULGAR.iter().find(|(sign, _)| *sign == c) {
            out.push(' ');
            out.push_str(fraction);
        } else if c == '\u{2044}' {
            out.push('/');
        } else if c.is_whitespace()
            || matches!(c, '-' | '\u{2013}')
                && out.ends_with(|c: char| c.is_ascii_digit())
                && joins(after)
        {
            out.push(' ');
        } else {
            // `¾1` is no 41st.
            if after_vulgar && c.is_ascii_digit() {
                out.push(' ');
            }
            out.push(c);
        }
        after_vulgar = VULGAR.iter().any(|(sign, _)| *sign == c);
    }
    let words: Vec<&str> = out.split_whitespace().collect();
    words.join(" ").replace(" /", "/").replace("/ ", "/")
}

/// Digits alone.
fn digits(text: &str) -> Option<f64> {
    let all = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    if all { text.parse().ok() } else { None }
}

fn fraction(typed: &str, text: &str) -> Result<f64, LengthError> {
    let (over, under) = text.split_once('/').ok_or_else(|| not_a_number(typed))?;
    match (digits(over), digits(under)) {
        (Some(_), Some(under)) if under < 0.5 => Err(LengthError::new(
            format!("`{}` divides by zero", clipped(typed)),
            "write a fraction such as \"3/4 in\"",
        )),
        (Some(over), Some(under)) => Ok(over / under),
        _ => Err(not_a_number(typed)),
    }
}

fn decimal(typed: &str, text: &str) -> Result<f64, LengthError> {
    let (whole, part) = match text.split_once(['.', ',']) {
        None => return digits(text).ok_or_else(|| not_a_number(typed)),
        Some(halves) => halves,
    };
    let whole_fine = whole.bytes().all(|b| b.is_ascii_digit());
    if !whole_fine || digits(part).is_none() {
        return Err(not_a_number(typed));
    }
    // 1,200 is twelve hundred to some and a little over one to others.
    let thousands = (1..=3).contains(&whole.len()) && !whole.starts_with('0') && part.len() == 3;
    if text.contains(',') && thousands {
        return Err(LengthError::new(
            format!("`{text}` can be read in two ways"),
            format!("write {whole}{part} or {whole}.{part}"),
        ));
    }
    format!("0{whole}.{part}").parse().map_err(|_| not_a_number(typed))
}
