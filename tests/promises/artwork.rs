//! Promises about artwork: what is cut and nothing else, where and how large it is cut,
//! from either side; and the text that goes with it.

use ansata::drawing::{Drawing, Item, LineType, Page};
use ansata::job::Job;
use ansata::sheets::{Artwork, artwork, proof_lettering};
use kurbo::{Affine, BezPath, Rect, Shape};

use crate::sheets::boxes::{paths, texts};
use crate::sheets::group;
use crate::sheets::jobs::{Numbers, job_of, random_job};

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

fn dedication() -> Job {
    job_of(include_str!("../../layouts/dedication.toml"))
}

#[test]
fn artwork_is_outlines_at_true_size_and_nothing_else() {
    let mut numbers = Numbers(99);
    let mut jobs: Vec<Job> = (0..10).map(|_| random_job(&mut numbers).1).collect();
    jobs.push(dedication());
    for job in jobs {
        let drawing = artwork(&job).whole.sheet.drawing;
        assert_eq!(drawing.background, None);
        let [page] = drawing.pages.as_slice() else { panic!("one page") };
        // The plate's box and 8 mm all round, for the corner marks.
        assert!(near(page.width, job.layout.plate.width + 16.0));
        assert!(near(page.height, job.layout.plate.height + 16.0));
        let order = ["lettering", "border", "outline", "holes", "corner-marks"];
        let names: Vec<usize> = page
            .items
            .iter()
            .map(|item| match item {
                Item::Group(group) => {
                    order.iter().position(|name| *name == group.name).expect("an operation")
                }
                _ => panic!("everything belongs to an operation"),
            })
            .collect();
        assert!(names.is_sorted(), "{names:?}");
        assert!(texts(page).is_empty());
        for (path, place) in paths(&page.items, Affine::IDENTITY) {
            assert_eq!(place, Affine::translate((8.0, 8.0)));
            assert!(path.fill.is_some() != path.stroke.is_some(), "filled or drawn, not both");
            if let Some(stroke) = path.stroke {
                // A dashed line would be cut as dashes.
                assert_eq!(stroke.line_type, LineType::Continuous);
            }
        }
        for part in ["left edge and the top edge", "mm", "no allowance made"] {
            assert!(drawing.description.contains(part), "{part}");
        }
    }
}

#[test]
fn artwork_has_no_inner_edges_to_engrave() {
    // Cinzel draws letters from overlapping strokes and Great Vibes joins letters:
    // the drawn area exceeds the covered area there. In the artwork it may not.
    let job = job_of(
        "ansata = 1\ntitle = \"Joined\"\n[plate]\nsize = \"120 x 60 mm\"\nmaterial = \"brass\"\n\
         [[line]]\ntext = \"MARROWBY VALE\"\nlettering = \"Cinzel\"\n\
         [[line]]\ntext = \"Elowen Tarrant\"\nlettering = \"Great Vibes\"\n",
    );
    let covered = |page: &Page| {
        // Coverage of the filled shapes, by the renderer, 10 dots a millimetre.
        let drawing = Drawing {
            title: String::new(),
            description: String::new(),
            background: Some([255; 3]),
            pages: vec![page.clone()],
        };
        let png = ansata::drawing::write::png(&drawing, 254.0).expect("a picture");
        let picture = image::load_from_memory(&png).expect("a PNG").to_luma8();
        picture.pixels().map(|pixel| f64::from(255 - pixel.0[0]) / 255.0).sum::<f64>() / 100.0
    };
    let only_letters = |page: &Page| Page {
        items: vec![group(&page.items, "lettering").expect("lettering").clone().into()],
        ..page.clone()
    };
    let drawn = |page: &Page| {
        let letters = group(&page.items, "lettering").expect("lettering");
        let all = paths(&letters.items, Affine::IDENTITY);
        all.iter().map(|(path, _)| path.path.area().abs()).sum::<f64>()
    };
    let united = artwork(&job).whole.sheet.drawing;
    let raw = proof_lettering(&job).drawing;
    let (united, raw) = (&united.pages[0], &raw.pages[0]);
    let ink = covered(&only_letters(united));
    assert!((ink - covered(&only_letters(raw))).abs() < 0.01 * ink, "nothing else has changed");
    assert!(
        (drawn(united) - ink).abs() < 0.01 * ink,
        "{} mm² drawn, {ink} mm² inked",
        drawn(united)
    );
    assert!(drawn(raw) > 1.02 * ink, "{} mm² drawn before", drawn(raw));
}

/// A clear plate with one hole off its middle and lettering off its middle.
fn clear_plate(from: &str) -> Job {
    job_of(&format!(
        "ansata = 1\ntitle = \"Dome hours\"\n[plate]\nsize = \"100 x 50 mm\"\n\
         material = \"acrylic\"\nthickness = \"3 mm\"\n\
         shape = \"points\"\npoints = [[\"0 mm\", \"0 mm\"], [\"100 mm\", \"0 mm\"], \
         [\"100 mm\", \"50 mm\"], [\"30 mm\", \"50 mm\"], [\"0 mm\", \"20 mm\"]]\n\
         [engraving]\nprocess = \"co2 laser\"\nfrom = \"{from}\"\n\
         [[line]]\ntext = \"Æon B8\"\nlettering = \"Cinzel\"\nalign = \"left\"\n\
         [mount]\nfixing = {{ kind = \"pin\", shank = \"1 mm\", head = \"2 mm\", length = \"9 mm\" }}\n\
         holes = {{ points = [[\"92 mm\", \"8 mm\"]] }}\n"
    )
    .replace("size = \"100 x 50 mm\"\n", ""))
}

