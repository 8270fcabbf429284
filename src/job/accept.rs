//! Findings that the layout accepts by name, with a reason that is printed.

use crate::finding::{Finding, Severity};
use crate::layout::{Acceptance, Keys};

use super::Judged;

/// How far a measured value may move before an acceptance falls void, in the
/// finding's unit (mm for lengths).
const TOLERANCE: f64 = 0.05;

/// Codes that no reason can outweigh: the thing cannot be made, or would be
/// drilled into air.
const NEVER: &[&str] = &[
    "missing-character",
    "no-room",
    "hole-off-plate",
    "head-off-plate",
    "plate-off-face",
    "plate-on-trim",
    "plate-not-in-recess",
    "no-plate-on-face",
    "hole-off-face",
    "screw-through-wood",
    "laser-on-chlorine",
    "changed-since-sign-off",
];

/// What is said of an acceptance that matches nothing.
const VOID: &str = "acceptance-void";

/// Whether findings of this code can never be accepted.
pub(super) fn never(code: &str) -> bool {
    code == VOID || NEVER.contains(&code)
}

/// Each finding with the reason of the acceptance that names it; then a caution
/// for every acceptance that matches nothing, so that a stale one is seen.
pub(super) fn judged(findings: Vec<Finding>, accepted: &[Acceptance], keys: &Keys) -> Vec<Judged> {
    let mut used = vec![false; accepted.len()];
    let mut all: Vec<Judged> = findings
        .into_iter()
        .map(|finding| {
            let matching = accepted.iter().position(|acceptance| names(acceptance, &finding));
            let reason = matching.filter(|_| !NEVER.contains(&finding.code)).and_then(|index| {
                if let Some(flag) = used.get_mut(index) {
                    *flag = true;
                }
                accepted.get(index).map(|acceptance| acceptance.reason.clone())
            });
            Judged { finding, accepted: reason }
        })
        .collect();
    for (index, acceptance) in accepted.iter().enumerate() {
        if !used.get(index).copied().unwrap_or(false) {
            all.push(Judged { finding: unmatched(index, acceptance, keys), accepted: None });
        }
    }
    all
}

fn names(acceptance: &Acceptance, finding: &Finding) -> bool {
    let value = match (acceptance.measured, finding.measured) {
        (Some(stated), Some(measured)) => (stated - measured.value).abs() <= TOLERANCE,
        (None, None) => true,
        // An acceptance without the value it accepts would hold whatever happens.
        _ => false,
    };
    acceptance.code == finding.code && acceptance.place == finding.place.key && value
}

fn unmatched(index: usize, acceptance: &Acceptance, keys: &Keys) -> Finding {
    let key = format!("accept.{}", index + 1);
    let key = if keys.span(&key).is_some() { key } else { "accept".to_owned() };
    let never = NEVER.contains(&acceptance.code.as_str());
    Finding {
        code: VOID,
        severity: Severity::Caution,
        scope: crate::finding::Scope::Wording,
        place: crate::finding::Place { key, ..Default::default() },
        message: if never {
            format!("`{}` can never be accepted.", acceptance.code)
        } else {
            format!(
                "The acceptance of `{}` at `{}` matches no finding: what it accepted is gone or has changed.",
                acceptance.code, acceptance.place
            )
        },
        measured: None,
        required: None,
        rule: "an acceptance holds for the value it names, to 0.05 mm".to_owned(),
        source: "layout".to_owned(),
    }
}
