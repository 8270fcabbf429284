//! Photographs on their way through: where each one stands, and what it keeps clear.

use crate::layout::Layout;
use crate::photo::{self, PlacedPhoto, Stand};
use crate::plate::{ClearZone, ZoneKind, ZoneShape};

use super::credit::Credit;

/// All photographs in their places, each with its credit under it where that is engraved.
pub(super) fn placed(layout: &Layout) -> Vec<PlacedPhoto> {
    let credits: Vec<_> =
        layout.photos.iter().map(|photo| Credit::of(photo, layout)).collect();
    let stands: Vec<Stand> = layout
        .photos
        .iter()
        .zip(&credits)
        .filter_map(|(photo, credit)| {
            let below = credit.as_ref().map_or(0.0, Credit::below);
            Some(Stand { below, ..Stand::asked(photo)? })
        })
        .collect();
    let mut photos = photo::placed(layout, &stands);
    for (placed, credit) in photos.iter_mut().zip(credits) {
        if let Some(credit) = credit {
            credit.put(placed);
        }
    }
    photos
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
