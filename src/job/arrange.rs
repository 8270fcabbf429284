//! Where a photograph stands best, and how large it may be.
//!
//! One photograph at most is worked out. Its size goes by half millimetres, or by
//! thirty-seconds of an inch where the layout is in inches; all of them are tried from the
//! largest down, since a field with holes may take a larger photograph and refuse a smaller
//! one. Where its place is worked out too, the four sides are compared by [`Merits`].

use crate::checks::{Facts, photo_stands};
use crate::layout::{Photo, PhotoSide, PhotoSize, PhotoStands};
use crate::photo::{Merits, Seen, Stand, Standing};
use crate::units::MM_PER_INCH;

use super::credit::Credit;
use super::laid::{Ground, Laid};

/// Steps of size, mm and inches.
const STEP_MM: f64 = 0.5;
const STEP_IN: f64 = MM_PER_INCH / 32.0;

/// The least width that is tried, mm: below, nobody is known by a face.
const LEAST: f64 = 10.0;

/// Lengths nearer than this are equal, mm.
const EQUAL: f64 = 1e-6;

/// Sizes of a side in a list to choose from, as shares of the largest.
const SHARES: [f64; 5] = [1.0, 0.85, 0.7, 0.55, 0.4];

/// A way to place the photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placing {
    /// Where it stands.
    pub stand: Stand,
    /// What speaks for it.
    pub merits: Merits,
}

/// Where each photograph stands: as asked, or worked out. One that finds no place in which
/// the wording keeps its floors stands at its first side, as small as is tried.
pub(super) fn stands(ground: &Ground<'_>) -> Vec<Stand> {
    let asked = as_asked(ground);
    let Some(open) = asked.iter().position(Option::is_none) else {
        return asked.into_iter().flatten().collect();
    };
    let search = Search { ground, open, asked };
    let Some(photo) = search.photo() else { return Vec::new() };
    let mut best: Option<Placing> = None;
    for spot in spots(photo) {
        let stand = match photo.size {
            PhotoSize::Largest(_) => search.largest(spot),
            _ => Some(search.of_size(spot, photo)),
        };
        let Some(stand) = stand else { continue };
        if let Some(placing) = search.placing(stand)
            && best.is_none_or(|best| placing.merits.total() > best.merits.total())
        {
            best = Some(placing);
        }
    }
    let stand = best.map_or(search.of_size(spots(photo)[0], photo), |best| best.stand);
    search.stands(stand)
}

/// Ways to place one photograph of a layout at the sides of the field, the best first: of
/// each side the largest that the wording allows and smaller ones, and the size that is asked.
/// Only such in which every line keeps its floor and nothing is in the photograph's way.
pub(super) fn placings(ground: &Ground<'_>, open: usize) -> Vec<Placing> {
    let asked = as_asked(ground);
    let search = Search { ground, open, asked };
    let Some(photo) = search.photo() else { return Vec::new() };
    let mut all: Vec<Placing> = Vec::new();
    for (_, side) in <PhotoSide as crate::layout::Named>::ALL {
        let spot = Standing::Side(*side);
        let Some(largest) = search.largest(spot) else { continue };
        let step = search.step();
        let widths = SHARES.map(|share| (largest.width * share / step).floor() * step);
        let mut stands: Vec<Stand> =
            widths.iter().map(|width| search.of_width(spot, photo, *width)).collect();
        if !matches!(photo.size, PhotoSize::Largest(_)) {
            stands.push(search.of_size(spot, photo));
        }
        for stand in stands.into_iter().filter(|stand| stand.width >= LEAST - EQUAL) {
            let known = |placing: &Placing| {
                placing.stand.spot == spot && (placing.stand.width - stand.width).abs() < EQUAL
            };
            if !all.iter().any(known) {
                all.extend(search.placing(stand));
            }
        }
    }
    // Ties keep the order of the sides.
    all.sort_by(|one, other| other.merits.total().total_cmp(&one.merits.total()));
    all
}

/// The stand of each photograph with its credit; `None` for one to be worked out.
fn as_asked(ground: &Ground<'_>) -> Vec<Option<Stand>> {
    let each = ground.layout.photos.iter().zip(&ground.credits);
    each.map(|(photo, credit)| {
        Some(Stand { under: under(credit.as_ref()), ..Stand::asked(photo)? })
    })
    .collect()
}

/// What a credit takes under its photograph.
fn under(credit: Option<&Credit>) -> (f64, f64) {
    credit.map_or((0.0, 0.0), Credit::under)
}

