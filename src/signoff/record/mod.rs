//! The record of a sign-off: a version with its signatures, as TOML that a person can read,
//! under a seal that finds slips and damage (it is no proof against forgery).

mod read;
mod write;

use crate::job::Signature;

use super::Version;

pub use read::is_record;

/// Version of the record that this program writes and reads.
const VERSION: u32 = 1;

/// The line with which the seal begins: it covers all bytes before it.
const SEAL: &str = "\n[seal]\n";

/// A version that people signed for.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// What was signed; what is beside it as the last signature has it.
    pub version: Version,
    /// Signatures in the order in which they were given; never empty.
    pub signatures: Vec<Signature>,
}

impl Record {
    /// A version with its first signature.
    #[must_use]
    pub fn new(version: Version, first: Signature) -> Self {
        Self { version, signatures: vec![first] }
    }

    /// One more signature for a version that is cut alike. Who signs again in the same role
    /// replaces the earlier signature, which is given back. The last signature stands last.
    pub fn sign(&mut self, version: Version, signature: Signature) -> Option<Signature> {
        let same = |s: &Signature| s.by == signature.by && s.role == signature.role;
        let known = self.signatures.iter().position(same);
        let earlier = known.map(|index| self.signatures.remove(index));
        self.signatures.push(signature);
        self.version = version;
        earlier
    }
}

/// SHA-256 of a text, in hexadecimal.
fn digest(text: &str) -> String {
    use sha2::{Digest, Sha256};
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}
