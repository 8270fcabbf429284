//! How the desk is opened and closed.

use std::net::TcpListener;
use std::time::{Duration, Instant};

use serde_json::json;

use crate::desk::client::Desk;
use crate::support::{Bench, plain};

fn bench() -> Bench {
    Bench::with(&plain("90 x 50 mm", &["TREBLE"], ""))
}

#[test]
fn the_desk_opens_on_a_layout_a_folder_or_where_one_is() {
    let bench = bench();
    bench.put("jobs/oval.toml", plain("90 x 50 mm", &["TENOR"], ""));
    for (arguments, layouts, opened) in [
        (vec![], "cup.toml", None),
        (vec!["cup.toml"], "cup.toml", Some("cup.toml")),
        (vec!["./cup.toml"], "cup.toml", Some("cup.toml")),
        (vec!["jobs"], "oval.toml", None),
        (vec!["jobs/"], "oval.toml", None),
        (vec!["jobs/oval.toml"], "oval.toml", Some("oval.toml")),
    ] {
        let desk = Desk::open_with(&bench, &arguments);
        let told = desk.told("folder");
        assert_eq!(told["layouts"][0]["name"], layouts, "{arguments:?}");
        assert_eq!(told["opened"], json!(opened), "{arguments:?}");
    }
    let free = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
    let desk = Desk::open_with(&bench, &["--port", &free.to_string()]);
    assert_eq!(desk.port, free);
}

#[test]
fn what_cannot_be_opened_is_told_and_no_desk_opens() {
    let bench = bench();
    bench.put("notes.txt", "ansata = 1");
    bench.put("bytes.toml", b"\xff\xfe");
    for (typed, told) in [
        ("cups.toml", "cups.toml: there is no such file; did you mean cup.toml?"),
        ("cup", "did you mean cup.toml?"),
        ("none/cup.toml", "there is no such file"),
        ("notes.txt", "expected a layout, whose name ends in .toml, or a folder"),
        ("bytes.toml", "UTF-8"),
    ] {
        let ran = bench.run(&["desk", "--no-browser", typed]);
        assert_eq!(ran.status, 2, "{typed}: {}", ran.err);
        assert!(ran.err.contains(told), "{typed}: {}", ran.err);
        assert!(!ran.out.contains("http"), "{}", ran.out);
    }
    for port in ["0", "65536", "-1", "http", ""] {
        let ran = bench.run(&["desk", "--no-browser", &format!("--port={port}")]);
        assert_eq!(ran.status, 2, "{port}: {}", ran.err);
    }
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let ran = bench.run(&["desk", "--no-browser", "--port", &port]);
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains(&format!("port {port}")), "{}", ran.err);
    assert!(ran.err.contains("in use"), "{}", ran.err);
    assert_eq!(bench.names("."), ["bytes.toml", "cup.toml", "notes.txt"]);
}

#[test]
fn the_desk_closes_at_once_when_told_to_though_pages_are_open() {
    for signal in ["TERM", "INT"] {
        // The best of three, since other tests use the machine at the same time.
        let times = (0..3).map(|_| {
            let bench = bench();
            let mut desk = Desk::open_with(&bench, &["cup.toml"]);
            let mut pages: Vec<_> = (0..3).map(|_| desk.talk()).collect();
            let ask = |what: &str| {
                let path = desk.path(&format!("layout/cup.toml/{what}"));
                format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", desk.host()).into_bytes()
            };
            pages[0].send(&ask("events")).unwrap();
            assert_eq!(pages[0].head().unwrap().0, 200);
            // A page that has asked and keeps its connection, and one that never asked.
            pages[1].send(&ask("bench")).unwrap();
            assert_eq!(pages[1].reply().unwrap().status, 200);
            let since = Instant::now();
            desk.signalled(signal);
            let (status, said) = desk.ended();
            let took = since.elapsed();
            assert_eq!(status, Some(0), "{signal}");
            assert!(said.ends_with("the desk is closed\n"), "{said}");
            let mut last = String::new();
            while let Some(line) = pages[0].line() {
                last.push_str(&line);
            }
            assert!(last.contains("event: closing"), "{last}");
            took
        });
        let took = times.min().unwrap();
        println!("closed after {took:?} by {signal}");
        assert!(took < Duration::from_secs(2), "{signal}: {took:?}");
    }
}
