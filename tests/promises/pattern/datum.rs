//! What a pattern is measured from, and pages that its drawing needs for itself.

use ansata::drawing::LineType;
use ansata::sheets::{PrintedBars, corrected_pattern, pattern};
use kurbo::{Affine, Shape};

use crate::sheets::boxes::paths;
use crate::sheets::jobs::job_of;
use crate::sheets::{group, said, squeezed};

/// A plate in the middle of what the trim leaves, which is not the middle of the face.
const BESIDE_THE_MIDDLE: &str = "ansata = 1\ntitle = \"Ringers\"\n[plate]\nsize = \"from face\"\n\
     reveal = \"6 mm\"\nmaterial = \"brass\"\nthickness = \"2 mm\"\n[lettering]\ndefault = \"Cinzel\"\n[[line]]\n\
     text = \"Marrowby Vale\"\n[mount]\nholes = \"two sides\"\n\
     fixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n[face]\n\
     size = \"120 x 110 mm\"\nmaterial = \"black walnut\"\nthickness = \"19 mm\"\n\
     trim = { bottom = \"20 mm\" }\n";

#[test]
fn the_centre_line_that_is_zero_is_the_one_that_is_drawn() {
    let job = job_of(BESIDE_THE_MIDDLE);
    let plan = job.mount.face.as_ref().unwrap();
    // Trimmed by 20 mm below, the plate's middle lies above that of the face, at 55 mm.
    let zero = 55.0 - plan.plate_y;
    assert!(zero - job.layout.plate.height / 2.0 > 5.0, "{zero}");
    let sheet = pattern(&job);
    let (_, plate_y) = sheet.plate_at[0].unwrap();
    let drawn = paths(&sheet.drawing.pages[0].items, Affine::IDENTITY);
    let level: Vec<f64> = drawn
        .iter()
        .filter(|(path, _)| path.stroke.is_some_and(|s| s.line_type == LineType::LongDashedDotted))
        .map(|(path, place)| place.transform_rect_bbox(path.path.bounding_box()))
        .filter(|line| line.height() < 0.01 && line.width() > 20.0)
        .map(|line| line.y0 - plate_y)
        .collect();
    assert!(!level.is_empty() && level.iter().all(|y| (y - zero).abs() < 1e-6), "{level:?} {zero}");
    // Edges that face and trim share are the face's.
    let trim = group(&sheet.drawing.pages[0].items, "trim").unwrap();
    let edges = paths(&trim.items, trim.transform);
    assert_eq!(edges.len(), 1);
    let own = edges[0].1.transform_rect_bbox(edges[0].0.path.bounding_box());
    assert!(own.height() < 0.01 && (own.width() - 120.0).abs() < 1e-6, "{own:?}");
}

#[test]
fn a_drawing_that_needs_a_page_of_its_own_is_no_tile() {
    let job = job_of(include_str!("../../../layouts/ansate.toml"));
    let text = squeezed(&said(&pattern(&job).drawing));
    assert!(text.contains(&squeezed("The drawing at true size stands on a page of its own")));
    for word in ["Larger than the paper", "tile 1", "cut along", "Lay this tile"] {
        assert!(!text.contains(&squeezed(word)), "{word}");
    }
}

#[test]
fn a_correction_turns_with_the_page() {
    // The ansate plate's drawing lies; the words round it stand upright.
    let job = job_of(include_str!("../../../layouts/ansate.toml"));
    let sheet = corrected_pattern(&job, PrintedBars::new(99.0, 101.0).unwrap());
    let mut seen = [false; 2];
    for page in &sheet.drawing.pages {
        let lying = page.width > page.height;
        let [across, _, _, along, ..] =
            group(&page.items, "corrected").unwrap().transform.as_coeffs();
        let wanted =
            if lying { (100.0 / 99.0, 100.0 / 101.0) } else { (100.0 / 101.0, 100.0 / 99.0) };
        assert!((across - wanted.0).abs() < 1e-12 && (along - wanted.1).abs() < 1e-12);
        seen[usize::from(lying)] = true;
    }
    assert_eq!(seen, [true; 2]);
}
