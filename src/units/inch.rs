//! Vulgar fractions of an inch.

/// The nearest 64th of an inch to a length, and how far off it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Fraction {
    /// Reduced, as a shop says it: `4 3/4 in`, `3/64 in`, `0 in`.
    pub text: String,
    /// Fraction minus the true length, mm.
    pub error_mm: f64,
}

/// The nearest 64th of an inch to `mm`.
#[must_use]
pub fn nearest_64th(mm: f64) -> Fraction {
    let _ = mm;
    todo!()
}
