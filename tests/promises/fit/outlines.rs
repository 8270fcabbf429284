//! The limit on every outline, with holes and photo boxes, against a scan over scales and
//! places that knows the plate only as it is drawn.

use ansata::fit::{LineProblem, Plan, Problem, plan};
use ansata::layout::{Align, Breaks, FitMode, HandleLettering, Handles, Shape};
use ansata::plate::{ClearZone, Field, Outline, Side, ZoneKind, ZoneShape};
use kurbo::{PathEl, flatten};

use super::brute::{self, ALLOWED, Breaking, Numbers};

/// How far below the scan's best the result may be, mm of the largest cap height: the
/// definition's 0.01, and what flattening may take.
const NEAR: f64 = 0.0105;

/// Scales and places of one scan.
const SCALES: u32 = 24;
const PLACES: u32 = 30;

/// How far the flattened outline may stray from the drawn one, mm.
const FLATTENED: f64 = 0.0003;

/// A field as it is drawn: straight edges, and zones by their definitions.
struct Drawn {
    edges: Vec<[f64; 4]>,
    zones: Vec<ZoneShape>,
    axis: f64,
}

impl Drawn {
    fn new(field: &Field) -> Self {
        let mut edges = Vec::new();
        let (mut first, mut last) = ((0.0, 0.0), (0.0, 0.0));
        for path in field.outline.iter().flat_map(Outline::paths) {
            flatten(path, FLATTENED, |element| match element {
                PathEl::MoveTo(to) => {
                    first = (to.x, to.y);
                    last = first;
                }
                PathEl::LineTo(to) => {
                    edges.push([last.0, last.1, to.x, to.y]);
                    last = (to.x, to.y);
                }
                _ => edges.push([last.0, last.1, first.0, first.1]),
            });
        }
        let zones = field.zones.iter().map(|zone| zone.shape).collect();
        Self { edges, zones, axis: field.axis_x }
    }

    /// Whether a point lies inside the outline: a ray to the left crosses it an odd number
    /// of times.
    fn holds(&self, x: f64, y: f64) -> bool {
        let crossed = self.edges.iter().filter(|[x0, y0, x1, y1]| {
            (*y0 <= y) != (*y1 <= y) && x0 + (x1 - x0) * (y - y0) / (y1 - y0) < x
        });
        crossed.count() % 2 == 1
    }

    /// Width that a row has between two heights; `None` where it does not stand there.
    fn room(&self, align: Align, top: f64, bottom: f64) -> Option<f64> {
        let mut blocked: Vec<(f64, f64)> = Vec::new();
        for &[x0, y0, x1, y1] in &self.edges {
            if y0.max(y1) <= top || y0.min(y1) >= bottom {
                continue;
            }
            let level = (y1 - y0).abs() < 1e-12;
            let at = |y: f64| x0 + (x1 - x0) * (y.clamp(top, bottom) - y0) / (y1 - y0);
            let (a, b) = if level { (x0, x1) } else { (at(y0), at(y1)) };
            blocked.push((a.min(b), a.max(b)));
        }
        for zone in &self.zones {
            match *zone {
                ZoneShape::Disc { x, y, radius } => {
                    let off = y - y.clamp(top, bottom);
                    if off.abs() < radius {
                        let half = (radius * radius - off * off).sqrt();
                        blocked.push((x - half, x + half));
                    }
                }
                ZoneShape::Box { x0, y0, x1, y1 } => {
                    if y0 < bottom && y1 > top {
                        blocked.push((x0, x1));
                    }
                }
                ZoneShape::Side { side: Side::Left, at } => blocked.push((-1e9, at)),
                ZoneShape::Side { side: Side::Right, at } => blocked.push((at, 1e9)),
                ZoneShape::Side { side: Side::Top, at } if top < at => return None,
                ZoneShape::Side { side: Side::Bottom, at } if bottom > at => return None,
                ZoneShape::Side { .. } => {}
                grown => blocked.extend(Core::of(&grown).blocks(top, bottom)),
            }
        }
        blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut most: Option<f64> = None;
        let mut reached = blocked.first()?.1;
        for &(left, right) in &blocked {
            if left > reached && self.holds((reached + left) / 2.0, (top + bottom) / 2.0) {
                let room = match align {
                    Align::Centre => 2.0 * (self.axis - reached).min(left - self.axis),
                    Align::Left | Align::Right => left - reached,
                };
                if room >= 0.0 {
                    most = Some(most.map_or(room, |most| most.max(room)));
                }
            }
            reached = reached.max(right);
        }
        most
    }
}

