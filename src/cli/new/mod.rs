//! `ansata new`: a layout to start from, by questions or from a shipped one.

mod answers;
mod ask;
mod fixing;
mod questions;
mod starters;
mod told;

use std::path::{Path, PathBuf};

use super::{Failure, Outcome, folder, say};
use ask::Asker;

/// Name of the file where none is given.
const USUAL_NAME: &str = "layout.toml";

pub(super) fn new(from: Option<&str>, file: Option<PathBuf>) -> Result<Outcome, Failure> {
    match from {
        Some(from) => starters::copied(from, file),
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
    let shown = file.display();
    say::out(&format!("\nwrote {shown}\nnext:  ansata fit {shown}\n       ansata make {shown}\n"));
    Ok(Outcome::Clear)
}
