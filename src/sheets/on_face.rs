//! The trophy face with the plate on it: a bench drawing as large as a page has room for,
//! with the distances that a maker sets out; and the same small, of a plate alone.
//!
//! Everything is worked out in plate coordinates (mm, y down) and drawn smaller.

mod measures;
#[cfg(test)]
mod tests;

use kurbo::{Affine, BezPath, Point, Rect, Vec2};

use crate::drawing::{Drawing, Group, Item, LineType, Page, Path};
use crate::job::Job;
use crate::layout::{GrainWay, Layout};
use crate::mount::{self, FacePlan, Hole};
use crate::plate;
use crate::units::digits::trimmed;

use super::block::{Block, Layer, NARROW, WIDE, circle, line_of, narrow};
use super::dimension::{Along, between_arrows, centre_line, crossing};
use super::pattern::subject;
use super::plaque::{Heads, extent, plaque, plaque_told, surface};
use super::text::{Labels, Style};
use super::view::{Subject, Zero, edge_of_face, edge_of_trim};

use measures::Measures;

/// What of the drawing the face takes at most, mm, and never larger than it is.
const ROOM: (f64, f64) = (120.0, 95.0);
/// White round it, mm.
const ROUND: f64 = 2.0;
/// Figures and words (ISO 3098-0 asks for 1.8 mm at least).
const LABEL: Style = Style::regular(2.2).figures();
/// How far centre lines run past what they mark, and past a hole, mm on the page.
const PAST: f64 = 1.8;
const PAST_HOLE: f64 = 1.0;
/// A circle that has no room for three dashes is drawn whole, radius in mm on the page.
const DASHED: f64 = 1.3;
/// Radius of the circle round a mark on the face, mm on the page.
const MARK: f64 = 1.2;
/// An old hole further than this from plate and face is not shown, mm.
const NEAR: f64 = 20.0;

/// The face with the plate on it, in plain lines but for the plaque: edge, trim, recess,
/// old holes, the plate with its holes' centres, centre lines, and how far the plate is
/// from the face's edges. Nothing where no face is told.
#[must_use]
pub fn on_face(job: &Job) -> Option<Drawing> {
    let plan = job.mount.face.as_ref()?;
    let subject = subject(job);
    let labels = Labels::plain();
    let window = window(&subject, extent(job));
    let scale = reduced(window, ROOM);
    let measures = Measures::of(job, plan, &labels, (scale, window));
    let white = measures.white();
    let placed = Placed { scale, at: Vec2::new(white.left + ROUND, white.top + ROUND), window };
    let mut block = Block::empty(0.0);
    block.push(Layer::Plaque, face_group(plan, &placed));
    let lines = Group::new("centre-lines", "Centre lines", Vec::new());
    let crossed = centre_lines(&subject, &placed).gathered(Layer::Plaque, lines);
    block.add(crossed, 0.0, 0.0);
    let mut group = plaque(job, Heads::Drawn);
    group.transform = placed.to();
    block.push(Layer::Plaque, group);
    old_holes(&mut block, &subject, &placed);
    for hole in &job.mount.holes {
        centre_mark(&mut block, hole, &placed);
    }
    mark(&mut block, &subject, &placed);
    grain(&mut block, (job, plan, &labels), &placed);
    measures.draw(&mut block, placed.at);
    let (width, height) = (window.width() * scale, window.height() * scale);
    Some(Drawing {
        title: format!("{}: on its face", job.layout.title),
        description: format!("{}\n{}", measures.told(), plaque_told(job)),
        background: None,
        pages: vec![Page {
            width: width + white.left + white.right + 2.0 * ROUND,
            height: height + white.top + white.bottom + 2.0 * ROUND,
            items: block.into_items(),
        }],
    })
}

