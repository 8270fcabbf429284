//! A part of a picture at another size.
//!
//! Lanczos with three lobes, across and then down, in light: what is printed or engraved in
//! points is mixed by the eye in light, and so fine contrast keeps its brightness; averaged as
//! coded, a fine weave of black and white would come out at a fifth of its light instead of
//! half. The kernel widens as the picture shrinks, so that nothing finer than the new pixels
//! is left to make patterns.
//!
//! Written out instead of taken from a library because the same file must give the same bytes
//! on every machine: plain single-precision sums in a fixed order are the same on every
//! processor and in any number of threads, which no library with a path for each of them promises. Row by row, it needs
//! no picture in light of the whole.

use std::collections::VecDeque;
use std::f64::consts::PI;

use super::Picture;
use super::light::{level, lights, single};
use super::raster::{open, room};

/// Half the width of the kernel, in pixels of the coarser of both pictures.
const LOBES: f64 = 3.0;

/// Most threads at a time: each keeps some rows of its own, and the memory is not faster.
const MOST_HANDS: usize = 8;

/// Red, green and blue light and one place unused: four go into one step of a processor.
type Light = [f32; 4];

/// Which pixels make one new pixel, and how much each counts; the weights add up to 1.
struct Taps {
    first: usize,
    weights: Vec<f32>,
}

impl Picture {
    /// The part of the picture within `crop` (left, top, right, bottom in pixels of this
    /// picture, fractions welcome), `width` by `height` pixels large.
    ///
    /// What lies outside the picture is cut off the crop; a crop that holds nothing, or is no
    /// number, gives the one pixel nearest to it. A size of 0 counts as 1. Pixels beside the
    /// crop help to make those at its edge, as they do inside.
    #[must_use]
    pub fn part(&self, crop: [f64; 4], width: u32, height: u32) -> Self {
        let [left, top, right, bottom] = crop;
        let across = span(left, right, self.width);
        let down = span(top, bottom, self.height);
        let (Some(across), Some(down)) = (across, down) else { return self.one(left, top) };
        let (width, height) = (width.max(1), height.max(1));
        if (across, down) == ((0.0, f64::from(self.width)), (0.0, f64::from(self.height)))
            && (width, height) == (self.width, self.height)
        {
            return self.clone();
        }
        let columns = taps(across, self.width, width);
        let rows = taps(down, self.height, height);
        let mut rgb = room(size(width) * size(height) * 3);
        // Each row is a sum of its own, so it does not matter who makes it.
        let hands = std::thread::available_parallelism().map_or(1, usize::from).min(MOST_HANDS);
        let many = rows.len().div_ceil(hands);
        let bands = open(&mut rgb).chunks_mut(size(width) * 3 * many);
        std::thread::scope(|hand| {
            for (rows, band) in rows.chunks(many).zip(bands) {
                let columns = &columns;
                hand.spawn(move || self.rows(columns, rows, band));
            }
        });
        Self { width, height, rgb }
    }

    /// Some new rows, one after another, into `band`.
    fn rows(&self, columns: &[Taps], rows: &[Taps], band: &mut [u8]) {
        let stride = size(self.width) * 3;
        let mut kept: VecDeque<Vec<Light>> = VecDeque::new();
        let mut oldest = rows.first().map_or(0, |row| row.first);
        let mut lit = vec![[0.0; 4]; size(self.width)];
        let mut sum = vec![[0.0; 4]; columns.len()];
        for (row, made) in rows.iter().zip(band.chunks_exact_mut(3 * columns.len())) {
            while oldest < row.first {
                // A row that none has needed yet is passed over unmade.
                kept.pop_front();
                oldest += 1;
            }
            while kept.len() < row.weights.len() {
                let y = oldest + kept.len();
                lighten(&self.rgb[y * stride..][..stride], &mut lit);
                kept.push_back(columns.iter().map(|taps| mixed(taps, &lit)).collect());
            }
            sum.fill([0.0; 4]);
            for (across, weight) in kept.iter().zip(&row.weights) {
                for (sum, light) in sum.iter_mut().zip(across) {
                    for (sum, light) in sum.iter_mut().zip(light) {
                        *sum += weight * light;
                    }
                }
            }
            for (pixel, light) in made.chunks_exact_mut(3).zip(&sum) {
                pixel.copy_from_slice(&[level(light[0]), level(light[1]), level(light[2])]);
            }
        }
    }

