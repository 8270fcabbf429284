//! Promises about wood that moves behind a plate, and slots that let it.

use ansata::job::{Job, job};
use ansata::layout::{FaceMaterial, Layout, Named, Sawn, Shop, Source, Vocabulary, read};
use ansata::mount::{KELVIN, Movement, SlotWay, numbered, plan, wood_change, wood_row};
use ansata::plate::material_row;
use ansata::remedies::cures;

use crate::plate::{asked, rows};

/// A brass plate on a face, screwed with a round No. 4 unless the mount says otherwise.
fn layout(size: &str, mount: &str, face: &str) -> Layout {
    let fixing = if mount.contains("fixing") {
        ""
    } else {
        "fixing = { kind = \"wood screw\", gauge = 4, head = \"round\", length = \"1/2 in\" }\n"
    };
    asked(&format!(
        "[plate]\nsize = \"{size}\"\nmaterial = \"brass\"\nthickness = \"2 mm\"\n\
         [mount]\n{fixing}{mount}\n[face]\nsize = \"900 x 900 mm\"\nthickness = \"40 mm\"\n{face}\n"
    ))
}

fn moves(layout: &Layout) -> Movement {
    plan(layout).movement.expect("wood that moves")
}

/// Two holes this far apart across an upright grain, on a wood with these keys.
fn across(span: f64, face: &str) -> Movement {
    let mount = format!(
        "holes = {{ points = [[\"10 mm\", \"20 mm\"], [\"{} mm\", \"20 mm\"]] }}",
        span + 10.0
    );
    moves(&layout("800 x 40 mm", &mount, &format!("grain = \"vertical\"\n{face}")))
}

fn job_of(layout: &Layout) -> Job {
    job(layout).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"))
}

fn codes(job: &Job) -> Vec<&'static str> {
    job.findings.iter().map(|judged| judged.finding.code).collect()
}

#[test]
fn woods_have_their_published_coefficients() {
    let table = rows(include_str!("../reference/wood_movement.csv"));
    assert_eq!(table.len(), 13);
    for row in table {
        let (_, material) = *FaceMaterial::ALL.iter().find(|(word, _)| *word == row[0]).unwrap();
        let wood = wood_row(material).unwrap();
        for (sawn, cell) in [(Sawn::Quarter, row[1]), (Sawn::Flat, row[2])] {
            let got = wood.movement(sawn).unwrap();
            assert!((got.share - cell.parse::<f64>().unwrap()).abs() < 1e-12, "{}", row[0]);
            assert!(got.source.contains("13-2") && got.source.contains("13-5"), "{}", got.source);
        }
    }
}

#[test]
fn the_handbooks_own_board_moves_as_the_handbook_says() {
    // Wood Handbook (FPL-GTR-190) p. 13-17: white fir, flat-sawn, 232 mm (9.15 in), three
    // points up to 11 %: + 1.7 mm (+ 0.067 in).
    let got = across(232.0, "material = \"white fir\"\nmoisture = [\"8 %\", \"11 %\"]");
    assert!((got.wood_change - 1.7).abs() < 0.05, "{}", got.wood_change);
    assert!((got.wood_change / 25.4 - 0.067).abs() < 0.0005, "{}", got.wood_change);
    assert!((got.span - 232.0).abs() < 1e-9 && got.moisture_told);
}

#[test]
fn other_boards_move_by_the_same_equation() {
    // Worked by hand from table 13-5: width x coefficient x points of moisture.
    for (wood, span, dry, damp, change) in [
        ("black walnut", 200.0, 6, 10, 2.19),
        ("white oak", 200.0, 6, 10, 2.92),
        ("black walnut", 300.0, 6, 12, 4.93),
        ("red oak", 24.0 * 25.4, 6, 10, 0.354 * 25.4),
    ] {
        let face = format!("material = \"{wood}\"\nmoisture = [\"{dry} %\", \"{damp} %\"]");
        let got = across(span, &face);
        assert!((got.wood_change - change).abs() < 0.013, "{wood}: {}", got.wood_change);
    }
    // Left out, the range is 6 % to 10 %, and that it was assumed is known.
    let usual = across(200.0, "material = \"black walnut\"");
    assert!((usual.wood_change - 2.192).abs() < 1e-9 && !usual.moisture_told);
    let quarter = across(200.0, "material = \"black walnut\"\ncut = \"quarter sawn\"");
    assert!((quarter.wood_change - 1.52).abs() < 1e-9);
}

