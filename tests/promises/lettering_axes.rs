//! Promises about weight, width and optical size of a line's lettering.

use ansata::layout::{Axis, AxisValue, LetteringChoice, Named, Shop, Source, Vocabulary};
use ansata::lettering::{Face, SmallCapitals, catalogue, shaped_line, shaped_run};
use ansata::{job, layout};

use crate::lettering::shipped;

fn set(name: &str, axes: &[(Axis, AxisValue)]) -> LetteringChoice {
    let mut choice = LetteringChoice::shipped(name);
    for (axis, value) in axes {
        choice.ask(*axis, *value);
    }
    choice
}

fn number(value: u32) -> AxisValue {
    AxisValue::Thousandths(value * 1000)
}

fn told(choice: &LetteringChoice) -> (String, String) {
    let error = Face::open(choice).unwrap_err();
    assert!(error.axis.is_some());
    (error.message, error.help.unwrap())
}

/// A layout of one line with this for its lettering.
fn line(lettering: &str) -> Source {
    let text = format!(
        "ansata = 1\ntitle = \"Cup\"\n[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n\
         [lettering]\ndefault = \"Archivo\"\n[[line]]\ntext = \"PRESENTED TO\"\nlettering = {lettering}\n"
    );
    Source { name: "cup.toml".to_owned(), text }
}

fn read(source: &Source) -> layout::Layout {
    let lettering = catalogue().names().map(str::to_owned).collect();
    let own = std::fs::read(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/fonts-open/bodoni-moda/BodoniModa[opsz,wght].ttf"
    ));
    let companion = |_: &str| own.as_ref().map(Clone::clone).map_err(ToString::to_string);
    layout::read(source, Shop::default(), &Vocabulary { lettering }, &companion).unwrap()
}

#[test]
fn a_line_stands_at_the_weight_and_width_it_asks_for() {
    let source = line("{ name = \"Archivo\", weight = 650, width = \"narrow\" }");
    let done = job::job(&read(&source)).unwrap();
    let face = &done.lines[0].face;
    assert_eq!(face.name, "Archivo, weight 650, width 75");
    let axes: Vec<(&str, u32)> =
        face.axes.iter().map(|(tag, value)| (tag.as_str(), value.to_bits())).collect();
    assert_eq!(axes, [("wght", 650_f32.to_bits()), ("wdth", 75_f32.to_bits())]);
    let report = ansata::report::report(&done, &[], &source, &[], &[]);
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    assert_eq!(
        report["lines"][0]["font"]["axes"],
        serde_json::json!({ "wght": 650.0, "wdth": 75.0 })
    );
    assert_eq!(report["lines"][0]["lettering"], "Archivo, weight 650, width 75");
    // By the default's name, where the braces give none.
    let done = job::job(&read(&line("{ weight = \"bold\" }"))).unwrap();
    assert_eq!(done.lines[0].face.name, "Archivo, weight 700");
}

#[test]
fn the_same_place_on_the_axes_gives_the_same_letters() {
    let asked = Face::open(&set("Archivo", &[(Axis::Width, AxisValue::Word("narrow"))])).unwrap();
    let listed = shipped("Archivo Narrow");
    let run = shaped_run("Marrowby Vale", &asked, &[]);
    assert_eq!(run, shaped_run("Marrowby Vale", &listed, &[]));
    for glyph in &run.glyphs {
        assert_eq!(asked.outline(glyph.id), listed.outline(glyph.id));
    }
    assert_eq!(asked.cap_units.to_bits(), listed.cap_units.to_bits());
}

#[test]
fn a_line_grows_wider_along_the_width_axis() {
    let text = "PRESENTED TO";
    let width = |percent: u32| {
        let face = Face::open(&set(
            "Archivo",
            &[(Axis::Weight, number(400)), (Axis::Width, number(percent))],
        ));
        shaped_line(text, &face.unwrap(), &[], &[0, text.len()]).width(0, 1)
    };
    // Measured with HarfBuzz at wght 400: 0.653, 0.818, 1, 1.287 of the length at 100.
    let normal = width(100);
    for (percent, share) in [(62, 0.653), (80, 0.818), (125, 1.287)] {
        let ours = width(percent) / normal;
        assert!((ours - share).abs() < 0.01, "{percent}: {ours}");
    }
}

#[test]
fn a_small_optical_size_has_sturdier_hairlines() {
    // Bodoni Moda's H bar is 0.048 of the cap height at 6 and 0.010 at 28 (outline
    // coordinates): the foot of its E is what shows it here.
    let area = |size: AxisValue| {
        let face = Face::open(&set("Bodoni Moda", &[(Axis::OpticalSize, size)])).unwrap();
        let glyph = shaped_run("E", &face, &[]).glyphs[0].id;
        kurbo::Shape::area(&ansata::lettering::united(&face.outline(glyph), 1e-6)).abs()
    };
    let caption = area(AxisValue::Word("caption"));
    assert!((caption - area(number(6))).abs() < 1e-12);
    assert!(caption > 1.1 * area(AxisValue::Word("poster")));
}

#[test]
fn an_axis_that_is_not_there_names_those_that_are_and_who_has_it() {
    let (message, help) = told(&set("Cinzel", &[(Axis::Width, number(80))]));
    assert_eq!(message, "`Cinzel` has no axis for its width");
    assert_eq!(
        help,
        "it has weight; width can be set in Archivo, Roboto, Cabin, Noto Sans Devanagari"
    );
    let (_, help) = told(&set("Besley", &[(Axis::Weight, AxisValue::Word("bold"))]));
    assert!(
        help.starts_with("its styles are Besley, Besley Italic, Besley Bold; weight can"),
        "{help}"
    );
    let (_, help) = told(&set("Marcellus", &[(Axis::OpticalSize, number(6))]));
    assert_eq!(help, "it comes in one style; optical size can be set in Bodoni Moda");
}

