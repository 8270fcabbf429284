//! A line at narrower steps of a width axis.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Face, LineStyle, ShapedLine, shaped_run, styled_line};
use crate::layout::{Axis, AxisValue, LetteringChoice};

/// Places of a width axis to one of its units: a step of a whole per cent of the drawn
/// width is met to some hundredths of one.
const PLACES: u32 = 100;
/// A layout states axes in thousandths.
const THOUSANDTHS: u32 = 1000;

/// Sets a line narrower, step by step; each step is a whole per cent of the width at which
/// the layout has it drawn.
///
/// Along the axis width does not rise evenly, so the place of a step is found by halving
/// on the shaped advance of the line: the widest place whose advance is no greater.
pub struct Narrower<'a> {
    choice: &'a LetteringChoice,
    style: LineStyle<'a>,
    drawn: ShapedLine,
    /// The part of the text that is set in the face that has the axis.
    text: String,
    /// Least per cent allowed.
    least: u32,
    /// Ends of the axis from its least value to the drawn one, in [`PLACES`].
    ends: (u32, u32),
    /// Advances known so far by place, em; `None` where the face did not open.
    known: BTreeMap<u32, Option<f64>>,
    /// Steps so far, the first being 99 %.
    steps: Vec<ShapedLine>,
}

impl<'a> Narrower<'a> {
    /// For a line as it is drawn, its own lettering and style, and the least per cent of
    /// its drawn width; `None` where the lettering has no width axis.
    #[must_use]
    pub fn new(
        drawn: &ShapedLine,
        choice: &'a LetteringChoice,
        style: LineStyle<'a>,
        least: u32,
    ) -> Option<Self> {
        let tag = Axis::Width.tag();
        let (_, stands) = drawn.face.axes.iter().find(|(axis, _)| axis == tag)?;
        let from = drawn.face.axis_least(tag)?;
        let own = drawn.stretches().into_iter().filter(|(_, face)| Arc::ptr_eq(face, &drawn.face));
        let parts: Vec<&str> = own.filter_map(|(range, _)| drawn.text.get(range)).collect();
        Some(Self {
            choice,
            style,
            drawn: drawn.clone(),
            text: parts.join(" "),
            least: least.max(1),
            ends: (places(from, f64::ceil), places(*stands, f64::floor)),
            known: BTreeMap::new(),
            steps: Vec::new(),
        })
    }

    /// The line at a per cent of its drawn width, from 100 down; `None` below the least
    /// and where the axis does not go so far.
    pub fn at(&mut self, per_cent: u32) -> Option<&ShapedLine> {
        if per_cent >= 100 {
            return Some(&self.drawn);
        }
        if per_cent < self.least {
            return None;
        }
        let wanted = usize::try_from(99 - per_cent).ok()?;
        while self.steps.len() <= wanted {
            let next = 99 - u32::try_from(self.steps.len()).ok()?;
            let place = self.place(next)?;
            let face = Face::open(&self.choice_at(place)).ok()?;
            let drawn = &self.drawn;
            let mut step = styled_line(&drawn.text, &face, &self.style, &drawn.stops);
            step.narrowed = Some(next);
            self.steps.push(step);
        }
        self.steps.get(wanted)
    }

    /// The widest place whose advance is at most a per cent of the drawn one.
    fn place(&mut self, per_cent: u32) -> Option<u32> {
        let most = shaped_run(&self.text, &self.drawn.face, self.style.features).advance_em
            * f64::from(per_cent)
            / 100.0;
        let (mut low, mut high) = self.ends;
        if low >= high || self.advance(low)? > most {
            return None;
        }
        while high - low > 1 {
            let middle = low + (high - low) / 2;
            if self.advance(middle)? <= most {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(low)
    }

    fn advance(&mut self, place: u32) -> Option<f64> {
        if let Some(known) = self.known.get(&place) {
            return *known;
        }
        let face = Face::open(&self.choice_at(place)).ok();
        let advance =
            face.map(|face| shaped_run(&self.text, &face, self.style.features).advance_em);
        self.known.insert(place, advance);
        advance
    }

    /// The lettering with its width at a place.
    fn choice_at(&self, place: u32) -> LetteringChoice {
        let mut choice = self.choice.clone();
        choice.ask(Axis::Width, AxisValue::Thousandths(place * (THOUSANDTHS / PLACES)));
        choice
    }
}

/// A value of an axis in places, rounded so that it stays in its range.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "`as` saturates; widths of fonts are some hundreds"
)]
fn places(value: f32, round: impl Fn(f64) -> f64) -> u32 {
    round(f64::from(value) * f64::from(PLACES)) as u32
}
