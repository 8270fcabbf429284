//! Photographs on their way through: where each one stands, and what it keeps clear.

use kurbo::Shape as _;

use crate::layout::{Flow, Layout, Photo, PhotoSide, Shape};
use crate::photo::{self, PlacedPhoto, Stand};
use crate::plate::{ClearZone, Field, Side, ZoneKind, ZoneShape};

use super::credit::Credit;

/// All photographs in their places, each with its credit under it where that is engraved.
pub(super) fn placed(
    layout: &Layout,
    stands: &[Stand],
    credits: &[Option<Credit>],
) -> Vec<PlacedPhoto> {
    let mut photos = photo::placed(layout, stands);
    for (placed, credit) in photos.iter_mut().zip(credits) {
        if let Some(credit) = credit {
            credit.put(placed);
        }
    }
    photos
}

/// What photographs keep clear of lettering.
pub(super) fn zones(layout: &Layout, photos: &[PlacedPhoto]) -> Vec<ClearZone> {
    let mut zones = Vec::new();
    for placed in photos {
        let Some(photo) = layout.photos.get(placed.index) else { continue };
        let shapes = match placed.side {
            Some(side) if photo.flow == Flow::Beside => vec![strip(side, placed, photo.gap)],
            _ => round(photo, placed),
        };
        let kind = ZoneKind::Photo(placed.index);
        zones.extend(shapes.into_iter().map(|shape| ClearZone { shape, kind }));
    }
    zones
}

/// The axis of centred rows where lettering stands close round photographs at the left or the
/// right: the middle of what they leave, as it is where they take the whole side.
pub(super) fn axis(layout: &Layout, photos: &[PlacedPhoto], field: &Field) -> Option<f64> {
    let [mut left, _, mut right, _] = field.bounds()?;
    let round = photos.iter().filter_map(|placed| {
        let photo = layout.photos.get(placed.index)?;
        let side = placed.side.filter(|_| photo.flow == Flow::Round)?;
        Some((side, placed.taken, photo.gap))
    });
    let mut taken = false;
    for (side, box_, gap) in round {
        match side {
            PhotoSide::Left => left = left.max(box_[2] + gap),
            PhotoSide::Right => right = right.min(box_[0] - gap),
            PhotoSide::Top | PhotoSide::Bottom => continue,
        }
        taken = true;
    }
    (taken && left < right).then(|| f64::midpoint(left, right))
}

/// The whole side that a photograph takes.
fn strip(side: PhotoSide, placed: &PlacedPhoto, gap: f64) -> ZoneShape {
    let [left, top, right, bottom] = placed.taken;
    let (side, at) = match side {
        PhotoSide::Left => (Side::Left, right + gap),
        PhotoSide::Right => (Side::Right, left - gap),
        PhotoSide::Top => (Side::Top, bottom + gap),
        PhotoSide::Bottom => (Side::Bottom, top - gap),
    };
    ZoneShape::Side { side, at }
}

/// A photograph's own outline, frame and gap, and the same of what stands under it.
fn round(photo: &Photo, placed: &PlacedPhoto) -> Vec<ZoneShape> {
    let out = photo.frame.map_or(0.0, |frame| frame.gap + frame.weight);
    let gap = photo.gap;
    let [left, top, right, bottom] = placed.sides;
    // A frame's square corners stay square; only the gap round it is round.
    let (x0, y0, x1, y1) = (left - out, top - out, right + out, bottom + out);
    let (x, y) = (f64::midpoint(left, right), f64::midpoint(top, bottom));
    let (across, down) = ((right - left) / 2.0, (bottom - top) / 2.0);
    let rounded = |[x0, y0, x1, y1]: [f64; 4], corner: f64| ZoneShape::Rounded {
        x0: x0 - gap,
        y0: y0 - gap,
        x1: x1 + gap,
        y1: y1 + gap,
        radius: corner + gap,
    };
    let shape = match &photo.shape {
        Shape::Circle => ZoneShape::Disc { x, y, radius: across + out + gap },
        Shape::Oval => ZoneShape::Oval { x, y, across, down, gap: out + gap },
        Shape::Arch { rise } => {
            // The head is a half circle where no rise is told.
            let rise = rise.unwrap_or(across) + out;
            ZoneShape::Arch { x0, y0, x1, y1, rise, gap }
        }
        Shape::Rounded { corner } => rounded([x0, y0, x1, y1], corner + out),
        _ => rounded([x0, y0, x1, y1], 0.0),
    };
    let mut shapes = vec![shape];
    if let Some(credit) = &placed.credit {
        let ink = credit.bounding_box();
        shapes.push(rounded([ink.x0, ink.y0, ink.x1, ink.y1], 0.0));
    }
    shapes
}
