//! What a clear zone takes out of the field: over a band of heights always one stretch,
//! since every zone is convex.
//!
//! All shapes but sides are symmetric about an upright line, and widest over a run of
//! heights, the waist. From there the width only falls, so that the widest place of a band
//! is the height of it nearest to the waist.

use kurbo::BezPath;

use super::arch::Arch;
use super::curves::{closed_oval, closed_pieces, closed_polygon};
use super::oval::Parallel;
use super::piece::{EQUAL, leg};
use super::stretch::Interval;
use super::{ClearZone, Outline, Side, ZoneShape};

/// Thirds that an interval is cut down to two of: 10⁻¹² of it is left.
const THIRDS: usize = 70;

/// Halvings by which the end of what blocks an upright line is found.
const UPRIGHT_HALVINGS: usize = 30;

impl ZoneShape {
    /// Left, top, right, bottom, mm; infinite where a side runs on.
    #[must_use]
    pub fn bounds(&self) -> [f64; 4] {
        let grown = |sides: [f64; 4], by: f64| {
            let [left, top, right, bottom] = sides;
            [left - by, top - by, right + by, bottom + by]
        };
        match *self {
            Self::Disc { x, y, radius } => grown([x, y, x, y], radius),
            Self::Box { x0, y0, x1, y1 } | Self::Rounded { x0, y0, x1, y1, .. } => [x0, y0, x1, y1],
            Self::Oval { x, y, across, down, gap } => {
                grown([x - across, y - down, x + across, y + down], gap)
            }
            Self::Arch { x0, y0, x1, y1, gap, .. } => grown([x0, y0, x1, y1], gap),
            Self::Side { side, at } => {
                let (less, more) = (f64::NEG_INFINITY, f64::INFINITY);
                match side {
                    Side::Left => [less, less, at, more],
                    Side::Right => [at, less, more, more],
                    Side::Top => [less, less, more, at],
                    Side::Bottom => [less, at, more, more],
                }
            }
        }
    }

    /// What the zone blocks over a band; `None` where it only touches or misses it.
    pub(super) fn shadow(&self, top: f64, bottom: f64) -> Option<Interval> {
        let [left, first, right, last] = self.bounds();
        if !(first < bottom && top < last && left < right) {
            return None;
        }
        if let Self::Box { .. } | Self::Side { .. } = self {
            return Some(Interval { left, right });
        }
        let (from, to) = self.waist()?;
        // The height of the band nearest to the waist.
        let half = self.half(top.max(from.min(bottom)).min(to.max(top)));
        let middle = f64::midpoint(left, right);
        (half > 0.0).then_some(Interval { left: middle - half, right: middle + half })
    }

    /// The heights between which it is widest; `None` of an arch without area.
    fn waist(&self) -> Option<(f64, f64)> {
        match *self {
            Self::Disc { y, .. } | Self::Oval { y, .. } => Some((y, y)),
            Self::Rounded { y0, y1, .. } => {
                let radius = self.corner();
                Some((y0 + radius, y1 - radius))
            }
            Self::Arch { .. } => Arch::of(self).map(|arch| (arch.spring, arch.foot)),
            Self::Box { .. } | Self::Side { .. } => {
                let [_, top, _, bottom] = self.bounds();
                Some((top, bottom))
            }
        }
    }

    /// The heights between which the zone blocks an upright line, rather too few by a
    /// billionth of its own height than too many; `None` where it blocks none of it.
    pub(super) fn blocked_upright(&self, x: f64) -> Option<(f64, f64)> {
        let [left, top, right, bottom] = self.bounds();
        if !(left < x && x < right) {
            return None;
        }
        if let Self::Box { .. } | Self::Side { .. } = self {
            return Some((top, bottom));
        }
        let blocked =
            |y: f64| self.shadow(y, y).is_some_and(|shade| shade.left < x && x < shade.right);
        let (from, to) = self.waist()?;
        let waist = f64::midpoint(from, to);
        // The width only falls from the waist on, so that what is blocked is one stretch.
        let end = |outside: f64| {
            let (mut inside, mut outside) = (waist, outside);
            for _ in 0..UPRIGHT_HALVINGS {
                let middle = f64::midpoint(inside, outside);
                if blocked(middle) {
                    inside = middle;
                } else {
                    outside = middle;
                }
            }
            inside
        };
        blocked(waist).then(|| (end(top), end(bottom)))
    }

