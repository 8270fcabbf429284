//! Promises about how a line is set: scripts, languages, capitals, narrowing, tracking.

use ansata::job::{Job, job};
use ansata::layout::{Axis, AxisValue, Layout, Shop, Source, Vocabulary, read};
use ansata::lettering::{Face, catalogue, shaped_run};
use ansata::remedies::cures;

fn layout(text: &str) -> Layout {
    let source = Source { name: "cup.toml".to_owned(), text: text.to_owned() };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let none = |_: &str| Err("there is no such file".to_owned());
    read(&source, Shop::default(), &Vocabulary { lettering }, &none).unwrap_or_else(|mistakes| {
        let told: Vec<String> = mistakes.iter().map(|m| m.render(false)).collect();
        panic!("{}", told.join("\n"))
    })
}

/// A plate of a size and shape with these lines, each in full.
fn plate(size: &str, shape: &str, lettering: &str, lines: &[&str]) -> Layout {
    let lines: Vec<String> = lines.iter().map(|line| format!("[[line]]\n{line}\n")).collect();
    layout(&format!(
        "ansata = 1\ntitle = \"Cup\"\n[plate]\nsize = \"{size}\"\nshape = \"{shape}\"\n\
         thickness = \"1.5 mm\"\nmaterial = \"brass\"\n[lettering]\n{lettering}\n{}",
        lines.concat()
    ))
}

fn set(lettering: &str, line: &str) -> Job {
    job(&plate("120 x 60 mm", "rectangle", lettering, &[line])).unwrap()
}

const SCRIPTS: &str = "default = \"EB Garamond\"\nothers = [\"Frank Ruhl Libre\", \"Amiri\"]";

#[test]
fn the_wording_is_never_altered_but_told_as_it_is_engraved() {
    let line = "text = \"Straße \\\"Vale\\\"\"\nlanguage = \"de\"\ncase = \"capitals\"\n\
                quotes = \"typographic\"";
    let done = set("default = \"EB Garamond\"", line);
    assert_eq!(done.layout.lines[0].text, "Straße \"Vale\"");
    assert_eq!(done.lines[0].text, "STRASSE „VALE“");
    assert_eq!(done.fitted.rows[0].text, "STRASSE „VALE“");
    let source = Source { name: String::new(), text: String::new() };
    let report = ansata::report::report(&done, &[], &source, &[], &[]);
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    assert_eq!(report["lines"][0]["text"], "Straße \"Vale\"");
    assert_eq!(report["lines"][0]["engraved"], "STRASSE „VALE“");
    // Without being asked for, nothing changes.
    let plain = set("default = \"EB Garamond\"", "text = \"Straße \\\"Vale\\\"\"");
    assert_eq!(plain.lines[0].text, plain.layout.lines[0].text);
}

#[test]
fn capitals_break_where_the_wording_may_and_keep_what_it_keeps() {
    let line = "text = \"Maßgebend für Weißes, Großes und Süßes war Elowen Groß\"\n\
                keep = [\"Elowen Groß\"]\nbreaks = \"free\"";
    let narrow = |case: &str| {
        let line = format!("{line}\n{case}");
        job(&plate("50 x 60 mm", "rectangle", "default = \"EB Garamond\"", &[&line])).unwrap()
    };
    let done = narrow("case = \"capitals\"");
    let rows: Vec<&str> = done.fitted.rows.iter().map(|row| row.text.as_str()).collect();
    assert!(rows.len() > 2, "{rows:?}");
    assert_eq!(rows.join(" "), "MASSGEBEND FÜR WEISSES, GROSSES UND SÜSSES WAR ELOWEN GROSS");
    assert!(rows.iter().any(|row| row.contains("ELOWEN GROSS")), "{rows:?}");
}

