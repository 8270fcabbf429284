//! A fixing to be chosen by its look: its head from in front, and beside it, on one centre
//! line, a section through plate and face as it will be fixed. In true proportions where
//! figures are known; what no table gives (how high a head is, a barrel's thickness) is drawn
//! by shares that are named where they stand, and is told nowhere.
//!
//! Sections are worked out in mm: from the plate's front inwards, and across from the axis.

mod driven;
mod section;
#[cfg(test)]
mod tests;
mod turned;

use kurbo::{Affine, BezPath, Rect, Shape};

use crate::drawing::{Drawing, Group, Item, LineType, Page, Path};
use crate::layout::Layout;
use crate::mount::{self, Bored, Depth, Fixing, Front};
use crate::units::digits::trimmed;

use super::block::{Block, Layer, NARROW, WIDE, circle, line_of, narrow, straight};
use super::dimension::{centre_line, crossing};
use super::plaque::{SLOT_SHARE, hexagon};
use super::text::{BLACK, Labels, SetRow, Style};
use super::words;

use section::Section;

/// Labels (ISO 3098-0 asks for 1.8 mm at least).
const LABEL: Style = Style::regular(2.0);
/// Twice as large as it is, so that a small head shows its slot; a drawing that would be
/// wider than this then, mm, is drawn as large as it is.
const LARGE: f64 = 2.0;
const WIDEST: f64 = 75.0;
/// Between the views, round them, and from them to labels, mm on the page.
const APART: f64 = 9.0;
const ROUND: f64 = 2.5;
const TO_LABEL: f64 = 2.0;
/// How far centre lines run past what they mark, mm on the page.
const PAST: f64 = 2.0;
/// Point at which a leader begins, radius in mm on the page.
const DOT: f64 = 0.4;

/// How a thing of the section is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Drawn {
    /// A body: white, its edge wide.
    Body,
    /// A narrow line: threads, breaks, hatching.
    Narrow,
    /// A visible edge.
    Edge,
    /// A hidden edge.
    Hidden,
    /// Too thin to hatch: black (ISO 128-50).
    Thin,
    /// White without an edge.
    White,
}

/// Paths of the section with how each is drawn, in the order of drawing.
type Things = Vec<(BezPath, Drawn)>;

/// The fixing that a layout names, from in front and in section. Nothing where it names none.
#[must_use]
pub fn fixing_sample(layout: &Layout) -> Option<Drawing> {
    let layout = &*mount::sized(layout);
    let asked = layout.mount.fixing.as_ref()?;
    let fixing = mount::plan(layout).fixing;
    let section = Section::of(layout, asked, fixing.as_ref());
    let labels = Labels::plain();
    let scale = if section.reach().width() * LARGE > WIDEST { 1.0 } else { LARGE };
    Some(laid(layout, fixing.as_ref(), &section, (&labels, scale)))
}

/// Both views and their labels on a page.
fn laid(
    layout: &Layout,
    fixing: Option<&Fixing>,
    section: &Section,
    (labels, scale): (&Labels, f64),
) -> Drawing {
    let told = Told::of(layout, fixing, section);
    let set = |texts: &[(String, (f64, f64))]| -> Vec<(SetRow, (f64, f64))> {
        texts.iter().map(|(text, at)| (labels.set(text, LABEL, None), *at)).collect()
    };
    let (above, below) = (set(&told.above), set(&told.below));
    let head = labels.set(&told.head, LABEL, None);
    let radius = fixing.map_or(0.0, front_radius) * scale;
    let reach = section.reach();
    let front = (2.0 * radius).max(head.width);
    let beside = if radius > 0.0 { front + APART } else { 0.0 };
    let rows = |count: usize| count as f64 * LABEL.leading() + TO_LABEL;
    let half = (reach.y1 * scale).max(radius);
    let middle = ROUND + rows(above.len()) + half;
    let origin = (ROUND + beside - reach.x0 * scale, middle);
    let to = Affine::translate(origin) * Affine::scale(scale);
    let mut block = Block::empty(0.0);
    if let Some(fixing) = fixing {
        let centre = (ROUND + front / 2.0, middle);
        block.push(Layer::Plaque, from_in_front(fixing, centre, scale));
        crossing(&mut block, centre.0, centre.1, radius + PAST);
        let row = middle + radius + PAST + TO_LABEL + LABEL.cap;
        block.text(Layer::Labels, &head, centre.0 - head.width / 2.0, row);
    }
    block.push(Layer::Plaque, section.group(to));
    let ends = (origin.0 + reach.x0 * scale - PAST, origin.0 + reach.x1 * scale + PAST);
    centre_line(&mut block, (ends.0, middle), (ends.1, middle));
    let mut right = ends.1;
    for (rows, down) in [(&above, -1.0), (&below, 1.0)] {
        for ((row, (x, y)), count) in rows.iter().zip(0_u32..) {
            let foot = to * kurbo::Point::new(*x, y * down);
            let far = half + TO_LABEL + f64::from(count) * LABEL.leading();
            let baseline = if down < 0.0 { middle - far } else { middle + far + LABEL.cap };
            let end = if down < 0.0 { baseline - LABEL.cap } else { baseline };
            block.rule(Layer::Dimensions, (foot.x, foot.y), (foot.x, end));
            let dot = Path::filled(circle(foot.x, foot.y, DOT), BLACK);
            block.push(Layer::Dimensions, dot);
            block.text(Layer::Labels, row, foot.x + 1.0, baseline);
            right = right.max(foot.x + 1.0 + row.width);
        }
    }
    let lowest = (middle + half + rows(below.len())).max(middle + radius + PAST + rows(1));
    Drawing {
        title: fixing.map_or_else(|| "Tape".to_owned(), |fixing| fixing.name.clone()),
        description: told.whole(),
        background: None,
        pages: vec![Page {
            width: right + ROUND,
            height: lowest + ROUND,
            items: block.into_items(),
        }],
    }
}

