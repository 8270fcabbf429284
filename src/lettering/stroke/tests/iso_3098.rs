//! An alphabet drawn with a pen of known width. ISO 3098-1 (formerly 3098/I) writes lettering
//! of height h with lines h/10 wide (type B) or h/14 wide (type A); the proportions of these
//! letters are our own.

use kurbo::{
    Arc, BezPath, Cap, ParamCurve, PathEl, Point, Shape, Stroke, StrokeOpts, Vec2, stroke,
};

use super::{all, near, polygon, strokes};

/// Centre lines on a grid 6 wide and 10 high: straight runs by points, a run a word.
const LIMBS: [(char, &str); 19] = [
    ('A', "0,0 3,10 6,0|1,3 5,3"),
    ('E', "6,0 0,0 0,10 6,10|0,5 5,5"),
    ('F', "0,0 0,10 6,10|0,5 5,5"),
    ('G', "6,8 4,10 2,10 0,8 0,2 2,0 4,0 6,2 6,5 4,5"),
    ('H', "0,0 0,10|6,0 6,10|0,5 6,5"),
    ('I', "0,0 0,10"),
    ('K', "0,0 0,10|6,10 0,4|2,6 6,0"),
    ('L', "0,10 0,0 6,0"),
    ('M', "0,0 0,10 3,4 6,10 6,0"),
    ('N', "0,0 0,10 6,0 6,10"),
    ('R', "0,0 0,10 4,10 6,9 6,6 4,5 0,5|3,5 6,0"),
    ('T', "0,10 6,10|3,10 3,0"),
    ('V', "0,10 3,0 6,10"),
    ('W', "0,10 1.5,0 3,8 4.5,0 6,10"),
    ('X', "0,0 6,10|0,10 6,0"),
    ('Y', "0,10 3,5 6,10|3,5 3,0"),
    ('Z', "0,10 6,10 0,0 6,0"),
    ('4', "4,0 4,10 0,3 6,3"),
    ('7', "0,10 6,10 2,0"),
];

fn limbs(points: &str) -> BezPath {
    let mut path = BezPath::new();
    for run in points.split('|') {
        for (index, point) in run.split(' ').enumerate() {
            let (x, y) = point.split_once(',').unwrap();
            let at = (x.parse::<f64>().unwrap() / 10.0, y.parse::<f64>().unwrap() / 10.0);
            if index == 0 {
                path.move_to(at);
            } else {
                path.line_to(at);
            }
        }
    }
    path
}

/// An arc about a middle, from a degree over some degrees.
fn arc(x: f64, y: f64, radii: (f64, f64), from: f64, over: f64) -> BezPath {
    Arc::new((x, y), radii, from.to_radians(), over.to_radians(), 0.0).to_path(1e-6)
}

/// A limb by a pen with a square end, which reaches half its width beyond the line's.
fn limb(from: Point, to: Point, pen: f64) -> BezPath {
    let along = (to - from).normalize() * pen / 2.0;
    let across = Vec2::new(-along.y, along.x);
    let (from, to) = (from - along, to + along);
    let corners = [from - across, to - across, to + across, from + across];
    polygon(&corners.map(|corner| (corner.x, corner.y)))
}

/// Every straight run of a centre line as a limb; arcs as bands.
fn drawn(centre_line: &BezPath, pen: f64) -> BezPath {
    let straight = centre_line.elements().iter().all(|part| !matches!(part, PathEl::CurveTo(..)));
    if !straight {
        let butt = Stroke::new(pen).with_caps(Cap::Butt);
        return stroke(centre_line.iter(), &butt, &StrokeOpts::default(), 1e-6);
    }
    let limbs = centre_line.segments().map(|part| limb(part.start(), part.end(), pen));
    all(&limbs.collect::<Vec<_>>())
}

#[test]
fn lettering_by_a_pen_is_as_thick_as_the_pen() {
    let mut letters: Vec<(char, BezPath)> =
        LIMBS.iter().map(|(letter, points)| (*letter, limbs(points))).collect();
    letters.push(('O', arc(0.3, 0.5, (0.3, 0.5), 0.0, 360.0)));
    letters.push(('C', arc(0.3, 0.5, (0.3, 0.5), 50.0, 260.0)));
    letters.push(('(', arc(0.5, 0.5, (0.6, 0.6), 130.0, 100.0)));
    for (letter, centre_line) in &letters {
        for (kind, share) in [("B", 10.0), ("A", 14.0)] {
            let pen = 1.0 / share;
            near(
                strokes(&drawn(centre_line, pen)).stroke,
                pen,
                &format!("{letter} of type {kind}"),
            );
        }
    }
}
