//! Files written whole or not at all, and only our own replaced.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::report::files_of;

use super::Failure;
use super::load::why;

/// Name of the report, which lists what belongs to us.
pub(crate) const REPORT: &str = "report.json";

/// A file to be written: name in the folder, bytes.
pub(crate) struct Output {
    /// Name in the folder.
    pub(crate) name: String,
    /// Its bytes.
    pub(crate) bytes: Vec<u8>,
}

/// What became of a folder.
pub(crate) struct Written {
    /// Names written, the report last.
    pub(crate) written: Vec<String>,
    /// Names of an earlier run that are withheld now and were removed.
    pub(crate) removed: Vec<String>,
}

/// Writes all outputs, the last of which is the report. All new files are
/// complete on disk before the first takes its name; files of an earlier report
/// that are not among the new ones are removed first, because an old pattern
/// beside a stopped proof would be drilled.
pub(crate) fn write(
    folder: &Path,
    outputs: &[Output],
    inputs: &[PathBuf],
) -> Result<Written, Failure> {
    for output in outputs {
        refuse_input(&folder.join(&output.name), inputs)?;
    }
    if folder.exists() && !folder.is_dir() {
        return Err(Failure::Write(format!("error: {} is a file, not a folder", folder.display())));
    }
    let ours = ours(folder)?;
    for output in outputs {
        let path = folder.join(&output.name);
        if path.symlink_metadata().is_ok() && !ours.contains(&output.name) {
            return Err(Failure::Write(format!(
                "error: {} is there and was not written by ansata: move it, or choose another folder with -o; nothing was written",
                path.display()
            )));
        }
    }
    let ours: Vec<PathBuf> = ours.iter().map(|name| folder.join(name)).collect();
    write_over(folder, outputs, &ours, inputs)
}

/// Writes all outputs into a folder. All new files are complete on disk before the first
/// takes its name; those of `old` that are not among the new ones are removed first.
pub(crate) fn write_over(
    folder: &Path,
    outputs: &[Output],
    old: &[PathBuf],
    inputs: &[PathBuf],
) -> Result<Written, Failure> {
    for output in outputs {
        refuse_input(&folder.join(&output.name), inputs)?;
    }
    create(folder)?;
    let mut complete = Vec::with_capacity(outputs.len());
    for output in outputs {
        complete.push((output, whole(folder, &output.bytes)?));
    }
    let stays = |path: &PathBuf| outputs.iter().any(|output| folder.join(&output.name) == *path);
    let gone: Vec<PathBuf> = old.iter().filter(|path| !stays(path)).cloned().collect();
    let removed = remove(&gone, inputs)?;
    let mut written = Vec::with_capacity(outputs.len());
    for (output, file) in complete {
        let path = folder.join(&output.name);
        file.persist(&path).map_err(|error| cannot(&path, &error.error))?;
        written.push(output.name.clone());
    }
    Ok(Written { written, removed })
}

/// Removes files, as far as they are there; gives their names.
pub(crate) fn remove(files: &[PathBuf], inputs: &[PathBuf]) -> Result<Vec<String>, Failure> {
    for path in files {
        refuse_input(path, inputs)?;
    }
    let mut removed = Vec::new();
    for path in files {
        if fs::remove_file(path).is_ok() {
            removed.extend(path.file_name().map(|name| name.to_string_lossy().into_owned()));
        }
    }
    Ok(removed)
}

/// Files of a folder whose names are such, by name; none where there is no folder.
pub(crate) fn named(folder: &Path, such: impl Fn(&str) -> bool) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let names = entries.map(|entry| entry.file_name());
    let mut files: Vec<PathBuf> = names
        .filter(|name| name.to_str().is_some_and(&such))
        .map(|name| folder.join(name))
        .collect();
    files.sort();
    files
}

/// Writes one file, whole; refuses to replace one unless told to.
pub(crate) fn write_one(
    path: &Path,
    bytes: &[u8],
    replace: bool,
    inputs: &[PathBuf],
) -> Result<(), Failure> {
    refuse_input(path, inputs)?;
    if path.is_dir() {
        return Err(Failure::Write(format!("error: {} is a folder", path.display())));
    }
    if path.symlink_metadata().is_ok() && !replace {
        return Err(Failure::Write(format!(
            "error: {} is there already: choose another name, or say --replace; nothing was written",
            path.display()
        )));
    }
    let file = whole(folder_of(path), bytes)?;
    let done = if replace { file.persist(path) } else { file.persist_noclobber(path) };
    done.map(|_| ()).map_err(|error| cannot(path, &error.error))
}

