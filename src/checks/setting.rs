//! What a line asks of its lettering that the lettering has not: small capitals, forms of
//! figures, stylistic sets, a width axis; and what cannot be done with the wording.
//!
//! Nothing is made up in its stead: capitals are never shrunk, letters never squeezed.

use std::sync::Arc;

use crate::finding::{Finding, Scope, Severity};
use crate::layout::{Case, FigureForm, FigureWidth, Quotes, Setting, SmallCapitalsFor};
use crate::lettering::{Face, ShapedLine, SmallCapitals, catalogue, shaped_run};
use crate::wording;

use super::{Facts, LAYOUT, at_line};

/// How far figures may differ in height and still be lining, in cap heights. Round ones
/// overshoot.
const LEVEL: f64 = 0.1;
/// How far they may go below the baseline: old-style ones go some 0.2.
const BELOW: f64 = 0.1;
/// How far advances may differ and still be one width, em.
const ONE_WIDTH: f64 = 1e-6;
/// Most letters that are named.
const NAMED: usize = 8;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, (line, shaped)) in facts.layout.lines.iter().zip(facts.lines).enumerate() {
        let setting = &line.setting;
        if *setting == Setting::default() {
            continue;
        }
        let mut add = |severity: Severity, key: &str, message: String| {
            found.push(Finding {
                code: "not-in-lettering",
                severity,
                scope: Scope::Lettering,
                place: at_line(index, key),
                message: format!("Line {}: {message}", index + 1),
                measured: None,
                required: None,
                rule: "the lettering has what the line asks of it".to_owned(),
                source: LAYOUT.to_owned(),
            });
        };
        for (face, part) in parts(shaped) {
            for (key, message) in lacking(face, &part, setting) {
                add(Severity::Caution, key, message);
            }
        }
        let name = &shaped.face.name;
        let stays = match setting.narrow_to {
            Some(_) if shaped.face.axis_least("wdth").is_none() => {
                Some(format!("{name} has no axis for its width, so it is not narrowed."))
            }
            Some(_) if shaped.own_advance_em() <= 0.0 => {
                Some(format!("nothing of it is set in {name}, so it is not narrowed."))
            }
            _ => None,
        };
        if let Some(message) = stays {
            add(Severity::Caution, "narrow_to", message);
        }
        if setting.tracking.is_some() && !shaped.opens() {
            let message = "only capitals of scripts whose letters stand apart are tracked; \
                           this line is set as it is drawn.";
            add(Severity::Note, "tracking", message.to_owned());
        }
        let language = setting.language.as_deref().unwrap_or_default();
        if setting.quotes == Quotes::Typographic && !wording::has_quotes(language) {
            let message =
                format!("the quotes of the language {language} are not known; they stay straight.");
            add(Severity::Caution, "quotes", message);
        }
    }
    found
}

/// What is set in each face of a line.
fn parts(line: &ShapedLine) -> Vec<(&Arc<Face>, String)> {
    let mut parts: Vec<(&Arc<Face>, String)> = Vec::new();
    for (range, face) in line.stretches() {
        let part = line.text.get(range).unwrap_or_default();
        match parts.iter_mut().find(|(known, _)| Arc::ptr_eq(known, face)) {
            Some((_, text)) => text.push_str(part),
            None => parts.push((face, part.to_owned())),
        }
    }
    parts
}

/// Key and message of everything that a face has not for its part of a line.
fn lacking(face: &Arc<Face>, part: &str, setting: &Setting) -> Vec<(&'static str, String)> {
    let mut found = Vec::new();
    let name = &face.name;
    let mut small = |kept: Vec<char>, stays: &str| {
        if !kept.is_empty() {
            let letters: String = kept.iter().take(NAMED).collect();
            let more = if kept.len() > NAMED { " and others" } else { "" };
            let message = format!("{name} has no small capitals for {letters}{more}; {stays}.");
            found.push(("small_capitals", message));
        }
    };
    if setting.small_capitals.is_some() && !draws_lower_case_small(face) {
        small(unchanged(face, part, "smcp", char::is_lowercase), "the lower case stays");
    }
    if setting.small_capitals == Some(SmallCapitalsFor::AllLetters) {
        small(unchanged(face, part, "c2sc", char::is_uppercase), "the capitals stay");
    }
    let figures = part.chars().any(|c| c.is_ascii_digit());
    if let Some(form) = setting.figures.filter(|form| figures && !face.offers(form.feature())) {
        let word = match form {
            FigureForm::Lining => "lining",
            FigureForm::OldStyle => "old-style",
        };
        if habits(face).is_none_or(|(usual, _)| usual != form) {
            found.push(("figures", format!("{name} has no {word} figures; its own stay.")));
        }
    }
    let width = setting.figure_widths.filter(|_| figures);
    if let Some(width) = width.filter(|width| !face.offers(width.feature())) {
        let word = match width {
            FigureWidth::Proportional => "proportional",
            FigureWidth::Tabular => "tabular",
        };
        if habits(face).is_none_or(|(_, usual)| usual != width) {
            found.push(("figure_widths", format!("{name} has no {word} figures; its own stay.")));
        }
    }
    for number in &setting.stylistic_sets {
        if !face.offers(&format!("ss{number:02}")) {
            let message = format!("{name} has no stylistic set {number}.");
            found.push(("stylistic_sets", message));
        }
    }
    if setting.case != Case::AsWritten && part.chars().any(char::is_lowercase) {
        // Letters without a capital of their own, such as ĸ.
        let kept: String = part.chars().filter(|c| c.is_lowercase()).take(NAMED).collect();
        found.push(("case", format!("there are no capitals of {kept}, which stays as it is.")));
    }
    found
}

