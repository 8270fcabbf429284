//! Promises about a new layout: asked for plainly, checked at once, written whole.

use std::collections::BTreeSet;
use std::io::Write;
use std::process::{Command, Stdio};

use crate::support::{Bench, Ran, codes};

/// Answers to every question, in order.
const ANSWERS: [&str; 20] = [
    "120 x 80 mm",
    "rounded",
    "4 mm",
    "bronze",
    "MARROWBY VALE",
    "The \"Old\" Tenor \\ 1726",
    "?",
    "",
    "Tenor plate",
    "Besley",
    "pin",
    "",
    "",
    "",
    "",
    "9 mm",
    "150 x 110 mm",
    "white oak",
    "20 mm",
    "",
];

fn asked(bench: &Bench, answers: &[&str]) -> Ran {
    bench.run_with(&["new", "cup.toml"], &answers.join("\n"))
}

#[test]
fn a_few_answers_become_a_layout_to_read_and_to_change() {
    let bench = Bench::new();
    let ran = asked(&bench, &ANSWERS);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert_eq!(bench.names("."), ["cup.toml"]);
    let layout = String::from_utf8(bench.read("cup.toml")).unwrap();
    assert_eq!(layout, include_str!("new/pins.toml"));
    let report = bench.report("cup.toml");
    let lines = report["lines"].as_array().unwrap();
    let texts: Vec<&str> = lines.iter().map(|line| line["text"].as_str().unwrap()).collect();
    assert_eq!(texts, ANSWERS[4..7]);
    assert_eq!(report["holes"].as_array().unwrap().len(), 4);
}

#[test]
fn every_key_that_a_new_layout_shows_in_a_comment_can_be_switched_on() {
    let bench = Bench::new();
    for size in ["120 x 80 mm", "4 3/4 x 3 in"] {
        let face = if size.contains("mm") { "150 x 110 mm" } else { "6 x 4 1/2 in" };
        let answers =
            [size, "", "", "TENOR", "", "", "", "screw", "", "", "", "", "", face, "", "", ""];
        let ran = bench.run_with(&["new", "cup.toml"], &answers.join("\n"));
        assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
        let layout = String::from_utf8(bench.read("cup.toml")).unwrap();
        let lines: Vec<&str> = layout.lines().collect();
        let mut switched = 0;
        for (at, line) in lines.iter().enumerate() {
            let Some(key) = line.strip_prefix("# ").filter(|rest| rest.contains(" = ")) else {
                continue;
            };
            let mut changed = lines.clone();
            changed[at] = key;
            let ran = bench.run_with(&["fit", "-"], &changed.join("\n"));
            assert!(ran.status < 2, "{key}: {}", ran.err);
            switched += 1;
        }
        assert_eq!(switched, 11, "{layout}");
        std::fs::remove_file(bench.path("cup.toml")).unwrap();
    }
}

#[test]
fn what_is_offered_makes_a_plaque_without_a_stop() {
    let bench = Bench::new();
    for size in ["60 x 30 mm", "30 x 60 mm", "90 x 50 mm", "250 x 150 mm", "3 x 2 in", "80 x 80 mm"]
    {
        for outline in ["rectangle", "rounded", "notched", "oval", "circle", "arch", "ansate"] {
            for fixing in ["screw", "pin", "tape", "none"] {
                if outline == "circle" && size != "80 x 80 mm" {
                    continue;
                }
                let mut answers = vec![size, outline];
                answers.extend(
                    ["rounded", "notched", "arch"].iter().filter(|o| **o == outline).map(|_| ""),
                );
                answers.extend(["", "TENOR", "", "", "", fixing]);
                if matches!(fixing, "screw" | "pin") {
                    // In the handles of an ansate plate no inset is asked for.
                    answers.extend(&[""; 5][usize::from(outline == "ansate")..]);
                }
                answers.extend(["", ""]);
                let ran = asked(&bench, &answers);
                let case = format!("{size} {outline} {fixing}");
                assert_eq!(ran.status, 0, "{case}: {}{}", ran.out, ran.err);
                let report = bench.report("cup.toml");
                let ran = bench.run(&["fit", "cup.toml"]);
                assert_eq!(ran.status, 0, "{case}: {:?}\n{}", codes(&report), ran.out);
                std::fs::remove_file(bench.path("cup.toml")).unwrap();
            }
        }
    }
}

