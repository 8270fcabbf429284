//! Whether a plate goes into an outline of the face, how much room is left, and every
//! place where it does.

use kurbo::{BezPath, PathEl, Point};

use crate::plate::Outline;

use super::Laid;

/// How far the corners of a curve drawn as a polygon stand apart from it, mm.
const TOLERANCE: f64 = 0.001;
/// In a large room curves need not be finer than this part of it.
const FINEST: f64 = 100_000.0;
/// Steps along a side that crosses the edge of the room, to find how far it goes out.
const ALONG: u32 = 64;

/// The least depth of a plate's outline, laid with its zero at a point of the face,
/// within a room: mm between the two all round, below 0 where the plate stands over.
/// Straight sides and corners are exact, curves to 0.001 mm.
#[must_use]
pub fn least_depth(plate: &Outline, (x, y): (f64, f64), room: &Laid) -> f64 {
    let moved = |at: &Point| Point::new(at.x + x, at.y + y);
    let corners: Vec<Point> = polygon(&plate.path()).iter().map(moved).collect();
    let depth = |at: &Point| room.depth_of(at.x, at.y);
    let least = corners.iter().map(depth).fold(f64::INFINITY, f64::min);
    if room.outline.convex() {
        // The depth within a convex outline is concave: along a side least at an end.
        return least;
    }
    // A corner of the room that points into the plate.
    let edge = polygon(&room.path());
    let tips = edge.iter().map(|at| -plate.depth_of(at.x - x, at.y - y));
    let least = tips.fold(least, f64::min);
    if least < 0.0 {
        return least;
    }
    // A slit that runs right through the plate.
    sides(&corners)
        .filter(|side| sides(&edge).any(|other| cross(*side, other)))
        .flat_map(|(a, b)| {
            (0..=ALONG).map(move |step| a.lerp(b, f64::from(step) / f64::from(ALONG)))
        })
        .map(|at| depth(&at))
        .fold(least, f64::min)
}

/// Every place where a plate lies within a convex room: the corners of a convex
/// polygon of places for the plate's zero, on the face, clockwise; empty where there is
/// none. A curve counts as the polygon inside it that keeps within 0.001 mm, or within a
/// 100 000th of the room.
pub(super) fn spots(plate: &Outline, room: &Laid) -> Vec<(f64, f64)> {
    let [left, top, right, bottom] = room.bounds();
    let tolerance = TOLERANCE.max((right - left).max(bottom - top) / FINEST);
    let corners = drawn(&plate.path(), tolerance);
    let edge = drawn(&room.path(), tolerance);
    let [first_x, first_y, last_x, last_y] = plate.bounds();
    let (low_x, high_x) = (left - first_x, right - last_x);
    let (low_y, high_y) = (top - first_y, bottom - last_y);
    // To a thousandth of a micrometre, so that an exact fit is one.
    let (low_x, high_x) = meeting(low_x, high_x);
    let (low_y, high_y) = meeting(low_y, high_y);
    if low_x > high_x || low_y > high_y {
        return Vec::new();
    }
    let mut found = vec![(low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)];
    for (a, b) in sides(&edge) {
        let length = libm::hypot(b.x - a.x, b.y - a.y);
        if length <= 0.0 {
            continue;
        }
        // The normal that points into the room.
        let (nx, ny) = ((a.y - b.y) / length, (b.x - a.x) / length);
        let reach = corners.iter().map(|at| nx * at.x + ny * at.y).fold(f64::INFINITY, f64::min);
        let least = nx * a.x + ny * a.y - reach - EXACT;
        found = clipped(&found, |(x, y)| nx * x + ny * y - least);
        if found.is_empty() {
            break;
        }
    }
    found
}

/// What still counts as an exact fit, mm.
pub(super) const EXACT: f64 = 1e-6;

/// The part of a convex polygon where something linear is 0, to an exact fit.
pub(super) fn clip_to(corners: &[(f64, f64)], of: impl Fn((f64, f64)) -> f64) -> Vec<(f64, f64)> {
    clipped(&clipped(corners, |at| of(at) + EXACT), |at| EXACT - of(at))
}

/// The point of a convex polygon that is nearest to a point; `None` of none.
pub(super) fn nearest_of(corners: &[(f64, f64)], to: (f64, f64)) -> Option<(f64, f64)> {
    let nexts = corners.iter().cycle().skip(1);
    let within = corners.len() > 2
        && corners
            .iter()
            .zip(nexts)
            .all(|(a, b)| (b.0 - a.0) * (to.1 - a.1) - (b.1 - a.1) * (to.0 - a.0) >= 0.0);
    if within {
        return Some(to);
    }
    let far = |at: &(f64, f64)| libm::hypot(at.0 - to.0, at.1 - to.1);
    let nexts = corners.iter().cycle().skip(1);
    let on_side = corners.iter().zip(nexts).map(|(a, b)| {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let long = dx * dx + dy * dy;
        let share = if long > 0.0 { ((to.0 - a.0) * dx + (to.1 - a.1) * dy) / long } else { 0.0 };
        let share = share.clamp(0.0, 1.0);
        (a.0 + dx * share, a.1 + dy * share)
    });
    on_side.min_by(|a, b| far(a).total_cmp(&far(b)))
}

