//! Photographs on their way through: where each one stands, and what it keeps clear.

use crate::layout::Layout;
use crate::photo::{PlacedPhoto, Stand};
use crate::plate::{ClearZone, ZoneKind, ZoneShape};

/// Where each photograph stands.
pub(super) fn stands(layout: &Layout) -> Vec<Stand> {
    layout.photos.iter().filter_map(Stand::asked).collect()
}

/// What photographs keep clear of lettering.
pub(super) fn zones(layout: &Layout, photos: &[PlacedPhoto]) -> Vec<ClearZone> {
    let one = |placed: &PlacedPhoto| {
        let gap = layout.photos.get(placed.index)?.gap;
        let [left, top, right, bottom] = placed.taken;
        Some(ClearZone {
            shape: ZoneShape::Box { x0: left - gap, y0: top - gap, x1: right + gap, y1: bottom + gap },
            kind: ZoneKind::Corner(placed.index),
        })
    };
    photos.iter().filter_map(one).collect()
}