/// Every path and circle of an operation, mm from zero.
fn shapes(made: &Artwork, name: &str) -> Vec<BezPath> {
    let page = &made.whole.sheet.drawing.pages[0];
    let zero = made.whole.zero;
    let found = group(&page.items, name).unwrap_or_else(|| panic!("no {name}"));
    let to = Affine::translate((-zero.0, -zero.1)) * found.transform;
    let each = found.items.iter().map(|item| match item {
        Item::Path(path) => to * path.path.clone(),
        Item::Circle(circle) => to * circle.path().path,
        _ => panic!("{name} holds more than outlines"),
    });
    each.collect()
}

fn boxed(shapes: &[BezPath]) -> Rect {
    let boxes = shapes.iter().map(Shape::bounding_box);
    boxes.reduce(|all, next| all.union(next)).expect("something drawn")
}

#[test]
fn artwork_from_behind_is_the_same_plate_turned_over_with_its_holes() {
    let (front, behind) = (artwork(&clear_plate("front")), artwork(&clear_plate("behind")));
    // The hole is 92 mm from the left seen from the front, so 8 mm from behind.
    assert!((boxed(&shapes(&front, "holes")).center().x - 92.0).abs() < 1e-6);
    assert!((boxed(&shapes(&behind, "holes")).center().x - 8.0).abs() < 1e-6);
    for name in ["lettering", "outline", "holes", "corner-marks"] {
        let (one, other) = (shapes(&front, name), shapes(&behind, name));
        assert_eq!(one.len(), other.len());
        let (a, b) = (boxed(&one), boxed(&other));
        for (seen, turned) in
            [(a.x0, 100.0 - b.x1), (a.x1, 100.0 - b.x0), (a.y0, b.y0), (a.y1, b.y1)]
        {
            assert!((seen - turned).abs() < 1e-6, "{name}: {a:?} {b:?}");
        }
    }
    // The area keeps its sign: outer outlines still run the same way round as seen.
    for (one, other) in shapes(&front, "lettering").iter().zip(shapes(&behind, "lettering")) {
        assert!(one.area() > 0.0 && (one.area() - other.area()).abs() < 1e-6);
    }
    for part in ["MIRRORED", "seen from behind", "read it through its front"] {
        let told = behind.text.replace("\n    ", " ");
        assert!(told.contains(part) && !front.text.contains(part), "{part}: {told}");
    }
    assert!(behind.whole.remark.contains("MIRRORED"));
    assert_ne!(clear_plate("front").mark, clear_plate("behind").mark);
}

#[test]
fn the_parts_are_the_whole_on_the_same_page() {
    let made = artwork(&dedication());
    let names: Vec<&str> = made.parts.iter().map(|(name, _)| *name).collect();
    assert_eq!(names, ["lettering", "border", "outline", "holes"]);
    let whole = &made.whole.sheet.drawing.pages[0];
    for (name, part) in &made.parts {
        let page = &part.sheet.drawing.pages[0];
        assert_eq!((page.width, page.height), (whole.width, whole.height));
        assert_eq!(
            (part.zero, &part.sheet.plate_at),
            (made.whole.zero, &made.whole.sheet.plate_at)
        );
        for of_it in [*name, "corner-marks"] {
            let debug = |page: &Page| format!("{:?}", group(&page.items, of_it).unwrap());
            assert_eq!(debug(page), debug(whole));
        }
        assert_eq!(page.items.len(), 2, "{name} alone, with its corner marks");
        assert!(made.text.contains(&format!("artwork-{name}-mm")));
    }
}

#[test]
fn corner_marks_stand_in_line_with_the_plates_sides_and_clear_of_it() {
    let made = artwork(&dedication());
    let marks = shapes(&made, "corner-marks");
    assert_eq!(marks.len(), 8);
    for mark in &marks {
        let at = mark.bounding_box();
        let on_side =
            |low: f64, high: f64, side: f64| near(low, high) && (near(low, 0.0) || near(low, side));
        assert!(on_side(at.x0, at.x1, 120.0) || on_side(at.y0, at.y1, 80.0), "{at:?}");
        let inside = at.x1 > -2.0 && at.x0 < 122.0 && at.y1 > -2.0 && at.y0 < 82.0;
        assert!(
            !inside
                || near(at.x1, -2.0)
                || near(at.x0, 122.0)
                || near(at.y1, -2.0)
                || near(at.y0, 82.0),
            "{at:?}"
        );
    }
}

#[test]
fn what_the_text_says_is_what_is_drawn() {
    let job = dedication();
    let made = artwork(&job);
    let text = made.text.replace("\n    ", " ");
    let letters: f64 = shapes(&made, "lettering").iter().map(|path| path.area()).sum();
    let along: f64 = shapes(&made, "lettering").iter().map(|path| path.perimeter(1e-6)).sum();
    assert!(text.contains(&format!("area filled {letters:.2} mm²")), "{letters}: {text}");
    assert!(text.contains(&format!("length along them {along:.2} mm")), "{along}: {text}");
    // Four holes as the mount has them, by hand: πd each.
    let round: f64 =
        job.mount.holes.iter().map(|hole| std::f64::consts::PI * hole.clearance_diameter).sum();
    assert!(text.contains(&format!("length along them {round:.2} mm")), "{round}: {text}");
    // 120 x 80 with corners of 5 mm: 400 - 8·5 + 2π·5 = 391.42 mm round.
    assert!(text.contains("length along them 391.42 mm"), "{text}");
    for part in ["120 mm (4.724 in) x 80 mm", &job.mark, "NO ALLOWANCE", "0.01 mm", "0.300 mm wide"]
    {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert!(made.text.lines().all(|row| row.chars().count() <= 78), "{}", made.text);
}
