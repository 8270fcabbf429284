//! What a text may hold: nothing that cannot be engraved or printed, and something to see.

use std::ops::Range;

/// Characters that a text may not hold, with their byte ranges and their names: control
/// characters (Unicode general category Cc), the line and paragraph separators.
pub(super) fn check_printable(text: &str) -> Vec<(Range<usize>, String)> {
    text.char_indices()
        .filter(|(_, c)| c.is_control() || matches!(c, '\u{2028}' | '\u{2029}'))
        .map(|(at, c)| (at..at + c.len_utf8(), named(c)))
        .collect()
}

/// A control character as messages call it.
fn named(c: char) -> String {
    let code = u32::from(c);
    match c {
        '\t' => format!("a tab (U+{code:04X})"),
        '\n' => format!("a line break (U+{code:04X})"),
        '\r' => format!("a carriage return (U+{code:04X})"),
        '\u{2028}' => format!("a line separator (U+{code:04X})"),
        '\u{2029}' => format!("a paragraph separator (U+{code:04X})"),
        _ => format!("the control character U+{code:04X}"),
    }
}

/// Whether a text shows nothing: only spaces and characters without a shape of their own
/// (Unicode `Default_Ignorable_Code_Point` as far as it occurs in running text, and the
/// blank braille pattern).
pub(super) fn shows_nothing(text: &str) -> bool {
    text.chars().all(|c| {
        c.is_whitespace()
            || matches!(c,
                '\u{00AD}' | '\u{034F}' | '\u{061C}' | '\u{115F}' | '\u{1160}' | '\u{17B4}'
                | '\u{17B5}' | '\u{180B}'..='\u{180F}' | '\u{200B}'..='\u{200F}'
                | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{2800}' | '\u{3164}'
                | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}' | '\u{FFA0}' | '\u{E0000}'..='\u{E0FFF}')
    })
}

#[cfg(test)]
mod tests {
    use super::{check_printable, shows_nothing};

    #[test]
    fn control_characters_are_named_by_code_point_with_their_place() {
        assert_eq!(check_printable("Café, for ever"), []);
        assert_eq!(
            check_printable("é\u{7}x\t"),
            [
                (2..3, "the control character U+0007".to_owned()),
                (4..5, "a tab (U+0009)".to_owned()),
            ]
        );
        assert_eq!(check_printable("\u{85}")[0].1, "the control character U+0085");
    }

    #[test]
    fn spaces_and_joiners_show_nothing_but_a_bare_accent_does() {
        for text in ["", " ", "\u{00A0}\u{2009}", "\u{200B}\u{FEFF}", "\u{2060}\n\u{00AD}"] {
            assert!(shows_nothing(text), "{text:?}");
        }
        for text in ["a", ".", "\u{0301}", " \u{200B}I"] {
            assert!(!shows_nothing(text), "{text:?}");
        }
    }
}