#[test]
fn a_name_in_another_script_is_set_in_the_lettering_named_for_it() {
    let done = set(SCRIPTS, "text = \"Elowen and אביגיל rang\"");
    let row = &done.fitted.rows[0];
    let used: Vec<u8> = row.glyphs.iter().map(|glyph| glyph.face).collect();
    assert!(used.contains(&0) && used.contains(&1));
    assert_eq!(done.lines[0].face_of(1).name, "Frank Ruhl Libre");
    // From right to left: its first letter is the rightmost of its glyphs.
    let alef = shaped_run("א", done.lines[0].face_of(1), &[]).glyphs[0].id;
    let hebrew: Vec<u16> =
        row.glyphs.iter().filter(|glyph| glyph.face == 1).map(|glyph| glyph.id).collect();
    let last_letter = hebrew.iter().rposition(|id| *id == alef).unwrap();
    assert!(last_letter + 2 >= hebrew.len(), "{hebrew:?}");
    assert!(!done.findings.iter().any(|j| j.finding.code == "missing-character"));
    let alone = set("default = \"EB Garamond\"", "text = \"Elowen and אביגיל rang\"");
    assert!(alone.findings.iter().any(|j| j.finding.code == "missing-character"));
}

#[test]
fn a_lettering_for_what_the_line_lacks_is_offered_when_it_cures_the_line() {
    let done = set("default = \"EB Garamond\"", "text = \"Elowen and אביגיל rang\"");
    let cures = cures(&done);
    let remedy = &cures[0].remedies[0];
    assert_eq!(remedy.kind, "further-lettering");
    assert_eq!(remedy.message, "Set what EB Garamond lacks in line 1 in Frank Ruhl Libre.");
    assert_eq!(remedy.edits[0].key, "line.1.others");
    assert_eq!(remedy.edits[0].value, "[\"Frank Ruhl Libre\"]");
    let line = "text = \"Elowen and אביגיל rang\"\nothers = [\"Frank Ruhl Libre\"]";
    let cured = set("default = \"EB Garamond\"", line);
    assert!(!cured.findings.iter().any(|j| j.finding.code == "missing-character"));
    assert_eq!(cured.fitted, job(&remedy.layout).unwrap().fitted);
    // Devanagari and Hebrew are not in any one lettering more.
    let both = set("default = \"EB Garamond\"", "text = \"शान्ति שלום\"");
    let kinds: Vec<&str> = ansata::remedies::cures(&both)
        .iter()
        .flat_map(|cure| &cure.remedies)
        .map(|remedy| remedy.kind)
        .collect();
    assert!(!kinds.contains(&"further-lettering"), "{kinds:?}");
}

#[test]
fn what_no_lettering_of_the_line_has_is_missing() {
    let done = set(SCRIPTS, "text = \"Elowen and שלום नमस्ते\"");
    let told: Vec<&str> = done
        .findings
        .iter()
        .filter(|judged| judged.finding.code == "missing-character")
        .map(|judged| judged.finding.message.as_str())
        .collect();
    assert!(told.iter().all(|message| message.contains("EB Garamond has no")), "{told:?}");
    assert!(told.iter().any(|message| message.contains('न')), "{told:?}");
}

#[test]
fn left_and_right_are_sides_of_the_plate_in_every_direction() {
    for text in ["Marrowby Vale", "שלום לכם", "هنا قرعت", "שלום Vale"] {
        for (align, left) in [("left", true), ("right", false)] {
            let done = set(
                SCRIPTS,
                &format!("text = \"{text}\"\nalign = \"{align}\"\nat_most = \"5 mm\""),
            );
            let row = &done.fitted.rows[0];
            let off =
                if left { row.ink.x0 - row.usable_left } else { row.usable_right - row.ink.x1 };
            assert!(off.abs() < 0.002, "{text} {align}: {off}");
        }
    }
}

