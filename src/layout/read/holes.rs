//! `holes` of `[mount]`: where the holes are.

use serde_json::json;
use toml::de::DeValue;

use super::polygon::point;
use super::value::Entry;
use super::{Notes, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{HolesAsked, Named};

/// Where a hole may be asked for, mm; whether it lies on the plate is a check.
const POINT: Within = Within::new(0.0, 2000.0);
/// Most holes of one plate.
const MOST_HOLES: usize = 100;

/// Hole sets that a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Set {
    None,
    FourCorners,
    TwoSides,
    TopAndBottom,
    InTheHandles,
}

impl Named for Set {
    const ALL: &'static [(&'static str, Self)] = &[
        ("none", Self::None),
        ("four corners", Self::FourCorners),
        ("two sides", Self::TwoSides),
        ("top and bottom", Self::TopAndBottom),
        ("in the handles", Self::InTheHandles),
    ];
}

pub(super) fn keys() -> Schema {
    let coordinate = schema::length("From the plate's left, or from its top.", POINT);
    let point = schema::list("From the left, from the top.", 2, 2, coordinate);
    let points = schema::list("A hole at each of these points.", 1, MOST_HOLES, point);
    let example = json!([["8 mm", "8 mm"], ["112 mm", "8 mm"]]);
    schema::one_of(
        "Where the holes are; where it is left out none, but in the handles of an ansate plate \
         that is screwed or pinned.",
        [
            schema::word::<Set>("A set of holes, inset alike from the edges."),
            schema::table("Holes at points.", [("points", points.needed().example(example))]),
        ],
    )
}

pub(super) fn holes(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<HolesAsked> {
    if !matches!(entry.value, DeValue::Table(_)) {
        return notes.word(entry).map(|set| match set {
            Set::None => HolesAsked::None,
            Set::FourCorners => HolesAsked::FourCorners,
            Set::TwoSides => HolesAsked::TwoSides,
            Set::TopAndBottom => HolesAsked::TopAndBottom,
            Set::InTheHandles => HolesAsked::InTheHandles(None),
        });
    }
    let mut table = notes.table(entry)?;
    let example = "points = [[\"8 mm\", \"8 mm\"], [\"112 mm\", \"8 mm\"]]";
    let points = table.need(notes, "points", example);
    table.finish(notes);
    let points = points?;
    let items = notes.list(&points, example)?;
    if items.is_empty() || items.len() > MOST_HOLES {
        let message = format!("{} holes are asked for", items.len());
        notes.wrong(&points.span, message, format!("give 1 to {MOST_HOLES} points"));
        return None;
    }
    let read: Vec<_> = items.iter().map(|item| point(item, notes, POINT)).collect();
    read.into_iter().collect::<Option<Vec<_>>>().map(HolesAsked::Points)
}
