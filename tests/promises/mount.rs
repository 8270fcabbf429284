//! Promises about the mount: screws, pins, holes, the face.

use ansata::layout::{FaceMaterial, FixingAsked, Head, Layout, Named, ScrewMetal};
use ansata::mount::{Behind, Bored, Fixing, fixing, hole_places, nearest_drills, plan, wood_row};
use ansata::plate::{ZoneKind, ZoneShape, outline};

use crate::plate::{asked, rows};

fn screw(gauge: u8, head: Head, behind: Behind) -> Fixing {
    let asked = FixingAsked::WoodScrew { gauge, head, length: 12.7, metal: None, cap: None };
    fixing(&asked, behind, 1.0).unwrap()
}

/// Diameter of the hole for the thread, or for a pin.
fn pilot(fixing: &Fixing) -> f64 {
    fixing.bore(Bored::Pilot).unwrap().diameter
}

/// The rule that it follows.
fn rule(fixing: &Fixing) -> &str {
    &fixing.bore(Bored::Pilot).unwrap().rule
}

fn number(cell: &str) -> f64 {
    cell.parse().unwrap()
}

#[test]
fn screws_have_the_shanks_and_heads_of_the_standard() {
    let table = rows(include_str!("../reference/asme_b18_6_1.csv"));
    assert_eq!(table.len(), 11);
    for row in table {
        let gauge: u8 = row[0].parse().unwrap();
        for head in [Head::Flat, Head::Oval] {
            let got = screw(gauge, head, Behind::Untold);
            assert!((got.shank - number(row[1]) * 25.4).abs() < 1e-9, "No. {gauge}");
            assert!((got.shank - number(row[2])).abs() < 0.0051, "No. {gauge}");
            assert!((got.head_diameter - number(row[3]) * 25.4).abs() < 1e-9, "No. {gauge}");
            // The countersink's top takes every head that the standard allows.
            assert!(got.head_diameter >= number(row[4]) * 25.4, "No. {gauge}");
            let sunk = got.countersink.unwrap();
            assert!((sunk.angle - 82.0).abs() < 1e-9);
            assert!((sunk.top - got.head_diameter).abs() < 1e-9);
        }
        let round = screw(gauge, Head::Round, Behind::Untold);
        assert!(round.countersink.is_none());
        assert!(round.source.contains("from memory"), "the round head's figure has no source");
    }
}

#[test]
fn holes_through_the_plate_are_the_standards_normal_fit() {
    let table = rows(include_str!("../reference/asme_b18_2_8.csv"));
    assert_eq!(table.len(), 9);
    for row in table {
        let got = screw(row[0].parse().unwrap(), Head::Round, Behind::Untold);
        assert!((got.clearance - number(row[2]) * 25.4).abs() < 1e-9, "No. {}", row[0]);
        assert!(got.clearance > number(row[1]) * 25.4 && got.clearance < number(row[3]) * 25.4);
        // The nearest drill is the metric one that the standard itself names.
        let metric = nearest_drills(got.clearance, &[]).metric;
        assert!(
            (metric.diameter - number(row[5])).abs() < 0.051,
            "No. {}: {}",
            row[0],
            metric.name
        );
    }
}

#[test]
fn every_screw_passes_its_hole_and_covers_it() {
    let mut last = 0.0;
    for gauge in 0..=10 {
        for (_, head) in Head::ALL {
            let got = screw(gauge, *head, Behind::Untold);
            assert!(pilot(&got) < got.root && got.root < got.shank);
            assert!(got.shank < got.clearance && got.clearance < got.head_diameter);
        }
        let clearance = screw(gauge, Head::Round, Behind::Untold).clearance;
        assert!(clearance > last, "No. {gauge}");
        last = clearance;
    }
}

#[test]
fn pilot_holes_are_those_of_the_wood_handbook() {
    let table = rows(include_str!("../reference/wood_handbook_lead_holes.csv"));
    assert_eq!(table.len(), 11);
    for row in table {
        let gauge: u8 = row[0].parse().unwrap();
        let pine = screw(gauge, Head::Round, Behind::of(Some(FaceMaterial::WhitePine)));
        let oak = screw(gauge, Head::Round, Behind::of(Some(FaceMaterial::WhiteOak)));
        for (got, cell) in [(pine.root, 1), (pilot(&pine), 2), (pilot(&oak), 3)] {
            assert!((got - number(row[cell])).abs() < 0.0051, "No. {gauge}: {got}");
        }
        assert!(rule(&pine).contains("70 %") && rule(&pine).contains("Wood Handbook"));
        assert!(rule(&oak).contains("90 %") && rule(&oak).contains("Wood Handbook"));
    }
}

