//! The table line by line: exact wording as broken, lettering, heights.

use std::sync::Arc;

use crate::checks;
use crate::floors;
use crate::job::Job;
use crate::layout::{Case, Named, SmallCapitalsFor};
use crate::lettering::{Face, ShapedLine};
use crate::units::digits::{fixed, trimmed};

use super::super::heading::{READ, kept_prose, section};
use super::super::page::Flow;
use super::super::table::{Cell, Para, Table, columns, width_of};
use super::super::text::{Labels, Style};
use super::super::words;
use super::decoration;

/// How far a row goes on indented where it is too long for the column, mm.
const HANG: f64 = 5.0;
/// Cap height of the wording, mm, where it has room: larger than the rest of the table.
const WORDING: f64 = 2.3;

/// Heads of the columns.
const HEADS: [&str; 7] = [
    "Line",
    "Wording, row by row",
    "Lettering",
    "Relative size",
    "Capitals",
    "x-height",
    "Thinnest stroke",
];

pub(super) fn put(flow: &mut Flow, labels: &Labels, job: &Job) {
    let checked = floors::needs(&job.layout).is_some();
    let head: Vec<Cell> =
        HEADS.iter().map(|text| vec![Para::new(*text, Style::bold(READ.small))]).collect();
    let mut rows: Vec<Vec<Cell>> = (0..job.layout.lines.len())
        .map(|line| decoration::in_line(job, line).unwrap_or_else(|| row(job, line)))
        .collect();
    rows.extend(decoration::in_corners(job));
    // Heads go on in a second row rather than take width from the wording.
    let widest = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).flatten();
        let texts = cells.map(|para| (para.text.as_str(), para.style));
        let head = HEADS.get(column).into_iter().flat_map(|head| head.split(' '));
        width_of(labels, texts.chain(head.map(|word| (word, Style::bold(READ.small)))))
    };
    let lettering = widest(2).min(flow.width() * 0.24);
    let mut widths = vec![Some(widest(0)), None, Some(lettering)];
    widths.extend((3..head.len()).map(|column| Some(widest(column))));
    let mut columns = columns(flow.width(), &widths);
    for column in columns.iter_mut().skip(3) {
        column.right = true;
    }
    let wording_width = columns.get(1).map_or(0.0, |column| column.width);
    let style = Style::regular(wording_size(labels, &rows, wording_width));
    for para in rows.iter_mut().filter_map(|row| row.get_mut(1)).flatten() {
        if para.hang > 0.0 {
            para.style = style;
        }
    }
    let table = Table { columns, head, rows, ruled: true };
    section(flow, labels, READ, "Wording and lettering", table.kept_height(labels));
    table.put(flow, labels);

    let runs_on = table.rows.iter().filter_map(|row| row.get(1)).flatten().any(|para| {
        labels.wrapped(&para.text, style, wording_width, HANG, para.prefer.as_ref()).len() > 1
    });
    let mut notes = Vec::new();
    if runs_on {
        notes.push(Para::new(words::ROWS, READ.caption()));
    }
    let strokes = if checked { words::STROKES_CHECKED } else { words::STROKES };
    notes.push(Para::new(strokes, READ.caption()));
    notes.extend(licences(job).into_iter().map(|text| Para::new(text, READ.caption())));
    flow.space(1.0);
    kept_prose(flow, labels, notes);
}

/// Cap height of the wording, mm: smaller, down to that of the table, where no row of the
/// plaque then goes on in a second one.
fn wording_size(labels: &Labels, rows: &[Vec<Cell>], width: f64) -> f64 {
    let paras = rows.iter().filter_map(|row| row.get(1)).flatten().filter(|para| para.hang > 0.0);
    let advance =
        |para: &Para| labels.advance(&para.text, Style::regular(WORDING), para.prefer.as_ref());
    let widest = paras.map(advance).fold(0.0, f64::max);
    let fits = WORDING * width / widest * (1.0 - 1e-9);
    if fits >= READ.body { WORDING.min(fits) } else { WORDING }
}

/// One line of the inscription.
fn row(job: &Job, index: usize) -> Vec<Cell> {
    let mut cells: Vec<Cell> = vec![vec![Para::new((index + 1).to_string(), READ.figures())]];
    let face = job.lines.get(index).map(|line| &line.face);
    let wording = |text: &str| Para {
        hang: HANG,
        prefer: face.map(Arc::clone),
        ..Para::new(text, Style::regular(WORDING))
    };
    let placed: Vec<Para> = job
        .fitted
        .rows
        .iter()
        .filter(|row| row.line == index)
        .map(|row| {
            // A soft hyphen at the end is shown, so it stands only where the plate has one.
            let undivided = || row.text.trim_end_matches('\u{AD}');
            wording(if row.divided { &row.text } else { undivided() })
        })
        .collect();
    let Some(line) = job.layout.lines.get(index) else { return cells };
    if placed.is_empty() {
        let mut paras: Vec<Para> = line.text.split('\n').map(wording).collect();
        paras.push(Para::new(words::NOT_PLACED, READ.caption()));
        cells.push(paras);
    } else {
        cells.push(placed);
    }
    let mut lettering = face.map_or_else(String::new, |face| face.name.clone());
    if !line.features.is_empty() {
        lettering = format!("{lettering} ({})", line.features.join(", "));
    }
    let mut named = vec![Para::new(lettering, READ.text())];
    let others = job.lines.get(index).map_or(&[][..], |shaped| &shaped.others);
    named.extend(others.iter().map(|face| Para::new(format!("and {}", face.name), READ.text())));
    // A file of the shop's own goes by its path; what it calls itself stands beneath.
    let inside = face.and_then(|face| face.inside.as_ref()?.name.clone());
    named.extend(inside.map(|name| Para::new(name, READ.caption())));
    named.extend(remarks(job, index).into_iter().map(|text| Para::new(text, READ.caption())));
    cells.push(named);
    cells.push(vec![Para::new(trimmed(line.size, 2), READ.figures())]);
    cells.extend(measures(job, index));
    cells
}

