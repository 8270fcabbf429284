//! How many pixels a photograph needs.

use crate::layout::PhotoScreen;

use super::making::{Making, Tones};

/// What a reader with good sight resolves, minutes of arc: one minute is 20/20, by the
/// letters of the eye chart, whose strokes are one minute wide (ISO 8596).
const RESOLVED_MINUTES: f64 = 1.0;

/// What printers ask for, pixels an inch. Common practice, no source.
const PRINTERS_PPI: f64 = 300.0;

/// Pixels of the picture that a row of a screen asks for. Common practice, no source: 1.5 to 2.
const PIXELS_PER_ROW: f64 = 1.5;

/// What governs how many pixels are needed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// What the eye resolves at the reading distance.
    Eye,
    /// The rows of the screen, which hide what is finer.
    Screen,
    /// The steps of the machine.
    Machine,
}

/// How many pixels of the picture are needed on a mm of the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Demand {
    /// Pixels a mm at which nobody sees that there could be more.
    pub pixels_per_mm: f64,
    /// Why so many.
    pub ground: Ground,
    /// What printers usually ask for, pixels a mm, where it is printed without a screen of
    /// ours; more than the eye asks for at more than 291 mm.
    pub printers: Option<f64>,
}

/// Pixels a mm that the eye resolves at a distance in mm: one a minute of arc, which is
/// `2 · d · tan(0.5′)` wide.
#[must_use]
pub fn eye_pixels_per_mm(distance: f64) -> f64 {
    let half = (RESOLVED_MINUTES / 2.0 / 60.0).to_radians();
    1.0 / (2.0 * distance * libm::tan(half))
}

/// What a making asks for when it is looked at from a distance in mm. A screen's rows govern
/// where they are coarser than the eye, and the machine's steps as well: what they cannot
/// show is not asked for.
#[must_use]
pub fn demand(making: &Making, distance: f64) -> Demand {
    let eye = eye_pixels_per_mm(distance);
    let (most, ground) = match making.tones {
        Tones::Colour | Tones::Grey => (1.0 / making.step, Ground::Machine),
        Tones::Marks { screen: PhotoScreen::Diffused(_), dot } => {
            (1.0 / dot.max(making.step), Ground::Machine)
        }
        Tones::Marks { screen: PhotoScreen::Dots(ruling) | PhotoScreen::Lines(ruling), .. } => {
            (PIXELS_PER_ROW / ruling.pitch, Ground::Screen)
        }
    };
    let printed = matches!(making.tones, Tones::Colour | Tones::Grey);
    let printers = printed.then_some(PRINTERS_PPI / crate::units::MM_PER_INCH);
    if most < eye {
        Demand { pixels_per_mm: most, ground, printers }
    } else {
        Demand { pixels_per_mm: eye, ground: Ground::Eye, printers }
    }
}
