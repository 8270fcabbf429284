//! Whatever is sent to the desk, it answers in words, stays up, and the layout stays whole.

use serde_json::json;

use crate::desk::client::{Chance, Desk, OWN, Reply, everything};
use crate::messages::hill;
use crate::support::{Bench, plain};

fn bench() -> Bench {
    Bench::with(&plain("90 x 50 mm", &["TREBLE", "second line"], ""))
}

/// Whether a reply is a refusal in words: nothing of the program's inside, no bare status.
fn in_words(reply: &Reply, what: &str) -> String {
    assert!((400..500).contains(&reply.status), "{what}: {}", reply.status);
    let why = reply.refused();
    assert!(why.len() > 10 && !why.contains("panicked") && !why.contains(".rs"), "{what}: {why}");
    why
}

#[test]
fn what_is_larger_than_allowed_is_refused_in_words() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let before = everything(&bench.path("."));
    let long = json!({ "changes": [{ "do": "text", "to": "# a\n".repeat(2 << 20) }] }).to_string();
    let why = in_words(&desk.post("layout/cup.toml/change", long.as_bytes()), "a long text");
    assert!(why.contains("MiB") || why.contains("large") || why.contains("long"), "{why}");
    let title = json!({ "title": "a".repeat(5 << 20) }).to_string();
    in_words(&desk.post("new", title.as_bytes()), "a long title");
    // A layout of more than 1 MiB could not be read again; one below may be sent.
    let mut text = String::from_utf8(bench.read("cup.toml")).unwrap();
    text.push_str(&"# remark\n".repeat(130_000));
    let answer = desk.changed("cup.toml", json!([{ "do": "text", "to": text }]));
    assert_eq!(answer["kept"], "none");
    let why = answer["mistakes"][0]["message"].as_str().unwrap();
    assert!(why.contains("1048576"), "{why}");
    let value = json!([{ "do": "set", "path": ["title"], "to": "a".repeat(2 << 20) }]);
    assert_eq!(desk.changed("cup.toml", value)["kept"], "none");
    let name = "layout/cup.toml/photo?name=a.jpg";
    let photo = vec![0xFF; (64 << 20) + 1];
    let why = in_words(&desk.post(name, &photo), "a large photograph");
    assert!(why.contains("64 MiB"), "{why}");
    // What is told to be long and never comes does not hold up others.
    let mut waits = desk.talk();
    let head = format!(
        "POST {} HTTP/1.1\r\nHost: {}\r\n{OWN}Content-Length: 1000000\r\n\r\n{{",
        desk.path("layout/cup.toml/change"),
        desk.host()
    );
    waits.send(head.as_bytes()).unwrap();
    assert_eq!(desk.get("folder").status, 200);
    assert_eq!(everything(&bench.path(".")), before);
}

#[test]
fn what_is_no_photograph_is_refused_in_words_and_not_kept() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let before = everything(&bench.path("."));
    let hill = hill();
    for (what, bytes) in [
        ("nothing", &b""[..]),
        ("words", b"the tower"),
        ("a drawing", b"<svg xmlns='http://www.w3.org/2000/svg'/>"),
        ("a page", b"<!doctype html><script>1</script>"),
        ("a program", b"\x7fELF\x02\x01\x01"),
        ("another picture", b"GIF89a\x01\x00\x01\x00"),
        ("half a picture", &hill[..hill.len() / 2]),
        ("the head of a picture", &hill[..8]),
    ] {
        in_words(&desk.post("layout/cup.toml/photo?name=a.png", bytes), what);
    }
    assert_eq!(everything(&bench.path(".")), before);
    let stored = desk.post("layout/cup.toml/photo?name=a.png", &hill).json();
    assert_eq!(stored["name"], "a.png");
    assert_eq!(bench.read("a.png"), hill);
}

