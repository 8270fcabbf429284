//! The plate's specification.

use crate::floors;
use crate::job::Job;
use crate::layout::{AtHoles, Border, Cut, Fill, FixingAsked, HolesAsked, Named, Side};
use crate::plate::{grams, growth};
use crate::units::digits::trimmed;

use super::super::edge::told;
use super::super::heading::{READ, section};
use super::super::page::Flow;
use super::super::pattern::plate_size;
use super::super::table::{Cell, Para, Table, columns, width_of};
use super::super::text::Labels;
use super::super::words::{self, mm};

pub(super) fn put(flow: &mut Flow, labels: &Labels, job: &Job) {
    let facts = specification(job);
    let half = facts.len().div_ceil(2);
    let cell = |fact: Option<&(&str, String)>| -> [Cell; 2] {
        fact.map_or_else(
            || [Vec::new(), Vec::new()],
            |(name, value)| {
                [
                    vec![Para::new(*name, READ.caption())],
                    vec![Para::new(value.clone(), READ.figures())],
                ]
            },
        )
    };
    let rows: Vec<Vec<Cell>> = (0..half)
        .map(|index| [cell(facts.get(index)), cell(facts.get(index + half))].concat())
        .collect();
    let name = width_of(labels, facts.iter().map(|fact| (fact.0, READ.caption())));
    let mut columns = columns(flow.width(), &[Some(name), None, Some(name), None]);
    columns.iter_mut().step_by(2).for_each(|column| column.names = true);
    let table = Table { columns, head: Vec::new(), rows, ruled: true };
    section(flow, labels, READ, "Plate", table.kept_height(labels));
    table.put(flow, labels);
}

/// Name and value of everything that the plate is.
fn specification(job: &Job) -> Vec<(&'static str, String)> {
    let plate = &job.layout.plate;
    let engraving = &job.layout.engraving;
    let both = |value: f64| words::both(job.layout.inches, value);
    let letters = match engraving.cut {
        Cut::Incised => "letters cut in",
        Cut::Raised => "letters left standing, ground removed",
    };
    let mut facts = vec![
        ("Material", plate.made_of()),
        ("Width \u{d7} height", plate_size(job, words::inches)),
        ("Outline", told(plate, both)),
        ("Thickness", both(plate.thickness)),
        ("Bevel", if plate.bevel > 0.0 { both(plate.bevel) } else { "none".to_owned() }),
        ("Border", plate.border.map_or_else(|| "none".to_owned(), |it| border(it, both))),
        ("Quantity", plate.quantity.to_string()),
        ("Process", format!("{}, {letters}", engraving.process.word())),
        (
            "Paint in the letters",
            match engraving.fill {
                Fill::None => "none".to_owned(),
                fill => fill.word().to_owned(),
            },
        ),
        ("Margin", both(plate.margin)),
        ("Read from", both(engraving.reading.distance)),
        ("Fixing", fixing(job)),
        ("Holes", holes(job)),
        ("Weight of one", format!("about {} g ({})", weight(job), words::WEIGHT)),
        ("Grows with warmth", warmth(job)),
    ];
    if engraving.from == Side::Behind {
        facts.push((
            "Engraved",
            "from behind, read through the plate; shown from the front".to_owned(),
        ));
    }
    if let Some((cutter, needs)) = job.layout.cutter().zip(floors::needs(&job.layout)) {
        let whose = if engraving.cutter.is_none() { ", the finest of the shop" } else { "" };
        facts.push(("Cutter", format!("{}{whose}", cutter.told())));
        let land = if job.layout.incised() { needs.ground } else { needs.stroke };
        let usual = if land.binding() { "" } else { " (common practice, no source)" };
        facts.push(("Least land", format!("{}{usual}", mm(land.least))));
    }
    if let Some(why) = &job.mount.set.why {
        let why = format!("{}, because {why} (common practice, no source)", job.mount.set.told());
        facts.push(("Holes chosen", why));
    }
    facts
}

fn border(border: Border, both: impl Fn(f64) -> String) -> String {
    let lines = match border.lines {
        1 => format!("one line, {} wide", mm(border.weight)),
        _ => format!("two lines, {} wide, {} apart", mm(border.weight), mm(border.gap)),
    };
    let holes = match border.at_holes {
        AtHoles::StopShort => "stops short of holes",
        AtHoles::StepIn => "steps in round holes",
        AtHoles::HolesOutside => "holes outside it",
    };
    format!("{lines}, {} in; {holes}", both(border.inset))
}

fn fixing(job: &Job) -> String {
    match (&job.mount.fixing, job.layout.mount.fixing) {
        (Some(fixing), _) => fixing.name.clone(),
        (None, Some(FixingAsked::Tape { .. })) => "adhesive tape or pads".to_owned(),
        (None, _) => "none told".to_owned(),
    }
}

fn holes(job: &Job) -> String {
    let holes = &job.mount.holes;
    let Some(first) = holes.first() else { return "none".to_owned() };
    let set = match &job.mount.set.set {
        HolesAsked::None | HolesAsked::Auto(_) => String::new(),
        HolesAsked::FourCorners => ", in the corners".to_owned(),
        HolesAsked::TwoSides => ", at the sides".to_owned(),
        HolesAsked::TopAndBottom => ", top and bottom".to_owned(),
        HolesAsked::InTheHandles(_) => ", in the handles".to_owned(),
        HolesAsked::Along { edges, .. } => format!(", evenly along {}", edges.word()),
        HolesAsked::Circle { diameter, .. } => format!(", on a circle of {}", mm(*diameter)),
        HolesAsked::Points(_) => ", at points".to_owned(),
    };
    let slots = match holes.iter().filter(|hole| hole.slot.is_some()).count() {
        0 => String::new(),
        count => format!(", {count} of them slots across the grain"),
    };
    format!(
        "{} \u{d7} \u{d8}{}{set}{slots}",
        holes.len(),
        words::both(job.layout.inches, first.clearance_diameter)
    )
}

/// Change of temperature that growth is told for, °C: a cold room against a sunny window,
/// our own choice.
const DEGREES: f64 = 30.0;

/// How much the plate's longer side changes, as exactly as its material is known.
fn warmth(job: &Job) -> String {
    let plate = &job.layout.plate;
    let longer = plate.width.max(plate.height);
    let (least, greatest) = growth(plate, longer, DEGREES);
    let by = if greatest - least < 0.005 {
        mm(greatest)
    } else {
        format!("{} to {}", trimmed(least, 2), mm(greatest))
    };
    format!("its {} by {by} in {} \u{b0}C", mm(longer), trimmed(DEGREES, 0))
}

/// Weight of one plate: area × thickness × density, rounded as roughly as it is known.
fn weight(job: &Job) -> String {
    let grams = grams(&job.layout.plate);
    if grams < 10.0 { trimmed(grams, 1) } else { trimmed(grams.round(), 0) }
}
