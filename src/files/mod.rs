//! Files on disk: all reading before the way through begins, all writing after it. Paths in,
//! a loaded job out; outputs in, whole files or none. Command line and desk both go
//! through here, so that what one makes is what the other makes. No arithmetic, no printing.

pub(crate) mod folder;
pub(crate) mod load;
pub(crate) mod pack;
pub(crate) mod set;
pub(crate) mod shelf;
pub(crate) mod sign;
pub(crate) mod starters;

use crate::layout::Diagnostic;

/// Why work on files ended early.
#[derive(Debug)]
pub(crate) enum Failure {
    /// Something was not understood, in a sentence.
    Input(String),
    /// A file was not understood, mistake by mistake; never empty.
    Mistakes(Vec<Diagnostic>),
    /// A file could not be written.
    Write(String),
}
