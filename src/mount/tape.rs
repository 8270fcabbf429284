//! Tape and pads: how much of the plate's back they cover. No strength is promised: that
//! is for the maker of the tape to say.

use crate::layout::{FixingAsked, Layout};
use crate::plate::{grams, outline};

/// What stays free of tape inside the plate's edge, mm (common practice, no source).
const EDGE: f64 = 3.0;
/// mm² in a cm².
const SQUARE: f64 = 100.0;

/// Strips of tape.
#[derive(Debug, Clone, PartialEq)]
pub struct Strips {
    /// Width of each, mm.
    pub width: f64,
    /// How many were asked for.
    pub asked: u32,
    /// Length of each that has room, from the top down, mm.
    pub lengths: Vec<f64>,
}

/// Tape on the plate's back.
#[derive(Debug, Clone, PartialEq)]
pub struct Taped {
    /// Strips; `None` where the layout leaves them open.
    pub strips: Option<Strips>,
    /// Area covered, or on offer where nothing was said, mm².
    pub area: f64,
    /// What stays free inside the edge, mm.
    pub edge: f64,
    /// Weight of the plate, g: area × thickness × density.
    pub grams: f64,
}

impl Taped {
    /// Grams a square centimetre of tape carries; infinite without any.
    #[must_use]
    pub fn load(&self) -> f64 {
        self.grams / (self.area / SQUARE)
    }
}

/// Tape on the plate's back: strips lie level, spread evenly from top to bottom, as long as
/// the back is there less an edge of 3 mm. `None` for other fixings.
#[must_use]
pub fn taped(layout: &Layout) -> Option<Taped> {
    let Some(FixingAsked::Tape { strips }) = layout.mount.fixing else { return None };
    let plate = &layout.plate;
    let whole = outline(plate);
    let grams = grams(plate);
    let back = whole.inset(EDGE);
    let Some((width, many)) = strips else {
        let area = back.map_or(0.0, |back| back.area());
        return Some(Taped { strips: None, area, edge: EDGE, grams });
    };
    let (top, bottom) = back.as_ref().map_or((0.0, 0.0), crate::plate::Outline::extent);
    let room = (bottom - top).max(0.0);
    let fits = |many: &u32| f64::from(*many) * width <= room + EQUAL;
    let most = (1..=many).rev().find(fits).unwrap_or(0);
    let step = room / f64::from(most.max(1));
    let long = |index: u32| {
        let middle = top + step * (f64::from(index) + 0.5);
        let free =
            back.as_ref().map(|back| back.free_across(middle - width / 2.0, middle + width / 2.0));
        free.unwrap_or_default().iter().map(|free| free.right - free.left).sum()
    };
    let lengths: Vec<f64> = (0..most).map(long).collect();
    let area = width * lengths.iter().sum::<f64>();
    Some(Taped { strips: Some(Strips { width, asked: many, lengths }), area, edge: EDGE, grams })
}

/// Strips this much too wide still fit, mm.
const EQUAL: f64 = 1e-9;
