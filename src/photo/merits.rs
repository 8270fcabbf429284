//! What speaks for a way to place a photograph. How the four are weighed is our own choice;
//! any can be chosen over the order that they give.

/// What is seen of a plate with photographs and lettering; mm in plate coordinates.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// Width and height of the plate.
    pub size: (f64, f64),
    /// Left, top, right, bottom of the field that lettering stands in.
    pub field: [f64; 4],
    /// Boxes of the photographs.
    pub photos: Vec<[f64; 4]>,
    /// Boxes of the rows' ink.
    pub rows: Vec<[f64; 4]>,
    /// Cap height of each line of words, and the one that reads well.
    pub heights: Vec<(f64, f64)>,
}

/// Four merits, each from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Merits {
    /// How near the line that reads worst comes to the height that reads well.
    pub letters: f64,
    /// How large the photographs are, by the root of their share of the plate: 1 from a third.
    pub photo: f64,
    /// How alike the white beside the lettering is to that above and below it.
    pub white: f64,
    /// How near the middle of what is seen comes to the middle of the plate.
    pub middle: f64,
}

/// Share of the plate from which a photograph is as large as one could wish. Own choice.
const LARGE: f64 = 1.0 / 3.0;

/// How dark photographs and rows are as a whole: a picture is of middle grey, letters cover
/// about a fifth of the box of their ink. Own choice.
const PHOTO_TONE: f64 = 0.5;
const ROW_TONE: f64 = 0.2;

/// How much the merits count: letters, photograph, white, middle. Own choice: what cannot be
/// read or seen is worth little, however well it stands.
const WEIGHTS: [f64; 4] = [3.0, 2.0, 1.0, 1.0];

impl Merits {
    /// The merits of what is seen.
    #[must_use]
    pub fn of(seen: &Seen) -> Self {
        let share = |(height, good): &(f64, f64)| if *good > 0.0 { height / good } else { 1.0 };
        let letters = seen.heights.iter().map(share).fold(1.0, f64::min);
        let (width, height) = seen.size;
        let area: f64 = seen.photos.iter().map(area).sum();
        Self {
            letters: letters.clamp(0.0, 1.0),
            photo: (area / (width * height) / LARGE).clamp(0.0, 1.0).sqrt(),
            white: white(seen),
            middle: middle(seen),
        }
    }

    /// All four weighed, from 0 to 1: their weighted geometric mean, so that none makes up for
    /// another that is missing.
    #[must_use]
    pub fn total(&self) -> f64 {
        let each = [self.letters, self.photo, self.white, self.middle];
        let powers = each.iter().zip(WEIGHTS).map(|(merit, weight)| libm::pow(*merit, weight));
        libm::pow(powers.product(), 1.0 / WEIGHTS.iter().sum::<f64>())
    }
}

fn area([left, top, right, bottom]: &[f64; 4]) -> f64 {
    (right - left).max(0.0) * (bottom - top).max(0.0)
}

/// 1 where as much white is beside all rows together as above and below them.
fn white(seen: &Seen) -> f64 {
    let all = seen.rows.iter().copied().reduce(|all, row| {
        [all[0].min(row[0]), all[1].min(row[1]), all[2].max(row[2]), all[3].max(row[3])]
    });
    let Some(block) = all else { return 0.0 };
    let spare = |from: usize, to: usize| {
        ((seen.field[to] - seen.field[from]) - (block[to] - block[from])).max(0.0)
    };
    let (across, down) = (spare(0, 2), spare(1, 3));
    if across + down <= 0.0 { 1.0 } else { 1.0 - (across - down).abs() / (across + down) }
}

/// 1 where what is seen, weighed by how dark it is, has its middle in that of the plate; 0
/// where it lies at an edge.
fn middle(seen: &Seen) -> f64 {
    let photos = seen.photos.iter().map(|sides| (sides, PHOTO_TONE));
    let rows = seen.rows.iter().map(|sides| (sides, ROW_TONE));
    let (mut weight, mut x, mut y) = (0.0, 0.0, 0.0);
    for (sides, tone) in photos.chain(rows) {
        let one = area(sides) * tone;
        weight += one;
        x += one * f64::midpoint(sides[0], sides[2]);
        y += one * f64::midpoint(sides[1], sides[3]);
    }
    if weight <= 0.0 {
        return 0.0;
    }
    let off = |at: f64, side: f64| (at / weight - side / 2.0) / (side / 2.0);
    (1.0 - libm::hypot(off(x, seen.size.0), off(y, seen.size.1))).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::{Merits, Seen};

    fn near(one: f64, other: f64) {
        assert!((one - other).abs() < 1e-12, "{one} {other}");
    }

    #[test]
    fn merits_are_those_worked_by_hand() {
        // A plate of 100 x 60 with a photograph of 20 x 40 at the left, one row of 40 x 10 in a
        // field of 60 x 50.
        let seen = Seen {
            size: (100.0, 60.0),
            field: [35.0, 5.0, 95.0, 55.0],
            photos: vec![[5.0, 10.0, 25.0, 50.0]],
            rows: vec![[45.0, 25.0, 85.0, 35.0]],
            heights: vec![(3.0, 4.0), (10.0, 4.0)],
        };
        let merits = Merits::of(&seen);
        near(merits.letters, 0.75);
        // 800 of 6000 mm²; a third is 2000.
        near(merits.photo, 0.4_f64.sqrt());
        // 20 beside, 40 above and below: 1 - 20 / 60.
        near(merits.white, 2.0 / 3.0);
        // 800 · 0.5 at x 15 and 400 · 0.2 at x 65, both at y 30: x = 11200 / 480 = 23.33,
        // 26.67 from the middle of 50.
        near(merits.middle, 1.0 - 26.0 / 50.0 - 2.0 / 3.0 / 50.0);
        // 0.75³ · 0.4 · white · middle, seventh root.
        let product = 0.421_875 * 0.4 * merits.white * merits.middle;
        near(merits.total(), libm::pow(product, 1.0 / 7.0));
    }

    #[test]
    fn nothing_seen_has_no_merit_and_no_division_by_nothing() {
        let seen = Seen {
            size: (100.0, 60.0),
            field: [0.0; 4],
            photos: Vec::new(),
            rows: Vec::new(),
            heights: vec![(2.0, 0.0)],
        };
        let merits = Merits::of(&seen);
        near(merits.letters, 1.0);
        near(merits.total(), 0.0);
    }
}
