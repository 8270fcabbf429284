//! Programs from outside the project that look at what ansata writes.
//!
//! `tests/all` installs them and sets `ANSATA_OUTSIDE=1`, under which a missing
//! one fails the test; without it the test says loudly that it saw nothing.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Mutex;

use serde_json::Value;

use crate::lettering_outside::say;

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

/// What a script of `tests/outside` answers to a question; `None`, said loudly, where no
/// Python is named. Its `versions` are printed.
///
/// Panics where it fails, and where none is named though `ANSATA_OUTSIDE=1`.
pub(crate) fn asked(script: &str, question: &Value) -> Option<Value> {
    let Ok(python) = std::env::var("ANSATA_PYTHON") else {
        let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
        assert!(!must, "ANSATA_PYTHON must name a Python for the outside checks");
        say(&format!("NOT CHECKED: ANSATA_PYTHON is not set; `tests/all` runs {script}"));
        return None;
    };
    let mut child = Command::new(python)
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside").join(script))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("ANSATA_PYTHON names a Python that runs");
    child.stdin.take().unwrap().write_all(question.to_string().as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "tests/outside/{script} failed");
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    say(&format!("{script}: compared with {}", answer["versions"].as_str().unwrap()));
    Some(answer)
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
