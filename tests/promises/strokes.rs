//! Promises about letters and the tool that cuts them: what is too thin is told by letter
//! and place, with what would do, and what is offered does it.
//!
//! Least widths in cap heights that are named here were measured on a raster of 500 pixels
//! to the cap height: Bodoni Moda at optical size 28 has bars of 0.010, Archivo at weight
//! 600 an o of 0.144.

use ansata::finding::Severity;
use ansata::job::{Job, job};
use ansata::layout::{Layout, Shop, Source, Vocabulary, read, read_shop};
use ansata::lettering::catalogue;
use ansata::remedies::cures;

use crate::support::{Bench, codes};

fn text(lettering: &str, engraving: &str, line: &str) -> String {
    format!(
        "ansata = 1\ntitle = \"Test\"\n[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n\
         [engraving]\n{engraving}\n[lettering]\ndefault = {lettering}\n[[line]]\n\
         text = \"The Hone of Elm\"\n{line}\n"
    )
}

fn layout(text: String, shop: &str) -> Layout {
    let source = |name: &str, text: String| Source { name: name.to_owned(), text };
    let shop = if shop.is_empty() {
        Shop::default()
    } else {
        let text = format!("ansata_shop = 1\n{shop}\n");
        read_shop(&source("shop.toml", text)).expect("a shop")
    };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let none = |_: &str| Err("there is no such file".to_owned());
    let read = read(&source("cup.toml", text), shop, &Vocabulary { lettering }, &none);
    read.unwrap_or_else(|told| panic!("{}", told[0].render(false)))
}

fn made(lettering: &str, engraving: &str, line: &str, shop: &str) -> Job {
    job(&layout(text(lettering, engraving, line), shop)).unwrap()
}

/// Codes of a job's stops of the cutter's.
fn stops(job: &Job) -> Vec<&'static str> {
    let all = job.findings.iter().filter(|judged| judged.stops());
    all.map(|judged| judged.finding.code).filter(|code| CUT.contains(code)).collect()
}

const CUT: [&str; 3] = ["stroke-too-thin", "counter-too-narrow", "gap-too-narrow"];
const DIDONE: &str = "{ name = \"Bodoni Moda\", weight = 400, optical_size = 28 }";
const PLAIN: &str = "{ name = \"Archivo\", weight = 600, width = 100 }";
const TIP: &str = "cutter = { tip = \"0.25 mm\" }";
const SMALL: &str = "cap_height = \"2.5 mm\"";

#[test]
fn a_hairline_that_the_tip_cannot_cut_is_a_stop_with_the_height_that_would_do() {
    let job = made(DIDONE, TIP, SMALL, "");
    assert_eq!(stops(&job), ["stroke-too-thin"]);
    let told = job.findings.iter().find(|j| j.finding.code == "stroke-too-thin").unwrap();
    let finding = &told.finding;
    assert_eq!((finding.severity, finding.place.line), (Severity::Stop, Some(0)));
    let (measured, required) = (finding.measured.unwrap().value, finding.required.unwrap().value);
    // Bars of 0.010 of 2.5 mm, by raster; the thinnest letter of the line is no thicker.
    assert!(measured <= 0.025 + 0.005 && measured > 0.010, "{measured}");
    assert!((required - 0.25).abs() < 1e-12);
    let message = &finding.message;
    assert!(message.starts_with("Line 1: the thinnest stroke, in \u{201c}"), "{message}");
    assert!(message.contains("the cutter makes nothing under 0.25 mm"), "{message}");
    // The height that it names holds, and a little less does not.
    let wanted = message.split("Capitals of ").nth(1).unwrap().split(' ').next().unwrap();
    let wanted: f64 = wanted.parse().unwrap();
    assert!((wanted - 2.5 * 0.25 / measured).abs() < 0.02, "{wanted}");
    let at = |height: f64| format!("cap_height = \"{height:.3} mm\"");
    // On a plate with room for it.
    let large = |height: f64| {
        let text = text(DIDONE, TIP, &at(height)).replace("120 x 80 mm", "900 x 200 mm");
        stops(&ansata::job::job(&layout(text, "")).unwrap())
    };
    assert!(large(wanted).is_empty());
    assert_eq!(large(wanted * 0.97), ["stroke-too-thin"]);
}

