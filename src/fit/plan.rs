//! The fit in numbers, without glyphs: from a problem and a field to rows on their
//! baselines. The way through of this room.

use crate::layout::FitMode;
use crate::plate::{Field, Interval};

use super::bracket::{self, Bracket};
use super::choose::{breaking, eased};
use super::exact::{self, Rectangle};
use super::fewest::arrangement;
use super::full;
use super::lists::Rows;
use super::misfit::under_floors;
use super::pieces::{Pieces, pieces};
use super::problem::{LineProblem, Problem};
use super::settle::{Chosen, settled};
use super::stack::{Site, stretch};

/// Places at which the widest stretch for a row is sought where a last resort is decided.
const WIDEST_PLACES: u16 = 200;

/// Steps in which a scale above the eased one is sought that keeps the reading wishes.
const WISH_STEPS: u8 = 32;

/// A row of the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlannedRow {
    /// Index of its line.
    pub line: usize,
    /// Stop at which its piece begins.
    pub from: usize,
    /// Stop at which it ends.
    pub to: usize,
    /// Cap height, mm.
    pub height: f64,
    /// Baseline, mm from the plate's top.
    pub baseline: f64,
    /// The stretch that it was given.
    pub stretch: Interval,
}

/// The fit in numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Largest scale known to fit: in a rectangle the limit itself, elsewhere the lower
    /// end of its bracket; `None` where nothing fits at the floors.
    pub low: Option<f64>,
    /// No larger scale fits; `None` where nothing fits at the floors.
    pub high: Option<f64>,
    /// Scale used; 0 where nothing fits at the floors.
    pub scale: f64,
    /// 1, or the share of their floors that all lines were given; 0 without room.
    pub phi: f64,
    /// Cap heights of the lines, mm.
    pub heights: Vec<f64>,
    /// Share of what they may that the gaps took of spare height, 0 to 1.
    pub spread: f64,
    /// Rows, top to bottom; empty without room.
    pub rows: Vec<PlannedRow>,
}

/// Breaks, sizes and places the lines of a problem in a field.
///
/// Lines are scaled together, each between floor and ceiling, to `ease` of the limit;
/// among the breakings feasible there the one with fewest rows, then least sense cost,
/// then least raggedness, then later breaks is taken. What does not fit at the floors
/// is set below them by one share `phi`. No lines, an empty field or a field without
/// room even then give a plan without rows.
#[must_use]
pub fn plan(problem: &Problem, field: &Field) -> Plan {
    let found = Asked::of(problem, field).and_then(|asked| {
        let site = asked.site(problem, field);
        keeping(&site).or_else(|| below(&site))
    });
    found.unwrap_or_else(|| no_room(problem))
}

/// The same, if every line keeps its floor.
pub(super) fn plan_that_keeps(problem: &Problem, field: &Field) -> Option<Plan> {
    let asked = Asked::of(problem, field)?;
    keeping(&asked.site(problem, field))
}

/// What all searches of a plan look at.
struct Asked {
    pieces: Vec<Pieces>,
    bounds: [f64; 4],
    rectangle: Option<Rectangle>,
    axis: Vec<(f64, f64)>,
}

impl Asked {
    /// `None` where there is nothing to place, or nowhere.
    fn of(problem: &Problem, field: &Field) -> Option<Self> {
        let bounds = field.bounds().filter(|_| !problem.lines.is_empty())?;
        let rectangle = field.rectangle().map(|sides| Rectangle::new(sides, field.axis_x));
        let pieces = pieces(problem, |line, height| match &rectangle {
            Some(room) => room.width(line),
            None => widest(field, bounds, line, height),
        });
        // Nothing is searched for in a rectangle.
        let axis = if rectangle.is_some() { Vec::new() } else { field.axis_free() };
        Some(Self { pieces, bounds, rectangle, axis })
    }

    fn site<'a>(&'a self, problem: &'a Problem, field: &'a Field) -> Site<'a> {
        let Self { pieces, bounds, rectangle, axis } = self;
        Site { problem, pieces, field, bounds: *bounds, rectangle: *rectangle, axis }
    }
}

