//! Promises about flat faces: where a plate goes on, how large it may be, what is said
//! where it cannot. Each is held against a search of its own with its own geometry.

use ansata::finding::Severity;
use ansata::job::{Job, job};
use ansata::layout::Layout;
use ansata::mount::{nearest_place, plan, sized};
use ansata::remedies::{Remedy, cures};

use crate::plate::asked;

/// A brass plate and a face of walnut, with these keys.
fn on(plate: &str, face: &str) -> Layout {
    asked(&format!(
        "[plate]\nmaterial = \"brass\"\n{plate}\n[face]\nmaterial = \"black walnut\"\n{face}\n"
    ))
}

fn codes(job: &Job) -> Vec<&'static str> {
    job.findings.iter().map(|judged| judged.finding.code).collect()
}

/// Remedies of the finding with a code.
fn remedies(job: &Job, code: &str) -> Vec<Remedy> {
    let all = cures(job);
    let of = all.into_iter().find(|cures| job.findings[cures.finding].finding.code == code);
    of.map(|cures| cures.remedies).unwrap_or_default()
}

fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 1e-6, "{got} is not {wanted}");
}

/// Width and height of a plate sized from its face.
fn given(layout: &Layout) -> (f64, f64) {
    let plate = &sized(layout).plate;
    (plate.width, plate.height)
}

#[test]
fn a_plate_from_a_rectangle_is_plain_arithmetic() {
    // 150 less twice 10, 110 less twice 10.
    let plain = on("size = \"from face\"\nreveal = \"10 mm\"", "size = \"150 x 110 mm\"");
    assert_eq!(given(&plain), (130.0, 90.0));
    // Whole millimetres, rounded down: 150.7 less 20.
    let odd = on("size = \"from face\"\nreveal = \"10 mm\"", "size = \"150.7 x 110.2 mm\"");
    assert_eq!(given(&odd), (130.0, 90.0));
    let at = plan(&sized(&odd)).face.unwrap();
    near(at.plate_x, 10.35);
    near(at.plate_y, 10.1);
    // The reveal counts from the trim where there is some: 150 - 2 x 12 - 2 x 5 wide,
    // 110 - 20 - 2 x 5 high; and stands between them.
    let trim = "size = \"150 x 110 mm\"\ntrim = { left = \"12 mm\", right = \"12 mm\", bottom = \"20 mm\" }";
    let trimmed = on("size = \"from face\"\nreveal = \"5 mm\"", trim);
    assert_eq!(given(&trimmed), (116.0, 80.0));
    near(plan(&sized(&trimmed)).face.unwrap().plate_y, 5.0);
    // Eighths of an inch: 6 in less twice 3/8 in, 4 5/16 in less twice 3/8 in is 3 9/16 in.
    let inches = on("size = \"from face\"\nreveal = \"3/8 in\"", "size = \"6 x 4 5/16 in\"");
    let (width, height) = given(&inches);
    near(width, 5.25 * 25.4);
    near(height, 3.5 * 25.4);
}

#[test]
fn a_plate_from_a_recess_keeps_its_fit_gap_at_the_corners_too() {
    let recess =
        |rest: &str| format!("size = \"150 x 110 mm\"\nrecess = {{ depth = \"1 mm\", {rest} }}");
    let square = recess("size = \"110 x 70 mm\"");
    assert_eq!(given(&on("size = \"from face\"", &square)), (109.0, 69.0));
    let wide = recess("size = \"110 x 70 mm\", gap = \"1.5 mm\"");
    assert_eq!(given(&on("size = \"from face\"", &wide)), (107.0, 67.0));
    // A rounded plate of the recess's corner less the gap fills it; a square one hits the
    // corners of 12 mm.
    let rounded = recess("size = \"110 x 70 mm\", corner = \"12 mm\"");
    let plate = "size = \"from face\"\nshape = \"rounded\"\ncorner = \"12 mm\"";
    assert_eq!(given(&on(plate, &rounded)), (109.0, 69.0));
    let (width, height) = given(&on("size = \"from face\"", &rounded));
    assert!(width * height < 109.0 * 69.0);
    // Its corner keeps 0.4 mm from the arc about the corner's centre.
    let kept = |width: f64, height: f64| {
        let past = |side: f64, plate: f64| (plate / 2.0 - (side / 2.0 - 12.0)).max(0.0);
        12.0 - libm::hypot(past(110.0, width), past(70.0, height)) >= 0.4 - 1e-6
    };
    assert!(kept(width, height));
    for wider in 5..=109 {
        for higher in 5..=69 {
            let (w, h) = (f64::from(wider), f64::from(higher));
            assert!(w * h <= width * height || !kept(w, h), "{w} x {h} goes in too");
        }
    }
    let round = recess("diameter = \"60 mm\"");
    assert_eq!(given(&on("size = \"from face\"\nshape = \"circle\"", &round)), (59.0, 59.0));
}

