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

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::{Record, SEAL, digest, is_record};
    use crate::job::{Agreed, Cut, CutBorder, CutGlyph, CutHole, CutPhoto, Signature, Trace};
    use crate::layout::Source;
    use crate::signoff::{Place, Version, VersionFace, VersionLine, VersionRow};

    fn signature(by: &str) -> Signature {
        let beside = [("material", "brass"), ("place on the face", "15 mm \"up\"")];
        Signature {
            by: by.to_owned(),
            role: "For the ringers".to_owned(),
            date: "2026-11-25".to_owned(),
            proof: 3,
            beside: beside.map(|(name, value)| (name.to_owned(), value.to_owned())).into(),
            accepted: vec![Agreed {
                code: "below-asked-height".to_owned(),
                place: "line.2".to_owned(),
                finding: "Line 2: too low".to_owned(),
                reason: "agreed \\ by letter".to_owned(),
            }],
        }
    }

    /// A record with everything that one may hold; no real plaque.
    fn full() -> Record {
        let trace = |text: &str| Trace::parsed(text).expect("a path of ours");
        let hole = CutHole { at: (8000, -1), diameter: 2578, head: 4115, travel: None };
        let cut = Cut {
            raised: true,
            behind: true,
            outline: trace("M0 0l120000 0l0 80000z"),
            bevel: 1000,
            border: Some(CutBorder { weight: 300, lines: vec![trace("M3 3l5 0")] }),
            holes: vec![CutHole { travel: Some((500, 0)), ..hole.clone() }, hole],
            shapes: vec![trace("M1 2q3 4 5 6z"), Trace::default()],
            rows: vec![vec![CutGlyph { shape: 0, at: (5, 6) }], Vec::new()],
            decoration: vec![trace("M7 8l9 0l0 9z")],
            photos: vec![CutPhoto {
                file: "0f".repeat(32),
                crop: [0, 250, 600_000, 799_500],
                made: "printed, in colour".to_owned(),
                outline: trace("M7 8l9 0l0 9z"),
                pocket: Some(trace("M6 7l11 0l0 11z")),
                engraved: vec![trace("M7 8l9 0l0 9z")],
            }],
        };
        let row = VersionRow {
            text: "Tarrant\u{AD}".to_owned(),
            place: Place { left: -5, right: 17_203, baseline: 9001 },
        };
        let face = VersionFace {
            name: "Besley".to_owned(),
            digest: "00ff".to_owned(),
            set: "wght 600".to_owned(),
        };
        let line = VersionLine {
            text: "\"The\" Elowen\n\u{5E9}\u{200F}\ttenor \u{1F514}".to_owned(),
            faces: vec![face],
            cap_height: 4457,
            rows: vec![row.clone(), row],
        };
        let first = signature("Orla Penhallick");
        let version = Version {
            title: "A \\ title".to_owned(),
            mark: cut.mark(),
            shape: "rounded, corner 5 mm".to_owned(),
            size: (120_000, 80_000),
            beside: first.beside.clone(),
            lines: vec![line],
            cut,
        };
        Record::new(version, first)
    }

    fn read(text: &str) -> Result<Record, String> {
        let source = Source { name: "cup.signed.toml".to_owned(), text: text.to_owned() };
        Record::read(&source).map_err(|mistake| mistake.render(false))
    }

    #[test]
    fn a_record_is_read_back_as_it_was_written() {
        let mut record = full();
        assert_eq!(read(&record.text()).as_ref(), Ok(&record));
        let version = record.version.clone();
        let later = Signature { beside: BTreeMap::new(), ..signature("Tamsin Roskilly") };
        assert_eq!(record.sign(Version { beside: BTreeMap::new(), ..version }, later), None);
        assert_eq!(read(&record.text()).as_ref(), Ok(&record));
        assert!(is_record(&record.text()) && !is_record("# ansata_signed = 1\nansata = 1\n"));
    }

    #[test]
    fn signing_again_in_the_same_role_replaces_and_in_another_adds() {
        let mut record = full();
        let version = record.version.clone();
        let again = Signature { date: "2026-12-01".to_owned(), ..signature("Orla Penhallick") };
        let earlier = record.sign(version.clone(), again.clone());
        assert_eq!(earlier.map(|s| s.date), Some("2026-11-25".to_owned()));
        let other = Signature { role: "For the tower".to_owned(), ..again };
        assert_eq!(record.sign(version, other), None);
        assert_eq!(record.signatures.len(), 2);
    }

    /// Whatever becomes of a record, even one sealed anew, it is read or refused.
    #[test]
    fn no_bytes_make_the_reader_panic() {
        let text = full().text();
        let body = text.get(..text.rfind(SEAL).expect("a seal")).expect("a boundary").to_owned();
        arbtest::arbtest(|random| {
            let mut bytes = body.clone().into_bytes();
            for _ in 0..random.int_in_range(1..=4)? {
                let at = random.choose_index(bytes.len())?;
                let with: Vec<u8> = match random.int_in_range(0..=3)? {
                    0 => Vec::new(),
                    1 => vec![random.arbitrary()?],
                    2 => b"99999999999999999999".to_vec(),
                    _ => random
                        .choose(&["-", "nan", "\"", "]", "M", "l", "1e308", "\n"])?
                        .as_bytes()
                        .to_vec(),
                };
                bytes.splice(at..=at, with);
            }
            let body = String::from_utf8_lossy(&bytes).into_owned();
            let seal = digest(&body);
            if let Ok(record) = read(&format!("{body}{SEAL}digest = \"{seal}\"\n")) {
                let _ = super::super::changes(&full().version, &record.version);
                let _ = super::super::changes(&record.version, &full().version);
            }
            Ok(())
        });
    }
}
