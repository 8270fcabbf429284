//! What is thin in glyphs that stand beside each other.

use std::sync::Arc;

use kurbo::{Point, Vec2};

use super::gap::{Gap, gap_between};
use super::joined::{Pocket, pocket};
use super::{Measure, Narrow};
use crate::lettering::{Face, ShapedLine};

/// A gap wider than this many cap heights is no gap between neighbours: wider than any
/// space between words. Own choice; it only ends the search.
const NEIGHBOURS: f64 = 2.0;

/// A glyph where it stands, in some unit of length, y up.
#[derive(Debug, Clone)]
pub struct SetGlyph {
    /// Its face.
    pub face: Arc<Face>,
    /// Glyph index there.
    pub id: u16,
    /// Its origin.
    pub at: Vec2,
    /// Cap height in that unit.
    pub cap_height: f64,
}

/// A width, where it is and of which glyphs; in the unit in which they stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThinPlace {
    /// The width.
    pub width: f64,
    /// Its middle, y up.
    pub at: Point,
    /// Index of the glyph that has it.
    pub glyph: usize,
    /// Index of the other, where it lies between two.
    pub other: Option<usize>,
}

/// What is thin in a row of glyphs; each absent where there is none.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Thin {
    /// Thinnest stroke.
    pub stroke: Option<ThinPlace>,
    /// Thinnest join or tip.
    pub join: Option<ThinPlace>,
    /// Narrowest counter.
    pub counter: Option<ThinPlace>,
    /// Narrowest gap between glyphs: the distance of two that do not touch, and what two that
    /// do shut in together beside their join.
    pub gap: Option<ThinPlace>,
    /// Index of the first glyph that could not be measured.
    pub unmeasured: Option<usize>,
}

impl Thin {
    /// The thinner of each.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        let least = |a: Option<ThinPlace>, b: Option<ThinPlace>| match (a, b) {
            (Some(a), Some(b)) if b.width < a.width => Some(b),
            (Some(a), _) => Some(a),
            (None, b) => b,
        };
        Self {
            stroke: least(self.stroke, other.stroke),
            join: least(self.join, other.join),
            counter: least(self.counter, other.counter),
            gap: least(self.gap, other.gap),
            unmeasured: self.unmeasured.or(other.unmeasured),
        }
    }
}

/// What is thin in a row of glyphs.
///
/// Gaps are those between any two glyphs, an accent and its letter among them.
#[must_use]
pub fn thin(glyphs: &[SetGlyph]) -> Thin {
    let mut found = Thin::default();
    for (index, glyph) in glyphs.iter().enumerate() {
        let strokes = match glyph.face.strokes(glyph.id) {
            Measure::Blank => continue,
            Measure::Unmeasured => {
                found.unmeasured = found.unmeasured.or(Some(index));
                continue;
            }
            Measure::Widths(strokes) => strokes,
        };
        let scale = glyph.cap_height;
        let placed = |narrow: Option<Narrow>| {
            narrow.map(|narrow| ThinPlace {
                width: narrow.width * scale,
                at: (narrow.at.to_vec2() * scale + glyph.at).to_point(),
                glyph: index,
                other: None,
            })
        };
        found = found.with(Thin {
            stroke: placed(strokes.stroke),
            join: placed(strokes.join),
            counter: placed(strokes.counter),
            ..Thin::default()
        });
    }
    // A join is thinner than the strokes of the row, or it does not matter.
    let stroke = found.stroke.map_or(f64::INFINITY, |stroke| stroke.width);
    found.join = found.join.filter(|join| join.width < stroke);
    found.with(gaps(glyphs))
}

fn gaps(glyphs: &[SetGlyph]) -> Thin {
    let mut found = Thin::default();
    for (index, glyph) in glyphs.iter().enumerate() {
        let Measure::Widths(strokes) = glyph.face.strokes(glyph.id) else { continue };
        let own = (strokes, glyph.cap_height, glyph.at);
        for (other, beside) in glyphs.iter().enumerate().skip(index + 1) {
            let Measure::Widths(strokes) = beside.face.strokes(beside.id) else { continue };
            let most = NEIGHBOURS * glyph.cap_height;
            let enough = found.gap.map_or(most, |least| least.width);
            let theirs = (strokes, beside.cap_height, beside.at);
            let narrow = match gap_between(own, theirs, enough) {
                Gap::Enough => continue,
                Gap::Wide(narrow) => narrow,
                // Nearer than the stroke that they are measured with: one stroke.
                Gap::Touch if own.0.thread > 0.0 => continue,
                Gap::Touch => match touching(glyph, beside) {
                    Pocket::None => continue,
                    Pocket::Wide(narrow) => narrow,
                    Pocket::Unmeasured => {
                        found.unmeasured = found.unmeasured.or(Some(index));
                        continue;
                    }
                },
            };
            let threads = own.0.thread * own.1 + theirs.0.thread * theirs.1;
            let (width, at) = (narrow.width + threads / 2.0, narrow.at);
            let gap = Some(ThinPlace { width, at, glyph: index, other: Some(other) });
            found = found.with(Thin { gap, ..Thin::default() });
        }
    }
    found
}

/// The narrowest ground that two glyphs that touch shut in together, in the unit in which
/// they stand.
fn touching(glyph: &SetGlyph, beside: &SetGlyph) -> Pocket {
    let unit = glyph.cap_height;
    let moved = (beside.at - glyph.at) / unit;
    let scale = beside.cap_height / unit;
    match pocket((&glyph.face, glyph.id), (&beside.face, beside.id), scale, moved) {
        Pocket::Wide(narrow) => Pocket::Wide(Narrow {
            width: narrow.width * unit,
            at: (narrow.at.to_vec2() * unit + glyph.at).to_point(),
        }),
        other => other,
    }
}

impl ShapedLine {
    /// What is thin in the line as it is drawn, in cap heights. Glyphs are measured at the
    /// first question and kept with their face.
    #[must_use]
    pub fn thin(&self) -> Thin {
        if let Some(thin) = self.thin_ornament() {
            return thin;
        }
        let own = self.face.cap_em();
        let piece = self.piece(0..self.text.len());
        let glyphs: Vec<SetGlyph> = piece
            .glyphs
            .iter()
            .map(|glyph| SetGlyph {
                face: Arc::clone(self.face_of(glyph.face)),
                id: glyph.id,
                at: Vec2::new(glyph.x_em, glyph.y_em) / own,
                cap_height: 1.0,
            })
            .collect();
        thin(&glyphs)
    }
}
