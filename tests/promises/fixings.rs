//! Promises about fixings beside wood screws and pins, and about what faces take.

use ansata::finding::Severity;
use ansata::job::{Job, job};
use ansata::layout::{
    FaceMaterial, FixingAsked, Head, HoleFit, Into, Layout, MachineHead, Named, ScrewMetal, Thread,
};
use ansata::mount::{
    Behind, Bored, Depth, Fixing, Front, fixing, nearest_drills, plan, point, taped,
};
use ansata::plate::grams;
use ansata::remedies::{Cures, Remedy, cures};
use ansata::sheets::{artwork, pattern};

use crate::plate::{asked, rows};
use crate::sheets::{group, said, squeezed};

fn number(cell: &str) -> f64 {
    cell.parse().unwrap()
}

fn thread(word: &str) -> Thread {
    Thread::ALL.iter().find(|(known, _)| *known == word).unwrap().1
}

fn machine(thread: Thread, head: MachineHead, fit: HoleFit) -> Option<Fixing> {
    let asked = FixingAsked::MachineScrew { thread, head, length: 20.0, into: Into::Nut, fit };
    fixing(&asked, Behind::Untold, 2.0)
}

#[test]
fn machine_screws_have_the_holes_of_iso_273() {
    let table = rows(include_str!("../reference/iso_273.csv"));
    assert_eq!(table.len(), Thread::ALL.len());
    for row in table {
        let hole = |fit| machine(thread(row[0]), MachineHead::Countersunk, fit).unwrap().clearance;
        let got = [hole(HoleFit::Fine), hole(HoleFit::Medium), hole(HoleFit::Coarse)];
        for (got, cell) in got.iter().zip(&row[1..]) {
            assert!((got - number(cell)).abs() < 1e-9, "{}: {got}", row[0]);
        }
        assert!(got[0] < got[1] && got[1] < got[2], "{}", row[0]);
    }
}

#[test]
fn machine_screws_have_the_heads_of_their_standards() {
    let table = rows(include_str!("../reference/iso_heads.csv"));
    assert_eq!(table.len(), Thread::ALL.len());
    for row in table {
        let screw = |head| machine(thread(row[0]), head, HoleFit::Medium);
        let sunk = screw(MachineHead::Countersunk).unwrap();
        assert_eq!((sunk.shank, sunk.head_diameter), (number(row[1]), number(row[2])));
        let cone = sunk.countersink.unwrap();
        // The countersink takes the sharp head; its depth is the standard's height.
        assert!(cone.top >= number(row[2]) && (cone.angle - 90.0).abs() < 1e-9, "{}", row[0]);
        assert!((cone.depth - number(row[3])).abs() < 1e-9, "{}: {}", row[0], cone.depth);
        let pan = screw(MachineHead::Pan).unwrap();
        assert_eq!((pan.head_diameter, pan.countersink), (number(row[4]), None));
        let dome = screw(MachineHead::Dome).map(|dome| dome.head_diameter);
        assert_eq!(dome, row[5].parse().ok(), "{}", row[0]);
    }
}

#[test]
fn number_drills_are_those_that_a_standard_names() {
    let table = rows(include_str!("../reference/number_drills.csv"));
    assert_eq!(table.len(), 20);
    for row in table {
        let near = nearest_drills(number(row[1]) * 25.4, &[]).number.unwrap();
        assert_eq!(near.name, row[0]);
        assert!(near.error(number(row[1]) * 25.4).abs() < 1e-9, "{}", row[0]);
    }
}

