//! Promises about sets of holes: even spreads, circles, and a set that is chosen.

use ansata::job::job;
use ansata::layout::{Edges, FirstHole, HolesAsked, Layout, Named, Shape, USUAL_INSET_MM};
use ansata::mount::{hole_places, metal_needed, plan};
use ansata::plate::outline;
use arbtest::arbitrary::{Result as Drawn, Unstructured};

use crate::plate::{any_outline, asked, between};

const SCREW: &str =
    "fixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n";

fn layout(plate: &str, mount: &str) -> Layout {
    asked(&format!("[plate]\nmaterial = \"brass\"\n{plate}\n[mount]\n{SCREW}{mount}\n"))
}

fn at(plate: &str, mount: &str) -> Vec<(f64, f64)> {
    hole_places(&layout(plate, mount))
}

#[test]
fn holes_along_edges_are_evenly_spread_between_the_corners() {
    let plate = "size = \"120 x 80 mm\"";
    let along = |edges: &str, count: u32| {
        at(plate, &format!("holes = {{ along = \"{edges}\", count = {count} }}"))
    };
    assert_eq!(along("top", 3), [(8.0, 8.0), (60.0, 8.0), (112.0, 8.0)]);
    assert_eq!(along("bottom", 2), [(8.0, 72.0), (112.0, 72.0)]);
    assert_eq!(along("left", 3), [(8.0, 8.0), (8.0, 40.0), (8.0, 72.0)]);
    assert_eq!(along("right", 2), [(112.0, 8.0), (112.0, 72.0)]);
    assert_eq!(along("top and bottom", 2), at(plate, "holes = \"four corners\""));
    assert_eq!(along("left and right", 2), at(plate, "holes = \"four corners\""));
    assert_eq!(along("top and bottom", 5).len(), 10);
    // An ansate plate counts from its tablet, an arch's sides from the springing down.
    let ansate = "size = \"150 x 60 mm\"\nshape = \"ansate\"";
    assert_eq!(
        at(ansate, "holes = { along = \"top\", count = 3 }"),
        [(23.0, 8.0), (75.0, 8.0), (127.0, 8.0)]
    );
    let arch = "size = \"100 x 158 mm\"\nshape = \"arch\"\nrise = \"50 mm\"";
    let sides = at(arch, "holes = { along = \"left and right\", count = 3 }");
    let heights: Vec<f64> = sides.iter().map(|place| place.1).collect();
    assert_eq!(heights, [50.0, 50.0, 100.0, 100.0, 150.0, 150.0]);
}

#[test]
fn a_usual_inset_is_the_same_whether_the_set_is_chosen_or_asked_for() {
    let plate = "size = \"120 x 80 mm\"";
    let usual = at(plate, "holes = \"four corners\"");
    assert_eq!(usual[0], (USUAL_INSET_MM, USUAL_INSET_MM));
    assert_eq!(at(plate, "holes = \"auto\""), usual);
}

#[test]
fn holes_on_a_circle_are_as_far_apart_as_the_tables_say() {
    // Chords of a circle of diameter 1 for equal spaces, as machinists' tables print them
    // (from memory; each is the sine of 180° / n).
    for (count, chord) in [
        (3, 0.866025),
        (5, 0.587785),
        (6, 0.5),
        (7, 0.433884),
        (8, 0.382683),
        (9, 0.342020),
        (12, 0.258819),
        (24, 0.130526),
    ] {
        for first in ["at the top", "beside the top"] {
            let places = at(
                "size = \"120 x 120 mm\"\nshape = \"circle\"",
                &format!("holes = {{ circle = \"100 mm\", count = {count}, first = \"{first}\" }}"),
            );
            assert_eq!(places.len(), count);
            for place in &places {
                let from = |other: &(f64, f64)| libm::hypot(place.0 - other.0, place.1 - other.1);
                assert!((from(&(60.0, 60.0)) - 50.0).abs() < 1e-12);
                let mut others: Vec<f64> = places.iter().map(from).collect();
                others.sort_by(f64::total_cmp);
                // Itself, then its two neighbours.
                assert!((others[1] - 100.0 * chord).abs() < 1e-4, "{count}: {others:?}");
                assert!((others[2] - others[1]).abs() < 1e-12);
            }
            let top = places.iter().filter(|p| (p.0 - 60.0).abs() < 1e-9 && p.1 < 60.0).count();
            assert_eq!(top, usize::from(first == "at the top"), "{count}");
        }
    }
}