/// A zone as what it is made of: a core, wide at each height, and discs about all of it.
struct Core {
    middle: f64,
    top: f64,
    bottom: f64,
    gap: f64,
    half: Box<dyn Fn(f64) -> f64>,
}

impl Core {
    fn of(shape: &ZoneShape) -> Self {
        match *shape {
            ZoneShape::Oval { x, y, across, down, gap } => {
                let half = move |at: f64| {
                    let off = (at - y) / down;
                    across * (1.0 - off * off).max(0.0).sqrt()
                };
                Self { middle: x, top: y - down, bottom: y + down, gap, half: Box::new(half) }
            }
            ZoneShape::Rounded { x0, y0, x1, y1, radius: gap } => {
                let half = (x1 - x0) / 2.0 - gap;
                Self {
                    middle: (x0 + x1) / 2.0,
                    top: y0 + gap,
                    bottom: y1 - gap,
                    gap,
                    half: Box::new(move |_| half),
                }
            }
            ZoneShape::Arch { x0, y0, x1, y1, rise, gap } => {
                let half = (x1 - x0) / 2.0;
                let radius = (half * half + rise * rise) / (2.0 * rise);
                let width = move |at: f64| {
                    let down = y0 + radius - at;
                    if at < y0 + rise {
                        (radius * radius - down * down).max(0.0).sqrt()
                    } else {
                        half
                    }
                };
                let middle = (x0 + x1) / 2.0;
                Self { middle, top: y0, bottom: y1, gap, half: Box::new(width) }
            }
            _ => panic!("{shape:?} has no core"),
        }
    }

    /// What it blocks between two heights: the widest of all discs. Their reach is concave
    /// over the heights of their middles, of which thirds are thrown away.
    fn blocks(&self, top: f64, bottom: f64) -> Option<(f64, f64)> {
        let (mut from, mut to) = (self.top.max(top - self.gap), self.bottom.min(bottom + self.gap));
        if from >= to {
            return None;
        }
        let reach = |at: f64| {
            let off = at - at.clamp(top, bottom);
            (self.half)(at) + (self.gap * self.gap - off * off).max(0.0).sqrt()
        };
        for _ in 0..50 {
            let third = (to - from) / 3.0;
            if reach(from + third) < reach(to - third) {
                from += third;
            } else {
                to -= third;
            }
        }
        let half = reach((from + to) / 2.0);
        Some((self.middle - half, self.middle + half))
    }
}

/// An outline of each kind, as large as the random lines ask for.
fn random_outline(numbers: &mut Numbers, kind: usize) -> (f64, Outline) {
    let (width, height) = (numbers.between(40.0, 110.0), numbers.between(20.0, 60.0));
    let corner = numbers.between(2.0, 9.0);
    let shape = match kind {
        0 => Shape::Rounded { corner },
        1 => Shape::Notched { corner },
        2 => Shape::Oval,
        3 => return (height, Outline::new(height, height, &Shape::Circle)),
        4 => Shape::Arch { rise: (numbers.below(2) == 0).then_some(height / 4.0) },
        5 => Shape::Ansate(Handles {
            width: Some(numbers.between(4.0, 12.0)),
            root: None,
            tip: None,
            lettering: HandleLettering::Into,
        }),
        _ => {
            // A shield: a notch in its head, a point at its foot.
            let dip = numbers.between(0.0, height / 4.0);
            let waist = numbers.between(height / 3.0, height * 0.8);
            Shape::Points(vec![
                (0.0, 0.0),
                (width * 0.45, dip),
                (width, 0.0),
                (width, waist),
                (width * 0.6, height),
                (0.0, waist),
            ])
        }
    };
    (width, Outline::new(width, height, &shape))
}

