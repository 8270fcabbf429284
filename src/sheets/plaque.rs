//! The plaque at true size, as named groups in plate coordinates: outline,
//! border, lettering, holes.

use std::sync::Arc;

use kurbo::{Affine, BezPath, Shape};

use crate::drawing::{Ends, Group, Image, Item, Paint, Path, Pixels, Scaling, Stroke};
use crate::fit::Row;
use crate::job::Job;
use crate::layout::{Cut, Layout, Photo};
use crate::mount::Front;
use crate::photo::{Shown, mark_colour};
use crate::plate::{self, Look};
use crate::units::digits::trimmed;

use super::block::{circle, hole_edge, line_of, straight};
use super::text::BLACK;
use super::united::united;

/// Width of edges on the coloured plaque, mm.
pub(super) const EDGE: f64 = 0.12;

/// Width of a head's slot as a share of its radius, as drawn.
pub(super) const SLOT_SHARE: f64 = 0.22;

/// How the heads of fixings are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Heads {
    /// With rim and slot.
    Drawn,
    /// Plain discs: nothing that could be taken for a mark to drill at.
    Plain,
}

/// Outlines of the letters of a row, or their centre lines where it has a cut; mm in plate
/// coordinates, y down.
pub(super) fn row_outlines(job: &Job, row: &Row) -> Vec<BezPath> {
    let Some(line) = job.lines.get(row.line) else { return Vec::new() };
    row.glyphs
        .iter()
        .map(|glyph| {
            let face = line.face_of(glyph.face);
            let em = row.drawn_height() / face.cap_em();
            let place = Affine::new([em, 0.0, 0.0, -em, glyph.x, glyph.y]);
            place * face.outline(glyph.id)
        })
        .collect()
}

/// The wording as it stands on the plate, row by row.
pub(super) fn wording(job: &Job) -> String {
    let rows: Vec<&str> = if job.fitted.rows.is_empty() {
        let lines = job.layout.lines.iter().filter(|line| line.ornament.is_none());
        lines.map(|line| line.text.as_str()).collect()
    } else {
        let rows = job.fitted.rows.iter().filter(|row| row.drawn.is_none());
        rows.map(|row| row.text.as_str()).collect()
    };
    rows.join("\n")
}

/// The lettering as it is seen: one path a row, filled, or as wide as its cut.
pub(super) fn lettering(job: &Job, paint: &Paint) -> Group {
    // A gradient is for areas; a line takes its middle colour.
    let colour = match paint {
        Paint::Solid(colour) => *colour,
        Paint::Linear { stops, .. } => stops.get(stops.len() / 2).map_or(BLACK, |stop| stop.1),
    };
    let rows = job.fitted.rows.iter().map(|row| {
        let path = row_outlines(job, row).into_iter().flatten().collect();
        if row.cut > 0.0 {
            Path::stroked(path, Stroke { colour, ends: Ends::Round, ..line_of(row.cut) })
        } else {
            Path { path, fill: Some(paint.clone()), stroke: None }
        }
    });
    Group::new("lettering", &wording(job), inked(rows))
}

/// Filled rows for a machine: letters united, so that no inner edge is followed.
pub(super) fn united_lettering(job: &Job) -> Vec<Item> {
    let rows = job.fitted.rows.iter().filter(|row| row.cut <= 0.0);
    inked(rows.map(|row| Path::filled(united(row_outlines(job, row)), BLACK)))
}

/// Centre lines of single-stroke rows for a machine, each to be followed once: `width` wide,
/// mm, as lines of artwork are.
pub(super) fn centre_lines(job: &Job, width: f64) -> Vec<Item> {
    let rows = job.fitted.rows.iter().filter(|row| row.cut > 0.0);
    inked(rows.map(|row| {
        let path = row_outlines(job, row).into_iter().flatten().collect();
        Path::stroked(path, Stroke { ends: Ends::Round, ..line_of(width) })
    }))
}

/// Paths of rows, those without ink left out.
fn inked(rows: impl Iterator<Item = Path>) -> Vec<Item> {
    rows.filter(|row| !row.path.is_empty()).map(Item::from).collect()
}

/// Dividers, emblems and corner ornaments, one filled path each. A group of its own: they
/// are often cut deeper than the letters, or with another tool, and one of them may be
/// withheld by its owner.
pub(super) fn decoration(job: &Job, paint: &Paint) -> Option<Group> {
    let paths: Vec<Item> = job
        .decoration
        .iter()
        .map(|placed| {
            let path = placed.path.clone();
            Path { path, fill: Some(paint.clone()), stroke: None }.into()
        })
        .collect();
    (!paths.is_empty()).then(|| Group::new("decoration", "Dividers, emblems, ornaments", paths))
}

