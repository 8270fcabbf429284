//! What became of a wording, by word and letter.

use similar::{Algorithm, DiffOp, capture_diff_slices};
use unicode_segmentation::UnicodeSegmentation;

/// One place where a wording changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordChange {
    /// What stood there; empty where something was put in.
    pub old: String,
    /// What stands there; empty where something was left out.
    pub new: String,
    /// Letters of the word that went and came, where it is the same word otherwise.
    pub letters: Option<(String, String)>,
    /// The word before it, which is in both; empty at the beginning.
    pub after: String,
}

/// Every place where two wordings differ, in the order of reading. Words and marks are those
/// of UAX #29, letters are graphemes.
pub(super) fn word_changes(old: &str, new: &str) -> Vec<WordChange> {
    let (a, b): (Vec<&str>, Vec<&str>) =
        (old.split_word_bounds().collect(), new.split_word_bounds().collect());
    let mut all = Vec::new();
    for op in capture_diff_slices(Algorithm::Myers, &a, &b) {
        if matches!(op, DiffOp::Equal { .. }) {
            continue;
        }
        let old = a.get(op.old_range()).unwrap_or_default().concat();
        let new = b.get(op.new_range()).unwrap_or_default().concat();
        let before = b.get(..op.new_range().start).unwrap_or_default();
        let after = before.iter().rev().find(|word| word.chars().any(char::is_alphanumeric));
        let letters = letters(&old, &new);
        let after = after.map_or_else(String::new, |word| (*word).to_owned());
        all.push(WordChange { old, new, letters, after });
    }
    all
}

/// What went and came of a word that keeps at least half of its letters and changes in one
/// place: letters that changed places are seen better in the words themselves.
fn letters(old: &str, new: &str) -> Option<(String, String)> {
    let (a, b): (Vec<&str>, Vec<&str>) =
        (old.graphemes(true).collect(), new.graphemes(true).collect());
    let (mut out, mut into, mut kept, mut places) = (String::new(), String::new(), 0, 0);
    for op in capture_diff_slices(Algorithm::Myers, &a, &b) {
        if matches!(op, DiffOp::Equal { .. }) {
            kept += op.old_range().len();
        } else {
            places += 1;
            out.push_str(&a.get(op.old_range()).unwrap_or_default().concat());
            into.push_str(&b.get(op.new_range()).unwrap_or_default().concat());
        }
    }
    (places == 1 && 2 * kept >= a.len().max(b.len())).then_some((out, into))
}

/// The share of graphemes that two texts have in common, 0 to 1; of long texts by their
/// beginnings.
pub(super) fn alike(old: &str, new: &str) -> f64 {
    /// Enough to know a line again by.
    const LOOKED_AT: usize = 200;
    let cut = |text| UnicodeSegmentation::graphemes(text, true).take(LOOKED_AT).collect();
    let (a, b): (Vec<&str>, Vec<&str>) = (cut(old), cut(new));
    let kept: usize = capture_diff_slices(Algorithm::Myers, &a, &b)
        .iter()
        .filter(|op| matches!(op, DiffOp::Equal { .. }))
        .map(|op| op.old_range().len())
        .sum();
    match a.len() + b.len() {
        0 => 1.0,
        all => 2.0 * kept as f64 / all as f64,
    }
}

impl WordChange {
    /// In words: `“,” left out after “ringers”`.
    #[must_use]
    pub fn told(&self) -> String {
        let place = match self.after.as_str() {
            "" => " at the beginning".to_owned(),
            word => format!(" after {}", seen(word)),
        };
        match (self.old.as_str(), self.new.as_str()) {
            (old, "") => format!("{} left out{place}", seen(old)),
            ("", new) => format!("{} put in{place}", seen(new)),
            (old, new) => {
                let letters = match &self.letters {
                    Some((out, into)) if into.is_empty() => format!(" (without {})", seen(out)),
                    Some((out, into)) if out.is_empty() => format!(" (with {})", seen(into)),
                    Some((out, into)) => format!(" ({} for {})", seen(into), seen(out)),
                    None => String::new(),
                };
                format!("{} became {}{letters}", seen(old), seen(new))
            }
        }
    }
}

/// Characters in quotes; those that show nothing by their names.
fn seen(text: &str) -> String {
    let mut shown = String::new();
    for c in text.chars() {
        match c {
            ' ' if text == " " => return "a space".to_owned(),
            '\n' if text == "\n" => return "a break".to_owned(),
            '\n' => shown.push('\u{23CE}'),
            '\u{A0}' => shown.push_str("[no-break space]"),
            '\u{AD}' => shown.push_str("[soft hyphen]"),
            c if invisible(c) => shown.push_str(&format!("[U+{:04X}]", u32::from(c))),
            c => shown.push(c),
        }
    }
    format!("\u{201C}{shown}\u{201D}")
}

/// Characters that show nothing, or change the direction of what stands beside them.
pub(super) fn invisible(c: char) -> bool {
    c.is_control()
        || (c.is_whitespace() && c != ' ')
        || matches!(c, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}')
}

#[cfg(test)]
mod tests {
    use super::{alike, word_changes};

    fn told(old: &str, new: &str) -> Vec<String> {
        word_changes(old, new).iter().map(super::WordChange::told).collect()
    }

    #[test]
    fn a_comma_is_told_with_the_word_before_it() {
        let (with, without) = ("For the ringers, who rang", "For the ringers who rang");
        assert_eq!(told(with, without), ["“,” left out after “ringers”"]);
        assert_eq!(told(without, with), ["“,” put in after “ringers”"]);
        assert_eq!(told(with, with), [""; 0]);
    }

    #[test]
    fn a_word_spelt_otherwise_is_told_by_its_letters() {
        assert_eq!(
            told("Elowen Tarrant", "Elowen Tarant"),
            ["“Tarrant” became “Tarant” (without “r”)"]
        );
        assert_eq!(told("Tarant", "Tarrant"), ["“Tarant” became “Tarrant” (with “r”)"]);
        assert_eq!(told("the grey bell", "the gray bell"), ["“grey” became “gray” (“a” for “e”)"]);
        assert_eq!(told("1976", "1967"), ["“1976” became “1967”"]);
        assert_eq!(told("tenor", "bell"), ["“tenor” became “bell”"]);
    }

    #[test]
    fn what_cannot_be_seen_is_named() {
        assert_eq!(
            told("Elowen Tarrant", "Elowen\u{A0}Tarrant"),
            ["a space became “[no-break space]”"]
        );
        assert_eq!(told("ab", "a\u{200B}b"), ["“ab” became “a[U+200B]b” (with “[U+200B]”)"]);
        assert_eq!(told("The Cup", "The\nCup"), ["a space became a break"]);
    }

    #[test]
    fn an_accent_is_a_part_of_its_letter() {
        // e with a combining acute is one grapheme (UAX #29, GB9).
        assert_eq!(
            told("cafe", "cafe\u{301}"),
            ["“cafe” became “cafe\u{301}” (“e\u{301}” for “e”)"]
        );
    }

    #[test]
    fn likeness_is_the_share_of_letters_in_common() {
        assert!((alike("abcd", "abxd") - 0.75).abs() < 1e-12);
        assert!((alike("", "") - 1.0).abs() < 1e-12);
        assert!(alike("abc", "xyz") < 1e-12);
    }
}
