//! Promises about the house itself: a newcomer finds the room for a change.

use std::fs;
use std::path::{Path, PathBuf};

/// Rooms in the order of the flow; each may use only those before it.
const ROOMS: [&str; 22] = [
    "units",
    "finding",
    "picture",
    "layout",
    "wording",
    "lettering",
    "plate",
    "photo",
    "decoration",
    "mount",
    "floors",
    "fit",
    "checks",
    "job",
    "signoff",
    "remedies",
    "report",
    "drawing",
    "sheets",
    "files",
    "desk",
    "cli",
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

fn all_sources() -> Vec<PathBuf> {
    let mut found = Vec::new();
    sources(&root().join("src"), &mut found);
    found.sort();
    assert!(found.len() > 30, "only {} source files found", found.len());
    found
}

/// The room a source file belongs to; `None` for lib.rs and main.rs.
fn room(path: &Path) -> Option<usize> {
    let inside = path.strip_prefix(root().join("src")).unwrap();
    let first = inside.components().next().unwrap().as_os_str().to_str().unwrap();
    ROOMS.iter().position(|room| first.trim_end_matches(".rs") == *room)
}

#[test]
fn a_room_uses_only_rooms_above_it() {
    let mut arrows = 0;
    for path in all_sources() {
        let Some(here) = room(&path) else { continue };
        let text = fs::read_to_string(&path).unwrap();
        // Unit tests may go the whole way through; documentation may point anywhere.
        let code = text.split("#[cfg(test)]").next().unwrap();
        for line in code.lines().filter(|line| !line.trim_start().starts_with("//")) {
            for used in line.split("crate::").skip(1) {
                let name: String =
                    used.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                let Some(there) = ROOMS.iter().position(|room| *room == name) else { continue };
                arrows += 1;
                assert!(
                    there <= here,
                    "{} in room `{}` uses the later room `{name}`",
                    path.display(),
                    ROOMS[here]
                );
            }
        }
    }
    assert!(arrows > 50, "only {arrows} arrows seen: the reader of `crate::` is broken");
}

#[test]
fn every_room_of_the_list_exists_and_no_other() {
    let library = fs::read_to_string(root().join("src/lib.rs")).unwrap();
    let mut modules: Vec<&str> = library
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod "))
        .map(|rest| rest.trim_end_matches(';'))
        .collect();
    modules.sort_unstable();
    let mut rooms = ROOMS.to_vec();
    rooms.sort_unstable();
    assert_eq!(modules, rooms);
}

#[test]
fn a_source_file_can_be_held_in_the_head() {
    for path in all_sources() {
        let lines = fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 500, "{} has {lines} lines: is it two rooms?", path.display());
    }
}

#[test]
fn nothing_is_imported_by_glob() {
    for path in all_sources() {
        let text = fs::read_to_string(&path).unwrap();
        let globs: Vec<&str> = text
            .lines()
            .filter(|l| l.trim_start().starts_with("use ") && l.contains("::*"))
            .collect();
        // A test module may open its own file.
        let outside: Vec<_> = globs.iter().filter(|line| line.trim() != "use super::*;").collect();
        assert!(outside.is_empty(), "{}: {outside:?}", path.display());
    }
}

#[test]
fn the_top_level_holds_only_the_agreed_names() {
    const AGREED: [&str; 9] = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "fonts-open",
        "tests",
        "layouts",
    ];
    for entry in fs::read_dir(root()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        // What building and running leave behind is not part of the project.
        let left_behind = name == "target" || name == "out";
        assert!(
            left_behind || name.starts_with('.') || AGREED.contains(&name.as_str()),
            "`{name}` is not an agreed name at the top level"
        );
    }
}