/// A plate of a layout on its face, bare, as large as a room of width and height in mm
/// holds. Nothing where no face is told.
#[must_use]
pub fn plate_on_face(layout: &Layout, room: (f64, f64)) -> Option<Drawing> {
    let layout = &*mount::sized(layout);
    let plan = mount::plan(layout).face?;
    let plate = Rect::new(0.0, 0.0, layout.plate.width, layout.plate.height);
    let window = face_box(&plan).map_or(plate, |face| face.union(plate));
    let scale = reduced(window, (room.0 - WIDE, room.1 - WIDE));
    let placed = Placed { scale, at: Vec2::new(WIDE / 2.0, WIDE / 2.0), window };
    let mut body = surface(layout, &plate::look(&layout.plate));
    body.transform = placed.to();
    Some(Drawing {
        title: "Plate on its face".to_owned(),
        description: format!(
            "A plate of {} \u{d7} {} mm on its face",
            trimmed(plate.width(), 2),
            trimmed(plate.height(), 2)
        ),
        background: None,
        pages: vec![Page {
            width: window.width() * scale + WIDE,
            height: window.height() * scale + WIDE,
            items: vec![face_group(&plan, &placed).into(), body.into()],
        }],
    })
}

/// Where things of the face stand on the page.
struct Placed {
    scale: f64,
    /// The window's top left corner on the page, mm.
    at: Vec2,
    /// What is shown, in plate coordinates.
    window: Rect,
}

impl Placed {
    fn to(&self) -> Affine {
        Affine::translate(self.at)
            * Affine::scale(self.scale)
            * Affine::translate(-self.window.origin().to_vec2())
    }

    fn point(&self, x: f64, y: f64) -> Point {
        self.to() * Point::new(x, y)
    }
}

/// The scale at which a window goes into a room; 1 at most.
fn reduced(window: Rect, room: (f64, f64)) -> f64 {
    (room.0 / window.width()).min(room.1 / window.height()).min(1.0)
}

/// The face's box in plate coordinates, where its size is told.
fn face_box(plan: &FacePlan) -> Option<Rect> {
    let [left, top, right, bottom] = plan.edge.as_ref()?.bounds();
    Some(Rect::new(left, top, right, bottom) - Vec2::new(plan.plate_x, plan.plate_y))
}

/// Face, plate and its heads, the mark, and old holes that lie near, in plate coordinates.
fn window(subject: &Subject<'_>, plate: Rect) -> Rect {
    let mut all = subject.face.map_or(plate, |face| face.union(plate));
    if subject.across.zero == Zero::Mark {
        all = all.union_pt((subject.across.at, subject.along.at));
    }
    let near = all.inflate(NEAR, NEAR);
    for old in &subject.old {
        let own = Rect::new(old.x, old.y, old.x, old.y).inflate(old.radius, old.radius);
        if near.union(own) == near {
            all = all.union(own);
        }
    }
    all
}

/// What is seen of the face itself.
fn face_group(plan: &FacePlan, placed: &Placed) -> Group {
    let recess = plan
        .recess
        .as_ref()
        .map(|laid| Affine::translate((-plan.plate_x, -plan.plate_y)) * laid.path());
    let lines = [
        ("face-edge", "Edge of the face", edge_of_face(plan), WIDE),
        ("trim", "Inner edge of the trim", edge_of_trim(plan), NARROW),
        ("recess", "Edge of the recess", recess.unwrap_or_default(), NARROW),
    ];
    let items = lines.into_iter().filter(|(.., path, _)| !path.is_empty());
    let items = items.map(|(name, told, path, width): (_, _, BezPath, _)| {
        let path = Path::stroked(placed.to() * path, line_of(width));
        Item::from(Group::new(name, told, vec![path.into()]))
    });
    Group::new("face", "The trophy face", items.collect())
}

/// The centre lines that the plate is set by, over the whole face; the plate's own where it
/// is set by an edge.
fn centre_lines(subject: &Subject<'_>, placed: &Placed) -> Block {
    let mut block = Block::empty(0.0);
    let plate = subject.plate();
    let face = subject.face.unwrap_or(plate);
    let past = PAST / placed.scale;
    let mut line = |from: (f64, f64), to: (f64, f64)| {
        let (from, to) = (placed.point(from.0, from.1), placed.point(to.0, to.1));
        centre_line(&mut block, (from.x, from.y), (to.x, to.y));
    };
    let of = |zero: Zero, at: f64, own: f64| if zero == Zero::Centre { at } else { own };
    let middle = plate.center();
    let x = of(subject.across.zero, subject.across.at, middle.x);
    let y = of(subject.along.zero, subject.along.at, middle.y);
    let reach = |zero: Zero| if zero == Zero::Centre { face.union(plate) } else { plate };
    let (upright, level) = (reach(subject.across.zero), reach(subject.along.zero));
    // From the plate outwards: what it covers would leave stray ends of dashes beside it.
    line((x, plate.y0), (x, upright.y0 - past));
    line((x, plate.y1), (x, upright.y1 + past));
    line((plate.x0, y), (level.x0 - past, y));
    line((plate.x1, y), (level.x1 + past, y));
    block
}