#[test]
fn broken_requests_are_refused_in_words_and_change_nothing() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let before = everything(&bench.path("."));
    let change = |change: &str| format!("{{\"changes\":[{change}]}}");
    let deep = |n: usize| format!("{}{}", "[".repeat(n), "]".repeat(n));
    let mut broken = vec![
        String::new(),
        "{".to_owned(),
        "null".to_owned(),
        "[]".to_owned(),
        "7".to_owned(),
        "\"changes\"".to_owned(),
        "{}".to_owned(),
        "{\"changes\":null}".to_owned(),
        "{\"changes\":{}}".to_owned(),
        "{\"changes\":[],\"more\":1}".to_owned(),
        "{\"changes\":[],\"stroke\":7}".to_owned(),
        "{\"changes\":[]} {".to_owned(),
        deep(100_000),
        change(&deep(100_000)),
        change(&format!("{{\"do\":\"set\",\"path\":[\"a\"],\"to\":{}}}", deep(5_000))),
    ];
    broken.extend(
        [
            r#"{}"#,
            r#"{"do":"burn"}"#,
            r#"{"do":"Set","path":["title"],"to":1}"#,
            r#"{"do":"set"}"#,
            r#"{"do":"set","path":["title"]}"#,
            r#"{"do":"set","path":"title","to":1}"#,
            r#"{"do":"set","path":[-1],"to":1}"#,
            r#"{"do":"set","path":[1.5],"to":1}"#,
            r#"{"do":"set","path":[1e300],"to":1}"#,
            r#"{"do":"set","path":[99999999999999999999999],"to":1}"#,
            r#"{"do":"set","path":[null],"to":1}"#,
            r#"{"do":"set","path":[["title"]],"to":1}"#,
            r#"{"do":"set","path":["title"],"to":1e999}"#,
            r#"{"do":"set","path":["title"],"to":NaN}"#,
            r#"{"do":"set","path":["title"],"to":1,"at":2}"#,
            r#"{"do":"move","path":["line",0],"to":-1}"#,
            r#"{"do":"move","path":["line",0],"to":"1"}"#,
            r#"{"do":"text","to":7}"#,
            r#"{"do":"text"}"#,
            r#"{"do":"set","path":["title"],"to":"\ud800"}"#,
        ]
        .map(change),
    );
    for body in &broken {
        in_words(
            &desk.post("layout/cup.toml/change", body.as_bytes()),
            &body[..body.len().min(80)],
        );
    }
    for bytes in [&b"\xff\xfe{}"[..], b"{\"changes\":\"\xc3\x28\"}", b"\0", b"{\"changes\":[]}\0"] {
        in_words(&desk.post("layout/cup.toml/change", bytes), "no UTF-8");
    }
    let plain = "x-ansata: desk\r\nContent-Type: text/plain\r\n";
    let reply = desk.asked("POST", "layout/cup.toml/change", plain, b"{\"changes\":[]}");
    in_words(&reply, "another kind of text");
    for (place, body) in [
        ("layout/cup.toml/sign", r#"{"by":"a"}"#),
        ("layout/cup.toml/sign", r#"{"by":"a","role":"b","date":"c","mark":1}"#),
        ("layout/cup.toml/sign", r#"{"by":"a","role":"b","date":"2026-13-45","mark":"d"}"#),
        ("layout/cup.toml/bring-back", r#"{"name":7}"#),
        ("layout/cup.toml/bring-back", r#"{"name":"9999.toml"}"#),
        ("new", r#"{"title":""}"#),
        ("new", r#"{"title":"  "}"#),
        ("new", r#"{"title":"x","from":"nowhere"}"#),
        ("new", r#"{"title":"x","more":1}"#),
        ("new", r#"{"name":"x"}"#),
    ] {
        in_words(&desk.post(place, body.as_bytes()), body);
    }
    assert_eq!(everything(&bench.path(".")), before);
}

#[test]
fn changes_that_cannot_be_made_are_told_and_not_kept() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let before = everything(&bench.path("."));
    let deep = (0..100).fold(json!(1), |inner, _| json!([inner]));
    let long: Vec<String> = (0..200).map(|n| format!("k{n}")).collect();
    for (what, change) in [
        ("no path", json!({ "do": "set", "path": [], "to": 1 })),
        ("through a text", json!({ "do": "set", "path": ["title", "a"], "to": 1 })),
        ("a key of a list", json!({ "do": "set", "path": ["line", "text"], "to": "x" })),
        ("a place of a table", json!({ "do": "set", "path": ["plate", 0], "to": "x" })),
        ("a value for null", json!({ "do": "set", "path": ["title"], "to": null })),
        ("an unknown key", json!({ "do": "set", "path": ["plate", "heft"], "to": 1 })),
        ("a wrong kind", json!({ "do": "set", "path": ["plate", "size"], "to": { "a": 1 } })),
        ("a wrong word", json!({ "do": "set", "path": ["plate", "material"], "to": "cheese" })),
        ("a deep value", json!({ "do": "set", "path": ["title"], "to": deep })),
        ("a long way", json!({ "do": "set", "path": long, "to": 1 })),
        ("a move of nothing", json!({ "do": "move", "path": ["line", 9], "to": 0 })),
        ("a move of a key", json!({ "do": "move", "path": ["title"], "to": 0 })),
        (
            "a move far away",
            json!({ "do": "move", "path": ["line", usize::MAX], "to": usize::MAX }),
        ),
        ("an entry in a text", json!({ "do": "insert", "path": ["title", 0], "to": 1 })),
        ("an entry under a key", json!({ "do": "insert", "path": ["line", "a"], "to": {} })),
        ("an entry of a wrong kind", json!({ "do": "insert", "path": ["line", 0], "to": "x" })),
        ("an empty entry", json!({ "do": "insert", "path": ["line", usize::MAX], "to": {} })),
        ("what must stay", json!({ "do": "remove", "path": ["plate"] })),
        ("no TOML", json!({ "do": "text", "to": "a = = 1" })),
        ("deep TOML", json!({ "do": "text", "to": format!("a = {}", "[".repeat(100_000)) })),
        ("a long key", json!({ "do": "text", "to": format!("{}x = 1", "a.".repeat(100_000)) })),
        ("NUL", json!({ "do": "text", "to": "a = \"\0\"" })),
    ] {
        let answer = desk.changed("cup.toml", json!([change]));
        assert_eq!(answer["kept"], "none", "{what}");
        let why = answer["mistakes"][0]["message"].as_str().unwrap_or_else(|| panic!("{what}"));
        assert!(why.len() > 8, "{what}: {why}");
        assert!(answer["bench"]["plaque"].is_object(), "{what}");
    }
    assert_eq!(everything(&bench.path(".")), before);
}

/// Places of the desk, and bodies that are nearly right.
const PLACES: [&str; 22] = [
    "",
    "folder",
    "schema",
    "page/main.js",
    "new",
    "layout/cup.toml/bench",
    "layout/cup.toml/change",
    "layout/cup.toml/change",
    "layout/cup.toml/change",
    "layout/cup.toml/change",
    "layout/cup.toml/undo",
    "layout/cup.toml/redo",
    "layout/cup.toml/events",
    "layout/cup.toml/versions",
    "layout/cup.toml/sign",
    "layout/cup.toml/withdraw",
    "layout/cup.toml/bring-back",
    "layout/cup.toml/photo?name=a.png",
    "layout/cup.toml/photo/0.png",
    "layout/cup.toml/sizes",
    "layout/../bench",
    "layout/other.toml/bench",
];

/// Steps, values and words that requests are thrown together from.
const STEPS: [&str; 14] = [
    "\"title\"",
    "\"plate\"",
    "\"size\"",
    "\"line\"",
    "0",
    "1",
    "7",
    "18446744073709551615",
    "\"text\"",
    "\"mount\"",
    "\"fixing\"",
    "\"\"",
    "\"a b\"",
    "-1",
];
const VALUES: [&str; 16] = [
    "1",
    "-1.5",
    "1e308",
    "\"80 x 40 mm\"",
    "\"\"",
    "\"TENOR\"",
    "\"\\u0000\"",
    "null",
    "true",
    "[]",
    "{}",
    "[1,[2,[3]]]",
    "{\"text\":\"third\"}",
    "{\"kind\":\"tape\"}",
    "\"<b>\"",
    "\"0001.toml\"",
];

fn thrown(chance: &mut Chance, before: &str) -> Vec<u8> {
    let path: Vec<&str> = (0..chance.below(4)).map(|_| *chance.of(&STEPS)).collect();
    let (path, to) = (path.join(","), *chance.of(&VALUES));
    let kind = *chance.of(&["set", "set", "remove", "insert", "move", "text", "burn"]);
    let mut body = match chance.below(8) {
        0 => format!("{{\"name\":{to}}}"),
        1 => format!("{{\"title\":{to},\"from\":{}}}", chance.of(&VALUES)),
        2 => format!("{{\"by\":\"a\",\"role\":\"b\",\"date\":{to},\"mark\":{to}}}"),
        3 => format!("{{\"changes\":[{{\"do\":\"text\",\"to\":{}}}]}}", json!(before)),
        _ => format!("{{\"changes\":[{{\"do\":\"{kind}\",\"path\":[{path}],\"to\":{to}}}]}}"),
    }
    .into_bytes();
    // Half of them are damaged at a place or two.
    for _ in 0..chance.below(4).saturating_sub(1) {
        let at = chance.below(body.len());
        match chance.below(3) {
            0 => body.truncate(at),
            1 => body.insert(at, u8::try_from(chance.below(256)).unwrap()),
            _ if at < body.len() => body[at] ^= 1 << chance.below(8),
            _ => {}
        }
        if body.is_empty() {
            break;
        }
    }
    body
}

#[test]
fn two_thousand_requests_thrown_together_by_chance_do_not_bring_it_down() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let text = String::from_utf8(bench.read("cup.toml")).unwrap();
    let mut chance = Chance::seeded(9);
    let mut met = std::collections::BTreeMap::new();
    for n in 0..2_000 {
        let place = *chance.of(&PLACES);
        let body = thrown(&mut chance, &text);
        let method = *chance.of(&["POST", "POST", "POST", "GET", "GET", "PUT", "HEAD", "BREW"]);
        let head = *chance.of(&[OWN, OWN, OWN, "", "x-ansata: desk\r\n", "Origin: null\r\n"]);
        let reply = desk.asked(method, place, head, &body);
        let sent = String::from_utf8_lossy(&body);
        assert!(reply.status < 500, "{n}: {method} {place} {sent}: {}", reply.status);
        *met.entry(reply.status).or_insert(0) += 1;
    }
    println!("requests by status: {met:?}");
    assert!(met[&200] > 200 && met.len() >= 5, "{met:?}");
    let told = desk.told("layout/cup.toml/bench");
    assert_eq!(told["mistakes"], json!([]));
    assert_eq!(told["text"].as_str().unwrap().as_bytes(), bench.read("cup.toml"));
    let ran = bench.run(&["fit", "cup.toml", "--json"]);
    assert!([0, 1].contains(&ran.status), "{}", ran.err);
    // As many steps back as were made, and it stands as at first.
    while desk.posted("layout/cup.toml/undo", &json!({}))["kept"] == "all" {}
    assert_eq!(String::from_utf8(bench.read("cup.toml")).unwrap(), text);
}

#[test]
fn noise_instead_of_http_does_not_bring_it_down() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let before = everything(&bench.path("."));
    let mut chance = Chance::seeded(77);
    let usual = format!("GET {} HTTP/1.1\r\nHost: {}\r\n\r\n", desk.path("folder"), desk.host());
    for _ in 0..300 {
        let mut bytes = usual.clone().into_bytes();
        for _ in 0..=chance.below(6) {
            let at = chance.below(bytes.len());
            bytes[at] = u8::try_from(chance.below(256)).unwrap();
        }
        // So that no answer is waited for that cannot come: the head always ends.
        bytes.extend(b"\r\n\r\n");
        let reply = desk.raw(&bytes);
        assert!(reply.is_none_or(|reply| reply.status < 500 || reply.status == 505));
    }
    let many = format!("{}X-A: 1\r\n", usual.trim_end()).replace("X-A", "\r\nX-A");
    let many = format!("{many}{}\r\n", "X-B: 2\r\n".repeat(5_000));
    assert!(desk.raw(many.as_bytes()).is_none_or(|reply| (400..500).contains(&reply.status)));
    let long = format!("GET /{} HTTP/1.1\r\nHost: {}\r\n\r\n", "a".repeat(1 << 20), desk.host());
    assert!(desk.raw(long.as_bytes()).is_none_or(|reply| (400..500).contains(&reply.status)));
    assert_eq!(desk.get("folder").status, 200);
    assert_eq!(everything(&bench.path(".")), before);
}
