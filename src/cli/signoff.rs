//! `ansata signoff`: a signature into the record beside the layout.

use crate::files::Failure;
use crate::files::load::record_path;
use crate::files::sign::{Signer, sign};
use crate::remedies::cures;

use super::{LayoutArguments, Outcome, fit, loaded, say};

pub(super) fn signoff(arguments: &LayoutArguments, signer: Signer) -> Result<Outcome, Failure> {
    if arguments.layout.as_os_str() == "-" {
        let message = "error: the record is kept beside the layout: name its file instead of -; \
                       nothing was written";
        return Err(Failure::Input(message.to_owned()));
    }
    let loaded = loaded(arguments)?;
    let job = &loaded.job;
    if job.stopped() {
        if !arguments.quiet {
            say::out(&fit::findings(job, &cures(job), &loaded.source));
            say::out("not signed: a stop stands; nothing was written\n");
        }
        return Ok(Outcome::Stopped);
    }
    let signed = sign(loaded, &arguments.layout, signer)?;
    if !arguments.quiet {
        let path = record_path(&arguments.layout);
        let path = path.display();
        let mut said = format!("signed: {}\n", signed.told);
        if let Some(replaced) = signed.replaced {
            said.push_str(&format!("it replaces {replaced}\n"));
        }
        said.push_str(&format!("wrote {path}: to withdraw the sign-off, delete that file\n"));
        say::out(&said);
    }
    Ok(Outcome::Clear)
}
