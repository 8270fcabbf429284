//! Changes of a layout's text that leave everything else as it is: remarks, order, and keys
//! that nobody here knows. A text in, the changed text out.

mod find;
mod value;
mod walk;

use serde::{Deserialize, Serialize};
use serde_json::Value;
use toml_edit::{DocumentMut, Item, Table, TableLike};

pub use find::{path_at, path_of};
use value::{item, json};
use walk::{Container, container};

/// A step to a value: a key, or a place in a list, from 0.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Step {
    /// A place in a list.
    Index(usize),
    /// A key of a table.
    Key(String),
}

/// A layout's text, being changed.
#[derive(Debug, Clone)]
pub struct Edited {
    document: DocumentMut,
}

impl Edited {
    /// The text to begin with.
    ///
    /// # Errors
    /// A text that is no TOML.
    pub fn of(text: &str) -> Result<Self, String> {
        // A byte order mark is no part of what is written back.
        let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        let document = text.parse().map_err(|_| "the file is no TOML".to_owned())?;
        Ok(Self { document })
    }

    /// The changed text.
    #[must_use]
    pub fn text(&self) -> String {
        self.document.to_string()
    }

    /// All values.
    #[must_use]
    pub fn values(&self) -> Value {
        json(self.document.as_item())
    }

    /// One value; `None` where nothing is.
    #[must_use]
    pub fn get(&self, path: &[Step]) -> Option<Value> {
        let mut here = self.document.as_item();
        for step in path {
            here = match step {
                Step::Key(key) => here.get(key)?,
                Step::Index(index) => {
                    // An entry that is a value in brackets is no item of its own.
                    return within(self.values(), path).filter(|_| here.get(*index).is_some());
                }
            };
        }
        Some(json(here))
    }

    /// A key, or a place in a list, gets a value. Tables on the way are made; the index behind
    /// the last of a list is a new entry. What stands round the value, such as a remark behind
    /// it, stays.
    ///
    /// # Errors
    /// A way that leads through something that is no table or list; a value that TOML has not.
    pub fn set(&mut self, path: &[Step], to: &Value) -> Result<(), String> {
        self.whole(|changed| changed.set_on(path, to))
    }

    fn set_on(&mut self, path: &[Step], to: &Value) -> Result<(), String> {
        // What it is already stays as it is written.
        if self.get(path).as_ref() == Some(to) {
            return Ok(());
        }
        let (last, before) = path.split_last().ok_or("nothing to change is named")?;
        let top = before.is_empty();
        let to = item(to, top).ok_or("this value cannot be written")?;
        match (container(self.document.as_table_mut(), path, true).ok_or_else(no_way)?, last) {
            (Container::Keys(table), Step::Key(key)) => put(table, key, to),
            (Container::Tables(tables), Step::Index(index)) => {
                let table = to.into_table().map_err(|_| "expected a table".to_owned())?;
                if *index < tables.len() {
                    let old = tables.replace(*index, table);
                    if let Some(table) = tables.get_mut(*index) {
                        *table.decor_mut() = old.decor().clone();
                        table.set_position(old.position());
                    }
                } else {
                    tables.push(table);
                }
            }
            (Container::Values(values), Step::Index(index)) => {
                let to = to.into_value().map_err(|_| "expected a value".to_owned())?;
                if *index < values.len() {
                    values.replace(*index, to);
                } else {
                    values.push(to);
                }
            }
            _ => return Err(no_way()),
        }
        Ok(())
    }

    /// A change that is made whole or not at all: what was made on the way goes again.
    fn whole(&mut self, change: impl Fn(&mut Self) -> Result<(), String>) -> Result<(), String> {
        let mut changed = self.clone();
        change(&mut changed)?;
        *self = changed;
        Ok(())
    }

    /// A key or an entry goes; true if it was there. Remarks above a key stay, where a key
    /// follows; that behind its value goes with it.
    pub fn remove(&mut self, path: &[Step]) -> bool {
        let Some(last) = path.last() else { return false };
        match (container(self.document.as_table_mut(), path, false), last) {
            (Some(Container::Keys(table)), Step::Key(key)) => remove_key(table, key),
            (Some(Container::Tables(tables)), Step::Index(index)) if *index < tables.len() => {
                tables.remove(*index);
                if tables.is_empty() {
                    self.remove(&path[..path.len() - 1]);
                }
                true
            }
            (Some(Container::Values(values)), Step::Index(index)) if *index < values.len() => {
                values.remove(*index);
                true
            }
            _ => false,
        }
    }

    /// A new entry of a list, before the one that stands at its index, or at the end. The list
    /// is made where there is none.
    ///
    /// # Errors
    /// As [`Self::set`].
    pub fn insert(&mut self, path: &[Step], to: &Value) -> Result<(), String> {
        self.whole(|changed| changed.insert_on(path, to))
    }

