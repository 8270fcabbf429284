//! The way to a value through tables and lists, however they are written.

use toml_edit::{Array, ArrayOfTables, InlineTable, Item, Table, TableLike, Value};

use super::Step;

/// What holds a value.
pub(super) enum Container<'a> {
    /// A table, under its header or in braces.
    Keys(&'a mut dyn TableLike),
    /// Tables under `[[name]]`.
    Tables(&'a mut ArrayOfTables),
    /// A list in brackets.
    Values(&'a mut Array),
}

/// What holds the value at the end of a path. Where it is to be made, tables and lists that
/// are missing on the way are: at the top as `[name]` and `[[name]]`, below in braces and
/// brackets. `None` where the way leads through something else.
pub(super) fn container<'a>(
    root: &'a mut Table,
    path: &[Step],
    make: bool,
) -> Option<Container<'a>> {
    let mut here = Container::Keys(root);
    for (depth, pair) in path.windows(2).enumerate() {
        let [step, next] = pair else { break };
        here = match (here, step) {
            (Container::Keys(table), Step::Key(key)) => {
                if make && !table.contains_key(key) {
                    table.insert(key, empty(depth, next));
                }
                of_item(table.get_mut(key)?)?
            }
            (Container::Tables(tables), Step::Index(index)) => {
                Container::Keys(tables.get_mut(*index)?)
            }
            (Container::Values(values), Step::Index(index)) => of_value(values.get_mut(*index)?)?,
            _ => return None,
        };
    }
    Some(here)
}

/// What is made for something to be put into.
fn empty(depth: usize, next: &Step) -> Item {
    match (depth, next) {
        (0, Step::Key(_)) => Item::Table(Table::new()),
        (0, Step::Index(_)) => Item::ArrayOfTables(ArrayOfTables::new()),
        (_, Step::Key(_)) => Item::Value(Value::InlineTable(InlineTable::new())),
        (_, Step::Index(_)) => Item::Value(Value::Array(Array::new())),
    }
}

fn of_item(item: &mut Item) -> Option<Container<'_>> {
    match item {
        Item::Table(table) => Some(Container::Keys(table)),
        Item::ArrayOfTables(tables) => Some(Container::Tables(tables)),
        Item::Value(value) => of_value(value),
        Item::None => None,
    }
}

fn of_value(value: &mut Value) -> Option<Container<'_>> {
    match value {
        Value::InlineTable(table) => Some(Container::Keys(table)),
        Value::Array(values) => Some(Container::Values(values)),
        _ => None,
    }
}