/// A mount of any set that spreads over the plate by itself.
fn any_set(u: &mut Unstructured<'_>) -> Drawn<HolesAsked> {
    let count = u.int_in_range(2..=24)?;
    Ok(match u.int_in_range(0..=3u8)? {
        0 => HolesAsked::FourCorners,
        1 => {
            let edges = [Edges::TopAndBottom, Edges::LeftAndRight, Edges::Bottom];
            HolesAsked::Along { edges: *u.choose(&edges)?, count }
        }
        2 => {
            let first = *u.choose(&[FirstHole::AtTheTop, FirstHole::BesideTheTop])?;
            HolesAsked::Circle { diameter: between(u, 1.0, 150.0)?, count, first }
        }
        _ => HolesAsked::Auto(None),
    })
}

#[test]
fn every_set_on_every_outline_mirrors_itself_to_the_last_digit() {
    let mut base = layout("size = \"120 x 80 mm\"", "holes = \"two sides\"");
    arbtest::arbtest(|u| {
        let (plate, _) = any_outline(u)?;
        if matches!(plate.shape, Shape::Points(_)) {
            return Ok(());
        }
        base.plate = plate;
        base.mount.holes = any_set(u)?;
        base.mount.inset = between(u, 0.5, 30.0)?;
        let places = hole_places(&base);
        let width = base.plate.width;
        let same = |a: f64, b: f64| a.total_cmp(&b).is_eq();
        for (x, y) in &places {
            let mirrored = |other: &&(f64, f64)| {
                same(other.1, *y) && (same(width - x, other.0) || same(width - other.0, *x))
            };
            let found = places.iter().find(mirrored);
            assert!(found.is_some(), "{:?} {:?}: {places:?}", base.plate.shape, base.mount);
        }
        Ok(())
    });
}

#[test]
fn a_set_is_chosen_by_size_weight_and_thickness_and_says_why() {
    for (plate, set, why) in [
        // 90 x 40 x 1 mm of brass: 30.7 g.
        ("size = \"90 x 40 mm\"", "two sides", "31 g are small and light"),
        ("size = \"40 x 90 mm\"", "top and bottom", "small and light"),
        ("size = \"60 x 60 mm\"\nshape = \"circle\"", "two sides", "small and light"),
        ("size = \"120 x 80 mm\"", "four corners", "120 mm is longer than the 100 mm"),
        // 100 x 80 x 3 mm: 204.7 g.
        ("size = \"100 x 80 mm\"\nthickness = \"3 mm\"", "four corners", "205 g is more than"),
        ("size = \"150 x 24 mm\"", "two sides", "24 mm are narrow"),
        ("size = \"150 x 12 mm\"", "two sides", "no room for two rows"),
        // Corner holes 284 mm apart; 1.5 mm of metal lies flat over 225 mm, 2 mm over 300 mm.
        (
            "size = \"300 x 200 mm\"\nthickness = \"1.5 mm\"",
            "3 each, evenly along top and bottom",
            "284 mm between the corner holes are more than the 225 mm",
        ),
        ("size = \"300 x 200 mm\"\nthickness = \"2 mm\"", "four corners", "300 mm is longer"),
        ("size = \"200 x 500 mm\"", "5 each, evenly along left and right", "484 mm between"),
        ("size = \"160 x 160 mm\"\nshape = \"circle\"", "4 on a circle of 144 mm", "160 mm is"),
        // Round a circle of 384 mm a plate of 1 mm wants 1206.4 / 150: ten, being even.
        ("size = \"400 x 400 mm\"\nshape = \"circle\"", "10 on a circle of 384 mm", "lies flat"),
        ("size = \"160 x 110 mm\"\nshape = \"oval\"", "four corners", "160 mm is longer"),
        ("size = \"150 x 60 mm\"\nshape = \"ansate\"", "in the handles", "handles"),
    ] {
        let got = plan(&layout(plate, "holes = \"auto\"")).set;
        assert_eq!(got.told(), set, "{plate}");
        assert!(got.why.as_ref().unwrap().contains(why), "{plate}: {:?}", got.why);
    }
    let asked = plan(&layout("size = \"120 x 80 mm\"", "holes = \"four corners\"")).set;
    assert_eq!((asked.told().as_str(), asked.why), ("four corners", None));
}

