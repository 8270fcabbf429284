//! `[[photo]]`: photographs on the plate. Their files are read with the layout, so that
//! what is wrong with them is told with its other mistakes.

use std::sync::Arc;

use serde_json::json;
use sha2::{Digest, Sha256};
use toml::de::DeValue;

use super::value::Entry;
use super::{Notes, Table, Within, photo_making, photo_size, polygon};
use crate::layout::diagnostic::quoted;
use crate::layout::schema::{self, Schema};
use crate::layout::{
    EngravedCredit, Flow, Frame, Named, Photo, PhotoSide, PhotoSize, PhotoStands, Shape,
};
use crate::picture::{self, Picture, PictureError};

/// A photograph as it was read from its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photograph {
    /// Its pixels.
    pub picture: Picture,
    /// SHA-256 of the file.
    pub digest: Arc<[u8; 32]>,
}

/// Why there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoPhotograph {
    /// The file cannot be read: a sentence without the path.
    File(String),
    /// What it holds cannot be used.
    Picture(PictureError),
}

impl Photograph {
    /// A photograph from the bytes of its file.
    ///
    /// # Errors
    /// As [`picture::read`].
    pub fn of(bytes: &[u8]) -> Result<Self, NoPhotograph> {
        let reading = picture::read(bytes).map_err(NoPhotograph::Picture)?;
        Ok(Self { picture: reading.picture, digest: Arc::new(Sha256::digest(bytes).into()) })
    }
}

/// Reads a photograph named in a layout, by the path as written there.
pub type Photographs<'a> = &'a dyn Fn(&str) -> Result<Photograph, NoPhotograph>;

/// Most photographs of one plate.
const MOST: usize = 12;
/// Where its centre may be, mm.
const CENTRE: Within = Within::new(0.0, 2000.0);
/// White from a photograph to lettering, and from its frame to it, mm, and where nothing is
/// said. Common practice, no source.
const APART: Within = Within::new(0.0, 200.0);
const USUAL_GAP: f64 = 3.0;
const USUAL_FRAME_GAP: f64 = 0.5;
/// Width of a frame's line, mm, and where nothing is said. Common practice, no source.
const WEIGHT: Within = Within::new(0.05, 20.0);
const USUAL_WEIGHT: f64 = 0.3;
/// Shares of a picture.
const SHARE: Within = Within::new(0.0, 1.0);
/// How far one may crop in; beyond, hardly a pixel is left of any photograph.
const ZOOM: Within = Within::new(1.0, 20.0);

const AT: &str =
    "place = { at = [\"30 mm\", \"40 mm\"] }, its centre from the left and from the top";

/// Words for a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Stand(Option<PhotoSide>);

impl Named for Stand {
    const ALL: &'static [(&'static str, Self)] = &[
        ("left", Self(Some(PhotoSide::Left))),
        ("right", Self(Some(PhotoSide::Right))),
        ("top", Self(Some(PhotoSide::Top))),
        ("bottom", Self(Some(PhotoSide::Bottom))),
        ("auto", Self(None)),
    ];
}

/// What editors and other programs are told of `[[photo]]`.
pub(super) fn keys() -> Schema {
    schema::list("Photographs on the plate.", 1, MOST, one_keys())
}

fn one_keys() -> Schema {
    let share = || schema::number("A share of the picture, from 0 to 1.", SHARE);
    let permission = "Who allowed it to be used, when and how; without it no artwork is made.";
    let flow = "Where lettering may stand on account of it: in what is left of the field from \
                edge to edge, or close round its outline.";
    let mut all = vec![
        (
            "file",
            schema::note("Path of a JPEG, PNG, TIFF or WebP file, from the layout's folder.")
                .needed(),
        ),
        (
            "place",
            schema::one_of(
                "Where it stands: at a side of the field, where it is best, or at a point.",
                [schema::word::<Stand>("A side."), at_keys()],
            )
            .usual("left"),
        ),
        ("lettering", schema::word::<Flow>(flow).usual(Flow::Beside.word())),
    ];
    all.extend(photo_size::keys());
    all.extend([
        ("gap", schema::length("White from it to lettering.", APART).usual_mm(USUAL_GAP)),
        ("frame", frame_keys()),
        (
            "focus",
            schema::list(
                "The point that the crop is centred on: shares from the left, from the top.",
                2,
                2,
                share(),
            )
            .usual(json!([0.5, 0.5])),
        ),
        ("zoom", schema::number("How far the crop goes in.", ZOOM).usual(1)),
        (
            "heads",
            schema::list(
                "A box that must not be cut: left, top, right, bottom as shares of the picture.",
                4,
                4,
                share(),
            ),
        ),
    ]);
    all.extend(photo_making::keys());
    all.extend([
        ("credit", schema::note("Who took it; printed on the proof.")),
        (
            "engrave_credit",
            schema::table(
                "The credit as a small line under it.",
                [(
                    "cap_height",
                    schema::length("Its cap height.", photo_size::CAP_HEIGHT).needed(),
                )],
            ),
        ),
        ("permission", schema::note(permission)),
    ]);
    photo_size::conditions(schema::table("A photograph on the plate.", all)).also(
        json!({ "if": { "required": ["engrave_credit"] }, "then": { "required": ["credit"] } }),
    )
}

