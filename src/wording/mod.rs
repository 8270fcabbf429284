//! The text as language: where a line may be broken, and what is doubtful in it.
//!
//! Text in, byte offsets out. Knows nothing of sizes.

mod hard;

pub use hard::{Marks, marks};
