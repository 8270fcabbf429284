//! Every rule that yields a finding, one file a topic. Facts in, findings out;
//! nothing is cured or drawn here.

use crate::finding::Finding;
use crate::fit::Fitted;
use crate::layout::Layout;
use crate::lettering::ShapedLine;
use crate::mount::MountPlan;
use crate::plate::{ClearZone, Field};

/// What the checks look at.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'a> {
    /// What was asked.
    pub layout: &'a Layout,
    /// Shaped lines, as in the layout.
    pub lines: &'a [ShapedLine],
    /// The field.
    pub field: &'a Field,
    /// Clear zones of holes and of a border that turns in round them.
    pub zones: &'a [ClearZone],
    /// The mount.
    pub mount: &'a MountPlan,
    /// The fit.
    pub fitted: &'a Fitted,
}

/// All findings, in the order of print.
#[must_use]
pub fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let _ = facts;
    Vec::new()
}
