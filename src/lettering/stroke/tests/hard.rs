//! Outlines that are no letters, or drawn by careless hands.

use kurbo::{Affine, BezPath};

use super::{all, bar, disc, face, near, outline, polygon, strokes};
use crate::lettering::stroke::glyph::{measured, of_outline};

#[test]
fn a_face_of_any_number_of_units_to_the_em_is_measured_alike() {
    // A font file may say 16 units to the em and draw its letters as for 1000: their
    // capitals are then 45 em high. The measure took ten seconds for such a word.
    let face = face("Besley", &[]);
    for letter in "Bag&".chars() {
        let path = outline(&face, letter);
        let own = measured(&path).unwrap();
        for scale in [45.0, 0.001] {
            let other = of_outline(&(Affine::scale(scale) * path.clone()), scale).unwrap();
            for (a, b) in [(own.stroke, other.stroke), (own.counter, other.counter)] {
                let (a, b) = (a.unwrap().width, b.unwrap().width);
                assert!((a - b).abs() < 1e-6, "{letter} at {scale}: {a} {b}");
            }
        }
    }
}

#[test]
fn what_is_too_much_to_measure_is_not_called_sound() {
    // A comb with more teeth than a letter has edges; a line longer than any letter's.
    let comb = (0..4000).map(|tooth| f64::from(tooth) * 0.002);
    let comb: Vec<(f64, f64)> =
        comb.flat_map(|x| [(x, 0.0), (x + 0.0005, 1.0), (x + 0.001, 0.0)]).collect();
    let comb = polygon(&[comb, vec![(8.0, -1.0), (0.0, -1.0)]].concat());
    assert!(measured(&comb).is_none());
    assert!(measured(&bar(0.0, 0.0, 0.1, 1e9)).is_none());
    let mut unsound = BezPath::new();
    unsound.move_to((f64::NAN, 0.0));
    unsound.line_to((1.0, 0.0));
    unsound.close_path();
    assert!(measured(&unsound).is_none());
    for cap_em in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(of_outline(&bar(0.0, 0.0, 0.1, 0.7), cap_em).is_none(), "{cap_em}");
    }
}

#[test]
fn slips_where_strokes_overlap_are_neither_counters_nor_strokes() {
    // Of two strokes that should overlap but leave a hole 0.000 2 wide and 0.15 long (the
    // be of Jost Italic), and a speck beside a letter (the 3 of Bodoni Moda).
    let hole = polygon(&[(0.1, 0.1), (0.1, 0.25), (0.1002, 0.25), (0.1002, 0.1)]);
    let letter = all(&[bar(0.0, 0.0, 0.2, 0.7), hole]);
    let widths = strokes(&letter);
    near(widths.stroke, 0.2, "stem");
    assert!(widths.counter.is_none(), "{:?}", widths.counter);
    let speck =
        all(&[bar(0.0, 0.0, 0.2, 0.7), polygon(&[(0.3, 0.1), (0.32, 0.1), (0.32, 0.100_02)])]);
    near(strokes(&speck).stroke, 0.2, "stem beside a speck");
    // A hole of 0.01 is one, and so is a hairline of 0.000 5 that is a letter.
    let slot = all(&[bar(0.0, 0.0, 0.2, 0.7), bar(0.1, 0.1, 0.01, 0.4).reverse_subpaths()]);
    near(strokes(&slot).counter, 0.01, "slot");
    near(strokes(&bar(0.0, 0.0, 0.0005, 0.7)).stroke, 0.0005, "hairline");
    assert!(strokes(&disc(0.0, 0.0, 0.02)).stroke.is_some());
}

#[test]
fn the_least_widths_of_shipped_styles_are_those_of_letters() {
    // Each was 0 to 0.001 4 once, for such a slip.
    for (name, letter, counter) in [
        ("Bodoni Moda", '3', false),
        ("EB Garamond Italic", 'd', true),
        ("Cinzel Bold", 'Y', true),
        ("Jost Italic", 'б', true),
        ("Yellowtail", 'F', true),
    ] {
        let widths = measured(&outline(&face(name, &[]), letter)).unwrap();
        let stroke = widths.stroke.unwrap().width;
        assert!(stroke > 0.01, "{name} {letter}: {stroke}");
        let width = widths.counter.map_or(1.0, |counter| counter.width);
        assert!(!counter || width > 0.01, "{name} {letter}: {width}");
    }
}