#[test]
fn where_two_pilot_rules_disagree_the_pattern_can_say_so() {
    let walnut = screw(4, Head::Round, Behind::of(Some(FaceMaterial::BlackWalnut)));
    assert!(rule(&walnut).contains("would take 70 %"), "{}", rule(&walnut));
    let oak = screw(4, Head::Round, Behind::of(Some(FaceMaterial::WhiteOak)));
    assert!(!rule(&oak).contains("would take"));
    let unknown = screw(4, Head::Round, Behind::Untold);
    assert!(rule(&unknown).contains("no wood is told"));
    assert!((pilot(&unknown) - pilot(&oak)).abs() < 1e-12);
}

#[test]
fn pins_are_bored_for_by_the_weight_of_the_wood() {
    let pin = FixingAsked::Pin { shank: 1.4, head: 3.0, length: 15.0 };
    let pilot = |material| pilot(&fixing(&pin, Behind::of(Some(material)), 1.0).unwrap());
    // NDS, nails: 90 % over a specific gravity of 0.6, 75 % up to it.
    assert!((pilot(FaceMaterial::WhiteOak) - 1.26).abs() < 1e-9);
    assert!((pilot(FaceMaterial::WhiteAsh) - 1.05).abs() < 1e-9, "0.60 is not over 0.6");
    assert!((pilot(FaceMaterial::Mahogany) - 1.05).abs() < 1e-9);
    assert!((pilot(FaceMaterial::Hardwood) - 1.26).abs() < 1e-9);
    assert!((pilot(FaceMaterial::Softwood) - 1.05).abs() < 1e-9);
}

#[test]
fn a_pilot_says_what_it_takes_for_wood() {
    let pin = FixingAsked::Pin { shank: 1.4, head: 3.0, length: 15.0 };
    let screw = |metal| {
        let (gauge, head, length) = (4, Head::Round, 12.7);
        FixingAsked::WoodScrew { gauge, head, length, metal, cap: None }
    };
    let (untold, none) = ("since no wood is told", "since this is no solid wood");
    for asked in [pin, screw(None), screw(Some(ScrewMetal::Steel))] {
        for (material, says) in [
            (None, untold),
            (Some(FaceMaterial::Mdf), none),
            (Some(FaceMaterial::Metal), none),
            (Some(FaceMaterial::WhiteOak), ""),
            (Some(FaceMaterial::WhitePine), ""),
        ] {
            let fixing = fixing(&asked, Behind::of(material), 1.0).unwrap();
            for part in [untold, none] {
                assert_eq!(rule(&fixing).contains(part), part == says, "{}", rule(&fixing));
            }
        }
    }
    // Brass in board is bored for as any screw there, and no hardwood is spoken of.
    let brass = screw(Some(ScrewMetal::Brass));
    let board = fixing(&brass, Behind::NoWood, 1.0).unwrap();
    // 90 % of two thirds of 0.112 in.
    assert!((pilot(&board) - 0.9 * 0.112 * 25.4 * 2.0 / 3.0).abs() < 1e-9);
    assert!(board.work.is_empty() && !rule(&board).contains("brass"), "{}", rule(&board));
}

#[test]
fn woods_have_their_published_gravity() {
    for row in rows(include_str!("../reference/specific_gravity.csv")) {
        let (_, material) = *FaceMaterial::ALL.iter().find(|(word, _)| *word == row[0]).unwrap();
        let wood = wood_row(material).unwrap();
        assert!(wood.gravity.is_some_and(|got| (got - number(row[1])).abs() < 1e-9), "{}", row[0]);
        assert_eq!(wood.hardwood, row[2] == "yes", "{}", row[0]);
    }
}

fn mounted(plate: &str, mount: &str, face: &str) -> Layout {
    asked(&format!(
        "[plate]\n{plate}\nmaterial = \"brass\"\n[mount]\nfixing = {{ kind = \"wood screw\", \
         gauge = 2, head = \"round\", length = \"3/8 in\" }}\n{mount}\n{face}"
    ))
}

const PLAIN: &str = "size = \"120 x 80 mm\"";

