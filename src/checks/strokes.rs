//! Letters that the cutter cannot make at their size: strokes too thin for it, or land too
//! narrow to stand. Only where a cutter is told.

use std::sync::Arc;

use kurbo::Vec2;

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::fit::{Fitted, Row};
use crate::floors::{self, Need, Whose};
use crate::layout::Layout;
use crate::lettering::{Measure, PieceShape, SetGlyph, ShapedLine, ThinPlace, thin};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, LAYOUT, at_line};

/// Something thin, and the letters that have it.
#[derive(Debug, Clone, PartialEq)]
pub struct Letters {
    /// Its width, mm; below 0 where cuts on either side run into each other.
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
    /// The first letter whose outline is more than can be measured.
    pub unmeasured: Option<String>,
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
                cap_height: row.drawn_height(),
            })
            .collect();
        let thin = thin(&glyphs);
        // Between centre lines a cut goes off what stands there.
        let ground = |place: Option<ThinPlace>| {
            place.map(|place| ThinPlace { width: place.width - row.cut, ..place })
        };
        let piece = line.piece(row.range.clone());
        let unmeasured = thin.unmeasured.map(|glyph| letter(line, row, &piece, glyph));
        found.unmeasured = found.unmeasured.take().or(unmeasured);
        let named = |place: Option<ThinPlace>| place.map(|place| letters(line, row, &piece, place));
        for (least, place) in [
            (&mut found.stroke, named(thin.stroke)),
            (&mut found.join, named(thin.join)),
            (&mut found.counter, named(ground(thin.counter))),
            (&mut found.gap, named(ground(thin.gap))),
        ] {
            let known = least.as_ref().map_or(f64::INFINITY, |least| least.width);
            if place.as_ref().is_some_and(|place| place.width < known) {
                *least = place;
            }
        }
    }
    found
}

/// The thinnest stroke of a line as it stands on the plate, mm: what [`thin_line`] finds of
/// strokes, without looking at anything else. `None` where nothing stands or can be measured.
#[must_use]
pub fn thinnest_stroke(lines: &[ShapedLine], fitted: &Fitted, index: usize) -> Option<f64> {
    let line = lines.get(index)?;
    let rows = fitted.rows.iter().filter(|row| row.line == index);
    let widths = rows.flat_map(|row| {
        row.glyphs.iter().filter_map(|glyph| match line.face_of(glyph.face).strokes(glyph.id) {
            Measure::Widths(strokes) => Some(strokes.stroke?.width * row.drawn_height()),
            Measure::Blank | Measure::Unmeasured => None,
        })
    });
    widths.min_by(f64::total_cmp)
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

/// What of a line is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ThinKind {
    /// Its thinnest stroke.
    Stroke,
    /// Its thinnest join, or tip of a stroke.
    Join,
    /// Its narrowest counter.
    Counter,
    /// Its narrowest gap between letters.
    Gap,
}

impl ThinKind {
    /// What is thin, in words.
    #[must_use]
    pub fn what(self) -> &'static str {
        match self {
            Self::Stroke => "thinnest stroke",
            Self::Join => "thinnest join or tip of a stroke",
            Self::Counter => "narrowest counter",
            Self::Gap => "narrowest gap",
        }
    }

    /// The same in one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Stroke => "stroke",
            Self::Join => "join",
            Self::Counter => "counter",
            Self::Gap => "gap",
        }
    }

    fn code(self) -> &'static str {
        match self {
            Self::Stroke => "stroke-too-thin",
            Self::Join => "join-too-thin",
            Self::Counter => "counter-too-narrow",
            Self::Gap => "gap-too-narrow",
        }
    }

    fn rule(self) -> &'static str {
        match self {
            Self::Stroke => "strokes and the cutter or least land",
            Self::Join => {
                "joins and tips shorter than one stroke width, and the cutter or least land"
            }
            Self::Counter => "counters and the cutter or least land",
            Self::Gap => "gaps between letters and the cutter or least land",
        }
    }
}

/// Something thin in a line, and how wide it must be.
#[derive(Debug, Clone, PartialEq)]
pub struct ThinPart {
    /// Index of the line.
    pub line: usize,
    /// What it is.
    pub kind: ThinKind,
    /// Its width, place and letters.
    pub letters: Letters,
    /// How wide it must be.
    pub need: Need,
}

impl ThinPart {
    /// Whether it is as wide as it must be.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.letters.width >= self.need.least - EQUAL_MM
    }

    /// Whether nothing may be made where it does not hold: letters can do without a join,
    /// and nobody may have asked for the land.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.kind != ThinKind::Join && self.need.binding()
    }

    /// Of which letters it is: `in “e”`, `between “r” and “t”`.
    #[must_use]
    pub fn whose(&self) -> String {
        let letter = &self.letters.letter;
        match &self.letters.other {
            Some(other) => format!("between \u{201c}{letter}\u{201d} and \u{201c}{other}\u{201d}"),
            None => format!("in \u{201c}{letter}\u{201d}"),
        }
    }
}

