//! Letters that the cutter cannot make at their size: strokes too thin for it, or land too
//! narrow to stand. Only where a cutter is told.

use std::sync::Arc;

use kurbo::Vec2;

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::fit::{Fitted, Row};
use crate::floors::{self, Need, Whose};
use crate::lettering::{PieceShape, SetGlyph, ShapedLine, ThinPlace, thin};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, LAYOUT, at_line};

/// Something thin, and the letters that have it.
#[derive(Debug, Clone, PartialEq)]
pub struct Letters {
    /// Its width, mm.
    pub width: f64,
    /// Its middle, mm from the plate's left.
    pub x: f64,
    /// The same from the plate's top.
    pub y: f64,
    /// The letter, or the characters that one glyph stands for.
    pub letter: String,
    /// The other letter, of a gap.
    pub other: Option<String>,
}

/// What is thin in a line as it stands on the plate; each absent where there is none.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ThinLine {
    /// Thinnest stroke.
    pub stroke: Option<Letters>,
    /// Thinnest join, or tip of a stroke, where that is thinner than the strokes.
    pub join: Option<Letters>,
    /// Narrowest counter.
    pub counter: Option<Letters>,
    /// Narrowest gap between letters.
    pub gap: Option<Letters>,
}

/// What is thin in a line as it stands on the plate: the least over its rows. A line that
/// stands nowhere has nothing thin.
#[must_use]
pub fn thin_line(lines: &[ShapedLine], fitted: &Fitted, index: usize) -> ThinLine {
    let mut found = ThinLine::default();
    let Some(line) = lines.get(index) else { return found };
    for row in fitted.rows.iter().filter(|row| row.line == index) {
        let glyphs: Vec<SetGlyph> = row
            .glyphs
            .iter()
            .map(|glyph| SetGlyph {
                face: Arc::clone(line.face_of(glyph.face)),
                id: glyph.id,
                at: Vec2::new(glyph.x, -glyph.y),
                cap_height: row.cap_height,
            })
            .collect();
        let thin = thin(&glyphs);
        let piece = line.piece(row.range.clone());
        let named = |place: Option<ThinPlace>| place.map(|place| letters(line, row, &piece, place));
        for (least, place) in [
            (&mut found.stroke, named(thin.stroke)),
            (&mut found.join, named(thin.join)),
            (&mut found.counter, named(thin.counter)),
            (&mut found.gap, named(thin.gap)),
        ] {
            let known = least.as_ref().map_or(f64::INFINITY, |least| least.width);
            if place.as_ref().is_some_and(|place| place.width < known) {
                *least = place;
            }
        }
    }
    found
}

fn letters(line: &ShapedLine, row: &Row, piece: &PieceShape, place: ThinPlace) -> Letters {
    let letter = |glyph: usize| letter(line, row, piece, glyph);
    Letters {
        width: place.width,
        x: place.at.x,
        y: -place.at.y,
        letter: letter(place.glyph),
        other: place.other.map(letter),
    }
}

/// The characters that a glyph of a row stands for.
fn letter(line: &ShapedLine, row: &Row, piece: &PieceShape, glyph: usize) -> String {
    let Some(start) = piece.glyphs.get(glyph).map(|glyph| glyph.cluster) else {
        return String::new();
    };
    let after = piece.glyphs.iter().map(|glyph| glyph.cluster).filter(|next| *next > start);
    let end = after.min().unwrap_or(row.range.end);
    line.text.get(start..end).unwrap_or_default().trim_end().to_owned()
}

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let Some(needs) = floors::needs(facts.layout) else { return Vec::new() };
    let mut found = Vec::new();
    for index in 0..facts.lines.len() {
        let thin = thin_line(facts.lines, facts.fitted, index);
        let line = Judge { facts, index };
        let stroke = line.judged(&STROKE, thin.stroke, needs.stroke);
        // A join is thinner than the strokes: it matters only where they hold.
        let join = stroke.is_none().then(|| line.judged(&JOIN, thin.join, needs.stroke)).flatten();
        found.extend(stroke);
        found.extend(join);
        found.extend(line.judged(&COUNTER, thin.counter, needs.ground));
        found.extend(line.judged(&GAP, thin.gap, needs.ground));
    }
    found
}

/// One kind of thing that may be too thin.
struct Kind {
    code: &'static str,
    /// What is thin, in words.
    what: &'static str,
    rule: &'static str,
    /// Whether letters can do without it.
    spared: bool,
}

const STROKE: Kind = Kind {
    code: "stroke-too-thin",
    what: "the thinnest stroke",
    rule: "strokes and the cutter or least land",
    spared: false,
};
const JOIN: Kind = Kind {
    code: "join-too-thin",
    what: "the thinnest join or tip of a stroke",
    rule: "joins and tips shorter than one stroke width, and the cutter or least land",
    spared: true,
};
const COUNTER: Kind = Kind {
    code: "counter-too-narrow",
    what: "the narrowest counter",
    rule: "counters and the cutter or least land",
    spared: false,
};
const GAP: Kind = Kind {
    code: "gap-too-narrow",
    what: "the narrowest gap",
    rule: "gaps between letters and the cutter or least land",
    spared: false,
};

/// A line that is judged.
struct Judge<'a> {
    facts: &'a Facts<'a>,
    index: usize,
}

impl Judge<'_> {
    fn judged(&self, kind: &Kind, letters: Option<Letters>, need: Need) -> Option<Finding> {
        let letters = letters.filter(|letters| letters.width < need.least - EQUAL_MM)?;
        let cap_height = self.facts.fitted.lines.get(self.index).map_or(0.0, |f| f.cap_height);
        let between = match &letters.other {
            Some(other) => {
                format!("between \u{201c}{}\u{201d} and \u{201c}{other}\u{201d}", letters.letter)
            }
            None => format!("in \u{201c}{}\u{201d}", letters.letter),
        };
        let least = fixed(need.least, 2);
        let wanted = match need.whose {
            Whose::Cutter => format!("the cutter makes nothing under {least} mm"),
            Whose::Layout => format!("{least} mm is the least land that the layout asks for"),
            Whose::Shop => format!("{least} mm is the least land of this shop"),
            Whose::Usual => format!("{least} mm, the width of the cut, is usual for land"),
        };
        // Rounded up, so that what is printed does it.
        let holds = (cap_height * need.least / letters.width.max(1e-9) * 100.0).ceil() / 100.0;
        let severity =
            if kind.spared || !need.binding() { Severity::Caution } else { Severity::Stop };
        Some(Finding {
            code: kind.code,
            severity,
            scope: Scope::Lettering,
            place: at_line(self.index, ""),
            message: format!(
                "Line {}: {}, {between} ({} mm from the left, {} mm from the top), is {} mm wide; \
                 {wanted}. Capitals of {} mm, not {} mm, would do.",
                self.index + 1,
                kind.what,
                fixed(letters.x, 1),
                fixed(letters.y, 1),
                fixed(letters.width, 3),
                fixed(holds, 2),
                fixed(cap_height, 2),
            ),
            measured: Some(Quantity::mm(letters.width)),
            required: Some(Quantity::mm(need.least)),
            rule: kind.rule.to_owned(),
            source: match need.whose {
                Whose::Cutter => GEOMETRY,
                Whose::Layout => LAYOUT,
                Whose::Shop => "the shop's own figure",
                Whose::Usual => COMMON,
            }
            .to_owned(),
        })
    }
}
