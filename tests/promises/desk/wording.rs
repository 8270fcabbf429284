//! Words and names that look like a page's own language stay words. Drawings are read back by
//! a reader of XML that is not the writer.

use serde_json::{Value, json};
use usvg::roxmltree::{Document, NodeType};

use crate::desk::client::Desk;
use crate::messages::hill;
use crate::support::{Bench, plain};

/// Wordings that would do something where they are not taken as words.
const HOSTILE: [&str; 16] = [
    "<script>alert(1)</script>",
    "</title></svg><script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "' onload='alert(1)",
    "]]><script>alert(1)</script><![CDATA[",
    "<!-- --><svg onload=alert(1)>",
    "<!DOCTYPE x [<!ENTITY a \"b\">]>&a;",
    "&lt;b&gt; &amp; &#60;script&#62; &unknown;",
    "javascript:alert(1)",
    "<?xml version='1.0'?><?php 1 ?>",
    "</textarea><b>bold</b>",
    "{{ 7 * 7 }} ${7 * 7} `x` %00",
    "\\u003cscript\\u003e \\\" \\' \\",
    "<a href=\"javascript:alert(1)\">a</a>",
    "A & B < C > D \"E\" 'F'",
    "\u{2028}\u{2029}<b>\u{200B}\u{FEFF}",
];

/// What a drawing may be made of; everything else could do or fetch something.
const DRAWN: [&str; 24] = [
    "svg",
    "g",
    "path",
    "rect",
    "circle",
    "ellipse",
    "line",
    "polyline",
    "polygon",
    "text",
    "tspan",
    "title",
    "desc",
    "defs",
    "use",
    "clipPath",
    "mask",
    "image",
    "pattern",
    "linearGradient",
    "radialGradient",
    "stop",
    "symbol",
    "metadata",
];

/// Reads a drawing and says what it holds as text; panics where it could do anything.
fn harmless(svg: &str, what: &str) -> String {
    let document = Document::parse(svg).unwrap_or_else(|error| panic!("{what}: {error}"));
    let mut words = String::new();
    for node in document.descendants() {
        match node.node_type() {
            NodeType::Element => {
                let name = node.tag_name().name();
                assert!(DRAWN.contains(&name), "{what}: an element {name}");
                for attribute in node.attributes() {
                    let (name, value) = (attribute.name(), attribute.value().trim());
                    assert!(!name.to_ascii_lowercase().starts_with("on"), "{what}: {name}");
                    let leads = name == "href" || name == "src";
                    let inside = value.starts_with('#') || value.starts_with("data:image/");
                    assert!(!leads || inside, "{what}: {name}=\"{value}\"");
                    assert!(!value.contains("url(") || value.contains("url(#"), "{what}: {value}");
                }
            }
            NodeType::Text => words.push_str(node.text().unwrap_or_default()),
            NodeType::PI => panic!("{what}: an instruction"),
            NodeType::Root | NodeType::Comment => {}
        }
    }
    words
}

/// All drawings within an answer.
fn drawings(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(keys) => {
            for (key, value) in keys {
                match value.as_str() {
                    Some(svg) if key == "svg" => found.push(svg.to_owned()),
                    _ => drawings(value, found),
                }
            }
        }
        Value::Array(all) => all.iter().for_each(|value| drawings(value, found)),
        _ => {}
    }
}

/// A layout with a wording wherever words are free.
fn layout(words: &str) -> String {
    let quoted = toml::Value::String(words.to_owned()).to_string();
    let text = plain("150 x 90 mm", &[words, "TREBLE"], "");
    text.replace("\"Test plate\"", &quoted)
        + &format!(
            "[proof]\nclient = {quoted}\nspelling = {quoted}\nsignatures = [{quoted}]\n\
             [[photo]]\nfile = \"hill.png\"\nplace = \"left\"\nwidth = \"20 mm\"\ncredit = {quoted}\n\
             permission = {quoted}\nengrave_credit = {{ cap_height = \"1.5 mm\" }}\n\
             [mount]\nfixing = {{ kind = \"tape\" }}\n[face]\nsize = \"180 x 120 mm\"\n\
             material = \"teak\"\nthickness = \"19 mm\"\n"
        )
}

