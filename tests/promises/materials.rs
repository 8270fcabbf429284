//! Promises about materials: figures of handbooks, looks that read, contrast as WCAG
//! works it out, and what a material forbids.

use ansata::finding::Severity;
use ansata::job::Job;
use ansata::layout::{Colour, Material, Named};
use ansata::picture::luminance;
use ansata::plate::{contrast, fill_row, grams, growth, look};

use crate::plate::rows;
use crate::sheets::jobs::job_of;

/// A plate of a material with a process and a fill.
fn plaque(material: &str, more: &str, engraving: &str) -> Job {
    job_of(&format!(
        "ansata = 1\ntitle = \"Dome hours\"\n[plate]\nsize = \"120 x 60 mm\"\n\
         material = \"{material}\"\n{more}\n[engraving]\n{engraving}\n\
         [[line]]\ntext = \"Open on clear nights\"\nlettering = \"Besley\"\n"
    ))
}

fn found(job: &Job, code: &str) -> Option<(Severity, String)> {
    let judged = job.findings.iter().find(|judged| judged.finding.code == code)?;
    Some((judged.finding.severity, judged.finding.message.clone()))
}

#[test]
fn contrast_is_that_of_wcag() {
    let pairs = rows(include_str!("../reference/wcag_contrast.csv"));
    // Colours begin as remarks do; they are none.
    assert_eq!(pairs.len(), 11);
    for row in pairs {
        let channel = |text: &str, at: usize| u8::from_str_radix(&text[at..at + 2], 16).unwrap();
        let rgb = |text: &str| [1, 3, 5].map(|at: usize| channel(text, at));
        let (one, other) = (rgb(row[0]), rgb(row[1]));
        let (light, ratio) = (row[2].parse::<f64>().unwrap(), row[3].parse::<f64>().unwrap());
        assert!((luminance(one) - light).abs() < 1e-6, "{}: {}", row[0], luminance(one));
        for found in [contrast(one, other), contrast(other, one)] {
            assert!((found - ratio).abs() < 1e-4, "{} on {}: {found}", row[0], row[1]);
        }
    }
    // It prints as 4.5 and is not.
    assert!(contrast([0x77; 3], [0xFF; 3]) < 4.5);
}

#[test]
fn weight_and_growth_are_those_worked_by_hand() {
    // 200 x 150 x 1.5 mm is 45 cm³; 300 mm over 30 °C. Figures of the handbook in
    // tests/reference/materials.csv; acrylic is a range there.
    let cases = [
        ("brass", 383.9, 0.179, 0.179),
        ("aluminium", 121.5, 0.212, 0.212),
        ("stainless steel", 360.0, 0.155, 0.156),
        ("copper", 400.1, 0.153, 0.153),
        ("acrylic", 53.6, 0.63, 1.458),
    ];
    for (material, weight, least, greatest) in cases {
        let mut plate = plaque(material, "thickness = \"1.5 mm\"", "").layout.plate;
        (plate.width, plate.height) = (200.0, 150.0);
        assert!((grams(&plate) - weight).abs() < 0.06, "{material}: {}", grams(&plate));
        let (low, high) = growth(&plate, 300.0, 30.0);
        assert!((low - least).abs() < 6e-4 && (high - greatest).abs() < 6e-4, "{low} {high}");
    }
}

#[test]
fn letters_that_are_too_like_their_ground_are_a_caution() {
    // Both sides of the bound, by the proof's own colours.
    for (material, more) in [
        ("brass", "finish = \"satin\""),
        ("slate", ""),
        ("black walnut", ""),
        ("laminate", "cap = \"red\"\ncore = \"white\""),
        ("brass", "coating = \"paint\""),
    ] {
        for fill in ["black", "white", "red", "blue", "green"] {
            let job = plaque(material, more, &format!("fill = \"{fill}\""));
            let paint = fill_row(job.layout.engraving.fill).unwrap().rgb;
            let ground = look(&job.layout.plate);
            let worst = ground.stops.iter().map(|(_, tone)| contrast(*tone, paint));
            let worst = worst.fold(f64::INFINITY, f64::min);
            let told = found(&job, "low-contrast");
            assert_eq!(told.is_some(), worst < 3.0, "{fill} on {material}: {worst}");
            if let Some((severity, message)) = told {
                assert_eq!(severity, Severity::Caution);
                assert!(message.contains(fill) && message.contains("would stand at"), "{message}");
            }
        }
    }
    let brass = plaque("brass", "finish = \"satin\"", "fill = \"black\"");
    assert_eq!(found(&brass, "low-contrast"), None);
    assert!(found(&plaque("slate", "", "fill = \"black\""), "low-contrast").is_some());
}