#[test]
fn a_closing_stop_hangs_where_reading_ends() {
    let middle = |text: &str| {
        let done = set(SCRIPTS, &format!("text = \"{text}\"\nat_most = \"5 mm\""));
        let ink = done.fitted.rows[0].ink;
        (ink.x0 + ink.x1) / 2.0 - 60.0
    };
    // Half of the stop is left out of what is centred: the ink moves towards it.
    assert!(middle("Vale.") > 0.2, "{}", middle("Vale."));
    assert!(middle("שלום.") < -0.2, "{}", middle("שלום."));
    assert!(middle("שלום").abs() < 0.002);
}

#[test]
fn a_right_to_left_line_is_broken_in_the_order_in_which_it_is_read() {
    let text = "כאן צלצלו Elowen Tarrant ואביגיל טרנט בפעמון החדש";
    let line = format!("text = \"{text}\"\nbreaks = \"free\"");
    let done = job(&plate("50 x 60 mm", "rectangle", SCRIPTS, &[&line])).unwrap();
    let rows: Vec<&str> = done.fitted.rows.iter().map(|row| row.text.as_str()).collect();
    assert!(rows.len() > 1);
    assert_eq!(rows.join(" "), text);
}

#[test]
fn what_a_lettering_has_not_is_told_and_nothing_is_made_up() {
    let codes = |lettering: &str, line: &str| -> Vec<&'static str> {
        let done = set(&format!("default = \"{lettering}\""), line);
        let told = done.findings.iter().filter(|j| j.finding.code == "not-in-lettering");
        told.map(|judged| judged.finding.code).collect()
    };
    let small = "text = \"Marrowby Vale\"\nsmall_capitals = \"lower case\"";
    assert_eq!(codes("Besley", small).len(), 1);
    assert_eq!(codes("EB Garamond", small).len(), 0);
    // The letters are then those without the feature.
    let shaped = |name: &str, line: &str| -> Vec<u16> {
        let done = set(&format!("default = \"{name}\""), line);
        done.fitted.rows[0].glyphs.iter().map(|glyph| glyph.id).collect()
    };
    assert_eq!(shaped("Besley", small), shaped("Besley", "text = \"Marrowby Vale\""));
    assert_ne!(shaped("EB Garamond", small), shaped("EB Garamond", "text = \"Marrowby Vale\""));
    assert_eq!(codes("Besley", "text = \"Vale\"\nnarrow_to = \"80 %\"").len(), 1);
    assert_eq!(codes("Archivo", "text = \"Vale\"\nnarrow_to = \"80 %\"").len(), 0);
    assert_eq!(codes("Archivo", "text = \"Vale\"\ntracking = \"8 %\"").len(), 1);
    assert_eq!(codes("Archivo", "text = \"VALE\"\ntracking = \"8 %\"").len(), 0);
}

#[test]
fn ligatures_figures_and_sets_are_what_the_line_asks() {
    let glyphs = |line: &str| -> Vec<u16> {
        let done = set("default = \"EB Garamond\"", &format!("text = \"office 1914\"\n{line}"));
        done.fitted.rows[0].glyphs.iter().map(|glyph| glyph.id).collect()
    };
    let plain = glyphs("");
    assert!(glyphs("ligatures = false").len() > plain.len());
    assert_ne!(glyphs("figures = \"old-style\""), plain);
    assert_eq!(glyphs("figures = \"old-style\""), glyphs("features = [\"onum\"]"));
    // What is written as a feature prevails.
    assert_eq!(glyphs("ligatures = false\nfeatures = [\"liga\", \"clig\"]"), plain);
}

