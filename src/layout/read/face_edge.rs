//! Outline and size of a face: `shape` of `[face]` and the keys that belong to it.

use serde_json::{Value, json};

use super::value::Entry;
use super::{Notes, Table, Within, polygon};
use crate::layout::schema::{self, Schema};
use crate::layout::{FaceEdge, FaceShape, Named, Slope};
use crate::units::digits::trimmed;

/// Sides of a face, mm: from a medal's stand to an honour board.
const SIDE: Within = Within::new(5.0, 5000.0);
/// How far the top of a leaning face stands back, mm.
const RUN: Within = Within::new(0.0, 5000.0);

/// Words for a face's outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FaceWord {
    Rectangle,
    Trapezium,
    Circle,
    Points,
}

impl Named for FaceWord {
    const ALL: &'static [(&'static str, Self)] = &[
        ("rectangle", Self::Rectangle),
        ("trapezium", Self::Trapezium),
        ("circle", Self::Circle),
        ("points", Self::Points),
    ];
}

use FaceWord::{Circle, Points, Rectangle, Trapezium};

/// The keys of an outline, with the outlines that have them.
const BELONGS: [(&str, &[FaceWord]); 8] = [
    ("size", &[Rectangle]),
    ("width", &[Rectangle]),
    ("top", &[Trapezium]),
    ("foot", &[Trapezium]),
    ("height", &[Trapezium]),
    ("diameter", &[Circle]),
    ("points", &[Points]),
    ("slope", &[Rectangle, Trapezium]),
];

/// What editors and other programs are told of these keys.
pub(super) fn keys() -> Vec<(&'static str, Schema)> {
    let slope = "How a leaning face leans, instead of its height: its true height in its own plane \
                 is worked out, and the sheets lie in that plane.";
    let coordinate = schema::length("A distance.", polygon::POINT);
    let point = schema::list("From the left, from the top.", 2, 2, coordinate);
    let points = "Corners of the face in their order, from the top left corner of their box.";
    vec![
        ("shape", schema::word::<FaceWord>("Its outline.").usual("rectangle")),
        ("size", schema::size("Width x height of an upright face.", SIDE)),
        ("width", schema::length("Width of an upright face that leans.", SIDE)),
        ("top", schema::length("Width of a trapezium at its top.", SIDE)),
        ("foot", schema::length("Width of a trapezium at its foot.", SIDE)),
        ("height", schema::length("Height of a trapezium.", SIDE)),
        ("diameter", schema::length("Diameter of a circle.", SIDE)),
        ("points", schema::list(points, polygon::LEAST_POINTS, polygon::MOST_POINTS, point)),
        (
            "slope",
            schema::table(
                slope,
                [
                    ("rise", schema::length("Plumb height.", SIDE).needed()),
                    ("run", schema::length("How far the top stands back.", RUN).needed()),
                ],
            ),
        ),
    ]
}

/// Which outline has which keys, in JSON Schema's own words.
pub(super) fn conditions() -> Vec<Value> {
    let shaped = |word: FaceWord| {
        let word = word.word();
        json!({ "required": ["shape"], "properties": { "shape": { "const": word } } })
    };
    let strangers = |word: FaceWord| {
        let none: serde_json::Map<String, Value> = BELONGS
            .iter()
            .filter(|(_, words)| !words.contains(&word))
            .map(|(key, _)| ((*key).to_owned(), Value::Bool(false)))
            .collect();
        json!({ "properties": none })
    };
    let marked = json!({ "required": ["place"],
        "properties": { "place": { "required": ["mark"] } } });
    let sized = json!({ "anyOf": [{ "required": ["size"] }, { "required": ["width", "slope"] },
        marked] });
    let high = json!({ "oneOf": [{ "required": ["height"] }, { "required": ["slope"] }] });
    let other = [Trapezium, Circle, Points].map(FaceWord::word);
    let upright = json!({ "not": { "required": ["shape"],
        "properties": { "shape": { "enum": other } } } });
    vec![
        json!({ "if": upright, "then": { "allOf": [sized, strangers(Rectangle)] } }),
        json!({ "if": shaped(Trapezium),
            "then": { "required": ["top", "foot"], "allOf": [high, strangers(Trapezium)] } }),
        json!({ "if": shaped(Circle),
            "then": { "required": ["diameter"], "allOf": [strangers(Circle)] } }),
        json!({ "if": shaped(Points),
            "then": { "required": ["points"], "allOf": [strangers(Points)] } }),
        json!({ "if": { "required": ["size"] },
            "then": { "properties": { "width": false, "slope": false } } }),
        json!({ "dependentRequired": { "width": ["slope"] } }),
    ]
}

/// Asks for the keys in the order in which they are offered.
pub(super) fn asked(table: &mut Table<'_>, notes: &mut Notes<'_>) {
    // Those of the usual face first.
    for key in ["size", "shape"].into_iter().chain(BELONGS.map(|(key, _)| key)) {
        let _ = table.take(notes, key);
    }
}