/// How files begin whose bytes are not complete yet.
const BEGUN: &str = ".ansata-";

/// Letters that follow, by chance.
const BEGUN_LETTERS: usize = 6;

/// How long no file takes to be completed.
const NEVER_AS_LONG: Duration = Duration::from_secs(60);

/// Removes files of a folder that were begun and never completed, because the program or the
/// machine stopped meanwhile. Those of the last minute may still be completed by another run.
pub(crate) fn clear_begun(folder: &Path) {
    let begun = |name: &str| {
        let end = name.strip_prefix(BEGUN);
        end.is_some_and(|end| {
            end.len() == BEGUN_LETTERS && end.bytes().all(|b| b.is_ascii_alphanumeric())
        })
    };
    for path in named(folder, begun) {
        let told = path.symlink_metadata().ok().filter(fs::Metadata::is_file);
        let since = told.and_then(|told| told.modified().ok()?.elapsed().ok());
        if since.is_some_and(|since| since >= NEVER_AS_LONG) {
            // One that cannot be removed does no harm.
            let _ = fs::remove_file(&path);
        }
    }
}

/// Makes a folder, if it is not there.
pub(crate) fn create(folder: &Path) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|error| cannot(folder, &error))
}

/// Refuses if any of the files is there.
pub(crate) fn refuse_existing<'p>(
    files: impl IntoIterator<Item = &'p Path>,
) -> Result<(), Failure> {
    for path in files {
        if path.symlink_metadata().is_ok() {
            return Err(Failure::Write(format!(
                "error: {} is there already: choose another name; nothing was written",
                path.display()
            )));
        }
    }
    Ok(())
}

/// Refuses if the folder of a file is not there.
pub(crate) fn refuse_without_folder(file: &Path) -> Result<(), Failure> {
    let folder = folder_of(file);
    if folder.is_dir() {
        return Ok(());
    }
    Err(Failure::Write(format!(
        "error: cannot write {}: there is no folder {}; nothing was written",
        file.display(),
        folder.display()
    )))
}

fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// An output that is one of the inputs would destroy what was asked.
fn refuse_input(path: &Path, inputs: &[PathBuf]) -> Result<(), Failure> {
    let same = |input: &PathBuf| match (path.canonicalize(), input.canonicalize()) {
        (Ok(a), Ok(b)) => a == b,
        _ => path == input,
    };
    if inputs.iter().any(same) {
        return Err(Failure::Input(format!(
            "error: {} is what the work is read from and cannot be written over; nothing was written",
            path.display()
        )));
    }
    Ok(())
}

/// Names that the folder's report lists as ours, the report itself among them.
/// Names with a path in them are not ours, whoever wrote them.
fn ours(folder: &Path) -> Result<Vec<String>, Failure> {
    let path = folder.join(REPORT);
    if path.symlink_metadata().is_err() {
        return Ok(Vec::new());
    }
    let listed = fs::read_to_string(&path).ok().and_then(|text| files_of(&text));
    let Some(mut names) = listed else {
        return Err(Failure::Write(format!(
            "error: {} is there and was not written by ansata: move it, or choose another folder with -o; nothing was written",
            path.display()
        )));
    };
    names.retain(|name| Path::new(name).file_name().is_some_and(|file| file == name.as_str()));
    if names.iter().all(|name| name != REPORT) {
        names.push(REPORT.to_owned());
    }
    Ok(names)
}

/// The bytes in a finished temporary file of the folder; it vanishes if nothing comes of it.
fn whole(folder: &Path, bytes: &[u8]) -> Result<tempfile::NamedTempFile, Failure> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(BEGUN).rand_bytes(BEGUN_LETTERS);
    #[cfg(unix)]
    {
        // Without this a temporary file is readable by its owner only, and stays so.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder).map_err(|error| cannot(folder, &error))?;
    file.write_all(bytes)
        .and_then(|()| file.as_file().sync_all())
        .map_err(|error| cannot(folder, &error))?;
    Ok(file)
}

fn cannot(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Write(format!("error: cannot write {}: {}", path.display(), why(error)))
}