/// Heights of one line, and its thinnest stroke.
fn measures(job: &Job, index: usize) -> Vec<Cell> {
    let heights = job.fitted.lines.get(index).filter(|_| !job.fitted.rows.is_empty());
    let written = |height: f64| [format!("{} mm", fixed(height, 2)), words::inches(height)];
    let thinnest = || checks::thinnest_stroke(&job.lines, &job.fitted, index);
    let measures: [Option<[String; 2]>; 3] = [
        heights.map(|line| written(line.cap_height)),
        heights.and_then(|line| line.x_height).map(written),
        job.fitted.cut(index).or_else(thinnest).map(fine),
    ];
    measures.into_iter().map(|measure| either(job, measure)).collect()
}

/// A measure in both units, the layout's own first; a dash where there is none.
fn either(job: &Job, measure: Option<[String; 2]>) -> Cell {
    match measure {
        Some(mut texts) => {
            if job.layout.inches {
                texts.reverse();
            }
            texts.into_iter().map(|text| Para::new(text, READ.figures())).collect()
        }
        None => vec![Para::new("\u{2013}", READ.text())],
    }
}

/// A thinnest stroke: a tenth of the heights, so it is told more finely.
pub(super) fn finer(job: &Job, stroke: Option<f64>) -> Cell {
    either(job, stroke.map(fine))
}

fn fine(width: f64) -> [String; 2] {
    [format!("{} mm", fixed(width, 3)), format!("{} in", fixed(width / 25.4, 4))]
}

/// How a line is engraved otherwise than it is written or drawn.
fn remarks(job: &Job, index: usize) -> Vec<String> {
    let mut told = Vec::new();
    let (Some(line), Some(shaped)) = (job.layout.lines.get(index), job.lines.get(index)) else {
        return told;
    };
    if shaped.text != line.text {
        let capitals = (line.setting.case != Case::AsWritten).then_some("set in capitals");
        let straight = |text: &str| text.matches(['"', '\'']).count();
        let quotes = (straight(&shaped.text) < straight(&line.text))
            .then_some("with quotes of its language");
        told.extend(capitals.into_iter().chain(quotes).map(str::to_owned));
    }
    let setting = &line.setting;
    told.extend((!setting.ligatures).then(|| "without ligatures".to_owned()));
    told.extend(setting.small_capitals.map(|small| match small {
        SmallCapitalsFor::LowerCase => "lower case as small capitals".to_owned(),
        SmallCapitalsFor::AllLetters => "all letters as small capitals".to_owned(),
    }));
    let figures: Vec<&str> = (setting.figures.map(Named::word).into_iter())
        .chain(setting.figure_widths.map(Named::word))
        .collect();
    told.extend((!figures.is_empty()).then(|| format!("{} figures", figures.join(", "))));
    let sets: Vec<String> = setting.stylistic_sets.iter().map(ToString::to_string).collect();
    told.extend((!sets.is_empty()).then(|| format!("stylistic sets {}", sets.join(", "))));
    if let Some(per_cent) = shaped.narrowed {
        told.push(format!("narrowed to {per_cent} % of its drawn width"));
    }
    let fitted = job.fitted.lines.get(index).filter(|fitted| fitted.tracking > 0.0);
    if let Some(fitted) = fitted.filter(|_| !job.fitted.rows.is_empty()) {
        let white = fixed(fitted.tracking * fitted.cap_height, 2);
        told.push(format!("{white} mm added between letters"));
    }
    told
}

/// Longest part of a licence inside a file that is printed, characters.
const LICENCE: usize = 160;

/// One sentence for each licence, with the lettering under it.
fn licences(job: &Job) -> Vec<String> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    let words = job.lines.iter().filter(|line| line.ornament.is_none());
    let faces: Vec<Arc<Face>> = words.flat_map(ShapedLine::faces).collect();
    for face in &faces {
        let (licence, name) = (licence(face), &face.name);
        match groups.iter_mut().find(|group| group.0 == licence) {
            Some((_, names)) if names.contains(name) => {}
            Some((_, names)) => names.push(name.clone()),
            None => groups.push((licence, vec![name.clone()])),
        }
    }
    groups
        .into_iter()
        .map(|(licence, names)| format!("Lettering {}: {licence}.", words::listed(&names)))
        .collect()
}

/// Under what a face stands; without a stop at the end.
fn licence(face: &Face) -> String {
    // Some copyright lines end their own sentence.
    let whole = |text: &str| text.trim_end_matches('.').to_owned();
    if let Some(licence) = &face.licence {
        return whole(licence);
    }
    match face.inside.as_ref().and_then(|inside| inside.licence.as_deref()) {
        Some(licence) => {
            let said: String = licence.replace('\n', " ").chars().take(LICENCE).collect();
            let cut = if licence.chars().count() > LICENCE { "\u{2026}" } else { "" };
            format!("the shop's own file, which says: \u{201c}{}{cut}\u{201d}", whole(said.trim()))
        }
        None => "the shop's own file, which holds no word of its licence".to_owned(),
    }
}
