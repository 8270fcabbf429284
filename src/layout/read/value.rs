//! One value of the file, read as what it should be.

use std::ops::Range;

use toml::de::DeValue;

use super::notes::Notes;
use super::table::{Table, kind};
use super::words::check_printable;
use crate::layout::Named;
use crate::layout::diagnostic::{every_choice, quoted};
use crate::units::digits::trimmed;
use crate::units::{Length, LengthError, Unit};

/// Most characters of a note that is printed beside the plaque, such as the client's
/// name; longer ones belong in a letter.
pub(in crate::layout) const LONGEST_NOTE: usize = 500;

/// Most entries of a list other than that of the lines; no plaque needs more.
pub(in crate::layout) const LONGEST_LIST: usize = 200;

/// A value with its place.
pub(in crate::layout) struct Entry<'t> {
    /// Dotted path of its key.
    pub(in crate::layout) path: String,
    /// Where its key stands.
    pub(in crate::layout) key: Range<usize>,
    /// Where it stands itself.
    pub(in crate::layout) span: Range<usize>,
    /// The value.
    pub(in crate::layout) value: &'t DeValue<'t>,
}

/// Least and greatest value allowed, both included.
#[derive(Debug, Clone, Copy)]
pub(in crate::layout) struct Within {
    /// Least.
    pub(in crate::layout) least: f64,
    /// Greatest.
    pub(in crate::layout) most: f64,
}

impl Within {
    pub(in crate::layout) const fn new(least: f64, most: f64) -> Self {
        Self { least, most }
    }

    pub(super) fn holds(self, value: f64) -> bool {
        value >= self.least && value <= self.most
    }

    /// The bounds in words.
    pub(in crate::layout) fn told(self, unit: &str) -> String {
        format!("it may be {}{unit} to {}{unit}", trimmed(self.least, 3), trimmed(self.most, 3))
    }
}

impl<'s> Notes<'s> {
    pub(super) fn of_kind(&mut self, entry: &Entry<'_>, wanted: &str, help: impl Into<String>) {
        let message = format!("`{}` must be {wanted}, not {}", entry.path, kind(entry.value));
        self.wrong(&entry.span, message, help);
    }

