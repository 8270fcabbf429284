//! `ansata artwork`: what is cut and nothing else, into one file or into a folder.

use std::path::{Path, PathBuf};

use crate::files::load::Loaded;
use crate::files::set::{Format, Set};
use crate::files::{Failure, folder};
use crate::job::Job;
use crate::remedies::cures;
use crate::sheets::{self, Artwork, MachineSheet};

use super::make::why_artwork_is_withheld;
use super::{ArtworkArguments, Outcome, fit, loaded, say};

/// Where artwork goes.
enum Goes {
    /// Into one file of a format.
    File(Format),
    /// Into a folder: whole and by operation, in every format, with its photographs and its text.
    Folder,
}

pub(super) fn artwork(arguments: &ArtworkArguments) -> Result<Outcome, Failure> {
    let goes = goes(&arguments.output, arguments.only.is_some())?;
    let Loaded { source, job, inputs, .. } = loaded(&arguments.layout)?;
    if matches!(goes, Goes::Folder) {
        no_pack(&arguments.output)?;
    }
    let told = if job.withholds_artwork() {
        withheld(&job, &goes, arguments, &inputs)?
    } else {
        match goes {
            Goes::File(format) => one(&job, format, arguments, &inputs)?,
            Goes::Folder => all(&job, arguments, &inputs)?,
        }
    };
    if !arguments.layout.quiet {
        say::out(&fit::findings(&job, &cures(&job), &source));
        say::out(&told);
    }
    // A stop of the mount leaves the artwork, and is told all the same.
    Ok(fit::outcome(&job))
}

/// One file: everything, or the operation asked for.
fn one(
    job: &Job,
    format: Format,
    arguments: &ArtworkArguments,
    inputs: &[PathBuf],
) -> Result<String, Failure> {
    let artwork = sheets::artwork(job);
    let sheet = match &arguments.only {
        None => &artwork.whole,
        Some(name) => operation(&artwork, name)?,
    };
    let path = &arguments.output;
    let bytes = format
        .bytes(sheet)
        .map_err(|error| Failure::Write(format!("error: {}: {error}", path.display())))?;
    folder::write_one(path, &bytes, arguments.replace, inputs)?;
    Ok(format!("wrote {}\nproof mark {}\n", path.display(), job.mark))
}

/// The operation of a name, which must be one that the layout has.
fn operation<'a>(artwork: &'a Artwork, name: &str) -> Result<&'a MachineSheet, Failure> {
    let known: Vec<&str> = artwork.parts.iter().map(|(known, _)| *known).collect();
    artwork.parts.iter().find(|(known, _)| *known == name).map(|(_, sheet)| sheet).ok_or_else(
        || {
            let nearest = known.iter().min_by_key(|known| strsim::damerau_levenshtein(known, name));
            let perhaps = nearest.map_or_else(String::new, |one| format!("; perhaps `{one}`"));
            let known = known.join(", ");
            Failure::Input(format!(
                "error: --only `{name}`: expected what is cut by this layout: {known}{perhaps}; \
                 nothing was written"
            ))
        },
    )
}

/// A folder of all files.
fn all(job: &Job, arguments: &ArtworkArguments, inputs: &[PathBuf]) -> Result<String, Failure> {
    let mut set = Set::default();
    set.artwork(job)?;
    let path = &arguments.output;
    let old = folder::named(path, is_artwork);
    if !arguments.replace {
        folder::refuse_existing(old.iter().map(PathBuf::as_path))?;
    }
    let done = folder::write_over(path, &set.outputs, &old, inputs)?;
    Ok(format!(
        "wrote {}: {}\n{}proof mark {}\n",
        path.display(),
        done.written.join(", "),
        removed(&done.removed),
        job.mark
    ))
}

/// Nothing is written; what is to be replaced goes, since it would be cut.
fn withheld(
    job: &Job,
    goes: &Goes,
    arguments: &ArtworkArguments,
    inputs: &[PathBuf],
) -> Result<String, Failure> {
    let path = &arguments.output;
    let old = match goes {
        _ if !arguments.replace => Vec::new(),
        Goes::File(_) => vec![path.clone()],
        Goes::Folder => folder::named(path, is_artwork),
    };
    let gone = folder::remove(&old, inputs)?;
    let why = why_artwork_is_withheld(job);
    Ok(format!("withheld: artwork ({why}); nothing was written\n{}", removed(&gone)))
}

fn removed(names: &[String]) -> String {
    if names.is_empty() {
        return String::new();
    }
    format!("removed, because they are of an earlier run: {}\n", names.join(", "))
}

/// Whether a file bears a name that artwork has.
fn is_artwork(name: &str) -> bool {
    let part = name.strip_prefix("artwork");
    let known =
        |rest: &str| Format::ALL.iter().any(|(ending, _)| rest.ends_with(&format!("-mm.{ending}")));
    part.is_some_and(|rest| rest == ".txt" || known(rest))
}

/// One file where the name has an ending, a folder where it has none or is one.
fn goes(output: &Path, only: bool) -> Result<Goes, Failure> {
    let ending = output.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    let format = ending.as_deref().map(Format::of);
    match format {
        _ if output.is_dir() => {}
        None => {}
        Some(Some(format)) => return Ok(Goes::File(format)),
        Some(None) => {
            return Err(Failure::Input(format!(
                "error: {}: the ending says the format: expected .svg, .pdf or .dxf, such as {}, or \
                 a folder, which has none",
                output.display(),
                output.with_extension(nearest(ending.as_deref().unwrap_or_default())).display()
            )));
        }
    }
    if only {
        return Err(Failure::Input(format!(
            "error: {}: --only makes one file: expected a name that ends in .svg, .pdf or .dxf, such \
             as {}",
            output.display(),
            output.with_extension("svg").display()
        )));
    }
    Ok(Goes::Folder)
}

fn nearest(ending: &str) -> &'static str {
    let known = Format::ALL.iter().map(|(known, _)| *known);
    known.min_by_key(|known| strsim::damerau_levenshtein(known, ending)).unwrap_or("svg")
}

/// New artwork beside the proof of another version would be taken for the same.
fn no_pack(path: &Path) -> Result<(), Failure> {
    if path.join(folder::REPORT).symlink_metadata().is_err() {
        return Ok(());
    }
    Err(Failure::Write(format!(
        "error: {} holds what `ansata make` wrote, which belongs together: run that again, or choose \
         another folder; nothing was written",
        path.display()
    )))
}
