//! Photographs that were read before, so that a page that asks again with every letter typed
//! does not read them again.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::SystemTime;

use crate::layout::{NoPhotograph, Photograph};

use super::load::file_bytes;

/// Most photographs that are kept: those of one plate, and some that were there before.
/// A photograph of 24 megapixels takes 72 MB.
const MOST: usize = 4;

/// By when and how long a file is, a change of it is seen.
type Stamp = (SystemTime, u64);

/// Photographs by their files.
#[derive(Default)]
pub(crate) struct Shelf {
    /// The folder that no file may lie outside of, where there is such a one.
    within: Option<PathBuf>,
    kept: Mutex<BTreeMap<PathBuf, (Stamp, Photograph)>>,
}

impl Shelf {
    /// A shelf of which no file may lie outside of a folder.
    pub(crate) fn within(folder: PathBuf) -> Self {
        Self { within: Some(folder), kept: Mutex::default() }
    }

    /// The bytes of a file.
    ///
    /// # Errors
    /// A file that cannot be read, or may not be: a sentence without its name.
    pub(crate) fn bytes(&self, path: &Path) -> Result<Vec<u8>, String> {
        if let Some(folder) = &self.within
            && let Ok(real) = path.canonicalize()
            && !folder.canonicalize().is_ok_and(|folder| real.starts_with(folder))
        {
            return Err(
                "it lies outside of the folder that the desk holds: put it there".to_owned()
            );
        }
        file_bytes(path)
    }

    /// The photograph in a file.
    ///
    /// # Errors
    /// A file that cannot be read, or that holds no photograph.
    pub(crate) fn photograph(&self, path: &Path) -> Result<Photograph, NoPhotograph> {
        let stamp = stamp(path);
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((known, photograph)) = kept.get(path)
            && Some(*known) == stamp
        {
            return Ok(photograph.clone());
        }
        kept.remove(path);
        let bytes = self.bytes(path).map_err(NoPhotograph::File)?;
        let photograph = Photograph::of(&bytes)?;
        if let Some(stamp) = stamp {
            while kept.len() >= MOST {
                kept.pop_first();
            }
            kept.insert(path.to_owned(), (stamp, photograph.clone()));
        }
        Ok(photograph)
    }
}

/// `None` where the file tells none: then it is read every time.
fn stamp(path: &Path) -> Option<Stamp> {
    let told = path.metadata().ok()?;
    Some((told.modified().ok()?, told.len()))
}
