//! Glyphs of a text by `harfrust`.

use std::ops::Range;
use std::sync::Arc;

use harfrust::{Buffer, Direction, Feature, Language, Script, ShapeOptions, ShapePlan, ShaperFont};
use kurbo::Vec2;

use super::runs::{TextRun, is_printable_ascii, text_runs};
use super::{Face, Glyph};

/// A text of one face, shaped: glyphs in visual order and its advance.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Glyphs, left to right.
    pub glyphs: Vec<Glyph>,
    /// Whole advance, em.
    pub advance_em: f64,
}

/// A glyph in font units, with what only this room needs to know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct ShapedGlyph {
    /// Glyph index in the font file.
    pub(super) id: u16,
    /// Whether the text may not be cut before this glyph's characters without
    /// shaping both sides again.
    pub(super) unsafe_to_break: bool,
    /// How far it stands off the pen.
    x_offset: i32,
    y_offset: i32,
    /// How far it moved the pen.
    pub(super) advance: i32,
    /// Byte offset in the text of the first character it stands for.
    pub(super) cluster: usize,
    /// Where the pen stood before it.
    pub(super) pen: i64,
}

impl ShapedGlyph {
    /// Where its origin stands, em.
    pub(super) fn origin_em(&self, face: &Face) -> Vec2 {
        let per_unit = face.em_per_unit();
        Vec2::new(
            units(self.pen + i64::from(self.x_offset)) * per_unit,
            f64::from(self.y_offset) * per_unit,
        )
    }

    /// The glyph with the pen at its start when it stood at `pen`, placed from there.
    pub(super) fn placed(&self, face: &Face, pen: i64) -> Glyph {
        let origin = Self { pen: self.pen - pen, ..*self }.origin_em(face);
        Glyph { id: self.id, face: 0, x_em: origin.x, y_em: origin.y, cluster: self.cluster }
    }
}

/// Font units as a number; a line has some millions at most.
#[expect(clippy::cast_precision_loss, reason = "exact up to 2^53")]
pub(super) fn units(units: i64) -> f64 {
    units as f64
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
    let mut shaper = Shaper::new(face, features, None);
    let (glyphs, advance) = shaper.shaped(text, &runs.visual(&(0..text.len())));
    let placed = glyphs.iter().map(|shaped| shaped.placed(face, 0));
    Run { glyphs: placed.collect(), advance_em: units(advance) * face.em_per_unit() }
}

/// Most lists of glyphs that a face keeps: a layout has few more lines.
const MOST_LISTS: usize = 64;

/// A plan, and the features that it was made for.
type Plan = (Vec<Feature>, Arc<ShapePlan>);

/// What a face keeps for shaping: plans, each made once; buffers and lists not in use.
#[derive(Default)]
pub(super) struct Kept {
    plans: Arc<Vec<Plan>>,
    #[expect(clippy::vec_box, reason = "a buffer is large and goes from hand to hand")]
    buffers: Vec<Box<Buffer>>,
    lists: Vec<Vec<ShapedGlyph>>,
}

impl Kept {
    /// Takes a list of glyphs back.
    pub(super) fn take_back(&mut self, mut list: Vec<ShapedGlyph>) {
        if list.capacity() > 0 && self.lists.len() < MOST_LISTS {
            list.clear();
            self.lists.push(list);
        }
    }
}

/// Shapes runs of one face with one set of features.
pub(super) struct Shaper<'a> {
    /// What keeps its plans and buffers; none for an instance that is only measured.
    face: Option<&'a Face>,
    font: ShaperFont<'a, 'a>,
    features: Vec<Feature>,
    language: Option<Language>,
    plans: Arc<Vec<Plan>>,
    /// Taken back by the face in the end.
    buffer: Option<Box<Buffer>>,
    /// An empty list for the next text.
    list: Vec<ShapedGlyph>,
}

/// Features as they are written, read; without those that cannot be.
fn parsed(features: &[String]) -> Vec<Feature> {
    let valid = features.iter().filter(|feature| feature_is_valid(feature));
    valid.filter_map(|feature| feature.parse().ok()).collect()
}

impl<'a> Shaper<'a> {
    #[inline]
    pub(super) fn new(face: &'a Face, features: &[String], language: Option<&str>) -> Self {
        let kept = face.kept().map(|mut kept| {
            let (buffer, list) = (kept.buffers.pop(), kept.lists.pop());
            (Arc::clone(&kept.plans), buffer, list.unwrap_or_default())
        });
        let (plans, buffer, list) = kept.unwrap_or_default();
        let language = language.and_then(Language::new);
        let features = parsed(features);
        let font = ShaperFont::new(face.shaping());
        Self { face: Some(face), font, features, language, plans, buffer, list }
    }