#[test]
fn hole_sets_stand_where_they_are_asked_and_mirror_each_other() {
    let at = |holes: &str| hole_places(&mounted(PLAIN, holes, ""));
    assert_eq!(
        at("holes = \"four corners\"\ninset = \"8 mm\""),
        [(8.0, 8.0), (112.0, 8.0), (8.0, 72.0), (112.0, 72.0)]
    );
    assert_eq!(at("holes = \"two sides\"\ninset = \"6 mm\""), [(6.0, 40.0), (114.0, 40.0)]);
    assert_eq!(at("holes = \"top and bottom\"\ninset = \"6 mm\""), [(60.0, 6.0), (60.0, 74.0)]);
    assert_eq!(
        at(
            "holes = { points = [[\"90 mm\", \"50 mm\"], [\"30 mm\", \"50 mm\"], [\"60 mm\", \"9 mm\"]] }"
        ),
        [(60.0, 9.0), (30.0, 50.0), (90.0, 50.0)]
    );
}

#[test]
fn corner_holes_of_an_oval_are_as_far_from_its_edge_as_asked() {
    for size in ["120 x 80 mm", "80 x 120 mm", "90 x 90 mm", "200 x 30 mm"] {
        let plate = format!("size = \"{size}\"\nshape = \"oval\"");
        let layout = mounted(&plate, "holes = \"four corners\"\ninset = \"9 mm\"", "");
        let edge = outline(&layout.plate);
        let places = hole_places(&layout);
        assert_eq!(places.len(), 4);
        for (x, y) in &places {
            assert!((edge.depth_of(*x, *y) - 9.0).abs() < 1e-9, "{size}: {x}, {y}");
        }
        // Mirrored, not computed again.
        let (x, y) = places[0];
        let (right, bottom) = (layout.plate.width - x, layout.plate.height - y);
        assert_eq!(places, [(x, y), (right, y), (x, bottom), (right, bottom)]);
        assert!(places[0].0 < places[1].0 && places[0].1 < places[2].1, "{places:?}");
    }
}

#[test]
fn the_clear_zone_holds_the_head_and_the_white_round_it() {
    let mut layout = mounted(PLAIN, "holes = \"four corners\"", "");
    for (shop, white) in [(None, 2.0), (Some(0.0), 0.0), (Some(3.5), 3.5)] {
        layout.shop.text_to_head = shop;
        let plan = plan(&layout);
        assert_eq!(plan.holes.len(), 4);
        for (index, (hole, zone)) in plan.holes.iter().zip(plan.zones()).enumerate() {
            assert!((hole.clear_zone_radius - hole.head_diameter / 2.0 - white).abs() < 1e-12);
            assert!(hole.head_diameter > hole.clearance_diameter);
            assert_eq!(zone.kind, ZoneKind::Hole(index));
            let disc = ZoneShape::Disc { x: hole.x, y: hole.y, radius: hole.clear_zone_radius };
            assert_eq!(zone.shape, disc);
        }
    }
}

#[test]
fn a_plate_that_is_stuck_on_has_no_holes_and_no_zones() {
    let layout = asked(
        "[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n[mount]\nfixing = { kind = \"tape\" }\nholes = \"none\"\n",
    );
    let plan = plan(&layout);
    assert!(plan.fixing.is_none() && plan.holes.is_empty() && plan.zones().is_empty());
}

#[test]
fn holes_on_the_face_follow_the_plate() {
    let face = |place: &str| {
        let face = format!(
            "[face]\nsize = \"150 x 110 mm\"\nmaterial = \"black walnut\"\nthickness = \"19 mm\"\n{place}"
        );
        plan(&mounted(PLAIN, "holes = \"two sides\"\ninset = \"6 mm\"", &face))
    };
    let centred = face("");
    assert_eq!(centred.holes[0].face, Some((15.0 + 6.0, 15.0 + 40.0)));
    assert_eq!(centred.holes[1].face, Some((15.0 + 114.0, 15.0 + 40.0)));
    let low = face("place = { from_left = \"10 mm\", from_bottom = \"4 mm\" }");
    assert_eq!(low.holes[0].face, Some((16.0, 110.0 - 4.0 - 40.0)));
    let placed = low.face.unwrap();
    assert_eq!((placed.plate_x, placed.plate_y), (10.0, 26.0));
}

#[test]
fn only_what_goes_past_the_plate_holds_in_the_wood() {
    for (_, head) in Head::ALL {
        let got = screw(4, *head, Behind::Untold);
        assert!((got.penetration(1.5) - 11.2).abs() < 1e-12);
        assert!(got.penetration(20.0) < 0.0);
    }
}
