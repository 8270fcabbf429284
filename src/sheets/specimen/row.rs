//! A row of words in a lettering, black: outlines filled, centre lines as wide as a cut.

use std::sync::Arc;

use kurbo::Affine;

use crate::drawing::{Ends, Item, Path, Setting, Stroke, Text};
use crate::lettering::{Face, PieceShape};
use crate::sheets::block::line_of;
use crate::sheets::text::BLACK;

/// Stroke of single-stroke letterings, as a share of the cap height, where no cutter makes
/// it: that of ISO 3098's lettering B (from memory).
const STROKE_SHARE: f64 = 0.1;

/// How wide the strokes of a lettering are drawn at a cap height, mm; 0 where it is of
/// outlines.
pub(in crate::sheets) fn stroke_of(face: &Face, cap_height: f64) -> f64 {
    if face.single_stroke() { STROKE_SHARE * cap_height } else { 0.0 }
}

/// A piece with its text and where that begins in the line's.
pub(in crate::sheets) struct Row<'t> {
    pub(in crate::sheets) piece: PieceShape,
    pub(in crate::sheets) text: &'t str,
    pub(in crate::sheets) start: usize,
}

/// Where a row stands, mm.
#[derive(Debug, Clone, Copy)]
pub(in crate::sheets) struct Stand {
    /// Its origin.
    pub(in crate::sheets) x: f64,
    /// Its baseline; of a cut the middle of the strokes that stand on it.
    pub(in crate::sheets) baseline: f64,
    /// Size of the em.
    pub(in crate::sheets) size: f64,
    /// Width of the cut, 0 for outlines.
    pub(in crate::sheets) cut: f64,
}

impl Row<'_> {
    /// The row as it is drawn.
    pub(in crate::sheets) fn item(&self, face: &Arc<Face>, stand: Stand) -> Item {
        let Stand { x, baseline, size, cut } = stand;
        if cut > 0.0 {
            let glyphs = self.piece.glyphs.iter().flat_map(|glyph| {
                let (x, y) = (x + glyph.x_em * size, baseline - glyph.y_em * size);
                Affine::new([size, 0.0, 0.0, -size, x, y]) * face.outline(glyph.id)
            });
            let stroke = Stroke { ends: Ends::Round, ..line_of(cut) };
            return Path::stroked(glyphs.collect(), stroke).into();
        }
        let place = Setting { size, x, y: baseline, turned: 0.0, colour: BLACK };
        let glyphs: Vec<_> = (self.piece.glyphs.iter())
            .map(|glyph| {
                let mut glyph = *glyph;
                glyph.cluster = glyph.cluster.saturating_sub(self.start);
                glyph
            })
            .collect();
        Text::from_glyphs(self.text, face, &glyphs, place).into()
    }
}
