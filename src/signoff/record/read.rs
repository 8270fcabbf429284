//! A record from its file, or what is wrong with it.

use std::collections::BTreeMap;
use std::ops::Range;

use serde::Deserialize;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::job::{Agreed, Cut, CutBorder, CutGlyph, CutHole, CutPhoto, Signature, Trace};
use crate::layout::{Diagnostic, Source};

use super::super::version::{Place, Version, VersionFace, VersionLine, VersionRow, um};
use super::{Record, SEAL, VERSION, digest};

/// What to do about a record that is not as it was written.
const RESTORE: &str = "put the file back as it was, or delete it and have the layout signed anew";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(rename = "ansata_signed")]
    _version: u32,
    title: String,
    proof_mark: Spanned<String>,
    signed: Vec<Signed>,
    plate: PlateTold,
    #[serde(default)]
    line: Vec<LineTold>,
    cut: CutTold,
    #[serde(rename = "seal")]
    _seal: Seal,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Seal {
    digest: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Signed {
    by: String,
    role: String,
    date: String,
    proof: u32,
    beside: BTreeMap<String, String>,
    #[serde(default)]
    accepted: Vec<AgreedTold>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AgreedTold {
    code: String,
    #[serde(rename = "where")]
    place: String,
    finding: String,
    reason: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PlateTold {
    shape: String,
    width_mm: Mm,
    height_mm: Mm,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LineTold {
    text: String,
    cap_height_mm: Mm,
    lettering: Vec<FaceTold>,
    rows: Vec<RowTold>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FaceTold {
    name: String,
    set: String,
    file_sha256: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RowTold {
    text: String,
    left_mm: Mm,
    right_mm: Mm,
    baseline_mm: Mm,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CutTold {
    raised: bool,
    from_behind: bool,
    bevel_mm: Mm,
    outline: Spanned<String>,
    border_weight_mm: Option<Mm>,
    #[serde(default)]
    border: Vec<Spanned<String>>,
    holes: Vec<HoleTold>,
    rows: Spanned<Vec<Spanned<String>>>,
    shapes: Vec<Spanned<String>>,
    #[serde(default)]
    decoration: Vec<Spanned<String>>,
    #[serde(default)]
    photo: Vec<PhotoTold>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PhotoTold {
    file_sha256: String,
    made: String,
    crop_thousandths: [i64; 4],
    outline: Spanned<String>,
    pocket: Option<Spanned<String>>,
    engraved: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HoleTold {
    x_mm: Mm,
    y_mm: Mm,
    diameter_mm: Mm,
    head_mm: Mm,
    slot_across_mm: Option<Mm>,
    slot_down_mm: Option<Mm>,
}

/// Longest length in a record, mm: a hundred metres.
const LONGEST: f64 = 100_000.0;

/// A length in whole µm, written in mm.
#[derive(Clone, Copy)]
struct Mm(i64);

impl<'de> Deserialize<'de> for Mm {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let mm = f64::deserialize(from)?;
        if mm.abs() <= LONGEST {
            return Ok(Self(um(mm)));
        }
        Err(serde::de::Error::custom("this is no length of a record"))
    }
}

/// Whether a text is meant as a record, whole or not.
#[must_use]
pub fn is_record(text: &str) -> bool {
    text.lines().any(|line| {
        let key = line.split_once('=').map(|(key, _)| key.trim());
        key == Some("ansata_signed")
    })
}

impl Record {
    /// Reads a record; line ends may have become CR LF on the way.
    ///
    /// # Errors
    /// What is wrong with it and where: no TOML, another version, changed or cut short since
    /// it was written.
    pub fn read(source: &Source) -> Result<Self, Box<Diagnostic>> {
        let text = source.text.replace("\r\n", "\n");
        let source = Source { name: source.name.clone(), text };
        let wrong = |span: Range<usize>, message: String, help: &str| {
            let help = Some(help.to_owned());
            Box::new(Diagnostic { source: source.clone(), span: Some(span), message, help })
        };
        let spoilt = |error: &toml::de::Error| {
            let end = source.text.trim_end().len();
            let message = format!("the record is damaged: {}", first_line(error.message()));
            wrong(error.span().unwrap_or(end..end), message, RESTORE)
        };
        let tree = DeTable::parse(&source.text).map_err(|error| spoilt(&error))?;
        if let Err((span, message)) = this_version(tree.get_ref()) {
            let help = "sign with the program that reads it, or delete it and sign anew";
            return Err(wrong(span, message, help));
        }
        let Some(end) = source.text.rfind(SEAL) else {
            let end = source.text.trim_end().len();
            let message = "the record has no seal at its end: it is not whole".to_owned();
            return Err(wrong(end..end, message, RESTORE));
        };
        let file: File = toml::from_str(&source.text).map_err(|error| spoilt(&error))?;
        let seal = &file._seal.digest;
        if *seal.get_ref() != digest(source.text.get(..end).unwrap_or_default()) {
            let message = "the record was changed after it was sealed".to_owned();
            return Err(wrong(seal.span(), message, RESTORE));
        }
        let mark = file.proof_mark.span();
        let record = record(file).map_err(|(span, message)| wrong(span, message, RESTORE))?;
        if record.version.cut.mark() != record.version.mark {
            let message = "the proof mark is not that of the outlines below".to_owned();
            return Err(wrong(mark, message, RESTORE));
        }
        Ok(record)
    }
}

fn first_line(text: &str) -> &str {
    text.lines().next().unwrap_or_default()
}

/// A mistake: its place, and what is wrong.
type Mistake = (Range<usize>, String);

fn this_version(root: &DeTable<'_>) -> Result<(), Mistake> {
    let Some(value) = root.get("ansata_signed") else {
        return Err((
            0..0,
            "this is no record of a sign-off: `ansata_signed` is missing".to_owned(),
        ));
    };
    match value.get_ref() {
        DeValue::Integer(n) if n.to_string() == VERSION.to_string() => Ok(()),
        DeValue::Integer(n) => {
            let told: String = n.to_string().chars().take(12).collect();
            let message =
                format!("the record is of version {told}, this program reads version {VERSION}");
            Err((value.span(), message))
        }
        _ => Err((value.span(), "the version of the record is a whole number".to_owned())),
    }
}

fn record(file: File) -> Result<Record, Mistake> {
    let mark = file.proof_mark;
    let signatures: Vec<Signature> = file.signed.into_iter().map(signature).collect();
    let Some(last) = signatures.last() else {
        return Err((mark.span(), "nobody has signed this record".to_owned()));
    };
    let rows: usize = file.line.iter().map(|line| line.rows.len()).sum();
    if rows != file.cut.rows.get_ref().len() {
        let message = "these are not as many rows as the lines have".to_owned();
        return Err((file.cut.rows.span(), message));
    }
    let version = Version {
        title: file.title,
        mark: mark.into_inner(),
        shape: file.plate.shape,
        size: (file.plate.width_mm.0, file.plate.height_mm.0),
        beside: last.beside.clone(),
        lines: file.line.into_iter().map(line).collect(),
        cut: cut(file.cut)?,
    };
    Ok(Record { version, signatures })
}

fn signature(signed: Signed) -> Signature {
    let agreed = |told: AgreedTold| Agreed {
        code: told.code,
        place: told.place,
        finding: told.finding,
        reason: told.reason,
    };
    Signature {
        by: signed.by,
        role: signed.role,
        date: signed.date,
        proof: signed.proof,
        beside: signed.beside,
        accepted: signed.accepted.into_iter().map(agreed).collect(),
    }
}

fn line(told: LineTold) -> VersionLine {
    let face =
        |face: FaceTold| VersionFace { name: face.name, digest: face.file_sha256, set: face.set };
    let row = |row: RowTold| VersionRow {
        text: row.text,
        place: Place { left: row.left_mm.0, right: row.right_mm.0, baseline: row.baseline_mm.0 },
    };
    VersionLine {
        text: told.text,
        faces: told.lettering.into_iter().map(face).collect(),
        cap_height: told.cap_height_mm.0,
        rows: told.rows.into_iter().map(row).collect(),
    }
}

fn cut(told: CutTold) -> Result<Cut, Mistake> {
    let path = |text: &Spanned<String>| {
        let trace = Trace::parsed(text.get_ref());
        trace.ok_or_else(|| (text.span(), "this is no path of a record".to_owned()))
    };
    let paths = |all: &[Spanned<String>]| all.iter().map(path).collect::<Result<Vec<_>, _>>();
    let border = match told.border_weight_mm {
        Some(weight) => Some(CutBorder { weight: weight.0, lines: paths(&told.border)? }),
        None => None,
    };
    let shapes = paths(&told.shapes)?;
    let row = |text: &Spanned<String>| {
        let known = |glyphs: &Vec<CutGlyph>| glyphs.iter().all(|g| g.shape < shapes.len());
        let glyphs = Cut::row_parsed(text.get_ref()).filter(known);
        glyphs.ok_or_else(|| (text.span(), "this is no row of a record".to_owned()))
    };
    let rows = told.rows.get_ref().iter().map(row).collect::<Result<Vec<_>, _>>()?;
    let hole = |hole: HoleTold| CutHole {
        at: (hole.x_mm.0, hole.y_mm.0),
        diameter: hole.diameter_mm.0,
        head: hole.head_mm.0,
        travel: hole.slot_across_mm.zip(hole.slot_down_mm).map(|(a, d)| (a.0, d.0)),
    };
    let photo = |told: &PhotoTold| -> Result<CutPhoto, Mistake> {
        Ok(CutPhoto {
            file: told.file_sha256.clone(),
            crop: told.crop_thousandths,
            made: told.made.clone(),
            outline: path(&told.outline)?,
            pocket: told.pocket.as_ref().map(path).transpose()?,
            engraved: paths(&told.engraved)?,
        })
    };
    Ok(Cut {
        raised: told.raised,
        behind: told.from_behind,
        outline: path(&told.outline)?,
        bevel: told.bevel_mm.0,
        border,
        holes: told.holes.into_iter().map(hole).collect(),
        shapes,
        rows,
        decoration: paths(&told.decoration)?,
        photos: told.photo.iter().map(photo).collect::<Result<Vec<_>, _>>()?,
    })
}
