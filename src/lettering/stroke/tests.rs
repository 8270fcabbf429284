//! Widths of shapes worked by hand, of letters against a raster, and what must not
//! change when a shape is turned, mirrored or scaled.

mod hard;
mod iso_3098;
mod joined;
mod opening;

use kurbo::{Affine, BezPath, Circle, Point, Rect, Shape, Vec2};

use super::gap::{Gap, gap_between};
use super::glyph::measured;
use super::{GlyphStrokes, Measure, Narrow};
use crate::layout::{Axis, AxisValue, LetteringChoice};
use crate::lettering::{Face, united};

/// Half a per cent or two ten-thousandths of the unit, the greater: the flattening's.
fn near(got: Option<Narrow>, wanted: f64, what: &str) {
    let got = got.unwrap_or_else(|| panic!("{what}: nothing measured")).width;
    let within = (0.005 * wanted).max(0.000_2);
    assert!((got - wanted).abs() <= within, "{what}: {got}, not {wanted}");
}

fn polygon(points: &[(f64, f64)]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(points[0]);
    for point in &points[1..] {
        path.line_to(*point);
    }
    path.close_path();
    path
}

fn all(paths: &[BezPath]) -> BezPath {
    paths.iter().flat_map(BezPath::iter).collect()
}

fn bar(x: f64, y: f64, width: f64, height: f64) -> BezPath {
    Rect::new(x, y, x + width, y + height).to_path(1e-6)
}

fn disc(x: f64, y: f64, radius: f64) -> BezPath {
    Circle::new((x, y), radius).to_path(1e-7)
}

fn strokes(path: &BezPath) -> GlyphStrokes {
    measured(&united(path, 1e-7)).unwrap()
}

#[test]
fn a_bar_is_as_thick_as_it_is_at_any_slant() {
    for degrees in [0.0_f64, 5.0, 17.0, 44.0, 90.0, 133.0] {
        let turned = Affine::rotate(degrees.to_radians()) * bar(0.1, 0.0, 0.03, 0.7);
        let bar = strokes(&turned);
        near(bar.stroke, 0.03, &format!("bar at {degrees}"));
        assert_eq!((bar.join, bar.counter), (None, None), "{degrees}");
    }
}

#[test]
fn a_dot_and_a_hyphen_are_strokes_and_no_tips() {
    near(strokes(&disc(0.0, 0.0, 0.06)).stroke, 0.12, "round dot");
    near(strokes(&bar(0.0, 0.0, 0.1, 0.1)).stroke, 0.1, "square dot");
    near(strokes(&bar(0.0, 0.0, 0.25, 0.08)).stroke, 0.08, "hyphen");
}

#[test]
fn a_ring_has_its_wall_and_its_hole() {
    let ring = all(&[disc(0.0, 0.0, 0.3), disc(0.0, 0.0, 0.1).reverse_subpaths()]);
    let ring = strokes(&ring);
    near(ring.stroke, 0.2, "wall");
    near(ring.counter, 0.2, "hole");
    assert_eq!(ring.join, None);
}

#[test]
fn an_o_of_two_circles_is_thinnest_where_they_come_nearest() {
    // Radii 0.35 and 0.30, the inner one 0.03 up: 0.05 - 0.03 at the top.
    let letter = all(&[disc(0.0, 0.0, 0.35), disc(0.0, 0.03, 0.30).reverse_subpaths()]);
    let letter = strokes(&letter);
    let stroke = letter.stroke.unwrap();
    // A run of its own length keeps to a little more: the wall grows by
    // 0.03 (1 - cos a), a = 0.01 / 0.325, which is 0.000 014.
    near(Some(stroke), 0.02, "thinnest wall");
    assert!(stroke.at.distance(Point::new(0.0, 0.34)) < 0.02, "{:?}", stroke.at);
    near(letter.counter, 0.6, "counter");
}

#[test]
fn a_hairline_e_is_measured_on_its_arms_and_between_them() {
    // Stem 0.12, three arms of 0.02, 0.4 long, with 0.30 and 0.26 between them.
    let letter = all(&[
        bar(0.0, 0.0, 0.12, 0.62),
        bar(0.0, 0.0, 0.52, 0.02),
        bar(0.0, 0.32, 0.52, 0.02),
        bar(0.0, 0.60, 0.52, 0.02),
    ]);
    let letter = strokes(&letter);
    near(letter.stroke, 0.02, "arms");
    near(letter.counter, 0.26, "between the upper arms");
}

/// An isosceles wedge lying along x, its sharp end at 0.
fn wedge(degrees: f64, length: f64) -> BezPath {
    let half = length * libm::tan(degrees.to_radians() / 2.0);
    polygon(&[(0.0, 0.0), (length, -half), (length, half)])
}

