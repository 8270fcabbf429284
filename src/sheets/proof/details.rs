//! Details at an enlarged scale: the smallest row of letters with its cap height, and the
//! plate's corner with what stands in it. What is too small to be judged at true size is
//! seen here.

use kurbo::{Affine, BezPath, Point, Rect, Shape};

use crate::drawing::{Ends, Group, Item, Path, Stroke};
use crate::fit::Row;
use crate::job::Job;
use crate::layout::Shape as Outline;
use crate::mount::Hole;
use crate::plate;
use crate::units::digits::trimmed;

use super::super::block::{Block, Layer, NARROW, WIDE, hole_edge, line_of, narrow, rectangle};
use super::super::dimension::{Along, Mark, crossing, plain, running};
use super::super::heading::{READ, section};
use super::super::page::Flow;
use super::super::plaque::row_outlines;
use super::super::table::{Para, paragraphs};
use super::super::text::{BLACK, Labels};
use super::super::words::{self, mm};
use crate::drawing::LineType;

/// Scales of ISO 5455 for enlargement (from memory).
const SCALES: [f64; 4] = [2.0, 5.0, 10.0, 20.0];
/// Highest that a row stands enlarged, mm.
const ROW_HIGH: f64 = 34.0;
/// Side of the window on the corner at most, mm on paper.
const CORNER: f64 = 44.0;
/// What the window shows beyond the farthest thing in the corner, mm of the plate.
const BEYOND: f64 = 2.0;
/// Letters in the corner's window: a tone that leaves the dimensions to be read.
const PALE: [u8; 3] = [190; 3];
/// White between the two pictures, and from a picture to its dimensions, mm.
const APART: f64 = 8.0;
const AIR: f64 = 3.0;
/// Width that a caption has at least, mm.
const LEAST: f64 = 60.0;
/// How far a hole's centre lines run past it, mm.
const PAST: f64 = 1.5;

pub(super) fn put(flow: &mut Flow, labels: &Labels, job: &Job) {
    let width = flow.width();
    let corner = corner(labels, job);
    let beside = corner.as_ref().map_or(0.0, |(_, wide)| wide + APART);
    let row = row(labels, job, width - beside);
    let mut block = Block::empty(0.0);
    let mut left = 0.0;
    for (picture, wide) in [row, corner].into_iter().flatten() {
        let height = block.height.max(picture.height);
        block.add(picture, left, 0.0);
        (block.height, left) = (height, left + wide + APART);
    }
    if block.height <= 0.0 {
        return;
    }
    section(flow, labels, READ, "Enlarged", block.height);
    flow.put(block);
}

/// The largest scale at which a length keeps to a limit; `None` where none enlarges it.
fn scale_within(length: f64, limit: f64) -> Option<f64> {
    SCALES.into_iter().rfind(|scale| length * scale <= limit)
}

/// The row of letters with the least cap height, the first of several.
fn smallest(job: &Job) -> Option<&Row> {
    let rows = job.fitted.rows.iter().filter(|row| row.drawn.is_none());
    rows.min_by(|a, b| a.cap_height.total_cmp(&b.cap_height))
}

