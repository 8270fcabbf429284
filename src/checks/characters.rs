//! Characters that the chosen lettering lacks.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::lettering::{ShapedLine, missing, who_has};

use super::{Facts, at_line};

/// How many letterings are named that have the character.
const NAMED: usize = 4;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, line) in facts.lines.iter().enumerate() {
        for (character, name) in lacking(line) {
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
                    "Line {}: {name} has no \u{201c}{character}\u{201d} ({code_point}). {remedy}",
                    index + 1
                ),
                measured: Some(Quantity::count(0.0)),
                required: Some(Quantity::count(1.0)),
                rule: "every character of the wording has a glyph in its lettering".to_owned(),
                source: format!("character map of {name}"),
            });
        }
    }
    found
}

/// Characters of a line that have no glyph where they are set, each once, with the name of
/// the lettering that lacks it.
fn lacking(line: &ShapedLine) -> Vec<(char, &str)> {
    let mut lacks: Vec<(char, &str)> = Vec::new();
    for (range, face) in line.stretches() {
        for lack in missing(face, line.text.get(range).unwrap_or_default()) {
            if lacks.iter().all(|(known, _)| *known != lack.character) {
                lacks.push((lack.character, face.name.as_str()));
            }
        }
    }
    // Where a word is divided the plate shows one more character than the wording has, in
    // whichever face the word is.
    if let Some(hyphen) = line.hyphen.filter(|c| lacks.iter().all(|(known, _)| known != c)) {
        let shown = hyphen.to_string();
        let mut faces = std::iter::once(&line.face).chain(&line.others);
        let without = faces.find(|face| !missing(face, &shown).is_empty());
        lacks.extend(without.map(|face| (hyphen, face.name.as_str())));
    }
    lacks
}

#[cfg(test)]
mod tests {
    use super::lacking;
    use crate::layout::LetteringChoice;
    use crate::lettering::{Face, LineStyle, styled_line};

    #[test]
    fn the_hyphen_must_be_in_every_face_of_the_line() {
        let face = |name: &str| Face::open(&LetteringChoice::shipped(name)).unwrap();
        let others = [face("Frank Ruhl Libre")];
        let style = LineStyle { others: &others, ..LineStyle::default() };
        let text = "Vale אבי\u{AD}גיל";
        let stops = [0, 5, text.find('ג').unwrap(), text.len()];
        let mut line = styled_line(text, &face("Besley"), &style, &stops);
        assert!(line.hyphen.is_some() && lacking(&line).is_empty());
        // Besley has the hyphen itself, the other only its hyphen-minus.
        line.hyphen = Some('\u{2010}');
        assert_eq!(lacking(&line), [('\u{2010}', "Frank Ruhl Libre")]);
    }
}
