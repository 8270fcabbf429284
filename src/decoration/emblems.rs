//! Emblems of our own drawing, some hundred units high, the middle at x = 0, y down.

use std::f64::consts::PI;
use std::sync::{Arc, OnceLock};

use kurbo::{Affine, BezPath, Point};

use super::pen::{all, bar, both_sides, bow, disc, leaf, upright, without};
use crate::layout::{Emblem, Named};
use crate::lettering::Ornament;
use crate::plate::closed_polygon;

/// An emblem at unit size: drawn and measured once, and shared.
pub(super) fn at_unit_size(asked: Emblem) -> Option<Arc<Ornament>> {
    static DRAWN: [OnceLock<Option<Arc<Ornament>>>; Emblem::ALL.len()] =
        [const { OnceLock::new() }; Emblem::ALL.len()];
    let at = Emblem::ALL.iter().position(|(_, emblem)| *emblem == asked)?;
    let drawn = || Ornament::new(&upright(emblem(asked))).map(Arc::new);
    DRAWN.get(at)?.get_or_init(drawn).clone()
}

/// The shape of an emblem.
fn emblem(emblem: Emblem) -> BezPath {
    match emblem {
        Emblem::Bell => bell(),
        Emblem::Star => star(),
        Emblem::Crescent => crescent(),
        Emblem::Lozenge => lozenge(),
        Emblem::Laurel => laurel(),
        Emblem::Telescope => telescope(),
    }
}

fn oval(x: f64, y: f64, across: f64, down: f64) -> BezPath {
    Affine::translate((x, y)) * Affine::scale_non_uniform(across, down) * disc(0.0, 0.0, 1.0)
}

/// A church bell: crown, shoulder, waist, lip, and the clapper below it.
fn bell() -> BezPath {
    let mut half = BezPath::new();
    half.move_to((0.0, 15.0));
    half.line_to((7.0, 15.0));
    // Shoulder.
    half.curve_to((16.0, 15.5), (21.5, 20.5), (22.5, 30.0));
    // Waist, running out into the lip.
    half.curve_to((24.0, 46.0), (25.5, 58.0), (33.0, 68.0));
    half.curve_to((36.5, 72.5), (40.5, 75.5), (43.0, 79.5));
    half.curve_to((44.4, 82.0), (43.4, 85.5), (40.0, 85.5));
    half.line_to((0.0, 85.5));
    half.close_path();
    let band = |y: f64| bar((-50.0, y), (50.0, y + 3.0));
    let body = both_sides(half);
    let body = without(&body, &band(29.0));
    let body = without(&body, &band(70.0));
    let crown = without(&oval(0.0, 9.0, 10.5, 9.0), &oval(0.0, 8.5, 5.0, 4.5));
    let clapper = without(&disc(0.0, 90.0, 10.0), &bar((-50.0, 0.0), (50.0, 88.5)));
    all([body, crown, clapper])
}

/// A star of five points, regular as in a pentagram.
fn star() -> BezPath {
    // Where the lines from point to point cross: (3 - √5) / 2 of the way out.
    let inner = (3.0 - 5.0_f64.sqrt()) / 2.0;
    let corners: Vec<(f64, f64)> = (0..10_u32)
        .map(|at| {
            let radius = if at % 2 == 0 { 50.0 } else { 50.0 * inner };
            let (sin, cos) = libm::sincos(f64::from(at) * PI / 5.0);
            (radius * sin, -radius * cos)
        })
        .collect();
    closed_polygon(&corners)
}

/// A disc out of which a smaller one is taken.
fn crescent() -> BezPath {
    without(&disc(0.0, 0.0, 50.0), &disc(19.0, 0.0, 41.0))
}

/// A lozenge in a frame.
fn lozenge() -> BezPath {
    let of = |share: f64| {
        let (across, down) = (36.0 * share, 50.0 * share);
        closed_polygon(&[(-across, 0.0), (0.0, -down), (across, 0.0), (0.0, down)])
    };
    all([without(&of(1.0), &of(0.74)), of(0.46)])
}

/// Thickness of the laurel's stems, units.
const STEM: f64 = 3.0;

/// Two sprigs that rise from one foot and do not meet at the top.
fn laurel() -> BezPath {
    let radius = 40.0;
    let at = |angle: f64| {
        let (sin, cos) = libm::sincos(angle);
        Point::new(radius * cos, radius * sin)
    };
    // The stem, from just beyond the foot into the last leaf.
    let (first, last) = (PI / 2.0 + 0.05, -0.92);
    let mut parts = vec![bow(radius + STEM / 2.0, radius - STEM / 2.0, first, last - first)];
    for pair in 0..5_u32 {
        let angle = 1.26 - f64::from(pair) * 0.46;
        // Along the stem, towards the top.
        let along = angle - PI / 2.0;
        let (length, width) = (22.0 - f64::from(pair) * 0.8, 5.8 - f64::from(pair) * 0.15);
        parts.push(leaf(at(angle), along + 0.68, length, width));
        parts.push(leaf(at(angle), along - 0.68, length, width));
    }
    // Its foot lies on the stem, whose end it covers.
    parts.push(leaf(at(last + 0.2), last + 0.06 - PI / 2.0, 25.0, 5.0));
    both_sides(all(parts))
}

/// A telescope on three legs.
fn telescope() -> BezPath {
    let up = Affine::translate((0.0, 30.0)) * Affine::rotate(-0.54);
    let tube = |from: f64, to: f64, half: f64| up * bar((from, -half), (to, half));
    let stand = all([
        closed_polygon(&[(-3.0, 50.0), (3.0, 50.0), (3.0, 100.0), (-3.0, 100.0)]),
        closed_polygon(&[(-6.0, 47.0), (0.5, 47.0), (-26.5, 100.0), (-33.0, 100.0)]),
        closed_polygon(&[(6.0, 47.0), (-0.5, 47.0), (26.5, 100.0), (33.0, 100.0)]),
        closed_polygon(&[(-5.0, 32.0), (5.0, 32.0), (7.0, 50.0), (-7.0, 50.0)]),
    ]);
    all([
        tube(-56.0, -46.0, 8.0),
        tube(-43.0, -15.0, 5.5),
        tube(-12.0, 33.0, 9.0),
        tube(36.0, 56.0, 13.0),
        stand,
    ])
}