    /// A text as it stands.
    pub(in crate::layout) fn text<'t>(&mut self, entry: &Entry<'t>) -> Option<&'t str> {
        if let DeValue::String(text) = entry.value {
            return Some(text.as_ref());
        }
        let help = match entry.value {
            DeValue::Integer(n) => format!("put it in quotes: \"{n}\""),
            DeValue::Float(n) => format!("put it in quotes: \"{n}\""),
            _ => "write it in quotes".to_owned(),
        };
        self.of_kind(entry, "text in quotes", help);
        None
    }

    /// A text that is printed on the sheets in one line: something to see, nothing
    /// that cannot be printed, not too long.
    pub(in crate::layout) fn note(&mut self, entry: &Entry<'_>) -> Option<String> {
        let text = self.text(entry)?;
        if text.trim().is_empty() {
            self.wrong(
                &entry.span,
                format!("`{}` is empty", entry.path),
                "fill it in or leave it out",
            );
            return None;
        }
        if text.chars().nth(LONGEST_NOTE).is_some() {
            let message = format!("`{}` is longer than {LONGEST_NOTE} characters", entry.path);
            self.wrong(&entry.span, message, "shorten it: it is printed in one place of a sheet");
            return None;
        }
        if let Some((_, problem)) = check_printable(text).first() {
            let message = format!("`{}` holds {problem}", entry.path);
            self.wrong(&entry.span, message, "write it in one line of plain text");
            return None;
        }
        Some(text.to_owned())
    }

    /// A length in mm within bounds given in mm.
    pub(in crate::layout) fn length(&mut self, entry: &Entry<'_>, within: Within) -> Option<f64> {
        let typed = self.with_unit(entry)?;
        let length = self.parsed(entry, Length::parse(typed))?;
        self.bounded(entry, typed, length, within)
    }

    /// A width and a height in mm, both within bounds given in mm.
    pub(in crate::layout) fn size(
        &mut self,
        entry: &Entry<'_>,
        within: Within,
    ) -> Option<(f64, f64)> {
        let typed = self.with_unit(entry)?;
        let (width, height) = self.parsed(entry, Length::parse_size(typed))?;
        let width = self.bounded(entry, typed, width, within)?;
        let height = self.bounded(entry, typed, height, within)?;
        Some((width, height))
    }

    /// The text of a length; a bare number is told as such.
    fn with_unit<'t>(&mut self, entry: &Entry<'t>) -> Option<&'t str> {
        let number = match entry.value {
            DeValue::String(text) => return Some(text.as_ref()),
            DeValue::Integer(n) => n.to_string(),
            DeValue::Float(n) => n.to_string(),
            _ => {
                let example = "write a number and its unit in quotes, such as \"12 mm\"";
                self.of_kind(entry, "a length", example);
                return None;
            }
        };
        let number = quoted(&number);
        let help = format!("write \"{} mm\" (or cm, or in)", number.trim_matches('`'));
        self.wrong(&entry.span, format!("{number} has no unit"), help);
        None
    }

    fn parsed<T>(&mut self, entry: &Entry<'_>, length: Result<T, LengthError>) -> Option<T> {
        length.map_err(|error| self.wrong(&entry.span, error.message, error.help)).ok()
    }

    fn bounded(
        &mut self,
        entry: &Entry<'_>,
        typed: &str,
        length: Length,
        within: Within,
    ) -> Option<f64> {
        self.inch_lead += if length.unit == Unit::Inch { 1 } else { -1 };
        if within.holds(length.mm) {
            return Some(length.mm);
        }
        self.out_of_range(entry, typed, within.told(" mm"));
        None
    }

    fn out_of_range(&mut self, entry: &Entry<'_>, typed: &str, help: String) {
        let message = format!("`{}` cannot be {}", entry.path, quoted(typed));
        self.wrong(&entry.span, message, help);
    }

    /// A number without a unit.
    pub(in crate::layout) fn number(&mut self, entry: &Entry<'_>, within: Within) -> Option<f64> {
        let (typed, value) = match entry.value {
            DeValue::Integer(n) => (n.to_string(), integer(n.as_str(), n.radix())),
            DeValue::Float(n) => (n.to_string(), n.as_str().parse::<f64>().ok()),
            _ => {
                self.of_kind(entry, "a number without quotes", within.told(""));
                return None;
            }
        };
        let value = value.filter(|value| within.holds(*value));
        if value.is_none() {
            self.out_of_range(entry, &typed, within.told(""));
        }
        value
    }

    /// A whole number.
    pub(in crate::layout) fn whole(
        &mut self,
        entry: &Entry<'_>,
        least: u32,
        most: u32,
    ) -> Option<u32> {
        let to = if most == least + 1 { "or" } else { "to" };
        let help = format!("it may be {least} {to} {most}");
        let DeValue::Integer(n) = entry.value else {
            self.of_kind(entry, "a whole number without quotes", help);
            return None;
        };
        let value = u32::from_str_radix(n.as_str(), n.radix()).ok();
        let value = value.filter(|value| (least..=most).contains(value));
        if value.is_none() {
            self.out_of_range(entry, &n.to_string(), help);
        }
        value
    }

    /// Yes or no.
    pub(in crate::layout) fn truth(&mut self, entry: &Entry<'_>) -> Option<bool> {
        if let DeValue::Boolean(value) = entry.value {
            return Some(*value);
        }
        self.of_kind(entry, "true or false without quotes", "write true or false");
        None
    }

    /// A share such as `"90 %"`, as a number from above 0 to 1.
    pub(in crate::layout) fn percent(&mut self, entry: &Entry<'_>) -> Option<f64> {
        let help = "write a percentage in quotes, \"1 %\" to \"100 %\"";
        let DeValue::String(text) = entry.value else {
            self.of_kind(entry, "a percentage", help);
            return None;
        };
        let number = text.trim().strip_suffix('%').map(|n| n.trim().replace(',', "."));
        let plain = |n: &String| n.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        let value = number.filter(plain).and_then(|n| n.parse::<f64>().ok());
        let value = value.filter(|value| Within::new(1.0, 100.0).holds(*value));
        if value.is_none() {
            self.out_of_range(entry, text, help.to_owned());
        }
        value.map(|percent| percent / 100.0)
    }

    /// One of a closed list of words.
    pub(in crate::layout) fn word<T: Named>(&mut self, entry: &Entry<'_>) -> Option<T> {
        let words: Vec<&str> = T::ALL.iter().map(|(word, _)| *word).collect();
        let typed = self.text(entry)?;
        let found = T::ALL.iter().find(|(word, _)| *word == typed).map(|(_, value)| *value);
        if found.is_none() {
            self.out_of_range(entry, typed, every_choice(typed, &words));
        }
        found
    }

    /// A table in braces or under a header.
    pub(in crate::layout) fn table<'t>(&mut self, entry: &Entry<'t>) -> Option<Table<'t>> {
        if let DeValue::Table(entries) = entry.value {
            return Some(Table::new(entry.path.clone(), entry.span.clone(), entries));
        }
        let help = if entry.path.contains('.') {
            "write it in braces: { key = value }".to_owned()
        } else {
            format!("write its keys under the header [{}]", entry.path)
        };
        self.of_kind(entry, "a table", help);
        None
    }

    /// The elements of a list, in order; paths counted from 1.
    pub(in crate::layout) fn list<'t>(
        &mut self,
        entry: &Entry<'t>,
        example: &str,
    ) -> Option<Vec<Entry<'t>>> {
        let items = self.list_of_any_length(entry, example)?;
        if items.len() > LONGEST_LIST {
            let message = format!("`{}` has {} entries", entry.path, items.len());
            self.wrong(&entry.span, message, format!("it may have up to {LONGEST_LIST}"));
            return None;
        }
        Some(items)
    }

    /// As [`Self::list`], for the one list whose length has a bound of its own.
    pub(super) fn list_of_any_length<'t>(
        &mut self,
        entry: &Entry<'t>,
        example: &str,
    ) -> Option<Vec<Entry<'t>>> {
        let DeValue::Array(items) = entry.value else {
            self.of_kind(entry, "a list", format!("write {example}"));
            return None;
        };
        let numbered = items.iter().zip(1..).map(|(item, number): (_, usize)| Entry {
            path: format!("{}.{number}", entry.path),
            key: entry.key.clone(),
            span: item.span(),
            value: item.get_ref(),
        });
        Some(numbered.collect())
    }

    /// A list of texts printed on the sheets.
    pub(in crate::layout) fn note_list(&mut self, entry: &Entry<'_>, example: &str) -> Vec<String> {
        let items = self.list(entry, example).unwrap_or_default();
        items.iter().filter_map(|item| self.note(item)).collect()
    }
}

/// A TOML integer as a number; `None` beyond what fits.
fn integer(digits: &str, radix: u32) -> Option<f64> {
    i32::from_str_radix(digits, radix).ok().map(f64::from)
}