#[test]
fn tracking_opens_capitals_by_half_of_the_spare_width_at_most() {
    let row = |more: &str| {
        let line = format!("text = \"MARROWBY VALE\"\ncap_height = \"6 mm\"\n{more}");
        set("default = \"Archivo\"", &line)
    };
    let plain = row("ligatures = false");
    let before = &plain.fitted.rows[0];
    for (asked, most) in [("4 %", 0.04), ("8 %", 0.08), ("100 %", 1.0)] {
        let done = row(&format!("tracking = \"{asked}\""));
        let after = &done.fitted.rows[0];
        let white = done.fitted.lines[0].tracking;
        let gaps = f64::from(u32::try_from(after.glyphs.len() - 1).unwrap());
        let grown = after.ink.width() - before.ink.width();
        assert!((grown - white * 6.0 * gaps).abs() < 1e-6, "{grown} {white}");
        let spare = before.usable_right - before.usable_left - before.ink.width();
        assert!(white <= most + 1e-12 && grown <= spare / 2.0 + 1e-9, "{asked}");
        let full = (white - most).abs() < 1e-12 || (grown - spare / 2.0).abs() < 1e-6;
        assert!(full, "{asked}: less than it could");
        for ((a, b), step) in before.glyphs.iter().zip(&after.glyphs).zip(0_u32..) {
            let moved = b.x - a.x - (after.origin_x - before.origin_x);
            assert!((moved - f64::from(step) * white * 6.0).abs() < 0.003, "{step}");
        }
        assert!(((after.ink.x0 + after.ink.x1) / 2.0 - 60.0).abs() < 0.003);
    }
}

/// The place of a width axis for a per cent of the drawn advance, sought from the
/// narrowest up, a hundredth at a time.
fn place(line: &ansata::layout::Line, drawn: &Face, per_cent: u32) -> Option<u32> {
    let open = |place: u32| {
        let mut choice = line.lettering.clone();
        choice.ask(Axis::Width, AxisValue::Thousandths(place * 10));
        Face::open(&choice).unwrap()
    };
    let least = drawn.axis_least("wdth").unwrap();
    let most = drawn.axes.iter().find(|(tag, _)| tag == "wdth").unwrap().1;
    let hundredths = |value: f32| format!("{:.0}", value * 100.0).parse::<u32>().unwrap();
    let own = Face::open(&line.lettering).unwrap();
    let wanted = shaped_run(&line.text, &own, &[]).advance_em * f64::from(per_cent) / 100.0;
    let fits = |at: &u32| shaped_run(&line.text, &open(*at), &[]).advance_em <= wanted;
    // In steps of 25, then one by one: the advance rises along the axis.
    let (from, to) = (hundredths(least), hundredths(most));
    let coarse = (from..=to).step_by(25).take_while(fits).last()?;
    (coarse..=to).take(26).take_while(fits).last()
}

#[test]
fn a_line_is_narrowed_by_the_least_step_that_reaches_its_height() {
    let cases = [
        ("100 x 40 mm", "rectangle", "Archivo", "cap_height = \"5.5 mm\"", "60 %"),
        ("100 x 40 mm", "rectangle", "Roboto", "at_least = \"5.6 mm\"", "80 %"),
        ("90 x 60 mm", "oval", "Archivo", "cap_height = \"4.6 mm\"", "62 %"),
        ("100 x 40 mm", "rectangle", "Archivo", "cap_height = \"2 mm\"", "60 %"),
        ("40 x 40 mm", "rectangle", "Archivo", "cap_height = \"5 mm\"", "70 %"),
        ("47 x 38 mm", "rectangle", "Archivo", "size = 1.0", "60 %"),
    ];
    let mut steps = Vec::new();
    for (size, shape, lettering, height, to) in cases {
        let text = "text = \"Observatory of Marrowby Vale\"\nbreaks = \"never\"";
        let default = format!("default = \"{lettering}\"");
        let line = format!("{text}\n{height}\nnarrow_to = \"{to}\"");
        let asked = plate(size, shape, &default, &[&line]);
        let done = job(&asked).unwrap();
        let step = done.lines[0].narrowed.unwrap_or(100);
        let plain = format!("{text}\n{height}");
        let drawn = plate(size, shape, &default, &[&plain]);
        let own = job(&drawn).unwrap();
        let face = &own.lines[0].face;
        let least: u32 = to.trim_end_matches(" %").parse().unwrap();
        let height_at = |per_cent: u32| {
            let mut layout = drawn.clone();
            if per_cent < 100 {
                let place = place(&drawn.lines[0], face, per_cent)?;
                layout.lines[0].lettering.ask(Axis::Width, AxisValue::Thousandths(place * 10));
            }
            let fitted = job(&layout).unwrap().fitted;
            Some((fitted.lines[0].cap_height, fitted.lines[0].floor))
        };
        let line = &drawn.lines[0];
        let stated = line.cap_height.or(line.at_least);
        let reaches = |per_cent: u32, wish: bool| {
            height_at(per_cent).map(|(height, floor)| {
                let goal = stated.unwrap_or(floor.floor);
                let goal = if wish { floor.wish.filter(|_| stated.is_none()) } else { Some(goal) };
                goal.is_none_or(|goal| height >= goal - 1e-6)
            })
        };
        // The widest that reaches floor or stated height; of a line without stated height
        // the widest that reaches its wish, if one does; else the narrowest there is.
        let all: Vec<u32> = (least..=100).rev().collect();
        let steps_there: Vec<u32> =
            all.into_iter().take_while(|step| height_at(*step).is_some()).collect();
        let narrowest = *steps_there.last().unwrap();
        let first = steps_there.iter().copied().find(|step| reaches(*step, false).unwrap());
        let first = first.unwrap_or(narrowest);
        let wished = steps_there
            .iter()
            .copied()
            .filter(|step| *step <= first)
            .find(|step| reaches(*step, true).unwrap());
        let expected = wished.unwrap_or(first);
        assert_eq!(step, expected, "{size} {shape} {lettering} {height}");
        steps.push(step);
    }
    println!("steps {steps:?}");
    assert!(steps.iter().filter(|step| **step < 100).count() >= 4, "{steps:?}");
    assert_eq!(steps[3], 100, "a line that reaches its height is not narrowed");
}

