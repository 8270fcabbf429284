//! What of an operation can be measured: pieces, lengths, area, box.

use kurbo::{BezPath, PathEl, Rect, Shape};

use crate::drawing::Item;

/// How far a measured length may be off, mm: far below what is printed of it.
const ACCURACY: f64 = 1e-4;

/// Measures of an operation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Measures {
    /// Closed outlines, those of holes in letters among them.
    pub(super) closed: usize,
    /// Lines with two ends.
    pub(super) open: usize,
    /// Length along all of them, mm.
    pub(super) length: f64,
    /// Area of filled shapes, mm²; 0 for lines.
    pub(super) area: f64,
    /// Box of the paths themselves, without the width of lines, mm from the artwork's
    /// zero; y down.
    pub(super) bounds: Rect,
}

/// The measures of items that stand where their own coordinates say; `None` where there
/// is none.
pub(super) fn measures(items: &[Item]) -> Option<Measures> {
    items.iter().filter_map(one).reduce(|all, next| Measures {
        closed: all.closed + next.closed,
        open: all.open + next.open,
        length: all.length + next.length,
        area: all.area + next.area,
        bounds: all.bounds.union(next.bounds),
    })
}

fn one(item: &Item) -> Option<Measures> {
    match item {
        Item::Path(path) => {
            let (closed, open) = contours(&path.path);
            Some(Measures {
                closed,
                open,
                length: path.path.perimeter(ACCURACY),
                area: if path.fill.is_some() { path.path.area().abs() } else { 0.0 },
                bounds: path.path.bounding_box(),
            })
        }
        Item::Circle(circle) => {
            let round = kurbo::Circle::new(circle.centre, circle.radius);
            Some(Measures {
                closed: 1,
                open: 0,
                length: round.perimeter(ACCURACY),
                area: 0.0,
                bounds: round.bounding_box(),
            })
        }
        Item::Group(group) => measures(&group.items),
        Item::Text(_) | Item::Image(_) => None,
    }
}

/// How many contours are closed, and how many are not.
fn contours(path: &BezPath) -> (usize, usize) {
    let count =
        |wanted: fn(&PathEl) -> bool| path.elements().iter().filter(|el| wanted(el)).count();
    let begun = count(|element| matches!(element, PathEl::MoveTo(_)));
    let closed = count(|element| matches!(element, PathEl::ClosePath));
    (closed, begun.saturating_sub(closed))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Circle, Path};
    use crate::sheets::block::{line_of, straight};

    #[test]
    fn a_ring_a_line_and_a_circle_are_measured_by_hand() {
        // A square of 10 mm with a square hole of 4 mm: 100 - 16 mm², 40 + 16 mm round.
        let hole = Rect::new(3.0, 3.0, 7.0, 7.0).to_path(0.1).reverse_subpaths();
        let ring = Rect::new(0.0, 0.0, 10.0, 10.0).to_path(0.1).into_iter().chain(hole).collect();
        let line = straight((0.0, -3.0), (4.0, -6.0));
        let items = [
            Path::filled(ring, [0; 3]).into(),
            Path::stroked(line, line_of(0.1)).into(),
            Circle { centre: (20.0, 0.0), radius: 2.0, stroke: line_of(0.1) }.into(),
        ];
        let found = measures(&items).unwrap();
        assert_eq!((found.closed, found.open), (3, 1));
        assert!((found.area - 84.0).abs() < 1e-9);
        let round = 4.0 * std::f64::consts::PI;
        assert!((found.length - (56.0 + 5.0 + round)).abs() < 1e-3, "{}", found.length);
        assert_eq!(found.bounds, Rect::new(0.0, -6.0, 22.0, 10.0));
        assert!(measures(&[]).is_none());
    }
}
