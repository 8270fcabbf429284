//! `ansata proof` and `ansata pattern`: one sheet into one file.

use std::path::Path;

use crate::drawing::Drawing;
use crate::drawing::write::{pdf, svg};
use crate::files::load::Loaded;
use crate::files::pack::picture;
use crate::files::{Failure, folder};
use crate::remedies::cures;
use crate::sheets::{self, PrintedBars};

use super::make::why_withheld;
use super::{FileArguments, LayoutArguments, Only, Outcome, fit, loaded, say};

/// Formats by file ending.
#[derive(Clone, Copy)]
pub(super) enum Format {
    Svg,
    Png,
    Pdf,
}

const ENDINGS: [(&str, Format); 3] =
    [("svg", Format::Svg), ("png", Format::Png), ("pdf", Format::Pdf)];

pub(super) fn proof(
    arguments: &LayoutArguments,
    file: &FileArguments,
    only: Option<Only>,
) -> Result<Outcome, Failure> {
    let format = format(&file.output)?;
    let Loaded { source, job, inputs, .. } = loaded(arguments)?;
    let cures = cures(&job);
    let sheet = match only {
        Some(Only::Lettering) => sheets::proof_lettering(&job),
        None => sheets::proof(&job, &cures),
    };
    write(&sheet.drawing, format, file, &inputs)?;
    if !arguments.quiet {
        say::out(&fit::findings(&job, &cures, &source));
        say::out(&format!("wrote {}\n", file.output.display()));
    }
    Ok(fit::outcome(&job))
}

pub(super) fn pattern(
    arguments: &LayoutArguments,
    file: &FileArguments,
    bars: Option<PrintedBars>,
) -> Result<Outcome, Failure> {
    let format = format(&file.output)?;
    let Loaded { source, job, inputs, .. } = loaded(arguments)?;
    let withheld = job.withholds_pattern();
    if !withheld {
        let sheet = match bars {
            None => sheets::pattern(&job),
            Some(bars) => sheets::corrected_pattern(&job, bars),
        };
        write(&sheet.drawing, format, file, &inputs)?;
    }
    if !arguments.quiet {
        say::out(&fit::findings(&job, &cures(&job), &source));
        say::out(&if withheld {
            format!("withheld: pattern ({}); nothing was written\n", why_withheld(&job, "mount"))
        } else {
            format!("wrote {}\n", file.output.display())
        });
    }
    Ok(fit::outcome(&job))
}

pub(super) fn format(path: &Path) -> Result<Format, Failure> {
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase()).unwrap_or_default();
    ENDINGS.iter().find(|(known, _)| *known == ending).map(|(_, format)| *format).ok_or_else(|| {
        let nearest = ENDINGS
            .iter()
            .min_by_key(|(known, _)| strsim::damerau_levenshtein(known, &ending))
            .map_or("pdf", |(known, _)| *known);
        Failure::Input(format!(
            "error: {}: the ending says the format: expected .svg, .png or .pdf, such as {}",
            path.display(),
            path.with_extension(nearest).display()
        ))
    })
}

pub(super) fn write(
    drawing: &Drawing,
    format: Format,
    file: &FileArguments,
    inputs: &[std::path::PathBuf],
) -> Result<(), Failure> {
    let bytes = match format {
        Format::Svg => svg(drawing).map(String::into_bytes),
        Format::Png => picture(drawing, file.dpi),
        Format::Pdf => pdf(drawing),
    };
    let bytes = bytes
        .map_err(|error| Failure::Write(format!("error: {}: {error}", file.output.display())))?;
    folder::write_one(&file.output, &bytes, file.replace, inputs)
}
