//! Border lines and what they do at holes.

use std::f64::consts::{FRAC_PI_4, TAU};

use kurbo::{BezPath, CubicBez, PathSeg, Point};

use crate::layout::{AtHoles, Border, Plate};

use super::cut::{Disc, Round, Span, apart, drawn, length, merged, union};
use super::{ClearZone, Outline, ZoneKind, ZoneShape, border_edge};

/// A loose end of border shorter than this many line widths reads as a flaw and
/// is left out (own choice).
const STUB_WEIGHTS: f64 = 2.0;

/// Parts of a step-in arc at which it is tested to stay inside the plate.
const ARC_TESTS: u32 = 32;

/// Centre lines of the border's strokes (each drawn at the border's weight), mm
/// in plate coordinates; outer line first. Empty without a border.
///
/// A line is a true inset of the plate's outline. No ink of it comes nearer to a
/// hole than that hole's clear zone, whatever is asked at holes:
/// - stop short: the line is cut, and has an open end on either side;
/// - step in: the line turns in along an arc about the hole, the second line
///   keeping its gap. Where arcs would cross each other or the plate's other
///   side, the line stops short instead;
/// - holes outside: the line runs as asked; what would still come too near (see
///   [`border_inset_needed`]) stops short.
#[must_use]
pub fn border_paths(plate: &Plate, zones: &[ClearZone]) -> Vec<BezPath> {
    let Some(border) = plate.border else { return Vec::new() };
    lines_and_discs(plate, &border, zones)
        .iter()
        .map(|run| one_line(run, &border))
        .filter(|path| !path.elements().is_empty())
        .collect()
}

/// From the bevel's inner edge to the inner edge of the innermost border line,
/// mm: what a margin must exceed; `None` without a border.
#[must_use]
pub fn border_inner_edge(plate: &Plate) -> Option<f64> {
    plate.border.map(|border| border.inset + border.gap * last_line(&border) + border.weight / 2.0)
}

/// The least inset (from the bevel's inner edge to the middle of the outer line)
/// at which a border runs inside of all holes and clear of them, mm, rounded up
/// to 0.01 mm. `None` without a border or holes, and where no inset does.
#[must_use]
pub fn border_inset_needed(plate: &Plate, zones: &[ClearZone]) -> Option<f64> {
    let border = plate.border?;
    let discs = discs(&border, zones);
    if discs.is_empty() {
        return None;
    }
    let edge = border_edge(plate);
    let clear = |hundredths: u32| {
        let inset = plate.bevel + f64::from(hundredths) / 100.0;
        edge.inset(inset).map(|line| {
            discs.iter().all(|disc| line.depth_of(disc.centre.x, disc.centre.y) <= -disc.radius)
        })
    };
    // The farther in, the farther from holes that stand outside; beyond the
    // middle of the plate there is no line, which ends the search as well.
    let most = (plate.width.min(plate.height) * 50.0).ceil().clamp(0.0, 1e9);
    let (mut low, mut high) = (0u32, 1u32);
    while f64::from(high) < most && clear(high) == Some(false) {
        (low, high) = (high, high.saturating_mul(2));
    }
    if clear(low) == Some(true) {
        return Some(f64::from(low) / 100.0);
    }
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if clear(middle) == Some(false) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (clear(high) == Some(true)).then(|| f64::from(high) / 100.0)
}

/// Zones that keep lettering off a border which turns in round holes: about each
/// such hole a disc beyond the innermost line by the white that lettering keeps
/// from the border's straight run. Empty where no line turns in.
#[must_use]
pub fn border_zones(plate: &Plate, zones: &[ClearZone]) -> Vec<ClearZone> {
    let Some(border) = plate.border.filter(|border| border.at_holes == AtHoles::StepIn) else {
        return Vec::new();
    };
    let white = border_inner_edge(plate).map_or(0.0, |edge| (plate.margin - edge).max(0.0));
    let mut found: Vec<ClearZone> = Vec::new();
    for Run { line, round, discs, .. } in lines_and_discs(plate, &border, zones) {
        for (disc, hole) in discs.iter().zip(hole_indices(zones)) {
            if step(&line, &round, disc, &discs).is_none() {
                continue;
            }
            let radius = disc.radius + border.weight / 2.0 + white;
            let shape = ZoneShape::Disc { x: disc.centre.x, y: disc.centre.y, radius };
            let zone = ClearZone { shape, kind: ZoneKind::Border(hole) };
            // An inner line's disc holds that of the line outside it.
            found.retain(|other| other.kind != zone.kind);
            found.push(zone);
        }
    }
    found
}

/// Index of the innermost line as a number.
fn last_line(border: &Border) -> f64 {
    if border.lines > 1 { 1.0 } else { 0.0 }
}

