//! What is had from the page is what the command line writes, and cures do what they say.

use std::collections::BTreeSet;

use serde_json::{Value, json};

use crate::desk::client::Desk;
use crate::support::{Bench, shipped};

#[test]
fn every_file_of_the_page_is_the_command_line_s_to_the_byte() {
    let bench = Bench::new();
    shipped(&bench);
    // A record beside a layout stands on the sheets as well; a stop withholds some of them.
    bench.run(&["new", "--from", "dedication", "signed.toml"]);
    bench.sign("signed.toml");
    let withheld = String::from_utf8(bench.read("dedication.toml")).unwrap();
    bench.put("withheld.toml", withheld.replace("inset  = \"8 mm\"", "inset  = \"2 mm\""));
    let desk = Desk::open(&bench);
    let mut counts = Vec::new();
    for name in
        ["dedication", "photograph", "photo-etched", "inches", "cannot-fit", "signed", "withheld"]
    {
        let ran = bench.run(&["make", &format!("{name}.toml"), "--zip"]);
        assert!([0, 1].contains(&ran.status), "{name}: {}", ran.err);
        let listed = desk.told(&format!("layout/{name}.toml/files"));
        let listed: BTreeSet<String> = listed["files"]
            .as_array()
            .unwrap()
            .iter()
            .map(|file| {
                assert!(file["what"].as_str().unwrap().len() > 3, "{file}");
                file["name"].as_str().unwrap().to_owned()
            })
            .collect();
        let written: BTreeSet<String> = bench.names(&format!("out/{name}")).into_iter().collect();
        assert_eq!(listed, written, "{name}");
        for file in &written {
            let reply = desk.get(&format!("layout/{name}.toml/file/{file}"));
            assert_eq!(reply.status, 200, "{name}/{file}");
            let same = reply.body == bench.read(&format!("out/{name}/{file}"));
            assert!(same, "{name}/{file} is not what the command line wrote");
        }
        let stopped = ran.status == 1;
        let told = desk.told(&format!("layout/{name}.toml/bench"));
        let has = |file: &str| written.contains(file);
        let withheld = told["plaque"]["withheld"].as_array().unwrap();
        assert_eq!(stopped, !withheld.is_empty(), "{name}: {withheld:?}, {}{}", ran.out, ran.err);
        // What is withheld cannot be had by its name either.
        let kept = ["artwork-mm.dxf", "pattern.pdf"].map(|file| {
            let reply = desk.get(&format!("layout/{name}.toml/file/{file}"));
            assert_eq!(reply.status == 200, has(file), "{name}/{file}: {}", reply.status);
            has(file)
        });
        assert_eq!(stopped, kept.contains(&false), "{name}: {kept:?}");
        counts.push((name, written.len(), stopped));
    }
    println!("files compared: {counts:?}");
    assert!(counts.iter().filter(|(_, _, stopped)| *stopped).count() >= 2, "{counts:?}");
}

#[test]
fn the_files_are_those_of_the_text_that_stands() {
    let bench = Bench::new();
    shipped(&bench);
    let desk = Desk::open(&bench);
    let proof = || desk.get("layout/dedication.toml/file/proof.svg").body;
    let first = proof();
    let set = json!([{ "do": "set", "path": ["line", 4, "text"], "to": "1977 – 2026" }]);
    desk.changed("dedication.toml", set);
    let second = proof();
    assert_ne!(first, second);
    bench.run(&["make", "dedication.toml"]);
    assert_eq!(second, bench.read("out/dedication/proof.svg"));
    desk.posted("layout/dedication.toml/undo", &json!({}));
    assert_eq!(proof(), first);
}

/// Code and place of each finding of a kind that stops or warns.
fn noticed(bench: &Value) -> Vec<(String, String)> {
    let findings = bench["plaque"]["findings"].as_array().unwrap();
    let each = findings.iter().filter(|finding| finding["severity"] != "note");
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    each.map(|finding| (text(&finding["code"]), text(&finding["place"]))).collect()
}

#[test]
fn every_cure_of_a_plate_that_cannot_be_made_cures_it_when_the_page_applies_it() {
    let bench = Bench::new();
    shipped(&bench);
    let desk = Desk::open(&bench);
    let mut applied = 0;
    for name in ["cannot-fit.toml", "hairlines.toml"] {
        let first = bench.read(name);
        let before = desk.told(&format!("layout/{name}/bench"));
        let cures = desk.told(&format!("layout/{name}/cures"));
        assert_eq!(cures["version"], before["version"]);
        let report = bench.report(name);
        let remedies: usize = report["findings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|finding| finding["remedies"].as_array().unwrap().len())
            .sum();
        let all = cures["cures"].as_array().unwrap();
        // As many as the command line has.
        assert_eq!(all.len(), remedies, "{name}");
        for cure in all {
            let at = usize::try_from(cure["finding"].as_u64().unwrap()).unwrap();
            let finding = &before["plaque"]["findings"][at];
            let cured = (
                finding["code"].as_str().unwrap().to_owned(),
                finding["place"].as_str().unwrap().to_owned(),
            );
            assert!(noticed(&before).contains(&cured) || finding["severity"] == "note");
            let answer = desk.changed(name, cure["changes"].clone());
            assert_eq!(answer["kept"], "all", "{}: {}", cure["message"], answer["mistakes"]);
            let after = noticed(&answer["bench"]);
            assert!(!after.contains(&cured), "{}: {cured:?} is still there", cure["message"]);
            applied += 1;
            desk.posted(&format!("layout/{name}/undo"), &json!({}));
            assert_eq!(bench.read(name), first, "{}", cure["message"]);
        }
    }
    println!("{applied} cures applied");
    assert!(applied >= 8, "{applied}");
}

#[test]
fn what_the_page_shows_is_what_the_report_says() {
    let bench = Bench::new();
    let layouts = shipped(&bench);
    let desk = Desk::open(&bench);
    for name in layouts {
        let told = desk.told(&format!("layout/{name}/bench"));
        let report = bench.report(&name);
        assert_eq!(told["plaque"]["mark"], report["proof_mark"], "{name}");
        let lines = told["plaque"]["lines"].as_array().unwrap();
        assert_eq!(lines.len(), report["lines"].as_array().unwrap().len(), "{name}");
        for (line, reported) in lines.iter().zip(report["lines"].as_array().unwrap()) {
            for (key, other) in [("cap_height", "cap_height_mm"), ("floor", "floor_mm")] {
                // The report prints four decimals; of a drawing it tells the size elsewhere.
                if let Some(mm) = reported[other].as_f64() {
                    let shown = line[key].as_f64().unwrap();
                    assert!((shown - mm).abs() < 1e-4, "{name}: {key} {shown}, reported {mm}");
                }
            }
        }
        let codes = |all: &Value| -> Vec<String> {
            let all = all.as_array().unwrap().iter();
            all.map(|finding| finding["code"].as_str().unwrap().to_owned()).collect()
        };
        assert_eq!(codes(&told["plaque"]["findings"]), codes(&report["findings"]), "{name}");
    }
}
