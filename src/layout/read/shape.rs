//! The plate's outline: `shape` and the keys that belong to one shape only.

use serde_json::{Value, json};

use super::plate::SIDE;
use super::value::Entry;
use super::{Notes, Table, Within, from_face, polygon};
use crate::layout::schema::{self, Schema};
use crate::layout::{HandleLettering, Handles, Named, Shape};
use crate::units::digits::trimmed;

/// Radius of a corner or a notch, and least measures of a head or a handle, mm: less
/// is not seen. Common practice, no source.
const LEAST: f64 = 0.1;
const LEAST_HANDLE: f64 = 1.0;
/// Greatest notch in short sides: some edge is to be left between two.
const MOST_NOTCH: f64 = 0.45;
/// Greatest handle in plate widths: a tablet is to be left between two.
const MOST_HANDLE: f64 = 0.4;
/// Flattest head, in plate widths: flatter, it looks like a slip of the saw.
const FLATTEST_HEAD: f64 = 0.02;

/// Words for a shape; its measures are keys of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outline {
    Rectangle,
    Rounded,
    Notched,
    Oval,
    Circle,
    Arch,
    Ansate,
    Points,
}

impl Named for Outline {
    const ALL: &'static [(&'static str, Self)] = &[
        ("rectangle", Self::Rectangle),
        ("rounded", Self::Rounded),
        ("notched", Self::Notched),
        ("oval", Self::Oval),
        ("circle", Self::Circle),
        ("arch", Self::Arch),
        ("ansate", Self::Ansate),
        ("points", Self::Points),
    ];
}

/// A key of some shapes only: its name, those shapes, what it is for, what to write.
type Belongs = (&'static str, &'static [Outline], &'static str, &'static str);

const BELONGS: [Belongs; 4] = [
    (
        "corner",
        &[Outline::Rounded, Outline::Notched],
        "rounded and notched plates",
        "shape = \"rounded\" or \"notched\"",
    ),
    ("rise", &[Outline::Arch], "arched plates", "shape = \"arch\""),
    ("handles", &[Outline::Ansate], "ansate plates", "shape = \"ansate\""),
    ("points", &[Outline::Points], "plates by points", "shape = \"points\""),
];

/// What editors and other programs are told of these keys.
pub(super) fn keys() -> Vec<(&'static str, Schema)> {
    let corner = "Radius of the corners of a rounded plate, or of the quarter circles that are \
                  cut out of those of a notched one.";
    let rise = "Height of an arch's round head; where it is left out half the width.";
    let coordinate = |about: &str| schema::length(about, polygon::POINT);
    let point = schema::list("From the left, from the top.", 2, 2, coordinate("A distance."));
    let points = "Corners of the plate in their order, from the top left corner of their box.";
    vec![
        ("size", from_face::size_keys()),
        ("shape", schema::word::<Outline>("The outline.").usual("rectangle")),
        ("corner", schema::length(corner, Within::new(LEAST, SIDE.most / 2.0))),
        ("rise", schema::length(rise, Within::new(LEAST, SIDE.most / 2.0))),
        ("handles", handle_keys()),
        ("points", schema::list(points, polygon::LEAST_POINTS, polygon::MOST_POINTS, point)),
    ]
}

fn handle_keys() -> Schema {
    let wide = Within::new(LEAST_HANDLE, MOST_HANDLE * SIDE.most);
    let high = Within::new(LEAST_HANDLE, SIDE.most);
    let width = "How far each stands out; where it is left out a quarter of the plate's height, \
                 at most a sixth of its width.";
    let root = "Height where it joins the tablet; where it is left out 0.3 of the plate's.";
    let tip = "Height at its outer end; where it is left out 0.6 of the plate's.";
    schema::table(
        "The two dovetails of an ansate plate.",
        [
            ("width", schema::length(width, wide)),
            ("root", schema::length(root, high)),
            ("tip", schema::length(tip, high)),
            (
                "lettering",
                schema::word::<HandleLettering>("How far lettering reaches.")
                    .usual(HandleLettering::Between.word()),
            ),
        ],
    )
}

/// Which shape has which keys, in JSON Schema's own words.
pub(super) fn conditions() -> Vec<Value> {
    let shaped = |shapes: &[Outline]| {
        let words: Vec<&str> = shapes.iter().map(|shape| shape.word()).collect();
        json!({ "required": ["shape"], "properties": { "shape": { "enum": words } } })
    };
    let mut all: Vec<Value> = BELONGS
        .iter()
        .map(|(key, shapes, ..)| {
            let none = json!({ "properties": { *key: false } });
            json!({ "if": shaped(shapes), "else": none })
        })
        .collect();
    all.push(json!({ "if": shaped(&[Outline::Rounded, Outline::Notched]),
        "then": { "required": ["corner"] } }));
    all.push(json!({ "if": shaped(&[Outline::Points]),
        "then": { "required": ["points"] }, "else": { "required": ["size"] } }));
    all
}

