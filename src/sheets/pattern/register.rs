//! Register marks on the cuts: crossed circles, lettered, at the same places on both
//! neighbours. The cut runs through their middles, so that the halves meet.

use kurbo::{Point, Rect};

use crate::drawing::{Ends, LineType, Path, Stroke};
use crate::sheets::block::{Block, Layer, circle, line_of, straight};
use crate::sheets::heading::BENCH;
use crate::sheets::text::{BLACK, Labels, SetRow};

use super::tiles::{Grid, OVERLAP};

/// Radius of the circle, mm.
const RADIUS: f64 = 2.0;
/// How far the arms of the cross reach, mm.
const ARM: f64 = 3.0;
/// From the middle to the letters above and below a cut that runs across, mm.
const TO_LETTER: f64 = 3.3;
/// From a cut that runs up and down to the letters beside it, mm.
const BESIDE_CUT: f64 = 0.8;
/// Width of its lines, mm.
const LINE: f64 = 0.18;
/// From the ends of a cut to its marks where nothing is in the way, mm.
const FROM_ENDS: f64 = 15.0;
/// Steps in which a free place is looked for, mm.
const STEP: f64 = 1.0;
/// Width of a cut's line: wide, as ISO 128 draws cutting planes (04.2).
const CUT_WIDTH: f64 = 0.35;
/// White between a cut's line and the words along it, mm.
const BESIDE: f64 = 1.0;

/// A stretch of a cut between two neighbours.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Joint {
    /// The tile that is laid down first.
    pub(super) under: usize,
    /// The tile that is cut and laid over it.
    pub(super) over: usize,
    /// Whether the cut runs up and down.
    pub(super) upright: bool,
    /// Place of the cut, mm on the canvas.
    at: f64,
    /// Ends of the stretch, mm on the canvas.
    from: f64,
    to: f64,
    /// Places along it of the two marks, with their letters.
    pub(super) marks: Vec<(f64, String)>,
}

/// `A` to `Z`, then `AA`, `AB` …: without I, O and Q, which look like figures, and without
/// M and W, which are too wide for their place.
fn letters(mut index: usize) -> String {
    const ALL: &[u8; 21] = b"ABCDEFGHJKLNPRSTUVXYZ";
    let mut text = String::new();
    loop {
        text.insert(0, char::from(ALL.get(index % ALL.len()).copied().unwrap_or(b'A')));
        index /= ALL.len();
        if index == 0 {
            return text;
        }
        index -= 1;
    }
}

/// What stands in the way of marks, mm on the canvas.
pub(super) struct Taken {
    /// Figures and holes: no mark stands there.
    pub(super) never: Vec<Rect>,
    /// Lines: a mark stands there where there is no other place.
    pub(super) rather_not: Vec<Rect>,
}

/// All joints of a grid, row by row. A mark that finds no place is left out.
pub(super) fn joints(grid: &Grid, taken: &Taken) -> Vec<Joint> {
    let mut all: Vec<Joint> = Vec::new();
    let mut count = 0;
    for over in 0..grid.count() {
        let (column, row) = grid.place(over);
        let core = grid.core(over);
        let left = column.checked_sub(1).map(|left| (grid.tile(left, row), true));
        let above = row.checked_sub(1).map(|above| (grid.tile(column, above), false));
        for (under, upright) in [left, above].into_iter().flatten() {
            let (at, from, to) =
                if upright { (core.x0, core.y0, core.y1) } else { (core.y0, core.x0, core.x1) };
            let mut joint = Joint { under, over, upright, at, from, to, marks: Vec::new() };
            let end = FROM_ENDS.min((to - from) / 4.0);
            for (wish, sense) in [(from + end, 1.0), (to - end, -1.0)] {
                if let Some(place) = joint.free(wish, sense, taken) {
                    joint.marks.push((place, letters(count)));
                    count += 1;
                }
            }
            all.push(joint);
        }
    }
    all
}

impl Joint {
    fn point(&self, along: f64) -> Point {
        if self.upright { Point::new(self.at, along) } else { Point::new(along, self.at) }
    }

    /// What a mark takes with its letters.
    fn mark_box(&self, along: f64) -> Rect {
        let at = self.point(along);
        let half = OVERLAP / 2.0;
        if self.upright {
            Rect::new(at.x - half, at.y - ARM - 1.0 - BENCH.body, at.x + half, at.y + ARM)
        } else {
            let wide = ARM.max(BENCH.body);
            Rect::new(at.x - wide, at.y - half, at.x + wide, at.y + half)
        }
    }

