//! Who may ask the desk. Sources: Fetch Standard (WHATWG), `Origin` and `Sec-Fetch-Site`;
//! RFC 9112 (HTTP/1.1), 3.2 on `Host`; Content Security Policy Level 3 (W3C).

use std::path::Path;

use crate::desk::client::{Desk, OWN, everything};
use crate::support::{Bench, plain};

fn bench() -> Bench {
    Bench::with(&plain("90 x 50 mm", &["TREBLE"], ""))
}

/// A change that would be seen in the file.
const CHANGE: &str = r#"{"changes":[{"do":"set","path":["title"],"to":"taken over"}]}"#;

/// Heads of a request for the folder that must not be answered: what is told, the first line
/// and the headers.
fn strangers(desk: &Desk) -> Vec<(&'static str, String)> {
    let (port, folder) = (desk.port, desk.path("folder"));
    let one = |head: &str| format!("GET {folder} HTTP/1.1\r\n{head}\r\n");
    let own = format!("Host: {}\r\n", desk.host());
    vec![
        ("a foreign host", one("Host: bells.example\r\n")),
        ("a foreign host on our port", one(&format!("Host: bells.example:{port}\r\n"))),
        ("our name within another", one(&format!("Host: 127.0.0.1:{port}.bells.example\r\n"))),
        ("our name before an at", one(&format!("Host: 127.0.0.1:{port}@bells.example\r\n"))),
        ("a name that leads here", one(&format!("Host: 127.0.0.1.nip.example:{port}\r\n"))),
        ("our name without its port", one("Host: 127.0.0.1\r\n")),
        ("another port", one("Host: 127.0.0.1:1\r\n")),
        ("another loopback", one(&format!("Host: 127.0.0.2:{port}\r\n"))),
        ("all addresses", one(&format!("Host: 0.0.0.0:{port}\r\n"))),
        ("two hosts", one(&format!("{own}Host: bells.example\r\n"))),
        ("two hosts, ours last", one(&format!("Host: bells.example\r\n{own}"))),
        ("our host twice", one(&format!("{own}{own}"))),
        ("no host", one("")),
        ("an empty host", one("Host:\r\n")),
        ("another page", one(&format!("{own}Origin: http://bells.example\r\n"))),
        ("another port's page", one(&format!("{own}Origin: http://127.0.0.1:1\r\n"))),
        ("a page over TLS", one(&format!("{own}Origin: https://127.0.0.1:{port}\r\n"))),
        ("a page of nowhere", one(&format!("{own}Origin: null\r\n"))),
        ("an empty page", one(&format!("{own}Origin:\r\n"))),
        ("two pages", one(&format!("{own}Origin: http://127.0.0.1:{port}\r\nOrigin: null\r\n"))),
        ("another site", one(&format!("{own}Sec-Fetch-Site: cross-site\r\n"))),
        ("a site beside", one(&format!("{own}Sec-Fetch-Site: same-site\r\n"))),
        ("an older version, no host", format!("GET {folder} HTTP/1.0\r\n\r\n")),
        (
            "an older version, a foreign host",
            format!("GET {folder} HTTP/1.0\r\nHost: bells.example\r\n\r\n"),
        ),
        (
            "another address in the first line",
            format!("GET http://bells.example{folder} HTTP/1.1\r\n{own}\r\n"),
        ),
        ("no token", format!("GET /folder HTTP/1.1\r\n{own}\r\n")),
        ("an empty token", format!("GET //folder HTTP/1.1\r\n{own}\r\n")),
        ("a short token", format!("GET /{}/folder HTTP/1.1\r\n{own}\r\n", &desk.token[1..])),
        ("a token in capitals", {
            let token = desk.token.to_uppercase();
            format!("GET /{token}A/folder HTTP/1.1\r\n{own}\r\n")
        }),
        ("a wrong token", format!("GET /{}/folder HTTP/1.1\r\n{own}\r\n", "0".repeat(32))),
        ("a header line of no kind", one(&format!("{own}nothing at all\r\n"))),
        ("a folded header", one(&format!("{own}X-A: 1\r\n Host: bells.example\r\n"))),
        ("no HTTP", "hello\r\n\r\n".to_owned()),
        ("a version to come", format!("GET {folder} HTTP/2.0\r\n{own}\r\n")),
    ]
}

