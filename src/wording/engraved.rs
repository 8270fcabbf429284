//! The wording as it is engraved, where a line asks for capitals or for the quotes of its
//! language. The layout's own text is never altered.

use icu_casemap::CaseMapper;
use icu_locale_core::LanguageIdentifier;
use unicode_script::{Script, UnicodeScript};

use crate::layout::{Case, Line, Quotes};

use super::quotes;

/// A line's text as it is engraved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Engraved {
    /// The text; letters and quotes may differ from the wording, in number too.
    pub text: String,
    /// The stops handed in, as byte offsets into this text.
    pub stops: Vec<usize>,
}

/// What is engraved of a line whose text may be broken at these stops; `None` where it is
/// the wording itself, letter for letter.
///
/// Capitals are those of Unicode's full mapping, with the rules of the line's language
/// (Turkish and Azeri i, Lithuanian dots, Armenian ligatures); ß becomes SS, or ẞ where
/// that is asked for. Words of Greek letters lose their accents as Greek capitals do,
/// whatever the language of the line. Quotes follow the language of the line, where
/// [`has_quotes`] knows it.
///
/// Source: Unicode, `SpecialCasing.txt` and `UnicodeData.txt`, and CLDR's rules for Greek
/// capitals, by way of ICU4X.
#[must_use]
pub fn engraved(line: &Line, stops: &[usize]) -> Option<Engraved> {
    let setting = &line.setting;
    if !setting.changes_wording() {
        return None;
    }
    let language = setting.language.as_deref().unwrap_or_default();
    let marks = (setting.quotes == Quotes::Typographic).then(|| quotes::of(language)).flatten();
    let shown: Vec<(usize, &str)> = match marks {
        Some(marks) => quotes::typographic(&line.text, marks),
        None => {
            let ends = line.text.char_indices().map(|(at, c)| (at, at + c.len_utf8()));
            ends.filter_map(|(at, end)| Some((at, line.text.get(at..end)?))).collect()
        }
    };
    let mut set = Engraved { text: String::new(), stops: Vec::with_capacity(stops.len()) };
    let mut part = String::new();
    let mut stops = stops.iter().copied().peekable();
    for (at, shown) in shown {
        while stops.next_if(|stop| *stop <= at).is_some() {
            set.put(&mut part, setting.case, language);
            set.stops.push(set.text.len());
        }
        part.push_str(shown);
    }
    set.put(&mut part, setting.case, language);
    set.stops.extend(stops.map(|_| set.text.len()));
    (set.text != line.text).then_some(set)
}

impl Engraved {
    /// Puts a part of the text between two stops, in the case asked for.
    fn put(&mut self, part: &mut String, case: Case, language: &str) {
        match case {
            Case::AsWritten => self.text.push_str(part),
            Case::Capitals => self.text.push_str(&capitals(part, language)),
            Case::CapitalsWithSharpS => {
                self.text.push_str(&capitals(&part.replace('ß', "ẞ"), language));
            }
        }
        part.clear();
    }
}

/// A text in the capitals of a language, by its tag; of one that is not known, in those
/// that most languages have.
fn capitals(text: &str, language: &str) -> String {
    let own = language.parse::<LanguageIdentifier>().unwrap_or(LanguageIdentifier::UNKNOWN);
    let greek = "el".parse::<LanguageIdentifier>().unwrap_or(LanguageIdentifier::UNKNOWN);
    let mapper = CaseMapper::new();
    let mut set = String::with_capacity(text.len());
    for word in text.split_inclusive(char::is_whitespace) {
        let is_greek = word.chars().any(|letter| letter.script() == Script::Greek);
        set.push_str(&mapper.uppercase_to_string(word, if is_greek { &greek } else { &own }));
    }
    set
}

/// Whether the quotes of a language are known here, by its tag.
#[must_use]
pub fn has_quotes(language: &str) -> bool {
    quotes::of(language).is_some()
}

#[cfg(test)]
mod tests {
    use super::super::testing::line;
    use super::{capitals, engraved};
    use crate::layout::{Case, Line, Quotes, Setting};

    fn asked(text: &str, case: Case, language: Option<&str>, quotes: Quotes) -> Line {
        let language = language.map(str::to_owned);
        let setting = Setting { case, language, quotes, ..Setting::default() };
        Line { setting, ..line(text, &[]) }
    }

    #[test]
    fn capitals_follow_the_language() {
        // Unicode, SpecialCasing.txt: ß, Turkish and Azeri i, Lithuanian i with dot;
        // CLDR: Greek without accents, dialytika where the accent parted two vowels.
        for (language, text, capital) in [
            ("", "Straße", "STRASSE"),
            ("en", "Wren's office", "WREN'S OFFICE"),
            ("tr", "ılık ispanya", "ILIK İSPANYA"),
            ("az", "i", "İ"),
            ("nl", "ijsselmeer", "IJSSELMEER"),
            ("el", "Παρατηρητήριο", "ΠΑΡΑΤΗΡΗΤΗΡΙΟ"),
            ("en", "άυλος the café", "ΑΫΛΟΣ THE CAFÉ"),
            ("lt", "i\u{307}\u{300}", "I\u{300}"),
            ("fr", "été à l'œuvre", "ÉTÉ À L'ŒUVRE"),
            ("de", "ŉ ǆ ﬁ", "ʼN Ǆ FI"),
            ("xx-nonsense", "vale", "VALE"),
        ] {
            assert_eq!(capitals(text, language), capital, "{language} {text}");
        }
    }