/// What is thin in every line as it stands on the plate, against what the cutter asks: line
/// by line, of each at most one of a kind. A join is thinner than the strokes, so it is here
/// only where those hold. Empty where no cutter is told.
#[must_use]
pub fn thin_parts(layout: &Layout, lines: &[ShapedLine], fitted: &Fitted) -> Vec<ThinPart> {
    looked_at(layout, lines, fitted).0
}

/// The same, and what is said of letters that were not measured.
fn looked_at(
    layout: &Layout,
    lines: &[ShapedLine],
    fitted: &Fitted,
) -> (Vec<ThinPart>, Vec<Finding>) {
    let (mut found, mut unknown) = (Vec::new(), Vec::new());
    let Some(needs) = floors::needs(layout) else { return (found, unknown) };
    for line in 0..lines.len() {
        let thin = thin_line(lines, fitted, line);
        if let Some(letter) = &thin.unmeasured {
            unknown.push(unmeasured(line, letter));
        }
        let part = |kind, letters: Option<Letters>, need| {
            letters.map(|letters| ThinPart { line, kind, letters, need })
        };
        let stroke = part(ThinKind::Stroke, thin.stroke, needs.stroke);
        let sound = stroke.as_ref().is_none_or(ThinPart::holds);
        found.extend(stroke);
        found.extend(part(ThinKind::Join, thin.join, needs.stroke).filter(|_| sound));
        found.extend(part(ThinKind::Counter, thin.counter, needs.ground));
        found.extend(part(ThinKind::Gap, thin.gap, needs.ground));
    }
    (found, unknown)
}

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let (parts, unknown) = looked_at(facts.layout, facts.lines, facts.fitted);
    let thin = parts.iter().filter(|part| !part.holds()).map(|part| finding(facts, part));
    unknown.into_iter().chain(thin).collect()
}

/// A letter that was not measured: nothing is known of it, and that is said.
fn unmeasured(index: usize, letter: &str) -> Finding {
    Finding {
        code: "strokes-not-measured",
        severity: Severity::Caution,
        scope: Scope::Lettering,
        place: at_line(index, ""),
        message: format!(
            "Line {}: the outline of \u{201c}{letter}\u{201d} has more edges than can be measured; \
             whether the cutter can make it is not known. Look at it on the proof, enlarged, or use \
             another lettering.",
            index + 1
        ),
        measured: None,
        required: None,
        rule: "every letter is measured where a cutter is told".to_owned(),
        source: GEOMETRY.to_owned(),
    }
}

fn finding(facts: &Facts<'_>, part: &ThinPart) -> Finding {
    let ThinPart { line, kind, letters, need } = part;
    let cap_height = facts.fitted.lines.get(*line).map_or(0.0, |fitted| fitted.cap_height);
    let least = fixed(need.least, 2);
    let wanted = match need.whose {
        Whose::Cutter => format!("the cutter makes nothing under {least} mm"),
        Whose::Layout => format!("{least} mm is the least land that the layout asks for"),
        Whose::Shop => format!("{least} mm is the least land of this shop"),
        Whose::Usual => format!("{least} mm, the width of the cut, is usual for land"),
    };
    // Between centre lines a cut is added to what stands there, and to the height.
    let row = facts.fitted.rows.iter().find(|row| row.line == *line);
    let (cut, unit) = row.map_or((0.0, cap_height), |row| (row.cut, row.drawn_height()));
    let holds = unit * (need.least + cut) / (letters.width + cut).max(1e-9) + cut;
    // Rounded up, so that what is printed does it.
    let holds = (holds * 100.0).ceil() / 100.0;
    let width = letters.width.max(0.0);
    Finding {
        code: kind.code(),
        severity: if part.stops() { Severity::Stop } else { Severity::Caution },
        scope: Scope::Lettering,
        place: at_line(*line, ""),
        message: format!(
            "Line {}: the {}, {} ({} mm from the left, {} mm from the top), is {} mm wide; \
             {wanted}. Capitals of {} mm, not {} mm, would do.",
            line + 1,
            kind.what(),
            part.whose(),
            fixed(letters.x, 1),
            fixed(letters.y, 1),
            fixed(width, 3),
            fixed(holds, 2),
            fixed(cap_height, 2),
        ),
        measured: Some(Quantity::mm(width)),
        required: Some(Quantity::mm(need.least)),
        rule: kind.rule().to_owned(),
        source: match need.whose {
            Whose::Cutter => GEOMETRY,
            Whose::Layout => LAYOUT,
            Whose::Shop => "the shop's own figure",
            Whose::Usual => COMMON,
        }
        .to_owned(),
    }
}
