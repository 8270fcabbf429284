//! `ansata signoff`: a signature into the record beside the layout.

use crate::job::{Agreed, Signature};
use crate::layout::is_date;
use crate::remedies::cures;
use crate::signoff::{Record, Version};

use super::load::{Loaded, loaded, record_path};
use super::{Failure, LayoutArguments, Outcome, fit, folder, say};

/// Most characters of a name or a role: what fits a row of a sheet.
const LONGEST: usize = 120;

/// Who signs, as what and when.
pub(super) struct Signer {
    pub(super) by: String,
    pub(super) role: String,
    pub(super) date: String,
}

/// A name or a role: something that shows, on one row.
pub(super) fn person(text: &str) -> Result<String, String> {
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
pub(super) fn date(text: &str) -> Result<String, String> {
    if is_date(text) {
        return Ok(text.to_owned());
    }
    Err("expected a day as year-month-day, such as 2026-11-25".to_owned())
}

pub(super) fn signoff(arguments: &LayoutArguments, signer: Signer) -> Result<Outcome, Failure> {
    if arguments.layout.as_os_str() == "-" {
        let message = "error: the record is kept beside the layout: name its file instead of -; \
                       nothing was written";
        return Err(Failure::Input(message.to_owned()));
    }
    let Loaded { source, job, inputs, record, .. } = loaded(arguments)?;
    if job.stopped() {
        if !arguments.quiet {
            say::out(&fit::findings(&job, &cures(&job), &source));
            say::out("not signed: a stop stands; nothing was written\n");
        }
        return Ok(Outcome::Stopped);
    }
    let version = Version::of(&job);
    let Signer { by, role, date } = signer;
    let proof = job.layout.proof.number;
    let accepted = Agreed::all(&job.findings);
    let signature = Signature { by, role, date, proof, beside: version.beside.clone(), accepted };
    let mut said = format!(
        "signed: {}, {}, {}: proof {proof}, proof mark {}\n",
        signature.by, signature.role, signature.date, job.mark
    );
    let replace = record.is_some();
    let record = match record {
        None => Record::new(version, signature),
        Some(mut record) => {
            if let Some(earlier) = record.sign(version, signature) {
                said.push_str(&format!(
                    "it replaces the signature of {}, proof {}\n",
                    earlier.date, earlier.proof
                ));
            }
            record
        }
    };
    let path = record_path(&arguments.layout);
    // The record itself is an input of later runs; only here it may be written over.
    let inputs: Vec<_> = inputs.into_iter().filter(|input| *input != path).collect();
    folder::write_one(&path, record.text().as_bytes(), replace, &inputs)?;
    if !arguments.quiet {
        let path = path.display();
        said.push_str(&format!("wrote {path}: to withdraw the sign-off, delete that file\n"));
        say::out(&said);
    }
    Ok(Outcome::Clear)
}
