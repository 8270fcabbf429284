//! Promises about dividers, emblems and corner ornaments: they stand where and as large as
//! they were asked for, keep out of the wording's way, and are engraved only with leave.

use ansata::decoration::Stands;
use ansata::drawing::write::svg;
use ansata::finding::{Scope, Severity};
use ansata::job::{Job, job};
use ansata::layout::{
    CornerOrnament, Divider, Emblem, Layout, Named, Shop, Source, Vocabulary, read,
};
use ansata::lettering::catalogue;
use ansata::sheets;
use kurbo::{Point, Rect, Shape};
use serde_json::{Value, json};

use crate::outside::asked;
use crate::support::{Bench, codes};

/// A crest of the ringers' own: a ring of two ovals, a lozenge, an arc; turned and moved.
const CREST: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 400 300\">\
    <path transform=\"matrix(1.2 0.3 -0.2 0.9 40 20)\" d=\"M30 90c0-60 160-70 180 0s-90 130-180 \
    0zM60 95c10 40 80 50 110 0s-90-40-110 0z\"/><path d=\"M20 250l30-22.5 30 22.5-30 22.5z\"/>\
    <path transform=\"matrix(1 0 0 1 300 60)\" d=\"M0 0A40 40 0 0 1 80 0L80 120H0z\"/></svg>";

fn text(lines: &str, more: &str) -> String {
    format!("ansata = 1\ntitle = \"Test\"\n{more}\n[lettering]\ndefault = \"Besley\"\n{lines}\n")
}

const PLATE: &str = "[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\nmargin = \"6 mm\"";
const WORDS: &str = "[[line]]\ntext = \"Marrowby Vale\"\n";

fn layout(text: &str) -> Layout {
    let source = Source { name: "cup.toml".to_owned(), text: text.to_owned() };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let crest = |_: &str| Ok(CREST.as_bytes().to_vec());
    let read = read(&source, Shop::default(), &Vocabulary { lettering }, &crest);
    read.unwrap_or_else(|told| panic!("{text}\n{}", told[0].render(false)))
}

fn made(lines: &str, more: &str) -> Job {
    job(&layout(&text(lines, more))).unwrap()
}

/// Box of what stands in a line.
fn ink(job: &Job, line: usize) -> Rect {
    let placed = job.decoration.iter().find(|placed| placed.stands == Stands::Line(line));
    placed.unwrap().path.bounding_box()
}

fn told(job: &Job) -> Vec<&'static str> {
    job.findings.iter().map(|judged| judged.finding.code).collect()
}

#[track_caller]
fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b}");
}

#[test]
fn every_divider_is_as_wide_and_as_thick_as_it_was_asked_to_be() {
    for (word, kind) in Divider::ALL {
        let lines = format!(
            "{WORDS}[[line]]\ndivider = \"{word}\"\nwidth = \"48 mm\"\nweight = \"0.6 mm\"\n"
        );
        let job = made(&lines, PLATE);
        let ink = ink(&job, 1);
        near(ink.width(), 48.0, 0.002);
        near(ink.height(), kind.weights() * 0.6, 0.001);
        near(ink.center().x, 60.0, 0.001);
        let rows = job.fitted.rows.iter().filter(|row| row.line == 1);
        assert_eq!(rows.count(), 1, "{word}");
    }
    // Without a width it takes two fifths of the field: 120 less twice 6.
    let job = made(&format!("{WORDS}[[line]]\ndivider = \"rule\"\n"), PLATE);
    near(ink(&job, 1).width(), 0.4 * 108.0, 0.001);
    let job = made(&format!("{WORDS}[[line]]\ndivider = \"rule\"\nwidth = \"75 %\"\n"), PLATE);
    near(ink(&job, 1).width(), 0.75 * 108.0, 0.001);
}

