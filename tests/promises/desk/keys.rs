//! Every key of the layout file can be reached through the desk.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::desk::client::Desk;
use crate::messages::hill;
use crate::schema::every_key;
use crate::support::{Bench, shipped};

/// Layouts that are samples of keys, each with the ways to them: every key of the schema has
/// one. What they name is laid beside them.
pub(crate) fn samples(bench: &Bench) -> BTreeMap<String, Vec<Vec<Value>>> {
    companions(bench);
    // Keys of one sample go together.
    let mut samples: BTreeMap<String, Vec<Vec<Value>>> = BTreeMap::new();
    for (text, way) in every_key() {
        let step = |step: &String| step.parse::<usize>().map_or_else(|_| json!(step), |n| json!(n));
        samples.entry(text).or_default().push(way.iter().map(step).collect());
    }
    samples
}

/// Companions that samples of layouts name.
fn companions(bench: &Bench) {
    let drawing = "<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0H9V9'/></svg>";
    bench.put("hill.png", hill());
    bench.put("ours.svg", drawing);
    bench.put("a.txt", "Given by the ringers\n");
}

/// The way to everything in a value: keys and places in lists.
fn ways(value: &Value, way: &[Value], found: &mut Vec<Vec<Value>>) {
    let mut go = |step: Value, value: &Value| {
        let way = [way, &[step]].concat();
        found.push(way.clone());
        ways(value, &way, found);
    };
    match value {
        Value::Object(keys) => keys.iter().for_each(|(key, value)| go(json!(key), value)),
        Value::Array(all) => all.iter().enumerate().for_each(|(at, value)| go(json!(at), value)),
        _ => {}
    }
}

fn at<'v>(value: &'v Value, way: &[Value]) -> &'v Value {
    way.iter().fold(value, |here, step| match step {
        Value::String(key) => &here[key],
        step => &here[usize::try_from(step.as_u64().unwrap()).unwrap()],
    })
}

/// Taken away, and put there again.
fn away_and_back(values: &Value, way: &[Value]) -> [Value; 2] {
    let to = at(values, way);
    let place = way.last().unwrap().is_u64();
    let back = if place { "insert" } else { "set" };
    [
        json!({ "do": "remove", "path": way, "was": to }),
        json!({ "do": back, "path": way, "to": to }),
    ]
}

#[test]
fn all_that_shipped_layouts_hold_can_be_taken_away_and_put_back() {
    let bench = Bench::new();
    let layouts = shipped(&bench);
    let desk = Desk::open(&bench);
    let mut count = 0;
    for name in layouts {
        let first = bench.read(&name);
        let told = desk.told(&format!("layout/{name}/bench"));
        let values = &told["values"];
        let mut all = Vec::new();
        ways(values, &[], &mut all);
        let changes: Vec<Value> = all.iter().flat_map(|way| away_and_back(values, way)).collect();
        count += all.len();
        let answer = desk.changed(&name, json!(changes));
        assert_eq!(answer["kept"], "all", "{name}: {}{}", answer["mistakes"], answer["clash"]);
        assert_eq!(answer["bench"]["values"], *values, "{name}");
        // The same plaque comes of it, to the mark.
        assert_eq!(answer["bench"]["plaque"]["mark"], told["plaque"]["mark"], "{name}");
        desk.posted(&format!("layout/{name}/undo"), &json!({}));
        // What is set to what it is stays as it was written.
        let single =
            all.iter().filter(|way| !at(values, way).is_object() && !at(values, way).is_array());
        let same: Vec<Value> =
            single.map(|way| json!({ "do": "set", "path": way, "to": at(values, way) })).collect();
        let answer = desk.changed(&name, json!(same));
        assert_eq!(answer["kept"], "all", "{name}");
        assert_eq!(String::from_utf8(bench.read(&name)), String::from_utf8(first), "{name}");
    }
    println!("{count} values taken away and put back");
    assert!(count > 400, "{count}");
}

/// What stands at the top of each sample: a key that nobody knows. The reader then has done
/// with the layout before it is worked out, and the desk is asked for its edits alone.
const UNKNOWN: &str = "ours = { kept = \"as it is\" } # not ansata's\n";

#[test]
fn every_key_of_the_schema_can_be_set_beside_keys_that_nobody_knows() {
    let bench = Bench::new();
    let samples = samples(&bench);
    let desk = Desk::open(&bench);
    let mut keys = 0;
    for (text, ways) in samples {
        bench.put("cup.toml", format!("{UNKNOWN}{text}"));
        let told = desk.told("layout/cup.toml/bench");
        assert_eq!(told["mistakes"][0]["path"], json!(["ours"]), "{}", told["mistakes"]);
        let mut changes = Vec::new();
        for way in &ways {
            let to = at(&told["values"], way);
            assert!(!to.is_null(), "{way:?} is not in\n{text}");
            changes.push(json!({ "do": "remove", "path": way }));
            changes.push(json!({ "do": "set", "path": way, "to": to }));
        }
        let answer = desk.changed("cup.toml", json!(changes));
        assert_eq!(answer["kept"], "all", "{ways:?}: {}\n{text}", answer["mistakes"]);
        assert_eq!(answer["bench"]["values"], told["values"], "{ways:?}\n{text}");
        assert!(answer["bench"]["text"].as_str().unwrap().starts_with(UNKNOWN), "{text}");
        keys += ways.len();
    }
    println!("{keys} keys");
    assert!(keys > 180, "only {keys} keys");
}
