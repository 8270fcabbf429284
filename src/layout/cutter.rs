//! Cutters: how wide the narrowest line is that a tool leaves, and the land that must stay
//! between two.

use super::read::{Notes, Table, Within};
use super::schema::{self, Schema};
use super::{Cut, Layout};
use crate::units::digits::trimmed;

/// A tapered cutter in use: it widens with depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Angle between its flanks, degrees, above 0 and below 180.
    pub angle: f64,
    /// How deep it goes, mm.
    pub depth: f64,
}

/// A cutter, or another tool with a width of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutter {
    /// Width of its tip, mm.
    pub tip: f64,
    /// Its taper; `None` for one with parallel flanks.
    pub point: Option<Point>,
}

impl Cutter {
    /// Width of its cut at the surface, mm: `tip + 2·depth·tan(angle/2)`.
    #[must_use]
    pub fn width(&self) -> f64 {
        let flank = |point: Point| 2.0 * point.depth * libm::tan((point.angle / 2.0).to_radians());
        self.tip + self.point.map_or(0.0, flank)
    }

    /// The cutter in words, its width worked out: `tip 0.2 mm, 40° at 0.15 mm deep: cuts
    /// 0.309 mm wide`.
    #[must_use]
    pub fn told(&self) -> String {
        let tip = trimmed(self.tip, 3);
        match self.point {
            None => format!("tip {tip} mm"),
            Some(point) => format!(
                "tip {tip} mm, {}\u{b0} at {} mm deep: cuts {} mm wide",
                trimmed(point.angle, 2),
                trimmed(point.depth, 3),
                trimmed(self.width(), 3)
            ),
        }
    }

    /// The cutter as a layout writes it.
    #[must_use]
    pub fn written(&self) -> String {
        let tip = trimmed(self.tip, 4);
        match self.point {
            None => format!("{{ tip = \"{tip} mm\" }}"),
            Some(point) => format!(
                "{{ tip = \"{tip} mm\", angle = {}, depth = \"{} mm\" }}",
                trimmed(point.angle, 3),
                trimmed(point.depth, 4)
            ),
        }
    }
}

/// Width of the cut that single-stroke letters are drawn and fitted with where no cutter is
/// told, mm: the line width of ISO 3098's type B lettering 2.5 mm high (from memory). A
/// finding asks for the cutter.
pub const ASSUMED_CUT: f64 = 0.25;

impl Layout {
    /// Width of the cut along the centre lines of single-stroke letters, mm: the cutter's, or
    /// [`ASSUMED_CUT`] where none is told.
    #[must_use]
    pub fn cut_width(&self) -> f64 {
        self.cutter().map_or(ASSUMED_CUT, |cutter| cutter.width())
    }

    /// The cutter that the letters are judged by: the layout's own, else the finest of the
    /// shop's; `None` where nobody tells one.
    #[must_use]
    pub fn cutter(&self) -> Option<Cutter> {
        let finest = self.shop.cutters.iter().min_by(|a, b| a.width().total_cmp(&b.width()));
        self.engraving.cutter.or(finest.copied())
    }

    /// The least land that somebody asks for, mm: the layout's, else the shop's.
    #[must_use]
    pub fn least_land(&self) -> Option<f64> {
        self.engraving.least_land.or(self.shop.least_land)
    }

    /// Whether letters are cut in, so that strokes are cuts and land is between them.
    #[must_use]
    pub fn incised(&self) -> bool {
        self.engraving.cut == Cut::Incised
    }
}

/// Tips, mm: from a diamond's to that of a ball of a router.
const TIP: Within = Within::new(0.01, 20.0);
/// Angles between flanks, degrees.
const ANGLE: Within = Within::new(1.0, 170.0);
/// Depths, mm.
const DEPTH: Within = Within::new(0.01, 20.0);
/// Land, mm.
pub(super) const LAND: Within = Within::new(0.01, 20.0);

/// What editors and other programs are told of a cutter.
pub(super) fn keys(about: &str) -> Schema {
    let angle = "Angle between its flanks, degrees, 1 to 170.";
    let depth = "How deep it cuts, with `angle`: the cut is tip + 2 x depth x tan(angle / 2) wide.";
    schema::table(
        about,
        [
            ("tip", schema::length("Width of its tip: the narrowest cut.", TIP).needed()),
            ("angle", schema::number(angle, ANGLE)),
            ("depth", schema::length(depth, DEPTH)),
        ],
    )
    .also(serde_json::json!({ "dependentRequired": { "angle": ["depth"], "depth": ["angle"] } }))
}

/// Reads a cutter.
pub(super) fn cutter(mut table: Table<'_>, notes: &mut Notes<'_>) -> Option<Cutter> {
    let tip = table.need(notes, "tip", "tip = \"0.25 mm\"");
    let tip = tip.and_then(|entry| notes.length(&entry, TIP));
    let angle_entry = table.take(notes, "angle");
    let depth_entry = table.take(notes, "depth");
    let alone = match (&angle_entry, &depth_entry) {
        (Some(entry), None) => Some((entry, "depth", "depth = \"0.2 mm\"")),
        (None, Some(entry)) => Some((entry, "angle", "angle = 40 (degrees between its flanks)")),
        _ => None,
    };
    if let Some((entry, missing, example)) = alone {
        let message = format!("`{}` needs `{missing}` beside it", entry.path);
        notes.wrong(&entry.span, message, format!("write {example}"));
    }
    let angle = angle_entry.as_ref().map(|entry| notes.number(entry, ANGLE));
    let depth = depth_entry.as_ref().map(|entry| notes.length(entry, DEPTH));
    table.finish(notes);
    let point = match (angle, depth) {
        (None, None) => None,
        (Some(angle), Some(depth)) => Some(Point { angle: angle?, depth: depth? }),
        _ => return None,
    };
    Some(Cutter { tip: tip?, point })
}

#[cfg(test)]
mod tests {
    use super::{Cutter, Point};

    #[test]
    fn a_taper_widens_the_cut_by_its_depth() {
        let plain = Cutter { tip: 0.25, point: None };
        assert_eq!((plain.width(), plain.told().as_str()), (0.25, "tip 0.25 mm"));
        // 90 degrees: as much on either side as it is deep. 60: tan 30 = 1 / √3.
        let right = Cutter { tip: 0.1, point: Some(Point { angle: 90.0, depth: 0.2 }) };
        assert!((right.width() - 0.5).abs() < 1e-12);
        let sixty = Cutter { tip: 0.2, point: Some(Point { angle: 60.0, depth: 0.3 }) };
        assert!((sixty.width() - (0.2 + 0.6 / 3.0_f64.sqrt())).abs() < 1e-12);
        assert_eq!(sixty.told(), "tip 0.2 mm, 60\u{b0} at 0.3 mm deep: cuts 0.546 mm wide");
        assert_eq!(sixty.written(), "{ tip = \"0.2 mm\", angle = 60, depth = \"0.3 mm\" }");
    }
}
