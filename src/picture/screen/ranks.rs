//! Ranks become dots: how many of them a tone takes, and what mending adds to that.

use super::Dark;
use super::least::{Disc, mended};
use crate::picture::Bits;

/// The last rank; the first is 0.
const LAST: u16 = u16::MAX;

/// Tones at which it is measured what mending adds.
const TONES: u32 = 256;

/// Dots along the sides of the piece on which that is measured, at most.
const PIECE: u32 = 192;

/// The rank of each dot of a picture: at which share of darkness it is made.
pub(super) struct Ranks {
    width: u32,
    height: u32,
    ranks: Vec<u16>,
    /// For each rank, the share of the picture's dots before it and half of its own, of
    /// [`Dark::FULL`].
    shares: Vec<u32>,
}

impl Ranks {
    /// Dots in the order of what `rank` says of them, from 0 to 1.
    pub(super) fn by(width: u32, height: u32, rank: impl Fn(u32, u32) -> f64) -> Self {
        let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let ranks: Vec<u16> = places.map(|(x, y)| whole(rank(x, y) * f64::from(LAST))).collect();
        let mut counts = vec![0_u64; usize::from(LAST) + 1];
        for rank in &ranks {
            if let Some(count) = counts.get_mut(usize::from(*rank)) {
                *count += 1;
            }
        }
        let all = 2 * ranks.len().max(1) as u64;
        let mut before = 0;
        let share = |count: u64| {
            before += count;
            u32::try_from((2 * before - count) * u64::from(Dark::FULL) / all).unwrap_or(Dark::FULL)
        };
        Self { width, height, ranks, shares: counts.into_iter().map(share).collect() }
    }

    /// The picture in dots, mended for the disc. Flat tones are made by just their share: what
    /// mending adds is measured at many of them and taken off before.
    pub(super) fn held(&self, dark: &Dark, disc: &Disc) -> Bits {
        if disc.across() == 1 {
            return self.below(|x, y| dark.at(x, y));
        }
        let asked = self.asked(disc);
        let table: Vec<u32> = dark.shares().map(|share| between(&asked, share)).collect();
        let below = |x, y| table.get(usize::from(dark.level(x, y))).copied().unwrap_or(0);
        mended(self.below(below), disc)
    }

    /// Makes what is darker than its rank.
    fn below(&self, dark: impl Fn(u32, u32) -> u32) -> Bits {
        let mut ranks = self.ranks.iter();
        Bits::by(self.width, self.height, |x, y| {
            let rank = ranks.next().map_or(usize::MAX, |rank| usize::from(*rank));
            self.shares.get(rank).is_some_and(|share| *share < dark(x, y))
        })
    }

    /// Which share comes out (first) where which share is asked for: rising, from white to
    /// black, measured on a piece in the middle.
    fn asked(&self, disc: &Disc) -> Vec<(u32, u32)> {
        let piece = self.piece();
        // Along the edge of the piece dots are cut, which they are not in the picture.
        let rim = Bits::by(piece.width, piece.height, |x, y| {
            let edge = x.min(y).min(piece.width - 1 - x).min(piece.height - 1 - y);
            i64::from(edge) < disc.across()
        });
        let number = |bits: &Bits| i64::try_from(bits.count()).unwrap_or(i64::MAX);
        let dots = number(&rim.opposite()).max(1);
        let full = i64::from(Dark::FULL);
        let mut asked = vec![(0, 0)];
        let mut most = 0;
        for tone in 1..TONES {
            let share = Dark::FULL / TONES * tone;
            let plain = piece.below(|_, _| share);
            let before = number(&plain.without(&rim));
            let gain = (number(&mended(plain, disc).without(&rim)) - before) * full / dots;
            most = (i64::from(share) + gain).clamp(most, full);
            asked.push((u32::try_from(most).unwrap_or(Dark::FULL), share));
        }
        asked.push((Dark::FULL, Dark::FULL));
        asked
    }

    /// A piece in the middle, its shares those of the whole.
    fn piece(&self) -> Self {
        let (width, height) = (self.width.min(PIECE), self.height.min(PIECE));
        let (left, top) = ((self.width - width) / 2, (self.height - height) / 2);
        let ranks = self
            .ranks
            .chunks_exact(self.width.max(1) as usize)
            .skip(top as usize)
            .take(height as usize)
            .flat_map(|row| row.iter().skip(left as usize).take(width as usize))
            .copied()
            .collect();
        Self { width, height, ranks, shares: self.shares.clone() }
    }
}

/// The second of the pairs where the first is `share`, straight between neighbours.
fn between(pairs: &[(u32, u32)], share: u32) -> u32 {
    for pair in pairs.windows(2) {
        if let [(from, low), (to, high)] = *pair
            && share < to
        {
            let way = u64::from(share.saturating_sub(from)) * u64::from(high - low);
            return low + u32::try_from(way / u64::from((to - from).max(1))).unwrap_or(0);
        }
    }
    Dark::FULL
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "ranks go from 0 to the last; what is beyond counts as the nearest"
)]
fn whole(rank: f64) -> u16 {
    rank.round() as u16
}