/// The face's outline. `None` where it is a mistake; nothing where none is told and
/// the plate is set by a mark.
pub(super) fn edge(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    marked: bool,
) -> Option<Option<FaceEdge>> {
    let shape_entry = table.take(notes, "shape");
    let told = shape_entry.is_some();
    let shape = shape_entry.map_or(Some(Rectangle), |entry| notes.word(&entry))?;
    strangers(table, notes, shape, told);
    let slope_entry = table.take(notes, "slope").filter(|_| shape_has(shape, "slope"));
    let slope = slope_entry.as_ref().map(|entry| slope_of(entry, notes));
    let measured = ["size", "width"].iter().any(|key| table.has(key)) || slope.is_some();
    match shape {
        Rectangle if marked && !told && !measured => Some(None),
        Rectangle => rectangle(table, notes, slope).map(Some),
        Trapezium => trapezium(table, notes, slope).map(Some),
        Circle => {
            let diameter = table.need(notes, "diameter", "diameter = \"120 mm\"")?;
            let diameter = notes.length(&diameter, SIDE)?;
            let shape = FaceShape::Circle;
            Some(Some(FaceEdge { width: diameter, height: diameter, shape, slope: None }))
        }
        Points => {
            let entry = table.need(notes, "points", polygon::EXAMPLE)?;
            by_points(&entry, notes).map(Some)
        }
    }
}

fn shape_has(shape: FaceWord, key: &str) -> bool {
    BELONGS.iter().any(|(name, words)| *name == key && words.contains(&shape))
}

/// Tells keys that belong to another outline.
fn strangers(table: &mut Table<'_>, notes: &mut Notes<'_>, shape: FaceWord, told: bool) {
    for (key, words) in BELONGS {
        if words.contains(&shape) {
            continue;
        }
        let Some(entry) = table.take(notes, key) else { continue };
        let whose = words.iter().map(|word| format!("\"{}\"", word.word()));
        let whose: Vec<String> = whose.collect();
        let is = if told { "this face is of another shape" } else { "this face is a rectangle" };
        let message = format!("`{key}` has no meaning here: {is}");
        let help = format!("write shape = {} in [face], or leave it out", whose.join(" or "));
        notes.wrong(&entry.span, message, help);
    }
}

fn slope_of(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<Slope> {
    let mut table = notes.table(entry)?;
    let rise = table.need(notes, "rise", "rise = \"80 mm\", its plumb height");
    let rise = rise.and_then(|entry| notes.length(&entry, SIDE));
    let run = table.need(notes, "run", "run = \"30 mm\", how far its top stands back");
    let run = run.and_then(|entry| notes.length(&entry, RUN));
    table.finish(notes);
    Some(Slope { rise: rise?, run: run? })
}

fn rectangle(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    slope: Option<Option<Slope>>,
) -> Option<FaceEdge> {
    let Some(slope) = slope else {
        if let Some(width) = table.take(notes, "width").filter(|_| !table.has("size")) {
            let message = "`width` alone says nothing of the face's height";
            let help = "write size = \"150 x 110 mm\", or slope = { rise = \"80 mm\", run = \"30 \
                        mm\" } too";
            notes.wrong(&width.span, message, help);
            return None;
        }
        let why = "`size` says it already; `width` is for a face that leans";
        table.contradiction(notes, "size", "width", why);
        let size = table.need(notes, "size", "size = \"150 x 110 mm\"")?;
        let (width, height) = notes.size(&size, SIDE)?;
        return Some(FaceEdge { width, height, shape: FaceShape::Rectangle, slope: None });
    };
    let why = "rise and run give the height of a face that leans: write `width` instead of `size`";
    table.contradiction(notes, "slope", "size", why);
    if table.has("size") {
        return None;
    }
    let width = table.need(notes, "width", "width = \"150 mm\"");
    let width = width.and_then(|entry| notes.length(&entry, SIDE));
    let (width, slope) = (width?, slope?);
    let height = slope.height();
    Some(FaceEdge { width, height, shape: FaceShape::Rectangle, slope: Some(slope) })
}

fn trapezium(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    slope: Option<Option<Slope>>,
) -> Option<FaceEdge> {
    let top = table.need(notes, "top", "top = \"80 mm\", its width at the top");
    let top = top.and_then(|entry| notes.length(&entry, SIDE));
    let foot = table.need(notes, "foot", "foot = \"120 mm\", its width at the foot");
    let foot = foot.and_then(|entry| notes.length(&entry, SIDE));
    let why = "rise and run give the height of a face that leans";
    table.contradiction(notes, "slope", "height", why);
    let height = match slope {
        Some(slope) => slope.map(|slope| (slope.height(), Some(slope))),
        None => table
            .need(notes, "height", "height = \"90 mm\"")
            .and_then(|entry| notes.length(&entry, SIDE))
            .map(|height| (height, None)),
    };
    let (top, foot, (height, slope)) = (top?, foot?, height?);
    let shape = FaceShape::Trapezium { top, foot };
    Some(FaceEdge { width: top.max(foot), height, shape, slope })
}

fn by_points(entry: &Entry<'_>, notes: &mut Notes<'_>) -> Option<FaceEdge> {
    let points = polygon::corners(entry, notes)?;
    let least = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::INFINITY, f64::min);
    let most = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(0.0, f64::max);
    let (left, top) = (least(|p| p.0), least(|p| p.1));
    if left > polygon::SAME || top > polygon::SAME {
        let message = "no corner of the face stands at 0 mm from the left, or none from the top";
        let help = format!(
            "points count from the top left corner of the box round the face: take {} mm off each \
             from the left, {} mm from the top",
            trimmed(left, 3),
            trimmed(top, 3)
        );
        notes.wrong(&entry.span, message, help);
        return None;
    }
    let (width, height) = (most(|p| p.0), most(|p| p.1));
    if !(SIDE.holds(width) && SIDE.holds(height)) {
        let message = format!("the points span {} x {} mm", trimmed(width, 3), trimmed(height, 3));
        notes.wrong(&entry.span, message, SIDE.told(" mm"));
        return None;
    }
    Some(FaceEdge { width, height, shape: FaceShape::Points(points), slope: None })
}