/// The zone of a photograph of another shape than a box, left, right or anywhere.
fn random_photo(numbers: &mut Numbers, [left, top, right, bottom]: [f64; 4]) -> ZoneShape {
    let (wide, tall) = (right - left, bottom - top);
    let (half, down) = (wide * numbers.between(0.08, 0.2), tall * numbers.between(0.15, 0.45));
    let x = match numbers.below(3) {
        0 => left + half,
        1 => right - half,
        _ => numbers.between(left, right),
    };
    let y = numbers.between(top, bottom);
    let gap = numbers.between(0.5, 4.0);
    let (x0, y0, x1, y1) = (x - half, y - down, x + half, y + down);
    match numbers.below(3) {
        0 => ZoneShape::Oval { x, y, across: half, down, gap },
        1 => {
            let rise = half.min(2.0 * down) * [1.0, 0.4][numbers.below(2)];
            ZoneShape::Arch { x0, y0, x1, y1, rise, gap }
        }
        _ => {
            let (x0, y0, x1, y1) = (x0 - gap, y0 - gap, x1 + gap, y1 + gap);
            ZoneShape::Rounded { x0, y0, x1, y1, radius: gap }
        }
    }
}

/// One or two sides that zones take.
fn random_sides(numbers: &mut Numbers, field: &mut Field, [left, top, right, bottom]: [f64; 4]) {
    let (wide, tall) = (right - left, bottom - top);
    let share = numbers.between(0.05, 0.4);
    let first = [
        (Side::Left, left + wide * share),
        (Side::Right, right - wide * share),
        (Side::Top, top + tall * share),
        (Side::Bottom, bottom - tall * share),
    ][numbers.below(4)];
    let second = (Side::Bottom, bottom - tall * numbers.between(0.0, 0.3));
    for (side, at) in [first, second].into_iter().take(1 + numbers.below(2)) {
        let shape = ZoneShape::Side { side, at };
        field.zones.push(ClearZone { shape, kind: ZoneKind::Photo(0) });
    }
    match first {
        (Side::Left, at) => field.axis_x = (at + right) / 2.0,
        (Side::Right, at) => field.axis_x = (left + at) / 2.0,
        _ => {}
    }
}

/// A field of an outline: plain, with two holes, with a photo box at one side, with a
/// photo of another shape, or with sides taken.
fn random_field(numbers: &mut Numbers, case: usize) -> Option<Field> {
    let (width, edge) = random_outline(numbers, case % 7);
    let outline = edge.inset(numbers.between(0.0, 3.0))?;
    let [left, top, right, bottom] = outline.bounds();
    let mut field = Field { outline: Some(outline), zones: Vec::new(), axis_x: width / 2.0 };
    let bounds = [left, top, right, bottom];
    match case / 7 % 5 {
        0 => {}
        1 => {
            for _ in 0..2 {
                let (x, y) = (numbers.between(left, right), numbers.between(top, bottom));
                let shape = ZoneShape::Disc { x, y, radius: numbers.between(1.5, 5.0) };
                field.zones.push(ClearZone { shape, kind: ZoneKind::Hole(0) });
            }
        }
        2 => {
            let shape = random_photo(numbers, bounds);
            field.zones.push(ClearZone { shape, kind: ZoneKind::Photo(0) });
        }
        3 => random_sides(numbers, &mut field, bounds),
        _ => {
            let x1 = left + (right - left) * numbers.between(0.1, 0.35);
            let y1 = bottom - (bottom - top) * numbers.between(0.0, 0.4);
            let shape = ZoneShape::Box { x0: left, y0: top, x1, y1 };
            field.zones.push(ClearZone { shape, kind: ZoneKind::Hole(0) });
            field.axis_x = (x1 + right) / 2.0;
        }
    }
    Some(field)
}

