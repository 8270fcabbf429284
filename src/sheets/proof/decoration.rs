//! What is engraved beside the wording, in the table of its lines.

use crate::decoration::{Placed, Stands};
use crate::job::Job;
use crate::layout::{Named, Ornament};
use crate::units::digits::{fixed, trimmed};

use super::super::heading::READ;
use super::super::table::{Cell, Para};
use super::super::words;
use super::lines::finer;

/// A line that holds a drawing; `None` for a line of words.
pub(super) fn in_line(job: &Job, index: usize) -> Option<Vec<Cell>> {
    let line = job.layout.lines.get(index)?;
    let ornament = line.ornament.as_ref()?;
    let placed = job.decoration.iter().find(|placed| placed.stands == Stands::Line(index));
    let (kind, stated) = match ornament {
        Ornament::Divider { .. } => ("Divider", true),
        Ornament::Emblem(_) => ("Emblem", line.cap_height.is_some()),
        Ornament::Own(_) => ("Emblem of the client\u{2019}s own", line.cap_height.is_some()),
    };
    let mut told = match placed {
        Some(placed) => vec![size(placed)],
        None => vec![Para::new(words::NOT_PLACED, READ.caption())],
    };
    if let Ornament::Own(own) = ornament {
        let permission = match &own.permission {
            Some(permission) => format!("By permission: {permission}"),
            None => "No permission is told.".to_owned(),
        };
        told.push(Para::new(permission, READ.caption()));
    }
    let named = capitalised(ornament.told(), matches!(ornament, Ornament::Own(_)));
    let ratio = if stated { "\u{2013}".to_owned() } else { trimmed(line.size, 2) };
    Some(cells(job, (index + 1).to_string(), (named, told), (kind, ratio), placed))
}

/// The ornaments in the corners, as one row.
pub(super) fn in_corners(job: &Job) -> Option<Vec<Cell>> {
    let asked = job.layout.corners.as_ref()?;
    let placed = job.decoration.iter().find(|placed| placed.stands == Stands::Corner(0))?;
    let named = capitalised(asked.ornament.word(), false);
    let told = vec![size(placed)];
    let dash = "\u{2013}".to_owned();
    Some(cells(job, String::new(), (named, told), ("In the four corners", dash), Some(placed)))
}

fn cells(
    job: &Job,
    number: String,
    (named, told): (String, Vec<Para>),
    (kind, ratio): (&str, String),
    placed: Option<&Placed>,
) -> Vec<Cell> {
    let mut what = vec![Para::new(named, READ.text())];
    what.extend(told);
    let dash = || vec![Para::new("\u{2013}", READ.text())];
    vec![
        vec![Para::new(number, READ.figures())],
        what,
        vec![Para::new(kind, READ.text())],
        vec![Para::new(ratio, READ.figures())],
        dash(),
        dash(),
        finer(job, placed.and_then(stroke)),
    ]
}

/// Thinnest stroke of a drawing as it stands, mm.
fn stroke(placed: &Placed) -> Option<f64> {
    placed.ornament.strokes()?.stroke.map(|stroke| stroke.width * placed.height)
}

/// How high and wide it stands, and how thin.
fn size(placed: &Placed) -> Para {
    let thin = stroke(placed)
        .map_or_else(String::new, |stroke| format!("; thinnest stroke {} mm", fixed(stroke, 2)));
    let text = format!(
        "{} mm high, {} mm wide{thin}",
        fixed(placed.height, 2),
        fixed(placed.height * placed.ornament.width, 2)
    );
    Para::new(text, READ.caption())
}

/// A name at the head of a cell; a path stays as it is written.
fn capitalised(name: &str, is_path: bool) -> String {
    let mut letters = name.chars();
    match letters.next().filter(|_| !is_path) {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => name.to_owned(),
    }
}
