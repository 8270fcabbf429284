//! Whether a changed layout is cured.

use std::collections::BTreeMap;

use crate::job::{Job, job, job_if_kept};
use crate::layout::Layout;

use super::{CUT, ROOM};

/// Runs the job on a changed layout: it is cured if nothing of `codes` is left
/// unaccepted and no other `stop` has come.
pub(super) fn cured(before: &Job, changed: &Layout, codes: &[&str]) -> bool {
    job(changed).is_ok_and(|after| cures(before, &after, codes))
}

/// Whether a job after a change is cured, as [`cured`] has it.
fn cures(before: &Job, after: &Job, codes: &[&str]) -> bool {
    let left = after
        .findings
        .iter()
        .any(|judged| judged.accepted.is_none() && codes.contains(&judged.finding.code));
    !left && !worse(before, after, codes)
}

/// Whether the room is enough in a changed layout: also for letters that the cutter can
/// make, where that was wanting.
pub(super) fn has_room(before: &Job, changed: &Layout) -> bool {
    // A line below its floor is a finding, unless it is accepted: how far below matters only
    // then.
    let after = if changed.accepted.is_empty() { job_if_kept(changed) } else { job(changed).ok() };
    let Some(after) = after else { return false };
    cures(before, &after, ROOM) && (before.fitted.phi >= 1.0 || cuts(before, &after))
}

/// Whether the cutter can make all letters of a changed layout: none of its `stop`s is
/// left, and no other has come.
pub(super) fn cuttable(before: &Job, changed: &Layout) -> bool {
    job(changed).is_ok_and(|after| cuts(before, &after))
}

/// Whether the cutter can make all letters after a change, as [`cuttable`] has it.
fn cuts(before: &Job, after: &Job) -> bool {
    let stops = after.findings.iter().filter(|judged| judged.stops());
    let left = stops.filter(|judged| CUT.contains(&judged.finding.code)).count();
    left == 0 && !worse(before, after, CUT)
}

/// Whether a code has more `stop`s after than before, those to be cured apart.
fn worse(before: &Job, after: &Job, codes: &[&str]) -> bool {
    let (was, is) = (stops(before), stops(after));
    is.iter()
        .any(|(code, count)| !codes.contains(code) && *count > was.get(code).copied().unwrap_or(0))
}

fn stops(job: &Job) -> BTreeMap<&'static str, usize> {
    let mut counts = BTreeMap::new();
    for judged in job.findings.iter().filter(|judged| judged.stops()) {
        *counts.entry(judged.finding.code).or_insert(0) += 1;
    }
    counts
}
