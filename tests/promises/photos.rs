//! Promises about photographs on a plate: where they stand, what is cropped, how sharp they
//! are, whose they are, and what the artwork holds of them.

use std::f64::consts::PI;

use ansata::job::placings;
use ansata::layout::{Named, Shop, Source, Vocabulary, read};
use ansata::lettering::catalogue;
use ansata::photo::Standing;
use image::{GrayImage, ImageFormat, Rgb, RgbImage};
use serde_json::Value;

use crate::outside::asked;
use crate::support::{Bench, codes, plain};

const ALLOWED: &str =
    "permission = \"I. Penhallow, by letter of 2 March 2026\"\ncredit = \"I. Penhallow\"\n";

/// A photograph whose level grows from left to right in red and from top to bottom in green.
fn picture(width: u32, height: u32) -> Vec<u8> {
    let share = |at: u32, all: u32| u8::try_from(at * 255 / (all - 1).max(1)).unwrap();
    let picture =
        RgbImage::from_fn(width, height, |x, y| Rgb([share(x, width), share(y, height), 90]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, ImageFormat::Png).unwrap();
    bytes.into_inner()
}

/// A photograph of one level.
fn flat(level: u8) -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    GrayImage::from_pixel(64, 64, image::Luma([level]))
        .write_to(&mut bytes, ImageFormat::Png)
        .unwrap();
    bytes.into_inner()
}

/// A plate of 120 x 80 mm with a margin of 6 mm, a few words, and one photograph of these keys.
fn with(keys: &str) -> String {
    let text = plain(
        "120 x 80 mm",
        &["RUNG IN HONOUR", "of fifty years at the tenor", "1976 – 2026"],
        &format!("[[photo]]\nfile = \"tower.png\"\n{keys}\n"),
    );
    text.replace("material = \"brass\"\n", "material = \"brass\"\nmargin = \"6 mm\"\n")
}

fn bench(keys: &str) -> Bench {
    let bench = Bench::with(&with(keys));
    bench.put("tower.png", picture(600, 800));
    bench
}

fn photo(report: &Value) -> &Value {
    &report["photos"][0]
}

/// Left, top, right, bottom.
fn sides(photo: &Value) -> [f64; 4] {
    ["x0", "y0", "x1", "y1"].map(|key| photo["box"][key].as_f64().unwrap())
}

fn finding<'r>(report: &'r Value, code: &str) -> Option<&'r Value> {
    report["findings"].as_array().unwrap().iter().find(|finding| finding["code"] == code)
}

fn near(found: f64, wanted: f64, by: f64) {
    assert!((found - wanted).abs() <= by, "{found}, not {wanted}");
}

#[test]
fn a_photograph_stands_against_its_side_in_the_middle_of_it() {
    for (place, wanted) in [
        ("left", [6.0, 20.0, 36.0, 60.0]),
        ("right", [84.0, 20.0, 114.0, 60.0]),
        ("top", [45.0, 6.0, 75.0, 46.0]),
        ("bottom", [45.0, 34.0, 75.0, 74.0]),
    ] {
        let report =
            bench(&format!("place = \"{place}\"\nwidth = \"30 mm\"\n{ALLOWED}")).report("cup.toml");
        for (found, wanted) in sides(photo(&report)).iter().zip(wanted) {
            near(*found, wanted, 1e-9);
        }
        // The lettering stands in what is left, in the middle of it.
        let axis = report["field"]["axis_x_mm"].as_f64().unwrap();
        let left = match place {
            "left" => f64::midpoint(36.0 + 3.0, 114.0),
            "right" => f64::midpoint(6.0, 84.0 - 3.0),
            _ => 60.0,
        };
        near(axis, left, 1e-9);
        for piece in report["pieces"].as_array().unwrap() {
            let ink = &piece["ink"];
            let [x0, y0, x1, y1] = ["x0", "y0", "x1", "y1"].map(|key| ink[key].as_f64().unwrap());
            let clear = match place {
                "left" => x0 - 36.0,
                "right" => 84.0 - x1,
                "top" => y0 - 46.0,
                _ => 34.0 - y1,
            };
            assert!(clear >= 3.0 - 0.001, "{place}: {clear}");
        }
    }
}

