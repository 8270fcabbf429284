//! Single-stroke lettering: its strokes are as wide as the cut, so the cutter must be told;
//! and letters that are cut cannot stand raised.

use crate::finding::{Finding, Scope, Severity};
use crate::layout::ASSUMED_CUT;
use crate::units::digits::trimmed;

use super::{Facts, GEOMETRY, at_key, at_line};

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let lines = facts.lines.iter().enumerate();
    let Some((index, line)) = lines.into_iter().find(|(_, line)| line.single_stroke()) else {
        return Vec::new();
    };
    let (number, name) = (index + 1, &line.face.name);
    let stop = |code, place, message: String, rule: &str| Finding {
        code,
        severity: Severity::Stop,
        scope: Scope::Lettering,
        place,
        message,
        measured: None,
        required: None,
        rule: rule.to_owned(),
        source: GEOMETRY.to_owned(),
    };
    let mut found = Vec::new();
    if facts.layout.cutter().is_none() {
        found.push(stop(
            "cutter-not-told",
            at_key("engraving.cutter"),
            format!(
                "Line {number} is in {name}, whose strokes are as wide as the cut, and no cutter \
                 is told: all sizes here are for a cut of {} mm. Write \
                 engraving.cutter = {{ tip = \"0.25 mm\" }} with the width that yours makes.",
                trimmed(ASSUMED_CUT, 2)
            ),
            "single-stroke letters are drawn, fitted and judged with the width of the cut",
        ));
    }
    if !facts.layout.incised() {
        found.push(stop(
            "single-stroke-raised",
            at_line(index, "lettering"),
            format!(
                "Line {number} is in {name}, whose lines a tool follows: they are cut in and \
                 cannot stand raised. Take a lettering of outlines, or cut = \"incised\"."
            ),
            "raised letters are what is left standing between cuts",
        ));
    }
    found
}
