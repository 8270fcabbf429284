//! The gap between two glyphs, or two parts of one: their distance.

use kurbo::{Point, Rect, Vec2};

use super::walls::{Contour, Edge, Walls};
use super::{FLATTEN, GlyphStrokes, Narrow};

/// Parts nearer than this touch: the accuracy of the two outlines.
const TOUCH: f64 = 2.0 * FLATTEN;

/// What lies between two glyphs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Gap {
    /// They touch or overlap, as joined letters do.
    Touch,
    /// The least distance and its middle.
    Wide(Narrow),
    /// At least as wide as asked.
    Enough,
}

/// The gap between two glyphs as they stand. Each is told with its cap height in one unit
/// and its origin in that unit; the result is in that unit.
/// Gaps of `enough` and more are not measured.
pub(super) fn gap_between(
    (a, a_scale, a_at): (&GlyphStrokes, f64, Vec2),
    (b, b_scale, b_at): (&GlyphStrokes, f64, Vec2),
    enough: f64,
) -> Gap {
    if a_scale <= 0.0 || b_scale <= 0.0 {
        return Gap::Enough;
    }
    // In cap heights of the first: only the second is moved.
    let scale = b_scale / a_scale;
    let moved = (b_at - a_at) / a_scale;
    let own = |point: Point| ((point.to_vec2() - moved) / scale).to_point();
    let (Some(a_box), Some(b_box)) = (a.walls.bounds, b.walls.bounds) else { return Gap::Enough };
    let b_box =
        Rect::new(b_box.x0 * scale, b_box.y0 * scale, b_box.x1 * scale, b_box.y1 * scale) + moved;
    let most = enough / a_scale;
    if apart(a_box, b_box) >= most {
        return Gap::Enough;
    }
    let first: Vec<Edge> = a.walls.edges.clone();
    let second: Vec<Edge> = b.walls.edges.iter().map(|edge| placed(edge, scale, moved)).collect();
    let within = |walls: &Walls, point: Option<Point>| point.is_some_and(|at| walls.holds(at));
    if within(&b.walls, first.first().map(|edge| own(edge.from)))
        || within(&a.walls, second.first().map(|edge| edge.from))
    {
        return Gap::Touch;
    }
    match nearest((&first, a_box), (&second, b_box), most) {
        None => Gap::Enough,
        Some((width, _)) if width <= TOUCH => Gap::Touch,
        Some((width, at)) => {
            let at = (at.to_vec2() * a_scale + a_at).to_point();
            Gap::Wide(Narrow { width: width * a_scale, at })
        }
    }
}

fn placed(edge: &Edge, scale: f64, moved: Vec2) -> Edge {
    let at = |point: Point| (point.to_vec2() * scale + moved).to_point();
    Edge { from: at(edge.from), to: at(edge.to), length: edge.length * scale, ..*edge }
}

/// The least distance between parts of one glyph that do not touch.
pub(super) fn between_parts(walls: &Walls) -> Option<Narrow> {
    let boxed = |contour: &Contour| {
        let edges = walls.edges.get(contour.first..contour.end)?;
        let boxes = edges.iter().map(|edge| Rect::from_points(edge.from, edge.to));
        Some((edges, boxes.reduce(|a, b| a.union(b))?))
    };
    let parts: Vec<(&[Edge], Rect)> =
        walls.contours.iter().filter(|contour| contour.area > 0.0).filter_map(boxed).collect();
    let mut least: Option<Narrow> = None;
    for (at, (first, first_box)) in parts.iter().enumerate() {
        for (second, second_box) in parts.iter().skip(at + 1) {
            let most = least.map_or(f64::INFINITY, |least| least.width);
            let near = nearest((first, *first_box), (second, *second_box), most);
            if let Some((width, at)) = near.filter(|(width, _)| *width > TOUCH) {
                least = Some(Narrow { width, at });
            }
        }
    }
    // An island in a counter is no nearer to its ring's outer contour than to the hole.
    let holes = walls.contours.iter().filter(|contour| contour.area < 0.0);
    for (round, hole_box) in holes.filter_map(boxed) {
        for (island, island_box) in &parts {
            let inside = hole_box.contains(island_box.origin())
                && hole_box.contains(Point::new(island_box.x1, island_box.y1));
            let most = least.map_or(f64::INFINITY, |least| least.width);
            let near =
                inside.then(|| nearest((round, hole_box), (island, *island_box), most)).flatten();
            if let Some((width, at)) = near.filter(|(width, _)| *width > TOUCH) {
                least = Some(Narrow { width, at });
            }
        }
    }
    least
}

/// Distance between two boxes; 0 where they meet.
fn apart(a: Rect, b: Rect) -> f64 {
    let x = (b.x0 - a.x1).max(a.x0 - b.x1).max(0.0);
    let y = (b.y0 - a.y1).max(a.y0 - b.y1).max(0.0);
    libm::hypot(x, y)
}

/// The least distance between two sets of edges, and its middle; `None` where it is not
/// below `most`. 0 where they cross.
fn nearest(
    (first, first_box): (&[Edge], Rect),
    (second, second_box): (&[Edge], Rect),
    most: f64,
) -> Option<(f64, Point)> {
    let mut least = most;
    let mut at = None;
    if apart(first_box, second_box) >= least {
        return None;
    }
    let box_of = |edge: &Edge| Rect::from_points(edge.from, edge.to);
    for one in first {
        let own = box_of(one);
        if apart(own, second_box) >= least {
            continue;
        }
        for two in second {
            if far(own, two, least) {
                continue;
            }
            let (width, middle) = distance(one, two);
            if width < least {
                (least, at) = (width, Some(middle));
            }
        }
    }
    at.map(|at| (least, at))
}

/// Whether an edge lies off a box by a distance and more, across or along.
fn far(own: Rect, edge: &Edge, least: f64) -> bool {
    edge.from.x.min(edge.to.x) - own.x1 >= least
        || own.x0 - edge.from.x.max(edge.to.x) >= least
        || edge.from.y.min(edge.to.y) - own.y1 >= least
        || own.y0 - edge.from.y.max(edge.to.y) >= least
}

/// Distance between two straight edges, and its middle.
fn distance(a: &Edge, b: &Edge) -> (f64, Point) {
    let side = |edge: &Edge, point: Point| edge.along.cross(point - edge.from);
    let crosses = side(a, b.from) * side(a, b.to) < 0.0 && side(b, a.from) * side(b, a.to) < 0.0;
    if crosses {
        return (0.0, a.middle());
    }
    let to = |edge: &Edge, point: Point| {
        let foot = edge.point(edge.foot(point));
        let across = foot - point;
        (libm::hypot(across.x, across.y), foot.midpoint(point))
    };
    [to(a, b.from), to(a, b.to), to(b, a.from), to(b, a.to)]
        .into_iter()
        .reduce(|a, b| if b.0 < a.0 { b } else { a })
        .unwrap_or((f64::INFINITY, a.middle()))
}
