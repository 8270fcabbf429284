//! What page and server say to each other, as JSON.
//!
//! The page's types (`page/types.d.ts`) are made of these, and of the layout file's schema; a
//! test fails where they differ. Lengths are in mm, indexes count from 0.

use serde::{Deserialize, Deserializer, Serialize};
use serde_json::Value;

pub(crate) use crate::layout::Step;

/// The way to a value: `["line", 1, "text"]`.
pub(crate) type Path = Vec<Step>;

/// One change of the layout file. `was` is what the page showed there when it was made (null
/// where nothing was): if the file holds something else by now, the change is a clash and is
/// not kept. Without `was` nothing is compared.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) enum Change {
    /// A key gets this value; tables on the way are made.
    Set {
        /// Which value.
        path: Path,
        /// What it becomes.
        to: Value,
        /// What it was.
        #[serde(default, deserialize_with = "told")]
        #[cfg_attr(test, schemars(with = "Option<Value>"))]
        was: Option<Option<Value>>,
    },
    /// A key, or an entry of a list, goes; what is not there may go too.
    Remove {
        /// Which.
        path: Path,
        /// What it was.
        #[serde(default, deserialize_with = "told")]
        #[cfg_attr(test, schemars(with = "Option<Value>"))]
        was: Option<Option<Value>>,
    },
    /// A new entry of a list, before the one that stands at this index, or at its end.
    Insert {
        /// The list's path and the index.
        path: Path,
        /// The entry.
        to: Value,
    },
    /// An entry of a list goes to another place.
    Move {
        /// Which entry.
        path: Path,
        /// Its index afterwards.
        to: usize,
    },
    /// The whole file as text.
    Text {
        /// All of it.
        to: String,
        /// What it was.
        #[serde(default)]
        was: Option<String>,
    },
}

/// Told apart from not told: `null` is a value.
fn told<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Option<Value>>, D::Error> {
    Ok(Some(match Value::deserialize(from)? {
        Value::Null => None,
        value => Some(value),
    }))
}

/// What the page asks for: changes that belong together.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Asked {
    /// New changes, kept together or not at all.
    pub(crate) changes: Vec<Change>,
    /// Changes that were not kept before, such as a shape whose corner was missing: they are
    /// tried again with the new ones.
    #[serde(default)]
    pub(crate) waiting: Vec<Change>,
    /// Changes that follow each other with the same word here are undone in one step.
    #[serde(default)]
    pub(crate) stroke: Option<String>,
}

/// What became of changes.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Kept {
    /// All, also those that were waiting.
    All,
    /// The new ones without those that were waiting.
    New,
    /// None: the file is as it was. `mistakes` say why, or `clash`.
    None,
}

/// The answer to changes, and to undo and redo.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Answer {
    /// What was kept.
    pub(crate) kept: Kept,
    /// Why changes were not kept.
    pub(crate) mistakes: Vec<Mistake>,
    /// A value that somebody else has changed meanwhile.
    pub(crate) clash: Option<Clash>,
    /// How everything stands now.
    pub(crate) bench: Bench,
}

/// A value that is no longer what the page showed.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Clash {
    /// Which.
    pub(crate) path: Path,
    /// What it is now; null where nothing is.
    pub(crate) now: Option<Value>,
}

/// Something that cannot be understood.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Mistake {
    /// The key that it speaks of, as near as it is known; empty for the whole file.
    pub(crate) path: Path,
    /// Line in the file, from 1; 0 where it has none.
    pub(crate) line: usize,
    /// Column in characters, from 1; 0 where it has none.
    pub(crate) column: usize,
    /// What is wrong.
    pub(crate) message: String,
    /// What was expected, with the nearest right word.
    pub(crate) help: Option<String>,
}

impl Mistake {
    /// What is wrong with the file as a whole.
    pub(crate) fn of_the_file(message: String) -> Self {
        Self { path: Vec::new(), line: 0, column: 0, message, help: None }
    }
}

/// How a layout stands: all that the page shows.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Bench {
    /// File name of the layout.
    pub(crate) name: String,
    /// Rises with every change of the file or of what lies beside it: an answer with a lower
    /// number than the one shown is stale.
    pub(crate) version: u64,
    /// The file's text.
    pub(crate) text: String,
    /// Its values; null where it is no TOML at all.
    pub(crate) values: Value,
    /// Whether something can be undone.
    pub(crate) undo: bool,
    /// Whether something can be done again.
    pub(crate) redo: bool,
    /// Why the file cannot be understood; then all that follows is empty.
    pub(crate) mistakes: Vec<Mistake>,
    /// What it makes.
    pub(crate) plaque: Option<Plaque>,
}

/// A drawing, to be set into the page.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Picture {
    /// SVG, a viewBox in mm.
    pub(crate) svg: String,
    /// Width, mm.
    pub(crate) width: f64,
    /// Height, mm.
    pub(crate) height: f64,
}

/// A plaque as the job made it.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Plaque {
    /// The plaque in its material, heads of fixings over their holes.
    pub(crate) front: Picture,
    /// The face with the plate on it and every hole; null where no face is told.
    pub(crate) face: Option<Picture>,
    /// Width and height of the plate, mm.
    pub(crate) size: (f64, f64),
    /// One sentence: the scale that was reached, and of how much.
    pub(crate) fit: String,
    /// What holds it and where, in a sentence or two.
    pub(crate) mount: String,
    /// Lines of the inscription, in their order; a file of wording gives lines as well.
    pub(crate) lines: Vec<Line>,
    /// The process that a new photograph has to name, where the plate's own makes none.
    pub(crate) photo_process: Option<String>,
    /// Photographs, as in the layout.
    pub(crate) photos: Vec<Photo>,
    /// What was noticed, in the order of print.
    pub(crate) findings: Vec<Finding>,
    /// The proof mark.
    pub(crate) mark: String,
    /// Who signed.
    pub(crate) signed: Option<Signed>,
    /// What is withheld, and why.
    pub(crate) withheld: Vec<String>,
}

