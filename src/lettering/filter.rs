//! Choosing among the shipped lettering by what a customer says of it.

use super::{Catalogue, Entry, Family, Figures, SmallCapitals};
use crate::layout::{Axis, Named};

/// Scripts with their ISO 15924 codes and plain names.
const SCRIPTS: [(&str, &str); 6] = [
    ("Latn", "Latin"),
    ("Grek", "Greek"),
    ("Cyrl", "Cyrillic"),
    ("Hebr", "Hebrew"),
    ("Arab", "Arabic"),
    ("Deva", "Devanagari"),
];

/// Words that a look is spoken of in but that tell nothing alone.
const EMPTY_WORDS: [&str; 3] = ["old", "small", "true"];

/// The plain name of a script; its code where it is none of those shipped.
#[must_use]
pub fn script_name(code: &str) -> &str {
    SCRIPTS.iter().find(|(known, _)| *known == code).map_or(code, |(_, name)| name)
}

/// What a lettering must be like; an empty filter takes all.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Filter {
    /// Words for its look, each of which must hold.
    pub look: Vec<String>,
    /// ISO 15924 codes, each of which it must cover.
    pub scripts: Vec<&'static str>,
    /// Axes that a layout must be able to set.
    pub axes: Vec<Axis>,
    /// Whether it must have small capitals drawn as such.
    pub small_capitals: bool,
    /// Styles of figures that it must offer.
    pub figures: Vec<Figures>,
}

/// A word that no lettering is spoken of in, with the nearest that one is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownWord {
    /// The word as written.
    pub word: String,
    /// The nearest known one, where one is near.
    pub nearest: Option<String>,
    /// All known ones.
    pub known: Vec<String>,
}

impl Filter {
    /// Asks for a word of look: one that some family is spoken of in, in any case.
    ///
    /// # Errors
    /// A word of no family, with the nearest.
    pub fn with_look(&mut self, catalogue: &Catalogue, word: &str) -> Result<(), UnknownWord> {
        let plain = word.trim().to_lowercase();
        if !plain.is_empty() && catalogue.families.iter().any(|family| looks(family, &plain)) {
            self.look.push(plain);
            return Ok(());
        }
        let mut known: Vec<String> = Vec::new();
        for family in &catalogue.families {
            known.extend(family.look.iter().map(|look| look.to_lowercase()));
            known.extend(family.look.iter().flat_map(|look| words(look)));
        }
        known.retain(|word| !EMPTY_WORDS.contains(&word.as_str()));
        known.sort();
        known.dedup();
        Err(unknown(word, known))
    }

    /// Asks for a script by its plain name or ISO 15924 code, in any case.
    ///
    /// # Errors
    /// A script that no shipped lettering covers, with the nearest that one does.
    pub fn with_script(&mut self, script: &str) -> Result<(), UnknownWord> {
        let same = |name: &str| name.eq_ignore_ascii_case(script.trim());
        let found = SCRIPTS.iter().find(|(code, name)| same(code) || same(name));
        let Some((code, _)) = found else {
            let known = SCRIPTS.iter().map(|(_, name)| name.to_lowercase()).collect();
            return Err(unknown(script, known));
        };
        self.scripts.push(code);
        Ok(())
    }

    /// Asks for an axis: `weight`, `width` or `optical size`.
    ///
    /// # Errors
    /// Another word, with the nearest.
    pub fn with_axis(&mut self, axis: &str) -> Result<(), UnknownWord> {
        let plain = axis.trim().replace(['-', '_'], " ");
        let found = Axis::ALL.into_iter().find(|axis| axis.name().eq_ignore_ascii_case(&plain));
        self.axes.push(found.ok_or_else(|| {
            unknown(axis, Axis::ALL.iter().map(|axis| axis.name().to_owned()).collect())
        })?);
        Ok(())
    }

    /// Asks for a style of figures, such as `old-style`.
    ///
    /// # Errors
    /// Another word, with the nearest.
    pub fn with_figures(&mut self, figures: &str) -> Result<(), UnknownWord> {
        let plain = figures.trim().to_lowercase().replace([' ', '_'], "-");
        let found = Figures::ALL.iter().find(|(word, _)| *word == plain);
        let (_, style) = found.ok_or_else(|| {
            unknown(figures, Figures::ALL.iter().map(|(word, _)| (*word).to_owned()).collect())
        })?;
        self.figures.push(*style);
        Ok(())
    }

    /// Whether a family is like this.
    #[must_use]
    pub fn takes(&self, family: &Family) -> bool {
        // Lining figures are the usual ones of every shipped family.
        let has = |style: &Figures| *style == Figures::Lining || family.figures.contains(style);
        self.look.iter().all(|word| looks(family, word))
            && self.scripts.iter().all(|code| family.has_script(code))
            && self.axes.iter().all(|axis| family.axis(*axis).is_some())
            && (!self.small_capitals || family.small_capitals != SmallCapitals::None)
            && self.figures.iter().all(has)
    }

