//! Plate and face in section, with what is drilled into them.

use kurbo::{Affine, BezPath, Point, Rect};

use crate::drawing::{Ends, Group, Item, LineType, Paint, Path};
use crate::layout::{FixingAsked, Into, Layout};
use crate::mount::{Bore, Depth, Fixing, point};
use crate::sheets::block::{NARROW, WIDE, line_of, narrow};
use crate::sheets::hatch::{Lean, hatching};
use crate::sheets::text::BLACK;

use super::driven::driven;
use super::turned::{Half, straight_body};
use super::{Drawn, Things, box_of};

/// How much of plate and face is shown beside the widest part, and of the face behind the
/// deepest bore, mm.
const BESIDE: f64 = 3.0;
const BEHIND: f64 = 2.5;
/// Least that is shown to each side of the axis, mm.
const LEAST_HALF: f64 = 5.0;
/// Face that is shown where its thickness is not told and nothing goes deep into it, mm.
const SHALLOW: f64 = 6.0;
/// Tape is drawn so thick, mm: what no figure gives.
const TAPE: f64 = 0.6;
/// Distances of hatching, mm on the page; the insert's finer, since it is small.
const HATCH_PLATE: f64 = 0.9;
const HATCH_FACE: f64 = 1.5;
const HATCH_INSERT: f64 = 0.55;
/// Where parts are broken off the line wavers so far, mm, and so often.
const WAVER: f64 = 0.2;
const WAVES: f64 = 1.9;
/// So near its ends it does not, so that lines meet there, mm.
const STILL: f64 = 0.8;

/// A section, in mm from the plate's front and from the axis.
pub(super) struct Section {
    plate: Material,
    face: Material,
    insert: Option<BezPath>,
    things: Things,
    tape: Option<(f64, f64)>,
    half: f64,
}

/// A part cut through.
struct Material {
    from: f64,
    to: f64,
    /// Whether it goes on behind what is shown.
    broken: bool,
    /// The half profile of what is taken out, from its left; ends on the axis where the hole
    /// is blind, empty where there is none.
    hole: Vec<Half>,
}

impl Section {
    pub(super) fn of(layout: &Layout, asked: &FixingAsked, fixing: Option<&Fixing>) -> Self {
        let thickness = layout.plate.thickness;
        let tape = fixing.is_none().then_some((thickness, thickness + TAPE));
        let off = fixing.map_or(0.0, |fixing| fixing.off);
        let start = tape.map_or(thickness + off, |tape| tape.1);
        let told = layout.face.as_ref().and_then(|face| face.thickness);
        let (end, broken) = face_end(fixing, (thickness, start), told);
        let bores = fixing.map(|fixing| bored(fixing, (thickness, start, end)));
        let things = fixing.map(|fixing| driven(asked, fixing, (thickness, start, end)));
        let things = things.unwrap_or_default();
        let widest = box_of(&things).y1;
        let half = (widest + BESIDE).max(LEAST_HALF);
        let insert = match asked {
            FixingAsked::MachineScrew { into: Into::Insert { bore, depth }, .. } => {
                let inner = fixing.map_or(0.0, |fixing| fixing.shank / 2.0);
                let mut ring = straight_body(start, start + depth, bore / 2.0);
                ring.extend(straight_body(start, start + depth, inner));
                Some(ring)
            }
            _ => None,
        };
        let hole = fixing.map(|fixing| through_plate(fixing, thickness)).unwrap_or_default();
        Self {
            plate: Material { from: 0.0, to: thickness, broken: false, hole },
            face: Material { from: start, to: end, broken, hole: bores.unwrap_or_default() },
            insert,
            things,
            tape,
            half,
        }
    }

    /// What the section takes, mm.
    pub(super) fn reach(&self) -> Rect {
        let all = Rect::new(0.0, -self.half, self.face.to, self.half);
        all.union(box_of(&self.things)).inflate(0.0, WAVER)
    }

    /// The middle of the tape, mm from the plate's front.
    pub(super) fn tape_middle(&self) -> f64 {
        self.tape.map_or(0.0, |(from, to)| f64::midpoint(from, to))
    }