/// Letters of a kind in a text that a feature leaves as they are, each once.
fn unchanged(face: &Arc<Face>, text: &str, feature: &str, of: fn(char) -> bool) -> Vec<char> {
    let asked = [feature.to_owned()];
    let mut kept: Vec<char> = Vec::new();
    for letter in text.chars().filter(|c| of(*c)) {
        let set = |features: &[String]| {
            let run = shaped_run(letter.encode_utf8(&mut [0; 4]), face, features);
            run.glyphs.iter().map(|glyph| glyph.id).collect::<Vec<_>>()
        };
        if !kept.contains(&letter) && set(&asked) == set(&[]) {
            kept.push(letter);
        }
    }
    kept
}

/// Whether the lower case of a shipped face is drawn as small capitals.
fn draws_lower_case_small(face: &Face) -> bool {
    let catalogue = catalogue();
    let entry = catalogue.entries.iter().find(|entry| entry.sha256 == face.sha256);
    let family = entry.and_then(|entry| catalogue.family(entry));
    family.is_some_and(|family| family.small_capitals == SmallCapitals::LowerCase)
}

/// Form and width of a face's usual figures; `None` where it lacks some.
fn habits(face: &Arc<Face>) -> Option<(FigureForm, FigureWidth)> {
    let (mut tops, mut bottoms, mut advances) = (Vec::new(), Vec::new(), Vec::new());
    for figure in '0'..='9' {
        let run = shaped_run(figure.encode_utf8(&mut [0; 4]), face, &[]);
        let glyph = run.glyphs.first().filter(|glyph| glyph.id != 0)?;
        let ink = kurbo::Shape::bounding_box(&face.outline(glyph.id));
        tops.push(ink.y1 / face.cap_em());
        bottoms.push(ink.y0 / face.cap_em());
        advances.push(run.advance_em);
    }
    let spread = |values: &[f64]| {
        values.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b))
            - values.iter().fold(f64::INFINITY, |a, b| a.min(*b))
    };
    let lining = spread(&tops) <= LEVEL && bottoms.iter().all(|bottom| *bottom >= -BELOW);
    let tabular = spread(&advances) <= ONE_WIDTH;
    Some((
        if lining { FigureForm::Lining } else { FigureForm::OldStyle },
        if tabular { FigureWidth::Tabular } else { FigureWidth::Proportional },
    ))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::{habits, lacking};
    use crate::layout::{FigureForm, FigureWidth, LetteringChoice, Setting, SmallCapitalsFor};
    use crate::lettering::Face;

    fn face(name: &str) -> Arc<Face> {
        Face::open(&LetteringChoice::shipped(name)).unwrap()
    }

    fn keys(name: &str, text: &str, setting: &Setting) -> Vec<&'static str> {
        lacking(&face(name), text, setting).into_iter().map(|(key, _)| key).collect()
    }

    #[test]
    fn usual_figures_are_known_by_their_shapes() {
        // Looked at by eye: 3 goes below the baseline in Marcellus, none in EB Garamond.
        assert_eq!(habits(&face("EB Garamond")).unwrap().0, FigureForm::Lining);
        assert_eq!(habits(&face("Marcellus")).unwrap().0, FigureForm::OldStyle);
    }

    #[test]
    fn small_capitals_are_drawn_or_their_absence_is_told() {
        let setting =
            Setting { small_capitals: Some(SmallCapitalsFor::LowerCase), ..Setting::default() };
        assert!(keys("EB Garamond", "Marrowby Vale", &setting).is_empty());
        assert!(keys("Cinzel", "Marrowby Vale", &setting).is_empty());
        assert_eq!(keys("Besley", "Marrowby Vale", &setting), ["small_capitals"]);
        // Nothing in lower case, nothing to tell.
        assert!(keys("Besley", "MARROWBY 12", &setting).is_empty());
        let all = Setting { small_capitals: Some(SmallCapitalsFor::AllLetters), ..setting };
        assert_eq!(keys("Besley", "Vale", &all), ["small_capitals"; 2]);
    }

    #[test]
    fn figures_that_are_so_already_need_no_feature() {
        let old = Setting { figures: Some(FigureForm::OldStyle), ..Setting::default() };
        let lining = Setting { figures: Some(FigureForm::Lining), ..Setting::default() };
        assert!(keys("EB Garamond", "1914", &old).is_empty());
        assert_eq!(keys("Oswald", "1914", &old), ["figures"]);
        assert!(keys("Oswald", "1914", &lining).is_empty());
        assert!(keys("Oswald", "no figures", &old).is_empty());
        let tabular = Setting { figure_widths: Some(FigureWidth::Tabular), ..Setting::default() };
        assert!(keys("EB Garamond", "1914", &tabular).is_empty());
        let sets = Setting { stylistic_sets: vec![20], ..Setting::default() };
        assert_eq!(keys("Oswald", "Vale", &sets), ["stylistic_sets"]);
    }
}
