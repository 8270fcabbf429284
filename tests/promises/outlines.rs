//! Promises about outlines other than rectangles, by closed formulas and by sampling.

use std::f64::consts::PI;

use ansata::layout::{AtHoles, Border, HandleLettering, Handles, HolesAsked, Layout, Shape};
use ansata::mount::hole_places;
use ansata::plate::{
    Outline, border_edge, border_paths, border_zones, field, lettering_edge, outline,
};
use arbtest::arbtest;
use kurbo::Shape as _;

use crate::plate::{any_outline, asked, between};

const PIN: &str = "[mount]\nfixing = { kind = \"pin\", shank = \"1.3 mm\", head = \"3 mm\", length = \"13 mm\" }\n";

/// A layout of a plate of brass with these keys of `[plate]` and these tables.
fn plated(keys: &str, tables: &str) -> Layout {
    asked(&format!("[plate]\nmaterial = \"brass\"\n{keys}\n{tables}"))
}

fn edge(keys: &str) -> Outline {
    outline(&plated(keys, "").plate)
}

/// All stretches at a height as pairs.
fn chords(line: &Outline, y: f64) -> Vec<(f64, f64)> {
    line.chords(y).iter().map(|chord| (chord.left, chord.right)).collect()
}

fn near(found: &[(f64, f64)], expected: &[(f64, f64)]) -> bool {
    found.len() == expected.len()
        && found
            .iter()
            .zip(expected)
            .all(|(a, b)| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9)
}

#[test]
fn the_area_of_a_tabula_ansata_is_that_of_its_tablet_and_two_trapezia() {
    for (width, height, handle, root, tip) in [
        (160.0, 60.0, 20.0, 18.0, 40.0),
        (90.0, 80.0, 9.0, 70.0, 80.0),
        (300.0, 50.0, 12.5, 1.0, 50.0),
    ] {
        let keys = format!(
            "size = \"{width} x {height} mm\"\nshape = \"ansate\"\n\
             handles = {{ width = \"{handle} mm\", root = \"{root} mm\", tip = \"{tip} mm\" }}"
        );
        // Two trapezia of parallel sides root and tip, `handle` apart: handle·(root + tip).
        let area = (width - 2.0 * handle) * height + handle * (root + tip);
        assert!((edge(&keys).area() - area).abs() < 1e-9, "{keys}");
    }
    // What is not told: a quarter of the height wide, 0.3 of it at the root, 0.6 at the tip.
    let usual = edge("size = \"160 x 60 mm\"\nshape = \"ansate\"");
    assert!((usual.area() - (130.0 * 60.0 + 15.0 * (18.0 + 36.0))).abs() < 1e-9);
}

#[test]
fn a_notched_plate_has_the_area_and_the_chords_of_the_closed_formulas() {
    let whole = edge("size = \"120 x 80 mm\"\nshape = \"notched\"\ncorner = \"10 mm\"");
    assert!((whole.area() - (9600.0 - PI * 100.0)).abs() < 1e-9);
    // 4 mm in: straight sides 4 mm in, notches of 14 mm about the same corners.
    let inner = whole.inset(4.0).unwrap();
    for step in 1..160 {
        let y = f64::from(step) / 2.0;
        for (line, by, notch) in [(&whole, 0.0, 10.0), (&inner, 4.0, 14.0f64)] {
            let off = y.min(80.0 - y);
            let cut = if off < notch { (notch * notch - off * off).sqrt() } else { 0.0 };
            let expected = (off >= by).then_some((cut.max(by), 120.0 - cut.max(by)));
            assert!(near(&chords(line, y), expected.as_slice()), "{by} in, at {y}");
        }
    }
    // Of a notch of 14 mm, what lies more than 4 mm from both sides: the quarter disc's
    // part beyond x = 4 and y = 4, by the integral of √(14² − x²) − 4.
    let root = (14.0f64 * 14.0 - 16.0).sqrt();
    let under = |x: f64| (x * (196.0 - x * x).sqrt() + 196.0 * libm::asin(x / 14.0)) / 2.0;
    let notch = under(root) - under(4.0) - 4.0 * (root - 4.0);
    assert!((inner.area() - (112.0 * 72.0 - 4.0 * notch)).abs() < 1e-8, "{}", inner.area());
    assert!(!whole.convex() && !inner.convex() && !inner.is_rectangle());
}