#[test]
fn a_taper_is_as_thick_as_one_stroke_from_its_end_whatever_its_angle() {
    for degrees in [2.0_f64, 4.0, 8.0, 12.0] {
        let slope = 2.0 * libm::tan(degrees.to_radians() / 2.0);
        // The ball across at x is 2 x tan(a/2) wide along the normal, as far from the tip
        // on either side; the usual width is that of the middle of the side.
        let usual = slope * 0.25;
        let got = strokes(&wedge(degrees, 0.5)).stroke.unwrap().width;
        // It must be a run as long as it is wide: between one and two strokes from the end.
        let (low, high) = (slope * usual * 0.9, slope * (usual * 2.0 + 0.04));
        assert!(got > low && got < high, "{degrees}: {got} {low} {high}");
    }
    // Sharper than two edges that face each other may be: as thick as the ball in it, which
    // touches three sides, area over half the perimeter.
    let sharp = wedge(30.0, 0.5);
    let radius = 2.0 * sharp.area() / sharp.perimeter(1e-9);
    near(strokes(&sharp).stroke, 2.0 * radius, "ball in a wedge");
}

#[test]
fn a_serif_s_tip_is_a_join_and_no_stroke() {
    // A stem of 0.1 with needles 0.06 long at its foot, 0.02 thick where they begin.
    let letter = all(&[
        bar(0.0, 0.0, 0.1, 0.7),
        polygon(&[(0.0, 0.0), (0.0, 0.012), (-0.06, 0.0)]),
        polygon(&[(0.1, 0.0), (0.16, 0.0), (0.1, 0.012)]),
    ]);
    let letter = strokes(&letter);
    near(letter.stroke, 0.1, "stem");
    assert!(letter.join.is_some_and(|join| join.width < 0.012), "{:?}", letter.join);
}

#[test]
fn a_neck_shorter_than_it_is_wide_is_a_join() {
    // Two squares of 0.2 joined by a bridge 0.03 wide and 0.01 long.
    let pair =
        all(&[bar(0.0, 0.0, 0.2, 0.2), bar(0.21, 0.0, 0.2, 0.2), bar(0.19, 0.08, 0.04, 0.03)]);
    let pair = strokes(&pair);
    near(pair.stroke, 0.2, "squares");
    near(pair.join, 0.03, "bridge");
    // The same bridge 0.05 long is a stroke.
    let apart =
        all(&[bar(0.0, 0.0, 0.2, 0.2), bar(0.25, 0.0, 0.2, 0.2), bar(0.19, 0.08, 0.07, 0.03)]);
    near(strokes(&apart).stroke, 0.03, "bridge");
}

#[test]
fn corners_that_face_each_other_across_ink_are_a_join() {
    // Two squares that overlap at a corner by 0.02 each way: the neck runs from notch to
    // notch, 0.02 √2.
    let pair = all(&[bar(0.0, 0.0, 0.2, 0.2), bar(0.18, 0.18, 0.2, 0.2)]);
    near(strokes(&pair).join, 0.02 * 2.0_f64.sqrt(), "notch to notch");
}

#[test]
fn corners_that_face_each_other_across_ground_are_a_counter_or_a_gap() {
    // Two diamonds' points 0.03 apart, joined by a bow far off.
    let left = polygon(&[(0.0, 0.0), (0.2, 0.2), (0.0, 0.4), (-0.2, 0.2)]);
    let right = Affine::translate((0.43, 0.0)) * left.clone();
    let glyph = strokes(&all(&[left.clone(), right.clone()]));
    near(glyph.counter, 0.03, "parts of one glyph");
    let (left, right) = (strokes(&left), strokes(&right));
    let gap = gap_between((&left, 1.0, Vec2::ZERO), (&right, 1.0, Vec2::ZERO), 1.0);
    assert!(matches!(gap, Gap::Wide(gap) if (gap.width - 0.03).abs() < 1e-9), "{gap:?}");
    // Joined into one contour.
    let bow = [bar(-0.05, -0.2, 0.53, 0.05), bar(-0.05, -0.2, 0.1, 0.3), bar(0.38, -0.2, 0.1, 0.3)];
    let joined = all(&[
        polygon(&[(0.0, 0.0), (0.2, 0.2), (0.0, 0.4), (-0.2, 0.2)]),
        polygon(&[(0.43, 0.0), (0.63, 0.2), (0.43, 0.4), (0.23, 0.2)]),
        all(&bow),
    ]);
    near(strokes(&joined).counter, 0.03, "aperture");
}