    /// The one pixel nearest to a place.
    fn one(&self, x: f64, y: f64) -> Self {
        let at = size(nearest(y, self.height)) * size(self.width) + size(nearest(x, self.width));
        Self { width: 1, height: 1, rgb: self.rgb[3 * at..3 * at + 3].into() }
    }
}

/// Light of a row of coded pixels.
fn lighten(row: &[u8], lit: &mut [Light]) {
    let lights = lights();
    for (pixel, light) in row.chunks_exact(3).zip(lit) {
        let of = |at: usize| lights[usize::from(pixel[at])];
        *light = [of(0), of(1), of(2), 0.0];
    }
}

/// Sums that are kept side by side: one would have to wait for the sum before.
const SUMS: usize = 4;

/// One new pixel of a row.
fn mixed(taps: &Taps, lit: &[Light]) -> Light {
    let lit = &lit[taps.first..][..taps.weights.len()];
    let mut sums = [[0.0; 4]; SUMS];
    let mut add = |at: usize, light: &Light, weight: f32| {
        for (sum, light) in sums[at].iter_mut().zip(light) {
            *sum += weight * light;
        }
    };
    let (weights, lights) = (taps.weights.chunks_exact(SUMS), lit.chunks_exact(SUMS));
    let rest = weights.remainder().iter().zip(lights.remainder());
    for (weights, lights) in weights.zip(lights) {
        for at in 0..SUMS {
            add(at, &lights[at], weights[at]);
        }
    }
    for (weight, light) in rest {
        add(0, light, *weight);
    }
    std::array::from_fn(|of| (sums[0][of] + sums[1][of]) + (sums[2][of] + sums[3][of]))
}

/// From where to where along one side, `None` where nothing is left of it.
fn span(from: f64, to: f64, pixels: u32) -> Option<(f64, f64)> {
    if from.is_nan() || to.is_nan() {
        return None;
    }
    let (from, to) = (from.max(0.0), to.min(f64::from(pixels)));
    (from < to).then_some((from, to))
}

/// For each of `count` new pixels between `from` and `to`, what makes it.
fn taps((from, to): (f64, f64), pixels: u32, count: u32) -> Vec<Taps> {
    let scale = (to - from) / f64::from(count);
    let wide = scale.max(1.0);
    let one = |at: u32| {
        let centre = from + (f64::from(at) + 0.5) * scale;
        let first = nearest(centre - LOBES * wide, pixels);
        let last = nearest(centre + LOBES * wide, pixels);
        let weight = |x: u32| lanczos((f64::from(x) + 0.5 - centre) / wide);
        let weights: Vec<f64> = (first..=last).map(weight).collect();
        // The pixel that holds the centre is always among them and counts for more than all
        // that are negative, so the sum is never near 0.
        let sum: f64 = weights.iter().sum();
        Taps {
            first: size(first),
            weights: weights.iter().map(|weight| single(weight / sum)).collect(),
        }
    };
    (0..count).map(one).collect()
}

/// The window of C. Lanczos: sinc under a stretched sinc, 0 from three pixels on.
fn lanczos(x: f64) -> f64 {
    let sinc = |x: f64| if x.abs() < 1e-9 { 1.0 } else { libm::sin(PI * x) / (PI * x) };
    if x.abs() < LOBES { sinc(x) * sinc(x / LOBES) } else { 0.0 }
}

/// The pixel that holds a place, or the nearest to it.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "`as` saturates, and takes what is no number for 0"
)]
fn nearest(at: f64, pixels: u32) -> u32 {
    (at as u32).min(pixels - 1)
}

