//! What can be done at the desk, request by request, apart from how requests come.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::SystemTime;

use tokio::sync::watch;

use crate::drawing::write::Pictures;
use crate::files::Failure;
use crate::files::load::{record_path, text_of, with_record, worked};
use crate::files::shelf::Shelf;
use crate::files::sign::{Signer, date, person, sign};
use crate::layout::Source;

use super::bench::bench;
use super::change::{NotMade, changed};
use super::kept::Kept;
use super::made::{Made, mistakes, told};
use super::wire::{Answer, Asked, Bench, Change, Clash, Kept as KeptWire, Mistake, Signing};
use super::{earlier, folder};

/// The folder that is held, and the layouts of it that pages have opened.
pub(super) struct Desk {
    /// The folder.
    pub(super) folder: PathBuf,
    /// The layout that it was opened with.
    pub(super) opened: Option<String>,
    shelf: Shelf,
    pictures: Pictures,
    layouts: Mutex<BTreeMap<String, Arc<Open>>>,
}

/// A layout that pages have opened.
pub(super) struct Open {
    state: Mutex<State>,
    /// The version that stands, for who waits for another.
    pub(super) bell: watch::Sender<u64>,
}

struct State {
    kept: Kept,
    made: Option<Arc<Made>>,
    /// When what lies beside the file was changed, as it was last seen.
    beside: Vec<(PathBuf, Option<SystemTime>)>,
}

impl Desk {
    /// A desk on a folder.
    pub(super) fn new(folder: PathBuf, opened: Option<String>) -> Self {
        crate::files::folder::clear_begun(&folder);
        let shelf = Shelf::within(folder.clone());
        Self { folder, opened, shelf, pictures: Pictures::default(), layouts: Mutex::default() }
    }

    /// A layout of the folder, opened where it is not yet.
    ///
    /// # Errors
    /// No such layout, or one that cannot be read as text.
    pub(super) fn open(&self, name: &str) -> Result<Arc<Open>, Not> {
        let path = folder::layout(&self.folder, name).ok_or(Not::There)?;
        let mut layouts = locked(&self.layouts);
        if let Some(open) = layouts.get(name) {
            return Ok(Arc::clone(open));
        }
        let kept = Kept::open(path).map_err(Not::from)?;
        let bell = watch::Sender::new(kept.version());
        let state = Mutex::new(State { kept, made: None, beside: Vec::new() });
        let open = Arc::new(Open { state, bell });
        layouts.insert(name.to_owned(), Arc::clone(&open));
        Ok(open)
    }

    /// All layouts that are open.
    fn all_open(&self) -> Vec<Arc<Open>> {
        locked(&self.layouts).values().cloned().collect()
    }

    /// The version that stands, with the job done.
    pub(super) fn made(&self, open: &Open) -> Result<Arc<Made>, Not> {
        let mut state = open.state();
        state.read_again()?;
        Ok(self.made_of(open, &mut state))
    }

    fn made_of(&self, open: &Open, state: &mut State) -> Arc<Made> {
        let version = state.kept.version();
        if let Some(made) = state.made.as_ref().filter(|made| made.version == version) {
            return Arc::clone(made);
        }
        let before = state.made.take();
        let text = state.kept.text();
        let made = Made::of(state.kept.path(), text, version, &self.shelf, before.as_deref());
        let made = Arc::new(made);
        state.made = Some(Arc::clone(&made));
        state.beside = state.seen_beside();
        open.bell.send_replace(version);
        made
    }

    fn bench_of(&self, open: &Open, state: &mut State) -> Bench {
        let made = self.made_of(open, state);
        bench(&made, &self.pictures, (state.kept.can_undo(), state.kept.can_redo()))
    }

    /// How a layout stands.
    pub(super) fn bench(&self, open: &Open) -> Result<Bench, Not> {
        let mut state = open.state();
        state.read_again()?;
        Ok(self.bench_of(open, &mut state))
    }