    /// A point on the wall of a bore of the face that is seen, nothing where it is not.
    pub(super) fn on_wall_of(&self, bore: &Bore) -> Option<Half> {
        let radius = bore.diameter / 2.0;
        let sides = self.face.hole.windows(2).filter_map(|pair| match pair {
            [(from, a), (to, b)] if (a - radius).abs() < 1e-9 && (b - radius).abs() < 1e-9 => {
                Some((*from, *to))
            }
            _ => None,
        });
        let (from, to) = sides.reduce(|a, b| if b.1 - b.0 > a.1 - a.0 { b } else { a })?;
        Some((from + (to - from) * 0.6, radius))
    }

    /// The section on its page.
    pub(super) fn group(&self, to: Affine) -> Group {
        let mut things: Things = Vec::new();
        for (material, lean, apart) in
            [(&self.face, Lean::Left, HATCH_FACE), (&self.plate, Lean::Right, HATCH_PLATE)]
        {
            let area = to * material.area(self.half);
            things.push((hatching(&area, lean, apart), Drawn::Narrow));
            let (edges, breaks) = material.edges(self.half);
            things.push((to * edges, Drawn::Edge));
            things.push((to * breaks, Drawn::Narrow));
        }
        if let Some((from, end)) = self.tape {
            things.push((to * straight_body(from, end, self.half), Drawn::Thin));
        }
        if let Some(ring) = &self.insert {
            let ring = to * ring.clone();
            things.push((hatching(&ring, Lean::Right, HATCH_INSERT), Drawn::Narrow));
            things.push((ring, Drawn::Edge));
        }
        things.extend(self.things.iter().map(|(path, drawn)| (to * path.clone(), *drawn)));
        let items = things.into_iter().map(|(path, drawn)| item(path, drawn)).collect();
        Group::new("section", "Section through plate and face", items)
    }
}

/// How a thing is drawn on the page.
fn item(path: BezPath, drawn: Drawn) -> Item {
    let white = Some(Paint::Solid([255; 3]));
    let round = |width: f64| crate::drawing::Stroke { ends: Ends::Round, ..line_of(width) };
    match drawn {
        Drawn::Body => Path { path, fill: white, stroke: Some(round(WIDE)) },
        Drawn::White => Path { path, fill: white, stroke: None },
        Drawn::Narrow => Path::stroked(path, round(NARROW)),
        Drawn::Edge => Path::stroked(path, round(WIDE)),
        Drawn::Hidden => Path::stroked(path, narrow(LineType::Dashed)),
        Drawn::Thin => Path::filled(path, BLACK),
    }
    .into()
}

/// Where the face ends in the section, and whether it is broken off there.
fn face_end(
    fixing: Option<&Fixing>,
    (thickness, start): (f64, f64),
    told: Option<f64>,
) -> (f64, bool) {
    let Some(fixing) = fixing else { return shown(start, SHALLOW, told) };
    let through = fixing.bores.iter().any(|bore| bore.depth == Depth::Through);
    let reach = fixing.penetration(thickness);
    if through {
        // A nut's screw ends just behind it.
        let fits = (reach - fixing.behind - 1.0).max(2.0);
        return (start + told.unwrap_or(fits), false);
    }
    let deepest = fixing.bores.iter().filter_map(Bore::stop).fold(reach, f64::max);
    shown(start, deepest + BEHIND, told)
}

/// So much of the face, or all of it where it is hardly thicker.
fn shown(start: f64, deep: f64, told: Option<f64>) -> (f64, bool) {
    match told {
        Some(told) if told <= deep + BEHIND => (start + told, false),
        _ => (start + deep, true),
    }
}

/// The half profile of the hole through the plate.
fn through_plate(fixing: &Fixing, thickness: f64) -> Vec<Half> {
    if !fixing.through_plate() {
        return Vec::new();
    }
    let radius = fixing.clearance / 2.0;
    let mut hole = Vec::new();
    if let Some(sunk) = fixing.countersink {
        let slope = libm::tan((sunk.angle / 2.0).to_radians());
        let top = sunk.top / 2.0;
        hole.push((0.0, top));
        // The cone ends where it is as narrow as the hole, or at the plate's back.
        let meets = ((top - radius) / slope).min(thickness);
        hole.push((meets, top - meets * slope));
        if meets >= thickness {
            return hole;
        }
    } else {
        hole.push((0.0, radius));
    }
    hole.push((thickness, radius));
    hole
}

