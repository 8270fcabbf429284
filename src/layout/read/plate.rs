//! `[plate]`: the metal.

use serde_json::json;

use super::colours;
use super::from_face::{self, FaceTold};
use super::shape;
use super::value::Entry;
use super::{Notes, Table, Within};
use crate::layout::schema::{self, Schema};
use crate::layout::{
    AtHoles, Border, Coating, Finish, FromFace, Material, Named, Plate, Shape, usual_margin,
};

/// Sides of a plate, mm: below, no line of lettering fits; above, it is a sign and is
/// made and fixed by other rules. Common practice, no source.
pub(super) const SIDE: Within = Within::new(5.0, 2000.0);

/// Thickness of a plate, mm: foil to the heaviest cast tablet. Common practice, no source.
const THICKNESS: Within = Within::new(0.1, 25.0);
/// Thickness where none is said, mm: the common sheet for small plates. Common practice,
/// no source.
const USUAL_THICKNESS: f64 = 1.0;

/// Distances inside the plate, mm; whether they leave room is found by the fit.
const INSIDE: Within = Within::new(0.0, 1000.0);

/// Width of a border line, mm. Common practice, no source.
const WEIGHT: Within = Within::new(0.05, 5.0);
const USUAL_WEIGHT: f64 = 0.3;
/// Middle to middle of two border lines, mm. Common practice, no source.
const USUAL_GAP: f64 = 1.0;

/// Most plates of one proof.
const MOST_PLATES: u32 = 10_000;

/// What editors and other programs are told of it.
pub(super) fn keys() -> Schema {
    let margin = "From the bevel's inner edge to the nearest ink; where it is left out a \
                  twentieth of the short side, at least 3 mm.";
    let finish = "Its surface; where it is left out matt on slate and wood, else polished.";
    let mut keys = shape::keys();
    keys.extend([
        ("thickness", schema::length("Thickness.", THICKNESS).usual_mm(USUAL_THICKNESS)),
        ("material", schema::word::<Material>("What it is made of.").needed()),
        ("finish", schema::word::<Finish>(finish)),
        (
            "coating",
            schema::word::<Coating>(
                "What lies on it, clear lacquer apart; where it is left out it is bare.",
            ),
        ),
        (
            "bevel",
            schema::length("Width of the bevel, less than half the short side.", INSIDE)
                .usual_mm(0.0),
        ),
        ("margin", schema::length(margin, INSIDE)),
        ("border", border_keys()),
        ("quantity", schema::whole("How many are made.", 1, MOST_PLATES).usual(1)),
        ("reveal", from_face::reveal_keys()),
    ]);
    keys.extend(colours::keys());
    let table = schema::table("The metal, or what else it is of.", keys);
    let conditions = shape::conditions().into_iter().chain(colours::conditions());
    conditions.fold(table.also(from_face::conditions()), Schema::also)
}

fn border_keys() -> Schema {
    let gap = "Middle to middle of two lines; where it is left out 1 mm, or twice the weight.";
    schema::table(
        "Lines drawn round the plate.",
        [
            (
                "inset",
                schema::length("From the bevel to the outer line's middle.", INSIDE).needed(),
            ),
            ("lines", schema::whole("One line or two.", 1, 2).usual(1)),
            ("weight", schema::length("Width of a line.", WEIGHT).usual_mm(USUAL_WEIGHT)),
            ("gap", schema::length(gap, INSIDE)),
            (
                "at_holes",
                schema::word::<AtHoles>(
                    "What it does where a hole is in its way; where it is left out stop short, on \
                     an ansate plate holes outside.",
                ),
            ),
        ],
    )
    .also(json!({ "if": { "required": ["gap"] },
        "then": { "required": ["lines"], "properties": { "lines": { "const": 2 } } } }))
}