    /// Changes: kept whole with those that were waiting, else without them, else not at all. A
    /// text that cannot be understood is kept only where the one before could not be either:
    /// the desk does not break what the command line could read.
    pub(super) fn change(&self, open: &Open, asked: &Asked) -> Result<Answer, Not> {
        let mut state = open.state();
        state.read_again()?;
        let now = self.made_of(open, &mut state);
        let mut why = NotKept::default();
        if !asked.waiting.is_empty() {
            let all = asked.waiting.iter().chain(&asked.changes);
            match self.kept(open, &mut state, &now, all, asked.stroke.clone()) {
                Ok(()) => return Ok(self.answer(open, &mut state, KeptWire::All, why)),
                Err(not) => why = not,
            }
        }
        let kept = match self.kept(open, &mut state, &now, &asked.changes, asked.stroke.clone()) {
            Ok(()) if asked.waiting.is_empty() => KeptWire::All,
            Ok(()) => KeptWire::New,
            Err(not) => {
                why = not;
                KeptWire::None
            }
        };
        Ok(self.answer(open, &mut state, kept, why))
    }

    fn answer(&self, open: &Open, state: &mut State, kept: KeptWire, why: NotKept) -> Answer {
        let NotKept { mistakes, clash } = why;
        Answer { kept, mistakes, clash, bench: self.bench_of(open, state) }
    }

    /// Makes changes, unless they make a mistake that was not there before.
    fn kept<'c>(
        &self,
        open: &Open,
        state: &mut State,
        now: &Made,
        changes: impl IntoIterator<Item = &'c Change>,
        stroke: Option<String>,
    ) -> Result<(), NotKept> {
        let text = changed(&now.text, changes).map_err(NotKept::of)?;
        if *text == *now.text {
            return Ok(());
        }
        let path = state.kept.path().to_owned();
        let next = state.kept.version() + 1;
        let made = Made::of(&path, text.as_str().into(), next, &self.shelf, Some(now));
        if let (Ok(_), Err(mistakes)) = (&now.outcome, &made.outcome) {
            return Err(NotKept { mistakes: mistakes.clone(), clash: None });
        }
        state
            .kept
            .write(&text, stroke)
            .map_err(|failure| NotKept { mistakes: mistakes(failure, &made.name), clash: None })?;
        if state.kept.version() == next {
            state.made = Some(Arc::new(made));
            state.beside = state.seen_beside();
        }
        open.bell.send_replace(state.kept.version());
        Ok(())
    }

    /// The last step undone, or done again.
    pub(super) fn step(&self, open: &Open, way: Way) -> Result<Answer, Not> {
        let mut state = open.state();
        state.read_again()?;
        let done = match way {
            Way::Back => state.kept.undo(),
            Way::Again => state.kept.redo(),
        };
        let moved = done.map_err(Not::from)?;
        let kept = if moved { KeptWire::All } else { KeptWire::None };
        Ok(self.answer(open, &mut state, kept, NotKept::default()))
    }

    /// An earlier version put in place of the present one, which is kept too.
    pub(super) fn bring_back(&self, open: &Open, name: &str) -> Result<Answer, Not> {
        let mut state = open.state();
        state.read_again()?;
        let text = earlier::text(state.kept.path(), name).map_err(Not::from)?;
        state.kept.keep_version(true);
        state.kept.write(&text, None).map_err(Not::from)?;
        Ok(self.answer(open, &mut state, KeptWire::All, NotKept::default()))
    }

    /// A signature for what the page showed: another version is refused.
    pub(super) fn sign(&self, open: &Open, signing: Signing) -> Result<Answer, Not> {
        let mut state = open.state();
        state.read_again()?;
        let made = self.made_of(open, &mut state);
        let by = person(&signing.by).map_err(|why| format!("who signs: {why}"))?;
        let role = person(&signing.role).map_err(|why| format!("as what: {why}"))?;
        let date = date(&signing.date)?;
        let path = state.kept.path().to_owned();
        // Read anew, with the record as it is on disk.
        let fresh = worked(made.source(), &path, None, &self.shelf)
            .and_then(|alone| with_record(alone, &path))
            .map_err(Not::from)?;
        if fresh.job.mark != signing.mark {
            return Err(Not::because(
                "what is cut has changed since the page showed it; look again",
            ));
        }
        if fresh.job.stopped() {
            return Err(Not::because("a stop stands: nothing is signed while it does"));
        }
        sign(fresh, &path, Signer { by, role, date }).map_err(Not::from)?;
        state.kept.keep_version(true);
        state.kept.touched();
        Ok(self.answer(open, &mut state, KeptWire::All, NotKept::default()))
    }

    /// The record of the sign-off away; its text is kept among the earlier versions of it.
    pub(super) fn withdraw(&self, open: &Open) -> Result<Answer, Not> {
        let mut state = open.state();
        let record = record_path(state.kept.path());
        let text = text_of(&record).map_err(|_| Not::because("nobody has signed"))?.text;
        earlier::keep(&record, &text).map_err(Not::from)?;
        crate::files::folder::remove(&[record], &[])?;
        state.kept.touched();
        Ok(self.answer(open, &mut state, KeptWire::All, NotKept::default()))
    }

    /// Looks whether files of open layouts, or what lies beside them, were changed by others,
    /// and rings where that is so.
    pub(super) fn look_round(&self) {
        for open in self.all_open() {
            let mut state = open.state();
            // A file that is away for a moment, while it is being written, is looked at again.
            if state.read_again().is_ok() && state.kept.version() != *open.bell.borrow() {
                open.bell.send_replace(state.kept.version());
            }
        }
    }
}

