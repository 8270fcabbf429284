//! The specimen sheet: one wording in many letterings at one cap height, numbered, so
//! that a client can point at one.

mod break_rows;
mod entry;
mod row;

pub(super) use row::{Row, Stand, stroke_of};

use std::sync::Arc;

use crate::drawing::Drawing;
use crate::layout::{LetteringChoice, Line, Paper};
use crate::lettering::{Catalogue, Entry, Face, Group, ShapedLine, missing, shaped_line};
use crate::units::digits::{fixed, trimmed};
use crate::wording::{Marks, marks};

use super::heading::{Footer, READ, foot, head, prose, section};
use super::page::{Flow, finished, first};
use super::proof::check_bar;
use super::sheet::Sheet;
use super::table::{Cell, Para, Table, columns};
use super::text::Labels;
use super::words;
use break_rows::{Setting, setting};

/// Longest title, in characters; the wording itself is on the sheet again and again.
const LONGEST_TITLE: usize = 90;

/// Characters of one lettering's lack that are named one by one.
const NAMED: usize = 12;

/// What a specimen is to show.
#[derive(Debug, Clone)]
pub struct SpecimenWishes<'a> {
    /// What the sheet is called; `None`: by the wording itself.
    pub title: Option<&'a str>,
    /// The wording: texts with their own breaks; sizes, features and lettering of the
    /// lines are passed over, since all is set alike.
    pub lines: &'a [Line],
    /// The letterings, in the order in which they are shown.
    pub entries: &'a [&'a Entry],
    /// Cap height, mm, above 0; `None`: what the widest lettering allows.
    pub cap_height: Option<f64>,
    /// Paper.
    pub paper: Paper,
}

/// A lettering that was left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Its name.
    pub name: String,
    /// Characters of the wording that it lacks, in order of first use.
    pub lacks: Vec<char>,
}

/// A specimen drawn.
#[derive(Debug, Clone)]
pub struct Specimen {
    /// The sheet; `None` where no lettering has all characters.
    pub sheet: Option<Sheet>,
    /// Cap height of all letterings, mm.
    pub cap_height: f64,
    /// Names of the letterings shown; the first is number 1.
    pub shown: Vec<String>,
    /// Letterings that lack a character.
    pub left_out: Vec<LeftOut>,
}

/// One lettering with the wording set in it.
struct Sample<'a> {
    entry: &'a Entry,
    group: Option<Group>,
    face: Arc<Face>,
    lines: Vec<ShapedLine>,
}

/// The specimen of a wording. Letterings that cannot be opened are passed over: none
/// that is shipped.
///
/// All letterings stand at one cap height and break alike. Without a stated height it is
/// the greatest at which the widest lettering keeps its rows within the page; a wording
/// that would come out small so is broken into more rows. A stated height too great for
/// the page is lowered to what the page holds, and the sheet says so.
#[must_use]
pub fn specimen(wishes: &SpecimenWishes<'_>, catalogue: &Catalogue) -> Specimen {
    let marks: Vec<Marks> = wishes.lines.iter().map(marks).collect();
    let (mut samples, mut left_out) = (Vec::new(), Vec::new());
    for entry in wishes.entries.iter().copied() {
        let Ok(face) = Face::open(&LetteringChoice::shipped(entry.name.as_str())) else { continue };
        let lacks = lacking(&face, wishes.lines);
        if !lacks.is_empty() {
            left_out.push(LeftOut { name: entry.name.clone(), lacks });
            continue;
        }
        let lines = wishes.lines.iter().zip(&marks);
        let lines = lines.map(|(line, marks)| shaped_line(&line.text, &face, &[], &marks.stops));
        let group = catalogue.family(entry).map(|family| family.group);
        samples.push(Sample { entry, group, lines: lines.collect(), face });
    }
    let mut labels = Labels::plain();
    labels.provide(&title(wishes));
    let foot_height =
        footer(&labels, wishes, 88, 88, first(wishes.paper, READ.margin).inside(0.0).0);
    let size = first(wishes.paper, READ.margin);
    let inside = size.inside(foot_height.height);
    let room = (inside.0 - entry::LEFT, inside.1 - entry::AROUND - 12.0);
    let shaped: Vec<&[ShapedLine]> = samples.iter().map(|sample| sample.lines.as_slice()).collect();
    let set = setting(&shaped, &marks, wishes.cap_height, room);
    let shown = samples.iter().map(|sample| sample.entry.name.clone()).collect();
    let sheet = (!samples.is_empty()).then(|| {
        let mut flow = Flow::new(size, foot_height.height);
        open(&mut flow, &labels, wishes, &set, samples.len());
        put(&mut flow, &labels, catalogue, &samples, &set);
        leave_out(&mut flow, &mut labels, &left_out);
        let pages = finished(flow.pages(), |page, count, width| {
            footer(&labels, wishes, page, count, width)
        });
        let texts: Vec<&str> = wishes.lines.iter().map(|line| line.text.as_str()).collect();
        Sheet::with_plates(Drawing {
            title: format!("Lettering specimen: {}", title(wishes)),
            description: format!(
                "Specimen of {} letterings at a cap height of {} mm.\nWording:\n{}",
                samples.len(),
                trimmed(set.cap_height, 2),
                texts.join("\n")
            ),
            background: Some([255; 3]),
            pages,
        })
    });
    Specimen { sheet, cap_height: set.cap_height, shown, left_out }
}

