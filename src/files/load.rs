//! All reading of files, before the way through begins.

use std::cell::RefCell;
use std::io::Read;
use std::path::{Path, PathBuf};

use crate::job::{Job, at_source, job};
use crate::layout::{Shop, Source, Vocabulary, read_shop, read_with};
use crate::lettering::catalogue;
use crate::signoff::{Record, held};

use super::Failure;
use super::shelf::Shelf;

/// More than any layout, wording or font needs: a limit against reading a
/// whole disk by mistake.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Most names of a folder that are compared with a missing one.
const MOST_NAMES: usize = 1000;

/// A layout read with all that belongs to it.
pub(crate) struct Loaded {
    /// What the outputs are called.
    pub(crate) name: String,
    /// The layout's text.
    pub(crate) source: Source,
    /// The job done.
    pub(crate) job: Job,
    /// Files that were read and must never be written over.
    pub(crate) inputs: Vec<PathBuf>,
    /// The record of its sign-off, where there is one.
    pub(crate) record: Option<Record>,
}

/// Where the record of a layout's sign-off is kept: beside it.
pub(crate) fn record_path(layout: &Path) -> PathBuf {
    layout.with_extension("signed.toml")
}

/// Reads a layout with the record of its sign-off, runs the job, and holds it against what
/// was signed. `-` is standard input, which has no record. A shop that is named must be there;
/// else that beside the layout is taken, if there is one.
pub(crate) fn loaded(layout: &Path, shop: Option<&Path>) -> Result<Loaded, Failure> {
    let alone = loaded_alone(layout, shop)?;
    if layout.as_os_str() == "-" { Ok(alone) } else { with_record(alone, layout) }
}

/// A job held against what was signed for the layout at this path, where anything was.
pub(crate) fn with_record(alone: Loaded, layout: &Path) -> Result<Loaded, Failure> {
    let path = record_path(layout);
    // A link that leads nowhere is no record missing, but one that cannot be read.
    if path.symlink_metadata().is_err() {
        return Ok(alone);
    }
    let record = record(&text_of(&path)?)?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let job = held(alone.job, &record, &name);
    let mut inputs = alone.inputs;
    inputs.push(path);
    Ok(Loaded { job, inputs, record: Some(record), ..alone })
}

/// A file as text, under its name.
pub(crate) fn text_of(path: &Path) -> Result<Source, Failure> {
    let shown = path.display().to_string();
    let bytes = file_bytes(path).map_err(|why| Failure::Input(format!("error: {shown}: {why}")))?;
    Source::decoded(&shown, bytes).map_err(|mistake| Failure::Mistakes(vec![*mistake]))
}

/// A record from its text.
pub(crate) fn record(source: &Source) -> Result<Record, Failure> {
    Record::read(source).map_err(|mistake| Failure::Mistakes(vec![*mistake]))
}

/// Reads a layout and runs the job, whatever was signed.
pub(crate) fn loaded_alone(layout: &Path, shop: Option<&Path>) -> Result<Loaded, Failure> {
    let from_stdin = layout.as_os_str() == "-";
    let shown =
        if from_stdin { "<standard input>".to_owned() } else { layout.display().to_string() };
    let bytes = if from_stdin { bytes_of(std::io::stdin().lock()) } else { file_bytes(layout) };
    let bytes = bytes.map_err(|why| Failure::Input(format!("error: {shown}: {why}")))?;
    let source =
        Source::decoded(&shown, bytes).map_err(|mistake| Failure::Mistakes(vec![*mistake]))?;
    let mut loaded = worked(source, layout, shop, &Shelf::default())?;
    if !from_stdin {
        loaded.inputs.insert(0, layout.to_owned());
    }
    Ok(loaded)
}