#[test]
fn a_thread_is_drilled_for_by_its_pitch() {
    // ISO 261, coarse, from memory: M3 × 0.5, M4 × 0.7, M5 × 0.8, M6 × 1.
    for (word, drill) in [("M3", 2.5), ("M4", 3.3), ("M5", 4.2), ("M6", 5.0)] {
        let (thread, head, fit) = (thread(word), MachineHead::Pan, HoleFit::Medium);
        let asked =
            FixingAsked::MachineScrew { thread, head, length: 12.0, into: Into::Tapped, fit };
        let tapped = fixing(&asked, Behind::Untold, 2.0).unwrap();
        let bore = tapped.bore(Bored::Tap).unwrap();
        assert!((bore.diameter - drill).abs() < 1e-9, "{word}: {}", bore.diameter);
        assert!(bore.rule.contains("ISO 261") && bore.rule.contains("from memory"));
        assert!(bore.stop().unwrap() > tapped.penetration(2.0) + point(bore.diameter));
    }
}

#[test]
fn a_brass_screw_in_hardwood_has_the_whole_root_and_a_steel_one_before_it() {
    let screw = |metal, material| {
        let asked =
            FixingAsked::WoodScrew { gauge: 4, head: Head::Round, length: 12.7, metal, cap: None };
        fixing(&asked, Behind::of(Some(material)), 1.5).unwrap()
    };
    let brass = screw(Some(ScrewMetal::Brass), FaceMaterial::WhiteOak);
    let steel = screw(Some(ScrewMetal::Steel), FaceMaterial::WhiteOak);
    let pilot = |screw: &Fixing| screw.bore(Bored::Pilot).unwrap().diameter;
    // Two thirds of 0.112 in = 1.8965 mm.
    assert!((pilot(&brass) - 0.112 * 25.4 * 2.0 / 3.0).abs() < 1e-9);
    assert!((pilot(&steel) - 0.9 * pilot(&brass)).abs() < 1e-9);
    assert!(brass.work[0].contains("steel screw of the same size first"));
    assert!(brass.work[0].contains("wax") && brass.work[0].contains("by hand"));
    assert!(steel.work.is_empty());
    let pine = screw(Some(ScrewMetal::Brass), FaceMaterial::WhitePine);
    assert!(pine.work.is_empty() && pilot(&pine) < pilot(&steel));
}

const FACE: &str = "[face]\nsize = \"200 x 140 mm\"\nthickness = \"20 mm\"\nmaterial = ";

fn mounted(fixing: &str, thickness: &str, material: &str) -> Layout {
    let holes =
        if fixing.contains("tape") { "" } else { "holes = \"four corners\"\ninset = \"14 mm\"" };
    asked(&format!(
        "[plate]\nsize = \"120 x 80 mm\"\nthickness = \"{thickness}\"\nmaterial = \"brass\"\n\
         [mount]\nfixing = {{ {fixing} }}\n{holes}\n{FACE}\"{material}\"\n"
    ))
}

fn ran(fixing: &str, thickness: &str, material: &str) -> Job {
    job(&mounted(fixing, thickness, material)).unwrap()
}

fn found(job: &Job) -> Vec<(&'static str, Severity)> {
    let mount = job.findings.iter().filter(|judged| judged.finding.place.key == "mount.fixing");
    mount.map(|judged| (judged.finding.code, judged.finding.severity)).collect()
}

const WOOD_SCREW: &str = "kind = \"wood screw\", gauge = 4, head = \"round\", length = \"5/8 in\"";
const CAPPED: &str =
    "kind = \"wood screw\", gauge = 4, head = \"flat\", length = \"5/8 in\", cap = \"12 mm\"";
const INSERT: &str = "kind = \"machine screw\", thread = \"M4\", head = \"pan\", length = \"12 mm\", \
                      into = \"insert\", insert_bore = \"5.5 mm\", insert_depth = \"8 mm\"";
const NUT: &str = "kind = \"machine screw\", thread = \"M4\", head = \"dome\", length = \"30 mm\", into = \"nut\"";
const TAPPED: &str = "kind = \"machine screw\", thread = \"M3\", head = \"countersunk\", length = \
                      \"10 mm\", into = \"tapped hole\", fit = \"fine\"";
