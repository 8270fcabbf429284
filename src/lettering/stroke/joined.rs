//! The ground between two glyphs that touch: pockets that they shut in together, as the
//! letters of a script do above and below where they join.
//!
//! The two are united and measured as one glyph's counters are; what counts is ground with
//! one glyph on its one side and the other across. What more than two shut in together is
//! measured pair by pair.

use kurbo::{BezPath, Point, Vec2};

use super::ball::Facing;
use super::glyph::{UNITED, enclosed};
use super::walls::Walls;
use super::{GlyphStrokes, Measure, Narrow};
use crate::lettering::{Face, united};

/// Places to a cap height at which a pair is taken to stand: no place is off by more than
/// 0.0002 cap heights, as far as curves are followed; so a pair is measured once for all
/// places that rounding gives it.
const PLACES: f64 = 4096.0;

/// Most pairs that a face keeps; a wording has some dozens. Others are measured again.
pub(in crate::lettering) const MOST_PAIRS: usize = 4096;

/// Two glyphs of one face and how the second stands to the first, in places.
pub(in crate::lettering) type Pair = (u16, u16, [i64; 2]);

/// What is known of the ground between two that touch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::lettering) enum Pocket {
    /// They shut nothing in.
    None,
    /// The narrowest, in cap heights of the first, from its origin.
    Wide(Narrow),
    /// The two together are more than can be measured.
    Unmeasured,
}

/// The pair of two glyphs of one face in one size; `None` where they stand farther apart
/// than letters do.
fn pair(first: u16, second: u16, moved: Vec2) -> Option<Pair> {
    let place = |at: f64| {
        let at = (at * PLACES).round();
        #[expect(clippy::cast_possible_truncation, reason = "a whole number within 2^32")]
        (at.abs() < 4e9).then_some(at as i64)
    };
    Some((first, second, [place(moved.x)?, place(moved.y)?]))
}

/// The ground between two glyphs that touch, of one face or of two; `moved` is the second's
/// origin from the first's and `scale` its cap height, both in cap heights of the first.
pub(super) fn pocket(
    (face, first): (&Face, u16),
    (beside, second): (&Face, u16),
    scale: f64,
    moved: Vec2,
) -> Pocket {
    let (Measure::Widths(a), Measure::Widths(b)) = (face.strokes(first), beside.strokes(second))
    else {
        return Pocket::None;
    };
    let same = std::ptr::eq(face, beside) && (scale - 1.0).abs() < 1e-9;
    match pair(first, second, moved).filter(|_| same) {
        Some(pair) => {
            let [x, y] = pair.2.map(|place| {
                #[expect(clippy::cast_precision_loss, reason = "a whole number within 2^32")]
                let place = place as f64;
                place / PLACES
            });
            face.pocket(pair, || between((a, b), 1.0, Vec2::new(x, y)))
        }
        None => between((a, b), scale, moved),
    }
}

pub(super) fn between((a, b): (&GlyphStrokes, &GlyphStrokes), scale: f64, moved: Vec2) -> Pocket {
    let mut both = BezPath::new();
    polygons(&a.walls, 1.0, Vec2::ZERO, &mut both);
    polygons(&b.walls, scale, moved, &mut both);
    let Some(walls) = Walls::of(&united(&both, UNITED)) else { return Pocket::Unmeasured };
    let of_first = |point: Point| {
        let own = ((point.to_vec2() - moved) / scale).to_point();
        a.walls.distance(point) <= b.walls.distance(own) * scale
    };
    let edge_of_first =
        |edge: usize| walls.edges.get(edge).is_some_and(|edge| of_first(edge.middle()));
    let across =
        |facing: &Facing| edge_of_first(facing.here.edge) != edge_of_first(facing.there.edge);
    let shared = |at: usize| {
        let edges = walls.contours.get(at).map_or(0..0, |contour| contour.first..contour.end);
        let first = edges.clone().filter(|edge| edge_of_first(*edge)).count();
        first > 0 && first < edges.len()
    };
    let usual = a.usual.max(b.usual * scale);
    enclosed(&walls, usual, across, shared).map_or(Pocket::None, Pocket::Wide)
}

fn polygons(walls: &Walls, scale: f64, moved: Vec2, path: &mut BezPath) {
    let at = |point: Point| (point.to_vec2() * scale + moved).to_point();
    for contour in &walls.contours {
        let edges = walls.edges.get(contour.first..contour.end).unwrap_or_default();
        for (index, edge) in edges.iter().enumerate() {
            if index == 0 {
                path.move_to(at(edge.from));
            } else {
                path.line_to(at(edge.from));
            }
        }
        path.close_path();
    }
}
