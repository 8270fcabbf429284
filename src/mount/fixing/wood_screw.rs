//! Wood screws by gauge: through the plate, under a cap, or in the foot of a standoff.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{Head, ScrewMetal};
use crate::units::digits::trimmed;

use super::super::{Behind, WoodRow};
use super::{Bore, Bored, Counted, Countersink, Depth, Fixing, Front, INCH, SAME, length_name};

#[derive(Debug, Deserialize)]
struct Tables {
    wood_screw: WoodScrew,
    gauge: Vec<Gauge>,
    pilot: Pilot,
}

#[derive(Debug, Deserialize)]
struct WoodScrew {
    source: String,
    round_source: String,
    clearance_source: String,
    clearance_between: String,
    shank_first_in: f64,
    shank_step_in: f64,
    root_share_of_shank: (f64, f64),
    cone_degrees: f64,
    smooth_share_of_length: (f64, f64),
}

#[derive(Debug, Deserialize)]
struct Gauge {
    number: u8,
    flat_head_in: f64,
    #[cfg(test)]
    flat_head_height_in: f64,
    round_head_in: f64,
    clearance_in: f64,
    clearance_published: bool,
    stocked_in: Option<(f64, f64)>,
}

#[derive(Debug, Deserialize)]
struct Pilot {
    hardwood_share: f64,
    softwood_share: f64,
    hardwood_rule: String,
    softwood_rule: String,
    unknown_rule: String,
    no_wood_rule: String,
    brass_note: String,
    brass_share: f64,
    brass_rule: String,
    density_note: String,
    density_band: (f64, f64),
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    toml::from_str(include_str!("wood_screws.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// Least that a wood screw holds by, in shanks.
pub(super) const LEAST_SHANKS: f64 = 3.0;
/// The habit behind it.
pub(super) const LEAST_RULE: &str = "penetration of at least three shank diameters";

/// What a brass screw in hardwood asks for.
const BRASS_WORK: [&str; 1] =
    ["Brass in hardwood: cut the thread with a steel screw of the same size first, wax the brass \
      one, turn it in by hand."];

/// A wood screw whose head bears on the plate; `None` for a gauge over 10.
pub(super) fn seated(
    gauge: u8,
    head: Head,
    length: f64,
    metal: Option<ScrewMetal>,
    behind: Behind,
    plate_thickness: f64,
) -> Option<Fixing> {
    let table = &TABLES.wood_screw;
    let row = row(gauge)?;
    let shank = shank(gauge);
    let sunk = head != Head::Round;
    let head_diameter = if sunk { row.flat_head_in } else { row.round_head_in } * INCH;
    let countersink = sunk.then(|| Countersink {
        top: head_diameter,
        depth: cone(gauge, row),
        angle: table.cone_degrees,
    });
    let smooth = length * table.smooth_share_of_length.0 / table.smooth_share_of_length.1;
    let reach = length - plate_thickness;
    let (front, named) = match head {
        Head::Flat => (Front::Slotted, "flat-head"),
        Head::Oval => (Front::Oval, "oval-head"),
        Head::Round => (Front::Slotted, "round-head"),
    };
    let heads = if sunk { &table.source } else { &table.round_source };
    let holes =
        if row.clearance_published { &table.clearance_source } else { &table.clearance_between };
    Some(Fixing {
        name: format!("No. {gauge} {named} {}wood screw, {}", of(metal), length_name(length)),
        front,
        shank,
        root: root(shank),
        head_diameter,
        countersink,
        length,
        counted: Counted::FromPlate,
        smooth,
        clearance: row.clearance_in * INCH,
        off: 0.0,
        least_hold: Some((LEAST_SHANKS * shank, LEAST_RULE)),
        behind: 0.0,
        past_nut: 0.0,
        bores: bores(shank, smooth - plate_thickness, reach, metal, behind),
        work: work(metal, behind),
        source: format!("{heads}; {holes}"),
    })
}

/// Puts a cap over a screw's head: it is what shows, and what needs the room.
pub(super) fn covered(screw: &mut Fixing, cap: f64) {
    screw.head_diameter = screw.head_diameter.max(cap);
    screw.front = Front::Plain;
    screw.name = format!("{}, under a {} mm cap", screw.name, trimmed(cap, 2));
    screw.source = format!("cap as the layout states it; {}", screw.source);
}

/// The wood screw that holds the foot of a standoff: only what reaches out of it counts.
pub(super) fn standing(
    gauge: u8,
    length: f64,
    metal: Option<ScrewMetal>,
    behind: Behind,
) -> Option<Fixing> {
    row(gauge)?;
    let shank = shank(gauge);
    let table = &TABLES.wood_screw;
    let smooth = length * table.smooth_share_of_length.0 / table.smooth_share_of_length.1;
    Some(Fixing {
        name: format!("No. {gauge} {}wood screw, {}", of(metal), length_name(length)),
        front: Front::Plain,
        shank,
        root: root(shank),
        head_diameter: 0.0,
        countersink: None,
        length,
        counted: Counted::FromFace,
        smooth,
        clearance: 0.0,
        off: 0.0,
        least_hold: Some((LEAST_SHANKS * shank, LEAST_RULE)),
        behind: 0.0,
        past_nut: 0.0,
        bores: bores(shank, smooth, length, metal, behind),
        work: work(metal, behind),
        source: "ASME B18.6.1: shank D = 0.060 + 0.013 n in".to_owned(),
    })
}

/// The greatest gauge below this one whose countersink fits a plate of this thickness.
#[must_use]
pub fn gauge_of_smaller_cone(gauge: u8, thickness: f64) -> Option<u8> {
    let fits = |row: &&Gauge| row.number < gauge && cone(row.number, row) <= thickness + SAME;
    TABLES.gauge.iter().filter(fits).map(|row| row.number).max()
}

/// The shortest and longest length that a gauge is stocked in, mm; `None` where it is not
/// known. ASME B18.6.1, as reproduced in the open data of the FreeCAD fasteners workbench.
#[must_use]
pub fn stocked_lengths(gauge: u8) -> Option<(f64, f64)> {
    let (shortest, longest) = row(gauge)?.stocked_in?;
    Some((shortest * INCH, longest * INCH))
}

fn row(gauge: u8) -> Option<&'static Gauge> {
    TABLES.gauge.iter().find(|row| row.number == gauge)
}

fn shank(gauge: u8) -> f64 {
    let table = &TABLES.wood_screw;
    (table.shank_first_in + table.shank_step_in * f64::from(gauge)) * INCH
}

fn root(shank: f64) -> f64 {
    let (part, whole) = TABLES.wood_screw.root_share_of_shank;
    shank * part / whole
}

/// Depth of the cone of flat and oval heads: from the sharp corner down to the shank.
fn cone(gauge: u8, row: &Gauge) -> f64 {
    let half_angle = (TABLES.wood_screw.cone_degrees / 2.0).to_radians();
    (row.flat_head_in * INCH - shank(gauge)) / (2.0 * libm::tan(half_angle))
}

fn of(metal: Option<ScrewMetal>) -> &'static str {
    match metal {
        None => "",
        Some(ScrewMetal::Brass) => "brass ",
        Some(ScrewMetal::Steel) => "steel ",
        Some(ScrewMetal::StainlessSteel) => "stainless steel ",
    }
}

fn work(metal: Option<ScrewMetal>, behind: Behind) -> Vec<&'static str> {
    // With no face told the pilot is that of hardwood, and so is the work.
    let hard = match behind {
        Behind::Untold | Behind::Wood(WoodRow { hardwood: true, .. }) => true,
        Behind::NoWood | Behind::Wood(_) => false,
    };
    if metal == Some(ScrewMetal::Brass) && hard { BRASS_WORK.to_vec() } else { Vec::new() }
}