#[test]
fn an_arch_has_the_area_and_the_chords_of_the_closed_formulas() {
    // A half circle: radius 50, springing 50 mm down.
    let round = edge("size = \"100 x 120 mm\"\nshape = \"arch\"");
    assert!((round.area() - (PI * 1250.0 + 100.0 * 70.0)).abs() < 1e-9);
    // A segment: R = w²/8s + s/2 = 100; the sector less the triangle on the chord.
    let flat = edge("size = \"120 x 80 mm\"\nshape = \"arch\"\nrise = \"20 mm\"");
    let segment = 100.0 * 100.0 * libm::asin(0.6) - 60.0 * 80.0;
    assert!((flat.area() - (segment + 120.0 * 60.0)).abs() < 1e-8);
    let inner = flat.inset(6.0).unwrap();
    for step in 1..160 {
        let y = f64::from(step) / 2.0;
        for (line, by) in [(&flat, 0.0), (&inner, 6.0)] {
            // Inside the smaller circle about the same centre, 100 mm down, and the sides.
            let root = (100.0 - by) * (100.0 - by) - (100.0 - y) * (100.0 - y);
            let half = root.max(0.0).sqrt().min(60.0 - by);
            let expected = (y > by && y <= 80.0 - by).then_some((60.0 - half, 60.0 + half));
            assert!(near(&chords(line, y), expected.as_slice()), "{by} in, at {y}");
        }
        let half = if y < 50.0 { (2500.0 - (50.0 - y) * (50.0 - y)).sqrt() } else { 50.0 };
        assert!(near(&chords(&round, y), &[(50.0 - half, 50.0 + half)]), "at {y}");
    }
    assert!(round.convex() && flat.convex() && inner.convex());
    // Centre of a half disc: 4r/3π from its flat side.
    let plate = plated("size = \"100 x 120 mm\"\nshape = \"arch\"\nmargin = \"0 mm\"", "").plate;
    let disc = PI * 1250.0;
    let centre = (disc * (50.0 - 200.0 / (3.0 * PI)) + 7000.0 * 85.0) / (disc + 7000.0);
    assert!((field(&plate, &[]).centre_y() - centre).abs() < 1e-9);
}

#[test]
fn a_row_across_a_valley_has_a_stretch_on_either_side() {
    // A W: down to the middle from above, 30 mm deep.
    let keys = "shape = \"points\"\npoints = [[\"0 mm\", \"0 mm\"], [\"50 mm\", \"30 mm\"], \
                [\"100 mm\", \"0 mm\"], [\"100 mm\", \"60 mm\"], [\"0 mm\", \"60 mm\"]]";
    let whole = edge(keys);
    assert!((whole.area() - (6000.0 - 1500.0)).abs() < 1e-9);
    assert!(near(&chords(&whole, 15.0), &[(0.0, 25.0), (75.0, 100.0)]));
    assert!(near(&chords(&whole, 30.0), &[(0.0, 100.0)]));
    // 5 mm in, level with the valley's foot: 5 mm square to a slope of 30 in 50.
    let inner = whole.inset(5.0).unwrap();
    let level = 5.0 * 3400.0f64.sqrt() / 30.0;
    assert!(near(&chords(&inner, 30.0), &[(5.0, 50.0 - level), (50.0 + level, 95.0)]));
    // 4.5 mm below the foot only the foot itself is near: Pythagoras.
    let below = (25.0f64 - 4.5 * 4.5).sqrt();
    assert!(near(&chords(&inner, 34.5), &[(5.0, 50.0 - below), (50.0 + below, 95.0)]));
    // A band of heights is free where each of its heights is.
    let mut plate = plated(keys, "").plate;
    plate.margin = 5.0;
    let field = field(&plate, &[]);
    let both = field.intervals(30.0, 34.5);
    assert!((both[0].right - 50.0 + level).abs() < 1e-9, "{both:?}");
    assert!((both[1].left - 50.0 - level).abs() < 1e-9, "{both:?}");
    assert!(!field.convex() && field.rectangle().is_none());
    // A box about the foot of the valley is entered by it, though its corners are inside.
    assert!(whole.depth_of_box([40.0, 29.0, 60.0, 50.0]) <= 0.0);
    assert!((whole.depth_of_box([40.0, 34.0, 60.0, 50.0]) - 4.0).abs() < 1e-9);
}

