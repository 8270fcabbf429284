//! Fixings and their published figures, from `fixings.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{FixingAsked, Head};
use crate::units::digits::trimmed;
use crate::units::inch::nearest_64th;

use super::WoodRow;

/// An inch, mm.
const INCH: f64 = 25.4;

/// A length this close to a 64th of an inch is called by it, mm.
const SAME_LENGTH: f64 = 0.005;

/// A fixing with every figure that a drill or a check needs; mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixing {
    /// What it is called in the shop: `No. 4 round-head wood screw, 1/2 in`.
    pub name: String,
    /// Head, for wood screws.
    pub head: Option<Head>,
    /// Shank diameter.
    pub shank: f64,
    /// Root diameter of the thread; the shank for pins.
    pub root: f64,
    /// Head diameter; of countersunk heads the sharp corner's, the greatest that
    /// the standard allows, which is also the top of the countersink.
    pub head_diameter: f64,
    /// Depth of a countersunk head's cone below the plate's surface; `None` for others.
    pub cone_depth: Option<f64>,
    /// Countersink angle in degrees, where countersunk.
    pub countersink_angle: Option<f64>,
    /// Nominal length as the trade measures it.
    pub length: f64,
    /// Clearance hole through the plate.
    pub clearance: f64,
    /// Hole in the wood for the smooth shank; `None` where the shank does not reach the wood.
    pub shank_bore: Option<f64>,
    /// Pilot hole in the wood for the thread.
    pub pilot: f64,
    /// Which pilot rule was used, and its source.
    pub pilot_rule: String,
    /// Source of shank and head figures.
    pub source: String,
}

#[derive(Debug, Deserialize)]
struct Tables {
    wood_screw: WoodScrew,
    gauge: Vec<Gauge>,
    pilot: Pilot,
    pin: Pin,
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
}

