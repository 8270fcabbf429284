//! Clear zones as the report tells them: a disc by its measures, a side by its line, all
//! others as points.

use serde_json::{Value, json};

use super::{mm, points};
use crate::plate::{ClearZone, Side, ZoneKind, ZoneShape};

/// A clear zone, its thing counted from 1.
pub(super) fn zone(zone: &ClearZone) -> Value {
    let (kind, named, index) = match zone.kind {
        ZoneKind::Hole(hole) => ("hole", "hole", hole),
        ZoneKind::Border(hole) => ("border", "hole", hole),
        ZoneKind::Corner(corner) => ("corner", "corner", corner),
        ZoneKind::Photo(photo) => ("photo", "photo", photo),
    };
    let shape = match zone.shape {
        ZoneShape::Disc { .. } => "disc",
        ZoneShape::Box { .. } => "box",
        ZoneShape::Rounded { .. } => "rounded",
        ZoneShape::Oval { .. } => "oval",
        ZoneShape::Arch { .. } => "arch",
        ZoneShape::Side { .. } => "side",
    };
    match zone.shape {
        ZoneShape::Disc { x, y, radius } => json!({
            "kind": kind, named: index + 1, "shape": shape,
            "x_mm": mm(x), "y_mm": mm(y), "radius_mm": mm(radius),
        }),
        ZoneShape::Side { side, at } => json!({
            "kind": kind, named: index + 1, "shape": shape,
            "side": match side {
                Side::Left => "left",
                Side::Right => "right",
                Side::Top => "top",
                Side::Bottom => "bottom",
            },
            "at_mm": mm(at),
        }),
        ZoneShape::Box { x0, y0, x1, y1 } => json!({
            "kind": kind, named: index + 1, "shape": shape,
            "outline": [[mm(x0), mm(y0)], [mm(x1), mm(y0)], [mm(x1), mm(y1)], [mm(x0), mm(y1)]],
        }),
        grown => json!({
            "kind": kind, named: index + 1, "shape": shape,
            "outline": grown.path().as_ref().map(points),
        }),
    }
}
