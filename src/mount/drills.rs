//! Real drills near a wanted diameter.

use std::sync::LazyLock;

use serde::Deserialize;

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
    /// What it is called: `2.0 mm`, `No. 44`, `5/64 in`.
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

/// The drills nearest to a diameter.
#[derive(Debug, Clone, PartialEq)]
pub struct Drills {
    /// Metric, or of the shop's own list where it has one.
    pub metric: Drill,
    /// By number or letter; `None` where none is near.
    pub number: Option<Drill>,
    /// By fraction of an inch.
    pub inch: Drill,
}

#[derive(Debug, Deserialize)]
struct Gauge {
    number_in: Vec<f64>,
    letter_in: Vec<f64>,
}

/// Number and letter drills, ascending.
static GAUGE: LazyLock<Vec<Drill>> = LazyLock::new(|| {
    let gauge: Gauge = toml::from_str(include_str!("drills.toml"))
        .expect("the table is part of the program and a test reads it");
    let numbers = (1..).zip(&gauge.number_in).map(|(number, inch): (u32, _)| Drill {
        name: format!("No. {number}"),
        diameter: inch * INCH,
    });
    let letters = ('A'..='Z')
        .zip(&gauge.letter_in)
        .map(|(letter, inch)| Drill { name: format!("letter {letter}"), diameter: inch * INCH });
    let mut all: Vec<Drill> = numbers.chain(letters).collect();
    all.sort_by(|a, b| a.diameter.total_cmp(&b.diameter));
    all
});

/// Past the ends of the number and letter drills none is near, mm; own choice.
const NEAR: f64 = 0.25;

/// The metric drill nearest to a diameter (0.1 mm steps from 0.5 to 13 mm; the
/// shop's own list where it has one), the nearest number or letter drill (No. 80 to
/// letter Z, 0.34 to 10.49 mm), and the nearest inch fraction drill (64ths from 1/64
/// to 1/2 in). Half way between two gives the narrower; outside the metric and
/// fraction sets their last drill, so look at [`Drill::error`]. Diameters in `own` that
/// are not above 0 are passed over.
#[must_use]
pub fn nearest_drills(diameter: f64, own: &[f64]) -> Drills {
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
    let number = nearest(diameter, GAUGE.iter().map(|drill| drill.diameter));
    let number = number.filter(|number| (number - diameter).abs() <= NEAR);
    let number = GAUGE.iter().find(|drill| Some(drill.diameter) == number).cloned();
    Drills { metric, number, inch: Drill { name: nearest_64th(inch).text, diameter: inch } }
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
        let drills = nearest_drills(2.10, &[]);
        assert_eq!((drills.metric.name.as_str(), drills.inch.name.as_str()), ("2.1 mm", "5/64 in"));
        assert!((drills.inch.error(2.10) + 0.115_625).abs() < 1e-9);
        // No. 45 is 0.082 in = 2.083 mm.
        assert_eq!(drills.number.unwrap().name, "No. 45");
    }

    #[test]
    fn the_shops_own_drills_come_first() {
        assert_eq!(nearest_drills(2.10, &[3.0, 1.984_375, 2.5]).metric.name, "5/64 in");
        assert_eq!(nearest_drills(2.3, &[2.0, 2.25]).metric.name, "2.25 mm");
        assert_eq!(nearest_drills(2.3, &[f64::NAN, -1.0]).metric.name, "2.3 mm");
    }

    #[test]
    fn half_way_takes_the_narrower_and_no_wish_panics() {
        assert_eq!(nearest_drills(1.25, &[]).metric.name, "1.2 mm");
        let wide = nearest_drills(99.0, &[]);
        assert_eq!((wide.metric.name.as_str(), wide.inch.name.as_str()), ("13.0 mm", "1/2 in"));
        assert_eq!(wide.number, None);
        let none = nearest_drills(f64::NAN, &[]);
        assert_eq!((none.metric.name.as_str(), none.number), ("0.5 mm", None));
        assert_eq!(nearest_drills(-3.0, &[]).inch.name, "1/64 in");
    }

    #[test]
    fn numbers_and_letters_are_whole_and_go_one_way() {
        assert_eq!(GAUGE.len(), 80 + 26);
        assert!(GAUGE.windows(2).all(|pair| pair[0].diameter < pair[1].diameter));
        let ends = (&GAUGE[0], &GAUGE[79], &GAUGE[80], &GAUGE[105]);
        assert_eq!(
            (
                ends.0.name.as_str(),
                ends.1.name.as_str(),
                ends.2.name.as_str(),
                ends.3.name.as_str()
            ),
            ("No. 80", "No. 1", "letter A", "letter Z")
        );
    }
}