#[test]
fn on_an_oval_plate_a_photograph_stands_as_far_out_as_its_corners_keep_the_margin() {
    let keys = format!("place = \"left\"\nwidth = \"24 mm\"\nheight = \"30 mm\"\n{ALLOWED}");
    let oval = with(&keys).replace("material", "shape = \"oval\"\nmaterial");
    let bench = bench(&keys);
    bench.put("cup.toml", oval);
    let report = bench.report("cup.toml");
    let [x0, y0, _, y1] = sides(photo(&report));
    near(f64::midpoint(y0, y1), 40.0, 1e-9);
    // Distance from the upper corner to an ellipse of 60 by 40 mm, by a dense walk along it.
    let distance = (0..200_000)
        .map(|step| {
            let (sin, cos) = libm::sincos(PI / 2.0 * f64::from(step) / 200_000.0);
            libm::hypot(60.0 - 60.0 * cos - x0, 40.0 - 40.0 * sin - y0)
        })
        .fold(f64::INFINITY, f64::min);
    assert!((6.0 - 1e-6..6.003).contains(&distance), "{distance}");
}

#[test]
fn the_crop_has_the_proportion_of_the_box_and_keeps_to_the_focus() {
    // 600 x 800 pixels. A box of 30 x 30 shows 600 x 600 of them; twice nearer 300 x 300.
    for (keys, wanted) in [
        ("proportion = \"1:1\"", [0.0, 100.0, 600.0, 700.0]),
        ("proportion = \"1:1\"\nfocus = [0.5, 0.25]", [0.0, 0.0, 600.0, 600.0]),
        ("proportion = \"1:1\"\nzoom = 2\nfocus = [0.5, 0.25]", [150.0, 50.0, 450.0, 350.0]),
        ("proportion = \"1:1\"\nzoom = 2\nfocus = [1, 1]", [300.0, 500.0, 600.0, 800.0]),
        ("shape = \"circle\"", [0.0, 100.0, 600.0, 700.0]),
        ("height = \"15 mm\"", [0.0, 250.0, 600.0, 550.0]),
        ("", [0.0, 0.0, 600.0, 800.0]),
    ] {
        let report = bench(&format!("width = \"30 mm\"\n{keys}\n{ALLOWED}")).report("cup.toml");
        let photo = photo(&report);
        let crop =
            ["left", "top", "right", "bottom"].map(|key| photo["crop"][key].as_f64().unwrap());
        for (found, wanted) in crop.iter().zip(wanted) {
            near(*found, wanted, 1e-6);
        }
        let [x0, y0, x1, y1] = sides(photo);
        near((crop[2] - crop[0]) / (crop[3] - crop[1]), (x1 - x0) / (y1 - y0), 1e-9);
    }
}

#[test]
fn three_hundred_pixels_at_sixty_mm_are_told_as_too_few_with_the_size_they_are_enough_for() {
    let bench = bench(&format!("width = \"60 mm\"\nprocess = \"printed\"\n{ALLOWED}"));
    bench.put("tower.png", picture(300, 300));
    let report = bench.report("cup.toml");
    let finding = finding(&report, "photo-not-sharp").unwrap();
    assert_eq!(finding["severity"], "caution");
    near(finding["measured"]["value"].as_f64().unwrap(), 5.0, 1e-9);
    // One minute of arc at 400 mm is 2 · 400 · tan(0.5′) = 0.11636 mm: 8.594 pixels a mm.
    let need = 1.0 / (2.0 * 400.0 * libm::tan((0.5_f64 / 60.0).to_radians()));
    near(finding["required"]["value"].as_f64().unwrap(), need, 1e-4);
    // 300 / 8.594 = 34.9 mm.
    let message = finding["message"].as_str().unwrap();
    assert!(message.contains("It would be sharp up to 34.9 \u{d7} 34.9 mm"), "{message}");
    // At that size it is, and a tenth of a mm more is too much.
    for (width, told) in [("34.9 mm", false), ("35 mm", true)] {
        let keys = format!("width = \"{width}\"\nprocess = \"printed\"\n{ALLOWED}");
        bench.put("cup.toml", with(&keys));
        let report = bench.report("cup.toml");
        assert_eq!(codes(&report).contains(&"photo-not-sharp".to_owned()), told, "{width}");
    }
}