#[test]
fn a_wrong_answer_is_told_in_the_readers_words_and_the_nearest_is_offered() {
    let bench = Bench::new();
    let answers = [
        "120 x 80",
        "",
        "rund",
        "oval",
        "bras",
        "",
        "two\twords",
        "TENOR",
        "",
        "",
        "EB Garamont",
        "",
        "tape",
        "12 x 8 cm",
        "oak",
        "teak",
        "",
        "",
    ];
    let ran = asked(&bench, &answers);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    for told in [
        "Plate, width x height: 120 x 80\n    `120 x 80` has no unit\n    write \"120 x 80 mm\" (or cm, \
         or in)\nPlate, width x height [120 x 80 mm]: \n",
        "    `plate.shape` cannot be `rund`\n",
        "    `plate.material` cannot be `bras`\n    did you mean `brass`? It may be: brass, bronze",
        "  1: two\twords\n    `line.1.text` holds a tab (U+0009)\n",
        "    there is no lettering `EB Garamont`\n    did you mean `EB Garamond`?",
        "    `face.material` cannot be `oak`\n    did you mean `white oak` or `red oak`?",
    ] {
        assert!(ran.out.contains(told), "{told}\nis not in\n{}", ran.out);
    }
    let layout = String::from_utf8(bench.read("cup.toml")).unwrap();
    assert!(layout.contains("size        = \"120 x 80 mm\""), "{layout}");
    assert!(layout.contains("\"EB Garamond\"") && layout.contains("\"teak\""), "{layout}");
}

#[test]
fn every_kind_of_fixing_is_asked_for_by_its_own_figures() {
    let bench = Bench::new();
    let face = ["150 x 110 mm", "white oak", "25 mm", ""];
    let cases: [(&str, &[&str], &str); 5] = [
        ("machine screw", &["", "", "", "", "", "", "", ""], "insert_depth = \"6 mm\""),
        ("machine screw", &["M4", "dome", "35 mm", "nut", "", ""], "into = \"nut\" }"),
        (
            "stud",
            &["", "12 mm", "", ""],
            "kind = \"rear stud\", diameter = \"3 mm\", length = \"12 mm\"",
        ),
        ("standoff", &["", "", "", "", "", "", ""], "cap = \"16 mm\""),
        ("tape", &[], "kind = \"tape\""),
    ];
    for (kind, figures, wanted) in cases {
        let mut answers = vec!["120 x 80 mm", "", "", "TENOR", "", "", "", kind];
        answers.extend(figures);
        answers.extend(face);
        let ran = asked(&bench, &answers);
        assert_eq!(ran.status, 0, "{kind}: {}{}", ran.out, ran.err);
        let layout = String::from_utf8(bench.read("cup.toml")).unwrap();
        assert!(layout.contains(wanted), "{wanted}\nis not in\n{layout}");
        let ran = bench.run(&["fit", "cup.toml"]);
        assert_eq!(ran.status, 0, "{kind}: {}", ran.out);
        std::fs::remove_file(bench.path("cup.toml")).unwrap();
    }
}

#[test]
fn a_question_mark_shows_what_may_be_answered() {
    let bench = Bench::new();
    let answers =
        ["?", "90 x 50 mm", "?", "", "?", "", "A", "", "?", "", "?", "", "?", "screw", "?", ""];
    let out = asked(&bench, &answers).out;
    for shown in [
        "    such as 120 x 80 mm, 12 x 8 cm or 4 3/4 x 3 in\n",
        "    rectangle, rounded, ",
        "    brass, bronze, copper, ",
        "    what the sheets call it, in one line\n",
        "    Great Vibes ",
        "    pin: escutcheon pins\n",
        "    the number that screws are sold by, 0 to 10\n",
    ] {
        assert!(out.contains(shown), "{shown}\nis not in\n{out}");
    }
}

