//! Promises about holes that are already in a face.

use ansata::finding::Severity;
use ansata::job::{Job, job};
use ansata::layout::{FaceMaterial, Layout, Named};
use ansata::mount::{nearest_place, old_holes, plan};
use ansata::remedies::cures;
use ansata::sheets::pattern;

use crate::plate::asked;
use crate::sheets::said;

const SCREW: &str =
    "fixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }";

/// A plate of 100 x 60 mm in the middle of a face of 150 x 110 mm, its four holes 6 mm in:
/// on the face at 31 and 119 across, 31 and 79 down.
fn over(mount: &str, holes: &[(f64, f64, f64)], more: &str) -> Layout {
    let told: Vec<String> = holes
        .iter()
        .map(|(x, y, wide)| {
            format!("{{ at = [\"{x} mm\", \"{y} mm\"], diameter = \"{wide} mm\"{more} }}")
        })
        .collect();
    asked(&format!(
        "[plate]\nsize = \"100 x 60 mm\"\nmaterial = \"brass\"\n[mount]\n{mount}\n[face]\nsize = \
         \"150 x 110 mm\"\nmaterial = \"white oak\"\nthickness = \"19 mm\"\nold_holes = [{}]\n",
        told.join(", ")
    ))
}

fn screwed() -> String {
    format!("{SCREW}\nholes = \"four corners\"\ninset = \"6 mm\"")
}

fn found(job: &Job, code: &str) -> Option<(Severity, String)> {
    let found = job.findings.iter().find(|judged| judged.finding.code == code)?;
    Some((found.finding.severity, found.finding.message.clone()))
}

#[test]
fn what_the_plate_hides_is_told_by_how_much_and_what_shows_too() {
    // The plate's left edge is 25 mm from the face's.
    let cover = |x: f64, wide: f64| {
        let layout = over("", &[(x, 55.0, wide)], "");
        (old_holes(&layout, &plan(&layout))[0].cover, job(&layout).unwrap())
    };
    let (hidden, quiet) = cover(28.0, 4.0);
    assert!((hidden - 1.0).abs() < 1e-9);
    assert!(quiet.findings.iter().all(|judged| !judged.finding.code.starts_with("old-hole")));
    let (thin, told) = cover(27.5, 4.0);
    assert!((thin - 0.5).abs() < 1e-9);
    assert!(found(&told, "old-hole-thin-cover").unwrap().1.contains("0.50 mm only"));
    let (shows, told) = cover(26.0, 4.0);
    assert!((shows + 1.0).abs() < 1e-9);
    assert!(found(&told, "old-hole-shows").unwrap().1.contains("shows by 1.00 mm"));
    let (_, told) = cover(20.0, 4.0);
    assert!(found(&told, "old-hole-shows").unwrap().1.contains("shows whole"));
    assert!(!told.stopped(), "what shows is no reason not to make it");
}

#[test]
fn a_new_hole_on_an_old_one_uses_it_again_if_it_still_holds() {
    let at = |off: f64, wide: f64, more: &str| {
        job(&over(&screwed(), &[(31.0 + off, 31.0, wide)], more)).unwrap()
    };
    // The thread's root of a No. 2 is 2/3 of 2.184 mm: 1.456 mm.
    let again = at(0.3, 1.4, "");
    assert_eq!(found(&again, "old-hole-reused").unwrap().0, Severity::Note);
    assert!(found(&again, "old-hole-near").is_none());
    assert_eq!(found(&at(0.1, 1.5, ""), "old-hole-too-large").unwrap().0, Severity::Caution);
    // As wide as the shank, nothing holds.
    let lost = at(0.1, 2.2, "");
    assert_eq!(found(&lost, "old-hole-too-large").unwrap().0, Severity::Stop);
    assert!(found(&lost, "old-hole-too-large").unwrap().1.contains("Plug it first"));
    // In a plug it is drilled anew.
    let plugged = at(0.1, 2.2, ", plugged = true");
    assert!(found(&plugged, "old-hole-reused").unwrap().1.contains("anew in the plug"));
    // A little further off it is another hole.
    assert_eq!(found(&at(0.4, 1.4, ""), "old-hole-near").unwrap().0, Severity::Stop);
}

