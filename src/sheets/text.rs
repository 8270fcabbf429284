//! Label text: set in the label face and measured by its glyphs. mm, y down.
//! Characters that the label face lacks are set in another face.

use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::Shape;
use unicode_segmentation::UnicodeSegmentation;

use crate::drawing::{Item, Setting, Text};
use crate::job::Job;
use crate::layout::{LetteringChoice, Ornament};
use crate::lettering::{Face, Run, ShapedLine, face_runs, missing, shaped_run, who_has};
use crate::remedies::Cures;

/// Colour of labels and lines.
pub(super) const BLACK: [u8; 3] = [0, 0, 0];
/// The label face and its bold, as the catalogue names them.
const REGULAR: &str = "Atkinson Hyperlegible";
const BOLD: &str = "Atkinson Hyperlegible Bold";
/// Room above a baseline in cap heights: accents of the label face fit.
const ABOVE: f64 = 1.30;
/// Room below a baseline in cap heights. With the room above, baselines stand
/// 1.75 cap heights apart; ISO 3098-0 asks for 1.5 at least (type B, b2).
const BELOW: f64 = 0.45;
/// White kept round ink that needs more than that, in cap heights.
const SAFE: f64 = 0.10;

/// How a label is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Style {
    /// Cap height, mm.
    pub(super) cap: f64,
    /// Bold or regular.
    pub(super) bold: bool,
    /// Figures of one width.
    pub(super) tabular: bool,
    /// Colour.
    pub(super) colour: [u8; 3],
}

impl Style {
    /// Regular at a cap height.
    pub(super) const fn regular(cap: f64) -> Self {
        Self { cap, bold: false, tabular: false, colour: BLACK }
    }
    /// Bold at a cap height.
    pub(super) const fn bold(cap: f64) -> Self {
        Self { cap, bold: true, tabular: false, colour: BLACK }
    }
    /// The same with figures of one width.
    pub(super) const fn figures(self) -> Self {
        Self { tabular: true, ..self }
    }
    /// The same in another colour.
    pub(super) const fn coloured(self, colour: [u8; 3]) -> Self {
        Self { colour, ..self }
    }
    /// From the top of a row's box to its baseline, mm.
    pub(super) const fn baseline(self) -> f64 {
        ABOVE * self.cap
    }

    fn features(self) -> &'static [String] {
        static TABULAR: std::sync::LazyLock<[String; 1]> =
            std::sync::LazyLock::new(|| ["tnum".to_owned()]);
        if self.tabular { &*TABULAR } else { &[] }
    }

    /// Least distance of baselines, mm.
    pub(super) const fn leading(self) -> f64 {
        (ABOVE + BELOW) * self.cap
    }
}

/// One row of text with its baseline's left end at 0, 0.
#[derive(Debug, Clone)]
pub(super) struct SetRow {
    pub(super) texts: Vec<Text>,
    /// Advance, mm.
    pub(super) width: f64,
    /// Room it takes above its baseline, mm.
    pub(super) above: f64,
    /// Room it takes below, mm.
    pub(super) below: f64,
}

impl SetRow {
    /// Height of the row's box, mm.
    pub(super) fn height(&self) -> f64 {
        self.above + self.below
    }

    /// The row with its baseline's left end at a point.
    pub(super) fn level(&self, x: f64, y: f64) -> Vec<Item> {
        self.texts.iter().map(|text| Text { x: x + text.x, y, ..text.clone() }.into()).collect()
    }

    /// The row reading upwards from a point: read from the right of the sheet.
    pub(super) fn upright(&self, x: f64, y: f64) -> Vec<Item> {
        self.texts
            .iter()
            .map(|text| Text { x, y: y - text.x, turned: 90.0, ..text.clone() }.into())
            .collect()
    }
}

/// The faces that labels are set in.
pub(super) struct Labels {
    regular: Arc<Face>,
    bold: Arc<Face>,
    /// Faces of the job's lines, then shipped ones for what is still missing.
    others: Vec<Arc<Face>>,
    /// Ink above and below the baseline by face and glyph, em; measured once.
    ink: RefCell<BTreeMap<(usize, u16), (f64, f64)>>,
}

/// A shipped face by its catalogue name.
fn shipped(name: &str) -> Arc<Face> {
    Face::open(&LetteringChoice::shipped(name.to_owned()))
        .expect("the label face is embedded in the program, and a test opens it")
}

impl Labels {
    /// Label faces for everything that a job and its remedies may print.
    pub(super) fn new(job: &Job, cures: &[Cures]) -> Self {
        let mut labels = Self::plain();
        labels.others.extend(job.lines.iter().flat_map(ShapedLine::faces));
        labels.others.dedup_by(|a, b| Arc::ptr_eq(a, b));
        for text in printed(job, cures) {
            labels.provide(text);
        }
        labels
    }