#[test]
fn a_crotch_is_no_counter_and_a_slot_is() {
    for degrees in [3.0_f64, 8.0, 13.0, 25.0, 40.0] {
        // A V: two strokes that meet at a point.
        let half = libm::tan(degrees.to_radians() / 2.0) * 0.7;
        let outer = polygon(&[(0.0, 0.0), (half + 0.1, 0.7), (-half - 0.1, 0.7)]);
        let inner = polygon(&[(0.0, 0.1), (half, 0.71), (-half, 0.71)]);
        let cut = linesweeper::binary_op(
            &outer,
            &inner,
            linesweeper::FillRule::NonZero,
            linesweeper::BinaryOp::Difference,
        );
        let letter: BezPath = cut.unwrap().contours().flat_map(|c| c.path.iter()).collect();
        assert_eq!(strokes(&letter).counter, None, "{degrees}");
    }
    // A U of straight sides 0.05 apart, 0.4 deep.
    let slot = all(&[bar(0.0, 0.0, 0.1, 0.5), bar(0.15, 0.0, 0.1, 0.5), bar(0.0, 0.0, 0.25, 0.1)]);
    near(strokes(&slot).counter, 0.05, "slot");
    // Notches of a bold M end bluntly, 0.02 wide; one stroke in they are no longer narrow.
    let m = polygon(&[
        (0.0, 0.0),
        (0.2, 0.0),
        (0.2, 0.5),
        (0.22, 0.5),
        (0.4, 0.0),
        (0.6, 0.0),
        (0.78, 0.5),
        (0.8, 0.5),
        (0.8, 0.0),
        (1.0, 0.0),
        (1.0, 0.7),
        (0.7, 0.7),
        (0.5, 0.2),
        (0.3, 0.7),
        (0.0, 0.7),
    ]);
    let counter = strokes(&m).counter;
    assert!(counter.is_none_or(|counter| counter.width > 0.05), "{counter:?}");
    // The closed counter of an A: the ball in it.
    let counter = polygon(&[(0.2, 0.2), (0.4, 0.2), (0.3, 0.45)]);
    let radius = 2.0 * counter.area() / counter.perimeter(1e-9);
    let closed = all(&[polygon(&[(0.0, 0.0), (0.6, 0.0), (0.3, 0.8)]), counter.reverse_subpaths()]);
    near(strokes(&closed).counter, 2.0 * radius, "ball in a counter");
}

#[test]
fn joined_letters_have_no_gap_and_an_island_is_measured_to_its_ring() {
    let (a, b) = (strokes(&bar(0.0, 0.0, 0.1, 0.5)), strokes(&bar(0.05, 0.2, 0.3, 0.1)));
    assert_eq!(gap_between((&a, 1.0, Vec2::ZERO), (&b, 1.0, Vec2::ZERO), 1.0), Gap::Touch);
    let moved = (&b, 1.0, Vec2::new(0.25, 0.0));
    assert!(matches!(gap_between((&a, 1.0, Vec2::ZERO), moved, 1.0),
        Gap::Wide(gap) if (gap.width - 0.2).abs() < 1e-12));
    assert_eq!(gap_between((&a, 1.0, Vec2::ZERO), moved, 0.1), Gap::Enough);
    // At half the scale the second begins at 0.25 + 0.025.
    let half = (&b, 0.5, Vec2::new(0.25, 0.0));
    assert!(matches!(gap_between((&a, 1.0, Vec2::ZERO), half, 1.0),
        Gap::Wide(gap) if (gap.width - 0.175).abs() < 1e-12));
    let ring =
        all(&[disc(0.0, 0.0, 0.4), disc(0.0, 0.0, 0.3).reverse_subpaths(), disc(0.02, 0.0, 0.2)]);
    near(strokes(&ring).counter, 0.08, "island");
}

#[test]
fn what_has_no_ink_has_no_widths() {
    for path in [BezPath::new(), polygon(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)])] {
        let nothing = measured(&path).unwrap();
        assert!(nothing.stroke.is_none() && nothing.join.is_none() && nothing.counter.is_none());
    }
}

fn face(name: &str, axes: &[(Axis, u32)]) -> std::sync::Arc<Face> {
    let mut choice = LetteringChoice::shipped(name.to_owned());
    choice.axes =
        axes.iter().map(|(axis, value)| (*axis, AxisValue::Thousandths(value * 1000))).collect();
    Face::open(&choice).unwrap()
}

/// A letter's united outline in cap heights.
fn outline(face: &Face, letter: char) -> BezPath {
    let path = face.outline(face.nominal(letter).unwrap());
    united(&(Affine::scale(1.0 / face.cap_em()) * path), 1e-6)
}

fn letter(face: &Face, letter: char) -> GlyphStrokes {
    match face.strokes(face.nominal(letter).unwrap()) {
        Measure::Widths(widths) => widths.clone(),
        other => panic!("{letter}: {other:?}"),
    }
}

