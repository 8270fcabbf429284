//! What is thin in one glyph, told apart: strokes, joins and tips, counters.
//!
//! - **Stroke**: the least width that ink keeps to for at least as far as it is wide. What
//!   is thin for less is a join, such as the neck between the arms of a K.
//! - **Tip**: ink thinner than the glyph's usual stroke within one such stroke of its end,
//!   such as a serif's. So a taper has a width, whatever angle it has: that of the place
//!   one stroke from its end.
//! - **Counter**: ground between walls of one part that shuts in more than a taper: the
//!   stretch of outline behind it must hold at least a third of what its length times the
//!   width is, as a square notch does; a wedge holds a quarter, however sharp. The blunt end
//!   of a wedge, as in a bold M, is none either: an open notch counts from one usual stroke
//!   in from its end. Where a
//!   closed counter has no such place, it is as wide as the largest ball in it. Between the
//!   parts of a glyph, such as an i and its dot, it is their distance.

use kurbo::{Affine, BezPath};

use super::ball::{Facing, Medium, Sample, corners, largest_near, samples};
use super::gap::between_parts;
use super::walls::Walls;
use super::{Narrow, narrower};
use crate::lettering::united;

/// Most segments of an outline that is measured: letters have some dozens, and its overlaps
/// are taken out before its edges can be counted.
const MOST_SEGMENTS: usize = 20_000;

/// How far united curves may leave the font's, cap heights: far below what the measure sees.
pub(super) const UNITED: f64 = 1e-6;

/// Ink at least this share of the usual stroke is not thin, however near its end: the
/// end of an even stroke is no tip. The share is the tolerance of the ball.
const USUAL: f64 = 0.98;

/// Share of the ink that is no thicker than the usual stroke. Own choice: three quarters, so
/// that a serif or two do not make the usual stroke of a letter.
const USUAL_SHARE: f64 = 0.75;

/// The share of length times width that ground must hold to be a counter: a square notch
/// has sides of 3 widths and an area of 1.
const NOTCH: f64 = 1.0 / 3.0;

/// What is thin in a glyph. Widths in cap heights.
#[derive(Debug, Clone, Default)]
pub struct GlyphStrokes {
    /// Thinnest stroke; `None` for a glyph without ink.
    pub stroke: Option<Narrow>,
    /// Thinnest join or tip, where that is thinner than the stroke.
    pub join: Option<Narrow>,
    /// Narrowest counter, where it has one.
    pub counter: Option<Narrow>,
    /// The stroke that three quarters of the ink are no thicker than; 0 where none is.
    pub(super) usual: f64,
    /// Width that centre lines were given to be measured, which is no part of what stands
    /// between them; 0 for outlines.
    pub(super) thread: f64,
    /// The outline in straight edges, for gaps to other glyphs.
    pub(super) walls: Walls,
}

/// Measures a united outline (see `united`) in cap heights; one that is empty has nothing in
/// it. `None` for one that is not finite, or has more edges or is larger than any letter.
pub(in crate::lettering) fn measured(path: &BezPath) -> Option<GlyphStrokes> {
    let walls = Walls::of(path)?;
    let ink = samples(&walls, Medium::Ink);
    let usual = usual(&ink);
    let (stroke, join) = strokes(&walls, &ink, usual);
    let usual = usual.unwrap_or(0.0);
    let all = enclosed(&walls, usual, |_| true, |_| true);
    let counter = narrower(between_parts(&walls), all);
    Some(GlyphStrokes { stroke, join, counter, usual, thread: 0.0, walls })
}

/// Measures only what stands between strokes that all are so wide, with round ends: a united
/// outline of them, all in cap heights. Ends make corners blunt, in closed counters too: a
/// place of these counts from two strokes in from its ends. `None` as for [`measured`].
pub(super) fn measured_between(path: &BezPath, width: f64) -> Option<GlyphStrokes> {
    let walls = Walls::of(path)?;
    let deep =
        |facing: &Facing| caps(&walls, Medium::Ground, facing).all(|(arc, _)| arc > 2.0 * width);
    let counter = narrower(between_parts(&walls), enclosed(&walls, width, deep, |_| true));
    Some(GlyphStrokes { counter, usual: width, thread: width, walls, ..GlyphStrokes::default() })
}