/// Breakings by the number of rows of each line, which alone decides where rows stand.
fn by_counts(problem: &Problem) -> Vec<(Vec<usize>, Vec<Breaking>)> {
    let mut groups: Vec<(Vec<usize>, Vec<Breaking>)> = Vec::new();
    for breaking in brute::breakings(problem, |_, _| 0.0) {
        let counts: Vec<usize> = breaking.iter().map(Vec::len).collect();
        match groups.iter_mut().find(|(known, _)| *known == counts) {
            Some((_, breakings)) => breakings.push(breaking),
            None => groups.push((counts, vec![breaking])),
        }
    }
    groups
}

fn heights(problem: &Problem, scale: f64) -> Vec<f64> {
    problem.lines.iter().map(|line| brute::height(line, scale)).collect()
}

/// Whether any breaking stands at a scale with the block's top edge at any of the places.
fn stands(
    problem: &Problem,
    groups: &[(Vec<usize>, Vec<Breaking>)],
    drawn: &Drawn,
    [_, top, _, bottom]: [f64; 4],
    scale: f64,
) -> bool {
    let heights = heights(problem, scale);
    groups.iter().any(|(_, breakings)| {
        let rows = brute::boxes(problem, &breakings[0], &heights);
        let owners: Vec<usize> = breakings[0]
            .iter()
            .enumerate()
            .flat_map(|(at, rows)| rows.iter().map(move |_| at))
            .collect();
        let spare = bottom - top - rows.last().map_or(0.0, |row| row.bottom);
        spare >= 0.0
            && (0..=PLACES).any(|place| {
                let at = top + spare * f64::from(place) / f64::from(PLACES);
                let mut left: Vec<&Breaking> = breakings.iter().collect();
                // Row by row: which breakings are still narrow enough.
                for (index, row) in rows.iter().enumerate() {
                    let owner = owners[index];
                    let own = index - owners.iter().position(|&line| line == owner).unwrap_or(0);
                    let align = problem.lines[owner].align;
                    let Some(room) = drawn.room(align, at + row.top, at + row.bottom) else {
                        return false;
                    };
                    left.retain(|breaking| {
                        let (line, piece) = (&problem.lines[owner], breaking[owner][own]);
                        brute::width(line, piece, heights[owner]) <= room
                    });
                    if left.is_empty() {
                        return false;
                    }
                }
                true
            })
    })
}

/// Every row of a plan stands where the drawing has room for it.
fn check_rows(problem: &Problem, drawn: &Drawn, plan: &Plan, case: usize) {
    for row in &plan.rows {
        let line = &problem.lines[row.line];
        let (rise, depth) = brute::reach(line, row.height);
        let (top, bottom) = (row.baseline - rise, row.baseline + depth);
        let room = drawn.room(line.align, top + 1e-6, bottom - 1e-6);
        let width = brute::width(line, (row.from, row.to), row.height);
        // Near its tip a curve's chord is far more sensitive than the curve is.
        let stray = 0.05;
        assert!(room.is_some_and(|room| width <= room + stray), "case {case}: {width} in {room:?}");
    }
}

fn growth(problem: &Problem, low: f64, high: f64) -> f64 {
    let each = problem.lines.iter();
    each.map(|line: &LineProblem| brute::height(line, high) - brute::height(line, low))
        .fold(0.0, f64::max)
}

