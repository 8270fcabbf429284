//! Every shipped lettering in the user's own words.

use serde_json::Value;

use crate::desk::wire::{Choice, CureChange, Path};
use crate::job::Job;
use crate::layout::{Axis, Layout, LetteringChoice, path_of};
use crate::lettering::{Entry, Face, Family, SmallCapitals, catalogue, missing, script_name};
use crate::sheets::lettering_sample;

use super::{capital, picture};

/// Cap height of all samples, mm: large enough to tell them apart.
const CAP_HEIGHT: f64 = 5.0;
/// Most characters of a sample: more say nothing more of the letters.
const MOST: usize = 40;
/// Characters of a lack that are named one by one.
const NAMED: usize = 6;

/// Letterings in the order of a specimen, set in the words of a line, or of the first that
/// is of the default lettering; chosen for that line, or as the default.
pub(in crate::desk) fn letterings(job: &Job, line: Option<usize>) -> Vec<Choice> {
    let layout = &job.layout;
    let own = line.filter(|line| written(layout, *line, "").is_some());
    let concerned: Vec<usize> = match own {
        Some(line) => vec![line],
        None => (0..layout.lines.len()).filter(|line| of_default(layout, *line)).collect(),
    };
    let Some(words) = sample_words(job, line, &concerned) else { return Vec::new() };
    let list = catalogue();
    let shown = list.shown().into_iter();
    shown
        .map(|entry| {
            let family = list.family(entry);
            let path = match own {
                Some(line) => path_of(&format!("line.{}.lettering", line + 1)),
                None => path_of("lettering.default"),
            };
            let loses = match own {
                Some(_) => Vec::new(),
                None => unfit_axes(layout, entry),
            };
            Choice {
                name: entry.name.clone(),
                about: about(job, entry, family, &concerned),
                picture: lettering_sample(&words, entry, CAP_HEIGHT).as_ref().map(picture),
                changes: vec![CureChange::set(path, Value::String(entry.name.clone()))],
                remove: loses,
            }
        })
        .collect()
}

/// Where a key of a line is written, if it is.
fn written(layout: &Layout, line: usize, key: &str) -> Option<std::ops::Range<usize>> {
    layout.keys.exact(&format!("line.{}{key}", line + 1))
}

/// Whether a line is set in the default lettering.
fn of_default(layout: &Layout, line: usize) -> bool {
    let says = |key: &str| written(layout, line, key).is_some();
    let drawing = layout.lines.get(line).is_none_or(|line| line.ornament.is_some());
    let own = says(".lettering.name") || says(".lettering.file");
    !drawing && (!says(".lettering") || (axes_alone(layout, line) && !own))
}

/// Whether a line only sets axes of the default lettering.
fn axes_alone(layout: &Layout, line: usize) -> bool {
    Axis::ALL
        .iter()
        .any(|axis| written(layout, line, &format!(".lettering.{}", axis.key())).is_some())
}

/// Letterings of lines that set an axis of the default one which another has not, or not so
/// far: they have to go with it.
fn unfit_axes(layout: &Layout, entry: &Entry) -> Vec<Path> {
    let unfit = |line: &usize| {
        let set = of_default(layout, *line) && axes_alone(layout, *line);
        let asked = layout.lines.get(*line).filter(|_| set);
        asked.is_some_and(|asked| {
            let axes = asked.lettering.axes.clone();
            Face::open(&LetteringChoice { axes, ..LetteringChoice::shipped(&*entry.name) }).is_err()
        })
    };
    let lines = (0..layout.lines.len()).filter(unfit);
    lines.map(|line| path_of(&format!("line.{}.lettering", line + 1))).collect()
}

/// Words to show letterings in: the first row of the line, or of the first that is concerned,
/// cut between words where it is long. Nothing where no line has words.
fn sample_words(job: &Job, line: Option<usize>, concerned: &[usize]) -> Option<String> {
    let all = 0..job.layout.lines.len();
    let words = |line: usize| {
        let drawing = job.layout.lines.get(line)?.ornament.is_some();
        let rows = job.fitted.rows.iter().filter(|row| row.line == line);
        let row = rows.map(|row| row.text.trim()).find(|text| !text.is_empty());
        let text = job.lines.get(line)?.text.lines().find(|text| !text.trim().is_empty());
        row.or(text).filter(|_| !drawing).map(|text| shortened(text.trim()))
    };
    line.into_iter().chain(concerned.iter().copied()).chain(all).find_map(words)
}

/// As many words as the most characters allow; of a longer word its beginning.
fn shortened(text: &str) -> String {
    // A soft hyphen at the end of a row would be none in a sample.
    let text = text.trim_end_matches('\u{AD}');
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    let cut: String = text.chars().take(MOST).collect();
    let ends = text.chars().nth(MOST).is_some_and(char::is_whitespace);
    let words = cut.rsplit_once(char::is_whitespace).filter(|_| !ends);
    words.map_or(cut.as_str(), |(words, _)| words).trim_end().to_owned()
}

