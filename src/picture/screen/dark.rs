//! How dark each dot shall be.

use crate::picture::{Grey, decode};

/// A picture in grey as shares of darkness: of white's light, what is to be taken away.
pub(super) struct Dark<'a> {
    grey: &'a Grey,
    table: [u32; 256],
}

impl<'a> Dark<'a> {
    /// Black. White is 0.
    pub(super) const FULL: u32 = 65_536;

    pub(super) fn of(grey: &'a Grey) -> Self {
        Self { grey, table: std::array::from_fn(of_level) }
    }

    pub(super) fn width(&self) -> u32 {
        self.grey.width
    }

    pub(super) fn height(&self) -> u32 {
        self.grey.height
    }

    /// From 0 to [`Self::FULL`].
    pub(super) fn at(&self, x: u32, y: u32) -> u32 {
        self.table.get(usize::from(self.level(x, y))).copied().unwrap_or(0)
    }

    /// The level of a dot; white where the picture has none.
    pub(super) fn level(&self, x: u32, y: u32) -> u8 {
        let place = y as usize * self.grey.width as usize + x as usize;
        self.grey.levels.get(place).copied().unwrap_or(u8::MAX)
    }

    /// How dark each level is, from black on.
    pub(super) fn shares(&self) -> impl Iterator<Item = u32> + '_ {
        self.table.iter().copied()
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "levels are up to 255, and shares from 0 to 1 of a number that fits"
)]
fn of_level(level: usize) -> u32 {
    let light = decode(level as f64 / 255.0);
    ((1.0 - light) * f64::from(Dark::FULL)).round() as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_the_light_is_half_the_dots() {
        // IEC 61966-2-1: level 188 stands for 0.50289 of white's light, 128 for 0.215861.
        for (level, light) in [(255, 1.0), (188, 0.502_886), (128, 0.215_861), (10, 0.003_035)] {
            let dark = f64::from(of_level(level)) / f64::from(Dark::FULL);
            assert!((dark - (1.0 - light)).abs() < 1e-5, "{level}: {dark}");
        }
        assert_eq!(of_level(0), Dark::FULL);
        assert_eq!(of_level(255), 0);
    }
}
