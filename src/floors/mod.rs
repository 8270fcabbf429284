//! How small a line may be, and why. A shaped line, the process and the shop's
//! figures in; floors and wishes in mm of cap height out. Knows nothing of plates.

mod process;
mod reading;

pub use process::{ProcessRow, process_row};
pub use reading::{letter_height, reading_distance};

use crate::layout::{Layout, Line};
use crate::lettering::{Body, ShapedLine};

/// Which rule set a floor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FloorFrom {
    /// The process's or the shop's least.
    Process,
    /// The user's own figure.
    Layout,
}

/// Floors, ceiling and wish of one line; mm of cap height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Floor {
    /// The computed floor.
    pub floor: f64,
    /// Which rule set it.
    pub floor_from: FloorFrom,
    /// Whether the process's figure is the shop's own (its breach is then a `stop`).
    pub shop_figure: bool,
    /// Cap height at which the line's smallest letters subtend 15 minutes of arc.
    pub wish: Option<f64>,
    /// The same for 20 minutes, the preferred size.
    pub preferred: Option<f64>,
    /// The user's own ceiling.
    pub ceiling: Option<f64>,
}

/// Angle below which lettering is hard to read, minutes of arc: the least that US
/// NRC NUREG-0700 rev. 3, guideline 11.4.1.5-1, allows for labels.
pub const LEAST_MINUTES: f64 = 15.0;

/// Angle that the same guideline prefers, minutes of arc.
pub const PREFERRED_MINUTES: f64 = 20.0;

/// Floors of all lines, in their order.
///
/// The floor is the greater of the process's least cap height (the shop's own
/// where it has one) and what the line asks for itself. A stated cap height does
/// not change it: a line set below its floor is found by that. Wishes are the
/// reading angle's height over the line's smallest letters; a line without
/// letters and figures has none.
#[must_use]
pub fn of(lines: &[ShapedLine], layout: &Layout) -> Vec<Floor> {
    lines.iter().zip(&layout.lines).map(|(shaped, line)| floor(line, shaped.body, layout)).collect()
}

fn floor(line: &Line, body: Option<Body>, layout: &Layout) -> Floor {
    let process = layout.engraving.process;
    let own = layout.shop.least_cap_height.get(&process).copied();
    let least = own.unwrap_or_else(|| process_row(process).least);
    let asked = line.at_least.filter(|asked| *asked > least);
    let seen = |minutes: f64| {
        let height = letter_height(layout.engraving.reading.distance, minutes);
        body.filter(|body| body.ratio > 0.0).map(|body| height / body.ratio)
    };
    Floor {
        floor: asked.unwrap_or(least),
        floor_from: if asked.is_some() { FloorFrom::Layout } else { FloorFrom::Process },
        shop_figure: own.is_some() && asked.is_none(),
        wish: seen(LEAST_MINUTES),
        preferred: seen(PREFERRED_MINUTES),
        ceiling: line.at_most,
    }
}

#[cfg(test)]
mod tests;
