//! Where holes are wanted.

use super::FixingAsked;

/// Where holes are wanted.
#[derive(Debug, Clone, PartialEq)]
pub enum HolesAsked {
    /// No holes: the plate is stuck on.
    None,
    /// One in each corner.
    FourCorners,
    /// One at the middle of the left and of the right side.
    TwoSides,
    /// One at the middle of the top and of the bottom side.
    TopAndBottom,
    /// One in each handle of an ansate plate, on its middle line, this far from the
    /// handle's outer end, mm; `None`: in the middle of the handle.
    InTheHandles(Option<f64>),
    /// At these points of the plate, mm from its top left corner.
    Points(Vec<(f64, f64)>),
}

/// How the plate is fixed.
#[derive(Debug, Clone, PartialEq)]
pub struct Mount {
    /// Fixing; `None` where nothing is said.
    pub fixing: Option<FixingAsked>,
    /// Hole set.
    pub holes: HolesAsked,
    /// From the plate's edges to the hole centres, mm.
    pub inset: f64,
}