/// The smallest row with its cap height, as much of it as a width holds.
fn row(labels: &Labels, job: &Job, width: f64) -> Option<(Block, f64)> {
    let row = smallest(job)?;
    let half = row.cut / 2.0;
    let boxed = |path: &BezPath| path.bounding_box().inflate(half, half);
    let mut letters = row_outlines(job, row);
    letters.retain(|letter| !letter.is_empty());
    letters.sort_by(|a, b| boxed(a).x0.total_cmp(&boxed(b).x0));
    let ink = letters.iter().map(boxed).reduce(|all, next| all.union(next))?;
    let capitals = Rect::new(ink.x0, row.baseline - row.cap_height, ink.x0, row.baseline);
    let high = capitals.union(ink);
    let scale = scale_within(high.height(), ROW_HIGH)?;
    let both = words::both(job.layout.inches, row.cap_height);
    let text = labels.set(&both, READ.figures(), None);
    let left = text.height() + AIR + 3.0;
    // Whole letters only.
    let room = high.x0 + (width - left) / scale;
    let count = letters.len();
    let fit = letters.iter().take_while(|letter| boxed(letter).x1 <= room).count();
    if fit == 0 {
        return None;
    }
    letters.truncate(fit);
    let right = letters.iter().map(|letter| boxed(letter).x1).fold(high.x0, f64::max);
    let (shown, tall) = ((right - high.x0) * scale, high.height() * scale);
    // A dimension's text longer than the letters are high stands over their middle.
    let cap = row.cap_height * scale;
    let baseline = (row.baseline - high.y0) * scale;
    let middle = baseline - cap / 2.0;
    let above = (text.width / 2.0 - middle).max(0.0);
    let below = (middle + text.width / 2.0 - tall).max(0.0);
    let mut block = Block::empty(above + tall + below);

    let to = Affine::scale(scale) * Affine::translate((-high.x0, -high.y0));
    let path: BezPath = letters.into_iter().flatten().collect();
    let drawn = if row.cut > 0.0 {
        let line = Stroke { ends: Ends::Round, ..line_of(row.cut * scale) };
        Path::stroked(to * path, line)
    } else {
        Path::filled(to * path, BLACK)
    };
    let told = format!("The row \u{201c}{}\u{201d}, {} : 1", row.reads(), trimmed(scale, 0));
    let mut picture = Group::new("smallest-row-enlarged", &told, vec![drawn.into()]);
    picture.transform = Affine::translate((left, above));
    block.push(Layer::Plaque, picture);
    let mut dimension = Block::empty(0.0);
    let ends = (above + baseline - cap, above + baseline);
    plain(&mut dimension, Along::Down, ends, ([left; 2], left - AIR), &text);
    let said = format!("Its cap height: {both}");
    block.add(
        dimension.gathered(Layer::Dimensions, Group::new("row-dimension", &said, vec![])),
        0.0,
        0.0,
    );
    block.height += 1.5;
    let caption = words::smallest_row(row.line + 1, &trimmed(scale, 0), fit < count);
    let wide = (left + shown).max(LEAST).min(width);
    block.stack(paragraphs(labels, &[Para::new(caption, READ.caption().figures())], wide));
    Some((block, wide))
}

/// Radius of a hole with the head over it, mm.
fn reach(hole: &Hole) -> f64 {
    hole.head_diameter.max(hole.clearance_diameter) / 2.0
}

/// What stands in the plate's top left corner, mm from its edges.
struct Corner<'a> {
    job: &'a Job,
    hole: Option<&'a Hole>,
    /// Side of the square that holds it all.
    side: f64,
}

impl<'a> Corner<'a> {
    /// `None` where there is no such corner, or nothing in it.
    fn of(job: &'a Job) -> Option<Self> {
        let plate = &job.layout.plate;
        let radius = match plate.shape {
            Outline::Rectangle => 0.0,
            Outline::Rounded { corner } | Outline::Notched { corner } => corner,
            _ => return None,
        };
        let (across, down) = (plate.width / 2.0, plate.height / 2.0);
        let far = |hole: &Hole| {
            let edge = hole_edge((hole.x, hole.y), hole.travel(), reach(hole)).bounding_box();
            edge.x1.max(edge.y1)
        };
        let near = |hole: &&Hole| hole.through && far(hole) < across.min(down);
        let hole = job.mount.holes.iter().find(near);
        let border = plate.border.map_or(0.0, |border| {
            plate.bevel + plate::border_inner_edge(plate).unwrap_or(border.inset)
        });
        let inside = border.max(plate.bevel).max(hole.map_or(0.0, far));
        let side = (inside.max(radius) + BEYOND).min(across).min(down);
        (inside > 0.0).then_some(Self { job, hole, side })
    }

    /// Places to be dimensioned along an axis, mm from the edge.
    fn marks(&self, along: Along, scale: f64) -> Vec<Mark> {
        let plate = &self.job.layout.plate;
        let side = self.side * scale;
        let radius = match plate.shape {
            Outline::Rounded { corner } | Outline::Notched { corner } => corner,
            _ => 0.0,
        };
        // Zero is the plate's edge, met where it runs straight.
        let mut places: Vec<(f64, f64)> = vec![(0.0, radius * scale)];
        if plate.bevel > 0.0 {
            places.push((plate.bevel, side));
        }
        // The border's line is met beside the hole, where it runs straight.
        places.extend(plate.border.map(|border| (plate.bevel + border.inset, side)));
        places.extend(self.hole.map(|hole| {
            let (at, off) = match along {
                Along::Across => (hole.x, hole.y),
                Along::Down => (hole.y, hole.x),
            };
            // To where the hole's own centre line begins.
            (at, (off - reach(hole)) * scale - PAST)
        }));
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        places.dedup_by(|a, b| (a.0 - b.0).abs() < 0.005);
        let inside = places.into_iter().filter(|(at, _)| *at < self.side);
        inside
            .map(|(at, feature)| {
                let (mm, inches) = (mm(at), words::inches(at));
                let feature = Some(feature);
                let (first, second) = match (at > 0.0, self.job.layout.inches) {
                    (false, _) => ("0".to_owned(), String::new()),
                    (true, false) => (mm, inches),
                    (true, true) => (inches, mm),
                };
                Mark { at: at * scale, feature, first, second }
            })
            .collect()
    }