#[test]
fn a_line_that_is_wholly_in_another_lettering_is_not_said_to_be_narrower() {
    let letterings = "default = \"Archivo\"\nothers = [\"Frank Ruhl Libre\"]";
    let line = "text = \"שלום לכם\"\nnarrow_to = \"80 %\"\ncap_height = \"60 mm\"";
    let done = set(letterings, line);
    assert_eq!(done.lines[0].narrowed, None);
    let told: Vec<&str> = (done.findings.iter())
        .filter(|judged| judged.finding.code == "not-in-lettering")
        .map(|judged| judged.finding.message.as_str())
        .collect();
    assert!(told.iter().any(|m| m.contains("nothing of it is set in Archivo")), "{told:?}");
}

#[test]
fn narrowing_never_squeezes_a_lettering_without_the_axis() {
    let line = "text = \"Observatory of Marrowby Vale\"\nbreaks = \"never\"\ncap_height = \"9 mm\"";
    let with = set("default = \"Besley\"", &format!("{line}\nnarrow_to = \"60 %\""));
    let without = set("default = \"Besley\"", line);
    assert_eq!(with.fitted.rows, without.fitted.rows);
    assert_eq!(with.lines[0].narrowed, None);
}

/// Numbers that look random and are the same each time (Knuth's MMIX constants).
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % end
    }

    fn one<'t>(&mut self, of: &[&'t str]) -> &'t str {
        of[self.below(of.len())]
    }
}