#[test]
fn a_screen_asks_for_no_more_pixels_than_it_can_show() {
    // Rows 0.5 mm apart: 1.5 pixels a row are 3 a mm; 120 pixels over 40 mm are 3.
    let keys = |pitch: &str| {
        format!(
            "width = \"40 mm\"\nprocess = \"etched\"\nscreen = {{ kind = \"lines\", pitch = \"{pitch}\" }}\n{ALLOWED}"
        )
    };
    let bench = bench(&keys("0.5 mm"));
    bench.put("tower.png", picture(120, 120));
    assert!(finding(&bench.report("cup.toml"), "photo-not-sharp").is_none());
    bench.put("cup.toml", with(&keys("0.49 mm")));
    let report = bench.report("cup.toml");
    let finding = finding(&report, "photo-not-sharp").unwrap();
    near(finding["required"]["value"].as_f64().unwrap(), 1.5 / 0.49, 1e-4);
}

#[test]
fn heads_that_the_crop_cuts_are_told() {
    let keys = |zoom: &str| {
        format!(
            "width = \"30 mm\"\nshape = \"oval\"\nheads = [0.3, 0.1, 0.7, 0.6]\nzoom = {zoom}\n{ALLOWED}"
        )
    };
    let bench = bench(&keys("1"));
    assert!(finding(&bench.report("cup.toml"), "photo-cuts-heads").is_none());
    bench.put("cup.toml", with(&keys("1.6")));
    let report = bench.report("cup.toml");
    assert_eq!(finding(&report, "photo-cuts-heads").unwrap()["severity"], "caution");
}

#[test]
fn without_permission_no_artwork_is_made_and_the_proof_says_so() {
    let keys = "width = \"30 mm\"\nprocess = \"printed\"\ncredit = \"I. Penhallow\"";
    let bench = bench(keys);
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    let names = bench.names("made");
    assert!(!names.iter().any(|name| name.starts_with("artwork")), "{names:?}");
    assert!(names.contains(&"proof.pdf".to_owned()), "{names:?}");
    assert!(ran.out.contains("stop [photo-without-permission]"), "{}", ran.out);
    assert!(ran.out.contains("withheld: artwork"), "{}", ran.out);
    let contents = String::from_utf8(bench.read("made/contents.txt")).unwrap();
    assert!(contents.contains("photo-without-permission"), "{contents}");
    // Accepted by name, with a reason, it is made.
    let accepted = format!(
        "{keys}\n[[accept]]\ncode = \"photo-without-permission\"\nwhere = \"photo.1\"\nreason = \"our own photograph\"\n"
    );
    bench.put("cup.toml", with(&accepted));
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(bench.has("made/artwork-photo-1-mm.png"));
}

#[test]
fn a_cutter_that_follows_outlines_makes_no_photograph() {
    for (process, severity) in
        [("rotary", "stop"), ("drag", "stop"), ("cast", "stop"), ("hand cut", "caution")]
    {
        let keys = format!("width = \"30 mm\"\nprocess = \"{process}\"\n{ALLOWED}");
        let report = bench(&keys).report("cup.toml");
        assert_eq!(finding(&report, "photo-by-this-process").unwrap()["severity"], severity);
    }
    // What burns chlorine out of the plate is a stop, whatever the letters are made by.
    let keys = format!("width = \"30 mm\"\nprocess = \"co2 laser\"\n{ALLOWED}");
    let pvc = with(&keys).replace("material = \"brass\"", "material = \"pvc\"");
    let bench = bench(&keys);
    bench.put("cup.toml", pvc);
    let report = bench.report("cup.toml");
    assert!(codes(&report).contains(&"laser-on-chlorine".to_owned()), "{:?}", codes(&report));
}

/// Least distance between the ink of all rows and what lies within a shape, by points of it.
fn white(report: &Value, points: &[(f64, f64)]) -> f64 {
    let mut least = f64::INFINITY;
    for piece in report["pieces"].as_array().unwrap() {
        let ink = &piece["ink"];
        let [x0, y0, x1, y1] = ["x0", "y0", "x1", "y1"].map(|key| ink[key].as_f64().unwrap());
        for (x, y) in points {
            let (dx, dy) = ((x0 - x).max(x - x1).max(0.0), (y0 - y).max(y - y1).max(0.0));
            least = least.min(libm::hypot(dx, dy));
        }
    }
    least
}