/// How it looks, what it can do, and what it lacks of the words.
fn about(job: &Job, entry: &Entry, family: Option<&Family>, concerned: &[usize]) -> String {
    let Some(family) = family else { return String::new() };
    let mut parts = vec![family.look.join(", ")];
    let axes: Vec<&str> = family.axes.iter().map(|axis| axis.axis.name()).collect();
    if !axes.is_empty() {
        parts.push(format!("{} can be set", axes.join(" and ")));
    }
    match family.small_capitals {
        SmallCapitals::Real => parts.push("small capitals".to_owned()),
        SmallCapitals::LowerCase => parts.push("lower case as small capitals".to_owned()),
        SmallCapitals::None => {}
    }
    let further = family.scripts.iter().filter(|(code, _)| code != "Latn");
    let further = further.map(|(code, _)| script_name(code));
    // That of a lettering for one script is its look.
    let further: Vec<&str> =
        further.filter(|script| !family.look.iter().any(|look| look == script)).collect();
    if !further.is_empty() {
        parts.push(further.join(", "));
    }
    if entry.single_stroke() {
        parts.push("strokes as wide as the cut".to_owned());
    }
    let mut about = format!("{}.", capital(&parts.join("; ")));
    let lacks = lacking(job, entry, concerned);
    if !lacks.is_empty() {
        let named: Vec<String> = lacks.iter().take(NAMED).map(|c| format!("“{c}”")).collect();
        let more = if lacks.len() > NAMED { " and more" } else { "" };
        about.push_str(&format!(" It lacks {}{more}.", named.join(", ")));
    }
    about
}

/// Characters of the lines concerned that a lettering lacks, each once.
fn lacking(job: &Job, entry: &Entry, concerned: &[usize]) -> Vec<char> {
    let mut lacks = Vec::new();
    let Ok(face) = Face::open(&LetteringChoice::shipped(entry.name.as_str())) else {
        return lacks;
    };
    for text in concerned.iter().filter_map(|line| job.lines.get(*line)).map(|line| &line.text) {
        for lack in missing(&face, text) {
            if !lacks.contains(&lack.character) {
                lacks.push(lack.character);
            }
        }
    }
    lacks
}

#[cfg(test)]
mod tests {
    use super::super::testing::{accepted, chosen};
    use super::*;
    use crate::sheets::testing::{DEDICATION, made};

    #[test]
    fn every_shipped_lettering_is_offered_in_the_order_of_a_specimen() {
        let all = letterings(&made(DEDICATION), None);
        let names: Vec<&str> = all.iter().map(|choice| choice.name.as_str()).collect();
        let shown: Vec<&str> = catalogue().shown().iter().map(|e| e.name.as_str()).collect();
        assert_eq!(names, shown);
        assert!(all.iter().all(|choice| choice.picture.is_some() && choice.remove.is_empty()));
    }

    #[test]
    fn a_choice_sets_its_line_or_the_default() {
        let job = made(DEDICATION);
        let oswald = |line| {
            let all = letterings(&job, line);
            all.into_iter().find(|choice| choice.name == "Oswald").unwrap()
        };
        let text = chosen(DEDICATION, &oswald(None));
        assert!(text.contains("default = \"Oswald\"") && text.contains("lettering = \"Cinzel\""));
        let text = chosen(DEDICATION, &oswald(Some(0)));
        assert!(text.contains("lettering = \"Oswald\"") && !text.contains("Cinzel"));
    }

    #[test]
    fn what_a_lettering_lacks_is_told_and_not_shown() {
        let text = DEDICATION.replace("given by her family and her band", "Ελένη \u{5e9}");
        let all = letterings(&made(&text), Some(2));
        let find = |name: &str| all.iter().find(|choice| choice.name == name).unwrap();
        assert!(find("Cinzel").about.contains("It lacks “Ε”, “λ”, “έ”, “ν”, “η”, “\u{5e9}”."));
        assert!(find("Cinzel").picture.is_none());
        assert!(find("EB Garamond").about.ends_with("It lacks “\u{5e9}”."));
    }

    #[test]
    fn lines_that_set_axes_of_the_default_go_on_where_it_has_them() {
        let text = DEDICATION
            .replace("default = \"EB Garamond\"", "default = \"Oswald\"")
            .replace("size      = 0.9", "size      = 0.9\nlettering = { weight = 650 }");
        for choice in letterings(&made(&text), None) {
            let gone = !choice.remove.is_empty();
            let family = catalogue().entry(&choice.name).and_then(|e| catalogue().family(e));
            let heavy = family.and_then(|family| family.axis(Axis::Weight));
            let has = heavy.is_some_and(|axis| (axis.least..=axis.most).contains(&650.0));
            assert_eq!(gone, !has, "{}", choice.name);
            accepted(&text, &choice);
        }
    }

    #[test]
    fn samples_are_cut_between_words() {
        let long = "this door stands open to all who look up to the stars";
        assert_eq!(shortened(long), "this door stands open to all who look up");
        assert_eq!(
            shortened(&long.replace("up", "upwards")),
            "this door stands open to all who look"
        );
        assert_eq!(shortened(&"x".repeat(50)), "x".repeat(40));
        assert_eq!(shortened("lan\u{AD}"), "lan");
    }
}
