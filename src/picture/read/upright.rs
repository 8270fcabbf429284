//! Stored samples to an upright picture.

use std::sync::Arc;

use super::colour::{Conversion, Row};
use super::stored::{Samples, Stored};
use crate::picture::Picture;
use crate::picture::raster::{open, room};

/// Rows that are turned together: a turned picture is written in runs of so many pixels.
const BAND: usize = 32;

/// How a stored picture is turned (CIPA DC-008, orientation; TIFF 6.0, page 36).
struct Turn {
    /// Whether rows become columns.
    swap: bool,
    /// Whether the upright picture is then read from right to left.
    mirror: bool,
    /// Whether the upright picture is then read from bottom to top.
    flip: bool,
}

impl Turn {
    fn of(orientation: u8) -> Self {
        let (swap, mirror, flip) = match orientation {
            2 => (false, true, false),
            3 => (false, true, true),
            4 => (false, false, true),
            5 => (true, false, false),
            6 => (true, true, false),
            7 => (true, true, true),
            8 => (true, false, true),
            _ => (false, false, false),
        };
        Self { swap, mirror, flip }
    }
}

/// The upright picture of what is stored, in sRGB.
pub(super) fn picture(stored: Stored, conversion: &Conversion) -> Picture {
    if let (1, true, Samples::Eight(rgb)) =
        (stored.orientation, conversion.leaves_alone(&stored), &stored.samples)
    {
        let rgb = Arc::clone(rgb);
        return Picture { width: stored.width, height: stored.height, rgb };
    }
    let stored = &stored;
    let turn = Turn::of(stored.orientation);
    let side = |pixels: u32| usize::try_from(pixels).unwrap_or(usize::MAX);
    let (across, down) = (side(stored.width), side(stored.height));
    let mut rgb = room(3 * across * down);
    let upright = open(&mut rgb);
    let mut row = Row::of(stored);
    if turn.swap {
        let mut band = vec![0; 3 * across * BAND];
        for first in (0..down).step_by(BAND) {
            let many = BAND.min(down - first);
            for (at, pixels) in band.chunks_exact_mut(3 * across).take(many).enumerate() {
                conversion.row(stored, first + at, &mut row, pixels);
            }
            let to = if turn.mirror { down - first - many } else { first };
            for x in 0..across {
                let y = if turn.flip { across - 1 - x } else { x };
                let run = &mut upright[3 * (y * down + to)..][..3 * many];
                for (at, pixel) in run.chunks_exact_mut(3).enumerate() {
                    let from = if turn.mirror { many - 1 - at } else { at };
                    pixel.copy_from_slice(&band[3 * (from * across + x)..][..3]);
                }
            }
        }
    } else {
        for (y, pixels) in upright.chunks_exact_mut(3 * across).enumerate() {
            let from = if turn.flip { down - 1 - y } else { y };
            conversion.row(stored, from, &mut row, pixels);
            if turn.mirror {
                mirror(pixels);
            }
        }
    }
    let (width, height) =
        if turn.swap { (stored.height, stored.width) } else { (stored.width, stored.height) };
    Picture { width, height, rgb }
}

/// A row of pixels from right to left.
fn mirror(pixels: &mut [u8]) {
    pixels.reverse();
    for pixel in pixels.chunks_exact_mut(3) {
        pixel.swap(0, 2);
    }
}

#[cfg(test)]
mod tests {
    use super::super::stored::{Channels, Colours, Embedded, Format};
    use super::*;

    /// What stands where, by the words of the standard: of orientation 6, "the 0th row is the
    /// visual right-hand side, the 0th column the visual top". Stored is a row 1 2 3 over a
    /// row 4 5 6, and then a picture larger than a band.
    #[test]
    fn every_orientation_stands_as_exif_says() {
        for (orientation, wanted) in [
            (1, ["123", "456"].as_slice()),
            (2, &["321", "654"]),
            (3, &["654", "321"]),
            (4, &["456", "123"]),
            (5, &["14", "25", "36"]),
            (6, &["41", "52", "63"]),
            (7, &["63", "52", "41"]),
            (8, &["36", "25", "14"]),
        ] {
            let (across, down, rgb) = seen(orientation, 3, (1..=6).collect());
            let wanted: Vec<u8> = wanted.concat().bytes().map(|digit| digit - b'0').collect();
            assert_eq!(rgb, wanted, "orientation {orientation}");
            assert_eq!((across, down), if orientation < 5 { (3, 2) } else { (2, 3) });
        }
        let tall: Vec<u8> = (0..210).collect();
        let (across, down, rgb) = seen(6, 3, tall.clone());
        assert_eq!((across, down), (70, 3));
        let wanted = (0..3).flat_map(|y| (0..70).map(move |x| (69 - x) * 3 + y));
        assert!(rgb.into_iter().eq(wanted.map(|at: usize| tall[at])));
    }

    fn seen(orientation: u8, width: u32, grey: Vec<u8>) -> (u32, u32, Vec<u8>) {
        let stored = Stored {
            format: Format::Png,
            width,
            height: u32::try_from(grey.len()).unwrap() / width,
            bits: 8,
            colours: Colours::Grey,
            channels: Channels::Grey,
            samples: Samples::Eight(grey.into()),
            multiplied: false,
            orientation,
            profile: Embedded::None,
        };
        let conversion = Conversion::plain(&stored);
        let Picture { width, height, rgb } = picture(stored, &conversion);
        (width, height, rgb.chunks_exact(3).map(|pixel| pixel[0]).collect())
    }
}