/// Two ends that passed each other by no more than an exact fit, as one.
fn meeting(low: f64, high: f64) -> (f64, f64) {
    if low > high && low - high <= 2.0 * EXACT {
        let middle = f64::midpoint(low, high);
        (middle, middle)
    } else {
        (low, high)
    }
}

/// The part of a convex polygon where something linear is not below 0.
fn clipped(corners: &[(f64, f64)], of: impl Fn((f64, f64)) -> f64) -> Vec<(f64, f64)> {
    let mut left = Vec::with_capacity(corners.len() + 1);
    let nexts = corners.iter().cycle().skip(1);
    for (a, b) in corners.iter().zip(nexts) {
        let (here, there) = (of(*a), of(*b));
        if here >= 0.0 {
            left.push(*a);
        }
        if (here < 0.0) != (there < 0.0) {
            let share = here / (here - there);
            left.push((a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share));
        }
    }
    left
}

/// Corners of a closed path, curves within [`TOLERANCE`].
fn polygon(path: &BezPath) -> Vec<Point> {
    drawn(path, TOLERANCE)
}

/// Corners of a closed path, curves within a tolerance.
fn drawn(path: &BezPath, tolerance: f64) -> Vec<Point> {
    let mut points = Vec::new();
    kurbo::flatten(path.elements().iter().copied(), tolerance, |element| {
        if let PathEl::MoveTo(at) | PathEl::LineTo(at) = element {
            points.push(at);
        }
    });
    points
}

fn sides(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

/// Whether two sides cross, not only touch.
fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let turn = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Shape;

    fn laid(width: f64, height: f64, shape: Shape) -> Laid {
        Laid { x: 0.0, y: 0.0, outline: Outline::new(width, height, &shape) }
    }

    fn near(got: f64, wanted: f64) {
        assert!((got - wanted).abs() < 0.0011, "{got} is not {wanted}");
    }

    #[test]
    fn the_room_round_a_plate_is_that_at_its_tightest_point() {
        let plate = Outline::new(40.0, 30.0, &Shape::Rectangle);
        // In a circle of 100 mm, in its middle: half of the diagonal, 25 mm, of 50.
        let room = laid(100.0, 100.0, Shape::Circle);
        near(least_depth(&plate, (30.0, 35.0), &room), 25.0);
        // 26 mm to the right the corners stand 46 across and 15 up from the middle.
        near(least_depth(&plate, (56.0, 35.0), &room), 50.0 - libm::hypot(46.0, 15.0));
        // A round plate in a corner of radius 10: 5 mm of radius, 4 mm from both sides'
        // middle: its centre stands 9 mm in, 1 mm from the corner's centre along both.
        let disc = Outline::new(10.0, 10.0, &Shape::Circle);
        let room = laid(60.0, 60.0, Shape::Rounded { corner: 10.0 });
        near(least_depth(&disc, (4.0, 4.0), &room), 10.0 - 2.0_f64.sqrt() - 5.0);
    }

    #[test]
    fn a_slit_through_the_plate_is_seen_though_every_corner_has_room() {
        // A slit 2 mm wide from the top, 40 mm deep, into a square of 60.
        let points = [
            (0.0, 0.0),
            (29.0, 0.0),
            (29.0, 40.0),
            (31.0, 40.0),
            (31.0, 0.0),
            (60.0, 0.0),
            (60.0, 60.0),
            (0.0, 60.0),
        ];
        let room = laid(60.0, 60.0, Shape::Points(points.to_vec()));
        let plate = Outline::new(40.0, 10.0, &Shape::Rectangle);
        // Across the slit; its end in the plate; below it.
        assert!(least_depth(&plate, (10.0, 20.0), &room) < 0.0);
        near(least_depth(&plate, (10.0, 33.0), &room), -3.0);
        near(least_depth(&plate, (10.0, 44.0), &room), 4.0);
    }

    #[test]
    fn the_places_of_a_plate_are_all_those_where_it_lies_within() {
        // A trapezium 40 mm wide at the top, 80 at the foot, 40 high, and a plate of
        // 30 x 20: at the foot its left may be 10 to 40 (its upper corners stand half
        // way up, where the room is 10 mm from the box on both sides), at the top 20 to 30.
        let points = vec![(20.0, 0.0), (60.0, 0.0), (80.0, 40.0), (0.0, 40.0)];
        let room = laid(80.0, 40.0, Shape::Points(points));
        let plate = Outline::new(30.0, 20.0, &Shape::Rectangle);
        let found = spots(&plate, &room);
        for wanted in [(20.0, 0.0), (30.0, 0.0), (40.0, 20.0), (10.0, 20.0)] {
            let has = found.iter().any(|at| libm::hypot(at.0 - wanted.0, at.1 - wanted.1) < 1e-4);
            assert!(has, "{wanted:?} is not among {found:?}");
        }
        // An exact fit is one place, a hair more is none.
        let exact = Outline::new(40.0, 40.0, &Shape::Rectangle);
        assert!(!spots(&exact, &laid(40.0, 40.0, Shape::Rectangle)).is_empty());
        let more = Outline::new(40.01, 40.0, &Shape::Rectangle);
        assert!(spots(&more, &laid(40.0, 40.0, Shape::Rectangle)).is_empty());
    }
}
