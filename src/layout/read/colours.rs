//! Colours in `[plate]`: `cap` with `core`, `colour`.

use serde_json::{Value, json};

use super::{Notes, Table};
use crate::layout::schema::{self, Schema};
use crate::layout::{Coating, Colour, Colours, Finish, Material, MaterialKind, Named};

/// What editors and other programs are told of these keys.
pub(super) fn keys() -> Vec<(&'static str, Schema)> {
    let cap = "Colour of a laminate's surface; where both are left out, white over black.";
    let core = "Colour of a laminate beneath its cap, which the letters show.";
    let colour = "Colour of a plastic all through, or of a coat of paint or an anodised one; where \
                  it is left out acrylic is clear, pvc white, paint black, an anodised coat silver.";
    vec![
        ("cap", schema::word::<Colour>(cap)),
        ("core", schema::word::<Colour>(core)),
        ("colour", schema::word::<Colour>(colour)),
    ]
}

/// Which plate has which keys, in JSON Schema's own words.
pub(super) fn conditions() -> Vec<Value> {
    let of = |kind: MaterialKind| json!({ "material": { "enum": Material::words_of(kind) } });
    let laminate = |key: &str| {
        json!({ "if": { "required": [key] },
            "then": { "properties": of(MaterialKind::Laminate) } })
    };
    let coats = Coating::ALL.iter().filter(|(_, coating)| coating.has_colour());
    let coats: Vec<&str> = coats.map(|(word, _)| *word).collect();
    vec![
        laminate("cap"),
        laminate("core"),
        json!({ "dependentRequired": { "cap": ["core"], "core": ["cap"] } }),
        json!({ "if": { "required": ["colour"] }, "then": { "anyOf": [
            { "properties": of(MaterialKind::Plastic) },
            { "required": ["coating"], "properties": { "coating": { "enum": coats } } } ] } }),
    ]
}

/// The plate's colours, by its material and coating; those of an unknown material are its
/// own.
pub(super) fn colours(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    material: Option<Material>,
    coating: Option<Coating>,
) -> Colours {
    let layers = layers(table, notes, material);
    let colour = colour(table, notes, material, coating);
    match (coating, material.map(Material::kind)) {
        (Some(Coating::Paint), _) => Colours::Coat(colour.unwrap_or(Colour::Black)),
        (Some(Coating::Anodised), _) => Colours::Coat(colour.unwrap_or(Colour::Silver)),
        (_, Some(MaterialKind::Laminate)) => {
            let (cap, core) = layers.unwrap_or((Colour::White, Colour::Black));
            Colours::Layers { cap, core }
        }
        (_, Some(MaterialKind::Plastic)) => match colour {
            Some(colour) => Colours::Through(colour),
            None if material == Some(Material::Pvc) => Colours::Through(Colour::White),
            None => Colours::Own,
        },
        _ => Colours::Own,
    }
}

/// The colour of a plastic or of a coat; told where there is neither. A material or coating
/// that is itself a mistake says nothing of it.
fn colour(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    material: Option<Material>,
    coating: Option<Coating>,
) -> Option<Colour> {
    let misread = coating.is_none() && table.has("coating");
    let plastic = material.is_none_or(|material| material.kind() == MaterialKind::Plastic);
    let entry = table.take(notes, "colour")?;
    if !(plastic || misread || coating.is_some_and(Coating::has_colour)) {
        let help = "it is for acrylic and pvc, and for a coating of paint or an anodised one: \
                    write coating = \"paint\", or leave it out";
        notes.wrong(&entry.span, "`colour` has nothing to colour in [plate]", help);
    }
    notes.word(&entry)
}

/// Cap and core of a laminate, of which none goes without the other.
fn layers(
    table: &mut Table<'_>,
    notes: &mut Notes<'_>,
    material: Option<Material>,
) -> Option<(Colour, Colour)> {
    let laminate = material.is_none_or(|material| material.kind() == MaterialKind::Laminate);
    for (key, other) in [("cap", "core"), ("core", "cap")] {
        let Some(entry) = table.take(notes, key) else { continue };
        if !laminate {
            let why = format!("`{key}` is for laminate: leave it out, or change the material");
            table.contradiction(notes, "material", key, &why);
        } else if !table.has(other) {
            let message = format!("`plate.{key}` needs `{other}` beside it");
            notes.wrong(&entry.span, message, format!("write {other} = \"white\", or its colour"));
        }
    }
    let cap = table.word(notes, "cap");
    let core = table.word(notes, "core");
    cap.zip(core)
}

/// The finish of a plate that tells none: what the material mostly comes with. Common
/// practice, no source.
pub(super) fn usual_finish(material: Option<Material>) -> Finish {
    match material.map(Material::kind) {
        Some(MaterialKind::Stone | MaterialKind::Wood) => Finish::Matt,
        _ => Finish::Polished,
    }
}
