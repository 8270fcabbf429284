//! Glyphs of a text by `harfrust`.

use std::ops::Range;
use std::sync::Arc;

use harfrust::{Buffer, Direction, Feature, Script, ShapeOptions, ShapePlan, ShaperFont};

use super::runs::{TextRun, text_runs};
use super::{Face, Glyph};

/// A text of one face, shaped: glyphs in visual order and its advance.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Glyphs, left to right.
    pub glyphs: Vec<Glyph>,
    /// Whole advance, em.
    pub advance_em: f64,
}

/// A glyph with what only this room needs to know.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ShapedGlyph {
    pub(super) glyph: Glyph,
    /// Where the pen stood before it, em.
    pub(super) pen_em: f64,
    /// How far it moved the pen, em.
    pub(super) advance_em: f64,
    /// Whether the text may not be cut before this glyph's characters without
    /// shaping both sides again.
    pub(super) unsafe_to_break: bool,
}

/// Whether a feature is written as HarfBuzz reads it: `smcp`, `-liga`, `salt=2`,
/// with a tag of four letters or figures, as OpenType registers them.
#[must_use]
pub fn feature_is_valid(feature: &str) -> bool {
    let tag = feature.strip_prefix(['+', '-']).unwrap_or(feature);
    let tag_length = tag.chars().take_while(char::is_ascii_alphanumeric).count();
    tag_length == 4 && feature.parse::<Feature>().is_ok()
}

/// A whole text shaped in visual order (bidi and script runs handled).
///
/// Features that do not parse are left out; see [`feature_is_valid`]. Line feeds
/// and tabs are set as spaces; default-ignorable characters take no room and have
/// no ink. A character that the face lacks becomes its missing glyph, id 0.
#[must_use]
pub fn shaped_run(text: &str, face: &Arc<Face>, features: &[String]) -> Run {
    let runs = text_runs(text);
    let mut shaper = Shaper::new(face, features);
    let (glyphs, advance_em) = shaper.shaped(text, &runs.visual(&(0..text.len())));
    Run { glyphs: glyphs.into_iter().map(|shaped| shaped.glyph).collect(), advance_em }
}

/// Shapes runs of one face with one set of features, keeping the plans.
pub(super) struct Shaper<'a> {
    font: ShaperFont<'a, 'a>,
    features: Vec<Feature>,
    plans: Vec<ShapePlan>,
    buffer: Buffer,
    upem: f64,
}

impl<'a> Shaper<'a> {
    pub(super) fn new(face: &'a Face, features: &[String]) -> Self {
        Self {
            font: ShaperFont::new(face.shaping()),
            features: features
                .iter()
                .filter(|feature| feature_is_valid(feature))
                .filter_map(|feature| feature.parse().ok())
                .collect(),
            plans: Vec::new(),
            buffer: Buffer::new(),
            upem: face.upem,
        }
    }

    /// Glyphs of runs that stand side by side, left to right, and their advance in em.
    pub(super) fn shaped(&mut self, text: &str, runs: &[TextRun]) -> (Vec<ShapedGlyph>, f64) {
        let mut glyphs = Vec::new();
        let mut pen_units = 0.0;
        for run in runs {
            self.shape_run(text, run, &mut pen_units, &mut glyphs);
        }
        (glyphs, pen_units / self.upem)
    }

    fn shape_run(
        &mut self,
        text: &str,
        run: &TextRun,
        pen_units: &mut f64,
        glyphs: &mut Vec<ShapedGlyph>,
    ) {
        self.fill_buffer(text, &run.range);
        let direction =
            if run.right_to_left() { Direction::RightToLeft } else { Direction::LeftToRight };
        let script = run.script.and_then(|script| script.short_name().parse::<Script>().ok());
        self.buffer.set_direction(direction);
        self.buffer.set_script(script);
        let known =
            self.plans.iter().position(|p| p.direction() == direction && p.script() == script);
        let plan = known.unwrap_or_else(|| {
            let plan = ShapePlan::new(&self.font, direction, script, None, &self.features);
            self.plans.push(plan);
            self.plans.len() - 1
        });
        let options = ShapeOptions::new().features(&self.features).plan(self.plans.get(plan));
        // The plan is of this font, direction and script, so shaping has nothing to
        // refuse; a run that it refused all the same would be left without glyphs.
        if harfrust::shape(&self.font, &mut self.buffer, options).is_err() {
            return;
        }
        let infos = self.buffer.glyph_infos();
        for (info, position) in infos.iter().zip(self.buffer.glyph_positions()) {
            let glyph = Glyph {
                id: u16::try_from(info.glyph_id).unwrap_or(0),
                x_em: (*pen_units + f64::from(position.x_offset)) / self.upem,
                y_em: f64::from(position.y_offset) / self.upem,
                cluster: usize::try_from(info.cluster).unwrap_or(run.range.start),
            };
            let advance_units = f64::from(position.x_advance);
            glyphs.push(ShapedGlyph {
                glyph,
                pen_em: *pen_units / self.upem,
                advance_em: advance_units / self.upem,
                unsafe_to_break: info.unsafe_to_break(),
            });
            *pen_units += advance_units;
        }
    }

    /// Characters with their byte offsets in the whole text as clusters, so that
    /// ranges of features count from the text's beginning too.
    fn fill_buffer(&mut self, text: &str, range: &Range<usize>) {
        self.buffer.reset();
        for (offset, character) in text.get(range.clone()).unwrap_or_default().char_indices() {
            let blank = character.is_whitespace()
                && (character.is_control() || matches!(character, '\u{2028}' | '\u{2029}'));
            let character = if blank { ' ' } else { character };
            let cluster = u32::try_from(range.start + offset).unwrap_or(u32::MAX);
            self.buffer.push(u32::from(character), cluster);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::LetteringChoice;

    fn face(name: &str) -> Arc<Face> {
        Face::open(&LetteringChoice::Shipped(name.to_owned())).unwrap()
    }

    #[test]
    fn every_entry_opens_and_sets_a_word() {
        for name in super::super::catalogue().names() {
            let face = face(name);
            let run = shaped_run("Marrowby Vale", &face, &[]);
            assert!(run.glyphs.iter().all(|glyph| glyph.id != 0), "{name}");
            assert!(run.advance_em > 3.0 && run.advance_em < 12.0, "{name} {}", run.advance_em);
        }
    }
}
