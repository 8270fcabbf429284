//! The layout file: what a user asks for, read strictly, with every mistake
//! told at its own line and column.
//!
//! Text in; a [`Layout`] (as meant, in mm) or a list of [`Diagnostic`]s out.
//! Knows nothing of fitting or drawing.
//!
//! # The keys
//! What each key means, may hold and is without being said stands once, in the function
//! `keys` beside the code that reads it; [`layout_schema`] and [`shop_schema`] print it all
//! as JSON Schema. Lengths are texts with a unit, as [`crate::units::Length::parse`] reads
//! them; a bare number is refused. Words are those of the [`Named`] types, letter for
//! letter. Defaults that are habits of the trade are common practice, no source.
//!
//! A `wording` file gives one line for each of its lines that shows something, edge
//! spaces kept; lines that follow each other directly have no space between them beyond
//! leading, those after an empty line have the usual 0.35.

#[macro_use]
mod named;

mod axes;
mod colours;
mod cutter;
mod diagnostic;
mod edit;
mod face;
mod fastening;
mod grain;
mod holes;
mod model;
mod ornament;
mod photo;
mod read;
mod schema;
mod setting;
mod shape;
mod shop;
mod source;
mod surface;
mod svg;

pub use axes::{Axis, AxisValue};
pub use colours::{Colour, Colours, MaterialKind};
pub use cutter::{ASSUMED_CUT, Cutter, Point};
pub use diagnostic::Diagnostic;
pub use edit::{Edited, Step, path_at, path_of};
pub use face::{
    Face, FaceEdge, FaceMark, FaceMaterial, FaceShape, OldHole, OldHoles, OnPlate, Place,
    PlateSpot, Recess, RecessShape, Slope, Trim,
};
pub use fastening::{FixingAsked, Head, HoleFit, Into, MachineHead, ScrewMetal, Thread};
pub use grain::{Grain, GrainWay, Sawn};
pub use holes::{Edges, FirstHole, HolesAsked, Mount, USUAL_INSET_MM};
pub use model::{
    Acceptance, Align, AtHoles, Border, Breaks, Cut, Engraving, Fill, FitMode, FitWishes, FontFile,
    FromFace, Hyphens, Layout, LetteringChoice, LetteringSource, Line, Paper, Plate, Process,
    ProofNotes, Reading, Side, usual_margin,
};
pub use named::Named;
pub use ornament::{CornerOrnament, Corners, Divider, DividerWidth, Emblem, Ornament, OwnEmblem};
pub use photo::{
    Diffusion, EngravedCredit, Flow, Frame, Inset, Photo, PhotoMaking, PhotoScreen, PhotoSide,
    PhotoSize, PhotoStands, Ruling, Tone,
};
pub use read::{
    Companions, NoPhotograph, Photograph, Photographs, Vocabulary, is_date, read, read_with,
};
pub use schema::{layout_schema, shop_schema};
pub use setting::{Case, FigureForm, FigureWidth, Quotes, Setting, SmallCapitalsFor};
pub use shape::{HandleLettering, HandleSize, Handles, Shape};
pub use shop::{Shop, read_shop};
pub use source::{Keys, Position, Source};
pub use surface::{Coating, Finish, Material};
