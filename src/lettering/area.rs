//! Areas within straight edges, and what a round tool makes of them.
//!
//! A tool that turns, or burns a round spot, removes what a disc of its width can sweep
//! within what is to be removed: the area *opened* by that disc, which is the area shrunk by
//! half the width and then grown by as much. What it leaves of what is to stay is the area
//! *closed*: grown, then shrunk. (J. Serra, Image Analysis and Mathematical Morphology, 1982.)
//!
//! The only part of this room that speaks in mm. Everything is done on a grid of whole
//! numbers by `i_overlay`, arcs included, so that all machines come to the same edges.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::angle::Angle;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::i_shape::int::shape::{IntContour, IntShapes};
use i_overlay::mesh::int::arc::ArcOptions;
use i_overlay::mesh::int::outline::offset::IntOutlineOffset;
use i_overlay::mesh::int::style::{IntLineJoin, IntOutlineStyle};
use kurbo::{BezPath, PathEl, Point, Rect, Vec2};

/// Steps of the grid to the mm.
const GRID: f64 = 1e4;
/// How far an edge may leave the curve that it follows, mm: the grid on which everything is
/// drawn.
const FLATTEN: f64 = 1e-3;
/// An area reaches no further from 0 than this, steps of the grid: 50 m. The arithmetic is
/// sound to twice that.
const REACH: f64 = 5e8;
/// Most corners that an area may come with. A letter has some hundred; this is for damaged
/// and hostile fonts.
const MOST_CORNERS: usize = 200_000;
/// The tool is taken this much narrower than it is, mm: a stroke that is as wide as the cut
/// is cut, whatever rounding did to its edges. Checks leave as much (1.5 µm), rounded up.
const PLAY: f64 = 2e-3;

/// An area: any number of parts with any number of holes. mm.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Area {
    /// Parts; of each the outer edge anticlockwise in its own axes, then its holes clockwise.
    shapes: IntShapes<i32>,
}

impl Area {
    /// What a path fills by the nonzero rule, mm, its curves followed in chords to 1 µm.
    ///
    /// Open contours are closed by a straight line. A path without area gives an empty one.
    /// `None` for one that is not finite, reaches further than 50 m from 0, or has more
    /// corners than any lettering.
    #[must_use]
    pub fn of(path: &BezPath) -> Option<Self> {
        if !path.is_finite() {
            return None;
        }
        let mut contours: Vec<IntContour<i32>> = Vec::new();
        let (mut corners, mut inside) = (0usize, true);
        kurbo::flatten(path.iter(), FLATTEN, |element| {
            let point = match element {
                PathEl::MoveTo(point) => {
                    contours.push(Vec::new());
                    point
                }
                PathEl::LineTo(point) => point,
                _ => return,
            };
            corners += 1;
            match grid(point).filter(|_| corners <= MOST_CORNERS) {
                Some(point) => contours.last_mut().into_iter().for_each(|last| last.push(point)),
                None => inside = false,
            }
        });
        inside.then(|| Self { shapes: Overlay::from_subj(&contours).overlay(SUBJECT, NONZERO) })
    }

    /// All of several together.
    #[must_use]
    pub fn united(areas: impl IntoIterator<Item = Self>) -> Self {
        let mut all = areas.into_iter();
        let Some(first) = all.next() else { return Self::default() };
        let Some(second) = all.next() else { return first };
        let shapes: IntShapes<i32> =
            [first, second].into_iter().chain(all).flat_map(|area| area.shapes).collect();
        Self { shapes: Overlay::from_subj(&shapes).overlay(SUBJECT, NONZERO) }
    }

