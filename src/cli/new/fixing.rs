//! How the plate is fixed: kind, its figures, holes; each with something sensible offered.

use crate::files::Failure;

use super::answers::{Answers, Fixing, quoted};
use super::ask::{Asker, Question};
use super::questions::{checked, keep};
use super::told;

/// Shorter sides than this, mm, have no room for holes in four corners beside the
/// lettering. Common practice, no source.
const ROOM_FOR_FOUR: f64 = 45.0;
/// Longer sides than this, mm, are held by the next greater screw in use. Common practice,
/// no source.
const LONG_SIDE: f64 = 200.0;

/// The hole set of an ansate plate.
const IN_HANDLES: &str = "in the handles";

/// A figure of a fixing: its key, what is asked, what is offered in mm and in inches.
type Figure = (&'static str, &'static str, &'static str, &'static str);

/// The small screw of plaques and the one for long plates; screws are sold in inches.
/// Common practice, no source.
const SMALL_SCREW: [Figure; 3] = [
    ("gauge", "  Gauge", "2", "2"),
    ("head", "  Head", "round", "round"),
    ("length", "  Length", "3/8 in", "3/8 in"),
];
const LARGE_SCREW: [Figure; 3] = [
    ("gauge", "  Gauge", "4", "4"),
    ("head", "  Head", "round", "round"),
    ("length", "  Length", "1/2 in", "1/2 in"),
];
/// Common practice, no source.
const PIN: [Figure; 3] = [
    ("shank", "  Thickness of the pin", "1.3 mm", "0.05 in"),
    ("head", "  Across its head", "3 mm", "1/8 in"),
    ("length", "  Length under the head", "13 mm", "1/2 in"),
];

/// An insert's figures are its maker's; these are common ones. Common practice, no source.
const MACHINE_SCREW: [Figure; 6] = [
    ("thread", "  Thread", "M3", "M3"),
    ("head", "  Head", "pan", "pan"),
    ("length", "  Length", "10 mm", "10 mm"),
    ("into", "  Turned into: insert, nut or tapped hole", "insert", "insert"),
    ("insert_bore", "  Hole that the insert asks for", "4 mm", "4 mm"),
    ("insert_depth", "  How deep the insert sits", "6 mm", "6 mm"),
];
/// Common practice, no source.
const STUD: [Figure; 2] = [
    ("diameter", "  Thickness of the stud", "3 mm", "1/8 in"),
    ("length", "  How far it stands out behind the plate", "10 mm", "3/8 in"),
];
/// Common practice, no source.
const STANDOFF: [Figure; 5] = [
    ("cap", "  Across its cap", "16 mm", "5/8 in"),
    ("hole", "  Hole that it asks for in the plate", "10 mm", "3/8 in"),
    ("off", "  From the face to the plate's back", "15 mm", "1/2 in"),
    ("gauge", "  Gauge of its wood screw", "6", "6"),
    ("length", "  How far that screw reaches into the wood", "5/8 in", "5/8 in"),
];

/// What is offered for a plate.
#[derive(Clone, Copy)]
struct Offer {
    screw: [Figure; 3],
    holes: &'static str,
    inset: &'static str,
    inches: bool,
}

impl Offer {
    /// By the plate's sides, mm, and by its outline.
    fn of(width: f64, height: f64, shape: &str, inches: bool) -> Self {
        let roomy = width.min(height) >= ROOM_FOR_FOUR;
        Self {
            screw: if width.max(height) > LONG_SIDE { LARGE_SCREW } else { SMALL_SCREW },
            holes: match shape {
                "ansate" => IN_HANDLES,
                "rectangle" | "rounded" if roomy => "four corners",
                _ if height > width => "top and bottom",
                _ => "two sides",
            },
            inset: match (roomy, inches) {
                (true, false) => "8 mm",
                (true, true) => "5/16 in",
                (false, false) => "5 mm",
                (false, true) => "3/16 in",
            },
            inches,
        }
    }

    /// The same for a kind of fixing: the caps of standoffs need more room than heads.
    fn of_kind(mut self, kind: &str) -> Self {
        if kind == "standoff" {
            self.inset = if self.inches { "5/8 in" } else { "16 mm" };
        }
        self
    }

    fn figures(&self, kind: &str) -> &[Figure] {
        match kind {
            "wood screw" => &self.screw,
            "pin" => &PIN,
            "machine screw" => &MACHINE_SCREW,
            "rear stud" => &STUD,
            "standoff" => &STANDOFF,
            _ => &[],
        }
    }

