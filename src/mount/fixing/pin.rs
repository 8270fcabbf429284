//! Escutcheon pins.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::units::digits::trimmed;

use super::super::{Behind, WoodRow};
use super::wood_screw::{LEAST_RULE, LEAST_SHANKS};
use super::{Bore, Bored, Counted, Depth, Fixing, Front, length_name};

#[derive(Debug, Deserialize)]
struct Pin {
    heavy_gravity: f64,
    heavy_share: f64,
    light_share: f64,
    heavy_rule: String,
    light_rule: String,
    hardwood_rule: String,
    softwood_rule: String,
    unknown_rule: String,
    no_wood_rule: String,
    clearance_added_mm: f64,
    source: String,
}

static TABLE: LazyLock<Pin> = LazyLock::new(|| {
    toml::from_str(include_str!("pins.toml"))
        .expect("the table is part of the program and a test reads it")
});

pub(super) fn pin(
    shank: f64,
    head: f64,
    length: f64,
    behind: Behind,
    plate_thickness: f64,
) -> Fixing {
    let table = &*TABLE;
    let (share, rule) = match behind {
        Behind::Untold => (table.heavy_share, &table.unknown_rule),
        Behind::NoWood => (table.heavy_share, &table.no_wood_rule),
        Behind::Wood(WoodRow { gravity: Some(gravity), .. }) if *gravity > table.heavy_gravity => {
            (table.heavy_share, &table.heavy_rule)
        }
        Behind::Wood(WoodRow { gravity: Some(_), .. }) => (table.light_share, &table.light_rule),
        Behind::Wood(WoodRow { hardwood: true, .. }) => (table.heavy_share, &table.hardwood_rule),
        Behind::Wood(_) => (table.light_share, &table.softwood_rule),
    };
    Fixing {
        name: format!("{} mm escutcheon pin, {}", trimmed(shank, 2), length_name(length)),
        front: Front::Plain,
        shank,
        root: shank,
        head_diameter: head,
        countersink: None,
        length,
        counted: Counted::FromPlate,
        smooth: 0.0,
        clearance: shank + table.clearance_added_mm,
        off: 0.0,
        least_hold: Some((LEAST_SHANKS * shank, LEAST_RULE)),
        behind: 0.0,
        past_nut: 0.0,
        bores: vec![Bore {
            what: Bored::Pilot,
            diameter: shank * share,
            depth: Depth::ToTip(length - plate_thickness),
            rule: rule.clone(),
        }],
        work: Vec::new(),
        source: table.source.clone(),
    }
}