#[test]
fn a_new_hole_too_near_an_old_one_is_a_stop_with_the_nearest_shift_that_any_search_finds() {
    let old = [(33.0, 32.0, 3.0), (117.5, 31.0, 2.0), (120.0, 80.5, 2.5), (31.0, 79.0, 1.2)];
    let layout = over(&screwed(), &old, "");
    let told = job(&layout).unwrap();
    assert!(told.stopped());
    let all = cures(&told);
    let of = all.iter().find(|cures| told.findings[cures.finding].finding.code == "old-hole-near");
    let remedies = &of.expect("remedies").remedies;
    let shift = remedies.iter().find(|remedy| remedy.kind == "other-place").expect("a shift");
    let after = job(&shift.layout).unwrap();
    assert!(found(&after, "old-hole-near").is_none() && !after.stopped());
    let plug = remedies.iter().find(|remedy| remedy.kind == "plug-old-holes").expect("plugs");
    assert!(!job(&plug.layout).unwrap().stopped());
    // The same by a search of its own: the bore is the shank's, 0.086 in; as much wood
    // between, at least 1.5 mm.
    let bore = 0.086 * 25.4;
    let needed = f64::max(bore, 1.5);
    // An old hole is used again as far as the thread's root.
    let root = bore * 2.0 / 3.0;
    let new = [(31.0, 31.0), (119.0, 31.0), (31.0, 79.0), (119.0, 79.0)];
    let clear = |dx: f64, dy: f64| {
        new.iter().all(|(x, y)| {
            old.iter().all(|(a, b, wide)| {
                let far = libm::hypot(x + dx - a, y + dy - b);
                (far <= 0.3 && *wide <= root) || far - (wide + bore) / 2.0 >= needed - 1e-9
            })
        })
    };
    let hides = |dx: f64, dy: f64| {
        old.iter().all(|(a, b, wide)| {
            let (x, y, r) = (a - 25.0 - dx, b - 25.0 - dy, wide / 2.0);
            x >= r && x <= 100.0 - r && y >= r && y <= 60.0 - r
        })
    };
    let by = nearest_place(&layout, &plan(&layout)).unwrap().by;
    assert!(clear(by.0, by.1), "{by:?} is not clear");
    let far = libm::hypot(by.0, by.1);
    for across in -300..=300 {
        for down in -300..=300 {
            let (dx, dy) = (f64::from(across) / 10.0, f64::from(down) / 10.0);
            let nearer = libm::hypot(dx, dy) < far - 1e-6;
            assert!(!nearer || !clear(dx, dy) || !hides(dx, dy), "{dx}, {dy} is nearer");
        }
    }
}

const TAPPED: &str = "fixing = { kind = \"machine screw\", thread = \"M3\", head = \"pan\", length = \
                      \"10 mm\", into = \"tapped hole\" }";
const NUT: &str = "fixing = { kind = \"machine screw\", thread = \"M3\", head = \"pan\", length = \
                   \"30 mm\", into = \"nut\" }";

/// A job as [`over`], its holes 6 mm in, on a face of another material.
fn on(fixing: &str, material: &str, hole: (f64, f64, f64)) -> Job {
    let mut layout =
        over(&format!("{fixing}\nholes = \"four corners\"\ninset = \"6 mm\""), &[hole], "");
    layout.face.as_mut().unwrap().material =
        FaceMaterial::ALL.iter().find(|(word, _)| *word == material).unwrap().1;
    job(&layout).unwrap()
}

