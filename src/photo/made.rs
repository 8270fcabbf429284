//! The pixels of a photograph as its process makes them.

use std::sync::Arc;

use crate::layout::{Diffusion, Layout, Photo, PhotoScreen, Tone};
use crate::picture::{Bits, Grey, Kernel, LocalContrast, Picture, Screen, Toning, Unsharp};
use crate::picture::{finest_ruling, luminance, screened, toned};
use crate::plate::{fill_row, look};

use super::making::{Making, Tones, making};
use super::place::PlacedPhoto;

/// Tiles across and down within which local contrast is evened. Common practice, no source.
const TILES: (u32, u32) = (8, 8);

/// Least radius of sharpening, in dots: under it nothing is sharpened.
const LEAST_RADIUS: f64 = 0.7;

/// A photograph at the resolution of its process.
#[derive(Debug, Clone, PartialEq)]
pub enum Made {
    /// Printed in colour; it fills its box.
    Colour(Picture),
    /// Printed in grey; it fills its box.
    Grey(Grey),
    /// Marks of one tone, none of them outside its outline.
    Marks(Bits),
}

/// The colour of what the process leaves on the plate, sRGB: paint, or the bare cut.
#[must_use]
pub fn mark_colour(layout: &Layout) -> [u8; 3] {
    fill_row(layout.engraving.fill).map_or(look(&layout.plate).cut, |fill| fill.rgb)
}

/// Whether marks are lighter than the plate, so that they are made where the picture is light.
#[must_use]
pub fn marks_are_light(layout: &Layout) -> bool {
    let look = look(&layout.plate);
    let body = look.stops.iter().map(|(_, tone)| luminance(*tone));
    let body = body.sum::<f64>() / f64::from(u32::try_from(look.stops.len()).unwrap_or(1).max(1));
    luminance(mark_colour(layout)) > body
}

/// Dots a mm that a photograph of marks is shown with at most: what printers of paper hold.
const SHOWN_PER_MM: f64 = 24.0;

/// A photograph as it is seen on the plate.
#[derive(Debug, Clone, PartialEq)]
pub enum Shown {
    /// In colour.
    Colour(Picture),
    /// In grey.
    Grey(Arc<Grey>),
    /// How bare the plate stays under marks, 255 where there is none.
    Bare(Arc<Grey>),
}

impl PlacedPhoto {
    /// The photograph as it is seen: as its process makes it; in plain grey, as a pattern to
    /// work from, where that makes none. Worked out when first asked for and kept. `None` only
    /// where the layout has no such photograph.
    #[must_use]
    pub fn shown(&self, layout: &Layout) -> Option<&Shown> {
        let photo = layout.photos.get(self.index)?;
        let shown = || match self.made(layout).as_deref() {
            Some(Made::Colour(picture)) => Shown::Colour(picture.clone()),
            Some(Made::Grey(grey)) => Shown::Grey(Arc::new(grey.clone())),
            Some(Made::Marks(bits)) => {
                Shown::Bare(Arc::new(bare(bits, self.width(), SHOWN_PER_MM)))
            }
            // The pattern that an engraver by hand works from, or what cannot be made.
            None => Shown::Grey(Arc::new(self.pattern(photo))),
        };
        Some(self.shown.get_or_init(shown))
    }

    /// The photograph as its process makes it: cropped, reduced to a dot a pixel, toned,
    /// screened. Worked out when first asked for and kept. `None` where the process makes no
    /// photograph. The layout must be the one that it was placed for.
    #[must_use]
    pub fn made(&self, layout: &Layout) -> Option<Arc<Made>> {
        let photo = layout.photos.get(self.index)?;
        let making = making(photo, layout).ok()?;
        let pixels = self.pixels.get_or_init(|| Arc::new(made(photo, self, &making, layout)));
        Some(Arc::clone(pixels))
    }

    /// Takes over from another placing what has been worked out there, where it would come out
    /// the same: of the same picture, cropped alike, as large, of the same outline in it, made
    /// alike.
    #[expect(clippy::float_cmp, reason = "the same only where all the same figures went in")]
    pub fn take_over(&self, layout: &Layout, from: &Self, old: &Layout) {
        let photos = layout.photos.get(self.index).zip(old.photos.get(from.index));
        let alike = photos.is_some_and(|(new, known)| {
            new.digest == known.digest
                && new.making == known.making
                && new.shape == known.shape
                && making(new, layout).ok() == making(known, old).ok()
                && marks_are_light(layout) == marks_are_light(old)
        });
        let placed = self.crop == from.crop && self.sides == from.sides;
        if alike && placed && self.outline == from.outline {
            // Where it has been worked out here already, it is the same.
            let _ = from.pixels.get().map(|made| self.pixels.set(Arc::clone(made)));
            let _ = from.shown.get().map(|shown| self.shown.set(shown.clone()));
        }
    }
}

