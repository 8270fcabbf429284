//! Slots across the grain, where the wood moves more than the fixings give.

use crate::job::Job;
use crate::layout::{Edges, GrainWay, HolesAsked, Layout, Named};
use crate::units::digits::trimmed;

use super::prove::cured;
use super::{Edit, Remedy};

/// What is cured together: the movement itself, and slots that would not do.
const CODES: &[&str] = &["wood-movement", "slot-not-covered", "slots-not-made"];
/// What a remedy counts when remedies are ranked: slots alone, and with holes added.
const SLOTS_SHARE: f64 = 0.1;
const HOLES_SHARE: f64 = 0.2;

/// Slots under the holes that are there; and with a hole in the middle that stays
/// tight, which halves the travel of the outer ones.
pub(super) fn slots(job: &Job) -> Vec<Remedy> {
    let mut remedies = Vec::new();
    let edit = Edit { key: "mount.slots".to_owned(), value: "\"across the grain\"".to_owned() };
    let mut slotted = job.layout.clone();
    slotted.mount.slots = true;
    let mut offer = |layout: Layout, edits: Vec<Edit>, message: &str, share: f64| {
        if cured(job, &layout, CODES) {
            let message = message.to_owned();
            remedies.push(Remedy { kind: "slots", message, edits, share, layout });
        }
    };
    if let Some(edges) = middle(job) {
        let mut more = slotted.clone();
        more.mount.holes = HolesAsked::Along { edges, count: 3 };
        more.mount.inset = job.mount.set.inset;
        let mut edits = Vec::new();
        if (more.mount.inset - job.layout.mount.inset).abs() > 1e-9 {
            let value = format!("\"{} mm\"", trimmed(more.mount.inset, 3));
            edits.push(Edit { key: "mount.inset".to_owned(), value });
        }
        let value = format!("{{ along = \"{}\", count = 3 }}", edges.word());
        edits.push(Edit { key: "mount.holes".to_owned(), value });
        edits.push(edit.clone());
        let message = "Slot the holes across the grain, with one more in the middle that stays \
                       tight: the outer slots are half as long.";
        offer(more, edits, message, HOLES_SHARE);
    }
    let message = "Slot the holes across the grain; the pattern shows which stay tight.";
    offer(slotted, vec![edit], message, SLOTS_SHARE);
    remedies.reverse();
    remedies
}

/// The edges across the grain along which a middle hole would stand, where the holes
/// are four corners now.
fn middle(job: &Job) -> Option<Edges> {
    if job.mount.set.set != HolesAsked::FourCorners {
        return None;
    }
    match job.mount.movement.as_ref()?.way {
        GrainWay::Vertical => Some(Edges::TopAndBottom),
        GrainWay::Horizontal => Some(Edges::LeftAndRight),
    }
}
