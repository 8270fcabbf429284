//! Real drills near a wanted diameter.

use crate::units::digits::{fixed, trimmed};
use crate::units::inch::nearest_64th;

/// Metric drills of the usual set, in tenths of a millimetre: 0.5 to 13 mm.
const TENTHS: std::ops::RangeInclusive<u32> = 5..=130;

/// Fraction drills of the usual set, in 64ths of an inch: 1/64 to 1/2 in.
const SIXTY_FOURTHS: std::ops::RangeInclusive<u32> = 1..=32;

/// An inch, mm.
const INCH: f64 = 25.4;

/// A shop's diameter this close to a 64th of an inch is that drill, mm.
const SAME_DRILL: f64 = 0.0005;

/// A drill that a shop can hold in the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Drill {
    /// What is stamped on it: `2.0 mm`, `5/64 in`.
    pub name: String,
    /// Diameter, mm.
    pub diameter: f64,
}

impl Drill {
    /// How much wider the drill is than wanted, mm; negative where narrower.
    #[must_use]
    pub fn error(&self, wanted: f64) -> f64 {
        self.diameter - wanted
    }
}

/// The metric drill nearest to a diameter (0.1 mm steps from 0.5 to 13 mm; the
/// shop's own list where it has one), and the nearest inch fraction drill (64ths
/// from 1/64 to 1/2 in). Half way between two gives the narrower; outside the set
/// its last drill, so look at [`Drill::error`]. Diameters in `own` that are not
/// above 0 are passed over.
#[must_use]
pub fn nearest_drill(diameter: f64, own: &[f64]) -> (Drill, Drill) {
    let mut drawer: Vec<f64> =
        own.iter().copied().filter(|drill| drill.is_finite() && *drill > 0.0).collect();
    drawer.sort_by(f64::total_cmp);
    let metric = match nearest(diameter, drawer.into_iter()) {
        Some(drill) => Drill { name: own_name(drill), diameter: drill },
        None => {
            let drill = nearest(diameter, TENTHS.map(|tenths| f64::from(tenths) / 10.0));
            let drill = drill.unwrap_or(f64::from(*TENTHS.start()) / 10.0);
            Drill { name: format!("{} mm", fixed(drill, 1)), diameter: drill }
        }
    };
    let inch = nearest(diameter, SIXTY_FOURTHS.map(|parts| f64::from(parts) * INCH / 64.0));
    let inch = inch.unwrap_or(INCH / 64.0);
    (metric, Drill { name: nearest_64th(inch).text, diameter: inch })
}

/// The nearest of ascending diameters, the first of two equally near (to 1e-9 mm);
/// `None` of none.
fn nearest(wanted: f64, drills: impl Iterator<Item = f64>) -> Option<f64> {
    drills.fold(None, |best, drill| match best {
        Some(known) if (drill - wanted).abs() >= (f64::abs(known - wanted)) - 1e-9 => Some(known),
        // A wanted diameter that is not a number keeps the first.
        Some(known) if wanted.is_nan() => Some(known),
        _ => Some(drill),
    })
}

/// A shop's drill: by its fraction if it is one and no tenth, else in mm.
fn own_name(drill: f64) -> String {
    let fraction = nearest_64th(drill);
    let tenth = (drill * 10.0 - (drill * 10.0).round()).abs() < 1e-6;
    if tenth {
        format!("{} mm", fixed(drill, 1))
    } else if fraction.error_mm.abs() < SAME_DRILL {
        fraction.text
    } else {
        format!("{} mm", trimmed(drill, 3))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_sets_are_used_where_the_shop_has_none() {
        // Pilot of a No. 6 screw in white oak: 2.10 mm; 5/64 in is 1.984, 3/32 2.381.
        let (metric, inch) = nearest_drill(2.10, &[]);
        assert_eq!((metric.name.as_str(), inch.name.as_str()), ("2.1 mm", "5/64 in"));
        assert!((inch.error(2.10) + 0.115_625).abs() < 1e-9);
    }

    #[test]
    fn the_shops_own_drills_come_first() {
        let (metric, _) = nearest_drill(2.10, &[3.0, 1.984_375, 2.5]);
        assert_eq!(metric.name, "5/64 in");
        let (metric, _) = nearest_drill(2.3, &[2.0, 2.25]);
        assert_eq!(metric.name, "2.25 mm");
        let (metric, _) = nearest_drill(2.3, &[f64::NAN, -1.0]);
        assert_eq!(metric.name, "2.3 mm");
    }

    #[test]
    fn half_way_takes_the_narrower_and_no_wish_panics() {
        assert_eq!(nearest_drill(1.25, &[]).0.name, "1.2 mm");
        assert_eq!(nearest_drill(99.0, &[]).0.name, "13.0 mm");
        assert_eq!(nearest_drill(99.0, &[]).1.name, "1/2 in");
        assert_eq!(nearest_drill(f64::NAN, &[]).0.name, "0.5 mm");
        assert_eq!(nearest_drill(-3.0, &[]).1.name, "1/64 in");
    }
}
