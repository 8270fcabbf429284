//! Outlines of plates and their true insets.

use std::f64::consts::PI;

use kurbo::BezPath;

use crate::layout::{AtHoles, HandleLettering, HandleSize, Plate, Shape};

use super::curves::{Corner, closed_oval, closed_polygon, closed_rounded};
use super::edge;
use super::oval::Parallel;
use super::piece::EQUAL;
use super::region::Region;
use super::stretch::Interval;

/// A closed outline, mm in plate coordinates: a plate's edge, or a line that runs a
/// fixed distance inside it.
///
/// The inset is the true one: the edge of all points at least that far from the
/// plate's edge. A rounded corner of radius `r` becomes one of `r − inset`, and
/// square from there on; a notch grows; an oval becomes its parallel curve, which is
/// no ellipse, less the swallow-tails; round a corner that points into the plate runs
/// an arc, and where a neck is narrower than twice the inset the outline falls into
/// several rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Left, top, right, bottom of the edge that this outline runs inside.
    sides: [f64; 4],
    inset: f64,
    form: Form,
}

#[derive(Debug, Clone, PartialEq)]
enum Form {
    /// A rectangle whose corners have a radius in the edge.
    Box { corner: f64 },
    /// An ellipse or circle: the curve at the inset, long axis upright or not.
    Oval { curve: Parallel, tall: bool },
    /// Sides and arcs.
    Pieces(Region),
}

/// The plate's own edge.
#[must_use]
pub fn outline(plate: &Plate) -> Outline {
    Outline::new(plate.width, plate.height, &plate.shape)
}

/// The edge that the margin counts from: the plate's own, but for an ansate plate
/// whose lettering keeps between its handles; there it is that of the tablet, whose
/// short sides run on across the roots of the handles.
#[must_use]
pub fn lettering_edge(plate: &Plate) -> Outline {
    match &plate.shape {
        Shape::Ansate(handles) if handles.lettering == HandleLettering::Between => {
            let handle = handles.on(plate.width, plate.height);
            let sides = [handle.width, 0.0, plate.width - handle.width, plate.height];
            Outline::upright(sides, 0.0)
        }
        _ => outline(plate),
    }
}

/// The edge that the border's inset counts from: the plate's own, but where holes
/// are to stand outside the border it is the one that the margin counts from; the
/// border of an ansate plate then frames the tablet.
#[must_use]
pub fn border_edge(plate: &Plate) -> Outline {
    match plate.border {
        Some(border) if border.at_holes == AtHoles::HolesOutside => lettering_edge(plate),
        _ => outline(plate),
    }
}

impl Outline {
    /// The edge of a plate of a size in mm. Measures beyond what the shape allows are
    /// brought back to it; fewer than three points enclose nothing.
    #[must_use]
    pub fn new(width: f64, height: f64, shape: &Shape) -> Self {
        let short = width.min(height);
        let pieces = |edge| Form::Pieces(Region::whole(edge));
        let form = match shape {
            Shape::Rectangle => Form::Box { corner: 0.0 },
            Shape::Rounded { corner } => Form::Box { corner: corner.min(short / 2.0).max(0.0) },
            Shape::Oval | Shape::Circle => {
                let (a, b) = (width / 2.0, height / 2.0);
                let curve = Parallel::new(a.max(b), a.min(b), 0.0);
                Form::Oval { curve, tall: height > width }
            }
            Shape::Notched { corner } => {
                pieces(edge::notched(width, height, corner.clamp(0.0, short / 2.0)))
            }
            Shape::Arch { rise } => {
                let most = (width / 2.0).min(height);
                pieces(edge::arch(width, height, rise.unwrap_or(most).min(most)))
            }
            Shape::Ansate(handles) => {
                let handle = handles.on(width, height);
                let tip = handle.tip.min(height);
                let handle = HandleSize {
                    width: handle.width.min(width / 2.0),
                    root: handle.root.min(tip),
                    tip,
                };
                pieces(edge::ansate(width, height, handle))
            }
            Shape::Points(points) => pieces(edge::polygon(points)),
        };
        Self { sides: [0.0, 0.0, width, height], inset: 0.0, form }
    }

