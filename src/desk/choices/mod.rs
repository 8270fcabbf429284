//! Things to choose from, each with its picture and the changes that choose it. What there is
//! to choose, and every figure of it, comes from the rooms above; here it is put into words.

mod fixings;
mod letterings;
mod placings;
mod sizes;
#[cfg(test)]
mod testing;

pub(super) use fixings::fixings;
pub(super) use letterings::letterings;
pub(super) use placings::placings;
pub(super) use sizes::sizes;

use crate::units::digits::trimmed;
use crate::units::inch::nearest_64th;

/// A text with its first letter a capital.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}

/// A length in words, as the layout's lengths are written.
fn length(mm: f64, inches: bool) -> String {
    if inches { nearest_64th(mm).text } else { format!("{} mm", trimmed(mm, 2)) }
}