fn at_keys() -> Schema {
    schema::table(
        "At a point.",
        [(
            "at",
            schema::list(
                "Its centre: from the plate's left edge, from its top edge.",
                2,
                2,
                schema::length("A distance.", CENTRE),
            )
            .needed(),
        )],
    )
}

fn frame_keys() -> Schema {
    schema::table(
        "A line engraved round it.",
        [
            ("weight", schema::length("Its width.", WEIGHT).usual_mm(USUAL_WEIGHT)),
            (
                "gap",
                schema::length("From the photograph to the line.", APART).usual_mm(USUAL_FRAME_GAP),
            ),
        ],
    )
}

/// All photographs; empty where a mistake is noted, too.
pub(super) fn photos(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    photographs: Photographs<'_>,
) -> Vec<Photo> {
    if let DeValue::Table(_) = entry.value {
        let message = "`photo` is a list: each photograph has a header in two pairs of brackets";
        notes.wrong(&entry.span, message, "write [[photo]]");
        return Vec::new();
    }
    let items = notes.list(entry, "[[photo]] and under it file = \"tower.jpg\"");
    let items = items.unwrap_or_default();
    if items.len() > MOST {
        let message = format!("{} photographs are told", items.len());
        notes.wrong(&entry.span, message, format!("one plate may have up to {MOST}"));
        return Vec::new();
    }
    let read: Vec<Photo> =
        items.iter().filter_map(|item| photo(item, notes, photographs)).collect();
    let worked_out = |photo: &&Photo| {
        photo.stands == PhotoStands::Auto || matches!(photo.size, PhotoSize::Largest(_))
    };
    if read.iter().filter(worked_out).count() > 1
        && let Some(last) = items.last()
    {
        let message = "only one photograph's place or size can be worked out";
        notes.wrong(&last.span, message, "give the others a place and a size");
    }
    read
}

fn photo(item: &Entry<'_>, notes: &mut Notes<'_>, photographs: Photographs<'_>) -> Option<Photo> {
    notes.keys.insert(item.path.clone(), item.span.clone());
    let mut table = notes.table(item)?;
    let file = table.need(notes, "file", "file = \"tower.jpg\"");
    let stands = table.take(notes, "place");
    let stands =
        stands.map_or(Some(PhotoStands::Side(PhotoSide::Left)), |entry| stands_at(&entry, notes));
    let flow = table.take(notes, "lettering");
    let flow = flow.and_then(|entry| {
        if matches!(stands, Some(PhotoStands::At(..))) {
            let message = "round a photograph at a point lettering always stands close";
            notes.wrong(&entry.span, message, "leave `lettering` out, or set it at a side");
        }
        notes.word(&entry)
    });
    // Known before the size, so that the keys are offered in the order in which they are told.
    for key in ["width", "height", "keeps"] {
        let _ = table.take(notes, key);
    }
    let shape = photo_size::shape(&mut table, notes);
    let proportion = table.take(notes, "proportion");
    let proportion = proportion.map(|entry| photo_size::proportion_of(&entry, notes));
    let size = photo_size::size(&mut table, notes, shape.as_ref());
    let gap = table.length(notes, "gap", APART).unwrap_or(USUAL_GAP);
    let frame = table.table(notes, "frame").map(|table| frame(table, notes));
    let focus = table.take(notes, "focus");
    let focus = focus.map_or(Some([0.5; 2]), |entry| shares(&entry, notes, "focus = [0.5, 0.4]"));
    let zoom = table.number(notes, "zoom", ZOOM).unwrap_or(1.0);
    let heads = table.take(notes, "heads").and_then(|entry| heads(&entry, notes));
    let making = photo_making::making(&mut table, notes);
    let credit = table.note(notes, "credit");
    let engraved = table.table(notes, "engrave_credit");
    let engraved = engraved.and_then(|table| engraved_credit(table, notes, credit.is_some()));
    let permission = table.note(notes, "permission");
    table.finish(notes);

    let (path, picture, digest) = file_of(&file?, notes, photographs)?;
    let own = f64::from(picture.width) / f64::from(picture.height);
    let shape = shape?;
    let proportion = match proportion {
        _ if shape == Shape::Circle => 1.0,
        Some(told) => told?,
        None => own,
    };
    let focus = focus?;
    Some(Photo {
        path,
        picture,
        digest,
        stands: stands?,
        flow: flow.unwrap_or(Flow::Beside),
        size: size?,
        shape,
        proportion,
        gap,
        frame,
        focus: (focus[0], focus[1]),
        zoom,
        heads,
        making: making?,
        credit,
        engraved_credit: engraved,
        permission,
    })
}