#[test]
fn a_neck_narrower_than_the_inset_parts_the_outline() {
    let keys = "size = \"160 x 60 mm\"\nshape = \"ansate\"\nhandles = { width = \"40 mm\", root = \
                \"6 mm\", tip = \"60 mm\", lettering = \"into the handles\" }";
    let whole = edge(keys);
    assert_eq!(whole.paths().len(), 1);
    let parted = whole.inset(4.0).unwrap();
    assert_eq!(parted.paths().len(), 3);
    assert_eq!(parted.chords(30.0).len(), 3);
    let drawn: f64 = parted.paths().iter().map(|path| path.area().abs()).sum();
    assert!((drawn - parted.area()).abs() < 0.01);
    // So deep that only the tablet is left, it is a plain rectangle between the handles.
    let mut plate = plated(keys, "").plate;
    plate.margin = 5.0;
    let Shape::Ansate(handles) = &mut plate.shape else { panic!("{:?}", plate.shape) };
    handles.lettering = HandleLettering::Between;
    assert_eq!(field(&plate, &[]).rectangle(), Some([45.0, 5.0, 115.0, 55.0]));
}

#[test]
fn points_may_run_either_way_round() {
    let points = vec![(0.0, 10.0), (30.0, 0.0), (60.0, 25.0), (20.0, 40.0)];
    let forwards = Outline::new(60.0, 40.0, &Shape::Points(points.clone()));
    let backwards = Outline::new(60.0, 40.0, &Shape::Points(points.into_iter().rev().collect()));
    assert!((forwards.area() - backwards.area()).abs() < 1e-9 && forwards.area() > 0.0);
    assert!(near(&chords(&forwards, 20.0), &chords(&backwards, 20.0)));
    // What encloses nothing is nothing, and no panic.
    for points in [vec![], vec![(1.0, 1.0)], vec![(0.0, 0.0), (5.0, 5.0)]] {
        let nothing = Outline::new(10.0, 10.0, &Shape::Points(points));
        assert!(nothing.chords(2.0).is_empty() && nothing.inset(1.0).is_none());
        assert!(nothing.depth_of(3.0, 2.0) <= 0.0);
    }
}

/// The depth of a box is the least depth of its points.
#[test]
fn a_box_is_as_deep_as_its_shallowest_point() {
    arbtest(|u| {
        let (plate, line) = any_outline(u)?;
        let (x, y) = (between(u, 0.0, plate.width)?, between(u, 0.0, plate.height)?);
        let (wide, tall) = (between(u, 0.1, 40.0)?, between(u, 0.1, 20.0)?);
        let depth = line.depth_of_box([x, y, x + wide, y + tall]);
        let steps = 60u32;
        let mut least = f64::INFINITY;
        for i in 0..=steps {
            for j in 0..=steps {
                let at = |from: f64, size: f64, step: u32| {
                    from + size * f64::from(step) / f64::from(steps)
                };
                least = least.min(line.depth_of(at(x, wide, i), at(y, tall, j)));
            }
        }
        let apart = libm::hypot(wide, tall) / f64::from(steps);
        if least > apart {
            assert!((depth - least).abs() <= apart, "{line:?}: {depth} and {least}");
        } else {
            assert!(depth <= apart, "{line:?}: {depth} and {least}");
        }
        Ok(())
    })
    .budget_ms(1500);
}

