//! Less margin.

use crate::job::Job;
use crate::layout::Layout;
use crate::units::digits::trimmed;

use super::prove::has_room;
use super::{Edit, Remedy};

/// Steps of the suggested margin, mm.
const STEP_MM: f64 = 0.5;
/// No margin below this is suggested, mm (common practice, no source).
const LEAST_MM: f64 = 3.0;

/// The largest margin, in half millimetres, that cures.
pub(super) fn less(job: &Job) -> Option<Remedy> {
    let margin = job.layout.plate.margin;
    let mut candidate = ((margin - STEP_MM / 10.0) / STEP_MM).floor() * STEP_MM;
    while candidate >= LEAST_MM {
        let changed = with_margin(&job.layout, candidate);
        if has_room(job, &changed) {
            let short = job.layout.plate.width.min(job.layout.plate.height);
            let value = format!("{} mm", trimmed(candidate, 1));
            return Some(Remedy {
                kind: "less-margin",
                message: format!("Set the margin to {value} instead of {} mm.", trimmed(margin, 2)),
                edits: vec![Edit { key: "plate.margin".to_owned(), value: format!("\"{value}\"") }],
                share: 2.0 * (margin - candidate) / short,
                layout: changed,
            });
        }
        candidate -= STEP_MM;
    }
    None
}

fn with_margin(layout: &Layout, margin: f64) -> Layout {
    let mut changed = layout.clone();
    changed.plate.margin = margin;
    changed
}