#[test]
fn hostile_wording_stays_wording_in_every_drawing() {
    let bench = Bench::with(&plain("150 x 90 mm", &["TREBLE"], ""));
    bench.put("hill.png", hill());
    let desk = Desk::open(&bench);
    let mut kept = 0;
    for words in HOSTILE {
        let answer = desk.changed("cup.toml", json!([{ "do": "text", "to": layout(words) }]));
        if answer["kept"] != "all" {
            // What is shown nowhere may be refused, in words.
            assert!(answer["mistakes"][0]["message"].is_string(), "{words}: {answer}");
            continue;
        }
        kept += 1;
        // As values it comes back as it went.
        let values = &answer["bench"]["values"];
        assert_eq!(values["title"], words);
        assert_eq!(values["line"][0]["text"], words);
        let mut all = Vec::new();
        drawings(&answer, &mut all);
        assert!(all.len() >= 2, "{words}: {} drawings", all.len());
        for svg in &all {
            harmless(svg, words);
            // Style attributes would be refused by the page's policy.
            assert!(!svg.contains(" style="), "{words}");
        }
        for file in ["proof.svg", "artwork-mm.svg"] {
            let reply = desk.get(&format!("layout/cup.toml/file/{file}"));
            if reply.status == 200 {
                harmless(&reply.text(), &format!("{file} of {words}"));
            }
        }
        let report = desk.get("layout/cup.toml/file/report.json").json();
        assert_eq!(report["lines"][0]["text"], words);
    }
    assert!(kept >= 14, "only {kept} wordings were kept");
    for place in ["letterings", "fixings", "sizes", "placings"] {
        let mut all = Vec::new();
        drawings(&desk.told(&format!("layout/cup.toml/{place}")), &mut all);
        for svg in all {
            harmless(&svg, place);
            assert!(!svg.contains(" style="), "{place}");
        }
    }
}

#[test]
fn control_characters_in_a_wording_are_refused_or_written_as_toml_writes_them() {
    let bench = Bench::with(&plain("90 x 50 mm", &["TREBLE"], ""));
    let desk = Desk::open(&bench);
    for code in (0..0x20).chain(0x7F..0xA0).chain([0x202E, 0xFFFE, 0xFFFF, 0xE000]) {
        let words = format!("a{}b", char::from_u32(code).unwrap());
        let set = json!([{ "do": "set", "path": ["line", 0, "text"], "to": words }]);
        let answer = desk.changed("cup.toml", set);
        let held = String::from_utf8(bench.read("cup.toml")).unwrap();
        // TOML 1.0: control characters but tab stand in a text as escapes only.
        let bare = held.chars().find(|c| c.is_ascii_control() && !"\t\r\n".contains(*c));
        assert_eq!(bare, None, "U+{code:04X}");
        if answer["kept"] == "all" {
            assert_eq!(answer["bench"]["values"]["line"][0]["text"], words, "U+{code:04X}");
            harmless(answer["bench"]["plaque"]["front"]["svg"].as_str().unwrap(), &words);
        }
        let ran = bench.run(&["fit", "cup.toml"]);
        assert!([0, 1].contains(&ran.status), "U+{code:04X}: {}", ran.err);
    }
}

#[test]
fn hostile_file_names_stay_names() {
    let bench = Bench::new();
    let names = [
        "<script>alert(1)<b>.toml",
        "\"onload=\"alert(1).toml",
        "a'b&amp;c;d.toml",
        "a\r\nSet-Cookie: b=c.toml",
        "]]>.toml",
        "%2e%2e%2f.toml",
        "a?layout=b#c.toml",
        "é\u{202E}lmot.toml",
        "\u{1F514}.toml",
        "a\tb\u{1}c.toml",
    ];
    for name in names {
        bench.put(name, plain("90 x 50 mm", &["TREBLE"], ""));
    }
    let desk = Desk::open(&bench);
    let listed = desk.told("folder");
    let mut told: Vec<&str> = listed["layouts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|entry| entry["name"].as_str().unwrap())
        .collect();
    let mut wanted = names.to_vec();
    told.sort_unstable();
    wanted.sort_unstable();
    assert_eq!(told, wanted);
    for name in names {
        let way: String = name.bytes().map(|byte| format!("%{byte:02X}")).collect();
        let told = desk.told(&format!("layout/{way}/bench"));
        assert_eq!((&told["name"], &told["mistakes"]), (&json!(name), &json!([])));
        harmless(told["plaque"]["front"]["svg"].as_str().unwrap(), name);
        let stem = name.strip_suffix(".toml").unwrap();
        let zip: String = format!("{stem}.zip").bytes().map(|b| format!("%{b:02X}")).collect();
        let reply = desk.get(&format!("layout/{way}/file/{zip}?download"));
        assert_eq!(reply.status, 200, "{name}");
        let saved = reply.header("content-disposition").unwrap();
        // RFC 8187: only these and %-escapes stand there.
        let (_, value) = saved.split_once("''").unwrap();
        assert!(
            value.bytes().all(|b| b.is_ascii_alphanumeric() || b"%-._".contains(&b)),
            "{saved}"
        );
        assert_eq!(reply.header("set-cookie"), None);
        let proof = desk.get(&format!("layout/{way}/file/proof.svg")).text();
        harmless(&proof, name);
    }
    // The page itself is the same whatever is asked for: no name is set into it.
    let whole = desk.get("").text();
    assert_eq!(desk.get("?layout=%3Cscript%3Ealert(1)%3C/script%3E").text(), whole);
    assert!(!whole.contains("<script>") && !whole.contains("style="), "{whole}");
}
