//! A line in more than one face: what its own lettering lacks is set in another, whole
//! stretches of one script at a time, so that no word is patched together.
//!
//! All faces stand at the line's cap height, each by its own cap height as
//! [`Face::cap_units`] says it: a lettering made for Hebrew or Arabic brings Latin
//! capitals that its maker drew to go with them, and so keeps the height it would have in
//! a line of its own.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use kurbo::{Rect, Vec2};

use super::body::kinds;
use super::coverage::missing;
use super::cut::MOST_RESHAPED;
use super::line::{Body, Glyph, PieceShape, trimmed};
use super::runs::{TextRun, TextRuns, script_runs, text_runs};
use super::shape::{Shaper, units};
use super::{Face, Widths, divide, hang};
use crate::wording::divides;

/// Which face each stretch of a text is set in: 0 is the line's own.
pub(super) type Stretches = Vec<(Range<usize>, u8)>;

/// The faces of a text, its own first, and which stretch is set in which; `None` where its
/// own face is enough. A stretch of one script that the own face has not wholly is set in
/// the first of the others that has it; one that none has stays in the own face.
pub(super) fn faces(
    text: &str,
    own: &Arc<Face>,
    others: &[Arc<Face>],
) -> Option<(Vec<Arc<Face>>, Stretches)> {
    if others.is_empty() || missing(own, text).is_empty() {
        return None;
    }
    // Centre lines and filled letters are not made in one pass, nor fitted alike.
    let others = others.iter().filter(|other| other.single_stroke() == own.single_stroke());
    let mut used: Vec<Arc<Face>> = vec![Arc::clone(own)];
    let mut stretches = Vec::new();
    for (range, _) in script_runs(text) {
        let part = text.get(range.clone()).unwrap_or_default();
        let whole = |face: &&Arc<Face>| missing(face, part).is_empty();
        let face = std::iter::once(own).chain(others.clone()).find(whole).unwrap_or(own);
        let known = used.iter().position(|known| Arc::ptr_eq(known, face));
        let index = known.unwrap_or_else(|| {
            used.push(Arc::clone(face));
            used.len() - 1
        });
        // A layout names far fewer faces than a byte can count.
        stretches.push((range, u8::try_from(index).unwrap_or(0)));
    }
    (used.len() > 1).then_some((used, stretches))
}

/// The stretches of a text that are shaped by themselves, left to right, where it needs
/// the others beside its own face; the whole text where it does not.
#[must_use]
pub fn face_runs(text: &str, own: &Arc<Face>, others: &[Arc<Face>]) -> Vec<Range<usize>> {
    let Some((_, stretches)) = faces(text, own, others) else {
        return std::iter::once(0..text.len()).collect();
    };
    let runs = text_runs(text).in_faces(&stretches);
    runs.visual(&(0..text.len())).into_iter().map(|run| run.range).collect()
}

/// Shapes and measures a text in several faces. Ems are those of the first.
pub(super) struct Mixer<'a> {
    text: &'a str,
    faces: &'a [Arc<Face>],
    shapers: Vec<Shaper<'a>>,
    /// Ink and advance of runs of the text, and parts of them, measured so far.
    known: BTreeMap<(usize, usize), (Option<Rect>, f64)>,
}

impl<'a> Mixer<'a> {
    pub(super) fn new(
        text: &'a str,
        faces: &'a [Arc<Face>],
        features: &[String],
        language: Option<&str>,
    ) -> Self {
        let shaper = |face: &'a Arc<Face>| Shaper::new(face, features, language);
        let shapers = faces.iter().map(shaper).collect();
        Self { text, faces, shapers, known: BTreeMap::new() }
    }

    /// Glyphs of a part of the text, left to right from the pen at 0; with a hyphen in the
    /// place of the soft hyphen at its end where one is handed in.
    pub(super) fn glyphs(
        &mut self,
        runs: &TextRuns,
        part: &Range<usize>,
        hyphen: Option<char>,
    ) -> Vec<Glyph> {
        match hyphen.filter(|_| !part.is_empty()) {
            Some(hyphen) => {
                let (shown, runs) = divide::shown(self.text, runs, part, hyphen);
                self.shaped(&shown, &runs)
            }
            None => self.shaped(self.text, &runs.visual(part)),
        }
    }

    fn shaped(&mut self, text: &str, runs: &[TextRun]) -> Vec<Glyph> {
        let mut glyphs = Vec::with_capacity(runs.iter().map(|run| run.range.len()).sum());
        let mut pen_em = 0.0;
        for run in runs {
            let (own, advance_em) = self.run(text, run);
            let own = own.into_iter();
            glyphs.extend(own.map(|glyph| Glyph { x_em: pen_em + glyph.x_em, ..glyph }));
            pen_em += advance_em;
        }
        glyphs
    }