const PIN: &str = "kind = \"pin\", shank = \"1.3 mm\", head = \"3 mm\", length = \"13 mm\"";
const STUD: &str = "kind = \"rear stud\", diameter = \"3 mm\", length = \"12 mm\"";
const STANDOFF: &str = "kind = \"standoff\", cap = \"16 mm\", hole = \"10 mm\", off = \"15 mm\", \
                        gauge = 6, length = \"5/8 in\"";
const TAPE: &str = "kind = \"tape\", width = \"12 mm\", strips = 3";
const ALL: [(&str, &str); 9] = [
    (WOOD_SCREW, "black walnut"),
    (CAPPED, "black walnut"),
    (INSERT, "white oak"),
    (NUT, "white oak"),
    (TAPPED, "metal"),
    (PIN, "beech"),
    (STUD, "beech"),
    (STANDOFF, "teak"),
    (TAPE, "stone"),
];

#[test]
fn every_kind_goes_through_a_whole_job_without_a_stop() {
    for (fixing, material) in ALL {
        let job = ran(fixing, "2 mm", material);
        assert_eq!(found(&job), [], "{fixing}");
        assert!(!job.stopped(), "{fixing}: {:#?}", job.findings);
        for hole in &job.mount.holes {
            let shown = job.mount.fixing.as_ref().unwrap().front != Front::Nothing;
            assert_eq!(hole.through, shown, "{fixing}");
            assert!(hole.clear_zone_radius >= hole.head_diameter / 2.0, "{fixing}");
            assert!(!hole.through || hole.head_diameter > hole.clearance_diameter, "{fixing}");
        }
    }
}

#[test]
fn a_cap_counts_as_the_head_and_leaves_the_countersink_alone() {
    let hole = |fixing| plan(&mounted(fixing, "2 mm", "black walnut")).holes[0];
    assert!((hole(CAPPED).head_diameter - 12.0).abs() < 1e-12);
    assert!((hole(CAPPED).clear_zone_radius - 8.0).abs() < 1e-12);
    let capped = plan(&mounted(CAPPED, "2 mm", "black walnut")).fixing.unwrap();
    // 0.225 in, the sharp diameter of a No. 4.
    assert!((capped.countersink.unwrap().top - 5.715).abs() < 1e-9);
    assert_eq!(capped.front, Front::Plain);
}

#[test]
fn studs_leave_the_front_whole() {
    let job = ran(STUD, "2 mm", "beech");
    assert_eq!(job.mount.holes.len(), 4);
    assert!(job.mount.zones().is_empty() && job.zones.is_empty());
    let fixing = job.mount.fixing.as_ref().unwrap();
    let bore = fixing.bore(Bored::Stud).unwrap();
    assert_eq!((bore.diameter, bore.depth), (3.4, Depth::FullWidth(13.0)));
    assert!(bore.rule.contains("common practice"));
    assert!((fixing.penetration(2.0) - 12.0).abs() < 1e-12);
}

#[test]
fn lengths_count_from_where_the_trade_counts() {
    let reach = |text: &str| plan(&mounted(text, "2 mm", "teak")).fixing.unwrap().penetration(2.0);
    // 5/8 in = 15.875 mm; the plate is 2 mm.
    assert!((reach(WOOD_SCREW) - 13.875).abs() < 1e-9);
    assert!((reach(CAPPED) - 13.875).abs() < 1e-9);
    assert!((reach(INSERT) - 10.0).abs() < 1e-9);
    assert!((reach(STANDOFF) - 15.875).abs() < 1e-9, "its screw starts at the face");
}

#[test]
fn what_a_face_does_not_take_is_a_stop() {
    let stop = ("fixing-unsuited", Severity::Stop);
    let care = ("fixing-needs-care", Severity::Caution);
    for (fixing, _) in &ALL[..8] {
        assert!(found(&ran(fixing, "2 mm", "stone")).contains(&stop), "{fixing}");
    }
    assert!(found(&ran(WOOD_SCREW, "2 mm", "metal")).contains(&stop));
    assert!(found(&ran(TAPPED, "2 mm", "white oak")).contains(&stop));
    assert!(found(&ran(PIN, "2 mm", "resin")).contains(&care));
    assert!(found(&ran(WOOD_SCREW, "2 mm", "hollow")).contains(&care));
}