#[test]
fn letters_mirrored_turned_and_scaled_have_the_same_widths() {
    let face = face("EB Garamond", &[]);
    // Not g: its link is as long as it is wide to a hair, a stroke or a join by a chord.
    for character in "aenoRSWk&8%".chars() {
        let path = outline(&face, character);
        let plain = measured(&path).unwrap();
        let mirrored = measured(&(Affine::FLIP_X * path.clone()).reverse_subpaths()).unwrap();
        let turned = measured(&(Affine::rotate(0.3) * path.clone())).unwrap();
        // Twice the size is flattened half as closely for its size.
        let doubled = measured(&(Affine::scale(2.0) * path.clone())).unwrap();
        for (other, scale, what) in
            [(mirrored, 1.0, "mirrored"), (turned, 1.0, "turned"), (doubled, 2.0, "doubled")]
        {
            for (a, b) in [(plain.stroke, other.stroke), (plain.counter, other.counter)] {
                let (a, b) = (a.map_or(0.0, |a| a.width), b.map_or(0.0, |b| b.width));
                assert!(
                    (a * scale - b).abs() < 0.03 * a * scale + 5e-4,
                    "{character} {what}: {a} {b}"
                );
            }
        }
    }
}

/// A lettering, its axes, a letter and its least width in cap heights.
type Measured = (&'static str, &'static [(Axis, u32)], char, f64);

/// Least widths in cap heights, measured on a raster of 500 pixels to the cap height
/// (nonzero fill, no hinting): the H's bar or the o's ring, the thinner of its runs.
const RASTER: [Measured; 14] = [
    ("Bodoni Moda", &[(Axis::OpticalSize, 28), (Axis::Weight, 400)], 'H', 0.010),
    ("Bodoni Moda", &[(Axis::OpticalSize, 11), (Axis::Weight, 400)], 'o', 0.024),
    ("Bodoni Moda", &[(Axis::OpticalSize, 6), (Axis::Weight, 400)], 'E', 0.048),
    ("Archivo", &[(Axis::Weight, 400), (Axis::Width, 62)], 'o', 0.092),
    ("Archivo", &[(Axis::Weight, 400), (Axis::Width, 100)], 'o', 0.108),
    ("Archivo", &[(Axis::Weight, 700), (Axis::Width, 125)], 'o', 0.166),
    ("EB Garamond", &[(Axis::Weight, 400)], 'o', 0.039),
    ("EB Garamond", &[(Axis::Weight, 600)], 'o', 0.057),
    ("Libre Baskerville", &[(Axis::Weight, 400)], 'E', 0.056),
    ("Cinzel", &[(Axis::Weight, 400)], 'E', 0.042),
    ("Marcellus", &[], 'o', 0.049),
    ("Besley", &[], 'o', 0.060),
    ("Roboto Slab", &[(Axis::Weight, 400)], 'E', 0.102),
    // The o's joining hairline, thinner than its ring (0.023): least of the alphabet.
    ("Great Vibes", &[], 'o', 0.019),
];

/// Two pixels of that raster: one for either edge.
const RASTER_ERROR: f64 = 0.004;

#[test]
fn letters_are_as_thin_as_a_raster_says() {
    let mut off = Vec::new();
    for (name, axes, character, raster) in RASTER {
        let face = face(name, axes);
        let stroke = letter(&face, character).stroke.unwrap().width;
        if (stroke - raster).abs() > RASTER_ERROR {
            off.push(format!("{name} {axes:?} {character}: {stroke:.4}, raster {raster}"));
        }
    }
    assert!(off.is_empty(), "{}", off.join("\n"));
}

#[test]
fn upright_stems_and_bars_are_those_of_the_coordinates() {
    // Font units read off the outlines: Archivo 400/100, H 686 high, stem 95, bar 83 (0.1386
    // and 0.1204 of the cap height).
    let face = face("Archivo", &[(Axis::Weight, 400), (Axis::Width, 100)]);
    let h = letter(&face, 'H').stroke.unwrap().width;
    let i = letter(&face, 'I').stroke.unwrap().width;
    assert!((h - 0.1204).abs() < 0.0005 && (i - 0.1386).abs() < 0.004, "{h} {i}");
}

#[test]
fn every_letter_of_every_shipped_lettering_has_a_stroke() {
    use crate::lettering::catalogue;
    for name in catalogue().names() {
        let face = Face::open(&LetteringChoice::shipped(name.to_owned())).unwrap();
        if face.single_stroke() {
            continue;
        }
        for character in "AEHORSabegno08&".chars() {
            let Some(glyph) = face.nominal(character) else { continue };
            let Measure::Widths(strokes) = face.strokes(glyph) else { continue };
            let stroke = strokes.stroke.map_or(0.0, |s| s.width);
            let ink = face.ink(glyph).unwrap().scale_from_origin(1.0 / face.cap_em());
            assert!(stroke > 0.001, "{name} {character}: {stroke}");
            assert!(stroke < 0.5 * ink.height().max(ink.width()), "{name} {character}: {stroke}");
        }
    }
}
