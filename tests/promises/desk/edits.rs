//! No edit is lost, however many there are and whoever makes them.

use serde_json::{Value, json};

use crate::desk::client::Desk;
use crate::support::{Bench, plain};

/// As many edits as the issue of a long day: one with every letter of ten plaques.
const MANY: usize = 2_000;

fn bench() -> Bench {
    Bench::with(&plain(
        "120 x 60 mm",
        &["Edit 0 of the tenor", "THE BELLS"],
        "# a remark at the end\n",
    ))
}

fn held(bench: &Bench) -> String {
    String::from_utf8(bench.read("cup.toml")).unwrap()
}

fn set(path: &[Value], to: &str) -> Value {
    json!({ "changes": [{ "do": "set", "path": path, "to": to }] })
}

/// The most that the desk may grow by in so many edits. What a step keeps is the stretch of
/// text that it changed, some 250 bytes with its place; four times as much is granted, and
/// 4 MiB for what the system's store of memory holds back. Were each answer kept, it would be
/// twice as much, and a job is several times as large as the answer that is made of it.
fn bound(edits: usize) -> u64 {
    4 * 1024 * 1024 + 4 * 250 * u64::try_from(edits).unwrap()
}

#[test]
fn two_thousand_edits_lose_none_take_no_more_memory_and_can_all_be_undone() {
    let bench = bench();
    let first = held(&bench);
    let desk = Desk::open(&bench);
    let mut talk = desk.talk();
    let line = [json!("line"), json!(0), json!("text")];
    let (mut early, mut length, mut version) = (0, 0, 0);
    for n in 1..=MANY {
        let words = format!("Edit {n} of the tenor");
        let answer = talk.post(&desk, "layout/cup.toml/change", &set(&line, &words)).unwrap();
        assert_eq!(answer["kept"], "all", "{n}: {}", answer["mistakes"]);
        let now = answer["bench"]["version"].as_u64().unwrap();
        assert!(now > version, "version {now} after {version}");
        version = now;
        if n % 100 == 0 {
            assert!(held(&bench).contains(&words), "{n} is not in the file");
        }
        if n == MANY / 10 {
            early = desk.memory();
            length = answer.to_string().len();
        }
    }
    let late = desk.memory();
    let since = MANY - MANY / 10;
    let grown = late.saturating_sub(early);
    println!("memory {early} after {}, {late} after {MANY}; an answer has {length}", MANY / 10);
    assert!(grown < bound(since), "grown by {grown} bytes");
    let kept = u64::try_from(length * since).unwrap();
    assert!(bound(since) < kept / 2, "the bound shows nothing");
    assert_eq!(held(&bench), first.replace("Edit 0", &format!("Edit {MANY}")));
    for n in (0..MANY).rev() {
        let answer = talk.post(&desk, "layout/cup.toml/undo", &json!({})).unwrap();
        assert_eq!(answer["kept"], "all", "{n}");
        let told = answer["bench"]["values"]["line"][0]["text"].as_str().unwrap();
        assert_eq!(told, format!("Edit {n} of the tenor"));
    }
    assert_eq!(held(&bench), first);
    let over = talk.post(&desk, "layout/cup.toml/undo", &json!({})).unwrap();
    assert_eq!((&over["kept"], &over["bench"]["undo"]), (&json!("none"), &json!(false)));
    for _ in 0..50 {
        talk.post(&desk, "layout/cup.toml/redo", &json!({})).unwrap();
    }
    assert_eq!(held(&bench), first.replace("Edit 0", "Edit 50"));
}

