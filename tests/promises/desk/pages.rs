//! Two pages on one layout, and a page beside an editor: nobody's work is lost, everybody is
//! told.

use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::desk::client::{Chance, Desk, Talk};
use crate::messages::hill;
use crate::support::{Bench, plain, shipped};

/// How soon a page must have been told.
const SOON: Duration = Duration::from_secs(2);

fn bench() -> Bench {
    Bench::with(&plain("120 x 60 mm", &["TREBLE", "TENOR"], ""))
}

fn held(bench: &Bench) -> String {
    String::from_utf8(bench.read("cup.toml")).unwrap()
}

#[test]
fn a_page_that_shows_what_another_has_changed_is_told_and_changes_nothing() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let set = |index: usize, was: Value, to: &str| {
        let path = json!(["line", index, "text"]);
        desk.changed("cup.toml", json!([{ "do": "set", "path": path, "to": to, "was": was }]))
    };
    assert_eq!(set(0, json!("TREBLE"), "Orla's")["kept"], "all");
    // The second page still shows TREBLE.
    let clash = set(0, json!("TREBLE"), "Ives's");
    assert_eq!(clash["kept"], "none");
    assert_eq!(clash["clash"], json!({ "path": ["line", 0, "text"], "now": "Orla's" }));
    // It has been told how things stand, so it need not ask.
    assert_eq!(clash["bench"]["values"]["line"][0]["text"], "Orla's");
    // What both do to different lines stands side by side.
    assert_eq!(set(1, json!("TENOR"), "Ives's")["kept"], "all");
    let text = held(&bench);
    assert!(text.contains("Orla's") && text.contains("Ives's"), "{text}");
    // Told and asked once more, it is a change like any other.
    assert_eq!(set(0, json!("Orla's"), "both")["kept"], "all");

    let changes = |change: Value| desk.changed("cup.toml", json!([change]));
    let stale = changes(json!({ "do": "text", "to": "ansata = 1\n", "was": text }));
    assert_eq!((&stale["kept"], &stale["clash"]["path"]), (&json!("none"), &json!([])));
    assert_eq!(stale["clash"]["now"].as_str().unwrap(), held(&bench));
    let gone = changes(json!({ "do": "remove", "path": ["line", 1, "text"], "was": "TENOR" }));
    assert_eq!(gone["clash"]["now"], "Ives's");
    let new = changes(json!({ "do": "set", "path": ["title"], "to": "x", "was": null }));
    assert_eq!(new["clash"]["now"], "Test plate");
    // One clash among several changes, and none is made.
    let before = held(&bench);
    let both = desk.changed(
        "cup.toml",
        json!([
            { "do": "set", "path": ["title"], "to": "new" },
            { "do": "set", "path": ["line", 1, "text"], "to": "x", "was": "long ago" },
        ]),
    );
    assert_eq!((both["kept"].clone(), held(&bench)), (json!("none"), before));
}

/// Reads events until one of a kind comes; its data.
fn heard(talk: &mut Talk, kind: &str) -> String {
    loop {
        let line = talk.line().expect("the stream goes on");
        if line == format!("event: {kind}") {
            return talk.line().unwrap().trim_start_matches("data:").trim().to_owned();
        }
    }
}