/// The widest plate of a height that lies within a trapezium, `reveal` mm from all sides,
/// with its top at `y`: by the two slants at its two ends, worked out by themselves.
fn widest((top, foot, high): (f64, f64, f64), reveal: f64, y: f64, height: f64) -> f64 {
    if y < reveal - 1e-9 || y + height > high - reveal + 1e-9 {
        return 0.0;
    }
    let slant = (foot - top) / 2.0 / high;
    let level = reveal * (1.0 + slant * slant).sqrt();
    let half = |y: f64| top / 2.0 + slant * y - level;
    2.0 * half(y).min(half(y + height))
}

#[test]
fn a_plate_from_a_trapezium_is_the_largest_of_all_sizes_tried() {
    for (trapezium, reveal) in [
        ((40.0, 60.0, 50.0), 4.0),
        ((60.0, 40.0, 50.0), 4.0),
        ((20.0, 70.0, 45.5), 2.5),
        ((50.0, 50.0, 30.0), 3.3),
    ] {
        let (top, foot, high): (f64, f64, f64) = trapezium;
        let face = format!(
            "shape = \"trapezium\"\ntop = \"{top} mm\"\nfoot = \"{foot} mm\"\nheight = \"{high} mm\""
        );
        let layout = on(&format!("size = \"from face\"\nreveal = \"{reveal} mm\""), &face);
        let layout = sized(&layout);
        let (width, height) = (layout.plate.width, layout.plate.height);
        let at = plan(&layout).face.unwrap();
        near(at.plate_x + width / 2.0, top.max(foot) / 2.0);
        let room = widest(trapezium, reveal, at.plate_y, height);
        assert!(width <= room + 1e-5, "{width} x {height} does not fit in {room}");
        // Every height, at every place a twentieth of a millimetre on.
        let mut best = 0.0_f64;
        for height in 5..=200 {
            let height = f64::from(height);
            let mut y = 0.0;
            let mut most = widest(trapezium, reveal, high - reveal - height, height);
            while y <= high {
                most = most.max(widest(trapezium, reveal, y, height));
                y += 0.05;
            }
            let most = (most + 1e-6).floor();
            if most >= 5.0 {
                best = best.max(most * height);
            }
        }
        near(width * height, best);
    }
}

#[test]
fn a_plate_from_a_round_face_is_the_largest_of_all_sizes_tried() {
    let face = "shape = \"circle\"\ndiameter = \"83 mm\"";
    // Corners within 41.5 - 6 mm of the middle.
    let (width, height) = given(&on("size = \"from face\"\nreveal = \"6 mm\"", face));
    let goes = |w: f64, h: f64| libm::hypot(w, h) <= 2.0 * 35.5 + 1e-6;
    assert!(goes(width, height));
    let sizes = (5..=71).flat_map(|w| (5..=71).map(move |h| (f64::from(w), f64::from(h))));
    let best = sizes.filter(|(w, h)| goes(*w, *h)).map(|(w, h)| w * h).fold(0.0, f64::max);
    near(width * height, best);
    let circle = on("size = \"from face\"\nreveal = \"6 mm\"\nshape = \"circle\"", face);
    assert_eq!(given(&circle), (71.0, 71.0));
    let ansate = on("size = \"from face\"\nreveal = \"6 mm\"\nshape = \"ansate\"", face);
    let ansate = sized(&ansate);
    // Every corner of its outline keeps the reveal.
    let (w, h) = (ansate.plate.width, ansate.plate.height);
    assert!(w > 30.0 && h > 30.0, "{w} x {h}");
    for point in ansata::plate::outline(&ansate.plate).path().elements() {
        if let Some(at) = point.end_point() {
            assert!(libm::hypot(at.x - w / 2.0, at.y - h / 2.0) <= 35.5 + 1e-3, "{at:?}");
        }
    }
}

