//! Single-stroke lettering: centre lines that a tool follows once. A shipped SVG font in;
//! a centre line for each glyph and a font that shapers read out, in font units, y up.
//!
//! The files (`fonts-open/`) hold open paths, advances and no kerning. Heights stated in
//! them are wrong and not read: all heights are measured. Letters stand a little above the
//! line in some, half of a stroke that was once there; here flat capitals stand on it with
//! their centre lines. What Western European wording needs and the data lacks is composed
//! of its parts (`compose.rs`).

mod compose;
mod read;
mod tables;

use kurbo::{Affine, BezPath, Point, Rect, Shape};

/// Flat capitals, whose feet are the baseline (median).
const FLAT_CAPITALS: [char; 6] = ['E', 'F', 'H', 'I', 'T', 'Z'];

/// Share of the em by which their feet may differ and still be feet on one line.
const MOST_SPREAD: f64 = 0.03;

/// A character with its centre line, font units.
#[derive(Debug, Clone, PartialEq)]
struct Letter {
    character: char,
    advance: f64,
    path: BezPath,
}

/// What an SVG font says, font units.
#[derive(Debug, Clone, PartialEq)]
struct Alphabet {
    upem: u16,
    /// Advance of what stands for a missing character.
    missing_advance: f64,
    /// Letters, each character once.
    letters: Vec<Letter>,
}

impl Alphabet {
    fn letter(&self, character: char) -> Option<&Letter> {
        self.letters.iter().find(|letter| letter.character == character)
    }

    /// Moves all letters so that flat capitals stand on the baseline. Where their feet are on
    /// no one line, as in a written hand, all stay where the file has them.
    fn stand_on_the_line(&mut self) {
        let foot = |character: &char| {
            let path = &self.letter(*character)?.path;
            (!path.is_empty()).then(|| path.bounding_box().y0)
        };
        let mut feet: Vec<f64> = FLAT_CAPITALS.iter().filter_map(foot).collect();
        let Some(foot) = super::measure::median(&mut feet) else { return };
        let spread = feet.last().unwrap_or(&foot) - feet.first().unwrap_or(&foot);
        if spread <= MOST_SPREAD * f64::from(self.upem) {
            for letter in &mut self.letters {
                letter.path.apply_affine(Affine::translate((0.0, -foot)));
            }
        }
    }
}

/// An alphabet as the rest of the room reads fonts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Strokes {
    /// Font tables for a shaper: characters, advances, nothing drawn.
    pub(super) tables: Vec<u8>,
    /// Centre lines by glyph, em, y up; that of glyph 0 is a box.
    pub(super) glyphs: Vec<BezPath>,
}

/// The alphabet of an SVG font, with what can be composed of it.
///
/// # Errors
/// What is not such a font, or breaks a limit of `read.rs`, in words.
pub(super) fn strokes(bytes: &[u8]) -> Result<Strokes, String> {
    let text = std::str::from_utf8(bytes).map_err(|_| "it is no text in UTF-8".to_owned())?;
    let mut alphabet = read::alphabet(text)?;
    alphabet.stand_on_the_line();
    compose::complete(&mut alphabet);
    // Character maps list characters in rising order.
    alphabet.letters.sort_by_key(|letter| letter.character);
    let to_em = Affine::scale(1.0 / f64::from(alphabet.upem));
    let paths = alphabet.letters.iter().map(|letter| to_em * letter.path.clone());
    let glyphs = std::iter::once(to_em * missing(&alphabet)).chain(paths).collect();
    Ok(Strokes { tables: tables::font(&alphabet)?, glyphs })
}

/// What stands for a missing character: a box as high as H.
fn missing(alphabet: &Alphabet) -> BezPath {
    let tall = alphabet.letter('H').map_or(0.0, |letter| letter.path.bounding_box().y1);
    let side = alphabet.missing_advance / 8.0;
    Rect::new(side, 0.0, alphabet.missing_advance - side, tall).to_path(0.1)
}

/// The parts of a path that are drawn without lifting the tool.
fn parts(path: &BezPath) -> Vec<BezPath> {
    path.subpaths().map(|part| part.iter().copied().collect()).collect()
}

/// The middle of a path's box.
fn middle(path: &BezPath) -> Point {
    path.bounding_box().center()
}

#[cfg(test)]
mod tests;