/// Width and height with the key that told them, where one did.
pub(super) type Sides<'t> = ((f64, f64), Option<Entry<'t>>);

/// Asks for the first keys in the order in which they are written; who needs them asks
/// again.
pub(super) fn asked(table: &mut Table<'_>, notes: &mut Notes<'_>) {
    for key in ["size", "shape"].into_iter().chain(BELONGS.map(|(key, ..)| key)) {
        let _ = table.take(notes, key);
    }
}

/// The plate's size and shape. `room` where the size is to come from the face: the sides
/// of the room there, if they could be read.
pub(super) fn shape<'t>(
    table: &mut Table<'t>,
    notes: &mut Notes<'_>,
    room: Option<Option<(f64, f64)>>,
) -> (Option<Sides<'t>>, Option<Shape>) {
    let entry = table.take(notes, "shape");
    let told = entry.is_some();
    let outline = entry.map_or(Some(Outline::Rectangle), |entry| notes.word(&entry));
    strangers(table, notes, outline, told);
    if outline == Some(Outline::Points) {
        return by_points(table, notes, room.is_some());
    }
    let size = if let Some(room) = room {
        let round = outline == Some(Outline::Circle);
        let side = |(width, height): (f64, f64)| f64::min(width, height);
        room.map(|room| (if round { (side(room), side(room)) } else { room }, None))
    } else {
        let size = table.need(notes, "size", "size = \"120 x 80 mm\"");
        size.and_then(|entry| Some((notes.size(&entry, SIDE)?, Some(entry))))
    };
    // Without a size the measures are still read, within the widest bounds.
    let sides = size.as_ref().map_or((SIDE.most, SIDE.most), |size| size.0);
    let short = sides.0.min(sides.1);
    let corner = |table: &mut Table<'t>, notes: &mut Notes<'_>, example: &str, most: f64| {
        let corner = table.need(notes, "corner", example)?;
        notes.length(&corner, Within::new(LEAST, most))
    };
    let shape = match outline {
        None | Some(Outline::Points) => None,
        Some(Outline::Rectangle) => Some(Shape::Rectangle),
        Some(Outline::Rounded) => {
            corner(table, notes, "corner = \"5 mm\", the radius of its corners", short / 2.0)
                .map(|corner| Shape::Rounded { corner })
        }
        Some(Outline::Notched) => {
            let example = "corner = \"5 mm\", the radius of its notches";
            corner(table, notes, example, MOST_NOTCH * short)
                .map(|corner| Shape::Notched { corner })
        }
        Some(Outline::Oval) => Some(Shape::Oval),
        Some(Outline::Circle) => {
            if let Some(((width, height), Some(entry))) = &size
                && (width - height).abs() > 1e-9
            {
                let message = "a circle is as wide as it is high, and this size is not";
                notes.wrong(&entry.span, message, "make both alike, or write shape = \"oval\"");
            }
            Some(Shape::Circle)
        }
        Some(Outline::Arch) => arch(table, notes, size.as_ref()),
        Some(Outline::Ansate) => {
            let handles = table.table(notes, "handles");
            let named = table.has("handles");
            match handles {
                Some(table) => handles_of(table, notes, sides).map(Shape::Ansate),
                None if named => None,
                None => Some(Shape::Ansate(Handles {
                    width: None,
                    root: None,
                    tip: None,
                    lettering: HandleLettering::Between,
                })),
            }
        }
    };
    (size, shape)
}

/// Tells keys that belong to another shape than the one asked for.
fn strangers(table: &mut Table<'_>, notes: &mut Notes<'_>, outline: Option<Outline>, told: bool) {
    for (key, shapes, plates, write) in BELONGS {
        // A shape that is itself a mistake says nothing of its keys.
        if outline.is_none_or(|outline| shapes.contains(&outline)) {
            if outline.is_none() {
                let _ = table.take(notes, key);
            }
            continue;
        }
        if told {
            let why = format!("`{key}` is for {plates}: write {write}, or leave it out");
            table.contradiction(notes, "shape", key, &why);
            // Asked, so that it is not called unknown as well.
            let _ = table.take(notes, key);
        } else if let Some(entry) = table.take(notes, key) {
            let message = format!("`{key}` is for {plates}, and none is asked for");
            notes.wrong(&entry.span, message, format!("write {write}, or leave `{key}` out"));
        }
    }
}

