//! Another lettering: one that runs narrower, or one that has every character.

use crate::job::Job;
use crate::layout::{Axis, Layout, LetteringChoice, LetteringSource};
use crate::lettering::{Entry, Face, ShapedLine, catalogue, missing, who_has};

use super::prove::{cured, has_room};
use super::{Edit, Remedy};

/// How many letterings are offered.
const OFFERED: usize = 2;
/// What a change of lettering counts when remedies are ranked.
const SAME_LOOK: f64 = 0.1;
const OTHER_LOOK: f64 = 0.3;

/// Letterings in which the wording has room, those of the same look first; all
/// lines that share the crowded line's lettering change with it.
pub(super) fn narrower(job: &Job) -> Vec<Remedy> {
    let line = crowded_line(job);
    offered(job, line, |changed| has_room(job, changed))
}

/// Letterings that have every character of the first line that lacks one.
pub(super) fn having_all_characters(job: &Job) -> Vec<Remedy> {
    let lacking = job
        .findings
        .iter()
        .find(|judged| judged.finding.code == "missing-character")
        .and_then(|judged| judged.finding.place.line)
        .unwrap_or(0);
    let mut remedies = further(job, lacking);
    remedies.extend(offered(job, lacking, |changed| cured(job, changed, &["missing-character"])));
    remedies
}

/// Letterings for only what a line's own lacks, the line staying in its own.
fn further(job: &Job, line: usize) -> Vec<Remedy> {
    let (Some(asked), Some(shaped)) = (job.layout.lines.get(line), job.lines.get(line)) else {
        return Vec::new();
    };
    let lacks = missing(&shaped.face, &shaped.text);
    let names = lacks.first().map(|lack| who_has(lack.character)).unwrap_or_default();
    let remedy = |name: &&str| {
        let mut layout = job.layout.clone();
        let choice = LetteringChoice::shipped(*name);
        let known = asked.setting.others.contains(&choice) || asked.lettering == choice;
        layout.lines.get_mut(line).filter(|_| !known)?.setting.others.push(choice);
        // A list that names files or axes is not put into words again.
        let others = layout.lines.get(line)?.setting.others.iter().map(plain_name);
        let others = others.collect::<Option<Vec<String>>>()?;
        cured(job, &layout, &["missing-character"]).then(|| Remedy {
            kind: "further-lettering",
            message: format!("Set what {} lacks in line {} in {name}.", shaped.face.name, line + 1),
            edits: vec![Edit {
                key: format!("line.{}.others", line + 1),
                value: toml::Value::from(others).to_string(),
            }],
            share: SAME_LOOK,
            layout,
        })
    };
    names.iter().filter_map(remedy).take(OFFERED).collect()
}

/// The name of a shipped lettering without axes of its own.
fn plain_name(choice: &LetteringChoice) -> Option<String> {
    match &choice.source {
        LetteringSource::Shipped(name) if choice.axes.is_empty() => Some(name.clone()),
        _ => None,
    }
}

/// The line whose height lies farthest under its floor or wish.
fn crowded_line(job: &Job) -> usize {
    let share = |index: usize| {
        job.fitted.lines.get(index).map_or(f64::INFINITY, |line| {
            let wanted = line.floor.wish.unwrap_or(0.0).max(line.floor.floor).max(1e-9);
            line.cap_height / wanted
        })
    };
    let words =
        |index: &usize| job.layout.lines.get(*index).is_some_and(|line| line.ornament.is_none());
    (0..job.layout.lines.len())
        .filter(words)
        .min_by(|a, b| share(*a).total_cmp(&share(*b)))
        .unwrap_or(0)
}

pub(super) fn offered(job: &Job, line: usize, cures: impl Fn(&Layout) -> bool) -> Vec<Remedy> {
    let Some(choice) = job.layout.lines.get(line).map(|line| line.lettering.clone()) else {
        return Vec::new();
    };
    let single = job.lines.get(line).is_some_and(ShapedLine::single_stroke);
    let mut candidates: Vec<(bool, &Entry)> = catalogue()
        .entries
        .iter()
        .filter(|entry| choice != LetteringChoice::shipped(entry.name.clone()))
        // What is cut along lines is no stead for outlines that are cut out, nor these for that.
        .filter(|entry| entry.single_stroke() == single)
        .map(|entry| (!same_look(&choice, entry), entry))
        .collect();
    candidates.sort_by_key(|(other, _)| *other);
    candidates
        .into_iter()
        .filter_map(|(other, entry)| {
            let changed = with_lettering(&job.layout, &choice, entry)?;
            let remedy = remedy(&job.layout, &choice, entry, other, changed)?;
            cures(&remedy.layout).then_some(remedy)
        })
        .take(OFFERED)
        .collect()
}

/// Whether the entry's family and the choice's share a word for their look.
fn same_look(choice: &LetteringChoice, entry: &Entry) -> bool {
    let LetteringSource::Shipped(name) = &choice.source else { return false };
    let families = &catalogue().families;
    let look = |family: usize| families.get(family).map(|family| family.look.as_slice());
    let chosen = catalogue().entries.iter().find(|known| known.name == *name);
    let (Some(a), Some(b)) = (chosen.and_then(|known| look(known.family)), look(entry.family))
    else {
        return false;
    };
    a.iter().any(|word| b.contains(word))
}

/// The layout with every line of this choice in another lettering; `None` where
/// that would lack a character.
fn with_lettering(layout: &Layout, from: &LetteringChoice, to: &Entry) -> Option<Layout> {
    let mut changed = layout.clone();
    let choice = LetteringChoice::shipped(to.name.clone());
    let face = Face::open(&choice).ok()?;
    for line in changed.lines.iter_mut().filter(|line| line.lettering == *from) {
        // What the others may have of it, the run with the change will tell.
        if line.setting.others.is_empty() && !missing(&face, &line.text).is_empty() {
            return None;
        }
        line.lettering = choice.clone();
    }
    Some(changed)
}

fn remedy(
    layout: &Layout,
    from: &LetteringChoice,
    to: &Entry,
    other: bool,
    changed: Layout,
) -> Option<Remedy> {
    let value = toml::Value::String(to.name.clone()).to_string();
    let lines: Vec<usize> = (0..layout.lines.len())
        .filter(|index| layout.lines.get(*index).is_some_and(|line| line.lettering == *from))
        .collect();
    let own = |index: &usize| format!("line.{}.lettering", index + 1);
    let stated: Vec<String> =
        lines.iter().map(own).filter(|key| layout.keys.exact(key).is_some()).collect();
    let mut keys = stated.clone();
    if stated.len() < lines.len() {
        // Another default would also change the lines that only set its axes.
        if (0..layout.lines.len()).any(|index| of_the_default(layout, index)) {
            return None;
        }
        keys.push("lettering.default".to_owned());
    }
    let numbers: Vec<String> = lines.iter().map(|index| (index + 1).to_string()).collect();
    Some(Remedy {
        kind: "other-lettering",
        message: format!(
            "Set line{} {} in {}.",
            if numbers.len() == 1 { "" } else { "s" },
            numbers.join(", "),
            to.name
        ),
        edits: keys.into_iter().map(|key| Edit { key, value: value.clone() }).collect(),
        share: if other { OTHER_LOOK } else { SAME_LOOK },
        layout: changed,
    })
}

/// Whether a line's lettering is the default one with axes of its own.
fn of_the_default(layout: &Layout, index: usize) -> bool {
    let written =
        |key: &str| layout.keys.exact(&format!("line.{}.lettering.{key}", index + 1)).is_some();
    Axis::ALL.iter().any(|axis| written(axis.key())) && !written("name") && !written("file")
}
