//! How the paper is held on the face.

use crate::job::Job;
use crate::sheets::heading::{BENCH, section};
use crate::sheets::page::Flow;
use crate::sheets::text::Labels;
use crate::sheets::words;

use super::steps;

/// Steps of folding and taping.
pub(super) fn taping(flow: &mut Flow, labels: &Labels, job: &Job) {
    let mut all = Vec::new();
    if job.mount.face.as_ref().is_some_and(|plan| plan.edge.is_some()) {
        all.push(words::FOLDING.to_owned());
    }
    all.push(words::WINDOWS.to_owned());
    all.push(words::LOW_TACK.to_owned());
    section(flow, labels, BENCH, "Folding and taping the paper", 30.0);
    steps(flow, labels, &all);
}