/// The half profile of all bores of the face, wider ones first.
fn bored(fixing: &Fixing, (thickness, start, end): (f64, f64, f64)) -> Vec<Half> {
    let mut hole: Vec<Half> = Vec::new();
    let mut at = start;
    for bore in &fixing.bores {
        let radius = bore.diameter / 2.0;
        let tip = point(bore.diameter);
        let (full, closed) = match bore.depth {
            Depth::Through => (end, None),
            Depth::AsShank => (smooth_end(fixing, (thickness, start)), None),
            Depth::ToTip(depth) => (start + depth - tip, Some(start + depth)),
            Depth::FullWidth(depth) => (start + depth, Some(start + depth + tip)),
        };
        let full = full.clamp(at, end);
        hole.extend([(at, radius), (full, radius)]);
        at = full;
        match closed {
            Some(closed) if closed < end => hole.push((closed, 0.0)),
            Some(_) => hole.push((end, radius)),
            None => {}
        }
    }
    hole
}

/// Where the smooth shank ends, mm from the plate's front.
pub(super) fn smooth_end(fixing: &Fixing, (thickness, start): (f64, f64)) -> f64 {
    // Its length begins where that counts from: its tip stands so far behind that.
    let begins = start + fixing.penetration(thickness) - fixing.length;
    begins + fixing.smooth
}

impl Material {
    fn blind(&self) -> bool {
        self.hole.last().is_some_and(|(_, radius)| *radius <= 0.0)
    }

    /// The far side, with the wavering where it is broken off.
    fn back(&self, from: f64, to: f64) -> Vec<Point> {
        if self.broken {
            wavering(from, to, |y, off| Point::new(self.to + off, y))
        } else {
            vec![Point::new(self.to, from), Point::new(self.to, to)]
        }
    }

    fn side(&self, y: f64) -> Vec<Point> {
        wavering(self.from, self.to, |x, off| Point::new(x, y + off))
    }

    /// The cut area: one round where the hole is blind, else two.
    fn area(&self, half: f64) -> BezPath {
        let near = self.hole.first().map_or(0.0, |hole| hole.1);
        let end = if self.blind() { 0.0 } else { self.hole.last().map_or(0.0, |hole| hole.1) };
        let mut area = BezPath::new();
        for down in [-1.0, 1.0] {
            let mut round = self.side(half * down);
            round.extend(self.back(half * down, end * down));
            round.extend(self.hole.iter().rev().map(|(x, r)| Point::new(*x, r * down)));
            round.push(Point::new(self.from, near * down));
            area.extend(chain(&round));
            area.close_path();
        }
        area
    }

    /// Visible edges, and the wavering lines of breaks.
    fn edges(&self, half: f64) -> (BezPath, BezPath) {
        let (mut edges, mut breaks) = (BezPath::new(), BezPath::new());
        let near = self.hole.first().map_or(0.0, |hole| hole.1);
        let end = if self.blind() { 0.0 } else { self.hole.last().map_or(0.0, |hole| hole.1) };
        for down in [-1.0, 1.0] {
            breaks.extend(chain(&self.side(half * down)));
            let back = chain(&self.back(half * down, end * down));
            if self.broken {
                breaks.extend(back);
            } else {
                edges.extend(back);
            }
            edges.extend(chain(&[
                Point::new(self.from, half * down),
                Point::new(self.from, near * down),
            ]));
            let wall: Vec<Point> =
                self.hole.iter().map(|(x, r)| Point::new(*x, r * down)).collect();
            edges.extend(chain(&wall));
        }
        (edges, breaks)
    }
}

/// Points along a break by hand, `at` a place and how far off it.
fn wavering(from: f64, to: f64, at: impl Fn(f64, f64) -> Point) -> Vec<Point> {
    let steps = ((to - from).abs() / 0.2).ceil().max(1.0);
    let mut points = Vec::new();
    let mut step = 0.0;
    while step <= steps {
        let place = from + (to - from) * step / steps;
        let wave = libm::sin(place * WAVES) + 0.6 * libm::sin(place * WAVES * 0.61 + 1.0);
        let still = (place - from).abs().min((to - place).abs()) / STILL;
        points.push(at(place, WAVER * wave * still.min(1.0)));
        step += 1.0;
    }
    points
}

fn chain(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (index, at) in points.iter().enumerate() {
        if index == 0 { path.move_to(*at) } else { path.line_to(*at) }
    }
    path
}