fn made(photo: &Photo, placed: &PlacedPhoto, making: &Making, layout: &Layout) -> Made {
    let dots = |mm: f64| dots(mm, making.step);
    let (width, height) = (dots(placed.width()), dots(placed.height()));
    let part = photo.picture.part(placed.crop, width, height);
    match making.tones {
        Tones::Colour => Made::Colour(part),
        Tones::Grey => Made::Grey(toned(&part.grey(), &toning(making.tone, LEAST_RADIUS))),
        Tones::Marks { screen, dot } => {
            let per_mm = 1.0 / making.step;
            let (screen, row) = screen_of(screen, dot);
            let radius = (row / making.step / 2.0).max(LEAST_RADIUS);
            let grey = toned(&part.grey(), &toning(making.tone, radius));
            let bits = screened(&grey, screen, per_mm, dots(dot));
            let bits = if marks_are_light(layout) { bits.opposite() } else { bits };
            Made::Marks(within(&bits, placed))
        }
    }
}

/// Pixels a mm of a picture that is only a pattern: what paper holds in grey.
const PATTERN_PER_MM: f64 = 12.0;

impl PlacedPhoto {
    /// The photograph in plain grey, whatever its process makes of it.
    #[must_use]
    pub fn pattern(&self, photo: &Photo) -> Grey {
        let dots = |mm: f64| dots(mm, 1.0 / PATTERN_PER_MM);
        photo.picture.part(self.crop, dots(self.width()), dots(self.height())).grey()
    }
}

/// How bare the plate stays under marks that are `width` mm across in all, 255 where there is
/// none, reduced by a whole number to at most so many dots a mm.
fn bare(bits: &Bits, width: f64, most_per_mm: f64) -> Grey {
    let by = dots(f64::from(bits.width()) / width / most_per_mm, 1.0);
    let by =
        if f64::from(bits.width()) / width > most_per_mm * f64::from(by) { by + 1 } else { by };
    let (across, down) = (bits.width().div_ceil(by), bits.height().div_ceil(by));
    let cells = (0..down).flat_map(|y| (0..across).map(move |x| (x * by, y * by)));
    let level = |(left, top): (u32, u32)| {
        let (right, foot) = ((left + by).min(bits.width()), (top + by).min(bits.height()));
        let all = (right - left) * (foot - top);
        let made = (top..foot)
            .flat_map(|y| (left..right).map(move |x| (x, y)))
            .filter(|(x, y)| bits.made(*x, *y))
            .count();
        let made = u32::try_from(made).unwrap_or(all);
        u8::try_from(255 - 255 * made / all.max(1)).unwrap_or(255)
    };
    Grey { width: across, height: down, levels: cells.map(level).collect() }
}

/// The least distance from row to row of a screen of which a making can still make every dot
/// and gap, mm.
#[must_use]
pub fn finest_pitch(making: &Making) -> Option<f64> {
    let Tones::Marks { dot, .. } = making.tones else { return None };
    Some(1.0 / finest_ruling(1.0 / making.step, dots(dot, making.step)))
}

/// Whole dots of a length, at least one.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "from 1 to at most a metre of dots of 0.005 mm"
)]
fn dots(mm: f64, step: f64) -> u32 {
    (mm / step).round().clamp(1.0, 200_000.0) as u32
}

fn toning(tone: Tone, radius: f64) -> Toning {
    Toning {
        black: tone.stretch,
        white: tone.stretch,
        contrast: tone.local_contrast.map(|clip| LocalContrast { tiles: TILES, clip }),
        midtone: ((tone.midtone - 0.5).abs() > f64::EPSILON).then_some(tone.midtone),
        sharpen: (tone.sharpen > 0.0)
            .then_some(Unsharp { radius_px: radius, amount: tone.sharpen }),
    }
}

/// The screen in its own words, and how far apart its marks are, mm. The layout counts angles
/// anticlockwise, pixels clockwise.
fn screen_of(asked: PhotoScreen, dot: f64) -> (Screen, f64) {
    match asked {
        PhotoScreen::Diffused(weights) => {
            let kernel = match weights {
                Diffusion::FloydSteinberg => Kernel::FloydSteinberg,
                Diffusion::Jarvis => Kernel::JarvisJudiceNinke,
                Diffusion::Stucki => Kernel::Stucki,
            };
            (Screen::Diffused(kernel), dot)
        }
        PhotoScreen::Dots(ruling) => {
            let screen = Screen::Dots { per_mm: 1.0 / ruling.pitch, angle_degrees: -ruling.angle };
            (screen, ruling.pitch)
        }
        PhotoScreen::Lines(ruling) => {
            let screen = Screen::Lines { per_mm: 1.0 / ruling.pitch, angle_degrees: -ruling.angle };
            (screen, ruling.pitch)
        }
    }
}

/// The marks whose middles lie inside the outline.
fn within(bits: &Bits, placed: &PlacedPhoto) -> Bits {
    let (width, height) = (f64::from(bits.width()), f64::from(bits.height()));
    let (across, down) = (placed.width() / width, placed.height() / height);
    let mut row = None;
    let mut chords = Vec::new();
    Bits::by(bits.width(), bits.height(), |x, y| {
        if row != Some(y) {
            chords = placed.edge.chords((f64::from(y) + 0.5) * down);
            row = Some(y);
        }
        let at = (f64::from(x) + 0.5) * across;
        bits.made(x, y) && chords.iter().any(|chord| at >= chord.left && at <= chord.right)
    })
}