/// The outlines that the lines run along, outer first; those that do not fit are left out.
fn lines(plate: &Plate, border: &Border) -> Vec<Outline> {
    let edge = border_edge(plate);
    [0.0, 1.0]
        .into_iter()
        .filter(|line| *line <= last_line(border))
        .filter_map(|line| edge.inset(plate.bevel + border.inset + border.gap * line))
        .collect()
}

fn hole_indices(zones: &[ClearZone]) -> impl Iterator<Item = usize> {
    zones.iter().filter_map(|zone| match zone.kind {
        ZoneKind::Hole(index) => Some(index),
        ZoneKind::Border(_) | ZoneKind::Corner(_) | ZoneKind::Photo(_) => None,
    })
}

/// Discs that the middle of a border line keeps out of: clear zones of holes and
/// half a line's width.
fn discs(border: &Border, zones: &[ClearZone]) -> Vec<Disc> {
    let holes = zones.iter().filter(|zone| matches!(zone.kind, ZoneKind::Hole(_)));
    holes
        .map(|zone| {
            let (centre, radius) = match zone.shape {
                ZoneShape::Disc { x, y, radius } => (Point::new(x, y), radius),
                shape => {
                    let [x0, y0, x1, y1] = shape.bounds();
                    let centre = Point::new(f64::midpoint(x0, x1), f64::midpoint(y0, y1));
                    (centre, libm::hypot(x1 - x0, y1 - y0) / 2.0)
                }
            };
            Disc { centre, radius: radius + border.weight / 2.0 }
        })
        .collect()
}

/// One round of a line with the discs that it keeps out of.
struct Run {
    line: Outline,
    path: BezPath,
    round: Round,
    discs: Vec<Disc>,
}

/// The lines, outer first, each round of them for itself. Where an outer line steps
/// in round a hole, the inner one keeps the gap from it there too.
fn lines_and_discs(plate: &Plate, border: &Border, zones: &[ClearZone]) -> Vec<Run> {
    let mut discs = discs(border, zones);
    let mut done: Vec<Run> = Vec::new();
    for line in lines(plate, border) {
        let first = done.len();
        done.extend(line.paths().into_iter().map(|path| Run {
            line: line.clone(),
            round: Round::new(&path),
            path,
            discs: discs.clone(),
        }));
        if border.at_holes != AtHoles::StepIn {
            continue;
        }
        let before = discs.clone();
        for (disc, grown) in before.iter().zip(&mut discs) {
            let mut runs = done.iter().skip(first);
            if runs.any(|run| step(&run.line, &run.round, disc, &before).is_some()) {
                grown.radius += border.gap;
            }
        }
    }
    done
}

/// A part of the line that is not drawn, and the arc that is drawn instead.
struct Gap {
    span: Span,
    arc: Option<Vec<PathSeg>>,
}

fn one_line(run: &Run, border: &Border) -> BezPath {
    let Run { line, path, round, discs } = run;
    let gaps = gaps(line, border, round, discs);
    let mut drawing = BezPath::new();
    let Some(first) = gaps.first() else { return path.clone() };
    if first.span.len >= round.count() {
        return drawing;
    }
    // Begin after an open gap if there is one, so that no chain is torn.
    let begin = gaps.iter().position(|gap| gap.arc.is_none());
    let mut chain: Vec<PathSeg> = Vec::new();
    for index in 0..gaps.len() {
        let at = |offset: usize| gaps.get((begin.unwrap_or(0) + index + offset) % gaps.len());
        let (Some(gap), Some(next)) = (at(0), at(1)) else { continue };
        let from = gap.span.from + gap.span.len;
        let len = (next.span.from - from).rem_euclid(round.count());
        chain.extend(round.stretch(Span { from: from.rem_euclid(round.count()), len }));
        if let Some(arc) = &next.arc {
            chain.extend(arc.iter().copied());
        } else {
            if length(&chain) > STUB_WEIGHTS * border.weight {
                drawn(&mut drawing, &chain, false);
            }
            chain.clear();
        }
    }
    if begin.is_none() {
        drawn(&mut drawing, &chain, true);
    }
    drawing
}

/// What is left out of a line, in order, without overlaps.
fn gaps(line: &Outline, border: &Border, round: &Round, discs: &[Disc]) -> Vec<Gap> {
    let mut open: Vec<Span> = Vec::new();
    let mut steps: Vec<Gap> = Vec::new();
    for disc in discs {
        let inside = round.inside(disc);
        let stepped = if border.at_holes == AtHoles::StepIn && !inside.is_empty() {
            step(line, round, disc, discs)
        } else {
            None
        };
        match stepped {
            Some(gap) => steps.push(gap),
            None => open.extend(without_crumbs(round, disc, inside)),
        }
    }
    let mut open = merged(open, round.count());
    // A step that meets another gap on the line is no step.
    let meets = |span: Span, others: &[Span]| {
        others.iter().any(|other| union(*other, span, round.count()).is_some())
    };
    loop {
        let spans: Vec<Span> = steps.iter().map(|gap| gap.span).collect();
        let bad = steps.iter().enumerate().position(|(index, gap)| {
            let mut others = spans.clone();
            others.remove(index);
            meets(gap.span, &others) || meets(gap.span, &open)
        });
        let Some(bad) = bad else { break };
        open.push(steps.remove(bad).span);
        open = merged(open, round.count());
    }
    let mut gaps: Vec<Gap> =
        open.into_iter().map(|span| Gap { span, arc: None }).chain(steps).collect();
    gaps.sort_by(|a, b| a.span.from.total_cmp(&b.span.from));
    gaps
}

