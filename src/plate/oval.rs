//! The curve that runs a fixed distance inside an ellipse, or outside it.
//!
//! That curve is not an ellipse. Where the distance is more than the ellipse's
//! least radius of curvature, `b²/a`, the plain parallel curve crosses itself
//! near the ends of the long axis (a swallow-tail); what is wanted is then only
//! the part whose points really stand that far from the edge, and it meets
//! itself in a sharp tip. Everything here is about the origin, `u` along the
//! longer half axis, `v` along the shorter, by symmetry in the first quadrant.

use std::f64::consts::{FRAC_PI_2, PI};

/// Halvings after which an interval from [`HAIR`] upwards has nothing left to halve.
const HALVINGS: usize = 120;

/// Share of a half axis that makes no difference: no distance changes by more.
const HAIR: f64 = 1e-15;

/// Steps of Simpson's rule for the area of a tipped curve.
const AREA_STEPS: u32 = 2048;

/// The parallel curve of an ellipse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Parallel {
    /// Longer half axis of the ellipse, mm.
    major: f64,
    /// Shorter half axis, mm.
    minor: f64,
    /// Distance inside, mm; below the shorter half axis, and below 0 outside.
    inset: f64,
    /// Parameter of the ellipse at which the curve begins on the long axis, with its sine.
    start: f64,
    first_sine: f64,
}

impl Parallel {
    /// The curve `inset` mm inside the ellipse with half axes `major >= minor`; outside it
    /// where that is below 0, and there it never has a tip.
    pub(super) fn new(major: f64, minor: f64, inset: f64) -> Self {
        let first_sine = if inset * major <= minor * minor {
            0.0
        } else {
            // v = 0 away from the vertex: b·w = a·d, with w² = b² + (a² − b²)·sin²t.
            let w = inset * major / minor;
            let square = (w * w - minor * minor) / (major * major - minor * minor);
            square.clamp(0.0, 1.0).sqrt()
        };
        Self { major, minor, inset, start: libm::asin(first_sine), first_sine }
    }

    /// Parameter at the long axis; above 0 where the curve has a tip.
    pub(super) fn start(&self) -> f64 {
        self.start
    }

    /// The point of the curve whose nearest point of the ellipse is at parameter `t`.
    pub(super) fn at(&self, t: f64) -> (f64, f64) {
        let (sin, cos) = libm::sincos(t);
        let w = libm::hypot(self.minor * cos, self.major * sin);
        let u = cos * (self.major - self.inset * self.minor / w);
        let v = sin * (self.minor - self.inset * self.major / w);
        (u, v)
    }

    /// Derivative of [`Self::at`]: the ellipse's own, shortened by `1 − d/ρ`
    /// with ρ the radius of curvature.
    pub(super) fn tangent(&self, t: f64) -> (f64, f64) {
        let (sin, cos) = libm::sincos(t);
        let w = libm::hypot(self.minor * cos, self.major * sin);
        let share = 1.0 - self.inset * self.major * self.minor / (w * w * w);
        (-self.major * sin * share, self.minor * cos * share)
    }

    /// Greatest `u` of the curve.
    pub(super) fn reach(&self) -> f64 {
        if self.start > 0.0 { self.at(self.start).0 } else { self.major - self.inset }
    }

    /// Greatest `v` of the curve.
    pub(super) fn height(&self) -> f64 {
        self.minor - self.inset
    }

    /// `u >= 0` of the curve at `v >= 0`; `None` beyond it.
    pub(super) fn u_at(&self, v: f64) -> Option<f64> {
        if !(0.0..=self.height()).contains(&v) {
            return None;
        }
        if self.inset.abs() <= 0.0 {
            return Some(across(self.major, self.minor, v));
        }
        let (sine, w) = self.root((self.minor, self.major), (self.first_sine, 1.0), v);
        let cosine = ((1.0 - sine) * (1.0 + sine)).max(0.0).sqrt();
        Some((cosine * (self.major - self.inset * self.minor / w)).max(0.0))
    }

    /// `v >= 0` of the curve at `u >= 0`; `None` beyond it.
    pub(super) fn v_at(&self, u: f64) -> Option<f64> {
        if !(0.0..=self.reach()).contains(&u) {
            return None;
        }
        if self.inset.abs() <= 0.0 {
            return Some(across(self.minor, self.major, u));
        }
        let last = ((1.0 - self.first_sine) * (1.0 + self.first_sine)).sqrt();
        let (cosine, w) = self.root((self.major, self.minor), (0.0, last), u);
        let sine = ((1.0 - cosine) * (1.0 + cosine)).max(0.0).sqrt();
        Some((sine * (self.minor - self.inset * self.major / w)).max(0.0))
    }

