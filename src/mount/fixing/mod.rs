//! Fixings with their figures, a file a kind; published figures stand in the tables beside
//! them.
//!
//! Every kind gives the same things: what shows in front, what the plate is drilled and
//! countersunk for, how far it reaches into the face, and the bores that it asks of the
//! face with the rule behind each. Sheets and checks read these and need not know kinds.

mod machine_screw;
mod pin;
mod standoff;
mod stud;
mod wood_screw;

use crate::layout::FixingAsked;
use crate::units::digits::trimmed;
use crate::units::inch::nearest_64th;

use super::Behind;

pub use machine_screw::thread_of_smaller_cone;
pub use wood_screw::{gauge_of_smaller_cone, stocked_lengths};

/// An inch, mm.
const INCH: f64 = 25.4;

/// A length this close to a 64th of an inch is called by it, mm.
const SAME_LENGTH: f64 = 0.005;

/// Lengths nearer than this are one, mm.
const SAME: f64 = 1e-6;

/// Half the point of a twist drill, degrees: 118 in all.
const HALF_POINT: f64 = 59.0;

/// How a fixing looks from in front.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Front {
    /// A flat, round or pan head with its slot.
    Slotted,
    /// An oval head: slot, and the rim of its rise.
    Oval,
    /// A dome head with its hexagon socket.
    Socket,
    /// A smooth head or cap.
    Plain,
    /// Nothing: it stays behind the plate.
    Nothing,
}

/// A countersink in the plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Countersink {
    /// Diameter at the plate's surface: the head's sharp corner, mm.
    pub top: f64,
    /// Depth of the cone below the plate's surface, mm.
    pub depth: f64,
    /// Angle of the cone, degrees.
    pub angle: f64,
}

/// What a bore in the face is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bored {
    /// The smooth shank of a wood screw.
    Shank,
    /// The thread of a wood screw, or a pin.
    Pilot,
    /// A threaded insert.
    Insert,
    /// A thread to be cut in the face.
    Tap,
    /// A screw that goes on through to its nut.
    Clearance,
    /// A stud and its glue.
    Stud,
}

/// How deep a bore goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Depth {
    /// As deep as the smooth shank goes: found on the screw itself.
    AsShank,
    /// So deep to the drill's tip, mm.
    ToTip(f64),
    /// So deep at its full width, mm: the drill's point comes on top.
    FullWidth(f64),
    /// Out at the back of the face.
    Through,
}

/// One bore in the face.
#[derive(Debug, Clone, PartialEq)]
pub struct Bore {
    /// What it is for.
    pub what: Bored,
    /// Diameter wanted, mm.
    pub diameter: f64,
    /// Depth.
    pub depth: Depth,
    /// The rule it follows, and the rule's source; empty where the bore is its fixing's
    /// own diameter.
    pub rule: String,
}

impl Bore {
    /// Where the depth stop is set, mm from the drill's tip; `None` where the bore has no
    /// depth of its own.
    #[must_use]
    pub fn stop(&self) -> Option<f64> {
        match self.depth {
            Depth::ToTip(depth) => Some(depth),
            Depth::FullWidth(depth) => Some(depth + point(self.diameter)),
            Depth::AsShank | Depth::Through => None,
        }
    }
}

/// How long the point of a twist drill of 118 degrees is, mm.
#[must_use]
pub fn point(diameter: f64) -> f64 {
    diameter / 2.0 / libm::tan(HALF_POINT.to_radians())
}

/// Where a fixing's length begins to count towards the face.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Counted {
    /// At the plate's front.
    FromPlate,
    /// At the face: studs, and the screws of standoffs.
    FromFace,
}

/// A fixing with every figure that a drill or a check needs; mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixing {
    /// What it is called in the shop: `No. 4 round-head wood screw, 1/2 in`.
    pub name: String,
    /// How it looks from in front.
    pub front: Front,
    /// Shank diameter.
    pub shank: f64,
    /// Root diameter of the thread; the shank for pins and studs.
    pub root: f64,
    /// What covers the hole in front: head, or the cap over it; of countersunk heads the
    /// sharp corner's diameter, the greatest that the standard allows. 0 where nothing
    /// shows.
    pub head_diameter: f64,
    /// Countersink in the plate, for flat, oval and countersunk heads.
    pub countersink: Option<Countersink>,
    /// Nominal length as the trade measures it.
    pub length: f64,
    counted: Counted,
    /// How much of that length is smooth shank, before the thread begins; 0 where it is
    /// threaded, or smooth, all along.
    pub smooth: f64,
    /// Hole through the plate; 0 for blind studs.
    pub clearance: f64,
    /// From the face to the plate's back; 0 where the plate lies on it.
    pub off: f64,
    /// Least that it must reach into the face to hold, and the habit behind it; `None` for
    /// what is held by a nut.
    pub least_hold: Option<(f64, &'static str)>,
    /// Washer and nut behind the face; 0 where there are none.
    pub behind: f64,
    /// How far its end may stand out past its nut; 0 where there is none.
    pub past_nut: f64,
    /// Bores in the face, in the order of drilling.
    pub bores: Vec<Bore>,
    /// What has to be done for it, as sentences.
    pub work: Vec<&'static str>,
    /// Source of shank and head figures.
    pub source: String,
}

