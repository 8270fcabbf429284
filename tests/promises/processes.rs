//! Promises about what a process does to a material: what cannot be made, or harms, is a
//! `stop` that says what to do, and falls away where the layout says so.

use crate::support::{Bench, codes};

fn text(process: &str, plate: &str, more: &str) -> String {
    format!(
        "ansata = 1\ntitle = \"Test\"\n[plate]\nsize = \"120 x 80 mm\"\n{plate}\n[engraving]\n\
         process = \"{process}\"\n{more}\n[lettering]\ndefault = \"Archivo\"\n[[line]]\ntext = \"Marrowby Vale\"\n"
    )
}

const CODES: [&str; 4] =
    ["process-on-material", "laser-on-plastic", "laser-on-chlorine", "outlines-for-drag"];

/// Codes and severities of what is said of a process on a plate.
fn told(process: &str, plate: &str, more: &str) -> Vec<(String, String)> {
    let bench = Bench::with(&text(process, plate, more));
    let report = bench.report("cup.toml");
    let all = report["findings"].as_array().unwrap().iter();
    let word = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    all.map(|finding| (word(&finding["code"]), word(&finding["severity"])))
        .filter(|(code, _)| CODES.contains(&code.as_str()))
        .collect()
}

fn is(told: &[(String, String)], wanted: &[(&str, &str)]) -> bool {
    let plain: Vec<(&str, &str)> = told.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
    plain == wanted
}

#[test]
fn a_co2_laser_is_stopped_on_bare_metal_and_not_on_what_lies_on_it() {
    for metal in ["brass", "bronze", "copper", "aluminium", "stainless steel"] {
        let bare = told("co2 laser", &format!("material = \"{metal}\""), "");
        assert!(is(&bare, &[("process-on-material", "stop")]), "{metal}: {bare:?}");
        for surface in
            ["finish = \"lacquered\"", "coating = \"paint\"", "coating = \"marking compound\""]
        {
            let coated = told("co2 laser", &format!("material = \"{metal}\"\n{surface}"), "");
            assert!(coated.is_empty(), "{metal}, {surface}: {coated:?}");
        }
    }
    let anodised = "material = \"aluminium\"\ncoating = \"anodised\"";
    assert!(told("co2 laser", anodised, "").is_empty());
    // Silver is as bare a metal as brass.
    let silver = told("co2 laser", "material = \"brass\"\ncoating = \"silver plate\"", "");
    assert!(is(&silver, &[("process-on-material", "stop")]), "{silver:?}");
    assert!(told("rotary", "material = \"brass\"", "").is_empty());
}

#[test]
fn pvc_is_never_put_under_a_laser_whatever_is_accepted() {
    for laser in ["co2 laser", "fibre laser"] {
        for surface in ["", "coating = \"paint\"", "coating = \"marking compound\""] {
            let plate = format!("material = \"pvc\"\n{surface}");
            let said = told(laser, &plate, "");
            assert!(is(&said, &[("laser-on-chlorine", "stop")]), "{laser} {surface}: {said:?}");
        }
    }
    let accepted = text("co2 laser", "material = \"pvc\"", "").replace(
        "[plate]",
        "accept = [{ code = \"laser-on-chlorine\", where = \"engraving.process\", reason = \"none\" }]\n[plate]",
    );
    let bench = Bench::with(&accepted);
    let ran = bench.run(&["make", "cup.toml", "-o", "out"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    let both = format!("{} {}", ran.out, ran.err);
    let every = both.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in ["hydrogen chloride", "supplier's safety data sheet", "follow local codes"] {
        assert!(every.contains(words), "{words}: {every}");
    }
    assert!(!bench.names("out").iter().any(|name| name.starts_with("artwork")));
    // Other plastics are told of, and made.
    let laminate = told("co2 laser", "material = \"laminate\"", "");
    assert!(is(&laminate, &[("laser-on-plastic", "note")]), "{laminate:?}");
    assert!(told("rotary", "material = \"pvc\"", "").is_empty());
}

#[test]
fn a_drag_point_is_told_apart_from_filled_letters_and_from_raised_ones() {
    let brass = "material = \"brass\"";
    let incised = told("drag", brass, "");
    assert!(is(&incised, &[("outlines-for-drag", "caution")]), "{incised:?}");
    let raised = told("drag", brass, "cut = \"raised\"");
    let wanted = [("process-on-material", "stop"), ("outlines-for-drag", "caution")];
    assert!(is(&raised, &wanted), "{raised:?}");
    assert!(told("rotary", brass, "cut = \"raised\"").is_empty());
}

#[test]
fn habits_are_cautions_and_say_that_they_have_no_source() {
    for (process, material) in [
        ("burnished", "brass"),
        ("rotary", "glass"),
        ("hand cut", "stainless steel"),
        ("printed", "brass"),
        ("sandblasted", "laminate"),
    ] {
        let bench = Bench::with(&text(process, &format!("material = \"{material}\""), ""));
        let report = bench.report("cup.toml");
        assert!(codes(&report).iter().any(|code| code == "process-on-material"), "{process}");
        let all = report["findings"].as_array().unwrap();
        let one = all.iter().find(|f| f["code"] == "process-on-material").unwrap();
        assert_ne!(one["severity"], "stop", "{process} {material}");
        assert_eq!(one["source"], "common practice, no source", "{process} {material}");
    }
    let through = told("rotary", "material = \"brass\"\ncoating = \"nickel plate\"", "");
    assert!(is(&through, &[("process-on-material", "note")]), "{through:?}");
}