    #[test]
    fn stops_move_with_their_words() {
        let line = asked("Straße der Glöckner", Case::Capitals, Some("de"), Quotes::AsWritten);
        let stops = [0, 8, 12, line.text.len()];
        let set = engraved(&line, &stops).unwrap();
        assert_eq!(set.text, "STRASSE DER GLÖCKNER");
        let words: Vec<&str> = set.stops.windows(2).map(|w| &set.text[w[0]..w[1]]).collect();
        assert_eq!(words, ["STRASSE ", "DER ", "GLÖCKNER"]);
        let sharp = Line {
            setting: Setting { case: Case::CapitalsWithSharpS, ..line.setting.clone() },
            ..line
        };
        assert_eq!(engraved(&sharp, &stops).unwrap().text, "STRAẞE DER GLÖCKNER");
    }

    #[test]
    fn quotes_and_capitals_are_set_together() {
        let line = asked("the \"Vale\" ring", Case::Capitals, Some("en"), Quotes::Typographic);
        let set = engraved(&line, &[0, 4, 11, 15]).unwrap();
        assert_eq!(set.text, "THE “VALE” RING");
        assert_eq!(set.stops, [0, 4, 15, 19]);
    }

    #[test]
    fn what_needs_no_change_is_the_wording_itself() {
        let plain = asked("Vale", Case::AsWritten, None, Quotes::AsWritten);
        assert_eq!(engraved(&plain, &[0, 4]), None);
        let upper = asked("VALE 1914", Case::Capitals, None, Quotes::AsWritten);
        assert_eq!(engraved(&upper, &[0, 9]), None);
        let unknown = asked("\"Vale\"", Case::AsWritten, Some("xx"), Quotes::Typographic);
        assert_eq!(engraved(&unknown, &[0, 6]), None);
    }

    fn unicode(file: &str) -> Option<String> {
        let path = format!("/usr/share/unicode/{file}");
        let read = std::fs::read_to_string(&path).ok();
        if read.is_none() {
            let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
            assert!(!must, "{path} is not there (Debian package unicode-data)");
            eprintln!("SKIPPED: {path} is not there (Debian package unicode-data)");
        }
        read
    }

    fn text(codes: &str) -> String {
        let code = |code: &str| char::from_u32(u32::from_str_radix(code, 16).unwrap()).unwrap();
        codes.split_whitespace().map(code).collect()
    }

    /// Unicode's `SpecialCasing.txt` and `UnicodeData.txt`, of Debian's package
    /// `unicode-data`. Greek is apart: there capitals lose their accents, by CLDR.
    #[test]
    fn capitals_are_those_of_unicode() {
        let (Some(special), Some(simple)) =
            (unicode("SpecialCasing.txt"), unicode("UnicodeData.txt"))
        else {
            return;
        };
        eprintln!("compared with {}", special.lines().next().unwrap());
        let (mut compared, mut greek, mut known) = (0, 0, Vec::new());
        for line in special.lines().filter(|line| !line.starts_with('#') && line.contains(';')) {
            let fields: Vec<&str> = line.split('#').next().unwrap().split(';').collect();
            let (letter, upper) = (text(fields[0]), text(fields[3]));
            let condition = fields[4].trim();
            let language = condition.split(' ').next().unwrap_or_default();
            if !condition.is_empty() && !matches!(language, "lt" | "tr" | "az") {
                // Of final sigma, whose capital is that of any sigma.
                continue;
            }
            if condition.is_empty() {
                known.push(letter.clone());
            } else if condition.contains(' ') {
                // A condition on neighbours: only one is about capitals, the dot that
                // goes with a Lithuanian i.
                if condition == "lt After_Soft_Dotted" {
                    assert_eq!(capitals(&format!("i{letter}"), "lt"), format!("I{upper}"));
                    compared += 1;
                }
                continue;
            }
            if letter
                .chars()
                .any(|c| unicode_script::UnicodeScript::script(&c) == unicode_script::Script::Greek)
            {
                greek += 1;
                continue;
            }
            assert_eq!(capitals(&letter, language), upper, "{line}");
            compared += 1;
        }
        for line in simple.lines() {
            let fields: Vec<&str> = line.split(';').collect();
            if fields[12].is_empty() {
                continue;
            }
            let (letter, upper) = (text(fields[0]), text(fields[12]));
            let is_greek = |c: char| {
                unicode_script::UnicodeScript::script(&c) == unicode_script::Script::Greek
            };
            if letter.chars().any(is_greek) {
                greek += 1;
            } else if !known.contains(&letter) {
                assert_eq!(capitals(&letter, ""), upper, "{line}");
                compared += 1;
            }
        }
        eprintln!("{compared} capitals agree; {greek} of Greek are CLDR's");
        assert!(compared > 1100, "{compared}");
    }
}