#[test]
fn whoever_does_not_ask_as_our_own_page_is_refused() {
    let bench = bench();
    let desk = Desk::open(&bench);
    for (what, request) in strangers(&desk) {
        // A closed connection is an answer too.
        let Some(reply) = desk.raw(request.as_bytes()) else { continue };
        assert!([400, 403, 404, 505].contains(&reply.status), "{what}: {}", reply.status);
        let body = String::from_utf8_lossy(&reply.body);
        assert!(!body.contains("cup.toml"), "{what}: {body}");
    }
    // The same by our own rules is answered, also by the name of the loopback.
    assert_eq!(desk.told("folder")["layouts"][0]["name"], "cup.toml");
    let folder = desk.path("folder");
    for host in [format!("localhost:{}", desk.port), format!("LocalHost:{}", desk.port)] {
        for site in ["", "Sec-Fetch-Site: same-origin\r\n", "Sec-Fetch-Site: none\r\n"] {
            let head = format!("GET {folder} HTTP/1.1\r\nHost: {host}\r\n{site}\r\n");
            assert_eq!(desk.raw(head.as_bytes()).unwrap().status, 200, "{host} {site}");
        }
    }
}

#[test]
fn nothing_is_changed_by_a_request_that_another_page_could_send() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let before = everything(&bench.path("."));
    let tower = std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/tower.jpg"));
    let tower = tower.unwrap();
    let other = format!("Origin: http://bells.example:{}\r\n", desk.port);
    let places: [(&str, &[u8]); 7] = [
        ("layout/cup.toml/change", CHANGE.as_bytes()),
        ("layout/cup.toml/undo", b"{}"),
        ("layout/cup.toml/sign", b"{}"),
        ("layout/cup.toml/withdraw", b"{}"),
        ("layout/cup.toml/bring-back", br#"{"name":"0001.toml"}"#),
        ("layout/cup.toml/photo?name=tower.jpg", &tower),
        ("new", br#"{"title":"Another"}"#),
    ];
    let kinds = [
        // What a form of any page can send without asking first (Fetch, CORS-safelisted).
        "Content-Type: text/plain\r\n".to_owned(),
        "Content-Type: application/x-www-form-urlencoded\r\n".to_owned(),
        "Content-Type: application/json\r\n".to_owned(),
        String::new(),
        format!("{OWN}{other}"),
        format!("{OWN}Origin: null\r\n"),
        format!("{OWN}Sec-Fetch-Site: cross-site\r\n"),
    ];
    for (place, body) in places {
        for kind in &kinds {
            for method in ["POST", "PUT", "DELETE", "PATCH"] {
                let reply = desk.asked(method, place, kind, body);
                assert_eq!(reply.status, 403, "{method} {place} {kind}");
            }
        }
        // By a method that reads, nothing is changed.
        for method in ["GET", "HEAD"] {
            let reply = desk.asked(method, place, OWN, body);
            assert!(reply.status == 405 || reply.status == 404, "{method} {place}");
        }
    }
    // Nor does a page that asks for leave get it.
    let leave = format!("{other}Access-Control-Request-Method: POST\r\n");
    let reply = desk.asked("OPTIONS", "layout/cup.toml/change", &leave, b"");
    assert_eq!(reply.status, 403);
    assert_eq!(reply.header("access-control-allow-origin"), None);
    assert_eq!(everything(&bench.path(".")), before);
    // The very same change is made when our own page asks.
    let reply = desk.post("layout/cup.toml/change", CHANGE.as_bytes());
    assert_eq!(reply.json()["bench"]["values"]["title"], "taken over");
}

#[test]
fn every_answer_tells_the_browser_to_keep_others_out() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let big = vec![b' '; 5 << 20];
    let stranger = format!("GET {} HTTP/1.1\r\nHost: a.example\r\n\r\n", desk.path("folder"));
    let own = format!("Host: {}\r\n", desk.host());
    let outside =
        |path: &str| desk.raw(format!("GET {path} HTTP/1.1\r\n{own}\r\n").as_bytes()).unwrap();
    let answers = [
        (200, desk.get("")),
        (200, desk.get("page/desk.css")),
        (200, desk.get("page/main.js")),
        (404, desk.get("page/none.js")),
        (200, desk.get("folder")),
        (200, desk.get("schema")),
        (200, desk.get("layout/cup.toml/bench")),
        (200, desk.get("layout/cup.toml/file/proof.svg")),
        (200, desk.get("layout/cup.toml/file/proof.png?download")),
        (404, desk.get("layout/cup.toml/file/none")),
        (404, desk.get("layout/none.toml/bench")),
        (200, desk.get("layout/cup.toml/events")),
        (405, desk.get("layout/cup.toml/change")),
        (200, desk.post("layout/cup.toml/change", CHANGE.as_bytes())),
        (400, desk.post("layout/cup.toml/change", b"{")),
        (422, desk.post("layout/cup.toml/change", b"{}")),
        (413, desk.post("layout/cup.toml/change", &big)),
        (409, desk.post("layout/cup.toml/withdraw", b"{}")),
        (403, desk.raw(stranger.as_bytes()).unwrap()),
        (404, outside("/")),
        (204, outside("/favicon.ico")),
        (308, outside(&format!("/{}", desk.token))),
    ];
    for (at, (status, reply)) in answers.iter().enumerate() {
        assert_eq!(reply.status, *status, "answer {at}: {reply:?}");
        for (name, value) in [
            ("x-content-type-options", "nosniff"),
            ("referrer-policy", "no-referrer"),
            ("cache-control", "no-store"),
            ("cross-origin-resource-policy", "same-origin"),
            ("cross-origin-opener-policy", "same-origin"),
        ] {
            assert_eq!(reply.header(name), Some(value), "answer {at}, {status}: {name}");
        }
        let policy = reply.header("content-security-policy").unwrap();
        for part in ["default-src 'none'", "script-src 'self'", "style-src 'self'"] {
            assert!(policy.contains(part), "answer {at}: {policy}");
        }
        for part in ["frame-ancestors 'none'", "base-uri 'none'", "form-action 'none'"] {
            assert!(policy.contains(part), "answer {at}: {policy}");
        }
        assert!(!policy.contains("unsafe") && !policy.contains('*'), "{policy}");
        assert_eq!(reply.header("access-control-allow-origin"), None, "answer {at}");
        // Nobody is told the token but who has it.
        if !(200..300).contains(status) && *status != 308 {
            assert!(!format!("{reply:?}").contains(&desk.token), "answer {at}");
        }
    }
    // A browser's own reader of PDF needs scripts of its own; nobody else may frame it.
    let pdf = desk.get("layout/cup.toml/file/proof.pdf");
    assert_eq!(pdf.header("content-security-policy"), Some("frame-ancestors 'none'"));
    assert_eq!(pdf.header("x-content-type-options"), Some("nosniff"));
}