#[test]
fn on_every_outline_nothing_larger_fits_than_what_is_found() {
    let mut numbers = Numbers(0x5eed_0003);
    let (mut fitting, mut touched, mut widest) = (0, 0, 0.0_f64);
    for case in 0..1155 {
        let mut problem = brute::random_problem(&mut numbers, true);
        for line in &mut problem.lines {
            if line.breaks == Breaks::LastResort {
                line.breaks = Breaks::Free;
            }
        }
        let Some(field) = random_field(&mut numbers, case) else { continue };
        let drawn = Drawn::new(&field);
        let bounds = field.outline.as_ref().expect("an outline").bounds();
        let groups = by_counts(&problem);
        let end = problem.lines.iter().map(|line| line.ceiling / line.ratio).fold(0.0, f64::max);
        let found = plan(&problem, &field);
        check_rows(&problem, &drawn, &found, case);
        let low = found.low.unwrap_or(0.0);
        // Scales above it, dense near it.
        let scan = (1..=SCALES).map(|step| {
            let share = f64::from(step) / f64::from(SCALES);
            low + (end - low) * share * share * share
        });
        let from = if found.low.is_none() { Some(0.0) } else { None };
        for scale in from.into_iter().chain(scan) {
            let more = growth(&problem, low, scale);
            if found.low.is_some() && more <= NEAR {
                continue;
            }
            assert!(
                !stands(&problem, &groups, &drawn, bounds, scale),
                "case {case}: {scale} fits, {:?} was found",
                found.low
            );
        }
        if let (Some(low), Some(high)) = (found.low, found.high) {
            fitting += 1;
            touched += usize::from(low < end - ALLOWED);
            widest = widest.max(growth(&problem, low, high));
        }
    }
    println!("{fitting} fit, {touched} of them less than at their ceilings; bracket {widest}");
    assert!(fitting > 400 && touched > 300, "{fitting} fit, {touched} touch");
    assert!(widest <= 0.0101, "a bracket of {widest} mm");
}

/// In mode `full` on a curved or holed plate lines are never smaller than when all grow alike,
/// some are taller, the order of sizes holds, and every row has its room.
#[test]
fn in_mode_full_no_line_shrinks_for_another() {
    let mut numbers = Numbers(0x5eed_0005);
    let (mut fitting, mut taller) = (0, 0);
    for case in 0..210 {
        let mut problem = brute::random_problem(&mut numbers, true);
        let Some(field) = random_field(&mut numbers, case) else { continue };
        problem.mode = FitMode::Full;
        let full = plan(&problem, &field);
        check_rows(&problem, &Drawn::new(&field), &full, case);
        for (line, height) in problem.lines.iter().zip(&full.heights) {
            for (other, greater) in problem.lines.iter().zip(&full.heights) {
                let apart = line.drawn || other.drawn || line.ratio >= other.ratio;
                let kept = apart || *height <= greater.max(line.floor) + 1e-9;
                assert!(full.phi < 1.0 || kept, "case {case}: {height} over {greater}");
            }
        }
        // A line too wide at its floor is broken and stays there.
        let broken = full.rows.iter().any(|row| {
            let line = &problem.lines[row.line];
            row.to + 1 < line.widths.stops() && !line.forced[row.to]
        });
        if broken {
            continue;
        }
        let mut alike = problem.clone();
        alike.mode = FitMode::Even;
        for line in &mut alike.lines {
            line.ratio = 1.0;
            if line.breaks == Breaks::Free {
                line.breaks = Breaks::LastResort;
            }
            line.wish = None;
        }
        let (Some(_), Some(low)) = (full.low, plan(&alike, &field).low) else { continue };
        fitting += 1;
        taller += usize::from(full.heights.iter().any(|height| *height > low + 0.1));
        for (at, height) in full.heights.iter().enumerate() {
            // Bounded by the line itself and by those with a greater ratio.
            let most = problem.lines.iter().zip(&full.heights);
            let own = &problem.lines[at];
            let most = most.filter(|(line, _)| !line.drawn && !own.drawn && line.ratio > own.ratio);
            let most = most.map(|(_, height)| *height).fold(f64::INFINITY, f64::min);
            let least = brute::height(&alike.lines[at], low).min(most) - 0.02;
            assert!(*height >= least, "case {case}: {height} is less than {least}");
        }
    }
    assert!(fitting > 40 && taller > 10, "{fitting} fit, {taller} with a taller line");
}
