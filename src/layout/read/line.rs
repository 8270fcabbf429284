//! `[[line]]`: the inscription, line by line.

use serde_json::json;
use toml::de::DeValue;

use super::lettering::Letterings;
use super::value::Entry;
use super::words::{check_printable, shows_nothing};
use super::{Notes, Table, Within, ornament, setting};
use crate::layout::diagnostic::quoted;
use crate::layout::schema::{self, Schema};
use crate::layout::{Align, Breaks, FitMode, Hyphens, Line, Named};

/// Most rows of an inscription, lines and the user's own breaks together. An honour roll
/// of five hundred names fills a board; more is a book.
pub(super) const MOST_ROWS: usize = 500;
/// Most characters of one line: some three hundred words, more than a plaque holds.
pub(super) const LONGEST_LINE: usize = 2000;
/// Most characters of the whole inscription: some three thousand words.
pub(super) const LONGEST_INSCRIPTION: usize = 20_000;

/// As typed a line may be longer by a carriage return a row.
const LONGEST_TYPED: usize = LONGEST_LINE + 2 * MOST_ROWS;
/// Something to see, and no control characters but those that part rows.
const PRINTABLE: &str =
    "^(?=[\\s\\S]*\\S)(?:[^\\u0000-\\u001F\\u007F-\\u009F\\u2028\\u2029]|\\r?\\n)*$";

/// Relative cap heights: beyond, one line or the other is not lettering.
pub(super) const SIZE: Within = Within::new(0.05, 20.0);
/// Cap heights, mm.
pub(super) const CAP_HEIGHT: Within = Within::new(0.1, 1000.0);
/// White above a line, in cap heights.
pub(super) const SPACE: Within = Within::new(0.0, 10.0);
/// White above a line that says nothing, in cap heights. Common practice, no source.
pub(super) const USUAL_SPACE: f64 = 0.35;
/// Leading, in cap heights.
const LEADING: Within = Within::new(0.5, 5.0);
/// Lines of up to so many words are broken only as a last resort: a name or a heading in
/// one row, somewhat smaller, looks better than a larger one torn in two. Common
/// practice, no source.
const SHORT_LINE: usize = 6;

/// Where a word may be divided; without a shape of its own elsewhere.
const SOFT_HYPHEN: char = '\u{AD}';
/// How one is written.
const SOFT_HYPHEN_HELP: &str =
    "write \\u00AD, in double quotes, where a word may be divided: \"observa\\u00ADtory\"";

/// What the lines have that do not say, and how their heights are found.
#[derive(Debug, Clone, Copy)]
pub(super) struct Usual {
    pub(super) mode: FitMode,
    pub(super) hyphens: Hyphens,
}

/// What editors and other programs are told of one `[[line]]`.
fn line_keys() -> Schema {
    let text = "The exact wording; \\n in it is a break of your own, which holds.";
    let features = "OpenType features for the whole line, as HarfBuzz writes them.";
    let feature = schema::text("One feature.", "^[+-]?[0-9A-Za-z]{4}(?:=[0-9]{1,4})?$", 10);
    let breaks = "When the line may be broken: last resort for up to six words, else free.";
    let hyphens = "Whether its words may be divided, as under [fit].";
    let cap_height = "Stated cap height: floor, ceiling and size in one.";
    let mut keys = vec![
        ("text", schema::text(text, PRINTABLE, LONGEST_TYPED)),
        ("size", schema::number("Cap height relative to other lines.", SIZE).usual(1)),
        ("cap_height", schema::length(cap_height, CAP_HEIGHT)),
        ("at_least", schema::length("Least cap height.", CAP_HEIGHT)),
        ("at_most", schema::length("Greatest cap height.", CAP_HEIGHT)),
        ("lettering", schema::lettering("Lettering of this line alone.")),
        ("features", schema::any_list(features, feature).example(json!(["smcp", "-liga"]))),
        (
            "align",
            schema::word::<Align>(
                "Which edge of its rows is lined up; left and right are sides of the plate.",
            )
            .usual("centre"),
        ),
        (
            "space",
            schema::number("White above it beyond leading, in cap heights.", SPACE)
                .usual(USUAL_SPACE),
        ),
        ("leading", schema::number("Baseline to baseline, in cap heights.", LEADING)),
        ("breaks", schema::word::<Breaks>(breaks)),
        ("hyphens", schema::word::<Hyphens>(hyphens)),
        (
            "keep",
            schema::any_list(
                "Words of the text that are never torn apart.",
                schema::text("Words as they stand in the text.", "\\S", LONGEST_LINE),
            ),
        ),
    ];
    keys.extend(setting::line_keys());
    keys.extend(ornament::line_keys());
    let about = "One line of the inscription: words, which the fit may break into rows; or a \
                 divider; or an emblem.";
    ornament::line_conditions(schema::table(about, keys))
        .also(json!({ "if": { "required": ["cap_height"] },
        "then": { "properties": { "size": false, "at_least": false, "at_most": false } } }))
        .also(json!({ "if": { "required": ["hyphens"],
            "properties": { "hyphens": { "const": Hyphens::AtSoftHyphens.word() } } },
        "then": { "properties": { "text": { "pattern": "\\u00AD" },
            "breaks": { "not": { "const": Breaks::Never.word() } } } } }))
}

