//! The photographer's name as a small line under a photograph.

use std::sync::Arc;

use kurbo::{Affine, BezPath, Shape};

use crate::layout::{Layout, Photo};
use crate::lettering::{Face, shaped_line, united};
use crate::photo::PlacedPhoto;

use super::cut::as_wide;

/// White between photograph and credit, in its cap heights. Common practice, no source.
const WHITE: f64 = 0.8;

/// How closely outlines are followed where they are united, mm.
const ACCURACY: f64 = 1e-4;

/// A credit at its size.
pub(super) struct Credit {
    /// Its letters, united, mm, y down: the middle of its ink at x = 0, its baseline at 0.
    path: BezPath,
    /// Its cap height, mm.
    cap_height: f64,
}

impl Credit {
    /// The credit that a photograph has engraved under it, in the lettering of the first line
    /// of words; `None` where it has none.
    pub(super) fn of(photo: &Photo, layout: &Layout) -> Option<Self> {
        let cap_height = photo.engraved_credit?.cap_height;
        let text = photo.credit.as_ref()?;
        let words = layout.lines.iter().find(|line| line.ornament.is_none())?;
        // A lettering that does not open is told by its line.
        let face = Face::open(&words.lettering).ok()?;
        let path = letters(text, &face, cap_height, layout.cut_width());
        let ink = path.bounding_box();
        let path = Affine::translate((-f64::midpoint(ink.x0, ink.x1), 0.0)) * path;
        Some(Self { path, cap_height })
    }

    /// What it takes under its photograph, mm: as wide as its ink, as high as white and ink.
    pub(super) fn under(&self) -> (f64, f64) {
        let ink = self.path.bounding_box();
        (ink.width(), WHITE * self.cap_height + ink.height())
    }

    /// Stands it under its photograph.
    pub(super) fn put(&self, placed: &mut PlacedPhoto) {
        let ink = self.path.bounding_box();
        let middle = f64::midpoint(placed.sides[0], placed.sides[2]);
        let [.., foot] = placed.taken;
        let place = Affine::translate((middle, foot - ink.y1));
        placed.credit = Some(place * self.path.clone());
    }
}

fn letters(text: &str, face: &Arc<Face>, cap_height: f64, cut: f64) -> BezPath {
    let line = shaped_line(text, face, &[], &[0, text.len()]);
    let single = face.single_stroke();
    let height = if single { (cap_height - cut).max(0.0) } else { cap_height };
    let em = height / face.cap_em();
    let glyphs = line.piece(0..text.len()).glyphs;
    let outline: BezPath = glyphs
        .iter()
        .flat_map(|glyph| {
            let place = Affine::new([em, 0.0, 0.0, -em, glyph.x_em * em, -glyph.y_em * em]);
            place * face.outline(glyph.id)
        })
        .collect();
    if single { as_wide(outline, cut) } else { united(&outline, ACCURACY) }
}
