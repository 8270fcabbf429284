//! `ansata make`: everything into one folder.

use std::path::{Path, PathBuf};

use crate::drawing::Drawing;
use crate::drawing::write::{WriteError, dxf, pdf, png, svg, svg_about, usual_dpi};
use crate::finding::Scope;
use crate::job::Job;
use crate::remedies::cures;
use crate::report::{SheetFile, report};
use crate::sheets::{self, MachineSheet, Sheet};

use super::folder::{self, Output, REPORT};
use super::load::{Loaded, loaded};
use super::{Failure, LayoutArguments, Outcome, USUAL_DPI, fit, say};

pub(super) fn make(
    arguments: &LayoutArguments,
    output: Option<PathBuf>,
    dpi: Option<f64>,
) -> Result<Outcome, Failure> {
    let Loaded { name, source, job, inputs } = loaded(arguments)?;
    let cures = cures(&job);
    let mut set = Set::default();
    let proof = sheets::proof(&job, &cures);
    set.add("proof.svg", &proof, |s| svg(&s.drawing).map(String::into_bytes))?;
    set.add("proof.png", &proof, |s| picture(&s.drawing, dpi))?;
    set.add("proof.pdf", &proof, |s| pdf(&s.drawing))?;
    if !job.withholds(Scope::Mount) {
        let pattern = sheets::pattern(&job);
        set.add("pattern.svg", &pattern, |s| svg(&s.drawing).map(String::into_bytes))?;
        set.add("pattern.pdf", &pattern, |s| pdf(&s.drawing))?;
        set.machine(&job)?;
    }
    set.add("mockup.pdf", &sheets::mockup(&job), |s| pdf(&s.drawing))?;
    if !withholds_artwork(&job) {
        let artwork = sheets::artwork(&job);
        set.add("artwork-mm.svg", &artwork, |s| svg(&s.drawing).map(String::into_bytes))?;
    }
    let mut files: Vec<String> = set.outputs.iter().map(|output| output.name.clone()).collect();
    files.push(REPORT.to_owned());
    let text = report(&job, &cures, &source, &set.sheets, &files);
    set.outputs.push(Output { name: REPORT.to_owned(), bytes: text.into_bytes() });

    let folder = output.unwrap_or_else(|| Path::new("out").join(&name));
    let done = folder::write(&folder, &set.outputs, &inputs)?;
    if !arguments.quiet {
        say::out(&fit::findings(&job, &cures, &source));
        say::out(&summary(&job, &folder, &done));
    }
    Ok(fit::outcome(&job))
}

/// The drawing as PNG, at the resolution asked for or the usual one.
pub(super) fn picture(drawing: &Drawing, dpi: Option<f64>) -> Result<Vec<u8>, WriteError> {
    let dpi = dpi.map_or_else(|| usual_dpi(drawing, USUAL_DPI), Ok)?;
    png(drawing, dpi)
}

/// Lettering and wording share the artwork.
pub(super) fn withholds_artwork(job: &Job) -> bool {
    job.withholds(Scope::Lettering) || job.withholds(Scope::Wording)
}

/// What is to be written, as it grows.
#[derive(Default)]
struct Set {
    outputs: Vec<Output>,
    sheets: Vec<SheetFile>,
}

impl Set {
    fn add(
        &mut self,
        name: &str,
        sheet: &Sheet,
        write: impl Fn(&Sheet) -> Result<Vec<u8>, WriteError>,
    ) -> Result<(), Failure> {
        let bytes =
            write(sheet).map_err(|error| Failure::Write(format!("error: {name}: {error}")))?;
        self.outputs.push(Output { name: name.to_owned(), bytes });
        for (index, page) in sheet.drawing.pages.iter().enumerate() {
            let plate = sheet.plate_at.get(index).copied().flatten();
            self.sheets.push(SheetFile {
                file: name.to_owned(),
                page: index + 1,
                width_mm: tolerable(page.width),
                height_mm: tolerable(page.height),
                plate_x_mm: plate.map(|(x, _)| tolerable(x)),
                plate_y_mm: plate.map(|(_, y)| tolerable(y)),
                zero_x_mm: None,
                zero_y_mm: None,
            });
        }
        Ok(())
    }
}

impl Set {
    /// What people with a machine are given: the face from its datum, and the plate's
    /// own drilling where it has holes.
    fn machine(&mut self, job: &Job) -> Result<(), Failure> {
        let face = sheets::pattern_for_machines(job);
        self.with_zero("pattern-mm.dxf", &face, |s| dxf(&s.sheet.drawing, s.zero, &s.remark))?;
        self.with_zero("pattern-mm.svg", &face, |s| svg_about(&s.sheet.drawing, s.zero))?;
        if !job.mount.holes.is_empty() {
            let plate = sheets::drilling_for_machines(job);
            self.with_zero("drilling-mm.dxf", &plate, |s| {
                dxf(&s.sheet.drawing, s.zero, &s.remark)
            })?;
        }
        Ok(())
    }

    fn with_zero(
        &mut self,
        name: &str,
        drawing: &MachineSheet,
        write: impl Fn(&MachineSheet) -> Result<String, WriteError>,
    ) -> Result<(), Failure> {
        self.add(name, &drawing.sheet, |_| write(drawing).map(String::into_bytes))?;
        if let Some(file) = self.sheets.last_mut() {
            (file.zero_x_mm, file.zero_y_mm) =
                (Some(tolerable(drawing.zero.0)), Some(tolerable(drawing.zero.1)));
        }
        Ok(())
    }
}

/// A length as the report gives it.
fn tolerable(mm: f64) -> f64 {
    (mm * 10_000.0).round() / 10_000.0
}

fn summary(job: &Job, folder: &Path, done: &folder::Written) -> String {
    let mut text = format!("wrote {}: {}\n", folder.display(), done.written.join(", "));
    if job.withholds(Scope::Mount) {
        text.push_str("withheld: pattern (a stop of the mount stands)\n");
    }
    if withholds_artwork(job) {
        text.push_str("withheld: artwork (a stop of the lettering stands)\n");
    }
    if !done.removed.is_empty() {
        text.push_str(&format!(
            "removed, because they are of an earlier run: {}\n",
            done.removed.join(", ")
        ));
    }
    text.push_str(&format!("proof mark {}\n", job.mark));
    text
}
