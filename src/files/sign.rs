//! A signature into the record beside a layout.

use std::path::Path;

use crate::job::{Agreed, Signature};
use crate::layout::is_date;
use crate::signoff::{Record, Version};

use super::load::{Loaded, record_path};
use super::{Failure, folder};

/// Most characters of a name or a role: what fits a row of a sheet.
const LONGEST: usize = 120;

/// Who signs, as what and when.
pub(crate) struct Signer {
    pub(crate) by: String,
    pub(crate) role: String,
    pub(crate) date: String,
}

/// What became of a signature.
pub(crate) struct Signed {
    /// Who signed, and for what.
    pub(crate) told: String,
    /// The signature that it replaces, in words.
    pub(crate) replaced: Option<String>,
}

/// A name or a role: something that shows, on one row.
pub(crate) fn person(text: &str) -> Result<String, String> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().any(char::is_control) || !text.chars().any(char::is_alphanumeric) {
        return Err("expected a name in letters, such as \"Orla Penhallick\"".to_owned());
    }
    if text.chars().count() > LONGEST {
        return Err(format!("expected at most {LONGEST} characters"));
    }
    Ok(text)
}

/// A day of the calendar as ISO 8601 writes it.
pub(crate) fn date(text: &str) -> Result<String, String> {
    if is_date(text) {
        return Ok(text.to_owned());
    }
    Err("expected a day as year-month-day, such as 2026-11-25".to_owned())
}

/// Signs for a layout as it was loaded; the record is written beside it. The caller has seen
/// to it that no `stop` stands.
pub(crate) fn sign(loaded: Loaded, layout: &Path, signer: Signer) -> Result<Signed, Failure> {
    let Loaded { job, inputs, record, .. } = loaded;
    let version = Version::of(&job);
    let Signer { by, role, date } = signer;
    let proof = job.layout.proof.number;
    let accepted = Agreed::all(&job.findings);
    let signature = Signature { by, role, date, proof, beside: version.beside.clone(), accepted };
    let told = format!(
        "{}, {}, {}: proof {proof}, proof mark {}",
        signature.by, signature.role, signature.date, job.mark
    );
    let replace = record.is_some();
    let (record, earlier) = match record {
        None => (Record::new(version, signature), None),
        Some(mut record) => {
            let earlier = record.sign(version, signature);
            (record, earlier)
        }
    };
    let path = record_path(layout);
    // The record itself is an input of later runs; only here it may be written over.
    let inputs: Vec<_> = inputs.into_iter().filter(|input| *input != path).collect();
    folder::write_one(&path, record.text().as_bytes(), replace, &inputs)?;
    let replaced = earlier
        .map(|earlier| format!("the signature of {}, proof {}", earlier.date, earlier.proof));
    Ok(Signed { told, replaced })
}