/// Old holes: dashed, since the plate hides them or is to.
fn old_holes(block: &mut Block, subject: &Subject<'_>, placed: &Placed) {
    let seen = subject.old.iter().filter(|old| placed.window.contains((old.x, old.y)));
    let items: Vec<Item> = seen
        .map(|old| {
            let at = placed.point(old.x, old.y);
            hidden((at.x, at.y), old.radius * placed.scale).into()
        })
        .collect();
    if !items.is_empty() {
        block.push(Layer::Plaque, Group::new("old-holes", "Holes that are already there", items));
    }
}

/// The centre of a hole through head or stud; a stud itself is hidden behind the plate.
fn centre_mark(block: &mut Block, hole: &Hole, placed: &Placed) {
    let at = placed.point(hole.x, hole.y);
    let (across, down) = hole.travel();
    let radius = (hole.head_diameter.max(hole.clearance_diameter) / 2.0) * placed.scale;
    if !hole.through {
        block.push(Layer::Dimensions, hidden((at.x, at.y), radius));
    }
    crossing(block, at.x, at.y, radius + across.max(down) * placed.scale + PAST_HOLE);
}

/// The edge of a round thing that the plate hides.
fn hidden((x, y): (f64, f64), radius: f64) -> Path {
    let line = if radius < DASHED { line_of(NARROW) } else { narrow(LineType::Dashed) };
    Path::stroked(circle(x, y, radius), line)
}

/// The mark that the plate is set by.
fn mark(block: &mut Block, subject: &Subject<'_>, placed: &Placed) {
    if subject.across.zero != Zero::Mark {
        return;
    }
    let at = placed.point(subject.across.at, subject.along.at);
    block.push(Layer::Dimensions, Path::stroked(circle(at.x, at.y, MARK), line_of(WIDE)));
    crossing(block, at.x, at.y, MARK + PAST_HOLE);
}

/// What is left free round the words for the grain, mm on the page.
const CLEAR: f64 = 1.5;

/// Which way the grain runs, where the face has room for an arrow: below the plate, above,
/// or beside it, off the centre lines.
fn grain(block: &mut Block, (job, plan, labels): (&Job, &FacePlan, &Labels), placed: &Placed) {
    let (Some(grain), Some(edge)) = (plan.face.grain, &plan.edge) else { return };
    let along = match grain.way {
        GrainWay::Horizontal => Along::Across,
        GrainWay::Vertical => Along::Down,
    };
    let (arrows, (wide, high)) = between_arrows(along, &labels.set("grain", LABEL, None));
    let (half, tall) = (wide / 2.0 + CLEAR, high / 2.0 + CLEAR);
    let (plate, face) = (placed.to().transform_rect_bbox(extent(job)), placed.window);
    let face = placed.to().transform_rect_bbox(face);
    let quarter = plate.x0 + plate.width() * 0.25;
    let tries = [
        (quarter, f64::midpoint(plate.y1, face.y1)),
        (quarter, f64::midpoint(face.y0, plate.y0)),
        (f64::midpoint(plate.x1, face.x1), plate.y0 + plate.height() * 0.25),
        (f64::midpoint(face.x0, plate.x0), plate.y0 + plate.height() * 0.25),
    ];
    let room = plan.trim.as_ref().unwrap_or(edge);
    let free = |&(x, y): &(f64, f64)| {
        let own = Rect::new(x - half, y - tall, x + half, y + tall);
        let corners = [(own.x0, own.y0), (own.x1, own.y0), (own.x1, own.y1), (own.x0, own.y1)];
        own.intersect(plate).is_zero_area()
            && corners.into_iter().all(|(x, y)| {
                let at = placed.to().inverse() * Point::new(x, y);
                room.depth_of(at.x + plan.plate_x, at.y + plan.plate_y) > 0.0
            })
    };
    if let Some((x, y)) = tries.iter().find(|at| free(at)) {
        block.add(arrows, x - wide / 2.0, y - high / 2.0);
    }
}
