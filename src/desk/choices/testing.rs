//! Choices made, for tests.

use crate::desk::wire::Choice;
use crate::layout::Edited;
use crate::sheets::testing::layout_of;

/// A layout's text with a choice made as the page makes it: what has to go first, then what
/// is set.
pub(super) fn chosen(text: &str, choice: &Choice) -> String {
    let mut edited = Edited::of(text).unwrap();
    for path in &choice.remove {
        edited.remove(path);
    }
    for change in &choice.changes {
        edited.set(&change.path, &change.to).unwrap();
    }
    edited.text()
}

/// The same, which has to be a layout.
pub(super) fn accepted(text: &str, choice: &Choice) -> String {
    let text = chosen(text, choice);
    if let Err(mistakes) = layout_of(&text) {
        panic!("{} is refused: {mistakes}\n{text}", choice.name);
    }
    text
}