/// What editors and other programs are told of all lines.
pub(super) fn keys() -> Schema {
    schema::list("The inscription, line by line.", 1, MOST_ROWS, line_keys())
}

/// All lines of the layout; `None` only where a mistake is noted.
pub(super) fn lines(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    letterings: &mut Letterings<'_>,
    usual: Usual,
) -> Option<Vec<Line>> {
    if let DeValue::Table(_) = entry.value {
        let message = "`line` is a list: each line has a header in two pairs of brackets";
        notes.wrong(&entry.span, message, "write [[line]]");
        return None;
    }
    let items = notes.list_of_any_length(entry, "[[line]] and under it text = \"…\"")?;
    if items.is_empty() {
        notes.wrong(&entry.span, "there is no inscription", "give at least one [[line]]");
    }
    let mut read = Vec::new();
    let (mut rows, mut characters, mut whole) = (0, 0, true);
    for item in &items {
        let line = line(item, notes, letterings, usual);
        rows += line.as_ref().map_or(1, |line| line.text.matches('\n').count() + 1);
        characters += line.as_ref().map_or(0, |line| line.text.chars().count());
        if let Some(message) = too_much(rows, characters) {
            notes.wrong(&item.span, message, "divide the inscription among several plates");
            return None;
        }
        match line {
            Some(line) => read.push(line),
            None => whole = false,
        }
    }
    if whole && notes.clean() && !read.is_empty() && read.iter().all(|line| line.ornament.is_some())
    {
        let message = "the inscription has no words";
        notes.wrong(&entry.span, message, "give at least one [[line]] with a text");
        return None;
    }
    whole.then_some(read)
}

/// What to say of an inscription that is too long.
pub(super) fn too_much(rows: usize, characters: usize) -> Option<String> {
    if rows > MOST_ROWS {
        Some(format!("the inscription has more than {MOST_ROWS} rows"))
    } else if characters > LONGEST_INSCRIPTION {
        Some(format!("the inscription has more than {LONGEST_INSCRIPTION} characters"))
    } else {
        None
    }
}

fn line(
    item: &Entry<'_>,
    notes: &mut Notes<'_>,
    letterings: &mut Letterings<'_>,
    usual: Usual,
) -> Option<Line> {
    notes.keys.insert(item.path.clone(), item.span.clone());
    let mut table = notes.table(item)?;
    if table.has("divider") || table.has("emblem") {
        let fixed = usual.mode == FitMode::Fixed;
        return ornament::line(table, notes, letterings.companions, fixed);
    }
    let text = table.need(notes, "text", "text = \"…\", the exact wording");
    let text = text.and_then(|entry| wording(&entry, notes));
    let size = table.number(notes, "size", SIZE).unwrap_or(1.0);
    let heights = heights(&mut table, notes, usual.mode == FitMode::Fixed);
    let lettering = table.take(notes, "lettering");
    let lettering = letterings.of_line(lettering, &table, notes);
    let features = table.take(notes, "features").map(|entry| features(&entry, notes));
    let setting = setting::of_line(&mut table, notes, letterings);
    let align = table.word(notes, "align").unwrap_or(Align::Centre);
    let space = table.number(notes, "space", SPACE).unwrap_or(USUAL_SPACE);
    let leading = table.number(notes, "leading", LEADING);
    let breaks = table.word(notes, "breaks");
    let hyphens = hyphens(&mut table, notes, text.as_deref(), breaks);
    let keep = table.take(notes, "keep").map(|entry| kept(&entry, notes, text.as_deref()));
    ornament::words_have_none(&mut table, notes);
    table.finish(notes);

    let text = text?;
    let breaks = breaks.unwrap_or_else(|| usual_breaks(&text));
    let [cap_height, at_least, at_most] = heights;
    Some(Line {
        text,
        ornament: None,
        size,
        cap_height,
        at_least,
        at_most,
        lettering: lettering?,
        features: features.unwrap_or_default(),
        setting,
        align,
        space,
        leading,
        breaks,
        hyphens: hyphens.unwrap_or(usual.hyphens),
        keep: keep.unwrap_or_default(),
    })
}

/// Whether words may be divided, where the line says so, and whether it is a line that can
/// be.
fn hyphens(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    text: Option<&str>,
    breaks: Option<Breaks>,
) -> Option<Hyphens> {
    let entry = table.take(notes, "hyphens")?;
    let hyphens = notes.word(&entry)?;
    if hyphens == Hyphens::AtSoftHyphens {
        if breaks == Some(Breaks::Never) {
            let message = "a line that is never broken has no row to end with a hyphen";
            notes.wrong(&entry.span, message, "leave out `hyphens`, or let the line break");
        } else if text.is_some_and(|text| !text.contains(SOFT_HYPHEN)) {
            notes.wrong(&entry.span, "there is no soft hyphen in the text", SOFT_HYPHEN_HELP);
        }
    }
    Some(hyphens)
}

