//! The layout file: what a user asks for, read strictly, with every mistake
//! told at its own line and column.
//!
//! Text in; a [`Layout`] (as meant, in mm) or a list of [`Diagnostic`]s out.
//! Knows nothing of fitting or drawing.

mod diagnostic;
mod model;
mod read;
mod shop;
mod source;

pub use diagnostic::Diagnostic;
pub use model::{
    Acceptance, Align, AtHoles, Border, Breaks, Cut, Engraving, Face, FaceMaterial, Fill, Finish,
    FitMode, FitWishes, FixingAsked, FontFile, Head, HolesAsked, Layout, LetteringChoice, Line,
    Material, Mount, Named, Paper, Place, Plate, Process, ProofNotes, Reading, Shape,
};
pub use read::{Companions, Vocabulary, read};
pub use shop::{Shop, read_shop};
pub use source::{Keys, Position, Source};
