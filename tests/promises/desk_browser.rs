//! What browsers make of the desk: scripts of `tests/outside/desk`, each run under node against
//! a desk of its own, with Debian's Chromium or Firefox.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;

use serde_json::{Value, json};

use crate::desk::keys::samples;
use crate::lettering_outside::say;
use crate::support::Bench;

/// One browser at a time: each takes a core and more.
static BROWSER: Mutex<()> = Mutex::new(());

/// What a script answers; `None`, said loudly, where nothing that drives browsers is named.
///
/// Panics where it fails, and where nothing is named though `ANSATA_OUTSIDE=1`.
fn browsed(script: &str) -> Option<Value> {
    browsed_on(script, None)
}

/// The same of a script that is given a folder of samples.
fn browsed_on(script: &str, samples: Option<&Bench>) -> Option<Value> {
    let Some(node) = std::env::var_os("ANSATA_NODE") else {
        let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
        assert!(!must, "ANSATA_NODE must name a folder with what drives browsers");
        say(&format!("NOT CHECKED: ANSATA_NODE is not set; `tests/all` runs {script}"));
        return None;
    };
    let _alone = BROWSER.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    let scripts = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/desk");
    let ended = Command::new("node")
        .arg(scripts.join(script))
        .env("ANSATA", env!("CARGO_BIN_EXE_ansata"))
        .env("ANSATA_NODE", PathBuf::from(node))
        .envs(samples.map(|bench| ("ANSATA_SAMPLES", bench.path("."))))
        .output()
        .expect("node runs");
    let said = String::from_utf8_lossy(&ended.stderr);
    assert!(ended.status.success(), "tests/outside/desk/{script}: {said}");
    let answer: Value = serde_json::from_slice(&ended.stdout).expect("an answer as JSON");
    say(&format!("{script}: {answer}"));
    Some(answer)
}

#[test]
fn a_new_maker_makes_the_plaque_with_a_photograph_in_less_than_three_minutes() {
    if let Some(answer) = browsed("whole-job.mjs") {
        assert!(answer["actions"].as_u64().unwrap() > 20);
        assert!(answer["seconds"].as_u64().unwrap() < 180);
    }
}

#[test]
fn the_whole_job_is_done_by_keys_alone() {
    if let Some(answer) = browsed("by-keyboard.mjs") {
        assert!(answer["keys"].as_u64().unwrap() > 100);
    }
}

#[test]
fn every_key_has_its_control_and_that_shows_what_the_file_holds() {
    let bench = Bench::new();
    let mut ways = Vec::new();
    for (at, (text, keys)) in samples(&bench).into_iter().enumerate() {
        let name = format!("cup-{at}.toml");
        bench.put(&name, text);
        ways.push(json!({ "name": name, "ways": keys }));
    }
    bench.put("ways.json", json!(ways).to_string());
    if let Some(answer) = browsed_on("every-key.mjs", Some(&bench)) {
        assert!(answer["keys"].as_u64().unwrap() > 180);
    }
}

#[test]
fn firefox_shows_the_desk_and_saves_what_is_typed() {
    let _ = browsed("firefox.mjs");
}

#[test]
fn the_sheet_is_read_without_sight_by_day_and_night_and_fits_every_screen() {
    if let Some(answer) = browsed("looks.mjs") {
        assert!(answer["looked"].as_u64().unwrap() >= 64);
        assert!(answer["rules"].as_u64().unwrap() > 20);
    }
}

#[test]
fn two_pages_and_late_answers_lose_nothing_and_the_plaque_never_flickers() {
    if let Some(answer) = browsed("at-once.mjs") {
        assert!(answer["changes"].as_u64().unwrap() >= 25);
    }
}

#[test]
fn the_page_s_scripts_keep_to_their_types() {
    if let Some(answer) = browsed("types.mjs") {
        assert!(answer["scripts"].as_u64().unwrap() > 20);
    }
}
