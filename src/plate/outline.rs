//! Outlines of plates and their true insets.

use std::f64::consts::PI;

use kurbo::BezPath;

use crate::layout::{Plate, Shape};

use super::curves::{Corner, closed_oval, closed_polygon, closed_rounded};
use super::oval::Parallel;

/// A closed convex outline, mm in plate coordinates, symmetric about both middle
/// lines of its plate.
///
/// `width`, `height` and `shape` are the plate's; `inset` says how far inside its
/// edge this outline runs. The inset is the true one: the edge of all points at
/// least that far from the plate's edge. A rounded corner of radius `r` becomes
/// one of `r − inset`, and square from there on; an oval becomes its parallel
/// curve, which is no ellipse, less the swallow-tails.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    /// Plate width, mm.
    pub width: f64,
    /// Plate height, mm.
    pub height: f64,
    /// Shape.
    pub shape: Shape,
    /// How far inside the plate's edge this outline runs, mm; 0 is the edge.
    pub inset: f64,
}

/// The plate's own edge.
#[must_use]
pub fn outline(plate: &Plate) -> Outline {
    Outline { width: plate.width, height: plate.height, shape: plate.shape, inset: 0.0 }
}

impl Outline {
    /// The outline `by` mm further in (true inset: every point that far from this
    /// outline); `None` where nothing is left, not even a line's breadth. A `by`
    /// below 0 goes back out, but never past the plate's edge; one that is not a
    /// number gives `None`.
    #[must_use]
    pub fn inset(&self, by: f64) -> Option<Self> {
        let inset = if by.is_nan() { return None } else { (self.inset + by).max(0.0) };
        // For every shape here the deepest point lies half the short side in.
        (2.0 * inset < self.width.min(self.height)).then_some(Self { inset, ..*self })
    }

    /// Left and right end of the outline's chord at height `y`; `None` outside it.
    #[must_use]
    pub fn chord(&self, y: f64) -> Option<(f64, f64)> {
        let (centre_x, centre_y) = self.centre();
        let half = self.half_chord((y - centre_y).abs())?;
        Some((centre_x - half, centre_x + half))
    }

    /// Half the chord at `off >= 0` mm above or below the middle.
    fn half_chord(&self, off: f64) -> Option<f64> {
        let (half_width, half_height) = self.half();
        match self.shape {
            Shape::Rectangle | Shape::Rounded { .. } => {
                let corner = self.corner();
                let into = off - (half_height - corner);
                if off <= half_height && into > 0.0 {
                    // Inside the height of the corners: r − √(r² − into²) is lost a side.
                    let arc = ((corner - into) * (corner + into)).max(0.0).sqrt();
                    Some(half_width - corner + arc)
                } else {
                    (off <= half_height).then_some(half_width)
                }
            }
            Shape::Oval | Shape::Circle => {
                let curve = self.parallel();
                if self.tall() { curve.v_at(off) } else { curve.u_at(off) }
            }
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
        let (mut left, mut top) = (self.inset, self.inset);
        if matches!(self.shape, Shape::Oval | Shape::Circle) {
            let reach = self.parallel().reach();
            if self.tall() {
                top = self.height / 2.0 - reach;
            } else {
                left = self.width / 2.0 - reach;
            }
        }
        [left, top, self.width - left, self.height - top]
    }

    /// Shortest distance from a point to the outline, mm: positive inside, negative outside.
    #[must_use]
    pub fn depth_of(&self, x: f64, y: f64) -> f64 {
        let (centre_x, centre_y) = self.centre();
        let (off_x, off_y) = ((x - centre_x).abs(), (y - centre_y).abs());
        match self.shape {
            Shape::Rectangle | Shape::Rounded { .. } => {
                let (half_width, half_height) = self.half();
                let corner = self.corner();
                let (past_x, past_y) = (off_x - half_width + corner, off_y - half_height + corner);
                let outside = libm::hypot(past_x.max(0.0), past_y.max(0.0));
                corner - outside - past_x.max(past_y).min(0.0)
            }
            Shape::Oval | Shape::Circle if self.tall() => self.parallel().depth(off_y, off_x),
            Shape::Oval | Shape::Circle => self.parallel().depth(off_x, off_y),
        }
    }

    /// The outline as a closed path, clockwise as seen on the plate. Straight sides
    /// are exact; arcs and the oval's parallel curve are cubic Béziers that stay
    /// within 0.001 mm of the true line.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let [left, top, right, bottom] = self.bounds();
        match self.shape {
            Shape::Oval | Shape::Circle => {
                closed_oval(&self.parallel(), self.centre(), self.tall())
            }
            Shape::Rectangle | Shape::Rounded { .. } => {
                let corner = self.corner();
                if corner <= 0.0 {
                    closed_polygon(&[(left, top), (right, top), (right, bottom), (left, bottom)])
                } else {
                    let (across, down) =
                        ((left + corner, right - corner), (top + corner, bottom - corner));
                    closed_rounded(
                        corner,
                        [
                            Corner { x: across.1, y: down.0, right: 1.0, down: -1.0 },
                            Corner { x: across.1, y: down.1, right: 1.0, down: 1.0 },
                            Corner { x: across.0, y: down.1, right: -1.0, down: 1.0 },
                            Corner { x: across.0, y: down.0, right: -1.0, down: -1.0 },
                        ],
                    )
                }
            }
        }
    }

    /// Area inside the outline, mm². Closed formulas, but for ovals inset by more
    /// than their least radius of curvature: there by Simpson's rule, to about
    /// 1e-9 of the area.
    #[must_use]
    pub fn area(&self) -> f64 {
        match self.shape {
            Shape::Oval | Shape::Circle => self.parallel().area(),
            Shape::Rectangle | Shape::Rounded { .. } => {
                let (half_width, half_height) = self.half();
                let corner = self.corner();
                4.0 * half_width * half_height - (4.0 - PI) * corner * corner
            }
        }
    }

    /// Whether the outline is a plain upright rectangle.
    #[must_use]
    pub fn is_rectangle(&self) -> bool {
        matches!(self.shape, Shape::Rectangle | Shape::Rounded { .. }) && self.corner() <= 0.0
    }

    /// Middle of the plate.
    pub(super) fn centre(&self) -> (f64, f64) {
        (self.width / 2.0, self.height / 2.0)
    }

    /// Radius of this outline's corners; 0 where they are square.
    fn corner(&self) -> f64 {
        let Shape::Rounded { corner } = self.shape else { return 0.0 };
        let most = self.width.min(self.height) / 2.0;
        (corner.min(most) - self.inset).max(0.0)
    }

    /// Half width and half height of the inset box.
    fn half(&self) -> (f64, f64) {
        (self.width / 2.0 - self.inset, self.height / 2.0 - self.inset)
    }

    /// Whether the long axis stands upright.
    fn tall(&self) -> bool {
        self.height > self.width
    }

    /// The curve of an oval or circle.
    fn parallel(&self) -> Parallel {
        let (a, b) = (self.width / 2.0, self.height / 2.0);
        Parallel::new(a.max(b), a.min(b), self.inset)
    }
}
