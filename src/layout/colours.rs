//! Colours of plates that are not simply their material's own: coats, laminates, sheets
//! of plastic. By plain words, never by a maker's series.

use super::{Coating, Material, Named, Plate};

words! {
    /// A colour of coats, laminates and plastics.
    Colour {
        /// Black.
        Black = "black",
        /// White.
        White = "white",
        /// Grey.
        Grey = "grey",
        /// Red.
        Red = "red",
        /// Blue.
        Blue = "blue",
        /// Green.
        Green = "green",
        /// Yellow.
        Yellow = "yellow",
        /// Cream.
        Cream = "cream",
        /// Brown.
        Brown = "brown",
        /// The colour of gold.
        Gold = "gold",
        /// The colour of silver.
        Silver = "silver",
    }
}

/// What colours a plate has beside its material.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colours {
    /// Those of the material, or of a plating.
    Own,
    /// A coat of paint or a dyed oxide, which a cut takes off: black over brass.
    Coat(Colour),
    /// A laminate: letters are cut through the cap and show the core.
    Layers {
        /// Colour of the surface.
        cap: Colour,
        /// Colour beneath it.
        core: Colour,
    },
    /// A plastic of one colour all through.
    Through(Colour),
}

/// What kind of stuff a material is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MaterialKind {
    /// Metal.
    Metal,
    /// Two layers of plastic.
    Laminate,
    /// Plastic of one piece.
    Plastic,
    /// Glass.
    Glass,
    /// Stone.
    Stone,
    /// Wood.
    Wood,
}

impl Material {
    /// What kind of stuff it is.
    #[must_use]
    pub const fn kind(self) -> MaterialKind {
        match self {
            Self::Brass | Self::Bronze | Self::Copper | Self::Aluminium | Self::StainlessSteel => {
                MaterialKind::Metal
            }
            Self::Laminate => MaterialKind::Laminate,
            Self::Acrylic | Self::Pvc => MaterialKind::Plastic,
            Self::Glass => MaterialKind::Glass,
            Self::Slate => MaterialKind::Stone,
            Self::BlackWalnut | Self::BlackCherry | Self::WhiteOak | Self::HardMaple => {
                MaterialKind::Wood
            }
        }
    }

    /// Words of the materials of a kind, in their order.
    pub(super) fn words_of(kind: MaterialKind) -> Vec<&'static str> {
        let of_kind = Self::ALL.iter().filter(|(_, material)| material.kind() == kind);
        of_kind.map(|(word, _)| *word).collect()
    }
}

impl Coating {
    /// Whether it comes in colours.
    #[must_use]
    pub const fn has_colour(self) -> bool {
        matches!(self, Self::Paint | Self::Anodised)
    }
}

impl Plate {
    /// Whether its material is one that is seen through, a coat apart.
    #[must_use]
    pub fn see_through(&self) -> bool {
        matches!(self.material, Material::Acrylic | Material::Glass)
            && !matches!(self.colours, Colours::Through(_))
    }

    /// Whether one sees what lies behind it.
    #[must_use]
    pub fn clear(&self) -> bool {
        self.see_through() && self.colours == Colours::Own
    }

    /// Material, colours, coating and finish in words: `brass, satin`, `brass, satin, black
    /// paint`, `laminate, white over black, matt`, `acrylic, clear, polished`.
    #[must_use]
    pub fn made_of(&self) -> String {
        let colours = match self.colours {
            Colours::Layers { cap, core } => format!(", {} over {}", cap.word(), core.word()),
            Colours::Through(colour) => format!(", {}", colour.word()),
            _ if self.see_through() => ", clear".to_owned(),
            _ => String::new(),
        };
        let coating = match (self.coating, self.colours) {
            (None, _) => String::new(),
            (Some(Coating::Paint), Colours::Coat(colour)) => format!(", {} paint", colour.word()),
            (Some(coating), Colours::Coat(colour)) => {
                format!(", {} {}", coating.word(), colour.word())
            }
            (Some(coating), _) => format!(", {}", coating.word()),
        };
        format!("{}{colours}, {}{coating}", self.material.word(), self.finish.word())
    }
}