    /// The letterings that are like this, as they are shown: by group, then as listed.
    #[must_use]
    pub fn entries<'c>(&self, catalogue: &'c Catalogue) -> Vec<&'c Entry> {
        let taken = |entry: &&Entry| catalogue.family(entry).is_some_and(|f| self.takes(f));
        catalogue.shown().into_iter().filter(taken).collect()
    }
}

/// Whether a family is spoken of in a word or phrase (in lower case). What has no serifs
/// is none of those with serifs, though the word stands in its name.
fn looks(family: &Family, word: &str) -> bool {
    let said = |look: &String| {
        let look = look.to_lowercase();
        let sans = look == "sans serif" && word == "serif";
        look == word || (!sans && words(&look).any(|part| part == word))
    };
    family.group.word() == word || family.look.iter().any(said)
}

fn words(look: &str) -> impl Iterator<Item = String> {
    look.split([' ', ',']).filter(|word| !word.is_empty()).map(str::to_lowercase)
}

/// At most `1 + length / 4` slips, as everywhere.
fn unknown(word: &str, known: Vec<String>) -> UnknownWord {
    let plain: String = word.to_lowercase().chars().take(50).collect();
    let slips = |known: &String| strsim::damerau_levenshtein(&plain, &known.to_lowercase());
    let near = known.iter().min_by_key(|word| slips(word));
    let nearest = near.filter(|near| slips(near) <= 1 + plain.chars().count() / 4).cloned();
    UnknownWord { word: word.to_owned(), nearest, known }
}

#[cfg(test)]
mod tests {
    use super::Filter;
    use crate::lettering::catalogue;

    fn families(filter: &Filter) -> Vec<&'static str> {
        let list = catalogue();
        let mut names: Vec<&str> = filter
            .entries(list)
            .iter()
            .filter_map(|entry| list.family(entry))
            .map(|family| family.name.as_str())
            .collect();
        names.dedup();
        names
    }

    fn look(word: &str) -> Vec<&'static str> {
        let mut filter = Filter::default();
        filter.with_look(catalogue(), word).unwrap();
        families(&filter)
    }

    #[test]
    fn a_word_of_look_finds_the_families_that_are_spoken_of_so() {
        assert_eq!(look("script"), ["Great Vibes", "Pinyon Script", "Yellowtail", "EMS Allure"]);
        assert_eq!(
            look("single-stroke"),
            ["EMS Readability", "EMS Nixish", "EMS Allure", "Hershey Sans"]
        );
        assert_eq!(look("Celtic"), ["Berenika"]);
        assert_eq!(look("brush script"), ["Yellowtail"]);
        let serif = look("serif");
        assert!(serif.contains(&"EB Garamond") && !serif.contains(&"Archivo"), "{serif:?}");
        assert!(look("sans").contains(&"Archivo") && look("sans serif").contains(&"Jost"));
    }

    #[test]
    fn scripts_axes_and_features_narrow_the_list() {
        let mut filter = Filter::default();
        filter.with_script("greek").unwrap();
        filter.with_script("Cyrl").unwrap();
        assert_eq!(families(&filter), ["EB Garamond", "Roboto Slab", "Roboto"]);
        filter.with_axis("width").unwrap();
        assert_eq!(families(&filter), ["Roboto"]);
        let mut filter = Filter { small_capitals: true, ..Filter::default() };
        assert_eq!(
            families(&filter),
            ["Cinzel", "EB Garamond", "Bodoni Moda", "Roboto Slab", "Roboto"]
        );
        filter.with_figures("old-style").unwrap();
        assert_eq!(families(&filter), ["Cinzel", "EB Garamond", "Bodoni Moda", "Roboto"]);
    }

    #[test]
    fn a_word_of_nothing_is_answered_with_the_nearest() {
        let mut filter = Filter::default();
        let near = |told: Result<(), super::UnknownWord>| told.unwrap_err().nearest;
        assert_eq!(near(filter.with_look(catalogue(), "scritp")).as_deref(), Some("script"));
        assert_eq!(near(filter.with_look(catalogue(), "")), None);
        assert_eq!(near(filter.with_script("greak")).as_deref(), Some("greek"));
        assert_eq!(near(filter.with_axis("widht")).as_deref(), Some("width"));
        assert_eq!(near(filter.with_figures("oldstyle")).as_deref(), Some("old-style"));
        assert_eq!(near(filter.with_script("zzzzzzzz")), None);
        assert_eq!(filter, Filter::default());
    }

    #[test]
    fn groups_stand_in_their_order() {
        let list = catalogue();
        let shown = list.shown();
        let groups: Vec<_> = shown.iter().map(|entry| list.family(entry).unwrap().group).collect();
        assert!(groups.is_sorted() && shown.len() == list.entries.len());
    }
}
