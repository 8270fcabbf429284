//! Promises about what changed since a sign-off: what is not cut in the plate is minded too,
//! and what was signed can be put back.

use serde_json::Value;

use crate::support::{Bench, plain};

const MOUNT: &str = "[mount]\nfixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n\
    holes = \"two sides\"\ninset = \"6 mm\"\n[face]\nsize = \"120 x 80 mm\"\nmaterial = \"white oak\"\nthickness = \"19 mm\"\n";

const LINES: [&str; 2] = ["RUNG IN HONOUR", "For the ringers, who rang"];

fn good() -> String {
    plain("90 x 50 mm", &LINES, MOUNT)
}

fn signed(layout: &str) -> Bench {
    let bench = Bench::with(layout);
    bench.sign("cup.toml");
    bench
}

/// The finding of a code in a report, and its remedies.
fn finding(report: &Value, code: &str) -> Value {
    let all = report["findings"].as_array().unwrap();
    all.iter().find(|finding| finding["code"] == code).cloned().unwrap_or_default()
}

#[test]
fn bores_in_the_face_are_agreed_and_a_change_is_told() {
    let bench = signed(&good());
    // Another wood asks for another pilot hole; nothing is cut otherwise.
    bench.put("cup.toml", good().replace("white oak", "white pine"));
    let ran = bench.run(&["fit", "cup.toml"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("caution [changed-beside-sign-off]"), "{}", ran.out);
    // 90 % and 70 % of the root of a No. 2 screw (Wood Handbook), 1.456 mm.
    let told =
        "pilot bore in the face: Ø1.019 mm, 8.525 mm deep to the tip, was Ø1.311 mm, 8.525 mm";
    assert!(ran.out.contains(told), "{}", ran.out);
    // The shank's bore is the same in both.
    assert!(!ran.out.contains("shank bore"), "{}", ran.out);
    bench.put("cup.toml", good());
    assert!(!bench.run(&["fit", "cup.toml"]).out.contains("sign-off"));
}

#[test]
fn colours_and_coats_are_agreed() {
    let laminate = good().replace(
        "material = \"brass\"",
        "material = \"laminate\"\ncap = \"white\"\ncore = \"black\"",
    );
    let bench = signed(&laminate);
    bench.put("cup.toml", laminate.replace("core = \"black\"", "core = \"red\""));
    let ran = bench.run(&["fit", "cup.toml"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("colours: white over red, was white over black"), "{}", ran.out);

    let bench = signed(&good());
    let coated = "material = \"brass\"\ncoating = \"paint\"\ncolour = \"blue\"";
    bench.put("cup.toml", good().replacen("material = \"brass\"", coated, 1));
    let ran = bench.run(&["fit", "cup.toml"]);
    for said in ["coating: paint, which is new", "colours: blue, which is new"] {
        assert!(ran.out.contains(said), "no `{said}` in {}", ran.out);
    }
}

#[test]
fn a_changed_wording_is_offered_as_it_was_signed() {
    let bench = signed(&good());
    let changed = good().replace("ringers, who", "ringers who").replace("HONOUR", "HONOR");
    bench.put("cup.toml", &changed);
    let stop = finding(&bench.report("cup.toml"), "changed-since-sign-off");
    let [remedy] = stop["remedies"].as_array().unwrap().as_slice() else { panic!("{stop}") };
    assert_eq!(remedy["kind"], "as-signed");
    let edits = remedy["edits"].as_array().unwrap();
    assert_eq!(edits.len(), 2, "{remedy}");
    // Each edit, written into the file, makes it whole again.
    let mut restored = changed;
    for (edit, line) in edits.iter().zip(LINES) {
        let value: toml::Value =
            toml::from_str::<toml::Table>(&format!("v = {}", edit["value"].as_str().unwrap()))
                .unwrap()["v"]
                .clone();
        assert_eq!(value.as_str(), Some(line));
        let was = if line == LINES[0] { "RUNG IN HONOR" } else { "For the ringers who rang" };
        restored = restored.replace(was, line);
    }
    bench.put("cup.toml", restored);
    assert_eq!(bench.run(&["fit", "cup.toml"]).status, 0);
}

#[test]
fn a_changed_size_is_offered_as_it_was_signed() {
    let bench = signed(&good());
    bench.put("cup.toml", good().replace("90 x 50 mm", "91 x 50 mm"));
    let stop = finding(&bench.report("cup.toml"), "changed-since-sign-off");
    assert_eq!(stop["remedies"][0]["edits"][0]["key"], "plate.size");
    assert_eq!(stop["remedies"][0]["edits"][0]["value"], "\"90 x 50 mm\"");
}

#[test]
fn nothing_is_offered_that_would_not_be_what_was_signed() {
    let bench = signed(&good());
    for changed in [
        // Something else was changed as well, which the record cannot put back.
        good().replace(", who", " who").replace("inset = \"6 mm\"", "inset = \"7 mm\""),
        good().replace("Atkinson Hyperlegible", "Besley"),
        // A line came: which of them is the one that was signed?
        format!("{}[[line]]\ntext = \"1976\"\n", good()),
    ] {
        bench.put("cup.toml", &changed);
        let stop = finding(&bench.report("cup.toml"), "changed-since-sign-off");
        assert_eq!(stop["severity"], "stop", "{changed}");
        assert!(stop["remedies"].as_array().is_none_or(Vec::is_empty), "{stop}");
    }
}

#[test]
fn another_ornament_is_named_as_what_changed() {
    let corners = "[corners]\nornament = \"leaf\"\nsize = \"6 mm\"\n";
    let plain = plain("90 x 50 mm", &LINES, corners);
    let bench = signed(&plain);
    for (changed, told) in [
        (plain.replace("leaf", "bracket"), "decoration: it is drawn or stands otherwise"),
        (plain.replace(corners, ""), "decoration, its drawings: none, was 4 drawings"),
    ] {
        assert_ne!(changed, plain);
        bench.put("cup.toml", changed);
        let ran = bench.run(&["fit", "cup.toml"]);
        assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
        assert!(ran.out.contains(told), "no `{told}` in {}", ran.out);
    }
}
