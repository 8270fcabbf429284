//! Screens: grey becomes dots that a tool makes or leaves.
//!
//! In: a [`Grey`] with one level to a dot of the process. Out: [`Bits`], a made dot black.
//!
//! What is kept is light: of a patch the share that is made is 1 less the share of white's
//! light that its level stands for (sRGB decoded, IEC 61966-2-1), so that from afar it
//! reflects what the picture does. White is the bare material and black the mark, whatever
//! either reflects. Dot gain is taken to be 0: a dot is as large as its square. What a
//! process adds to that must be measured on the material and taken off before.
//!
//! The same picture gives the same dots on every machine: whole numbers, and `f64` sums in a
//! fixed order.

mod clustered;
mod dark;
mod diffused;
mod kernel;
mod least;
mod ranks;

pub use kernel::Kernel;

use self::dark::Dark;
use super::{Bits, Grey};

/// How grey becomes dots.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Screen {
    /// Dots of one size, more of them where it is darker. Holds the finest detail.
    Diffused(Kernel),
    /// Round dots in rows, larger where it is darker; beyond the middle, round holes.
    Dots {
        /// Ruling: dots to a millimetre along a row.
        per_mm: f64,
        /// How far the rows are turned from level, clockwise as seen.
        angle_degrees: f64,
    },
    /// Lines that are thicker where it is darker.
    Lines {
        /// Ruling: lines to a millimetre across them.
        per_mm: f64,
        /// How far the lines are turned from level, clockwise as seen.
        angle_degrees: f64,
    },
}

/// The picture as dots of which `dots_per_mm` stand side by side on a millimetre. No dot that
/// is made, and no gap that is left, is smaller than `least_dot` dots of the process (0 counts
/// as 1):
///
/// - Diffused: every dot lies in a square of its own colour, `least_dot` wide.
/// - Dots and lines: every dot lies in a disc of its own colour, `least_dot` across, with its
///   middle in the picture. Where the tone asks for smaller ones, the least dot is held at
///   fewer places instead (of a line, a dash), spread evenly: dots that drop out would turn
///   the lights into bare patches with an edge where they begin, and tone is kept this way.
///   The same for gaps in the shades, and for the bridge between neighbouring dots.
///
/// A ruling finer than [`finest_ruling`] is taken as that. A picture without dots gives none.
#[must_use]
pub fn screened(grey: &Grey, screen: Screen, dots_per_mm: f64, least_dot: u32) -> Bits {
    let dark = Dark::of(grey);
    // No dot is larger than the picture.
    let least = least_dot.clamp(1, grey.width.max(grey.height).max(1));
    let pitch = |per_mm: f64| (dots_per_mm / per_mm).max(least_pitch(least)).min(PITCH_MOST);
    match screen {
        Screen::Diffused(kernel) => diffused::diffused(&dark, kernel, least),
        Screen::Dots { per_mm, angle_degrees } => {
            clustered::dots(&dark, clustered::Rows::new(&dark, pitch(per_mm), angle_degrees), least)
        }
        Screen::Lines { per_mm, angle_degrees } => clustered::lines(
            &dark,
            clustered::Rows::new(&dark, pitch(per_mm), angle_degrees),
            least,
        ),
    }
}

/// The finest ruling of dots or lines, per mm, at which a process with so many dots to a
/// millimetre and such a least dot still has a dot, a gap and what lies between.
#[must_use]
pub fn finest_ruling(dots_per_mm: f64, least_dot: u32) -> f64 {
    dots_per_mm / least_pitch(least_dot.max(1))
}

/// Dots between rows: on half of it stand a least dot and one dot of play on either side, since
/// rows that are turned do not fall on the process's own.
fn least_pitch(least: u32) -> f64 {
    2.0 * (f64::from(least) + 2.0)
}

/// Dots between rows at most: far beyond any picture, and small enough to count with.
const PITCH_MOST: f64 = 1e6;

/// A number from -32768 to 32767 for a place, without order from one place to the next
/// (the finalizer of MurmurHash3, by A. Appleby, in the public domain).
fn spread(column: u64, row: u64) -> i64 {
    let mut mixed = (row << 32) ^ column;
    for factor in [0xff51_afd7_ed55_8ccd_u64, 0xc4ce_b9fe_1a85_ec53] {
        mixed = (mixed ^ (mixed >> 33)).wrapping_mul(factor);
    }
    i64::from((mixed >> 48) as u16) - 32_768
}

#[cfg(test)]
mod tests;
