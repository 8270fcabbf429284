//! Dots and lines that grow where it is darker: every place has a rank at which it is made.

use super::Dark;
use super::least::Disc;
use super::ranks::Ranks;
use crate::picture::Bits;

/// Rows turned by an angle, about the middle of the picture.
pub(super) struct Rows {
    /// Dots between rows.
    pitch: f64,
    sin: f64,
    cos: f64,
    middle: (f64, f64),
}

impl Rows {
    pub(super) fn new(dark: &Dark, pitch: f64, degrees: f64) -> Self {
        let turn = if degrees.is_finite() { degrees.to_radians() } else { 0.0 };
        let (sin, cos) = libm::sincos(turn);
        let middle = (f64::from(dark.width()) / 2.0, f64::from(dark.height()) / 2.0);
        Self { pitch, sin, cos, middle }
    }

    /// Where the middle of a dot lies: along its row and across the rows, in half pitches.
    fn along_across(&self, x: u32, y: u32) -> (f64, f64) {
        let half = self.pitch / 2.0;
        let (dx, dy) = (f64::from(x) + 0.5 - self.middle.0, f64::from(y) + 0.5 - self.middle.1);
        ((dx * self.cos + dy * self.sin) / half, (dy * self.cos - dx * self.sin) / half)
    }

    /// The place of a whole number of half pitches along and across, in dots from the top left.
    fn place(&self, along: f64, across: f64) -> (f64, f64) {
        let half = self.pitch / 2.0;
        let dx = (along * self.cos - across * self.sin) * half;
        let dy = (along * self.sin + across * self.cos) * half;
        (dx + self.middle.0, dy + self.middle.1)
    }
}

/// Round dots on a square lattice. Half pitches apart stand the middles of dots, of gaps, and
/// of the bridges between: each is a disc of the least size whose dots are all made at one
/// rank, so that it is there as a whole or not at all, and the ranks of the discs of a kind
/// are spread over the tones at which it would be too small.
pub(super) fn dots(dark: &Dark, rows: Rows, least: u32) -> Bits {
    let disc = Disc::new(least);
    let share = f64::from(least) / rows.pitch;
    // Ranks at which a dot is as wide as the least, and a gap between two as narrow.
    let (dot, gap) = (share * share / 2.0, (1.0 - share) * (1.0 - share) / 2.0);
    let rank = |x: u32, y: u32| {
        let (along, across) = rows.along_across(x, y);
        let near = (along.round(), across.round());
        let (left, top) = disc.about(rows.place(near.0, near.1));
        let even = (near.0 % 2.0 == 0.0, near.1 % 2.0 == 0.0);
        if disc.has(i64::from(x) - left, i64::from(y) - top) {
            let turn = scattered(near.0 / 2.0, near.1 / 2.0);
            return match even {
                (true, true) => dot * turn,
                (false, false) => 1.0 - dot * turn,
                _ => gap + (1.0 - 2.0 * gap) * turn,
            };
        }
        // From the nearest middle of a dot: 0 there, 1 half a pitch away.
        let from = |at: f64| (at - 2.0 * (at / 2.0).round()).abs();
        let (a, b) = (from(along), from(across));
        // Circles about dots, cut by the diagonals between four gaps, then circles about gaps.
        let plain = if a + b < 1.0 {
            (a * a + b * b) / 2.0
        } else {
            1.0 - ((1.0 - a) * (1.0 - a) + (1.0 - b) * (1.0 - b)) / 2.0
        };
        let number = |at: f64| (at / 2.0).round();
        in_turn(plain.clamp(dot, 1.0 - dot), scattered(number(along), number(across)))
    };
    Ranks::by(dark.width(), dark.height(), rank).held(dark, &disc)
}

/// Lines, of which the least width is made a pitch long at a time.
pub(super) fn lines(dark: &Dark, rows: Rows, least: u32) -> Bits {
    let disc = Disc::new(least);
    // A line that is turned holds discs of the process's own dots if it is wider by one.
    let line = if least > 1 { (f64::from(least) + 1.0) / rows.pitch } else { 1.0 / rows.pitch };
    let rank = |x: u32, y: u32| {
        let (along, across) = rows.along_across(x, y);
        let number = (across / 2.0).round();
        let plain = (across - 2.0 * number).abs();
        let dash = (along / 2.0).floor();
        if plain < line {
            line * scattered(dash, number)
        } else if 1.0 - plain < line {
            1.0 - line * scattered(dash, (across / 2.0).floor() + 0.5)
        } else {
            in_turn(plain, scattered(dash, number))
        }
    };
    Ranks::by(dark.width(), dark.height(), rank).held(dark, &disc)
}

/// A rank, in steps between which it goes by turns. Where rows lie along the process's own
/// dots every dot of a screen is alike: they would all grow at once, by steps that show.
fn in_turn(rank: f64, turn: f64) -> f64 {
    const STEPS: f64 = 1024.0;
    ((rank * STEPS).floor() + turn) / STEPS
}

/// A number from 0 to 1 for a place of a lattice: those below any share of 1 lie as evenly as
/// a lattice lets them (the additive recurrence with powers of the plastic number, after
/// M. Roberts, "The unreasonable effectiveness of quasirandom sequences", 2018).
fn scattered(along: f64, across: f64) -> f64 {
    let place = along * 0.754_877_666_246_693 + across * 0.569_840_290_998_053;
    place - place.floor()
}
