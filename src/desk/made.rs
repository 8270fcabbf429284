//! What one version of a layout makes, worked out once: the job, then on request its proved
//! cures and the files of its pack.

use std::path::Path;
use std::sync::{Arc, OnceLock};

use crate::files::Failure;
use crate::files::folder::Output;
use crate::files::load::{Loaded, with_record, worked};
use crate::files::pack::{archive, everything};
use crate::files::shelf::Shelf;
use crate::job::Job;
use crate::layout::{Diagnostic, Source, path_at};
use crate::remedies::{Cures, cures};

use super::wire::Mistake;

/// A text and what it makes.
pub(super) struct Made {
    /// The file's name.
    pub(super) name: String,
    /// Its text.
    pub(super) text: Arc<str>,
    /// Which version of it.
    pub(super) version: u64,
    /// The job, or why there is none.
    pub(super) outcome: Result<Loaded, Vec<Mistake>>,
    cures: OnceLock<Vec<Cures>>,
    pack: OnceLock<Result<Vec<Output>, String>>,
}

impl Made {
    /// A layout's text read and its job done. Nothing is written. Photographs that are made as
    /// in the version before are taken over from it.
    pub(super) fn of(
        path: &Path,
        text: Arc<str>,
        version: u64,
        shelf: &Shelf,
        before: Option<&Self>,
    ) -> Self {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let source = Source { name: name.clone(), text: text.to_string() };
        let outcome = worked(source, path, None, shelf)
            .and_then(|alone| with_record(alone, path))
            .map_err(|failure| mistakes(failure, &name));
        if let (Ok(now), Some(Ok(before))) = (&outcome, before.map(|before| &before.outcome)) {
            take_over(&before.job, &now.job);
        }
        Self { name, text, version, outcome, cures: OnceLock::new(), pack: OnceLock::new() }
    }

    /// The job, where the layout can be understood.
    pub(super) fn job(&self) -> Option<&Job> {
        self.outcome.as_ref().ok().map(|loaded| &loaded.job)
    }

    /// Proved cures; none without a job. Takes up to some seconds the first time.
    pub(super) fn cures(&self) -> &[Cures] {
        self.cures.get_or_init(|| self.job().map(cures).unwrap_or_default())
    }

    /// All files that the command line makes of it, with the archive of them.
    ///
    /// # Errors
    /// Why they cannot be made, in words.
    pub(super) fn pack(&self) -> Result<&[Output], String> {
        let Ok(loaded) = &self.outcome else {
            return Err("the layout cannot be understood; mend it first".to_owned());
        };
        let made = self.pack.get_or_init(|| {
            let archive = archive(&loaded.name);
            everything(&loaded.job, self.cures(), &loaded.source, None, Some(&archive))
                .map_err(|failure| told(&failure))
        });
        made.as_deref().map_err(Clone::clone)
    }
}

/// A failure in one sentence.
pub(super) fn told(failure: &Failure) -> String {
    match failure {
        Failure::Input(message) | Failure::Write(message) => {
            let message = message.strip_prefix("error: ").unwrap_or(message);
            message.lines().next().unwrap_or_default().to_owned()
        }
        Failure::Mistakes(all) => all.first().map_or_else(String::new, |one| one.message.clone()),
    }
}

/// A failure as mistakes, each with the key that it speaks of; `name` is the layout's own.
pub(super) fn mistakes(failure: Failure, name: &str) -> Vec<Mistake> {
    match failure {
        Failure::Mistakes(all) => all.iter().map(|one| mistake(one, name)).collect(),
        other => vec![Mistake::of_the_file(told(&other))],
    }
}

fn mistake(one: &Diagnostic, name: &str) -> Mistake {
    let place = one.position();
    let own = one.source.name == name;
    let path = match &one.span {
        Some(span) if own => path_at(&one.source.text, span.start),
        _ => Vec::new(),
    };
    // Of a mistake in another file, such as the shop's, the file is told with it.
    let message =
        if own { one.message.clone() } else { format!("{}: {}", one.source.name, one.message) };
    Mistake {
        path,
        line: place.map_or(0, |place| place.line),
        column: place.map_or(0, |place| place.column),
        message,
        help: one.help.clone(),
    }
}

/// Photographs of one job that another makes alike, given to it.
fn take_over(from: &Job, to: &Job) {
    for (old, new) in from.photos.iter().zip(&to.photos) {
        new.take_over(&to.layout, old, &from.layout);
    }
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::PathBuf;
    use std::sync::Arc;

    use super::Made;
    use crate::drawing::write::svg;
    use crate::files::shelf::Shelf;
    use crate::sheets;

    const LAYOUT: &str = include_str!("../../layouts/photograph.toml");

    fn desk() -> (tempfile::TempDir, PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let tower = include_bytes!("../../layouts/tower.jpg");
        fs::write(folder.path().join("tower.jpg"), tower).unwrap();
        let path = folder.path().join("cup.toml");
        (folder, path)
    }

    fn made(path: &std::path::Path, text: &str, before: Option<&Made>) -> Made {
        Made::of(path, text.into(), 1, &Shelf::default(), before)
    }

    fn front(made: &Made) -> String {
        svg(&sheets::front(made.job().unwrap()).drawing).unwrap()
    }

    /// Whether the photograph of the second is that of the first, in memory.
    fn shared(one: &Made, other: &Made) -> bool {
        let pixels = |made: &Made| {
            let job = made.job().unwrap();
            job.photos[0].made(&job.layout).unwrap()
        };
        Arc::ptr_eq(&pixels(one), &pixels(other))
    }

    #[test]
    fn a_photograph_that_is_taken_over_is_the_one_that_would_be_made() {
        let (_folder, path) = desk();
        let first = made(&path, LAYOUT, None);
        front(&first);
        for (from, to, alike) in [
            ("title  = \"", "title  = \"A ", true),
            ("text = \"", "text = \"a", true),
            ("36 mm", "35 mm", false),
            ("\"oval\"", "\"rectangle\"", false),
            ("place      = \"left\"", "place      = \"right\"", false),
        ] {
            let text = LAYOUT.replacen(from, to, 1);
            assert_ne!(text, LAYOUT, "{from}");
            let next = made(&path, &text, Some(&first));
            assert_eq!(shared(&first, &next), alike, "{to}");
            assert_eq!(front(&next), front(&made(&path, &text, None)), "{to}");
        }
    }

    #[test]
    fn a_mistake_tells_the_key_that_it_speaks_of() {
        let (_folder, path) = desk();
        let wrong = LAYOUT.replacen("36 mm", "36 m", 1);
        let made = made(&path, &wrong, None);
        let mistakes = made.outcome.as_ref().err().unwrap();
        let path = serde_json::to_value(&mistakes[0].path).unwrap();
        assert_eq!(path, serde_json::json!(["photo", 0, "width"]));
        assert!(mistakes[0].line > 1 && mistakes[0].column > 1 && mistakes[0].help.is_some());
        assert!(made.pack().is_err() && made.cures().is_empty());
    }
}