    fn usual(&self, figure: &Figure) -> &'static str {
        if self.inches { figure.3 } else { figure.2 }
    }

    /// What is offered for the inset of a hole set: in the handles their middle is best,
    /// and holds where nothing is said.
    fn inset_for(&self, holes: &str) -> Option<String> {
        (holes != IN_HANDLES).then(|| quoted(self.inset))
    }

    /// A fixing of this kind with all that is offered for it.
    fn fixing(&self, kind: &str) -> Fixing {
        let figures = self.figures(kind);
        let mut keys = vec![("kind", quoted(kind))];
        keys.extend(figures.iter().map(|figure| (figure.0, value(self.usual(figure)))));
        let holes = (!figures.is_empty()).then(|| (quoted(self.holes), self.inset_for(self.holes)));
        Fixing { keys, holes }
    }
}

/// An answer as a value: a whole number as it is, all else as a text.
fn value(answer: &str) -> String {
    if answer.parse::<u32>().is_ok() { answer.to_owned() } else { quoted(answer) }
}

/// Leaves the figures of an insert out where there is none.
fn no_insert(answers: &mut Answers, into: &str) {
    if let Some(fixing) = answers.fixing.as_mut().filter(|_| into != "insert") {
        fixing.keys.retain(|(key, _)| !key.starts_with("insert_"));
    }
}

/// The layout's word for what was answered.
fn kind(answer: &str) -> &str {
    match answer {
        "screw" | "screws" | "wood screws" => "wood screw",
        "pins" => "pin",
        "machine screws" => "machine screw",
        "stud" | "studs" | "rear studs" => "rear stud",
        "standoffs" => "standoff",
        answer => answer,
    }
}

pub(super) fn fixing(asker: &mut Asker<'_>, answers: &mut Answers) -> Result<(), Failure> {
    let plate = checked(answers).map_err(|wrong| Failure::Input(wrong.message))?.plate;
    let shape = answers.shape().unwrap_or("rectangle");
    let offer = Offer::of(plate.width, plate.height, shape, answers.inches);
    let question = Question {
        asked: "Fixing: screw, machine screw, pin, stud, standoff, tape or none",
        usual: Some("screw"),
        help: "screw: wood screws\nmachine screw: into an insert, a nut or a tapped hole\n\
               pin: escutcheon pins\nstud: studs on the back, nothing shows in front\n\
               standoff: barrels that hold the plate off the face, with caps\n\
               tape: tape or pads, no holes\nnone: nothing is said of it",
    };
    keep(asker, answers, &question, |a, answer| {
        let kind = kind(answer);
        a.fixing = (answer != "none").then(|| offer.of_kind(kind).fixing(kind));
    })?;
    let Some(Fixing { keys, holes }) = answers.fixing.clone() else { return Ok(()) };
    let kind = keys.first().map_or("", |(_, kind)| kind.trim_matches('"'));
    for figure in offer.figures(kind) {
        let held = answers.fixing.iter().flat_map(|fixing| &fixing.keys);
        if !held.clone().any(|(key, _)| *key == figure.0) {
            continue;
        }
        let help = "a length as it is sold, such as 3/8 in or 13 mm";
        let help = match figure.0 {
            "gauge" => "the number that screws are sold by, 0 to 10",
            "head" if kind == "wood screw" => "flat, oval or round",
            "head" if kind == "machine screw" => "countersunk, pan or dome",
            "thread" => "M1.6, M2, M2.5, M3, M3.5, M4, M5 or M6",
            "into" => "insert, nut (behind the face) or tapped hole (in metal)",
            _ => help,
        };
        let question = Question { asked: figure.1, usual: Some(offer.usual(figure)), help };
        keep(asker, answers, &question, |a, answer| {
            let keys = a.fixing.iter_mut().flat_map(|fixing| &mut fixing.keys);
            for (_, held) in keys.filter(|(key, _)| *key == figure.0) {
                *held = value(answer);
            }
            if figure.0 == "into" {
                no_insert(a, answer);
            }
        })?;
    }
    if holes.is_some() {
        hole_places(asker, answers, &offer.of_kind(kind))?;
    }
    Ok(())
}

fn hole_places(asker: &mut Asker<'_>, answers: &mut Answers, offer: &Offer) -> Result<(), Failure> {
    let put = |a: &mut Answers, holes: &str, inset: Option<String>| {
        if let Some(fixing) = &mut a.fixing {
            fixing.holes = Some((quoted(holes), inset));
        }
    };
    let help = told::told("mount.holes");
    let question = Question { asked: "  Holes", usual: Some(offer.holes), help: &help };
    keep(asker, answers, &question, |a, holes| put(a, holes, offer.inset_for(holes)))?;
    let chosen = answers.fixing.as_ref().and_then(|fixing| fixing.holes.clone());
    if let Some((holes, Some(_))) = chosen {
        let help = told::told("mount.inset");
        let question = Question {
            asked: "  From the edges to the hole centres",
            usual: Some(offer.inset),
            help: &help,
        };
        let holes = holes.trim_matches('"');
        keep(asker, answers, &question, |a, inset| put(a, holes, Some(quoted(inset))))?;
    }
    Ok(())
}