/// A fixing's figures in what is behind a plate of a thickness in mm (it decides
/// whether the smooth shank reaches the wood). Without a wood the pilot is that
/// of hardwood. `None` for tape, which has none, and for a gauge over 10.
#[must_use]
pub fn fixing(asked: &FixingAsked, behind: Behind, plate_thickness: f64) -> Option<Fixing> {
    match *asked {
        FixingAsked::WoodScrew { gauge, head, length, metal, cap } => {
            let mut screw =
                wood_screw::seated(gauge, head, length, metal, behind, plate_thickness)?;
            if let Some(cap) = cap {
                wood_screw::covered(&mut screw, cap);
            }
            Some(screw)
        }
        FixingAsked::MachineScrew { thread, head, length, into, fit } => {
            machine_screw::machine_screw(thread, head, length, into, fit, plate_thickness)
        }
        FixingAsked::Pin { shank, head, length } => {
            Some(pin::pin(shank, head, length, behind, plate_thickness))
        }
        FixingAsked::Stud { diameter, length, bore } => Some(stud::stud(diameter, length, bore)),
        FixingAsked::Standoff { cap, hole, off, gauge, length, metal } => {
            let screw = wood_screw::standing(gauge, length, metal, behind)?;
            Some(standoff::standoff(screw, cap, hole, off))
        }
        FixingAsked::Tape { .. } => None,
    }
}

/// A length by its inch fraction where it is one, else in mm. A whole number of
/// tenths of a millimetre is taken for mm even where a 64th lies near.
pub(crate) fn length_name(length: f64) -> String {
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
    /// How far the fixing goes into what is behind a plate of this thickness, mm;
    /// 0 or below where it does not reach it.
    ///
    /// Round, pan and dome heads and pins are measured under the head and countersunk
    /// ones to the rim, which lies level with the plate, so it is the length less the
    /// plate for all that go through it; studs and the screws of standoffs start at the
    /// face.
    #[must_use]
    pub fn penetration(&self, plate_thickness: f64) -> f64 {
        match self.counted {
            Counted::FromPlate => self.length - plate_thickness,
            Counted::FromFace => self.length,
        }
    }

    /// How far it floats in its hole through the plate, mm: clearance less shank; `None`
    /// where it sits in one place of it, see [`Self::still`].
    #[must_use]
    pub fn float(&self) -> Option<f64> {
        let slides = self.countersink.is_none() && self.through_plate() && self.off <= 0.0;
        slides.then(|| (self.clearance - self.shank).max(0.0))
    }

    /// Why it floats nowhere, where it does not.
    #[must_use]
    pub fn still(&self) -> &'static str {
        if !self.through_plate() {
            "studs fast on the plate float nowhere"
        } else if self.off > 0.0 {
            "the barrels of standoffs fill their holes and float nowhere"
        } else {
            "countersunk heads centre themselves and float nowhere"
        }
    }

    /// Whether it goes through the plate, and not only sits behind it.
    #[must_use]
    pub fn through_plate(&self) -> bool {
        self.clearance > 0.0
    }

    /// The bore for a purpose, where it is asked for.
    #[must_use]
    pub fn bore(&self, what: Bored) -> Option<&Bore> {
        self.bores.iter().find(|bore| bore.what == what)
    }

    /// Fits bores that may go either way to a face of this thickness, mm: a hole for a
    /// thread that would leave next to nothing behind its drill goes through instead.
    pub(super) fn on_face(mut self, thickness: f64) -> Self {
        for bore in &mut self.bores {
            let most = thickness - LEAST_FLOOR;
            if bore.what == Bored::Tap && bore.stop().is_some_and(|stop| stop > most) {
                bore.depth = Depth::Through;
            }
        }
        self
    }
}

/// Floor that is left under a blind hole in metal, mm (common practice, no source).
const LEAST_FLOOR: f64 = 1.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Head;

    fn screw(gauge: u8, head: Head, length: f64) -> Fixing {
        let asked = FixingAsked::WoodScrew { gauge, head, length, metal: None, cap: None };
        fixing(&asked, Behind::Untold, 1.5).unwrap()
    }

    #[test]
    fn names_are_those_of_the_shop() {
        assert_eq!(screw(4, Head::Round, 12.7).name, "No. 4 round-head wood screw, 1/2 in");
        assert_eq!(screw(2, Head::Oval, 9.525).name, "No. 2 oval-head wood screw, 3/8 in");
        assert_eq!(screw(6, Head::Flat, 16.0).name, "No. 6 flat-head wood screw, 16 mm");
        let pin = FixingAsked::Pin { shank: 1.2, head: 2.5, length: 12.0 };
        assert_eq!(fixing(&pin, Behind::Untold, 1.0).unwrap().name, "1.2 mm escutcheon pin, 12 mm");
        assert_eq!(fixing(&FixingAsked::Tape { strips: None }, Behind::Untold, 1.0), None);
    }

    #[test]
    fn a_drills_point_is_three_tenths_of_its_width() {
        // 118 degrees: 1 / (2 tan 59°) = 0.300 43.
        assert!((point(1.0) - 0.300_43).abs() < 1e-5);
        let bore = |depth| Bore { what: Bored::Insert, diameter: 4.0, depth, rule: String::new() };
        assert!((bore(Depth::FullWidth(6.0)).stop().unwrap() - 7.2017).abs() < 1e-4);
        assert_eq!(bore(Depth::ToTip(6.0)).stop(), Some(6.0));
        assert_eq!(bore(Depth::Through).stop(), None);
    }
}
