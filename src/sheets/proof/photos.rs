//! The photographs: what is shown of which file, how large, how it is made, whose it is.

use crate::job::Job;
use crate::layout::{Named, Photo, Shape};
use crate::photo::{PlacedPhoto, making};
use crate::units::MM_PER_INCH;
use crate::units::digits::{fixed, trimmed};

use super::super::heading::{READ, section};
use super::super::page::Flow;
use super::super::table::{Cell, Para, Table, columns, width_of};
use super::super::text::Labels;
use super::super::words::{self, mm};

pub(super) fn put(flow: &mut Flow, labels: &Labels, job: &Job) {
    let many = job.photos.len() > 1;
    for placed in &job.photos {
        let Some(photo) = job.layout.photos.get(placed.index) else { continue };
        let facts = facts(job, photo, placed);
        let rows: Vec<Vec<Cell>> = facts
            .iter()
            .map(|(name, value)| {
                vec![
                    vec![Para::new(*name, READ.caption())],
                    vec![Para::new(value.clone(), READ.figures())],
                ]
            })
            .collect();
        let name = width_of(labels, facts.iter().map(|fact| (fact.0, READ.caption())));
        let columns = columns(flow.width(), &[Some(name), None]);
        let table = Table { columns, head: Vec::new(), rows, ruled: true };
        let head =
            if many { format!("Photograph {}", placed.index + 1) } else { "Photograph".to_owned() };
        section(flow, labels, READ, &head, table.kept_height(labels));
        table.put(flow, labels);
    }
}

/// Name and value of everything that a photograph is.
fn facts(job: &Job, photo: &Photo, placed: &PlacedPhoto) -> Vec<(&'static str, String)> {
    let both = |value: f64| words::both(job.layout.inches, value);
    let none = |what: &str| format!("none told{what}");
    let shape = match photo.shape {
        Shape::Rounded { corner } => format!("rounded, corners of {}", mm(corner)),
        ref shape => shape.word().to_owned(),
    };
    let [left, top, right, bottom] = placed.crop.map(|side| trimmed(side.round(), 0));
    let mut facts = vec![
        ("File", photo.path.clone()),
        (
            "Width \u{d7} height",
            format!("{} \u{d7} {}", both(placed.width()), both(placed.height())),
        ),
        ("Outline", shape),
        (
            "Place",
            format!(
                "centre {} from the left edge, {} from the top edge",
                both(f64::midpoint(placed.sides[0], placed.sides[2])),
                both(f64::midpoint(placed.sides[1], placed.sides[3]))
            ),
        ),
        (
            "Crop",
            format!(
                "pixels {left} to {right} across and {top} to {bottom} down, of {} \u{d7} {}",
                photo.picture.width, photo.picture.height
            ),
        ),
        (
            "Sharpness",
            format!(
                "{} pixels a mm, {} an inch",
                fixed(placed.pixels_per_mm(), 1),
                fixed(placed.pixels_per_mm() * MM_PER_INCH, 0)
            ),
        ),
        (
            "Made",
            match making(photo, &job.layout) {
                Ok(making) => format!("{} ({})", making.told(), making.source),
                Err(objection) => format!("{}: {}", objection.process.word(), objection.why),
            },
        ),
    ];
    if let Some(frame) = photo.frame {
        let frame = format!("a line {} wide, {} out", mm(frame.weight), mm(frame.gap));
        facts.push(("Frame", frame));
    }
    if let Some(inset) = photo.making.inset {
        let piece = format!(
            "a piece {} thick in a pocket as deep, {} wider all round",
            mm(inset.thickness),
            mm(inset.gap)
        );
        facts.push(("Set in", piece));
    }
    facts.push(("Credit", photo.credit.clone().unwrap_or_else(|| none(""))));
    let without = ": no artwork is made without it";
    facts.push(("Permission", photo.permission.clone().unwrap_or_else(|| none(without))));
    facts
}
