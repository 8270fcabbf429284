//! The least dot and the least gap: what is smaller than the tool is mended.

use std::ops::RangeInclusive;

use crate::picture::Bits;

/// The mark of a round tool: the dots whose middles lie within half of its width.
pub(super) struct Disc {
    across: i64,
}

impl Disc {
    pub(super) fn new(across: u32) -> Self {
        Self { across: i64::from(across.max(1)) }
    }

    /// Its width in dots.
    pub(super) fn across(&self) -> i64 {
        self.across
    }

    /// Left and top of the disc that stands nearest about a place.
    #[expect(clippy::cast_possible_truncation, reason = "places lie in or near a picture")]
    pub(super) fn about(&self, (x, y): (f64, f64)) -> (i64, i64) {
        let before = self.across as f64 / 2.0;
        ((x - before).round() as i64, (y - before).round() as i64)
    }

    /// Whether it has the dot so far from its left and top.
    pub(super) fn has(&self, x: i64, y: i64) -> bool {
        let from = |at: i64| 2 * at + 1 - self.across;
        from(x) * from(x) + from(y) * from(y) <= self.across * self.across
    }

    /// Row by row, how far below its middle dot and from where to where beside it.
    fn rows(&self) -> impl Iterator<Item = (i64, RangeInclusive<i64>)> + '_ {
        let middle = (self.across - 1) / 2;
        (0..self.across).filter_map(move |y| {
            let mut having = (0..self.across).filter(|x| self.has(*x, y));
            let first = having.next()?;
            Some((y - middle, first - middle..=having.next_back().unwrap_or(first) - middle))
        })
    }

    /// The dots of `bits` that lie in a disc of made dots, its middle in the picture.
    fn opened(&self, bits: &Bits) -> Bits {
        let middles = Reach::over(bits, true, self.rows());
        let back = self.rows().map(|(y, x)| (-y, -x.end()..=-x.start()));
        Reach::over(&middles, false, back)
    }
}

/// The nearest that was found to `bits` in which every dot, made or left, lies in a disc of
/// its own kind.
///
/// What is made and too small goes; what is left and too small is closed. Where that leaves a
/// bridge that is too thin, it is made wider by discs about it. From then on dots are only
/// added, so it comes to an end, and it ends when there is nothing left to mend.
pub(super) fn mended(bits: Bits, disc: &Disc) -> Bits {
    let mut held = disc.opened(&bits);
    loop {
        held = disc.opened(&held.opposite()).opposite();
        let thin = held.without(&disc.opened(&held));
        if thin.count() == 0 {
            return held;
        }
        let back = disc.rows().map(|(y, x)| (-y, -x.end()..=-x.start()));
        held = held.with(&Reach::over(&thin, false, back));
    }
}

/// Rows of words with room on either side.
struct Reach {
    rows: Vec<Vec<u64>>,
    /// Words before the first of a row.
    room: usize,
    all: bool,
}

impl Reach {
    /// For each dot, whether all (or any) of the dots about it are made. What lies outside the
    /// picture is passed over.
    fn over(
        bits: &Bits,
        all: bool,
        about: impl Iterator<Item = (i64, RangeInclusive<i64>)>,
    ) -> Bits {
        let about: Vec<(i64, RangeInclusive<i64>)> = about.collect();
        let far = about.iter().map(|(_, x)| x.start().abs().max(x.end().abs())).max().unwrap_or(0);
        let room = usize::try_from(far).unwrap_or(0) / 64 + 2;
        let beyond = if all { u64::MAX } else { 0 };
        let over = bits.words_a_row() * 64 - bits.width() as usize;
        let rows = (0..bits.height())
            .map(|y| {
                let mut row = vec![beyond; room];
                row.extend(bits.row(y));
                if let Some(last) = row.get_mut(room..).and_then(<[u64]>::last_mut) {
                    *last |= beyond & !(u64::MAX << over);
                }
                row.resize(row.len() + room, beyond);
                row
            })
            .collect();
        let reach = Self { rows, room, all };
        let mut found = Bits::blank(bits.width(), bits.height());
        for y in 0..bits.height() {
            for (word, value) in found.row_mut(y).iter_mut().enumerate() {
                *value = reach.word(word, i64::from(y), &about);
            }
        }
        found.trim();
        found
    }

