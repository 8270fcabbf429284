//! `contents.txt`: what each file of the folder is for, for whom, and what is withheld.

use std::fmt::Write as _;

use crate::finding::Scope;
use crate::job::Job;

use super::prose::paragraph;
use super::words;

/// Who is to have a file, in the order of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Reader {
    Client,
    Engraver,
    Fitter,
    Record,
}

const READERS: [(Reader, &str); 4] = [
    (Reader::Client, "For the people who approve"),
    (Reader::Engraver, "For whoever cuts, engraves and drills the plate"),
    (Reader::Fitter, "For whoever drills the face and fixes the plate"),
    (Reader::Record, "For the record"),
];

/// Names as they begin, the first that does counting; for whom, and what for.
const FILES: [(&str, Reader, &str); 15] = [
    (
        "proof.pdf",
        Reader::Client,
        "The plaque at true size, its wording row by row, what was noticed, room to sign. Print at \
         100 %, read it aloud against your own papers.",
    ),
    ("proof.png", Reader::Client, "The same as a picture, to look at on a screen."),
    ("proof.svg", Reader::Client, "The same as a drawing, to set into other papers."),
    (
        "artwork-mm.",
        Reader::Engraver,
        "All that is cut, at true size, a group (in DXF a layer) an operation; corner marks for \
         setting the work are not cut.",
    ),
    (
        "artwork-photo-",
        Reader::Engraver,
        "The photographs: as .png alone at the steps of the machine, else in their places.",
    ),
    (
        "artwork-",
        Reader::Engraver,
        "The operation that the name tells alone, on the same page from the same zero.",
    ),
    (
        "artwork.txt",
        Reader::Engraver,
        "Read before cutting: sizes, zero, side, counts, lengths, areas, tolerances, cautions.",
    ),
    ("drilling-mm.", Reader::Engraver, "The plate's edge, holes and countersinks from its corner."),
    (
        "pattern.pdf",
        Reader::Fitter,
        "Mount pattern to tape to the face, and the plate's drilling sheet. Print at 100 % and \
         measure its bars before drilling.",
    ),
    ("pattern.svg", Reader::Fitter, "The same as a drawing."),
    ("pattern-mm.", Reader::Fitter, "Face, plate and bores as outlines, for drilling by machine."),
    ("mockup.pdf", Reader::Fitter, "A paper plaque to hold against the face. Not for drilling."),
    ("contents.txt", Reader::Record, "This sheet."),
    (
        "report.json",
        Reader::Record,
        "Everything in figures, for machines; keep it beside the files: by it ansata knows its own.",
    ),
    (".zip", Reader::Record, "All these files in one archive."),
];

/// The contents sheet of a job as text; `files` are the names in the folder. A name that
/// is none of ansata's is left out.
#[must_use]
pub fn contents(job: &Job, files: &[String]) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "CONTENTS: {}", job.layout.title);
    let _ = writeln!(out, "proof {}, proof mark {}", job.layout.proof.number, job.mark);
    let _ = writeln!(out, "{}\n", words::signed_off_in_full(job.signed.as_ref()));
    out.push_str(
        "Every sheet bears this mark. A paper with another mark is of another version:\n\
         do not cut or drill by the two together.\n",
    );
    for (reader, head) in READERS {
        let mut begun = false;
        for known in FILES.iter().filter(|(_, whose, _)| *whose == reader) {
            let named = files.iter().filter(|file| entry(file) == Some(known));
            let named: Vec<&str> = named.map(String::as_str).collect();
            if named.is_empty() {
                continue;
            }
            if !begun {
                let _ = writeln!(out, "\n{head}");
                begun = true;
            }
            for name in named {
                let _ = writeln!(out, "  {name}");
            }
            paragraph(&mut out, known.2, "   ");
        }
    }
    out.push_str("\nWithheld\n");
    let mut withheld = withheld(job);
    if withheld.is_empty() {
        withheld.push("Nothing: no stop stands.".to_owned());
    }
    for text in withheld {
        paragraph(&mut out, &text, "-");
    }
    out
}

/// What a name is for.
fn entry(file: &str) -> Option<&'static (&'static str, Reader, &'static str)> {
    FILES.iter().find(|(name, ..)| {
        if name.starts_with('.') { file.ends_with(name) } else { file.starts_with(name) }
    })
}

/// What is not among the files of a job, and why; empty where nothing is withheld.
#[must_use]
pub fn withheld(job: &Job) -> Vec<String> {
    let groups: [(&str, &[Scope]); 2] = [
        ("artwork", &[Scope::Wording, Scope::Lettering, Scope::Photo, Scope::SignOff]),
        ("mount pattern and drilling files", &[Scope::Mount, Scope::SignOff]),
    ];
    let mut all = Vec::new();
    for (what, scopes) in groups {
        let stops = job
            .findings
            .iter()
            .filter(|judged| judged.stops() && scopes.contains(&judged.finding.scope));
        all.extend(stops.map(|judged| {
            format!("{what}: stop, {} ({})", judged.finding.message, judged.finding.code)
        }));
    }
    all
}

/// What a file of the pack is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Purpose {
    /// Its place among the others, as the contents sheet orders them.
    pub place: usize,
    /// For whom it is.
    pub reader: &'static str,
    /// What for.
    pub what: &'static str,
}

/// What a file of the pack is for, by its name; `None` for names of other files.
#[must_use]
pub fn purpose(file: &str) -> Option<Purpose> {
    let known = entry(file)?;
    let place = FILES.iter().position(|one| one == known)?;
    let (_, reader) = READERS.iter().find(|(whose, _)| *whose == known.1)?;
    Some(Purpose { place, reader, what: known.2 })
}
