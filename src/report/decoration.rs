//! Decoration in the report.

use serde_json::{Value, json};

use super::mm;
use crate::decoration::{Placed, Stands};
use crate::job::Job;
use crate::layout::{Corners, Named, Ornament};
use crate::lettering::Narrow;

/// What stands in a line instead of words.
pub(super) fn in_line(job: &Job, index: usize, asked: &Ornament) -> Value {
    let placed = job.decoration.iter().find(|placed| placed.stands == Stands::Line(index));
    let (kind, permission) = match asked {
        Ornament::Divider { .. } => ("divider", None),
        Ornament::Emblem(_) => ("emblem", None),
        Ornament::Own(own) => ("own emblem", own.permission.as_deref()),
    };
    json!({
        "kind": kind,
        "name": asked.told(),
        "permission": permission,
        "height_mm": placed.map(|placed| mm(placed.height)),
        "width_mm": placed.map(|placed| mm(placed.height * placed.ornament.width)),
        "strokes": placed.map(strokes),
    })
}

/// The ornaments in the corners.
pub(super) fn corners(job: &Job, asked: &Corners) -> Value {
    let placed: Vec<&Placed> =
        job.decoration.iter().filter(|p| matches!(p.stands, Stands::Corner(_))).collect();
    let boxes: Vec<Value> = placed
        .iter()
        .map(|placed| {
            let ink = kurbo::Shape::bounding_box(&placed.path);
            json!({ "x0": mm(ink.x0), "y0": mm(ink.y0), "x1": mm(ink.x1), "y1": mm(ink.y1) })
        })
        .collect();
    json!({
        "ornament": asked.ornament.word(),
        "size_mm": mm(asked.size),
        "inset_mm": mm(asked.inset),
        "gap_mm": mm(asked.gap),
        "ink": boxes,
        "strokes": placed.first().map(|placed| strokes(placed)),
    })
}

/// What is thin in a drawing as it stands.
fn strokes(placed: &Placed) -> Value {
    let Some(strokes) = placed.ornament.strokes() else { return Value::Null };
    let width = |thin: Option<Narrow>| thin.map(|thin| mm(thin.width * placed.height));
    json!({
        "thinnest_stroke_mm": width(strokes.stroke),
        "thinnest_join_mm": width(strokes.join),
        "narrowest_counter_mm": width(strokes.counter),
    })
}
