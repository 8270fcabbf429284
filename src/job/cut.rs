//! What is cut: every outline in its place, in whole micrometres. The proof mark is a
//! digest of it, the report prints it, a sign-off keeps it.

use std::collections::BTreeMap;

use kurbo::{Affine, BezPath, Cap, Join, Stroke, StrokeOpts};

use crate::checks::Facts;
use crate::layout::{Cut as Letters, Named, Side};
use crate::lettering::united;
use crate::photo::{PlacedPhoto, making};
use crate::plate;
use crate::units::digits::trimmed;

use super::trace::{Spot, Trace, micrometres, numbers};

/// How far the sides of a cut may leave their true place, mm: below the grid of 1 µm.
const ACCURACY: f64 = 1e-4;

/// A hole as it is cut, µm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutHole {
    /// Its middle.
    pub at: Spot,
    /// Diameter through the plate.
    pub diameter: i64,
    /// Diameter of what covers it.
    pub head: i64,
    /// How far a slot's round ends lie to both sides of its middle, across and down.
    pub travel: Option<Spot>,
}

/// A glyph of a row: which of [`Cut::shapes`], and where its origin stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CutGlyph {
    /// Index of its outline.
    pub shape: usize,
    /// Its origin.
    pub at: Spot,
}

/// Border lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutBorder {
    /// Width of a line, µm.
    pub weight: i64,
    /// Their paths.
    pub lines: Vec<Trace>,
}

/// A photograph as it is made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutPhoto {
    /// SHA-256 of its file, in hexadecimal.
    pub file: String,
    /// The part of the picture that is shown, in thousandths of its pixels: left, top, right,
    /// bottom.
    pub crop: [i64; 4],
    /// How it is made, in words.
    pub made: String,
    /// Its outline.
    pub outline: Trace,
    /// The edge of its pocket, where it is set in.
    pub pocket: Option<Trace>,
    /// What is engraved about it: its frame, its credit.
    pub engraved: Vec<Trace>,
}

/// Everything that is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// Whether the letters are left standing.
    pub raised: bool,
    /// Whether all is cut from behind, mirrored.
    pub behind: bool,
    /// The edge of the plate.
    pub outline: Trace,
    /// Width of the bevel, µm; 0 for none.
    pub bevel: i64,
    /// Border lines, if any.
    pub border: Option<CutBorder>,
    /// Holes.
    pub holes: Vec<CutHole>,
    /// Each outline of a letter once, at its size, from its origin; of centre lines that of
    /// what is cut along them.
    pub shapes: Vec<Trace>,
    /// The rows from top to bottom, their glyphs from left to right; one that holds a drawing
    /// has none.
    pub rows: Vec<Vec<CutGlyph>>,
    /// Dividers, emblems and corner ornaments in their places.
    pub decoration: Vec<Trace>,
    /// Photographs in their places.
    pub photos: Vec<CutPhoto>,
}

pub(super) fn cut(facts: &Facts<'_>) -> Cut {
    let plate = &facts.layout.plate;
    let border = plate.border.map(|border| {
        let lines = plate::border_paths(plate, facts.zones);
        CutBorder {
            weight: micrometres(border.weight),
            lines: lines.iter().map(Trace::of).collect(),
        }
    });
    let holes = facts.mount.holes.iter().map(|hole| {
        let (across, down) = hole.travel();
        CutHole {
            at: (micrometres(hole.x), micrometres(hole.y)),
            diameter: micrometres(hole.clearance_diameter),
            head: micrometres(hole.head_diameter),
            travel: hole.slot.map(|_| (micrometres(across), micrometres(down))),
        }
    });
    let mut cut = Cut {
        behind: facts.layout.engraving.from == Side::Behind,
        raised: facts.layout.engraving.cut == Letters::Raised,
        outline: Trace::of(&plate::outline(plate).path()),
        bevel: micrometres(plate.bevel),
        border,
        holes: holes.collect(),
        shapes: Vec::new(),
        rows: Vec::new(),
        decoration: facts.decoration.iter().map(|placed| Trace::of(&placed.path)).collect(),
        photos: facts.photos.iter().filter_map(|placed| photo(facts, placed)).collect(),
    };
    letters(&mut cut, facts);
    cut
}

