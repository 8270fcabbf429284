//! Straight quotes and apostrophes as the marks of a language, where that is asked for.

use std::sync::LazyLock;

use serde::Deserialize;

/// The marks of a language.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub(super) struct Marks {
    codes: Vec<String>,
    /// Opening and closing, for `"`.
    double: [String; 2],
    /// Opening and closing, for `'` around words.
    single: [String; 2],
}

#[derive(Deserialize)]
struct Table {
    language: Vec<Marks>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    toml::from_str(include_str!("quotes.toml")).expect("a test reads this file of the program")
});

/// Stands for a letter that is left out, and for the end of a possessive.
const APOSTROPHE: &str = "\u{2019}";

/// The marks of a language by its whole tag, else by the language alone; `None` for one
/// that is not listed.
pub(super) fn of(language: &str) -> Option<&'static Marks> {
    let listed = |code: &str| {
        TABLE.language.iter().find(|marks| marks.codes.iter().any(|known| known == code))
    };
    listed(language).or_else(|| listed(language.split('-').next().unwrap_or(language)))
}

/// What opens a quotation that follows it: nothing, white, a bracket, a dash or a quote.
fn opens_after(before: Option<char>) -> bool {
    before.is_none_or(|c| c.is_whitespace() || "([{–—‐-/\"'“‘«„‚".contains(c))
}

/// A text in pieces, each straight mark replaced: what each character becomes.
///
/// A mark opens after white, an opening bracket, a dash or another mark; elsewhere it
/// closes what is open. Within and after a word, and before a figure, `'` is an
/// apostrophe where no quotation is open. After a figure, where none is open, a mark may
/// mean feet, inches or minutes and stays as it is.
pub(super) fn typographic<'t>(text: &'t str, marks: &'static Marks) -> Vec<(usize, &'t str)> {
    let (mut double, mut single) = (0_usize, 0_usize);
    let mut before: Option<char> = None;
    let mut set = Vec::new();
    let mut chars = text.char_indices().peekable();
    while let Some((at, character)) = chars.next() {
        let end = at + character.len_utf8();
        let own = text.get(at..end).unwrap_or_default();
        let after = chars.peek().map(|(_, next)| *next);
        let opens = opens_after(before) && after.is_some_and(|c| !c.is_whitespace());
        let counted = before.is_some_and(char::is_numeric);
        let shown = match character {
            '"' if opens => {
                double += 1;
                &*marks.double[0]
            }
            '"' if double > 0 => {
                double -= 1;
                &*marks.double[1]
            }
            '"' if counted => own,
            '"' => &*marks.double[1],
            '\'' if opens && after.is_some_and(char::is_numeric) => APOSTROPHE,
            '\'' if opens => {
                single += 1;
                &*marks.single[0]
            }
            '\'' if after.is_some_and(char::is_alphanumeric) => APOSTROPHE,
            '\'' if single > 0 => {
                single -= 1;
                &*marks.single[1]
            }
            '\'' if counted => own,
            '\'' => APOSTROPHE,
            _ => own,
        };
        set.push((at, shown));
        before = Some(character);
    }
    set
}

#[cfg(test)]
mod tests {
    use super::{TABLE, of, typographic};

    fn set(text: &str, language: &str) -> String {
        typographic(text, of(language).unwrap()).into_iter().map(|(_, shown)| shown).collect()
    }

    #[test]
    fn the_table_is_read_and_names_each_language_once() {
        let mut codes: Vec<&String> = TABLE.language.iter().flat_map(|l| &l.codes).collect();
        let count = codes.len();
        assert!(count > 20);
        codes.sort();
        codes.dedup();
        assert_eq!(codes.len(), count);
        assert!(of("xx").is_none() && of("de-at") == of("de"));
        assert_ne!(of("pt-pt"), of("pt-br"));
    }

    /// Unicode's CLDR, of Debian's package `unicode-cldr-core`, where it is installed.
    #[test]
    fn the_marks_are_those_of_cldr() {
        let folder = std::path::Path::new("/usr/share/unicode/cldr/common/main");
        if !folder.is_dir() {
            eprintln!("SKIPPED: {folder:?} is not there (Debian package unicode-cldr-core)");
            return;
        }
        let keys =
            ["quotationStart", "quotationEnd", "alternateQuotationStart", "alternateQuotationEnd"];
        let told = |code: &str, key: &str| {
            let file = std::fs::read_to_string(folder.join(format!("{code}.xml"))).unwrap();
            let (_, rest) = file.split_once(&format!("<{key}>"))?;
            rest.split_once('<').map(|(mark, _)| mark.to_owned()).filter(|mark| mark != "↑↑↑")
        };
        for marks in &TABLE.language {
            for code in &marks.codes {
                let parent = match code.as_str() {
                    "nb" => "no",
                    "pt-pt" => "pt_PT",
                    other => other,
                };
                let ours = marks.double.iter().chain(&marks.single);
                for (mark, key) in ours.zip(keys) {
                    let theirs = told(parent, key).or_else(|| told("root", key)).unwrap();
                    assert_eq!(mark.replace('\u{202F}', ""), theirs, "{code} {key}");
                }
            }
        }
    }

    #[test]
    fn quotes_open_before_words_and_close_after_them() {
        assert_eq!(set("\"Treble\" and (\"Tenor\")", "en"), "“Treble” and (“Tenor”)");
        assert_eq!(set("say \"the 'Vale' ring\"", "en"), "say “the ‘Vale’ ring”");
        assert_eq!(set("\"Treble\" 'Tenor'", "de"), "„Treble“ ‚Tenor‘");
        assert_eq!(set("\"Treble\"", "fr"), "«\u{202F}Treble\u{202F}»");
        assert_eq!(set("–\"Vale\"–", "el"), "–«Vale»–");
    }

    #[test]
    fn apostrophes_are_no_quotes() {
        assert_eq!(set("the ringers' and Wren's", "en"), "the ringers’ and Wren’s");
        assert_eq!(set("Wren's 'Vale'", "de"), "Wren’s ‚Vale‘");
        assert_eq!(set("class of '42", "en"), "class of ’42");
        assert_eq!(set("l'observatoire", "fr"), "l’observatoire");
    }

    #[test]
    fn marks_of_measure_and_marks_already_set_stay() {
        assert_eq!(set("5' 6\" high", "en"), "5' 6\" high");
        assert_eq!(set("“Vale” ‘x’", "en"), "“Vale” ‘x’");
        assert_eq!(set("", "en"), "");
    }
}
