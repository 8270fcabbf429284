//! `holes` of `[mount]`: where the holes are.

use serde_json::json;
use toml::de::DeValue;

use super::polygon::point;
use super::value::Entry;
use super::{Notes, Table, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{Edges, FirstHole, HolesAsked, Named, Shape};

/// Where a hole may be asked for, mm; whether it lies on the plate is a check.
const POINT: Within = Within::new(0.0, 2000.0);
/// Circles that holes may stand on, mm.
const CIRCLE: Within = Within::new(1.0, 2000.0);
/// Most holes of one plate.
const MOST_HOLES: usize = 100;
/// Holes along an edge or on a circle.
const LEAST_COUNT: u32 = 2;
const MOST_COUNT: u32 = 24;

/// For plates whose corners and sides are where their points are.
pub(super) const POINTS_EXAMPLE: &str = "holes = { points = [[\"8 mm\", \"8 mm\"]] }";
const POINTS: &str = "points = [[\"8 mm\", \"8 mm\"], [\"112 mm\", \"8 mm\"]]";
const ALONG_EXAMPLE: &str = "{ along = \"top and bottom\", count = 3 }";
const CIRCLE_EXAMPLE: &str = "{ circle = \"60 mm\", count = 4 }";

/// Hole sets that a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Set {
    None,
    Auto,
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
        ("auto", Self::Auto),
    ];
}

pub(super) fn keys() -> Schema {
    let coordinate = schema::length("From the plate's left, or from its top.", POINT);
    let point = schema::list("From the left, from the top.", 2, 2, coordinate);
    let points = schema::list("A hole at each of these points.", 1, MOST_HOLES, point);
    let example = json!([["8 mm", "8 mm"], ["112 mm", "8 mm"]]);
    let count = |about| schema::whole(about, LEAST_COUNT, MOST_COUNT).needed();
    let along = [
        ("along", schema::word::<Edges>("The edge or the two edges.").needed()),
        ("count", count("How many along each edge.")),
    ];
    let circle = [
        ("circle", schema::length("Diameter of the circle through them.", CIRCLE).needed()),
        ("count", count("How many on the circle.")),
        (
            "first",
            schema::word::<FirstHole>("Where the first stands.").usual(FirstHole::AtTheTop.word()),
        ),
    ];
    schema::one_of(
        "Where the holes are; auto chooses by the plate's shape, size, thickness and weight. \
         Where it is left out none, but in the handles of an ansate plate that is screwed or \
         pinned.",
        [
            schema::word::<Set>("A set of holes, inset alike from the edges."),
            schema::table("Holes at points.", [("points", points.needed().example(example))]),
            schema::table("Holes spread evenly along one edge or two.", along),
            schema::table("Holes on a circle about the middle of the plate.", circle),
        ],
    )
}

pub(super) fn holes(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<HolesAsked> {
    if !matches!(entry.value, DeValue::Table(_)) {
        return notes.word(entry).map(|set| match set {
            Set::None => HolesAsked::None,
            Set::Auto => HolesAsked::Auto(None),
            Set::FourCorners => HolesAsked::FourCorners,
            Set::TwoSides => HolesAsked::TwoSides,
            Set::TopAndBottom => HolesAsked::TopAndBottom,
            Set::InTheHandles => HolesAsked::InTheHandles(None),
        });
    }
    let mut table = notes.table(entry)?;
    let read = if table.has("along") {
        along(&mut table, notes)
    } else if table.has("circle") {
        circle(&mut table, notes)
    } else {
        points(&mut table, notes)
    };
    table.finish(notes);
    read
}

fn along(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<HolesAsked> {
    let edges = table.word::<Edges>(notes, "along");
    let count = counted(table, notes, ALONG_EXAMPLE);
    Some(HolesAsked::Along { edges: edges?, count: count? })
}

fn circle(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<HolesAsked> {
    let diameter = table.length(notes, "circle", CIRCLE);
    let count = counted(table, notes, CIRCLE_EXAMPLE);
    let first = match table.take(notes, "first") {
        Some(entry) => notes.word(&entry),
        None => Some(FirstHole::AtTheTop),
    };
    Some(HolesAsked::Circle { diameter: diameter?, count: count?, first: first? })
}

fn counted(table: &mut Table<'_>, notes: &mut Notes<'_>, example: &str) -> Option<u32> {
    let entry = table.need(notes, "count", &format!("how many: holes = {example}"))?;
    notes.whole(&entry, LEAST_COUNT, MOST_COUNT)
}

fn points(table: &mut Table<'_>, notes: &mut Notes<'_>) -> Option<HolesAsked> {
    let example = format!("{POINTS}, or holes = {ALONG_EXAMPLE}, or holes = {CIRCLE_EXAMPLE}");
    let points = table.need(notes, "points", &example)?;
    let items = notes.list(&points, POINTS)?;
    if items.is_empty() || items.len() > MOST_HOLES {
        let message = format!("{} holes are asked for", items.len());
        notes.wrong(&points.span, message, format!("give 1 to {MOST_HOLES} points"));
        return None;
    }
    let read: Vec<_> = items.iter().map(|item| point(item, notes, POINT)).collect();
    read.into_iter().collect::<Option<Vec<_>>>().map(HolesAsked::Points)
}

/// Tells a set of holes that the plate's shape has no place for.
pub(super) fn suited(holes: &HolesAsked, shape: &Shape, at: &Entry<'_>, notes: &mut Notes<'_>) {
    let (message, help) = match (holes, shape) {
        (HolesAsked::None | HolesAsked::Points(_), _) => return,
        (_, Shape::Points(_)) => (
            "a plate by points has its holes by points too".to_owned(),
            format!("write {POINTS_EXAMPLE}"),
        ),
        (HolesAsked::InTheHandles(_), Shape::Ansate(_)) => return,
        (HolesAsked::InTheHandles(_), _) => (
            "only an ansate plate has handles".to_owned(),
            "write shape = \"ansate\" in [plate], or name other holes".to_owned(),
        ),
        (HolesAsked::Along { .. }, Shape::Oval | Shape::Circle) => (
            format!("{} has no straight edge to set holes along", a(shape)),
            format!("write holes = {CIRCLE_EXAMPLE}, or \"four corners\""),
        ),
        (HolesAsked::Along { edges: Edges::Top | Edges::TopAndBottom, .. }, Shape::Arch { .. }) => {
            (
                "the head of an arch is no straight edge to set holes along".to_owned(),
                "name \"bottom\", \"left\", \"right\" or \"left and right\"".to_owned(),
            )
        }
        _ => return,
    };
    notes.wrong(&at.span, message, help);
}

/// A round shape with its article.
fn a(shape: &Shape) -> &'static str {
    if matches!(shape, Shape::Oval) { "an oval" } else { "a circle" }
}
