//! The words of a line and what is known of each.

use super::lexicon::{Kind, Kinds, kinds};

/// Marks that stand between words by themselves, with a space on either side.
const SPACED_MARKS: [&str; 11] = ["–", "—", "-", "−", "·", "•", "|", "/", "~", "*", "∙"];

/// Marks after which one pauses: Latin, Greek, Arabic, Devanagari, Han.
const PAUSES: &str = ",;:.!?…–—·،؛؟।、。，；：！？";

/// Brackets and quotation marks, which stand before or after other marks.
const CLOSERS: &str = "\"'”’»›)]}";

/// A word: what stands between white space.
#[derive(Debug, Clone, Copy)]
pub(super) struct Word<'a> {
    /// Byte offset in the text at which it begins.
    pub(super) from: usize,
    /// Byte offset at which it ends.
    pub(super) to: usize,
    /// As written.
    pub(super) text: &'a str,
    /// Without the marks round it; empty for a mark that stands by itself.
    pub(super) bare: &'a str,
    kinds: Kinds,
    /// Whether one pauses after it.
    pub(super) pause: bool,
}

impl<'a> Word<'a> {
    fn new(text: &'a str, from: usize) -> Self {
        let bare = text.trim_matches(|c: char| !c.is_alphanumeric() && !is_currency(c));
        let kinds = kinds(bare);
        let ended = text.trim_end_matches(|c| CLOSERS.contains(c));
        let pause = ended.chars().next_back().is_some_and(|c| PAUSES.contains(c))
            && !(ended.ends_with('.') && (kinds.has(Kind::Abbreviation) || is_dotted(bare)));
        Self { from, to: from + text.len(), text, bare, kinds, pause }
    }

    /// Whether it is a word of a kind.
    pub(super) fn is(&self, kind: Kind) -> bool {
        self.kinds.has(kind)
    }

    /// Whether it is one of the little words that hold a sentence together.
    pub(super) fn is_function(&self) -> bool {
        const FUNCTION: [Kind; 7] = [
            Kind::Article,
            Kind::Of,
            Kind::Joining,
            Kind::Relative,
            Kind::Determiner,
            Kind::Helper,
            Kind::Giving,
        ];
        FUNCTION.iter().any(|&kind| self.is(kind))
    }

    /// Whether it begins with a capital letter.
    pub(super) fn is_capital(&self) -> bool {
        self.bare.chars().next().is_some_and(char::is_uppercase)
    }

    /// Whether it can be part of a name: a capitalised word with a meaning of its own.
    pub(super) fn is_name(&self) -> bool {
        self.is_capital() && !self.is_function()
    }

    /// Whether it holds a letter.
    pub(super) fn has_letter(&self) -> bool {
        self.bare.chars().any(char::is_alphabetic)
    }

    /// Whether a comma is all that parts it from the next word, if anything does.
    pub(super) fn runs_on(&self) -> bool {
        !self.pause || self.text.ends_with(',')
    }

    /// Whether it is a mark that stands by itself, such as a dash between spaces.
    pub(super) fn is_spaced_mark(&self) -> bool {
        SPACED_MARKS.contains(&self.text)
    }

    /// Whether it is an ampersand.
    pub(super) fn is_ampersand(&self) -> bool {
        self.text == "&"
    }

    /// Whether it is the sign of a currency alone.
    pub(super) fn is_currency(&self) -> bool {
        !self.bare.is_empty() && self.bare.chars().all(is_currency)
    }

    /// Whether it opens with a bracket.
    pub(super) fn opens(&self) -> bool {
        self.text.starts_with(['(', '[', '{'])
    }

    /// Whether it is one or more initials: `J.`, `J.R.`, `J`; not the words `A` and `I`.
    pub(super) fn is_initial(&self) -> bool {
        let marks = |c: char| CLOSERS.contains(c) || c == ',';
        let stop = self.text.trim_end_matches(marks).ends_with('.');
        let is_word = matches!(self.bare, "A" | "I") && !stop;
        self.is_capital() && is_dotted(self.bare) && !is_word
    }
}

/// Whether a character is a currency's sign.
pub(super) fn is_currency(c: char) -> bool {
    matches!(c, '$' | '¢' | '£' | '¥' | '\u{20A0}'..='\u{20CF}')
}

/// Whether it is letters one by one with stops between, `J.R`, or a single capital (a
/// bare word has lost its last stop).
fn is_dotted(bare: &str) -> bool {
    let mut parts = bare.split('.');
    let single = parts.all(|part| {
        let mut letters = part.chars();
        letters.next().is_some_and(char::is_alphabetic) && letters.next().is_none()
    });
    single && (bare.contains('.') || bare.chars().all(char::is_uppercase))
}

/// The words of a text, in order.
pub(super) fn words(text: &str) -> Vec<Word<'_>> {
    let mut words = Vec::new();
    let mut start = None;
    let ends = text.char_indices().chain([(text.len(), ' ')]);
    for (at, c) in ends {
        match (c.is_whitespace(), start) {
            (true, Some(from)) => {
                words.push(Word::new(&text[from..at], from));
                start = None;
            }
            (false, None) => start = Some(at),
            _ => {}
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::words;

    #[test]
    fn words_stand_between_white_space_of_any_kind() {
        let text = " No.\u{A0}7, “the\n tenor” ";
        let found = words(text);
        let bare: Vec<&str> = found.iter().map(|word| word.bare).collect();
        assert_eq!(bare, ["No", "7", "the", "tenor"]);
        assert!(found.iter().all(|word| &text[word.from..word.to] == word.text));
        assert!(words("").is_empty() && words(" \n").is_empty());
    }

    #[test]
    fn one_pauses_after_marks_but_not_after_an_abbreviation() {
        let pauses = |text: &str| words(text)[0].pause;
        for text in ["Vale,", "rang.", "practice.”", "(1976);", "Vale –", "A—", "鐘。"] {
            let last = words(text).pop().expect("a word");
            assert!(last.pause, "{text}");
        }
        for text in ["Vale", "Revd.", "J.", "J.R.", "A.D.", "No.", "ringers’", "Dr."] {
            assert!(!pauses(text), "{text}");
        }
        assert!(pauses("Dr.,") && pauses("Mayor."));
    }

    #[test]
    fn initials_are_single_capitals_but_not_the_words_a_and_i() {
        let initial = |text: &str| words(text)[0].is_initial();
        for text in ["J.", "J", "J.R.", "A.", "I.", "É."] {
            assert!(initial(text), "{text}");
        }
        for text in ["A", "I", "j.", "Jo.", "7.", "&", "JR"] {
            assert!(!initial(text), "{text}");
        }
    }
}
