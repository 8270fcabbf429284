//! ansata fits an inscription to a small engraved plate, proofs it, and draws
//! the pattern by which it is mounted.
//!
//! Data flows one way: a layout file becomes a [`layout::Layout`]; its wording
//! becomes shaped lines, its plate a field; the fit places every glyph; checks
//! look at the result and yield findings; sheets draw it; writers turn the
//! drawing into bytes. [`job::job`] is that way through as one function. Every
//! length inside is `f64` millimetres; plate coordinates start at the plate's
//! top left corner with y running down.

pub mod checks;
pub mod cli;
pub mod decoration;
pub mod desk;
pub mod drawing;
pub mod files;
pub mod finding;
pub mod fit;
pub mod floors;
pub mod job;
#[macro_use]
pub mod layout;
pub mod lettering;
pub mod mount;
pub mod photo;
pub mod picture;
pub mod plate;
pub mod remedies;
pub mod report;
pub mod sheets;
pub mod signoff;
pub mod units;
pub mod wording;
