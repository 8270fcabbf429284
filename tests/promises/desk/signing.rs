//! The sign-off on the page is the command line's, and can be taken back.

use serde_json::{Value, json};

use crate::desk::client::Desk;
use crate::support::{Bench, shipped};

fn opened(bench: &Bench) -> Desk {
    shipped(bench);
    Desk::open(bench)
}

fn told(desk: &Desk) -> Value {
    desk.told("layout/dedication.toml/bench")
}

fn signing(mark: &Value) -> Value {
    json!({ "by": "Orla Penhallick", "role": "For the ringers", "date": "2026-11-25", "mark": mark })
}

#[test]
fn who_signs_on_the_page_leaves_the_record_that_the_command_line_leaves() {
    let bench = Bench::new();
    let desk = opened(&bench);
    let mark = told(&desk)["plaque"]["mark"].clone();
    let answer = desk.posted("layout/dedication.toml/sign", &signing(&mark));
    let signed = &answer["bench"]["plaque"]["signed"];
    assert_eq!((&signed["mark"], &signed["holds"]), (&mark, &json!(true)));
    assert!(signed["signatures"][0].as_str().unwrap().contains("Orla Penhallick"), "{signed}");
    let other = Bench::new();
    shipped(&other);
    other.sign("dedication.toml");
    let record = "dedication.signed.toml";
    assert_eq!(bench.read(record), other.read(record));
    // A second person signs for the same.
    let second = json!({ "by": "Ives Penhallow", "role": "For the engraver", "date": "2026-11-26", "mark": mark });
    let answer = desk.posted("layout/dedication.toml/sign", &second);
    assert_eq!(answer["bench"]["plaque"]["signed"]["signatures"].as_array().unwrap().len(), 2);
    assert_eq!(bench.run(&["make", "dedication.toml"]).status, 0);
}

#[test]
fn what_is_otherwise_than_signed_is_told_and_withheld_until_it_is_put_back_or_withdrawn() {
    let bench = Bench::new();
    let desk = opened(&bench);
    let mark = told(&desk)["plaque"]["mark"].clone();
    desk.posted("layout/dedication.toml/sign", &signing(&mark));
    let record = bench.read("dedication.signed.toml");
    let comma = json!([{ "do": "set", "path": ["line", 2, "text"], "to": "given by her family, and her band" }]);
    let answer = desk.changed("dedication.toml", comma);
    let plaque = &answer["bench"]["plaque"];
    assert_eq!(plaque["signed"]["holds"], false);
    assert!(!plaque["signed"]["changes"].as_array().unwrap().is_empty(), "{}", plaque["signed"]);
    assert!(!plaque["withheld"].as_array().unwrap().is_empty());
    assert_eq!(desk.get("layout/dedication.toml/file/artwork-mm.dxf").status, 404);
    assert_eq!(desk.get("layout/dedication.toml/file/pattern.pdf").status, 404);
    assert_eq!(desk.get("layout/dedication.toml/file/proof.pdf").status, 200);
    // Nobody signs for what stops, nor for a mark that is no longer shown.
    let now = plaque["mark"].clone();
    for (shown, why) in [(&mark, "changed since"), (&now, "stop")] {
        let reply = desk.post("layout/dedication.toml/sign", signing(shown).to_string().as_bytes());
        assert_eq!(reply.status, 409);
        assert!(reply.refused().contains(why), "{}", reply.refused());
    }
    assert_eq!(bench.read("dedication.signed.toml"), record);
    // Put back: it holds again.
    let back = desk.posted("layout/dedication.toml/undo", &json!({}));
    assert_eq!(back["bench"]["plaque"]["signed"]["holds"], true);
    assert_eq!(desk.get("layout/dedication.toml/file/artwork-mm.dxf").status, 200);
    // Withdrawn: the record goes and is kept among earlier versions.
    desk.posted("layout/dedication.toml/redo", &json!({}));
    let free = desk.posted("layout/dedication.toml/withdraw", &json!({}));
    let plaque = &free["bench"]["plaque"];
    assert_eq!((&plaque["signed"], &plaque["withheld"]), (&Value::Null, &json!([])));
    assert!(!bench.has("dedication.signed.toml"));
    let kept = bench.names(".earlier/dedication.signed");
    let path = format!(".earlier/dedication.signed/{}", kept.last().unwrap());
    assert_eq!(bench.read(&path), record);
    let again = desk.post("layout/dedication.toml/withdraw", b"{}");
    assert_eq!(again.status, 409);
    // And the new wording can be signed.
    let answer = desk.posted("layout/dedication.toml/sign", &signing(&now));
    assert_eq!(answer["bench"]["plaque"]["signed"]["holds"], true);
}