/// The plate; `face` is the one it goes on, where one is told and could be read.
pub(super) fn plate(
    mut table: Table<'_>,
    notes: &mut Notes<'_>,
    face: FaceTold<'_>,
) -> Option<Plate> {
    shape::asked(&mut table, notes);
    let from_face = from_face::from_face(&mut table, notes, face);
    let room = from_face.map(|asked| asked.map(|(sides, _)| sides));
    let (size, shape) = shape::shape(&mut table, notes, room);
    let sides = size.map(|(sides, _)| sides);
    let thickness = table.length(notes, "thickness", THICKNESS).unwrap_or(USUAL_THICKNESS);
    let material = table
        .need(notes, "material", "material = \"brass\", or what else the plate is of")
        .and_then(|entry| notes.word(&entry));
    let finish = table.word(notes, "finish").unwrap_or_else(|| colours::usual_finish(material));
    let coating = table.take(notes, "coating");
    let coating = coating.and_then(|entry| coated(&entry, notes, material));
    let colours = colours::colours(&mut table, notes, material, coating);
    let bevel = table.take(notes, "bevel");
    let bevel = bevel.and_then(|entry| bevel_width(&entry, notes, sides)).unwrap_or(0.0);
    let margin = table.length(notes, "margin", INSIDE);
    // The handles of an ansate plate are for the fixings: its border is round the tablet.
    let usual = match shape {
        Some(Shape::Ansate(_)) => AtHoles::HolesOutside,
        _ => AtHoles::StopShort,
    };
    let border = table.table(notes, "border").and_then(|table| border(table, notes, usual));
    let quantity = table.whole(notes, "quantity", 1, MOST_PLATES).unwrap_or(1);
    table.finish(notes);

    let (width, height) = sides?;
    let from_face = from_face
        .flatten()
        .map(|(_, from_face)| FromFace { usual_margin: margin.is_none(), ..from_face });
    let margin = margin.unwrap_or_else(|| usual_margin(width.min(height)));
    let (shape, material) = (shape?, material?);
    Some(Plate {
        width,
        height,
        shape,
        thickness,
        material,
        colours,
        finish,
        coating,
        bevel,
        margin,
        border,
        quantity,
        from_face,
    })
}

/// The bevel must leave some land between its inner edges.
fn bevel_width(entry: &Entry<'_>, notes: &mut Notes<'_>, sides: Option<(f64, f64)>) -> Option<f64> {
    let bevel = notes.length(entry, INSIDE)?;
    if let Some((width, height)) = sides
        && 2.0 * bevel >= width.min(height)
    {
        let message = "the bevel takes the whole plate";
        notes.wrong(&entry.span, message, "it must be less than half of the short side");
        return None;
    }
    Some(bevel)
}

fn border(mut table: Table<'_>, notes: &mut Notes<'_>, usual: AtHoles) -> Option<Border> {
    let inset = table.need(notes, "inset", "inset = \"3 mm\", from the edge to its middle");
    let inset = inset.and_then(|entry| Some((notes.length(&entry, INSIDE)?, entry)));
    let lines = table.take(notes, "lines");
    let lines = lines.map_or(Some(1), |entry| notes.whole(&entry, 1, 2));
    let weight = table.length(notes, "weight", WEIGHT).unwrap_or(USUAL_WEIGHT);
    let gap = table.take(notes, "gap");
    let gap_given = gap.and_then(|entry| Some((notes.length(&entry, INSIDE)?, entry)));
    let at_holes = table.word(notes, "at_holes").unwrap_or(usual);
    table.finish(notes);

    let mut gap = USUAL_GAP.max(2.0 * weight);
    if let Some((given, entry)) = gap_given {
        if lines == Some(1) {
            let message = "a border of one line has no `gap`";
            notes.wrong(&entry.span, message, "write lines = 2, or leave `gap` out");
        } else if given <= weight {
            let message = "the two border lines touch: `gap` runs from middle to middle";
            notes.wrong(&entry.span, message, "make it greater than the weight of a line");
        }
        gap = given;
    }
    let (inset, entry) = inset?;
    if inset < weight / 2.0 {
        let message = "the border line stands over the edge: `inset` runs to its middle";
        notes.wrong(&entry.span, message, "make it at least half the weight of the line");
    }
    let lines = if lines? == 2 { 2 } else { 1 };
    Some(Border { inset, lines, weight, gap, at_holes })
}

/// The coating of a plate of this material.
fn coated(entry: &Entry<'_>, notes: &mut Notes<'_>, material: Option<Material>) -> Option<Coating> {
    let coating: Coating = notes.word(entry)?;
    if let Some(why) = material.and_then(|material| coating.no_use_on(material)) {
        let told = material.map_or("", Named::word);
        let message = format!("{told} is not coated with `{}`", coating.word());
        notes.wrong(&entry.span, message, why);
    }
    Some(coating)
}

#[cfg(test)]
mod tests {
    use crate::layout::usual_margin;

    #[test]
    fn the_usual_margin_is_a_twentieth_rounded_up_to_half_a_millimetre() {
        for (short, margin) in
            [(20.0, 3.0), (60.0, 3.0), (80.0, 4.0), (81.0, 4.5), (140.0, 7.0), (76.2, 4.0)]
        {
            assert!((usual_margin(short) - margin).abs() < 1e-12, "{short}");
        }
    }
}
