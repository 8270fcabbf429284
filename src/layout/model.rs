//! The layout as meant: defaults filled in, lengths in mm, contradictions gone.

use std::sync::Arc;

use super::{
    Axis, AxisValue, Coating, Colours, Corners, Cutter, Face, Finish, Keys, Material, Mount, Named,
    Ornament, Photo, Setting, Shape, Shop,
};

words! {
    /// From which side the plate is engraved; it is always read from the front.
    Side {
        /// In its front.
        Front = "front",
        /// In its back, mirrored, to be read through the plate.
        Behind = "behind",
    }
}

words! {
    /// How the lettering is made; figures stand in the table of processes.
    Process {
        /// Rotating cutter.
        Rotary = "rotary",
        /// Diamond drawn through the surface without turning.
        Drag = "drag",
        /// Turning cutter that takes off a coating.
        Burnished = "burnished",
        /// Fibre laser marking of metal.
        FibreLaser = "fibre laser",
        /// CO2 laser.
        Co2Laser = "co2 laser",
        /// Chemical etching.
        Etched = "etched",
        /// Sandblasting through a stencil.
        Sandblasted = "sandblasted",
        /// Cast with raised letters.
        Cast = "cast",
        /// Graver by hand.
        HandCut = "hand cut",
        /// Printed on the surface.
        Printed = "printed",
    }
}

words! {
    /// Which part of the metal is removed.
    Cut {
        /// Letters cut into the surface.
        Incised = "incised",
        /// Letters left standing, ground removed.
        Raised = "raised",
    }
}

words! {
    /// Paint in the letters.
    Fill {
        /// No paint.
        None = "none",
        /// Black paint.
        Black = "black",
        /// White paint.
        White = "white",
        /// Red paint.
        Red = "red",
        /// Blue paint.
        Blue = "blue",
        /// Green paint.
        Green = "green",
    }
}

words! {
    /// Which edge of the rows is lined up. Left and right are sides of the plate, whichever
    /// way the wording runs.
    Align {
        /// Rows centred by ink on one axis.
        Centre = "centre",
        /// Rows set against the left of their space.
        Left = "left",
        /// Rows set against the right of their space.
        Right = "right",
    }
}

words! {
    /// When a line may be broken by the fit. The user's own breaks always hold.
    Breaks {
        /// Breaking is part of the search for the largest scale.
        Free = "free",
        /// Broken only if too wide, unbroken, at its wish or floor.
        LastResort = "last resort",
        /// Not broken.
        Never = "never",
    }
}

words! {
    /// Whether the fit may divide a word.
    Hyphens {
        /// No word is divided.
        Never = "never",
        /// A word may be divided where its writer put a soft hyphen (U+00AD).
        AtSoftHyphens = "at soft hyphens",
    }
}

words! {
    /// How heights are chosen.
    FitMode {
        /// One scale for all lines, each between floor and ceiling.
        Even = "even",
        /// Every line as wide as the field, as far as floors, ceilings, the height of the
        /// field and the order of the lines' sizes allow.
        Full = "full",
        /// Heights are stated; the fit only breaks and places.
        Fixed = "fixed",
    }
}

words! {
    /// What a border does where a hole is in its way.
    AtHoles {
        /// The line ends before the head and goes on behind it.
        StopShort = "stop short",
        /// The line turns in round the head.
        StepIn = "step in",
        /// The holes stand between border and edge.
        HolesOutside = "holes outside",
    }
}

words! {
    /// Paper that sheets are laid out for. A larger plate takes a larger sheet of the
    /// same kind for proof and mock-up, and several of this paper for the pattern.
    Paper {
        /// ISO 216 A4.
        A4 = "A4",
        /// ISO 216 A3.
        A3 = "A3",
        /// 8.5 by 11 in.
        Letter = "Letter",
        /// 8.5 by 14 in.
        Legal = "Legal",
        /// 11 by 17 in.
        Tabloid = "Tabloid",
    }
}

