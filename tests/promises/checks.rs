//! Promises about what is noticed: every rule on both sides of its bound.
//!
//! The bounds are geometry, or habits of the trade ("common practice, no
//! source"); the figures beside each case are worked by hand.

use ansata::job::{Job, job};
use ansata::layout::{Shop, Source, Vocabulary, read};

/// A plate with one short line; keys are added to its tables.
#[derive(Clone)]
struct Asked {
    size: &'static str,
    plate: String,
    line: String,
    mount: String,
    face: String,
}

fn asked() -> Asked {
    Asked {
        size: "120 x 80 mm",
        plate: "thickness = \"1.5 mm\"\n".to_owned(),
        line: "text = \"TENOR\"\n".to_owned(),
        mount: String::new(),
        face: String::new(),
    }
}

impl Asked {
    fn job(&self) -> Job {
        let text = format!(
            "ansata = 1\ntitle = \"Test\"\n[plate]\nsize = \"{}\"\nmaterial = \"brass\"\n{}\
             [lettering]\ndefault = \"Archivo\"\n[[line]]\n{}\n{}\n{}\n",
            self.size, self.plate, self.line, self.mount, self.face
        );
        let source = Source { name: "cup.toml".to_owned(), text };
        let vocabulary = Vocabulary { lettering: vec!["Archivo".to_owned()] };
        let none = |_: &str| Err("there is no such file".to_owned());
        let layout =
            read(&source, Shop::default(), &vocabulary, &none).unwrap_or_else(|mistakes| {
                let told: Vec<String> = mistakes.iter().map(|m| m.render(false)).collect();
                panic!("{}", told.join("\n"))
            });
        job(&layout).unwrap()
    }

    fn codes(&self) -> Vec<&'static str> {
        self.job().findings.iter().map(|judged| judged.finding.code).collect()
    }

    #[track_caller]
    fn has(&self, code: &str) {
        let codes = self.codes();
        assert!(codes.contains(&code), "no {code} among {codes:?}");
    }

    #[track_caller]
    fn has_not(&self, code: &str) {
        let codes = self.codes();
        assert!(!codes.contains(&code), "{code} among {codes:?}");
    }

    fn with_plate(&self, keys: &str) -> Self {
        Self { plate: format!("{}{keys}\n", self.plate), ..self.clone() }
    }

    fn with_screws(&self, gauge: u8, head: &str, length: &str, holes: &str) -> Self {
        let mount = format!(
            "[mount]\nfixing = {{ kind = \"wood screw\", gauge = {gauge}, head = \"{head}\", length = \"{length}\" }}\n{holes}\n"
        );
        Self { mount, ..self.clone() }
    }

    fn on_face(&self, size: &str, thickness: &str, place: &str) -> Self {
        let face = format!(
            "[face]\nsize = \"{size}\"\nmaterial = \"white oak\"\nthickness = \"{thickness}\"\n{place}\n"
        );
        Self { face, ..self.clone() }
    }
}

/// Hole set at an inset from the corners.
fn corners(inset: &str) -> String {
    format!("holes = \"four corners\"\ninset = \"{inset}\"")
}

#[test]
fn a_plain_plate_has_no_finding() {
    assert_eq!(asked().codes(), Vec::<&str>::new());
}

#[test]
fn a_head_that_breaks_out_of_the_plate_is_a_stop() {
    // No. 4: clearance hole 3.26 mm (radius 1.63), round head 0.211 in = 5.36 mm (radius 2.68).
    let at = |inset: &str| asked().with_screws(4, "round", "1/2 in", &corners(inset));
    at("1.6 mm").has("hole-off-plate");
    at("2.6 mm").has("head-off-plate");
    at("2.7 mm").has_not("head-off-plate");
    at("2.7 mm").has_not("hole-off-plate");
}

#[test]
fn little_metal_outside_a_hole_is_a_caution() {
    // Two diameters of the 3.26 mm hole are 6.53 mm.
    let at = |inset: &str| asked().with_screws(4, "round", "1/2 in", &corners(inset));
    at("6.4 mm").has("little-metal-at-hole");
    at("6.6 mm").has_not("little-metal-at-hole");
}

#[test]
fn little_metal_is_laid_to_the_key_that_places_the_hole() {
    let screw =
        "fixing = { kind = \"wood screw\", gauge = 4, head = \"round\", length = \"1/2 in\" }";
    for (holes, key) in [
        ("holes = \"four corners\"\ninset = \"6 mm\"", "mount.inset"),
        ("holes = { points = [[\"6 mm\", \"20 mm\"]] }", "mount.holes"),
        ("holes = { circle = \"68 mm\", count = 4 }", "mount.holes"),
    ] {
        let layout = crate::plate::asked(&format!(
            "[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n[mount]\n{screw}\n{holes}\n"
        ));
        let job = job(&layout).unwrap();
        let mut found = job.findings.iter().map(|judged| &judged.finding);
        let little = found.find(|finding| finding.code == "little-metal-at-hole").unwrap();
        assert_eq!(little.place.key, key, "{holes}");
    }
}