#[test]
fn an_emblem_is_as_high_as_it_was_stated_or_grows_with_the_letters() {
    for (word, _) in Emblem::ALL {
        let lines = format!("[[line]]\nemblem = \"{word}\"\nheight = \"17 mm\"\n{WORDS}");
        near(ink(&made(&lines, PLATE), 0).height(), 17.0, 0.001);
    }
    let lines = format!("[[line]]\nemblem = \"bell\"\nsize = 1.5\n{WORDS}");
    let job = made(&lines, PLATE);
    let capitals = job.fitted.lines[1].cap_height;
    near(ink(&job, 0).height(), (1.5 * capitals).min(job.fitted.lines[0].ceiling), 0.001);
}

#[test]
fn the_largest_words_beside_a_drawing_still_fit_and_no_larger_ones_do() {
    let lines = format!(
        "[[line]]\nemblem = \"bell\"\nheight = \"15 mm\"\n{WORDS}[[line]]\ndivider = \"rule\"\n\
         weight = \"0.5 mm\"\nspace = 0.5\n[[line]]\ntext = \"of Vale\"\n"
    );
    let more = format!("{PLATE}\n[fit]\nease = \"100 %\"");
    let job = made(&lines, &more);
    // Two lines of mixed case and one cap height h each: λ 1.65 and space 0.35 make 1 · h of
    // white under the bell; 0.65 + 0.5 over the rule; 1 under it. Besley's tails are shorter.
    // 15 + (1 + 1 + 1.15) h + 0.5 + (1 + 1) h and the last line's depth fill 68 mm.
    let depth = job.fitted.lines[3].depth;
    let h = (68.0 - 15.5) / (5.15 + depth);
    let wide = 108.0 / ((job.fitted.rows[1].ink.width()) / job.fitted.lines[1].cap_height);
    let ceiling = 68.0 / 5.0;
    near(job.fitted.limit_scale.unwrap(), h.min(wide).min(ceiling), 0.001);
}

#[test]
fn a_rule_does_not_bring_down_the_words_of_a_full_plate() {
    let lines = |rule: &str| {
        format!("{WORDS}{rule}[[line]]\ntext = \"the ringers of the tower\"\nsize = 0.8\n")
    };
    let more = format!("{PLATE}\n[fit]\nmode = \"full\"");
    let (with, without) =
        (made(&lines("[[line]]\ndivider = \"rule\"\nspace = 0\n"), &more), made(&lines(""), &more));
    near(with.fitted.lines[2].cap_height, without.fitted.lines[1].cap_height, 0.001);
}

#[test]
fn a_drawing_keeps_inside_the_margin_and_off_its_neighbours() {
    for shape in ["rectangle", "oval", "notched\"\ncorner = \"12 mm"] {
        let plate = PLATE.replace("[plate]", &format!("[plate]\nshape = \"{shape}\""));
        let lines = format!(
            "[[line]]\nemblem = \"laurel\"\nsize = 2\n{WORDS}[[line]]\ndivider = \"lozenge rule\"\n\
             {WORDS}[[line]]\nemblem = \"star\"\nalign = \"left\"\nspace = 0\n"
        );
        let job = made(&lines, &plate);
        assert!(!job.stopped(), "{shape}: {:?}", told(&job));
        for pair in job.fitted.rows.windows(2) {
            assert!(pair[1].ink.y0 - pair[0].ink.y1 >= 0.299, "{shape}");
        }
        for placed in &job.decoration {
            let ink = placed.path.bounding_box();
            let edge = ansata::plate::outline(&job.layout.plate);
            let depth = edge.depth_of_box([ink.x0, ink.y0, ink.x1, ink.y1]);
            assert!(depth >= 6.0 - 0.0015, "{shape}: {depth}");
        }
    }
}

#[test]
fn where_nothing_fits_a_drawing_shrinks_with_the_words_and_that_is_told() {
    let lines = format!("[[line]]\nemblem = \"bell\"\nheight = \"70 mm\"\n{WORDS}");
    let job = made(&lines, PLATE);
    assert!(job.fitted.phi < 1.0 && ink(&job, 0).height() < 70.0);
    let finding = job.findings.iter().find(|j| j.finding.code == "below-asked-height").unwrap();
    assert!(finding.finding.message.contains("an emblem"), "{}", finding.finding.message);
    assert_eq!(finding.finding.place.key, "line.1.height");
}

