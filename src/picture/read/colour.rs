//! From stored samples to coded sRGB, row by row.

use std::sync::Arc;

use moxcms::Transform16BitExecutor;

use super::Profile;
use super::profile;
use super::stored::{Channels, Stored};
use crate::picture::light::{level, rounded};

/// Light of red, green and blue by three curves and a matrix, as most profiles have it.
pub(super) struct Shaper {
    /// For each channel, light of each sample.
    pub(super) lights: [Vec<f32>; 3],
    /// To light of sRGB, a row a channel.
    pub(super) matrix: [[f32; 3]; 3],
}

impl Shaper {
    /// Coded sRGB of a pixel of samples.
    pub(super) fn coded(&self, pixel: [u16; 3]) -> [u8; 3] {
        let [red, green, blue] = std::array::from_fn(|at| self.lights[at][usize::from(pixel[at])]);
        self.matrix.map(|of| level(of[0] * red + of[1] * green + of[2] * blue))
    }
}

/// How samples become coded sRGB.
pub(super) enum Conversion {
    /// Each sample by itself, to its level.
    Levels(Vec<u8>),
    Shaper(Shaper),
    /// By a table of three or four dimensions, which the library reads.
    Library(Arc<Transform16BitExecutor>),
    /// Inks without a profile: each takes its colour away, black all of them.
    Inks,
}

/// Room for one row on its way.
pub(super) struct Row {
    samples: Vec<u16>,
    /// Colours of 16 bits as the library takes and gives them.
    taken: Vec<u16>,
    given: Vec<u16>,
}

impl Row {
    pub(super) fn of(stored: &Stored) -> Self {
        let wide = usize::try_from(stored.width).unwrap_or(usize::MAX);
        let samples = vec![0; wide * stored.channels.count()];
        Self { samples, taken: Vec::new(), given: vec![0; 3 * wide] }
    }
}

impl Conversion {
    /// The way for a stored picture, and what became of its profile.
    pub(super) fn of(stored: &Stored) -> (Self, Profile) {
        let (found, told) = profile::conversion(stored);
        (found.unwrap_or_else(|| Self::plain(stored)), told)
    }

    /// Without a profile: coded values are those of sRGB.
    pub(super) fn plain(stored: &Stored) -> Self {
        if stored.channels == Channels::Cmyk {
            return Self::Inks;
        }
        let most = stored.samples.most();
        let share = |sample: u16| f64::from(sample) / f64::from(most);
        Self::Levels((0..=most).map(|sample| rounded(share(sample) * 255.0)).collect())
    }

    /// One stored row as coded sRGB, laid over white.
    pub(super) fn row(&self, stored: &Stored, y: usize, row: &mut Row, rgb: &mut [u8]) {
        let count = stored.channels.count();
        stored.samples.copy(y * row.samples.len(), &mut row.samples);
        let most = stored.samples.most();
        if stored.multiplied && stored.channels.alpha() {
            row.samples.chunks_exact_mut(count).for_each(|pixel| divide(pixel, most));
        }
        self.colours(stored.channels, most, row, rgb);
        if stored.channels.alpha() {
            for (pixel, samples) in rgb.chunks_exact_mut(3).zip(row.samples.chunks_exact(count)) {
                over_white(pixel, samples[count - 1], most);
            }
        }
    }

    /// Whether nothing is to do, which is by far the most usual.
    pub(super) fn leaves_alone(&self, stored: &Stored) -> bool {
        let own = |(at, level): (usize, &u8)| at == usize::from(*level);
        let Self::Levels(levels) = self else { return false };
        stored.channels == Channels::Rgb
            && levels.len() == 256
            && levels.iter().enumerate().all(own)
    }

    fn colours(&self, channels: Channels, most: u16, row: &mut Row, rgb: &mut [u8]) {
        let count = channels.count();
        let pixels = rgb.chunks_exact_mut(3).zip(row.samples.chunks_exact(count));
        match self {
            Self::Levels(levels) => {
                let grey = matches!(channels, Channels::Grey | Channels::GreyAlpha);
                for (pixel, samples) in pixels {
                    for (at, value) in pixel.iter_mut().enumerate() {
                        *value = levels[usize::from(samples[if grey { 0 } else { at }])];
                    }
                }
            }
            Self::Shaper(shaper) => {
                for (pixel, samples) in pixels {
                    pixel.copy_from_slice(&shaper.coded([samples[0], samples[1], samples[2]]));
                }
            }
            Self::Inks => {
                for (pixel, samples) in pixels {
                    let left = |ink: u16| f64::from(most - ink) / f64::from(most);
                    for (value, ink) in pixel.iter_mut().zip(samples) {
                        *value = rounded(255.0 * left(*ink) * left(samples[3]));
                    }
                }
            }
            Self::Library(transform) => {
                let colours = count - usize::from(channels.alpha());
                let wide = u16::MAX / most;
                let all = row.samples.chunks_exact(count).flat_map(|pixel| &pixel[..colours]);
                row.taken.clear();
                row.taken.extend(all.map(|sample| sample * wide));
                // It fails only for rows of unlike lengths; the row then stays black.
                if transform.transform(&row.taken, &mut row.given).is_err() {
                    row.given.fill(0);
                }
                for (value, given) in rgb.iter_mut().zip(&row.given) {
                    *value = rounded(f64::from(*given) / 257.0);
                }
            }
        }
    }
}

/// Colours that were multiplied by how opaque they are, as they were before.
fn divide(pixel: &mut [u16], most: u16) {
    let (colours, alpha) = pixel.split_at_mut(pixel.len() - 1);
    let (alpha, most) = (u32::from(alpha[0]).max(1), u32::from(most));
    for colour in colours {
        let whole = (u32::from(*colour) * most + alpha / 2) / alpha;
        *colour = u16::try_from(whole.min(most)).unwrap_or(u16::MAX);
    }
}

/// Lays a pixel over white, in coded values as programs for photographs and browsers do it
/// (W3C Compositing and Blending, level 1), so that it looks as it did there.
fn over_white(pixel: &mut [u8], alpha: u16, most: u16) {
    let (alpha, most) = (u32::from(alpha), u32::from(most));
    for value in pixel {
        let laid = (u32::from(*value) * alpha + 255 * (most - alpha) + most / 2) / most;
        *value = u8::try_from(laid).unwrap_or(u8::MAX);
    }
}
