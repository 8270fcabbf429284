//! A drawing together with the places of the plate on its pages.

use crate::drawing::{Drawing, Item, Page};

/// A sheet, and where on it the plate lies at true size.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The drawing.
    pub drawing: Drawing,
    /// For each page, where the plate's top left corner lies on it, mm; outside the
    /// page where it stands on another tile; `None` on pages that do not show the plate
    /// at true size.
    pub plate_at: Vec<Option<(f64, f64)>>,
}

impl Sheet {
    /// A sheet whose plates are its groups `plate`.
    pub(super) fn with_plates(drawing: Drawing) -> Self {
        let plate_at = drawing.pages.iter().map(plate_on).collect();
        Self { drawing, plate_at }
    }

    /// A sheet each page of which is the plate's own box.
    pub(super) fn of_plates(drawing: Drawing) -> Self {
        let plate_at = drawing.pages.iter().map(|_| Some((0.0, 0.0))).collect();
        Self { drawing, plate_at }
    }
}

/// The shift of the group `plate`, which is drawn in plate coordinates; on a tile
/// within the group `tile`.
fn plate_on(page: &Page) -> Option<(f64, f64)> {
    plate_in(&page.items)
}

fn plate_in(items: &[Item]) -> Option<(f64, f64)> {
    items.iter().find_map(|item| match item {
        Item::Group(group) if group.name == "plate" => {
            let shift = group.transform.translation();
            Some((shift.x, shift.y))
        }
        Item::Group(group) if group.name == "tile" => {
            let shift = group.transform.translation();
            plate_in(&group.items).map(|(x, y)| (x + shift.x, y + shift.y))
        }
        _ => None,
    })
}
