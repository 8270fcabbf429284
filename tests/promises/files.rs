//! Promises about files: whole or not at all, and only our own replaced.

use crate::support::{Bench, codes, plain};

/// A plate that can be made, with two screws through it.
fn good() -> String {
    plain("90 x 50 mm", &["RUNG IN HONOUR", "of the new tenor"], MOUNT)
}

const MOUNT: &str = "[mount]\nfixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n\
    holes = \"two sides\"\ninset = \"6 mm\"\n[face]\nsize = \"120 x 80 mm\"\nmaterial = \"white oak\"\nthickness = \"19 mm\"\n";

/// The same with a head that breaks out of the plate: a stop of the mount.
fn head_off() -> String {
    good().replace("inset = \"6 mm\"", "inset = \"1.5 mm\"")
}

/// The same with a character that no shipped lettering has: a stop of the lettering.
fn character_missing() -> String {
    good().replace("of the new tenor", "of the new \u{1F514}")
}

#[test]
fn a_stop_of_the_mount_withholds_the_pattern_and_nothing_else() {
    let bench = Bench::with(&head_off());
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    let names = bench.names("made");
    assert!(!names.iter().any(|name| name.starts_with("pattern")), "{names:?}");
    for name in ["proof.pdf", "artwork-mm.svg", "mockup.pdf", "report.json"] {
        assert!(names.iter().any(|n| n == name), "no {name}: {names:?}");
    }
    assert!(ran.out.contains("withheld: pattern"), "{}", ran.out);
}

#[test]
fn a_stop_of_the_lettering_withholds_the_artwork_and_not_the_pattern() {
    let bench = Bench::with(&character_missing());
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    let names = bench.names("made");
    assert!(!names.iter().any(|name| name.starts_with("artwork")), "{names:?}");
    assert!(names.iter().any(|name| name == "pattern.pdf"), "{names:?}");
    assert!(ran.out.contains("U+1F514"), "{}", ran.out);
}

#[test]
fn an_old_pattern_does_not_stay_beside_a_stopped_proof() {
    let bench = Bench::with(&good());
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made"]).status, 0);
    assert!(bench.has("made/pattern.pdf"));
    bench.put("made/notes.txt", "mine");
    bench.put("cup.toml", head_off());
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 1);
    assert!(!bench.has("made/pattern.pdf") && !bench.has("made/pattern.svg"));
    assert!(ran.out.contains("removed, because they are of an earlier run"), "{}", ran.out);
    assert_eq!(bench.read("made/notes.txt"), b"mine");
}

#[test]
fn a_finding_accepted_by_name_and_value_no_longer_withholds() {
    let bench = Bench::with(&good());
    let tight =
        good().replace("[[line]]\ntext = \"of", "[[line]]\nat_least = \"9 mm\"\ntext = \"of");
    bench.put("cup.toml", &tight);
    let report = bench.report("cup.toml");
    let finding = report["findings"]
        .as_array()
        .unwrap()
        .iter()
        .find(|finding| finding["code"] == "below-asked-height")
        .unwrap_or_else(|| panic!("{:?}", codes(&report)))
        .clone();
    let accept = |value: f64| {
        format!(
            "accept = [{{ code = \"below-asked-height\", where = {}, measured = {value:?}, reason = \"agreed by letter\" }}]\n{tight}",
            finding["where"]["key"]
        )
    };
    let measured = finding["measured"]["value"].as_f64().unwrap();
    bench.put("cup.toml", accept(measured));
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("accepted: agreed by letter"), "{}", ran.out);
    assert!(bench.has("made/artwork-mm.svg"));
    // An acceptance holds for the value it names and falls void beyond 0.05 mm.
    bench.put("cup.toml", accept(measured + 0.06));
    let ran = bench.run(&["fit", "cup.toml"]);
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert!(ran.out.contains("acceptance-void"), "{}", ran.out);
}

#[test]
fn what_can_never_be_accepted_still_stops() {
    let accept = "accept = [{ code = \"head-off-plate\", where = \"mount.holes\", measured = 1.5, reason = \"hurry\" }]\n";
    let bench = Bench::with(&format!("{accept}{}", head_off()));
    let ran = bench.run(&["fit", "cup.toml"]);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("can never be accepted"), "{}", ran.out);
}

#[test]
fn a_file_that_is_not_ours_is_never_replaced() {
    let bench = Bench::with(&good());
    bench.put("made/proof.svg", "somebody's drawing");
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 3, "{}{}", ran.out, ran.err);
    assert_eq!(bench.names("made"), ["proof.svg"]);
    assert_eq!(bench.read("made/proof.svg"), b"somebody's drawing");
}