/// Characters of the wording that a face lacks, each once.
fn lacking(face: &Face, lines: &[Line]) -> Vec<char> {
    let mut lacks: Vec<char> = Vec::new();
    for lack in lines.iter().flat_map(|line| missing(face, &line.text)) {
        if !lacks.contains(&lack.character) {
            lacks.push(lack.character);
        }
    }
    lacks
}

/// What the sheet is called: else the wording in one line, cut where it is long.
fn title(wishes: &SpecimenWishes<'_>) -> String {
    if let Some(title) = wishes.title {
        return title.replace('\n', " ");
    }
    let all: Vec<&str> = wishes.lines.iter().flat_map(|line| line.text.split('\n')).collect();
    let whole = all.iter().map(|row| row.trim()).collect::<Vec<_>>().join(" / ");
    if whole.chars().count() <= LONGEST_TITLE {
        return whole;
    }
    let cut: String = whole.chars().take(LONGEST_TITLE).collect();
    let words = cut.rsplit_once(' ').map_or(cut.as_str(), |(words, _)| words);
    format!("{}\u{2026}", words.trim_end_matches([' ', '/', ',']))
}

/// The heading, how to read the sheet, and the check bar.
fn open(
    flow: &mut Flow,
    labels: &Labels,
    wishes: &SpecimenWishes<'_>,
    set: &Setting,
    count: usize,
) {
    let width = flow.width();
    let facts = [
        ("Cap height", Some(words::both(false, set.cap_height))),
        ("Letterings", Some(count.to_string())),
    ];
    flow.put(head(labels, READ, (&title(wishes), None), "Lettering specimen", &facts, width));
    flow.space(3.0);
    let mut paras = vec![Para::new(words::SPECIMEN, READ.text())];
    if let Some(asked) = wishes.cap_height.filter(|asked| set.cap_height < asked - 1e-9) {
        paras.push(Para { before: 0.8, ..Para::new(words::lowered(asked), READ.strong()) });
    }
    prose(flow, labels, paras);
    flow.space(3.0);
    flow.put(check_bar(labels, width));
}

/// The samples, numbered, under the heads of their groups.
fn put(
    flow: &mut Flow,
    labels: &Labels,
    catalogue: &Catalogue,
    samples: &[Sample<'_>],
    set: &Setting,
) {
    let mut group = None;
    for (sample, number) in samples.iter().zip(1..) {
        let family = catalogue.family(sample.entry);
        let block = entry::block(labels, sample, family, number, set, flow.width());
        if group != sample.group {
            group = sample.group;
            let heading = sample.group.map_or("", Group::heading);
            section(flow, labels, READ, heading, block.height);
        }
        flow.put(block);
    }
}

/// The letterings that lack a character, those with the same lack in one row.
fn leave_out(flow: &mut Flow, labels: &mut Labels, left_out: &[LeftOut]) {
    let mut groups: Vec<(&[char], Vec<String>)> = Vec::new();
    for out in left_out {
        match groups.iter_mut().find(|(lacks, _)| *lacks == out.lacks) {
            Some((_, names)) => names.push(out.name.clone()),
            None => groups.push((&out.lacks, vec![out.name.clone()])),
        }
    }
    if groups.is_empty() {
        return;
    }
    let rows: Vec<Vec<Cell>> = groups
        .iter()
        .map(|(lacks, names)| {
            let lack = words::characters(lacks, NAMED);
            labels.provide(&lack);
            vec![vec![Para::new(names.join(", "), READ.text())], vec![Para::new(lack, READ.text())]]
        })
        .collect();
    let heads = ["Lettering", "lacks"].map(|text| vec![Para::new(text, READ.caption())]);
    let table = Table {
        columns: columns(flow.width(), &[None, None]),
        head: heads.to_vec(),
        rows,
        ruled: true,
    };
    section(flow, labels, READ, words::LEFT_OUT, table.kept_height(labels));
    table.put(flow, labels);
}

fn footer(
    labels: &Labels,
    wishes: &SpecimenWishes<'_>,
    page: usize,
    count: usize,
    width: f64,
) -> super::block::Block {
    let left = title(wishes);
    let right = format!("Lettering specimen \u{b7} page {page} of {count}");
    foot(labels, READ, Footer { left: &left, instead: "", right: &right }, width)
}

/// A length as the caption of a sample gives it.
fn millimetres(value: f64) -> String {
    format!("{} mm", fixed(value, 1))
}