    /// The label faces alone.
    pub(super) fn plain() -> Self {
        Self {
            regular: shipped(REGULAR),
            bold: shipped(BOLD),
            others: Vec::new(),
            ink: RefCell::default(),
        }
    }

    /// Opens shipped faces for the characters of a text that no face here has.
    pub(super) fn provide(&mut self, text: &str) {
        for gap in missing(&self.regular, text) {
            let letter = gap.character.to_string();
            let has = |face: &Arc<Face>| face.embeddable() && missing(face, &letter).is_empty();
            if self.others.iter().any(has) {
                continue;
            }
            let Some(name) = who_has(gap.character).first().copied() else { continue };
            if let Ok(face) = Face::open(&LetteringChoice::shipped(name.to_owned())) {
                self.others.push(face);
            }
        }
    }

    /// One row of text. Line feeds and other control characters become spaces; a soft
    /// hyphen at the end is shown as a hyphen, and remains one to who copies the text.
    pub(super) fn set(&self, text: &str, style: Style, prefer: Option<&Arc<Face>>) -> SetRow {
        let clean: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let mut row = SetRow {
            texts: Vec::new(),
            width: 0.0,
            above: ABOVE * style.cap,
            below: BELOW * style.cap,
        };
        for (part, face, run) in self.runs(&clean, style, prefer) {
            let size = style.cap / face.cap_em();
            for glyph in &run.glyphs {
                let (up, down) = self.ink_of(&face, glyph.id);
                row.above = row.above.max((up + glyph.y_em) * size + SAFE * style.cap);
                row.below = row.below.max((down - glyph.y_em) * size + SAFE * style.cap);
            }
            let set = Setting { size, x: row.width, y: 0.0, turned: 0.0, colour: style.colour };
            row.texts.push(Text::from_glyphs(part, &face, &run.glyphs, set));
            row.width += run.advance_em * size;
        }
        row
    }

    /// A space behind a row, which takes no room.
    pub(super) fn space_after(&self, row: &SetRow, style: Style) -> Vec<Text> {
        let space = self.set(" ", style, None).texts;
        space.into_iter().map(|text| Text { x: row.width, ..text }).collect()
    }

    /// Advance of a text without setting it, mm.
    pub(super) fn advance(&self, text: &str, style: Style, prefer: Option<&Arc<Face>>) -> f64 {
        self.runs(text, style, prefer)
            .into_iter()
            .map(|(_, face, run)| run.advance_em * style.cap / face.cap_em())
            .sum()
    }

    /// The parts of a text, each shaped in its face.
    fn runs<'t>(
        &self,
        text: &'t str,
        style: Style,
        prefer: Option<&Arc<Face>>,
    ) -> Vec<(&'t str, Arc<Face>, Run)> {
        let parts = self.parts(text, style, prefer);
        let last = parts.len().saturating_sub(1);
        let shaped = parts.into_iter().enumerate().map(|(index, (part, face))| {
            let seen = if index == last { shown(part) } else { Cow::Borrowed(part) };
            let run = shaped_run(&seen, &face, style.features());
            (part, face, run)
        });
        shaped.collect()
    }

    /// The text cut where the face must change, left to right. One face for the whole text
    /// where any face has all of it; else for each stretch of one script that a face has.
    fn parts<'t>(
        &self,
        text: &'t str,
        style: Style,
        prefer: Option<&Arc<Face>>,
    ) -> Vec<(&'t str, Arc<Face>)> {
        if text.is_empty() {
            return Vec::new();
        }
        let own = if style.bold { &self.bold } else { &self.regular };
        // Real text puts a part of the font into a PDF: not one whose owner forbids it.
        let chain: Vec<Arc<Face>> = std::iter::once(own)
            .chain(prefer)
            .chain(&self.others)
            .filter(|face| face.embeddable())
            .map(Arc::clone)
            .collect();
        let has_all =
            |part: &str| chain.iter().find(|face| missing(face, part).is_empty()).map(Arc::clone);
        if let Some(face) = has_all(text) {
            return vec![(text, face)];
        }
        let mut parts: Vec<(std::ops::Range<usize>, Arc<Face>)> = Vec::new();
        for run in face_runs(text, own, &chain) {
            let Some(whole) = text.get(run.clone()) else { continue };
            if let Some(face) = has_all(whole) {
                parts.push((run, face));
                continue;
            }
            let mut from = run.start;
            for grapheme in whole.graphemes(true) {
                let range = from..from + grapheme.len();
                from = range.end;
                let face = has_all(grapheme).unwrap_or_else(|| Arc::clone(own));
                match parts.last_mut() {
                    Some((last, known)) if Arc::ptr_eq(known, &face) && last.end == range.start => {
                        last.end = range.end;
                    }
                    _ => parts.push((range, face)),
                }
            }
        }
        parts.into_iter().filter_map(|(range, face)| Some((text.get(range)?, face))).collect()
    }

    fn ink_of(&self, face: &Arc<Face>, glyph: u16) -> (f64, f64) {
        // The address tells open faces apart; no result depends on its value.
        let key = (Arc::as_ptr(face) as usize, glyph);
        *self.ink.borrow_mut().entry(key).or_insert_with(|| {
            let outline = face.outline(glyph);
            if outline.elements().is_empty() {
                return (0.0, 0.0);
            }
            let bounds = outline.bounding_box();
            (bounds.y1.max(0.0), (-bounds.y0).max(0.0))
        })
    }
}