#[test]
fn the_plate_moves_too_and_the_two_are_added() {
    // Brass, 19.9e-6 a degree (Callister and Rethwisch, table B.6): 300 mm by 20 K 0.12 mm.
    let got = across(300.0, "material = \"black walnut\"");
    assert!((KELVIN - 20.0).abs() < 1e-12);
    assert!((got.plate_change.1 - 0.1194).abs() < 1e-9);
    assert!((got.wood_change - 3.288).abs() < 1e-9);
    assert!((got.difference - 3.288 - 0.1194).abs() < 1e-9);
    assert!((got.at_outer_hole - got.difference / 2.0).abs() < 1e-12);
    // A laminate is known only as a range; the greatest is reckoned with.
    let mut laminate = layout(
        "320 x 40 mm",
        "holes = \"two sides\"\ninset = \"10 mm\"",
        "material = \"teak\"\ngrain = \"vertical\"",
    );
    laminate.plate.material = ansata::layout::Material::Laminate;
    let (least, most) = moves(&laminate).plate_change;
    let (a, b) = material_row(laminate.plate.material).expansion;
    assert!((least - 300.0 * a * 20e-6).abs() < 1e-9 && (most - 300.0 * b * 20e-6).abs() < 1e-9);
    assert!(least < most);
}

#[test]
fn only_what_lies_across_the_grain_counts() {
    let on = |grain: &str, holes: &str| {
        let face = format!("material = \"teak\"\ngrain = \"{grain}\"");
        moves(&layout("220 x 120 mm", &format!("holes = \"{holes}\"\ninset = \"10 mm\""), &face))
    };
    assert!((on("vertical", "four corners").span - 200.0).abs() < 1e-9);
    assert!((on("horizontal", "four corners").span - 100.0).abs() < 1e-9);
    let none = on("vertical", "top and bottom");
    assert!(none.span.abs() < 1e-12 && none.difference.abs() < 1e-12 && none.slots.is_empty());
    assert!(!none.matters());
}

#[test]
fn nothing_moves_behind_board_stone_or_no_face() {
    let mount = "holes = \"four corners\"";
    for material in ["mdf", "plywood", "veneered board", "metal", "resin"] {
        let plan = plan(&layout("300 x 200 mm", mount, &format!("material = \"{material}\"")));
        assert!(plan.movement.is_none() && !plan.holes.is_empty(), "{material}");
    }
    let tape = layout(
        "300 x 200 mm",
        "fixing = { kind = \"tape\" }",
        "material = \"teak\"\ngrain = \"vertical\"",
    );
    assert!(plan(&tape).movement.is_none());
}

#[test]
fn a_caution_comes_only_past_what_a_fixing_gives() {
    // Black walnut, 0.00274 x 4 points, and brass, 0.000398: 0.011358 mm a mm across. A
    // round No. 4 floats 0.1285 in - 0.112 in = 0.4191 mm. So 0.5 mm are left at each of
    // two holes where half the movement is 0.9191 mm: 161.84 mm apart.
    let face = "material = \"black walnut\"\ngrain = \"vertical\"";
    let job = |span: f64, more: &str| {
        let mount = format!(
            "holes = {{ points = [[\"15 mm\", \"20 mm\"], [\"{} mm\", \"20 mm\"]] }}\n{more}",
            span + 15.0
        );
        job_of(&layout("200 x 40 mm", &mount, face))
    };
    assert!(!codes(&job(161.7, "")).contains(&"wood-movement"));
    let past = job(162.0, "");
    let finding = &past.findings.iter().find(|j| j.finding.code == "wood-movement").unwrap();
    let finding = &finding.finding;
    assert_eq!(finding.severity, ansata::finding::Severity::Caution);
    assert!((finding.measured.unwrap().value - (162.0 * 0.011358 / 2.0 - 0.4191)).abs() < 1e-6);
    assert!((finding.required.unwrap().value - 0.5).abs() < 1e-12);
    assert!(finding.source.contains("common practice, no source"), "{}", finding.source);
    // A shop that knows better says so.
    assert!(!codes(&job(162.0, "give = \"0.6 mm\"")).contains(&"wood-movement"));
    assert!(codes(&job(161.7, "give = \"0.4 mm\"")).contains(&"wood-movement"));
}

