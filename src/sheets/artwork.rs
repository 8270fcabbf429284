//! Artwork: outlines at true size on a page that is the plate's box, nothing else.

use crate::drawing::{Drawing, Item, Page, Paint};
use crate::job::Job;

use super::plaque::{lettering, operations, wording};
use super::sheet::Sheet;
use super::text::BLACK;
use super::words;

/// The whole artwork in mm: groups `lettering`, `border`, `outline`, `holes`;
/// origin at the plate's top left; filled letters, continuous cut lines; no
/// ground, no dimensions. Groups with nothing in them are left out.
#[must_use]
pub fn artwork(job: &Job) -> Sheet {
    Sheet::of_plates(Drawing {
        title: format!("{}: artwork, mm", job.layout.title),
        description: format!(
            "{}\nProof {}, mark {}.\nWording:\n{}",
            words::ARTWORK,
            job.layout.proof.number,
            job.mark,
            wording(job)
        ),
        background: None,
        pages: vec![plate_page(job, operations(job))],
    })
}

/// The lettering alone, flat black on white, on a page that is the plate's box.
#[must_use]
pub fn proof_lettering(job: &Job) -> Sheet {
    let letters = lettering(job, &Paint::Solid(BLACK));
    Sheet::of_plates(Drawing {
        title: format!("{}: lettering", job.layout.title),
        description: wording(job),
        background: Some([255; 3]),
        pages: vec![plate_page(job, vec![letters.into()])],
    })
}

fn plate_page(job: &Job, items: Vec<Item>) -> Page {
    Page { width: job.layout.plate.width, height: job.layout.plate.height, items }
}