/// A layout whose face is so thick, mm.
fn thick(fixing: &str, material: &str, thickness: f64) -> Job {
    let mut layout = mounted(fixing, "2 mm", material);
    layout.face.as_mut().unwrap().thickness = Some(thickness);
    job(&layout).unwrap()
}

#[test]
fn a_screw_past_a_skin_harms_nothing_and_is_held_by_the_skin_alone() {
    let care = ("fixing-needs-care", Severity::Caution);
    let little = ("little-hold", Severity::Caution);
    // Three shanks of a No. 4, 0.112 in: 8.53 mm; it reaches 13.875 mm.
    assert_eq!(found(&thick(WOOD_SCREW, "hollow", 2.0)), [care, little]);
    assert_eq!(found(&thick(WOOD_SCREW, "hollow", 8.5)), [care, little]);
    assert_eq!(found(&thick(WOOD_SCREW, "hollow", 8.6)), [care]);
    // A stud's hole is drilled past it as well.
    assert_eq!(found(&thick(STUD, "hollow", 2.0)), [care, little]);
}

#[test]
fn a_thread_is_held_by_what_it_is_cut_in_and_no_more() {
    let little = ("little-hold", Severity::Caution);
    // M3 through 2 mm reaches 8 mm, and asks for 3 mm of thread.
    assert!(found(&thick(TAPPED, "metal", 1.0)).contains(&little));
    assert!(found(&thick(TAPPED, "metal", 2.9)).contains(&little));
    assert!(!found(&thick(TAPPED, "metal", 3.0)).contains(&little));
    // M4 in an insert: 4 mm of it.
    let insert = |depth: &str| ran(&INSERT.replace("\"8 mm", depth), "2 mm", "white oak");
    assert_eq!(found(&insert("\"2 mm")), [little]);
    assert_eq!(found(&insert("\"4 mm")), []);
}

#[test]
fn a_nut_needs_a_screw_as_long_as_all_that_it_holds() {
    // M4 from memory: washer ISO 7089 0.8, nut ISO 4032 3.2; with 2 and 20 mm: 26 mm.
    let with = |length: &str| ran(&NUT.replace("30 mm", length), "2 mm", "white oak");
    assert_eq!(found(&with("25.9 mm")), [("too-short-for-nut", Severity::Stop)]);
    assert_eq!(found(&with("26 mm")), []);
}

#[test]
fn a_screw_far_out_behind_its_nut_is_a_caution() {
    let at = |length: &str| thick(&NUT.replace("M4", "M3").replace("30 mm", length), "metal", 10.0);
    let out = ("screw-out-behind", Severity::Caution);
    // M3 from memory: washer ISO 7089 0.5, nut ISO 4032 2.4; with 2 and 10 mm 14.9 mm, and
    // three pitches of 0.5 mm and 5 mm more: 21.4 mm.
    assert_eq!(found(&at("60 mm")), [out]);
    assert_eq!(found(&at("21.5 mm")), [out]);
    assert_eq!(found(&at("21.4 mm")), []);
    let shorter = [("shorter-fixing", "mount.fixing.length = \"21 mm\"".to_owned())];
    assert_eq!(offered(&at("60 mm"), "screw-out-behind"), shorter);
}