/// Measures an outline in em of a face whose capitals are so high, em. `None` as for
/// [`measured`].
pub(in crate::lettering) fn of_outline(path: &BezPath, cap_em: f64) -> Option<GlyphStrokes> {
    in_caps(path, cap_em).and_then(|path| measured(&united(&path, UNITED)))
}

/// A path of em in cap heights; `None` where it is longer than any letter's.
pub(super) fn in_caps(path: &BezPath, cap_em: f64) -> Option<BezPath> {
    let sound = cap_em.is_finite() && cap_em > 0.0 && path.elements().len() <= MOST_SEGMENTS;
    sound.then(|| Affine::scale(cap_em.recip()) * path.clone())
}

/// Thinnest stroke, and thinnest join or tip.
fn strokes(walls: &Walls, ink: &[Sample], usual: Option<f64>) -> (Option<Narrow>, Option<Narrow>) {
    let tip = |facing: &Facing| {
        usual.is_some_and(|usual| {
            facing.width < USUAL * usual
                && caps(walls, Medium::Ink, facing).any(|cap| cap.0 <= 2.0 * usual + facing.width)
        })
    };
    let sound: Vec<Option<Facing>> =
        ink.iter().map(|sample| sample.facing.filter(|facing| !tip(facing))).collect();
    let mut stroke = None;
    for (part, _) in walls.contours.iter().enumerate().filter(|(at, c)| c.part == *at) {
        let of_part = |contour: usize| walls.contours.get(contour).is_some_and(|c| c.part == part);
        let thinnest = lasting(ink, &sound, of_part);
        // A dot, or a part that tapers throughout, is as thick as the ball in it.
        stroke = narrower(stroke, thinnest.or_else(|| largest(walls, Medium::Ink, ink, of_part)));
    }
    let all = ink.iter().filter_map(|sample| sample.facing).chain(corners(walls, Medium::Ink));
    let join =
        all.map(|facing| narrow(&facing)).fold(None, |least, one| narrower(least, Some(one)));
    let thinner = |join: &Narrow| stroke.is_none_or(|stroke| join.width < USUAL * stroke.width);
    let join = join.filter(thinner);
    (stroke, join)
}

fn narrow(facing: &Facing) -> Narrow {
    Narrow { width: facing.width, at: facing.at }
}

/// The width that three quarters of the ink are no thicker than, by length of edge: the
/// stem's, in letters with thin and thick strokes.
fn usual(ink: &[Sample]) -> Option<f64> {
    let mut widths: Vec<(f64, f64)> =
        ink.iter().filter_map(|sample| Some((sample.facing?.width, sample.length))).collect();
    widths.sort_by(|a, b| a.0.total_cmp(&b.0));
    let most = widths.iter().map(|(_, length)| length).sum::<f64>() * USUAL_SHARE;
    let mut sum = 0.0;
    widths
        .into_iter()
        .find(|(_, length)| {
            sum += length;
            sum >= most
        })
        .map(|(width, _)| width)
}

/// Length and area of what lies behind a facing on either side, where that is of the
/// medium; nothing for walls of two contours.
fn caps<'w>(
    walls: &'w Walls,
    medium: Medium,
    facing: &Facing,
) -> impl Iterator<Item = (f64, f64)> + use<'w> {
    let (here, there) = (facing.here, facing.there);
    let both = [walls.cap(here, there), walls.cap(there, here)];
    let of_medium = both.into_iter().flatten().map(move |cap| (cap.arc, cap.area * medium.sign()));
    of_medium.filter(|(_, area)| *area > 0.0)
}

/// The least width that some run of places keeps to for at least as far as it is wide.
/// Places are taken up from the narrowest on; neighbours taken up join to runs.
fn lasting(
    ink: &[Sample],
    sound: &[Option<Facing>],
    of_part: impl Fn(usize) -> bool,
) -> Option<Narrow> {
    let widths = |at: usize| sound.get(at).copied().flatten();
    let mut order: Vec<(usize, Facing)> = ink
        .iter()
        .enumerate()
        .filter(|(_, sample)| of_part(sample.contour))
        .filter_map(|(at, _)| Some((at, widths(at)?)))
        .collect();
    order.sort_by(|a, b| a.1.width.total_cmp(&b.1.width).then(a.0.cmp(&b.0)));
    let mut runs = Runs::new(ink);
    for (at, facing) in order {
        if runs.take(at) >= facing.width {
            return Some(narrow(&facing));
        }
    }
    None
}