fn arch(table: &mut Table<'_>, notes: &mut Notes<'_>, size: Option<&Sides<'_>>) -> Option<Shape> {
    let rise = table.take(notes, "rise");
    let Some(((width, height), entry)) = size else {
        rise.map(|entry| notes.length(&entry, Within::new(LEAST, SIDE.most)));
        return None;
    };
    let most = (width / 2.0).min(*height);
    if let Some(rise) = rise {
        let least = (FLATTEST_HEAD * width).max(LEAST);
        let rise = notes.length(&rise, Within::new(least.min(most), most))?;
        return Some(Shape::Arch { rise: Some(rise) });
    }
    if width / 2.0 > *height + 1e-9
        && let Some(entry) = entry
    {
        {
            let message = "a half circle over this width is higher than the plate";
            let help = "make the plate higher, or write rise = \"15 mm\", the height of its head";
            notes.wrong(&entry.span, message, help);
        }
        return None;
    }
    Some(Shape::Arch { rise: None })
}

fn handles_of(
    mut table: Table<'_>,
    notes: &mut Notes<'_>,
    (width, height): (f64, f64),
) -> Option<Handles> {
    let wide = Within::new(LEAST_HANDLE, MOST_HANDLE * width);
    let high = Within::new(LEAST_HANDLE, height);
    let mut given = |notes: &mut Notes<'_>, key, within| match table.take(notes, key) {
        Some(entry) => notes.length(&entry, within).map(|length| Some((length, entry))),
        None => Some(None),
    };
    let (width, root, tip) =
        (given(notes, "width", wide), given(notes, "root", high), given(notes, "tip", high));
    let lettering = table.word(notes, "lettering").unwrap_or(HandleLettering::Between);
    table.finish(notes);
    let (width, root, tip) = (width?, root?, tip?);
    if let (Some((root, entry)), Some((tip, _))) = (&root, &tip)
        && root > tip
    {
        let message = "the handles are higher at the root than at the tip: that is no dovetail";
        notes.wrong(&entry.span, message, "make `root` at most as high as `tip`");
    }
    let length = |given: Option<(f64, Entry<'_>)>| given.map(|(length, _)| length);
    Some(Handles { width: length(width), root: length(root), tip: length(tip), lettering })
}

/// A polygon gives the size too; a size that is told must agree with it.
fn by_points<'t>(
    table: &mut Table<'t>,
    notes: &mut Notes<'_>,
    from_face: bool,
) -> (Option<Sides<'t>>, Option<Shape>) {
    let size = table.take(notes, "size");
    if let (true, Some(entry)) = (from_face, &size) {
        let message = "a plate by points has its size from its points";
        notes.wrong(&entry.span, message, "leave `size` out, or take another shape");
        return (None, None);
    }
    let size = size.and_then(|entry| Some((notes.size(&entry, SIDE)?, entry)));
    let entry = table.need(notes, "points", polygon::EXAMPLE);
    let Some((entry, points)) = entry.and_then(|entry| {
        let points = polygon::corners(&entry, notes)?;
        Some((entry, points))
    }) else {
        return (None, None);
    };
    let least = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::INFINITY, f64::min);
    let most = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(0.0, f64::max);
    let (left, top) = (least(|p| p.0), least(|p| p.1));
    let (width, height) = (most(|p| p.0), most(|p| p.1));
    if left > polygon::SAME || top > polygon::SAME {
        let (far, way) =
            if left > polygon::SAME { (left, "from the left") } else { (top, "from the top") };
        let message = format!("no point stands at 0 mm {way}: the nearest is at {}", mm(far));
        let help = format!(
            "points count from the top left corner of the box round the plate: take {} off each",
            mm(far)
        );
        notes.wrong(&entry.span, message, help);
        return (None, None);
    }
    if let Some(((told_width, told_height), told)) = &size {
        if (told_width - width).abs() > polygon::SAME
            || (told_height - height).abs() > polygon::SAME
        {
            let message = format!(
                "the points span {} x {}, and `size` says otherwise",
                mm(width),
                mm(height)
            );
            notes.wrong(&told.span, message, "leave `size` out: the points give it");
            return (None, None);
        }
    } else if !(SIDE.holds(width) && SIDE.holds(height)) {
        let message = format!("the points span {} x {}", mm(width), mm(height));
        let help = format!("a side may be {} to {}", mm(SIDE.least), mm(SIDE.most));
        notes.wrong(&entry.span, message, help);
        return (None, None);
    }
    let size = size.map(|(_, entry)| entry);
    (Some(((width, height), size)), Some(Shape::Points(points)))
}

fn mm(length: f64) -> String {
    format!("{} mm", trimmed(length, 3))
}
