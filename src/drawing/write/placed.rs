//! Things where they finally stand: the transforms of their groups worked into
//! their own coordinates, and every length looked at before it is written.
//!
//! No file holds nested transforms on outlines, so the numbers in it are the
//! places on the page, and programs that overlook a transform are not misled.

use kurbo::{Affine, BezPath, PathEl, Point, Rect};

use super::WriteError;
use crate::drawing::{Circle, Drawing, Page, Paint, Stroke};

/// Farthest that anything may stand from a page's corner, mm: a hundred metres,
/// far past any plate. What lies beyond comes from a fault in the arithmetic.
const FARTHEST_MM: f64 = 100_000.0;

/// Least side of a page, mm: below this a page is an area in name only.
const LEAST_PAGE_MM: f64 = 0.01;

/// The pages of a drawing, of which there is at least one, each with an area.
pub(super) fn pages(drawing: &Drawing) -> Result<&[Page], WriteError> {
    if drawing.pages.is_empty() {
        return Err(WriteError("the drawing has no page".to_owned()));
    }
    for page in &drawing.pages {
        for side in [page.width, page.height] {
            if !(LEAST_PAGE_MM..=FARTHEST_MM).contains(&side) {
                return Err(WriteError(format!("a page cannot be {side} mm wide or high")));
            }
        }
    }
    Ok(&drawing.pages)
}

/// A length that may be written: a number, and not out of all proportion.
pub(super) fn length(value: f64) -> Result<f64, WriteError> {
    if value.abs() <= FARTHEST_MM {
        Ok(value)
    } else {
        Err(WriteError(format!("the drawing holds a length of {value} mm")))
    }
}

/// A point moved to where it stands on the page, mm.
pub(super) fn point(at: Point, to: Affine) -> Result<Point, WriteError> {
    let placed = to * at;
    length(placed.x)?;
    length(placed.y)?;
    Ok(placed)
}

/// A path moved to where it stands on the page, mm.
///
/// # Errors
/// A coordinate that is no number; a path that does not begin with a place to start from.
pub(super) fn path(path: &BezPath, to: Affine) -> Result<BezPath, WriteError> {
    let mut placed = BezPath::with_capacity(path.elements().len());
    for element in path.elements() {
        if placed.elements().is_empty() && !matches!(element, PathEl::MoveTo(_)) {
            return Err(WriteError("the drawing holds a path without a start".to_owned()));
        }
        placed.push(match *element {
            PathEl::MoveTo(a) => PathEl::MoveTo(point(a, to)?),
            PathEl::LineTo(a) => PathEl::LineTo(point(a, to)?),
            PathEl::QuadTo(a, b) => PathEl::QuadTo(point(a, to)?, point(b, to)?),
            PathEl::CurveTo(a, b, c) => {
                PathEl::CurveTo(point(a, to)?, point(b, to)?, point(c, to)?)
            }
            PathEl::ClosePath => PathEl::ClosePath,
        });
    }
    Ok(placed)
}

/// A fill where it stands on the page.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Shade {
    /// One colour.
    Solid([u8; 3]),
    /// From one place to another, which differ; at least two stops, from 0 to 1 and never
    /// falling.
    Linear {
        /// Where offset 0 stands, mm.
        from: Point,
        /// Where offset 1 stands, mm.
        to: Point,
        /// Offsets with their colours.
        stops: Vec<(f64, [u8; 3])>,
    },
}

/// A paint as both formats understand it: degenerate gradients become what SVG 2
/// (section 14.2.4) makes of them, since PDF says nothing about them. A gradient
/// without stops paints nothing; with one stop, or without length, the last colour.
pub(super) fn shade(paint: &Paint, by: Affine) -> Result<Option<Shade>, WriteError> {
    let (from, to, stops) = match paint {
        Paint::Solid(colour) => return Ok(Some(Shade::Solid(*colour))),
        Paint::Linear { from, to, stops } => (from, to, stops),
    };
    let from = point(Point::new(from.0, from.1), by)?;
    let to = point(Point::new(to.0, to.1), by)?;
    let mut least = 0.0_f64;
    let mut placed = Vec::with_capacity(stops.len());
    for (offset, colour) in stops {
        least = length(*offset)?.clamp(least, 1.0);
        placed.push((least, *colour));
    }
    Ok(match placed.as_slice() {
        [] => None,
        [.., (_, last)] if placed.len() == 1 || from == to => Some(Shade::Solid(*last)),
        _ => Some(Shade::Linear { from, to, stops: placed }),
    })
}

