//! What goes with the sheets: the contents sheet, the report, and on request all of it
//! in one archive.

use std::io::{Cursor, Write as _};

use flate2::Compression;
use flate2::write::DeflateEncoder;
use rawzip::time::UtcDateTime;
use rawzip::{CompressionMethod, ZipArchiveWriter};

use crate::drawing::Drawing;
use crate::drawing::write::{WriteError, pdf, png, svg, usual_dpi};
use crate::job::Job;
use crate::layout::Source;
use crate::remedies::Cures;
use crate::report::report;
use crate::sheets::{self, contents};

use super::Failure;
use super::folder::{Output, REPORT};
use super::set::Set;

/// Resolution of a PNG where none is asked for, dots per inch: enough to read the
/// sheet's smallest labels on a screen.
const USUAL_DPI: f64 = 200.0;

/// Name of the contents sheet.
pub(crate) const CONTENTS: &str = "contents.txt";

/// Name of the archive of a pack, by that of the layout without its ending.
pub(crate) fn archive(name: &str) -> String {
    format!("{name}.zip")
}

/// Everything that `ansata make` writes, the report last: sheets, drawings for machines and
/// artwork as far as no `stop` withholds them. With an archive of them all where one is named.
pub(crate) fn everything(
    job: &Job,
    cures: &[Cures],
    source: &Source,
    dpi: Option<f64>,
    archive: Option<&str>,
) -> Result<Vec<Output>, Failure> {
    let mut set = Set::default();
    let proof = sheets::proof(job, cures);
    set.add("proof.svg", &proof, |s| svg(&s.drawing).map(String::into_bytes))?;
    set.add("proof.png", &proof, |s| picture(&s.drawing, dpi))?;
    set.add("proof.pdf", &proof, |s| pdf(&s.drawing))?;
    if !job.withholds_pattern() {
        let pattern = sheets::pattern(job);
        set.add("pattern.svg", &pattern, |s| svg(&s.drawing).map(String::into_bytes))?;
        set.add("pattern.pdf", &pattern, |s| pdf(&s.drawing))?;
        set.machine(job)?;
    }
    set.add("mockup.pdf", &sheets::mockup(job), |s| pdf(&s.drawing))?;
    if !job.withholds_artwork() {
        set.artwork(job)?;
    }
    packed(job, cures, source, set, archive)
}

/// The drawing as PNG, at the resolution asked for or the usual one.
pub(crate) fn picture(drawing: &Drawing, dpi: Option<f64>) -> Result<Vec<u8>, WriteError> {
    let dpi = dpi.map_or_else(|| usual_dpi(drawing, USUAL_DPI), Ok)?;
    png(drawing, dpi)
}

/// All files, the report last; with an archive of them all where one is named.
fn packed(
    job: &Job,
    cures: &[Cures],
    source: &Source,
    set: Set,
    archive: Option<&str>,
) -> Result<Vec<Output>, Failure> {
    let Set { mut outputs, sheets } = set;
    let mut files: Vec<String> = outputs.iter().map(|output| output.name.clone()).collect();
    files.push(CONTENTS.to_owned());
    files.extend(archive.map(str::to_owned));
    files.push(REPORT.to_owned());
    let text = contents(job, &files);
    outputs.insert(0, Output { name: CONTENTS.to_owned(), bytes: text.into_bytes() });
    let text = report(job, cures, source, &sheets, &files);
    let report = Output { name: REPORT.to_owned(), bytes: text.into_bytes() };
    if let Some(name) = archive {
        let bytes = zipped(outputs.iter().chain([&report]))
            .map_err(|error| Failure::Write(format!("error: {name}: {error}")))?;
        outputs.push(Output { name: name.to_owned(), bytes });
    }
    outputs.push(report);
    Ok(outputs)
}

/// Seconds from 1970 to the beginning of 1980, where the archive's calendar begins: the
/// date of all its files, so that the same files give the same bytes.
const DATED: i64 = 315_532_800;

/// The files as one archive.
fn zipped<'o>(outputs: impl Iterator<Item = &'o Output>) -> Result<Vec<u8>, rawzip::Error> {
    let mut archive = ZipArchiveWriter::new(Cursor::new(Vec::new()));
    for output in outputs {
        let file = archive
            .new_file(&output.name)
            .compression_method(CompressionMethod::DEFLATE)
            .last_modified(UtcDateTime::from_unix(DATED))
            .unix_permissions(0o644);
        let (mut entry, config) = file.start()?;
        let deflated = DeflateEncoder::new(&mut entry, Compression::default());
        let mut writer = config.wrap(deflated);
        writer.write_all(&output.bytes)?;
        let (deflated, told) = writer.finish()?;
        deflated.finish()?;
        entry.finish(told)?;
    }
    Ok(archive.finish()?.into_inner())
}