/// A lettering file of the user's own, already read.
#[derive(Clone, PartialEq, Eq)]
pub struct FontFile {
    /// Path as written in the layout.
    pub path: String,
    /// Which face of a collection (TTC), from 0.
    pub index: u32,
    /// The file's bytes.
    pub bytes: Arc<[u8]>,
}

impl std::fmt::Debug for FontFile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "FontFile({:?} #{}, {} bytes)", self.path, self.index, self.bytes.len())
    }
}

/// Where a lettering comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LetteringSource {
    /// A catalogue name, such as `EB Garamond Italic`, spelt as the catalogue spells it.
    Shipped(String),
    /// The user's own file.
    Own(FontFile),
}

/// Which lettering a line is set in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LetteringChoice {
    /// Where it comes from.
    pub source: LetteringSource,
    /// Axes that the layout sets, each at most once, sorted; the others stand where the
    /// catalogue says, or at the default of a file of the user's own.
    pub axes: Vec<(Axis, AxisValue)>,
}

impl LetteringChoice {
    /// A lettering of the catalogue as the catalogue sets it.
    #[must_use]
    pub fn shipped(name: impl Into<String>) -> Self {
        Self { source: LetteringSource::Shipped(name.into()), axes: Vec::new() }
    }

    /// A file of the user's own, a variable one at its default.
    #[must_use]
    pub const fn own(file: FontFile) -> Self {
        Self { source: LetteringSource::Own(file), axes: Vec::new() }
    }
}

/// One line of the inscription.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The exact wording. A line feed inside it is the user's own break, which always holds.
    /// Empty where the line holds an ornament.
    pub text: String,
    /// What stands in the line instead of words. Cap heights are then its own height.
    pub ornament: Option<Ornament>,
    /// Relative cap height, above 0.
    pub size: f64,
    /// Stated cap height in mm; floor and ceiling of the fit are then both this.
    pub cap_height: Option<f64>,
    /// The user's own floor in mm.
    pub at_least: Option<f64>,
    /// The user's own ceiling in mm.
    pub at_most: Option<f64>,
    /// Lettering; without a name where the line holds an ornament.
    pub lettering: LetteringChoice,
    /// OpenType features as HarfBuzz writes them: `smcp`, `-liga`, `onum`.
    pub features: Vec<String>,
    /// Language, case, quotes, further lettering, forms of letters and figures.
    pub setting: Setting,
    /// Alignment of its rows.
    pub align: Align,
    /// White asked above the line, beyond leading, in cap heights.
    pub space: f64,
    /// Leading in cap heights; `None`: by the kind of letters.
    pub leading: Option<f64>,
    /// When it may break.
    pub breaks: Breaks,
    /// Whether its words may be divided.
    pub hyphens: Hyphens,
    /// Words never torn apart.
    pub keep: Vec<String>,
}

/// Border lines drawn on the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Border {
    /// From the bevel's inner edge to the middle of the outer line, mm.
    pub inset: f64,
    /// One or two.
    pub lines: u8,
    /// Width of a line, mm.
    pub weight: f64,
    /// Between the middles of two lines, mm.
    pub gap: f64,
    /// What happens at holes.
    pub at_holes: AtHoles,
}

/// A plate whose size is worked out from its face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FromFace {
    /// From the plate to the face's edge or trim all round, mm; 0 in a recess, whose fit
    /// gap counts.
    pub reveal: f64,
    /// Whether the margin is the usual one, which follows the plate's size.
    pub usual_margin: bool,
    /// Where the plate's top left corner stands on the face, mm, once its size is worked
    /// out.
    pub stands: Option<(f64, f64)>,
    /// Whether it was found that no plate goes on.
    pub none: bool,
}