    /// What is drawn, at a scale, from the plate's corner.
    fn drawn(&self, scale: f64) -> Vec<Item> {
        let (job, plate) = (self.job, &self.job.layout.plate);
        let to = Affine::scale(scale);
        let edge = plate::outline(plate);
        let letters: BezPath =
            job.fitted.rows.iter().flat_map(|row| row_outlines(job, row)).flatten().collect();
        let mut items: Vec<Item> = vec![Path::filled(to * letters, PALE).into()];
        for placed in &job.decoration {
            items.push(Path::filled(to * placed.path.clone(), PALE).into());
        }
        items.push(Path::stroked(to * edge.path(), line_of(WIDE)).into());
        if let Some(inner) = (plate.bevel > 0.0).then(|| edge.inset(plate.bevel)).flatten() {
            items.push(Path::stroked(to * inner.path(), line_of(NARROW)).into());
        }
        let weight = plate.border.map_or(0.0, |border| border.weight * scale);
        for path in plate::border_paths(plate, &job.zones) {
            items.push(Path::stroked(to * path, line_of(weight)).into());
        }
        for hole in job.mount.holes.iter().filter(|hole| hole.through) {
            let place = (hole.x * scale, hole.y * scale);
            let (across, down) = hole.travel();
            let travel = (across * scale, down * scale);
            let edge = |diameter: f64| hole_edge(place, travel, diameter * scale / 2.0);
            items.push(Path::stroked(edge(hole.clearance_diameter), line_of(WIDE)).into());
            if hole.head_diameter > hole.clearance_diameter {
                let head = narrow(LineType::LongDashedDoubleDotted);
                items.push(Path::stroked(edge(hole.head_diameter), head).into());
            }
        }
        items
    }
}

/// The corner with its dimensions and caption.
fn corner(labels: &Labels, job: &Job) -> Option<(Block, f64)> {
    let corner = Corner::of(job)?;
    let scale = scale_within(corner.side, CORNER)?;
    let (side, style) = (corner.side * scale, READ.figures());
    let axis = |along| running(labels, style, along, (0.0, false), &corner.marks(along, scale));
    let (across, down) = (axis(Along::Across), axis(Along::Down));
    // Labels that were moved apart may stand before the corner: those across stand above
    // those down the side, so that they never meet.
    let before = |span: (f64, f64)| (-span.0).max(0.0);
    let lift = AIR + before(down.span);
    let left = (down.depth + AIR).max(before(across.span));
    let top = across.depth + lift;
    let wide = (left + side).max(left + across.span.1);
    let high = (top + side).max(top + down.span.1);
    let mut block = Block::empty(high);
    let mut picture =
        Group::new("corner-enlarged", "The plate\u{2019}s top left corner", corner.drawn(scale));
    picture.clip = Some(Rect::new(-1.0, -1.0, side, side));
    picture.transform = Affine::translate((left, top));
    block.push(Layer::Plaque, picture);
    let mut lines = Block::empty(0.0);
    across.draw(&mut lines, top - lift, (left, top));
    down.draw(&mut lines, left - AIR, (top, left));
    if let Some(hole) = corner.hole {
        let at = Point::new(left + hole.x * scale, top + hole.y * scale);
        crossing(&mut lines, at.x, at.y, reach(hole) * scale + PAST);
    }
    let said = words::corner(job, corner.hole, &trimmed(scale, 0));
    block.add(
        lines.gathered(Layer::Dimensions, Group::new("corner-dimensions", &said, vec![])),
        0.0,
        0.0,
    );
    let frame = rectangle(left, top, side, side);
    block.push(Layer::Frame, Path::stroked(frame, Stroke { colour: PALE, ..line_of(NARROW) }));
    block.height += 1.5;
    let wide = wide.max(LEAST);
    block.stack(paragraphs(labels, &[Para::new(said, READ.caption().figures())], wide));
    Some((block, wide))
}
