//! What one step changed in a text: little enough to keep every step of a visit.

/// A stretch of a text that became another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Patch {
    /// Where it begins, in bytes.
    at: usize,
    /// What stood there.
    old: String,
    /// What stands there now.
    new: String,
}

impl Patch {
    /// From one text to another: all between what both begin with and what both end with.
    pub(super) fn between(old: &str, new: &str) -> Self {
        let alike = |a: &mut dyn Iterator<Item = char>, b: &mut dyn Iterator<Item = char>| {
            a.zip(b).take_while(|(a, b)| a == b).map(|(a, _)| a.len_utf8()).sum::<usize>()
        };
        let at = alike(&mut old.chars(), &mut new.chars());
        let (old, new) = (&old[at..], &new[at..]);
        let tail = alike(&mut old.chars().rev(), &mut new.chars().rev());
        Self {
            at,
            old: old[..old.len() - tail].to_owned(),
            new: new[..new.len() - tail].to_owned(),
        }
    }

    /// The text before it; the text itself where it is not what the patch made.
    pub(super) fn undone(&self, text: &str) -> String {
        replaced(text, self.at, &self.new, &self.old)
    }

    /// The text after it.
    pub(super) fn done(&self, text: &str) -> String {
        replaced(text, self.at, &self.old, &self.new)
    }
}

fn replaced(text: &str, at: usize, from: &str, to: &str) -> String {
    match text.get(at..).and_then(|rest| rest.strip_prefix(from)) {
        Some(rest) => format!("{}{to}{rest}", &text[..at]),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::Patch;

    #[test]
    fn a_step_is_small_and_goes_both_ways() {
        let patch = Patch::between("size = \"120 mm\"", "size = \"100 mm\"");
        assert_eq!(patch, Patch { at: 9, old: "2".to_owned(), new: "0".to_owned() });
        assert_eq!(patch.undone("size = \"100 mm\""), "size = \"120 mm\"");
        assert_eq!(patch.done("size = \"120 mm\""), "size = \"100 mm\"");
    }

    #[test]
    fn any_text_becomes_any_other_and_back() {
        arbtest::arbtest(|u| {
            // Few letters, so that beginnings and ends are often alike; some of two bytes.
            let mut text = || -> arbtest::arbitrary::Result<String> {
                let length = u.int_in_range(0..=6)?;
                (0..length).map(|_| u.choose(&['a', 'b', 'é', 'è']).copied()).collect()
            };
            let (old, new) = (text()?, text()?);
            let patch = Patch::between(&old, &new);
            assert_eq!(patch.done(&old), new);
            assert_eq!(patch.undone(&new), old);
            Ok(())
        });
    }
}
