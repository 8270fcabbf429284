//! What one version has otherwise than another: what was written first, then what follows
//! from it.

use std::collections::{BTreeMap, BTreeSet};

use crate::job::{CutHole, CutPhoto, Trace, millimetres};
use crate::units::digits::trimmed;

use super::pairs::pairs;
use super::version::{Place, Version, VersionFace, VersionLine};
use super::wording::{WordChange, word_changes};

/// What a change concerns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// Words and letters.
    Wording,
    /// Which lettering, at which axes.
    Lettering,
    /// Edge, bevel, border and decoration of the plate.
    Plate,
    /// Holes through the plate.
    Holes,
    /// Photographs: their picture, crop, place and making.
    Photos,
    /// Heights and places of lines and their letters.
    Lines,
    /// What moves no outline.
    Beside,
}

impl Topic {
    /// Its name, for machines and for people.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Wording => "wording",
            Self::Lettering => "lettering",
            Self::Plate => "plate",
            Self::Holes => "holes",
            Self::Photos => "photos",
            Self::Lines => "lines",
            Self::Beside => "beside",
        }
    }
}

/// One thing that is otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// What it concerns.
    pub topic: Topic,
    /// Where: `line 2`, `line 2, row 1`, `hole 1`, `plate`, `material`. Lines and holes are
    /// numbered as in the new version; those that went, as in the old.
    pub place: String,
    /// What of it: `wording`, `cap height`; empty where the place says it.
    pub what: &'static str,
    /// How it was, lengths in mm; empty where there was none.
    pub old: String,
    /// How it is; empty where there is none.
    pub new: String,
    /// Of a wording, what became of its words.
    pub words: Vec<WordChange>,
    /// Of a single length, by how much it grew, µm.
    pub difference: Option<i64>,
    /// Index of the line it concerns in the old and in the new version.
    pub line: (Option<usize>, Option<usize>),
}

impl Change {
    /// Whether anything is cut otherwise by it.
    #[must_use]
    pub fn is_cut(&self) -> bool {
        self.topic != Topic::Beside
    }

    /// In one phrase, long ones cut short: `line 2: “,” left out after “ringers”`, `plate, size: 120 × 80 mm, was
    /// 118 × 80 mm`.
    #[must_use]
    pub fn told(&self) -> String {
        let Self { place, what, .. } = self;
        let (old, new) = (short(&self.old), short(&self.new));
        if !self.words.is_empty() {
            let told = self.words.iter().take(MOST_WORDS).map(WordChange::told);
            let told = told.collect::<Vec<_>>().join("; ");
            return match self.words.len().saturating_sub(MOST_WORDS) {
                0 => format!("{place}: {told}"),
                more => format!("{place}: {told}; and {more} more"),
            };
        }
        let of = if what.is_empty() { place.clone() } else { format!("{place}, {what}") };
        match (old.is_empty(), new.is_empty()) {
            (true, true) => format!("{place}: {what}"),
            (true, false) => format!("{of}: {new}, which is new"),
            (false, true) => format!("{of}: gone, was {old}"),
            (false, false) => format!("{of}: {new}, was {old}"),
        }
    }
}

/// Most places of a wording that a phrase names.
const MOST_WORDS: usize = 6;
/// Most characters of a text that a phrase repeats.
const LONGEST: usize = 80;

fn short(text: &str) -> String {
    let text = text.replace('\n', " ");
    match text.char_indices().nth(LONGEST) {
        None => text,
        Some((end, _)) => format!("{}\u{2026}", text.get(..end).unwrap_or_default()),
    }
}

/// A change of no line.
fn change(topic: Topic, place: impl Into<String>, what: &'static str) -> Change {
    let place = place.into();
    let (old, new) = (String::new(), String::new());
    let (words, difference, line) = (Vec::new(), None, (None, None));
    Change { topic, place, what, old, new, words, difference, line }
}

/// A change of one length.
fn length(change: Change, old: i64, new: i64) -> Change {
    Change { old: mm(old), new: mm(new), difference: Some(new - old), ..change }
}