/// A run of places taken up.
#[derive(Debug, Clone, Copy)]
struct Run {
    first: usize,
    last: usize,
    length: f64,
}

/// Runs, found at their first and last place.
struct Runs<'a> {
    ink: &'a [Sample],
    ends: Vec<Option<Run>>,
    /// First place of the contour and the end of its places, by place.
    contours: Vec<(usize, usize)>,
}

impl<'a> Runs<'a> {
    fn new(ink: &'a [Sample]) -> Self {
        let mut contours = Vec::with_capacity(ink.len());
        for group in ink.chunk_by(|a, b| a.contour == b.contour) {
            let first = contours.len();
            contours.extend(std::iter::repeat_n((first, first + group.len()), group.len()));
        }
        Self { ink, ends: vec![None; ink.len()], contours }
    }

    /// The place before or after on the same contour.
    fn beside(&self, at: usize, forward: bool) -> Option<usize> {
        let (first, end) = *self.contours.get(at)?;
        Some(match forward {
            true if at + 1 == end => first,
            true => at + 1,
            false if at == first => end - 1,
            false => at - 1,
        })
    }

    fn end(&self, at: Option<usize>) -> Option<Run> {
        self.ends.get(at?).copied().flatten()
    }

    /// Takes up a place that was not; the length of the run that it is then in.
    fn take(&mut self, at: usize) -> f64 {
        let length = self.ink.get(at).map_or(0.0, |sample| sample.length);
        let before = self.end(self.beside(at, false));
        let after = self.end(self.beside(at, true));
        let mut run = Run { first: at, last: at, length };
        if let Some(before) = before {
            run = Run { first: before.first, length: run.length + before.length, ..run };
        }
        // Round a whole contour both are one run.
        if let Some(after) = after.filter(|after| before.is_none_or(|b| b.first != after.first)) {
            run = Run { last: after.last, length: run.length + after.length, ..run };
        }
        for end in [run.first, run.last, at] {
            if let Some(place) = self.ends.get_mut(end) {
                *place = Some(run);
            }
        }
        run.length
    }
}

/// The largest ball that touches some contours.
fn largest(
    walls: &Walls,
    medium: Medium,
    samples: &[Sample],
    of: impl Fn(usize) -> bool,
) -> Option<Narrow> {
    let (sample, _) = samples
        .iter()
        .filter(|sample| of(sample.contour))
        .filter_map(|sample| Some((sample, sample.ball?.0)))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let (radius, at) = largest_near(walls, medium, sample)?;
    Some(Narrow { width: 2.0 * radius, at })
}

/// Narrowest ground that an outline whose usual stroke is so wide shuts in: of all facings
/// those that count, and of all closed contours those that do.
pub(super) fn enclosed(
    walls: &Walls,
    usual: f64,
    counts: impl Fn(&Facing) -> bool,
    closed_counts: impl Fn(usize) -> bool,
) -> Option<Narrow> {
    let ground = samples(walls, Medium::Ground);
    let contour = |facing: &Facing| {
        let of = |edge: usize| walls.edges.get(edge).map(|edge| edge.contour);
        of(facing.here.edge).filter(|here| of(facing.there.edge) == Some(*here))
    };
    let closed = |facing: &Facing| contour(facing).is_some_and(|at| walls.contours[at].area < 0.0);
    let opens = |facing: &Facing| {
        let deep = if closed(facing) { 0.0 } else { 2.0 * usual + facing.width };
        let mut behind = caps(walls, Medium::Ground, facing).peekable();
        behind.peek().is_some()
            && behind.all(|(arc, area)| arc > deep && area > NOTCH * arc * facing.width)
    };
    let facings = ground.iter().filter_map(|sample| sample.facing);
    let counters: Vec<(usize, Narrow)> = facings
        .chain(corners(walls, Medium::Ground))
        .filter_map(|facing| Some((contour(&facing)?, facing)))
        .filter(|(_, facing)| opens(facing) && counts(facing))
        .map(|(contour, facing)| (contour, narrow(&facing)))
        .collect();
    let mut least = None;
    for (_, one) in &counters {
        least = narrower(least, Some(*one));
    }
    for (at, _) in walls.contours.iter().enumerate().filter(|(_, contour)| contour.area < 0.0) {
        if counters.iter().all(|(contour, _)| *contour != at) && closed_counts(at) {
            least =
                narrower(least, largest(walls, Medium::Ground, &ground, |contour| contour == at));
        }
    }
    least
}
