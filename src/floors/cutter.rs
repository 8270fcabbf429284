//! What a cutter asks of the letters.

use crate::layout::Layout;

/// The least width of something, mm, and whose figure it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// Least width, mm.
    pub least: f64,
    /// Whose figure it is.
    pub whose: Whose,
}

/// Whose figure a least width is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// The cutter's: nothing narrower can be cut.
    Cutter,
    /// The least land that the layout asks for.
    Layout,
    /// The least land that the shop asks for.
    Shop,
    /// The land that is usual where nobody asks for any: the width of the cut. Common
    /// practice, no source; no floor.
    Usual,
}

impl Need {
    /// Whether nothing below it may be made.
    #[must_use]
    pub fn binding(&self) -> bool {
        self.whose != Whose::Usual
    }
}

/// Least widths of what a cutter makes and leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Needs {
    /// Of strokes.
    pub stroke: Need,
    /// Of counters, and of gaps between letters.
    pub ground: Need,
}

/// What the cutter asks of the letters; `None` where no cutter is told.
///
/// In incised letters the strokes are cut and the ground is land; in raised ones it is the
/// other way round.
#[must_use]
pub fn needs(layout: &Layout) -> Option<Needs> {
    let width = layout.cutter()?.width();
    let cut = Need { least: width, whose: Whose::Cutter };
    let land = match (layout.engraving.least_land, layout.shop.least_land) {
        (Some(least), _) => Need { least, whose: Whose::Layout },
        (None, Some(least)) => Need { least, whose: Whose::Shop },
        (None, None) => Need { least: width, whose: Whose::Usual },
    };
    Some(if layout.incised() {
        Needs { stroke: cut, ground: land }
    } else {
        Needs { stroke: land, ground: cut }
    })
}