#[derive(Debug, Deserialize)]
struct Pilot {
    hardwood_share: f64,
    softwood_share: f64,
    hardwood_rule: String,
    softwood_rule: String,
    unknown_rule: String,
    brass_note: String,
    density_note: String,
    density_band: (f64, f64),
}

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
    clearance_added_mm: f64,
    source: String,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    toml::from_str(include_str!("fixings.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// A fixing's figures in a wood, behind a plate of a thickness in mm (it decides
/// whether the smooth shank reaches the wood). Without a wood the pilot is that
/// of hardwood. `None` for tape, which has none, and for a gauge over 10.
#[must_use]
pub fn fixing(asked: &FixingAsked, wood: Option<&WoodRow>, plate_thickness: f64) -> Option<Fixing> {
    match *asked {
        FixingAsked::WoodScrew { gauge, head, length } => {
            wood_screw(gauge, head, length, wood, plate_thickness)
        }
        FixingAsked::Pin { shank, head, length } => Some(pin(shank, head, length, wood)),
        FixingAsked::Tape => None,
    }
}

fn wood_screw(
    gauge: u8,
    head: Head,
    length: f64,
    wood: Option<&WoodRow>,
    plate_thickness: f64,
) -> Option<Fixing> {
    let table = &TABLES.wood_screw;
    let row = TABLES.gauge.iter().find(|row| row.number == gauge)?;
    let shank = (table.shank_first_in + table.shank_step_in * f64::from(gauge)) * INCH;
    let root = shank * table.root_share_of_shank.0 / table.root_share_of_shank.1;
    let sunk = head != Head::Round;
    let head_diameter = if sunk { row.flat_head_in } else { row.round_head_in } * INCH;
    let half_angle = (table.cone_degrees / 2.0).to_radians();
    let cone = (head_diameter - shank) / (2.0 * libm::tan(half_angle));
    let smooth = length * table.smooth_share_of_length.0 / table.smooth_share_of_length.1;
    let (pilot, pilot_rule) = screw_pilot(root, wood);
    let named = match head {
        Head::Flat => "flat-head",
        Head::Oval => "oval-head",
        Head::Round => "round-head",
    };
    let heads = if sunk { &table.source } else { &table.round_source };
    let holes =
        if row.clearance_published { &table.clearance_source } else { &table.clearance_between };
    Some(Fixing {
        name: format!("No. {gauge} {named} wood screw, {}", length_name(length)),
        head: Some(head),
        shank,
        root,
        head_diameter,
        cone_depth: sunk.then_some(cone),
        countersink_angle: sunk.then_some(table.cone_degrees),
        length,
        clearance: row.clearance_in * INCH,
        shank_bore: (smooth - plate_thickness > 0.0).then_some(shank),
        pilot,
        pilot_rule,
        source: format!("{heads}; {holes}"),
    })
}

/// Pilot hole for a thread, and the rule it follows.
fn screw_pilot(root: f64, wood: Option<&WoodRow>) -> (f64, String) {
    let table = &TABLES.pilot;
    let Some(wood) = wood else {
        let rule = format!("{}; {}", table.unknown_rule, table.brass_note);
        return (root * table.hardwood_share, rule);
    };
    if !wood.hardwood {
        return (root * table.softwood_share, table.softwood_rule.clone());
    }
    let (low, high) = table.density_band;
    let mut rule = table.hardwood_rule.clone();
    if wood.gravity.is_some_and(|gravity| gravity >= low && gravity <= high) {
        rule = format!("{rule} ({})", table.density_note);
    }
    (root * table.hardwood_share, format!("{rule}; {}", table.brass_note))
}

fn pin(shank: f64, head: f64, length: f64, wood: Option<&WoodRow>) -> Fixing {
    let table = &TABLES.pin;
    let (share, rule) = match wood {
        None => (table.heavy_share, &table.unknown_rule),
        Some(WoodRow { gravity: Some(gravity), .. }) if *gravity > table.heavy_gravity => {
            (table.heavy_share, &table.heavy_rule)
        }
        Some(WoodRow { gravity: Some(_), .. }) => (table.light_share, &table.light_rule),
        Some(WoodRow { hardwood: true, .. }) => (table.heavy_share, &table.hardwood_rule),
        Some(_) => (table.light_share, &table.softwood_rule),
    };
    Fixing {
        name: format!("{} mm escutcheon pin, {}", trimmed(shank, 2), length_name(length)),
        head: None,
        shank,
        root: shank,
        head_diameter: head,
        cone_depth: None,
        countersink_angle: None,
        length,
        clearance: shank + table.clearance_added_mm,
        shank_bore: None,
        pilot: shank * share,
        pilot_rule: rule.clone(),
        source: table.source.clone(),
    }
}

/// A length by its inch fraction where it is one, else in mm. A whole number of
/// tenths of a millimetre is taken for mm even where a 64th lies near.
fn length_name(length: f64) -> String {
    let fraction = nearest_64th(length);
    let tenth = (length * 10.0 - (length * 10.0).round()).abs() < 1e-6;
    let inch = (length / INCH * 8.0 - (length / INCH * 8.0).round()).abs() < 1e-6;
    if inch || (!tenth && fraction.error_mm.abs() < SAME_LENGTH) {
        fraction.text
    } else {
        format!("{} mm", trimmed(length, 2))
    }
}

impl Fixing {
    /// How far the fixing goes into the wood behind a plate of this thickness, mm;
    /// 0 or below where it does not reach it.
    ///
    /// Round heads and pins are measured under the head and countersunk ones from
    /// the rim, which lies level with the plate, so it is the length less the
    /// plate for all.
    #[must_use]
    pub fn penetration(&self, plate_thickness: f64) -> f64 {
        self.length - plate_thickness
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn screw(gauge: u8, head: Head, length: f64) -> Fixing {
        let asked = FixingAsked::WoodScrew { gauge, head, length };
        fixing(&asked, None, 1.5).unwrap()
    }

    #[test]
    fn the_cone_is_a_little_shallower_than_the_tabled_head() {
        for row in &TABLES.gauge {
            let cone = screw(row.number, Head::Flat, 12.7).cone_depth.unwrap();
            let tabled = row.flat_head_height_in * INCH;
            assert!(cone <= tabled && cone > 0.93 * tabled, "No. {}: {cone}", row.number);
        }
    }

    #[test]
    fn the_shank_is_bored_for_only_where_it_reaches_the_wood() {
        // A third of 1/2 in is 4.23 mm: 2.73 mm of it behind a plate of 1.5 mm.
        let bore = screw(4, Head::Round, 12.7).shank_bore;
        assert!(bore.is_some_and(|bore| (bore - 0.112 * 25.4).abs() < 1e-12));
        assert_eq!(screw(4, Head::Round, 4.5).shank_bore, None);
    }

    #[test]
    fn names_are_those_of_the_shop() {
        assert_eq!(screw(4, Head::Round, 12.7).name, "No. 4 round-head wood screw, 1/2 in");
        assert_eq!(screw(2, Head::Oval, 9.525).name, "No. 2 oval-head wood screw, 3/8 in");
        assert_eq!(screw(6, Head::Flat, 16.0).name, "No. 6 flat-head wood screw, 16 mm");
        let pin = FixingAsked::Pin { shank: 1.2, head: 2.5, length: 12.0 };
        assert_eq!(fixing(&pin, None, 1.0).unwrap().name, "1.2 mm escutcheon pin, 12 mm");
        assert_eq!(fixing(&FixingAsked::Tape, None, 1.0), None);
        let far = FixingAsked::WoodScrew { gauge: 14, head: Head::Flat, length: 25.4 };
        assert_eq!(fixing(&far, None, 1.0), None);
    }

    #[test]
    fn sizes_that_the_standard_lacks_are_said_to_be_between() {
        assert!(screw(7, Head::Flat, 19.0).source.contains("between the neighbours"));
        assert!(!screw(8, Head::Flat, 19.0).source.contains("between"));
        let at = |gauge| screw(gauge, Head::Flat, 19.0).clearance;
        assert!((at(7) - f64::midpoint(at(6), at(8))).abs() < 1e-9);
        assert!((at(9) - f64::midpoint(at(8), at(10))).abs() < 1e-9);
    }
}
