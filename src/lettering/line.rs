//! A line of the inscription shaped at unit size, and its pieces.

use std::ops::Range;
use std::sync::Arc;

use kurbo::{Rect, Vec2};

use super::faces::mixed_line;
use super::glyphs::Glyphs;
use super::mixed::{Mixer, Stretches};
use super::runs::{TextRuns, text_runs};
use super::shape::{ShapedGlyph, Shaper, units};
use super::{Face, Ornament, Widths, body, cut, divide, hang, mixed};
use crate::wording::divides;

/// One glyph of a piece, placed along the baseline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glyph {
    /// Glyph index in the font file.
    pub id: u16,
    /// Which of the line's faces it is of: see [`ShapedLine::face_of`].
    pub face: u8,
    /// Origin from the piece's origin, em of the line's own face, x to the right.
    pub x_em: f64,
    /// Origin above the baseline, em.
    pub y_em: f64,
    /// Byte offset in the line's text of the first character it stands for.
    pub cluster: usize,
}

/// A piece shaped alone.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceShape {
    /// Glyphs in visual order, left to right.
    pub glyphs: Vec<Glyph>,
    /// Least ink x from the piece's origin, em.
    pub ink_left_em: f64,
    /// Greatest ink x, em.
    pub ink_right_em: f64,
    /// Least ink y (below the baseline is negative), em.
    pub ink_bottom_em: f64,
    /// Greatest ink y, em.
    pub ink_top_em: f64,
    /// Share of ink width at the left that hangs (counts half when centring), em.
    pub hang_left_em: f64,
    /// The same at the right: closing stops, commas, quotes; em.
    pub hang_right_em: f64,
}

/// A kind of letters that has a height of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BodyKind {
    /// Capitals.
    Capitals,
    /// Lower case.
    LowerCase,
    /// Figures.
    Figures,
    /// Small capitals.
    SmallCapitals,
    /// Letters without case, by their script's reference letter.
    Uncased,
}

/// The smallest body height among the kinds that a line contains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Which kind is the smallest.
    pub kind: BodyKind,
    /// Its height in cap heights.
    pub ratio: f64,
}

/// One line, shaped once; ink widths of every possible piece.
#[derive(Debug, Clone)]
pub struct ShapedLine {
    /// The exact text.
    pub text: String,
    /// The face it is set in.
    pub face: Arc<Face>,
    /// Further faces, for stretches that its own lacks; in nearly all lines none.
    pub others: Vec<Arc<Face>>,
    /// Features asked for.
    pub features: Vec<String>,
    /// Stops between which pieces run; byte offsets (see [`crate::wording::Marks`]).
    pub stops: Vec<usize>,
    /// What is shown at the end of a piece that a word is divided after: the face's hyphen,
    /// else its hyphen-minus; `None` where no stop divides a word.
    pub hyphen: Option<char>,
    /// Greatest ink height above the baseline over the whole line, in cap heights; at least 1.
    pub rise: f64,
    /// Greatest ink depth below the baseline, in cap heights; at least 0.
    pub depth: f64,
    /// Whether the line holds no lower-case letters (capitals, figures, uncased).
    pub all_capitals: bool,
    /// Smallest body, `None` for a line without letters and figures.
    pub body: Option<Body>,
    /// Ink widths of all pieces between stops.
    pub widths: Widths,
    /// Per cent of its drawn width, where it is set narrower (see [`super::Narrower`]).
    pub narrowed: Option<u32>,
    /// What stands in it instead of words, as high as its capitals would be.
    pub ornament: Option<Arc<Ornament>>,
    /// Tag of its language, where that is told.
    pub(super) language: Option<String>,
    /// Which stretch is set in which face, where there are several.
    pub(super) stretches: Stretches,
    /// Direction, script and face of its parts.
    pub(super) runs: TextRuns,
    /// Glyphs of the whole line, left to right.
    pub(super) glyphs: Glyphs,
}

impl ShapedLine {
    /// Whether its glyphs are centre lines (see [`Face::single_stroke`]): all its faces are of
    /// one kind. A drawing has none.
    #[must_use]
    pub fn single_stroke(&self) -> bool {
        self.ornament.is_none() && self.face.single_stroke()
    }

    /// Ink width of the piece between two stops, in cap heights; 0 where it has no ink.
    #[must_use]
    pub fn width(&self, from: usize, to: usize) -> f64 {
        self.widths.of(from, to)
    }

