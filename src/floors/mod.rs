//! How small a line may be, and why. A shaped line, the process and the shop's
//! figures in; floors and wishes in mm of cap height out. Knows nothing of plates.

mod process;
mod reading;

pub use process::{ProcessRow, process_row};
pub use reading::letter_height;

use crate::layout::Layout;
use crate::lettering::ShapedLine;

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

/// Floors of all lines.
#[must_use]
pub fn of(lines: &[ShapedLine], layout: &Layout) -> Vec<Floor> {
    let _ = (lines, layout);
    todo!()
}