#[test]
fn countersunk_heads_float_nowhere_and_get_no_slots() {
    let mount = |more: &str| {
        format!(
            "fixing = {{ kind = \"wood screw\", gauge = 4, head = \"flat\", length = \"1/2 in\" }}\n\
             holes = \"two sides\"\ninset = \"15 mm\"\n{more}"
        )
    };
    let face = "material = \"black walnut\"\ngrain = \"vertical\"";
    // 100 mm apart: 0.568 mm at each hole, all of it past the float that is not there.
    let sunk = layout("130 x 40 mm", &mount(""), face);
    assert!(moves(&sunk).float.is_none());
    assert!((moves(&sunk).past_float() - 0.5679).abs() < 1e-4);
    assert!(codes(&job_of(&sunk)).contains(&"wood-movement"));
    let slotted = job_of(&layout("130 x 40 mm", &mount("slots = \"across the grain\""), face));
    assert!(slotted.mount.holes.iter().all(|hole| hole.slot.is_none()));
    assert!(codes(&slotted).contains(&"slots-not-made"));
    assert!(codes(&slotted).contains(&"wood-movement"), "it is not cured by what is not made");
}

#[test]
fn studs_and_standoffs_are_not_told_to_take_other_heads() {
    let face = "material = \"black walnut\"\ngrain = \"vertical\"";
    let stud = "kind = \"rear stud\", diameter = \"3 mm\", length = \"12 mm\"";
    let standoff = "kind = \"standoff\", cap = \"16 mm\", hole = \"10 mm\", off = \"15 mm\", \
                    gauge = 6, length = \"5/8 in\"";
    let sunk = "kind = \"wood screw\", gauge = 4, head = \"flat\", length = \"1/2 in\"";
    for (fixing, heads) in [(stud, false), (standoff, false), (sunk, true)] {
        let mount = format!(
            "fixing = {{ {fixing} }}\nholes = \"two sides\"\ninset = \"20 mm\"\nslots = \"across \
             the grain\""
        );
        let job = job_of(&layout("200 x 40 mm", &mount, face));
        for code in ["wood-movement", "slots-not-made"] {
            let found = job.findings.iter().find(|judged| judged.finding.code == code);
            let told = &found.unwrap().finding.message;
            assert_eq!(told.contains("round"), heads, "{told}");
            assert_eq!(told.contains("nearer together"), !heads, "{told}");
        }
    }
}

const CAPS: &str =
    "fixing = { kind = \"pin\", shank = \"3 mm\", head = \"12 mm\", length = \"16 mm\" }\n";

