//! `ansata lettering`: what is shipped, and under which licence.

use serde_json::json;

use crate::layout::LetteringChoice;
use crate::lettering::{Catalogue, Entry, Face, catalogue, nearest_entry};
use crate::units::digits::fixed;

use super::{Failure, Outcome, say};

pub(super) fn lettering(name: Option<&str>, licence: bool, json: bool) -> Result<Outcome, Failure> {
    let catalogue = catalogue();
    let entries: Vec<&Entry> = match name {
        None => catalogue.entries.iter().collect(),
        Some(name) => vec![named(catalogue, name)?],
    };
    if licence {
        for family in entries.iter().filter_map(|entry| catalogue.families.get(entry.family)) {
            say::out(family.licence_text);
        }
    } else if json {
        let list: Vec<_> = entries.iter().map(|entry| described(catalogue, entry)).collect();
        let text = serde_json::to_string_pretty(&list).unwrap_or_default();
        say::out(&format!("{text}\n"));
    } else {
        say::out(&table(catalogue, &entries));
    }
    Ok(Outcome::Clear)
}

fn named<'a>(catalogue: &'a Catalogue, name: &str) -> Result<&'a Entry, Failure> {
    catalogue.entries.iter().find(|entry| entry.name == name).ok_or_else(|| {
        let hint = nearest_entry(name)
            .map_or_else(String::new, |entry| format!("; did you mean `{}`?", entry.name));
        Failure::Input(format!("error: no shipped lettering is called `{name}`{hint}"))
    })
}

fn described(catalogue: &Catalogue, entry: &Entry) -> serde_json::Value {
    let family = catalogue.families.get(entry.family);
    let face = Face::open(&LetteringChoice::Shipped(entry.name.clone())).ok();
    json!({
        "name": entry.name,
        "family": family.map(|f| &f.name),
        "licence": family.map(|f| &f.spdx),
        "copyright": family.map(|f| &f.copyright),
        "look": family.map(|f| &f.look),
        "scripts": family.map(|f| &f.scripts),
        "file": entry.file,
        "axes": entry.axes.iter().map(|(tag, value)| json!({ "tag": tag, "value": value })).collect::<Vec<_>>(),
        "x_height_share": face.and_then(|face| face.x_units.map(|x| x / face.cap_units)),
    })
}

fn table(catalogue: &Catalogue, entries: &[&Entry]) -> String {
    let widest = entries.iter().map(|entry| entry.name.len()).max().unwrap_or(0);
    let mut text = format!("{:widest$}  x/cap  scripts         licence          look\n", "name");
    for entry in entries {
        let Some(family) = catalogue.families.get(entry.family) else { continue };
        let face = Face::open(&LetteringChoice::Shipped(entry.name.clone())).ok();
        let x = face
            .and_then(|face| face.x_units.map(|x| fixed(x / face.cap_units, 2)))
            .unwrap_or_else(|| "-".to_owned());
        text.push_str(&format!(
            "{:widest$}  {x:<5}  {:<14}  {:<15}  {}\n",
            entry.name,
            family.scripts.join(" "),
            family.spdx,
            family.look.join(", ")
        ));
    }
    text
}
