//! Polygons moved in and out, which know nothing of balls.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::float::simplify::SimplifyShape;
use i_overlay::mesh::float::outline::offset::OutlineOffset;
use i_overlay::mesh::float::style::{LineJoin, OutlineStyle};
use kurbo::{BezPath, PathEl, Point};

use super::{face, letter, outline};

type Shapes = Vec<Vec<Vec<[f64; 2]>>>;

/// Polygons of a united outline, and the same moved out (or in, below 0) by `i_overlay`,
/// which knows nothing of balls.
fn moved(path: &BezPath, by: f64) -> Shapes {
    let mut contours: Vec<Vec<[f64; 2]>> = Vec::new();
    kurbo::flatten(path.iter(), 5e-5, |element| match element {
        PathEl::MoveTo(point) => contours.push(vec![[point.x, point.y]]),
        PathEl::LineTo(point) => contours.last_mut().unwrap().push([point.x, point.y]),
        _ => {}
    });
    by_width(&contours.simplify_shape(FillRule::NonZero), by)
}

fn by_width(shapes: &Shapes, by: f64) -> Shapes {
    shapes.outline(&OutlineStyle::new(by).line_join(LineJoin::Round(0.05)))
}

/// Whether shapes hold a point, by the even-odd rule.
fn holds(shapes: &[Vec<Vec<[f64; 2]>>], at: Point) -> bool {
    let mut crossed = 0;
    for contour in shapes.iter().flatten() {
        for (a, b) in contour.iter().zip(contour.iter().cycle().skip(1)) {
            let across = (at.y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) + a[0];
            crossed += usize::from((a[1] > at.y) != (b[1] > at.y) && across > at.x);
        }
    }
    crossed % 2 == 1
}

#[test]
fn an_inset_agrees_on_what_is_thin_and_that_nothing_else_is_thinner() {
    let mut compared = 0;
    for name in ["EB Garamond", "Bodoni Moda", "Archivo", "Besley", "Roboto Slab"] {
        let face = face(name, &[]);
        for character in "BDEHORSabdeghnopqsu0689&".chars() {
            let path = outline(&face, character);
            let strokes = letter(&face, character);
            let case = format!("{name} {character}");
            // Half a thousandth of an em is the roundness of the inset's own corners.
            let stroke = strokes.join.or(strokes.stroke).unwrap();
            let width = stroke.width;
            let inset =
                |share: f64| moved(&path, -(share * width) / 2.0 - 5e-4 * (share - 1.0).signum());
            assert!(holds(&inset(0.96), stroke.at), "{case} thinner at {stroke:?}");
            assert!(!holds(&inset(1.04), stroke.at), "{case} thicker at {stroke:?}");
            // A little less than the least leaves the letter in as many pieces.
            assert_eq!(inset(0.9).len(), moved(&path, 0.0).len(), "{case} comes apart");
            compared += 2;
            let Some(counter) = strokes.counter else { continue };
            let outset = |share: f64| {
                moved(&path, share * counter.width / 2.0 + 5e-4 * (share - 1.0).signum())
            };
            assert!(!holds(&outset(0.96), counter.at), "{case} narrower at {counter:?}");
            assert!(holds(&outset(1.04), counter.at), "{case} wider at {counter:?}");
            compared += 2;
        }
    }
    assert!(compared > 400, "{compared}");
}