#[test]
fn a_thread_is_not_cut_in_a_hole_as_wide_as_the_screw_and_a_nut_holds_in_a_wider_one() {
    // ISO 261, from memory: M3 × 0.5, drilled 2.5 mm; medium hole 3.4 mm (ISO 273).
    let tapped = |wide| on(TAPPED, "metal", (31.0, 31.0, wide));
    assert!(found(&tapped(2.5), "old-hole-reused").is_some());
    assert_eq!(found(&tapped(2.6), "old-hole-too-large").unwrap().0, Severity::Caution);
    assert_eq!(found(&tapped(3.0), "old-hole-too-large").unwrap().0, Severity::Stop);
    let nut = |wide| on(NUT, "white oak", (31.0, 31.0, wide));
    assert!(found(&nut(3.4), "old-hole-reused").is_some());
    let (severity, told) = found(&nut(6.0), "old-hole-too-large").unwrap();
    assert_eq!(severity, Severity::Caution);
    assert!(told.contains("loose") && told.contains("washer") && !told.contains("holds little"));
}

#[test]
fn no_place_is_offered_on_an_old_hole_that_is_too_wide_to_hold() {
    // 1.8 mm is between the root (1.456 mm) and the shank (2.184 mm) of a No. 2.
    let layout = over(&screwed(), &[(31.8, 31.0, 1.8)], "");
    let told = job(&layout).unwrap();
    assert!(found(&told, "old-hole-near").is_some());
    let moved = nearest_place(&layout, &plan(&layout)).unwrap();
    let after = job(&moved.layout).unwrap();
    assert!(found(&after, "old-hole-too-large").is_none(), "{:?}", moved.by);
    assert!(found(&after, "old-hole-near").is_none(), "{:?}", moved.by);
}

#[test]
fn wood_alone_is_plugged_with_wood() {
    let beside = (33.0, 32.0, 3.0);
    for (fixing, material, plugs) in [
        (SCREW, "white oak", true),
        (SCREW, "mdf", true),
        (SCREW, "veneered wood", true),
        (TAPPED, "metal", false),
        (TAPPED, "resin", false),
    ] {
        for hole in [beside, (31.0, 31.0, 4.0)] {
            let told = on(fixing, material, hole);
            let near = found(&told, "old-hole-near").or(found(&told, "old-hole-too-large"));
            let near = near.unwrap().1.to_lowercase();
            assert_eq!(near.contains("plug"), plugs, "{material}: {near}");
            assert!(near.contains("move the plate") || plugs, "{near}");
            assert!(!near.contains("of wood") || material.contains("oak") || plugs, "{near}");
            let all = cures(&told);
            let kinds = all.iter().flat_map(|cures| &cures.remedies).map(|remedy| remedy.kind);
            assert_eq!(kinds.filter(|kind| *kind == "plug-old-holes").count() > 0, plugs);
            let sheet = said(&pattern(&told).drawing);
            assert_eq!(sheet.contains("dowel"), plugs, "{material}");
        }
    }
}

#[test]
fn a_plate_that_is_stuck_on_minds_no_hole_behind_it() {
    let layout = over("fixing = { kind = \"tape\" }", &[(31.0, 31.0, 5.0)], "");
    let told = job(&layout).unwrap();
    assert!(told.findings.iter().all(|judged| !judged.finding.code.starts_with("old-hole")));
}

#[test]
fn old_holes_count_from_the_mark_where_the_plate_is_set_by_one() {
    let layout = asked(
        "[plate]\nsize = \"100 x 60 mm\"\nmaterial = \"brass\"\n[face]\nmaterial = \"teak\"\nplace = { \
         mark = \"centre\" }\nold_holes = [{ at = [\"-48 mm\", \"0 mm\"], diameter = \"2 mm\" }]\n",
    );
    // 48 mm left of the middle of a plate of 100: 2 mm from its edge, less the radius.
    let old = old_holes(&layout, &plan(&layout));
    assert!((old[0].cover - 1.0).abs() < 1e-9, "{old:?}");
    assert_eq!((old[0].x, old[0].y), (-48.0, 0.0));
}