    /// Whether there is nothing in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.shapes.is_empty()
    }

    /// What a round tool of a width, mm, can remove of it without leaving it.
    #[must_use]
    pub fn opened(&self, width: f64) -> Self {
        let radius = (width - PLAY) / 2.0;
        self.offset(-radius).offset(radius)
    }

    /// What a round tool of a width, mm, leaves when it removes all round it what it can
    /// without touching it: counters and gaps narrower than the tool stay filled.
    #[must_use]
    pub fn closed(&self, width: f64) -> Self {
        let radius = (width - PLAY) / 2.0;
        self.offset(radius).offset(-radius)
    }

    /// Grown by a distance, mm; shrunk where that is below 0. Corners grow round.
    fn offset(&self, by: f64) -> Self {
        let Some(steps) = steps(by).filter(|_| !self.is_empty()) else {
            return Self::default();
        };
        // The arc's chords leave it by no more than the flattening of curves does.
        let turn = 2.0 * libm::acos((1.0 - FLATTEN / by.abs().max(FLATTEN)).max(0.0));
        let max_step = Angle::from_radians(turn).unwrap_or(ArcOptions::MIN_STEP);
        let join = IntLineJoin::Round(ArcOptions { max_step, ..ArcOptions::default() });
        let style = IntOutlineStyle::new(steps).line_join(join);
        if self.shapes.validate_outline(&style).is_err() {
            return Self::default();
        }
        let options = IntOverlayOptions::default();
        Self { shapes: self.shapes.outline_custom(&style, options).unwrap_or_default() }
    }

    /// What is in either.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        self.and(other, OverlayRule::Union)
    }

    /// What is in this and not in the other. Slivers that only rounding makes are left out.
    #[must_use]
    pub fn without(&self, other: &Self) -> Self {
        let mut rest = self.and(other, OverlayRule::Difference);
        rest.shapes.retain(|shape| shape.iter().any(|contour| !is_sliver(contour)));
        rest
    }

    fn and(&self, other: &Self, rule: OverlayRule) -> Self {
        Self {
            shapes: Overlay::from_subj_and_clip(&self.shapes, &other.shapes).overlay(rule, NONZERO),
        }
    }

    /// Moved by whole steps of the grid, mm. Empty where that leaves the room there is.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Self {
        let move_one = |point: &IntPoint<i32>| grid(place(*point) + by);
        let contour = |contour: &IntContour<i32>| contour.iter().map(move_one).collect();
        let shapes: Option<IntShapes<i32>> = (self.shapes.iter())
            .map(|shape| shape.iter().map(contour).collect::<Option<Vec<_>>>())
            .collect();
        Self { shapes: shapes.unwrap_or_default() }
    }

    /// Its size, mm².
    #[must_use]
    pub fn size(&self) -> f64 {
        self.shapes.iter().flatten().map(twice).sum::<f64>() / 2.0
    }

    /// Its box, mm; `None` for an empty one.
    #[must_use]
    pub fn bounds(&self) -> Option<Rect> {
        let points = self.shapes.iter().flatten().flatten();
        points.map(|point| place(*point)).fold(None, |all: Option<Rect>, at| {
            Some(all.map_or_else(|| Rect::from_points(at, at), |all| all.union_pt(at)))
        })
    }

    /// Its edges as closed contours, mm. Corners that lie within `tolerance` of the line
    /// past them are left out; 0 keeps all.
    #[must_use]
    pub fn path(&self, tolerance: f64) -> BezPath {
        let mut path = BezPath::new();
        for contour in self.shapes.iter().flatten() {
            let points: Vec<Point> = contour.iter().map(|point| place(*point)).collect();
            let mut kept = straightened(&points, tolerance).into_iter();
            path.extend(kept.next().map(PathEl::MoveTo));
            path.extend(kept.map(PathEl::LineTo));
            path.close_path();
        }
        path
    }
}

/// An edge longer than this many tolerances stays as it is: tilted by one at its end, it
/// would jump a step on a screen somewhere along it.
const LONG: f64 = 64.0;

