//! Another fixing: one whose cone fits the plate, or of a length that fits the face.

use crate::finding::Severity;
use crate::job::Job;
use crate::layout::{FixingAsked, Head, Layout, MachineHead, Named};
use crate::mount::{gauge_of_smaller_cone, length_name, stocked_lengths, thread_of_smaller_cone};
use crate::units::digits::trimmed;

use super::prove::cured;
use super::{Edit, Remedy};

/// What is cured here, from which severity on.
pub(super) const CURED: &[(&str, Severity)] = &[
    ("cone-too-deep", Severity::Stop),
    ("screw-through-wood", Severity::Stop),
    ("screw-through-face", Severity::Stop),
    ("hole-through-face", Severity::Stop),
    ("screw-out-behind", Severity::Caution),
    ("too-short-for-nut", Severity::Stop),
    ("fixing-too-short", Severity::Stop),
    ("little-hold", Severity::Caution),
];

/// What a change counts when remedies are ranked.
const OTHER_HEAD: f64 = 0.1;
const SMALLER_SCREW: f64 = 0.2;
/// Steps of lengths: an eighth of an inch, or a millimetre.
const STEP_INCH_MM: f64 = 25.4 / 8.0;
const STEP_MM: f64 = 1.0;
/// Lengths that are tried, and the bounds between which fixings are sold, mm.
const TRIES: u32 = 60;
const LENGTHS: (f64, f64) = (2.0, 150.0);
/// Steps of a thicker plate, mm.
const THICKNESS_STEP: f64 = 0.1;

/// Remedies for a finding, the least change first.
pub(super) fn remedies(job: &Job, code: &str) -> Vec<Remedy> {
    let mut all: Vec<Remedy> = match code {
        "cone-too-deep" => {
            [other_head(job), smaller(job), thicker(job)].into_iter().flatten().collect()
        }
        "too-short-for-nut" | "fixing-too-short" | "little-hold" => {
            length(job, code, true).into_iter().collect()
        }
        _ => length(job, code, false).into_iter().collect(),
    };
    all.retain(|remedy| cured(job, &remedy.layout, &[code]));
    all.sort_by(|a, b| a.share.total_cmp(&b.share));
    all
}

/// The layout with its fixing changed; `None` where it has none, or it does not fit.
fn with(layout: &Layout, change: impl FnOnce(&mut FixingAsked) -> Option<()>) -> Option<Layout> {
    let mut changed = layout.clone();
    change(changed.mount.fixing.as_mut()?)?;
    Some(changed)
}

fn edit(key: &str, value: String) -> Vec<Edit> {
    vec![Edit { key: format!("mount.fixing.{key}"), value }]
}

fn other_head(job: &Job) -> Option<Remedy> {
    let mut word = "";
    let layout = with(&job.layout, |fixing| {
        word = match fixing {
            FixingAsked::WoodScrew { head, .. } => {
                *head = Head::Round;
                head.word()
            }
            FixingAsked::MachineScrew { head, .. } => {
                *head = MachineHead::Pan;
                head.word()
            }
            _ => return None,
        };
        Some(())
    })?;
    Some(Remedy {
        kind: "other-head",
        message: format!("Take a {word} head of the same size."),
        edits: edit("head", format!("\"{word}\"")),
        share: OTHER_HEAD,
        layout,
    })
}

/// The greatest screw below this one whose cone the plate takes.
fn smaller(job: &Job) -> Option<Remedy> {
    let thickness = job.layout.plate.thickness;
    let mut told = (String::new(), Vec::new());
    let layout = with(&job.layout, |fixing| {
        told = match fixing {
            FixingAsked::WoodScrew { gauge, length, .. } => {
                *gauge = gauge_of_smaller_cone(*gauge, thickness)?;
                let mut edits = edit("gauge", gauge.to_string());
                let mut name = format!("No. {gauge}");
                // Small screws are not made as long as large ones.
                let longest = stocked_lengths(*gauge).map(|(_, longest)| longest);
                if let Some(longest) = longest.filter(|longest| *longest < *length) {
                    *length = longest;
                    name = format!("{name}, {}", length_name(longest));
                    edits.extend(edit("length", format!("\"{}\"", length_name(longest))));
                }
                (name, edits)
            }
            FixingAsked::MachineScrew { thread, .. } => {
                *thread = thread_of_smaller_cone(*thread, thickness)?;
                (thread.word().to_owned(), edit("thread", format!("\"{}\"", thread.word())))
            }
            _ => return None,
        };
        Some(())
    })?;
    Some(Remedy {
        kind: "smaller-screw",
        message: format!("Take a {} screw, whose cone the plate takes.", told.0),
        edits: told.1,
        share: SMALLER_SCREW,
        layout,
    })
}

fn thicker(job: &Job) -> Option<Remedy> {
    let depth = job.mount.fixing.as_ref()?.countersink?.depth;
    let old = job.layout.plate.thickness;
    let thickness = (depth / THICKNESS_STEP - 1e-9).ceil() * THICKNESS_STEP;
    let mut layout = job.layout.clone();
    layout.plate.thickness = thickness;
    let value = format!("{} mm", trimmed(thickness, 1));
    Some(Remedy {
        kind: "thicker-plate",
        message: format!("Take a plate {value} thick instead of {} mm.", trimmed(old, 2)),
        edits: vec![Edit { key: "plate.thickness".to_owned(), value: format!("\"{value}\"") }],
        share: thickness / old - 1.0,
        layout,
    })
}

fn length_of(fixing: &mut FixingAsked) -> Option<&mut f64> {
    match fixing {
        FixingAsked::WoodScrew { length, .. }
        | FixingAsked::MachineScrew { length, .. }
        | FixingAsked::Pin { length, .. }
        | FixingAsked::Stud { length, .. }
        | FixingAsked::Standoff { length, .. } => Some(length),
        FixingAsked::Tape { .. } => None,
    }
}

/// The nearest length, on the grid that this one is sold by, that cures: longer, or shorter.
fn length(job: &Job, code: &str, longer: bool) -> Option<Remedy> {
    let mut asked = job.layout.mount.fixing?;
    let old = *length_of(&mut asked)?;
    let whole = |step: f64| (old / step - (old / step).round()).abs() < 1e-6;
    let step = if whole(STEP_INCH_MM) && !whole(STEP_MM) { STEP_INCH_MM } else { STEP_MM };
    let (shortest, longest) = match asked {
        FixingAsked::WoodScrew { gauge, .. } => stocked_lengths(gauge).unwrap_or(LENGTHS),
        _ => LENGTHS,
    };
    let first = if longer { (old / step + 1e-6).floor() } else { (old / step - 1e-6).ceil() };
    let lengths = (1..=TRIES).map(|more| {
        let more = f64::from(more);
        step * if longer { first + more } else { first - more }
    });
    let sold = lengths.filter(|length| *length >= shortest - 1e-6 && *length <= longest + 1e-6);
    let at = |length: f64| {
        with(&job.layout, |fixing| {
            *length_of(fixing)? = length;
            Some(())
        })
    };
    let (length, layout) = sold
        .filter_map(|length| Some((length, at(length)?)))
        .find(|(_, changed)| cured(job, changed, &[code]))?;
    let (kind, named) =
        (if longer { "longer-fixing" } else { "shorter-fixing" }, length_name(length));
    Some(Remedy {
        kind,
        message: format!("Take a length of {named} instead of {}.", length_name(old)),
        edits: edit("length", format!("\"{named}\"")),
        share: (length / old - 1.0).abs(),
        layout,
    })
}