#[test]
fn nothing_comes_out_behind() {
    let insert = |depth: &str| ran(&INSERT.replace("8 mm", depth), "2 mm", "white oak");
    assert!(found(&insert("21 mm")).contains(&("insert-too-long", Severity::Stop)));
    // 18.5 mm and the point of a 5.5 mm drill, 1.65 mm, are more than 20 mm.
    assert_eq!(found(&insert("18.5 mm")), [("hole-through-face", Severity::Stop)]);
    assert_eq!(found(&insert("18.3 mm")), []);
    let stud = |length: &str| ran(&STUD.replace("12 mm", length), "2 mm", "beech");
    assert!(found(&stud("17.1 mm")).contains(&("screw-through-wood", Severity::Stop)));
    assert_eq!(found(&stud("17 mm")), []);
    let tapped = ran(&TAPPED.replace("10 mm", "25 mm"), "2 mm", "metal");
    assert_eq!(found(&tapped), [("screw-out-behind", Severity::Caution)]);
    let bore = tapped.mount.fixing.as_ref().unwrap().bore(Bored::Tap).unwrap();
    assert_eq!(bore.depth, Depth::Through);
}

#[test]
fn too_deep_a_cone_names_the_screw_whose_cone_fits() {
    let said = |fixing: &str| {
        let job = ran(fixing, "1.5 mm", "metal");
        let cone = job.findings.iter().find(|judged| judged.finding.code == "cone-too-deep");
        cone.unwrap().finding.message.clone()
    };
    let metric = said(TAPPED);
    assert!(metric.contains("at least 1.7 mm") && metric.contains("pan head"), "{metric}");
    assert!(metric.contains("an M2.5 screw"), "{metric}");
    let inch = said(&CAPPED.replace("gauge = 4", "gauge = 8"));
    assert!(inch.contains("round head") && inch.contains("a No. 3 screw"), "{inch}");
}

#[test]
fn tape_covers_what_is_asked_or_what_the_back_offers() {
    let on = |tape: &str| taped(&mounted(tape, "2 mm", "stone")).unwrap();
    // 3 mm in from the edge of 120 × 80 mm: 114 × 74 mm.
    let open = on("kind = \"tape\"");
    assert!((open.area - 114.0 * 74.0).abs() < 1e-6 && open.strips.is_none());
    let strips = on(TAPE);
    assert!((strips.area - 3.0 * 12.0 * 114.0).abs() < 1e-6);
    // Brass, 8.5 g/cm³ in round figures: 120 × 80 × 2 mm weigh about 163 g.
    assert!((strips.grams - 163.0).abs() < 3.0, "{}", strips.grams);
    assert!((strips.grams - grams(&mounted(TAPE, "2 mm", "stone").plate)).abs() < 1e-12);
    assert!((strips.load() - strips.grams / 41.04).abs() < 1e-9);
    // 74 mm hold six strips of 12 mm, not seven.
    let many = |count: &str| found(&ran(&TAPE.replace("= 3", count), "2 mm", "stone"));
    assert_eq!(many("= 6"), []);
    assert_eq!(many("= 7"), [("tape-too-wide", Severity::Stop)]);
}

fn offered(job: &Job, code: &str) -> Vec<(&'static str, String)> {
    let all = cures(job);
    let of = |cured: &&Cures| job.findings[cured.finding].finding.code == code;
    let remedies = all.iter().find(of).map(|cured| cured.remedies.clone()).unwrap_or_default();
    for remedy in &remedies {
        assert!(!found(&ansata::job::job(&remedy.layout).unwrap()).iter().any(|f| f.0 == code));
    }
    let edit = |remedy: &Remedy| format!("{} = {}", remedy.edits[0].key, remedy.edits[0].value);
    remedies.iter().map(|remedy| (remedy.kind, edit(remedy))).collect()
}

