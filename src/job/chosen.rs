//! Ways to place a photograph as they are offered and as the chosen one is written down:
//! alike on the command line and at the desk.

use crate::layout::Named;
use crate::photo::Standing;
use crate::units::MM_PER_INCH;
use crate::units::digits::trimmed;

use super::Placing;

/// Ways that are shown, and of one side among them.
const SHOWN: usize = 6;
const OF_ONE_SIDE: usize = 2;

/// What the table of a photograph says for a placing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlacingKeys {
    /// Keys that get a text.
    pub set: Vec<(&'static str, String)>,
    /// Keys that go: what the size was to be worked out by.
    pub remove: Vec<&'static str>,
}

/// The best, not more than two of a side: what differs in size alone is hardly a choice.
#[must_use]
pub fn chosen_few<L>(all: &[(Placing, L)]) -> Vec<&(Placing, L)> {
    let mut few: Vec<&(Placing, L)> = Vec::new();
    for way in all {
        let alike = few.iter().filter(|known| known.0.stand.spot == way.0.stand.spot).count();
        if few.len() < SHOWN && alike < OF_ONE_SIDE {
            few.push(way);
        }
    }
    few
}

/// A length, mm, as the layout's other lengths are written.
#[must_use]
pub fn written(mm: f64, inches: bool) -> String {
    if inches {
        format!("{} in", trimmed(mm / MM_PER_INCH, 5))
    } else {
        format!("{} mm", trimmed(mm, 3))
    }
}

impl Placing {
    /// What is written for it in the table of its photograph, `has` saying which keys stand
    /// there now: a size that was told by its height stays so. Nothing at a point, which the
    /// table says already.
    #[must_use]
    pub fn keys(&self, inches: bool, has: impl Fn(&str) -> bool) -> Option<PlacingKeys> {
        let Standing::Side(side) = self.stand.spot else { return None };
        let width = ("width", written(self.stand.width, inches));
        let height = ("height", written(self.stand.height, inches));
        let mut set = vec![("place", side.word().to_owned())];
        match (has("width"), has("height")) {
            (false, true) => set.push(height),
            (true, true) => set.extend([width, height]),
            (_, false) => set.push(width),
        }
        Some(PlacingKeys { set, remove: vec!["keeps"] })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::PhotoSide;
    use crate::photo::{Merits, Stand};

    fn placing(side: PhotoSide) -> Placing {
        let merits = Merits { letters: 1.0, photo: 1.0, white: 1.0, middle: 1.0 };
        let spot = Standing::Side(side);
        Placing { stand: Stand { spot, width: 25.4, height: 50.8, under: (0.0, 0.0) }, merits }
    }

    #[test]
    fn of_one_side_no_more_than_two_are_shown() {
        let sides = [PhotoSide::Left, PhotoSide::Left, PhotoSide::Left, PhotoSide::Top];
        let all: Vec<_> = sides.iter().map(|side| (placing(*side), ())).collect();
        let few: Vec<Standing> = chosen_few(&all).iter().map(|way| way.0.stand.spot).collect();
        let side = Standing::Side;
        assert_eq!(few, [side(PhotoSide::Left), side(PhotoSide::Left), side(PhotoSide::Top)]);
    }

    #[test]
    fn a_size_stays_told_by_what_told_it() {
        let keys = |told: &[&str]| {
            let keys = placing(PhotoSide::Left).keys(true, |key| told.contains(&key)).unwrap();
            assert_eq!(keys.remove, ["keeps"]);
            keys.set.into_iter().map(|(key, value)| format!("{key} {value}")).collect::<Vec<_>>()
        };
        assert_eq!(keys(&["height"]), ["place left", "height 2 in"]);
        assert_eq!(keys(&["width"]), ["place left", "width 1 in"]);
        assert_eq!(keys(&[]), ["place left", "width 1 in"]);
        assert_eq!(keys(&["width", "height"]), ["place left", "width 1 in", "height 2 in"]);
    }
}