/// A line of words of many scripts that asks for whatever comes.
fn any_line(dice: &mut Dice) -> String {
    let words = [
        "Vale",
        "TARRANT",
        "straße",
        "ŵyl",
        "ﬁnd",
        "Observa\\u00ADtory",
        "1914",
        "(x)",
        "—",
        "\\\"",
        "'s",
        "שלום",
        "שָׁלוֹם",
        "תשפ״ד",
        "قرعت",
        "لا\u{64B}",
        "Ιφιγένεια",
        "ΐ",
        "Привет",
        "नमस्ते",
        "\\n",
        "№",
        "\\u200F",
        "\\u2067Vale\\u2069",
        "e\u{301}",
        "ı",
        "ĳ",
    ];
    let mut text: Vec<&str> = vec!["Elowen"];
    text.extend((0..dice.below(9)).map(|_| dice.one(&words)));
    text.push("Vale");
    // Rows with nothing to see in them are refused.
    let text = text.join(" ").replace("\\n \\n", "\\n").replace("\\n \\u200F \\n", "\\n");
    let mut line = format!("text = \"{text}\"\n");
    for (key, values) in [
        ("language", &["\"tr\"", "\"el\"", "\"lt\"", "\"he\"", "\"xx\"", "\"fr\""][..]),
        ("case", &["\"capitals\"", "\"capitals with ẞ\"", "\"as written\""][..]),
        ("tracking", &["\"8 %\"", "\"100 %\""][..]),
        ("narrow_to", &["\"60 %\"", "\"99 %\""][..]),
        ("cap_height", &["\"4 mm\"", "\"9 mm\""][..]),
        ("breaks", &["\"never\"", "\"free\""][..]),
        ("align", &["\"left\"", "\"right\""][..]),
        ("small_capitals", &["\"all letters\""][..]),
        ("figures", &["\"old-style\""][..]),
        ("lettering", &["\"Archivo\"", "\"Amiri\"", "\"Noto Sans Devanagari\""][..]),
    ] {
        if dice.below(2) == 0 {
            line += &format!("{key} = {}\n", dice.one(values));
        }
    }
    if line.contains("language") && dice.below(2) == 0 {
        line += "quotes = \"typographic\"\n";
    }
    if line.contains("u00AD") && !line.contains("\"never\"") {
        line += "hyphens = \"at soft hyphens\"\n";
    }
    line
}

/// Every glyph of a row stands within the ink that the row is said to have.
fn assert_within(row: &ansata::fit::Row, line: &ansata::lettering::ShapedLine) {
    for glyph in &row.glyphs {
        let face = line.face_of(glyph.face);
        let em = row.cap_height / face.cap_em();
        let outline = face.outline(glyph.id);
        if outline.elements().is_empty() {
            continue;
        }
        let ink = kurbo::Shape::bounding_box(&outline);
        let (left, right) = (glyph.x + ink.x0 * em, glyph.x + ink.x1 * em);
        assert!(left >= row.ink.x0 - 0.003 && right <= row.ink.x1 + 0.003, "{row:?}");
        let top = glyph.y - ink.y1 * em;
        assert!(top >= row.baseline - line.rise * row.cap_height - 0.003, "{row:?}");
    }
}

#[test]
fn whatever_a_line_asks_its_ink_stays_inside_the_margin() {
    let mut dice = Dice(5);
    let (mut narrowed, mut opened, mut mixed) = (0, 0, 0);
    for _ in 0..120 {
        let mut lines = Vec::new();
        for _ in 0..=dice.below(3) {
            lines.push(any_line(&mut dice));
        }
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        let shape = dice.one(&["rectangle", "oval"]);
        let size = dice.one(&["120 x 80 mm", "60 x 40 mm", "200 x 50 mm"]);
        let layout = plate(size, shape, SCRIPTS, &lines);
        let done = job(&layout).unwrap();
        let again = job(&layout).unwrap();
        assert_eq!(done.mark, again.mark);
        for row in &done.fitted.rows {
            let line = &done.lines[row.line];
            assert!(row.ink.x0 >= row.usable_left - 0.002, "{lines:?} {row:?}");
            assert!(row.ink.x1 <= row.usable_right + 0.002, "{lines:?} {row:?}");
            assert_within(row, line);
        }
        mixed += usize::from(done.lines.iter().any(|line| !line.others.is_empty()));
        narrowed += usize::from(done.lines.iter().any(|line| line.narrowed.is_some()));
        opened += usize::from(done.fitted.lines.iter().any(|line| line.tracking > 0.0));
    }
    println!("{mixed} mixed, {narrowed} narrowed, {opened} opened");
    assert!(mixed > 40 && narrowed > 5 && opened > 5, "{mixed} {narrowed} {opened}");
}
