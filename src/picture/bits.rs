//! What a tool is told: dots that it makes and dots that it leaves.

/// Pixels to a word.
const WORD: usize = u64::BITS as usize;

/// A picture of dots that are made by the tool or left. Where it makes dark marks on light
/// material a made dot is black; for light marks on dark material see [`Bits::opposite`].
#[derive(Clone, PartialEq, Eq)]
pub struct Bits {
    width: u32,
    height: u32,
    /// Row by row from the top, each begun with a word of its own; the left of 64 dots is the
    /// highest bit. What lies right of the width is 0.
    words: Vec<u64>,
}

impl Bits {
    /// A picture in which nothing is made.
    #[must_use]
    pub fn blank(width: u32, height: u32) -> Self {
        let words = (width as usize).div_ceil(WORD) * height as usize;
        Self { width, height, words: vec![0; words] }
    }

    /// Each dot as `made` says of its place, counted from the top left.
    #[must_use]
    pub fn by(width: u32, height: u32, mut made: impl FnMut(u32, u32) -> bool) -> Self {
        let mut bits = Self::blank(width, height);
        for y in 0..height {
            let mut x = 0;
            for word in bits.row_mut(y) {
                for bit in (0..u64::BITS).rev().take((width - x) as usize) {
                    *word |= u64::from(made(x, y)) << bit;
                    x += 1;
                }
            }
        }
        bits
    }

    /// Dots from left to right.
    #[must_use]
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Dots from top to bottom.
    #[must_use]
    pub fn height(&self) -> u32 {
        self.height
    }

    /// Whether the dot is made; outside of the picture none is.
    #[must_use]
    pub fn made(&self, x: u32, y: u32) -> bool {
        let bit = WORD - 1 - x as usize % WORD;
        x < self.width
            && y < self.height
            && self.row(y).get(x as usize / WORD).is_some_and(|word| word >> bit & 1 == 1)
    }

    /// Makes a dot; outside of the picture nothing.
    pub(super) fn make(&mut self, x: u32, y: u32) {
        let bit = WORD - 1 - x as usize % WORD;
        if x < self.width
            && let Some(word) = self.row_mut(y).get_mut(x as usize / WORD)
        {
            *word |= 1 << bit;
        }
    }

    /// How many dots are made.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.words.iter().map(|word| u64::from(word.count_ones())).sum()
    }

    /// The same picture for a tool whose marks are light on dark material: what was left is
    /// made, and what was made is left. Least dot and least gap change places, so a screen
    /// holds both alike.
    #[must_use]
    pub fn opposite(&self) -> Self {
        let mut opposite = self.clone();
        for y in 0..self.height {
            for word in opposite.row_mut(y) {
                *word = !*word;
            }
        }
        opposite.trim();
        opposite
    }

    /// Row by row, each packed into whole bytes, the left of 8 dots the highest bit.
    pub fn packed(&self) -> impl Iterator<Item = Vec<u8>> + '_ {
        let bytes = (self.width as usize).div_ceil(8);
        (0..self.height).map(move |y| {
            self.row(y).iter().flat_map(|word| word.to_be_bytes()).take(bytes).collect()
        })
    }

    /// What is made in both or in one of two pictures of one size.
    pub(super) fn with(mut self, other: &Self) -> Self {
        self.words.iter_mut().zip(&other.words).for_each(|(word, other)| *word |= other);
        self
    }

    /// What is made here and not in the other.
    pub(super) fn without(&self, other: &Self) -> Self {
        let mut rest = self.clone();
        rest.words.iter_mut().zip(&other.words).for_each(|(word, other)| *word &= !other);
        rest
    }

    /// A row's words; none below the picture.
    pub(super) fn row(&self, y: u32) -> &[u64] {
        let words = self.words_a_row();
        self.words.get(y as usize * words..(y as usize + 1) * words).unwrap_or(&[])
    }

    pub(super) fn row_mut(&mut self, y: u32) -> &mut [u64] {
        let words = self.words_a_row();
        self.words.get_mut(y as usize * words..(y as usize + 1) * words).unwrap_or(&mut [])
    }

    pub(super) fn words_a_row(&self) -> usize {
        (self.width as usize).div_ceil(WORD)
    }

    /// Clears what lies right of the width.
    pub(super) fn trim(&mut self) {
        let over = self.words_a_row() * WORD - self.width as usize;
        for y in 0..self.height {
            if let Some(last) = self.row_mut(y).last_mut() {
                *last &= u64::MAX << over;
            }
        }
    }
}

impl std::fmt::Debug for Bits {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Bits({} x {}, {} made)", self.width, self.height, self.count())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dots_are_packed_from_the_left() {
        // 10 dots a row: two bytes, the last six bits of no dot.
        let bits = Bits::by(10, 2, |x, y| if y == 0 { x == 0 || x == 9 } else { x == 7 });
        let rows: Vec<Vec<u8>> = bits.packed().collect();
        assert_eq!(rows, [[0b1000_0000, 0b0100_0000], [0b0000_0001, 0]]);
        assert_eq!(bits.count(), 3);
        assert!(bits.made(9, 0) && !bits.made(10, 0) && !bits.made(0, 2));

        let opposite: Vec<Vec<u8>> = bits.opposite().packed().collect();
        assert_eq!(opposite, [[0b0111_1111, 0b1000_0000], [0b1111_1110, 0b1100_0000]]);
        assert_eq!(bits.opposite().count(), 17);
        assert_eq!(bits.opposite().opposite(), bits);
    }

    #[test]
    fn words_end_where_rows_end() {
        for width in [1, 63, 64, 65, 128, 130] {
            let bits = Bits::by(width, 3, |x, y| (x + y) % 3 == 0);
            for y in 0..3 {
                for x in 0..width + 2 {
                    assert_eq!(bits.made(x, y), x < width && (x + y) % 3 == 0, "{width} {x} {y}");
                }
            }
            assert_eq!(bits.count() + bits.opposite().count(), u64::from(width) * 3);
            assert!(bits.packed().all(|row| row.len() == (width as usize).div_ceil(8)));
        }
        assert_eq!(Bits::blank(0, 0).opposite().count(), 0);
        assert_eq!(Bits::blank(0, 5).packed().count(), 5);
    }
}
