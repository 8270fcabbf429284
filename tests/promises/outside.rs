//! Programs from outside the project that look at what ansata writes.
//!
//! `tests/all` installs them and sets `ANSATA_OUTSIDE=1`, under which a missing
//! one fails the test; without it the test says loudly that it saw nothing.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;
use std::sync::Mutex;

/// What poppler 22 says of every tagged file whose `Suspects` is false: it takes the key for
/// damaged where it is a boolean, as ISO 32000-1, table 321, has it.
const POPPLER_SLIP: &str = "Suspects object is wrong type (boolean)";

/// Programs whose version has been printed in this run.
static INTRODUCED: Mutex<BTreeSet<String>> = Mutex::new(BTreeSet::new());

/// Runs `program` in `folder`. Its standard output, or `None` where it is not
/// installed and need not be.
///
/// Panics where it fails, and where it is missing though `ANSATA_OUTSIDE=1`.
pub(crate) fn run(program: &str, arguments: &[&str], folder: &Path) -> Option<String> {
    introduce(program);
    let ended = match Command::new(program).args(arguments).current_dir(folder).output() {
        Ok(ended) => ended,
        Err(error) => {
            let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
            assert!(!must, "{program} is needed for the outside checks: {error}");
            eprintln!("NOT CHECKED: {program} is not installed ({error}); `tests/all` installs it");
            return None;
        }
    };
    let said = String::from_utf8_lossy(&ended.stderr);
    assert!(ended.status.success(), "{program} {arguments:?}: {} {said}", ended.status);
    // Poppler reports a damaged file on standard error and goes on.
    let damage = |line: &&str| line.contains("Syntax") && !line.ends_with(POPPLER_SLIP);
    assert_eq!(said.lines().find(damage), None, "{program} {arguments:?}: {said}");
    Some(String::from_utf8_lossy(&ended.stdout).into_owned())
}

/// Prints which version of a program the checks are made with, once a run.
fn introduce(program: &str) {
    let first = INTRODUCED.lock().is_ok_and(|mut known| known.insert(program.to_owned()));
    if !first {
        return;
    }
    let option = if program.starts_with("pdf") { "-v" } else { "--version" };
    if let Ok(ended) = Command::new(program).arg(option).output() {
        let both = [ended.stdout, ended.stderr].concat();
        let text = String::from_utf8_lossy(&both).into_owned();
        println!("outside check by {}", text.lines().next().unwrap_or(program));
    }
}
