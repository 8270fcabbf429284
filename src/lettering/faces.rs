//! The faces of a line, where it has several, and the white between its letters.

use std::ops::Range;
use std::sync::Arc;

use unicode_script::Script;

use super::Face;
use super::coverage::is_ignorable;
use super::glyphs::Glyphs;
use super::line::{BodyKind, Glyph, LineStyle, PieceShape, ShapedLine, trimmed};
use super::mixed::{self, Mixer, Stretches};
use super::runs::TextRuns;
use crate::wording::divides;

/// Scripts whose letters stand apart, so that white may be added between them.
const STAND_APART: [Script; 6] = [
    Script::Latin,
    Script::Greek,
    Script::Cyrillic,
    Script::Armenian,
    Script::Hebrew,
    Script::Georgian,
];

impl ShapedLine {
    /// The piece with as much white more between neighbours, em, as [`Self::piece`] gives it
    /// without: letters with their marks, figures, signs and spaces, but none that join.
    #[must_use]
    pub fn opened(&self, range: Range<usize>, white_em: f64) -> PieceShape {
        let piece = self.piece(range.clone());
        let gaps = self.gaps_before(range, &piece.glyphs);
        let mut glyphs = piece.glyphs;
        for (glyph, gaps) in glyphs.iter_mut().zip(gaps) {
            glyph.x_em += white_em * f64::from(gaps);
        }
        mixed::piece(&self.text, &self.faces(), glyphs, self.runs.right_to_left())
    }

    /// How many gaps between neighbours lie before each glyph of a piece, as
    /// [`Self::piece`] gives them. A letter and its marks are one; what has no ink by its
    /// nature, such as a soft hyphen or a joiner, is none, but for a hyphen that is shown.
    #[must_use]
    pub fn gaps_before(&self, range: Range<usize>, glyphs: &[Glyph]) -> Vec<u32> {
        let end = trimmed(&self.text, range).end;
        let shows_hyphen = self.divided(end).is_some();
        let counts = |cluster: usize| {
            let mut chars = self.text.get(cluster..).unwrap_or_default().chars();
            chars.next().is_none_or(|character| {
                !is_ignorable(character) || shows_hyphen && cluster + character.len_utf8() == end
            })
        };
        let (mut gaps, mut last) = (0, None);
        let before = glyphs.iter().map(|glyph| {
            if last != Some(glyph.cluster) && counts(glyph.cluster) {
                gaps += u32::from(last.is_some());
                last = Some(glyph.cluster);
            }
            gaps
        });
        before.collect()
    }

    /// Whether white may be added between its letters: it holds no lower case, and only
    /// scripts whose letters stand apart.
    #[must_use]
    pub fn opens(&self) -> bool {
        self.all_capitals && self.runs.scripts().all(|script| STAND_APART.contains(&script))
    }

    /// All its faces, its own first.
    #[must_use]
    pub fn faces(&self) -> Vec<Arc<Face>> {
        std::iter::once(&self.face).chain(&self.others).map(Arc::clone).collect()
    }

    /// The face of a glyph by its index there; its own for 0 and for one that is none.
    #[must_use]
    pub fn face_of(&self, index: u8) -> &Arc<Face> {
        let other = usize::from(index).checked_sub(1).and_then(|at| self.others.get(at));
        other.unwrap_or(&self.face)
    }

    /// Bytes of the text with the face that they are set in, in logical order.
    #[must_use]
    pub fn stretches(&self) -> Vec<(Range<usize>, &Arc<Face>)> {
        if self.stretches.is_empty() {
            return vec![(0..self.text.len(), &self.face)];
        }
        let each = self.stretches.iter();
        each.map(|(range, face)| (range.clone(), self.face_of(*face))).collect()
    }

    /// Tag of its language, where that is told.
    #[must_use]
    pub fn language(&self) -> Option<&str> {
        self.language.as_deref()
    }
}

/// A line of several faces.
pub(super) fn mixed_line(
    (text, faces, stretches): (&str, Vec<Arc<Face>>, Stretches),
    runs: &TextRuns,
    style: &LineStyle<'_>,
    stops: &[usize],
) -> ShapedLine {
    let runs = runs.in_faces(&stretches);
    let divided = stops.iter().any(|at| divides(text, *at));
    let hyphen = divided.then(|| mixed::hyphen(&faces));
    let mut mixer = Mixer::new(text, &faces, style.features, style.language);
    let (widths, top_em, bottom_em) = mixed::pieces(&mut mixer, &runs, stops, hyphen);
    drop(mixer);
    let kinds = mixed::bodies(text, &faces, &stretches, style.features);
    let mut faces = faces.into_iter();
    let face = faces.next().expect("a line has its own face first");
    let cap_em = face.cap_em();
    let glyphs = Glyphs::new(Vec::new(), &face);
    ShapedLine {
        text: text.to_owned(),
        face,
        others: faces.collect(),
        features: style.features.to_vec(),
        stops: stops.to_vec(),
        hyphen,
        rise: (top_em / cap_em).max(1.0),
        depth: (-bottom_em / cap_em).max(0.0),
        all_capitals: kinds.iter().all(|body| body.kind != BodyKind::LowerCase),
        body: kinds.into_iter().min_by(|a, b| a.ratio.total_cmp(&b.ratio)),
        widths,
        narrowed: None,
        ornament: None,
        language: style.language.map(str::to_owned),
        stretches,
        runs,
        glyphs,
    }
}