    /// For another instance of a face, of which nothing but the advance is asked.
    #[inline]
    pub(super) fn of_instance(
        font: &'a harfrust::Font,
        features: &[String],
        language: Option<&str>,
    ) -> Self {
        Self {
            face: None,
            font: ShaperFont::new(font),
            features: parsed(features),
            language: language.and_then(Language::new),
            plans: Arc::default(),
            buffer: None,
            list: Vec::new(),
        }
    }

    /// Glyphs of runs that stand side by side, left to right, and their advance in
    /// font units.
    pub(super) fn shaped(&mut self, text: &str, runs: &[TextRun]) -> (Vec<ShapedGlyph>, i64) {
        let mut glyphs = std::mem::take(&mut self.list);
        glyphs.reserve(runs.iter().map(|run| run.range.len()).sum());
        let mut pen = 0;
        for run in runs {
            self.shape_run(text, run, &mut pen, &mut glyphs);
        }
        (glyphs, pen)
    }

    fn shape_run(
        &mut self,
        text: &str,
        run: &TextRun,
        pen: &mut i64,
        glyphs: &mut Vec<ShapedGlyph>,
    ) {
        let direction =
            if run.right_to_left() { Direction::RightToLeft } else { Direction::LeftToRight };
        let script = run.script.and_then(|script| script.short_name().parse::<Script>().ok());
        let plan = self.plan(direction, script);
        let buffer = self.buffer.get_or_insert_default();
        fill(buffer, text, &run.range);
        buffer.set_direction(direction);
        buffer.set_script(script);
        if self.language.is_some() {
            buffer.set_language(self.language.clone());
        }
        let plan = self.plans.get(plan).map(|(_, plan)| &**plan);
        let options = ShapeOptions::new().features(&self.features).plan(plan);
        // The plan is of this font, direction and script, so shaping has nothing to
        // refuse; a run that it refused all the same would be left without glyphs.
        if harfrust::shape(&self.font, buffer, options).is_err() {
            return;
        }
        let shaped = buffer.glyph_infos().iter().zip(buffer.glyph_positions());
        let start = run.range.start;
        // The closure has a copy of its own, so that it stays in a register.
        let mut at = *pen;
        glyphs.extend(shaped.map(move |(info, position)| {
            let before = at;
            at += i64::from(position.x_advance);
            ShapedGlyph {
                id: u16::try_from(info.glyph_id).unwrap_or(0),
                unsafe_to_break: info.unsafe_to_break(),
                x_offset: position.x_offset,
                y_offset: position.y_offset,
                advance: position.x_advance,
                cluster: usize::try_from(info.cluster).unwrap_or(start),
                pen: before,
            }
        }));
        if let Some(last) = glyphs.last() {
            *pen = last.pen + i64::from(last.advance);
        }
    }

    /// Where the plan of a direction and script stands: among those that the face had, or a
    /// new one.
    fn plan(&mut self, direction: Direction, script: Option<Script>) -> usize {
        let language = self.language.as_ref();
        let place = |plans: &[Plan]| {
            plans.iter().position(|(features, plan)| {
                plan.direction() == direction
                    && plan.script() == script
                    && plan.language() == language
                    && *features == self.features
            })
        };
        if let Some(known) = place(&self.plans) {
            return known;
        }
        let mut kept = self.face.and_then(Face::kept);
        let plans = kept.as_mut().map_or(&mut self.plans, |kept| &mut kept.plans);
        // Another thread may have made it meanwhile.
        let known = place(plans).unwrap_or_else(|| {
            let plan = ShapePlan::new(&self.font, direction, script, language, &self.features);
            Arc::make_mut(plans).push((self.features.clone(), Arc::new(plan)));
            plans.len() - 1
        });
        if let Some(kept) = kept {
            self.plans = Arc::clone(&kept.plans);
        }
        known
    }
}

/// Fills a buffer with characters, with their byte offsets in the whole text as clusters, so
/// that ranges of features count from the text's beginning too.
fn fill(buffer: &mut Buffer, text: &str, range: &Range<usize>) {
    buffer.reset();
    let part = text.get(range.clone()).unwrap_or_default();
    if range.start == 0 && is_printable_ascii(part) {
        buffer.push_str(part);
        return;
    }
    buffer.reserve(range.len());
    for (offset, character) in part.char_indices() {
        let blank = character < ' '
            || character > '~'
                && character.is_whitespace()
                && (character.is_control() || matches!(character, '\u{2028}' | '\u{2029}'));
        let character = if blank && character.is_whitespace() { ' ' } else { character };
        let cluster = u32::try_from(range.start + offset).unwrap_or(u32::MAX);
        buffer.push(u32::from(character), cluster);
    }
}

impl Drop for Shaper<'_> {
    fn drop(&mut self) {
        if let Some(mut kept) = self.face.and_then(Face::kept) {
            kept.buffers.extend(self.buffer.take());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::LetteringChoice;

    fn face(name: &str) -> Arc<Face> {
        Face::open(&LetteringChoice::shipped(name.to_owned())).unwrap()
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