#[test]
fn cap_and_core_and_coat_and_metal_must_differ() {
    let laminate = |cap: &str, core: &str| {
        let more = format!("cap = \"{cap}\"\ncore = \"{core}\"");
        found(&plaque("laminate", &more, "process = \"co2 laser\""), "low-contrast")
    };
    assert_eq!(laminate("white", "black"), None);
    assert_eq!(laminate("black", "gold"), None);
    for (cap, core) in [("white", "cream"), ("black", "blue"), ("silver", "silver")] {
        let (_, message) = laminate(cap, core).unwrap_or_else(|| panic!("{cap} over {core}"));
        assert!(message.contains(&format!("{cap} over {core}")), "{message}");
    }
    let coat = |coat: &str| {
        found(
            &plaque(
                "brass",
                &format!("coating = \"paint\"\ncolour = \"{coat}\""),
                "process = \"burnished\"",
            ),
            "low-contrast",
        )
    };
    assert_eq!(coat("black"), None);
    assert!(coat("gold").is_some() && coat("cream").is_some());
}

#[test]
fn unfilled_letters_in_satin_metal_are_a_caution_of_practice() {
    let told = |finish: &str, engraving: &str, more: &str| {
        let job = plaque("brass", &format!("finish = \"{finish}\"\n{more}"), engraving);
        let judged = job.findings.iter().find(|one| one.finding.code == "unfilled-on-satin");
        judged.map(|one| (one.finding.severity, one.finding.source.clone()))
    };
    let practice = (Severity::Caution, "common practice, no source".to_owned());
    assert_eq!(told("satin", "", ""), Some(practice));
    assert_eq!(told("polished", "", ""), None);
    assert_eq!(told("satin", "fill = \"black\"", ""), None);
    assert_eq!(told("satin", "process = \"fibre laser\"", ""), None);
    assert_eq!(told("satin", "", "coating = \"paint\""), None);
}

#[test]
fn printed_letters_need_a_colour_and_are_judged_by_it() {
    let told = |fill: &str| plaque("brass", "", &format!("process = \"printed\"\n{fill}"));
    assert!(found(&told(""), "no-ink-colour").is_some());
    let white = told("fill = \"white\"");
    assert_eq!(found(&white, "no-ink-colour"), None);
    assert!(found(&white, "low-contrast").is_some());
}

#[test]
fn only_a_clear_plate_is_engraved_from_behind() {
    let behind = |material: &str, more: &str| {
        found(&plaque(material, more, "from = \"behind\""), "not-clear").map(|told| told.0)
    };
    assert_eq!(behind("brass", ""), Some(Severity::Stop));
    assert_eq!(behind("acrylic", "colour = \"white\""), Some(Severity::Stop));
    assert_eq!(behind("acrylic", ""), None);
    assert!(found(&plaque("acrylic", "", ""), "clear-plate").is_some());
}

#[test]
fn a_material_is_told_in_plain_words_with_its_cautions() {
    let made_of = |material: &str, more: &str| plaque(material, more, "").layout.plate.made_of();
    assert_eq!(made_of("brass", "finish = \"satin\""), "brass, satin");
    assert_eq!(
        made_of("brass", "coating = \"paint\"\nfinish = \"matt\""),
        "brass, matt, black paint"
    );
    let dyed = "coating = \"anodised\"\nfinish = \"satin\"\ncolour = \"blue\"";
    assert_eq!(made_of("aluminium", dyed), "aluminium, satin, anodised blue");
    assert_eq!(
        made_of("laminate", "cap = \"gold\"\ncore = \"black\""),
        "laminate, gold over black, polished"
    );
    assert_eq!(made_of("acrylic", ""), "acrylic, clear, polished");
    assert_eq!(made_of("slate", ""), "slate, matt");
    assert_eq!(made_of("pvc", ""), "pvc, white, polished");
    let cautions = |material: &str| {
        let text = ansata::sheets::artwork(&plaque(material, "", "fill = \"black\"")).text;
        text.replace("\n    ", " ")
    };
    let silver = "brass\"\ncoating = \"silver plate";
    assert!(cautions(silver).contains("goes through it and shows the metal beneath"));
    assert!(cautions("pvc").contains("NEVER cut or mark it with a laser"));
    assert!(cautions("slate").contains("quartz"));
    // Every colour and every material can be asked for.
    for (word, _) in Colour::ALL {
        assert!(
            made_of("aluminium", &format!("coating = \"anodised\"\ncolour = \"{word}\""))
                .contains(word)
        );
    }
    for (word, _) in Material::ALL {
        assert!(made_of(word, "").starts_with(word));
    }
}