#[test]
fn lettering_round_a_photograph_keeps_its_gap_from_outline_and_frame() {
    // An oval, a circle and a rectangle of 34 mm, framed 1 mm farther out, by their edges.
    let round = |half_y: f64| -> Vec<(f64, f64)> {
        let at = |step: i32| libm::sincos(PI / 500.0 * f64::from(step));
        (0..1000).map(at).map(|(sin, cos)| (17.0 * cos, half_y * sin)).collect()
    };
    let side = |at: i32| f64::from(at) / 10.0;
    let mut square: Vec<(f64, f64)> = Vec::new();
    for at in -170..=170 {
        square.extend([(side(at), -17.0), (side(at), 17.0), (-17.0, side(at)), (17.0, side(at))]);
    }
    let shapes = [
        ("shape = \"oval\"\nproportion = \"3:4\"", round(17.0 / 0.75)),
        ("shape = \"circle\"", round(17.0)),
        ("proportion = \"1:1\"", square),
    ];
    for (shape, edge) in shapes {
        for align in ["centre", "left"] {
            let keys = format!(
                "place = \"left\"\nlettering = \"round it\"\nwidth = \"34 mm\"\n{shape}\ngap = \"2.5 mm\"\n\
                 frame = {{ weight = \"0.4 mm\", gap = \"0.6 mm\" }}\n{ALLOWED}"
            );
            let text =
                with(&keys).replace("[[line]]\n", &format!("[[line]]\nalign = \"{align}\"\n"));
            let bench = bench("width = \"9 mm\"");
            bench.put("cup.toml", text);
            let report = bench.report("cup.toml");
            assert!(!codes(&report).iter().any(|code| code.starts_with("photo-at")), "{shape}");
            let [x0, y0, x1, y1] = sides(photo(&report));
            let (x, y) = (f64::midpoint(x0, x1), f64::midpoint(y0, y1));
            let edge: Vec<_> = edge.iter().map(|(u, v)| (x + u, y + v)).collect();
            let found = white(&report, &edge);
            // Gap and frame; points of the edge stand apart by up to 0.15 mm.
            assert!(found >= 3.5 - 0.002, "{shape}, {align}: {found}");
            if align == "left" && shape.contains("oval") {
                assert!(found < 3.6, "rows do not come near: {found}");
            }
        }
    }
}

#[test]
fn an_engraved_credit_wider_than_its_photograph_has_its_own_room() {
    let keys = |more: &str| {
        format!(
            "width = \"16 mm\"\nheight = \"20 mm\"\n{more}\nengrave_credit = {{ cap_height = \"3 mm\" }}\n\
             permission = \"yes\"\ncredit = \"Photograph by Ives Penhallow\"\n"
        )
    };
    for place in ["left", "right", "top", "bottom"] {
        for flow in ["beside it", "round it"] {
            let bench = bench(&keys(&format!("place = \"{place}\"\nlettering = \"{flow}\"")));
            let report = bench.report("cup.toml");
            let told = codes(&report);
            let stands = ["photo-over", "photo-in", "photo-at", "photo-near", "photo-under-head"];
            let wrong = |code: &String| stands.iter().any(|begins| code.starts_with(begins));
            assert!(!told.iter().any(wrong), "{place}: {told:?}");
            let credit = report["cut"]["photos"][0]["engraved"][0].as_str().unwrap();
            let ink = kurbo::Shape::bounding_box(&kurbo::BezPath::from_svg(credit).unwrap());
            let [x0, y0, x1, y1] = [ink.x0, ink.y0, ink.x1, ink.y1].map(|um| um / 1000.0);
            assert!(x1 - x0 > 30.0, "the credit is wider: {}", x1 - x0);
            // Within the margin of 6 mm, its photograph above it, and clear of all rows.
            assert!(x0 >= 5.998 && x1 <= 114.002 && y0 >= 5.998 && y1 <= 74.002, "{place}: {ink}");
            let [left, _, right, foot] = sides(photo(&report));
            near(f64::midpoint(x0, x1), f64::midpoint(left, right), 0.002);
            assert!(y0 > foot + 2.0);
            let corners = [(x0, y0), (x1, y0), (x0, y1), (x1, y1), (x0, f64::midpoint(y0, y1))];
            assert!(white(&report, &corners) >= 3.0 - 0.002, "{place}, {flow}");
        }
    }
    // What its lettering lacks is not cut as a box.
    let bench = bench(&keys("").replace("Ives", "\u{5d0}\u{5d1}"));
    let report = bench.report("cup.toml");
    assert_eq!(finding(&report, "missing-character").unwrap()["scope"], "photo");
}