/// The file as a picture, by its path.
fn file_of(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    photographs: Photographs<'_>,
) -> Option<(String, Picture, Arc<[u8; 32]>)> {
    let path = notes.note(entry)?;
    let (message, help) = match photographs(&path) {
        Ok(photograph) => return Some((path, photograph.picture, photograph.digest)),
        Err(NoPhotograph::File(why)) => {
            (format!("the photograph {} cannot be read", quoted(&path)), why)
        }
        Err(NoPhotograph::Picture(error)) => {
            let why = phrase(&error.message);
            let message = format!("the photograph {} cannot be used: {why}", quoted(&path));
            (message, phrase(&error.help))
        }
    };
    notes.wrong(&entry.span, message, help);
    None
}

/// A sentence as the end of another.
fn phrase(sentence: &str) -> String {
    let sentence = sentence.trim_end_matches('.');
    let mut letters = sentence.chars();
    // A word all in capitals is the name of a format.
    let second = sentence.chars().nth(1);
    match letters.next().filter(|_| second.is_some_and(|second| !second.is_uppercase())) {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => sentence.to_owned(),
    }
}

fn stands_at(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<PhotoStands> {
    let DeValue::Table(_) = entry.value else {
        let side: Stand = notes.word(entry)?;
        return Some(side.0.map_or(PhotoStands::Auto, PhotoStands::Side));
    };
    let mut table = notes.table(entry)?;
    let at = table.need(notes, "at", AT);
    table.finish(notes);
    let (x, y) = polygon::point(&at?, notes, CENTRE)?;
    Some(PhotoStands::At(x, y))
}

/// So many shares of the picture.
fn shares<const N: usize>(
    entry: &Entry<'_>,
    notes: &mut Notes<'_>,
    example: &str,
) -> Option<[f64; N]> {
    let items = notes.list(entry, example)?;
    if items.len() != N {
        let message = format!("`{}` has {} numbers, not {N}", entry.path, items.len());
        notes.wrong(&entry.span, message, format!("write {example}"));
        return None;
    }
    let read: Vec<_> = items.iter().map(|item| notes.number(item, SHARE)).collect();
    read.into_iter().collect::<Option<Vec<f64>>>()?.try_into().ok()
}

fn heads(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<[f64; 4]> {
    let example = "heads = [0.3, 0.1, 0.7, 0.6]: left, top, right, bottom";
    let [left, top, right, bottom] = shares(entry, notes, example)?;
    if left >= right || top >= bottom {
        notes.wrong(&entry.span, "the box of the heads is empty", format!("write {example}"));
        return None;
    }
    Some([left, top, right, bottom])
}

fn frame(mut table: Table<'_>, notes: &mut Notes<'_>) -> Frame {
    let weight = table.length(notes, "weight", WEIGHT).unwrap_or(USUAL_WEIGHT);
    let gap = table.length(notes, "gap", APART).unwrap_or(USUAL_FRAME_GAP);
    table.finish(notes);
    Frame { weight, gap }
}

fn engraved_credit(
    mut table: Table<'_>,
    notes: &mut Notes<'_>,
    credited: bool,
) -> Option<EngravedCredit> {
    let height = table.need(notes, "cap_height", "cap_height = \"1.5 mm\"");
    let height = height.and_then(|entry| notes.length(&entry, photo_size::CAP_HEIGHT));
    if !credited {
        let message = "no credit is told that could be engraved";
        notes.wrong(&table.span, message, "write credit = \"…\": who took it");
    }
    table.finish(notes);
    Some(EngravedCredit { cap_height: height? })
}
