//! Promises about `ansata artwork`: the same bytes as `make`, into a file or a folder, and
//! nothing that may not be cut.

use crate::support::{Bench, plain};

const MOUNT: &str = "[mount]\nfixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n\
    holes = \"two sides\"\ninset = \"6 mm\"\n";

fn good() -> String {
    plain("90 x 50 mm", &["RUNG IN HONOUR", "For the ringers"], MOUNT)
}

/// A character that no shipped lettering has.
fn stopped() -> String {
    good().replace("RUNG IN HONOUR", "RUNG IN \u{16a0}\u{13080}")
}

#[test]
fn a_folder_of_artwork_holds_what_make_writes_of_it() {
    let bench = Bench::with(&good());
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made"]).status, 0);
    let ran = bench.run(&["artwork", "cup.toml", "-o", "cut"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let of_make: Vec<String> =
        bench.names("made").into_iter().filter(|name| name.starts_with("artwork")).collect();
    assert_eq!(bench.names("cut"), of_make);
    assert!(of_make.len() > 10, "{of_make:?}");
    for name in &of_make {
        assert_eq!(
            bench.read(&format!("cut/{name}")),
            bench.read(&format!("made/{name}")),
            "{name}"
        );
    }
    assert!(ran.out.contains("proof mark "), "{}", ran.out);
}

#[test]
fn one_file_holds_everything_or_one_operation() {
    let bench = Bench::with(&good());
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made"]).status, 0);
    for (output, only, same) in [
        ("all.svg", None, "artwork-mm.svg"),
        ("all.pdf", None, "artwork-mm.pdf"),
        ("all.DXF", None, "artwork-mm.dxf"),
        ("letters.svg", Some("lettering"), "artwork-lettering-mm.svg"),
        ("holes.dxf", Some("holes"), "artwork-holes-mm.dxf"),
    ] {
        let mut arguments = vec!["artwork", "cup.toml", "-o", output];
        arguments.extend(only.iter().flat_map(|name| ["--only", name]));
        let ran = bench.run(&arguments);
        assert_eq!(ran.status, 0, "{output}: {}{}", ran.out, ran.err);
        assert_eq!(bench.read(output), bench.read(&format!("made/{same}")), "{output}");
    }
}

#[test]
fn artwork_that_may_not_be_cut_is_withheld_and_that_of_before_goes() {
    let bench = Bench::with(&good());
    assert_eq!(bench.run(&["artwork", "cup.toml", "-o", "cut"]).status, 0);
    assert_eq!(bench.run(&["artwork", "cup.toml", "-o", "one.svg"]).status, 0);
    bench.put("cut/note.txt", "mine");
    let before = bench.names("cut");
    bench.put("cup.toml", stopped());
    for output in ["cut", "one.svg"] {
        let ran = bench.run(&["artwork", "cup.toml", "-o", output]);
        assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
        assert!(
            ran.out.contains("withheld: artwork (a stop of the lettering stands)"),
            "{}",
            ran.out
        );
    }
    // Without --replace nothing is touched.
    assert_eq!(bench.names("cut"), before);
    assert!(bench.has("one.svg"));
    let ran = bench.run(&["artwork", "cup.toml", "-o", "cut", "--replace"]);
    assert_eq!(ran.status, 1);
    assert!(ran.out.contains("removed, because they are of an earlier run"), "{}", ran.out);
    assert_eq!(bench.names("cut"), ["note.txt"]);
    assert_eq!(bench.run(&["artwork", "cup.toml", "-o", "one.svg", "--replace"]).status, 1);
    assert!(!bench.has("one.svg"));
}

#[test]
fn a_stop_of_the_mount_does_not_withhold_the_artwork() {
    // A screw as long as this comes out behind the board.
    let deep = good().replace("3/8 in", "1 in")
        + "[face]\nsize = \"120 x 80 mm\"\nmaterial = \"white oak\"\nthickness = \"9 mm\"\n";
    let bench = Bench::with(&deep);
    let ran = bench.run(&["artwork", "cup.toml", "-o", "cut.svg"]);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("wrote cut.svg"), "{}", ran.out);
    assert!(bench.has("cut.svg"));
}

#[test]
fn what_is_there_is_replaced_only_when_told_and_old_operations_go() {
    let bench = Bench::with(&good());
    assert_eq!(bench.run(&["artwork", "cup.toml", "-o", "cut"]).status, 0);
    let before = bench.read("cut/artwork-mm.svg");
    // No mount, no holes: their files would be drilled.
    bench.put("cup.toml", good().replace(MOUNT, ""));
    let ran = bench.run(&["artwork", "cup.toml", "-o", "cut"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
    assert!(ran.err.contains("is there already"), "{}", ran.err);
    assert_eq!(bench.read("cut/artwork-mm.svg"), before);
    let ran = bench.run(&["artwork", "cup.toml", "-o", "cut", "--replace"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert_ne!(bench.read("cut/artwork-mm.svg"), before);
    assert!(ran.out.contains("artwork-holes-mm.dxf"), "{}", ran.out);
    assert!(bench.names("cut").iter().all(|name| !name.contains("holes")));
}

#[test]
fn a_folder_of_make_keeps_to_one_version() {
    let bench = Bench::with(&good());
    assert_eq!(bench.run(&["make", "cup.toml", "-o", "made"]).status, 0);
    let names = bench.names("made");
    bench.put("cup.toml", good().replace("HONOUR", "HONOR"));
    let ran = bench.run(&["artwork", "cup.toml", "-o", "made", "--replace"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
    assert!(ran.err.contains("holds what `ansata make` wrote"), "{}", ran.err);
    assert_eq!(bench.names("made"), names);
}

#[test]
fn what_cannot_be_meant_is_refused_with_the_nearest_right_word() {
    let bench = Bench::with(&good());
    for (arguments, said) in [
        (vec!["-o", "cut.png"], "expected .svg, .pdf or .dxf"),
        (vec!["-o", "cut.dfx"], "such as cut.dxf"),
        (vec!["-o", "cut", "--only", "holes"], "--only makes one file"),
        (vec!["-o", "cut.svg", "--only", "letering"], "perhaps `lettering`"),
        (vec!["-o", "cut.svg", "--only", "border"], "what is cut by this layout: lettering"),
    ] {
        let mut all = vec!["artwork", "cup.toml"];
        all.extend(arguments);
        let ran = bench.run(&all);
        assert_eq!(ran.status, 2, "{all:?}: {}", ran.out);
        assert!(ran.err.contains(said), "{all:?}: {}", ran.err);
    }
    assert_eq!(bench.names("."), ["cup.toml"]);
}
