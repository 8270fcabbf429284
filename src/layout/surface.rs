//! What a plate is made of, and what lies on it.

use super::{MaterialKind, Named};

words! {
    /// What the plate is made of; its figures stand in the plate's material table.
    Material {
        /// Cartridge brass.
        Brass = "brass",
        /// Bearing or commercial bronze.
        Bronze = "bronze",
        /// Copper.
        Copper = "copper",
        /// Aluminium sheet.
        Aluminium = "aluminium",
        /// Stainless steel 304.
        StainlessSteel = "stainless steel",
        /// Two-layer laminate, engraved through the cap.
        Laminate = "laminate",
        /// Poly(methyl methacrylate), cast or extruded.
        Acrylic = "acrylic",
        /// Poly(vinyl chloride), vinyl: it holds chlorine.
        Pvc = "pvc",
        /// Soda-lime glass.
        Glass = "glass",
        /// Roofing or monumental slate.
        Slate = "slate",
        /// Black walnut.
        BlackWalnut = "black walnut",
        /// Black cherry.
        BlackCherry = "black cherry",
        /// White oak.
        WhiteOak = "white oak",
        /// Hard maple.
        HardMaple = "hard maple",
    }
}

impl Material {
    /// Whether it is a metal.
    #[must_use]
    pub fn is_metal(self) -> bool {
        self.kind() == MaterialKind::Metal
    }
}

words! {
    /// The surface of the plate.
    Finish {
        /// Bright.
        Polished = "polished",
        /// Brushed in one direction.
        Satin = "satin",
        /// Clear coated over a polished surface.
        Lacquered = "lacquered",
        /// Dull, without direction.
        Matt = "matt",
    }
}

words! {
    /// What lies on the plate's surface, beside clear lacquer.
    Coating {
        /// Paint or powder, baked or not.
        Paint = "paint",
        /// The oxide grown on aluminium, dyed or not.
        Anodised = "anodised",
        /// Silver plate on a metal.
        SilverPlate = "silver plate",
        /// Nickel plate on a metal.
        NickelPlate = "nickel plate",
        /// A compound laid on for a laser, which bonds where the laser heats it and is
        /// washed off elsewhere.
        MarkingCompound = "marking compound",
    }
}

impl Coating {
    /// Why it cannot lie on a material; `None` where it can.
    #[must_use]
    pub fn no_use_on(self, material: Material) -> Option<&'static str> {
        match self {
            Self::Anodised if material != Material::Aluminium => {
                Some("of the materials here only aluminium is anodised")
            }
            Self::SilverPlate | Self::NickelPlate if !material.is_metal() => {
                Some("only metals are plated here")
            }
            _ => None,
        }
    }
}
