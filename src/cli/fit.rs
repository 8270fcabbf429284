//! `ansata fit`: what the fit found.

use crate::files::Failure;
use crate::files::load::Loaded;
use crate::finding::Severity;
use crate::job::{Job, Judged};
use crate::layout::Source;
use crate::remedies::{Cures, cures};
use crate::report::report;
use crate::units::digits::fixed;

use super::{LayoutArguments, Outcome, loaded, say};

pub(super) fn fit(arguments: &LayoutArguments, json: bool) -> Result<Outcome, Failure> {
    let Loaded { source, job, .. } = loaded(arguments)?;
    let cures = cures(&job);
    if json {
        say::out(&report(&job, &cures, &source, &[], &[]));
    } else if !arguments.quiet {
        say::out(&table(&job));
        say::out(&findings(&job, &cures, &source));
    }
    Ok(outcome(&job))
}

/// Exit status by whether a `stop` stands.
pub(super) fn outcome(job: &Job) -> Outcome {
    if job.stopped() { Outcome::Stopped } else { Outcome::Clear }
}

/// The rows as they stand, one line each.
fn table(job: &Job) -> String {
    let fitted = &job.fitted;
    let mut rows = vec![["line", "cap mm", "x mm", "floor", "wish", "row"].map(str::to_owned)];
    let mut last = None;
    for row in &fitted.rows {
        let Some(line) = fitted.lines.get(row.line) else { continue };
        let first = last != Some(row.line);
        last = Some(row.line);
        let once = |text: String| if first { text } else { String::new() };
        let dash = || "-".to_owned();
        rows.push([
            once((row.line + 1).to_string()),
            once(fixed(line.cap_height, 2)),
            once(line.x_height.map_or_else(dash, |x| fixed(x, 2))),
            once(fixed(line.floor.floor, 2)),
            once(line.floor.wish.map_or_else(dash, |wish| fixed(wish, 2))),
            row.reads(),
        ]);
    }
    let mut text = format!("{}\n", job.layout.title);
    let widths: Vec<usize> = (0..5)
        .map(|column| {
            rows.iter().map(|row| row.get(column).map_or(0, String::len)).max().unwrap_or(0)
        })
        .collect();
    for [line, cap, x, floor, wish, wording] in &rows {
        let cells = [line, cap, x, floor, wish];
        for (cell, width) in cells.iter().zip(&widths) {
            text.push_str(&format!("{cell:>width$}  "));
        }
        text.push_str(wording);
        text.push('\n');
    }
    let limit = fitted.limit_scale.map_or_else(
        || format!("does not fit at its floors: {} % of them", fixed(fitted.phi * 100.0, 1)),
        |limit| {
            format!(
                "scale {} of at most {} ({} % ease)",
                fixed(fitted.scale, 3),
                fixed(limit, 3),
                fixed(fitted.ease * 100.0, 0)
            )
        },
    );
    text.push_str(&format!("{limit}; proof mark {}\n", job.mark));
    text
}

/// Findings and their remedies in plain words; a last line that counts them.
pub(super) fn findings(job: &Job, cures: &[Cures], source: &Source) -> String {
    let mut text = String::new();
    for (index, judged) in job.findings.iter().enumerate() {
        let finding = &judged.finding;
        let place = job.layout.keys.span(&finding.place.key).map_or_else(String::new, |span| {
            let position = source.position(span.start);
            format!(" {}:{}:{}", source.name, position.line, position.column)
        });
        text.push_str(&format!("{} [{}]{place}\n", finding.severity, finding.code));
        text.push_str(&format!("  {}\n", finding.message));
        text.push_str(&format!("  rule: {} ({})\n", finding.rule, finding.source));
        if let Some(reason) = &judged.accepted {
            text.push_str(&format!("  accepted: {reason}\n"));
        }
        for remedy in cures.iter().filter(|c| c.finding == index).flat_map(|c| &c.remedies) {
            text.push_str(&format!("  remedy: {}\n", remedy.message));
        }
    }
    text.push_str(&tally(&job.findings));
    text
}

fn tally(findings: &[Judged]) -> String {
    let count = |severity: Severity| {
        findings.iter().filter(|judged| judged.finding.severity == severity).count()
    };
    let words = |n: usize, word: &str| format!("{n} {word}{}", if n == 1 { "" } else { "s" });
    if findings.is_empty() {
        return "nothing found\n".to_owned();
    }
    format!(
        "{}, {}, {}\n",
        words(count(Severity::Stop), "stop"),
        words(count(Severity::Caution), "caution"),
        words(count(Severity::Note), "note")
    )
}
