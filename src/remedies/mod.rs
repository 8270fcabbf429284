//! Proved cures: candidates are applied to a copy of the layout, the job is run
//! again, and only what works is offered.

use crate::job::Job;
use crate::layout::Layout;

/// A change that cures a finding, with its number worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// Kebab-case kind: `shorter-wording`, `larger-plate`, `less-margin`, `narrower-lettering`.
    pub kind: &'static str,
    /// One sentence: what to change, with its number.
    pub message: String,
    /// The changed layout that was proved to have no such finding.
    pub layout: Layout,
}

/// Remedies for one finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Cures {
    /// Index into the job's findings.
    pub finding: usize,
    /// Ranked, the least change first.
    pub remedies: Vec<Remedy>,
}

/// Remedies for every unaccepted `stop` and for lines below their floor.
#[must_use]
pub fn cures(job: &Job) -> Vec<Cures> {
    let _ = job;
    Vec::new()
}
