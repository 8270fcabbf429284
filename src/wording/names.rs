//! Names with their titles, initials and letters.

use super::lexicon::{Kind, Rule};
use super::ties::Ties;
use super::words::Word;

/// Ties the parts of names. `mixed`: whether the line has lower-case letters, so that a
/// capital tells a name.
pub(super) fn tie(words: &[Word<'_>], mixed: bool, ties: &mut Ties) {
    for (at, pair) in words.windows(2).enumerate() {
        let (word, next) = (&pair[0], &pair[1]);
        if word.runs_on() && is_after_name(word, next) {
            ties.hold(at, at + 1, Rule::Letters);
        }
        if word.pause || next.opens() {
            continue;
        }
        let title = |word: &Word<'_>| is_title(word, mixed);
        if title(word) && next.is_name() {
            ties.hold(at, at + 1, Rule::Title);
        }
        if word.is(Kind::Article) && title(next) {
            ties.hold(at, at + 1, Rule::ArticleOfTitle);
        }
        let both = next.bare.eq_ignore_ascii_case("and") && words.get(at + 2).is_some_and(title);
        if title(word) && both {
            ties.hold(at, at + 2, Rule::Title);
        }
        if word.is(Kind::Saint) && word.is_capital() && next.is_name() {
            ties.hold(at, at + 1, Rule::Saint);
        }
        let initial = word.is_initial() || next.is_initial();
        if initial && is_name_part(word) && is_name_part(next) {
            ties.hold(at, at + 1, Rule::Initials);
        }
        if word.is_name() && is_numeral(next.bare) {
            ties.hold(at, at + 1, Rule::Numeral);
        }
        if mixed && word.is_name() && next.is_name() {
            ties.hold(at, at + 1, Rule::ProperName);
        }
    }
}

/// Whether a word is a title.
fn is_title(word: &Word<'_>, mixed: bool) -> bool {
    word.is_capital() && (word.is(Kind::Title) || mixed && word.is(Kind::TitleOrWord))
}

/// Whether a word is a name or an initial.
fn is_name_part(word: &Word<'_>) -> bool {
    word.is_initial() || word.is_name() && word.has_letter()
}

/// Whether the second word is letters after a name, or such as `Jr`, and the first a name
/// or other letters.
fn is_after_name(word: &Word<'_>, next: &Word<'_>) -> bool {
    let capitals = next.bare.chars().filter(|c| c.is_uppercase()).count();
    let letters = next.is(Kind::Letters) && capitals > 1;
    word.is_name() && (letters || next.is(Kind::Suffix) && next.is_capital())
}

/// Whether a word is a Roman numeral as rulers bear it, from II on.
fn is_numeral(bare: &str) -> bool {
    bare.len() > 1 && bare.chars().all(|c| matches!(c, 'I' | 'V' | 'X'))
}

#[cfg(test)]
mod tests {
    use crate::wording::lexicon::Rule;
    use crate::wording::testing::{loose, tied};

    #[test]
    fn a_title_stays_with_its_article_and_the_name() {
        tied("The Revd Orla", Rule::ArticleOfTitle, &[0]);
        tied("The Revd Orla", Rule::Title, &[1]);
        tied("Mr & Mrs Tarrant", Rule::Title, &[2]);
        tied("Mr & Mrs Tarrant", Rule::Ampersand, &[0, 1]);
        tied("Mr and Mrs Tarrant", Rule::Title, &[0, 1, 2]);
        for text in ["Dr Quillfeather", "SIR BARNABY", "Dame Orla", "Lt Col", "Lady Elowen"] {
            tied(text, Rule::Title, &[0]);
        }
        tied("Mayor Penhallick", Rule::Title, &[0]);
        tied("Brother Barnaby", Rule::Title, &[0]);
    }

    #[test]
    fn a_title_without_a_name_is_a_word_like_others() {
        loose("Mayor of Marrowby", 0);
        loose("a mayor comes", 1);
        loose("MOST RINGERS", 0);
        loose("the Mayor, Orla", 1);
    }

    #[test]
    fn letters_stay_with_the_name() {
        tied("Tarrant OBE", Rule::Letters, &[0]);
        tied("Tarrant, M.A., PhD", Rule::Letters, &[0, 1]);
        tied("Quillfeather FRAS JP", Rule::Letters, &[0, 1]);
        tied("Tarrant Jr", Rule::Letters, &[0]);
        loose("the MA", 0);
        loose("Tarrant. MA", 0);
        loose("dear Ma", 0);
    }

    #[test]
    fn initials_stay_with_each_other_and_the_name() {
        tied("J. R. Tarrant", Rule::Initials, &[0, 1]);
        tied("J R TARRANT", Rule::Initials, &[0, 1]);
        tied("Elowen M. Tarrant", Rule::Initials, &[0, 1]);
        tied("J.R. Tarrant", Rule::Initials, &[0]);
        loose("when I rang", 1);
        loose("in E flat", 0);
        loose("part B. The bells", 1);
    }

    #[test]
    fn a_saint_and_a_numeral_stay_with_their_names() {
        tied("St Brannock", Rule::Saint, &[0]);
        tied("ST. BRANNOCK", Rule::Saint, &[0]);
        tied("Orla II", Rule::Numeral, &[0]);
        loose("a st bell", 1);
        loose("the XI", 0);
    }

    #[test]
    fn capitalised_neighbours_are_taken_for_a_name_in_mixed_case_only() {
        tied("for Barnaby Quillfeather", Rule::ProperName, &[1]);
        loose("MARROWBY VALE", 0);
        loose("Vale, Marrowby", 0);
        loose("For Barnaby", 0);
        loose("the Vale rang", 1);
    }
}
