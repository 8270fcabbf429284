//! One version of a plaque, as far as it is needed to say what another has otherwise.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::fit::Row;
use crate::job::{Cut, Job};
use crate::layout::{Colours, Line, Named, Plate, Shape};
use crate::lettering::{Face, ShapedLine};
use crate::mount::{Bore, Bored, Depth};
use crate::units::digits::trimmed;

/// The facts of one version. Lengths in whole µm, in plate coordinates.
#[derive(Debug, Clone, PartialEq)]
pub struct Version {
    /// What the work is called.
    pub title: String,
    /// Proof mark of what is cut.
    pub mark: String,
    /// Shape of the plate with what it has beside its size: `rounded, corner 5 mm`.
    pub shape: String,
    /// Width and height of the plate.
    pub size: (i64, i64),
    /// What moves no outline and yet was agreed, such as the material: name and value.
    pub beside: BTreeMap<String, String>,
    /// The lines, top to bottom.
    pub lines: Vec<VersionLine>,
    /// Every outline.
    pub cut: Cut,
}

/// One line of the inscription.
#[derive(Debug, Clone, PartialEq)]
pub struct VersionLine {
    /// The wording as it is engraved.
    pub text: String,
    /// The line's own lettering, then the further ones.
    pub faces: Vec<VersionFace>,
    /// Cap height.
    pub cap_height: i64,
    /// Its rows, top to bottom.
    pub rows: Vec<VersionRow>,
}

/// A lettering.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VersionFace {
    /// Its name.
    pub name: String,
    /// SHA-256 of its file, in hexadecimal.
    pub digest: String,
    /// Axes and features as they stand, such as `wght 600, smcp`; empty for none.
    pub set: String,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VersionRow {
    /// The row as one reads it.
    pub text: String,
    /// Where it stands.
    pub place: Place,
}

/// Where a row stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Left end of its ink.
    pub left: i64,
    /// Right end of its ink.
    pub right: i64,
    /// Its baseline.
    pub baseline: i64,
}

/// A length in whole µm.
#[expect(clippy::cast_possible_truncation, reason = "`as` saturates; plates are at most metres")]
pub(super) fn um(mm: f64) -> i64 {
    (mm * 1000.0).round() as i64
}

impl Version {
    /// The version that a job is.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let plate = &job.layout.plate;
        // A drawing is told as words in brackets; no lettering is its own.
        let drawing = |index: usize| {
            let line: Option<&Line> = job.layout.lines.get(index);
            Some(format!("[{}]", line?.ornament.as_ref()?.told()))
        };
        let lines = job.lines.iter().enumerate().map(|(index, shaped)| VersionLine {
            text: drawing(index).unwrap_or_else(|| shaped.text.clone()),
            faces: if shaped.ornament.is_some() { Vec::new() } else { faces(shaped) },
            cap_height: job.fitted.lines.get(index).map_or(0, |line| um(line.cap_height)),
            rows: job.fitted.rows.iter().filter(|row| row.line == index).map(row).collect(),
        });
        Self {
            title: job.layout.title.clone(),
            mark: job.mark.clone(),
            shape: shape(plate),
            size: (um(plate.width), um(plate.height)),
            beside: beside(job),
            lines: lines.collect(),
            cut: job.cut.clone(),
        }
    }

    /// Indices of a line's rows among those of [`Cut::rows`]; none for no line.
    #[must_use]
    pub fn rows_of(&self, line: Option<usize>) -> Range<usize> {
        let count = |line: &VersionLine| line.rows.len();
        let Some(line) = line else { return 0..0 };
        let before: usize = self.lines.iter().take(line).map(count).sum();
        before..before + self.lines.get(line).map_or(0, count)
    }
}

fn row(row: &Row) -> VersionRow {
    let place = Place { left: um(row.ink.x0), right: um(row.ink.x1), baseline: um(row.baseline) };
    VersionRow { text: row.reads(), place }
}

