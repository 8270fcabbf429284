//! Findings in plain words, with cures; accepted ones with their reasons.

use crate::finding::{Finding, Quantity, Severity};
use crate::job::{Job, Judged};
use crate::remedies::Cures;

use super::super::heading::{READ, prose, section};
use super::super::page::Flow;
use super::super::table::{Cell, Para, Table, columns, width_of};
use super::super::text::Labels;
use super::super::words;

/// White above cures and reasons, mm.
const BEFORE: f64 = 0.7;

pub(super) fn put(flow: &mut Flow, labels: &Labels, job: &Job, cures: &[Cures]) {
    if job.findings.is_empty() {
        section(flow, labels, READ, "Findings", 5.0);
        prose(flow, labels, vec![Para::new(words::NO_FINDINGS, READ.text())]);
        return;
    }
    let rows: Vec<Vec<Cell>> = job
        .findings
        .iter()
        .enumerate()
        .map(|(index, judged)| {
            let remedies = cures
                .iter()
                .filter(|cure| cure.finding == index)
                .flat_map(|cure| &cure.remedies)
                .map(|remedy| remedy.message.as_str())
                .collect::<Vec<_>>();
            row(judged, &remedies)
        })
        .collect();
    let widest = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).flatten();
        width_of(labels, cells.map(|para| (para.text.as_str(), para.style)))
    };
    let mut columns = columns(flow.width(), &[Some(widest(0)), None]);
    columns.iter_mut().take(1).for_each(|column| column.names = true);
    let table = Table { columns, head: Vec::new(), rows, ruled: true };
    section(flow, labels, READ, "Findings", table.kept_height(labels));
    table.put(flow, labels);
}

fn row(judged: &Judged, remedies: &[&str]) -> Vec<Cell> {
    let finding = &judged.finding;
    let severity = match (finding.severity, &judged.accepted) {
        (Severity::Stop, None) => Para::new("STOP", READ.strong()),
        (Severity::Stop, Some(_)) => Para::new("Stop", READ.text()),
        (Severity::Caution, _) => Para::new("Caution", READ.text()),
        (Severity::Note, _) => Para::new("Note", READ.text()),
    };
    let mut severity = vec![severity];
    if judged.accepted.is_some() {
        severity.push(Para::new("accepted", READ.text()));
    }
    let message = if finding.severity == Severity::Stop && judged.accepted.is_none() {
        READ.strong()
    } else {
        READ.text()
    };
    // Most sentences name their line or hole themselves.
    let said_already = |place: &String| {
        let message = &finding.message;
        ["Line", "Hole"].iter().any(|word| message.starts_with(word))
            || message.to_lowercase().contains(&place.to_lowercase())
    };
    let text = match words::place(&finding.place).filter(|place| !said_already(place)) {
        Some(place) => format!("{place}: {}", finding.message),
        None => finding.message.clone(),
    };
    let mut said = vec![Para::new(text, message.figures())];
    said.push(Para { before: BEFORE, ..Para::new(grounds(finding), READ.caption().figures()) });
    if let Some(reason) = &judged.accepted {
        said.push(Para { before: BEFORE, ..Para::new(format!("Accepted: {reason}"), READ.text()) });
    }
    for (index, remedy) in remedies.iter().enumerate() {
        let lead = if index == 0 { "Cure: " } else { "or: " };
        said.push(Para {
            before: BEFORE,
            hang: 4.0,
            ..Para::new(format!("{lead}{remedy}"), READ.text().figures())
        });
    }
    vec![severity, said]
}

/// Measured, required, rule and source in one sentence or two.
fn grounds(finding: &Finding) -> String {
    let mut parts: Vec<String> = Vec::new();
    // Figures that the sentence above already gives are not said twice.
    let unsaid = |quantity: &Quantity| !finding.message.contains(&words::amount(*quantity));
    match (finding.measured.filter(unsaid), finding.required.filter(unsaid)) {
        (Some(measured), Some(required)) => parts.push(format!(
            "Measured {}, required {}.",
            words::amount(measured),
            words::amount(required)
        )),
        (Some(measured), None) => parts.push(format!("Measured {}.", words::amount(measured))),
        (None, Some(required)) => parts.push(format!("Required {}.", words::amount(required))),
        (None, None) => {}
    }
    parts.push(format!("Rule: {} ({}).", finding.rule.trim_end_matches('.'), finding.source));
    parts.join(" ")
}
