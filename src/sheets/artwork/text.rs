//! `artwork.txt`: what the artwork's files are and what they measure, for reading beside
//! the machine.

use std::fmt::Write as _;

use kurbo::Rect;
use unicode_segmentation::UnicodeSegmentation;

use crate::drawing::write::DXF_TOLERANCE_MM;
use crate::finding::{Scope, Severity};
use crate::fit::Row;
use crate::job::Job;
use crate::layout::{Cut, Named, Process};
use crate::plate;
use crate::units::digits::fixed;

use super::super::plaque::row_outlines;
use super::super::prose::paragraph;
use super::super::words::{self, LOCAL_CODES};
use super::measures::{Measures, measures};
use super::operations::Operation;
use super::{marks, photos, side};

pub(super) fn text(job: &Job, operations: &[Operation]) -> String {
    let mut out = String::new();
    heading(&mut out, job);
    files(&mut out, operations);
    section(&mut out, "Units, zero, side", &units(job));
    wording(&mut out, job);
    for operation in operations {
        measured(&mut out, job, operation);
    }
    let photos = photos::told(job);
    if !photos.is_empty() {
        section(&mut out, "Photographs", &photos);
    }
    section(&mut out, "How the outlines are made", &made());
    section(&mut out, "Cautions", &cautions(job));
    out
}

fn heading(out: &mut String, job: &Job) {
    let plate = &job.layout.plate;
    let both = |value| words::both(job.layout.inches, value);
    let _ = writeln!(out, "ARTWORK: {}", job.layout.title);
    let _ = writeln!(out, "proof {}, proof mark {}", job.layout.proof.number, job.mark);
    let _ = writeln!(out, "{}\n", words::signed_off_in_full(job.signed.as_ref()));
    let _ = writeln!(out, "plate      {} x {}", both(plate.width), both(plate.height));
    let _ = writeln!(out, "thickness  {}", both(plate.thickness));
    let _ = writeln!(out, "material   {}", plate.made_of());
    let _ = writeln!(out, "quantity   {}", plate.quantity);
    let _ = writeln!(out, "process    {}", job.layout.engraving.process.word());
}

fn files(out: &mut String, operations: &[Operation]) {
    let _ = writeln!(out, "\nFiles (each as .svg, .pdf and .dxf)");
    let row = |out: &mut String, name: &str, what: &str| {
        let _ = writeln!(out, "  {name:<25} {what}");
    };
    row(out, "artwork-mm", "everything, a group (in DXF a layer) an operation");
    for operation in operations {
        row(out, &format!("artwork-{}-mm", operation.name), "that operation alone, same place");
    }
}

fn units(job: &Job) -> Vec<String> {
    vec![
        "Millimetres at true size: one unit of the SVG's coordinates or of the DXF is 1 mm \
         (the DXF's header says so)."
            .to_owned(),
        format!("Zero: {}.", side::zero(job)),
        "In SVG y runs down, in DXF up; the PDF has no zero of its own.".to_owned(),
        format!("Side: {}.", side::shown(job)),
        format!(
            "The group {} holds short lines in line with the sides of the plate's box, 2 mm \
             and more outside it, for setting the work. They are not cut.",
            marks::NAME
        ),
    ]
}

/// Rows with their counts, and the counts of all.
fn wording(out: &mut String, job: &Job) {
    let _ = writeln!(out, "\nWording, row by row");
    let mut all = Counted::default();
    for (index, row) in job.fitted.rows.iter().enumerate() {
        if row.drawn.is_some() {
            let _ = writeln!(out, "  {}  {}", index + 1, row.reads());
            let _ = writeln!(out, "     {} mm high", fixed(row.cap_height, 3));
            continue;
        }
        let counted = Counted::of(job, row);
        let _ = writeln!(out, "  {}  {}", index + 1, row.reads());
        let capitals = format!("capitals {} mm high", fixed(row.cap_height, 3));
        let _ = writeln!(out, "     {capitals}: {}", counted.told());
        all = all.and(counted);
    }
    let _ = writeln!(out, "  all rows: {}", all.told());
    let how = "Characters are what a reader sees as one (grapheme clusters of Unicode Standard \
               Annex 29), spaces not counted; letters and figures are those that hold one. Glyphs \
               are the shapes drawn, ligatures being one.";
    paragraph(out, how, "");
}

/// What a row holds.
#[derive(Default, Clone, Copy)]
struct Counted {
    characters: usize,
    letters: usize,
    glyphs: usize,
}

impl Counted {
    fn of(job: &Job, row: &Row) -> Self {
        let reads = row.reads();
        let seen = reads.graphemes(true).filter(|one| one.chars().any(is_seen));
        let letter = |one: &&str| one.chars().any(char::is_alphanumeric);
        let (mut characters, mut letters) = (0, 0);
        for one in seen {
            characters += 1;
            letters += usize::from(letter(&one));
        }
        let drawn = row_outlines(job, row).iter().filter(|glyph| !glyph.is_empty()).count();
        Self { characters, letters, glyphs: drawn }
    }

