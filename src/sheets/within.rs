//! What of a drawing lies within a rectangle.

use kurbo::{Affine, BezPath, ParamCurve, Rect, Shape};

use crate::drawing::{Group, Item};

/// Boxes of all texts, mm, in the coordinates that the items stand in.
pub(super) fn text_boxes(items: &[Item], to: Affine) -> Vec<Rect> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Text(text) => all.extend(text.ink().map(|ink| to.transform_rect_bbox(ink))),
            Item::Group(group) => all.extend(text_boxes(&group.items, to * group.transform)),
            Item::Path(_) | Item::Circle(_) | Item::Image(_) => {}
        }
    }
    all
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// Boxes of all straight lines that run level or upright, each grown by `round` mm, in
/// the coordinates that the items stand in.
pub(super) fn line_boxes(items: &[Item], to: Affine, round: f64) -> Vec<Rect> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Path(path) => {
                let placed = to * path.path.clone();
                for segment in placed.segments() {
                    let kurbo::PathSeg::Line(line) = segment else { continue };
                    if near(line.p0.x, line.p1.x) || near(line.p0.y, line.p1.y) {
                        all.push(Rect::from_points(line.p0, line.p1).inflate(round, round));
                    }
                }
            }
            Item::Group(group) => {
                all.extend(line_boxes(&group.items, to * group.transform, round));
            }
            Item::Text(_) | Item::Circle(_) | Item::Image(_) => {}
        }
    }
    all
}

/// Longest piece of a slanting line or a curve that gets a box of its own, mm.
const PIECE: f64 = 1.0;
/// How far a curve may leave its pieces, mm.
const FLAT: f64 = 0.05;

/// Boxes of all lines that [`line_boxes`] leaves out, slanting ones and curves, in short
/// pieces, each grown by `round` mm.
pub(super) fn slant_boxes(items: &[Item], to: Affine, round: f64) -> Vec<Rect> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Path(path) => {
                let mut flat = BezPath::new();
                kurbo::flatten(&(to * path.path.clone()), FLAT, |element| flat.push(element));
                for segment in flat.segments() {
                    let (from, end) = (segment.start(), segment.end());
                    if near(from.x, end.x) || near(from.y, end.y) {
                        continue;
                    }
                    let pieces = ((end - from).hypot() / PIECE).ceil().max(1.0);
                    let at = |step: f64| from.lerp(end, step / pieces);
                    let mut step = 0.0;
                    while step < pieces {
                        all.push(Rect::from_points(at(step), at(step + 1.0)).inflate(round, round));
                        step += 1.0;
                    }
                }
            }
            Item::Group(group) => {
                all.extend(slant_boxes(&group.items, to * group.transform, round));
            }
            Item::Text(_) | Item::Circle(_) | Item::Image(_) => {}
        }
    }
    all
}

/// The items of which something lies in a rectangle; texts only where the whole of
/// their ink does. Groups stay even when nothing in them does: they tell where they
/// stand.
pub(super) fn within(items: &[Item], shown: Rect) -> Vec<Item> {
    let touches = |all: Rect| {
        all.x0 <= shown.x1 && all.x1 >= shown.x0 && all.y0 <= shown.y1 && all.y1 >= shown.y0
    };
    items
        .iter()
        .filter_map(|item| {
            let kept = match item {
                Item::Path(path) => {
                    let half = path.stroke.map_or(0.0, |stroke| stroke.width / 2.0);
                    touches(path.path.bounding_box().inflate(half, half))
                }
                Item::Circle(circle) => touches(circle.path().path.bounding_box()),
                Item::Text(text) => text.ink().is_some_and(|ink| shown.union(ink) == shown),
                Item::Image(image) => touches(image.area),
                Item::Group(group) => {
                    let inside = group.transform.inverse().transform_rect_bbox(shown);
                    let items = within(&group.items, inside);
                    return Some(Group { items, ..group.clone() }.into());
                }
            };
            kept.then(|| item.clone())
        })
        .collect()
}
