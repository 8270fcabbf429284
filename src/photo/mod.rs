//! Photographs on the plate: where each one stands, what part of the picture is shown, how
//! it is made there, and whether it has pixels enough for its size.
//!
//! A layout and the [`Stand`] of each photograph in; [`PlacedPhoto`]s out, mm in plate
//! coordinates, and their pixels as the process makes them. Nothing is ever stretched: the
//! crop has the proportion of the box. Knows nothing of lettering.

mod crop;
mod made;
mod making;
mod merits;
mod place;
mod sharp;

pub use crop::{crop, shown_of};
pub use made::{Made, Shown, finest_pitch, mark_colour, marks_are_light};
pub use making::{Making, Objection, Tones, making, process_to_name};
pub use merits::{Merits, Seen};
pub use place::{PlacedPhoto, Stand, Standing, placed};
pub use sharp::{Demand, Ground, demand, eye_pixels_per_mm};
