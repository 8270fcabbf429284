//! What is cut, an operation a pass of the machine.

use crate::drawing::{Circle, Group, Item, Paint, Path};
use crate::job::Job;
use crate::mount::Hole;
use crate::photo::PlacedPhoto;
use crate::plate;

use super::super::block::{hole_edge, line_of};
use super::super::plaque::{border, centre_lines, decoration, united_lettering, wording};
use super::super::text::BLACK;
use super::{photos, side};

/// Width of cut lines in artwork, mm: a laser's hairline, and visible on paper.
const CUT_LINE: f64 = 0.1;

/// One pass of the machine.
#[derive(Debug, Clone)]
pub(super) struct Operation {
    /// Kebab-case name: of the group, the layer and the file.
    pub(super) name: &'static str,
    /// What it is and how it is meant, for people.
    pub(super) description: String,
    /// Filled paths, continuous lines and true circles, mm from the artwork's zero.
    pub(super) items: Vec<Item>,
}

/// Every operation there is, in the order in which a plate is made. A further one is a
/// function here and its entry.
const ALL: [fn(&Job) -> Operation; 9] = [
    lettering,
    single_stroke,
    ornaments,
    border_lines,
    photos::photos,
    photos::pockets,
    photos::pieces,
    outline,
    holes,
];

/// The operations of a job as the artwork shows them, empty ones left out.
pub(super) fn operations(job: &Job) -> Vec<Operation> {
    let all = ALL.iter().map(|operation| operation(job));
    all.filter(|operation| !operation.items.is_empty())
        .map(|operation| side::as_worked(job, operation))
        .collect()
}

impl Operation {
    /// Its group.
    pub(super) fn group(&self) -> Group {
        Group::new(self.name, &self.description, self.items.clone())
    }
}

/// Filled outlines, a path a row; united, so that no inner edge is followed.
fn lettering(job: &Job) -> Operation {
    Operation { name: "lettering", description: wording(job), items: united_lettering(job) }
}

/// Centre lines: open, without fill, each followed once.
fn single_stroke(job: &Job) -> Operation {
    Operation {
        name: "single-stroke",
        description: format!("Centre lines, to be followed once:\n{}", wording(job)),
        items: centre_lines(job, CUT_LINE),
    }
}

/// Dividers, emblems, corner ornaments, and frames and credits of photographs, filled, a path
/// each.
fn ornaments(job: &Job) -> Operation {
    let drawings = decoration(job, &Paint::Solid(BLACK)).map(|group| group.items);
    let mut items = drawings.unwrap_or_default();
    let about_photos = job.photos.iter().flat_map(PlacedPhoto::engraved);
    items.extend(about_photos.map(|path| Path::filled(path.clone(), BLACK).into()));
    let description =
        "Dividers, emblems, ornaments, frames and credits of photographs, filled".to_owned();
    Operation { name: "decoration", description, items }
}

/// Middles of the border's lines, drawn at their width.
fn border_lines(job: &Job) -> Operation {
    let items = border(job, BLACK).map(|group| group.items).unwrap_or_default();
    Operation {
        name: "border",
        description: "Border lines: the middle of each, drawn at its width".to_owned(),
        items,
    }
}

fn outline(job: &Job) -> Operation {
    Operation {
        name: "outline",
        description: "Edge of the plate".to_owned(),
        items: vec![cut(plate::outline(&job.layout.plate).path())],
    }
}

/// Round holes as true circles, slots as closed lines.
fn holes(job: &Job) -> Operation {
    let through = job.mount.holes.iter().filter(|hole| hole.through);
    Operation {
        name: "holes",
        description: "Holes through the plate".to_owned(),
        items: through.map(hole).collect(),
    }
}

fn hole(hole: &Hole) -> Item {
    let (centre, radius) = ((hole.x, hole.y), hole.clearance_diameter / 2.0);
    match hole.slot {
        None => Circle { centre, radius, stroke: line_of(CUT_LINE) }.into(),
        Some(_) => cut(hole_edge(centre, hole.travel(), radius)),
    }
}

pub(super) fn cut(path: kurbo::BezPath) -> Item {
    Path::stroked(path, line_of(CUT_LINE)).into()
}
