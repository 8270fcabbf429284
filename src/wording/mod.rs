//! The text as language: where a line may be broken, at what cost to its sense.
//!
//! Text in, byte offsets and costs out. UAX #14 and the user say where a line may be
//! broken at all (`hard.rs`); the rules of `sense.toml` say how well (`sense.rs`), by
//! what belongs together (`names.rs`, `numbers.rs`, `dates.rs`) and by the little words.
//! Knows nothing of sizes.

mod dates;
mod engraved;
mod hard;
mod lexicon;
mod names;
mod numbers;
mod quotes;
mod sense;
#[cfg(test)]
mod testing;
mod ties;
mod words;

pub use engraved::{Engraved, engraved, has_quotes};
pub use hard::{Marks, divides, marks};
