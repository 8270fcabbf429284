//! A drawing that stands in a row like a letter, and is measured as letters are.

use std::sync::{Arc, OnceLock};

use kurbo::{Affine, BezPath, Shape};

use super::stroke::{GlyphStrokes, Narrow, Thin, ThinPlace, measured};
use super::{Face, LineStyle, ShapedLine, Widths, styled_line, united};

/// How far united curves may leave the drawing's own, where its height is 1.
const UNITED: f64 = 1e-6;

/// A drawing at unit size: 1 high, its ink standing on the baseline and beginning at 0,
/// y up.
#[derive(Debug)]
pub struct Ornament {
    /// Closed contours that do not overlap, filled by the nonzero rule.
    pub outline: BezPath,
    /// Width of its ink, in heights.
    pub width: f64,
    strokes: OnceLock<Option<GlyphStrokes>>,
}

impl Ornament {
    /// A drawing of any size and place, y up, scaled to height 1; `None` where it has no
    /// ink, or is not finite.
    #[must_use]
    pub fn new(drawing: &BezPath) -> Option<Self> {
        if drawing.elements().is_empty() || !drawing.is_finite() {
            return None;
        }
        let ink = drawing.bounding_box();
        let scale = 1.0 / ink.height();
        let width = ink.width() * scale;
        if !(scale.is_finite() && width > 0.0 && width.is_finite()) {
            return None;
        }
        let moved = Affine::scale(scale) * Affine::translate(-ink.origin().to_vec2());
        let outline = united(&(moved * drawing.clone()), UNITED);
        if outline.area().abs() <= UNITED {
            return None;
        }
        Some(Self { outline, width, strokes: OnceLock::new() })
    }

    /// The same drawing with the widths of another, which has all that is thin in it.
    #[must_use]
    pub fn measured_as(self, part: Self) -> Self {
        let strokes = OnceLock::from(part.strokes().cloned());
        Self { strokes, ..self }
    }

    /// What is thin in it, in heights: measured at the first question and kept. `None` for
    /// an outline that is more than can be measured.
    #[must_use]
    pub fn strokes(&self) -> Option<&GlyphStrokes> {
        self.strokes.get_or_init(|| measured(&self.outline)).as_ref()
    }
}

impl ShapedLine {
    /// A line that holds a drawing instead of words: one piece, which no break divides. It
    /// names a face, as every line does, and has nothing set in it. Without a drawing it
    /// is a row of no width.
    #[must_use]
    pub fn of_ornament(ornament: Option<Arc<Ornament>>, face: &Arc<Face>) -> Self {
        let mut line = styled_line("", face, &LineStyle::default(), &[0]);
        line.stops = vec![0, 0];
        let width = ornament.as_ref().map_or(0.0, |ornament| ornament.width);
        line.widths = Widths::table(2, vec![width]);
        line.all_capitals = false;
        line.ornament = ornament;
        line
    }

    /// What is thin in the drawing of such a line, in its height.
    pub(super) fn thin_ornament(&self) -> Option<Thin> {
        let Some(strokes) = self.ornament.as_ref()?.strokes() else {
            return Some(Thin { unmeasured: Some(0), ..Thin::default() });
        };
        let place = |narrow: Option<Narrow>| {
            narrow.map(|narrow| ThinPlace {
                width: narrow.width,
                at: narrow.at,
                glyph: 0,
                other: None,
            })
        };
        Some(Thin {
            stroke: place(strokes.stroke),
            join: place(strokes.join),
            counter: place(strokes.counter),
            gap: None,
            unmeasured: None,
        })
    }
}
