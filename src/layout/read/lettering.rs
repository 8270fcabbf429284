//! `[lettering]`, and the lettering of a line: a catalogue name or the user's own file.

use std::sync::Arc;

use serde_json::json;
use toml::de::DeValue;

use super::value::Entry;
use super::{Companions, Notes, Table, Vocabulary, Within, setting};
use crate::layout::diagnostic::{LISTED, choices, quoted};
use crate::layout::schema::{self, Schema};
use crate::layout::{Axis, AxisValue, FontFile, LetteringChoice, Setting};

/// Most faces of one collection file.
const MOST_FACES: u32 = 1000;

/// Numbers that an axis may be set to in any font; each lettering has a range of its own
/// within. Weights: OpenType, axis tag `wght`. Widths and sizes are bound by what is
/// lettering at all: the specification only asks for more than 0.
const fn within(axis: Axis) -> Within {
    match axis {
        Axis::Weight => Within::new(1.0, 1000.0),
        Axis::Width => Within::new(10.0, 1000.0),
        Axis::OpticalSize => Within::new(1.0, 2000.0),
    }
}

/// What editors and other programs are told of `[lettering]`.
pub(super) fn keys() -> Schema {
    let default = "Lettering of every line that names none; `ansata lettering` lists them.";
    let itself = json!({ "if": { "type": "object" },
        "then": { "anyOf": [{ "required": ["name"] }, { "required": ["file"] }] } });
    let mut keys = vec![("default", schema::lettering(default).needed().also(itself))];
    keys.extend(setting::usual_keys());
    schema::table("Lettering.", keys)
}

/// The same of a lettering in braces.
pub(in crate::layout) fn braces_keys() -> Schema {
    let axis = |axis: Axis, about: &str| {
        let words: Vec<&str> = axis.words().iter().map(|(word, _)| *word).collect();
        let kinds =
            [schema::number("A number.", within(axis)), schema::any_word("A word.", &words)];
        (axis.key(), schema::one_of(about, kinds))
    };
    schema::table(
        "A lettering in braces: by name, or a file of your own (TTF, OTF or TTC), and how \
         the axes of a variable one are set. Without name and file it is the default one.",
        [
            ("name", schema::lettering_name("Name of a shipped lettering.")),
            ("file", schema::note("Path of the file, from the layout's folder.")),
            ("index", schema::whole("Which face of a collection, from 0.", 0, MOST_FACES).usual(0)),
            axis(Axis::Weight, "Thickness of the strokes: a word, or such as 400 (regular)."),
            axis(Axis::Width, "Width as drawn: a word, or per cent of the normal width."),
            axis(Axis::OpticalSize, "Size it is drawn for: a word, or points; small is sturdy."),
        ],
    )
    .also(json!({ "not": { "required": ["name", "file"] } }))
    .also(json!({ "dependentRequired": { "index": ["file"] } }))
}

/// What is known of lettering while a layout is read.
pub(super) struct Letterings<'a> {
    vocabulary: &'a Vocabulary,
    pub(super) companions: Companions<'a>,
    /// What a line without lettering of its own is set in.
    default: Default,
    /// How lines are set that do not say.
    pub(super) setting: Setting,
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
        Self {
            vocabulary,
            companions,
            default: Default::Absent,
            setting: Setting::default(),
            files: Vec::new(),
        }
    }

    /// Reads the table `[lettering]`.
    pub(super) fn read_default(&mut self, mut table: Table<'_>, notes: &mut Notes<'_>) {
        let example = "default = \"…\", the name of a lettering";
        self.default = match table.need(notes, "default", example) {
            None => Default::Wrong,
            Some(entry) => self.choice(&entry, notes).map_or(Default::Wrong, Default::Named),
        };
        self.setting = setting::usual(&mut table, notes, self);
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

    /// A lettering by its name or in braces.
    pub(super) fn choice(
        &mut self,
        entry: &Entry<'_>,
        notes: &mut Notes<'_>,
    ) -> Option<LetteringChoice> {
        if let DeValue::Table(_) = entry.value {
            return self.in_braces(entry, notes);
        }
        self.named(entry, notes).map(LetteringChoice::shipped)
    }

    /// The name of a shipped lettering.
    fn named(&self, entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<String> {
        let name = notes.text(entry)?;
        if self.vocabulary.lettering.iter().any(|known| known == name) {
            return Some(name.to_owned());
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

    /// A lettering in braces: by name, a file, or the default one; with its axes set.
    fn in_braces(&mut self, entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<LetteringChoice> {
        let mut table = notes.table(entry)?;
        let why = "a lettering is a shipped one or a file of your own: leave the other out";
        table.contradiction(notes, "name", "file", why);
        let name = table.take(notes, "name");
        // Asked for in any case, so that they are known keys.
        let _ = (table.take(notes, "file"), table.take(notes, "index"));
        let choice = if table.has("file") || table.has("index") {
            self.own_file(&mut table, notes).map(LetteringChoice::own)
        } else if let Some(name) = name {
            self.named(&name, notes).map(LetteringChoice::shipped)
        } else if matches!(self.default, Default::Absent) {
            table.need(notes, "name", "name = \"…\", the name of a lettering");
            None
        } else {
            self.default()
        };
        let axes = axes(&mut table, notes);
        table.finish(notes);
        let mut choice = choice?;
        for (axis, value) in axes? {
            choice.ask(axis, value);
        }
        Some(choice)
    }

    fn own_file(&mut self, table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<FontFile> {
        let file = table.need(notes, "file", "file = \"our-letters.ttf\"");
        let index = table.whole(notes, "index", 0, MOST_FACES).unwrap_or(0);
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

/// The axes that a lettering in braces sets; `None` where one is wrong.
fn axes(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<Vec<(Axis, AxisValue)>> {
    let mut read = Some(Vec::new());
    for axis in Axis::ALL {
        let Some(entry) = table.take(notes, axis.key()) else { continue };
        match (axis_value(axis, &entry, notes), &mut read) {
            (Some(value), Some(read)) => read.push((axis, value)),
            _ => read = None,
        }
    }
    read
}

fn axis_value(axis: Axis, entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<AxisValue> {
    let words: Vec<&str> = axis.words().iter().map(|(word, _)| *word).collect();
    match entry.value {
        DeValue::String(typed) => {
            let word = words.iter().find(|word| *word == typed);
            if word.is_none() {
                let message = format!("`{}` cannot be {}", entry.path, quoted(typed));
                let help = format!("{}; or a number without quotes", choices(typed, &words));
                notes.wrong(&entry.span, message, help);
            }
            word.map(|word| AxisValue::Word(word))
        }
        DeValue::Integer(_) | DeValue::Float(_) => notes
            .number(entry, within(axis))
            .map(|value| AxisValue::Thousandths(thousandths(value))),
        _ => {
            let help = format!("words: {}", words.join(", "));
            notes.of_kind(entry, "a word in quotes or a number", help);
            None
        }
    }
}

/// A number within the bounds of an axis, on the grid on which axes are set.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "within the bounds of an axis, which are small and above 0"
)]
fn thousandths(value: f64) -> u32 {
    (value * 1000.0).round() as u32
}
