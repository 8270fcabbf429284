//! The shop's own figures, set once in `shop.toml`.

use std::collections::BTreeMap;

use super::{Diagnostic, Paper, Process, Source};

/// A shop's own figures; everything absent falls back to the tables.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shop {
    /// Name printed on the sheets.
    pub name: Option<String>,
    /// Smallest cap height the shop makes, by process, mm.
    pub least_cap_height: BTreeMap<Process, f64>,
    /// Least white from lettering to a screw head, mm.
    pub text_to_head: Option<f64>,
    /// Paper for sheets where the layout names none.
    pub paper: Option<Paper>,
    /// Drills in the drawer, diameters in mm, ascending.
    pub drills: Vec<f64>,
}

/// Reads a `shop.toml`.
///
/// # Errors
/// Every mistake in the file, sorted by place.
pub fn read_shop(source: &Source) -> Result<Shop, Vec<Diagnostic>> {
    let _ = source;
    todo!()
}
