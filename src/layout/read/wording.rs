//! `wording`: the client's text as they sent it, one line of the file a line.

use std::ops::Range;

use super::Notes;
use super::lettering::Letterings;
use super::line::{CONTROL_HELP, LONGEST_LINE, USUAL_SPACE, Usual, too_much, usual_breaks};
use super::value::Entry;
use super::words::{check_printable, shows_nothing};
use crate::layout::diagnostic::quoted;
use crate::layout::{Align, Diagnostic, FitMode, Hyphens, LetteringChoice, Line, Setting, Source};

/// Most bytes of a wording file, far beyond what an inscription may hold.
const LARGEST: usize = 1 << 20;

/// The lines of the named file; `None` only where a mistake is noted.
pub(super) fn lines(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    letterings: &Letterings<'_>,
    usual: Usual,
) -> Option<Vec<Line>> {
    if usual.mode == FitMode::Fixed {
        notes.wrong(
            &notes.keys.span("fit.mode").unwrap_or_else(|| entry.span.clone()),
            "`fixed` needs a cap height in every line, and a wording file has none",
            "leave the mode out, or write the inscription as [[line]] tables",
        );
    }
    if letterings.has_no_default() {
        notes.missing(
            "lettering",
            &entry.span,
            "no lettering is named for the wording",
            "write [lettering] and under it default = \"…\"",
        );
    }
    let path = notes.note(entry)?;
    let file = match (letterings.companions)(&path) {
        Ok(bytes) => text_of(&path, bytes),
        Err(why) => {
            let message = format!("the wording file {} cannot be read", quoted(&path));
            notes.wrong(&entry.span, message, why);
            return None;
        }
    };
    let read = file.and_then(|file| rows(&file));
    let rows = read.map_err(|mistake| notes.elsewhere(*mistake)).ok()?;
    for number in 1..=rows.len() {
        notes.keys.insert(format!("line.{number}"), entry.span.clone());
    }
    let lettering = letterings.default()?;
    Some(
        rows.into_iter()
            .map(|(text, space)| Line {
                setting: letterings.setting.clone(),
                ..line(text, space, &lettering, usual.hyphens)
            })
            .collect(),
    )
}

fn line(text: String, space: f64, lettering: &LetteringChoice, hyphens: Hyphens) -> Line {
    Line {
        breaks: usual_breaks(&text),
        hyphens,
        text,
        ornament: None,
        size: 1.0,
        cap_height: None,
        at_least: None,
        at_most: None,
        lettering: lettering.clone(),
        features: Vec::new(),
        setting: Setting::default(),
        align: Align::Centre,
        space,
        leading: None,
        keep: Vec::new(),
    }
}

/// The file as text.
fn text_of(path: &str, bytes: Vec<u8>) -> Result<Source, Box<Diagnostic>> {
    if bytes.len() > LARGEST {
        return Err(Box::new(Diagnostic {
            source: Source { name: path.to_owned(), text: String::new() },
            span: None,
            message: format!("the file has {} bytes; at most {LARGEST} are read", bytes.len()),
            help: Some("name the text that is to be engraved".to_owned()),
        }));
    }
    Source::decoded(path, bytes)
}

/// Each row with the white above it: lines that follow each other directly are one
/// group, an empty line begins the next.
fn rows(file: &Source) -> Result<Vec<(String, f64)>, Box<Diagnostic>> {
    let refused = |span: Option<Range<usize>>, message: String, help: &str| {
        let help = Some(help.to_owned());
        Err(Box::new(Diagnostic { source: file.clone(), span, message, help }))
    };
    let mut read = Vec::new();
    let (mut at, mut characters, mut after_blank) = (0, 0, true);
    for raw in file.text.split('\n') {
        let start = at;
        at += raw.len() + 1;
        let mut row = raw.strip_suffix('\r').unwrap_or(raw);
        let mut row_start = start;
        if start == 0
            && let Some(rest) = row.strip_prefix('\u{FEFF}')
        {
            row = rest;
            row_start = '\u{FEFF}'.len_utf8();
        }
        if shows_nothing(row) && check_printable(row).iter().all(|(_, name)| name.contains("tab")) {
            after_blank = true;
            continue;
        }
        let span = row_start..row_start + row.len();
        if let Some((place, problem)) = check_printable(row).into_iter().next() {
            let place = row_start + place.start..row_start + place.end;
            return refused(Some(place), format!("the wording holds {problem}"), CONTROL_HELP);
        }
        let length = row.chars().count();
        if length > LONGEST_LINE {
            let message = format!("this line is longer than {LONGEST_LINE} characters");
            return refused(Some(span), message, "divide it where the client would");
        }
        characters += length;
        if let Some(message) = too_much(read.len() + 1, characters) {
            return refused(Some(span), message, "divide the inscription among several plates");
        }
        read.push((row.to_owned(), if after_blank { USUAL_SPACE } else { 0.0 }));
        after_blank = false;
    }
    if read.is_empty() {
        return refused(None, "the wording shows nothing".to_owned(), "write the words into it");
    }
    Ok(read)
}
