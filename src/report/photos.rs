//! Photographs as the report tells them.

use serde_json::{Value, json};

use crate::job::Job;
use crate::photo::making;

use super::mm;

/// Each photograph in its place, mm in plate coordinates, its crop in pixels of the upright
/// picture.
pub(super) fn photos(job: &Job) -> Value {
    let each = job.photos.iter().filter_map(|placed| {
        let photo = job.layout.photos.get(placed.index)?;
        let [x0, y0, x1, y1] = placed.sides.map(mm);
        let [left, top, right, bottom] = placed.crop.map(mm);
        Some(json!({
            "file": photo.path,
            "picture": { "width": photo.picture.width, "height": photo.picture.height },
            "shape": photo.shape.word(),
            "box": { "x0": x0, "y0": y0, "x1": x1, "y1": y1 },
            "crop": { "left": left, "top": top, "right": right, "bottom": bottom },
            "pixels_per_mm": mm(placed.pixels_per_mm()),
            "made": making(photo, &job.layout).ok().map(|making| making.told()),
            "credit": photo.credit,
            "permission": photo.permission,
        }))
    });
    each.collect()
}
