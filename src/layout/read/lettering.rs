//! `[lettering]`, and the lettering of a line: a catalogue name or the user's own file.

use std::sync::Arc;

use toml::de::DeValue;

use super::value::Entry;
use super::{Companions, Notes, Table, Vocabulary};
use crate::layout::diagnostic::{LISTED, choices, quoted};
use crate::layout::schema::{self, Schema};
use crate::layout::{FontFile, LetteringChoice};

/// Most faces of one collection file.
const MOST_FACES: u32 = 1000;

/// What editors and other programs are told of `[lettering]`.
pub(super) fn keys() -> Schema {
    let default = "Lettering of every line that names none; `ansata lettering` lists them.";
    schema::table("Lettering.", [("default", schema::lettering(default).needed())])
}

/// The same of a lettering file of the user's own.
pub(in crate::layout) fn file_keys() -> Schema {
    schema::table(
        "A lettering file of your own: TTF, OTF or TTC.",
        [
            ("file", schema::note("Path of the file, from the layout's folder.").needed()),
            ("index", schema::whole("Which face of a collection, from 0.", 0, MOST_FACES).usual(0)),
        ],
    )
}

/// What is known of lettering while a layout is read.
pub(super) struct Letterings<'a> {
    vocabulary: &'a Vocabulary,
    pub(super) companions: Companions<'a>,
    /// What a line without lettering of its own is set in.
    default: Default,
    /// Files already read; `None` where reading failed and was told.
    files: Vec<(String, Option<Arc<[u8]>>)>,
}

enum Default {
    /// None is named.
    Absent,
    /// One is named, wrongly, and that was told.
    Wrong,
    Named(LetteringChoice),
}

impl<'a> Letterings<'a> {
    pub(super) fn new(vocabulary: &'a Vocabulary, companions: Companions<'a>) -> Self {
        Self { vocabulary, companions, default: Default::Absent, files: Vec::new() }
    }

    /// Reads the table `[lettering]`.
    pub(super) fn read_default(&mut self, mut table: Table<'_>, notes: &mut Notes<'_>) {
        let example = "default = \"…\", the name of a lettering";
        self.default = match table.need(notes, "default", example) {
            None => Default::Wrong,
            Some(entry) => self.choice(&entry, notes).map_or(Default::Wrong, Default::Named),
        };
        table.finish(notes);
    }

    /// The lettering of a line that names this one, or none.
    pub(super) fn of_line(
        &mut self,
        entry: Option<Entry<'_>>,
        line: &Table<'_>,
        notes: &mut Notes<'_>,
    ) -> Option<LetteringChoice> {
        if let Some(entry) = entry {
            return self.choice(&entry, notes);
        }
        if matches!(self.default, Default::Absent) {
            notes.missing(
                "lettering",
                &line.span,
                format!("no lettering is named for line {}", line.path.trim_start_matches("line.")),
                "write `lettering` here, or [lettering] with a `default` for all lines",
            );
        }
        self.default()
    }

    /// The lettering of lines that name none.
    pub(super) fn default(&self) -> Option<LetteringChoice> {
        match &self.default {
            Default::Named(choice) => Some(choice.clone()),
            Default::Absent | Default::Wrong => None,
        }
    }

    /// Whether lines must name their own.
    pub(super) fn has_no_default(&self) -> bool {
        matches!(self.default, Default::Absent)
    }

    fn choice(&mut self, entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<LetteringChoice> {
        if let DeValue::Table(_) = entry.value {
            return self.own_file(entry, notes).map(LetteringChoice::Own);
        }
        let name = notes.text(entry)?;
        if self.vocabulary.lettering.iter().any(|known| known == name) {
            return Some(LetteringChoice::Shipped(name.to_owned()));
        }
        let known: Vec<&str> = self.vocabulary.lettering.iter().map(String::as_str).collect();
        let message = format!("there is no lettering {}", quoted(name));
        let mut help = choices(name, &known);
        if known.len() > LISTED {
            help.push_str(" All names: ansata lettering");
        }
        notes.wrong(&entry.span, message, help);
        None
    }

    fn own_file(&mut self, entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<FontFile> {
        let mut table = notes.table(entry)?;
        let file = table.need(notes, "file", "file = \"our-letters.ttf\"");
        let index = table.whole(notes, "index", 0, MOST_FACES).unwrap_or(0);
        table.finish(notes);
        let file = file?;
        let path = notes.note(&file)?;
        if let Some((_, bytes)) = self.files.iter().find(|(known, _)| *known == path) {
            return bytes.clone().map(|bytes| FontFile { path, index, bytes });
        }
        let bytes = match (self.companions)(&path) {
            Ok(bytes) => Some(Arc::from(bytes)),
            Err(why) => {
                let message = format!("the lettering file {} cannot be read", quoted(&path));
                notes.wrong(&file.span, message, why);
                None
            }
        };
        self.files.push((path.clone(), bytes.clone()));
        bytes.map(|bytes| FontFile { path, index, bytes })
    }
}