    /// An upright rectangle, its corners rounded.
    pub(super) fn upright(sides: [f64; 4], corner: f64) -> Self {
        Self { sides, inset: 0.0, form: Form::Box { corner } }
    }

    /// How far inside its edge this outline runs, mm; 0 is the edge.
    #[must_use]
    pub fn depth(&self) -> f64 {
        self.inset
    }

    /// The outline `by` mm further in (true inset: every point that far from this
    /// outline); `None` where nothing is left, not even a line's breadth. A `by`
    /// below 0 goes back out, but never past the plate's edge; one that is not a
    /// number gives `None`.
    #[must_use]
    pub fn inset(&self, by: f64) -> Option<Self> {
        let inset = if by.is_nan() { return None } else { (self.inset + by).max(0.0) };
        let [left, top, right, bottom] = self.sides;
        // No point lies deeper than half the short side.
        if 2.0 * inset >= (right - left).min(bottom - top) {
            return None;
        }
        let form = match &self.form {
            Form::Box { corner } => Form::Box { corner: *corner },
            Form::Oval { tall, .. } => {
                let (a, b) = ((right - left) / 2.0, (bottom - top) / 2.0);
                Form::Oval { curve: Parallel::new(a.max(b), a.min(b), inset), tall: *tall }
            }
            Form::Pieces(region) => Form::Pieces(region.at(inset)?),
        };
        Some(Self { sides: self.sides, inset, form })
    }

    /// The free stretches of the outline's inside at height `y`, left to right.
    #[must_use]
    pub fn chords(&self, y: f64) -> Vec<Interval> {
        let mut found = Vec::new();
        self.stretches(y, y, &mut found);
        found
    }

    /// The stretches that are free at every height of a band, left to right.
    #[must_use]
    pub fn free_across(&self, top: f64, bottom: f64) -> Vec<Interval> {
        let mut found = Vec::new();
        self.stretches(top, bottom, &mut found);
        found
    }

    /// Stretches inside the outline at every height of a band, left to right, into
    /// `found`, which is emptied first. None where the band leaves the outline by more
    /// than 1e-9 mm, is upside down, or is not a number.
    pub(super) fn stretches(&self, top: f64, bottom: f64, found: &mut Vec<Interval>) {
        found.clear();
        let (first, last) = self.extent();
        if !(top >= first - EQUAL && bottom <= last + EQUAL && top <= bottom) {
            return;
        }
        let (top, bottom) = (top.clamp(first, last), bottom.clamp(first, last));
        if let Form::Pieces(region) = &self.form {
            region.stretches(top, bottom, found);
            return;
        }
        // The ends of the chords of these convex outlines bulge, so the two outer
        // chords of the band decide; of those, by symmetry, the one farther out.
        let (centre_x, centre_y) = self.centre();
        let half = self.half_chord((top - centre_y).abs().max((bottom - centre_y).abs()));
        found.extend(half.map(|half| Interval { left: centre_x - half, right: centre_x + half }));
    }

    /// Half the chord of a symmetric outline at `off >= 0` mm from its middle.
    fn half_chord(&self, off: f64) -> Option<f64> {
        match &self.form {
            Form::Oval { curve, tall } => {
                if *tall {
                    curve.v_at(off.min(curve.reach()))
                } else {
                    curve.u_at(off.min(curve.height()))
                }
            }
            Form::Box { .. } => {
                let (half_width, half_height) = self.half();
                let corner = self.corner();
                let into = off.min(half_height) - (half_height - corner);
                if into > 0.0 {
                    // Inside the height of the corners: r − √(r² − into²) is lost a side.
                    let arc = ((corner - into) * (corner + into)).max(0.0).sqrt();
                    Some(half_width - corner + arc)
                } else {
                    Some(half_width)
                }
            }
            Form::Pieces(_) => None,
        }
    }