#[test]
fn a_plate_on_a_face_with_a_notch_keeps_clear_of_it() {
    // An L: 80 x 60 mm, the upper right 30 x 40 mm cut out.
    let points = "shape = \"points\"\npoints = [[\"0 mm\",\"0 mm\"],[\"50 mm\",\"0 mm\"],[\"50 mm\",\
                  \"40 mm\"],[\"80 mm\",\"40 mm\"],[\"80 mm\",\"60 mm\"],[\"0 mm\",\"60 mm\"]]";
    // With 5 mm all round: the upright leg gives 40 x 50, the level one 70 x 10.
    assert_eq!(given(&on("size = \"from face\"\nreveal = \"5 mm\"", points)), (40.0, 50.0));
    let over = job(&on("size = \"60 x 30 mm\"", points)).unwrap();
    assert!(codes(&over).contains(&"plate-off-face"), "{:?}", codes(&over));
    let beside =
        on("size = \"40 x 30 mm\"", &format!("{points}\nplace = {{ from_left = \"5 mm\" }}"));
    assert!(!codes(&job(&beside).unwrap()).contains(&"plate-off-face"));
}

#[test]
fn a_leaning_face_is_as_high_as_its_slope_is_long() {
    // 60, 80, 100.
    let layout = on(
        "size = \"from face\"\nreveal = \"10 mm\"",
        "width = \"120 mm\"\nslope = { rise = \"80 mm\", run = \"60 mm\" }",
    );
    assert_eq!(given(&layout), (100.0, 80.0));
    near(plan(&layout).face.unwrap().size().unwrap().1, 100.0);
}

#[test]
fn a_plate_that_cannot_go_on_is_told_the_nearest_that_can() {
    // Over the slant of a trapezium; and no place for it: 100 mm are 26.7 mm down, and
    // 60 mm more leave the face.
    let face = "shape = \"trapezium\"\ntop = \"90 mm\"\nfoot = \"120 mm\"\nheight = \"80 mm\"\n\
                place = { from_top = \"5 mm\" }";
    let told = job(&on("size = \"100 x 60 mm\"", face)).unwrap();
    let found = remedies(&told, "plate-off-face");
    assert_eq!(found.len(), 1, "{found:?}");
    // At 5 mm the face is 90 + 5 x 30/80 = 91.875 mm wide.
    assert!(found[0].message.contains("91 x 60 mm"), "{}", found[0].message);
    assert!(told.stopped() && !job(&found[0].layout).unwrap().stopped());
    // A lower one goes on further down: 95 mm wide at 13.33 mm.
    let told = job(&on("size = \"95 x 40 mm\"", face)).unwrap();
    let found = remedies(&told, "plate-off-face");
    let moved = found.iter().find(|remedy| remedy.kind == "other-place").unwrap();
    assert!(moved.message.contains("8.4 mm down"), "{}", moved.message);
    assert_eq!(moved.edits[0].key, "face.place.from_top");
    assert_eq!(moved.edits[0].value, "\"13.4 mm\"");
    assert!(!codes(&job(&moved.layout).unwrap()).contains(&"plate-off-face"));
}

#[test]
fn trim_is_kept_clear_of_with_its_gap() {
    let face = |from: &str| {
        format!(
            "size = \"150 x 110 mm\"\ntrim = {{ width = \"12 mm\" }}\nplace = {{ from_left = \"{from}\" }}"
        )
    };
    let at = |from: &str| job(&on("size = \"60 x 40 mm\"", &face(from))).unwrap();
    assert!(!codes(&at("13 mm")).iter().any(|code| code.contains("trim")));
    let near = at("12.5 mm");
    assert!(codes(&near).contains(&"plate-near-trim"));
    assert!(remedies(&near, "plate-near-trim")[0].message.contains("0.5 mm to the right"));
    let over = at("10 mm");
    let found = &over.findings.iter().find(|j| j.finding.code == "plate-on-trim").unwrap().finding;
    assert_eq!(found.message, "The plate stands 2.00 mm on the trim of the face.");
    assert_eq!(remedies(&over, "plate-on-trim")[0].edits[0].value, "\"13 mm\"");
}

