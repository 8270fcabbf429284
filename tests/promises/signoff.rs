//! Promises about signing: only the agreed thing is cut.

use serde_json::{Value, json};

use crate::outside::asked;
use crate::support::{Bench, Ran, codes, plain, shipped};

const WITH: &str = "For the ringers, who rang";
const WITHOUT: &str = "For the ringers who rang";
const RECORD: &str = "cup.signed.toml";

/// A plate with a comma in its second line and two screws.
fn good() -> String {
    plain("90 x 50 mm", &["RUNG IN HONOUR", WITH], MOUNT)
}

const MOUNT: &str = "[mount]\nfixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n\
    holes = \"two sides\"\ninset = \"6 mm\"\n[face]\nsize = \"120 x 80 mm\"\nmaterial = \"white oak\"\nthickness = \"19 mm\"\n";

fn sign(bench: &Bench, by: &str, role: &str, date: &str) -> Ran {
    bench.run(&["signoff", "cup.toml", "--by", by, "--role", role, "--date", date])
}

/// A bench whose layout Orla Penhallick has signed.
fn signed(layout: &str) -> Bench {
    let bench = Bench::with(layout);
    let ran = sign(&bench, "Orla Penhallick", "For the ringers", "2026-11-25");
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    bench
}

fn make(bench: &Bench) -> Ran {
    bench.run(&["make", "cup.toml", "-o", "made"])
}

fn text(bench: &Bench, name: &str) -> String {
    String::from_utf8(bench.read(name)).unwrap()
}

#[test]
fn a_comma_changed_after_signing_withholds_artwork_and_pattern() {
    let bench = signed(&good());
    assert_eq!(make(&bench).status, 0);
    let whole = bench.names("made");
    assert!(whole.iter().any(|name| name == "artwork-mm.svg"), "{whole:?}");
    assert!(whole.iter().any(|name| name == "pattern.pdf"), "{whole:?}");

    bench.put("cup.toml", good().replace(WITH, WITHOUT));
    let ran = make(&bench);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    let names = bench.names("made");
    let cut = ["artwork", "pattern", "drilling"];
    assert!(!names.iter().any(|name| cut.iter().any(|cut| name.starts_with(cut))), "{names:?}");
    assert!(names.iter().any(|name| name == "proof.pdf"), "{names:?}");
    for said in [
        "stop [changed-since-sign-off] cup.toml:",
        "line 2: “,” left out after “ringers”",
        "withheld: pattern (it is not as it was signed)",
        "withheld: artwork (it is not as it was signed)",
        "removed, because they are of an earlier run",
    ] {
        assert!(ran.out.contains(said), "no `{said}` in {}", ran.out);
    }
    let one = bench.run(&["pattern", "cup.toml", "-o", "alone.pdf"]);
    assert_eq!(one.status, 1);
    assert!(!bench.has("alone.pdf"), "{}", one.out);

    bench.put("cup.toml", good());
    assert_eq!(make(&bench).status, 0);
    assert_eq!(bench.names("made"), whole);
}

#[test]
fn what_changed_is_a_stop_of_its_own_scope() {
    let bench = signed(&good());
    bench.put("cup.toml", good().replace(WITH, WITHOUT));
    let report = bench.report("cup.toml");
    let findings = report["findings"].as_array().unwrap();
    let stop = findings.iter().find(|f| f["code"] == "changed-since-sign-off").unwrap();
    assert_eq!(stop["scope"], "sign-off");
    assert_eq!(stop["severity"], "stop");
    assert_eq!(stop["where"]["key"], "line.2");
    assert_eq!(report["sign_off"]["holds"], false);
    assert_ne!(report["sign_off"]["proof_mark"], report["proof_mark"]);
    assert!(!report["sign_off"]["changes"].as_array().unwrap().is_empty());
}

