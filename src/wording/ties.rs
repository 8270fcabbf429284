//! Which neighbouring words stand together, and by which rule.

use super::lexicon::Rule;
use super::words::Word;
use super::{dates, names, numbers};

/// For each gap between a word and the next, the dearest rule that keeps them together.
#[derive(Debug)]
pub(super) struct Ties(Vec<Option<Rule>>);

impl Ties {
    /// The ties of a line's words. `mixed`: whether the line has lower-case letters, so
    /// that a capital says something.
    pub(super) fn of(words: &[Word<'_>], mixed: bool) -> Self {
        let mut ties = Self(vec![None; words.len().saturating_sub(1)]);
        // Of rules that cost the same the first one names the tie.
        dates::tie(words, &mut ties);
        names::tie(words, mixed, &mut ties);
        numbers::tie(words, &mut ties);
        for (gap, pair) in words.windows(2).enumerate() {
            if pair.iter().any(Word::is_ampersand) {
                ties.hold(gap, gap + 1, Rule::Ampersand);
            }
            if pair[1].is_spaced_mark() {
                ties.hold(gap, gap + 1, Rule::Mark);
            }
        }
        ties
    }

    /// Keeps the words from `first` to `last` together.
    pub(super) fn hold(&mut self, first: usize, last: usize, rule: Rule) {
        for tie in self.0.iter_mut().take(last).skip(first) {
            if tie.is_none_or(|known| known.cost() < rule.cost()) {
                *tie = Some(rule);
            }
        }
    }

    /// The rule that keeps a word and the next together.
    pub(super) fn after(&self, word: usize) -> Option<Rule> {
        self.0.get(word).copied().flatten()
    }
}
