//! The result: every glyph in plate millimetres.

use std::ops::Range;

use kurbo::Rect;

use crate::floors::Floor;
use crate::layout::{Align, FitMode};

/// One glyph on the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlacedGlyph {
    /// Glyph index in the line's face.
    pub id: u16,
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
    /// That text.
    pub text: String,
    /// Baseline, mm from the plate's top, snapped to 1 µm.
    pub baseline: f64,
    /// Origin of the piece, mm from the plate's left, snapped to 1 µm.
    pub origin_x: f64,
    /// Cap height, mm.
    pub cap_height: f64,
    /// Ink of this row, mm.
    pub ink: Rect,
    /// Left end of the stretch it was given.
    pub usable_left: f64,
    /// Right end.
    pub usable_right: f64,
    /// Glyphs, left to right.
    pub glyphs: Vec<PlacedGlyph>,
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
    /// Rise in cap heights.
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
    /// Largest scale that any permitted breaking allows, mm of cap height at
    /// size 1; `None` where nothing fits at floors.
    pub limit_scale: Option<f64>,
    /// Bracket of the limit: a scale known to fit.
    pub scale_low: f64,
    /// Bracket of the limit: no larger scale fits.
    pub scale_high: f64,
    /// Scale used.
    pub scale: f64,
    /// 1 where lines keep their floors; below 1 the share of its floor that every line was given.
    pub phi: f64,
    /// Lines as in the layout.
    pub lines: Vec<FittedLine>,
    /// Rows, top to bottom; empty where the field has no room.
    pub rows: Vec<Row>,
}
