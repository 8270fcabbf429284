//! What the tests of this room ask.

use crate::layout::{Align, Breaks, Hyphens, LetteringChoice, Line, Setting};

use super::hard::marks;
use super::lexicon::Rule;
use super::sense::ties_of;
use super::words::words;

/// Asserts that these words of a text are tied to the next by a rule.
pub(super) fn tied(text: &str, rule: Rule, gaps: &[usize]) {
    let words = words(text);
    let ties = ties_of(text, &words);
    for &gap in gaps {
        assert_eq!(ties.after(gap), Some(rule), "{text:?}, after word {gap}");
    }
}

/// Asserts that a word of a text is not tied to the next.
pub(super) fn loose(text: &str, gap: usize) {
    let words = words(text);
    assert!(gap + 1 < words.len(), "{text:?} has no gap {gap}");
    assert_eq!(ties_of(text, &words).after(gap), None, "{text:?}, after word {gap}");
}

/// The stops of a text, each with its cost.
pub(super) fn costs(text: &str) -> Vec<(usize, u32)> {
    let marks = marks(&line(text, &[]));
    marks.stops.into_iter().zip(marks.costs.iter().copied()).collect()
}

/// A line of a text in which phrases are kept.
pub(super) fn line(text: &str, keep: &[&str]) -> Line {
    Line {
        text: text.to_owned(),
        ornament: None,
        size: 1.0,
        cap_height: None,
        at_least: None,
        at_most: None,
        lettering: LetteringChoice::shipped(String::new()),
        features: Vec::new(),
        setting: Setting::default(),
        align: Align::Centre,
        space: 0.35,
        leading: None,
        breaks: Breaks::Free,
        hyphens: Hyphens::Never,
        keep: keep.iter().map(|&phrase| phrase.to_owned()).collect(),
    }
}
