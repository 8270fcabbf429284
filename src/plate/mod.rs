//! The metal: its outline, bevel, border and material, and the field in which
//! lettering may stand.
//!
//! A plate, a margin and clear zones in; a [`Field`] with exact chords out. mm,
//! origin at the plate's top left corner, y down. Knows nothing of lettering,
//! screws or photos: a clear zone is a shape and a reason.

mod arch;
mod border;
mod contrast;
mod curves;
mod cut;
mod edge;
mod field;
mod inset;
mod materials;
mod outline;
mod oval;
mod piece;
mod region;
mod shadow;
mod stretch;
mod zone;

pub use border::{border_inner_edge, border_inset_needed, border_paths, border_zones};
pub use contrast::contrast;
pub use curves::closed_polygon;
pub use field::{Field, field};
pub use materials::{
    FillLook, Look, MaterialRow, cautions, fill_row, grams, growth, look, material_row,
};
pub use outline::{Outline, border_edge, lettering_edge, outline};
pub use stretch::Interval;
pub use zone::{ClearZone, Side, ZoneKind, ZoneShape};