#[test]
fn a_head_on_the_bevel_is_a_caution() {
    let at = |inset: &str| {
        asked().with_plate("bevel = \"5 mm\"").with_screws(4, "round", "1/2 in", &corners(inset))
    };
    at("7.6 mm").has("little-metal-at-hole");
    at("7.8 mm").has_not("little-metal-at-hole");
}

#[test]
fn heads_that_overlap_are_a_stop_and_close_ones_a_caution() {
    let at = |second: &str| {
        let holes =
            format!("holes = {{ points = [[\"20 mm\", \"40 mm\"], [\"{second}\", \"40 mm\"]] }}");
        asked().with_screws(4, "round", "1/2 in", &holes)
    };
    at("25.3 mm").has("holes-overlap");
    at("25.5 mm").has("holes-close");
    // Four diameters of 3.26 mm are 13.06 mm.
    at("33.0 mm").has("holes-close");
    at("33.2 mm").has_not("holes-close");
}

#[test]
fn a_cone_deeper_than_the_plate_is_a_stop_that_names_what_would_do() {
    // No. 4 flat: (0.225 - 0.112) in / (2 tan 41°) = 1.651 mm.
    let at = |thickness: &str| {
        let mut plate = asked();
        plate.plate = format!("thickness = \"{thickness}\"\n");
        plate.with_screws(4, "flat", "1/2 in", &corners("10 mm"))
    };
    at("1.6 mm").has("cone-too-deep");
    at("1.7 mm").has_not("cone-too-deep");
    let job = at("1.6 mm").job();
    let finding = &job.findings.iter().find(|j| j.finding.code == "cone-too-deep").unwrap().finding;
    assert!(finding.message.contains("a round head of the same size"), "{}", finding.message);
    assert!(finding.message.contains("at least 1.7 mm"), "{}", finding.message);
    assert!(finding.message.contains("a No. 3 screw, whose cone fits"), "{}", finding.message);
    at("1.6 mm")
        .clone()
        .with_screws(4, "round", "1/2 in", &corners("10 mm"))
        .has_not("cone-too-deep");
}

#[test]
fn the_penetration_and_not_the_length_is_held_against_the_wood() {
    // 1/2 in = 12.7 mm under a round head; through 1.5 mm of plate 11.2 mm go into the wood.
    let at = |thickness: &str| {
        asked().with_screws(4, "round", "1/2 in", &corners("10 mm")).on_face(
            "150 x 110 mm",
            thickness,
            "",
        )
    };
    at("14.1 mm").has("screw-through-wood");
    at("14.3 mm").has_not("screw-through-wood");
}

#[test]
fn a_fixing_that_hardly_reaches_the_wood_is_told() {
    // No. 4: shank 2.84 mm, three of them 8.53 mm.
    let at = |length: &str| asked().with_screws(4, "round", length, &corners("10 mm"));
    let thick = Asked { plate: "thickness = \"6 mm\"\n".to_owned(), ..asked() };
    thick.with_screws(4, "round", "6 mm", &corners("10 mm")).has("fixing-too-short");
    at("10.0 mm").has("little-hold");
    at("10.1 mm").has_not("little-hold");
}

#[test]
fn a_plate_that_does_not_lie_on_its_face_is_a_stop() {
    let at = |place: &str| asked().on_face("150 x 110 mm", "19 mm", place);
    at("place = { from_left = \"30 mm\" }").has_not("plate-off-face");
    at("place = { from_left = \"30.1 mm\" }").has("plate-off-face");
    at("place = { from_bottom = \"30.1 mm\" }").has("plate-off-face");
    asked().on_face("119 x 110 mm", "19 mm", "").has("plate-off-face");
}

#[test]
fn a_hole_near_the_edge_of_the_wood_is_a_caution() {
    // Four shanks of 2.84 mm are 11.38 mm; the plate lies flush with the face's left edge.
    let at = |inset: &str| {
        asked().with_screws(4, "round", "1/2 in", &corners(inset)).on_face(
            "150 x 110 mm",
            "19 mm",
            "place = { from_left = \"0 mm\" }",
        )
    };
    at("11.3 mm").has("hole-near-edge");
    at("11.5 mm").has_not("hole-near-edge");
}

#[test]
fn a_thin_margin_is_a_caution() {
    asked().with_plate("margin = \"3.9 mm\"").has("thin-margin");
    asked().with_plate("margin = \"4 mm\"").has_not("thin-margin");
    let mut small = asked();
    small.size = "50 x 40 mm";
    small.with_plate("margin = \"2.9 mm\"").has("thin-margin");
    small.with_plate("margin = \"3 mm\"").has_not("thin-margin");
}

