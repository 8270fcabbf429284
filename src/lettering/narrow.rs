//! A line at narrower steps of a width axis.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::catalogue::thousandths;
use super::runs::text_runs;
use super::shape::{Shaper, units};
use super::{LineStyle, ShapedLine, styled_line};
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
    /// Advance of that part as it is drawn, em.
    advance_em: f64,
    /// Advances known so far by place, em.
    known: BTreeMap<u32, f64>,
    /// Steps so far, the first being 99 %.
    steps: Vec<ShapedLine>,
}

impl<'a> Narrower<'a> {
    /// For a line as it is drawn, its own lettering and style, and the least per cent of
    /// its drawn width; `None` where the lettering has no width axis, or
    /// nothing of the line is set in it.
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
        let advance_em = drawn.own_advance_em();
        if advance_em <= 0.0 {
            return None;
        }
        Some(Self {
            choice,
            style,
            drawn: drawn.clone(),
            text: drawn.own_part(),
            advance_em,
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
            let face = self.drawn.face.at(&self.choice_at(place)).ok()?;
            let drawn = &self.drawn;
            let mut step = styled_line(&drawn.text, &face, &self.style, &drawn.stops);
            step.narrowed = Some(next);
            self.steps.push(step);
        }
        self.steps.get(wanted)
    }

    /// The widest place whose advance is at most a per cent of the drawn one.
    fn place(&mut self, per_cent: u32) -> Option<u32> {
        let most = self.advance_em * f64::from(per_cent) / 100.0;
        let (mut low, mut high) = self.ends;
        if low >= high || self.advance(low) > most {
            return None;
        }
        while high - low > 1 {
            let middle = low + (high - low) / 2;
            if self.advance(middle) <= most {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(low)
    }

    /// Advance of the part with the width at a place, em.
    fn advance(&mut self, place: u32) -> f64 {
        let face = &self.drawn.face;
        *self.known.entry(place).or_insert_with(|| {
            let value = thousandths(place * (THOUSANDTHS / PLACES));
            let instance = face.instance(Axis::Width.tag(), value);
            advance(&self.text, &instance, &self.style) * face.em_per_unit()
        })
    }

    /// The lettering with its width at a place.
    fn choice_at(&self, place: u32) -> LetteringChoice {
        let mut choice = self.choice.clone();
        choice.ask(Axis::Width, AxisValue::Thousandths(place * (THOUSANDTHS / PLACES)));
        choice
    }
}

impl ShapedLine {
    /// Advance of what is set in the line's own face, em; 0 where nothing is.
    #[must_use]
    pub fn own_advance_em(&self) -> f64 {
        let (features, language) = (self.features.as_slice(), self.language());
        let style = LineStyle { features, language, ..LineStyle::default() };
        advance(&self.own_part(), self.face.shaping(), &style) * self.face.em_per_unit()
    }

    /// What of the text is set in the line's own face.
    fn own_part(&self) -> String {
        let own = self.stretches().into_iter().filter(|(_, face)| Arc::ptr_eq(face, &self.face));
        let parts: Vec<&str> = own.filter_map(|(range, _)| self.text.get(range)).collect();
        parts.join(" ")
    }
}

/// Advance of a text in an instance as a line of that style has it, font units.
fn advance(text: &str, instance: &harfrust::Font, style: &LineStyle<'_>) -> f64 {
    let mut shaper = Shaper::of_instance(instance, style.features, style.language);
    let runs = text_runs(text);
    units(shaper.shaped(text, &runs.visual(&(0..text.len()))).1)
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

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::Narrower;
    use crate::layout::{FontFile, LetteringChoice};
    use crate::lettering::{Face, LineStyle, shipped, styled_line};

    #[test]
    fn a_step_is_measured_in_the_language_it_is_set_in() {
        // In Turkish f and i stay apart, so that the dot is seen: the line has another
        // advance, and narrows at another rate, than with the ligature.
        let choice = LetteringChoice::shipped("Cabin");
        let face = Face::open(&choice).unwrap();
        let style = LineStyle { language: Some("tr"), ..LineStyle::default() };
        let text = "fi fifi fififi";
        let drawn = styled_line(text, &face, &style, &[0, text.len()]);
        let mut steps = Narrower::new(&drawn, &choice, style, 80).unwrap();
        for per_cent in [99, 97, 94, 91] {
            let own = steps.at(per_cent).unwrap().own_advance_em() / drawn.own_advance_em();
            let most = f64::from(per_cent) / 100.0;
            // Advances are whole font units: some 15 glyphs may be half of one off each.
            assert!(own <= most + 1e-9 && own > most - 0.002, "{per_cent}: {own}");
        }
    }

    #[test]
    fn a_file_of_ones_own_is_read_once_for_all_steps() {
        let bytes: Arc<[u8]> = shipped::file("archivo/Archivo[wdth,wght].ttf").unwrap().into();
        let path = "own.ttf".to_owned();
        let choice = LetteringChoice::own(FontFile { path, index: 0, bytes });
        let usual = Face::open(&choice).unwrap();
        let mut face = Face::open(&choice).unwrap();
        // What only a second reading would put right.
        Arc::get_mut(&mut face).unwrap().sha256 = "as it was read".to_owned();
        let style = LineStyle::default();
        let drawn = styled_line("Vale", &face, &style, &[0, 4]);
        let mut steps = Narrower::new(&drawn, &choice, style, 80).unwrap();
        let step = steps.at(90).unwrap();
        assert_eq!(step.face.sha256, "as it was read");
        assert!(Arc::ptr_eq(&step.face.bytes, &face.bytes));
        assert_eq!(step.face.inside, usual.inside);
        assert!(step.face.name.starts_with("own.ttf, width "), "{}", step.face.name);
    }
}
