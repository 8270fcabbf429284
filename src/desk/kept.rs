//! One layout file as the desk holds it: every change saved at once and whole, every step of
//! the visit to be undone, earlier versions kept, what others write taken in.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use crate::files::load::text_of;
use crate::files::{Failure, folder};

use super::earlier;
use super::patch::Patch;

/// A text is kept among the earlier versions before it is changed, but not more often than
/// this: otherwise each letter typed would be one.
const BETWEEN_VERSIONS: Duration = Duration::from_secs(60);

/// A layout file, its text and its steps.
#[derive(Debug)]
pub(super) struct Kept {
    path: PathBuf,
    text: Arc<str>,
    version: u64,
    done: Vec<Patch>,
    undone: Vec<Patch>,
    /// What the last step belongs to, while more may be added to it.
    stroke: Option<String>,
    /// When an earlier version was kept last.
    kept: Option<Instant>,
}

impl Kept {
    /// The file as it is on disk.
    pub(super) fn open(path: PathBuf) -> Result<Self, Failure> {
        let text = text_of(&path)?.text.into();
        let (done, undone) = (Vec::new(), Vec::new());
        Ok(Self { path, text, version: 1, done, undone, stroke: None, kept: None })
    }

    /// Where it is.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// Its text.
    pub(super) fn text(&self) -> Arc<str> {
        Arc::clone(&self.text)
    }

    /// Rises with every change.
    pub(super) fn version(&self) -> u64 {
        self.version
    }

    /// Something beside the file has changed that its plaque is made of.
    pub(super) fn touched(&mut self) {
        self.version += 1;
    }

    /// Whether there is a step to undo.
    pub(super) fn can_undo(&self) -> bool {
        !self.done.is_empty()
    }

    /// Whether there is a step to do again.
    pub(super) fn can_redo(&self) -> bool {
        !self.undone.is_empty()
    }

    /// Takes in what somebody else has written, as a step of its own; true where that is so.
    pub(super) fn read_again(&mut self) -> Result<bool, Failure> {
        let now = text_of(&self.path)?.text;
        if *now == *self.text {
            return Ok(false);
        }
        self.keep_version(true);
        self.step(&now, None);
        Ok(true)
    }

    /// A new text, written whole before anything else is known of it. Steps with the same
    /// stroke are one.
    pub(super) fn write(&mut self, text: &str, stroke: Option<String>) -> Result<(), Failure> {
        if *text == *self.text {
            return Ok(());
        }
        self.keep_version(false);
        folder::write_one(&self.path, text.as_bytes(), true, &[])?;
        self.step(text, stroke);
        Ok(())
    }

    /// The last step undone; false where there is none.
    pub(super) fn undo(&mut self) -> Result<bool, Failure> {
        let Some(patch) = self.done.last().cloned() else { return Ok(false) };
        let text = patch.undone(&self.text);
        folder::write_one(&self.path, text.as_bytes(), true, &[])?;
        self.undone.extend(self.done.pop());
        self.stands(&text);
        Ok(true)
    }

    /// The step that was undone last, done again; false where there is none.
    pub(super) fn redo(&mut self) -> Result<bool, Failure> {
        let Some(patch) = self.undone.last().cloned() else { return Ok(false) };
        let text = patch.done(&self.text);
        folder::write_one(&self.path, text.as_bytes(), true, &[])?;
        self.done.extend(self.undone.pop());
        self.stands(&text);
        Ok(true)
    }

    /// The present text among the earlier versions: where `now`, or where the last is old.
    /// A version that cannot be kept does not stop the work: the file itself is whole.
    pub(super) fn keep_version(&mut self, now: bool) {
        if now || self.kept.is_none_or(|kept| kept.elapsed() >= BETWEEN_VERSIONS) {
            let _ = earlier::keep(&self.path, &self.text);
            self.kept = Some(Instant::now());
        }
    }

    fn step(&mut self, text: &str, stroke: Option<String>) {
        let more = stroke.is_some() && stroke == self.stroke && self.undone.is_empty();
        let last = if more { self.done.pop() } else { None };
        let from = last.map_or_else(|| self.text.to_string(), |last| last.undone(&self.text));
        self.done.push(Patch::between(&from, text));
        self.undone.clear();
        self.stands(text);
        self.stroke = stroke;
    }

    fn stands(&mut self, text: &str) {
        self.text = text.into();
        self.version += 1;
        self.stroke = None;
    }
}

#[cfg(test)]
mod tests;
