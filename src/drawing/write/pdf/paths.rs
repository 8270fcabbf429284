//! Paths: fills, gradients, lines with their dashes.

use krilla::color::rgb;
use krilla::geom::{PathBuilder, Transform};
use krilla::num::NormalizedF32;
use krilla::paint;
use krilla::surface::Surface;
use kurbo::{Affine, BezPath, PathEl, Point};

use super::super::WriteError;
use super::super::placed::{self, Shade};
use super::single;
use crate::drawing::{Ends, Paint, Path, Stroke};

/// Ratio at which a sharp corner is cut off: SVG's own, so that both files look alike
/// (SVG 2, section 13.5.5).
const MITER_LIMIT: f32 = 4.0;

/// Draws a path, its coordinates moved by `to`; nothing for an empty path.
pub(super) fn draw(surface: &mut Surface<'_>, item: &Path, to: Affine) -> Result<(), WriteError> {
    let fill = item.fill.as_ref().map(|paint| fill(paint, to)).transpose()?.flatten();
    let growth = placed::growth(to);
    let stroke = item.stroke.as_ref().map(|line| stroke(line, growth)).transpose()?.flatten();
    if fill.is_none() && stroke.is_none() {
        // The surface would fill with black.
        return Ok(());
    }
    let path = placed::path(&item.path, to)?;
    if let Some(path) = built(&path) {
        surface.set_fill(fill);
        surface.set_stroke(stroke);
        surface.draw_path(&path);
    }
    Ok(())
}

/// Shows only what is inside a path of what follows, until the surface is popped; whether
/// that is to be done: what has no extent is no path, and leaves all shown.
pub(super) fn clip(
    surface: &mut Surface<'_>,
    shown: &BezPath,
    to: Affine,
) -> Result<bool, WriteError> {
    let outline = placed::path(shown, to)?;
    let Some(outline) = built(&outline) else { return Ok(false) };
    surface.push_clip_path(&outline, &paint::FillRule::NonZero);
    Ok(true)
}

fn built(path: &BezPath) -> Option<krilla::geom::Path> {
    let mut builder = PathBuilder::new();
    let pair = |at: Point| (single(at.x), single(at.y));
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(a) => {
                let (x, y) = pair(a);
                builder.move_to(x, y);
            }
            PathEl::LineTo(a) => {
                let (x, y) = pair(a);
                builder.line_to(x, y);
            }
            PathEl::QuadTo(a, b) => {
                let ((x1, y1), (x, y)) = (pair(a), pair(b));
                builder.quad_to(x1, y1, x, y);
            }
            PathEl::CurveTo(a, b, c) => {
                let ((x1, y1), (x2, y2), (x, y)) = (pair(a), pair(b), pair(c));
                builder.cubic_to(x1, y1, x2, y2, x, y);
            }
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}

fn fill(paint: &Paint, by: Affine) -> Result<Option<paint::Fill>, WriteError> {
    let paint = match placed::shade(paint, by)? {
        None => return Ok(None),
        Some(Shade::Solid(colour)) => solid(colour),
        Some(Shade::Linear { from, to, stops }) => paint::LinearGradient {
            x1: single(from.x),
            y1: single(from.y),
            x2: single(to.x),
            y2: single(to.y),
            transform: Transform::identity(),
            spread_method: paint::SpreadMethod::Pad,
            stops: stops.into_iter().map(|(offset, colour)| stop(offset, colour)).collect(),
            anti_alias: false,
        }
        .into(),
    };
    Ok(Some(paint::Fill { paint, opacity: NormalizedF32::ONE, rule: paint::FillRule::NonZero }))
}

fn stop(offset: f64, [red, green, blue]: [u8; 3]) -> paint::Stop {
    paint::Stop {
        offset: NormalizedF32::new(single(offset)).unwrap_or(NormalizedF32::ZERO),
        color: rgb::Color::new(red, green, blue).into(),
        opacity: NormalizedF32::ONE,
    }
}

fn stroke(stroke: &Stroke, growth: f64) -> Result<Option<paint::Stroke>, WriteError> {
    let Some(width) = placed::line(stroke, growth)? else { return Ok(None) };
    let array: Vec<f32> = stroke.line_type.dashes(width).into_iter().map(single).collect();
    let (line_cap, line_join) = match stroke.ends {
        Ends::Square => (paint::LineCap::Butt, paint::LineJoin::Miter),
        Ends::Round => (paint::LineCap::Round, paint::LineJoin::Round),
    };
    Ok(Some(paint::Stroke {
        line_cap,
        line_join,
        paint: solid(stroke.colour),
        width: single(width),
        miter_limit: MITER_LIMIT,
        dash: (!array.is_empty()).then_some(paint::StrokeDash { array, offset: 0.0 }),
        ..paint::Stroke::default()
    }))
}

/// One colour as the PDF's paint.
pub(super) fn solid([red, green, blue]: [u8; 3]) -> paint::Paint {
    rgb::Color::new(red, green, blue).into()
}