/// Every difference of two versions, in the order of [`Topic`]; none that is cut where their
/// proof marks are the same.
#[must_use]
pub fn changes(old: &Version, new: &Version) -> Vec<Change> {
    let mut all = Vec::new();
    if old.mark == new.mark {
        unseen(&mut all, old, new);
    } else {
        lines(&mut all, old, new);
        plate(&mut all, old, new);
        decoration(&mut all, old, new);
        holes(&mut all, &old.cut.holes, &new.cut.holes);
        photos(&mut all, &old.cut.photos, &new.cut.photos);
        if all.is_empty() {
            all.push(change(Topic::Lines, "plate", "the order of what is cut is another"));
        }
    }
    if old.title != new.title {
        let (was, is) = (old.title.clone(), new.title.clone());
        all.push(Change { old: was, new: is, ..change(Topic::Beside, "title", "") });
    }
    beside(&mut all, &old.beside, &new.beside);
    all.sort_by_key(|change| change.topic);
    all
}

/// Wordings that are otherwise though every outline is the same: soft hyphens, say.
fn unseen(all: &mut Vec<Change>, old: &Version, new: &Version) {
    for (index, (a, b)) in old.lines.iter().zip(&new.lines).enumerate() {
        if a.text != b.text {
            let wording = change(Topic::Beside, format!("line {}", index + 1), "wording");
            let words = word_changes(&a.text, &b.text);
            let (old, new) = (a.text.clone(), b.text.clone());
            let line = (Some(index), Some(index));
            all.push(Change { old, new, words, line, ..wording });
        }
    }
}

fn mm(um: i64) -> String {
    format!("{} mm", trimmed(millimetres(um), 3))
}

fn line_at(version: &Version, at: Option<usize>) -> Option<&VersionLine> {
    at.and_then(|at| version.lines.get(at))
}

fn texts(version: &Version) -> Vec<&str> {
    version.lines.iter().map(|line| line.text.as_str()).collect()
}

fn lines(all: &mut Vec<Change>, old: &Version, new: &Version) {
    for pair in pairs(&texts(old), &texts(new)) {
        let number = pair.1.or(pair.0).unwrap_or(0) + 1;
        let place = format!("line {number}");
        let of_line = |change: Change| Change { line: pair, ..change };
        match (line_at(old, pair.0), line_at(new, pair.1)) {
            (Some(a), Some(b)) => {
                let before = all.len();
                same_line(all, (a, b), &place, &of_line);
                if all.len() == before && letters(old, pair.0) != letters(new, pair.1) {
                    let what = "the outlines of its letters are others";
                    all.push(of_line(change(Topic::Lettering, place, what)));
                }
            }
            (a, b) => {
                let text =
                    |line: Option<&VersionLine>| line.map_or(String::new(), |l| l.text.clone());
                let alone = change(Topic::Wording, place, "line");
                all.push(of_line(Change { old: text(a), new: text(b), ..alone }));
            }
        }
    }
}