    /// The sine (or cosine) x of the parameter at which `x·(p − d·q/w)` comes to
    /// `wanted`, with `w² = p² + (q² − p²)·x²`, which is returned too. From the tip
    /// on the curve has no cusp, so that rises all the way, with the slope
    /// `p − d·q·p²/w³`: Newton's steps from where a straight rise would have it, and
    /// halving where one leaves the bracket. No sine is taken on the way.
    fn root(&self, (p, q): (f64, f64), (mut low, mut high): (f64, f64), wanted: f64) -> (f64, f64) {
        let (square, more, pull) = (p * p, (q - p) * (q + p), self.inset * q);
        let at = |x: f64| {
            let w = (square + more * x * x).sqrt();
            (x * (p - pull / w) - wanted, p - pull * square / (w * w * w), w)
        };
        let whole = high * (p - pull / (square + more * high * high).sqrt());
        let mut x = (high * (wanted / whole)).clamp(low, high);
        if x.is_nan() {
            x = f64::midpoint(low, high);
        }
        for _ in 0..HALVINGS {
            let (value, slope, _) = at(x);
            if value < 0.0 {
                low = x;
            } else {
                high = x;
            }
            let newton = x - value / slope;
            // Not a number, at slope 0, is not inside either.
            let next =
                if newton >= low && newton <= high { newton } else { f64::midpoint(low, high) };
            if (next - x).abs() <= f64::EPSILON * x {
                break;
            }
            x = next;
        }
        (x, at(x).2)
    }

    /// Signed distance to the curve, positive inside.
    pub(super) fn depth(&self, u: f64, v: f64) -> f64 {
        let (u, v) = (u.abs(), v.abs());
        let (foot_u, foot_v) = nearest(self.major, self.minor, u, v);
        let gap = libm::hypot(u - foot_u, v - foot_v);
        let inside = square(u / self.major) + square(v / self.minor) <= 1.0;
        let depth = if inside { gap } else { -gap } - self.inset;
        // A point outside whose normal of the ellipse was cut away with the
        // swallow-tail is nearest to the tip.
        if depth < 0.0 && self.start > 0.0 && foot_v < self.minor * self.first_sine {
            return -libm::hypot(u - self.reach(), v);
        }
        depth
    }

    /// Area inside the curve.
    pub(super) fn area(&self) -> f64 {
        if self.start > 0.0 {
            return self.tipped_area();
        }
        // Steiner's formula for inner parallels without a swallow-tail.
        PI * self.major * self.minor - self.inset * perimeter(self.major, self.minor)
            + PI * self.inset * self.inset
    }

    /// `4·½·∫(u·dv − v·du)` from the tip to the short axis, by Simpson's rule.
    fn tipped_area(&self) -> f64 {
        let step = (FRAC_PI_2 - self.start) / f64::from(AREA_STEPS);
        let mut sum = 0.0;
        for index in 0..=AREA_STEPS {
            let t = self.start + step * f64::from(index);
            let ((u, v), (du, dv)) = (self.at(t), self.tangent(t));
            let weight = match index {
                0 | AREA_STEPS => 1.0,
                odd if odd % 2 == 1 => 4.0,
                _ => 2.0,
            };
            sum += weight * (u * dv - v * du);
        }
        2.0 * sum * step / 3.0
    }
}

/// Half chord along the half axis `along` of an ellipse, `off` mm from the
/// centre along its other half axis.
fn across(along: f64, other: f64, off: f64) -> f64 {
    along * ((other - off) * (other + off)).max(0.0).sqrt() / other
}

/// Perimeter of an ellipse, by the arithmetic-geometric mean (Gauss):
/// `2π/M(a, b) · (a² − Σ 2ⁿ⁻¹·cₙ²)`.
fn perimeter(major: f64, minor: f64) -> f64 {
    let (mut a, mut g) = (major, minor);
    let mut weight = 0.5;
    let mut sum = weight * (major * major - minor * minor);
    // Twenty steps double the digits twenty times: more than enough for any ratio.
    for _ in 0..20 {
        if a - g <= 1e-15 * a {
            break;
        }
        let c = 0.5 * (a - g);
        (a, g) = (0.5 * (a + g), (a * g).sqrt());
        weight *= 2.0;
        sum += weight * c * c;
    }
    2.0 * PI / a * (major * major - sum)
}

/// The point of the ellipse nearest to a point of the first quadrant, by the
/// root that D. Eberly isolates in "Distance from a Point to an Ellipse"
/// (Geometric Tools, 2013): on its interval the function falls all the way.
fn nearest(major: f64, minor: f64, u: f64, v: f64) -> (f64, f64) {
    if v <= HAIR * minor {
        let (top, bottom) = (major * u, major * major - minor * minor);
        if top >= bottom {
            return (major, 0.0);
        }
        let share = top / bottom;
        return (major * share, minor * ((1.0 - share) * (1.0 + share)).sqrt());
    }
    if u <= 0.0 {
        return (0.0, minor);
    }
    let (z0, z1) = (u / major, v / minor);
    let ratio = square(major / minor);
    // His unknown is s; it is sought here as p = s + 1, since near the long axis s
    // comes so close to −1 that a double cannot tell its distance from it.
    let more = (major - minor) * (major + minor) / square(minor);
    let (mut low, mut high) = (z1, libm::hypot(ratio * z0, z1).max(1.0));
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if square(ratio * z0 / (middle + more)) + square(z1 / middle) > 1.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let root = f64::midpoint(low, high);
    (ratio * u / (root + more), v / root)
}