    /// Glyphs of one run from the pen at 0, and its advance.
    fn run(&mut self, text: &str, run: &TextRun) -> (Vec<Glyph>, f64) {
        let at = usize::from(run.face);
        let em = em_of(self.faces, run.face);
        let (Some(shaper), Some(face)) = (self.shapers.get_mut(at), self.faces.get(at)) else {
            return (Vec::new(), 0.0);
        };
        let (shaped, advance) = shaper.shaped(text, std::slice::from_ref(run));
        let glyphs = shaped.iter().map(|shaped| {
            let glyph = shaped.placed(face, 0);
            Glyph { x_em: glyph.x_em * em, y_em: glyph.y_em * em, face: run.face, ..glyph }
        });
        (glyphs.collect(), units(advance) * face.em_per_unit() * em)
    }

    /// Ink of a part of the text, as [`Self::glyphs`] without a hyphen. Neighbouring parts
    /// have most runs in common, and each is shaped once.
    fn ink(&mut self, runs: &TextRuns, part: &Range<usize>) -> Option<Rect> {
        let (mut pen_em, mut all) = (0.0, None::<Rect>);
        for run in runs.visual(part) {
            let key = (run.range.start, run.range.end);
            let (ink, advance_em) = match self.known.get(&key) {
                Some(known) => *known,
                None => {
                    let (glyphs, advance_em) = self.run(self.text, &run);
                    let measured = (ink(self.faces, &glyphs), advance_em);
                    self.known.insert(key, measured);
                    measured
                }
            };
            let ink = ink.map(|ink| ink + Vec2::new(pen_em, 0.0));
            all = all.map_or(ink, |all| Some(ink.map_or(all, |ink| all.union(ink))));
            pen_em += advance_em;
        }
        all
    }
}

/// The em of one of several faces, in ems of the first.
pub(super) fn em_of(faces: &[Arc<Face>], index: u8) -> f64 {
    match (faces.first(), faces.get(usize::from(index))) {
        (Some(own), Some(face)) if index > 0 => own.cap_em() / face.cap_em(),
        _ => 1.0,
    }
}

/// Ink of a placed glyph, ems of the first face.
pub(super) fn glyph_ink(faces: &[Arc<Face>], glyph: &Glyph) -> Option<Rect> {
    let em = em_of(faces, glyph.face);
    let ink = faces.get(usize::from(glyph.face))?.ink(glyph.id)?;
    let (x, y) = (glyph.x_em, glyph.y_em);
    Some(Rect::new(ink.x0 * em + x, ink.y0 * em + y, ink.x1 * em + x, ink.y1 * em + y))
}

/// Box of the ink of placed glyphs; `None` where none has ink.
fn ink(faces: &[Arc<Face>], glyphs: &[Glyph]) -> Option<Rect> {
    glyphs.iter().filter_map(|glyph| glyph_ink(faces, glyph)).reduce(|a, b| a.union(b))
}

/// A piece from its placed glyphs.
pub(super) fn piece(
    text: &str,
    faces: &[Arc<Face>],
    glyphs: Vec<Glyph>,
    right_to_left: bool,
) -> PieceShape {
    let all = ink(faces, &glyphs).unwrap_or(Rect::ZERO);
    let (hang_left_em, hang_right_em) = hang::shares(
        text,
        &glyphs,
        right_to_left,
        |glyph| glyph.cluster,
        |glyph| glyph_ink(faces, glyph),
    );
    PieceShape {
        glyphs,
        ink_left_em: all.x0,
        ink_right_em: all.x1,
        ink_bottom_em: all.y0,
        ink_top_em: all.y1,
        hang_left_em,
        hang_right_em,
    }
}

