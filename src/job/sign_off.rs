//! A sign-off as findings, sheets and report speak of it.

use std::collections::BTreeMap;

use super::Judged;

/// A finding that somebody signed for although it was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Agreed {
    /// Its code.
    pub code: String,
    /// Key path of its place.
    pub place: String,
    /// What it said.
    pub finding: String,
    /// Why it was accepted.
    pub reason: String,
}

impl Agreed {
    /// The findings of a job that its layout accepts.
    #[must_use]
    pub fn all(findings: &[Judged]) -> Vec<Self> {
        let accepted = findings.iter().filter_map(|judged| {
            let finding = &judged.finding;
            judged.accepted.as_ref().map(|reason| Self {
                code: finding.code.to_owned(),
                place: finding.place.key.clone(),
                finding: finding.message.clone(),
                reason: reason.clone(),
            })
        });
        accepted.collect()
    }
}

/// One person's signature.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// Who signed.
    pub by: String,
    /// As what.
    pub role: String,
    /// When, as ISO 8601 writes it.
    pub date: String,
    /// Number of the proof that was signed.
    pub proof: u32,
    /// What moves no outline and yet was agreed, such as the material: name and value.
    pub beside: BTreeMap<String, String>,
    /// What was accepted on it.
    pub accepted: Vec<Agreed>,
}

impl Signature {
    /// Who signed, as what, when and which proof, in a phrase.
    #[must_use]
    pub fn told(&self) -> String {
        format!("{} ({}) on {}, proof {}", self.by, self.role, self.date, self.proof)
    }
}

/// Who signed, for what, and whether it still is what is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct SignOff {
    /// Proof mark of what was signed.
    pub mark: String,
    /// Signatures in the order in which they were given; never empty.
    pub signatures: Vec<Signature>,
    /// What is cut otherwise than it was signed, a phrase each; empty while it holds.
    pub changes: Vec<String>,
    /// What was written then and is otherwise now, as far as the record tells it.
    pub put_back: PutBack,
}

/// What the keys of a layout held when it was signed, where they hold something else now.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PutBack {
    /// Lines, from 0, with their wordings; none where there are more or fewer lines now.
    pub lines: Vec<(usize, String)>,
    /// Width and height of the plate, mm.
    pub size: Option<(f64, f64)>,
}

impl SignOff {
    /// Whether what is cut is what was signed.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.changes.is_empty()
    }
}