/// The metal.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Outline.
    pub shape: Shape,
    /// Thickness, mm.
    pub thickness: f64,
    /// Material.
    pub material: Material,
    /// Its colours, where they are not the material's.
    pub colours: Colours,
    /// Surface.
    pub finish: Finish,
    /// What lies on it, lacquer apart, which is a finish.
    pub coating: Option<Coating>,
    /// Width of the bevel, mm; 0 for none.
    pub bevel: f64,
    /// From the bevel's inner edge to the nearest ink, mm.
    pub margin: f64,
    /// Border, if any.
    pub border: Option<Border>,
    /// How many are to be made.
    pub quantity: u32,
    /// Where the size is to come from the face; width and height are then those of the
    /// face's box until it is worked out.
    pub from_face: Option<FromFace>,
}

/// Margin where none is said: a twentieth of the short side, but not under this, mm, and
/// rounded up to half a millimetre. Common practice, no source.
const LEAST_MARGIN: f64 = 3.0;

/// The margin of a plate that tells none, mm, by its short side. Half millimetres are
/// counted in tenths of the short side, so that a side of whole centimetres divides
/// without a remainder.
#[must_use]
pub fn usual_margin(short: f64) -> f64 {
    ((short / 10.0).ceil() / 2.0).max(LEAST_MARGIN)
}

/// How far off the plaque is read, and what that asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Reading distance, mm.
    pub distance: f64,
}

/// How the letters are made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Engraving {
    /// Process.
    pub process: Process,
    /// The side it is made from.
    pub from: Side,
    /// Incised or raised.
    pub cut: Cut,
    /// Paint.
    pub fill: Fill,
    /// Reading distance.
    pub reading: Reading,
    /// The cutter, where it is told.
    pub cutter: Option<Cutter>,
    /// Least width of what is left standing, mm, where it is told.
    pub least_land: Option<f64>,
}

/// How the fit is to go about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitWishes {
    /// How heights are chosen.
    pub mode: FitMode,
    /// Share of the largest scale that is used, above 0 and at most 1.
    pub ease: f64,
}

/// What is printed on the sheets beside the plaque.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofNotes {
    /// Proof number, from 1.
    pub number: u32,
    /// What this proof replaces, in words.
    pub replaces: Option<String>,
    /// Date as written (ISO 8601), never taken from a clock.
    pub date: Option<String>,
    /// For whom the plaque is made.
    pub client: Option<String>,
    /// Who answers for the spelling.
    pub spelling: Option<String>,
    /// Roles that sign, in order.
    pub signatures: Vec<String>,
    /// Paper.
    pub paper: Paper,
}

/// A finding accepted by name, with the reason that is printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Acceptance {
    /// Code of the finding.
    pub code: String,
    /// Key path of its place, such as `line.2`.
    pub place: String,
    /// The value that was accepted, in the finding's unit, where it has one.
    pub measured: Option<f64>,
    /// Why.
    pub reason: String,
}

/// All that is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// What the work is called.
    pub title: String,
    /// Proof number, date, people.
    pub proof: ProofNotes,
    /// The metal.
    pub plate: Plate,
    /// How letters are made and read.
    pub engraving: Engraving,
    /// How the fit goes about it.
    pub fit: FitWishes,
    /// The inscription, top to bottom; never empty.
    pub lines: Vec<Line>,
    /// Ornaments in the corners, if any.
    pub corners: Option<Corners>,
    /// Photographs.
    pub photos: Vec<Photo>,
    /// Fixings and holes.
    pub mount: Mount,
    /// The trophy face, if told.
    pub face: Option<Face>,
    /// Findings accepted by name.
    pub accepted: Vec<Acceptance>,
    /// The shop's own figures.
    pub shop: Shop,
    /// Whether most lengths were written in inches, so that answers are too.
    pub inches: bool,
    /// Where each key was written.
    pub keys: Keys,
}

impl Layout {
    /// Makes the plate this large, mm, as if its size had been written so: a margin that the
    /// layout does not tell follows the size.
    pub fn resize(&mut self, width: f64, height: f64) {
        (self.plate.width, self.plate.height) = (width, height);
        if self.keys.exact("plate.margin").is_none() {
            self.plate.margin = usual_margin(width.min(height));
        }
    }
}