/// What the pieces of a line measure, each shaped alone: widths in cap heights, greatest
/// and least ink heights in ems of the first face.
pub(super) fn pieces(
    mixer: &mut Mixer<'_>,
    runs: &TextRuns,
    stops: &[usize],
    hyphen: Option<char>,
) -> (Widths, f64, f64) {
    let (text, faces) = (mixer.text, mixer.faces);
    let cap_em = faces.first().map_or(1.0, |face| face.cap_em());
    let (mut top, mut bottom) = (0.0_f64, 0.0_f64);
    let mut measure = |ink: Option<Rect>| {
        let Some(ink) = ink else { return 0.0 };
        top = top.max(ink.y1);
        bottom = bottom.min(ink.y0);
        ink.width() / cap_em
    };
    measure(mixer.ink(runs, &(0..text.len())));
    let mut widths = Vec::with_capacity(stops.len() * stops.len().saturating_sub(1) / 2);
    for (i, start) in stops.iter().enumerate() {
        for (j, end) in stops.iter().enumerate().skip(i + 1) {
            let part = trimmed(text, *start..*end);
            if part.len() > MOST_RESHAPED && j > i + 1 {
                widths.push(f64::INFINITY);
                continue;
            }
            let hyphen = hyphen.filter(|_| divides(text, part.end) && part.end == *end);
            widths.push(measure(match hyphen {
                Some(_) => ink(faces, &mixer.glyphs(runs, &part, hyphen)),
                None => mixer.ink(runs, &part),
            }));
        }
    }
    (Widths::table(stops.len(), widths), top, bottom)
}

/// The hyphen that all these faces have.
pub(super) fn hyphen(faces: &[Arc<Face>]) -> char {
    let mut hyphens = faces.iter().map(|face| divide::hyphen(face));
    let first = hyphens.next().unwrap_or('-');
    if hyphens.all(|other| other == first) { first } else { '-' }
}