#[test]
fn photographs_that_cross_without_a_corner_in_each_other_are_told() {
    let keys = format!(
        "width = \"40 mm\"\nheight = \"8 mm\"\nplace = {{ at = [\"60 mm\", \"40 mm\"] }}\n{ALLOWED}\
         [[photo]]\nfile = \"tower.png\"\nwidth = \"8 mm\"\nheight = \"40 mm\"\nplace = {{ at = [\"60 mm\", \"40 mm\"] }}\n{ALLOWED}"
    );
    assert!(codes(&bench(&keys).report("cup.toml")).contains(&"photo-over-photo".to_owned()));
    // Two circles whose boxes meet and which do not.
    let at = |x: u32, y: u32| {
        format!(
            "shape = \"circle\"\nwidth = \"20 mm\"\nplace = {{ at = [\"{x} mm\", \"{y} mm\"] }}\n{ALLOWED}"
        )
    };
    let keys = format!("{}[[photo]]\nfile = \"tower.png\"\n{}", at(40, 30), at(56, 46));
    assert!(!codes(&bench(&keys).report("cup.toml")).contains(&"photo-over-photo".to_owned()));
}

#[test]
fn what_stands_in_a_photograph_s_way_is_told() {
    let screws = "[mount]\nholes = \"four corners\"\ninset = \"8 mm\"\nfixing = { kind = \"wood screw\", gauge = 4, head = \"round\", length = \"1/2 in\" }\n";
    let at = |x: u32, y: u32| {
        format!("width = \"20 mm\"\nplace = {{ at = [\"{x} mm\", \"{y} mm\"] }}\n{ALLOWED}")
    };
    for (keys, code) in [
        (format!("{}{screws}", at(15, 18)), "photo-under-head"),
        (at(5, 40), "photo-over-edge"),
        (at(14, 40), "photo-in-margin"),
        (
            format!("{}[[photo]]\nfile = \"tower.png\"\n{}", at(40, 40), at(50, 40)),
            "photo-over-photo",
        ),
    ] {
        let report = bench(&keys).report("cup.toml");
        assert!(codes(&report).contains(&code.to_owned()), "{code}: {:?}", codes(&report));
    }
}

/// The least width that is tried, in half millimetres.
const LEAST_WIDTH: u32 = 20;

#[test]
fn the_largest_photograph_is_the_largest_of_all_half_millimetres() {
    let most = "as large as the wording allows";
    let bench =
        bench(&format!("width = \"{most}\"\nproportion = \"3:4\"\nkeeps = \"3 mm\"\n{ALLOWED}"));
    let report = bench.report("cup.toml");
    let [x0, _, x1, _] = sides(photo(&report));
    // Every width that there could be, asked for by itself: the greatest that keeps all.
    let mut best = None;
    for half in LEAST_WIDTH..=120 {
        let width = f64::from(half) / 2.0;
        let keys = format!("width = \"{width} mm\"\nproportion = \"3:4\"\n{ALLOWED}");
        bench.put("cup.toml", with(&keys));
        let report = bench.report("cup.toml");
        let kept = report["phi"] == 1.0
            && report["lines"]
                .as_array()
                .unwrap()
                .iter()
                .all(|line| line["cap_height_mm"].as_f64().unwrap() >= 3.0 - 1e-6)
            && !codes(&report).iter().any(|code| {
                code.starts_with("photo-over")
                    || code.starts_with("photo-in")
                    || code.starts_with("photo-near")
                    || code.starts_with("photo-under-head")
            });
        if kept {
            best = Some(width);
        }
    }
    near(x1 - x0, best.expect("some width fits"), 1e-9);
}