/// The plan in which every line keeps its floor.
fn keeping(site: &Site<'_>) -> Option<Plan> {
    let full = (site.problem.mode == FitMode::Full).then(|| full::full(site, limit));
    let site = Site { problem: full.as_ref().unwrap_or(site.problem), ..*site };
    let bracket = limit(&site)?;
    let (scale, top) = scale_in_use(&site, bracket)?;
    let plan = set(&site, scale, top)?;
    Some(Plan { low: Some(bracket.low), high: Some(bracket.high), scale, ..plan })
}

/// The plan with all lines below their floors.
fn below(site: &Site<'_>) -> Option<Plan> {
    let small = under_floors(site.problem);
    let site = Site { problem: &small, ..*site };
    let bracket = limit(&site)?;
    let plan = set(&site, bracket.low, bracket.top)?;
    Some(Plan { phi: bracket.low, ..plan })
}

/// The limit, exact or bracketed.
fn limit(site: &Site<'_>) -> Option<Bracket> {
    if let Some(room) = &site.rectangle {
        let limit = exact::limit(site.problem, site.pieces, room)?;
        return Some(Bracket { low: limit, high: limit, top: site.bounds[1] });
    }
    bracket::limit(site)
}

/// The eased scale, or the largest feasible one below it, with a top edge at which the
/// block stands; never so low that a line loses a reading wish that it could keep.
fn scale_in_use(site: &Site<'_>, bracket: Bracket) -> Option<(f64, f64)> {
    let wanted = eased(site.problem, bracket.low);
    if site.rectangle.is_some() {
        return Some((wanted, bracket.top));
    }
    let at = |scale: f64| bracket::between(site, scale, scale).map(|found| (scale, found.top));
    if let Some(found) = at(wanted) {
        return Some(found);
    }
    if wanted > site.problem.ease * bracket.low {
        // A wish lifted it: the smallest feasible scale from there up.
        let step = (bracket.low - wanted) / f64::from(WISH_STEPS);
        let found = (1..WISH_STEPS).find_map(|count| at(wanted + step * f64::from(count)));
        return found.or(Some((bracket.low, bracket.top)));
    }
    let start = site.problem.domain_start().min(wanted);
    bracket::between(site, start, wanted).map(|found| (found.low, found.top))
}

/// The breaking chosen at a scale, placed.
fn set(site: &Site<'_>, scale: f64, known: f64) -> Option<Plan> {
    let Site { problem, pieces, .. } = *site;
    let heights = problem.heights(scale);
    let middle = site.field.centre_y();
    let (rooms, known) = if let Some(room) = &site.rectangle {
        let counts = exact::fewest_rows(problem, pieces, room, &heights)?;
        let mut rooms = Rows::new();
        for (line, count) in problem.lines.iter().zip(counts) {
            (0..count).for_each(|_| rooms.push(room.width(line)));
            rooms.end_line();
        }
        (rooms, known)
    } else {
        let found = arrangement(site, scale, middle, known)?;
        (found.rooms, found.top)
    };
    let ends = breaking(problem, pieces, &heights, &rooms)?;
    let chosen = Chosen { site, heights: &heights, ends: &ends, counts: &ends.counts(), middle };
    let (rows, spread) = settled(&chosen, known)?;
    let heights = heights.to_vec();
    Some(Plan { low: None, high: None, scale: 0.0, phi: 1.0, heights, spread, rows })
}

/// The plan where no letter has room: lines at their floors, no rows.
fn no_room(problem: &Problem) -> Plan {
    Plan {
        low: None,
        high: None,
        scale: 0.0,
        phi: 0.0,
        heights: problem.lines.iter().map(LineProblem::low).collect(),
        spread: 0.0,
        rows: Vec::new(),
    }
}

/// The greatest width that the field has for a row of a line at a cap height, mm: the widest
/// of evenly spread places and the middle.
fn widest(field: &Field, bounds: [f64; 4], line: &LineProblem, height: f64) -> f64 {
    let [_, top, _, bottom] = bounds;
    let tall = line.above(height) + line.below(height);
    let spare = bottom - top - tall;
    if spare < 0.0 {
        return 0.0;
    }
    let middle = field.centre_y();
    let places = (0..=WIDEST_PLACES)
        .map(|step| top + spare * f64::from(step) / f64::from(WIDEST_PLACES))
        .chain([middle - tall / 2.0]);
    places
        .filter_map(|at| stretch(field, line.align, at, at + tall))
        .map(|stretch| stretch.right - stretch.left)
        .fold(0.0, f64::max)
}