#[test]
fn an_earlier_version_is_listed_brought_back_and_that_can_be_undone() {
    let bench = Bench::new();
    let desk = opened(&bench);
    let first = bench.read("dedication.toml");
    assert_eq!(desk.told("layout/dedication.toml/versions"), json!([]));
    let set = |to: &str| json!([{ "do": "set", "path": ["title"], "to": to }]);
    desk.changed("dedication.toml", set("second"));
    let second = bench.read("dedication.toml");
    let versions = desk.told("layout/dedication.toml/versions");
    let versions = versions.as_array().unwrap();
    assert_eq!(versions.len(), 1, "the text as it was found is kept: {versions:?}");
    let kept: u64 = versions[0]["about"].as_str().unwrap().parse().unwrap();
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap();
    assert!(now.as_millis().abs_diff(u128::from(kept)) < 600_000, "{kept}");
    let name = json!({ "name": versions[0]["name"] });
    let answer = desk.posted("layout/dedication.toml/bring-back", &name);
    assert_eq!(answer["kept"], "all");
    assert_eq!(bench.read("dedication.toml"), first);
    // What stood before is kept as well, and the step can be undone.
    assert_eq!(desk.told("layout/dedication.toml/versions").as_array().unwrap().len(), 2);
    desk.posted("layout/dedication.toml/undo", &json!({}));
    assert_eq!(bench.read("dedication.toml"), second);
    // Earlier versions are no layouts of the folder.
    let listed = desk.told("folder").to_string();
    assert!(!listed.contains("0001"), "{listed}");
}

#[test]
fn who_signs_must_be_named_and_the_day_be_a_day() {
    let bench = Bench::new();
    let desk = opened(&bench);
    let mark = told(&desk)["plaque"]["mark"].clone();
    for (key, bad) in [
        ("by", ""),
        ("by", "   "),
        ("by", "a\u{0}b"),
        ("role", ""),
        ("date", ""),
        ("date", "25 November"),
        ("date", "2026-02-30"),
        ("mark", ""),
        ("mark", "AAAAAAAAAA"),
    ] {
        let mut signing = signing(&mark);
        signing[key] = json!(bad);
        let reply = desk.post("layout/dedication.toml/sign", signing.to_string().as_bytes());
        assert!((400..500).contains(&reply.status), "{key} {bad:?}: {}", reply.status);
        assert!(reply.refused().len() > 10);
        assert!(!bench.has("dedication.signed.toml"), "{key} {bad:?}");
    }
}

#[test]
fn a_new_layout_is_what_the_command_line_begins_with_the_work_s_own_name() {
    let bench = Bench::new();
    let desk = Desk::open(&bench);
    let begun = desk.posted("new", &json!({ "title": "The Tarrant Cup", "from": "dedication" }));
    assert_eq!(begun["name"], "the-tarrant-cup.toml");
    let other = Bench::new();
    other.run(&["new", "--from", "dedication", "cup.toml"]);
    let wanted = String::from_utf8(other.read("cup.toml")).unwrap();
    let wanted = wanted.replace("Striking cup: dedication plaque", "The Tarrant Cup");
    assert_eq!(String::from_utf8(bench.read("the-tarrant-cup.toml")).unwrap(), wanted);
    // Every starter, and none at all, is made of what can be read; nothing is written over.
    let starters = desk.told("folder")["starters"].as_array().unwrap().clone();
    let mut names = std::collections::BTreeSet::new();
    let from = starters.iter().map(|starter| starter["name"].clone()).chain([Value::Null]);
    for from in from.collect::<Vec<_>>() {
        let begun = desk.posted("new", &json!({ "title": "A cup", "from": from }));
        let name = begun["name"].as_str().unwrap().to_owned();
        let told = desk.told(&format!("layout/{name}/bench"));
        assert_eq!(told["mistakes"], json!([]), "{from}");
        assert_eq!(told["values"]["title"], "A cup");
        assert!(names.insert(name), "{from}");
    }
    assert!(names.len() >= 6, "{names:?}");
}
