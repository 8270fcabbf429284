//! No address, no name and no link leads out of the folder that the desk holds.

use std::fs;
use std::os::unix::fs::symlink;

use serde_json::json;

use crate::desk::client::{Desk, everything};
use crate::messages::hill;
use crate::support::{Bench, plain};

/// A word that only files outside of the folder hold.
const OUTSIDE: &str = "Kept at home";

/// A bench whose folder `jobs` is to be held; beside it lies what nobody may reach.
fn bench() -> Bench {
    let bench = Bench::new();
    bench.put("home.toml", plain("90 x 50 mm", &[OUTSIDE], ""));
    bench.put("home.txt", OUTSIDE);
    bench.put("home.png", hill());
    bench.put("home.svg", "<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0H9V9'/></svg>");
    bench.put("jobs/cup.toml", plain("90 x 50 mm", &["TREBLE"], ""));
    bench.put("jobs/shop.toml", "ansata_shop = 1\n");
    bench.put("jobs/other.signed.toml", "");
    bench.put("jobs/.hidden.toml", plain("90 x 50 mm", &[OUTSIDE], ""));
    bench.put("jobs/below/deep.toml", plain("90 x 50 mm", &[OUTSIDE], ""));
    bench.put("jobs/notes.txt", OUTSIDE);
    symlink("../home.toml", bench.path("jobs/link.toml")).unwrap();
    symlink(bench.path("."), bench.path("jobs/up")).unwrap();
    symlink("/dev/zero", bench.path("jobs/endless.toml")).unwrap();
    symlink("loop.toml", bench.path("jobs/loop.toml")).unwrap();
    symlink("gone.toml", bench.path("jobs/dangling.toml")).unwrap();
    symlink("..", bench.path("jobs/folder.toml")).unwrap();
    bench
}

/// Names as they stand in an address.
const NAMES: [&str; 44] = [
    "../home.toml",
    "..%2fhome.toml",
    "..%2Fhome.toml",
    "%2e%2e/home.toml",
    "%2e%2e%2fhome.toml",
    "%2E%2E%2Fhome.toml",
    "..%5chome.toml",
    "..\\home.toml",
    "%252e%252e%252fhome.toml",
    "..%252fhome.toml",
    "..%c0%afhome.toml",
    "%c0%ae%c0%ae/home.toml",
    "..%ef%bc%8fhome.toml",
    "....//home.toml",
    "..;/home.toml",
    "up%2fhome.toml",
    "up/home.toml",
    "below%2fdeep.toml",
    "below/deep.toml",
    "./cup.toml",
    ".%2fcup.toml",
    "%2e%2fcup.toml",
    "/etc/passwd",
    "%2fetc%2fpasswd",
    "//etc/passwd",
    "file:%2f%2f%2fetc%2fpasswd",
    "C:%5cWindows%5cwin.ini",
    "cup.toml%00",
    "cup.toml%00.toml",
    "%00cup.toml",
    "cup.toml%2f",
    "cup.toml%20",
    "cup.toml.",
    "shop.toml",
    "cup.signed.toml",
    ".hidden.toml",
    "%2ehidden.toml",
    "notes.txt",
    "link.toml",
    "endless.toml",
    "loop.toml",
    "dangling.toml",
    "folder.toml",
    "%ff.toml",
];

