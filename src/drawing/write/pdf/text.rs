//! Real text: glyphs where the shaper put them, each tied to the characters it
//! stands for, so that a reader can search and copy.

use std::ops::Range;
use std::sync::Arc;

use krilla::geom::{Point, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph, Tag};
use kurbo::Affine;

use super::super::{WriteError, placed};
use super::{paths, single};
use crate::drawing::{Text, TextGlyph};
use crate::lettering::Face;

/// Fonts opened so far, each with the face that it is.
#[derive(Default)]
pub(super) struct Fonts(Vec<(Arc<Face>, Font)>);

impl Fonts {
    /// The face's font at its instance, opened at first use.
    fn of(&mut self, face: &Arc<Face>) -> Result<Font, WriteError> {
        if let Some((_, font)) = self.0.iter().find(|(known, _)| Arc::ptr_eq(known, face)) {
            return Ok(font.clone());
        }
        // Shares the face's bytes: nothing is copied.
        let bytes: Arc<dyn AsRef<[u8]> + Send + Sync> = Arc::new(Arc::clone(&face.bytes));
        let axes: Vec<(Tag, f32)> = face
            .axes
            .iter()
            .filter_map(|(tag, value)| Some((Tag::try_from_str(tag)?, *value)))
            .collect();
        let font = Font::new_variable(bytes.into(), face.index, &axes).ok_or_else(|| {
            WriteError(format!("the lettering `{}` cannot be put into a PDF", face.name))
        })?;
        self.0.push((Arc::clone(face), font.clone()));
        Ok(font)
    }

    /// What people call a font; empty for one that was not opened here.
    pub(super) fn name(&self, font: &Font) -> &str {
        self.0.iter().find(|(_, known)| known == font).map_or("", |(face, _)| &face.name)
    }
}

/// Draws a text, its place moved by `to`; nothing for a text without glyphs.
pub(super) fn draw(
    surface: &mut Surface<'_>,
    text: &Text,
    to: Affine,
    fonts: &mut Fonts,
) -> Result<(), WriteError> {
    let size = placed::length(text.size)?;
    let [a, b, c, d, e, f] = (to * text.stand()).as_coeffs();
    for value in [a, b, c, d, e, f] {
        placed::length(value)?;
    }
    let font = fonts.of(&text.face)?;
    surface.set_stroke(None);
    surface.set_fill(Some(Fill {
        paint: paths::solid(text.colour),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }));
    surface.push_transform(&Transform::from_row(
        single(a),
        single(b),
        single(c),
        single(d),
        single(e),
        single(f),
    ));
    let mut drawn = Ok(());
    for run in runs(&text.glyphs) {
        let glyphs = text.glyphs.get(run).unwrap_or_default();
        match placed_glyphs(glyphs, text) {
            Ok((start, glyphs)) => {
                let at = Point::from_xy(single(start * size), 0.0);
                surface.draw_glyphs(at, &glyphs, font.clone(), &text.text, single(size), false);
            }
            Err(error) => drawn = Err(error),
        }
    }
    surface.pop();
    drawn
}

/// The glyphs as the PDF takes them, with where the first one stands, em.
fn placed_glyphs(glyphs: &[TextGlyph], text: &Text) -> Result<(f64, Vec<KrillaGlyph>), WriteError> {
    let mut placed = Vec::with_capacity(glyphs.len());
    for (index, glyph) in glyphs.iter().enumerate() {
        let next = glyphs.get(index + 1).map_or(glyph.x_em, |next| next.x_em);
        placed::length(glyph.x_em * text.size)?;
        placed::length(glyph.y_em * text.size)?;
        let range = glyph.range.clone();
        placed.push(KrillaGlyph::new(
            GlyphId::new(glyph.id.into()),
            single(next - glyph.x_em),
            0.0,
            single(glyph.y_em),
            0.0,
            // A range that does not lie on characters would stop the writer.
            if text.text.get(range.clone()).is_some() { range } else { 0..0 },
            None,
        ));
    }
    Ok((glyphs.first().map_or(0.0, |first| first.x_em), placed))
}

/// Stretches of glyphs that go through the text one way without a gap: forward,
/// or backward as right-to-left scripts do. The writer marks each stretch by
/// itself, so that a reader puts mixed lines together in the order of reading.
fn runs(glyphs: &[TextGlyph]) -> Vec<Range<usize>> {
    let mut runs = Vec::new();
    let mut start = 0;
    let mut way: Option<Way> = None;
    for (index, pair) in glyphs.windows(2).enumerate() {
        let [one, next] = pair else { continue };
        let step = Way::between(&one.range, &next.range);
        if step == Some(Way::Still) {
            continue;
        }
        if step.is_none() || (way.is_some() && step != way) {
            runs.push(start..index + 1);
            (start, way) = (index + 1, None);
        } else {
            way = step;
        }
    }
    if start < glyphs.len() {
        runs.push(start..glyphs.len());
    }
    runs
}

/// Which way two neighbouring glyphs go through the text.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Forward,
    Backward,
    /// Both stand for the same characters.
    Still,
}

impl Way {
    /// `None` where characters lie between the two.
    fn between(one: &Range<usize>, next: &Range<usize>) -> Option<Self> {
        if one == next {
            Some(Self::Still)
        } else if next.start == one.end {
            Some(Self::Forward)
        } else if next.end == one.start {
            Some(Self::Backward)
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn glyphs(starts: &[usize]) -> Vec<TextGlyph> {
        starts
            .iter()
            .map(|&start| TextGlyph { id: 1, x_em: 0.0, y_em: 0.0, range: start..start + 1 })
            .collect()
    }

    #[test]
    fn runs_part_where_the_direction_turns() {
        assert_eq!(runs(&[]), Vec::<Range<usize>>::new());
        assert_eq!(runs(&glyphs(&[0, 1, 1, 2])), vec![0..4]);
        assert_eq!(runs(&glyphs(&[5, 4, 4, 3])), vec![0..4]);
        // "ab" forward, four letters backward, "c" forward.
        assert_eq!(runs(&glyphs(&[0, 1, 5, 4, 3, 2, 6])), vec![0..2, 2..6, 6..7]);
    }
}
