//! Earlier versions of a layout, in a hidden folder beside it: `.earlier/cup/0001.toml`.

use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use crate::files::load::text_of;
use crate::files::{Failure, folder};

use super::wire::Entry;

/// The folder of all earlier versions.
pub(super) const FOLDER: &str = ".earlier";

fn folder_of(layout: &Path) -> PathBuf {
    let name = layout.file_stem().unwrap_or_default();
    layout.with_file_name(FOLDER).join(name)
}

/// Names of the versions that are kept, with their numbers, the newest first.
fn numbered(layout: &Path) -> Vec<(u32, String)> {
    let number = |name: &str| name.strip_suffix(".toml").and_then(|n| n.parse::<u32>().ok());
    let files = folder::named(&folder_of(layout), |name| number(name).is_some());
    let mut all: Vec<(u32, String)> = files
        .iter()
        .filter_map(|path| Some(path.file_name()?.to_str()?.to_owned()))
        .filter_map(|name| Some((number(&name)?, name)))
        .collect();
    all.sort_by(|a, b| b.cmp(a));
    all
}

/// Keeps a text, if it is not the one that was kept last.
pub(super) fn keep(layout: &Path, text: &str) -> Result<(), Failure> {
    let place = folder_of(layout);
    let last = numbered(layout).into_iter().next();
    if let Some((_, name)) = &last
        && text_of(&place.join(name)).is_ok_and(|kept| kept.text == text)
    {
        return Ok(());
    }
    folder::create(&place)?;
    folder::clear_begun(&place);
    let number = last.map_or(1, |(number, _)| number.saturating_add(1));
    folder::write_one(&place.join(format!("{number:04}.toml")), text.as_bytes(), false, &[])
}

/// All that are kept, the newest first, each with the time of its keeping in milliseconds
/// since 1970.
pub(super) fn all(layout: &Path) -> Vec<Entry> {
    let place = folder_of(layout);
    let when = |name: &str| {
        let told = place.join(name).metadata().ok()?.modified().ok()?;
        Some(told.duration_since(UNIX_EPOCH).ok()?.as_millis().to_string())
    };
    let entries = numbered(layout).into_iter();
    entries.map(|(_, name)| Entry { about: when(&name).unwrap_or_default(), name }).collect()
}

/// The text of one.
pub(super) fn text(layout: &Path, name: &str) -> Result<String, Failure> {
    if !numbered(layout).iter().any(|(_, known)| known == name) {
        return Err(Failure::Input("there is no such earlier version".to_owned()));
    }
    text_of(&folder_of(layout).join(name)).map(|source| source.text)
}
