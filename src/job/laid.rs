//! From where photographs stand to every glyph in its place. Who looks for the best place of
//! a photograph asks for this many times.

use crate::decoration::{self, Placed};
use crate::fit::{self, Fitted};
use crate::floors::{self, Floor};
use crate::layout::{Diagnostic, Layout};
use crate::lettering::ShapedLine;
use crate::mount::MountPlan;
use crate::photo::{PlacedPhoto, Stand};
use crate::plate::{self, ClearZone, Field};
use crate::wording;

use super::credit::Credit;
use super::{lines, photos};

/// What does not depend on where photographs stand.
pub(super) struct Ground<'a> {
    /// What was asked.
    pub(super) layout: &'a Layout,
    /// Holes and face.
    pub(super) mount: &'a MountPlan,
    /// Ornaments in the corners.
    pub(super) corners: Vec<Placed>,
    /// Zones of holes, border and corners.
    zones: Vec<ClearZone>,
    /// Where each line may break.
    marks: Vec<wording::Marks>,
    /// The lines, shaped once, as the lettering that they ask for has them.
    lines: Vec<ShapedLine>,
    /// The credit under each photograph.
    pub(super) credits: Vec<Option<Credit>>,
}

/// Everything placed.
pub(super) struct Laid {
    /// Photographs in their places.
    pub(super) photos: Vec<PlacedPhoto>,
    /// All clear zones.
    pub(super) zones: Vec<ClearZone>,
    /// Where lettering may stand.
    pub(super) field: Field,
    /// Shaped lines.
    pub(super) lines: Vec<ShapedLine>,
    /// Every glyph placed.
    pub(super) fitted: Fitted,
}

/// Photographs placed, and the lettering that is to stand beside them.
struct Beside {
    photos: Vec<PlacedPhoto>,
    zones: Vec<ClearZone>,
    field: Field,
    lines: Vec<ShapedLine>,
    floors: Vec<Floor>,
}

impl<'a> Ground<'a> {
    /// The ground of a layout.
    ///
    /// # Errors
    /// Lettering that cannot be opened.
    pub(super) fn of(layout: &'a Layout, mount: &'a MountPlan) -> Result<Self, Vec<Diagnostic>> {
        let mut zones = mount.zones();
        zones.extend(plate::border_zones(&layout.plate, &zones));
        let corners = layout.corners.map_or_else(Vec::new, |asked| {
            let corners = decoration::corners(&layout.plate, &asked);
            zones.extend(decoration::zones(&corners, asked.gap));
            corners
        });
        let marks: Vec<wording::Marks> = layout.lines.iter().map(wording::marks).collect();
        Ok(Self {
            layout,
            mount,
            corners,
            zones,
            lines: lines::shaped(layout, &marks)?,
            marks,
            credits: layout.photos.iter().map(|photo| Credit::of(photo, layout)).collect(),
        })
    }

    /// Everything placed where photographs stand so.
    pub(super) fn laid(&self, stands: &[Stand]) -> Laid {
        let Beside { photos, zones, field, lines, floors } = self.beside(stands);
        let fitted = fit::fitted(self.layout, &lines, &self.marks, &floors, &field);
        Laid { photos, zones, field, lines, fitted }
    }

    /// The same, if every line keeps its floor.
    pub(super) fn laid_if_kept(&self, stands: &[Stand]) -> Option<Laid> {
        let Beside { photos, zones, field, lines, floors } = self.beside(stands);
        let fitted = fit::fitted_if_kept(self.layout, &lines, &self.marks, &floors, &field)?;
        Some(Laid { photos, zones, field, lines, fitted })
    }

    fn beside(&self, stands: &[Stand]) -> Beside {
        let layout = self.layout;
        let photos = photos::placed(layout, stands, &self.credits);
        let mut zones = self.zones.clone();
        zones.extend(photos::zones(layout, &photos));
        let mut field = plate::field(&layout.plate, &zones);
        if let Some(axis) = photos::axis(layout, &photos, &field) {
            field.axis_x = axis;
        }
        let lines = lines::drawn(layout, self.lines.clone(), &field);
        let lines = lines::narrowed(layout, lines, &self.marks, &field);
        let floors = floors::of(&lines, layout);
        Beside { photos, zones, field, lines, floors }
    }
}
