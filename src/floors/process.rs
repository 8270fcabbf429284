//! What a process can make, from `processes.toml`.

use crate::layout::Process;

/// Figures of a process; all "common practice, no source".
#[derive(Debug, Clone, PartialEq)]
pub struct ProcessRow {
    /// Least cap height, mm.
    pub least: f64,
    /// Careful cap height, mm.
    pub careful: f64,
    /// Ground of the figures, as printed.
    pub source: String,
}

/// Figures of a process.
#[must_use]
pub fn process_row(process: Process) -> &'static ProcessRow {
    let _ = process;
    todo!()
}