#[test]
fn everything_that_is_cut_is_minded() {
    let more = format!("{MOUNT}# end\n");
    let base = plain("90 x 50 mm", &["RUNG IN HONOUR", WITH], &more).replace(
        "material = \"brass\"\n",
        "material = \"brass\"\nmargin = \"9 mm\"\nborder = { inset = \"2 mm\", lines = 1, weight = \"0.3 mm\", at_holes = \"stop short\" }\n",
    );
    let bench = signed(&base);
    let changes = [
        (
            "size = \"90 x 50 mm\"",
            "size = \"90 x 50.01 mm\"",
            "plate, size: 90 × 50.01 mm, was 90 × 50 mm",
        ),
        (
            "margin",
            "shape = \"notched\"\ncorner = \"2 mm\"\nmargin",
            "plate, shape: notched, corner 2 mm, was rectangle",
        ),
        (
            "weight = \"0.3 mm\"",
            "weight = \"0.4 mm\"",
            "plate, border: 0.4 mm wide, was 0.3 mm wide",
        ),
        ("inset = \"2 mm\"", "inset = \"2.001 mm\"", "plate: its border runs otherwise"),
        ("inset = \"6 mm\"", "inset = \"6.5 mm\"", "hole 1, middle"),
        ("gauge = 2", "gauge = 3", "hole 1, size"),
        ("Atkinson Hyperlegible", "Besley", "line 1, lettering: Besley"),
        ("# end", "[engraving]\ncut = \"raised\"", "plate, letters: raised, was incised"),
        ("# end", "[[line]]\ntext = \"1976\"", "line 3, line: 1976, which is new"),
        ("RUNG IN HONOUR", "RUNG IN HONOR", "“HONOUR” became “HONOR” (without “U”)"),
    ];
    for (was, is, told) in changes {
        assert!(base.contains(was), "{was}");
        bench.put("cup.toml", base.replacen(was, is, 1));
        let ran = bench.run(&["fit", "cup.toml"]);
        assert_eq!(ran.status, 1, "{is}: {}{}", ran.out, ran.err);
        assert!(ran.out.contains("[changed-since-sign-off]"), "{is}: {}", ran.out);
        assert!(ran.out.contains(told), "{is}: no `{told}` in {}", ran.out);
    }
}

#[test]
fn what_moves_no_outline_keeps_the_sign_off() {
    let bench = signed(&good());
    let title = good().replace("title = \"Test plate\"", "title = \"The ringers' plate\"");
    let order = good().replace(
        "size = \"90 x 50 mm\"\nmaterial = \"brass\"",
        "material = \"brass\"\nsize = \"90 x 50 mm\"",
    );
    let inches = good().replace("inset = \"6 mm\"", "inset = \"0.6 cm\"");
    let date = good().replace("[plate]", "[proof]\nnumber = 2\ndate = \"2026-11-26\"\n[plate]");
    for kept in [format!("# a comment\n{}", good()), title, order, inches, date] {
        assert_ne!(kept, good());
        bench.put("cup.toml", &kept);
        let ran = bench.run(&["fit", "cup.toml"]);
        assert_eq!(ran.status, 0, "{kept}: {}{}", ran.out, ran.err);
        assert!(!ran.out.contains("sign-off"), "{kept}: {}", ran.out);
        assert_eq!(bench.report("cup.toml")["sign_off"]["holds"], true);
    }
}

#[test]
fn another_material_keeps_the_sign_off_but_is_told() {
    let bench = signed(&good());
    bench.put("cup.toml", good().replace("brass", "bronze"));
    let ran = make(&bench);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("caution [changed-beside-sign-off]"), "{}", ran.out);
    assert!(ran.out.contains("material: bronze, was brass"), "{}", ran.out);
    assert!(bench.has("made/artwork-mm.svg"));
    // It goes when everyone has signed for it, not before.
    let other = sign(&bench, "Tamsin Roskilly", "For the engraver", "2026-11-26");
    assert_eq!(other.status, 0, "{}{}", other.out, other.err);
    assert!(bench.run(&["fit", "cup.toml"]).out.contains("material: bronze, was brass"));
    sign(&bench, "Orla Penhallick", "For the ringers", "2026-11-26");
    assert!(!bench.run(&["fit", "cup.toml"]).out.contains("changed-beside-sign-off"));
}

#[test]
fn several_people_sign_and_who_signs_again_replaces_the_earlier_signature() {
    let bench = signed(&good());
    let ran = sign(&bench, "Tamsin Roskilly", "For the engraver", "2026-11-26");
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let again = sign(&bench, " Orla  Penhallick ", "For the ringers", "2026-11-27");
    assert_eq!(again.status, 0, "{}{}", again.out, again.err);
    assert!(again.out.contains("it replaces the signature of 2026-11-25"), "{}", again.out);
    let report = bench.report("cup.toml");
    let signatures = report["sign_off"]["signatures"].as_array().unwrap();
    let who: Vec<_> = signatures
        .iter()
        .map(|s| (s["by"].as_str().unwrap(), s["date"].as_str().unwrap()))
        .collect();
    assert_eq!(who, [("Tamsin Roskilly", "2026-11-26"), ("Orla Penhallick", "2026-11-27")]);
}

