//! Places where a line may be broken, and where it must.

use crate::layout::Line;

/// The break marks of one line. Offsets are byte offsets into its text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Marks {
    /// Starts of possible pieces: 0, then every permitted break, then the text's
    /// length; strictly rising. A piece runs from one stop to a later one.
    pub stops: Vec<usize>,
    /// For each entry of `stops`, whether the user broke the line there (a line
    /// feed). No piece runs across such a stop. First and last are `false`.
    pub forced: Vec<bool>,
    /// For each entry of `stops`, the sense cost of breaking there; 0 is free.
    pub costs: Vec<u32>,
}

/// The break marks of a line: opportunities of UAX #14 less those inside `keep`,
/// at no-break spaces and soft hyphens; line feeds are forced.
#[must_use]
pub fn marks(line: &Line) -> Marks {
    let _ = line;
    todo!()
}
