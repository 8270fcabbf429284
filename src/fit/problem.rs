//! The fit's own view of a plaque: numbers only, so that a brute force can
//! state the same problem.

use std::sync::Arc;

use super::lists::{ByLine, listed};
use crate::floors::Floor;
use crate::layout::{Align, Breaks, FitMode, Layout, Line};
use crate::lettering::{ShapedLine, Widths};
use crate::plate::Field;
use crate::wording::Marks;

/// Ceiling where the user gave none, as a share of the field's height; common
/// practice, no source.
const CEILING_SHARE: f64 = 0.2;

/// Leading of a line in capitals and figures, in cap heights; common practice, no source.
const LEADING_CAPITALS: f64 = 1.45;

/// Leading of a line in mixed case; common practice, no source.
const LEADING_MIXED: f64 = 1.65;

/// One line as numbers. Heights in mm, widths and whites in cap heights.
#[derive(Debug, Clone, PartialEq)]
pub struct LineProblem {
    /// Relative size `r`, above 0.
    pub ratio: f64,
    /// Least cap height.
    pub floor: f64,
    /// Greatest cap height; where below the floor it is used instead of it.
    pub ceiling: f64,
    /// Reading wish, where the line has one.
    pub wish: Option<f64>,
    /// Rise `A`.
    pub rise: f64,
    /// Depth `D`.
    pub depth: f64,
    /// Leading λ.
    pub leading: f64,
    /// White asked above the line.
    pub space: f64,
    /// Alignment.
    pub align: Align,
    /// Whether it may break.
    pub breaks: Breaks,
    /// Stops at which the user broke the line.
    pub forced: Arc<[bool]>,
    /// Sense cost at each stop.
    pub costs: Arc<[u32]>,
    /// Ink widths of pieces between stops.
    pub widths: Widths,
    /// Whether it holds a drawing instead of letters; its height counts for no white.
    pub drawn: bool,
    /// Width of the cut along centre lines, mm; 0 for letters that are filled outlines.
    ///
    /// Rise, depth and widths of a single-stroke line are in cap heights of its centre
    /// lines, which are lower than its capitals by the cut (ISO 3098 measures the height of
    /// lettering over the strokes): in mm they are affine in the cap height.
    pub cut: f64,
}

impl LineProblem {
    /// What a measure in cap heights is multiplied by at a cap height, mm: the height of the
    /// centre lines, or of filled letters.
    pub(super) fn unit(&self, height: f64) -> f64 {
        (height - self.cut).max(0.0)
    }

    /// Ink width in mm, at a cap height, of a piece so wide in cap heights.
    pub(super) fn wide(&self, width: f64, height: f64) -> f64 {
        width * self.unit(height) + self.cut
    }

    /// Greatest height of ink above the baseline at a cap height, mm.
    pub(super) fn above(&self, height: f64) -> f64 {
        self.rise * self.unit(height) + self.cut
    }

    /// What of that stands above the capitals, mm.
    pub(super) fn over_capitals(&self, height: f64) -> f64 {
        (self.rise - 1.0) * self.unit(height)
    }

    /// Greatest depth of ink below the baseline at a cap height, mm: capitals stand on it
    /// with their strokes, whatever these are.
    pub(super) fn below(&self, height: f64) -> f64 {
        self.depth * self.unit(height)
    }

    /// The cap height at which a piece so wide in cap heights is so wide in mm.
    pub(super) fn height_of(&self, width: f64, mm: f64) -> f64 {
        (mm - self.cut) / width + self.cut
    }

    /// Least cap height that the line is given: its floor, or a ceiling below it.
    pub(super) fn low(&self) -> f64 {
        self.floor.min(self.ceiling)
    }

    /// Cap height at a scale: `clamp(r·s, f, c)`.
    pub(super) fn height(&self, scale: f64) -> f64 {
        (self.ratio * scale).max(self.low()).min(self.ceiling)
    }
}

/// The whole problem but for the field.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Lines, top to bottom.
    pub lines: Vec<LineProblem>,
    /// How heights are chosen; a line whose height is stated has it as floor and ceiling.
    pub mode: FitMode,
    /// Share of the limit that is used.
    pub ease: f64,
}

impl Problem {
    /// Scale above which no line grows.
    pub(super) fn domain_end(&self) -> f64 {
        self.lines.iter().map(|line| line.ceiling / line.ratio).fold(0.0, f64::max)
    }

