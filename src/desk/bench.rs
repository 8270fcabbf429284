//! How a layout stands, as the page is told.

use serde_json::Value;

use crate::drawing::Drawing;
use crate::drawing::write::{Pictures, svg_for_screen};
use crate::files::folder::Output;
use crate::files::load::Loaded;
use crate::job::{Job, Judged, Signature};
use crate::layout::{Edited, Named, path_of};
use crate::photo::process_to_name;
use crate::remedies::{Cures as Proved, Remedy};
use crate::sheets;
use crate::units::digits::{fixed, trimmed};

use super::lines::lines;
use super::made::Made;
use super::wire::{
    Bench, Cure, CureChange, Cures, File, Files, Finding, Photo, Picture, Plaque, Signed,
};

/// Pixels to the mm that photographs are shown with: true size on a screen of 96 to the inch,
/// four times enlarged.
const SHOWN_PER_MM: f64 = 15.0;

/// A made version as the page shows it.
pub(super) fn bench(made: &Made, pictures: &Pictures, (undo, redo): (bool, bool)) -> Bench {
    let values = Edited::of(&made.text).map_or(Value::Null, |edited| edited.values());
    let (mistakes, plaque) = match &made.outcome {
        Ok(loaded) => (Vec::new(), Some(plaque(loaded, pictures))),
        Err(mistakes) => (mistakes.clone(), None),
    };
    Bench {
        name: made.name.clone(),
        version: made.version,
        text: made.text.to_string(),
        values,
        undo,
        redo,
        mistakes,
        plaque,
    }
}

fn plaque(loaded: &Loaded, pictures: &Pictures) -> Plaque {
    let job = &loaded.job;
    let plate = &job.layout.plate;
    Plaque {
        front: picture(&sheets::front(job).drawing, pictures),
        face: sheets::on_face(job).map(|drawing| picture(&drawing, pictures)),
        size: (plate.width, plate.height),
        fit: fit(job),
        mount: mount(job),
        lines: lines(job),
        photo_process: process_to_name(job.layout.engraving.process).map(|p| p.word().to_owned()),
        photos: photos(job),
        findings: job.findings.iter().map(|judged| finding(job, judged)).collect(),
        mark: job.mark.clone(),
        signed: signed(job),
        withheld: sheets::withheld(job),
    }
}

/// A drawing of one page as the page shows it; empty where it cannot be written.
pub(super) fn picture(drawing: &Drawing, pictures: &Pictures) -> Picture {
    let (width, height) =
        drawing.pages.first().map_or((0.0, 0.0), |page| (page.width, page.height));
    let svg = svg_for_screen(drawing, SHOWN_PER_MM, pictures).unwrap_or_default();
    Picture { svg, width, height }
}

/// What was reached, in a sentence.
fn fit(job: &Job) -> String {
    let fitted = &job.fitted;
    match fitted.limit_scale {
        None => format!(
            "It does not fit: lines stand at {} % of their least heights.",
            fixed(fitted.phi * 100.0, 1)
        ),
        Some(limit) => format!(
            "Letters of size 1 stand {} mm high; the largest that fit are {} mm, of which {} % are \
             used.",
            fixed(fitted.scale, 2),
            fixed(limit, 2),
            trimmed(fitted.ease * 100.0, 1)
        ),
    }
}

/// What holds the plate.
fn mount(job: &Job) -> String {
    let holes = job.mount.holes.len();
    let fixing = job.mount.fixing.as_ref().map(|fixing| fixing.name.clone());
    let what = match (fixing, holes) {
        (None, _) => return "No fixing is told.".to_owned(),
        (Some(name), 0) => return format!("{name}; no holes."),
        (Some(name), 1) => format!("{name}; 1 hole."),
        (Some(name), more) => format!("{name}; {more} holes."),
    };
    match &job.mount.set.why {
        Some(why) => {
            let set = job.mount.set.told();
            format!("{what} Holes chosen: {set}, because {why} (common practice, no source).")
        }
        None => what,
    }
}

fn photos(job: &Job) -> Vec<Photo> {
    let all = job.photos.iter().filter_map(|placed| {
        let photo = job.layout.photos.get(placed.index)?;
        let (width, height) = (f64::from(photo.picture.width), f64::from(photo.picture.height));
        let [left, top, right, bottom] = placed.crop;
        Some(Photo {
            file: photo.path.clone(),
            pixels: (photo.picture.width, photo.picture.height),
            size: (placed.width(), placed.height()),
            crop: [left / width, top / height, right / width, bottom / height],
            per_mm: placed.pixels_per_mm(),
        })
    });
    all.collect()
}

fn finding(job: &Job, judged: &Judged) -> Finding {
    let finding = &judged.finding;
    // The key as it is written in the file, or the nearest table above it that is.
    let mut key = finding.place.key.as_str();
    while job.layout.keys.exact(key).is_none() {
        let Some((above, _)) = key.rsplit_once('.') else { break };
        key = above;
    }
    Finding {
        code: finding.code.to_owned(),
        severity: finding.severity.to_string(),
        path: path_of(key),
        place: finding.place.key.clone(),
        measured: finding.measured.map(|measured| measured.value),
        message: finding.message.clone(),
        rule: format!("{} ({})", finding.rule, finding.source),
        accepted: judged.accepted.clone(),
        can_accept: judged.can_be_accepted(),
    }
}

fn signed(job: &Job) -> Option<Signed> {
    let signed = job.signed.as_ref()?;
    Some(Signed {
        mark: signed.mark.clone(),
        holds: signed.holds(),
        signatures: signed.signatures.iter().map(Signature::told).collect(),
        changes: signed.changes.clone(),
    })
}

/// The files of a pack as the page shows them, in the order of the contents sheet.
pub(super) fn told_files(version: u64, pack: &[Output]) -> Files {
    let all = pack.iter().filter_map(|output| Some((sheets::purpose(&output.name)?, output)));
    let mut all: Vec<_> = all.collect();
    all.sort_by_key(|(purpose, _)| purpose.place);
    let file = |(purpose, output): (sheets::Purpose, &Output)| File {
        name: output.name.clone(),
        reader: purpose.reader.to_owned(),
        what: purpose.what.to_owned(),
    };
    Files { version, files: all.into_iter().map(file).collect() }
}

/// Proved cures as the page shows them.
pub(super) fn told_cures(version: u64, proved: &[Proved]) -> Cures {
    let all = proved
        .iter()
        .flat_map(|cures| cures.remedies.iter().filter_map(|remedy| cure(cures.finding, remedy)));
    Cures { version, cures: all.collect() }
}

/// A cure, where all of its values can be read.
fn cure(finding: usize, remedy: &Remedy) -> Option<Cure> {
    let changes = remedy.edits.iter().map(|edit| {
        let to = Edited::of(&format!("value = {}", edit.value)).ok()?;
        let to = to.values().get("value")?.clone();
        Some(CureChange::set(path_of(&edit.key), to))
    });
    let changes: Vec<CureChange> = changes.collect::<Option<_>>()?;
    (!changes.is_empty()).then(|| Cure { finding, message: remedy.message.clone(), changes })
}
