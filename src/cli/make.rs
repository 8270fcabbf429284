//! `ansata make`: everything into one folder.

use std::path::{Path, PathBuf};

use crate::files::load::Loaded;
use crate::files::{Failure, folder, pack};
use crate::finding::Scope;
use crate::job::Job;
use crate::remedies::cures;

use super::{LayoutArguments, Outcome, fit, loaded, say};

pub(super) fn make(
    arguments: &LayoutArguments,
    output: Option<PathBuf>,
    dpi: Option<f64>,
    zip: bool,
) -> Result<Outcome, Failure> {
    let Loaded { name, source, job, inputs, .. } = loaded(arguments)?;
    let cures = cures(&job);
    let archive = zip.then(|| pack::archive(&name));
    let outputs = pack::everything(&job, &cures, &source, dpi, archive.as_deref())?;
    let folder = output.unwrap_or_else(|| Path::new("out").join(&name));
    let done = folder::write(&folder, &outputs, &inputs)?;
    if !arguments.quiet {
        say::out(&fit::findings(&job, &cures, &source));
        say::out(&summary(&job, &folder, &done));
    }
    Ok(fit::outcome(&job))
}

/// Why something is withheld: a stop of its own scope, or of the sign-off, which names it all.
pub(super) fn why_withheld(job: &Job, own: &str) -> String {
    if job.withholds(Scope::SignOff) {
        "it is not as it was signed".to_owned()
    } else {
        format!("a stop of the {own} stands")
    }
}

/// Why the artwork is withheld.
pub(super) fn why_artwork_is_withheld(job: &Job) -> String {
    let lettering = job.withholds(Scope::Lettering) || job.withholds(Scope::Wording);
    let mut stops = job.findings.iter().filter(|judged| judged.stops());
    let own = if lettering {
        "lettering"
    } else if stops.any(|judged| judged.finding.code.starts_with("emblem")) {
        "emblem"
    } else {
        "photograph"
    };
    why_withheld(job, own)
}

fn summary(job: &Job, folder: &Path, done: &folder::Written) -> String {
    let mut text = format!("wrote {}: {}\n", folder.display(), done.written.join(", "));
    if job.withholds_pattern() {
        text.push_str(&format!("withheld: pattern ({})\n", why_withheld(job, "mount")));
    }
    if job.withholds_artwork() {
        text.push_str(&format!("withheld: artwork ({})\n", why_artwork_is_withheld(job)));
    }
    if !done.removed.is_empty() {
        text.push_str(&format!(
            "removed, because they are of an earlier run: {}\n",
            done.removed.join(", ")
        ));
    }
    text.push_str(&format!("proof mark {}\n", job.mark));
    text
}