#[test]
fn answers_that_end_early_leave_nothing_behind() {
    let bench = Bench::new();
    // The last answers are an empty line that takes what is offered, and the end.
    for count in 0..ANSWERS.len() - 1 {
        let mut text = ANSWERS[..count].join("\n");
        text.push_str(if count == 0 { "" } else { "\n" });
        let ran = bench.run_with(&["new", "cup.toml"], &text);
        assert_eq!(ran.status, 2, "{count}: {}{}", ran.out, ran.err);
        let end = ": the answers end before the last question; nothing was written\n";
        assert!(ran.err.starts_with("error: at \"") && ran.err.ends_with(end), "{}", ran.err);
        assert_eq!(bench.names("."), [""; 0]);
    }
}

#[test]
fn questions_that_are_broken_off_leave_nothing_behind() {
    let bench = Bench::new();
    let mut child = Command::new(env!("CARGO_BIN_EXE_ansata"))
        .args(["new", "cup.toml"])
        .current_dir(bench.path("."))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    input.write_all(ANSWERS[..17].join("\n").as_bytes()).unwrap();
    // What Ctrl-C sends; who was started with that ignored hands it on, so a second one.
    let interrupt = format!("kill -INT {0}; kill -TERM {0}", child.id());
    assert!(Command::new("sh").args(["-c", &interrupt]).status().unwrap().success());
    assert!(!child.wait().unwrap().success());
    assert_eq!(bench.names("."), [""; 0]);
}

#[test]
fn a_layout_that_is_there_is_never_written_over_nor_asked_about() {
    let bench = Bench::with("mine");
    let ran = asked(&bench, &ANSWERS);
    assert_eq!((ran.status, ran.out.as_str()), (3, ""));
    assert!(ran.err.contains("cup.toml is there already"), "{}", ran.err);
    assert_eq!(bench.read("cup.toml"), b"mine");
    let ran = bench.run_with(&["new", "no-folder/cup.toml"], &ANSWERS.join("\n"));
    assert_eq!((ran.status, ran.out.as_str()), (3, ""));
    assert!(ran.err.contains("there is no folder no-folder"), "{}", ran.err);
    let ran = bench.run_with(&["new"], &ANSWERS.join("\n"));
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert_eq!(bench.names("."), ["cup.toml", "layout.toml"]);
}

#[test]
fn input_of_any_kind_comes_to_an_end() {
    let bench = Bench::new();
    let size = "120 x 80 mm\n\n\n";
    for (input, told) in [
        ("yes\n".repeat(100), "could be used in 20 tries"),
        (format!("{size}{}", "A bell\n".repeat(600)), "could be used in 20 tries"),
        ("x".repeat(1 << 20), "the answer is longer than 65536 bytes"),
        ("\0\u{1}\n\u{7}".repeat(100), "could be used in 20 tries"),
        ("\n".repeat(100), "could be used in 20 tries"),
    ] {
        let ran = bench.run_with(&["new", "cup.toml"], &input);
        assert_eq!(ran.status, 2, "{}", ran.err);
        assert!(ran.err.contains(told), "{told}: {}", ran.err);
        assert!(ran.err.len() < 300, "{}", ran.err);
        assert_eq!(bench.names("."), [""; 0]);
    }
}

#[test]
fn every_outline_that_the_schema_knows_is_asked_for_or_told_of() {
    let bench = Bench::new();
    let schema: serde_json::Value =
        serde_json::from_str(&bench.run(&["layout-schema"]).out).unwrap();
    let words = &schema["properties"]["plate"]["properties"]["shape"]["enum"];
    let words: BTreeSet<&str> =
        words.as_array().unwrap().iter().map(|word| word.as_str().unwrap()).collect();
    let out = asked(&bench, &["120 x 80 mm", "?"]).out;
    let (_, list) = out.split_once("Outline [rectangle]: ?\n    ").unwrap();
    let list: BTreeSet<&str> = list.lines().next().unwrap().split(", ").collect();
    // A list of points is written, not asked for.
    let not_asked: Vec<&str> = words.difference(&list).copied().collect();
    assert!(not_asked.is_empty() || not_asked == ["points"], "{not_asked:?}");
    assert!(list.is_subset(&words));
}