#[test]
fn no_name_of_a_layout_leads_out_of_the_folder() {
    let bench = bench();
    let desk = Desk::open_with(&bench, &["jobs"]);
    let before = everything(&bench.path("."));
    for name in NAMES.iter().chain(&[".", "..", "%2e", "%2e%2e", "", ".toml", "*.toml"]) {
        for what in ["bench", "events", "versions", "files", "file/proof.svg", "letterings"] {
            let reply = desk.get(&format!("layout/{name}/{what}"));
            assert!([400, 404].contains(&reply.status), "{name} {what}: {}", reply.status);
            assert!(!String::from_utf8_lossy(&reply.body).contains(OUTSIDE), "{name} {what}");
        }
        for (what, body) in [
            ("change", r#"{"changes":[{"do":"text","to":"taken = 1"}]}"#),
            ("undo", "{}"),
            ("withdraw", "{}"),
            ("sign", r#"{"by":"a","role":"b","date":"2026-11-25","mark":"c"}"#),
            ("bring-back", r#"{"name":"0001.toml"}"#),
        ] {
            let reply = desk.post(&format!("layout/{name}/{what}"), body.as_bytes());
            assert!((400..500).contains(&reply.status), "{name} {what}: {}", reply.status);
        }
    }
    assert_eq!(everything(&bench.path(".")), before);
    let listed = desk.told("folder");
    assert_eq!(listed["layouts"], json!([{ "name": "cup.toml", "about": "Test plate" }]));
}

#[test]
fn no_other_name_leads_out_of_the_folder() {
    let bench = bench();
    let desk = Desk::open_with(&bench, &["jobs"]);
    let before = everything(&bench.path("."));
    for name in NAMES {
        for place in ["layout/cup.toml/file/", "page/", "layout/cup.toml/photo/", ""] {
            let reply = desk.get(&format!("{place}{name}"));
            assert!([400, 404].contains(&reply.status), "{place}{name}: {}", reply.status);
            assert!(!String::from_utf8_lossy(&reply.body).contains(OUTSIDE), "{place}{name}");
        }
        let version = json!({ "name": name });
        let reply = desk.post("layout/cup.toml/bring-back", version.to_string().as_bytes());
        assert!((400..500).contains(&reply.status), "{name}: {}", reply.status);
        let new = json!({ "title": "x", "from": name });
        let reply = desk.post("new", new.to_string().as_bytes());
        assert!((400..500).contains(&reply.status), "{name}: {}", reply.status);
    }
    assert_eq!(everything(&bench.path(".")), before);
}

#[test]
fn a_title_or_a_photograph_s_name_with_a_way_in_it_stays_in_the_folder() {
    let bench = bench();
    let desk = Desk::open_with(&bench, &["jobs"]);
    let outside = || {
        let all = everything(&bench.path("."));
        let inside = format!("{}/jobs/", bench.path(".").display()).replace("/./", "/");
        all.into_iter().filter(move |(path, _)| !path.replace("/./", "/").starts_with(&inside))
    };
    let before: Vec<_> = outside().collect();
    let hill = hill();
    for name in NAMES {
        let place = format!("layout/cup.toml/photo?name={name}");
        let reply = desk.post(&place, &hill);
        if reply.status == 200 {
            let stored = reply.json()["name"].as_str().unwrap().to_owned();
            assert!(!stored.contains(['/', '\\', '\0']) && !stored.starts_with('.'), "{stored}");
            assert_eq!(bench.read(&format!("jobs/{stored}")), hill, "{stored}");
        } else {
            assert!((400..500).contains(&reply.status), "{name}: {}", reply.status);
        }
        for title in [name.to_owned(), name.replace("%2f", "/").replace("%00", "\0")] {
            let reply = desk.post("new", json!({ "title": title }).to_string().as_bytes());
            if title.contains('\0') {
                assert!(reply.refused().contains("U+0000"), "{}", reply.refused());
                continue;
            }
            let begun = reply.json();
            let begun = begun["name"].as_str().unwrap().to_owned();
            assert!(!begun.contains(['/', '\\', '\0']) && !begun.starts_with('.'), "{begun}");
            assert!(bench.has(&format!("jobs/{begun}")), "{begun}");
            assert_eq!(desk.told(&format!("layout/{begun}/bench"))["mistakes"], json!([]));
        }
    }
    let after: Vec<_> = outside().collect();
    assert_eq!(after, before);
}

#[test]
fn a_layout_names_no_file_outside_of_the_folder() {
    let bench = bench();
    symlink("../home.png", bench.path("jobs/hill.png")).unwrap();
    symlink("../home.svg", bench.path("jobs/ours.svg")).unwrap();
    symlink("../home.txt", bench.path("jobs/words.txt")).unwrap();
    let here = bench.path(".");
    let away = here.display();
    let photo = |file: &str| format!("[[photo]]\nfile = \"{file}\"\nwidth = \"20 mm\"\n");
    let emblem = |file: &str| {
        format!(
            "[[line]]\nemblem = {{ file = \"{file}\", permission = \"x\" }}\nheight = \"9 mm\"\n"
        )
    };
    let mut texts = Vec::new();
    for up in ["../".to_owned(), "./../".to_owned(), "up/".to_owned(), format!("{away}/")] {
        texts.push(plain("90 x 50 mm", &["TREBLE"], &photo(&format!("{up}home.png"))));
        texts.push(plain("90 x 50 mm", &["TREBLE"], &emblem(&format!("{up}home.svg"))));
        let worded = plain("90 x 50 mm", &[], "");
        texts.push(format!("wording = \"{up}home.txt\"\n{worded}"));
    }
    texts.push(plain("90 x 50 mm", &["TREBLE"], &photo("hill.png")));
    texts.push(plain("90 x 50 mm", &["TREBLE"], &emblem("ours.svg")));
    texts.push(format!("wording = \"words.txt\"\n{}", plain("90 x 50 mm", &[], "")));
    texts.push(plain("90 x 50 mm", &["TREBLE"], &photo("/dev/zero")));
    texts.push(format!("wording = \"/etc/passwd\"\n{}", plain("90 x 50 mm", &[], "")));
    let lettering = plain("90 x 50 mm", &["TREBLE"], "");
    texts.push(lettering.replace("\"Atkinson Hyperlegible\"", "{ file = \"../home.png\" }"));
    let desk = Desk::open_with(&bench, &["jobs"]);
    for (at, text) in texts.iter().enumerate() {
        // From the page, and from the disk.
        let answer = desk.changed("cup.toml", json!([{ "do": "text", "to": text }]));
        assert_eq!(answer["kept"], "none", "{text}");
        let told = answer["mistakes"].to_string();
        assert!(told.contains("outside of the folder"), "{told}");
        fs::write(bench.path("jobs/other.toml"), text).unwrap();
        let other = format!("jobs/other-{at}.toml");
        bench.put(&other, text);
        let told = desk.told(&format!("layout/other-{at}.toml/bench"));
        assert!(told["mistakes"].to_string().contains("outside of the folder"), "{told}");
        assert_eq!(told["plaque"], json!(null));
        assert!(!told["mistakes"].to_string().contains(OUTSIDE), "{told}");
    }
    // The same beside the layout are taken.
    bench.put("jobs/own.png", hill());
    let text = plain("90 x 50 mm", &["TREBLE"], &photo("own.png"));
    let answer = desk.changed("cup.toml", json!([{ "do": "text", "to": text }]));
    assert_eq!((&answer["kept"], &answer["mistakes"]), (&json!("all"), &json!([])));
    let small = desk.get("layout/cup.toml/photo/0.png");
    assert_eq!(small.status, 200);
    let one = hill();
    assert_eq!(image::load_from_memory(&small.body).unwrap().width(), {
        image::load_from_memory(&one).unwrap().width()
    });
    for other in ["1.png", "-1.png", "0.jpg", "0", "99999999999999999999999.png", "0.png.png"] {
        assert_eq!(desk.get(&format!("layout/cup.toml/photo/{other}")).status, 404, "{other}");
    }
}

#[test]
fn a_record_or_a_shop_file_that_is_a_link_out_of_the_folder_is_not_read() {
    let bench = bench();

    bench.put("secret.toml", format!("word = \"{OUTSIDE}\"\n"));
    for name in ["jobs/cup.signed.toml", "jobs/shop.toml"] {
        let _ = fs::remove_file(bench.path(name));
        symlink("../secret.toml", bench.path(name)).unwrap();
        let desk = Desk::open_with(&bench, &["jobs"]);
        let told = desk.told("layout/cup.toml/bench");
        assert!(!told.to_string().contains(OUTSIDE), "{name}: {told}");
        drop(desk);
        fs::remove_file(bench.path(name)).unwrap();
    }
}
