//! Real drills near a wanted diameter.

/// A drill that a shop can hold in the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Drill {
    /// What is stamped on it: `2.0 mm`, `5/64 in`, `No. 47`.
    pub name: String,
    /// Diameter, mm.
    pub diameter: f64,
}

/// The metric drill nearest to a diameter (0.1 mm steps; the shop's own list
/// where it has one), and the nearest inch fraction drill in 64ths.
#[must_use]
pub fn nearest_drill(diameter: f64, own: &[f64]) -> (Drill, Drill) {
    let _ = (diameter, own);
    todo!()
}
