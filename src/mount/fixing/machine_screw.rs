//! Machine screws by ISO metric thread: into an insert, a nut, or the face itself.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{HoleFit, Into, MachineHead, Named, Thread};

use super::{Bore, Bored, Counted, Countersink, Depth, Fixing, Front, SAME, length_name};

#[derive(Debug, Deserialize)]
struct Tables {
    source: String,
    countersunk_source: String,
    pan_source: String,
    dome_source: String,
    tap_rule: String,
    nut_rule: String,
    cone_degrees: f64,
    thread: Vec<Row>,
}

#[derive(Debug, Deserialize)]
struct Row {
    name: String,
    diameter: f64,
    pitch: f64,
    fine: f64,
    medium: f64,
    coarse: f64,
    countersunk: f64,
    pan: f64,
    dome: Option<f64>,
    nut: f64,
    washer: f64,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    toml::from_str(include_str!("machine_screws.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// Room below a screw's end in a blind hole, mm (common practice, no source).
const BELOW_END: f64 = 1.0;
/// Pitches that a tap's taper asks for below the thread (common practice, no source).
const TAP_TAPER: f64 = 4.0;
/// How far a screw may stand out past its nut: three pitches, and a step of 5 mm, since
/// the next length that is sold may be as much longer (common practice, no source).
const PAST_NUT_PITCHES: f64 = 3.0;
const LENGTH_STEP: f64 = 5.0;
/// Least thread that holds, in diameters.
const LEAST_DIAMETERS: f64 = 1.0;
const LEAST_RULE: &str = "at least one diameter of thread held";

/// Root of an ISO thread: H = √3/2 P, of which 17/24 on each side (ISO 68-1).
const ROOT_PITCHES: f64 = 1.226_87;

/// A machine screw; `None` for a head that the thread does not come with.
pub(super) fn machine_screw(
    thread: Thread,
    head: MachineHead,
    length: f64,
    into: Into,
    fit: HoleFit,
    plate_thickness: f64,
) -> Option<Fixing> {
    let row = row(thread);
    let clearance = match fit {
        HoleFit::Fine => row.fine,
        HoleFit::Medium => row.medium,
        HoleFit::Coarse => row.coarse,
    };
    let (front, head_diameter, source) = match head {
        MachineHead::Countersunk => (Front::Slotted, row.countersunk, &TABLES.countersunk_source),
        MachineHead::Pan => (Front::Slotted, row.pan, &TABLES.pan_source),
        MachineHead::Dome => (Front::Socket, row.dome?, &TABLES.dome_source),
    };
    let named = match head {
        MachineHead::Countersunk => "countersunk",
        MachineHead::Pan => "pan-head",
        MachineHead::Dome => "dome-head",
    };
    let held = match into {
        Into::Insert { .. } => "in an insert",
        Into::Nut => "with a nut",
        Into::Tapped => "in a tapped hole",
    };
    let countersink = (head == MachineHead::Countersunk).then(|| Countersink {
        top: row.countersunk,
        depth: cone(row),
        angle: TABLES.cone_degrees,
    });
    let reach = length - plate_thickness;
    let holds = Some((LEAST_DIAMETERS * row.diameter, LEAST_RULE));
    let (bore, behind, least_hold) = match into {
        Into::Insert { bore, depth } => (insert(bore, depth, reach), 0.0, holds),
        Into::Nut => (nut(clearance), row.washer + row.nut, None),
        Into::Tapped => (tapped(row, reach), 0.0, holds),
    };
    Some(Fixing {
        name: format!("{} {named} machine screw, {}, {held}", row.name, length_name(length)),
        front,
        shank: row.diameter,
        root: row.diameter - ROOT_PITCHES * row.pitch,
        head_diameter,
        countersink,
        length,
        counted: Counted::FromPlate,
        smooth: 0.0,
        clearance,
        off: 0.0,
        least_hold,
        behind,
        past_nut: if into == Into::Nut { PAST_NUT_PITCHES * row.pitch + LENGTH_STEP } else { 0.0 },
        bores: vec![bore],
        work: work(into),
        source: format!("{source}; {}, {}", TABLES.source, fit.word()),
    })
}

/// The greatest thread below this one whose countersink fits a plate of this thickness.
#[must_use]
pub fn thread_of_smaller_cone(thread: Thread, thickness: f64) -> Option<Thread> {
    let smaller = Thread::ALL.iter().map(|(_, other)| *other).filter(|other| *other < thread);
    smaller.filter(|other| cone(row(*other)) <= thickness + SAME).max()
}

fn row(thread: Thread) -> &'static Row {
    let row = TABLES.thread.iter().find(|row| row.name == thread.word());
    row.expect("a test holds every thread's word to a row")
}

/// Depth of the head's cone: of 90 degrees, so half of what the head is wider.
fn cone(row: &Row) -> f64 {
    let half_angle = (TABLES.cone_degrees / 2.0).to_radians();
    (row.countersunk - row.diameter) / (2.0 * libm::tan(half_angle))
}

fn insert(bore: f64, depth: f64, reach: f64) -> Bore {
    Bore {
        what: Bored::Insert,
        diameter: bore,
        depth: Depth::FullWidth(depth.max(reach + BELOW_END)),
        rule: "hole as the layout states it for the insert; as deep as the insert, and 1 mm below \
               the screw's end (common practice, no source)"
            .to_owned(),
    }
}

fn nut(clearance: f64) -> Bore {
    Bore {
        what: Bored::Clearance,
        diameter: clearance,
        depth: Depth::Through,
        rule: TABLES.nut_rule.clone(),
    }
}

fn tapped(row: &Row, reach: f64) -> Bore {
    Bore {
        what: Bored::Tap,
        diameter: row.diameter - row.pitch,
        depth: Depth::FullWidth(reach + TAP_TAPER * row.pitch),
        rule: format!("for an {} \u{d7} {} tap: {}", row.name, row.pitch, TABLES.tap_rule),
    }
}

fn work(into: Into) -> Vec<&'static str> {
    match into {
        Into::Insert { .. } => vec![
            "Try the insert in a scrap of the same material first; set it square and a little \
             below the surface.",
        ],
        Into::Nut => vec![
            "Clamp scrap behind the face where the drill comes out, so that the back does not \
             break away. Washer and nut go behind.",
        ],
        Into::Tapped => vec![
            "Cut the thread by hand, square, with the right cutting fluid; turn back often to \
             break the chip.",
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_thread_has_its_row() {
        assert_eq!(TABLES.thread.len(), Thread::ALL.len());
        for (word, thread) in Thread::ALL {
            assert_eq!(row(*thread).name, *word);
        }
    }

    #[test]
    fn a_blind_hole_is_deeper_than_the_screw_reaches() {
        // M3 through 1.5 mm: 8.5 mm of a 10 mm screw; tapped 8.5 + 4 × 0.5.
        let at = |into| {
            let screw = machine_screw(Thread::M3, MachineHead::Pan, 10.0, into, HoleFit::Fine, 1.5);
            screw.unwrap().bores[0].clone()
        };
        let tapped = at(Into::Tapped);
        assert_eq!((tapped.diameter, tapped.depth), (2.5, Depth::FullWidth(10.5)));
        let insert = at(Into::Insert { bore: 4.0, depth: 6.0 });
        assert_eq!(insert.depth, Depth::FullWidth(9.5));
        let long = at(Into::Insert { bore: 4.0, depth: 12.0 });
        assert_eq!(long.depth, Depth::FullWidth(12.0));
        assert_eq!(at(Into::Nut).depth, Depth::Through);
    }

    #[test]
    fn a_smaller_cone_is_the_next_that_fits() {
        // k = (dk − d) / 2: M2 1.2, M2.5 1.5, M3 1.65 mm.
        assert_eq!(thread_of_smaller_cone(Thread::M4, 1.5), Some(Thread::M2_5));
        assert_eq!(thread_of_smaller_cone(Thread::M4, 0.8), None);
    }
}
