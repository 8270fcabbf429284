//! Promises about the enlarged details of a proof: drawn at the scale that is said, and
//! dimensioned with what the plate has.

use ansata::drawing::{Drawing, Group};
use ansata::job::Job;
use ansata::sheets::proof;
use kurbo::{Affine, Rect, Shape};

use crate::sheets::boxes::paths;
use crate::sheets::jobs::job_of;
use crate::sheets::{group, said};

fn dedication() -> Job {
    job_of(include_str!("../../layouts/dedication.toml"))
}

fn drawn(job: &Job) -> Drawing {
    proof(job, &[]).drawing
}

fn named<'d>(drawing: &'d Drawing, name: &str) -> Option<&'d Group> {
    drawing.pages.iter().find_map(|page| group(&page.items, name))
}

/// Box of a group's paths in its own coordinates.
fn boxed(group: &Group) -> Rect {
    let all = paths(&group.items, Affine::IDENTITY);
    let boxes = all.iter().map(|(path, place)| (*place * path.path.clone()).bounding_box());
    boxes.reduce(|a, b| a.union(b)).unwrap()
}

/// The scale that the caption of a detail says.
fn scale(text: &str, detail: &str) -> f64 {
    let before = &text[..text.find(detail).unwrap()];
    let (scale, _) = before.trim_end().trim_end_matches('.').rsplit_once(" : 1").unwrap();
    scale.rsplit(' ').next().unwrap().parse().unwrap()
}

#[test]
fn the_smallest_letters_stand_enlarged_at_the_scale_that_is_said() {
    let job = dedication();
    let drawing = drawn(&job);
    let scale = scale(&said(&drawing), "The smallest letters");
    // The first line, set in capitals of Cinzel: its row on the true-size plaque.
    let row = &job.fitted.rows[0];
    assert!(job.fitted.rows.iter().all(|other| other.cap_height >= row.cap_height));
    let letters = group(&named(&drawing, "plate").unwrap().items, "lettering").unwrap();
    let (path, place) = paths(&letters.items, Affine::IDENTITY).remove(0);
    let true_size = (place * path.path).bounding_box();
    let enlarged = boxed(named(&drawing, "smallest-row-enlarged").unwrap());
    let times = enlarged.height() / true_size.height();
    assert!((times - scale).abs() < 0.001, "{times}, said {scale}");
    // Whole letters only, no wider than the page.
    assert!(enlarged.width() < 180.0 && enlarged.width() > 50.0, "{enlarged:?}");
    assert!(said(&drawing).contains(&format!("{:.2} mm", row.cap_height)));
}

#[test]
fn the_corner_is_dimensioned_with_what_stands_in_it() {
    let job = dedication();
    let drawing = drawn(&job);
    let text = said(&drawing);
    let scale = scale(&text, "The top left corner");
    for part in ["its radius 5 mm", "border line 0.3 mm wide", "hole \u{d8}2.58 mm"] {
        assert!(text.contains(part), "{part}: {text}");
    }
    // The border's middle and the hole's, across and down.
    for (part, times) in [("3 mm 0.118 in", 2), ("8 mm 0.315 in", 2)] {
        assert_eq!(text.matches(part).count(), times, "{part}: {text}");
    }
    // The hole stands where the scale puts it, as wide as it makes it.
    let corner = named(&drawing, "corner-enlarged").unwrap();
    let hole = &job.mount.holes[0];
    let round = hole.clearance_diameter * scale;
    let found = paths(&corner.items, Affine::IDENTITY).into_iter().any(|(path, place)| {
        let found = (place * path.path).bounding_box();
        let middle = found.center();
        (found.width() - round).abs() < 0.01
            && (found.height() - round).abs() < 0.01
            && (middle.x - hole.x * scale).abs() < 0.01
            && (middle.y - hole.y * scale).abs() < 0.01
    });
    assert!(found);
}

#[test]
fn a_plate_without_anything_in_its_corner_shows_none() {
    let bare = "ansata = 1\ntitle = \"Bare\"\n[plate]\nsize = \"80 x 40 mm\"\nshape = \"rounded\"\n\
        corner = \"4 mm\"\nmaterial = \"brass\"\n[lettering]\ndefault = \"Besley\"\n[[line]]\n\
        text = \"I\"\n";
    assert!(named(&drawn(&job_of(bare)), "corner-enlarged").is_none());
    // Letters too high to be enlarged are judged at true size.
    let large = bare.replace("80 x 40", "180 x 110");
    let drawing = drawn(&job_of(&large));
    // Twice their height is more than a detail takes.
    assert!(job_of(&large).fitted.rows[0].cap_height > 17.0);
    assert!(named(&drawing, "smallest-row-enlarged").is_none());
    assert!(!said(&drawing).contains("Enlarged"));
}
