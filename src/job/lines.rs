//! The lines of a layout, shaped in the lettering that they ask for.

use std::sync::Arc;

use crate::decoration;
use crate::layout::{Diagnostic, Keys, Layout, LetteringChoice, Line, Source};
use crate::lettering::{Face, FaceError, LineStyle, Narrower, ShapedLine, styled_line};
use crate::plate::Field;
use crate::wording;

use super::narrow;

/// Faces opened so far, by what chose them.
#[derive(Default)]
struct Opened<'a> {
    faces: Vec<(&'a LetteringChoice, Arc<Face>)>,
}

impl<'a> Opened<'a> {
    fn face(&mut self, choice: &'a LetteringChoice) -> Result<Arc<Face>, FaceError> {
        if let Some((_, face)) = self.faces.iter().find(|(known, _)| *known == choice) {
            return Ok(Arc::clone(face));
        }
        let face = Face::open(choice)?;
        self.faces.push((choice, Arc::clone(&face)));
        Ok(face)
    }
}

/// All lines shaped, those that hold a drawing still without it.
///
/// # Errors
/// Lettering that cannot be opened, each told once.
pub(super) fn shaped(
    layout: &Layout,
    marks: &[wording::Marks],
) -> Result<Vec<ShapedLine>, Vec<Diagnostic>> {
    let mut lines = Vec::with_capacity(layout.lines.len());
    let mut mistakes: Vec<Diagnostic> = Vec::new();
    let nothing = LetteringChoice::shipped("");
    let mut opened = Opened::default();
    // Lines that hold a drawing have nothing set; their face is that of the first words.
    let words = layout.lines.iter().find(|line| line.ornament.is_none());
    let words = words.map_or(&nothing, |line| &line.lettering);
    for (index, (line, marks)) in layout.lines.iter().zip(marks).enumerate() {
        let mut tell = |error: FaceError, other: Option<usize>| {
            let mistake = unopened(error, index, other, &layout.keys);
            if !mistakes.iter().any(|known| known.span == mistake.span) {
                mistakes.push(mistake);
            }
        };
        let mut others = Vec::with_capacity(line.setting.others.len());
        for (at, choice) in line.setting.others.iter().enumerate() {
            match opened.face(choice) {
                Ok(face) => others.push(face),
                Err(error) => tell(error, Some(at)),
            }
        }
        let choice = if line.ornament.is_some() { words } else { &line.lettering };
        match opened.face(choice) {
            Ok(face) if line.ornament.is_some() => {
                lines.push(ShapedLine::of_ornament(None, &face));
            }
            // Its face is that of a line of words, where this is told.
            Err(_) if line.ornament.is_some() => {}
            Ok(face) => lines.push(set(line, marks, &face, &others)),
            Err(error) => tell(error, None),
        }
    }
    if mistakes.is_empty() { Ok(lines) } else { Err(mistakes) }
}

/// The lines with their drawings, of which some are as wide as the field allows.
pub(super) fn drawn(layout: &Layout, mut lines: Vec<ShapedLine>, field: &Field) -> Vec<ShapedLine> {
    for (line, shaped) in layout.lines.iter().zip(&mut lines) {
        if let Some(asked) = &line.ornament {
            *shaped = ShapedLine::of_ornament(decoration::ornament(asked, field), &shaped.face);
        }
    }
    lines
}

/// The lines, those narrowed that may be and miss their height.
pub(super) fn narrowed(
    layout: &Layout,
    lines: Vec<ShapedLine>,
    marks: &[wording::Marks],
    field: &Field,
) -> Vec<ShapedLine> {
    if layout.lines.iter().all(|line| line.setting.narrow_to.is_none()) {
        return lines;
    }
    let others: Vec<Vec<Arc<Face>>> = lines.iter().map(|line| line.others.clone()).collect();
    let features: Vec<Vec<String>> = lines.iter().map(|line| line.features.clone()).collect();
    let each = layout.lines.iter().zip(&lines).zip(others.iter().zip(&features));
    let mut narrowers: Vec<Option<Narrower<'_>>> = each
        .map(|((line, shaped), (others, features))| {
            let language = line.setting.language.as_deref();
            let style = LineStyle { features, language, others };
            let least = whole_per_cent(line.setting.narrow_to?);
            Narrower::new(shaped, &line.lettering, style, least)
        })
        .collect();
    narrow::Fitting { layout, marks, field }.narrowed(lines, &mut narrowers)
}

/// A share as whole per cent that are no less.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of a layout lies between 0.01 and 1"
)]
fn whole_per_cent(share: f64) -> u32 {
    (share * 100.0 - 1e-9).ceil() as u32
}

/// A line in its faces, as it is engraved.
fn set(line: &Line, marks: &wording::Marks, face: &Arc<Face>, others: &[Arc<Face>]) -> ShapedLine {
    let features = line.all_features();
    let language = line.setting.language.as_deref();
    let style = LineStyle { features: &features, language, others };
    match wording::engraved(line, &marks.stops) {
        Some(engraved) => styled_line(&engraved.text, face, &style, &engraved.stops),
        None => styled_line(&line.text, face, &style, &marks.stops),
    }
}

/// A lettering that does not open, at the key that chose it: the line's own, else that of
/// all lines; `other` is its place among the further ones.
fn unopened(error: FaceError, index: usize, other: Option<usize>, keys: &Keys) -> Diagnostic {
    let (own, all) = match other {
        None => (format!("line.{}.lettering", index + 1), "lettering.default".to_owned()),
        Some(at) => {
            let own = format!("line.{}.others.{}", index + 1, at + 1);
            (own, format!("lettering.others.{}", at + 1))
        }
    };
    let places = [own.as_str(), all.as_str()];
    let axis = error.axis.and_then(|axis| {
        places.iter().find_map(|place| keys.exact(&format!("{place}.{}", axis.key())))
    });
    let span = axis.or_else(|| keys.exact(&own)).or_else(|| keys.span(&all));
    Diagnostic {
        source: Source { name: String::new(), text: String::new() },
        span,
        message: error.message,
        help: error.help,
    }
}
