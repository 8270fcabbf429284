//! The way through, as one short function.

use crate::finding::Finding;
use crate::fit::Fitted;
use crate::layout::{Diagnostic, Layout};
use crate::lettering::ShapedLine;
use crate::mount::MountPlan;
use crate::plate::{ClearZone, Field};

/// What the checks look at.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'a> {
    /// What was asked.
    pub layout: &'a Layout,
    /// Shaped lines.
    pub lines: &'a [ShapedLine],
    /// The field.
    pub field: &'a Field,
    /// The mount.
    pub mount: &'a MountPlan,
    /// The fit.
    pub fitted: &'a Fitted,
}

/// A finding that the layout accepts by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The finding.
    pub finding: Finding,
    /// The reason given, where it is accepted.
    pub accepted: Option<String>,
}

/// Everything known about one plaque: what was asked, what fits, what was noticed.
#[derive(Debug, Clone)]
pub struct Job {
    /// What was asked.
    pub layout: Layout,
    /// Shaped lines, as in the layout.
    pub lines: Vec<ShapedLine>,
    /// Where lettering may stand.
    pub field: Field,
    /// Clear zones of holes.
    pub zones: Vec<ClearZone>,
    /// Holes and face.
    pub mount: MountPlan,
    /// Every glyph placed.
    pub fitted: Fitted,
    /// What was noticed, in the order of print.
    pub findings: Vec<Judged>,
    /// The proof mark: 10 characters.
    pub mark: String,
}

/// The way through.
///
/// # Errors
/// Lettering that cannot be opened, told at the key that names it.
pub fn job(layout: &Layout) -> Result<Job, Vec<Diagnostic>> {
    let _ = layout;
    todo!()
}
