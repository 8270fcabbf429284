//! What it costs to break a line at a place, by the sense of its words.
//!
//! The rules, their costs and the words they speak of are data: `sense.toml`. They know
//! English function words one by one; wording in other languages is left to the rules
//! that need no list (pauses, numbers, initials, names, the last word).

use super::lexicon::{Kind, Rule};
use super::numbers::is_count;
use super::ties::Ties;
use super::words::{Word, words};

/// A word of fewer letters than this is a short one to stand alone.
const LONG_WORD: usize = 8;

/// The sense cost of a break at each stop of a text; 0 at its ends and at the user's
/// own breaks, which are in every breaking.
pub(super) fn costs(text: &str, stops: &[usize], forced: &[bool]) -> Vec<u32> {
    let words = words(text);
    let ties = ties_of(text, &words);
    let mut costs = vec![0; stops.len()];
    // Where the last row that holds the text before `end` ends: the user's next break.
    let mut end = text.len();
    let mut next = words.len();
    for (index, &at) in stops.iter().enumerate().rev() {
        if at == 0 || at >= text.len() || forced[index] {
            end = at;
            continue;
        }
        while next > 0 && words[next - 1].from >= at {
            next -= 1;
        }
        let Some(before) = next.checked_sub(1) else { continue };
        let words_on = words[next..].iter().take(2).take_while(|word| word.from < end).count();
        costs[index] = if words[before].to > at {
            // What is left of the word stands alone unless words follow.
            let rule = inside(&words[before], at);
            let alone =
                words_on == 0 && matches!(rule, Rule::Hyphen | Rule::Counted | Rule::Divided);
            let rest = &text[at..words[before].to];
            rule.cost() + if alone { of_alone(rest) } else { 0 }
        } else {
            let alone = words_on == 1;
            between(&words, &ties, before).cost()
                + if alone { of_alone(words[next].bare) } else { 0 }
        };
    }
    costs
}