fn listening(desk: &Desk) -> Talk {
    let mut talk = desk.talk();
    let path = desk.path("layout/cup.toml/events");
    talk.send(format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", desk.host()).as_bytes()).unwrap();
    assert_eq!(talk.head().unwrap().0, 200);
    talk
}

/// How long it takes until a page has been told of what is done; the best of three, since
/// other tests use the machine at the same time.
fn told_after(desk: &Desk, mut done: impl FnMut(usize)) -> Duration {
    let times = (0..3).map(|turn| {
        let mut talk = listening(desk);
        let mut version = || heard(&mut talk, "version").parse::<u64>().unwrap();
        // Who comes is told at once how things stand.
        let first = version();
        let since = Instant::now();
        done(turn);
        let mut now = first;
        while now <= first {
            now = version();
        }
        let took = since.elapsed();
        let stands = desk.told("layout/cup.toml/bench")["version"].as_u64().unwrap();
        assert!(now <= stands, "{now} was told, {stands} stands");
        took
    });
    times.min().unwrap()
}

#[test]
fn a_page_is_told_of_what_another_page_or_program_has_changed() {
    let bench = bench();
    bench.put("hill.png", hill());
    bench.put(
        "cup.toml",
        held(&bench) + "[[photo]]\nfile = \"hill.png\"\nplace = \"left\"\nwidth = \"20 mm\"\n",
    );
    let desk = Desk::open(&bench);
    assert_eq!(desk.told("layout/cup.toml/bench")["mistakes"], json!([]));
    let by_page = told_after(&desk, |turn| {
        desk.changed(
            "cup.toml",
            json!([{ "do": "set", "path": ["title"], "to": turn.to_string() }]),
        );
    });
    let by_disk = told_after(&desk, |turn| {
        bench.put("cup.toml", held(&bench) + &format!("# by hand {turn}\n"));
    });
    let by_photo = told_after(&desk, |turn| {
        let other =
            image::RgbImage::from_pixel(60, 45, image::Rgb([u8::try_from(turn).unwrap(); 3]));
        other.save(bench.path("hill.png")).unwrap();
    });
    let by_shop = told_after(&desk, |turn| {
        bench.put("shop.toml", format!("ansata_shop = 1\n# {turn}\n"));
    });
    println!(
        "told after: page {by_page:?}, disk {by_disk:?}, photograph {by_photo:?}, shop {by_shop:?}"
    );
    for took in [by_page, by_disk, by_photo, by_shop] {
        assert!(took < SOON, "{took:?}");
    }
    let bench_now = desk.told("layout/cup.toml/bench");
    assert_eq!(bench_now["plaque"]["photos"][0]["pixels"], json!([60, 45]));
}

#[test]
fn what_another_program_wrote_is_taken_in_and_can_be_undone() {
    let bench = bench();
    let first = held(&bench);
    let desk = Desk::open(&bench);
    desk.told("layout/cup.toml/bench");
    desk.changed("cup.toml", json!([{ "do": "set", "path": ["title"], "to": "of the page" }]));
    let by_hand = held(&bench).replace("TENOR", "By hand") + "# written by hand\n";
    bench.put("cup.toml", &by_hand);
    // Without asking how things stand, the page goes on: both are kept.
    let answer = desk.changed(
        "cup.toml",
        json!([{ "do": "set", "path": ["line", 0, "text"], "to": "By the page", "was": "TREBLE" }]),
    );
    assert_eq!(answer["kept"], "all");
    assert_eq!(held(&bench), by_hand.replace("TREBLE", "By the page"));
    let undo = || desk.posted("layout/cup.toml/undo", &json!({}));
    undo();
    assert_eq!(held(&bench), by_hand);
    undo();
    assert!(held(&bench).contains("of the page") && !held(&bench).contains("By hand"));
    undo();
    assert_eq!(held(&bench), first);
    assert_eq!(undo()["kept"], "none");
    for _ in 0..3 {
        desk.posted("layout/cup.toml/redo", &json!({}));
    }
    assert_eq!(held(&bench), by_hand.replace("TREBLE", "By the page"));
}

#[test]
fn a_file_that_an_editor_left_broken_is_told_line_by_line_and_can_be_mended_on_the_page() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let good = held(&bench);
    desk.told("layout/cup.toml/bench");
    bench.put("cup.toml", good.replace("\"brass\"", "\"bras\""));
    let told = desk.told("layout/cup.toml/bench");
    assert_eq!(told["plaque"], Value::Null);
    let mistake = &told["mistakes"][0];
    assert_eq!((&mistake["path"], &mistake["line"]), (&json!(["plate", "material"]), &json!(5)));
    assert!(mistake["help"].as_str().unwrap().contains("brass"), "{mistake}");
    // Another mistake may be made while one stands, and one may be mended.
    let set = json!([{ "do": "set", "path": ["plate", "material"], "to": "brass" }]);
    let mended = desk.changed("cup.toml", set);
    assert_eq!(mended["kept"], "all");
    assert!(mended["bench"]["plaque"].is_object());
    assert_eq!(held(&bench), good);
    for broken in ["[[line", "a = \"", "= 1", "\u{FEFF}a", "[a]\n[a]\n"] {
        bench.put("cup.toml", broken);
        let told = desk.told("layout/cup.toml/bench");
        assert_eq!((&told["plaque"], &told["text"]), (&Value::Null, &json!(broken)), "{broken}");
        assert!(told["mistakes"][0]["message"].is_string(), "{broken}: {told}");
        let text = json!([{ "do": "text", "to": good, "was": broken }]);
        let mended = desk.changed("cup.toml", text);
        assert_eq!(mended["kept"], "all", "{broken}");
        assert_eq!(held(&bench), good);
    }
    // Bytes that are no text are told and left alone.
    bench.put("cup.toml", b"title = \"\xff\"");
    let reply = desk.get("layout/cup.toml/bench");
    assert!((400..500).contains(&reply.status), "{}", reply.status);
    assert!(reply.refused().contains("UTF-8"), "{}", reply.refused());
    assert_eq!(bench.read("cup.toml"), b"title = \"\xff\"");
    bench.put("cup.toml", &good);
    assert_eq!(desk.told("layout/cup.toml/bench")["text"], json!(good));
}

#[test]
fn a_file_that_goes_and_comes_back_is_told_and_loses_no_step() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let first = held(&bench);
    desk.changed("cup.toml", json!([{ "do": "set", "path": ["title"], "to": "second" }]));
    let second = held(&bench);
    std::fs::remove_file(bench.path("cup.toml")).unwrap();
    let set = br#"{"changes":[{"do":"set","path":["title"],"to":"third"}]}"#;
    let reply = desk.post("layout/cup.toml/change", set);
    assert!((400..500).contains(&reply.status) && reply.refused().len() > 10, "{reply:?}");
    assert!(!bench.has("cup.toml"), "what was taken away is not put back unasked");
    bench.put("cup.toml", &second);
    desk.posted("layout/cup.toml/undo", &json!({}));
    assert_eq!(held(&bench), first);
    // Renamed over, as editors save.
    bench.put("cup.toml.new", second.replace("second", "renamed"));
    std::fs::rename(bench.path("cup.toml.new"), bench.path("cup.toml")).unwrap();
    assert_eq!(desk.told("layout/cup.toml/bench")["values"]["title"], "renamed");
}