#[test]
fn a_drawing_of_ones_own_comes_out_at_its_true_size() {
    let lines = format!(
        "[[line]]\nemblem = {{ file = \"crest.svg\", permission = \"theirs\" }}\nheight = \"14 mm\"\n\
         {WORDS}"
    );
    let job = made(&lines, PLATE);
    let ink = ink(&job, 0);
    near(ink.height(), 14.0, 0.001);
    let Some(read) = by_font_tools(&[CREST]) else { return };
    let [x0, y0, x1, y1] = [0, 1, 2, 3].map(|at| read[0]["box"][at].as_f64().unwrap());
    let scale = 14.0 / (y1 - y0);
    near(ink.width(), (x1 - x0) * scale, 0.001);
    // Its parts lie apart, and the hole runs the other way round: the areas are those of the
    // filled shape.
    let area = read[0]["area"].as_f64().unwrap() * scale * scale;
    near(job.decoration[0].path.area().abs(), area, 0.01);
}

/// What fontTools reads; `None`, said loudly, where no Python is named.
fn by_font_tools(drawings: &[&str]) -> Option<Vec<Value>> {
    let answer = asked("svg_box.py", &json!({ "drawings": drawings }))?;
    Some(answer["drawings"].as_array().unwrap().clone())
}

#[test]
fn a_drawing_that_is_refused_is_told_in_its_own_file_and_nothing_is_written() {
    let lines = format!("[[line]]\nemblem = {{ file = \"crest.svg\" }}\n{WORDS}");
    let bench = Bench::with(&text(&lines, PLATE));
    let crest = CREST.replace("<path d", "\n <script>alert(1)</script><path d");
    bench.put("crest.svg", crest);
    let ran = bench.run(&["make", "cup.toml", "-o", "out"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("the drawing holds a script"), "{}", ran.err);
    assert!(ran.err.contains("crest.svg:2:2"), "{}", ran.err);
    assert!(ran.err.contains("nothing was written") && !bench.has("out"), "{}", ran.err);
    // Mistakes of the layout are told with it.
    let bench = Bench::with(&text(&lines, PLATE).replace("Besley", "Besly"));
    bench.put("crest.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>");
    let ran = bench.run(&["fit", "cup.toml"]);
    assert!(ran.err.contains("the drawing is empty") && ran.err.contains("Besly"), "{}", ran.err);
}

#[test]
fn an_emblem_without_permission_withholds_the_artwork_until_it_is_accepted() {
    let own = "[[line]]\nemblem = { file = \"crest.svg\" }\nheight = \"14 mm\"\n";
    let bench = Bench::with(&text(&format!("{own}{WORDS}"), PLATE));
    bench.put("crest.svg", CREST);
    let ran = bench.run(&["make", "cup.toml", "-o", "out"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("withheld: artwork (a stop of the emblem stands)"), "{}", ran.out);
    assert!(!bench.has("out/artwork-mm.svg") && bench.has("out/pattern.pdf"));
    let report: Value = serde_json::from_slice(&bench.read("out/report.json")).unwrap();
    let finding = &report["findings"][0];
    assert_eq!(
        (&finding["code"], &finding["scope"], &finding["severity"], &finding["where"]["key"]),
        (
            &json!("emblem-without-permission"),
            &json!("photo"),
            &json!("stop"),
            &json!("line.1.emblem")
        )
    );
    let accept = "accept = [{ code = \"emblem-without-permission\", where = \"line.1.emblem\", \
                  reason = \"their secretary writes tomorrow\" }]\n";
    bench.put("cup.toml", text(&format!("{own}{WORDS}"), &format!("{accept}{PLATE}")));
    let ran = bench.run(&["make", "cup.toml", "-o", "out"]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    assert!(bench.has("out/artwork-mm.svg"));
    // And with it told there is nothing to accept.
    let told = own.replace(".svg\"", ".svg\", permission = \"the ringers, 3 May 2026\"");
    bench.put("cup.toml", text(&format!("{told}{WORDS}"), PLATE));
    let report = bench.report("cup.toml");
    assert!(codes(&report).is_empty(), "{:?}", codes(&report));
    assert_eq!(report["lines"][0]["ornament"]["permission"], "the ringers, 3 May 2026");
}

#[test]
fn our_own_shapes_need_no_permission() {
    let lines = format!("[[line]]\nemblem = \"bell\"\nheight = \"14 mm\"\n{WORDS}");
    assert!(made(&lines, PLATE).findings.iter().all(|j| j.finding.scope != Scope::Photo));
}

fn corners(more: &str, plate: &str) -> Job {
    made(WORDS, &format!("[corners]\nornament = \"leaf\"\nsize = \"10 mm\"\n{more}\n{plate}"))
}

#[test]
fn ornaments_stand_in_all_corners_mirrored() {
    for (word, _) in CornerOrnament::ALL {
        let plate = format!("[corners]\nornament = \"{word}\"\nsize = \"12 mm\"\n{PLATE}");
        let job = made(WORDS, &plate);
        assert_eq!(job.decoration.len(), 4);
        let boxes: Vec<Rect> = job.decoration.iter().map(|p| p.path.bounding_box()).collect();
        for (ink, (x, y)) in
            boxes.iter().zip([(3.0, 3.0), (105.0, 3.0), (3.0, 65.0), (105.0, 65.0)])
        {
            for (got, want) in [(ink.x0, x), (ink.y0, y), (ink.x1, x + 12.0), (ink.y1, y + 12.0)] {
                near(got, want, 0.001);
            }
        }
        // What is cut at a place of one is cut at its mirror images in the others.
        for step in 0..400_u32 {
            let (dx, dy) = (f64::from(step % 20) * 0.6 + 0.31, f64::from(step / 20) * 0.6 + 0.29);
            let at = |corner: usize, x: f64, y: f64| {
                job.decoration[corner].path.winding(Point::new(x, y)) != 0
            };
            let first = at(0, 3.0 + dx, 3.0 + dy);
            let others = [
                at(1, 117.0 - dx, 3.0 + dy),
                at(2, 3.0 + dx, 77.0 - dy),
                at(3, 117.0 - dx, 77.0 - dy),
                at(0, 3.0 + dy, 3.0 + dx),
            ];
            assert!(others.iter().all(|other| *other == first), "{word} {dx} {dy}");
        }
    }
}

#[test]
fn lettering_keeps_out_of_the_corners() {
    let job = corners("inset = \"6 mm\"\ngap = \"2 mm\"", PLATE);
    for row in &job.fitted.rows {
        for placed in &job.decoration {
            let apart = row.ink.intersect(placed.path.bounding_box().inflate(1.99, 1.99));
            assert!(apart.width() <= 0.0 || apart.height() <= 0.0, "{:?}", row.ink);
        }
    }
    assert!(!job.stopped(), "{:?}", told(&job));
    assert!(!job.field.convex());
}

#[test]
fn ornaments_in_the_way_of_holes_border_or_edge_are_told() {
    let severity = |job: &Job, code: &str| {
        job.findings.iter().find(|j| j.finding.code == code).map(|j| j.finding.severity)
    };
    let holes = |inset: &str| {
        format!(
            "[mount]\nholes = \"four corners\"\ninset = \"{inset}\"\nfixing = {{ kind = \"pin\", \
             shank = \"1 mm\", head = \"3 mm\", length = \"9 mm\" }}\n{PLATE}"
        )
    };
    // Leaves from 3 to 13 mm; a head about 8 mm lies on the middle one's axis.
    let job = corners("", &holes("8 mm"));
    assert_eq!(severity(&job, "ornament-under-head"), Some(Severity::Stop), "{:?}", told(&job));
    // About 20 mm all is clear.
    assert!(!told(&corners("", &holes("20 mm"))).iter().any(|code| code.starts_with("ornament")));
    // A border 2.5 to 3.5 mm in runs through ornaments that begin at 3, touches nearly those
    // that begin at 4, and is clear of those that begin at 5.
    let border = PLATE.to_owned() + "\nborder = { inset = \"3 mm\", weight = \"1 mm\" }";
    let with = |inset: &str| corners(&format!("inset = \"{inset}\""), &border);
    assert_eq!(severity(&with("3 mm"), "ornament-over-border"), Some(Severity::Stop));
    assert_eq!(severity(&with("4 mm"), "ornament-near-border"), Some(Severity::Caution));
    assert!(!told(&with("5 mm")).iter().any(|code| code.starts_with("ornament")));
    // The notch takes the corner away in which they are to stand.
    let notched = PLATE.replace("[plate]", "[plate]\nshape = \"notched\"\ncorner = \"8 mm\"");
    let job = corners("", &notched);
    assert_eq!(severity(&job, "ornament-over-edge"), Some(Severity::Stop), "{:?}", told(&job));
}

#[test]
fn what_the_cutter_cannot_make_of_a_drawing_is_told_with_the_size_that_would_do() {
    let engraving = format!("[engraving]\ncutter = {{ tip = \"0.5 mm\" }}\n{PLATE}");
    // The frame of the lozenge is 0.26 · 36 · 50 / √(36² + 50²) = 7.596 of 100 high: at 6 mm
    // 0.456 mm, and 0.5 mm at 6.583.
    let lines =
        |height: &str| format!("[[line]]\nemblem = \"lozenge\"\nheight = \"{height}\"\n{WORDS}");
    let job = made(&lines("6 mm"), &engraving);
    let found = job.findings.iter().find(|j| j.finding.code == "drawing-stroke-too-thin").unwrap();
    assert_eq!(found.finding.severity, Severity::Stop);
    near(found.finding.measured.unwrap().value, 0.456, 0.001);
    assert!(found.finding.message.contains("A height of 6.59 mm"), "{}", found.finding.message);
    assert!(!told(&made(&lines("6.59 mm"), &engraving)).contains(&"drawing-stroke-too-thin"));
    // A rule by its weight.
    let rule = format!("{WORDS}[[line]]\ndivider = \"rule\"\nweight = \"0.4 mm\"\n");
    let job = made(&rule, &engraving);
    let found = job.findings.iter().find(|j| j.finding.code == "drawing-stroke-too-thin").unwrap();
    assert!(found.finding.message.contains("A weight of 0.50 mm"), "{}", found.finding.message);
    assert_eq!(found.finding.place.key, "line.2.weight");
    // Relative ones grow to what the cutter needs by themselves.
    let lines = format!("[[line]]\nemblem = \"lozenge\"\nsize = 0.2\n{WORDS}");
    let job = made(&lines, &engraving);
    assert!(!told(&job).contains(&"drawing-stroke-too-thin"), "{:?}", told(&job));
    near(ink(&job, 0).height(), 6.583, 0.01);
}

#[test]
fn decoration_is_on_proof_and_artwork_and_in_the_mark_and_the_report() {
    let lines = format!("{WORDS}[[line]]\ndivider = \"swelled rule\"\nweight = \"1 mm\"\n");
    let plain = made(&lines, PLATE);
    let job = corners("", PLATE);
    let other = made(&lines.replace("1 mm", "1.01 mm"), PLATE);
    assert_ne!(plain.mark, other.mark);
    let artwork = svg(&sheets::artwork(&plain).whole.sheet.drawing).unwrap();
    assert!(artwork.contains("id=\"decoration\""), "{artwork}");
    let corners = svg(&sheets::artwork(&job).whole.sheet.drawing).unwrap();
    let group = corners.split("id=\"decoration\"").nth(1).unwrap();
    assert_eq!(group.split("</g>").next().unwrap().matches("<path").count(), 4);
    let bench = Bench::with(&text(&lines, PLATE));
    let report = bench.report("cup.toml");
    let line = &report["lines"][1];
    assert_eq!((&line["ornament"]["name"], &line["font"]), (&json!("swelled rule"), &Value::Null));
    assert_eq!(line["ornament"]["height_mm"], 1.0);
    let ran = bench.run(&["fit", "cup.toml"]);
    assert!(ran.out.contains("[swelled rule]"), "{}", ran.out);
    let proof = svg(&sheets::proof(&plain, &[]).drawing).unwrap();
    assert!(proof.contains("Swelled rule") && proof.contains("thinnest stroke 0.25 mm"));
}