/// Read where Linux lists what listens (proc(5), /proc/net/tcp; state 0A is LISTEN).
#[test]
fn the_desk_listens_on_this_machine_alone() {
    let bench = bench();
    let desk = Desk::open(&bench);
    let port = format!("{:04X}", desk.port);
    let listening = |file: &str| -> Vec<String> {
        let told = std::fs::read_to_string(file).unwrap_or_default();
        let rows = told.lines().skip(1).map(|line| line.split_whitespace().collect::<Vec<_>>());
        rows.filter(|row| row.len() > 3 && row[3] == "0A" && row[1].ends_with(&format!(":{port}")))
            .map(|row| row[1].to_owned())
            .collect()
    };
    assert_eq!(listening("/proc/net/tcp"), [format!("0100007F:{port}")]);
    assert!(listening("/proc/net/tcp6").is_empty());
}

#[test]
fn no_two_desks_have_the_same_token() {
    let bench = bench();
    let desks = [Desk::open(&bench), Desk::open(&bench)];
    assert_ne!(desks[0].token, desks[1].token);
    for desk in &desks {
        // 128 bits, as RFC 4086 asks of what must not be guessed.
        assert!(desk.token.len() >= 32 && desk.token.bytes().all(|b| b.is_ascii_hexdigit()));
    }
    let other =
        format!("GET /{}/folder HTTP/1.1\r\nHost: {}\r\n\r\n", desks[0].token, desks[1].host());
    assert_eq!(desks[1].raw(other.as_bytes()).unwrap().status, 404);
}

#[test]
fn what_is_read_by_other_programs_has_its_own_kind() {
    let bench = bench();
    let desk = Desk::open(&bench);
    // RFC 6838's registered names.
    for (place, kind) in [
        ("", "text/html; charset=utf-8"),
        ("page/desk.css", "text/css; charset=utf-8"),
        ("page/main.js", "text/javascript; charset=utf-8"),
        ("folder", "application/json"),
        ("schema", "application/json"),
        ("layout/cup.toml/events", "text/event-stream"),
        ("layout/cup.toml/file/proof.pdf", "application/pdf"),
        ("layout/cup.toml/file/proof.png", "image/png"),
        ("layout/cup.toml/file/proof.svg", "image/svg+xml"),
        ("layout/cup.toml/file/artwork-mm.dxf", "image/vnd.dxf"),
        ("layout/cup.toml/file/cup.zip", "application/zip"),
        ("layout/cup.toml/file/contents.txt", "text/plain; charset=utf-8"),
    ] {
        assert_eq!(desk.get(place).header("content-type"), Some(kind), "{place}");
    }
    let kept = desk.get("layout/cup.toml/file/proof.pdf?download");
    let told = kept.header("content-disposition").unwrap();
    assert_eq!(told, "attachment; filename*=UTF-8''proof.pdf");
    assert_eq!(kept.body, desk.get("layout/cup.toml/file/proof.pdf").body);
}
