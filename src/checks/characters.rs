//! Characters that the chosen lettering lacks.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::lettering::{missing, who_has};

use super::{Facts, at_line};

/// How many letterings are named that have the character.
const NAMED: usize = 4;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, line) in facts.lines.iter().enumerate() {
        let mut lacks: Vec<char> = Vec::new();
        for (range, face) in line.stretches() {
            let part = line.text.get(range).unwrap_or_default();
            let more = missing(face, part).into_iter().map(|lack| lack.character);
            let more: Vec<char> = more.filter(|character| !lacks.contains(character)).collect();
            lacks.extend(more);
        }
        // Where a word is divided the plate shows one more character than the wording has.
        let hyphen =
            line.hyphen.filter(|c| !missing(&line.face, c.encode_utf8(&mut [0; 4])).is_empty());
        lacks.extend(hyphen.filter(|hyphen| !lacks.contains(hyphen)));
        for character in lacks {
            let code_point = format!("U+{:04X}", u32::from(character));
            let have = who_has(character);
            let remedy = if have.is_empty() {
                "No shipped lettering has it: use a lettering file of your own that does."
                    .to_owned()
            } else {
                let names: Vec<&str> = have.iter().copied().take(NAMED).collect();
                format!("These have it: {}.", names.join(", "))
            };
            found.push(Finding {
                code: "missing-character",
                severity: Severity::Stop,
                scope: Scope::Lettering,
                place: at_line(index, "text"),
                message: format!(
                    "Line {}: {} has no \u{201c}{character}\u{201d} ({code_point}). {remedy}",
                    index + 1,
                    line.face.name
                ),
                measured: Some(Quantity::count(0.0)),
                required: Some(Quantity::count(1.0)),
                rule: "every character of the wording has a glyph in its lettering".to_owned(),
                source: format!("character map of {}", line.face.name),
            });
        }
    }
    found
}