fn photo(facts: &Facts<'_>, placed: &PlacedPhoto) -> Option<CutPhoto> {
    let photo = facts.layout.photos.get(placed.index)?;
    let made = match making(photo, facts.layout) {
        Ok(making) => making.told(),
        Err(objection) => format!("{}, not made", objection.process.word()),
    };
    let inset = photo.making.inset.map_or_else(String::new, |inset| {
        format!(
            ", a piece {} mm thick, set in with {} mm all round",
            trimmed(inset.thickness, 3),
            trimmed(inset.gap, 3)
        )
    });
    Some(CutPhoto {
        file: photo.digest.iter().map(|byte| format!("{byte:02x}")).collect(),
        // Thousandths of pixels, as µm are thousandths of mm.
        crop: placed.crop.map(micrometres),
        made: format!("{made}{inset}"),
        outline: Trace::of(&placed.outline),
        pocket: placed.pocket.as_ref().map(Trace::of),
        engraved: placed.engraved().map(Trace::of).collect(),
    })
}

/// The rows, and each outline that they use once.
fn letters(cut: &mut Cut, facts: &Facts<'_>) {
    // By their words: letters of two lines may be alike, and a line's faces repeat.
    let mut known: BTreeMap<String, usize> = BTreeMap::new();
    for row in &facts.fitted.rows {
        let Some(line) = facts.lines.get(row.line) else { continue };
        let mut of_row: BTreeMap<(u8, u16), usize> = BTreeMap::new();
        let glyphs = row.glyphs.iter().map(|glyph| {
            let shape = *of_row.entry((glyph.face, glyph.id)).or_insert_with(|| {
                let face = line.face_of(glyph.face);
                let em = row.drawn_height() / face.cap_em();
                let path = Affine::scale_non_uniform(em, -em) * face.outline(glyph.id);
                let trace = match row.cut {
                    cut if cut > 0.0 => Trace::of(&as_wide(path, cut)),
                    _ => Trace::of(&path),
                };
                let next = cut.shapes.len();
                let index = *known.entry(trace.text()).or_insert(next);
                if index == next {
                    cut.shapes.push(trace);
                }
                index
            });
            CutGlyph { shape, at: (micrometres(glyph.x), micrometres(glyph.y)) }
        });
        let glyphs = glyphs.collect();
        cut.rows.push(glyphs);
    }
}

/// What a round tool so wide, mm, cuts in going along centre lines: so the mark tells another
/// cutter, and a comparison shows what is seen.
pub(super) fn as_wide(path: BezPath, width: f64) -> BezPath {
    let style = Stroke::new(width).with_join(Join::Round).with_caps(Cap::Round);
    united(&kurbo::stroke(path, &style, &StrokeOpts::default(), ACCURACY), ACCURACY)
}

impl Cut {
    /// The outlines of a row's letters in their places.
    pub fn row(&self, row: usize) -> impl Iterator<Item = Trace> + '_ {
        let glyphs = self.rows.get(row).map(Vec::as_slice).unwrap_or_default();
        glyphs.iter().filter_map(|glyph| Some(self.shapes.get(glyph.shape)?.at(glyph.at)))
    }

    /// A row as text: index of the shape and place of its origin, `3 12000 45500`, with a
    /// comma between two.
    #[must_use]
    pub fn row_text(row: &[CutGlyph]) -> String {
        let one = |glyph: &CutGlyph| format!("{} {} {}", glyph.shape, glyph.at.0, glyph.at.1);
        row.iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// Reads what [`Self::row_text`] writes; `None` for anything else.
    #[must_use]
    pub fn row_parsed(text: &str) -> Option<Vec<CutGlyph>> {
        if text.is_empty() {
            return Some(Vec::new());
        }
        let one = |part: &str| match numbers(part)?.as_slice() {
            [shape, x, y] => Some(CutGlyph { shape: usize::try_from(*shape).ok()?, at: (*x, *y) }),
            _ => None,
        };
        text.split(", ").map(one).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::{Cut, CutGlyph};

    #[test]
    fn a_row_is_written_and_read_back() {
        let row = [CutGlyph { shape: 3, at: (12_000, -45) }, CutGlyph { shape: 0, at: (0, 7) }];
        let text = Cut::row_text(&row);
        assert_eq!(text, "3 12000 -45, 0 0 7");
        assert_eq!(Cut::row_parsed(&text).as_deref(), Some(row.as_slice()));
        assert_eq!(Cut::row_parsed(""), Some(Vec::new()));
        for text in ["1 2", "1 2 3 4", "-1 2 3", "a b c", "1 2 3,4 5 6", ","] {
            assert_eq!(Cut::row_parsed(text), None, "{text}");
        }
    }
}
