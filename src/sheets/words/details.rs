//! Sentences under the enlarged details of a proof.

use crate::job::Job;
use crate::layout::Shape;
use crate::mount::Hole;

use super::{listed, mm};

/// Under the smallest row; `part`: whether its end is left out.
pub(in crate::sheets) fn smallest_row(line: usize, scale: &str, part: bool) -> String {
    let first = if part { ", as far as there is room" } else { "" };
    format!("{scale} : 1. The smallest letters, those of line {line}{first}: height of capitals.")
}

/// Under the plate's corner.
pub(in crate::sheets) fn corner(job: &Job, hole: Option<&Hole>, scale: &str) -> String {
    let plate = &job.layout.plate;
    let mut parts: Vec<String> = Vec::new();
    match plate.shape {
        Shape::Rounded { corner } => parts.push(format!("its radius {}", mm(corner))),
        Shape::Notched { corner } => {
            parts.push(format!("a quarter circle of radius {} cut out", mm(corner)));
        }
        _ => {}
    }
    if plate.bevel > 0.0 {
        parts.push(format!("bevel {} wide", mm(plate.bevel)));
    }
    parts.extend(plate.border.map(|border| match border.lines {
        1 => format!("border line {} wide", mm(border.weight)),
        _ => format!("border lines {} wide, {} apart", mm(border.weight), mm(border.gap)),
    }));
    parts.extend(hole.map(|hole| {
        let head = if hole.head_diameter > hole.clearance_diameter {
            format!(" under a head of \u{d8}{} (dash-dot-dot line)", mm(hole.head_diameter))
        } else {
            String::new()
        };
        format!("hole \u{d8}{}{head}", mm(hole.clearance_diameter))
    }));
    let from = "Dimensions run from the plate\u{2019}s edges to the middles of lines and holes.";
    format!("{scale} : 1. The top left corner: {}. {from}", listed(&parts))
}
