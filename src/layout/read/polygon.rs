//! The corners of a plate that is cut by points: a simple polygon.

use super::value::Entry;
use super::{Notes, Within};

/// Where a corner may be, mm.
pub(super) const POINT: Within = Within::new(0.0, 2000.0);
/// Corners of a polygon.
pub(super) const LEAST_POINTS: usize = 3;
pub(super) const MOST_POINTS: usize = 200;
/// Corners nearer than this are one, and sides nearer than this touch, mm.
pub(super) const SAME: f64 = 0.001;

/// What to write.
pub(super) const EXAMPLE: &str =
    "points = [[\"0 mm\", \"0 mm\"], [\"90 mm\", \"0 mm\"], [\"45 mm\", \"60 mm\"]]";

/// The corners of a simple polygon, as they were given.
pub(super) fn corners(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<Vec<(f64, f64)>> {
    let items = notes.list(entry, EXAMPLE)?;
    if items.len() < LEAST_POINTS || items.len() > MOST_POINTS {
        let message = format!("an outline of {} points", items.len());
        let help = format!("give {LEAST_POINTS} to {MOST_POINTS} points, in their order round it");
        notes.wrong(&entry.span, message, help);
        return None;
    }
    let read: Vec<_> = items.iter().map(|item| point(item, notes, POINT)).collect();
    let points = read.into_iter().collect::<Option<Vec<_>>>()?;
    let count = points.len();
    for (later, item) in items.iter().enumerate() {
        let same = |earlier: &usize| apart(points[*earlier], points[later]) < SAME;
        if let Some(earlier) = (0..later).find(same) {
            let message = format!("points {} and {} are one", earlier + 1, later + 1);
            let closing = earlier == 0 && later + 1 == count;
            let help = if closing {
                "the outline closes by itself: leave the last point out"
            } else {
                "give each corner once"
            };
            notes.wrong(&item.span, message, help);
            return None;
        }
    }
    sides_apart(&points, &items, notes).then_some(points)
}

/// Whether no two sides of a polygon meet but in its corners; tells the first that do.
fn sides_apart(points: &[(f64, f64)], items: &[Entry<'_>], notes: &mut Notes<'_>) -> bool {
    let count = points.len();
    let side = |index: usize| (points[index], points[(index + 1) % count]);
    let name = |index: usize| format!("from point {} to {}", index + 1, (index + 1) % count + 1);
    for (later, item) in items.iter().enumerate() {
        for earlier in 0..later {
            // Two sides that share a corner may only lie on each other.
            let meets = if later == earlier + 1 {
                doubles_back(side(earlier), side(later))
            } else if earlier == 0 && later + 1 == count {
                doubles_back(side(later), side(earlier))
            } else {
                meet(side(earlier), side(later))
            };
            if meets {
                let message = format!("the side {} meets the side {}", name(later), name(earlier));
                let help = "give the points in their order round the plate, its sides apart";
                notes.wrong(&item.span, message, help);
                return false;
            }
        }
    }
    true
}

/// A point of the plate, mm from its top left corner.
pub(super) fn point(item: &Entry<'_>, notes: &mut Notes<'_>, within: Within) -> Option<(f64, f64)> {
    notes.keys.insert(item.path.clone(), item.span.clone());
    let example = "each point as [\"8 mm\", \"8 mm\"]: from the left, from the top";
    match notes.list(item, example)?.as_slice() {
        [x, y] => {
            let (x, y) = (notes.length(x, within), notes.length(y, within));
            Some((x?, y?))
        }
        _ => {
            let message = format!("`{}` is not two lengths", item.path);
            notes.wrong(&item.span, message, format!("write {example}"));
            None
        }
    }
}

type Side = ((f64, f64), (f64, f64));

fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
    libm::hypot(a.0 - b.0, a.1 - b.1)
}

/// Twice the area of a triangle, above 0 where it turns to the right on the plate.
fn turn(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> f64 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

/// Distance from a point to a side.
fn off((a, b): Side, p: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let along = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy);
    let along = along.clamp(0.0, 1.0);
    apart(p, (a.0 + along * dx, a.1 + along * dy))
}

/// Whether two sides that share no corner cross or touch.
fn meet(first: Side, second: Side) -> bool {
    let ((a, b), (c, d)) = (first, second);
    let crosses = turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0;
    crosses
        || off(first, c) < SAME
        || off(first, d) < SAME
        || off(second, a) < SAME
        || off(second, b) < SAME
}

/// Whether the second of two sides runs back along the first.
fn doubles_back((a, b): Side, (_, c): Side) -> bool {
    off((a, b), c) < SAME || off((b, c), a) < SAME
}
