//! A job held against what was signed for it.

use crate::finding::{Finding, Place, Scope, Severity};
use crate::job::{Agreed, Job, Judged, PutBack, SignOff, Signature, millimetres};

use super::changes::{Change, beside, changes};
use super::record::Record;
use super::version::Version;

/// Most changes that a finding names.
const NAMED: usize = 8;

/// The job with its sign-off: a `stop` where anything is cut otherwise than it was signed, a
/// caution where only something else is. `name` is what the record is called in messages.
#[must_use]
pub fn held(mut job: Job, record: &Record, name: &str) -> Job {
    let now = Version::of(&job);
    let all = changes(&record.version, &now);
    let cut: Vec<&Change> = all.iter().filter(|change| change.is_cut()).collect();
    let told: Vec<String> = cut.iter().map(|change| change.told()).collect();
    let who = signers(&record.signatures);
    if !cut.is_empty() {
        let message = format!(
            "Not as it was signed ({who}): {}. Put it back, or delete {name} and have this proof \
             signed anew.",
            listed(&told)
        );
        let key = cut.iter().find_map(|change| change.line.1);
        let place = Place {
            line: None,
            hole: None,
            key: key.map_or_else(|| "plate".to_owned(), |line| format!("line.{}", line + 1)),
        };
        let rule = format!("what is cut is what was signed: proof mark {}", record.version.mark);
        job.findings.push(finding("changed-since-sign-off", Severity::Stop, place, message, rule));
    }
    let also = also(&job, record);
    if !also.is_empty() {
        let message = format!(
            "Since it was signed ({who}), though nothing is cut otherwise by it: {}.",
            listed(&also)
        );
        let place = Place { key: "plate".to_owned(), ..Place::default() };
        let rule = "who signed should know of it".to_owned();
        let code = "changed-beside-sign-off";
        job.findings.push(finding(code, Severity::Caution, place, message, rule));
    }
    job.signed = Some(SignOff {
        mark: record.version.mark.clone(),
        signatures: record.signatures.clone(),
        changes: told,
        put_back: put_back(&record.version, &now),
    });
    job
}

/// What the record tells of keys that hold something else now. Lines that came or went leave
/// no pairs of which one could say that each is the other.
fn put_back(signed: &Version, now: &Version) -> PutBack {
    let mut lines = Vec::new();
    if signed.lines.len() == now.lines.len() {
        let pairs = signed.lines.iter().zip(&now.lines).enumerate();
        let others = pairs.filter(|(_, (signed, now))| signed.text != now.text);
        lines.extend(others.map(|(index, (signed, _))| (index, signed.text.clone())));
    }
    let (width, height) = signed.size;
    let size = (signed.size != now.size).then(|| (millimetres(width), millimetres(height)));
    PutBack { lines, size }
}

fn finding(
    code: &'static str,
    severity: Severity,
    place: Place,
    message: String,
    rule: String,
) -> Judged {
    let source = "sign-off".to_owned();
    let (measured, required) = (None, None);
    let scope = Scope::SignOff;
    let finding =
        Finding { code, severity, scope, place, message, measured, required, rule, source };
    Judged { finding, accepted: None }
}

/// What moves no outline and was otherwise when somebody signed, each once.
fn also(job: &Job, record: &Record) -> Vec<String> {
    let now = Version::of(job).beside;
    let agreed = Agreed::all(&job.findings);
    let mut all: Vec<String> = Vec::new();
    for signature in &record.signatures {
        let mut changed = Vec::new();
        beside(&mut changed, &signature.beside, &now);
        let new = agreed.iter().filter(|agreed| !signature.accepted.contains(agreed));
        let accepted = new.map(|new| format!("`{}` at `{}` is accepted", new.code, new.place));
        for phrase in changed.iter().map(Change::told).chain(accepted) {
            if !all.contains(&phrase) {
                all.push(phrase);
            }
        }
    }
    all
}

/// `Orla Penhallick, 2026-11-25`, and how many more.
fn signers(signatures: &[Signature]) -> String {
    let Some(first) = signatures.first() else { return String::new() };
    let others = match signatures.len() - 1 {
        0 => String::new(),
        1 => " and one other".to_owned(),
        more => format!(" and {more} others"),
    };
    format!("by {} on {}{others}", first.by, first.date)
}

/// The first changes, and how many more.
fn listed(changes: &[String]) -> String {
    let named = changes.iter().take(NAMED).map(String::as_str).collect::<Vec<_>>().join("; ");
    match changes.len().saturating_sub(NAMED) {
        0 => named,
        more => format!("{named}; and {more} more, which `ansata compare` shows"),
    }
}