#[test]
fn nothing_is_signed_while_a_stop_stands_unless_it_is_accepted() {
    let tight =
        good().replace("[[line]]\ntext = \"For", "[[line]]\nat_least = \"9 mm\"\ntext = \"For");
    let bench = Bench::with(&tight);
    let ran = sign(&bench, "Orla Penhallick", "For the ringers", "2026-11-25");
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("not signed: a stop stands; nothing was written"), "{}", ran.out);
    assert!(!bench.has(RECORD));

    let report = bench.report("cup.toml");
    let stops = report["findings"].as_array().unwrap().iter().filter(|f| f["severity"] == "stop");
    let accepts: Vec<String> = stops
        .map(|f| {
            format!(
                "{{ code = {}, where = {}, measured = {}, reason = \"agreed by letter\" }}",
                f["code"], f["where"]["key"], f["measured"]["value"]
            )
        })
        .collect();
    bench.put("cup.toml", format!("accept = [{}]\n{tight}", accepts.join(", ")));
    let ran = sign(&bench, "Orla Penhallick", "For the ringers", "2026-11-25");
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let record = text(&bench, RECORD);
    assert!(record.contains("code = \"below-asked-height\""), "{record}");
    assert!(record.contains("reason = \"agreed by letter\""), "{record}");
}

#[test]
fn a_changed_layout_is_signed_anew_only_when_its_record_is_deleted() {
    let bench = signed(&good());
    bench.put("cup.toml", good().replace(WITH, WITHOUT));
    let before = bench.read(RECORD);
    let ran = sign(&bench, "Orla Penhallick", "For the ringers", "2026-11-26");
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("delete cup.signed.toml"), "{}", ran.out);
    assert_eq!(bench.read(RECORD), before);
    std::fs::remove_file(bench.path(RECORD)).unwrap();
    assert_eq!(sign(&bench, "Orla Penhallick", "For the ringers", "2026-11-26").status, 0);
}

#[test]
fn no_reason_outweighs_what_was_not_signed() {
    let bench = signed(&good());
    let accept = "accept = [{ code = \"changed-since-sign-off\", where = \"line.2\", reason = \"hurry\" }]\n";
    bench.put("cup.toml", format!("{accept}{}", good().replace(WITH, WITHOUT)));
    let ran = bench.run(&["fit", "cup.toml"]);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("`changed-since-sign-off` can never be accepted"), "{}", ran.out);
}

#[test]
fn a_record_that_is_not_as_it_was_written_is_refused_at_its_place_and_nothing_is_written() {
    let bench = signed(&good());
    let record = text(&bench, RECORD);
    let cut = |at: usize| record.get(..at).unwrap().to_owned();
    let rows = record.find("\nrows = [\n  \"").unwrap();
    let spoilt = [
        (
            "by hand",
            record.replace("Orla Penhallick", "Orla Penhalick"),
            "was changed after it was sealed",
        ),
        (
            "a figure",
            record.replacen("cap_height_mm = ", "cap_height_mm = 1", 1),
            "was changed after it was sealed",
        ),
        ("a comment", format!("# mine\n{record}"), "was changed after it was sealed"),
        (
            "another version",
            record.replace("ansata_signed = 1", "ansata_signed = 2"),
            "is of version 2, this program reads version 1",
        ),
        ("cut short", cut(record.len() / 2), "the record is damaged"),
        ("cut at a line", cut(rows), "no seal at its end"),
        (
            "behind the seal",
            format!("{record}more = 1\n"),
            "the record is damaged: unknown field `more`",
        ),
        ("empty", String::new(), "`ansata_signed` is missing"),
        ("no record", "by = \"Orla\"\n".to_owned(), "`ansata_signed` is missing"),
        ("no TOML", "{]".to_owned(), "the record is damaged"),
    ];
    for (case, text, told) in spoilt {
        bench.put(RECORD, &text);
        for command in [
            vec!["make", "cup.toml", "-o", "made"],
            vec!["fit", "cup.toml"],
            vec!["signoff", "cup.toml", "--by", "A", "--role", "B", "--date", "2026-11-25"],
        ] {
            let ran = bench.run(&command);
            assert_eq!(ran.status, 2, "{case}: {}{}", ran.out, ran.err);
            assert!(ran.err.contains(told), "{case}: {}", ran.err);
            assert!(ran.err.contains("cup.signed.toml:"), "no place: {case}: {}", ran.err);
            assert!(ran.err.contains("nothing was written"), "{case}: {}", ran.err);
        }
        assert!(!bench.has("made"), "{case}");
        assert_eq!(bench.read(RECORD), text.as_bytes(), "{case}");
    }
}