/// The corners of a line without those that lie within a tolerance of the line past them.
/// Ends and long edges stay.
fn straightened(points: &[Point], tolerance: f64) -> Vec<Point> {
    let length = |along: Vec2| libm::hypot(along.x, along.y);
    let mut kept: Vec<Point> = points.first().copied().into_iter().collect();
    let mut from = 0;
    while let Some(start) = points.get(from).filter(|_| from + 1 < points.len()) {
        let straight = |to: usize| {
            let (Some(end), Some(stretch)) = (points.get(to), points.get(from..=to)) else {
                return false;
            };
            let along = *end - *start;
            let far = length(along);
            stretch.windows(2).all(|edge| length(edge[1] - edge[0]) <= LONG * tolerance)
                && stretch.iter().all(|point| {
                    let off = *point - *start;
                    along.cross(off).abs() <= tolerance * far
                        && (0.0..=far * far).contains(&along.dot(off))
                })
        };
        let mut to = from + 1;
        while straight(to + 1) {
            to += 1;
        }
        kept.extend(points.get(to));
        from = to;
    }
    kept
}

const SUBJECT: OverlayRule = OverlayRule::Subject;
const NONZERO: FillRule = FillRule::NonZero;

/// A length in steps of the grid.
#[expect(clippy::cast_possible_truncation, reason = "within `REACH`, which an i32 holds")]
fn steps(length: f64) -> Option<i32> {
    let steps = (length * GRID).round();
    (steps.abs() <= REACH).then_some(steps as i32)
}

fn grid(point: Point) -> Option<IntPoint<i32>> {
    Some(IntPoint::new(steps(point.x)?, steps(point.y)?))
}

fn place(point: IntPoint<i32>) -> Point {
    Point::new(f64::from(point.x) / GRID, f64::from(point.y) / GRID)
}

/// Each point of a contour with the next.
fn edges(contour: &IntContour<i32>) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = contour.iter().cycle().skip(1);
    contour.iter().zip(next).map(|(a, b)| (place(*a), place(*b)))
}

/// Twice the area within a contour, mm²; below 0 for a hole.
fn twice(contour: &IntContour<i32>) -> f64 {
    edges(contour).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum()
}

