//! The result: every glyph in plate millimetres.

use std::ops::Range;

use kurbo::Rect;

use crate::floors::Floor;
use crate::layout::{Align, FitMode};
use crate::lettering::ShapedLine;

use super::heights::{spread_leading, spread_space};
use super::plan::Plan;
use super::problem::LineProblem;

/// One glyph on the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlacedGlyph {
    /// Glyph index in its face.
    pub id: u16,
    /// Which of the line's faces it is of ([`ShapedLine::face_of`]).
    pub face: u8,
    /// Origin x, mm, snapped to 1 µm.
    pub x: f64,
    /// Origin y (on the baseline for most), mm, snapped to 1 µm.
    pub y: f64,
}

/// A row: one piece on its baseline.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Index of its line.
    pub line: usize,
    /// Bytes of the line's text, edge spaces removed.
    pub range: Range<usize>,
    /// That text; ends with a soft hyphen where a word is divided.
    pub text: String,
    /// Whether a word is divided at its end: the last glyph in reading order is then a
    /// hyphen, which stands for the soft hyphen.
    pub divided: bool,
    /// Baseline, mm from the plate's top, snapped to 1 µm.
    pub baseline: f64,
    /// Origin of the piece, mm from the plate's left, snapped to 1 µm.
    pub origin_x: f64,
    /// Cap height, mm; of a drawing its whole height.
    pub cap_height: f64,
    /// Width of the cut along its glyphs, which are centre lines; 0 where they are filled
    /// outlines. Then the capitals' centre lines stand half of it above the baseline.
    pub cut: f64,
    /// Ink of this row, mm.
    pub ink: Rect,
    /// Left end of the stretch it was given.
    pub usable_left: f64,
    /// Right end.
    pub usable_right: f64,
    /// Glyphs, left to right.
    pub glyphs: Vec<PlacedGlyph>,
    /// What drawing it holds instead of glyphs; it stands on the baseline from the origin.
    pub drawn: Option<String>,
}

impl Row {
    /// Whether anything of it is engraved.
    #[must_use]
    pub fn has_ink(&self) -> bool {
        self.drawn.is_some() || !self.glyphs.is_empty()
    }

    /// Height that a glyph's cap height is drawn at, mm: that of the centre lines where there
    /// is a cut.
    #[must_use]
    pub fn drawn_height(&self) -> f64 {
        (self.cap_height - self.cut).max(0.0)
    }

    /// The row as one reads it: soft hyphens are not seen, but for one at which a word is
    /// divided. A drawing is named in brackets.
    #[must_use]
    pub fn reads(&self) -> String {
        if let Some(drawing) = &self.drawn {
            return format!("[{drawing}]");
        }
        let mut seen = self.text.replace('\u{AD}', "");
        if self.divided {
            seen.push('\u{2010}');
        }
        seen
    }
}

/// What became of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedLine {
    /// Cap height, mm.
    pub cap_height: f64,
    /// x-height, mm, where its face has one.
    pub x_height: Option<f64>,
    /// Floors as handed in.
    pub floor: Floor,
    /// Greatest cap height that was allowed, mm.
    pub ceiling: f64,
    /// Leading as set, after spreading.
    pub leading: f64,
    /// White above as set, after spreading.
    pub space: f64,
    /// White added between neighbours, in cap heights; 0 for none.
    pub tracking: f64,
    /// Rise in cap heights, the cut with it.
    pub rise: f64,
    /// Depth in cap heights.
    pub depth: f64,
    /// Alignment.
    pub align: Align,
    /// Byte offsets at which it was broken.
    pub breaks: Vec<usize>,
}

/// The whole fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Mode.
    pub mode: FitMode,
    /// Ease asked.
    pub ease: f64,
    /// Largest scale known to fit, mm of cap height at size 1: the limit itself in a
    /// rectangle, elsewhere `scale_low`; `None` where nothing fits at floors.
    pub limit_scale: Option<f64>,
    /// Bracket of the limit: a scale known to fit; 0 where nothing fits at floors.
    pub scale_low: f64,
    /// Bracket of the limit: no larger scale fits; 0 where nothing fits at floors.
    pub scale_high: f64,
    /// Scale used; 0 where nothing fits at floors.
    pub scale: f64,
    /// 1 where lines keep their floors; below 1 the share of its floor that every line
    /// was given; 0 where the field has no room for any lettering.
    pub phi: f64,
    /// Lines as in the layout.
    pub lines: Vec<FittedLine>,
    /// Rows, top to bottom; empty where the field has no room.
    pub rows: Vec<Row>,
}

impl Fitted {
    /// Width of the cut along the centre lines of a line that stands, mm; `None` for one of
    /// filled letters.
    #[must_use]
    pub fn cut(&self, index: usize) -> Option<f64> {
        let mut rows = self.rows.iter().filter(|row| row.line == index);
        rows.next().map(|row| row.cut).filter(|cut| *cut > 0.0)
    }
}

/// What became of the line at `at`.
pub(super) fn line(
    plan: &Plan,
    at: usize,
    line: &LineProblem,
    shaped: &ShapedLine,
    floor: &Floor,
) -> FittedLine {
    let cap_height = plan.heights.get(at).copied().unwrap_or(0.0);
    let face = &shaped.face;
    let share = |mm: f64, plain: f64| {
        if line.cut > 0.0 && cap_height > 0.0 { mm / cap_height } else { plain }
    };
    let rows = plan.rows.iter().filter(|row| row.line == at && row.from > 0);
    FittedLine {
        cap_height,
        x_height: (face.x_units.filter(|_| shaped.ornament.is_none()))
            .map(|units| line.wide(units / face.cap_units, cap_height)),
        floor: *floor,
        ceiling: line.ceiling,
        leading: spread_leading(line, plan.spread),
        space: spread_space(line, plan.spread),
        tracking: 0.0,
        rise: share(line.above(cap_height), line.rise),
        depth: share(line.below(cap_height), line.depth),
        align: line.align,
        breaks: rows.filter_map(|row| shaped.stops.get(row.from).copied()).collect(),
    }
}