/// A text as it is seen: a soft hyphen at its end as a hyphen that every face of text has.
fn shown(text: &str) -> Cow<'_, str> {
    match text.strip_suffix('\u{AD}') {
        Some(before) => Cow::Owned(format!("{before}-")),
        None => Cow::Borrowed(text),
    }
}

/// Everything in a job that people wrote and that a sheet may print.
fn printed<'a>(job: &'a Job, cures: &'a [Cures]) -> Vec<&'a str> {
    let layout = &job.layout;
    let mut texts: Vec<&str> = vec![&layout.title];
    let proof = &layout.proof;
    for part in [&proof.replaces, &proof.date, &proof.client, &proof.spelling, &layout.shop.name] {
        texts.extend(part.as_deref());
    }
    texts.extend(proof.signatures.iter().map(String::as_str));
    for signature in job.signed.iter().flat_map(|signed| &signed.signatures) {
        texts.extend([signature.by.as_str(), &signature.role]);
        texts.extend(signature.accepted.iter().map(|agreed| agreed.reason.as_str()));
    }
    for (line, shaped) in layout.lines.iter().zip(&job.lines) {
        texts.extend([line.text.as_str(), &shaped.text]);
        if let Some(Ornament::Own(own)) = &line.ornament {
            texts.push(&own.path);
            texts.extend(own.permission.as_deref());
        }
        for face in std::iter::once(&shaped.face).chain(&shaped.others) {
            texts.push(&face.name);
            texts.extend(face.licence.as_deref());
        }
    }
    for judged in &job.findings {
        let finding = &judged.finding;
        texts.extend([finding.message.as_str(), &finding.rule, &finding.source]);
        texts.extend(judged.accepted.as_deref());
    }
    texts.extend(cures.iter().flat_map(|cure| &cure.remedies).map(|remedy| &*remedy.message));
    texts
}

#[cfg(test)]
mod tests {
    use kurbo::Shape;

    use super::{Labels, Style};

    const BODY: Style = Style::regular(2.0);

    #[test]
    fn tabular_figures_have_one_width() {
        let labels = Labels::plain();
        let width = |text: &str| labels.set(text, BODY.figures(), None).width;
        assert!((width("1111") - width("8080")).abs() < 1e-9);
        let plain = |text: &str| labels.set(text, BODY, None).width;
        assert!(plain("1111") < plain("8080"));
    }

    #[test]
    fn a_character_that_the_label_face_lacks_is_set_in_another() {
        let mut labels = Labels::plain();
        labels.provide("\u{5e9}\u{5dc}\u{5d5}\u{5dd}");
        let row = labels.set("\u{5e9}\u{5dc}\u{5d5}\u{5dd}", BODY, None);
        let faces: Vec<&str> = row.texts.iter().map(|text| text.face.name.as_str()).collect();
        assert_eq!(faces, ["Frank Ruhl Libre"]);
    }

    #[test]
    fn ink_stands_inside_the_room_that_a_row_takes() {
        let mut labels = Labels::plain();
        for text in ["Agjpq", "\u{c5}\u{10c}\u{1ebe}", "\u{5dc}\u{5da}", "e\u{301}\u{302}"] {
            labels.provide(text);
            let row = labels.set(text, BODY, None);
            for part in &row.texts {
                for glyph in &part.glyphs {
                    let ink = part.face.outline(glyph.id).bounding_box();
                    assert!((ink.y1 + glyph.y_em) * part.size <= row.above, "{text}");
                    assert!((-ink.y0 - glyph.y_em) * part.size <= row.below, "{text}");
                }
            }
        }
    }
}