    /// 64 dots of the result.
    fn word(&self, word: usize, y: i64, about: &[(i64, RangeInclusive<i64>)]) -> u64 {
        let mut found = if self.all { u64::MAX } else { 0 };
        for (below, beside) in about {
            let Some(row) = usize::try_from(y + below).ok().and_then(|y| self.rows.get(y)) else {
                continue;
            };
            for x in beside.clone() {
                let there = shifted(row, (self.room + word) as i64 * 64 + x);
                if self.all {
                    found &= there;
                } else {
                    found |= there;
                }
            }
        }
        found
    }
}

/// 64 dots of a row from a dot on.
fn shifted(row: &[u64], from: i64) -> u64 {
    let word = usize::try_from(from.div_euclid(64)).unwrap_or(usize::MAX - 1);
    let over = from.rem_euclid(64);
    let at = |word: usize| row.get(word).copied().unwrap_or(0);
    if over == 0 { at(word) } else { at(word) << over | at(word + 1) >> (64 - over) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(rows: &[&str]) -> Bits {
        let made = |x: u32, y: u32| rows[y as usize].as_bytes()[x as usize] == b'#';
        Bits::by(u32::try_from(rows[0].len()).unwrap(), u32::try_from(rows.len()).unwrap(), made)
    }

    #[test]
    fn a_disc_has_the_dots_whose_middles_lie_in_it() {
        // Across 4, corners lie at hypot(1.5, 1.5) = 2.12 from the middle; across 5 and at
        // (2, 2), 2.83, and (2, 1), 2.24.
        for (across, dots) in [(1, 1), (2, 4), (3, 9), (4, 12), (5, 21)] {
            let disc = Disc::new(across);
            let across = i64::from(across);
            let has = (0..across).flat_map(|y| (0..across).map(move |x| (x, y)));
            assert_eq!(has.filter(|(x, y)| disc.has(*x, *y)).count(), dots, "{across}");
        }
        // A disc of 4 about (10, 7.4): left at 8, top at 5.4.
        assert_eq!(Disc::new(4).about((10.0, 7.4)), (8, 5));
    }

    #[test]
    fn specks_go_slits_close_and_what_the_edge_cuts_stays() {
        let bits = drawn(&[
            "#......#", //
            "........", "..#####.", "..##.##.", "..##.##.", "..#####.", ".......#", "##......",
        ]);
        let held = mended(bits, &Disc::new(2));
        // The disc of 2 has its middle at its upper left, in the picture also where the rest of
        // it is not: so what the lower edge cuts may go on beyond it.
        let wanted = drawn(&[
            "........", //
            "........", "..#####.", "..#####.", "..#####.", "..#####.", "........", "##......",
        ]);
        assert_eq!(rows(&held), rows(&wanted));
    }

    fn rows(bits: &Bits) -> Vec<String> {
        let dot = |x, y| if bits.made(x, y) { '#' } else { '.' };
        (0..bits.height()).map(|y| (0..bits.width()).map(|x| dot(x, y)).collect()).collect()
    }

    #[test]
    fn a_bridge_that_closing_leaves_thin_is_made_wider() {
        // Across the slit in the middle, closing alone would leave bridges of one dot.
        let bits = drawn(&[
            "###..###", //
            "###..###", "........", "..####..", "..####..",
        ]);
        for across in [2, 3] {
            let disc = Disc::new(across);
            let held = mended(bits.clone(), &disc);
            assert_eq!(held.without(&disc.opened(&held)).count(), 0);
            let left = held.opposite();
            assert_eq!(left.without(&disc.opened(&left)).count(), 0);
        }
    }
}