#[test]
fn a_value_out_of_range_is_told_with_the_range_and_its_words() {
    let (message, help) = told(&set("Cabin", &[(Axis::Weight, AxisValue::Word("black"))]));
    assert_eq!(message, "the weight of `Cabin` cannot be `black`");
    assert_eq!(help, "it may be 400 to 700: regular 400, medium 500, semibold 600, bold 700");
    let (message, help) = told(&set("Archivo", &[(Axis::Width, number(130))]));
    assert_eq!(message, "the width of `Archivo` cannot be `130`");
    assert!(help.starts_with("it may be 62 to 125: extra narrow 62.5, narrow 75,"), "{help}");
}

#[test]
fn a_wrong_axis_is_told_at_its_own_key() {
    for (lettering, at) in [
        ("{ name = \"Archivo\", width = 200 }", "200"),
        ("{ name = \"Besley\", weight = \"bold\" }", "\"bold\""),
        ("{ file = \"own.ttf\", width = 80 }", "80"),
        ("{ file = \"own.ttf\", weight = 950 }", "950"),
    ] {
        let source = line(lettering);
        let told = job::job(&read(&source)).unwrap_err();
        assert_eq!(told.len(), 1);
        assert_eq!(&source.text[told[0].span.clone().unwrap()], at, "{told:?}");
    }
}

#[test]
fn a_variable_file_of_ones_own_is_set_within_its_own_range() {
    let own = |axes: &str| {
        let source = line(&format!("{{ file = \"own.ttf\"{axes} }}"));
        job::job(&read(&source)).map(|done| std::sync::Arc::clone(&done.lines[0].face))
    };
    let face = own(", weight = \"bold\", optical_size = 6").unwrap();
    assert_eq!(face.name, "own.ttf, weight 700, optical size 6");
    assert_eq!(face.inside.as_ref().unwrap().name.as_deref(), Some("Bodoni Moda Regular"));
    let listed = shipped("Bodoni Moda Bold");
    assert_eq!(shaped_run("Vale", &face, &[]), shaped_run("Vale", &listed, &[]));
    // Its default: wght 400, opsz 11 (fontTools).
    let plain = own("").unwrap();
    assert!(plain.axes.contains(&("opsz".to_owned(), 11.0)), "{:?}", plain.axes);
    let told = own(", optical_size = \"caption\"").unwrap_err();
    assert_eq!(told[0].help.as_deref(), Some("it may be 6 to 96"));
    let told = own(", width = \"narrow\"").unwrap_err();
    assert_eq!(told[0].help.as_deref(), Some("it has: weight, optical size"));
}

/// The 2010 ADA Standards, 703.5.4: width of O 55 % to 110 % of the height of I. Which
/// letterings do not pass is listed, so that a change is seen.
#[test]
fn letterings_outside_ada_703_5_4_are_known_by_name() {
    let outside: Vec<&str> = (catalogue().entries.iter())
        .filter(|entry| {
            let ratio = shipped(&entry.name).o_to_i().unwrap();
            !(0.55..=1.10).contains(&ratio)
        })
        .map(|entry| entry.name.as_str())
        .collect();
    println!("{} of {} pass", catalogue().entries.len() - outside.len(), catalogue().entries.len());
    assert_eq!(
        outside,
        [
            "Cinzel Bold",
            "Libre Baskerville Bold",
            "Archivo Wide",
            "Oswald",
            "Berenika Bold",
            "EMS Allure"
        ]
    );
}

#[test]
fn the_catalogue_tells_what_each_font_can_do() {
    for entry in &catalogue().entries {
        let family = catalogue().family(entry).unwrap();
        let face = shipped(&entry.name);
        let real = face.offers("smcp") && face.offers("c2sc");
        assert_eq!(family.small_capitals == SmallCapitals::Real, real, "{}", entry.name);
        for (_, style) in ansata::lettering::Figures::ALL {
            let listed = family.figures.contains(style);
            assert_eq!(face.offers(style.feature()), listed, "{} {style:?}", entry.name);
        }
        // Real small capitals change every letter of their case, and Cinzel's lower case
        // is as high as no x-height of another.
        let glyphs = |text: &str, features: &[&str]| -> Vec<u16> {
            let features: Vec<String> = features.iter().map(|f| (*f).to_owned()).collect();
            shaped_run(text, &face, &features).glyphs.iter().map(|glyph| glyph.id).collect()
        };
        if real {
            for (case, feature) in
                [("abcdefghijklmnopqrstuvwxyz", "smcp"), ("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "c2sc")]
            {
                for letter in case.chars().map(|letter| letter.to_string()) {
                    let own = glyphs(&letter, &[feature]);
                    assert_ne!(own, glyphs(&letter, &[]), "{} {letter} {feature}", entry.name);
                }
            }
        }
        for (script, stated) in &entry.letters {
            let ours = face.reference_units(script).unwrap();
            assert!(
                (ours - stated).abs() < 0.004 * face.cap_units,
                "{} {script} {ours}",
                entry.name
            );
        }
        for (script, letter) in &family.scripts {
            assert!(ansata::lettering::missing(&face, &letter.to_string()).is_empty());
            assert!(face.reference_units(script).is_some(), "{} {script}", entry.name);
        }
        assert_eq!(entry.letters.len() + 1, family.scripts.len(), "{}", entry.name);
    }
}
