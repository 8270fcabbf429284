//! Promises about the table of least widths that the list of lettering shows. The strokes of
//! single-stroke styles are as wide as the cut, so these are not in it.

use ansata::layout::LetteringChoice;
use ansata::lettering::{Face, Minima, alphabet, catalogue, minima_row};

/// The stroke of a sign's I in heights of the I: ADA 2010 Standards, 703.5.7 (visual
/// characters).
const ADA_STROKE: std::ops::RangeInclusive<f64> = 0.10..=0.30;

/// The table's last figure, and what flattening may do to it.
const WITHIN: f64 = 0.0002;

#[test]
fn the_table_says_what_measuring_every_letter_of_every_style_says() {
    let list = catalogue();
    let mut off = Vec::new();
    for entry in list.entries.iter().filter(|entry| !entry.single_stroke()) {
        let face = Face::open(&LetteringChoice::shipped(&*entry.name)).unwrap();
        let letters = alphabet(list, entry, &face);
        assert!(letters.len() >= 62, "{}: {letters:?}", entry.name);
        let got = Minima::measured(&entry.name, &face, &letters).unwrap();
        let row = minima_row(&entry.name).unwrap_or_else(|| panic!("no row: {}", entry.name));
        let same = (got.stroke_in, got.counter_in) == (row.stroke_in, row.counter_in);
        let pairs = [(got.stroke, row.stroke), (got.counter, row.counter), (got.stem, row.stem)];
        if !same || pairs.iter().any(|(got, told)| (got - told).abs() > WITHIN) {
            off.push(got.row());
        }
    }
    assert!(
        off.is_empty(),
        "`cargo bench --bench speed -- minima` makes it anew:\n{}",
        off.join("\n")
    );
}

#[test]
fn no_style_has_strokes_or_counters_that_only_a_slip_of_drawing_makes() {
    // The thinnest hairlines here, as read off a raster, are 0.010 of the cap height; the
    // narrowest true counter is the slot in the R of Yellowtail. Slips are 0.0003 and less.
    for entry in catalogue().entries.iter().filter(|entry| !entry.single_stroke()) {
        let row = minima_row(&entry.name).unwrap();
        assert!(row.stroke >= 0.01 && row.counter >= 0.005, "{row:?}");
    }
}

#[test]
fn the_stroke_of_i_is_held_against_the_standard_for_signs() {
    // Told with each style; a script's hairline I is what the rule keeps off signs.
    let filled = catalogue().entries.iter().filter(|entry| !entry.single_stroke());
    let outside: Vec<&str> = filled
        .map(|entry| entry.name.as_str())
        .filter(|name| !ADA_STROKE.contains(&minima_row(name).unwrap().stem))
        .collect();
    assert_eq!(outside, ["Great Vibes"]);
}
