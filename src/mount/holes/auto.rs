//! A set of holes chosen by the plate's shape, size, thickness and weight. All figures
//! are common practice, no source; the lettering has no say.

use crate::layout::{Edges, FirstHole, HolesAsked, Layout, Plate, Shape, USUAL_INSET_MM};
use crate::plate::grams;
use crate::units::digits::trimmed;

use super::super::{FaceKind, face_row};
use super::metal::CENTRE_TO_EDGE;
use super::{Fixing, HoleSet, corners, metal_needed};

/// Longest side, mm, and greatest weight, g, of a plate that two fixings hold.
const SMALL_MM: f64 = 100.0;
const LIGHT_G: f64 = 150.0;
/// How far a plate lies flat from fixing to fixing, in its thicknesses, but at least
/// and at most so many mm.
const FLAT_TIMES: f64 = 150.0;
const LEAST_FLAT_MM: f64 = 100.0;
const MOST_FLAT_MM: f64 = 600.0;
/// The greatest share of the short side that the usual inset takes.
const INSET_SHARE: f64 = 0.2;
/// Share of the short side that two rows of heads leave between them, at least.
const BETWEEN_SHARE: f64 = 0.5;
/// Insets are rounded up to this, mm.
const INSET_STEP_MM: f64 = 0.5;
/// Most holes along an edge or round a circle, as the reader allows.
const MOST: u32 = 24;

/// What a choice rests on.
struct Facts<'a> {
    plate: &'a Plate,
    inset: f64,
    /// Least way between two hole centres, mm.
    apart: f64,
    grams: f64,
    /// Across a head, mm.
    head: f64,
    flat: f64,
}

/// The set for a plate; `stated` is the inset that the layout gives, mm.
pub(super) fn chosen(layout: &Layout, fixing: Option<&Fixing>, stated: Option<f64>) -> HoleSet {
    let plate = &layout.plate;
    let Some(fixing) = fixing else {
        return set(HolesAsked::None, layout.mount.inset, "what is stuck on needs none".to_owned());
    };
    if layout.face.as_ref().is_some_and(|face| face_row(face.material).kind == FaceKind::Stone) {
        let why = "stone is not drilled for a plate: tape holds it".to_owned();
        return set(HolesAsked::None, layout.mount.inset, why);
    }
    let needed = metal_needed(fixing, plate);
    let short = plate.width.min(plate.height);
    let usual = USUAL_INSET_MM.min(INSET_SHARE * short);
    let inset = stated.unwrap_or_else(|| up(needed.max(usual), INSET_STEP_MM));
    if matches!(plate.shape, Shape::Ansate(_)) {
        let why = "the handles of an ansate plate are made for it".to_owned();
        return set(HolesAsked::InTheHandles(stated), inset, why);
    }
    let facts = Facts {
        plate,
        inset,
        apart: fixing.head_diameter.max(2.0 * CENTRE_TO_EDGE * fixing.clearance),
        grams: grams(plate),
        head: fixing.head_diameter,
        flat: (FLAT_TIMES * plate.thickness).clamp(LEAST_FLAT_MM, MOST_FLAT_MM),
    };
    let mut found = facts.set();
    if let (None, Some(why)) = (stated, &mut found.why)
        && needed > usual
    {
        why.push_str(&format!(
            "; inset {} mm: two hole diameters from the edge, and metal as thick as the plate \
             outside the heads",
            trimmed(inset, 2)
        ));
    }
    found
}

fn set(set: HolesAsked, inset: f64, why: String) -> HoleSet {
    HoleSet { set, inset, why: Some(why) }
}

fn up(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

fn mm(value: f64) -> String {
    format!("{} mm", trimmed(value, 1))
}

impl Facts<'_> {
    fn set(&self) -> HoleSet {
        let plate = self.plate;
        let (long, short) = (plate.width.max(plate.height), plate.width.min(plate.height));
        let upright = plate.height > plate.width;
        let two = if upright { HolesAsked::TopAndBottom } else { HolesAsked::TwoSides };
        let weight = format!("about {} g", trimmed(self.grams, 0));
        if long <= SMALL_MM && self.grams <= LIGHT_G {
            let why = format!(
                "{} and {weight} are small and light: two hold up to {} and {} g",
                mm(long),
                mm(SMALL_MM),
                trimmed(LIGHT_G, 0)
            );
            return set(two, self.inset, why);
        }
        let (rows, span) = self.between_corners(upright);
        if rows < self.apart {
            let apart = mm(up(self.apart, 0.1));
            let why = format!("{} leave no room for two rows of holes {apart} apart", mm(short));
            return set(two, self.inset, why);
        }
        if rows - self.head < BETWEEN_SHARE * short && span <= self.flat {
            let why = format!(
                "{} are narrow: two rows of heads would leave less than half of it between them",
                mm(short)
            );
            return set(two, self.inset, why);
        }
        let large = self.why_not_two(long, &weight);
        match plate.shape {
            Shape::Circle => self.round(&large),
            Shape::Oval | Shape::Arch { .. } => set(HolesAsked::FourCorners, self.inset, large),
            _ => self.straight(upright, large),
        }
    }

    /// Between the centres of four corners, the short way and the long way.
    fn between_corners(&self, upright: bool) -> (f64, f64) {
        let (x, y) = corners::upper(self.plate, self.inset);
        let (across, down) = (self.plate.width - 2.0 * x, self.plate.height - 2.0 * y);
        if upright { (across, down) } else { (down, across) }
    }

    fn why_not_two(&self, long: f64, weight: &str) -> String {
        let mut over = Vec::new();
        if long > SMALL_MM {
            over.push(format!("{} is longer than the {}", mm(long), mm(SMALL_MM)));
        }
        if self.grams > LIGHT_G {
            over.push(format!("{weight} is more than the {} g", trimmed(LIGHT_G, 0)));
        }
        format!("{} that two hold", over.join(" and "))
    }

    /// A circle of holes, two of them level at the top.
    fn round(&self, large: &str) -> HoleSet {
        let diameter = (self.plate.width - 2.0 * self.inset).max(0.0);
        let round = std::f64::consts::PI * diameter;
        // Even numbers stand alike left and right, above and below.
        let count = (4..=MOST).step_by(2).find(|count| round <= self.flat * f64::from(*count));
        let count = count.unwrap_or(MOST);
        let why = if count > 4 {
            format!("{large}, and four would be more than {} apart", self.lies_flat())
        } else {
            large.to_owned()
        };
        let first = FirstHole::BesideTheTop;
        set(HolesAsked::Circle { diameter, count, first }, self.inset, why)
    }

    fn lies_flat(&self) -> String {
        format!(
            "the {} that a plate {} thick lies flat over",
            mm(self.flat),
            mm(self.plate.thickness)
        )
    }

    /// Four corners, or more along the long edges where four are too far apart.
    fn straight(&self, upright: bool, large: String) -> HoleSet {
        let (other, long) = self.between_corners(upright);
        if long <= self.flat {
            return set(HolesAsked::FourCorners, self.inset, large);
        }
        let count = (3..MOST).find(|count| long <= self.flat * f64::from(count - 1));
        let count = count.unwrap_or(MOST);
        let edges = if upright { Edges::LeftAndRight } else { Edges::TopAndBottom };
        let mut why =
            format!("{} between the corner holes are more than {}", mm(long), self.lies_flat());
        if other > self.flat {
            why.push_str(&format!(
                "; the other edges span {} too: a thicker plate would lie flatter",
                mm(other)
            ));
        }
        set(HolesAsked::Along { edges, count }, self.inset, why)
    }
}