    /// Half the width at a height within the bounds, mm.
    fn half(&self, at: f64) -> f64 {
        match *self {
            Self::Disc { y, radius, .. } => leg(radius, at - y),
            Self::Rounded { x0, y0, x1, y1, .. } => {
                let radius = self.corner();
                let off = (y0 + radius - at).max(at - y1 + radius).max(0.0);
                (x1 - x0) / 2.0 - radius + leg(radius, off)
            }
            Self::Oval { y, across, down, gap, .. } => {
                let off = (at - y).abs();
                let curve = Parallel::new(across.max(down), across.min(down), -gap.max(0.0));
                let half = if down > across { curve.v_at(off) } else { curve.u_at(off) };
                half.unwrap_or(0.0)
            }
            Self::Arch { .. } => Arch::of(self).map_or(0.0, |arch| arch.half_at(at)),
            Self::Box { x0, x1, .. } => (x1 - x0) / 2.0,
            Self::Side { .. } => f64::INFINITY,
        }
    }

    /// Radius of a rounded zone's corners; 0 of all others.
    fn corner(&self) -> f64 {
        match *self {
            Self::Rounded { x0, y0, x1, y1, radius } => {
                radius.min((x1 - x0) / 2.0).min((y1 - y0) / 2.0).max(0.0)
            }
            _ => 0.0,
        }
    }

    /// Heights between which the width is smooth.
    pub(super) fn breaks(&self) -> Vec<f64> {
        let [_, first, _, last] = self.bounds();
        let mut breaks = vec![first, last];
        match *self {
            Self::Disc { y, .. } | Self::Oval { y, .. } => breaks.push(y),
            Self::Rounded { .. } => {
                let radius = self.corner();
                breaks.extend([first + radius, last - radius]);
            }
            Self::Arch { .. } => {
                let arch = Arch::of(self);
                breaks.extend(arch.iter().flat_map(|arch| [arch.foot, arch.spring, arch.join().1]));
            }
            Self::Box { .. } | Self::Side { .. } => {}
        }
        breaks
    }

    /// The zone's edge, closed, within 0.001 mm; `None` of a side, which has no end, and
    /// of what has no area.
    #[must_use]
    pub fn path(&self) -> Option<BezPath> {
        let [left, top, right, bottom] = self.bounds();
        if !(left < right && top < bottom) {
            return None;
        }
        match *self {
            Self::Disc { x, y, radius } => {
                Some(closed_oval(&Parallel::new(radius, radius, 0.0), (x, y), false))
            }
            Self::Oval { x, y, across, down, gap } => {
                let curve = Parallel::new(across.max(down), across.min(down), -gap.max(0.0));
                Some(closed_oval(&curve, (x, y), down > across))
            }
            Self::Box { .. } => {
                Some(closed_polygon(&[(left, top), (right, top), (right, bottom), (left, bottom)]))
            }
            Self::Rounded { .. } => {
                let outline = Outline::upright([left, top, right, bottom], self.corner());
                Some(outline.path())
            }
            Self::Arch { .. } => Arch::of(self).map(|arch| closed_pieces(&arch.pieces())),
            Self::Side { .. } => None,
        }
    }
}

/// Whether a zone takes something away from an outline; touching does not count. Of an
/// outline that is not convex an oval, a rounded box or an arch is said to do so where its
/// box does.
pub(super) fn reaches(outline: &Outline, zone: &ClearZone) -> bool {
    match zone.shape {
        ZoneShape::Disc { x, y, radius } => radius > 0.0 && outline.depth_of(x, y) + radius > EQUAL,
        ZoneShape::Side { .. } => {
            let ([left, top, right, bottom], [x0, y0, x1, y1]) =
                (outline.bounds(), zone.shape.bounds());
            x0 < right && left < x1 && y0 < bottom && top < y1
        }
        shape if !outline.meets_box(shape.bounds()) => false,
        ZoneShape::Box { .. } => true,
        shape => {
            // Most have their middle inside.
            let [left, top, right, bottom] = shape.bounds();
            let middle = (f64::midpoint(left, right), f64::midpoint(top, bottom));
            !outline.convex()
                || outline.depth_of(middle.0, middle.1) > EQUAL
                || overlap(outline, &shape) > EQUAL
        }
    }
}