    /// The piece between two byte offsets, shaped alone, edge spaces removed.
    ///
    /// Direction and script are those that the piece has in the line. A piece that ends
    /// at a stop which divides a word ([`divides`]) shows a hyphen for its soft hyphen. A
    /// piece of spaces, or a range that is none of the text, has no glyphs and zeros.
    #[must_use]
    pub fn piece(&self, range: Range<usize>) -> PieceShape {
        let range = trimmed(&self.text, range);
        let reshaped;
        let divided = self.divided(range.end);
        if !self.others.is_empty() {
            let faces = self.faces();
            let language = self.language.as_deref();
            let mut mixer = Mixer::new(&self.text, &faces, &self.features, language);
            let glyphs = mixer.glyphs(&self.runs, &range, divided);
            return mixed::piece(&self.text, &faces, glyphs, self.runs.right_to_left());
        }
        let glyphs = match self.read_off(&range).filter(|_| divided.is_none()) {
            Some(glyphs) => glyphs,
            None => {
                let language = self.language.as_deref();
                let mut shaper = Shaper::new(&self.face, &self.features, language);
                reshaped = match divided.filter(|_| !range.is_empty()) {
                    Some(hyphen) => {
                        divide::shaped(&mut shaper, &self.text, &self.runs, &range, hyphen).0
                    }
                    None => shaper.shaped(&self.text, &self.runs.visual(&range)).0,
                };
                &reshaped
            }
        };
        let pen = glyphs.first().map_or(0, |shaped| shaped.pen);
        let moved = Vec2::new(units(pen) * self.face.em_per_unit(), 0.0);
        let ink = ink(&self.face, glyphs).map_or(Rect::ZERO, |ink| ink - moved);
        let (hang_left_em, hang_right_em) = hang::shares(
            &self.text,
            glyphs,
            self.runs.right_to_left(),
            |g| g.cluster,
            |g| glyph_ink(&self.face, g),
        );
        PieceShape {
            glyphs: glyphs.iter().map(|shaped| shaped.placed(&self.face, pen)).collect(),
            ink_left_em: ink.x0,
            ink_right_em: ink.x1,
            ink_bottom_em: ink.y0,
            ink_top_em: ink.y1,
            hang_left_em,
            hang_right_em,
        }
    }

    /// The hyphen of pieces that end at a byte, if they end within a word.
    pub(super) fn divided(&self, end: usize) -> Option<char> {
        let hyphen = self.hyphen?;
        let is_stop = divides(&self.text, end) && self.stops.contains(&end);
        is_stop.then_some(hyphen)
    }

    /// The glyphs of a piece as the line has them; `None` where cutting it out would
    /// change them.
    fn read_off(&self, range: &Range<usize>) -> Option<&[ShapedGlyph]> {
        if !self.runs.one_direction() {
            return None;
        }
        let safe = |glyph: Option<&ShapedGlyph>, byte: usize| {
            byte == self.text.len()
                || glyph.is_some_and(|shaped| {
                    shaped.cluster == byte && (!shaped.unsafe_to_break || self.runs.begin_at(byte))
                })
        };
        if self.runs.right_to_left() {
            // Glyphs stand in visual order: clusters fall.
            let first = self.glyphs.partition_point(|shaped| shaped.cluster >= range.end);
            let end = self.glyphs.partition_point(|shaped| shaped.cluster >= range.start);
            let starts = end.checked_sub(1).and_then(|at| self.glyphs.get(at));
            let ends = first.checked_sub(1).and_then(|at| self.glyphs.get(at));
            let safe = safe(starts, range.start) && safe(ends, range.end);
            return self.glyphs.get(first..end).filter(|_| safe);
        }
        let first = self.glyphs.partition_point(|shaped| shaped.cluster < range.start);
        let end = self.glyphs.partition_point(|shaped| shaped.cluster < range.end);
        let safe =
            safe(self.glyphs.get(first), range.start) && safe(self.glyphs.get(end), range.end);
        self.glyphs.get(first..end).filter(|_| safe)
    }
}

/// A line shaped once with the widths of all its pieces.
///
/// `stops` are the stops of its break marks. Missing characters do not fail
/// here: they are shaped as the face's missing glyph and told by
/// [`super::missing`]. Widths are those of the pieces shaped alone, with a hyphen where
/// they end within a word (see [`divides`]). A piece of
/// more than 400 bytes that cannot be read off the whole
/// line (mixed directions, or joined throughout) counts as infinitely wide: no
/// row of a plate holds it. A piece over a forced stop is measured like any other,
/// the line feed as a space.
#[must_use]
pub fn shaped_line(
    text: &str,
    face: &Arc<Face>,
    features: &[String],
    stops: &[usize],
) -> ShapedLine {
    styled_line(text, face, &LineStyle { features, ..LineStyle::default() }, stops)
}

/// How a line is set beside its face.
#[derive(Debug, Clone, Copy, Default)]
pub struct LineStyle<'a> {
    /// OpenType features for the whole line.
    pub features: &'a [String],
    /// Tag of its language (BCP 47).
    pub language: Option<&'a str>,
    /// Faces for stretches that its own lacks, in the order in which they are tried.
    pub others: &'a [Arc<Face>],
}

