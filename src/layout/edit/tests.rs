use serde_json::{Value, json};

use super::{Edited, Step, path_at, path_of};

const TEXT: &str = "\
ansata = 1
title  = \"Cup\"     # the striking cup

# as agreed in March
[plate]
size     = \"120 x 80 mm\"   # measured twice
material = \"brass\"
border   = { inset = \"3 mm\", lines = 1 }

# the name of the vale
[[line]]
text = \"MARROWBY VALE\"

# the cup
[[line]]
text = \"The Cup\"
keep = [\"The Cup\"]
";

fn path(steps: Value) -> Vec<Step> {
    serde_json::from_value(steps).unwrap()
}

fn edited(change: impl Fn(&mut Edited)) -> String {
    let mut edited = Edited::of(TEXT).unwrap();
    change(&mut edited);
    edited.text()
}

#[test]
fn nothing_changed_is_the_text_to_the_byte() {
    assert_eq!(edited(|_| {}), TEXT);
    assert_eq!(Edited::of("a = \r\n").unwrap_err(), "the file is no TOML");
}

#[test]
fn a_value_is_set_and_every_remark_stays() {
    let text = edited(|e| e.set(&path(json!(["plate", "size"])), &json!("100 x 70 mm")).unwrap());
    assert_eq!(text, TEXT.replace("120 x 80 mm", "100 x 70 mm"));
    let text = edited(|e| e.set(&path(json!(["plate", "border", "lines"])), &json!(2)).unwrap());
    assert_eq!(text, TEXT.replace("lines = 1", "lines = 2"));
    let text = edited(|e| e.set(&path(json!(["line", 1, "keep", 0])), &json!("Cup")).unwrap());
    assert_eq!(text, TEXT.replace("[\"The Cup\"]", "[\"Cup\"]"));
}

#[test]
fn tables_that_are_missing_are_made() {
    let text = edited(|e| e.set(&path(json!(["fit", "mode"])), &json!("full")).unwrap());
    assert_eq!(text, format!("{TEXT}\n[fit]\nmode = \"full\"\n"));
    let at = path(json!(["line", 0, "lettering", "weight"]));
    let text = edited(|e| e.set(&at, &json!(650)).unwrap());
    let wanted = "text = \"MARROWBY VALE\"\nlettering = { weight = 650 }\n";
    assert_eq!(text, TEXT.replace("text = \"MARROWBY VALE\"\n", wanted));
    let text =
        edited(|e| e.insert(&path(json!(["photo", 0])), &json!({ "file": "a.jpg" })).unwrap());
    assert_eq!(text, format!("{TEXT}\n[[photo]]\nfile = \"a.jpg\"\n"));
}

#[test]
fn what_a_table_is_about_is_written_first() {
    let fixing = json!({ "gauge": 2, "head": "round", "kind": "wood screw", "metal": null });
    let text = edited(|e| e.set(&path(json!(["mount", "fixing"])), &fixing).unwrap());
    let wanted = "[mount]\nfixing = { kind = \"wood screw\", gauge = 2, head = \"round\" }\n";
    assert_eq!(text, format!("{TEXT}\n{wanted}"));
}

#[test]
fn entries_come_go_and_change_places_with_their_remarks() {
    let one = path(json!(["line", 1]));
    let text = edited(|e| e.insert(&one, &json!({ "text": "of" })).unwrap());
    assert_eq!(text, TEXT.replace("\n# the cup\n", "\n[[line]]\ntext = \"of\"\n\n# the cup\n"));
    let text = edited(|e| e.insert(&path(json!(["line", 9])), &json!({ "text": "of" })).unwrap());
    assert_eq!(text, format!("{TEXT}\n[[line]]\ntext = \"of\"\n"));
    let text = edited(|e| assert!(e.remove(&one)));
    assert_eq!(text, TEXT.split("\n# the cup").next().unwrap());
    let text = edited(|e| e.shift(&one, 0).unwrap());
    let (head, lines) = TEXT.split_once("\n# the name").unwrap();
    let (first, second) = lines.split_once("\n# the cup").unwrap();
    assert_eq!(text, format!("{head}\n# the cup{second}\n# the name{first}"));
    let text = edited(|e| {
        assert!(e.remove(&path(json!(["line", 0]))));
        assert!(e.remove(&path(json!(["line", 0]))));
        assert!(!e.remove(&path(json!(["line", 0]))));
    });
    assert!(!text.contains("[[line]]"), "{text}");
}

#[test]
fn a_table_below_an_entry_goes_where_the_entry_goes() {
    let text =
        "[[line]]\ntext = \"a\"\n[line.lettering]\nname = \"Cinzel\"\n\n[[line]]\ntext = \"b\"\n";
    let mut e = Edited::of(text).unwrap();
    e.shift(&path(json!(["line", 0])), 1).unwrap();
    let lines = e.values();
    let again = Edited::of(&e.text()).unwrap().values();
    assert_eq!(again, lines, "{}", e.text());
    assert_eq!(again["line"][1]["lettering"]["name"], "Cinzel");
}

#[test]
fn a_remark_above_a_key_outlives_it() {
    let text = "# all of it\na = 1 # one\n# further\nb = 2\n";
    let mut e = Edited::of(text).unwrap();
    assert!(e.remove(&path(json!(["a"]))));
    assert_eq!(e.text(), "# all of it\n# further\nb = 2\n");
    assert!(!e.remove(&path(json!(["z"]))));
}

#[test]
fn a_way_through_a_word_is_refused_and_nothing_is_done() {
    for way in
        [json!(["title", "x"]), json!(["plate", 0, "x"]), json!(["line", 7, "text"]), json!([])]
    {
        let mut e = Edited::of(TEXT).unwrap();
        assert!(e.set(&path(way.clone()), &json!(1)).is_err(), "{way}");
        assert_eq!(e.text(), TEXT);
    }
    let mut e = Edited::of(TEXT).unwrap();
    assert!(e.set(&path(json!(["title"])), &json!(null)).is_err());
}

#[test]
fn values_are_read_as_they_are_written() {
    let e = Edited::of(TEXT).unwrap();
    assert_eq!(
        e.get(&path(json!(["plate", "border"]))),
        Some(json!({"inset": "3 mm", "lines": 1}))
    );
    assert_eq!(e.get(&path(json!(["line", 1, "keep", 0]))), Some(json!("The Cup")));
    assert_eq!(e.get(&path(json!(["line", 2]))), None);
    assert_eq!(e.get(&path(json!(["fit", "mode"]))), None);
    assert_eq!(e.values()["line"][0], json!({ "text": "MARROWBY VALE" }));
}

#[test]
fn a_place_in_the_text_is_found_by_its_path() {
    let at = |what: &str| serde_json::to_value(path_at(TEXT, TEXT.find(what).unwrap())).unwrap();
    assert_eq!(at("120 x"), json!(["plate", "size"]));
    assert_eq!(at("3 mm"), json!(["plate", "border", "inset"]));
    assert_eq!(at("The Cup\"\n"), json!(["line", 1, "text"]));
    assert_eq!(at("[plate]"), json!(["plate"]));
    assert_eq!(at("[[line]]"), json!(["line", 0]));
    assert_eq!(at("The Cup\"]"), json!(["line", 1, "keep", 0]));
    assert_eq!(path_at("no toml", 2), []);
    assert_eq!(path_of("line.2.text"), path(json!(["line", 1, "text"])));
    assert_eq!(path_of(""), []);
}

#[test]
fn whatever_is_changed_can_be_read_again() {
    let places = ["plate", "line", "photo", "size", "text", "keep", "border", "new key"];
    arbtest::arbtest(|u| {
        let mut e = Edited::of(TEXT).unwrap();
        for _ in 0..u.int_in_range(1..=6)? {
            let mut way = Vec::new();
            for _ in 0..u.int_in_range(0..=4)? {
                way.push(if u.arbitrary()? {
                    Step::Index(u.int_in_range(0..=3)?)
                } else {
                    Step::Key((*u.choose(&places)?).to_owned())
                });
            }
            let value = match u.int_in_range(0..=4)? {
                0 => json!(u.arbitrary::<String>()?),
                1 => json!({ "text": u.arbitrary::<String>()? }),
                2 => json!([{ "a": 1.5 }, { "b": [1, "c"] }]),
                3 => json!(u.arbitrary::<i32>()?),
                _ => json!([]),
            };
            match u.int_in_range(0..=3)? {
                0 => drop(e.set(&way, &value)),
                1 => drop(e.insert(&way, &value)),
                2 => drop(e.shift(&way, u.int_in_range(0..=3)?)),
                _ => drop(e.remove(&way)),
            }
        }
        let text = e.text();
        let again = Edited::of(&text).unwrap_or_else(|why| panic!("{why}: {text}"));
        assert_eq!(again.values(), e.values(), "{text}");
        Ok(())
    });
}