/// The widest stretch at any height that a convex outline and a zone have in common, mm:
/// its width over the heights is a concave function.
fn overlap(outline: &Outline, shape: &ZoneShape) -> f64 {
    let [_, first, _, last] = shape.bounds();
    let (top, bottom) = outline.extent();
    let mut found = Vec::new();
    let mut common = |y: f64| {
        outline.stretches(y, y, &mut found);
        let both = found.first().zip(shape.shadow(y, y));
        both.map_or(f64::NEG_INFINITY, |(free, shade)| {
            free.right.min(shade.right) - free.left.max(shade.left)
        })
    };
    let (mut from, mut to) = (first.max(top), last.min(bottom));
    let mut most = f64::NEG_INFINITY;
    for _ in 0..THIRDS {
        let third = (to - from) / 3.0;
        let (low, high) = (common(from + third), common(to - third));
        most = most.max(low).max(high);
        if low < high {
            from += third;
        } else {
            to -= third;
        }
    }
    most
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use kurbo::{PathEl, Shape as _};

    use super::*;
    use crate::layout::Shape;
    use crate::plate::ZoneKind;

    fn half(shape: ZoneShape, top: f64, bottom: f64) -> f64 {
        shape.shadow(top, bottom).map_or(0.0, |shade| (shade.right - shade.left) / 2.0)
    }

    fn oval(across: f64, down: f64, gap: f64) -> ZoneShape {
        ZoneShape::Oval { x: 50.0, y: 40.0, across, down, gap }
    }

    /// Half the width at `y` of all discs of a radius about points of a line.
    fn walked(points: impl Iterator<Item = (f64, f64)>, radius: f64, y: f64) -> f64 {
        let each = points.filter(|(_, at)| (at - y).abs() <= radius);
        each.map(|(x, at)| x + leg(radius, at - y)).fold(0.0, f64::max)
    }

    #[test]
    fn an_oval_with_its_gap_is_as_wide_as_discs_all_along_its_edge() {
        for (across, down, gap) in
            [(30.0, 20.0, 5.0), (12.0, 33.0, 2.5), (20.0, 20.0, 4.0), (40.0, 3.0, 9.0)]
        {
            for step in 0..40 {
                let off = (down + gap) * f64::from(step) / 40.0;
                let edge = (0..=400_000).map(|step| {
                    let (sin, cos) = libm::sincos(PI / 2.0 * f64::from(step) / 400_000.0);
                    (across * cos, down * sin)
                });
                let (got, all) =
                    (half(oval(across, down, gap), 40.0 + off, 90.0), walked(edge, gap, off));
                assert!((got - all).abs() < 1e-7, "{across} {down} {gap}, {off}: {got} for {all}");
                // As wide above the middle as below it.
                let above = half(oval(across, down, gap), -90.0, 40.0 - off);
                assert!((above - got).abs() < 1e-12);
            }
        }
        // It is not the ellipse with longer half axes, which has 28 mm there: shapely 2.2
        // (GEOS 3.14) makes it 28.1192 mm.
        assert!((half(oval(30.0, 20.0, 5.0), 55.0, 56.0) - 28.1192).abs() < 1e-4);
        // A band across the middle has it whole; one that only touches it, nothing.
        assert!((half(oval(30.0, 20.0, 5.0), 20.0, 41.0) - 35.0).abs() < 1e-12);
        assert_eq!(oval(30.0, 20.0, 5.0).shadow(65.0, 70.0), None);
        assert_eq!(oval(30.0, 20.0, 5.0).shadow(0.0, 15.0), None);
        assert_eq!(oval(30.0, 20.0, 5.0).shadow(f64::NAN, 40.0), None);
    }

    #[test]
    fn a_rounded_box_is_as_wide_as_worked_out_by_hand() {
        // 40 x 20 mm at (10, 10) with corners of 5 mm, 3 mm all round: corners of 8 mm.
        let zone = ZoneShape::Rounded { x0: 7.0, y0: 7.0, x1: 53.0, y1: 33.0, radius: 8.0 };
        assert!((half(zone, 20.0, 21.0) - 23.0).abs() < 1e-12);
        // 4.8 mm up into a corner of 8 mm: 6.4 of its 8 mm are left.
        assert!((half(zone, 0.0, 10.2) - (15.0 + 6.4)).abs() < 1e-12);
        assert!((half(zone, 29.8, 99.0) - (15.0 + 6.4)).abs() < 1e-12);
        assert!((half(zone, 0.0, 99.0) - 23.0).abs() < 1e-12);
        assert_eq!(zone.shadow(33.0, 40.0), None);
        // Corners larger than the box make a capsule.
        let capsule = ZoneShape::Rounded { x0: 0.0, y0: 0.0, x1: 40.0, y1: 20.0, radius: 99.0 };
        assert!((half(capsule, 0.0, 4.0) - (10.0 + 8.0)).abs() < 1e-12);
    }

    fn some_of_each() -> [ZoneShape; 8] {
        let (x0, y0, x1, y1) = (20.0, 12.0, 62.0, 48.0);
        [
            ZoneShape::Disc { x: 50.0, y: 30.0, radius: 9.0 },
            ZoneShape::Box { x0, y0, x1, y1 },
            ZoneShape::Rounded { x0, y0, x1, y1, radius: 7.0 },
            oval(22.0, 14.0, 3.0),
            oval(9.0, 26.0, 4.5),
            ZoneShape::Arch { x0, y0, x1, y1, rise: 21.0, gap: 4.0 },
            ZoneShape::Arch { x0, y0, x1, y1, rise: 6.0, gap: 4.0 },
            ZoneShape::Arch { x0, y0, x1, y1, rise: 0.0, gap: 0.0 },
        ]
    }

    #[test]
    fn what_blocks_an_upright_line_is_what_its_shadows_say() {
        for shape in some_of_each() {
            let [left, top, right, bottom] = shape.bounds();
            for step in 0..=40 {
                let x = left + (right - left) * f64::from(step) / 40.0;
                let found = shape.blocked_upright(x);
                for level in 0..=1000 {
                    let y = top + (bottom - top) * f64::from(level) / 1000.0;
                    let shaded = shape.shadow(y, y);
                    let shaded = shaded.is_some_and(|shade| shade.left < x && x < shade.right);
                    let said =
                        |by: f64| found.is_some_and(|(from, to)| from + by < y && y < to - by);
                    assert!(shaded || !said(0.0), "{shape:?} at {x}, {y}");
                    assert!(!shaded || said(-1e-6), "{shape:?} at {x}, {y}");
                }
            }
            assert_eq!(shape.blocked_upright(left), None);
            assert_eq!(shape.blocked_upright(f64::NAN), None);
        }
        // A disc of 5 mm, 3 mm off its middle: 4 mm up and down.
        let disc = ZoneShape::Disc { x: 10.0, y: 20.0, radius: 5.0 };
        let (from, to) = disc.blocked_upright(13.0).unwrap();
        assert!((from - 16.0).abs() < 1e-7 && (to - 24.0).abs() < 1e-7);
        let side = ZoneShape::Side { side: Side::Top, at: 30.0 };
        assert!(side.blocked_upright(7.0).is_some_and(|(from, to)| from < -1e300 && to > 29.9));
    }

    #[test]
    fn the_drawn_edge_is_the_edge_of_what_is_blocked() {
        for shape in some_of_each() {
            let path = shape.path().unwrap();
            let [left, top, right, bottom] = shape.bounds();
            let drawn = path.bounding_box();
            for (drawn, said) in
                [(drawn.x0, left), (drawn.y0, top), (drawn.x1, right), (drawn.y1, bottom)]
            {
                assert!((drawn - said).abs() < 0.001, "{shape:?}");
            }
            assert!(path.area() > 0.0, "clockwise: {shape:?}");
            let middle = (f64::midpoint(left, right), f64::midpoint(top, bottom));
            kurbo::flatten(&path, 0.0005, |element| {
                let (PathEl::MoveTo(at) | PathEl::LineTo(at)) = element else { return };
                let blocked = |by: f64| {
                    let reach = libm::hypot(at.x - middle.0, at.y - middle.1);
                    let share = (reach + by) / reach;
                    let (x, y) = (
                        middle.0 + (at.x - middle.0) * share,
                        middle.1 + (at.y - middle.1) * share,
                    );
                    shape.shadow(y, y).is_some_and(|shade| shade.left < x && x < shade.right)
                };
                assert!(blocked(-0.01) && !blocked(0.01), "{shape:?} at {at:?}");
            });
        }
    }

    #[test]
    fn areas_with_a_gap_are_those_of_steiners_formula() {
        // area + perimeter · gap + π · gap², for every convex shape.
        let (x0, y0, x1, y1) = (20.0, 12.0, 60.0, 48.0);
        let gap = 4.0;
        let tall = y1 - y0;
        for (rise, area, around) in [
            (20.0, 40.0 * (tall - 20.0) + PI * 200.0, 40.0 + 2.0 * (tall - 20.0) + PI * 20.0),
            (0.0, 40.0 * tall, 2.0 * (40.0 + tall)),
        ] {
            let shape = ZoneShape::Arch { x0, y0, x1, y1, rise, gap };
            let wanted = area + around * gap + PI * gap * gap;
            let drawn = shape.path().unwrap().area();
            assert!((drawn - wanted).abs() < 0.001 * around, "{rise}: {drawn} for {wanted}");
        }
        // Half axes 20 and 10: perimeter 8 · 10 · E(√3/2), Abramowitz and Stegun, table 17.1.
        let around = 80.0 * 1.211_056_027_568_459_5;
        let wanted = PI * 200.0 + around * gap + PI * gap * gap;
        let drawn = oval(20.0, 10.0, gap).path().unwrap().area();
        assert!((drawn - wanted).abs() < 0.001 * around, "{drawn} for {wanted}");
    }

    fn takes(outline: &Outline, shape: ZoneShape) -> bool {
        reaches(outline, &ClearZone { shape, kind: ZoneKind::Photo(0) })
    }

    #[test]
    fn a_zone_reaches_in_where_its_edge_does_and_not_where_only_its_box_does() {
        // The corner (100, 80) of a rectangle, in the direction of 3 to 4 from a disc's
        // middle: a disc, and others that are one there, end 10 mm from it.
        let rectangle = Outline::new(100.0, 80.0, &Shape::Rectangle);
        for (by, inside) in [(1e-6, false), (-1e-6, true)] {
            let (x, y) = (106.0 + by * 0.6, 88.0 + by * 0.8);
            let disc = ZoneShape::Disc { x, y, radius: 10.0 };
            let round = ZoneShape::Oval { x, y, across: 4.0, down: 4.0, gap: 6.0 };
            let rounded = ZoneShape::Rounded {
                x0: x - 10.0,
                y0: y - 10.0,
                x1: x + 30.0,
                y1: y + 30.0,
                radius: 10.0,
            };
            assert_eq!(takes(&rectangle, disc), inside, "{by}");
            assert_eq!(takes(&rectangle, round), inside, "{by}");
            assert_eq!(takes(&rectangle, rounded), inside, "{by}");
            // The same at the corner (100, 0), by the disc about an arch's left foot.
            let (x0, y1) = (106.0 + by * 0.6, -8.0 - by * 0.8);
            let (y0, x1) = (y1 - 28.0, x0 + 16.0);
            let arch = ZoneShape::Arch { x0, y0, x1, y1, rise: 8.0, gap: 10.0 };
            assert_eq!(takes(&rectangle, arch), inside, "{by}");
        }
        // Touching an oval's end does not count.
        let plate = Outline::new(100.0, 80.0, &Shape::Oval);
        for (by, inside) in [(1e-6, false), (-1e-6, true)] {
            let shape =
                ZoneShape::Oval { x: 120.0 + by, y: 40.0, across: 16.0, down: 9.0, gap: 4.0 };
            assert_eq!(takes(&plate, shape), inside, "{by}");
        }
    }

    #[test]
    fn a_side_reaches_in_from_its_own_side_alone() {
        let plate = Outline::new(100.0, 80.0, &Shape::Arch { rise: None });
        for (side, not, yet) in [
            (Side::Left, 0.0, 0.001),
            (Side::Right, 100.0, 99.999),
            (Side::Top, 0.0, 0.001),
            (Side::Bottom, 80.0, 79.999),
        ] {
            assert!(!takes(&plate, ZoneShape::Side { side, at: not }), "{side:?}");
            assert!(takes(&plate, ZoneShape::Side { side, at: yet }), "{side:?}");
        }
        let left = ZoneShape::Side { side: Side::Left, at: 30.0 };
        let shade = left.shadow(1.0, 2.0).unwrap();
        assert!(shade.left < -1e300 && (shade.right - 30.0).abs() < 1e-12);
        let top = ZoneShape::Side { side: Side::Top, at: 30.0 };
        assert!(top.shadow(29.0, 40.0).is_some_and(|shade| shade.right > 1e300));
        assert_eq!(top.shadow(30.0, 40.0), None);
        assert!(top.path().is_none());
    }
}