/// As [`shaped_line`], with a language and further faces.
///
/// A stretch of one script that the face has not wholly is set in the first of the others
/// that has it, at the same cap height. Where none of them is needed, the line has one
/// face. The widths of a line of several faces are those of its pieces shaped one by one.
#[must_use]
pub fn styled_line(
    text: &str,
    face: &Arc<Face>,
    style: &LineStyle<'_>,
    stops: &[usize],
) -> ShapedLine {
    let runs = text_runs(text);
    let features = style.features;
    if let Some((faces, stretches)) = mixed::faces(text, face, style.others) {
        return mixed_line((text, faces, stretches), &runs, style, stops);
    }
    let mut shaper = Shaper::new(face, features, style.language);
    let (glyphs, _) = shaper.shaped(text, &runs.visual(&(0..text.len())));
    // A soft hyphen is no ASCII.
    let divided = !text.is_ascii() && stops.iter().any(|at| divides(text, *at));
    let hyphen = divided.then(|| divide::hyphen(face));
    let pieces = cut::pieces(text, face, &runs, &mut shaper, &glyphs, (stops, hyphen));
    let kinds = body::kinds(text, face, features, &glyphs);
    let cap_em = face.cap_em();
    ShapedLine {
        text: text.to_owned(),
        face: Arc::clone(face),
        others: Vec::new(),
        features: features.to_vec(),
        stops: stops.to_vec(),
        hyphen,
        rise: (pieces.top_em / cap_em).max(1.0),
        depth: (-pieces.bottom_em / cap_em).max(0.0),
        all_capitals: kinds.iter().all(|body| body.kind != BodyKind::LowerCase),
        body: kinds.into_iter().min_by(|a, b| a.ratio.total_cmp(&b.ratio)),
        widths: pieces.widths,
        narrowed: None,
        ornament: None,
        language: style.language.map(str::to_owned),
        stretches: Vec::new(),
        runs,
        glyphs: Glyphs::new(glyphs, face),
    }
}

/// A range of a text without the white space at its edges; empty where the range
/// is none of the text, or nothing else is in it.
#[inline]
pub(super) fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let Some(part) = text.get(range.clone()) else { return 0..0 };
    // Most begin with a letter and end with one and a space: looked at first.
    let lettered = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_graphic);
    let bytes = part.as_bytes();
    if lettered(bytes.first()) {
        let bare = bytes.strip_suffix(b" ").unwrap_or(bytes);
        if lettered(bare.last()) {
            return range.start..range.start + bare.len();
        }
    }
    let start = range.start + (part.len() - part.trim_start().len());
    start..start + part.trim().len()
}

/// Box of the ink of glyphs, em; `None` where none has ink.
pub(super) fn ink(face: &Face, glyphs: &[ShapedGlyph]) -> Option<Rect> {
    glyphs.iter().filter_map(|shaped| glyph_ink(face, shaped)).reduce(|a, b| a.union(b))
}