/// When a line may break that does not say.
pub(super) fn usual_breaks(text: &str) -> Breaks {
    if text.split_whitespace().count() <= SHORT_LINE { Breaks::LastResort } else { Breaks::Free }
}

/// The exact wording of a line; rows are parted by line feeds however they were typed,
/// and the one that ends a text of several lines is dropped.
fn wording(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<String> {
    let text = notes.text(entry)?.replace("\r\n", "\n");
    let text = text.strip_suffix('\n').unwrap_or(&text);
    if shows_nothing(text) {
        let message = format!("`{}` shows nothing", entry.path);
        notes.wrong(&entry.span, message, "write the words; white above a line is its `space`");
        return None;
    }
    if text.chars().nth(LONGEST_LINE).is_some() {
        let message = format!("`{}` is longer than {LONGEST_LINE} characters", entry.path);
        notes.wrong(&entry.span, message, "divide it into several [[line]] tables");
        return None;
    }
    for (row, number) in text.split('\n').zip(1_usize..) {
        if let Some((_, problem)) = check_printable(row).first() {
            let message = format!("`{}` holds {problem}", entry.path);
            notes.wrong(&entry.span, message, CONTROL_HELP);
            return None;
        }
        if shows_nothing(row) {
            let message = format!("row {number} of `{}` shows nothing", entry.path);
            let help = "begin another [[line]] there: white above a line is its `space`";
            notes.wrong(&entry.span, message, help);
            return None;
        }
    }
    Some(text.to_owned())
}

/// What to do about a character that cannot be engraved.
pub(super) const CONTROL_HELP: &str = "it cannot be engraved: write a space, or begin a new line";

/// Cap height, floor and ceiling, mm.
fn heights(table: &mut Table<'_>, notes: &mut Notes<'_>, fixed: bool) -> [Option<f64>; 3] {
    let why = "a stated cap height is floor, ceiling and size in one: leave the other out";
    for other in ["size", "at_least", "at_most"] {
        table.contradiction(notes, "cap_height", other, why);
    }
    if fixed && !table.has("cap_height") {
        notes.missing(
            &format!("{}.cap_height", table.path),
            &table.span,
            format!("line {} has no cap height", table.path.trim_start_matches("line.")),
            "fit.mode = \"fixed\" needs cap_height = \"5 mm\" in every line",
        );
    }
    let cap_height = table.length(notes, "cap_height", CAP_HEIGHT);
    let [at_least, at_most] = bounds(table, notes);
    [cap_height, at_least, at_most]
}

/// Least and greatest height, mm, and whether they can stand together.
pub(super) fn bounds(table: &mut Table<'_>, notes: &mut Notes<'_>) -> [Option<f64>; 2] {
    let at_least = table.length(notes, "at_least", CAP_HEIGHT);
    let at_most = table.take(notes, "at_most");
    let at_most = at_most.and_then(|entry| {
        let at_most = notes.length(&entry, CAP_HEIGHT)?;
        if at_least.is_some_and(|at_least| at_least > at_most) {
            let message = "`at_most` is less than `at_least`";
            notes.wrong(&entry.span, message, "change the two about, or mend one of them");
        }
        Some(at_most)
    });
    [at_least, at_most]
}

/// Features as HarfBuzz writes them, of the plain kind: for the whole line.
fn features(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Vec<String> {
    let example = "features = [\"smcp\", \"-liga\"]";
    let mut read = Vec::new();
    for item in notes.list(entry, example).unwrap_or_default() {
        let Some(text) = notes.text(&item) else { continue };
        let tag = text.strip_prefix(['+', '-']).unwrap_or(text);
        let (tag, value) = tag.split_once('=').map_or((tag, "1"), |(tag, value)| (tag, value));
        let tag_fine = tag.len() == 4 && tag.bytes().all(|b| b.is_ascii_alphanumeric());
        let value_fine = value.len() <= 4 && value.bytes().all(|b| b.is_ascii_digit());
        if tag_fine && value_fine && !value.is_empty() {
            read.push(text.to_owned());
        } else {
            let message = format!("{} is not an OpenType feature", quoted(text));
            let help = "write its four letters, with - to switch it off: \"smcp\", \"-liga\"";
            notes.wrong(&item.span, message, help);
        }
    }
    read
}

/// Words never torn apart; each must stand in the text.
fn kept(entry: &Entry<'_>, notes: &mut Notes<'_>, text: Option<&str>) -> Vec<String> {
    let mut read = Vec::new();
    for item in notes.list(entry, "keep = [\"Elowen Tarrant\"]").unwrap_or_default() {
        let Some(words) = notes.text(&item) else { continue };
        let message = if words.trim().is_empty() {
            Some((format!("`{}` is empty", item.path), "name the words, or leave it out"))
        } else {
            text.filter(|text| !text.contains(words)).map(|text| {
                let torn = text.replace('\n', " ").contains(words);
                let help = if torn {
                    "your own line break stands inside it"
                } else {
                    "write it letter for letter as in the text"
                };
                (format!("{} does not stand in the text", quoted(words)), help)
            })
        };
        match message {
            Some((message, help)) => notes.wrong(&item.span, message, help),
            None => read.push(words.to_owned()),
        }
    }
    read
}