/// Remarks of a text, each with its spaces, in their order.
fn remarks(text: &str) -> Vec<String> {
    let quoted = |line: &str, at: usize| line[..at].matches('"').count() % 2 == 1;
    let of = |line: &str| {
        let at = line.match_indices('#').map(|(at, _)| at).find(|at| !quoted(line, *at))?;
        Some(line[at..].to_owned())
    };
    text.lines().filter_map(of).collect()
}

/// Heads of tables in their order, without those of lines.
fn heads(text: &str) -> Vec<&str> {
    text.lines().filter(|line| line.starts_with('[') && *line != "[[line]]").collect()
}

/// An edit of any kind that a page makes, and whether it is made at once and taken back.
fn edit(chance: &mut Chance, lines: usize, n: usize) -> Value {
    let at = chance.below(lines);
    let to = chance.below(lines);
    let set = |path: Value, to: Value| json!([{ "do": "set", "path": path, "to": to }]);
    match chance.below(14) {
        0 => set(json!(["title"]), json!(format!("Title {n}"))),
        1 => set(
            json!(["line", at, "text"]),
            json!([format!("Line {n} # one"), format!("Line {n}\nof \"two\" rows")][n % 2]),
        ),
        2 => set(
            json!(["line", at, "size"]),
            json!(0.5 + 0.25 * f64::from(u32::try_from(n % 8).unwrap())),
        ),
        3 => json!([{ "do": "remove", "path": ["line", at, "size"] }]),
        4 => set(json!(["plate", "size"]), json!(format!("{} x 80 mm", 120 + n % 9))),
        5 => set(json!(["plate", "border", "weight"]), json!(["0.3 mm", "0.4 mm"][n % 2])),
        6 => set(json!(["plate", "finish"]), json!(["satin", "polished"][n % 2])),
        7 => json!([{ "do": "remove", "path": ["plate", "thickness"] }]),
        8 => set(json!(["plate", "thickness"]), json!("2 mm")),
        // There and back, so that the order of remarks can be told.
        9 => json!([
            { "do": "move", "path": ["line", at], "to": to },
            { "do": "move", "path": ["line", to], "to": at },
        ]),
        10 => json!([
            { "do": "insert", "path": ["line", at], "to": { "text": format!("New {n}"), "size": 2 } },
            { "do": "remove", "path": ["line", at] },
        ]),
        11 => {
            json!([{ "do": "insert", "path": ["proof", "signatures", 1], "to": format!("For {n}") }])
        }
        12 => json!([{ "do": "remove", "path": ["proof", "signatures", 1] }]),
        _ => set(json!(["face", "place"]), json!({ "from_bottom": format!("{} mm", 12 + n % 5) })),
    }
}

#[test]
fn remarks_and_order_outlive_a_long_session_of_edits_of_every_kind() {
    let bench = Bench::new();
    shipped(&bench);
    let mut first = String::from_utf8(bench.read("dedication.toml")).unwrap();
    // A remark at every kind of place.
    first = first
        .replace("ansata = 1", "# Top of the file\n\nansata = 1  # which reader")
        .replace("[fit]", "# before the fit\n[fit]")
        .replace("signatures = [", "signatures = [ ")
        + "\n# The end.\n";
    bench.put("cup.toml", &first);
    let desk = Desk::open(&bench);
    let (remarks_first, heads_first) = (remarks(&first), heads(&first));
    assert!(remarks_first.len() >= 7, "{remarks_first:?}");
    let mut chance = Chance::seeded(31);
    let mut talk = desk.talk();
    let (mut kept, mut steps) = (0, 0);
    for n in 0..400 {
        let changes = json!({ "changes": edit(&mut chance, 5, n) });
        let before = held(&bench);
        let answer = talk.post(&desk, "layout/cup.toml/change", &changes).unwrap();
        let now = held(&bench);
        assert_eq!(answer["bench"]["text"], json!(now));
        kept += usize::from(answer["kept"] == "all");
        steps += usize::from(now != before);
        assert_eq!(answer["bench"]["mistakes"], json!([]), "{changes}");
        // A remark behind a value goes with it, where the value goes.
        let left = remarks(&now);
        assert_eq!(left, remarks_first, "{changes}\n{before}\n{now}");
        assert_eq!(heads(&now), heads_first, "{changes}\n{now}");
    }
    assert!(kept > 300 && steps > 150, "{kept} kept, {steps} steps");
    for step in 0..steps {
        let answer = talk.post(&desk, "layout/cup.toml/undo", &json!({})).unwrap();
        assert_eq!(answer["kept"], "all", "step {step} of {steps}");
    }
    assert_eq!(held(&bench), first);
}