/// Border lines at their weight.
pub(super) fn border(job: &Job, colour: [u8; 3]) -> Option<Group> {
    let border = job.layout.plate.border?;
    let paths = plate::border_paths(&job.layout.plate, &job.zones)
        .into_iter()
        .map(|path| {
            let mut stroke = line_of(border.weight);
            stroke.colour = colour;
            Path::stroked(path, stroke).into()
        })
        .collect();
    Some(Group::new("border", "Border lines", paths))
}

/// Photographs as they will be seen, with frames and credits.
pub(super) fn photos(job: &Job) -> Option<Group> {
    let layout = &job.layout;
    let colour = mark_colour(layout);
    let items: Vec<Item> = job
        .photos
        .iter()
        .filter_map(|placed| {
            let photo = layout.photos.get(placed.index)?;
            let [x0, y0, x1, y1] = placed.sides;
            let image = |pixels, scaling| Image {
                area: kurbo::Rect::new(x0, y0, x1, y1),
                pixels,
                scaling,
                clip: Some(placed.outline.clone()),
                description: photo_told(photo),
            };
            let image = match placed.shown(layout)? {
                Shown::Colour(picture) => image(Pixels::Colour(picture.clone()), Scaling::Smooth),
                Shown::Grey(grey) => image(Pixels::Grey(Arc::clone(grey)), Scaling::Smooth),
                Shown::Bare(bare) => {
                    image(Pixels::Paint { bare: Arc::clone(bare), colour }, Scaling::Crisp)
                }
            };
            let engraved = placed.engraved().map(|path| Path::filled(path.clone(), colour).into());
            let mut items: Vec<Item> = vec![image.into()];
            items.extend(engraved);
            let name = format!("photo-{}", placed.index + 1);
            Some(Group::new(&name, "", items).into())
        })
        .collect();
    (!items.is_empty()).then(|| Group::new("photos", "", items))
}

/// What a photograph is, for people who cannot see it.
pub(super) fn photo_told(photo: &Photo) -> String {
    let credit = photo.credit.as_ref().map_or_else(String::new, |by| format!(", by {by}"));
    format!("Photograph {}{credit}", photo.path)
}

/// The gradient of a look across a box.
fn sheen(look: &Look, width: f64, height: f64, reversed: bool) -> Paint {
    let (from, to) = ((0.0, 0.0), (width, height));
    let (from, to) = if reversed { (to, from) } else { (from, to) };
    Paint::Linear { from, to, stops: look.stops.clone() }
}

/// A colour mixed with black (`share` below 0) or white (above), −1 to 1.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the mean of two bytes is a byte"
)]
fn shaded(colour: [u8; 3], share: f64) -> [u8; 3] {
    let towards = if share < 0.0 { 0.0 } else { 255.0 };
    colour.map(|part| {
        let part = f64::from(part);
        (part + (towards - part) * share.abs()).round().clamp(0.0, 255.0) as u8
    })
}

/// The middle colour of a look.
fn tone(look: &Look) -> [u8; 3] {
    look.stops.get(look.stops.len() / 2).map_or([200; 3], |stop| stop.1)
}

/// The plate itself: surface and bevel.
pub(super) fn surface(layout: &Layout, look: &Look) -> Group {
    let plate = &layout.plate;
    let edge = plate::outline(plate);
    let mut rim = line_of(EDGE);
    rim.colour = shaded(tone(look), -0.55);
    let inner = if plate.bevel > 0.0 { edge.inset(plate.bevel) } else { None };
    let body = Path {
        path: edge.path(),
        // A bevel catches the light the other way round.
        fill: Some(sheen(look, plate.width, plate.height, inner.is_some())),
        stroke: Some(rim),
    };
    let mut items: Vec<Item> = vec![body.into()];
    if let Some(inner) = &inner {
        let mut seam = line_of(EDGE);
        seam.colour = shaded(tone(look), 0.5);
        let fill = Some(sheen(look, plate.width, plate.height, false));
        items.push(Path { path: inner.path(), fill, stroke: Some(seam) }.into());
    }
    if layout.engraving.cut == Cut::Raised {
        let ground = inner.as_ref().unwrap_or(&edge);
        items.push(Path::filled(ground.path(), cut_colour(layout, look)).into());
    }
    Group::new("outline", "Edge and surface of the plate", items)
}

/// The colour of what is cut away: paint, or bare.
fn cut_colour(layout: &Layout, look: &Look) -> [u8; 3] {
    plate::fill_row(layout.engraving.fill).map_or(look.cut, |fill| fill.rgb)
}