    /// Top and bottom of the outline, mm.
    #[must_use]
    pub fn extent(&self) -> (f64, f64) {
        let [_, top, _, bottom] = self.bounds();
        (top, bottom)
    }

    /// Left, top, right, bottom of the outline, mm. An oval inset by more than its
    /// least radius of curvature ends in a tip short of the plain inset.
    #[must_use]
    pub fn bounds(&self) -> [f64; 4] {
        let [left, top, right, bottom] = self.sides;
        let in_x = |by: f64| [left + by, top + self.inset, right - by, bottom - self.inset];
        match &self.form {
            Form::Box { .. } => in_x(self.inset),
            Form::Oval { curve, tall: false } => in_x((right - left) / 2.0 - curve.reach()),
            Form::Oval { curve, tall: true } => {
                let by = (bottom - top) / 2.0 - curve.reach();
                [left + self.inset, top + by, right - self.inset, bottom - by]
            }
            Form::Pieces(region) => region.bounds(),
        }
    }

    /// Shortest distance from a point to the outline, mm: positive inside, negative outside.
    #[must_use]
    pub fn depth_of(&self, x: f64, y: f64) -> f64 {
        let (centre_x, centre_y) = self.centre();
        let (off_x, off_y) = ((x - centre_x).abs(), (y - centre_y).abs());
        match &self.form {
            Form::Box { .. } => {
                let (half_width, half_height) = self.half();
                let corner = self.corner();
                let (past_x, past_y) = (off_x - half_width + corner, off_y - half_height + corner);
                let outside = libm::hypot(past_x.max(0.0), past_y.max(0.0));
                corner - outside - past_x.max(past_y).min(0.0)
            }
            Form::Oval { curve, tall: true } => curve.depth(off_y, off_x),
            Form::Oval { curve, tall: false } => curve.depth(off_x, off_y),
            Form::Pieces(region) => region.depth((x, y)),
        }
    }

    /// Least distance from an upright box (left, top, right, bottom) to the outline,
    /// mm; 0 where the outline enters the box, and below 0 as far as its farthest
    /// corner lies outside.
    #[must_use]
    pub fn depth_of_box(&self, sides: [f64; 4]) -> f64 {
        if let Form::Pieces(region) = &self.form {
            return region.depth_of_box(sides);
        }
        // Inside a convex outline the nearest point of a box is one of its corners.
        let [left, top, right, bottom] = sides;
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        corners.iter().map(|(x, y)| self.depth_of(*x, *y)).fold(f64::INFINITY, f64::min)
    }

    /// Whether a box takes something away from what is inside; touching does not count.
    pub(super) fn meets_box(&self, [left, top, right, bottom]: [f64; 4]) -> bool {
        if let Form::Pieces(region) = &self.form {
            return region.meets_box([left, top, right, bottom]);
        }
        let (first, last) = self.extent();
        let (from, to) = (first.max(top), last.min(bottom));
        if !(from < to && left < right) {
            return false;
        }
        // The outline is symmetric and convex: where the box comes nearest to the
        // middle line, the chord is widest to both sides.
        let (centre_x, centre_y) = self.centre();
        let half = self.half_chord((centre_y.clamp(from, to) - centre_y).abs());
        half.is_some_and(|half| centre_x - half < right && left < centre_x + half)
    }

