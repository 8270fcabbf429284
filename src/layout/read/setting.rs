//! How the letters of a line are set: keys of `[[line]]`, some of which `[lettering]` may
//! give for all lines.

use serde_json::json;

use super::lettering::Letterings;
use super::value::Entry;
use super::{Notes, Table};
use crate::layout::diagnostic::quoted;
use crate::layout::schema::{self, Schema};
use crate::layout::{
    Case, FigureForm, FigureWidth, LetteringChoice, Quotes, Setting, SmallCapitalsFor,
};

/// Most letterings beside a line's own: one for each script that is shipped, and some.
const MOST_OTHERS: usize = 8;

/// OpenType registers the stylistic sets `ss01` to `ss20`.
const STYLISTIC_SETS: u32 = 20;

/// A tag of BCP 47, as far as its shape goes; private ones are none of a wording.
const LANGUAGE: &str = "^[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,3}$";
const LANGUAGE_HELP: &str = "write its code of two or three letters: \"cy\", \"el\", \"tr\"";
const LONGEST_LANGUAGE: usize = 30;

/// What editors are told of the keys that `[lettering]` and lines share.
fn shared_keys() -> Vec<(&'static str, Schema)> {
    let others = "Further lettering for what the lettering lacks, in the order in which it is \
                  tried, whole stretches of one script at a time.";
    let language = "Language of the wording, as a code such as cy, el or tr: for capitals, \
                    quotes and the forms that a lettering has for it.";
    let case = "Whether letters are set as written; the wording itself is never altered.";
    let quotes = "Whether straight quotes are set as those of the language.";
    vec![
        (
            "others",
            schema::list(others, 0, MOST_OTHERS, schema::lettering("One lettering."))
                .example(json!(["Frank Ruhl Libre", "Amiri"])),
        ),
        ("language", schema::text(language, LANGUAGE, LONGEST_LANGUAGE).example("cy")),
        ("case", schema::word::<Case>(case).usual("as written")),
        ("quotes", schema::word::<Quotes>(quotes).usual("as written")),
    ]
}

/// What editors are told of the keys of `[lettering]`.
pub(super) fn usual_keys() -> Vec<(&'static str, Schema)> {
    shared_keys()
}

/// What editors are told of the keys of a line.
pub(super) fn line_keys() -> Vec<(&'static str, Schema)> {
    let ligatures = "Whether letters may join into ligatures.";
    let small = "Letters set as small capitals, where the lettering has them.";
    let sets = "Stylistic sets of the lettering, by number.";
    let set = schema::whole("One set.", 1, STYLISTIC_SETS);
    let narrow = "Share of its drawn width down to which the line may be narrowed on a width \
                  axis, to reach its height.";
    let tracking = "White added between neighbouring capitals where there is width to spare, at \
                    most; in cap heights.";
    let mut keys = shared_keys();
    keys.extend([
        ("ligatures", schema::truth(ligatures).usual(true)),
        ("small_capitals", schema::word::<SmallCapitalsFor>(small)),
        ("figures", schema::word::<FigureForm>("Forms of figures.")),
        ("figure_widths", schema::word::<FigureWidth>("Widths of figures.")),
        ("stylistic_sets", schema::any_list(sets, set).example(json!([1]))),
        ("narrow_to", schema::percent(narrow).example("80 %")),
        ("tracking", schema::percent(tracking).example("8 %")),
    ]);
    keys
}

/// What `[lettering]` says for all lines.
pub(super) fn usual(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    letterings: &mut Letterings<'_>,
) -> Setting {
    let mut setting = Setting::default();
    shared(table, notes, letterings, &mut setting);
    setting
}

/// How a line is set: what it says itself, and what `[lettering]` says for all.
pub(super) fn of_line(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    letterings: &mut Letterings<'_>,
) -> Setting {
    let mut setting = letterings.setting.clone();
    shared(table, notes, letterings, &mut setting);
    let ligatures = table.take(notes, "ligatures").and_then(|entry| notes.truth(&entry));
    setting.ligatures = ligatures.unwrap_or(true);
    setting.small_capitals = table.word(notes, "small_capitals");
    setting.figures = table.word(notes, "figures");
    setting.figure_widths = table.word(notes, "figure_widths");
    if let Some(entry) = table.take(notes, "stylistic_sets") {
        let items = notes.list(&entry, "stylistic_sets = [1]").unwrap_or_default();
        let sets = items.iter().filter_map(|item| notes.whole(item, 1, STYLISTIC_SETS));
        setting.stylistic_sets = sets.collect();
    }
    setting.narrow_to = table.take(notes, "narrow_to").and_then(|entry| notes.percent(&entry));
    setting.tracking = table.take(notes, "tracking").and_then(|entry| notes.percent(&entry));
    setting
}

/// The keys that `[lettering]` and lines share.
fn shared(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    letterings: &mut Letterings<'_>,
    setting: &mut Setting,
) {
    if let Some(entry) = table.take(notes, "others") {
        setting.others = others(&entry, notes, letterings);
    }
    if let Some(entry) = table.take(notes, "language") {
        setting.language = language(&entry, notes);
        if setting.language.is_none() {
            // Told already: nothing more is asked of it.
            setting.quotes = Quotes::AsWritten;
            let _ = (table.take(notes, "case"), table.take(notes, "quotes"));
            return;
        }
    }
    setting.case = table.word(notes, "case").unwrap_or(setting.case);
    if let Some(entry) = table.take(notes, "quotes") {
        setting.quotes = notes.word(&entry).unwrap_or(setting.quotes);
        if setting.quotes == Quotes::Typographic && setting.language.is_none() {
            let message = "quotes differ by language, and none is named";
            notes.wrong(&entry.span, message, "write language = \"en\" beside it");
        }
    }
}

fn others(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    letterings: &mut Letterings<'_>,
) -> Vec<LetteringChoice> {
    let items = notes.list(entry, "others = [\"Frank Ruhl Libre\"]").unwrap_or_default();
    if let Some(item) = items.get(MOST_OTHERS) {
        let message = format!("`{}` has {} entries", entry.path, items.len());
        notes.wrong(&item.span, message, format!("it may have up to {MOST_OTHERS}"));
        return Vec::new();
    }
    let read = items.iter().filter_map(|item| {
        notes.keys.insert(item.path.clone(), item.span.clone());
        letterings.choice(item, notes)
    });
    read.collect()
}

fn language(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<String> {
    let typed = notes.text(entry)?;
    let mut parts = typed.split('-');
    let plain = |part: &str| part.bytes().all(|b| b.is_ascii_alphanumeric());
    let first = parts.next().is_some_and(|part| {
        matches!(part.len(), 2..=3) && part.bytes().all(|b| b.is_ascii_alphabetic())
    });
    let rest: Vec<&str> = parts.collect();
    let fine = first
        && rest.len() <= 3
        && rest.iter().all(|part| matches!(part.len(), 2..=8) && plain(part));
    if !fine {
        let message = format!("{} is not the code of a language", quoted(typed));
        notes.wrong(&entry.span, message, LANGUAGE_HELP);
        return None;
    }
    Some(typed.to_ascii_lowercase())
}
