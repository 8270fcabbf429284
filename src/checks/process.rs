//! What the process does to the plate's material, and whether it can make these letters.

use crate::finding::{Finding, Scope, Severity};
use crate::floors;
use crate::layout::{Named, Process};
use crate::lettering::catalogue;

use super::{COMMON, Facts, at_key};

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let layout = facts.layout;
    let (material, process) = (layout.plate.material, layout.engraving.process);
    let on_material = floors::objections(layout).into_iter().map(|objection| Finding {
        code: objection.code(),
        severity: objection.severity(),
        scope: Scope::Lettering,
        place: at_key("engraving.process"),
        message: objection.told(material),
        measured: None,
        required: None,
        rule: format!("{} and {}", process.word(), material.word()),
        source: objection.source.clone(),
    });
    on_material.chain(outlines(facts)).collect()
}

/// A drag point draws lines; letters with an outline are surfaces.
fn outlines(facts: &Facts<'_>) -> Option<Finding> {
    if facts.layout.engraving.process != Process::Drag {
        return None;
    }
    let mut names: Vec<&str> = Vec::new();
    for line in facts.lines.iter().filter(|line| !line.single_stroke()) {
        if !names.contains(&line.face.name.as_str()) {
            names.push(&line.face.name);
        }
    }
    let (first, verb) = (names.first()?, if names.len() == 1 { "is" } else { "are" });
    let more = names.get(1..).unwrap_or_default();
    let named = more.iter().fold((*first).to_owned(), |told, name| format!("{told}; {name}"));
    let single: Vec<&str> = catalogue().single_stroke().map(|entry| entry.name.as_str()).collect();
    Some(Finding {
        code: "outlines-for-drag",
        severity: Severity::Caution,
        scope: Scope::Lettering,
        place: at_key("engraving.process"),
        message: format!(
            "A drag point draws lines of its own width, and {named} {verb} drawn as filled \
             shapes: it can only follow their outlines or hatch them. Use single-stroke lettering, \
             whose lines are the strokes ({}), or a rotary cutter.",
            single.join(", ")
        ),
        measured: None,
        required: None,
        rule: "filled shapes and a point that draws lines".to_owned(),
        source: COMMON.to_owned(),
    })
}