/// What a disc cuts out of a line, with the pieces that it cuts off: one shorter
/// than the disc is wide (at a corner, between the hole and the corner) would be
/// left standing as a crumb.
fn without_crumbs(round: &Round, disc: &Disc, cuts: Vec<Span>) -> Vec<Span> {
    let between = pieces_between(round, &cuts);
    let crumbs =
        between.into_iter().filter(|piece| length(&round.stretch(*piece)) < 2.0 * disc.radius);
    let all = cuts.iter().copied().chain(crumbs).collect();
    merged(all, round.count())
}

/// What is left of a line between cuts, each piece after its cut.
fn pieces_between(round: &Round, cuts: &[Span]) -> Vec<Span> {
    let nexts = cuts.iter().cycle().skip(1);
    cuts.iter()
        .zip(nexts)
        .map(|(cut, next)| {
            let from = (cut.from + cut.len).rem_euclid(round.count());
            // One cut leaves all the rest of the round, not nothing.
            let len = if cuts.len() == 1 {
                round.count() - cut.len
            } else {
                (next.from - from).rem_euclid(round.count())
            };
            Span { from, len }
        })
        .collect()
}

/// The turn of a line round a disc; `None` where the line does not meet the disc,
/// or cannot turn in without meeting another hole or the plate's other side.
///
/// Where the disc cuts the line more than once (both sides of a corner), all
/// between the first cut and the last is replaced: what stays of the line is its
/// longest stretch outside the disc.
fn step(line: &Outline, round: &Round, disc: &Disc, discs: &[Disc]) -> Option<Gap> {
    let inside = round.inside(disc);
    let crowded = discs.iter().any(|other| {
        other != disc && apart(other.centre, disc.centre) < other.radius + disc.radius
    });
    if inside.is_empty() || crowded {
        return None;
    }
    let kept = pieces_between(round, &inside)
        .into_iter()
        .map(|piece| (length(&round.stretch(piece)), piece))
        .reduce(|best, other| if other.0 > best.0 { other } else { best });
    let (_, kept) = kept.filter(|(mm, _)| *mm > 0.0)?;
    let from = (kept.from + kept.len).rem_euclid(round.count());
    let span = Span { from, len: round.count() - kept.len };
    let arc = inner_arc(line, disc, round.point(from), round.point(kept.from))?;
    Some(Gap { span, arc: Some(arc) })
}

/// The arc about a disc's centre between two points of its edge that runs deeper
/// inside the line; `None` if it leaves the inside.
fn inner_arc(line: &Outline, disc: &Disc, from: Point, to: Point) -> Option<Vec<PathSeg>> {
    let angle = |point: Point| libm::atan2(point.y - disc.centre.y, point.x - disc.centre.x);
    let start = angle(from);
    let forwards = (angle(to) - start).rem_euclid(TAU);
    let at = |angle: f64| {
        let (sin, cos) = libm::sincos(angle);
        Point::new(disc.centre.x + disc.radius * cos, disc.centre.y + disc.radius * sin)
    };
    let depth = |sweep: f64, share: f64| {
        let point = at(start + sweep * share);
        line.depth_of(point.x, point.y)
    };
    let backwards = forwards - TAU;
    let sweep = if depth(forwards, 0.5) >= depth(backwards, 0.5) { forwards } else { backwards };
    let stays =
        (1..ARC_TESTS).all(|part| depth(sweep, f64::from(part) / f64::from(ARC_TESTS)) > -1e-6);
    if !stays {
        return None;
    }
    // Pieces of at most an eighth of a turn: within 4e-6 of the radius.
    let mut pieces = 1u32;
    while sweep.abs() > FRAC_PI_4 * f64::from(pieces) {
        pieces += 1;
    }
    let turn = sweep / f64::from(pieces);
    let handle = 4.0 / 3.0 * libm::tan(turn / 4.0);
    let arc = (0..pieces)
        .map(|piece| {
            let (a, b) = (f64::from(piece) * turn, f64::from(piece + 1) * turn);
            let head = if piece == 0 { from } else { at(start + a) };
            let tail = if piece + 1 == pieces { to } else { at(start + b) };
            let out = |point: Point, by: f64| {
                let spoke = point - disc.centre;
                Point::new(point.x - spoke.y * by, point.y + spoke.x * by)
            };
            PathSeg::Cubic(CubicBez::new(head, out(head, handle), out(tail, -handle), tail))
        })
        .collect();
    Some(arc)
}
