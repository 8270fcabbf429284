//! What is handed over, each sheet drawn once: proof, artwork, mount pattern,
//! plate drilling sheet, mock-up, lettering specimen, comparison. A job (or a wording, or two versions) in, a [`Sheet`] with its
//! [`crate::drawing::Drawing`] out.
//!
//! All lengths mm, y down. The plaque is the only thing in colour; everything
//! else is black on white. Nothing on a sheet overlaps or is cut off, however
//! long the wording: tables grow, pages follow, paper grows.

mod artwork;
mod as_cut;
mod bar;
mod block;
mod comparison;
mod contents;
mod dimension;
mod drilling;
mod edge;
mod engraved;
mod fixing_sample;
mod front;
mod hatch;
mod heading;
mod lettering_sample;
mod machine;
mod mockup;
mod on_face;
mod page;
mod pattern;
mod placings;
mod plaque;
mod proof;
mod prose;
mod sheet;
mod specimen;
mod table;
#[cfg(test)]
pub(crate) mod testing;
mod text;
mod united;
mod view;
mod within;
mod words;
mod wrap;

pub use artwork::{Artwork, PhotoFile, PhotoPixels, artwork, proof_lettering};
pub use comparison::{Side, comparison};
pub use contents::{Purpose, contents, purpose, withheld};
pub use fixing_sample::fixing_sample;
pub use front::{front, front_within};
pub use lettering_sample::lettering_sample;
pub use machine::{MachineSheet, drilling_for_machines, pattern_for_machines};
pub use mockup::mockup;
pub use on_face::{on_face, plate_on_face};
pub use pattern::{MOST_OFF_PER_CENT, PrintedBars, corrected_pattern, pattern};
pub use placings::{placing_merits, placing_told, placings};
pub use proof::proof;
pub use sheet::Sheet;
pub use specimen::{LeftOut, Specimen, SpecimenWishes, specimen};
