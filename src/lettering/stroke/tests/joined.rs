//! Ground between glyphs that touch.

use kurbo::{BezPath, Vec2};

use super::{all, bar, disc, face, near, polygon, strokes};
use crate::lettering::shaped_run;
use crate::lettering::stroke::joined::{Pocket, between, pocket};

/// The second stands `moved` from the first, at `scale`.
fn pocket_of(a: &BezPath, b: &BezPath, scale: f64, moved: (f64, f64)) -> Pocket {
    between((&strokes(a), &strokes(b)), scale, Vec2::from(moved))
}

fn wide(pocket: Pocket, wanted: f64, what: &str) {
    match pocket {
        Pocket::Wide(narrow) => near(Some(narrow), wanted, what),
        other => panic!("{what}: {other:?}"),
    }
}

#[test]
fn what_two_joined_letters_shut_in_is_as_wide_as_it_is() {
    // A stem of 0.1 with a foot 0.35 long, 0.06 thick; the next letter's stem stands on it
    // 0.25 on: 0.15 of ground between the stems, 0.64 deep.
    let foot = all(&[bar(0.0, 0.0, 0.1, 0.7), bar(0.0, 0.0, 0.35, 0.06)]);
    let stem = bar(0.0, 0.0, 0.1, 0.7);
    wide(pocket_of(&foot, &stem, 1.0, (0.25, 0.0)), 0.15, "between stems");
    // Half as large the second begins where it did.
    wide(pocket_of(&foot, &stem, 0.5, (0.25, 0.0)), 0.15, "a small stem");
    // Two halves of a frame: a closed counter of 0.2 by 0.5.
    let half = all(&[bar(0.0, 0.0, 0.1, 0.7), bar(0.0, 0.0, 0.35, 0.1), bar(0.0, 0.6, 0.35, 0.1)]);
    wide(pocket_of(&half, &stem, 1.0, (0.3, 0.0)), 0.2, "nothing between");
}

#[test]
fn the_crotch_where_two_letters_meet_is_no_gap() {
    // Strokes that lean together and cross: wedges on all four sides.
    let lean = polygon(&[(0.0, 0.0), (0.1, 0.0), (0.35, 0.7), (0.25, 0.7)]);
    let back = polygon(&[(0.35, 0.0), (0.45, 0.0), (0.2, 0.7), (0.1, 0.7)]);
    assert_eq!(pocket_of(&lean, &back, 1.0, (-0.05, 0.0)), Pocket::None);
    // Bowls that touch at their sides.
    let bowl = disc(0.0, 0.35, 0.35);
    assert_eq!(pocket_of(&bowl, &bowl, 1.0, (0.695, 0.0)), Pocket::None);
}

#[test]
fn a_counter_of_one_letter_is_no_gap_to_the_next() {
    let ring = all(&[disc(0.0, 0.0, 0.3), disc(0.0, 0.0, 0.1).reverse_subpaths()]);
    let tail = bar(0.25, -0.3, 0.4, 0.05);
    assert_eq!(pocket_of(&ring, &tail, 1.0, (-0.2, 0.0)), Pocket::None);
}

#[test]
fn joined_letters_of_a_script_have_pockets_and_a_pair_is_measured_once() {
    let face = face("Great Vibes", &[]);
    let run = shaped_run("nu", &face, &[]);
    let [n, u] = run.glyphs.as_slice() else { panic!("{run:?}") };
    let moved = Vec2::new(u.x_em - n.x_em, 0.0) / face.cap_em();
    let ask = |by: f64| pocket((&face, n.id), (&face, u.id), 1.0, moved + Vec2::new(by, 0.0));
    let found = ask(0.0);
    let Pocket::Wide(narrow) = found else { panic!("{found:?}") };
    // Between the stems of n and u: wider than a stroke, narrower than the letters are high.
    assert!(narrow.width > 0.02 && narrow.width < 0.4, "{narrow:?}");
    assert_eq!(ask(1e-6), found);
}