#[test]
fn a_report_that_is_not_ours_makes_the_folder_untouchable() {
    let bench = Bench::with(&good());
    bench.put("made/report.json", "{\"format\": \"something else\", \"files\": [\"proof.svg\"]}");
    bench.put("made/proof.svg", "somebody's drawing");
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 3);
    assert_eq!(bench.names("made"), ["proof.svg", "report.json"]);
}

#[test]
fn a_report_cannot_make_us_remove_a_file_elsewhere() {
    let bench = Bench::with(&good());
    bench.put("keep.txt", "precious");
    bench.put(
        "made/report.json",
        "{\"format\": \"ansata-report\", \"files\": [\"../keep.txt\", \"report.json\"]}",
    );
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made"]).status, 0);
    assert_eq!(bench.read("keep.txt"), b"precious");
}

#[test]
fn bad_input_writes_nothing_and_leaves_an_earlier_run_alone() {
    let bench = Bench::with(&good());
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made"]).status, 0);
    let (before, names) = (bench.read("made/report.json"), bench.names("made"));
    bench.put("cup.toml", good().replace("inset = \"6 mm\"", "inset = 6"));
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(ran.err.contains("cup.toml:"), "{}", ran.err);
    assert_eq!(bench.read("made/report.json"), before);
    assert_eq!(bench.names("made"), names);
}

#[test]
fn the_layout_itself_is_never_written_over() {
    let bench = Bench::new();
    bench.put("cup.svg", good());
    let before = bench.read("cup.svg");
    for arguments in [
        vec!["proof", "cup.svg", "-o", "cup.svg", "--replace"],
        vec!["pattern", "cup.svg", "-o", "./cup.svg", "--replace"],
        vec!["artwork", "cup.svg", "-o", "./cup.svg", "--replace"],
    ] {
        let ran = bench.run(&arguments);
        assert_eq!(ran.status, 2, "{}", ran.err);
        assert_eq!(bench.read("cup.svg"), before);
    }
    bench.put("made/proof.svg", good());
    let ran = bench.run(&["make", "made/proof.svg", "-o", "made"]);
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert_eq!(bench.names("made"), ["proof.svg"]);
}

#[test]
fn a_single_file_is_replaced_only_when_told() {
    let bench = Bench::with(&good());
    bench.put("cup.pdf", "older");
    let ran = bench.run(&["proof", "cup.toml", "-o", "cup.pdf"]);
    assert_eq!(ran.status, 3);
    assert_eq!(bench.read("cup.pdf"), b"older");
    let ran = bench.run(&["proof", "cup.toml", "-o", "cup.pdf", "--replace"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(bench.read("cup.pdf").starts_with(b"%PDF"));
}

#[test]
fn a_folder_that_cannot_be_written_is_said_and_nothing_is_half_written() {
    let bench = Bench::with(&good());
    bench.put("a-file", "x");
    for folder in ["a-file", "a-file/below", "/proc/ansata"] {
        let ran = bench.run(&["make", "cup.toml", "-o", folder]);
        assert_eq!(ran.status, 3, "{folder}: {}{}", ran.out, ran.err);
        assert!(ran.err.starts_with("error: "), "{}", ran.err);
    }
    assert_eq!(bench.names("."), ["a-file", "cup.toml"]);
}

#[test]
#[cfg(unix)]
fn files_are_as_readable_as_any_other_new_file() {
    use std::os::unix::fs::PermissionsExt;
    let bench = Bench::with(&good());
    bench.run(&["make", "cup.toml", "-o", "made"]);
    bench.put("plain.txt", "x");
    let mode = |name: &str| std::fs::metadata(bench.path(name)).unwrap().permissions().mode();
    assert_eq!(mode("made/proof.pdf"), mode("plain.txt"));
}

#[test]
fn the_contents_sheet_names_every_file_and_what_is_withheld_and_why() {
    let bench = Bench::with(&good());
    let contents = |folder: &str| {
        let text = String::from_utf8(bench.read(&format!("{folder}/contents.txt"))).unwrap();
        for name in bench.names(folder) {
            assert_eq!(text.matches(&format!("  {name}\n")).count(), 1, "{name}: {text}");
        }
        text
    };
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made", "--zip"]).status, 0);
    assert!(contents("made").ends_with("Withheld\n  - Nothing: no stop stands.\n"));
    assert!(bench.has("made/cup.zip"));
    // The archive of an earlier run holds artwork that is withheld now.
    bench.put("cup.toml", character_missing());
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 1);
    assert!(!bench.has("made/cup.zip") && !bench.has("made/artwork-mm.dxf"), "{}", ran.out);
    let text = contents("made");
    assert!(text.contains("  - artwork: stop, ") && text.contains("U+1F514"), "{text}");
    bench.put("cup.toml", head_off());
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made"]).status, 1);
    let text = contents("made");
    assert!(text.contains("  - mount pattern and drilling files: stop, "), "{text}");
    assert!(text.contains("artwork-mm.dxf") && !text.contains("pattern.pdf"), "{text}");
}
