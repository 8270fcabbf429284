//! A desk that is killed at any moment leaves a whole layout.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, SystemTime};

use serde_json::json;

use crate::desk::client::{Chance, Desk, page_post};
use crate::support::{Bench, plain};

const KILLED: u64 = 200;

/// The `n`th text: each has another length, so that a half of one is no other.
fn text(n: usize) -> String {
    let words = format!("Edit {n} of the tenor");
    let remarks = format!("# {}\n", "so it was meant ".repeat(n % 40)).repeat(1 + n % 7);
    plain("90 x 40 mm", &[&words], &remarks)
}

/// One desk, edits as fast as it answers, and its end after so long. Last text that was
/// answered, last that was sent.
fn one(bench: &Bench, after: Duration) -> (usize, usize) {
    let mut desk = Desk::open(bench);
    let (sent, answered) = (AtomicUsize::new(0), AtomicUsize::new(0));
    // The layout is opened before the clock runs, so that the edits are what is interrupted.
    assert_eq!(desk.get("layout/cup.toml/bench").status, 200);
    let mut talk = desk.talk();
    let requests: Vec<Vec<u8>> = (1..300)
        .map(|n| {
            let change = json!({ "changes": [{ "do": "text", "to": text(n) }] });
            page_post(&desk, "layout/cup.toml/change", &change)
        })
        .collect();
    std::thread::scope(|scope| {
        scope.spawn(|| {
            for (at, request) in requests.iter().enumerate() {
                sent.store(at + 1, Ordering::SeqCst);
                if talk.send(request).is_none() {
                    return;
                }
                match talk.reply() {
                    Some(reply) => assert_eq!(reply.status, 200),
                    None => return,
                }
                answered.store(at + 1, Ordering::SeqCst);
            }
        });
        std::thread::sleep(after);
        desk.killed();
    });
    (answered.into_inner(), sent.into_inner())
}

/// Files that were begun and not finished.
fn begun(bench: &Bench) -> Vec<String> {
    bench.names(".").into_iter().filter(|name| name.starts_with(".ansata-")).collect()
}

#[test]
fn killed_two_hundred_times_the_layout_is_always_whole() {
    let met = std::sync::Mutex::new(BTreeMap::new());
    let run = |seed: u64| {
        let bench = Bench::with(&text(0));
        let mut chance = Chance::seeded(seed);
        for _ in 0..KILLED / 2 {
            bench.put("cup.toml", text(0));
            let after = Duration::from_micros(chance.next() % 40_000);
            let (answered, sent) = one(&bench, after);
            let held = String::from_utf8(bench.read("cup.toml")).unwrap();
            let which = (answered..=sent).find(|n| text(*n) == held);
            assert!(which.is_some(), "between {answered} and {sent}, after {after:?}: {held:?}");
            *met.lock().unwrap().entry(sent - which.unwrap()).or_insert(0) += 1;
        }
        let left = begun(&bench).len();
        // A new desk takes away what is older than any write can be.
        let old = SystemTime::now() - Duration::from_secs(3_600);
        for name in begun(&bench) {
            let file = std::fs::File::options().append(true).open(bench.path(&name)).unwrap();
            file.set_modified(old).unwrap();
        }
        bench.put(".ansata-notes", "of the maker's own");
        let desk = Desk::open(&bench);
        assert_eq!(desk.get("layout/cup.toml/bench").status, 200);
        assert_eq!(begun(&bench), [".ansata-notes"], "leftovers stay");
        left
    };
    let (a, b) = std::thread::scope(|scope| {
        let other = scope.spawn(|| run(4));
        (run(3), other.join().unwrap())
    });
    let behind = met.into_inner().unwrap();
    println!("left behind by {KILLED} kills: {}; edits behind the last sent: {behind:?}", a + b);
}
