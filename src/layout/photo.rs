//! A photograph on the plate, as asked.

use std::sync::Arc;

use crate::picture::Picture;

use super::{Named, Process, Shape};

/// Where a photograph stands, and where lettering goes on account of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhotoStands {
    /// At one side of the field, in the middle of that side.
    Side(PhotoSide),
    /// With its centre at a point of the plate, mm from its left and its top edge.
    At(f64, f64),
    /// At the side that the arrangement finds best.
    Auto,
}

words! {
    /// A side of the field.
    PhotoSide {
        /// Lettering to its right.
        Left = "left",
        /// Lettering to its left.
        Right = "right",
        /// Lettering under it.
        Top = "top",
        /// Lettering over it.
        Bottom = "bottom",
    }
}

words! {
    /// Where lettering may stand beside a photograph that takes a side.
    Flow {
        /// In the strip of the field that it leaves, from edge to edge.
        Beside = "beside it",
        /// Wherever its outline and gap leave room.
        Round = "round it",
    }
}

/// How large a photograph is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhotoSize {
    /// So wide, mm; its height follows from its proportion.
    Width(f64),
    /// So high, mm; its width follows from its proportion.
    Height(f64),
    /// So wide and so high, mm.
    Both(f64, f64),
    /// As large as the wording allows: every line keeps its floor, and this cap height where
    /// one is told, mm.
    Largest(Option<f64>),
}

/// A line engraved round a photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Its width, mm.
    pub weight: f64,
    /// From the photograph's edge to the line's inner edge, mm.
    pub gap: f64,
}

/// A photograph made as a piece of its own and set into the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inset {
    /// Thickness of the piece, mm, which is the depth of its pocket.
    pub thickness: f64,
    /// Between piece and pocket all round, mm.
    pub gap: f64,
}

words! {
    /// Published weights by which an error of tone is handed on to the dots that follow.
    Diffusion {
        /// Floyd and Steinberg, 1976.
        FloydSteinberg = "Floyd-Steinberg",
        /// Jarvis, Judice and Ninke, 1976.
        Jarvis = "Jarvis-Judice-Ninke",
        /// Stucki, 1981.
        Stucki = "Stucki",
    }
}

/// How grey is made of marks of one tone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhotoScreen {
    /// Scattered dots.
    Diffused(Diffusion),
    /// Dots in rows that grow.
    Dots(Ruling),
    /// Lines that swell.
    Lines(Ruling),
}

/// Rows or lines of a screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ruling {
    /// From row to row, or from line to line, mm.
    pub pitch: f64,
    /// Their angle, degrees anticlockwise from level.
    pub angle: f64,
}

/// How levels are changed before a photograph is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tone {
    /// Share of the pixels that may become black, and the same that may become white, as
    /// levels are stretched.
    pub stretch: f64,
    /// Clip limit of local contrast, in multiples of an even spread; `None` for none.
    pub local_contrast: Option<f64>,
    /// What the level half way from black to white becomes, as a share of white; 0.5 leaves
    /// it.
    pub midtone: f64,
    /// How much edges are sharpened, as a share; 0 for not at all.
    pub sharpen: f64,
}

/// How a photograph is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhotoMaking {
    /// By which process; `None`: that of the lettering.
    pub process: Option<Process>,
    /// Whether it is printed in grey though it could have colour.
    pub grey: bool,
    /// Its screen; `None`: what is usual for the process.
    pub screen: Option<PhotoScreen>,
    /// From dot to dot as the machine sets them, mm; `None`: what is usual for the process.
    pub step: Option<f64>,
    /// How levels are changed; `None`: what is usual for the process.
    pub tone: Option<Tone>,
    /// The piece it is made as, where it is set into the plate.
    pub inset: Option<Inset>,
}

/// The photographer's name in a line under a photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EngravedCredit {
    /// Its cap height, mm.
    pub cap_height: f64,
}

/// One photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// Path as written in the layout.
    pub path: String,
    /// Its pixels.
    pub picture: Picture,
    /// SHA-256 of its file.
    pub digest: Arc<[u8; 32]>,
    /// Where it stands.
    pub stands: PhotoStands,
    /// Where lettering goes.
    pub flow: Flow,
    /// How large it is.
    pub size: PhotoSize,
    /// Its outline: rectangle, rounded, oval, circle or arch.
    pub shape: Shape,
    /// Width by height; that of the picture where none is told.
    pub proportion: f64,
    /// White from it, or from its frame, to lettering, mm.
    pub gap: f64,
    /// The line round it.
    pub frame: Option<Frame>,
    /// The point of the picture that the crop is centred on as far as the picture goes, as
    /// shares from its left and its top.
    pub focus: (f64, f64),
    /// How much is cropped away beyond the outline's proportion: 1 for nothing.
    pub zoom: f64,
    /// The box that must stay inside: left, top, right, bottom as shares of the picture.
    pub heads: Option<[f64; 4]>,
    /// How it is made.
    pub making: PhotoMaking,
    /// Who took it.
    pub credit: Option<String>,
    /// The credit as a line on the plate.
    pub engraved_credit: Option<EngravedCredit>,
    /// Who allowed it to be used, when and how.
    pub permission: Option<String>,
}