/// A number of pixels as an index.
fn size(pixels: u32) -> usize {
    usize::try_from(pixels).expect("processors of 16 bits are not meant")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::{decode, encode};

    fn drawn(width: u32, height: u32, level: impl Fn(u32, u32) -> [u8; 3]) -> Picture {
        let level = &level;
        let rgb = (0..height).flat_map(|y| (0..width).flat_map(move |x| level(x, y)));
        Picture { width, height, rgb: rgb.collect() }
    }

    /// Numbers without a pattern, by Marsaglia's xorshift.
    fn noise(width: u32, height: u32) -> Picture {
        let state = std::cell::Cell::new(0x9E37_79B9_u32);
        drawn(width, height, |_, _| {
            std::array::from_fn(|_| {
                let mut next = state.get();
                next ^= next << 13;
                next ^= next >> 17;
                next ^= next << 5;
                state.set(next);
                (next >> 24) as u8
            })
        })
    }

    /// The same straight from the definition: for each new pixel a sum over all old ones at
    /// once, in double precision, in light.
    fn slowly(picture: &Picture, crop: [f64; 4], (width, height): (u32, u32)) -> Vec<f64> {
        let [left, top, right, bottom] = crop;
        let (across, down) =
            ((right - left) / f64::from(width), (bottom - top) / f64::from(height));
        let mut made = Vec::new();
        for y in 0..height {
            for x in 0..width {
                let centre =
                    (left + (f64::from(x) + 0.5) * across, top + (f64::from(y) + 0.5) * down);
                let mut sums = [0.0; 4];
                for (at, pixel) in picture.rgb.chunks_exact(3).enumerate() {
                    let at = u32::try_from(at).unwrap();
                    let (x, y) = (at % picture.width, at / picture.width);
                    let weight = lanczos((f64::from(x) + 0.5 - centre.0) / across.max(1.0))
                        * lanczos((f64::from(y) + 0.5 - centre.1) / down.max(1.0));
                    for (sum, level) in sums.iter_mut().zip(pixel) {
                        *sum += weight * decode(f64::from(*level) / 255.0);
                    }
                    sums[3] += weight;
                }
                made.extend(
                    sums[..3].iter().map(|sum| 255.0 * encode((sum / sums[3]).clamp(0.0, 1.0))),
                );
            }
        }
        made
    }

    #[test]
    fn it_is_the_sum_that_lanczos_defines() {
        let picture = noise(41, 29);
        for (crop, size) in [
            ([0.0, 0.0, 41.0, 29.0], (10, 7)),
            ([0.0, 0.0, 41.0, 29.0], (41, 3)),
            ([3.25, 2.5, 36.75, 27.125], (12, 12)),
            ([10.0, 10.0, 14.0, 13.0], (17, 13)),
            ([0.0, 28.0, 1.0, 29.0], (2, 2)),
        ] {
            let part = picture.part(crop, size.0, size.1);
            assert_eq!((part.width, part.height), size);
            let wanted = slowly(&picture, crop, size);
            assert_eq!(part.rgb.len(), wanted.len());
            for (level, wanted) in part.rgb.iter().zip(wanted) {
                // Half a level of rounding, and a little for single precision.
                assert!((f64::from(*level) - wanted).abs() < 0.6, "{crop:?}: {level} {wanted}");
            }
        }
    }

    #[test]
    fn a_weave_of_black_and_white_keeps_half_its_light() {
        let picture = drawn(64, 64, |x, y| [if (x + y) % 2 == 0 { 255 } else { 0 }; 3]);
        let part = picture.part([0.0, 0.0, 64.0, 64.0], 8, 8);
        // encode(0.5) = 0.735357: level 187.5; averaged as coded it would be 128.
        for level in &part.rgb[3 * 9..3 * 15] {
            assert!((187..=188).contains(level), "{level}");
        }
    }

    #[test]
    fn pixels_taken_at_their_own_size_are_the_same() {
        let picture = noise(19, 17);
        assert_eq!(picture.part([0.0, 0.0, 19.0, 17.0], 19, 17), picture);
        let part = picture.part([4.0, 5.0, 14.0, 12.0], 10, 7);
        for (y, row) in part.rgb.chunks_exact(30).enumerate() {
            assert_eq!(row, &picture.rgb[3 * ((y + 5) * 19 + 4)..][..30]);
        }
    }

    #[test]
    fn a_crop_beyond_the_picture_is_cut_and_an_empty_one_is_a_pixel() {
        let picture = noise(9, 6);
        let whole = picture.part([0.0, 0.0, 9.0, 6.0], 4, 3);
        assert_eq!(picture.part([-5.0, -1e300, 1e300, f64::INFINITY], 4, 3), whole);
        for (crop, at) in [
            ([3.5, 2.0, 3.5, 4.0], 2 * 9 + 3),
            ([8.0, 5.0, 2.0, 1.0], 5 * 9 + 8),
            ([20.0, 20.0, 30.0, 30.0], 5 * 9 + 8),
            ([-9.0, -9.0, -1.0, -1.0], 0),
            ([f64::NAN; 4], 0),
        ] {
            let one = picture.part(crop, 5, 5);
            assert_eq!((one.width, one.height), (1, 1), "{crop:?}");
            assert_eq!(&*one.rgb, &picture.rgb[3 * at..3 * at + 3], "{crop:?}");
        }
        assert_eq!(picture.part([0.0, 0.0, 9.0, 6.0], 0, 0).rgb.len(), 3);
    }
}