/// A line that is in both versions.
fn same_line(
    all: &mut Vec<Change>,
    (old, new): (&VersionLine, &VersionLine),
    place: &str,
    of_line: &impl Fn(Change) -> Change,
) {
    if old.cap_height != new.cap_height {
        let height = change(Topic::Lines, place, "cap height");
        all.push(of_line(length(height, old.cap_height, new.cap_height)));
    }
    let mut add = |topic, place: &str, what, old: String, new: String| {
        if old != new {
            all.push(of_line(Change { old, new, ..change(topic, place, what) }));
        }
    };
    add(Topic::Lettering, place, "lettering", faces(old, new), faces(new, old));
    let rows = |line: &VersionLine| {
        line.rows.iter().map(|row| row.text.as_str()).collect::<Vec<_>>().join(" / ")
    };
    if old.text == new.text {
        add(Topic::Lines, place, "rows", rows(old), rows(new));
    }
    for index in 0..old.rows.len().max(new.rows.len()) {
        let place_of = |line: &VersionLine| line.rows.get(index).map(|row| row.place);
        let several = old.rows.len().max(new.rows.len()) > 1;
        let place = if several { format!("{place}, row {}", index + 1) } else { place.to_owned() };
        let (was, is) = (place_of(old), place_of(new));
        let across = |place: Option<Place>| place.map(across).unwrap_or_default();
        add(Topic::Lines, &place, "left and right end", across(was), across(is));
        let down = |place: Option<Place>| place.map(|place| mm(place.baseline)).unwrap_or_default();
        add(Topic::Lines, &place, "baseline", down(was), down(is));
    }
    if old.text != new.text {
        let words = word_changes(&old.text, &new.text);
        let (was, is) = (old.text.clone(), new.text.clone());
        let wording = change(Topic::Wording, place, "wording");
        all.push(of_line(Change { old: was, new: is, words, ..wording }));
    }
}

fn across(place: Place) -> String {
    let figure = |um| trimmed(millimetres(um), 3);
    format!("{} to {} mm", figure(place.left), figure(place.right))
}

/// A line's lettering in words; with the beginning of the file's digest where only that tells
/// it from the other's.
fn faces(line: &VersionLine, other: &VersionLine) -> String {
    let named = |line: &VersionLine| -> Vec<(String, String)> {
        line.faces.iter().map(|face| (face.name.clone(), face.set.clone())).collect()
    };
    let alike = named(line) == named(other);
    let one = |face: &VersionFace| {
        let mut text = face.name.clone();
        if !face.set.is_empty() {
            text.push_str(&format!(" ({})", face.set));
        }
        if alike {
            let digest = face.digest.get(..12).unwrap_or(&face.digest);
            text.push_str(&format!(", file {digest}\u{2026}"));
        }
        text
    };
    line.faces.iter().map(one).collect::<Vec<_>>().join("; ")
}

/// The outlines of a line's letters from the plate's corner.
fn letters(version: &Version, line: Option<usize>) -> Vec<Trace> {
    version.rows_of(line).flat_map(|row| version.cut.row(row)).collect()
}

fn plate(all: &mut Vec<Change>, old: &Version, new: &Version) {
    let mut add = |what, old: String, new: String| {
        if old != new {
            all.push(Change { old, new, ..change(Topic::Plate, "plate", what) });
        }
    };
    let size = |version: &Version| {
        let side = |um| trimmed(millimetres(um), 3);
        format!("{} \u{d7} {} mm", side(version.size.0), side(version.size.1))
    };
    add("size", size(old), size(new));
    add("shape", old.shape.clone(), new.shape.clone());
    let letters = |raised| if raised { "raised" } else { "incised" }.to_owned();
    add("letters", letters(old.cut.raised), letters(new.cut.raised));
    let from = |behind| if behind { "behind, mirrored" } else { "in front" }.to_owned();
    add("cut from", from(old.cut.behind), from(new.cut.behind));
    let border = |version: &Version| {
        version
            .cut
            .border
            .as_ref()
            .map_or_else(|| "none".to_owned(), |border| format!("{} wide", mm(border.weight)))
    };
    add("border", border(old), border(new));
    if old.cut.bevel != new.cut.bevel {
        let bevel = change(Topic::Plate, "plate", "bevel");
        all.push(length(bevel, old.cut.bevel, new.cut.bevel));
    }
    if all.iter().any(|change| change.topic == Topic::Plate) {
        return;
    }
    if old.cut.outline != new.cut.outline {
        all.push(change(Topic::Plate, "plate", "its outline runs otherwise"));
    }
    if old.cut.border != new.cut.border {
        all.push(change(Topic::Plate, "plate", "its border runs otherwise"));
    }
}