fn faces(line: &ShapedLine) -> Vec<VersionFace> {
    let one = |face: &std::sync::Arc<Face>| {
        let axes =
            face.axes.iter().map(|(tag, value)| format!("{tag} {}", trimmed(f64::from(*value), 3)));
        VersionFace {
            name: face.name.clone(),
            digest: face.sha256.clone(),
            set: axes.chain(line.features.iter().cloned()).collect::<Vec<_>>().join(", "),
        }
    };
    std::iter::once(&line.face).chain(&line.others).map(one).collect()
}

fn shape(plate: &Plate) -> String {
    let mm = |value: f64| format!("{} mm", trimmed(value, 3));
    let word = plate.shape.word();
    match &plate.shape {
        Shape::Rectangle | Shape::Oval | Shape::Circle => word.to_owned(),
        Shape::Points(points) => format!("{word}, {} corners", points.len()),
        Shape::Rounded { corner } | Shape::Notched { corner } => {
            format!("{word}, corner {}", mm(*corner))
        }
        Shape::Arch { rise } => format!("{word}, rise {}", mm(rise.unwrap_or(plate.width / 2.0))),
        Shape::Ansate(handles) => {
            let size = handles.on(plate.width, plate.height);
            format!(
                "{word}, handles {} wide, {} at the root, {} at the tip",
                mm(size.width),
                mm(size.root),
                mm(size.tip)
            )
        }
    }
}

/// Colours that are not the material's own.
fn colours(colours: Colours) -> Option<String> {
    match colours {
        Colours::Own => None,
        Colours::Coat(colour) | Colours::Through(colour) => Some(colour.word().to_owned()),
        Colours::Layers { cap, core } => Some(format!("{} over {}", cap.word(), core.word())),
    }
}

/// A bore in the face: what it is called, and how wide and deep it is.
fn bore(bore: &Bore) -> (&'static str, String) {
    let mm = |value: f64| format!("{} mm", trimmed(value, 3));
    let name = match bore.what {
        Bored::Shank => "shank bore in the face",
        Bored::Pilot => "pilot bore in the face",
        Bored::Insert => "bore for the insert",
        Bored::Tap => "bore for the thread",
        Bored::Clearance => "bore through the face",
        Bored::Stud => "bore for the stud",
    };
    let depth = match bore.depth {
        Depth::AsShank => "as deep as the smooth shank".to_owned(),
        Depth::ToTip(depth) => format!("{} deep to the tip", mm(depth)),
        Depth::FullWidth(depth) => format!("{} deep at full width", mm(depth)),
        Depth::Through => "right through".to_owned(),
    };
    (name, format!("\u{d8}{}, {depth}", mm(bore.diameter)))
}

fn beside(job: &Job) -> BTreeMap<String, String> {
    let (plate, engraving) = (&job.layout.plate, &job.layout.engraving);
    let mm = |value: f64| format!("{} mm", trimmed(value, 3));
    let mut all = vec![
        ("material", plate.material.word().to_owned()),
        ("finish", plate.finish.word().to_owned()),
        ("thickness", mm(plate.thickness)),
        ("process", engraving.process.word().to_owned()),
        ("fill", engraving.fill.word().to_owned()),
        ("quantity", plate.quantity.to_string()),
    ];
    all.extend(plate.coating.map(|coating| ("coating", coating.word().to_owned())));
    all.extend(colours(plate.colours).map(|colours| ("colours", colours)));
    if let Some(fixing) = &job.mount.fixing {
        all.push(("fixing", fixing.name.clone()));
        all.extend(fixing.bores.iter().map(bore));
    }
    if let Some(face) = &job.mount.face {
        let (x, y) = (mm(face.plate_x), mm(face.plate_y));
        all.push(("place on the face", format!("{x} from its left, {y} from its top")));
    }
    all.into_iter().map(|(name, value)| (name.to_owned(), value)).collect()
}
