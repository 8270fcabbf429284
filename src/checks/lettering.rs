//! Lettering files of the user's own: licence, embedding, damage.
//!
//! A plaque, its artwork and its pattern hold outlines of letters, never the font; what
//! a licence says of that is between its owner and whoever engraves. We tell what the
//! file says and what it does not.

use std::sync::Arc;

use crate::finding::{Finding, Place, Scope, Severity};
use crate::lettering::{Face, Inside, ShapedLine, blank};

use super::{Facts, at_key, at_line};

/// Source of what is said of tables of a font.
const OPENTYPE: &str = "OpenType specification";

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut seen: Vec<(&str, u32)> = Vec::new();
    let words = |(_, line): &(usize, &ShapedLine)| line.ornament.is_none();
    for (index, line) in facts.lines.iter().enumerate().filter(words) {
        for (range, face) in line.stretches() {
            found.extend(blank_letters(index, face, line.text.get(range).unwrap_or_default()));
        }
        for face in std::iter::once(&line.face).chain(&line.others) {
            let Some(inside) = &face.inside else { continue };
            let file = (face.sha256.as_str(), face.index);
            if seen.contains(&file) {
                continue;
            }
            seen.push(file);
            let place = chosen_at(facts, index);
            found.extend(damaged(face, inside, &place));
            found.extend(restricted(face, inside, &place));
            found.extend(unlicensed(face, inside, &place));
        }
    }
    found
}

/// The key that chose the lettering of a line: its own, else that of all lines.
fn chosen_at(facts: &Facts<'_>, index: usize) -> Place {
    let own = at_line(index, "lettering");
    if facts.layout.keys.exact(&own.key).is_some() { own } else { at_key("lettering.default") }
}

/// A face as findings speak of it: the path, and what it calls itself.
fn called(face: &Face, inside: &Inside) -> String {
    match &inside.name {
        Some(name) => format!("{} ({name})", face.name),
        None => face.name.clone(),
    }
}

fn damaged(face: &Face, inside: &Inside, place: &Place) -> Option<Finding> {
    if inside.damaged.is_empty() {
        return None;
    }
    let tables = inside.damaged.join(", ");
    let (word, verb) = if inside.damaged.len() == 1 { ("table", "does") } else { ("tables", "do") };
    Some(Finding {
        code: "lettering-damaged",
        severity: Severity::Caution,
        scope: Scope::Lettering,
        place: place.clone(),
        message: format!(
            "{} is damaged, or was changed by a careless program: its {word} {tables} {verb} not \
             agree with what the file says of itself. Letters may be drawn wrongly: take the file \
             from its source again.",
            called(face, inside)
        ),
        measured: None,
        required: None,
        rule: "every table of a font is whole and has the checksum that its directory states"
            .to_owned(),
        source: format!("{OPENTYPE}, table directory"),
    })
}

fn restricted(face: &Face, inside: &Inside, place: &Place) -> Option<Finding> {
    inside.restricted.then(|| Finding {
        code: "lettering-restricted",
        severity: Severity::Caution,
        scope: Scope::Lettering,
        place: place.clone(),
        message: format!(
            "{} may not be embedded in documents without its owner's leave. The sheets therefore \
             hold outlines of its letters, never the font; whether it may be engraved is for its \
             licence to say: ask its owner, and do not pass the file on.",
            called(face, inside)
        ),
        measured: None,
        required: None,
        rule: "a font with Restricted License embedding is not embedded without leave".to_owned(),
        source: format!("{OPENTYPE}, table OS/2, fsType 2"),
    })
}

fn unlicensed(face: &Face, inside: &Inside, place: &Place) -> Option<Finding> {
    inside.licence.is_none().then(|| Finding {
        code: "lettering-without-licence",
        severity: Severity::Note,
        scope: Scope::Lettering,
        place: place.clone(),
        message: format!(
            "{} holds no word of its licence: see that you have one that allows engraving.",
            called(face, inside)
        ),
        measured: None,
        required: None,
        rule: "a font says in itself under which licence it stands".to_owned(),
        source: format!("{OPENTYPE}, table name, ids 13 and 14"),
    })
}

/// Letters and figures that the face has without a shape.
fn blank_letters(index: usize, face: &Arc<Face>, text: &str) -> Vec<Finding> {
    let one = |lack: crate::lettering::Missing| {
        let code_point = format!("U+{:04X}", u32::from(lack.character));
        Finding {
            code: "blank-letter",
            severity: Severity::Stop,
            scope: Scope::Lettering,
            place: at_line(index, "text"),
            message: format!(
                "Line {}: {} draws nothing for \u{201c}{}\u{201d} ({code_point}): the file is \
                 damaged, or its letter is still to be drawn. Use another lettering.",
                index + 1,
                face.name,
                lack.character
            ),
            measured: None,
            required: None,
            rule: "every letter and figure of the wording has a shape".to_owned(),
            source: super::GEOMETRY.to_owned(),
        }
    };
    blank(face, text).into_iter().map(one).collect()
}