    /// The outline as closed paths, one a round, clockwise as seen on the plate.
    /// Straight sides are exact; arcs and the oval's parallel curve are cubic Béziers
    /// that stay within 0.001 mm of the true line.
    #[must_use]
    pub fn paths(&self) -> Vec<BezPath> {
        let [left, top, right, bottom] = self.bounds();
        match &self.form {
            Form::Oval { curve, tall } => vec![closed_oval(curve, self.centre(), *tall)],
            Form::Box { .. } => {
                let corner = self.corner();
                if corner <= 0.0 {
                    let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
                    return vec![closed_polygon(&corners)];
                }
                let (across, down) =
                    ((left + corner, right - corner), (top + corner, bottom - corner));
                let corners = [
                    Corner { x: across.1, y: down.0, right: 1.0, down: -1.0 },
                    Corner { x: across.1, y: down.1, right: 1.0, down: 1.0 },
                    Corner { x: across.0, y: down.1, right: -1.0, down: 1.0 },
                    Corner { x: across.0, y: down.0, right: -1.0, down: -1.0 },
                ];
                vec![closed_rounded(corner, corners)]
            }
            Form::Pieces(region) => region.paths(),
        }
    }

    /// The parallel curve `by` mm outside an ellipse of a size, in the coordinates of the
    /// ellipse's own box; it is no ellipse.
    #[must_use]
    pub fn around_oval(width: f64, height: f64, by: f64) -> BezPath {
        let (a, b) = (width / 2.0, height / 2.0);
        let curve = Parallel::new(a.max(b), a.min(b), -by);
        closed_oval(&curve, (a, b), height > width)
    }

    /// All of [`Self::paths`] as one path.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let mut all = BezPath::new();
        for path in self.paths() {
            all.extend(path);
        }
        all
    }

    /// Area inside the outline, mm². Closed formulas, but for ovals inset by more
    /// than their least radius of curvature: there by Simpson's rule, to about
    /// 1e-9 of the area.
    #[must_use]
    pub fn area(&self) -> f64 {
        match &self.form {
            Form::Oval { curve, .. } => curve.area(),
            Form::Box { .. } => {
                let (half_width, half_height) = self.half();
                let corner = self.corner();
                4.0 * half_width * half_height - (4.0 - PI) * corner * corner
            }
            Form::Pieces(region) => region.area(),
        }
    }

    /// y of the centre of area, mm.
    pub(super) fn centre_y(&self) -> f64 {
        match &self.form {
            Form::Pieces(region) => region.centre_y(),
            Form::Box { .. } | Form::Oval { .. } => self.centre().1,
        }
    }

    /// Heights between which the width is smooth, from top to bottom.
    pub(super) fn breaks(&self) -> Vec<f64> {
        let (first, last) = self.extent();
        match &self.form {
            Form::Pieces(region) => region.breaks().collect(),
            Form::Box { .. } | Form::Oval { .. } => vec![first, self.centre().1, last],
        }
    }

    /// Whether the outline is convex.
    #[must_use]
    pub fn convex(&self) -> bool {
        match &self.form {
            Form::Pieces(region) => region.convex(),
            Form::Box { .. } | Form::Oval { .. } => true,
        }
    }

    /// Whether the outline is a plain upright rectangle.
    #[must_use]
    pub fn is_rectangle(&self) -> bool {
        match &self.form {
            Form::Box { .. } => self.corner() <= 0.0,
            Form::Oval { .. } => false,
            Form::Pieces(region) => region.is_rectangle(),
        }
    }

    /// Middle of the edge's box.
    fn centre(&self) -> (f64, f64) {
        let [left, top, right, bottom] = self.sides;
        (f64::midpoint(left, right), f64::midpoint(top, bottom))
    }

    /// Radius of this outline's corners; 0 where they are square.
    fn corner(&self) -> f64 {
        match self.form {
            Form::Box { corner } => (corner - self.inset).max(0.0),
            _ => 0.0,
        }
    }

    /// Half width and half height of the inset box.
    fn half(&self) -> (f64, f64) {
        let [left, top, right, bottom] = self.sides;
        ((right - left) / 2.0 - self.inset, (bottom - top) / 2.0 - self.inset)
    }
}
