//! Levels by a table: stretched between two percentiles, bent at the middle.

use super::share;
use crate::picture::Grey;
use crate::picture::light::rounded;

/// Levels between what becomes black and what becomes white, at least: a quarter of all, so
/// that a stretch pulls neighbours 4 levels apart at most. More would show as steps, and make
/// a storm of the grain of a flat grey.
const LEAST_SPAN: f64 = 64.0;

/// Stretches levels so that `black` and `white` of the dots, as shares, reach the ends.
/// Levels closer together than [`LEAST_SPAN`] are taken with as much room about them as
/// they have; so one level stays what it is.
pub(super) fn stretch(grey: &mut Grey, black: f64, white: f64) {
    let (low, high) = ends(&grey.levels, black, white);
    let (mut from, mut span) = (low, high - low);
    if span < LEAST_SPAN {
        from -= (LEAST_SPAN - span) * low / (255.0 - span);
        span = LEAST_SPAN;
    }
    by_table(grey, |level| (level - from) / span * 255.0);
}

/// The level that at most a share `black` lies below, and the level that at most a share
/// `white` lies above.
fn ends(levels: &[u8], black: f64, white: f64) -> (f64, f64) {
    let mut counts = [0_u64; 256];
    for level in levels {
        if let Some(count) = counts.get_mut(usize::from(*level)) {
            *count += 1;
        }
    }
    let most = |asked: f64| share(asked, 0.5) * levels.len() as f64;
    let counts = || counts.iter().copied().enumerate();
    let low = passing(most(black), counts());
    (low, passing(most(white), counts().rev()).max(low))
}

/// The first level with which more than `most` dots have come.
fn passing(most: f64, mut counts: impl Iterator<Item = (usize, u64)>) -> f64 {
    let mut passed = 0;
    let found = counts.find(|(_, count)| {
        passed += count;
        passed as f64 > most
    });
    found.map_or(0.0, |(level, _)| level as f64)
}

/// Bends levels so that the middle one becomes `midtone`, and black and white stay.
pub(super) fn bend(grey: &mut Grey, midtone: f64) {
    // 0 and 1 themselves would leave two levels of all.
    let power = libm::log(share(midtone, 0.99).max(0.01)) / libm::log(0.5);
    by_table(grey, |level| libm::pow(level / 255.0, power) * 255.0);
}

fn by_table(grey: &mut Grey, becomes: impl Fn(f64) -> f64) {
    let table: [u8; 256] = std::array::from_fn(|from| rounded(becomes(from as f64)));
    for level in &mut grey.levels {
        *level = table.get(usize::from(*level)).copied().unwrap_or(*level);
    }
}