#[test]
fn slots_take_the_travel_under_heads_that_cover_them() {
    for (grain, holes) in [
        ("vertical", "holes = \"four corners\""),
        ("vertical", "holes = { along = \"top and bottom\", count = 3 }"),
        ("vertical", "holes = { along = \"top and bottom\", count = 6 }"),
        ("horizontal", "holes = { along = \"left and right\", count = 4 }"),
        ("vertical", "holes = { circle = \"190 mm\", count = 7 }"),
    ] {
        let inset = if holes.contains("circle") { "" } else { "inset = \"15 mm\"\n" };
        let mount = format!("{CAPS}{holes}\n{inset}slots = \"across the grain\"");
        let face = format!("material = \"black walnut\"\ngrain = \"{grain}\"");
        let job = job_of(&layout("260 x 240 mm", &mount, &face));
        assert!(!codes(&job).contains(&"wood-movement"), "{holes}");
        let movement = job.mount.movement.as_ref().unwrap();
        let at = |index: usize| {
            let hole = &job.mount.holes[index];
            if grain == "vertical" { hole.x } else { hole.y }
        };
        let tight = at(movement.tight[0]);
        for (index, hole) in job.mount.holes.iter().enumerate() {
            let travel = (at(index) - tight).abs() * movement.difference / movement.span;
            let Some(slot) = hole.slot else {
                assert!(travel <= movement.float.unwrap(), "{holes}: hole {}", index + 1);
                continue;
            };
            assert!(!movement.tight.contains(&index));
            assert!(slot.length >= hole.clearance_diameter + travel - 1e-9, "{holes}");
            assert!(slot.length < hole.clearance_diameter + travel + 0.1 + 1e-9, "{holes}");
            let way = if grain == "vertical" { SlotWay::Level } else { SlotWay::Upright };
            assert_eq!(slot.way, way);
            // The head at one end of the travel, the slot's other end under it.
            let moved = (slot.length - hole.clearance_diameter) / 2.0;
            let covers = hole.head_diameter / 2.0 >= moved + slot.length / 2.0 - 1e-9;
            assert_eq!(covers, !codes(&job).contains(&"slot-not-covered"), "{holes}");
            // Lettering keeps clear of the head wherever it comes to stand.
            let zone = hole.head_diameter / 2.0 + moved + 2.0;
            assert!(hole.clear_zone_radius >= zone - 1e-9);
        }
        assert!(job.mount.holes.iter().any(|hole| hole.slot.is_some()), "{holes}");
    }
}

#[test]
fn a_head_that_would_leave_its_slot_open_is_told_with_the_one_that_covers_it() {
    let face = "material = \"black walnut\"\ngrain = \"vertical\"";
    let mount = "holes = \"four corners\"\nslots = \"across the grain\"";
    let job = job_of(&layout("300 x 80 mm", mount, face));
    let judged = job.findings.iter().find(|j| j.finding.code == "slot-not-covered").unwrap();
    let finding = &judged.finding;
    // 284 mm apart: 3.226 mm at the far holes; a hole of 3.264 mm makes a slot of 6.5 mm,
    // which wants 2 x 6.5 - 3.264 = 9.736 mm of head.
    assert!((finding.required.unwrap().value - 9.7361).abs() < 1e-3, "{finding:?}");
    assert!((finding.measured.unwrap().value - job.mount.holes[0].head_diameter).abs() < 1e-12);
    assert!(finding.message.contains("9.7 mm"), "{}", finding.message);
    // Nothing is offered that would not work.
    let without = job_of(&layout("300 x 80 mm", "holes = \"four corners\"", face));
    assert!(codes(&without).contains(&"wood-movement"));
    assert!(cures(&without).iter().flat_map(|cures| &cures.remedies).all(|r| r.kind != "slots"));
}

#[test]
fn slots_are_offered_where_they_are_proved_to_cure() {
    let face = "material = \"black walnut\"\ngrain = \"vertical\"";
    let mount = format!("{CAPS}holes = \"four corners\"\ninset = \"15 mm\"");
    let job = job_of(&layout("300 x 100 mm", &mount, face));
    let finding = job.findings.iter().position(|j| j.finding.code == "wood-movement").unwrap();
    let all = cures(&job);
    let remedies = &all.iter().find(|cures| cures.finding == finding).unwrap().remedies;
    assert_eq!(remedies.len(), 2);
    for remedy in remedies {
        assert_eq!(remedy.kind, "slots");
        assert!(!codes(&job_of(&remedy.layout)).contains(&"wood-movement"));
        // The edits, typed into the file, give the layout that was proved.
        let mut keys = String::new();
        for edit in &remedy.edits {
            keys.push_str(&format!("{} = {}\n", edit.key.trim_start_matches("mount."), edit.value));
        }
        let holes = if keys.contains("holes") { "" } else { "holes = \"four corners\"\n" };
        let typed =
            layout("300 x 100 mm", &format!("{CAPS}{holes}inset = \"15 mm\"\n{keys}"), face);
        assert_eq!(plan(&typed), plan(&remedy.layout));
    }
    // The hole in the middle halves the slots.
    let longest = |layout: &Layout| {
        let holes = plan(layout).holes;
        holes.iter().filter_map(|hole| hole.slot).map(|s| s.length).fold(0.0, f64::max)
    };
    let (plain, middle) = (longest(&remedies[0].layout), longest(&remedies[1].layout));
    assert!((plain - 3.2 - 2.0 * (middle - 3.2)).abs() < 0.2, "{plain} {middle}");
}

