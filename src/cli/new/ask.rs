//! One question after the other, at a terminal or from a file.

use std::io::{BufRead, IsTerminal, Read};

use crate::cli::say;
use crate::files::Failure;
use crate::files::load::why;

/// Most bytes of one answer: several times the longest line of an inscription.
const LONGEST_ANSWER: u64 = 1 << 16;
/// Most wrong answers to one question, so that input without an end does not ask for ever.
const MOST_TRIES: usize = 20;

/// What is wrong with an answer, and what would be right.
pub(super) struct Wrong {
    pub(super) message: String,
    pub(super) help: String,
}

impl Wrong {
    /// The answer that the help offers, if it offers one.
    fn offered(&self) -> Option<&str> {
        let rest = ["did you mean ", "write "].iter().find_map(|s| self.help.strip_prefix(s))?;
        let quote = rest.chars().next().filter(|c| matches!(c, '`' | '"'))?;
        rest.strip_prefix(quote)?.split(quote).next().filter(|word| !word.is_empty())
    }
}

/// A question.
pub(super) struct Question<'q> {
    /// What is asked.
    pub(super) asked: &'q str,
    /// What an empty answer means; `None`: it is no answer.
    pub(super) usual: Option<&'q str>,
    /// What `?` shows, and an empty answer where none is usual; in lines.
    pub(super) help: &'q str,
}

/// Asks on standard output.
pub(super) struct Asker<'i> {
    input: &'i mut dyn BufRead,
    /// Whether what is typed is seen as it is typed.
    echoed: bool,
}

impl<'i> Asker<'i> {
    pub(super) fn new(input: &'i mut dyn BufRead) -> Self {
        Self { input, echoed: std::io::stdin().is_terminal() }
    }

    /// Asks until `check` takes the answer, and gives what it made of it; `?` shows help.
    pub(super) fn ask<T>(
        &mut self,
        question: &Question<'_>,
        check: impl FnMut(&str) -> Result<T, Wrong>,
    ) -> Result<T, Failure> {
        self.ask_with(question, "?", check)
    }

    /// As [`Self::ask`], where `?` may be the answer.
    pub(super) fn ask_plainly<T>(
        &mut self,
        question: &Question<'_>,
        check: impl FnMut(&str) -> Result<T, Wrong>,
    ) -> Result<T, Failure> {
        self.ask_with(question, "", check)
    }

    fn ask_with<T>(
        &mut self,
        question: &Question<'_>,
        for_help: &str,
        mut check: impl FnMut(&str) -> Result<T, Wrong>,
    ) -> Result<T, Failure> {
        let mut usual = question.usual.map(str::to_owned);
        for _ in 0..MOST_TRIES {
            let prompt = match &usual {
                Some(usual) if !usual.is_empty() => format!("{} [{usual}]: ", question.asked),
                _ => format!("{}: ", question.asked),
            };
            let typed = self.line(&prompt)?;
            let answer = match (typed.as_str(), &usual) {
                ("", Some(usual)) => usual.as_str(),
                (typed, _) if typed.is_empty() || typed == for_help => {
                    say::out(&indented(question.help));
                    continue;
                }
                (typed, _) => typed,
            };
            match check(answer) {
                Ok(taken) => return Ok(taken),
                Err(wrong) => {
                    say::out(&indented(&format!("{}\n{}", wrong.message, wrong.help)));
                    usual = wrong.offered().map(str::to_owned).or(usual);
                }
            }
        }
        Err(Failure::Input(format!(
            "error: no answer to \"{}\" could be used in {MOST_TRIES} tries; nothing was written",
            question.asked.trim()
        )))
    }

    /// One line of input without its edge spaces and its quotes.
    pub(super) fn line(&mut self, prompt: &str) -> Result<String, Failure> {
        say::out(prompt);
        let mut bytes = Vec::new();
        let read = (&mut *self.input).take(LONGEST_ANSWER).read_until(b'\n', &mut bytes);
        let refused = |why: String| {
            say::out("\n");
            let asked = prompt.split(['[', ':']).next().unwrap_or_default().trim();
            Err(Failure::Input(format!("error: at \"{asked}\": {why}; nothing was written")))
        };
        match read {
            Err(error) => return refused(why(&error)),
            Ok(0) => return refused("the answers end before the last question".to_owned()),
            Ok(_) if bytes.len() as u64 == LONGEST_ANSWER => {
                return refused(format!("the answer is longer than {LONGEST_ANSWER} bytes"));
            }
            Ok(_) => {}
        }
        let Ok(text) = String::from_utf8(bytes) else {
            return refused("the answer is not UTF-8 text".to_owned());
        };
        let text = text.trim_start_matches('\u{FEFF}').trim();
        if !self.echoed {
            say::out(&format!("{text}\n"));
        }
        Ok(text.to_owned())
    }
}

/// Columns that lines of help are kept within: those of the narrowest usual terminal.
const COLUMNS: usize = 78;

/// Lines set in from the edge, so that questions stand out; what is too long for a
/// terminal goes on in the next line, further in.
fn indented(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let mut column = 4;
        out.push_str("    ");
        for (word, number) in line.split(' ').zip(0_usize..) {
            let length = word.chars().count();
            if number > 0 && column + 1 + length > COLUMNS {
                out.push_str("\n      ");
                column = 6;
            } else if number > 0 {
                out.push(' ');
                column += 1;
            }
            out.push_str(word);
            column += length;
        }
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{Wrong, indented};

    #[test]
    fn help_is_set_in_and_kept_within_the_terminal() {
        assert_eq!(indented("a  b\nc"), "    a  b\n    c\n");
        let long = indented(&"word ".repeat(40));
        assert!(long.lines().all(|line| line.chars().count() <= 78), "{long}");
        assert_eq!(long.matches("word").count(), 40);
        assert!(long.starts_with("    word") && long.contains("\n      word"), "{long}");
    }

    #[test]
    fn only_a_whole_answer_is_offered() {
        let offered = |help: &str| {
            let wrong = Wrong { message: String::new(), help: help.to_owned() };
            wrong.offered().map(str::to_owned)
        };
        assert_eq!(offered("did you mean `brass`? It may be: brass").as_deref(), Some("brass"));
        assert_eq!(offered("write \"8 mm\" (or cm, or in)").as_deref(), Some("8 mm"));
        assert_eq!(offered("did you mean \"80 cm\"?").as_deref(), Some("80 cm"));
        assert_eq!(offered("write width x height, such as \"120 x 80 mm\""), None);
        assert_eq!(offered("it may be 5 mm to 2000 mm"), None);
        assert_eq!(offered("write \""), None);
    }
}
