//! Promises about what the commands do.

use crate::support::{Bench, codes, plain, shipped};

const ALL: [&str; 27] = [
    "artwork-border-mm.dxf",
    "artwork-border-mm.pdf",
    "artwork-border-mm.svg",
    "artwork-holes-mm.dxf",
    "artwork-holes-mm.pdf",
    "artwork-holes-mm.svg",
    "artwork-lettering-mm.dxf",
    "artwork-lettering-mm.pdf",
    "artwork-lettering-mm.svg",
    "artwork-mm.dxf",
    "artwork-mm.pdf",
    "artwork-mm.svg",
    "artwork-outline-mm.dxf",
    "artwork-outline-mm.pdf",
    "artwork-outline-mm.svg",
    "artwork.txt",
    "contents.txt",
    "drilling-mm.dxf",
    "mockup.pdf",
    "pattern-mm.dxf",
    "pattern-mm.svg",
    "pattern.pdf",
    "pattern.svg",
    "proof.pdf",
    "proof.png",
    "proof.svg",
    "report.json",
];

#[test]
fn one_command_makes_everything_of_the_dedication_plaque() {
    let bench = Bench::new();
    shipped(&bench);
    let ran = bench.run(&["make", "dedication.toml"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert_eq!(bench.names("out/dedication"), ALL);
    assert!(ran.out.starts_with("nothing found\n"), "{}", ran.out);
    let report: serde_json::Value =
        serde_json::from_slice(&bench.read("out/dedication/report.json")).unwrap();
    assert_eq!(report["findings"].as_array().unwrap().len(), 0);
    let listed: Vec<&str> =
        report["files"].as_array().unwrap().iter().map(|f| f.as_str().unwrap()).collect();
    assert_eq!(listed.last(), Some(&"report.json"));
    for name in ALL {
        assert!(listed.contains(&name), "{name} is not listed");
    }
}

#[test]
fn every_shipped_layout_but_the_impossible_ones_can_be_made() {
    let bench = Bench::new();
    let layouts = shipped(&bench);
    assert!(layouts.len() >= 5, "{layouts:?}");
    for layout in layouts {
        let ran = bench.run(&["make", &layout]);
        let expected = i32::from(["cannot-fit.toml", "hairlines.toml"].contains(&layout.as_str()));
        assert_eq!(ran.status, expected, "{layout}: {}{}", ran.out, ran.err);
    }
}

/// Puts a remedy's edits into the layout's text, key by key, as a reader of the
/// report would: the value of `key = value` in its table is replaced, or the key
/// is added.
fn edited(layout: &str, edits: &serde_json::Value) -> String {
    let mut text = layout.to_owned();
    for edit in edits.as_array().unwrap() {
        let path: Vec<&str> = edit["key"].as_str().unwrap().split('.').collect();
        let value = edit["value"].as_str().unwrap();
        let (header, nth, key) = match path.as_slice() {
            ["line", number, key] => ("[[line]]".to_owned(), number.parse().unwrap(), *key),
            [table, key] => (format!("[{table}]"), 1, *key),
            other => panic!("unexpected key {other:?}"),
        };
        let mut seen = 0;
        let mut inside = false;
        let mut done = false;
        let mut lines: Vec<String> = Vec::new();
        for line in text.lines() {
            if line.trim_start().starts_with('[') {
                if inside && !done {
                    lines.push(format!("{key} = {value}"));
                    done = true;
                }
                inside = line.trim() == header && {
                    seen += 1;
                    seen == nth
                };
            }
            if inside && line.split('=').next().unwrap().trim() == key {
                lines.push(format!("{key} = {value}"));
                done = true;
            } else {
                lines.push(line.to_owned());
            }
        }
        assert!(done, "{path:?} found no place");
        text = lines.join("\n") + "\n";
    }
    text
}

#[test]
fn every_remedy_of_the_impossible_plate_makes_it_fit_when_applied() {
    let bench = Bench::new();
    shipped(&bench);
    let layout = String::from_utf8(bench.read("cannot-fit.toml")).unwrap();
    let report = bench.report("cannot-fit.toml");
    let crowded: Vec<String> = codes(&report);
    assert!(crowded.contains(&"below-asked-height".to_owned()), "{crowded:?}");
    let mut kinds = Vec::new();
    for finding in report["findings"].as_array().unwrap() {
        for remedy in finding["remedies"].as_array().unwrap() {
            bench.put("cured.toml", edited(&layout, &remedy["edits"]));
            let ran = bench.run(&["fit", "cured.toml"]);
            assert_eq!(ran.status, 0, "{}: {}{}", remedy["message"], ran.out, ran.err);
            kinds.push(remedy["kind"].as_str().unwrap().to_owned());
        }
    }
    for kind in [
        "shorter-wording",
        "larger-plate",
        "wider-plate",
        "taller-plate",
        "other-lettering",
        "lower-demand",
    ] {
        assert!(kinds.iter().any(|k| k == kind), "no {kind} among {kinds:?}");
    }
}

#[test]
fn a_shorter_wording_keeps_nothing_that_speaks_of_words_it_lost() {
    let text = "[[line]]\nbreaks = \"free\"\nat_least = \"4.2 mm\"\nhyphens = \"at soft hyphens\"\n\
                text = \"Given by Elowen Tarrant and her family to the Marrowby Vale observa\\u00ADtory\"\n\
                keep = [\"Elowen Tarrant\", \"observa\\u00ADtory\"]\n";
    let layout = plain("60 x 34 mm", &[], text);
    let bench = Bench::with(&layout);
    let report = bench.report("cup.toml");
    let all = report["findings"].as_array().unwrap().iter();
    let remedies = all.flat_map(|finding| finding["remedies"].as_array().unwrap());
    let shorter: Vec<_> = remedies.filter(|r| r["kind"] == "shorter-wording").collect();
    assert!(!shorter.is_empty());
    for remedy in shorter {
        let edits = remedy["edits"].as_array().unwrap();
        let keys: Vec<&str> = edits.iter().map(|edit| edit["key"].as_str().unwrap()).collect();
        assert_eq!(keys, ["line.1.text", "line.1.keep", "line.1.hyphens"]);
        bench.put("cured.toml", edited(&layout, &remedy["edits"]));
        let ran = bench.run(&["fit", "cured.toml"]);
        assert_eq!(ran.status, 0, "{}: {}{}", remedy["message"], ran.out, ran.err);
    }
}

#[test]
fn what_is_accepted_below_its_floor_may_stay_there_in_a_cure() {
    // 2.5 mm are usual by this process and given up; 1.745 mm are what can be read.
    let words = "GIVEN BY THE RINGERS OF MARROWBY VALE";
    let plain = plain("62 x 20 mm", &[words], "breaks = \"never\"\n")
        .replace("material", "margin = \"4 mm\"\nmaterial");
    let layout = format!(
        "accept = [{{ code = \"below-process-height\", where = \"line.1\", measured = 1.74, \
         reason = \"agreed by letter\" }}]\n{plain}"
    );
    let bench = Bench::with(&layout);
    let report = bench.report("cup.toml");
    assert_eq!(codes(&report), ["below-process-height", "hard-to-read"]);
    let remedies = report["findings"][1]["remedies"].as_array().unwrap();
    let wider = remedies.iter().find(|remedy| remedy["kind"] == "wider-plate").unwrap();
    bench.put("cured.toml", edited(&layout, &wider["edits"]));
    let cured = bench.report("cured.toml");
    assert_eq!(cured["findings"][0]["code"], "below-process-height");
    assert!(!codes(&cured).contains(&"hard-to-read".to_owned()), "{:?}", codes(&cured));
    let height = cured["lines"][0]["cap_height_mm"].as_f64().unwrap();
    assert!(height > 1.745 && height < 1.79, "{height}");
}

#[test]
fn a_suggested_plate_is_large_enough_for_the_margin_that_follows_its_size() {
    // No margin is told: 3 mm up to 60 mm of the short side, then a twentieth of it.
    let line = "[[line]]\nat_least = \"7 mm\"\nbreaks = \"free\"\n\
                text = \"Presented by the bell-ringers of Marrowby Vale to their observatory\"\n";
    let layout = plain("75 x 58 mm", &[], line);
    let bench = Bench::with(&layout);
    let report = bench.report("cup.toml");
    let all = report["findings"].as_array().unwrap().iter();
    let remedies = all.flat_map(|finding| finding["remedies"].as_array().unwrap());
    let mut margins = Vec::new();
    for remedy in remedies.filter(|remedy| remedy["edits"][0]["key"] == "plate.size") {
        bench.put("cured.toml", edited(&layout, &remedy["edits"]));
        let ran = bench.run(&["fit", "cured.toml"]);
        assert_eq!(ran.status, 0, "{}: {}{}", remedy["message"], ran.out, ran.err);
        margins.push(bench.report("cured.toml")["margin_mm"].as_f64().unwrap());
    }
    assert!(margins.len() >= 2 && margins.iter().any(|margin| *margin > 3.4), "{margins:?}");
}

#[test]
fn a_suggested_plate_is_the_smallest_that_does() {
    let bench = Bench::new();
    shipped(&bench);
    let layout = String::from_utf8(bench.read("cannot-fit.toml")).unwrap();
    let report = bench.report("cannot-fit.toml");
    let remedies: Vec<&serde_json::Value> = report["findings"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|finding| finding["remedies"].as_array().unwrap())
        .collect();
    for (kind, wider, taller) in [("wider-plate", 0.5, 0.0), ("taller-plate", 0.0, 0.5)] {
        let remedy = remedies.iter().find(|remedy| remedy["kind"] == kind).unwrap();
        let size = remedy["edits"][0]["value"].as_str().unwrap().replace(['"', 'm'], "");
        let sides: Vec<f64> = size.split('x').map(|side| side.trim().parse().unwrap()).collect();
        let smaller = format!("\"{} x {} mm\"", sides[0] - wider, sides[1] - taller);
        let edits = serde_json::json!([{ "key": "plate.size", "value": smaller }]);
        bench.put("smaller.toml", edited(&layout, &edits));
        assert_eq!(bench.run(&["fit", "smaller.toml"]).status, 1, "{kind}: {smaller} does too");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let bench = Bench::new();
    for layout in shipped(&bench) {
        bench.run(&["make", &layout, "-o", "first"]);
        bench.run(&["make", &layout, "-o", "second"]);
        let names = bench.names("first");
        assert!(names.len() >= 6, "{layout}: {names:?}");
        assert_eq!(names, bench.names("second"));
        for name in names {
            let (a, b) =
                (bench.read(&format!("first/{name}")), bench.read(&format!("second/{name}")));
            assert!(a == b, "{layout}: {name} differs between two runs");
        }
    }
}

#[test]
fn a_layout_can_come_from_standard_input() {
    let bench = Bench::new();
    let layout = plain("90 x 50 mm", &["TREBLE"], "");
    let ran = bench.run_with(&["make", "-"], &layout);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(bench.has("out/layout/proof.pdf"));
}

#[test]
fn fit_writes_nothing_and_tells_every_row() {
    let bench = Bench::with(&plain("90 x 50 mm", &["RUNG FOR PEACE", "eight bells"], ""));
    let ran = bench.run(&["fit", "cup.toml"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.contains("RUNG FOR PEACE") && ran.out.contains("eight bells"), "{}", ran.out);
    assert_eq!(bench.names("."), ["cup.toml"]);
}

#[test]
fn the_report_has_every_key_it_promises() {
    let bench = Bench::new();
    shipped(&bench);
    let report = bench.report("dedication.toml");
    for key in [
        "format",
        "version",
        "plate",
        "margin_mm",
        "field",
        "clear_zones",
        "mode",
        "limit_scale",
        "scale_low",
        "scale_high",
        "scale",
        "ease",
        "phi",
        "lines",
        "pieces",
        "holes",
        "findings",
        "proof_mark",
        "sheets",
    ] {
        assert!(report.get(key).is_some(), "no {key}");
    }
    for key in [
        "index",
        "text",
        "lettering",
        "font",
        "size_ratio",
        "cap_height_mm",
        "x_height_mm",
        "floor_mm",
        "floor_from",
        "wish_mm",
        "ceiling_mm",
        "rise",
        "depth",
        "leading",
        "space",
        "align",
        "breaks",
    ] {
        assert!(report["lines"][0].get(key).is_some(), "no lines[].{key}");
    }
    for key in
        ["line", "range", "text", "baseline_mm", "origin_x_mm", "cap_height_mm", "ink", "glyphs"]
    {
        assert!(report["pieces"][0].get(key).is_some(), "no pieces[].{key}");
    }
    for key in [
        "x_mm",
        "y_mm",
        "clearance_diameter_mm",
        "head_diameter_mm",
        "clear_zone_radius_mm",
        "shank_bore_mm",
        "pilot_mm",
        "depth_mm",
        "face",
    ] {
        assert!(report["holes"][0].get(key).is_some(), "no holes[].{key}");
    }
    let mark = report["proof_mark"].as_str().unwrap();
    assert_eq!(mark.len(), 10);
    assert!(mark.chars().all(|c| matches!(c, 'A'..='Z' | '2'..='7')), "{mark}");
}

#[test]
fn the_proof_mark_follows_what_is_cut_and_nothing_else() {
    let bench = Bench::new();
    let mark = |more: &str| {
        bench.put("cup.toml", plain("90 x 50 mm", &["TENOR"], more));
        bench.report("cup.toml")["proof_mark"].as_str().unwrap().to_owned()
    };
    let first = mark("");
    assert_eq!(first, mark("[proof]\nnumber = 7\nclient = \"Somebody else\"\n"));
    assert_ne!(first, mark("[fit]\nease = \"89 %\"\n"));
}

#[test]
fn new_starts_from_a_shipped_layout_and_never_writes_over_one() {
    let bench = Bench::new();
    for starter in ["dedication", "long-dedication", "oval", "inches", "ansate"] {
        let file = format!("{starter}-mine.toml");
        let ran = bench.run(&["new", "--from", starter, &file]);
        assert_eq!(ran.status, 0, "{}", ran.err);
        assert_eq!(bench.run(&["fit", &file]).status, 0, "{starter}");
        let again = bench.run(&["new", "--from", starter, &file]);
        assert_eq!(again.status, 3, "{}", again.out);
    }
    let ran = bench.run(&["new", "--from", "dedicaton"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("the nearest is `dedication`"), "{}", ran.err);
}

#[test]
fn lettering_lists_what_is_shipped_with_its_licence() {
    let bench = Bench::new();
    let list = bench.run(&["lettering"]);
    for name in ["Cinzel", "EB Garamond", "Archivo Narrow", "Great Vibes", "OFL-1.1"] {
        assert!(list.out.contains(name), "{name}: {}", list.out);
    }
    let licence = bench.run(&["lettering", "Cinzel", "--licence"]);
    assert!(licence.out.contains("SIL OPEN FONT LICENSE"), "{}", licence.out);
    let unknown = bench.run(&["lettering", "Cinzell"]);
    assert_eq!(unknown.status, 2);
    assert!(unknown.err.contains("did you mean `Cinzel`?"), "{}", unknown.err);
}

#[test]
fn a_format_that_is_not_known_is_refused_with_the_nearest() {
    let bench = Bench::with(&plain("90 x 50 mm", &["TENOR"], ""));
    let ran = bench.run(&["proof", "cup.toml", "-o", "cup.pgn"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("such as cup.png"), "{}", ran.err);
    assert_eq!(bench.names("."), ["cup.toml"]);
}

const COMMANDS: [&str; 14] = [
    "make",
    "fit",
    "proof",
    "artwork",
    "pattern",
    "signoff",
    "compare",
    "placings",
    "desk",
    "new",
    "lettering",
    "layout-schema",
    "completions",
    "man",
];

#[test]
fn each_shell_gets_completions_for_every_command() {
    let bench = Bench::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let ran = bench.run(&["completions", shell]);
        assert_eq!(ran.status, 0, "{}", ran.err);
        for command in COMMANDS {
            assert!(ran.out.contains(command), "{shell} does not know {command}");
        }
        assert_eq!(ran.out, bench.run(&["completions", shell]).out);
    }
    assert_eq!(bench.run(&["completions", "basil"]).status, 2);
}

/// What bash itself offers, asked as its own completion asks.
#[test]
fn bash_completes_a_command_that_is_begun() {
    let bench = Bench::new();
    bench.put("ansata.bash", bench.run(&["completions", "bash"]).out);
    let script = "source ./ansata.bash; COMP_WORDS=(ansata ma); COMP_CWORD=1; \
                  _ansata ansata ma ansata; echo ${COMPREPLY[@]}";
    let ended = std::process::Command::new("bash")
        .args(["--norc", "-c", script])
        .current_dir(bench.path("."))
        .output()
        .unwrap();
    assert_eq!(String::from_utf8_lossy(&ended.stdout), "make man\n");
}

#[test]
fn each_command_has_a_manual_page_that_no_clock_changes() {
    let bench = Bench::new();
    let ran = bench.run(&["man", "-o", "man1"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let mut names: Vec<String> =
        COMMANDS.iter().map(|command| format!("ansata-{command}.1")).collect();
    names.push("ansata.1".to_owned());
    names.sort();
    assert_eq!(bench.names("man1"), names);
    for command in COMMANDS {
        let page = bench.run(&["man", command]).out;
        assert_eq!(page.as_bytes(), bench.read(&format!("man1/ansata-{command}.1")));
        // Title, section, an empty date, the version.
        let title = format!(".TH ansata-{command} 1  \"ansata {}\" ", env!("CARGO_PKG_VERSION"));
        assert!(page.lines().any(|line| line == title), "{page}");
        for section in ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "EXAMPLES"] {
            assert!(
                page.contains(&format!(".SH {section}\n").replace("EXAMPLES", "\"EXAMPLES\"")),
                "{command}: no {section}\n{page}"
            );
        }
    }
    let whole = bench.run(&["man"]).out;
    for command in COMMANDS {
        let name = format!("ansata\\-{}(1)", command.replace('-', "\\-"));
        assert!(whole.contains(&name), "{name} is not in\n{whole}");
    }
    let ran = bench.run(&["man", "-o", "man1"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
    assert_eq!(bench.run(&["man", "-o", "man1", "--replace"]).status, 0);
    let ran = bench.run(&["man", "mak"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("the nearest is `make`"), "{}", ran.err);
}

#[test]
fn each_command_says_by_example_how_it_is_used() {
    let bench = Bench::new();
    let whole = bench.run(&["--help"]).out;
    let list = bench.run(&["new", "--from", "none"]).err;
    let starters: Vec<&str> =
        list.lines().skip(1).map(|line| line.split_whitespace().next().unwrap()).collect();
    let line = format!("Starters: {}", starters.join(", "));
    assert!(bench.run(&["new", "--help"]).out.contains(&line), "{line}");
    for command in COMMANDS {
        assert!(whole.lines().any(|l| l.trim_start().starts_with(&format!("{command} "))));
        let help = bench.run(&[command, "--help"]).out;
        assert!(help.contains(&format!("\n  ansata {command}")), "{help}");
    }
}

#[test]
fn a_file_that_is_not_there_is_told_with_the_one_that_was_meant() {
    let bench = Bench::with(&plain("90 x 50 mm", &["TENOR"], ""));
    bench.put("jobs/oval.toml", "");
    for (typed, meant) in [
        ("cups.toml", "; did you mean cup.toml?"),
        ("cup", "; did you mean cup.toml?"),
        ("jobs/ovla.toml", "; did you mean jobs/oval.toml?"),
        ("observatory.toml", ""),
        ("no-folder/cup.toml", ""),
    ] {
        let ran = bench.run(&["fit", typed]);
        assert_eq!(ran.status, 2);
        assert_eq!(ran.err, format!("error: {typed}: there is no such file{meant}\n"));
    }
}