#[test]
fn a_fixing_that_works_is_offered_and_proved() {
    let cone = ran(&CAPPED.replace("gauge = 4", "gauge = 6"), "1.5 mm", "black walnut");
    // No. 6: (0.279 − 0.138) in / (2 tan 41°) = 2.06 mm; No. 3 has 1.46 mm.
    assert_eq!(
        offered(&cone, "cone-too-deep"),
        [
            ("other-head", "mount.fixing.head = \"round\"".to_owned()),
            ("smaller-screw", "mount.fixing.gauge = 3".to_owned()),
            ("thicker-plate", "plate.thickness = \"2.1 mm\"".to_owned()),
        ]
    );
    // Of 20 mm 17 may be gone into; with 2 mm of plate 19 mm: 3/4 in is 19.05.
    let long = ran(&WOOD_SCREW.replace("5/8", "1"), "2 mm", "black walnut");
    let shorter = [("shorter-fixing", "mount.fixing.length = \"5/8 in\"".to_owned())];
    assert_eq!(offered(&long, "screw-through-wood"), shorter);
    let short = ran(&NUT.replace("30 mm", "20 mm"), "2 mm", "white oak");
    let longer = [("longer-fixing", "mount.fixing.length = \"26 mm\"".to_owned())];
    assert_eq!(offered(&short, "too-short-for-nut"), longer);
}

#[test]
fn the_sheets_speak_of_the_fixing_that_is_asked_for() {
    let text = |fixing: &str, material: &str| {
        squeezed(&said(&pattern(&ran(fixing, "2 mm", material)).drawing))
    };
    let speaks = |text: &str, parts: &[&str]| {
        for part in parts {
            assert!(text.contains(&squeezed(part)), "{part}\n{text}");
        }
    };
    let stud = text(STUD, "beech");
    speaks(
        &stud,
        &["BACK of the plate (mirrored)", "centre mark only", "the studs mark the paper"],
    );
    assert!(!stud.contains(&squeezed("Drill the holes from the front")));
    assert!(!stud.contains(&squeezed("transfer punch")));
    // 13 mm, and 3.4 / (2 tan 59°) = 1.02 mm of drill point.
    speaks(&stud, &["13 mm (33/64 in) at full width", "14.02 mm"]);
    let nut = text(NUT, "white oak");
    // 2 + 20 + 0.8 + 3.2 mm.
    speaks(&nut, &["right through", "26 mm thick together", "Washer and nut go behind"]);
    speaks(&text(TAPPED, "metal"), &["for an M3 \u{d7} 0.5 tap", "Tap drill in the metal"]);
    speaks(&text(INSERT, "mdf"), &["Hole for the insert", "Board splits"]);
    let brass = WOOD_SCREW.to_owned() + ", metal = \"brass\"";
    speaks(&text(&brass, "white oak"), &["steel screw of the same size first", "or No. 48"]);
    let tape = text(TAPE, "stone");
    speaks(&tape, &["3 strips 12 mm wide", "41.0 cm\u{b2}", "No strength is promised"]);
}

#[test]
fn the_back_of_a_lopsided_plate_is_its_mirror_image() {
    let text = format!(
        "[plate]\nshape = \"points\"\npoints = [[\"0 mm\", \"0 mm\"], [\"100 mm\", \"0 mm\"], \
         [\"60 mm\", \"80 mm\"], [\"0 mm\", \"80 mm\"]]\nmaterial = \"brass\"\n[mount]\nfixing = {{ \
         {STUD} }}\nholes = {{ points = [[\"20 mm\", \"30 mm\"], [\"70 mm\", \"20 mm\"]] }}\n"
    );
    let job = job(&asked(&text)).unwrap();
    let text = squeezed(&said(&pattern(&job).drawing));
    // Hole 1 is the upper one: 70 mm from the left in front, 30 mm seen from the back.
    assert!(text.contains(&squeezed("1 30 mm (1 3/16 in) 20 mm")), "{text}");
    assert!(text.contains(&squeezed("2 80 mm (3 5/32 in) 30 mm")), "{text}");
}

#[test]
fn no_machine_cuts_a_hole_for_a_stud() {
    let holes = |fixing: &str, material: &str| {
        let sheet = artwork(&ran(fixing, "2 mm", material)).whole.sheet;
        group(&sheet.drawing.pages[0].items, "holes").is_some()
    };
    assert!(holes(WOOD_SCREW, "beech"));
    assert!(!holes(STUD, "beech"));
}