/// Dividers, emblems and corner ornaments.
fn decoration(all: &mut Vec<Change>, old: &Version, new: &Version) {
    let (old, new) = (&old.cut.decoration, &new.cut.decoration);
    if old != new {
        let told = |drawings: &[Trace]| match drawings.len() {
            0 => "none".to_owned(),
            1 => "1 drawing".to_owned(),
            count => format!("{count} drawings"),
        };
        let (old, new) = (told(old), told(new));
        if old == new {
            all.push(change(Topic::Plate, "decoration", "it is drawn or stands otherwise"));
        } else {
            all.push(Change { old, new, ..change(Topic::Plate, "decoration", "its drawings") });
        }
    }
}

fn holes(all: &mut Vec<Change>, old: &[CutHole], new: &[CutHole]) {
    for index in 0..old.len().max(new.len()) {
        let (old, new) = (old.get(index), new.get(index));
        let told = |what, tell: fn(&CutHole) -> String| {
            let place = format!("hole {}", index + 1);
            let side = |hole: Option<&CutHole>| hole.map(tell).unwrap_or_default();
            Change { old: side(old), new: side(new), ..change(Topic::Holes, place, what) }
        };
        let both = [told("middle", middle), told("size", size)];
        all.extend(both.into_iter().filter(|change| change.old != change.new));
    }
}

fn middle(hole: &CutHole) -> String {
    let figure = |um| trimmed(millimetres(um), 3);
    format!("{} across, {} down", figure(hole.at.0), mm(hole.at.1))
}

fn size(hole: &CutHole) -> String {
    let slot = hole.travel.map_or_else(String::new, |(across, down)| {
        let way = if across > 0 { "level" } else { "upright" };
        format!(", a {way} slot {} longer", mm(2 * across.max(down)))
    });
    format!("\u{d8}{}, head \u{d8}{}{slot}", mm(hole.diameter), mm(hole.head))
}

fn photos(all: &mut Vec<Change>, old: &[CutPhoto], new: &[CutPhoto]) {
    for index in 0..old.len().max(new.len()) {
        let (was, is) = (old.get(index), new.get(index));
        let told = |what, tell: fn(&CutPhoto) -> String| {
            let place = format!("photograph {}", index + 1);
            let side = |photo: Option<&CutPhoto>| photo.map(tell).unwrap_or_default();
            Change { old: side(was), new: side(is), ..change(Topic::Photos, place, what) }
        };
        let file = |photo: &CutPhoto| {
            let digest = photo.file.get(..12).unwrap_or(&photo.file);
            format!("the file {digest}\u{2026}")
        };
        let crop = |photo: &CutPhoto| {
            let [left, top, right, bottom] = photo.crop.map(|side| trimmed(millimetres(side), 1));
            format!("pixels {left} to {right} across, {top} to {bottom} down")
        };
        let before = all.len();
        let each = [
            told("picture", file),
            told("making", |photo| photo.made.clone()),
            told("crop", crop),
            told("place and size", |photo| sides(&photo.outline)),
        ];
        all.extend(each.into_iter().filter(|change| change.old != change.new));
        if all.len() == before && was != is {
            let place = format!("photograph {}", index + 1);
            all.push(change(Topic::Photos, place, "its outline, pocket, frame or credit"));
        }
    }
}

/// The box of an outline in words.
fn sides(outline: &Trace) -> String {
    let sides = kurbo::Shape::bounding_box(&outline.path());
    let figure = |mm: f64| trimmed(mm, 3);
    format!(
        "{} to {} mm across, {} to {} mm down",
        figure(sides.x0),
        figure(sides.x1),
        figure(sides.y0),
        figure(sides.y1)
    )
}

/// What moves no outline and is otherwise.
pub(super) fn beside(
    all: &mut Vec<Change>,
    old: &BTreeMap<String, String>,
    new: &BTreeMap<String, String>,
) {
    let names: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    for name in names {
        let side = |facts: &BTreeMap<String, String>| facts.get(name).cloned().unwrap_or_default();
        let (old, new) = (side(old), side(new));
        if old != new {
            all.push(Change { old, new, ..change(Topic::Beside, name.clone(), "") });
        }
    }
}