#[test]
fn an_ansate_plate_has_its_holes_in_its_handles() {
    let plate = "size = \"160 x 60 mm\"\nshape = \"ansate\"";
    // Without a word of holes or of handles: the middle of each handle of 15 mm.
    let layout = plated(plate, PIN);
    assert_eq!(layout.mount.holes, HolesAsked::InTheHandles(None));
    assert_eq!(hole_places(&layout), [(7.5, 30.0), (152.5, 30.0)]);
    let inset = plated(plate, &format!("{PIN}holes = \"in the handles\"\ninset = \"6 mm\"\n"));
    assert_eq!(hole_places(&inset), [(6.0, 30.0), (154.0, 30.0)]);
    let inset = plated(plate, &format!("{PIN}inset = \"5 mm\"\n"));
    assert_eq!(hole_places(&inset), [(5.0, 30.0), (155.0, 30.0)]);
    // Corners are the tablet's; tape brings no holes.
    let corners = plated(plate, &format!("{PIN}holes = \"four corners\"\ninset = \"6 mm\"\n"));
    assert_eq!(hole_places(&corners), [(21.0, 6.0), (139.0, 6.0), (21.0, 54.0), (139.0, 54.0)]);
    let tape = plated(plate, "[mount]\nfixing = { kind = \"tape\" }\n");
    assert_eq!(hole_places(&tape), []);
}

#[test]
fn holes_stand_in_the_shape_as_deep_as_asked() {
    for keys in [
        "size = \"120 x 80 mm\"\nshape = \"notched\"\ncorner = \"12 mm\"",
        "size = \"100 x 120 mm\"\nshape = \"arch\"",
        "size = \"120 x 70 mm\"\nshape = \"arch\"\nrise = \"25 mm\"",
        "size = \"120 x 60 mm\"\nshape = \"arch\"",
    ] {
        for holes in ["four corners", "two sides", "top and bottom"] {
            let layout = plated(keys, &format!("{PIN}holes = \"{holes}\"\ninset = \"7 mm\"\n"));
            let edge = outline(&layout.plate);
            let places = hole_places(&layout);
            for (x, y) in &places {
                assert!((edge.depth_of(*x, *y) - 7.0).abs() < 1e-9, "{keys} {holes}: {x}, {y}");
                let mirrored = |other: &(f64, f64)| {
                    (layout.plate.width - x - other.0).abs() < 1e-9 && (y - other.1).abs() < 1e-9
                };
                assert!(places.iter().any(mirrored), "{keys} {holes}: {places:?}");
            }
        }
    }
}

#[test]
fn a_border_with_holes_outside_frames_the_tablet() {
    let keys = "size = \"160 x 60 mm\"\nshape = \"ansate\"\nborder = { inset = \"3 mm\" }";
    let plate = plated(keys, PIN).plate;
    assert_eq!(plate.border.map(|border| border.at_holes), Some(AtHoles::HolesOutside));
    let frame = border_paths(&plate, &[]);
    assert_eq!(frame.len(), 1);
    let found = frame[0].bounding_box();
    assert_eq!((found.x0, found.y0, found.x1, found.y1), (18.0, 3.0, 142.0, 57.0));
    assert_eq!(border_edge(&plate), lettering_edge(&plate));
    // Asked for otherwise, it runs round the handles, a true inset.
    let mut round = plate.clone();
    round.border = round.border.map(|border| Border { at_holes: AtHoles::StopShort, ..border });
    assert_eq!(border_edge(&round), outline(&round));
    let line = &border_paths(&round, &[])[0];
    assert!((line.bounding_box().x0 - 3.0).abs() < 1e-9);
    let inside = outline(&round).inset(3.0).unwrap().area();
    assert!((line.area().abs() - inside).abs() < 0.01);
    assert!(border_zones(&round, &[]).is_empty());
    // Where lettering may run into the handles, no frame may stand in its way.
    round.shape = Shape::Ansate(Handles {
        width: None,
        root: None,
        tip: None,
        lettering: HandleLettering::Into,
    });
    round.border = round.border.map(|border| Border { at_holes: AtHoles::HolesOutside, ..border });
    assert_eq!(border_edge(&round), outline(&round));
}