fn square(value: f64) -> f64 {
    value * value
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Least distance to the ellipse by walking it.
    fn walked(major: f64, minor: f64, u: f64, v: f64) -> f64 {
        (0..200_000)
            .map(|step| {
                let (sin, cos) = libm::sincos(2.0 * PI * f64::from(step) / 200_000.0);
                libm::hypot(major * cos - u, minor * sin - v)
            })
            .fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn depth_agrees_with_walking_the_ellipse() {
        for (u, v) in [(0.0, 0.0), (30.0, 1.0), (55.0, 0.0), (10.0, 25.0), (59.0, 3.0), (45.0, 0.0)]
        {
            let got = Parallel::new(60.0, 30.0, 0.0).depth(u, v);
            assert!((got - walked(60.0, 30.0, u, v)).abs() < 1e-6, "at {u}, {v}: {got}");
        }
        assert!((Parallel::new(60.0, 30.0, 0.0).depth(70.0, 0.0) + 10.0).abs() < 1e-12);
        assert!((Parallel::new(60.0, 30.0, 0.0).depth(0.0, 37.0) + 7.0).abs() < 1e-12);
    }

    #[test]
    fn a_hair_off_the_long_axis_is_as_deep_as_on_it() {
        // Once 0.05 mm off, where the search lost the point's height to rounding.
        let slender = Parallel::new(82.0783, 13.99663, 13.334);
        for u in [0.0, 10.0, 23.74, 70.0, 82.0] {
            for v in [1e-18, 1.7e-15, 1e-12, 1e-9] {
                let gap = slender.depth(u, v) - slender.depth(u, 0.0);
                assert!(gap.abs() < 1e-8, "{u}, {v}: {gap}");
            }
        }
    }

    #[test]
    fn the_perimeter_of_an_ellipse_is_right() {
        assert!((perimeter(10.0, 10.0) - 20.0 * PI).abs() < 1e-12);
        // 2:1 ellipse with half axes 2 and 1: 4·a·E(e), E(√3/2) = 1.2110560275684595
        // (Abramowitz and Stegun, table 17.1, m = 0.75: 1.21105 60276).
        assert!((perimeter(2.0, 1.0) - 8.0 * 1.211_056_027_568_459_5).abs() < 1e-12);
    }

    #[test]
    fn beyond_the_least_radius_of_curvature_the_curve_ends_in_a_tip() {
        // Least radius 30²/60 = 15; at 20 mm in, the plain parallel would end at 40.
        let curve = Parallel::new(60.0, 30.0, 20.0);
        // By hand: w = 20·60/30 = 40, sin²t = (1600 − 900)/2700, u = cos t·(60 − 900/60).
        let tip = (1.0f64 - 700.0 / 2700.0).sqrt() * 45.0;
        assert!((curve.reach() - tip).abs() < 1e-12);
        assert!((walked(60.0, 30.0, tip, 0.0) - 20.0).abs() < 1e-6);
        assert!(curve.u_at(0.0).is_some_and(|u| (u - tip).abs() < 1e-9));
        // Outside, past the tip, the tip is nearest.
        assert!((curve.depth(tip + 3.0, 0.0) + 3.0).abs() < 1e-9);
    }

    #[test]
    fn both_areas_agree_where_both_hold() {
        // At the very inset where the tip begins, either way must give the same.
        let curve = Parallel::new(60.0, 30.0, 15.0);
        assert!((curve.area() - curve.tipped_area()).abs() < 1e-6);
        let circle = Parallel::new(30.0, 30.0, 12.0);
        assert!((circle.area() - PI * 18.0 * 18.0).abs() < 1e-9);
    }

    #[test]
    fn chords_run_along_the_curve() {
        for inset in [0.0, 3.0, 15.0, 22.0, 29.0] {
            let curve = Parallel::new(60.0, 30.0, inset);
            for step in 0..20 {
                let v = curve.height() * f64::from(step) / 20.0;
                let u = curve.u_at(v).unwrap();
                assert!(curve.depth(u, v).abs() < 1e-11, "inset {inset}, v {v}");
                let u = curve.reach() * f64::from(step) / 20.0;
                let v = curve.v_at(u).unwrap();
                assert!(curve.depth(u, v).abs() < 1e-11, "inset {inset}, u {u}");
            }
        }
    }
}