#[test]
fn a_slot_changes_what_is_cut_and_so_the_proof_mark() {
    let face = "material = \"black walnut\"\ngrain = \"vertical\"";
    let with = |slots: &str| {
        let mount = format!("{CAPS}holes = \"two sides\"\ninset = \"20 mm\"\n{slots}");
        job_of(&layout("300 x 100 mm", &mount, face))
    };
    let (round, slotted) = (with(""), with("slots = \"across the grain\""));
    assert_eq!(with("slots = \"none\"").mark, round.mark);
    assert_ne!(slotted.mark, round.mark);
    assert_eq!(slotted.mount.holes.iter().filter(|hole| hole.slot.is_some()).count(), 1);
}

#[test]
fn the_grain_is_asked_for_only_where_it_could_matter() {
    let holes = "holes = \"four corners\"";
    let wide = job_of(&layout("300 x 80 mm", holes, "material = \"black walnut\""));
    let judged = wide.findings.iter().find(|j| j.finding.code == "grain-not-told").unwrap();
    assert_eq!(judged.finding.severity, ansata::finding::Severity::Note);
    assert!(judged.finding.message.contains("vertical"));
    for (size, material) in [("100 x 60 mm", "black walnut"), ("300 x 80 mm", "mdf")] {
        let job = job_of(&layout(size, holes, &format!("material = \"{material}\"")));
        assert!(!codes(&job).contains(&"grain-not-told"), "{size} {material}");
    }
}

#[test]
fn moisture_outside_the_coefficients_is_refused() {
    // Equation 13-2 holds from 6 % to 14 %.
    let told = |moisture: &str| {
        let text = format!(
            "ansata = 1\ntitle = \"Cup\"\n[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n\
             [[line]]\nlettering = \"Cinzel\"\ntext = \"Bells\"\n[face]\nsize = \"200 x 200 mm\"\n\
             material = \"teak\"\ngrain = \"vertical\"\nmoisture = {moisture}\n"
        );
        let source = Source { name: "cup.toml".to_owned(), text };
        let words = Vocabulary { lettering: vec!["Cinzel".to_owned()] };
        read(&source, Shop::default(), &words, &|_: &str| Err("none".to_owned()))
    };
    for moisture in ["[\"5 %\", \"10 %\"]", "[\"6 %\", \"15 %\"]", "[\"5.9 %\", \"14.1 %\"]"] {
        let mistakes = told(moisture).expect_err(moisture);
        let help = mistakes[0].help.as_deref().unwrap();
        assert!(help.contains("13-2") && help.contains("13-3") && help.contains("not offered"));
    }
    let grain = told("[\"6 %\", \"14 %\"]").unwrap().face.unwrap().grain.unwrap();
    assert_eq!(grain.moisture, Some((6.0, 14.0)));
    assert!((wood_change(100.0, 0.002, 6.0, 14.0) - 1.6).abs() < 1e-12);
}

#[test]
fn holes_are_counted_as_people_count() {
    assert_eq!(numbered(&[0]), "hole 1");
    assert_eq!(numbered(&[0, 2]), "holes 1 and 3");
    assert_eq!(numbered(&[0, 2, 3]), "holes 1, 3 and 4");
}