    /// Scale below which no line shrinks.
    pub(super) fn domain_start(&self) -> f64 {
        let starts = self.lines.iter().map(|line| line.low() / line.ratio);
        starts.fold(f64::INFINITY, f64::min).min(self.domain_end())
    }

    /// Cap heights of all lines at a scale, mm.
    pub(super) fn heights(&self, scale: f64) -> ByLine<f64> {
        listed(self.lines.len(), |line| self.lines[line].height(scale))
    }
}

/// States the problem of a layout. The lists run along the layout's lines; the field's
/// height gives the ceiling where the user gave none.
#[must_use]
pub fn problem(
    layout: &Layout,
    lines: &[ShapedLine],
    marks: &[Marks],
    floors: &[Floor],
    field: &Field,
) -> Problem {
    let field_height = field.bounds().map_or(0.0, |[_, top, _, bottom]| bottom - top);
    let asked = layout.lines.iter().zip(lines).zip(marks.iter().zip(floors));
    let lines = asked.map(|((line, shaped), (marks, floor))| {
        let (floor_mm, ceiling) = bounds(layout.fit.mode, line, floor, field_height);
        let leading = if shaped.all_capitals { LEADING_CAPITALS } else { LEADING_MIXED };
        LineProblem {
            ratio: line.size,
            floor: floor_mm,
            ceiling,
            wish: floor.wish,
            rise: shaped.rise,
            depth: shaped.depth,
            leading: line.leading.unwrap_or(leading),
            space: line.space,
            align: line.align,
            breaks: line.breaks,
            forced: Arc::clone(&marks.forced),
            costs: Arc::clone(&marks.costs),
            widths: shaped.widths.clone(),
            drawn: shaped.ornament.is_some(),
            cut: if shaped.single_stroke() { layout.cut_width() } else { 0.0 },
        }
    });
    Problem { lines: lines.collect(), mode: layout.fit.mode, ease: layout.fit.ease }
}

/// Floor and ceiling for the fit, mm. A stated height is both; in `fixed` a line
/// without one stands at its floor.
fn bounds(mode: FitMode, line: &Line, floor: &Floor, field_height: f64) -> (f64, f64) {
    if let Some(stated) = line.cap_height {
        return (stated, stated);
    }
    match mode {
        FitMode::Fixed => (floor.floor, floor.floor),
        FitMode::Even | FitMode::Full => {
            (floor.floor, floor.ceiling.unwrap_or(field_height * CEILING_SHARE))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::bounds;
    use crate::fit::testing::{line as numbers, problem};
    use crate::floors::{Floor, FloorFrom};
    use crate::layout::{Align, Breaks, FitMode, Hyphens, LetteringChoice, Line, Setting};

    fn asked(cap_height: Option<f64>) -> Line {
        Line {
            text: "Vale".to_owned(),
            ornament: None,
            size: 1.0,
            cap_height,
            at_least: None,
            at_most: None,
            lettering: LetteringChoice::shipped(String::new()),
            features: Vec::new(),
            setting: Setting::default(),
            align: Align::Centre,
            space: 0.35,
            leading: None,
            breaks: Breaks::Never,
            hyphens: Hyphens::Never,
            keep: Vec::new(),
        }
    }

    fn floor(ceiling: Option<f64>) -> Floor {
        Floor {
            floor: 2.0,
            floor_from: FloorFrom::Process,
            process: 2.0,
            shop_figure: false,
            wish: None,
            preferred: None,
            ceiling,
        }
    }

    #[test]
    fn a_stated_height_is_floor_and_ceiling_for_the_fit() {
        assert_eq!(bounds(FitMode::Even, &asked(Some(1.5)), &floor(None), 50.0), (1.5, 1.5));
    }

    #[test]
    fn the_ceiling_is_a_fifth_of_the_fields_height_unless_set() {
        assert_eq!(bounds(FitMode::Even, &asked(None), &floor(None), 50.0), (2.0, 10.0));
        assert_eq!(bounds(FitMode::Even, &asked(None), &floor(Some(6.0)), 50.0), (2.0, 6.0));
        assert_eq!(bounds(FitMode::Fixed, &asked(None), &floor(Some(6.0)), 50.0), (2.0, 2.0));
    }

    #[test]
    fn a_ceiling_below_the_floor_is_used() {
        let mut low = numbers(2.0, &[1.0]);
        (low.floor, low.ceiling) = (3.0, 2.5);
        assert!((low.height(0.1) - 2.5).abs() < 1e-12);
        assert!((problem(vec![low]).domain_end() - 1.25).abs() < 1e-12);
    }
}
