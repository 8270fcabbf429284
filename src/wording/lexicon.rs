//! The rules and the words they speak of, from `sense.toml`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// A rule about a place to break. What each says stands in `sense.toml`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Rule {
    Date,
    Number,
    Title,
    Initials,
    Letters,
    Numeral,
    Saint,
    Ampersand,
    Mark,
    Note,
    ArticleOfTitle,
    Counted,
    Pause,
    Bracket,
    Clause,
    BeforeDate,
    BeforeJoining,
    BeforeOf,
    BeforeArticle,
    BeforeHelper,
    Elsewhere,
    Helper,
    Relative,
    Determiner,
    Joining,
    Article,
    ProperName,
    Hyphen,
    Divided,
    LongWordAlone,
    WordAlone,
}

impl Rule {
    /// What a break costs by this rule.
    pub(super) fn cost(self) -> u32 {
        TABLE.costs.get(&self).copied().unwrap_or(0)
    }
}

/// A kind of word that a rule speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Kind {
    Article,
    Of,
    Joining,
    Relative,
    Giving,
    Determiner,
    /// A determiner that may also stand for a thing.
    Pronoun,
    Helper,
    Title,
    /// A title that is a common word too.
    TitleOrWord,
    Letters,
    Suffix,
    Saint,
    Month,
    Weekday,
    BeforeYear,
    Era,
    Label,
    Unit,
    Count,
    /// Part of a hyphened count, none alone.
    CountPart,
    Accidental,
    Abbreviation,
}

/// A set of kinds.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Kinds(u32);

impl Kinds {
    /// Whether a kind is among them.
    pub(super) fn has(self, kind: Kind) -> bool {
        self.0 & Self::only(kind).0 != 0
    }

    const fn only(kind: Kind) -> Self {
        Self(1 << kind as u32)
    }
}

/// The kinds of a word, whatever its case and without its stops.
pub(super) fn kinds(word: &str) -> Kinds {
    let letters = || word.chars().filter(|c| !matches!(c, '.' | '\u{AD}'));
    // Longer than any word of the list: not worth a copy in lower case.
    if letters().take(TABLE.longest + 1).count() > TABLE.longest {
        return Kinds::default();
    }
    let key: String = letters().collect::<String>().to_lowercase();
    TABLE.kinds.get(&key).copied().unwrap_or_default()
}

struct Table {
    costs: BTreeMap<Rule, u32>,
    kinds: BTreeMap<String, Kinds>,
    /// Characters of the longest word.
    longest: usize,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    rule: Vec<RuleRow>,
    words: Vec<WordsRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleRow {
    name: Rule,
    cost: u32,
    #[serde(rename = "says")]
    _says: String,
    #[serde(rename = "ground")]
    _ground: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WordsRow {
    kind: Kind,
    list: String,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    let typed: Typed = toml::from_str(include_str!("sense.toml"))
        .expect("the table is part of the program and a test reads it");
    let costs = typed.rule.iter().map(|row| (row.name, row.cost)).collect();
    let mut kinds: BTreeMap<String, Kinds> = BTreeMap::new();
    for row in &typed.words {
        for word in row.list.split_whitespace() {
            kinds.entry(word.to_owned()).or_default().0 |= Kinds::only(row.kind).0;
        }
    }
    let longest = kinds.keys().map(|word| word.chars().count()).max().unwrap_or(0);
    Table { costs, kinds, longest }
});

#[cfg(test)]
mod tests {
    use super::{Kind, Rule, TABLE, Typed, kinds};

    #[test]
    fn every_rule_has_one_row_with_what_it_says_and_its_ground() {
        let typed: Typed = toml::from_str(include_str!("sense.toml")).expect("a table");
        // `WordAlone` is the last of the rules.
        assert_eq!(typed.rule.len(), Rule::WordAlone as usize + 1);
        assert_eq!(TABLE.costs.len(), typed.rule.len());
        for row in &typed.rule {
            assert!(!row._says.is_empty() && !row._ground.is_empty(), "{:?}", row.name);
        }
    }

    /// What the head of the table says of the steps between costs.
    #[test]
    fn the_steps_between_costs_are_as_the_table_says() {
        let together = Rule::Date.cost();
        assert!(together >= 10 * Rule::Joining.cost());
        assert!(Rule::WordAlone.cost() >= 5 * Rule::Article.cost());
        assert!(together >= 2 * Rule::WordAlone.cost());
        assert!(Rule::Helper.cost() > Rule::Elsewhere.cost());
        assert!(Rule::Counted.cost() > 2 * Rule::Hyphen.cost());
    }

    #[test]
    fn words_are_known_whatever_their_case_and_stops() {
        assert!(kinds("THE").has(Kind::Article));
        assert!(kinds("Ph.D").has(Kind::Letters));
        assert!(kinds("May").has(Kind::Month) && kinds("May").has(Kind::Helper));
        // A stop or a soft hyphen after every letter counts for nothing.
        for (word, kind) in [("Wednesday", Kind::Weekday), ("September", Kind::Month)] {
            for mark in ["\u{AD}", ".", "\u{AD}\u{AD}."] {
                let marked: String = word.chars().map(|letter| format!("{letter}{mark}")).collect();
                assert!(kinds(&marked).has(kind), "{marked:?}");
            }
        }
        assert_eq!(kinds("bell-ringers"), super::Kinds::default());
        assert_eq!(kinds(""), super::Kinds::default());
    }

    #[test]
    fn lists_are_in_lower_case_without_stops() {
        for word in TABLE.kinds.keys() {
            assert!(word.chars().all(|c| c.is_lowercase()), "{word}");
        }
    }
}