/// The plaque in its material, in plate coordinates, as one group `plate` whose
/// shift gives the plate's place on its page.
pub(super) fn plaque(job: &Job, heads: Heads) -> Group {
    let plate = &job.layout.plate;
    let look = plate::look(plate);
    let cut = cut_colour(&job.layout, &look);
    let raised = job.layout.engraving.cut == Cut::Raised;
    let ink =
        if raised { sheen(&look, plate.width, plate.height, false) } else { Paint::Solid(cut) };
    let mut items: Vec<Item> = vec![surface(&job.layout, &look).into()];
    items.extend(photos(job).map(Item::from));
    items.extend(border(job, if raised { tone(&look) } else { cut }).map(Item::from));
    items.extend(decoration(job, &ink).map(Item::from));
    let letters = lettering(job, &ink);
    if !letters.items.is_empty() {
        items.push(letters.into());
    }
    let holes: Vec<Item> = job
        .mount
        .holes
        .iter()
        .filter(|hole| hole.through)
        .flat_map(|hole| {
            let place = (hole.x, hole.y);
            let mut items = Vec::new();
            // A head that does not cover its slot shows what is wrong.
            if hole.slot.is_some() {
                let slot = hole_edge(place, hole.travel(), hole.clearance_diameter / 2.0);
                items.push(Path::filled(slot, shaded(tone(&look), -0.8)).into());
            }
            items.extend(head(job, &look, place, hole.head_diameter / 2.0, heads));
            items
        })
        .collect();
    if !holes.is_empty() {
        items.push(Group::new("holes", "Heads of the fixings over their holes", holes).into());
    }
    Group::new("plate", &plaque_told(job), items)
}

/// The plaque for people who cannot see it.
pub(super) fn plaque_told(job: &Job) -> String {
    let plate = &job.layout.plate;
    format!(
        "The plate, {} \u{d7} {} mm, {}; it reads:\n{}",
        trimmed(plate.width, 2),
        trimmed(plate.height, 2),
        plate.made_of(),
        wording(job)
    )
}

/// One head: a disc lit from the top left; with its slot where it has one.
fn head(job: &Job, look: &Look, (x, y): (f64, f64), radius: f64, heads: Heads) -> Vec<Item> {
    let base = tone(look);
    let mut rim = line_of(EDGE);
    rim.colour = shaded(base, -0.6);
    let reach = radius * 0.8;
    let fill = Paint::Linear {
        from: (x - reach, y - reach),
        to: (x + reach, y + reach),
        stops: vec![(0.0, shaded(base, 0.55)), (0.55, base), (1.0, shaded(base, -0.35))],
    };
    let disc = Path { path: circle(x, y, radius), fill: Some(fill), stroke: Some(rim) };
    let mut items: Vec<Item> = vec![disc.into()];
    let front = job.mount.fixing.as_ref().map_or(Front::Nothing, |fixing| fixing.front);
    if heads != Heads::Drawn || matches!(front, Front::Plain | Front::Nothing) {
        return items;
    }
    if front == Front::Oval {
        let mut ring = line_of(EDGE / 2.0);
        ring.colour = shaded(base, -0.35);
        items.push(Path::stroked(circle(x, y, radius * 0.82), ring).into());
    }
    if front == Front::Socket {
        let dark = Paint::Solid(shaded(base, -0.7));
        let path = Path { path: hexagon(x, y, radius * 0.5), fill: Some(dark), stroke: None };
        items.push(path.into());
        return items;
    }
    // Slots stand level, as a careful fitter leaves them.
    let mut slot = line_of((radius * SLOT_SHARE).max(0.15));
    slot.colour = shaded(base, -0.7);
    let half = radius * 0.9;
    items.push(Path::stroked(straight((x - half, y), (x + half, y)), slot).into());
    items
}

/// A hexagon with a corner to the right; `radius` to its corners.
pub(super) fn hexagon(x: f64, y: f64, radius: f64) -> BezPath {
    let (half, tall) = (radius / 2.0, radius * 0.75_f64.sqrt());
    let corners =
        [(radius, 0.0), (half, tall), (-half, tall), (-radius, 0.0), (-half, -tall), (half, -tall)];
    let mut path = BezPath::new();
    for (index, (across, down)) in corners.into_iter().enumerate() {
        let at = (x + across, y + down);
        if index == 0 { path.move_to(at) } else { path.line_to(at) }
    }
    path.close_path();
    path
}

/// Bounding box of the plate and of all heads, mm in plate coordinates.
pub(super) fn extent(job: &Job) -> kurbo::Rect {
    let plate = &job.layout.plate;
    let mut all = kurbo::Rect::new(0.0, 0.0, plate.width, plate.height);
    for hole in &job.mount.holes {
        let radius = hole.head_diameter.max(hole.clearance_diameter) / 2.0;
        let reach = hole_edge((hole.x, hole.y), hole.travel(), radius);
        all = all.union(reach.bounding_box());
    }
    all
}