/// A seal that somebody worked out anew does not make outlines of them.
#[test]
fn a_record_with_a_new_seal_over_other_outlines_is_refused() {
    use sha2::{Digest, Sha256};
    let bench = signed(&good());
    let record = text(&bench, RECORD);
    let sealed = |text: &str| {
        let end = text.rfind("\n[seal]\n").unwrap();
        let body = text.get(..end).unwrap();
        let digest: String = Sha256::digest(body).iter().map(|b| format!("{b:02x}")).collect();
        format!("{body}\n[seal]\ndigest = \"{digest}\"\n")
    };
    assert_eq!(sealed(&record), record, "the seal is what it is said to be");
    let shape = record.find("shapes = [\n  \"M").unwrap() + "shapes = [\n  \"M".len();
    let cases = [
        (
            format!("{}1{}", record.get(..shape).unwrap(), record.get(shape..).unwrap()),
            "not that of the outlines",
        ),
        (record.replacen("outline = \"M", "outline = \"X", 1), "no path of a record"),
        (record.replacen("outline = \"M", "outline = \"M99999999999", 1), "no path of a record"),
        (record.replacen("rows = [\n  \"0 ", "rows = [\n  \"999 ", 1), "no row of a record"),
        (record.replacen("rows = [\n  \"0 ", "rows = [\n  \"\", \"0 ", 1), "not as many rows"),
        (record.replacen("bevel_mm = 0.000", "bevel_mm = nan", 1), ""),
        (record.replacen("x_mm = ", "x_mm = 1e300 #", 1), "the record is damaged"),
    ];
    for (text, told) in cases {
        assert_ne!(text, record);
        bench.put(RECORD, sealed(&text));
        let ran = bench.run(&["fit", "cup.toml"]);
        if told.is_empty() {
            continue;
        }
        assert_eq!(ran.status, 2, "{told}: {}{}", ran.out, ran.err);
        assert!(ran.err.contains(told), "{told}: {}", ran.err);
    }
}

#[test]
fn a_record_with_the_line_ends_of_another_system_still_holds() {
    let bench = signed(&good());
    let record = text(&bench, RECORD).replace('\n', "\r\n");
    bench.put(RECORD, record);
    assert_eq!(bench.run(&["fit", "cup.toml"]).status, 0);
}

#[test]
fn the_record_is_small_and_the_same_each_time() {
    let (one, two) = (signed(&good()), signed(&good()));
    assert_eq!(one.read(RECORD), two.read(RECORD));
    assert_eq!(one.names("."), ["cup.signed.toml", "cup.toml"]);
    let bench = Bench::new();
    for layout in shipped(&bench) {
        // Two of them are shown for the stops that they have.
        if ["cannot-fit.toml", "hairlines.toml"].contains(&layout.as_str()) {
            continue;
        }
        let by = ["--by", "Orla Penhallick", "--role", "For the ringers", "--date", "2026-11-25"];
        let ran = bench.run(&[&["signoff", layout.as_str()], &by[..]].concat());
        assert_eq!(ran.status, 0, "{layout}: {}{}", ran.out, ran.err);
        let record = bench.read(&layout.replace(".toml", ".signed.toml"));
        // A picture of the same plaque is several times as large.
        assert!(record.len() < 200_000, "{layout}: {} bytes", record.len());
        let ran = bench.run(&["fit", &layout, "--json"]);
        let report: Value = serde_json::from_str(&ran.out).unwrap();
        assert_eq!(report["sign_off"]["holds"], true, "{layout}");
        assert!(!codes(&report).iter().any(|code| code.contains("sign-off")), "{layout}");
    }
}