#[test]
fn a_photograph_that_takes_all_is_told_to_leave_the_lettering_more() {
    let layout = |size: &str, lines: &[&str], keeps: &str| {
        let photo = "[[photo]]\nfile = \"tower.png\"\nproportion = \"3:4\"\n\
                     width = \"as large as the wording allows\"\n";
        let far = "[engraving]\nread_from = \"60 cm\"\n[lettering]\n";
        plain(size, lines, &format!("{photo}{keeps}{ALLOWED}"))
            .replace("[lettering]\n", far)
            .replace("Atkinson Hyperlegible", "EB Garamond")
    };
    let remedies = |text: String| -> Option<Vec<Vec<(String, String)>>> {
        let bench = Bench::with(&text);
        bench.put("tower.png", picture(600, 800));
        let report = bench.report("cup.toml");
        let text = |edit: &Value, key: &str| edit[key].as_str().unwrap().to_owned();
        let edits = |remedy: &Value| {
            let all = remedy["edits"].as_array().unwrap().iter();
            all.map(|edit| (text(edit, "key"), text(edit, "value"))).collect()
        };
        // The first finding of too little room carries them.
        finding(&report, "hard-to-read")?;
        let all = report["findings"].as_array().unwrap().iter();
        let all = all.flat_map(|finding| finding["remedies"].as_array().unwrap());
        Some(all.map(edits).collect())
    };
    let words = ["RUNG IN HONOUR", "of fifty years at the tenor", "1976 – 2026"];
    let all = remedies(layout("120 x 80 mm", &words, "")).expect("hard to read");
    // The photograph would take what a larger plate gives.
    assert!(all.iter().flatten().all(|(key, _)| key != "plate.size"), "{all:?}");
    let keeps = |all: &[Vec<(String, String)>]| {
        let told = all.iter().flatten().find(|(key, _)| key == "photo.1.keeps");
        let (_, height) = told.expect("a height to be kept");
        height.trim_matches('"').strip_suffix(" mm").unwrap().parse::<f64>().unwrap()
    };
    let least = keeps(&all);
    let kept = |keeps: f64| format!("keeps = \"{keeps} mm\"\n");
    assert_eq!(remedies(layout("120 x 80 mm", &words, &kept(least))), None);
    assert!(remedies(layout("120 x 80 mm", &words, &kept(least - 0.5))).is_some());

    // Where even the smallest photograph leaves too little, both go together.
    let long = ["Presented by the bell-ringers of Marrowby Vale to their observatory"; 3];
    // On the second plate not even the floors are left.
    for size in ["80 x 50 mm", "56 x 36 mm"] {
        let all = remedies(layout(size, &long, "")).expect("hard to read");
        let plate = |edits: &&Vec<(String, String)>| edits[0].0 == "plate.size";
        let larger: Vec<_> = all.iter().filter(plate).collect();
        assert!(!larger.is_empty(), "{all:?}");
        for edits in larger {
            let size = edits[0].1.trim_matches('"');
            let height = keeps(std::slice::from_ref(edits));
            assert_eq!(remedies(layout(size, &long, &kept(height))), None, "{edits:?}");
        }
    }
    // What it is told to keep stays, where that is enough.
    let told = kept(4.75);
    let all = remedies(layout("56 x 36 mm", &long, &told)).expect("hard to read");
    assert!(all.iter().flatten().all(|(key, _)| key != "photo.1.keeps"), "{all:?}");
    let size = &all.iter().flatten().find(|(key, _)| key == "plate.size").unwrap().1;
    assert_eq!(remedies(layout(size.trim_matches('"'), &long, &told)), None, "{size}");
}

