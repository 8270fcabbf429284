//! A lower demand: the height that the wording does leave room for, and from how
//! far it would still be read.

use crate::floors::{LEAST_MINUTES, reading_distance};
use crate::job::Job;
use crate::layout::Ornament;
use crate::units::digits::{fixed, trimmed};

use super::prove::has_room;
use super::{Edit, Remedy};

/// What giving up a demand counts when remedies are ranked: more than any change
/// that keeps it.
const SHARE: f64 = 1.0;
/// Steps of a lowered height, mm.
const STEP_MM: f64 = 0.05;

/// Every line's own demand that was not met lowered to what the plate leaves,
/// rounded down; offered only if nothing but these demands stood in the way.
pub(super) fn lower(job: &Job) -> Option<Remedy> {
    let mut changed = job.layout.clone();
    let mut edits = Vec::new();
    let mut told = Vec::new();
    let lines = changed.lines.iter_mut().zip(&job.fitted.lines).zip(&job.lines);
    for (index, ((line, fitted), shaped)) in lines.enumerate() {
        let height = (fitted.cap_height / STEP_MM + 1e-9).floor() * STEP_MM;
        let stated_as = match &line.ornament {
            None => "cap_height",
            // A divider's height follows from its weight.
            Some(Ornament::Divider { .. }) => continue,
            Some(Ornament::Emblem(_) | Ornament::Own(_)) => "height",
        };
        let (key, demand) = match (&mut line.cap_height, &mut line.at_least) {
            (Some(stated), _) => (stated_as, stated),
            (None, Some(least)) => ("at_least", least),
            (None, None) => continue,
        };
        if *demand <= fitted.cap_height || height <= 0.0 {
            continue;
        }
        *demand = height;
        let value = format!("{} mm", trimmed(height, 2));
        let body = shaped.body.map_or(1.0, |body| body.ratio);
        told.push(match line.ornament {
            Some(_) => format!("line {} at {value}", index + 1),
            None => format!(
                "line {} at {value} (read from up to {} mm)",
                index + 1,
                fixed(reading_distance(height * body, LEAST_MINUTES).floor(), 0)
            ),
        });
        edits
            .push(Edit { key: format!("line.{}.{key}", index + 1), value: format!("\"{value}\"") });
    }
    if edits.is_empty() || !has_room(job, &changed) {
        return None;
    }
    Some(Remedy {
        kind: "lower-demand",
        message: format!("Ask for less: {}.", told.join(", ")),
        edits,
        share: SHARE,
        layout: changed,
    })
}