#[test]
fn proof_artwork_and_pattern_bear_mark_and_signature() {
    let bench = signed(&good());
    make(&bench);
    let mark = bench.report("cup.toml")["proof_mark"].as_str().unwrap().to_owned();
    for name in ["proof.svg", "pattern.svg", "artwork-mm.svg", "pattern-mm.dxf"] {
        let file = text(&bench, &format!("made/{name}"));
        assert!(file.contains(&mark), "{name} has no mark");
        assert!(file.contains("Orla Penhallick"), "{name} has no signature");
        assert!(file.contains("2026-11-25"), "{name} has no date of signing");
    }
    if let Some(pages) =
        crate::outside::run("pdftotext", &["-layout", "made/proof.pdf", "-"], &bench.path("."))
    {
        for said in ["Signed off", "Orla Penhallick", "For the ringers", "2026-11-25"] {
            assert!(pages.contains(said), "no `{said}` in {pages}");
        }
    }
}

#[test]
fn a_signature_needs_a_name_a_role_and_a_day_of_the_calendar() {
    let bench = Bench::with(&good());
    let cases: [(&[&str], &str); 6] = [
        (&["--by", "A", "--role", "B"], "--date"),
        (&["--role", "B", "--date", "2026-11-25"], "--by"),
        (&["--by", "A", "--role", "B", "--date", "2026-02-30"], "2026-11-25"),
        (&["--by", "A", "--role", "B", "--date", "25.11.2026"], "year-month-day"),
        (&["--by", " ", "--role", "B", "--date", "2026-11-25"], "a name in letters"),
        (&["--by", "A", "--role", "B", "--date", "today"], "year-month-day"),
    ];
    for (arguments, told) in cases {
        let ran = bench.run(&[&["signoff", "cup.toml"], arguments].concat());
        assert_eq!(ran.status, 2, "{arguments:?}: {}{}", ran.out, ran.err);
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
    }
    let input = ["signoff", "-", "--by", "A", "--role", "B", "--date", "2026-11-25"];
    let ran = bench.run_with(&input, &good());
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert!(ran.err.contains("beside the layout"), "{}", ran.err);
    assert_eq!(bench.names("."), ["cup.toml"]);
}

#[test]
fn a_record_given_as_a_layout_is_told_what_it_is() {
    let bench = signed(&good());
    let ran = bench.run(&["fit", RECORD]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("record of a sign-off, not a layout"), "{}", ran.err);
}

/// What Python's own library makes of reports; `None`, said loudly, where none is named.
fn marks(reports: &[Value]) -> Option<Vec<String>> {
    let answer = asked("mark.py", &json!({ "reports": reports }))?;
    Some(serde_json::from_value(answer["marks"].clone()).unwrap())
}

#[test]
fn the_proof_mark_can_be_worked_out_from_the_report_alone() {
    let bench = Bench::new();
    let mut names = shipped(&bench);
    // Bevel, two border lines, raised letters and slots.
    let more = "[engraving]\ncut = \"raised\"\n[mount]\nfixing = { kind = \"wood screw\", gauge = 4, head = \"round\", length = \"1/2 in\" }\n\
        holes = \"two sides\"\ninset = \"8 mm\"\nslots = \"across the grain\"\n[face]\n\
        size = \"150 x 90 mm\"\nmaterial = \"white oak\"\nthickness = \"19 mm\"\ngrain = \"vertical\"\n";
    let all = plain("120 x 60 mm", &["RUNG IN HONOUR", WITH], more).replace(
        "material = \"brass\"\n",
        "material = \"brass\"\nbevel = \"1 mm\"\nmargin = \"9 mm\"\nborder = { inset = \"2 mm\", lines = 2, gap = \"1 mm\", weight = \"0.3 mm\", at_holes = \"stop short\" }\n",
    );
    bench.put("all.toml", &all);
    names.push("all.toml".to_owned());
    let reports: Vec<Value> = names.iter().map(|name| bench.report(name)).collect();
    let last = &reports.last().unwrap()["cut"];
    assert!(last["raised"] == true && last["bevel"] == 1000, "{last}");
    let slotted = last["holes"].as_array().unwrap().iter().any(|hole| hole["slot"].is_array());
    assert!(slotted && last["border"].is_array(), "{last}");
    let Some(marks) = marks(&reports) else { return };
    assert_eq!(marks.len(), names.len());
    for ((name, report), mark) in names.iter().zip(&reports).zip(&marks) {
        assert_eq!(report["proof_mark"].as_str(), Some(mark.as_str()), "{name}");
    }
}
