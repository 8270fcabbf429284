//! Tone: a grey picture made ready to be screened.
//!
//! All of it works on levels as sRGB codes them, whose equal steps look about equal, and
//! gives the same levels on every machine.

mod levels;
mod local;
mod sharp;

pub use local::LocalContrast;
pub use sharp::Unsharp;

use super::Grey;

/// What is done to tone, in this order. The default does nothing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Toning {
    /// Share of the picture, from 0 to 0.5, that may become black: levels are stretched
    /// from the level that so many dots do not exceed …
    pub black: f64,
    /// … to the level that so many dots reach or exceed, which becomes white.
    pub white: f64,
    /// Contrast of each part of the picture by itself. Off unless it is asked for: it draws
    /// out a dull landscape, and blotches faces.
    pub contrast: Option<LocalContrast>,
    /// What the middle level between black and white becomes, as a share of white, above 0
    /// and below 1. A face in the shade can be lifted by it without bleaching the sky, and what a process
    /// darkens by widening its dots can be taken off before.
    pub midtone: Option<f64>,
    /// Edges drawn out, since a screen softens them.
    pub sharpen: Option<Unsharp>,
}

/// The picture with its tone changed. What is out of its range counts as the nearest that is
/// in it, what is no number as 0. A picture of one level keeps it, unless the midtone moves it.
#[must_use]
pub fn toned(grey: &Grey, toning: &Toning) -> Grey {
    let mut toned = grey.clone();
    if toning.black > 0.0 || toning.white > 0.0 {
        levels::stretch(&mut toned, toning.black, toning.white);
    }
    if let Some(contrast) = toning.contrast {
        toned = local::equalized(&toned, contrast);
    }
    if let Some(midtone) = toning.midtone {
        levels::bend(&mut toned, midtone);
    }
    if let Some(sharpen) = toning.sharpen {
        toned = sharp::sharpened(&toned, sharpen);
    }
    toned
}

/// A share that was asked for, from 0 to `most`.
fn share(asked: f64, most: f64) -> f64 {
    if asked.is_nan() { 0.0 } else { asked.clamp(0.0, most) }
}

#[cfg(test)]
mod tests;