#[test]
fn a_chosen_set_leaves_enough_metal_and_room_whatever_the_screw() {
    for shape in ["rectangle", "oval", "arch"] {
        for gauge in [0, 4, 10] {
            for head in ["flat", "round"] {
                for size in ["60 x 60 mm", "120 x 80 mm", "90 x 200 mm", "400 x 300 mm"] {
                    let layout = asked(&format!(
                        "[plate]\nmaterial = \"brass\"\nsize = \"{size}\"\nshape = \"{shape}\"\n\
                         thickness = \"3 mm\"\nbevel = \"2 mm\"\n[mount]\nholes = \"auto\"\nfixing = {{ \
                         kind = \"wood screw\", gauge = {gauge}, head = \"{head}\", length = \"1 in\" }}\n"
                    ));
                    let job = job(&layout).unwrap();
                    let edge = outline(&layout.plate);
                    let needed = metal_needed(job.mount.fixing.as_ref().unwrap(), &layout.plate);
                    assert!(!job.mount.holes.is_empty());
                    for hole in &job.mount.holes {
                        let depth = edge.depth_of(hole.x, hole.y);
                        assert!(depth >= needed - 1e-9, "{shape} {size} {gauge} {head}: {depth}");
                    }
                    for judged in &job.findings {
                        let code = judged.finding.code;
                        assert!(
                            !["little-metal-at-hole", "holes-close", "holes-overlap"]
                                .contains(&code),
                            "{shape} {size} {gauge} {head}: {code}"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn a_stated_inset_is_kept_by_a_chosen_set() {
    let plan = plan(&layout("size = \"120 x 80 mm\"", "holes = \"auto\"\ninset = \"12 mm\""));
    assert_eq!((plan.holes[0].x, plan.holes[0].y), (12.0, 12.0));
}

#[test]
fn the_wording_has_no_say_in_the_choice() {
    let mut one = layout("size = \"120 x 80 mm\"", "holes = \"auto\"");
    let before = plan(&one);
    one.lines[0].text = "Rung by the whole band on the evening of the new year".to_owned();
    one.lines[0].size = 3.0;
    assert_eq!(plan(&one), before);
}

#[test]
fn tape_and_stone_get_no_holes_by_themselves() {
    let tape = asked(
        "[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n[mount]\nfixing = { kind = \"tape\" }\nholes = \"auto\"\n",
    );
    let stone = asked(&format!(
        "[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n[mount]\n{SCREW}holes = \"auto\"\n[face]\nsize = \"300 x 200 mm\"\nthickness = \"30 mm\"\nmaterial = \"stone\"\n"
    ));
    for layout in [tape, stone] {
        let plan = plan(&layout);
        assert!(plan.holes.is_empty() && plan.set.set == HolesAsked::None);
        assert!(plan.set.why.is_some());
    }
}

#[test]
fn sets_by_word_are_told_as_they_are_asked() {
    for (edges, _) in Edges::ALL {
        let mount = format!("holes = {{ along = \"{edges}\", count = 4 }}");
        let plan = plan(&layout("size = \"200 x 150 mm\"", &mount));
        let each = if edges.contains("and") { " each," } else { "" };
        assert_eq!(plan.set.told(), format!("4{each} evenly along {edges}"));
    }
}
