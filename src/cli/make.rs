//! `ansata make`: everything into one folder.

use std::path::{Path, PathBuf};

use crate::drawing::Drawing;
use crate::drawing::write::{WriteError, pdf, png, svg, usual_dpi};
use crate::finding::Scope;
use crate::job::Job;
use crate::remedies::cures;
use crate::sheets;

use super::load::{Loaded, loaded};
use super::set::Set;
use super::{Failure, LayoutArguments, Outcome, USUAL_DPI, fit, folder, pack, say};

pub(super) fn make(
    arguments: &LayoutArguments,
    output: Option<PathBuf>,
    dpi: Option<f64>,
    zip: bool,
) -> Result<Outcome, Failure> {
    let Loaded { name, source, job, inputs, .. } = loaded(arguments)?;
    let cures = cures(&job);
    let mut set = Set::default();
    let proof = sheets::proof(&job, &cures);
    set.add("proof.svg", &proof, |s| svg(&s.drawing).map(String::into_bytes))?;
    set.add("proof.png", &proof, |s| picture(&s.drawing, dpi))?;
    set.add("proof.pdf", &proof, |s| pdf(&s.drawing))?;
    if !job.withholds_pattern() {
        let pattern = sheets::pattern(&job);
        set.add("pattern.svg", &pattern, |s| svg(&s.drawing).map(String::into_bytes))?;
        set.add("pattern.pdf", &pattern, |s| pdf(&s.drawing))?;
        set.machine(&job)?;
    }
    set.add("mockup.pdf", &sheets::mockup(&job), |s| pdf(&s.drawing))?;
    if !job.withholds_artwork() {
        set.artwork(&job)?;
    }
    let archive = zip.then(|| format!("{name}.zip"));
    let outputs = pack::packed(&job, &cures, &source, set, archive.as_deref())?;

    let folder = output.unwrap_or_else(|| Path::new("out").join(&name));
    let done = folder::write(&folder, &outputs, &inputs)?;
    if !arguments.quiet {
        say::out(&fit::findings(&job, &cures, &source));
        say::out(&summary(&job, &folder, &done));
    }
    Ok(fit::outcome(&job))
}

/// The drawing as PNG, at the resolution asked for or the usual one.
pub(super) fn picture(drawing: &Drawing, dpi: Option<f64>) -> Result<Vec<u8>, WriteError> {
    let dpi = dpi.map_or_else(|| usual_dpi(drawing, USUAL_DPI), Ok)?;
    png(drawing, dpi)
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