#[test]
fn lettering_and_border_keep_apart() {
    // At ease 100 % and no ceiling in the way the ink touches the margin at the sides.
    let at = |margin: &str| {
        let mut wide = asked();
        wide.line = "text = \"TENOR BELL OF MARROWBY\"\nat_most = \"30 mm\"\nbreaks = \"never\"\n"
            .to_owned();
        wide.mount = "[fit]\nease = \"100 %\"\n".to_owned();
        wide.with_plate(&format!(
            "margin = \"{margin}\"\nborder = {{ inset = \"5 mm\", weight = \"0.4 mm\" }}"
        ))
    };
    // Inner edge of the line: 5.2 mm.
    at("5.1 mm").has("ink-over-border");
    at("6.1 mm").has("ink-near-border");
    at("6.3 mm").has_not("ink-near-border");
}

#[test]
fn a_border_inside_the_holes_clears_their_heads() {
    // A head of 2.68 mm at 8 mm from both edges clears a corner at x where
    // (x - 8)·√2 ≥ 2.68: x = 9.90 for the line's outer edge, 10.10 for its middle.
    // With 2 mm of white and half the line's weight: (x - 8)·√2 ≥ 4.88, x = 11.45.
    let at = |inset: &str| {
        asked()
            .with_plate(&format!(
                "margin = \"14 mm\"\nborder = {{ inset = \"{inset}\", weight = \"0.4 mm\", at_holes = \"holes outside\" }}"
            ))
            .with_screws(4, "round", "1/2 in", &corners("8 mm"))
    };
    at("10 mm").has("head-over-border");
    at("10.2 mm").has("border-near-head");
    at("11.4 mm").has("border-near-head");
    at("11.5 mm").has_not("border-near-head");
}

#[test]
fn a_line_too_small_to_read_is_a_caution_and_below_the_preferred_size_a_note() {
    // Capitals at 400 mm: 15' is 1.745 mm, 20' is 2.327 mm (2·d·tan(θ/2)).
    let at = |height: &str| {
        let mut line = asked();
        line.line = format!("text = \"TENOR\"\ncap_height = \"{height}\"\n");
        line
    };
    at("1.74 mm").has("hard-to-read");
    at("1.75 mm").has("below-preferred-size");
    at("1.75 mm").has_not("hard-to-read");
    at("2.32 mm").has("below-preferred-size");
    at("2.33 mm").has_not("below-preferred-size");
}

#[test]
fn a_line_below_what_the_process_makes_is_a_caution_that_says_it_has_no_source() {
    let at = |height: &str| {
        let mut line = asked();
        line.line = format!("text = \"TENOR\"\ncap_height = \"{height}\"\n");
        line
    };
    at("2.49 mm").has("below-process-height");
    at("2.5 mm").has_not("below-process-height");
    let job = at("2.49 mm").job();
    let found = job.findings.iter().find(|j| j.finding.code == "below-process-height").unwrap();
    assert_eq!(found.finding.source, "common practice, no source");
    assert!(!job.stopped());
}

#[test]
fn a_height_that_the_layout_demands_and_the_plate_denies_is_a_stop() {
    let at = |least: &str| {
        let mut line = asked();
        line.size = "60 x 40 mm";
        line.line = format!("text = \"MARROWBY\"\nat_least = \"{least}\"\nat_most = \"40 mm\"\n");
        line
    };
    let limit = at("2 mm").job().fitted.limit_scale.unwrap();
    at(&format!("{:.2} mm", limit - 0.02)).has_not("below-asked-height");
    at(&format!("{:.2} mm", limit + 0.02)).has("below-asked-height");
}

#[test]
fn every_finding_says_what_rule_it_follows_and_whose() {
    let mut crowded = asked().with_plate("margin = \"2 mm\"");
    crowded.size = "40 x 20 mm";
    crowded.line = "text = \"Given \u{1F514} by the ringers of the tower in thankful memory\"\nat_least = \"3 mm\"\n".to_owned();
    let crowded =
        crowded.with_screws(6, "flat", "3 in", &corners("2 mm")).on_face("30 x 18 mm", "10 mm", "");
    let job = crowded.job();
    assert!(job.findings.len() >= 8, "{:?}", crowded.codes());
    for judged in &job.findings {
        let finding = &judged.finding;
        assert!(!finding.rule.is_empty() && !finding.source.is_empty(), "{finding:?}");
        assert!(finding.message.ends_with('.'), "{}", finding.message);
        assert!(!finding.place.key.is_empty(), "{finding:?}");
    }
}