/// The kinds of letters of the text in their faces, each once with its least height, in
/// cap heights.
pub(super) fn bodies(
    text: &str,
    faces: &[Arc<Face>],
    stretches: &[(Range<usize>, u8)],
    features: &[String],
) -> Vec<Body> {
    let mut found: Vec<Body> = Vec::new();
    for (index, face) in faces.iter().enumerate() {
        let own = stretches.iter().filter(|(_, at)| usize::from(*at) == index);
        let parts: Vec<&str> = own.filter_map(|(range, _)| text.get(range.clone())).collect();
        let joined = parts.join(" ");
        let runs = text_runs(&joined);
        let mut shaper = Shaper::new(face, features, None);
        let (glyphs, _) = shaper.shaped(&joined, &runs.visual(&(0..joined.len())));
        drop(shaper);
        found.extend(kinds(&joined, face, features, &glyphs));
    }
    found.sort_by(|a, b| a.kind.cmp(&b.kind).then(a.ratio.total_cmp(&b.ratio)));
    found.dedup_by_key(|body| body.kind);
    found
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::face_runs;
    use crate::layout::LetteringChoice;
    use crate::lettering::{BodyKind, Face, LineStyle, ShapedLine, shaped_line, styled_line};

    fn face(name: &str) -> Arc<Face> {
        Face::open(&LetteringChoice::shipped(name)).unwrap()
    }

    fn others() -> Vec<Arc<Face>> {
        vec![face("Frank Ruhl Libre"), face("Amiri")]
    }

    fn mixed(text: &str, stops: &[usize]) -> ShapedLine {
        let others = others();
        let style = LineStyle { others: &others, ..LineStyle::default() };
        styled_line(text, &face("EB Garamond"), &style, stops)
    }

    fn set(line: &ShapedLine) -> Vec<(&str, &str)> {
        let stretches = line.stretches().into_iter();
        stretches.map(|(range, face)| (&line.text[range], face.name.as_str())).collect()
    }

    #[test]
    fn a_stretch_of_a_script_goes_whole_to_the_first_lettering_that_has_it() {
        let text = "Vale (שלום, 18) and هنا ŵ";
        assert_eq!(
            set(&mixed(text, &[0, text.len()])),
            [
                ("Vale (", "EB Garamond"),
                ("שלום, 18", "Frank Ruhl Libre"),
                (") and ", "EB Garamond"),
                ("هنا ", "Amiri"),
                ("ŵ", "EB Garamond")
            ]
        );
        // What none has stays with the line's own, and is missing there.
        let lacking = "Vale क";
        assert_eq!(set(&mixed(lacking, &[0, 8])), [(lacking, "EB Garamond")]);
    }

    #[test]
    fn a_line_that_its_own_lettering_has_is_set_as_if_there_were_no_other() {
        let text = "Marrowby Vale, 1914";
        let stops = [0, 9, 15, text.len()];
        let (alone, with) =
            (shaped_line(text, &face("EB Garamond"), &[], &stops), mixed(text, &stops));
        assert!(with.others.is_empty());
        assert_eq!(with.widths, alone.widths);
        assert_eq!(with.piece(0..text.len()), alone.piece(0..text.len()));
    }

    #[test]
    fn another_script_is_as_large_as_in_a_line_of_its_own_lettering() {
        for (text, name) in [("שלום לכם", "Frank Ruhl Libre"), ("هنا قرعت", "Amiri")]
        {
            let stops = [0, text.find(' ').unwrap() + 1, text.len()];
            let (alone, with) = (shaped_line(text, &face(name), &[], &stops), mixed(text, &stops));
            assert_eq!(with.others.len(), 1);
            for (from, to) in [(0, 1), (1, 2), (0, 2)] {
                assert!((alone.width(from, to) - with.width(from, to)).abs() < 1e-9, "{name}");
            }
            assert!((alone.rise - with.rise).abs() < 1e-9, "{name}");
            assert!((alone.depth - with.depth).abs() < 1e-9, "{name}");
            let body = with.body.unwrap();
            assert_eq!(body.kind, BodyKind::Uncased);
            assert!((body.ratio - alone.body.unwrap().ratio).abs() < 1e-9, "{name}");
        }
    }

    #[test]
    fn every_piece_of_a_mixed_line_is_as_wide_as_when_it_is_shaped_alone() {
        let mut compared = 0;
        for text in [
            "Elowen Tarrant and אביגיל טרנט rang (שלום) here",
            "כאן צלצלו Elowen Tarrant ו\u{AD}אביגיל, 18 ביולי",
            "هنا قرعت Elowen Tar\u{AD}rant وأبيغيل תשפ״ד الجرس",
        ] {
            let mut stops = vec![0];
            stops.extend(text.match_indices([' ', '\u{AD}']).map(|(at, part)| at + part.len()));
            stops.push(text.len());
            let line = mixed(text, &stops);
            assert!(!line.others.is_empty());
            for from in 0..stops.len() {
                for to in from + 1..stops.len() {
                    let piece = line.piece(stops[from]..stops[to]);
                    let own = (piece.ink_right_em - piece.ink_left_em) / line.face.cap_em();
                    assert!((own - line.width(from, to)).abs() < 1e-9, "{text:?} {from} {to}");
                    assert!(piece.ink_top_em <= line.rise * line.face.cap_em() + 1e-9);
                    assert!(piece.ink_bottom_em >= -line.depth * line.face.cap_em() - 1e-9);
                    compared += 1;
                }
            }
        }
        assert!(compared > 90, "{compared}");
    }

    #[test]
    fn white_opens_every_neighbour_but_no_mark_from_its_letter() {
        let line = shaped_line("E\u{301}XT", &face("EB Garamond"), &[], &[0, 5]);
        let (plain, opened) = (line.piece(0..5), line.opened(0..5, 0.1));
        for (at, (a, b)) in plain.glyphs.iter().zip(&opened.glyphs).enumerate() {
            assert_eq!(a.id, b.id);
            let steps = line.text[..a.cluster].chars().filter(|c| *c != '\u{301}').count();
            let moved = 0.1 * f64::from(u32::try_from(steps).unwrap());
            assert!((b.x_em - a.x_em - moved).abs() < 1e-12, "{at}");
        }
        assert!((opened.ink_right_em - plain.ink_right_em - 0.2).abs() < 1e-12);
    }

    #[test]
    fn white_passes_over_what_has_no_ink_but_not_over_a_hyphen_that_is_shown() {
        let face = face("EB Garamond");
        let width = |text: &str, end: usize, stops: &[usize]| {
            let piece = shaped_line(text, &face, &[], stops).opened(0..end, 0.2);
            piece.ink_right_em - piece.ink_left_em
        };
        let plain = width("OBSERVATORY", 11, &[0, 11]);
        for hidden in
            ["OBSER\u{AD}VA\u{AD}TORY", "OBSER\u{200B}VATORY", "\u{2060}OBSERVATORY\u{2060}"]
        {
            let own = width(hidden, hidden.len(), &[0, hidden.len()]);
            assert!((own - plain).abs() < 1e-9, "{hidden:?} {own} {plain}");
        }
        // Where the row ends at the soft hyphen, its hyphen has white before it as H has.
        let divided = "OBSER\u{AD}VATORY";
        let line = shaped_line(divided, &face, &[], &[0, 7, divided.len()]);
        let (plain, opened) = (line.piece(0..7), line.opened(0..7, 0.2));
        let wider = opened.ink_right_em - plain.ink_right_em;
        assert!((wider - 5.0 * 0.2).abs() < 1e-9, "{wider}");
    }

    #[test]
    fn runs_of_labels_come_from_left_to_right() {
        let text = "הנה Vale هنا";
        let runs = face_runs(text, &face("EB Garamond"), &others());
        let shown: Vec<&str> = runs.into_iter().map(|run| &text[run]).collect();
        // Each run is in logical order itself: the space after the first word of all is
        // shown on its left.
        assert_eq!(shown, ["هنا", " ", "Vale", "הנה "]);
    }
}