/// Whether a contour is no thicker than what flattening and rounding make of one line drawn
/// twice: its area is that of a strip half as long as the contour.
fn is_sliver(contour: &IntContour<i32>) -> bool {
    let length: f64 = edges(contour).map(|(a, b)| libm::hypot(b.x - a.x, b.y - a.y)).sum();
    twice(contour).abs() <= 2.0 * FLATTEN * length
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use kurbo::{Circle, Shape};

    use super::*;

    fn of(path: &BezPath) -> Area {
        Area::of(path).expect("a small, finite path")
    }

    fn bar(x: f64, width: f64, height: f64) -> BezPath {
        Rect::new(x, 0.0, x + width, height).to_path(0.1)
    }

    fn both(a: &BezPath, b: &BezPath) -> BezPath {
        a.iter().chain(b.iter()).collect()
    }

    /// Of the areas that arcs in chords have, mm²: 1 µm along a few mm of edge.
    const NEAR: f64 = 0.005;

    #[test]
    fn a_square_loses_the_corners_that_a_disc_cannot_reach() {
        // Each corner of a square lacks (1 - π/4) r².
        for width in [0.1, 0.25, 1.0] {
            let left = of(&bar(0.0, 2.0, 2.0)).opened(width).size();
            let lost = (4.0 - PI) * width * width / 4.0;
            assert!((left - (4.0 - lost)).abs() < NEAR, "{width}: {left}");
        }
    }

    #[test]
    fn a_bar_is_cut_by_what_is_no_wider_and_by_nothing_wider() {
        let bar = of(&bar(0.0, 0.25, 4.0));
        // Round ends: 0.25 · 3.75 + π 0.125².
        let ends = 0.25 * 3.75 + PI * 0.125 * 0.125;
        assert!((bar.opened(0.25).size() - ends).abs() < NEAR, "{}", bar.opened(0.25).size());
        assert!(bar.opened(0.255).is_empty());
    }

    #[test]
    fn a_hairline_goes_and_the_stem_that_it_hangs_on_stays() {
        let letter = of(&both(&bar(0.0, 0.5, 3.0), &bar(0.0, 3.0, 0.04)));
        let cut = letter.opened(0.25);
        let stem = of(&bar(0.0, 0.5, 3.0)).opened(0.25);
        // Where it leaves the stem the disc bulges into it by no more than its own height.
        assert!((cut.size() - stem.size()).abs() < NEAR && cut.bounds().unwrap().x1 < 0.51);
        let lost = letter.without(&cut);
        assert!((lost.size() - (letter.size() - cut.size())).abs() < NEAR);
        assert!(lost.bounds().unwrap().x1 > 2.99);
    }

    #[test]
    fn a_narrow_counter_fills_and_a_wide_one_stays() {
        let ring = |hole: f64| {
            let inner = Circle::new((0.0, 0.0), hole / 2.0).to_path(1e-6).reverse_subpaths();
            of(&both(&Circle::new((0.0, 0.0), 1.0).to_path(1e-6), &inner))
        };
        assert!((ring(0.2).closed(0.25).size() - PI).abs() < NEAR);
        let open = ring(0.3).closed(0.25).size();
        assert!((open - PI * (1.0 - 0.15 * 0.15)).abs() < NEAR, "{open}");
        // Two bars: a gap of 0.2 is bridged but for the round ends, one of 0.3 is not.
        let pair = |gap: f64| of(&both(&bar(0.0, 1.0, 4.0), &bar(1.0 + gap, 1.0, 4.0)));
        assert_eq!(pair(0.2).closed(0.25).shapes.len(), 1);
        assert_eq!(pair(0.3).closed(0.25).shapes.len(), 2);
    }

    #[test]
    fn overlapping_and_turned_contours_are_one_area() {
        let cross =
            both(&bar(0.0, 2.0, 1.0), &bar(1.0, 2.0, 1.0).reverse_subpaths().reverse_subpaths());
        assert!((of(&cross).size() - 3.0).abs() < 1e-9);
        let turned = bar(0.0, 2.0, 1.0).reverse_subpaths();
        assert!((of(&turned).size() - 2.0).abs() < 1e-9);
        assert!((of(&turned).moved(Vec2::new(3.0, -1.0)).path(0.0).area() - 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_drawn_edge_leaves_out_what_nobody_sees_and_no_more() {
        let disc = of(&Circle::new((5.0, 5.0), 2.0).to_path(1e-6));
        let corners = |path: &BezPath| path.elements().len();
        let (all, few) = (disc.path(0.0), disc.path(0.005));
        assert!(corners(&few) * 3 < corners(&all) * 2, "{} {}", corners(&few), corners(&all));
        // A chord that leaves a circle by 5 µm cuts off less than 5 µm along its length.
        assert!((few.area() - all.area()).abs() < 0.006 * 4.0 * PI, "{}", few.area());
        // A square's corners are no such thing.
        assert_eq!(corners(&of(&bar(0.0, 1.0, 1.0)).path(0.005)), 5);
    }

    #[test]
    fn what_is_nothing_or_beyond_all_bounds_is_told_apart() {
        let nothing = of(&BezPath::new());
        assert!(nothing.is_empty() && nothing.opened(0.1).is_empty());
        assert!(nothing.bounds().is_none() && nothing.path(0.0).is_empty());
        assert!(of(&bar(0.0, 0.0, 3.0)).is_empty());
        assert!(Area::of(&bar(0.0, 1e9, 1.0)).is_none());
        let mut endless = BezPath::new();
        endless.move_to((f64::NAN, 0.0));
        assert!(Area::of(&endless).is_none());
        // A tool of no width leaves everything as it is; one as wide as a house leaves nothing.
        let square = of(&bar(0.0, 1.0, 1.0));
        assert!((square.opened(0.0).size() - 1.0).abs() < NEAR);
        assert!(square.opened(1e6).is_empty() && square.opened(20.0).is_empty());
    }
}