/// Width of a line where it stands, mm; `None` for a line without width, which
/// SVG leaves out and PDF would draw as thin as the device can.
pub(super) fn line(stroke: &Stroke, growth: f64) -> Result<Option<f64>, WriteError> {
    let width = length(stroke.width * growth)?;
    Ok((width > 0.0).then_some(width))
}

/// How many times longer lengths become: the side of the square that a unit
/// square becomes.
pub(super) fn growth(to: Affine) -> f64 {
    to.determinant().abs().sqrt()
}

/// Lengths of the sides of a box where it stands, mm: those that lay level, and those that
/// stood upright.
pub(super) fn sides(area: Rect, to: Affine) -> (f64, f64) {
    let [a, b, c, d, ..] = to.as_coeffs();
    (area.width() * libm::hypot(a, b), area.height() * libm::hypot(c, d))
}

/// Factors of a transform that differ by no more than this part are one.
const SAME_FACTOR: f64 = 1e-9;

/// Centre and radius of a circle where it stands, mm; `None` where it is a circle no
/// longer, or has no radius.
pub(super) fn circle(circle: &Circle, to: Affine) -> Result<Option<(Point, f64)>, WriteError> {
    let centre = point(circle.centre.into(), to)?;
    let [a, b, c, d, ..] = to.as_coeffs();
    let (one, other) = (a * a + b * b, c * c + d * d);
    let skew = (a * c + b * d).abs().max((one - other).abs());
    let radius = length(circle.radius * growth(to))?;
    Ok((skew <= SAME_FACTOR * one.max(other) && radius > 0.0).then_some((centre, radius)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn growth_is_the_factor_in_every_direction_whether_turned_or_mirrored() {
        assert!((growth(Affine::scale(2.0)) - 2.0).abs() < 1e-12);
        assert!((growth(Affine::new([0.0, -3.0, 3.0, 0.0, 7.0, 8.0])) - 3.0).abs() < 1e-12);
        assert!((growth(Affine::new([-1.0, 0.0, 0.0, 1.0, 50.0, 0.0])) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_number_is_refused_with_its_value() {
        let mut broken = BezPath::new();
        broken.move_to((0.0, 0.0));
        broken.line_to((f64::NAN, 1.0));
        let said = path(&broken, Affine::IDENTITY).map(|_| ()).map_err(|e| e.to_string());
        assert_eq!(said, Err("the drawing holds a length of NaN mm".to_owned()));
        assert!(length(f64::INFINITY).is_err());
        assert!(length(-100_000.1).is_err());
        assert!(length(-100_000.0).is_ok());
    }

    #[test]
    fn a_gradient_without_extent_is_one_colour_and_one_without_stops_is_none() {
        let (red, blue) = ([200, 0, 0], [0, 0, 200]);
        let shaded = |to: (f64, f64), stops: &[(f64, [u8; 3])]| {
            let paint = Paint::Linear { from: (1.0, 1.0), to, stops: stops.to_vec() };
            shade(&paint, Affine::IDENTITY)
        };
        assert_eq!(shaded((5.0, 1.0), &[]), Ok(None));
        assert_eq!(shaded((5.0, 1.0), &[(0.3, red)]), Ok(Some(Shade::Solid(red))));
        assert_eq!(shaded((1.0, 1.0), &[(0.0, red), (1.0, blue)]), Ok(Some(Shade::Solid(blue))));
        assert!(shaded((5.0, 1.0), &[(f64::NAN, red), (1.0, blue)]).is_err());
        // Offsets that fall back or leave 0 to 1 are held where they last were.
        let Ok(Some(Shade::Linear { stops, .. })) =
            shaded((5.0, 1.0), &[(-1.0, red), (0.6, blue), (0.4, red), (9.0, blue)])
        else {
            panic!("a gradient");
        };
        let offsets: Vec<f64> = stops.iter().map(|(offset, _)| *offset).collect();
        assert_eq!(offsets, [0.0, 0.6, 0.6, 1.0]);
    }

    #[test]
    fn a_path_must_start_somewhere() {
        let headless: BezPath = [PathEl::ClosePath].into_iter().collect();
        assert!(path(&headless, Affine::IDENTITY).is_err());
        assert_eq!(path(&BezPath::new(), Affine::IDENTITY), Ok(BezPath::new()));
    }
}