    fn and(self, other: Self) -> Self {
        Self {
            characters: self.characters + other.characters,
            letters: self.letters + other.letters,
            glyphs: self.glyphs + other.glyphs,
        }
    }

    fn told(self) -> String {
        format!(
            "{} characters ({} letters or figures), {} glyphs",
            self.characters, self.letters, self.glyphs
        )
    }
}

/// Whether a character leaves something on the plate: no space, no control.
fn is_seen(character: char) -> bool {
    !character.is_whitespace() && !character.is_control() && !is_hidden(character)
}

/// Joiners and marks of direction (Unicode: general category Cf, as far as a wording may
/// hold them).
fn is_hidden(character: char) -> bool {
    matches!(character, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{2069}' | '\u{FEFF}')
}

fn measured(out: &mut String, job: &Job, operation: &Operation) {
    let Some(found) = measures(&operation.items) else { return };
    let _ = writeln!(out, "\nOperation: {}", operation.name);
    for line in figures(job, operation, &found) {
        let _ = writeln!(out, "  {line}");
    }
}

fn figures(job: &Job, operation: &Operation, found: &Measures) -> Vec<String> {
    let mut lines = vec![match (found.closed, found.open) {
        (closed, 0) => format!("{closed} closed {}", outlines(closed)),
        (0, open) => format!("{open} open {}", if open == 1 { "line" } else { "lines" }),
        (closed, open) => format!("{closed} closed {}, {open} open", outlines(closed)),
    }];
    lines.push(format!("length along them {} mm", fixed(found.length, 2)));
    if found.area > 0.0 {
        lines.push(format!("area filled {} mm\u{b2}", fixed(found.area, 2)));
    }
    let border = job.layout.plate.border.filter(|_| operation.name == "border");
    if let Some(border) = border {
        lines.push(format!("drawn by their middle, to be {} mm wide", fixed(border.weight, 3)));
    }
    lines.extend(bounds(found.bounds));
    lines
}

fn outlines(count: usize) -> &'static str {
    if count == 1 { "outline" } else { "outlines" }
}

/// A box counted from zero.
fn bounds(all: Rect) -> [String; 2] {
    let [x0, x1, y0, y1, width, height] =
        [all.x0, all.x1, all.y0, all.y1, all.width(), all.height()].map(|value| fixed(value, 3));
    [
        format!("box {x0} to {x1} mm across, {y0} to {y1} mm down"),
        format!("    {width} x {height} mm"),
    ]
}

fn made() -> Vec<String> {
    vec![
        "NO ALLOWANCE is made for kerf, for the width of a cutter or for paint: every line is \
         where the finished edge is to be. Set tool compensation at the machine."
            .to_owned(),
        "Letters are closed outlines to be filled (nonzero rule). Outer ones run clockwise as \
         seen on the artwork, those of holes in letters anticlockwise, in every format. Where \
         strokes of a letter or joined letters overlap they are united into one outline. DXF knows no fill: there they are closed polylines."
            .to_owned(),
        "Border, outline and holes are continuous lines; no line is dashed. Round holes are true \
         circles in SVG and DXF."
            .to_owned(),
        format!(
            "Places are written to 0.001 mm in SVG and to 0.0001 mm in DXF. Curves are curves in \
             SVG and PDF; in DXF they are chains of straight lines that leave the curve by no \
             more than {DXF_TOLERANCE_MM} mm. Arcs of the plate's edge stay within 0.001 mm of \
             the true arc; united letters within 0.000001 mm of their own curves, overlaps of \
             less than 0.0001 mm\u{b2} left as they are."
        ),
    ]
}

fn cautions(job: &Job) -> Vec<String> {
    let mut all = Vec::new();
    if side::mirrored(job) {
        all.push(
            "Mirrored artwork: engrave a scrap first and read it through its front. Drilling \
             sheet and mount pattern show the plate from the front and are not mirrored."
                .to_owned(),
        );
    }
    if job.layout.engraving.cut == Cut::Raised {
        all.push(
            "Letters are to be left standing: what is removed is the ground round them, which \
             this artwork does not bound."
                .to_owned(),
        );
    }
    if job.layout.engraving.process == Process::Printed {
        all.push("Letters are printed: the filled shapes are the ink.".to_owned());
    }
    let open = job.findings.iter().filter(|judged| {
        judged.finding.scope != Scope::Mount && judged.finding.severity >= Severity::Caution
    });
    for judged in open {
        let accepted = judged.accepted.as_ref();
        let why = accepted.map_or_else(String::new, |reason| format!(" Accepted: {reason}"));
        all.push(format!("{}: {}{why}", judged.finding.severity, judged.finding.message));
    }
    all.extend(plate::cautions(&job.layout.plate).map(str::to_owned));
    all.push(LOCAL_CODES.to_owned());
    all
}

fn section(out: &mut String, head: &str, paragraphs: &[String]) {
    let _ = writeln!(out, "\n{head}");
    for text in paragraphs {
        paragraph(out, text, "-");
    }
}
