//! An arch and all within a gap of it: a clear zone of sides and arcs.

use super::ZoneShape;
use super::piece::{At, Curve, Piece, leg};

/// Heads lower than this are flat, mm: their circle would be too large to reckon with.
const FLAT: f64 = 1e-6;

/// An arch and its gap, worked out.
pub(super) struct Arch {
    /// x of its middle line.
    middle: f64,
    /// Half its own width.
    half: f64,
    /// Heights of its top, of where its sides begin and of its foot.
    top: f64,
    pub(super) spring: f64,
    pub(super) foot: f64,
    /// Radius of its head; `None` of a flat one.
    head: Option<f64>,
    gap: f64,
}

impl Arch {
    pub(super) fn of(shape: &ZoneShape) -> Option<Self> {
        let ZoneShape::Arch { x0, y0, x1, y1, rise, gap } = *shape else { return None };
        let half = (x1 - x0) / 2.0;
        let rise = rise.min(half).min(y1 - y0);
        // From the chord and the rise: R = w²/8s + s/2.
        let head = (rise >= FLAT).then(|| half * half / (2.0 * rise) + rise / 2.0);
        Some(Self {
            middle: f64::midpoint(x0, x1),
            half,
            top: y0,
            spring: if head.is_some() { y0 + rise } else { y0 },
            foot: y1,
            head,
            gap: gap.max(0.0),
        })
    }

    /// Half the width at a height within the bounds: that of the arc over the head down to
    /// where it ends, from there that of discs about the springing and about the foot, and
    /// of the sides between.
    pub(super) fn half_at(&self, y: f64) -> f64 {
        match self.head {
            Some(radius) if y < self.join().1 => leg(radius + self.gap, self.top + radius - y),
            _ => self.half + leg(self.gap, (self.spring - y).max(y - self.foot).max(0.0)),
        }
    }

    /// Where the arc over the head ends, to the right of the middle line.
    pub(super) fn join(&self) -> At {
        let (x, y) = match self.head {
            // From the head's centre through the springing.
            Some(radius) => (self.half / radius, (self.spring - self.top - radius) / radius),
            None => (0.0, -1.0),
        };
        (self.half + x * self.gap, self.spring + y * self.gap)
    }

    /// The edge, clockwise as seen on the plate.
    pub(super) fn pieces(&self) -> Vec<Piece> {
        let gap = self.gap;
        let (left, right) = (self.middle - self.half, self.middle + self.half);
        let (out, high) = self.join();
        let (join_left, join_right) = ((self.middle - out, high), (self.middle + out, high));
        let crown = (self.middle, self.top - gap);
        let arc = |centre: At, radius: f64, a: At, b: At| {
            let apart = a != b && radius > 0.0;
            apart.then_some(Piece { a, b, curve: Curve::Arc { centre, radius, turn: 1.0 } })
        };
        let head = |a: At, b: At| match self.head {
            Some(radius) => arc((self.middle, self.top + radius), radius + gap, a, b),
            None => Piece::straight(a, b),
        };
        let (spring, foot) = (self.spring, self.foot);
        [
            Piece::straight((right, foot + gap), (left, foot + gap)),
            arc((left, foot), gap, (left, foot + gap), (left - gap, foot)),
            Piece::straight((left - gap, foot), (left - gap, spring)),
            arc((left, spring), gap, (left - gap, spring), join_left),
            head(join_left, crown),
            head(crown, join_right),
            arc((right, spring), gap, join_right, (right + gap, spring)),
            Piece::straight((right + gap, spring), (right + gap, foot)),
            arc((right, foot), gap, (right + gap, foot), (right, foot + gap)),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn half(shape: ZoneShape, top: f64, bottom: f64) -> f64 {
        shape.shadow(top, bottom).map_or(0.0, |shade| (shade.right - shade.left) / 2.0)
    }

    #[test]
    fn an_arch_is_as_wide_as_worked_out_by_hand() {
        // A head of half a circle of 20 mm, 5 mm all round: circles of 25 and 5 mm.
        let (x0, y0, x1, y1) = (30.0, 10.0, 70.0, 60.0);
        let round = ZoneShape::Arch { x0, y0, x1, y1, rise: 20.0, gap: 5.0 };
        for (top, bottom, wanted) in [
            (0.0, 10.0, 15.0),
            (0.0, 15.0, 20.0),
            (0.0, 30.0, 25.0),
            (40.0, 41.0, 25.0),
            (63.0, 90.0, 24.0),
            (64.0, 90.0, 23.0),
            (0.0, 90.0, 25.0),
        ] {
            let got = half(round, top, bottom);
            assert!((got - wanted).abs() < 1e-12, "{top} to {bottom}: {got} for {wanted}");
        }
        assert_eq!(round.shadow(65.0, 70.0), None);
        assert_eq!(round.shadow(0.0, 5.0), None);
        // 32 mm wide with a rise of 8: a circle of 20 mm, 12 mm of whose height is not seen;
        // the arc over it ends 4 mm further out and 3 mm above the springing.
        let flat = ZoneShape::Arch { x0: 34.0, y0: 10.0, x1: 66.0, y1: 60.0, rise: 8.0, gap: 5.0 };
        for (y, wanted) in [
            (15.0, 20.0),
            (14.0, 369.0f64.sqrt()),
            (16.0, 16.0 + 21.0f64.sqrt()),
            (18.0, 21.0),
            (10.0, 15.0),
        ] {
            let got = half(flat, y - 1e-13, y);
            assert!((got - wanted).abs() < 1e-9, "{y}: {got} for {wanted}");
        }
        // Without a head it is a rectangle with round corners.
        let none = ZoneShape::Arch { x0, y0, x1, y1, rise: 0.0, gap: 5.0 };
        let same = ZoneShape::Rounded { x0: 25.0, y0: 5.0, x1: 75.0, y1: 65.0, radius: 5.0 };
        for y in [5.5, 6.0, 9.0, 10.0, 40.0, 61.0, 64.9] {
            assert!((half(none, y, y) - half(same, y, y)).abs() < 1e-12, "{y}");
        }
    }
}