/// Shank bore, where the smooth shank reaches in, and pilot.
fn bores(
    shank: f64,
    smooth_in: f64,
    reach: f64,
    metal: Option<ScrewMetal>,
    behind: Behind,
) -> Vec<Bore> {
    let mut bores = Vec::new();
    if smooth_in > 0.0 {
        let (what, depth, rule) = (Bored::Shank, Depth::AsShank, String::new());
        bores.push(Bore { what, diameter: shank, depth, rule });
    }
    let (diameter, rule) = pilot(root(shank), metal, behind);
    bores.push(Bore { what: Bored::Pilot, diameter, depth: Depth::ToTip(reach), rule });
    bores
}

/// Pilot hole for a thread, and the rule it follows.
fn pilot(root: f64, metal: Option<ScrewMetal>, behind: Behind) -> (f64, String) {
    let table = &TABLES.pilot;
    let wood = match behind {
        Behind::Wood(wood) if !wood.hardwood => {
            return (root * table.softwood_share, table.softwood_rule.clone());
        }
        Behind::NoWood => return (root * table.hardwood_share, table.no_wood_rule.clone()),
        Behind::Wood(wood) => Some(wood),
        Behind::Untold => None,
    };
    if metal == Some(ScrewMetal::Brass) {
        return (root * table.brass_share, table.brass_rule.clone());
    }
    let note = |rule: String| match metal {
        None => format!("{rule}; {}", table.brass_note),
        Some(_) => rule,
    };
    let Some(wood) = wood else {
        return (root * table.hardwood_share, note(table.unknown_rule.clone()));
    };
    let (low, high) = table.density_band;
    let mut rule = table.hardwood_rule.clone();
    if wood.gravity.is_some_and(|gravity| gravity >= low && gravity <= high) {
        rule = format!("{rule} ({})", table.density_note);
    }
    (root * table.hardwood_share, note(rule))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn screw(gauge: u8, head: Head, length: f64) -> Fixing {
        seated(gauge, head, length, None, Behind::Untold, 1.5).unwrap()
    }

    #[test]
    fn the_cone_is_a_little_shallower_than_the_tabled_head() {
        for row in &TABLES.gauge {
            let cone = screw(row.number, Head::Flat, 12.7).countersink.unwrap().depth;
            let tabled = row.flat_head_height_in * INCH;
            assert!(cone <= tabled && cone > 0.93 * tabled, "No. {}: {cone}", row.number);
        }
    }

    #[test]
    fn the_shank_is_bored_for_only_where_it_reaches_the_wood() {
        // A third of 1/2 in is 4.23 mm: 2.73 mm of it behind a plate of 1.5 mm.
        let bored = screw(4, Head::Round, 12.7);
        let bore = bored.bore(Bored::Shank).unwrap();
        assert!((bore.diameter - 0.112 * 25.4).abs() < 1e-12);
        assert_eq!(screw(4, Head::Round, 4.5).bore(Bored::Shank), None);
    }

    #[test]
    fn sizes_that_the_standard_lacks_are_said_to_be_between() {
        assert!(screw(7, Head::Flat, 19.0).source.contains("between the neighbours"));
        assert!(!screw(8, Head::Flat, 19.0).source.contains("between"));
        let at = |gauge| screw(gauge, Head::Flat, 19.0).clearance;
        assert!((at(7) - f64::midpoint(at(6), at(8))).abs() < 1e-9);
        assert!((at(9) - f64::midpoint(at(8), at(10))).abs() < 1e-9);
        assert!(seated(14, Head::Flat, 25.4, None, Behind::Untold, 1.5).is_none());
    }

    #[test]
    fn a_smaller_cone_is_the_next_that_fits() {
        // Cones by (A − D) / (2 tan 41°): No. 2 1.26 mm, No. 3 1.46 mm, No. 4 1.65 mm.
        assert_eq!(gauge_of_smaller_cone(6, 1.5), Some(3));
        assert_eq!(gauge_of_smaller_cone(3, 1.5), Some(2));
        assert_eq!(gauge_of_smaller_cone(6, 0.5), None);
    }
}