#[test]
fn a_plate_too_large_for_its_recess_is_a_stop_and_one_without_its_gap_a_caution() {
    let recess = "size = \"150 x 110 mm\"\nrecess = { size = \"110 x 70 mm\", depth = \"1.5 mm\", corner = \"6 mm\" }";
    let of = |plate: &str| job(&on(plate, recess)).unwrap();
    let severity = |job: &Job, code: &str| {
        job.findings.iter().find(|j| j.finding.code == code).map(|j| j.finding.severity)
    };
    let large = of("size = \"111 x 60 mm\"");
    assert_eq!(severity(&large, "plate-not-in-recess"), Some(Severity::Stop));
    assert!(remedies(&large, "plate-not-in-recess")[0].message.contains("109 x 60 mm"));
    // Its square corners stand in the recess's round ones: 6 - √2 x 6 is below 0.
    let square = of("size = \"110 x 70 mm\"");
    let corner = square.findings.iter().find(|j| j.finding.code == "plate-not-in-recess").unwrap();
    near(corner.finding.measured.unwrap().value, 6.0 - 6.0 * 2.0_f64.sqrt());
    let tight = of("size = \"109.5 x 69.5 mm\"\nshape = \"rounded\"\ncorner = \"6 mm\"");
    assert_eq!(severity(&tight, "plate-tight-in-recess"), Some(Severity::Caution));
    let good = of("size = \"109.2 x 69.2 mm\"\nshape = \"rounded\"\ncorner = \"6 mm\"");
    assert!(!codes(&good).iter().any(|code| code.contains("in-recess")), "{:?}", codes(&good));
    assert_eq!(severity(&good, "recess-depth"), Some(Severity::Note));
}

#[test]
fn a_plate_set_by_a_mark_stands_where_the_mark_is() {
    let mark = |spot: &str| {
        let face = format!(
            "size = \"150 x 110 mm\"\nplace = {{ mark = {spot}, mark_at = [\"70 mm\", \"50 mm\"] }}"
        );
        let plan = plan(&on("size = \"60 x 40 mm\"", &face)).face.unwrap();
        (plan.plate_x, plan.plate_y)
    };
    assert_eq!(mark("\"centre\""), (40.0, 30.0));
    assert_eq!(mark("\"top left corner\""), (70.0, 50.0));
    assert_eq!(mark("\"middle of the bottom edge\""), (40.0, 10.0));
    assert_eq!(mark("[\"5 mm\", \"7 mm\"]"), (65.0, 43.0));
    // Without a size of the face the mark is the zero of all.
    let bare = on("size = \"60 x 40 mm\"", "place = { mark = \"centre\" }");
    let placed = plan(&bare).face.unwrap();
    assert_eq!((placed.plate_x, placed.plate_y, placed.mark), (-30.0, -20.0, Some((0.0, 0.0))));
    assert!(placed.edge.is_none());
    assert!(!job(&bare).unwrap().stopped());
}

#[test]
fn the_nearest_place_is_nearer_than_every_other_that_would_do() {
    // In a circle; the plate's corners within 50 mm of the middle.
    let layout = on(
        "size = \"70 x 30 mm\"",
        "shape = \"circle\"\ndiameter = \"100 mm\"\nplace = { from_left = \"3 mm\", from_top = \"14 mm\" }",
    );
    let found = nearest_place(&layout, &plan(&layout)).unwrap();
    let goes = |x: f64, y: f64| {
        let corner = |dx: f64, dy: f64| libm::hypot(x + dx - 50.0, y + dy - 50.0) <= 50.0 + 1e-9;
        corner(0.0, 0.0) && corner(70.0, 0.0) && corner(0.0, 30.0) && corner(70.0, 30.0)
    };
    let (x, y) = (3.0 + found.by.0, 14.0 + found.by.1);
    assert!(!goes(3.0, 14.0) && goes(x, y), "{:?}", found.by);
    let far = libm::hypot(found.by.0, found.by.1);
    for across in 0..=500 {
        for down in 0..=500 {
            let (a, b) = (f64::from(across) / 10.0, f64::from(down) / 10.0);
            let nearer = libm::hypot(a - 3.0, b - 14.0) < far - 1e-6;
            assert!(!nearer || !goes(a, b), "{a}, {b} is nearer");
        }
    }
}
