//! `ansata new`: a layout to start from, by questions or from a shipped one.

mod answers;
mod ask;
mod fixing;
mod questions;
mod told;

use std::path::{Path, PathBuf};

use super::{Outcome, say};
use crate::files::starters::Starter;
use crate::files::{Failure, folder};
use ask::Asker;

/// Name of the file where none is given.
const USUAL_NAME: &str = "layout.toml";

pub(super) fn new(from: Option<&str>, file: Option<PathBuf>) -> Result<Outcome, Failure> {
    match from {
        Some(from) => {
            let starter = Starter::named(from)?;
            let usual = || PathBuf::from(format!("{}.toml", starter.name));
            for path in starter.copied(file.unwrap_or_else(usual))? {
                say::out(&format!("wrote {}\n", path.display()));
            }
            Ok(Outcome::Clear)
        }
        None => asked(&file.unwrap_or_else(|| PathBuf::from(USUAL_NAME))),
    }
}

/// Asks, and writes the file when the last question is answered: until then nothing is
/// on the disk, however the questions end.
fn asked(file: &Path) -> Result<Outcome, Failure> {
    folder::refuse_existing([file])?;
    folder::refuse_without_folder(file)?;
    let mut input = std::io::stdin().lock();
    let answers = questions::answers(&mut Asker::new(&mut input))?;
    folder::write_one(file, answers.layout().as_bytes(), false, &[])?;
    let shown = in_shell(&file.display().to_string());
    say::out(&format!("\nwrote {shown}\nnext:  ansata fit {shown}\n       ansata make {shown}\n"));
    Ok(Outcome::Clear)
}

/// A name as it is typed into a shell.
fn in_shell(name: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "._-/".contains(c);
    if name.chars().all(plain) {
        name.to_owned()
    } else {
        format!("'{}'", name.replace('\'', "'\\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::in_shell;

    #[test]
    fn a_name_can_be_copied_into_a_shell() {
        assert_eq!(in_shell("out/cup-2.toml"), "out/cup-2.toml");
        assert_eq!(in_shell("old cup.toml"), "'old cup.toml'");
        assert_eq!(in_shell("ringer's.toml"), "'ringer'\\''s.toml'");
    }
}
