//! Words of the catalogue: groups of letterings, small capitals, figures.

use crate::layout::Named;

words! {
    /// Groups by which letterings are listed, in that order.
    Group {
        /// Capitals of inscriptions.
        Roman = "Roman",
        /// Thin and thick strokes, with serifs.
        Serif = "serif",
        /// Strong serifs.
        Slab = "slab",
        /// Without serifs.
        Sans = "sans",
        /// Written hands.
        Script = "script",
        /// Broken and round hands of books.
        Blackletter = "blackletter",
        /// For a script other than Latin first of all.
        OtherScripts = "other scripts",
        /// Centre lines, as wide as the cut.
        SingleStroke = "single-stroke",
    }
}

impl Group {
    /// What stands over the letterings of a group.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Roman => "Roman capitals and flared letters",
            Self::Serif => "Serif",
            Self::Slab => "Slab serif and Clarendon",
            Self::Sans => "Sans serif",
            Self::Script => "Script",
            Self::Blackletter => "Blackletter and uncial",
            Self::OtherScripts => "Hebrew, Arabic, Devanagari",
            Self::SingleStroke => "Single stroke, as wide as the cut",
        }
    }
}

words! {
    /// Whether a family has small capitals.
    SmallCapitals {
        /// Drawn for both cases, by the features `smcp` and `c2sc`.
        Real = "real",
        /// The lower case is drawn as small capitals.
        LowerCase = "lower case",
        /// None; capitals are never shrunk in their stead.
        None = "none",
    }
}

words! {
    /// Styles of figures that a family offers beside its usual ones.
    Figures {
        /// As high as capitals.
        Lining = "lining",
        /// With ascenders and descenders.
        OldStyle = "old-style",
        /// Each as wide as it needs.
        Proportional = "proportional",
        /// All of one width.
        Tabular = "tabular",
    }
}

impl Figures {
    /// The OpenType feature that sets them.
    #[must_use]
    pub const fn feature(self) -> &'static str {
        match self {
            Self::Lining => "lnum",
            Self::OldStyle => "onum",
            Self::Proportional => "pnum",
            Self::Tabular => "tnum",
        }
    }
}