/// Box of the ink of one glyph where it stands, em.
pub(super) fn glyph_ink(face: &Face, shaped: &ShapedGlyph) -> Option<Rect> {
    Some(face.ink(shaped.id)? + shaped.origin_em(face))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::LetteringChoice;
    use crate::lettering::catalogue;

    fn face(name: &str) -> Arc<Face> {
        Face::open(&LetteringChoice::shipped(name.to_owned())).unwrap()
    }

    /// Stops after every space, hyphen and line feed.
    fn stops(text: &str) -> Vec<usize> {
        let mut stops = vec![0];
        stops.extend(text.match_indices([' ', '\n', '-']).map(|(at, _)| at + 1));
        stops.push(text.len());
        stops.dedup();
        stops
    }

    const LINES: [&str; 13] = [
        "AVATAR To Yes, fly-VAT Té “Vale” offices",
        "Presented by the ringers of Marrowby Vale to the observatory, AV WA T. Y, 1914–2003",
        "r' fi fl -V y-V f ' f\u{200B}i T o V, A v",
        "for of off if ff ffi. \u{201D}Wye\u{201D} Æther ½ & № 12 °",
        "שָׁלוֹם לְךָ ידידי",
        "תשפ״ד 2024 Vale שלום",
        "a\n b  c \u{00A0} d ",
        "  edge  ",
        "\u{0301} a \u{0301}b",
        "a \u{A0}x\u{0301}y offi x\u{0301} b",
        "Ελωεν Ταρρ Привет мир",
        "",
        " ",
    ];

    #[test]
    fn every_piece_is_as_wide_as_when_it_is_shaped_alone() {
        let (mut compared, mut flagged) = (0, 0);
        for name in catalogue().names() {
            let face = face(name);
            for text in LINES {
                let stops = stops(text);
                let line = shaped_line(text, &face, &[], &stops);
                for from in 0..stops.len() {
                    for to in from + 1..stops.len() {
                        let piece = line.piece(stops[from]..stops[to]);
                        let own = (piece.ink_right_em - piece.ink_left_em) / face.cap_em();
                        let read = line.width(from, to);
                        assert!(
                            (own - read).abs() < 1e-9,
                            "{name} {text:?} {from} {to} {own} {read}"
                        );
                        compared += 1;
                    }
                }
                let runs = text_runs(text);
                let (glyphs, _) =
                    Shaper::new(&face, &[], None).shaped(text, &runs.visual(&(0..text.len())));
                flagged += glyphs
                    .iter()
                    .filter(|g| stops.contains(&g.cluster) && g.unsafe_to_break)
                    .count();
            }
        }
        // The lines were chosen so that unsafe cuts are among those compared.
        assert!(compared > 9000 && flagged > 100, "{compared} {flagged}");
    }

    /// Soft hyphens beside kerned letters, in ligatures, doubled, after an accent, and where
    /// another script or direction begins.
    const DIVIDED: [&str; 6] = [
        "AV\u{AD}AT\u{AD}AR To\u{AD}V T\u{AD}o of\u{AD}fi\u{AD}ces f\u{AD}l",
        "Observa\u{AD}tory, com\u{AD}mu\u{AD}\u{AD}nity e\u{301}\u{AD}toile",
        "r\u{AD}y y\u{AD}v V\u{AD}\u{AD}A 20\u{AD}94 sub-\u{AD}tenor \u{AD}a\u{AD} ",
        "Πλα\u{AD}νη\u{AD}τάριο Обсер\u{AD}вато\u{AD}рия",
        "יד\u{AD}ידי שלום",
        "Vale יד\u{AD}ידי Va\u{AD}le",
    ];

    #[test]
    fn a_piece_that_ends_within_a_word_is_as_wide_as_with_its_hyphen() {
        let mut divided = 0;
        for name in catalogue().names() {
            let face = face(name);
            let hyphen = divide::hyphen(&face);
            for text in DIVIDED {
                let mut stops = vec![0];
                let places = text.match_indices([' ', '\u{AD}']);
                stops.extend(places.map(|(at, part)| at + part.len()));
                stops.extend((*stops.last().unwrap() < text.len()).then_some(text.len()));
                let line = shaped_line(text, &face, &[], &stops);
                assert_eq!(line.hyphen, Some(hyphen));
                for (from, to) in
                    (0..stops.len()).flat_map(|a| (a + 1..stops.len()).map(move |b| (a, b)))
                {
                    let part = trimmed(text, stops[from]..stops[to]);
                    let shown = match text[part.clone()].strip_suffix('\u{AD}') {
                        Some(word) if divides(text, part.end) => format!("{word}{hyphen}"),
                        _ => text[part.clone()].to_owned(),
                    };
                    // A part takes its directions from the line: only where there is one
                    // does it look as it does by itself.
                    let piece = line.piece(part.clone());
                    let width = (piece.ink_right_em - piece.ink_left_em) / face.cap_em();
                    let read = line.width(from, to);
                    assert!((width - read).abs() < 1e-9, "{name} {shown:?} {width} {read}");
                    if line.runs.one_direction() && shown.contains(char::is_alphabetic) {
                        let runs = text_runs(&shown);
                        let all = runs.visual(&(0..shown.len()));
                        let glyphs = Shaper::new(&face, &[], None).shaped(&shown, &all).0;
                        let own =
                            ink(&face, &glyphs).map_or(0.0, |ink| ink.width()) / face.cap_em();
                        assert!((own - read).abs() < 1e-9, "{name} {shown:?} {own} {read}");
                        divided += usize::from(shown.ends_with(hyphen));
                    }
                    assert!(piece.glyphs.iter().all(|glyph| part.contains(&glyph.cluster)));
                }
            }
        }
        assert!(divided > 1500, "{divided}");
    }

    #[test]
    fn a_face_without_a_hyphen_shows_its_hyphen_minus() {
        let mut with = 0;
        for name in catalogue().names() {
            let face = face(name);
            let has = face.nominal('\u{2010}').is_some();
            assert_eq!(divide::hyphen(&face), if has { '\u{2010}' } else { '-' }, "{name}");
            assert!(face.nominal(divide::hyphen(&face)).is_some());
            with += usize::from(has);
        }
        // Some have one and some have not, so that both are shown.
        assert!(with > 0 && with < catalogue().names().count(), "{with}");
    }
}