/// Why something is not done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Not {
    /// There is no such layout, file or photograph.
    There,
    /// In words for the person at the page.
    So(String),
}

impl Not {
    fn because(why: &str) -> Self {
        Self::So(why.to_owned())
    }
}

impl From<String> for Not {
    fn from(why: String) -> Self {
        Self::So(why)
    }
}

impl From<Failure> for Not {
    fn from(failure: Failure) -> Self {
        Self::So(told(&failure))
    }
}

/// Back to the step before, or to the one that was undone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    Back,
    Again,
}

impl Open {
    fn state(&self) -> MutexGuard<'_, State> {
        locked(&self.state)
    }

    /// The layout's file.
    pub(super) fn path(&self) -> PathBuf {
        self.state().kept.path().to_owned()
    }
}

impl State {
    /// Takes in what others wrote, into the file or beside it.
    fn read_again(&mut self) -> Result<(), Not> {
        self.kept.read_again().map_err(Not::from)?;
        if self.made.is_some() && self.seen_beside() != self.beside {
            self.made = None;
            self.kept.touched();
        }
        Ok(())
    }

    /// When the files that the plaque is made of, and the record, were last changed.
    fn seen_beside(&self) -> Vec<(PathBuf, Option<SystemTime>)> {
        let path = self.kept.path();
        let mut all = vec![record_path(path), path.with_file_name("shop.toml")];
        match self.made.as_ref().map(|made| &made.outcome) {
            Some(Ok(loaded)) => all.extend(loaded.inputs.iter().cloned()),
            // What was not understood may lie in any file beside it.
            Some(Err(_)) => all.extend(path.parent().map(std::path::Path::to_owned)),
            None => {}
        }
        let when = |path: PathBuf| {
            let told = path.metadata().and_then(|told| told.modified()).ok();
            (path, told)
        };
        all.into_iter().map(when).collect()
    }
}

/// Why changes were not kept.
#[derive(Debug, Default)]
struct NotKept {
    mistakes: Vec<Mistake>,
    clash: Option<Clash>,
}

impl NotKept {
    fn of(not: NotMade) -> Self {
        match not {
            NotMade::Clash(clash) => Self { mistakes: Vec::new(), clash: Some(clash) },
            NotMade::Never(message) => {
                Self { mistakes: vec![Mistake::of_the_file(message)], clash: None }
            }
        }
    }
}

/// A thread that panicked left whole values behind: each is replaced, never half changed.
pub(super) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Made {
    fn source(&self) -> Source {
        Source { name: self.name.clone(), text: self.text.to_string() }
    }
}
