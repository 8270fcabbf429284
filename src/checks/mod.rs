//! Every rule that yields a finding, one file a topic. Facts in, findings out;
//! nothing is cured or drawn here.
//!
//! Only geometry, physical impossibility and what the user or the shop demanded
//! make a `stop`; habits of the trade without a source make a `caution`.

mod characters;
mod contrast;
mod decoration;
mod depth;
mod fixing;
mod holes;
mod ink;
mod lettering;
mod movement;
mod old_holes;
mod photo;
mod photo_place;
mod place;
mod process;
mod reading;
mod recess;
mod setting;
mod single;
mod size;
mod strokes;

pub use strokes::{Letters, ThinKind, ThinLine, ThinPart, thin_line, thin_parts, thinnest_stroke};

use crate::decoration::Placed;
use crate::finding::{Finding, Place};
use crate::fit::Fitted;
use crate::layout::Layout;
use crate::lettering::ShapedLine;
use crate::mount::MountPlan;
use crate::photo::PlacedPhoto;
use crate::plate::{ClearZone, Field};

/// What the checks look at.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'a> {
    /// What was asked.
    pub layout: &'a Layout,
    /// Shaped lines, as in the layout.
    pub lines: &'a [ShapedLine],
    /// The field.
    pub field: &'a Field,
    /// Clear zones of holes and of a border that turns in round them.
    pub zones: &'a [ClearZone],
    /// The mount.
    pub mount: &'a MountPlan,
    /// The fit.
    pub fitted: &'a Fitted,
    /// Photographs where they stand.
    pub photos: &'a [PlacedPhoto],
    /// Decoration where it stands.
    pub decoration: &'a [Placed],
}

/// All findings, in the order of print: lettering from the top line down, then
/// ink, plate, holes, fixing and face.
#[must_use]
pub fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let topics: [fn(&Facts<'_>) -> Vec<Finding>; 19] = [
        characters::findings,
        setting::findings,
        lettering::findings,
        single::findings,
        size::findings,
        strokes::findings,
        process::findings,
        contrast::findings,
        decoration::findings,
        photo::findings,
        photo_place::findings,
        reading::findings,
        ink::findings,
        holes::findings,
        fixing::findings,
        place::findings,
        recess::findings,
        old_holes::findings,
        movement::findings,
    ];
    topics.iter().flat_map(|topic| topic(facts)).collect()
}

/// Whether every photograph keeps the margin and clear of what else is on the plate.
#[must_use]
pub fn photo_stands(facts: &Facts<'_>) -> bool {
    photo_place::findings(facts).is_empty()
}

/// Source of every rule that only workshops know.
const COMMON: &str = "common practice, no source";
/// Source of what follows from shapes and sizes alone.
const GEOMETRY: &str = "geometry";
/// Source of what the layout itself demands.
const LAYOUT: &str = "layout";

/// Lengths nearer than this count as equal, mm: the grid on which ink is placed
/// is 0.001 mm.
const EQUAL_MM: f64 = 0.0015;

/// The place of a line (index from 0), at a key below it or the line itself.
fn at_line(index: usize, key: &str) -> Place {
    let line = index + 1;
    let key = if key.is_empty() { format!("line.{line}") } else { format!("line.{line}.{key}") };
    Place { line: Some(index), hole: None, key }
}

/// The place of a hole (index from 0).
fn at_hole(index: usize) -> Place {
    Place { line: None, hole: Some(index), key: "mount.holes".to_owned() }
}

/// The place of a key of the layout.
fn at_key(key: &str) -> Place {
    Place { line: None, hole: None, key: key.to_owned() }
}
