//! Text that may stand in XML.

/// `text` as the content of an element or of a quoted attribute: markup
/// escaped, and characters that XML 1.0 (section 2.2) does not allow at all
/// replaced by U+FFFD, so that no wording can break the file.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // A bare carriage return would be read back as a line feed.
            '\r' => out.push_str("&#13;"),
            '\t' | '\n' => out.push(c),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            _ => out.push(c),
        }
    }
    out
}

/// `name` as an XML name that is also safe in a URL: letters, figures, hyphens
/// of ASCII, a letter first.
pub(super) fn name(name: &str) -> String {
    let mut out: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' }).collect();
    if !out.starts_with(|c: char| c.is_ascii_alphabetic()) {
        out.insert_str(0, "part-");
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_and_forbidden_characters_cannot_break_the_file() {
        assert_eq!(
            escaped("Rose & \"Thorn\" <b>\u{0}\u{8}\u{ffff}\n\tÅ"),
            "Rose &amp; &quot;Thorn&quot; &lt;b&gt;\u{fffd}\u{fffd}\u{fffd}\n\tÅ"
        );
        assert_eq!(escaped("a\rb]]>"), "a&#13;b]]&gt;");
    }

    #[test]
    fn names_are_plain_ascii() {
        assert_eq!(name("hole-centres"), "hole-centres");
        assert_eq!(name("2 lines/é"), "part-2-lines--");
        assert_eq!(name(""), "part-");
    }
}