/// Where a photograph may stand.
fn spots(photo: &Photo) -> Vec<Standing> {
    match photo.stands {
        PhotoStands::Side(side) => vec![Standing::Side(side)],
        PhotoStands::At(x, y) => vec![Standing::At(x, y)],
        PhotoStands::Auto => {
            let sides = <PhotoSide as crate::layout::Named>::ALL;
            sides.iter().map(|(_, side)| Standing::Side(*side)).collect()
        }
    }
}

/// The one photograph that is worked out.
struct Search<'a> {
    ground: &'a Ground<'a>,
    open: usize,
    asked: Vec<Option<Stand>>,
}

impl Search<'_> {
    fn photo(&self) -> Option<&Photo> {
        self.ground.layout.photos.get(self.open)
    }

    fn step(&self) -> f64 {
        if self.ground.layout.inches { STEP_IN } else { STEP_MM }
    }

    /// All stands where the open one is this.
    fn stands(&self, stand: Stand) -> Vec<Stand> {
        let each = self.asked.iter().enumerate();
        each.map(|(index, asked)| if index == self.open { stand } else { asked.unwrap_or(stand) })
            .collect()
    }

    fn of_width(&self, spot: Standing, photo: &Photo, width: f64) -> Stand {
        let credit = self.ground.credits.get(self.open).and_then(Option::as_ref);
        Stand { under: under(credit), ..Stand::of_width(photo, spot, width) }
    }

    /// The size that is asked, at another spot; the least that is tried where it is to be
    /// worked out.
    fn of_size(&self, spot: Standing, photo: &Photo) -> Stand {
        let least = self.of_width(spot, photo, LEAST);
        Stand::sized(photo, spot).map_or(least, |asked| Stand { under: least.under, ..asked })
    }

    /// The largest at a spot, by [`Self::step`]s of its width.
    fn largest(&self, spot: Standing) -> Option<Stand> {
        let plate = &self.ground.layout.plate;
        let photo = self.photo()?;
        let most = plate.width.min(plate.height * photo.proportion);
        let mut count = (most / self.step()).floor();
        while count * self.step() >= LEAST - EQUAL {
            let stand = self.of_width(spot, photo, count * self.step());
            if self.kept(stand).is_some() {
                return Some(stand);
            }
            count -= 1.0;
        }
        None
    }

    /// Everything placed, if every line keeps its floor and what it is to keep, and nothing is
    /// in the photograph's way.
    fn kept(&self, stand: Stand) -> Option<Laid> {
        let ground = self.ground;
        let laid = ground.laid_if_kept(&self.stands(stand))?;
        let keeps = match self.photo().map(|photo| photo.size) {
            Some(PhotoSize::Largest(keeps)) => keeps.unwrap_or(0.0),
            _ => 0.0,
        };
        let words = ground.layout.lines.iter().map(|line| line.ornament.is_none());
        let low = laid
            .fitted
            .lines
            .iter()
            .zip(words)
            .any(|(line, words)| words && line.cap_height < keeps - EQUAL);
        (!low && photo_stands(&facts(ground, &laid))).then_some(laid)
    }

    fn placing(&self, stand: Stand) -> Option<Placing> {
        let laid = self.kept(stand)?;
        let plate = &self.ground.layout.plate;
        let lines = laid.fitted.lines.iter().zip(&self.ground.layout.lines);
        let heights = lines
            .filter(|(_, line)| line.ornament.is_none())
            .map(|(line, _)| (line.cap_height, line.floor.preferred.unwrap_or(line.floor.floor)));
        let seen = Seen {
            size: (plate.width, plate.height),
            field: laid.field.bounds().unwrap_or_default(),
            photos: laid.photos.iter().map(|placed| placed.sides).collect(),
            rows: laid
                .fitted
                .rows
                .iter()
                .filter(|row| row.has_ink())
                .map(|row| [row.ink.x0, row.ink.y0, row.ink.x1, row.ink.y1])
                .collect(),
            heights: heights.collect(),
        };
        Some(Placing { stand, merits: Merits::of(&seen) })
    }
}

/// What checks of photographs look at; ornaments in lines do not matter to them.
fn facts<'a>(ground: &'a Ground<'a>, laid: &'a Laid) -> Facts<'a> {
    Facts {
        layout: ground.layout,
        lines: &laid.lines,
        field: &laid.field,
        zones: &laid.zones,
        mount: ground.mount,
        fitted: &laid.fitted,
        photos: &laid.photos,
        decoration: &ground.corners,
    }
}
