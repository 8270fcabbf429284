//! How small a line may be, and why. A shaped line, the process and the shop's
//! figures in; floors and wishes in mm of cap height out. Knows nothing of plates.

mod cutter;
mod process;
mod reading;
mod suits;

pub use cutter::{Need, Needs, Whose, needs};
pub use process::{ProcessRow, process_row};
pub use reading::{letter_height, reading_distance};
pub use suits::{Objection, objections, objections_to};

use crate::layout::{Layout, Line};
use crate::lettering::{ShapedLine, Thin, ThinPlace};

/// Which rule set a floor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FloorFrom {
    /// The process's or the shop's least.
    Process,
    /// The thinnest stroke, against the cutter or the least land.
    Stroke,
    /// The narrowest counter.
    Counter,
    /// The narrowest gap between letters.
    Gap,
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
    /// The process's least, or the shop's own.
    pub process: f64,
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

/// Cuts that single-stroke capitals are high at least: lower ones are a blot. Common practice,
/// no source.
const LEAST_CUTS: f64 = 2.0;

/// Floors of all lines, in their order.
///
/// The floor is the greatest of the process's least cap height (the shop's own where it
/// has one), where a cutter is told the heights at which thinnest stroke, narrowest counter
/// and narrowest gap are what [`needs`] asks, twice the cut of single-stroke letters, and what
/// the line asks for itself. A stated cap height does
/// not change it: a line set below its floor is found by that. Wishes are the
/// reading angle's height over the line's smallest letters; a line without
/// letters and figures has none.
#[must_use]
pub fn of(lines: &[ShapedLine], layout: &Layout) -> Vec<Floor> {
    let needs = needs(layout);
    let each = lines.iter().zip(&layout.lines);
    each.map(|(shaped, line)| {
        let letters = Letters {
            body: shaped.body.map(|body| body.ratio).filter(|ratio| *ratio > 0.0),
            thin: needs.map(|needs| (needs, shaped.thin())),
            cut: if shaped.single_stroke() { layout.cut_width() } else { 0.0 },
        };
        floor(line, &letters, layout)
    })
    .collect()
}

/// What floors and wishes of a line follow from.
struct Letters {
    /// Height of its smallest letters, in cap heights, above 0.
    body: Option<f64>,
    /// What is thin in it, in cap heights, and what must be; where a cutter is told.
    thin: Option<(Needs, Thin)>,
    /// Width of the cut along its centre lines, mm; 0 for filled letters. All measures of it
    /// are then those of the centre lines, whose capitals are lower by the cut.
    cut: f64,
}

fn floor(line: &Line, letters: &Letters, layout: &Layout) -> Floor {
    let process = layout.engraving.process;
    let own = layout.shop.least_cap_height.get(&process).copied();
    let least = own.unwrap_or_else(|| process_row(process).least);
    let mut highest = (least, FloorFrom::Process);
    let cut = letters.thin.as_ref();
    let cut = cut.map_or([None; 3], |(needs, thin)| by_cutter(needs, thin, letters.cut));
    let blot = (letters.cut > 0.0).then_some((LEAST_CUTS * letters.cut, FloorFrom::Stroke));
    let asked = line.at_least.map(|asked| (asked, FloorFrom::Layout));
    for (height, from) in cut.into_iter().chain([blot, asked]).flatten() {
        if height > highest.0 {
            highest = (height, from);
        }
    }
    let seen = |minutes: f64| {
        let height = letter_height(layout.engraving.reading.distance, minutes);
        // Letters are seen with their strokes: a cut more than their centre lines.
        letters.body.map(|ratio| (height - letters.cut).max(0.0) / ratio + letters.cut)
    };
    Floor {
        floor: highest.0,
        floor_from: highest.1,
        process: least,
        shop_figure: own.is_some() && highest.1 != FloorFrom::Layout,
        wish: seen(LEAST_MINUTES),
        preferred: seen(PREFERRED_MINUTES),
        ceiling: line.at_most,
    }
}

/// Cap heights at which the widths of a line, told in cap heights, are what they must be.
/// Between centre lines a cut goes off what stands there.
fn by_cutter(needs: &Needs, thin: &Thin, cut: f64) -> [Option<(f64, FloorFrom)>; 3] {
    let height = |need: Need, place: Option<ThinPlace>, from: FloorFrom| {
        let place = place.filter(|place| need.binding() && place.width > 0.0)?;
        Some(((need.least + cut) / place.width + cut, from))
    };
    [
        height(needs.stroke, thin.stroke, FloorFrom::Stroke),
        height(needs.ground, thin.counter, FloorFrom::Counter),
        height(needs.ground, thin.gap, FloorFrom::Gap),
    ]
}

#[cfg(test)]
mod tests;
