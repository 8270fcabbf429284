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

use crate::drawing::Drawing;
use crate::drawing::write::Pictures;
use crate::units::digits::trimmed;
use crate::units::inch::nearest_64th;

use super::bench;
use super::wire::Picture;

/// A drawing as the page shows it. Photographs of choices are not kept: they would drive out
/// those that the plaque is drawn with at every stroke of a key.
fn picture(drawing: &Drawing) -> Picture {
    bench::picture(drawing, &Pictures::default())
}

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