    fn insert_on(&mut self, path: &[Step], to: &Value) -> Result<(), String> {
        let Some(Step::Index(index)) = path.last() else { return Err(no_way()) };
        match container(self.document.as_table_mut(), path, true).ok_or_else(no_way)? {
            Container::Tables(tables) => {
                let to = item(to, true).ok_or("this value cannot be written")?;
                let mut table = to.into_table().map_err(|_| "expected a table".to_owned())?;
                let index = (*index).min(tables.len());
                // Where tables of other names stand between, it keeps to its neighbour.
                let beside = index.checked_sub(1).or(Some(0)).and_then(|at| tables.get(at));
                table.set_position(beside.and_then(Table::position));
                tables.insert(index, table);
                Ok(())
            }
            Container::Values(values) => {
                let to = item(to, false).and_then(|to| to.into_value().ok());
                let to = to.ok_or("this value cannot be written")?;
                values.insert((*index).min(values.len()), to);
                Ok(())
            }
            Container::Keys(_) => Err(no_way()),
        }
    }

    /// An entry of a list goes to another place; remarks above it go with it.
    ///
    /// # Errors
    /// No such entry.
    pub fn shift(&mut self, path: &[Step], to: usize) -> Result<(), String> {
        let Some(Step::Index(from)) = path.last() else { return Err(no_way()) };
        match container(self.document.as_table_mut(), path, false).ok_or_else(no_way)? {
            Container::Tables(tables) if (*from).max(to) < tables.len() => {
                let places: Vec<_> = tables.iter().map(Table::position).collect();
                let table = tables.remove(*from);
                tables.insert(to, table);
                for (table, place) in tables.iter_mut().zip(places) {
                    placed(table, place);
                }
                Ok(())
            }
            Container::Values(values) if (*from).max(to) < values.len() => {
                let value = values.remove(*from);
                values.insert_formatted(to, value);
                Ok(())
            }
            _ => Err(no_way()),
        }
    }
}

fn no_way() -> String {
    "there is no such place in the file".to_owned()
}

/// A value of values.
fn within(mut values: Value, path: &[Step]) -> Option<Value> {
    for step in path {
        values = match step {
            Step::Key(key) => values.get_mut(key)?.take(),
            Step::Index(index) => values.get_mut(*index)?.take(),
        };
    }
    Some(values)
}

/// Sets a key; what stands round its value stays.
fn put(table: &mut dyn TableLike, key: &str, mut to: Item) {
    match table.get_mut(key) {
        Some(old) => {
            match (&mut to, &*old) {
                (Item::Value(to), Item::Value(old)) => *to.decor_mut() = old.decor().clone(),
                (Item::Table(to), Item::Table(old)) => {
                    *to.decor_mut() = old.decor().clone();
                    to.set_position(old.position());
                }
                // Written as a table of its own before: it stays one.
                (Item::Value(value), Item::Table(old)) if value.is_inline_table() => {
                    let Some(inline) = value.as_inline_table_mut() else { return };
                    let mut table = std::mem::take(inline).into_table();
                    *table.decor_mut() = old.decor().clone();
                    table.set_position(old.position());
                    to = Item::Table(table);
                }
                _ => {}
            }
            *old = to;
        }
        None => {
            table.insert(key, to);
        }
    }
}

/// Takes a key out; remarks on lines of their own above it go to the next one.
fn remove_key(table: &mut dyn TableLike, key: &str) -> bool {
    let above = table.key(key).and_then(|key| key.leaf_decor().prefix()).and_then(|p| p.as_str());
    let above = above.unwrap_or_default().to_owned();
    let next = table.iter().map(|(key, _)| key.to_owned()).skip_while(|known| known != key).nth(1);
    let was = table.remove(key).is_some();
    if let (true, true, Some(next)) = (was, above.contains('#'), next)
        && table.get(&next).is_some_and(Item::is_value)
        && let Some(mut next) = table.key_mut(&next)
    {
        let own = next.leaf_decor().prefix().and_then(|p| p.as_str()).unwrap_or_default();
        let both = format!("{above}{own}");
        next.leaf_decor_mut().set_prefix(both);
    }
    was
}

/// A table with all that is below it at one place of the file.
fn placed(table: &mut Table, place: Option<isize>) {
    table.set_position(place);
    for (_, below) in table.iter_mut() {
        match below {
            Item::Table(table) => placed(table, place),
            Item::ArrayOfTables(tables) => tables.iter_mut().for_each(|table| placed(table, place)),
            Item::None | Item::Value(_) => {}
        }
    }
}

#[cfg(test)]
mod tests;
