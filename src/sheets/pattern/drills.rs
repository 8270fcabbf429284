//! Drills and depths for the face.

use crate::job::Job;
use crate::mount::{Fixing, nearest_drill};
use crate::sheets::heading::{BENCH, prose, section};
use crate::sheets::page::Flow;
use crate::sheets::table::{Cell, Para, Table};
use crate::sheets::text::Labels;
use crate::sheets::words;
use crate::units::digits::fixed;

use super::{fitted_columns, head};

/// `2.4 mm (+0.03)`: a real drill and how much larger it is than wanted.
pub(in crate::sheets) fn drill_words(name: &str, diameter: f64, wanted: f64) -> String {
    let off = diameter - wanted;
    if off.abs() < 0.005 {
        return format!("{name} (exact)");
    }
    let sign = if off < 0.0 { "\u{2013}" } else { "+" };
    format!("{name} ({sign}{} mm)", fixed(off.abs(), 2))
}

/// One row of the drill table.
fn drill_row(job: &Job, what: &str, wanted: f64, depth: String) -> Vec<Cell> {
    let (metric, inch) = nearest_drill(wanted, &job.layout.shop.drills);
    let cell = |text: String| vec![Para::new(text, BENCH.figures())];
    vec![
        cell(what.to_owned()),
        cell(format!("{} mm", fixed(wanted, 2))),
        vec![
            Para::new(drill_words(&metric.name, metric.diameter, wanted), BENCH.figures()),
            Para::new(
                format!("or {}", drill_words(&inch.name, inch.diameter, wanted)),
                BENCH.figures(),
            ),
        ],
        cell(depth),
    ]
}

pub(super) fn drills(flow: &mut Flow, labels: &Labels, job: &Job) {
    let Some(fixing) = &job.mount.fixing else { return };
    let depth = fixing.penetration(job.layout.plate.thickness);
    let mut rows = Vec::new();
    if let Some(bore) = fixing.shank_bore {
        let how = "as deep as the smooth shank goes into the wood: measure it on the screw";
        rows.push(drill_row(job, "Shank bore in the wood", bore, how.to_owned()));
    }
    rows.push(drill_row(
        job,
        "Pilot hole in the wood",
        fixing.pilot,
        format!("set the depth stop to {} ({})", words::mm(depth), words::vulgar(depth)),
    ));
    let heads = vec![head("Hole"), head("Wanted"), head("Drill"), head("Depth")];
    let columns = fitted_columns(labels, flow.width(), &heads, &rows, &[3]);
    let table = Table { columns, head: heads, rows, ruled: true };
    section(flow, labels, BENCH, "Drills and depths", table.kept_height(labels));
    table.put(flow, labels);
    flow.space(1.0);
    prose(
        flow,
        labels,
        grounds(job, fixing).into_iter().map(|text| Para::new(text, BENCH.text())).collect(),
    );
}

/// The fixing, and by which rules its holes are sized.
fn grounds(job: &Job, fixing: &Fixing) -> Vec<String> {
    let behind = job.layout.face.as_ref().and_then(|face| face.thickness);
    let face = behind.map_or_else(String::new, |behind| {
        format!(
            " The wood is {} thick: {} are left behind the hole.",
            words::mm(behind),
            words::mm(behind - fixing.penetration(job.layout.plate.thickness))
        )
    });
    vec![
        format!(
            "Fixing: {}, head \u{d8}{}. The depth is how far the fixing reaches into the wood \
             behind a plate {} thick, not its length.{face}",
            fixing.name,
            words::mm(fixing.head_diameter),
            words::mm(job.layout.plate.thickness)
        ),
        format!("Pilot rule: {}.", fixing.pilot_rule.trim_end_matches('.')),
        format!("Shank and head: {}.", fixing.source.trim_end_matches('.')),
    ]
}
