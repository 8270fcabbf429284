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
    kept: Mutex<BTreeMap<PathBuf, (Stamp, Photograph)>>,
}

impl Shelf {
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
        let bytes = file_bytes(path).map_err(NoPhotograph::File)?;
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