/// A line of the inscription as it stands on the plate.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Line {
    /// Its wording as the layout, or the file of wording, gives it.
    pub(crate) text: String,
    /// The drawing that it holds instead of words, such as "bell".
    pub(crate) ornament: Option<String>,
    /// The lettering that it is set in.
    pub(crate) lettering: String,
    /// Cap height, mm; of a drawing its height.
    pub(crate) cap_height: f64,
    /// x-height, mm.
    pub(crate) x_height: Option<f64>,
    /// Its rows as one reads them.
    pub(crate) rows: Vec<String>,
    /// Its least cap height, mm.
    pub(crate) floor: f64,
    /// Sentences: what set its height, and where it may not be broken and why.
    pub(crate) why: Vec<String>,
}

/// A photograph.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Photo {
    /// Its file.
    pub(crate) file: String,
    /// Width and height of the whole picture, upright, pixels.
    pub(crate) pixels: (u32, u32),
    /// Width and height on the plate, mm.
    pub(crate) size: (f64, f64),
    /// What is shown of it: left, top, right, bottom as shares of the picture.
    pub(crate) crop: [f64; 4],
    /// Pixels on a mm.
    pub(crate) per_mm: f64,
}

/// One thing noticed.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Finding {
    /// Its name, stable between versions.
    pub(crate) code: String,
    /// `stop`, `caution` or `note`.
    pub(crate) severity: String,
    /// The key that it speaks of, as near as it is known.
    pub(crate) path: Path,
    /// The place as `accept` wants it, such as `line.2`.
    pub(crate) place: String,
    /// What was measured, as `accept` wants it.
    pub(crate) measured: Option<f64>,
    /// The sentence.
    pub(crate) message: String,
    /// The rule and whose it is.
    pub(crate) rule: String,
    /// The reason why it was accepted.
    pub(crate) accepted: Option<String>,
    /// Whether it could be.
    pub(crate) can_accept: bool,
}

/// A proved cure of a finding.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Cure {
    /// Index into the findings.
    pub(crate) finding: usize,
    /// What to do, with its number.
    pub(crate) message: String,
    /// The changes that do it.
    pub(crate) changes: Vec<CureChange>,
}

/// A value that a cure or a choice sets, as a change of the kind `set`, for the page to send back.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct CureChange {
    /// Always `set`.
    #[serde(rename = "do")]
    #[cfg_attr(test, schemars(extend("const" = "set")))]
    pub(crate) kind: &'static str,
    /// Which value.
    pub(crate) path: Path,
    /// What it becomes.
    pub(crate) to: Value,
}

impl CureChange {
    /// A value set.
    pub(crate) fn set(path: Path, to: Value) -> Self {
        Self { kind: "set", path, to }
    }
}

/// Proved cures for the findings of one version.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Cures {
    /// The version that they belong to.
    pub(crate) version: u64,
    /// All of them, the least change first.
    pub(crate) cures: Vec<Cure>,
}

/// Who signed for what is cut.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Signed {
    /// The mark that was signed.
    pub(crate) mark: String,
    /// Whether it still is what is cut.
    pub(crate) holds: bool,
    /// Each signature in a sentence.
    pub(crate) signatures: Vec<String>,
    /// What is otherwise now.
    pub(crate) changes: Vec<String>,
}

/// The files of one version.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Files {
    /// The version that they are made of.
    pub(crate) version: u64,
    /// All of them.
    pub(crate) files: Vec<File>,
}

/// A file that can be had from the page.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct File {
    /// Its name.
    pub(crate) name: String,
    /// For whom.
    pub(crate) reader: String,
    /// What it is for.
    pub(crate) what: String,
}

/// Who signs.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Signing {
    /// Who.
    pub(crate) by: String,
    /// As what.
    pub(crate) role: String,
    /// Year-month-day.
    pub(crate) date: String,
    /// The mark that was shown when it was signed: another one is refused.
    pub(crate) mark: String,
}

/// Something to choose, with its picture.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Choice {
    /// What it is called.
    pub(crate) name: String,
    /// What is to be said of it.
    pub(crate) about: String,
    /// How it looks.
    pub(crate) picture: Option<Picture>,
    /// The changes that choose it, for the page to send back.
    pub(crate) changes: Vec<CureChange>,
    /// Keys that have to go.
    pub(crate) remove: Vec<Path>,
}

/// A layout, a starter, an earlier version: something with a name.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Entry {
    /// Its name.
    pub(crate) name: String,
    /// What it is called, or when it was kept (milliseconds since 1970, as text).
    pub(crate) about: String,
}

/// What the desk holds.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Folder {
    /// The folder as it was named.
    pub(crate) folder: String,
    /// Its layouts.
    pub(crate) layouts: Vec<Entry>,
    /// Shipped layouts to begin with.
    pub(crate) starters: Vec<Entry>,
    /// The layout that the desk was opened with.
    pub(crate) opened: Option<String>,
}

/// A new layout.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewLayout {
    /// What the work is called; the file's name is made of it.
    pub(crate) title: String,
    /// A starter; a small plate with one line where there is none.
    #[serde(default)]
    pub(crate) from: Option<String>,
}

/// An earlier version, by its name.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Named {
    /// The name.
    pub(crate) name: String,
}

/// A file that was laid beside the layout.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Stored {
    /// Its name in the folder: that of a file that is there already, if it holds the same.
    pub(crate) name: String,
}

/// Why a request was refused, in words for the person at the page.
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Refused {
    /// The sentence.
    pub(crate) refused: String,
}
