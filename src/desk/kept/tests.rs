use std::fs;

use super::Kept;
use crate::desk::earlier;

fn kept(folder: &tempfile::TempDir) -> Kept {
    let path = folder.path().join("cup.toml");
    fs::write(&path, "a = 1\n").unwrap();
    Kept::open(path).unwrap()
}

fn stroke(name: &str) -> Option<String> {
    Some(name.to_owned())
}

#[test]
fn every_step_is_on_disk_and_can_be_undone_and_done_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut kept = kept(&folder);
    let disk = || fs::read_to_string(folder.path().join("cup.toml")).unwrap();
    assert!(!kept.can_undo() && !kept.undo().unwrap());
    for n in 2..=300 {
        kept.write(&format!("a = {n}\n"), None).unwrap();
        assert_eq!(disk(), format!("a = {n}\n"));
    }
    for n in (1..300).rev() {
        assert!(kept.undo().unwrap());
        assert_eq!(disk(), format!("a = {n}\n"));
    }
    assert!(!kept.can_undo() && kept.can_redo());
    assert!(kept.redo().unwrap());
    assert_eq!(*kept.text(), *"a = 2\n");
    // A new step leaves nothing to do again.
    kept.write("b = 1\n", None).unwrap();
    assert!(!kept.can_redo());
}

#[test]
fn letters_of_one_stroke_are_one_step() {
    let folder = tempfile::tempdir().unwrap();
    let mut kept = kept(&folder);
    for text in ["a = 12\n", "a = 123\n", "a = 1234\n"] {
        kept.write(text, stroke("one")).unwrap();
    }
    kept.write("a = 5\n", stroke("two")).unwrap();
    assert!(kept.undo().unwrap());
    assert_eq!(*kept.text(), *"a = 1234\n");
    assert!(kept.undo().unwrap());
    assert_eq!(*kept.text(), *"a = 1\n");
    assert!(!kept.can_undo());
    // After undoing, the same stroke is another step.
    assert!(kept.redo().unwrap());
    kept.write("a = 9\n", stroke("one")).unwrap();
    kept.undo().unwrap();
    assert_eq!(*kept.text(), *"a = 1234\n");
}

#[test]
fn what_somebody_else_wrote_is_taken_in_and_can_be_undone() {
    let folder = tempfile::tempdir().unwrap();
    let mut kept = kept(&folder);
    assert!(!kept.read_again().unwrap());
    let version = kept.version();
    fs::write(folder.path().join("cup.toml"), "a = 7\n").unwrap();
    assert!(kept.read_again().unwrap());
    assert!(kept.version() > version);
    assert!(kept.undo().unwrap());
    assert_eq!(*kept.text(), *"a = 1\n");
    let all = earlier::all(kept.path());
    assert_eq!(earlier::text(kept.path(), &all[0].name).unwrap(), "a = 1\n");
}

#[test]
fn the_text_as_it_was_found_is_kept_and_then_not_each_letter() {
    let folder = tempfile::tempdir().unwrap();
    let mut kept = kept(&folder);
    for n in 2..9 {
        kept.write(&format!("a = {n}\n"), None).unwrap();
    }
    let names: Vec<String> =
        earlier::all(kept.path()).into_iter().map(|version| version.name).collect();
    assert_eq!(names, ["0001.toml"]);
    kept.keep_version(true);
    // The same text is not kept twice.
    kept.keep_version(true);
    let names: Vec<String> =
        earlier::all(kept.path()).into_iter().map(|version| version.name).collect();
    assert_eq!(names, ["0002.toml", "0001.toml"]);
    assert_eq!(earlier::text(kept.path(), "0002.toml").unwrap(), "a = 8\n");
    for bad in ["../cup.toml", "cup.toml", "0003.toml", "", "0001.toml/"] {
        assert!(earlier::text(kept.path(), bad).is_err(), "{bad}");
    }
}