    /// The first place from a wish on, to the other end of the cut, where a mark meets
    /// nothing; else the first where it meets lines alone.
    fn free(&self, wish: f64, sense: f64, taken: &Taken) -> Option<f64> {
        let end = ((self.to - self.from) / 4.0).min(FROM_ENDS);
        let most = self.to - self.from - 2.0 * end;
        let clear = |place: f64, others: &[Rect]| {
            let box_ = self.mark_box(place).inflate(0.5, 0.5);
            others.iter().all(|other| other.intersect(box_).is_zero_area())
        };
        let own: Vec<Rect> = self.marks.iter().map(|mark| self.mark_box(mark.0)).collect();
        let mut second = None;
        let mut step = 0.0;
        while step <= most {
            let place = wish + sense * step;
            if clear(place, &taken.never) && clear(place, &own) {
                if clear(place, &taken.rather_not) {
                    return Some(place);
                }
                second = second.or(Some(place));
            }
            step += STEP;
        }
        second
    }

    /// The cut's line and marks as far as a tile shows them, canvas moved by `shift`.
    /// Words stand along the line on the side that the tile gives up, where there is
    /// room that nothing has taken.
    pub(super) fn draw(
        &self,
        block: &mut Block,
        labels: &Labels,
        tile: usize,
        (shown, shift): (Rect, (f64, f64)),
        taken: &[Rect],
    ) {
        let (from, to) = if self.upright { (shown.y0, shown.y1) } else { (shown.x0, shown.x1) };
        let place = |along: f64| {
            let at = self.point(along);
            (at.x + shift.0, at.y + shift.1)
        };
        let line_type = LineType::LongDashedDotted;
        let stroke = Stroke { width: CUT_WIDTH, line_type, ends: Ends::Square, colour: BLACK };
        block.push(Layer::Frame, Path::stroked(straight(place(from), place(to)), stroke));
        for (along, letter) in &self.marks {
            let row = labels.set(letter, BENCH.strong(), None);
            draw_mark(block, place(*along), &row, self.upright);
        }
        let words = if tile == self.over {
            "cut along this line".to_owned()
        } else {
            format!("tile {} is laid to this line", self.over + 1)
        };
        self.words(block, &labels.set(&words, BENCH.text(), None), tile, shift, taken);
    }

    fn words(
        &self,
        block: &mut Block,
        row: &SetRow,
        tile: usize,
        shift: (f64, f64),
        taken: &[Rect],
    ) {
        // Given up: before the line on the tile that is cut, behind it on the other.
        let before = tile == self.over;
        let cap = BENCH.body;
        let off = if before { -BESIDE - row.below } else { BESIDE + row.above };
        let marks = self.marks.iter().map(|mark| self.mark_box(mark.0));
        let taken: Vec<Rect> = taken.iter().copied().chain(marks).collect();
        let mut start = self.from + 2.0;
        while start + row.width < self.to - 2.0 {
            let (x, y) = if self.upright {
                (self.at + off, start + row.width)
            } else {
                (start, self.at + off)
            };
            let box_ = if self.upright {
                Rect::new(x - cap, y - row.width, x + row.below, y)
            } else {
                Rect::new(x, y - cap, x + row.width, y + row.below)
            };
            let grown = box_.inflate(1.6, 1.6);
            if taken.iter().all(|other| other.intersect(grown).is_zero_area()) {
                if self.upright {
                    block.upright(Layer::Labels, row, x + shift.0, y + shift.1);
                } else {
                    block.text(Layer::Labels, row, x + shift.0, y + shift.1);
                }
                return;
            }
            start += STEP;
        }
    }
}

/// The crossed circle, its letter on both sides of the cut.
fn draw_mark(block: &mut Block, (x, y): (f64, f64), row: &SetRow, upright: bool) {
    block.push(Layer::Frame, Path::stroked(circle(x, y, RADIUS), line_of(LINE)));
    for (dx, dy) in [(ARM, 0.0), (0.0, ARM)] {
        let path = straight((x - dx, y - dy), (x + dx, y + dy));
        block.push(Layer::Frame, Path::stroked(path, line_of(LINE)));
    }
    let cap = BENCH.body;
    let places = if upright {
        let baseline = y - ARM - 0.5;
        [(x - BESIDE_CUT - row.width, baseline), (x + BESIDE_CUT, baseline)]
    } else {
        let left = x - row.width / 2.0;
        [(left, y - TO_LETTER), (left, y + TO_LETTER + cap)]
    };
    for (left, baseline) in places {
        block.text(Layer::Labels, row, left, baseline);
    }
}

#[cfg(test)]
mod tests {
    use super::letters;

    #[test]
    fn letters_go_on_after_z() {
        let some: Vec<String> = [0, 1, 8, 20, 21, 22, 41, 42, 461, 462].map(letters).to_vec();
        assert_eq!(some, ["A", "B", "J", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA"]);
    }
}
