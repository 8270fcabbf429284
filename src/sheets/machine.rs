//! Drawings for people with a machine: outlines and true circles at true size, counted
//! from a zero that has a name; no text, no dimensions. A group an operation.

use kurbo::{Affine, BezPath, Point, Rect, Shape};

use crate::drawing::{Circle, Drawing, Group, Item, Page, Path};
use crate::job::Job;
use crate::mount::{Bored, Hole, Laid};
use crate::plate;

use super::block::{hole_edge, line_of, moved};
use super::dimension::Along;
use super::drilling::countersink;
use super::pattern::{datum_words, subject};
use super::sheet::Sheet;
use super::words;

/// Width of lines, mm: a hairline.
const HAIRLINE: f64 = 0.1;

/// A drawing for a machine.
#[derive(Debug, Clone)]
pub struct MachineSheet {
    /// The drawing; its page is the box of all that is on it.
    pub sheet: Sheet,
    /// Where zero stands on the page, mm.
    pub zero: (f64, f64),
    /// What it is and where zero lies, in words.
    pub remark: String,
}

/// The face from its datum: outline of the plate, holes, and what the face has of edge,
/// trim, recess and old holes.
#[must_use]
pub fn pattern_for_machines(job: &Job) -> MachineSheet {
    let subject = subject(job);
    let mut groups = plate_groups(job);
    if let Some(plan) = &job.mount.face {
        let to_plate = Affine::translate((-plan.plate_x, -plan.plate_y));
        let edges = [
            ("face", "Edge of the face", &plan.edge),
            ("trim", "Inner edge of the trim", &plan.trim),
            ("recess", "Edge of the recess", &plan.recess),
        ];
        for (name, description, laid) in edges {
            let outline = |laid: &Laid| line(to_plate * laid.path());
            groups.push(Group::new(name, description, laid.iter().map(outline).collect()));
        }
    }
    groups.extend(bores(job));
    let old = subject.old.iter().map(|old| round((old.x, old.y), old.radius)).collect();
    groups.push(Group::new("old-holes", "Holes that are already in the face", old));
    let zero = format!(
        "across, {}; up and down, {}",
        datum_words(job, Along::Across),
        datum_words(job, Along::Down)
    );
    sheet(job, "mount pattern", groups, (subject.across.at, subject.along.at), &zero)
}

/// The plate alone from the top left corner of its box: outline, holes, countersinks.
#[must_use]
pub fn drilling_for_machines(job: &Job) -> MachineSheet {
    let mut groups = plate_groups(job);
    let sinks = countersink(job).map_or_else(Vec::new, |sunk| {
        job.mount.holes.iter().map(|hole| round((hole.x, hole.y), sunk.top / 2.0)).collect()
    });
    groups.push(Group::new("countersinks", "Countersinks on the front, at the surface", sinks));
    let zero = "the plate's left edge and top edge, seen from the front";
    sheet(job, "plate drilling", groups, (0.0, 0.0), zero)
}

fn plate_groups(job: &Job) -> Vec<Group> {
    let outline = line(plate::outline(&job.layout.plate).path());
    let (holes, studs): (Vec<&Hole>, Vec<&Hole>) =
        job.mount.holes.iter().partition(|hole| hole.through);
    let drawn = |holes: Vec<&Hole>| holes.into_iter().map(hole).collect();
    let behind = "Studs on the plate's back, seen from the front: no holes through the plate";
    vec![
        Group::new("plate-outline", "Edge of the plate", vec![outline]),
        Group::new("holes", "Holes through the plate", drawn(holes)),
        Group::new("studs", behind, drawn(studs)),
    ]
}

/// What is bored in the face at each hole, a group a bore.
fn bores(job: &Job) -> Vec<Group> {
    let bores = job.mount.fixing.iter().flat_map(|fixing| &fixing.bores);
    bores
        .map(|bore| {
            let (name, description) = match bore.what {
                Bored::Shank => ("shank-bores", "In the face, for the smooth shank"),
                Bored::Pilot => ("pilot-bores", "In the face, for the thread or pin"),
                Bored::Insert => ("insert-bores", "In the face, for the inserts"),
                Bored::Tap => ("tap-bores", "In the face, for threads to be cut"),
                Bored::Clearance => ("clearance-bores", "In the face, for what goes on through"),
                Bored::Stud => ("stud-bores", "In the face, for studs and glue"),
            };
            let holes = job.mount.holes.iter();
            let circles = holes.map(|hole| round((hole.x, hole.y), bore.diameter / 2.0)).collect();
            Group::new(name, description, circles)
        })
        .collect()
}

fn line(path: BezPath) -> Item {
    Path::stroked(path, line_of(HAIRLINE)).into()
}

fn round(centre: (f64, f64), radius: f64) -> Item {
    Circle { centre, radius, stroke: line_of(HAIRLINE) }.into()
}

/// A true circle, or a slot as a closed path.
fn hole(hole: &Hole) -> Item {
    let (centre, radius) = ((hole.x, hole.y), hole.clearance_diameter / 2.0);
    match hole.slot {
        None => round(centre, radius),
        Some(_) => line(hole_edge(centre, hole.travel(), radius)),
    }
}

/// Box of the items of groups in plate coordinates.
fn extent(groups: &[Group]) -> Rect {
    groups
        .iter()
        .flat_map(|group| &group.items)
        .filter_map(|item| match item {
            Item::Path(path) => Some(path.path.bounding_box()),
            Item::Circle(circle) => {
                let centre = Point::from(circle.centre);
                Some(kurbo::Circle::new(centre, circle.radius).bounding_box())
            }
            _ => None,
        })
        .reduce(|all, next| all.union(next))
        .unwrap_or(Rect::ZERO)
}

/// The groups on a page that is their box; empty ones left out.
fn sheet(
    job: &Job,
    kind: &str,
    groups: Vec<Group>,
    (zero_x, zero_y): (f64, f64),
    zero: &str,
) -> MachineSheet {
    let all = extent(&groups);
    let (x, y) = (-all.x0, -all.y0);
    let items: Vec<Item> = groups
        .into_iter()
        .filter(|group| !group.items.is_empty())
        .map(|group| moved(group.into(), x, y))
        .collect();
    let remark = format!(
        "{kind} in mm at true size, no allowance made for the width of a cutter\n\
         zero: {zero}\nproof {}, mark {}\n{}",
        job.layout.proof.number,
        job.mark,
        words::signed_off_in_full(job.signed.as_ref())
    );
    let drawing = Drawing {
        title: format!("{}: {kind}, mm", job.layout.title),
        description: remark.clone(),
        background: None,
        pages: vec![Page { width: all.width(), height: all.height(), items }],
    };
    let sheet = Sheet { drawing, plate_at: vec![Some((x, y))] };
    MachineSheet { sheet, zero: (x + zero_x, y + zero_y), remark }
}
