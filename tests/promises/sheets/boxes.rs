//! Where the ink of every text of a page is, measured from its glyphs.

use ansata::drawing::{Item, Page, Path, Text};
use kurbo::{Affine, Point, Rect, Shape};

use super::Placed;

/// All paths with the transforms of their groups.
pub(crate) fn paths(items: &[Item], place: Affine) -> Vec<(Path, Affine)> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Path(path) => all.push((path.clone(), place)),
            Item::Group(group) => all.extend(paths(&group.items, place * group.transform)),
            Item::Text(_) | Item::Circle(_) | Item::Image(_) => {}
        }
    }
    all
}

/// All texts of a page where they stand on it, with the box of their ink; texts without
/// ink are left out.
pub(crate) fn texts(page: &Page) -> Vec<Placed> {
    fn walk(items: &[Item], place: Affine, all: &mut Vec<Placed>) {
        for item in items {
            match item {
                Item::Text(text) => {
                    if let Some(ink) = ink(text, place) {
                        let stands = place * Point::new(text.x, text.y);
                        all.push((Text { x: stands.x, y: stands.y, ..text.clone() }, ink));
                    }
                }
                Item::Group(group) => walk(&group.items, place * group.transform, all),
                Item::Path(_) | Item::Circle(_) | Item::Image(_) => {}
            }
        }
    }
    let mut all = Vec::new();
    walk(&page.items, Affine::IDENTITY, &mut all);
    all
}

fn ink(text: &Text, place: Affine) -> Option<Rect> {
    // Turned anticlockwise on paper: y runs down.
    let turn = Affine::rotate((-text.turned).to_radians());
    let place = place * Affine::translate((text.x, text.y)) * turn;
    text.glyphs
        .iter()
        .filter_map(|glyph| {
            let outline = text.face.outline(glyph.id);
            if outline.elements().is_empty() {
                return None;
            }
            let size = text.size;
            let set = Affine::new([size, 0.0, 0.0, -size, glyph.x_em * size, -glyph.y_em * size]);
            Some((place * set * outline).bounding_box())
        })
        .reduce(|a, b| a.union(b))
}

/// Side bearings and overshoots that stand outside a text's own width, mm.
const OVERSHOOT: f64 = 0.4;

/// Fails where a text leaves the margins, touches another, stands over the
/// coloured plate, is too small, or stands nearer to the row above it than
/// ISO 3098-0 allows (1.5 cap heights, type B).
pub(crate) fn assert_tidy(page: &Page, margin: f64, least_cap: f64, place: &str) {
    let all = texts(page);
    assert!(!all.is_empty(), "{place}");
    let inside = Rect::new(0.0, 0.0, page.width, page.height).inset(-(margin - OVERSHOOT));
    for (text, ink) in &all {
        assert!(
            inside.union(*ink) == inside,
            "`{}` leaves the margins: {ink:?} in {inside:?}\n{place}",
            text.text
        );
        let cap = text.size * text.face.cap_em();
        assert!(cap >= least_cap - 1e-9, "`{}` is {cap} mm high\n{place}", text.text);
    }
    for (index, (text, ink)) in all.iter().enumerate() {
        for (other, its) in all.iter().skip(index + 1) {
            let common = ink.intersect(*its);
            assert!(
                common.is_zero_area() || common.width() < 0.02 || common.height() < 0.02,
                "`{}` {ink:?} and `{}` {its:?} collide\n{place}",
                text.text,
                other.text
            );
            let above = ink.x0 < its.x1 && its.x0 < ink.x1 && text.turned + other.turned < 1.0;
            let apart = (text.y - other.y).abs();
            let cap = (text.size * text.face.cap_em()).max(other.size * other.face.cap_em());
            // Smaller text over larger (a caption over a title) needs less.
            let same = (text.size - other.size).abs() < 1e-9;
            assert!(
                !above || !same || apart >= 1.5 * cap - 1e-9,
                "`{}` and `{}` stand {apart} mm apart at {cap} mm\n{place}",
                text.text,
                other.text
            );
        }
    }
}
