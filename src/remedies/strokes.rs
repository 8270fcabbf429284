//! Cures for letters that the cutter cannot make: taller capitals, a heavier weight, a finer
//! cutter of the shop's own, another lettering.

use crate::job::Job;
use crate::layout::{Axis, AxisValue, Cutter, Layout, LetteringChoice, LetteringSource, Line};
use crate::units::digits::trimmed;

use super::letterings::offered;
use super::prove::cuttable;
use super::{CUT, Edit, Remedy};

/// Steps of a raised height, mm.
const STEP_MM: f64 = 0.05;
/// Steps of a weight; those that letterings have names for.
const WEIGHTS: [u32; 8] = [200, 300, 400, 500, 600, 700, 800, 900];
/// What a heavier weight and a finer cutter count when remedies are ranked.
const HEAVIER: f64 = 0.1;
const FINER: f64 = 0.15;

/// All of them, in no order.
pub(super) fn remedies(job: &Job) -> Vec<Remedy> {
    let Some(line) = failing(job).first().copied() else { return Vec::new() };
    let mut found: Vec<Remedy> =
        [taller(job), heavier(job, line), finer(job)].into_iter().flatten().collect();
    found.extend(offered(job, line, |changed| cuttable(job, changed)));
    found
}

/// Lines with a `stop` of the cutter's, ascending.
fn failing(job: &Job) -> Vec<usize> {
    let stops = job.findings.iter().filter(|judged| judged.stops());
    let cut = stops.filter(|judged| CUT.contains(&judged.finding.code));
    let mut lines: Vec<usize> = cut.filter_map(|judged| judged.finding.place.line).collect();
    lines.sort_unstable();
    lines.dedup();
    lines
}

/// The heights and ceilings that the layout states for these lines raised to their floors,
/// rounded up.
fn taller(job: &Job) -> Option<Remedy> {
    let mut changed = job.layout.clone();
    let (mut edits, mut told, mut most) = (Vec::new(), Vec::new(), 0.0_f64);
    for index in failing(job) {
        let floor = job.fitted.lines.get(index)?.floor.floor;
        let line = changed.lines.get_mut(index)?;
        let height = (floor / STEP_MM - 1e-9).ceil() * STEP_MM;
        let (key, stated) = match (&mut line.cap_height, &mut line.at_most) {
            (Some(stated), _) => ("cap_height", stated),
            (None, Some(ceiling)) => ("at_most", ceiling),
            (None, None) => return None,
        };
        if *stated >= height {
            return None;
        }
        most = most.max(height / *stated - 1.0);
        *stated = height;
        let value = format!("{} mm", trimmed(height, 2));
        told.push(format!("line {} {value}", index + 1));
        edits
            .push(Edit { key: format!("line.{}.{key}", index + 1), value: format!("\"{value}\"") });
    }
    cuttable(job, &changed).then(|| Remedy {
        kind: "taller-capitals",
        message: format!("Make the capitals taller: {}.", told.join(", ")),
        edits,
        share: most,
        layout: changed,
    })
}

/// The least weight that cures, for all lines of the lettering of a line.
fn heavier(job: &Job, line: usize) -> Option<Remedy> {
    let from = job.layout.lines.get(line)?.lettering.clone();
    let LetteringSource::Shipped(name) = &from.source else { return None };
    let axes = &job.lines.get(line)?.face.axes;
    let (_, now) = axes.iter().find(|(tag, _)| tag == "wght")?;
    WEIGHTS.iter().filter(|weight| f64::from(**weight) > f64::from(*now)).find_map(|weight| {
        let choice = weighing(&from, *weight);
        let mut changed = job.layout.clone();
        let mut edits = Vec::new();
        let of_it = |line: &&mut Line| line.lettering == from;
        for (index, _) in job.layout.lines.iter().enumerate().filter(|(_, l)| l.lettering == from) {
            let key = format!("line.{}.lettering", index + 1);
            edits.push(Edit { key, value: written(name, &choice) });
        }
        for line in changed.lines.iter_mut().filter(of_it) {
            line.lettering = choice.clone();
        }
        cuttable(job, &changed).then(|| Remedy {
            kind: "heavier-weight",
            message: format!("Set {name} in weight {weight}."),
            edits,
            share: HEAVIER,
            layout: changed,
        })
    })
}

fn weighing(from: &LetteringChoice, weight: u32) -> LetteringChoice {
    let mut choice = from.clone();
    choice.axes.retain(|(axis, _)| *axis != Axis::Weight);
    choice.axes.push((Axis::Weight, AxisValue::Thousandths(weight * 1000)));
    choice.axes.sort_by_key(|(axis, _)| *axis);
    choice
}

/// A shipped lettering with its axes, as a layout writes it.
fn written(name: &str, choice: &LetteringChoice) -> String {
    let axes = choice.axes.iter().map(|(axis, value)| match value {
        AxisValue::Word(word) => format!(", {} = \"{word}\"", axis.key()),
        AxisValue::Thousandths(value) => {
            format!(", {} = {}", axis.key(), trimmed(f64::from(*value) / 1000.0, 3))
        }
    });
    let name = toml::Value::String(name.to_owned());
    format!("{{ name = {name}{} }}", axes.collect::<String>())
}

/// The widest of the shop's finer cutters that cures.
fn finer(job: &Job) -> Option<Remedy> {
    let told = job.layout.engraving.cutter?;
    let mut finer: Vec<Cutter> =
        job.layout.shop.cutters.iter().copied().filter(|c| c.width() < told.width()).collect();
    finer.sort_by(|a, b| b.width().total_cmp(&a.width()));
    finer.into_iter().find_map(|cutter| {
        let changed = with_cutter(&job.layout, cutter);
        cuttable(job, &changed).then(|| Remedy {
            kind: "finer-cutter",
            message: format!("Take the shop's finer cutter: {}.", cutter.told()),
            edits: vec![Edit { key: "engraving.cutter".to_owned(), value: cutter.written() }],
            share: FINER,
            layout: changed,
        })
    })
}

fn with_cutter(layout: &Layout, cutter: Cutter) -> Layout {
    let mut changed = layout.clone();
    changed.engraving.cutter = Some(cutter);
    changed
}