/// The job of a layout's text, whatever was signed; what it names is looked for beside `layout`.
pub(crate) fn worked(
    source: Source,
    layout: &Path,
    shop: Option<&Path>,
    shelf: &Shelf,
) -> Result<Loaded, Failure> {
    let from_stdin = layout.as_os_str() == "-";
    let folder = layout.parent().filter(|_| !from_stdin).unwrap_or(Path::new(""));
    let stem = layout.file_stem().filter(|_| !from_stdin);
    let name = stem.map_or_else(|| "layout".to_owned(), |stem| stem.to_string_lossy().into_owned());
    let mut inputs = Vec::new();
    let shop = self::shop(shop, folder, &mut inputs)?;
    let companions = RefCell::new(Vec::new());
    let known = |path: PathBuf| companions.borrow_mut().push(path);
    let bytes = |written: &str| {
        let path = folder.join(written);
        let bytes = shelf.bytes(&path)?;
        known(path);
        Ok(bytes)
    };
    let photograph = |written: &str| {
        let path = folder.join(written);
        let photograph = shelf.photograph(&path)?;
        known(path);
        Ok(photograph)
    };
    let layout =
        read_with(&source, shop, &vocabulary(), &bytes, &photograph).map_err(Failure::Mistakes)?;
    inputs.extend(companions.into_inner());
    let job = job(&layout).map_err(|mistakes| Failure::Mistakes(at_source(mistakes, &source)))?;
    Ok(Loaded { name, source, job, inputs, record: None })
}

/// The names that a layout may use.
pub(crate) fn vocabulary() -> Vocabulary {
    Vocabulary { lettering: catalogue().entries.iter().map(|entry| entry.name.clone()).collect() }
}

/// The shop named, or the one beside the layout; a shop that is named must be there.
fn shop(named: Option<&Path>, folder: &Path, inputs: &mut Vec<PathBuf>) -> Result<Shop, Failure> {
    let beside = folder.join("shop.toml");
    let path = match named {
        Some(path) => path,
        None if beside.is_file() => &beside,
        None => return Ok(Shop::default()),
    };
    let source = text_of(path)?;
    inputs.push(path.to_owned());
    read_shop(&source).map_err(Failure::Mistakes)
}

pub(super) fn file_bytes(path: &Path) -> Result<Vec<u8>, String> {
    if path.is_dir() {
        return Err("this is a folder, not a file".to_owned());
    }
    match std::fs::File::open(path) {
        Ok(file) => bytes_of(file),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            let near =
                near_name(path).map_or_else(String::new, |name| format!("; did you mean {name}?"));
            Err(format!("{}{near}", why(&error)))
        }
        Err(error) => Err(why(&error)),
    }
}

/// The file beside a missing one whose name is nearest to it: the same with an ending,
/// else with the fewest slips, at most one and a quarter of the length.
fn near_name(path: &Path) -> Option<String> {
    let typed = path.file_name()?.to_str()?.to_lowercase();
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let entries = std::fs::read_dir(folder.unwrap_or(Path::new("."))).ok()?;
    // Longer folders are not searched to the end: the answer is only a kindness.
    let mut names: Vec<String> = entries
        .take(MOST_NAMES)
        .filter_map(|entry| entry.ok().filter(|entry| entry.path().is_file()))
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| name.len() < 200)
        .collect();
    names.sort();
    let slips = |name: &String| {
        let lower = name.to_lowercase();
        let begins = lower.strip_prefix(&typed).is_some_and(|rest| rest.starts_with('.'));
        if begins { 0 } else { strsim::damerau_levenshtein(&lower, &typed) }
    };
    let near = names.into_iter().min_by_key(slips)?;
    (slips(&near) <= 1 + typed.chars().count() / 4)
        .then(|| folder.map_or(near.clone(), |folder| folder.join(&near).display().to_string()))
}

fn bytes_of(from: impl Read) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    from.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(|error| why(&error))?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(format!("larger than {} MiB", MOST_BYTES / 1024 / 1024));
    }
    Ok(bytes)
}

/// The reason of an I/O error in plain words, without the system's number.
pub(crate) fn why(error: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "no permission".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::NotADirectory => "part of the path is a file, not a folder".to_owned(),
        kind => kind.to_string(),
    }
}