#[test]
fn the_same_wording_in_a_plain_lettering_passes() {
    let job = made(PLAIN, TIP, SMALL, "");
    assert!(stops(&job).is_empty(), "{:?}", job.findings);
    // The o's 0.144 of 2.5 mm.
    let thin = ansata::checks::thin_line(&job.lines, &job.fitted, 0).stroke.unwrap();
    assert!(thin.width > 0.25 && thin.width < 0.36 + 0.01, "{thin:?}");
}

#[test]
fn without_a_cutter_nothing_is_said_of_strokes() {
    let job = made(DIDONE, "", SMALL, "");
    let cut = |code: &str| CUT.contains(&code) || code == "join-too-thin";
    assert!(!job.findings.iter().any(|judged| cut(judged.finding.code)));
    let bench = Bench::with(&text(DIDONE, "", SMALL));
    let report = bench.report("cup.toml");
    assert_eq!(report["engraving"]["strokes_checked"], false);
    assert!(report["engraving"]["cutter"].is_null() && report["lines"][0]["strokes"].is_null());
}

#[test]
fn incised_and_raised_letters_are_judged_by_each_other_s_measure() {
    // Incised: strokes of 0.3 take the tip of 0.25. Land of 0.05 is asked for.
    let land = format!("{TIP}\nleast_land = \"0.05 mm\"\ncut = ");
    let incised = made(PLAIN, &format!("{land}\"incised\""), SMALL, "");
    assert!(stops(&incised).is_empty(), "{:?}", incised.findings);
    // Raised: the cutter must go into the e, whose aperture is under a tenth of 2.5 mm.
    let raised = made(PLAIN, &format!("{land}\"raised\""), SMALL, "");
    let codes = stops(&raised);
    assert!(codes.contains(&"counter-too-narrow") && !codes.contains(&"stroke-too-thin"));
    // Raised hairlines of 0.025 stand where land of 0.01 will do, incised ones do not.
    let thin = |cut: &str| format!("{TIP}\nleast_land = \"0.01 mm\"\ncut = \"{cut}\"");
    assert!(!stops(&made(DIDONE, &thin("raised"), SMALL, "")).contains(&"stroke-too-thin"));
    assert!(stops(&made(DIDONE, &thin("incised"), SMALL, "")).contains(&"stroke-too-thin"));
}

#[test]
fn land_that_nobody_asks_for_is_a_caution_and_no_floor() {
    let wide = "cutter = { tip = \"0.25 mm\" }";
    let job = made(PLAIN, wide, SMALL, "");
    let counter = job.findings.iter().find(|j| j.finding.code == "counter-too-narrow").unwrap();
    assert_eq!(counter.finding.severity, Severity::Caution);
    assert_eq!(counter.finding.source, "common practice, no source");
    // Asked for, it is a stop, whoever asks.
    let asked = format!("{wide}\nleast_land = \"0.25 mm\"");
    assert!(stops(&made(PLAIN, &asked, SMALL, "")).contains(&"counter-too-narrow"));
    let shop = "least_land = \"0.25 mm\"";
    assert!(stops(&made(PLAIN, wide, SMALL, shop)).contains(&"counter-too-narrow"));
}

