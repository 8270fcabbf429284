//! How thin the strokes of letters are, and how narrow what stands between them: a
//! glyph's outline in, its thinnest stroke, join and counter out, in cap heights of its
//! face, y up. So the measure is as fine for every face, however many units it has to the em.
//!
//! The measure is that of the tangent ball: at many places of an edge the largest ball
//! that lies in the ink (or in the ground) and touches the edge there. Where it touches
//! another edge straight across, its diameter is the width at that place. Corners, which
//! have no tangent, are measured by the ball between them and what they face.
//!
//! Three constants make the measure: `FLATTEN`, how closely curves are followed;
//! `FACING_COS`, how exactly two edges must face each other; `TOGETHER` in `ball.rs`, how
//! nearly at once a ball may touch. What counts as a stroke, a join, a tip and a counter
//! is said in `glyph.rs`.

mod ball;
mod centre;
mod gap;
mod glyph;
mod joined;
mod set;
mod walls;

pub(super) use centre::of_centre_lines;
pub use glyph::GlyphStrokes;
pub(super) use glyph::{measured, of_outline};
pub(super) use joined::{MOST_PAIRS, Pair, Pocket};
pub use set::{SetGlyph, Thin, ThinPlace, thin};

use kurbo::Point;

/// How far the polygon that is measured may leave the curve, cap heights: 1 µm on capitals
/// of 10 mm. A tenth of a font unit in a font whose capitals are 700 units high is as much.
const FLATTEN: f64 = 1e-4;

/// Cosine of 15°: two edges face each other if the ball's two touches lie at least 165°
/// apart. Where a stroke is thinnest its edges face each other exactly, so a tight angle
/// is right; at 150° corners and crotches come in as strokes of no width.
const FACING_COS: f64 = 0.965_925_826_289_068_3;

/// A turn by less than 15° is a curve followed in chords, not a corner.
const CORNER_COS: f64 = FACING_COS;

/// A width and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Narrow {
    /// The width, cap heights.
    pub width: f64,
    /// Its middle, from the glyph's origin, cap heights, y up.
    pub at: Point,
}

/// What is known of a glyph's widths.
#[derive(Debug, Clone, Copy)]
pub enum Measure<'a> {
    /// It has no ink.
    Blank,
    /// Its widths.
    Widths(&'a GlyphStrokes),
    /// Its outline is more than can be measured: see `walls.rs`.
    Unmeasured,
}

/// The narrower of two; the first where they are equal.
fn narrower(a: Option<Narrow>, b: Option<Narrow>) -> Option<Narrow> {
    match (a, b) {
        (Some(a), Some(b)) if b.width < a.width => Some(b),
        (Some(a), _) => Some(a),
        (None, b) => b,
    }
}

#[cfg(test)]
mod tests;
