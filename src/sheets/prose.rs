//! Paragraphs of plain text, wrapped for a terminal or a printer.

use std::fmt::Write as _;

use unicode_segmentation::UnicodeSegmentation;

/// Characters in a row.
const WIDE: usize = 78;

/// Appends a paragraph behind its mark (`-`, spaces to indent it by, or nothing), its rows
/// no wider than 78 characters where its words allow. A text without words appends nothing.
pub(super) fn paragraph(out: &mut String, text: &str, mark: &str) {
    let first = if mark.is_empty() { "  ".to_owned() } else { format!("  {mark} ") };
    let further = " ".repeat(first.len());
    let (mut row, mut length) = (first.clone(), first.len());
    let mut begun = false;
    for word in text.split_whitespace() {
        let wide = word.graphemes(true).count();
        if begun && length + 1 + wide > WIDE {
            let _ = writeln!(out, "{row}");
            (row, length, begun) = (further.clone(), further.len(), false);
        }
        if begun {
            row.push(' ');
            length += 1;
        }
        row.push_str(word);
        length += wide;
        begun = true;
    }
    if begun {
        let _ = writeln!(out, "{row}");
    }
}

#[cfg(test)]
mod tests {
    use super::paragraph;

    fn set(text: &str, mark: &str) -> String {
        let mut out = String::new();
        paragraph(&mut out, text, mark);
        out
    }

    #[test]
    fn rows_keep_to_the_width_and_words_stay_whole() {
        let out = set(&"seven7 ".repeat(30), "-");
        assert!(out.starts_with("  - seven7 seven7") && out.contains("\n    seven7"), "{out}");
        assert!(out.lines().all(|row| row.len() <= 78), "{out}");
        assert_eq!(out.split_whitespace().count(), 31);
        let long = "x".repeat(100);
        assert_eq!(set(&long, ""), format!("  {long}\n"));
        assert_eq!(set("", "-"), "");
    }
}