#[test]
fn the_cutter_lifts_the_floor_and_the_report_says_why() {
    let bench = Bench::with(&text(PLAIN, "cutter = { tip = \"0.6 mm\" }", ""));
    let line = &bench.report("cup.toml")["lines"][0];
    assert_eq!(line["floor_from"], "stroke");
    // At the floor the thinnest stroke is as wide as the cut.
    let value = |key: &str| line[key].as_f64().unwrap();
    let stroke = line["strokes"]["thinnest_stroke_mm"].as_f64().unwrap();
    let at_floor = stroke / value("cap_height_mm") * value("floor_mm");
    assert!((at_floor - 0.6).abs() < 0.001, "{at_floor}");
    // A wide land makes it the gaps' or the counters'.
    let engraving = "cutter = { tip = \"0.1 mm\" }\nleast_land = \"0.5 mm\"";
    let bench = Bench::with(&text(PLAIN, engraving, ""));
    let report = bench.report("cup.toml");
    let from = report["lines"][0]["floor_from"].as_str().unwrap();
    assert!(["counter", "gap"].contains(&from), "{from}");
    assert!(!codes(&report).iter().any(|code| CUT.contains(&code.as_str())));
}

#[test]
fn what_is_offered_cures() {
    let shop = "cutters = [{ tip = \"0.4 mm\" }, { tip = \"0.2 mm\" }, { tip = \"0.02 mm\" }]";
    let small = "{ name = \"EB Garamond\", weight = 400 }";
    let mut kinds: Vec<&str> = Vec::new();
    for (lettering, engraving) in [
        (DIDONE, TIP),
        (small, "cutter = { tip = \"0.1 mm\" }"),
        (PLAIN, "cutter = { tip = \"0.45 mm\" }"),
    ] {
        let job = made(lettering, engraving, SMALL, shop);
        assert!(!stops(&job).is_empty(), "{lettering}");
        let cures = cures(&job).into_iter();
        let of_strokes = cures.filter(|c| CUT.contains(&job.findings[c.finding].finding.code));
        let offered: Vec<_> = of_strokes.flat_map(|cures| cures.remedies).collect();
        for remedy in &offered {
            let cured = ansata::job::job(&remedy.layout).unwrap();
            assert!(stops(&cured).is_empty(), "{}", remedy.message);
            kinds.push(remedy.kind);
        }
    }
    for kind in ["taller-capitals", "heavier-weight", "finer-cutter", "other-lettering"] {
        assert!(kinds.contains(&kind), "{kind}: {kinds:?}");
    }
}

#[test]
fn the_shop_s_finest_cutter_stands_in_and_a_taper_cuts_wider() {
    let cutters = "cutters = [{ tip = \"0.3 mm\" }, { tip = \"0.25 mm\" }]";
    assert_eq!(stops(&made(DIDONE, "", SMALL, cutters)), ["stroke-too-thin"]);
    // The layout's own goes before it: 0.01 mm is finer than any hairline here.
    assert!(stops(&made(DIDONE, "cutter = { tip = \"0.01 mm\" }", SMALL, cutters)).is_empty());
    // 0.2 + 2 · 0.2 · tan 20° = 0.3456 mm, wider than where Archivo's m branches.
    let taper = "cutter = { tip = \"0.2 mm\", angle = 40, depth = \"0.2 mm\" }";
    assert_eq!(stops(&made(PLAIN, taper, SMALL, "")), ["stroke-too-thin"]);
    let bench = Bench::with(&text(PLAIN, taper, ""));
    let report = bench.report("cup.toml");
    let width = report["engraving"]["cutter"]["cut_width_mm"].as_f64().unwrap();
    assert!((width - 0.3456).abs() < 0.0001, "{width}");
}

#[test]
fn the_proof_says_what_was_checked() {
    let page = |engraving: &str| {
        let bench = Bench::with(&text(PLAIN, engraving, ""));
        let ran = bench.run(&["proof", "cup.toml", "-o", "proof.svg"]);
        assert!(ran.status < 2, "{}", ran.err);
        String::from_utf8(bench.read("proof.svg")).unwrap()
    };
    let (with, without) = (page(TIP), page(""));
    // The head of the column goes on in a second row.
    assert!(with.contains(">Thinnest<") && with.contains("tip 0.25 mm"));
    assert!(
        !without.contains("checked against the cutter") && without.contains("no cutter is told")
    );
}