/// Half of what is seen from in front, mm: the head, or a stud through the plate.
fn front_radius(fixing: &Fixing) -> f64 {
    fixing.head_diameter.max(fixing.clearance).max(fixing.shank) / 2.0
}

/// The view from in front, its middle at a point of the page: the head, and dashed what is
/// hidden behind it.
fn from_in_front(fixing: &Fixing, (x, y): (f64, f64), scale: f64) -> Group {
    let edge = |path: BezPath| Item::from(Path::stroked(path, line_of(WIDE)));
    let hidden = |radius: f64| {
        Item::from(Path::stroked(circle(x, y, radius * scale), narrow(LineType::Dashed)))
    };
    let mut items = Vec::new();
    if fixing.front == Front::Nothing {
        items.push(Group::new("hidden", "A stud behind", vec![hidden(fixing.shank / 2.0)]).into());
        return Group::new("front", "From in front: nothing shows", items);
    }
    let radius = fixing.head_diameter / 2.0 * scale;
    items.push(Group::new("head", "The head", vec![edge(circle(x, y, radius))]).into());
    match fixing.front {
        Front::Socket => items.push(edge(hexagon(x, y, radius * 0.5))),
        Front::Slotted | Front::Oval => {
            // Slots stand level, as a careful fitter leaves them.
            let half = radius * SLOT_SHARE / 2.0;
            let along = libm::sqrt((radius * radius - half * half).max(0.0));
            for at in [y - half, y + half] {
                items.push(edge(straight((x - along, at), (x + along, at))));
            }
            if fixing.front == Front::Oval {
                let rim = Path::stroked(circle(x, y, radius * 0.82), line_of(NARROW));
                items.push(rim.into());
            }
        }
        Front::Plain | Front::Nothing => {}
    }
    if fixing.through_plate() {
        let hole = hidden(fixing.clearance / 2.0);
        items.push(Group::new("hole", "Its hole through the plate", vec![hole]).into());
    }
    Group::new("front", "From in front", items)
}

/// What is written at a drawing.
struct Told {
    head: String,
    /// Each with the point that its leader begins at, mm from the plate's front and from
    /// the axis.
    above: Vec<(String, (f64, f64))>,
    below: Vec<(String, (f64, f64))>,
}

impl Told {
    fn of(layout: &Layout, fixing: Option<&Fixing>, section: &Section) -> Self {
        let thickness = layout.plate.thickness;
        let length = |mm: f64| if layout.inches { words::inches(mm) } else { words::mm(mm) };
        let across = |mm: f64| format!("\u{d8}{}", length(mm));
        let Some(fixing) = fixing else {
            return Self {
                head: String::new(),
                above: vec![("tape".to_owned(), (section.tape_middle(), 0.0))],
                below: Vec::new(),
            };
        };
        let mut above = Vec::new();
        let head = if fixing.front == Front::Nothing {
            "nothing shows".to_owned()
        } else {
            across(fixing.head_diameter)
        };
        if fixing.through_plate() {
            let hole = format!("hole in the plate {}", across(fixing.clearance));
            above.push((hole, (thickness * 0.75, fixing.clearance / 2.0)));
            if let Some(sunk) = fixing.countersink {
                let told = format!(
                    "countersunk to {}, {}\u{b0}",
                    across(sunk.top),
                    trimmed(sunk.angle, 1)
                );
                let slope = libm::tan((sunk.angle / 2.0).to_radians());
                let at = thickness.min(sunk.depth) * 0.2;
                above.push((told, (at, sunk.top / 2.0 - at * slope)));
            }
        } else {
            let stud = format!("stud {}", across(fixing.shank));
            above.push((stud, (thickness + fixing.length / 2.0, fixing.shank / 2.0)));
        }
        // The nearest row is that of the bore farthest in, whose leader stands rightmost.
        let below = fixing.bores.iter().rev().filter_map(|bore| {
            let at = section.on_wall_of(bore)?;
            let what = match bore.what {
                Bored::Shank => "shank hole",
                Bored::Pilot => "pilot hole",
                Bored::Insert => "hole for the insert",
                Bored::Tap => "hole for the thread",
                Bored::Clearance | Bored::Stud => "hole in the face",
            };
            let deep = match bore.depth {
                Depth::AsShank => String::new(),
                Depth::ToTip(depth) | Depth::FullWidth(depth) => {
                    format!(", {} deep", length(depth))
                }
                Depth::Through => ", through".to_owned(),
            };
            Some((format!("{what} {}{deep}", across(bore.diameter)), at))
        });
        Self { head, above, below: below.collect() }
    }

    /// All of it, for people who cannot see it.
    fn whole(&self) -> String {
        let head = (!self.head.is_empty()).then(|| format!("head {}", self.head));
        let rest = self.above.iter().chain(&self.below).map(|(text, _)| text.clone());
        let all: Vec<String> = head.into_iter().chain(rest).collect();
        format!("From in front and in section: {}.", all.join("; "))
    }
}

/// The box of a thing drawn.
fn box_of(things: &Things) -> Rect {
    let boxes = things.iter().map(|(path, _)| path.bounding_box());
    boxes.reduce(|all, next| all.union(next)).unwrap_or_default()
}
