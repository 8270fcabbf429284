//! A table of the file, with what was asked of it remembered, so that whatever is left
//! can be told as unknown.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::notes::{MOST_TOLD, Notes};
use super::value::{Entry, Within};
use crate::layout::Named;
use crate::layout::diagnostic::{nearest, quoted};

/// One table of the file.
pub(in crate::layout) struct Table<'t> {
    /// Dotted path, empty for the file itself; `line.2` for the second `[[line]]`.
    pub(in crate::layout) path: String,
    /// Where it stands: its header, its braces, or the file's first line.
    pub(in crate::layout) span: Range<usize>,
    entries: &'t DeTable<'t>,
    asked: Vec<&'static str>,
}

impl<'t> Table<'t> {
    /// The file itself.
    pub(in crate::layout) fn root(entries: &'t Spanned<DeTable<'t>>) -> Self {
        Self::new(String::new(), 0..0, entries.get_ref())
    }

    pub(super) fn new(path: String, span: Range<usize>, entries: &'t DeTable<'t>) -> Self {
        Self { path, span, entries, asked: Vec::new() }
    }

    /// How messages speak of it, with a preposition: ` in [plate]`; nothing for the file.
    fn place(&self) -> String {
        match self.path.split_once('.') {
            None if self.path.is_empty() => String::new(),
            None => format!(" in [{}]", self.path),
            Some(("line", number)) if !number.contains('.') => format!(" in line {number}"),
            Some(_) => format!(" in `{}`", self.path),
        }
    }

    fn join(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }

    /// Whether a key is there, rightly or wrongly filled.
    pub(in crate::layout) fn has(&self, name: &str) -> bool {
        self.entries.contains_key(name)
    }

    /// A key's value, if it is there; remembers that it was asked for and where it stands.
    pub(in crate::layout) fn take(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
    ) -> Option<Entry<'t>> {
        if !self.asked.contains(&name) {
            self.asked.push(name);
        }
        let (key, value) = self.entries.get_key_value(name)?;
        let entry = Entry {
            path: self.join(name),
            key: key.span(),
            span: value.span(),
            value: value.get_ref(),
        };
        // A dotted key makes its table without a header; its own place is the key's.
        let span = if entry.span.is_empty() { entry.key.clone() } else { entry.span.clone() };
        notes.keys.insert(entry.path.clone(), span.clone());
        Some(Entry { span, ..entry })
    }

    /// A key that must be there; the example is what to write.
    pub(in crate::layout) fn need(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
        example: &str,
    ) -> Option<Entry<'t>> {
        let entry = self.take(notes, name);
        if entry.is_none() {
            let message = format!("`{name}` is missing{}", self.place());
            notes.missing(&self.join(name), &self.span, message, format!("write {example}"));
        }
        entry
    }

    /// Tells every key that was never asked for.
    pub(in crate::layout) fn finish(self, notes: &mut Notes<'_>) {
        let mut unknown: Vec<_> = self
            .entries
            .keys()
            .filter(|key| !self.asked.contains(&key.get_ref().as_ref()))
            .collect();
        unknown.sort_by_key(|key| key.span().start);
        notes.count_more(unknown.len().saturating_sub(MOST_TOLD));
        for key in unknown.into_iter().take(MOST_TOLD) {
            let name = key.get_ref().as_ref();
            let help = match nearest(name, self.asked.iter().copied()) {
                Some(word) => {
                    notes.misspelt(&self.join(word));
                    format!("did you mean `{word}`?")
                }
                None => format!("the keys here are: {}", self.asked.join(", ")),
            };
            let message = format!("unknown key {}{}", quoted(name), self.place());
            notes.wrong(&key.span(), message, help);
        }
    }

    /// Two keys that cannot both stand: tells it at the second, if both are there.
    pub(in crate::layout) fn contradiction(
        &self,
        notes: &mut Notes<'_>,
        first: &str,
        second: &str,
        why: &str,
    ) {
        if self.has(first)
            && let Some((_, value)) = self.entries.get_key_value(second)
        {
            let message = format!("`{second}` contradicts `{first}`{}", self.place());
            notes.wrong(&value.span(), message, why);
        }
    }

    // What follows takes a key and reads its value in one go: `None` where the key is
    // absent and where it is wrong, which is then noted.

    pub(in crate::layout) fn note(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
    ) -> Option<String> {
        let entry = self.take(notes, name)?;
        notes.note(&entry)
    }

    pub(in crate::layout) fn length(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
        within: Within,
    ) -> Option<f64> {
        let entry = self.take(notes, name)?;
        notes.length(&entry, within)
    }

    pub(in crate::layout) fn number(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
        within: Within,
    ) -> Option<f64> {
        let entry = self.take(notes, name)?;
        notes.number(&entry, within)
    }

    pub(in crate::layout) fn whole(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
        least: u32,
        most: u32,
    ) -> Option<u32> {
        let entry = self.take(notes, name)?;
        notes.whole(&entry, least, most)
    }

    pub(in crate::layout) fn word<T: Named>(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
    ) -> Option<T> {
        let entry = self.take(notes, name)?;
        notes.word(&entry)
    }

    pub(in crate::layout) fn table(
        &mut self,
        notes: &mut Notes<'_>,
        name: &'static str,
    ) -> Option<Self> {
        let entry = self.take(notes, name)?;
        notes.table(&entry)
    }
}

/// What kind of value it is, as messages call it.
pub(super) fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