#[test]
fn ways_to_place_it_are_ranked_and_the_best_is_what_auto_takes() {
    let keys = format!("place = \"auto\"\nwidth = \"24 mm\" # agreed\n{ALLOWED}");
    let bench = bench(&keys);
    let auto = sides(photo(&bench.report("cup.toml")));
    let ran = bench.run(&["placings", "cup.toml", "-o", "ways.svg"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let rows: Vec<&str> = ran.out.lines().filter(|line| line.contains("of 100")).collect();
    assert!((3..=6).contains(&rows.len()), "{}", ran.out);
    let merit = |row: &str| -> u32 {
        row.split(" of 100").next().unwrap().split_whitespace().last().unwrap().parse().unwrap()
    };
    assert!(rows.windows(2).all(|pair| merit(pair[0]) >= merit(pair[1])), "{}", ran.out);
    // Of this size no side is better than the one that auto took.
    let source = Source { name: "cup.toml".to_owned(), text: with(&keys) };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let tower = |_: &str| Ok(picture(600, 800));
    let layout = read(&source, Shop::default(), &Vocabulary { lettering }, &tower).unwrap();
    let ways = placings(&layout, 0).unwrap();
    let of_size = ways.iter().filter(|(way, _)| (way.stand.width - 24.0).abs() < 1e-9);
    let best = of_size.max_by(|one, other| one.0.merits.total().total_cmp(&other.0.merits.total()));
    bench.put("best.toml", {
        let Standing::Side(side) = best.unwrap().0.stand.spot else { panic!("no side") };
        with(&keys).replace("\"auto\"", &format!("\"{}\"", side.word()))
    });
    let best = sides(photo(&bench.report("best.toml")));
    for (found, wanted) in auto.iter().zip(best) {
        near(*found, wanted, 1e-9);
    }
    // What is chosen is what the layout then asks for; the remark stays.
    let before = String::from_utf8(bench.read("cup.toml")).unwrap();
    let ran = bench.run(&["placings", "cup.toml", "--choose", "1"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let after = String::from_utf8(bench.read("cup.toml")).unwrap();
    assert!(after.contains(" # agreed") && !after.contains("auto"), "{after}");
    assert_eq!(before.lines().count(), after.lines().count());
    for (number, status) in [("7", 2), ("0", 2)] {
        let ran = bench.run(&["placings", "cup.toml", "--choose", number]);
        assert_eq!(ran.status, status, "{}{}", ran.out, ran.err);
    }
    assert_eq!(String::from_utf8(bench.read("cup.toml")).unwrap(), after);
    let ran = bench.run(&["placings", "cup.toml", "--photo", "2"]);
    assert_eq!(ran.status, 2);
    assert!(
        ran.err.contains("there is no photograph 2: the layout has one photograph"),
        "{}",
        ran.err
    );
}

/// The artwork's picture of one photograph.
fn made(bench: &Bench) -> image::DynamicImage {
    let ran = bench.run(&["make", "cup.toml", "-o", "made"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    image::load_from_memory(&bench.read("made/artwork-photo-1-mm.png")).unwrap()
}

#[test]
fn dots_keep_the_light_of_the_picture_within_its_outline_and_none_stand_outside() {
    // Level 188 is half of white's light (sRGB, IEC 61966-2-1).
    let tone = "tone = { stretch = 0, midtone = 0.5, sharpen = 0 }";
    let keys = format!(
        "width = \"30 mm\"\nheight = \"40 mm\"\nshape = \"oval\"\nprocess = \"fibre laser\"\n{tone}\n{ALLOWED}"
    );
    let bench = bench(&keys);
    bench.put("tower.png", flat(188));
    let dots = made(&bench).into_luma8();
    assert_eq!((dots.width(), dots.height()), (600, 800));
    let (mut inside, mut outside) = (0_u32, 0_u32);
    for (x, y, dot) in dots.enumerate_pixels() {
        if dot.0[0] == 0 {
            let (u, v) = ((f64::from(x) + 0.5) / 300.0 - 1.0, (f64::from(y) + 0.5) / 400.0 - 1.0);
            if u * u + v * v <= 1.0 { inside += 1 } else { outside += 1 }
        }
    }
    assert_eq!(outside, 0);
    // Half of the ellipse's area, pi · 300 · 400 dots.
    let share = f64::from(inside) / (PI * 300.0 * 400.0);
    near(share, 1.0 - 0.503, 0.005);
}

#[test]
fn light_marks_are_made_where_the_picture_is_light() {
    let keys = |fill: &str| {
        let text = with(&format!(
            "width = \"20 mm\"\nheight = \"20 mm\"\nprocess = \"etched\"\ntone = {{ stretch = 0, midtone = 0.5, sharpen = 0 }}\n{ALLOWED}"
        ));
        text.replace("[lettering]", &format!("[engraving]\nfill = \"{fill}\"\n[lettering]"))
            .replace("material = \"brass\"", "material = \"slate\"")
    };
    let bench = bench("width = \"20 mm\"");
    bench.put("tower.png", flat(230));
    let share = |bench: &Bench| {
        let dots = made(bench).into_luma8();
        let made = dots.pixels().filter(|dot| dot.0[0] == 0).count();
        made as f64 / f64::from(dots.width() * dots.height())
    };
    bench.put("cup.toml", keys("white"));
    let white = share(&bench);
    bench.put("cup.toml", keys("black"));
    let black = share(&bench);
    // A light picture: much white paint on slate, or few dark marks.
    assert!(white > 0.7 && black < 0.3, "{white} {black}");
    near(white + black, 1.0, 0.02);
}

#[test]
fn from_behind_the_picture_is_mirrored_with_everything_else() {
    let keys = format!("width = \"30 mm\"\nheight = \"40 mm\"\nprocess = \"printed\"\n{ALLOWED}");
    let clear = with(&keys).replace("material = \"brass\"", "material = \"acrylic\"").replace(
        "[lettering]",
        "[engraving]\nfrom = \"behind\"\nprocess = \"co2 laser\"\n[lettering]",
    );
    let bench = bench(&keys);
    bench.put("cup.toml", clear);
    let turned = made(&bench).into_rgb8();
    // Red grows from left to right in the picture.
    let red = |x: u32| turned.get_pixel(x, turned.height() / 2).0[0];
    assert!(red(1) > 240 && red(turned.width() - 2) < 15, "{} {}", red(1), red(turned.width() - 2));
    let text = String::from_utf8(bench.read("made/artwork.txt")).unwrap();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // Left of 120 mm, less 6 mm of margin and 30 mm of photograph: 84 mm from behind.
    assert!(text.contains("its top left corner 84.000 mm from the left"), "{text}");
}

#[test]
fn a_piece_that_is_set_in_has_its_edge_and_a_wider_pocket() {
    let keys = format!(
        "width = \"30 mm\"\nheight = \"30 mm\"\nshape = \"rectangle\"\nprocess = \"printed\"\ninset = {{ thickness = \"0.5 mm\", gap = \"0.2 mm\" }}\n{ALLOWED}"
    );
    let bench = bench(&keys);
    let report = bench.report("cup.toml");
    let _ = made(&bench);
    for name in ["artwork-pocket-mm.dxf", "artwork-photo-piece-mm.dxf", "artwork-photo-mm.pdf"] {
        assert!(bench.has(&format!("made/{name}")), "{:?}", bench.names("made"));
    }
    let cut = &report["cut"]["photos"][0];
    let [x0, ..] = sides(photo(&report));
    let begins = |path: &Value| {
        let text = path.as_str().unwrap().to_owned();
        let numbers = text
            .trim_start_matches('M')
            .split(['l', 'c', 'q', 'z'])
            .next()
            .unwrap()
            .trim()
            .to_owned();
        numbers.split_whitespace().next().unwrap().parse::<f64>().unwrap() / 1000.0
    };
    near(begins(&cut["outline"]), x0, 1e-9);
    near(begins(&cut["pocket"]), x0 - 0.2, 1e-9);
    assert!(finding(&report, "pocket-through-plate").is_none());
    bench.put("cup.toml", with(&keys).replace("0.5 mm", "1.5 mm"));
    assert!(finding(&bench.report("cup.toml"), "pocket-through-plate").is_some());
}

#[test]
fn the_mark_and_the_sign_off_hold_the_picture_the_crop_and_the_making() {
    let keys = format!(
        "width = \"30 mm\"\nshape = \"oval\"\nprocess = \"etched\"\nframe = {{ weight = \"0.4 mm\" }}\nengrave_credit = {{ cap_height = \"3 mm\" }}\n{ALLOWED}"
    );
    let bench = bench(&keys);
    bench.sign("cup.toml");
    let report = bench.report("cup.toml");
    assert_eq!(report["sign_off"]["holds"], true);
    let changed = |bench: &Bench, said: &str| {
        let report = bench.report("cup.toml");
        let message = finding(&report, "changed-since-sign-off").unwrap()["message"].to_string();
        assert!(message.contains(said), "{said}: {message}");
        report
    };
    bench.put("tower.png", picture(601, 800));
    let other = changed(&bench, "photograph 1, picture");
    bench.put("tower.png", picture(600, 800));
    let mut reports = vec![report, other];
    for (old, new, said) in [
        ("shape = \"oval\"", "shape = \"oval\"\nzoom = 1.1", "photograph 1, crop"),
        ("width = \"30 mm\"", "width = \"31 mm\"", "photograph 1, place and size"),
        ("\"etched\"", "\"fibre laser\"", "photograph 1, making"),
        ("weight = \"0.4 mm\"", "weight = \"0.5 mm\"", "photograph 1"),
        ("I. Penhallow\"\n", "J. Penhallow\"\n", "its outline, pocket, frame or credit"),
    ] {
        let text = with(&keys);
        let at = text.rfind(old).unwrap();
        bench.put("cup.toml", format!("{}{new}{}", &text[..at], &text[at + old.len()..]));
        reports.push(changed(&bench, said));
    }
    bench.put("cup.toml", with(&keys));
    assert_eq!(bench.report("cup.toml")["sign_off"]["holds"], true);
    // And the mark follows from the report alone.
    let question = serde_json::json!({ "reports": reports });
    if let Some(answer) = asked("mark.py", &question) {
        for (report, mark) in reports.iter().zip(answer["marks"].as_array().unwrap()) {
            assert_eq!(report["proof_mark"], *mark);
        }
    }
    let marks: std::collections::BTreeSet<String> =
        reports.iter().map(|report| report["proof_mark"].to_string()).collect();
    assert_eq!(marks.len(), reports.len());
}
