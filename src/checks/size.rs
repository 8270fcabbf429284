//! Lines below a height that was asked, or that the process can make; and
//! wording for which there is no room at all.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::floors::FloorFrom;
use crate::layout::{Named, Ornament};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, LAYOUT, at_key, at_line};

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    if facts.fitted.rows.is_empty() {
        return vec![no_room(facts)];
    }
    let mut found = Vec::new();
    for (index, fitted) in facts.fitted.lines.iter().enumerate() {
        let line = facts.layout.lines.get(index);
        let ornament = line.filter(|line| line.ornament.is_some());
        let asked = line.and_then(|line| line.cap_height);
        if let Some(asked) = asked.filter(|asked| fitted.cap_height < asked - EQUAL_MM) {
            found.push(below_asked(facts, index, (fitted.cap_height, asked), "cap_height"));
        } else if fitted.cap_height < fitted.floor.floor - EQUAL_MM {
            found.push(match fitted.floor.floor_from {
                FloorFrom::Layout => {
                    below_asked(facts, index, (fitted.cap_height, fitted.floor.floor), "at_least")
                }
                // A stated height of a drawing is no letter's.
                FloorFrom::Process if ornament.is_some_and(|line| line.cap_height.is_some()) => {
                    continue;
                }
                FloorFrom::Process => below_process(facts, index),
                // What the cutter cannot make is told by letter and place.
                FloorFrom::Stroke | FloorFrom::Counter | FloorFrom::Gap
                    if fitted.cap_height < fitted.floor.process - EQUAL_MM =>
                {
                    below_process(facts, index)
                }
                FloorFrom::Stroke | FloorFrom::Counter | FloorFrom::Gap => continue,
            });
        }
    }
    found
}

fn no_room(facts: &Facts<'_>) -> Finding {
    let bounds = facts.field.bounds();
    let room = bounds.map_or(0.0, |[left, top, right, bottom]| {
        (right - left).max(0.0).min((bottom - top).max(0.0))
    });
    Finding {
        code: "no-room",
        severity: Severity::Stop,
        scope: Scope::Lettering,
        place: at_key(if bounds.is_none() { "plate.margin" } else { "plate" }),
        message: "There is no room for lettering: bevel, margin and holes leave no field in which the rows can stand."
            .to_owned(),
        measured: Some(Quantity::mm(room)),
        required: None,
        rule: "every row stands inside the field on its axis".to_owned(),
        source: GEOMETRY.to_owned(),
    }
}

fn below_asked(
    facts: &Facts<'_>,
    index: usize,
    (measured, asked): (f64, f64),
    key: &str,
) -> Finding {
    let ornament = facts.layout.lines.get(index).and_then(|line| line.ornament.as_ref());
    let (what, key) = match ornament {
        None => ("capitals of", key),
        Some(Ornament::Divider { .. }) => ("a divider", "weight"),
        Some(_) if key == "cap_height" => ("an emblem", "height"),
        Some(_) => ("an emblem", key),
    };
    let high = if ornament.is_some() { " high" } else { "" };
    Finding {
        code: "below-asked-height",
        severity: Severity::Stop,
        scope: Scope::Lettering,
        place: at_line(index, key),
        message: format!(
            "Line {}: the wording leaves room for {what} {} mm{high} only; the layout asks for {} mm.",
            index + 1,
            fixed(measured, 2),
            fixed(asked, 2)
        ),
        measured: Some(Quantity::mm(measured)),
        required: Some(Quantity::mm(asked)),
        rule: "the cap height that the layout asks for".to_owned(),
        source: LAYOUT.to_owned(),
    }
}

fn below_process(facts: &Facts<'_>, index: usize) -> Finding {
    let fitted = facts.fitted.lines.get(index);
    let (measured, floor, shop) =
        fitted.map_or((0.0, 0.0, false), |f| (f.cap_height, f.floor.process, f.floor.shop_figure));
    let process = facts.layout.engraving.process.word();
    let drawn = facts.layout.lines.get(index).is_some_and(|line| line.ornament.is_some());
    let (what, high) = if drawn { ("an emblem", " high") } else { ("capitals of", "") };
    let whose = if shop { "this shop makes" } else { "is usual" };
    Finding {
        code: "below-process-height",
        severity: if shop { Severity::Stop } else { Severity::Caution },
        scope: Scope::Lettering,
        place: at_line(index, ""),
        message: format!(
            "Line {}: {what} {} mm{high}; {} mm is the least that {whose} by this process ({process}).",
            index + 1,
            fixed(measured, 2),
            fixed(floor, 2),
        ),
        measured: Some(Quantity::mm(measured)),
        required: Some(Quantity::mm(floor)),
        rule: format!("least cap height, {process}"),
        source: if shop { "the shop's own figure".to_owned() } else { COMMON.to_owned() },
    }
}