#[test]
fn two_pages_that_edit_at_once_lose_nothing_of_each_other() {
    const EACH: usize = 250;
    let bench = bench();
    let first = held(&bench);
    let desk = Desk::open(&bench);
    let work = |who: &str, index: usize| {
        let mut talk = desk.talk();
        let line = [json!("line"), json!(index), json!("text")];
        for n in 1..=EACH {
            let asked = set(&line, &format!("{who} at edit {n}"));
            let answer = talk.post(&desk, "layout/cup.toml/change", &asked).unwrap();
            assert_eq!(answer["kept"], "all", "{who} {n}");
            // The own edit stands in the very answer, whatever the other does.
            let told = answer["bench"]["values"]["line"][index]["text"].as_str().unwrap();
            assert_eq!(told, format!("{who} at edit {n}"));
        }
    };
    std::thread::scope(|scope| {
        scope.spawn(|| work("Orla", 0));
        scope.spawn(|| work("Ives", 1));
    });
    let last = first
        .replace("Edit 0 of the tenor", &format!("Orla at edit {EACH}"))
        .replace("THE BELLS", &format!("Ives at edit {EACH}"));
    assert_eq!(held(&bench), last);
    // Each edit was a step of its own, in one order that both pages share.
    let (mut orla, mut ives, mut steps) = (EACH, EACH, 0);
    loop {
        let answer = desk.posted("layout/cup.toml/undo", &json!({}));
        if answer["kept"] == "none" {
            break;
        }
        steps += 1;
        let lines = &answer["bench"]["values"]["line"];
        let number = |index: usize| -> usize {
            let text = lines[index]["text"].as_str().unwrap();
            text.rsplit(' ').next().unwrap().parse().unwrap_or(0)
        };
        let now = (number(0), number(1));
        assert!(now == (orla - 1, ives) || now == (orla, ives - 1), "{now:?}");
        (orla, ives) = now;
    }
    assert_eq!(steps, 2 * EACH);
    assert_eq!(held(&bench), first);
}

#[test]
fn letters_typed_one_after_the_other_are_undone_as_one() {
    let bench = bench();
    let first = held(&bench);
    let desk = Desk::open(&bench);
    let typed = |words: &str, stroke: &str| {
        let path = ["line", "0", "text"]
            .map(|step| step.parse::<usize>().map_or(json!(step), |n| json!(n)));
        let mut asked = set(&path, words);
        asked["stroke"] = json!(stroke);
        assert_eq!(desk.posted("layout/cup.toml/change", &asked)["kept"], "all");
    };
    for end in 1.."In memory".len() {
        typed(&"In memory"[..=end], "line.0.text");
    }
    typed("Given by", "another");
    let undone = desk.posted("layout/cup.toml/undo", &json!({}));
    assert_eq!(undone["bench"]["values"]["line"][0]["text"], "In memory");
    // After a step back, what is typed on is a new step though its word is the same.
    typed("In memory of", "line.0.text");
    assert_eq!(
        desk.posted("layout/cup.toml/undo", &json!({}))["bench"]["values"]["line"][0]["text"],
        "In memory"
    );
    desk.posted("layout/cup.toml/undo", &json!({}));
    assert_eq!(held(&bench), first);
}

#[test]
fn a_change_that_was_waiting_is_kept_when_what_it_lacked_comes() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let shape = json!({ "do": "set", "path": ["plate", "shape"], "to": "rounded" });
    let alone = desk.changed("cup.toml", json!([shape]));
    assert_eq!(alone["kept"], "none");
    let corner = json!({ "do": "set", "path": ["plate", "corner"], "to": "5 mm" });
    let both = json!({ "changes": [corner], "waiting": [shape] });
    let answer = desk.posted("layout/cup.toml/change", &both);
    assert_eq!(answer["kept"], "all");
    assert_eq!(answer["bench"]["values"]["plate"]["corner"], "5 mm");
    // What still lacks something does not hold up the rest.
    let arch = json!({ "do": "set", "path": ["plate", "shape"], "to": "arch" });
    let title = json!({ "do": "set", "path": ["title"], "to": "Tenor" });
    let answer = desk.posted(
        "layout/cup.toml/change",
        &json!({ "changes": [title], "waiting": [arch, { "do": "set", "path": ["plate", "size"], "to": "x" }] }),
    );
    assert_eq!(answer["kept"], "new");
    assert_eq!(answer["bench"]["values"]["title"], "Tenor");
    assert_eq!(answer["bench"]["values"]["plate"]["shape"], "rounded");
}