/// The ties between the words of a text.
pub(super) fn ties_of(text: &str, words: &[Word<'_>]) -> Ties {
    Ties::of(words, text.chars().any(char::is_lowercase))
}

/// The rule that says what a break between a word and the next costs.
fn between(words: &[Word<'_>], ties: &Ties, at: usize) -> Rule {
    let [word, next, ..] = &words[at..] else { return Rule::Elsewhere };
    if let Some(tie) = ties.after(at) {
        return tie;
    }
    if word.pause || word.is_spaced_mark() {
        return Rule::Pause;
    }
    if next.opens() {
        return Rule::Bracket;
    }
    let dated = ties.after(at + 1) == Some(Rule::Date);
    leaning(word, next).or(dated.then_some(Rule::BeforeDate)).unwrap_or_else(|| opening(next))
}

/// The rule about a word that leans on the next one.
fn leaning(word: &Word<'_>, next: &Word<'_>) -> Option<Rule> {
    let stands_alone = word.is(Kind::Pronoun) && next.is_function();
    // The dearest first.
    let rules = [
        (Kind::Article, Rule::Article),
        (Kind::Of, Rule::Joining),
        (Kind::Joining, Rule::Joining),
        (Kind::Determiner, Rule::Determiner),
        (Kind::Relative, Rule::Relative),
        (Kind::Helper, Rule::Helper),
    ];
    let leans = rules.into_iter().find(|&(kind, _)| word.is(kind));
    leans.map(|(_, rule)| rule).filter(|_| !stands_alone)
}

/// The rule about a word that opens a row well.
fn opening(next: &Word<'_>) -> Rule {
    // The cheapest first.
    let rules = [
        (Kind::Relative, Rule::Clause),
        (Kind::Giving, Rule::Clause),
        (Kind::Joining, Rule::BeforeJoining),
        (Kind::Of, Rule::BeforeOf),
        (Kind::Article, Rule::BeforeArticle),
        (Kind::Determiner, Rule::BeforeArticle),
        (Kind::Count, Rule::BeforeArticle),
        (Kind::Helper, Rule::BeforeHelper),
    ];
    let opens = rules.into_iter().find(|&(kind, _)| next.is(kind));
    opens.map_or(Rule::Elsewhere, |(_, rule)| rule)
}

/// The rule about a break inside a word, before byte `at` of the text.
fn inside(word: &Word<'_>, at: usize) -> Rule {
    let (left, right) = word.text.split_at(at - word.from);
    match (left.chars().next_back(), right.chars().next()) {
        (Some('\u{AD}'), _) => Rule::Divided,
        (_, Some('—')) => Rule::Mark,
        (Some('—'), _) => Rule::Pause,
        (Some('–' | '-' | '/'), Some(after)) if after.is_numeric() => Rule::Number,
        (Some('-'), _) if is_count(word) => Rule::Counted,
        (Some('-' | '\u{2010}' | '\u{2012}' | '–' | '/'), _) => Rule::Hyphen,
        _ => Rule::Elsewhere,
    }
}

/// What it costs that a word stands alone in the last row.
fn of_alone(word: &str) -> u32 {
    let short = word.chars().filter(|c| c.is_alphanumeric()).count() < LONG_WORD;
    if short { Rule::WordAlone.cost() } else { Rule::LongWordAlone.cost() }
}

#[cfg(test)]
mod tests {
    use crate::layout::{Hyphens, Line};
    use crate::wording::lexicon::Rule;
    use crate::wording::marks;
    use crate::wording::testing::{costs, line};

    const PAUSE: &[Rule] = &[Rule::Pause];

    /// Asserts what a break at each `|` of a text costs, by rules that add up.
    fn at_bars(text: &str, expected: &[&[Rule]]) {
        let plain: String = text.split('|').collect();
        let mut at = 0;
        let mut bars = Vec::new();
        for part in text.split('|') {
            at += part.len();
            bars.push(at);
        }
        bars.pop();
        assert_eq!(bars.len(), expected.len(), "{text}");
        let found = costs(&plain);
        for (bar, rules) in bars.into_iter().zip(expected) {
            let cost: u32 = rules.iter().map(|rule| rule.cost()).sum();
            let place = found.iter().find(|&&(at, _)| at == bar).map(|&(_, cost)| cost);
            assert_eq!(place, Some(cost), "{text}: after {:?}", &plain[..bar]);
        }
    }

    #[test]
    fn a_pause_is_the_best_place() {
        at_bars("Marrowby Vale, |silent since", &[&[Rule::Pause]]);
        at_bars("Sit; |listen: |the bells – |all eight", &[PAUSE; 3]);
        at_bars("the ringers |(all eight)", &[&[Rule::Bracket]]);
        at_bars("the Revd. |J. Tarrant was", &[&[Rule::Title]]);
    }

    #[test]
    fn little_words_open_a_row_and_do_not_end_one() {
        at_bars("the ringers |of |Marrowby Vale", &[&[Rule::BeforeOf], &[Rule::Joining]]);
        at_bars(
            "her family |and |her |band too",
            &[&[Rule::BeforeJoining], &[Rule::Joining], &[Rule::Determiner]],
        );
        at_bars(
            "Barnaby |who |rang |the |third bell",
            &[&[Rule::Clause], &[Rule::Relative], &[Rule::BeforeArticle], &[Rule::Article]],
        );
        at_bars("this cup |given |by all of us", &[&[Rule::Clause], &[Rule::BeforeJoining]]);
        at_bars("never |once |late at all", &[&[Rule::Helper], &[Rule::Elsewhere]]);
        at_bars(
            "TO |THE |GLORY |OF |GOD ALONE",
            &[&[Rule::Joining], &[Rule::Article], &[Rule::BeforeOf], &[Rule::Joining]],
        );
    }

    #[test]
    fn a_date_and_what_is_told_open_a_row() {
        at_bars("tower captain |18 July 2094", &[&[Rule::BeforeDate]]);
        at_bars("on |18 July 2094", &[&[Rule::Joining]]);
        at_bars("The dome |was given to us", &[&[Rule::BeforeHelper]]);
        at_bars("rang |eight bells", &[&[Rule::BeforeArticle]]);
    }

    #[test]
    fn a_pronoun_before_a_little_word_is_free() {
        at_bars("ring her |with great respect", &[&[Rule::BeforeJoining]]);
        at_bars("ring her |bell with respect", &[&[Rule::Determiner]]);
    }

    #[test]
    fn words_of_other_languages_are_left_alone() {
        let rules: [&[Rule]; 2] = [&[Rule::Elsewhere], &[Rule::Elsewhere]];
        at_bars("zum Gedenken |der Glocken |unserer Kirche", &rules);
        at_bars("a la memoria |de todos", &[&[Rule::Elsewhere]]);
    }

    #[test]
    fn a_word_alone_in_the_last_row_costs_more_and_a_short_one_most() {
        at_bars("she rang |well here", &[&[Rule::Elsewhere]]);
        at_bars("she rang |well", &[&[Rule::Elsewhere, Rule::WordAlone]]);
        at_bars("she rang |cheerfully", &[&[Rule::Elsewhere, Rule::LongWordAlone]]);
        at_bars("every |“eight”.", &[&[Rule::Determiner, Rule::WordAlone]]);
    }

    #[test]
    fn the_row_before_a_users_break_is_a_last_row_too() {
        at_bars("she rang |well\nfor all of us", &[&[Rule::Elsewhere, Rule::WordAlone]]);
    }

    #[test]
    fn a_users_break_and_the_ends_cost_nothing() {
        let found = costs("rang the\nbells");
        assert_eq!(found, [(0, 0), (5, found[1].1), (9, 0), (14, 0)]);
        assert!(found[1].1 > 0);
        assert_eq!(costs(""), [(0, 0)]);
        assert_eq!(costs(" "), [(0, 0), (1, 0)]);
    }

    #[test]
    fn a_word_is_divided_last_of_all_that_is_not_tied() {
        at_bars("the sub-|tenor rang", &[&[Rule::Hyphen]]);
        at_bars("the sub-|tenor", &[&[Rule::Hyphen, Rule::WordAlone]]);
        at_bars("in 1976–|2026 she", &[&[Rule::Number]]);
        at_bars("forty-|one years", &[&[Rule::Counted]]);
        at_bars("bells—|all eight", &[&[Rule::Pause]]);
        at_bars("Bell\u{200B}|tower", &[&[Rule::Elsewhere]]);
    }

    #[test]
    fn dividing_a_word_outweighs_every_break_between_words() {
        let text = "observa\u{AD}tory hill";
        let line = Line { hyphens: Hyphens::AtSoftHyphens, ..line(text, &[]) };
        let found = marks(&line);
        assert_eq!((found.stops[1], found.costs[1]), (9, Rule::Divided.cost()));
        let alone = marks(&Line { text: "observa\u{AD}tory".to_owned(), ..line });
        assert_eq!(alone.costs[1], Rule::Divided.cost() + Rule::WordAlone.cost());
        let dearest = [Rule::Date, Rule::Number, Rule::Title, Rule::Hyphen, Rule::ProperName];
        let dearest = dearest.iter().map(|rule| rule.cost()).max();
        assert!(dearest.is_some_and(|cost| cost + Rule::WordAlone.cost() < Rule::Divided.cost()));
    }

    #[test]
    fn a_dash_or_point_stays_with_what_precedes_it() {
        at_bars("Vale |– |ringers all", &[&[Rule::Mark], &[Rule::Pause]]);
        at_bars("MARROWBY |· |VALE TOWER", &[&[Rule::Mark], &[Rule::Pause]]);
        at_bars("bells |& |ropes too", &[&[Rule::Ampersand], &[Rule::Ampersand]]);
    }
}
