//! Lengths as people write and read them. Text in, millimetres out, and back.
//!
//! Knows nothing of plaques. One inch is 25.4 mm exactly (international inch,
//! 1 July 1959).

pub mod digits;
pub mod inch;
pub mod length;
mod number;
pub mod pattern;

pub use inch::Fraction;
pub use length::{Length, MM_PER_INCH, Unit};
pub use number::LengthError;
pub use pattern::{length_pattern, signed_length_pattern, size_pattern};
