//! Drills and depths for the face: one row a bore, whatever the fixing.

use crate::job::Job;
use crate::mount::{Bore, Bored, Depth, Fixing, Front, face_row, nearest_drills};
use crate::sheets::heading::{BENCH, prose, section};
use crate::sheets::page::Flow;
use crate::sheets::table::{Cell, Para, Table};
use crate::sheets::text::Labels;
use crate::sheets::words;
use crate::units::digits::fixed;

use super::{fitted_columns, head};

/// `2.4 mm (+0.03)`: a real drill and how much larger it is than wanted.
fn drill_words(name: &str, diameter: f64, wanted: f64) -> String {
    let off = diameter - wanted;
    if off.abs() < 0.005 {
        return format!("{name} (exact)");
    }
    let sign = if off < 0.0 { "\u{2013}" } else { "+" };
    format!("{name} ({sign}{} mm)", fixed(off.abs(), 2))
}

/// The nearest drills in mm, by number where one is near, and in inches.
pub(in crate::sheets) fn drills_for(job: &Job, wanted: f64) -> Vec<String> {
    let near = nearest_drills(wanted, &job.layout.shop.drills);
    [Some(near.metric), near.number, Some(near.inch)]
        .iter()
        .flatten()
        .map(|drill| drill_words(&drill.name, drill.diameter, wanted))
        .collect()
}

/// What the face is called: wood where none is told and the fixing asks for wood.
pub(super) fn face_noun(job: &Job) -> &'static str {
    match (&job.layout.face, &job.mount.fixing) {
        (Some(face), _) => face_row(face.material).kind.noun(),
        (None, Some(fixing)) if fixing.bore(Bored::Pilot).is_none() => "face",
        (None, _) => "wood",
    }
}

/// One row of the drill table.
fn drill_row(job: &Job, bore: &Bore) -> Vec<Cell> {
    let noun = face_noun(job);
    let cell = |text: String| vec![Para::new(text, BENCH.figures())];
    let what = match bore.what {
        Bored::Shank => format!("Shank bore in the {noun}"),
        Bored::Pilot => format!("Pilot hole in the {noun}"),
        Bored::Insert => "Hole for the insert".to_owned(),
        Bored::Tap => format!("Tap drill in the {noun}"),
        Bored::Clearance => format!("Hole through the {noun}"),
        Bored::Stud => "Hole for the stud".to_owned(),
    };
    let both = |depth: f64| format!("{} ({})", words::mm(depth), words::vulgar(depth));
    let depth = match (bore.depth, bore.stop()) {
        (Depth::AsShank, _) => {
            format!("as deep as the smooth shank goes into the {noun}: measure it on the screw")
        }
        (Depth::Through, _) => "right through".to_owned(),
        (Depth::FullWidth(depth), Some(stop)) => format!(
            "{} at full width; the drill's point comes on top: with a 118\u{b0} drill set the \
             depth stop to {} from its tip",
            both(depth),
            both(stop)
        ),
        (Depth::ToTip(depth) | Depth::FullWidth(depth), _) => {
            format!("set the depth stop to {}", both(depth))
        }
    };
    let drills = drills_for(job, bore.diameter);
    let drills = drills.iter().enumerate().map(|(index, drill)| {
        let text = if index == 0 { drill.clone() } else { format!("or {drill}") };
        Para::new(text, BENCH.figures())
    });
    vec![cell(what), cell(format!("{} mm", fixed(bore.diameter, 2))), drills.collect(), cell(depth)]
}

pub(super) fn drills(flow: &mut Flow, labels: &Labels, job: &Job) {
    let Some(fixing) = &job.mount.fixing else { return };
    let rows: Vec<_> = fixing.bores.iter().map(|bore| drill_row(job, bore)).collect();
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
    let plate = job.layout.plate.thickness;
    let shown = if fixing.through_plate() {
        format!(", head \u{d8}{}", words::mm(fixing.head_diameter))
    } else {
        String::new()
    };
    let shown = if fixing.off > 0.0 { String::new() } else { shown };
    let mut all = vec![format!(
        "Fixing: {}{shown}.{}{}",
        fixing.name,
        reach(job, fixing),
        left(job, fixing).unwrap_or_default()
    )];
    for bore in fixing.bores.iter().filter(|bore| !bore.rule.is_empty()) {
        let named = match bore.what {
            Bored::Shank => "Shank bore",
            Bored::Pilot => "Pilot rule",
            Bored::Insert => "Insert's hole",
            Bored::Tap => "Tap drill",
            Bored::Clearance => "Hole through the face",
            Bored::Stud => "Stud's hole",
        };
        all.push(format!("{named}: {}.", bore.rule.trim_end_matches('.')));
    }
    if fixing.behind > 0.0 {
        let thickness = face_thickness(job);
        let stack = plate + thickness.unwrap_or(0.0) + fixing.behind;
        all.push(match thickness {
            Some(_) => format!(
                "Plate, face, washer and nut are {} thick together: the screw is to be no shorter.",
                words::mm(stack)
            ),
            None => format!(
                "How thick the face is was not told: the screw must be at least {} longer than the face is thick \
                 (plate, washer and nut).",
                words::mm(stack)
            ),
        });
    }
    let what = match fixing.front {
        Front::Nothing => "Stud",
        _ if fixing.off > 0.0 => "Standoff",
        _ => "Shank and head",
    };
    all.push(format!("{what}: {}.", fixing.source.trim_end_matches('.')));
    all
}

/// How far the fixing reaches, where that sets a depth.
fn reach(job: &Job, fixing: &Fixing) -> String {
    let plate = job.layout.plate.thickness;
    let noun = face_noun(job);
    let depth = words::mm(fixing.penetration(plate));
    match fixing.bores.last().map(|bore| bore.what) {
        _ if fixing.off > 0.0 => format!(
            " The depth is how far its screw reaches out of the barrel's foot into the {noun}: \
             measure it on yours."
        ),
        Some(Bored::Pilot) => format!(
            " The depth is how far the fixing reaches into the {noun} behind a plate {} thick, \
             not its length.",
            words::mm(plate)
        ),
        Some(Bored::Insert | Bored::Tap) => {
            format!(
                " Behind a plate {} thick it reaches {depth} into the {noun}.",
                words::mm(plate)
            )
        }
        Some(Bored::Stud) => format!(" It stands {depth} out behind the plate."),
        _ => String::new(),
    }
}

/// What is left behind the deepest hole, where a face is told.
fn left(job: &Job, fixing: &Fixing) -> Option<String> {
    let thickness = face_thickness(job)?;
    let deepest = fixing.bores.iter().filter_map(Bore::stop).reduce(f64::max)?;
    Some(format!(
        " The {} is {} thick: {} are left behind the hole.",
        face_noun(job),
        words::mm(thickness),
        words::mm(thickness - deepest)
    ))
}

fn face_thickness(job: &Job) -> Option<f64> {
    job.layout.face.as_ref()?.thickness
}
