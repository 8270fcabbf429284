//! Everything that the tool makes on the face of the plate, as one list of outlines.
//!
//! Equal letters are one shape that stands in several places, so that whatever is worked
//! out of shapes is worked out once.

use std::collections::BTreeMap;

use kurbo::{Affine, BezPath, Cap, Join, Stroke, StrokeOpts, Vec2};

use crate::decoration::Stands as Stood;
use crate::job::Job;
use crate::lettering::Area;
use crate::photo::PlacedPhoto;
use crate::plate;

/// How far the sides of a line may leave their true place, mm.
const ACCURACY: f64 = 1e-4;
/// A line is as wide as the cut if the two differ by no more than this, mm: the grid on
/// which everything is drawn.
const SAME: f64 = 1e-3;

/// A shape about its own origin, mm, y down.
#[derive(Debug, Clone)]
pub(super) enum Shape {
    /// What a path fills.
    Filled(BezPath),
    /// A line of a width.
    Line(BezPath, f64),
    /// A centre line of a letter, as wide as the cut along it, round where it ends and turns.
    Stroke(BezPath, f64),
}

/// A shape where it stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stands {
    /// Index of the shape.
    pub(super) shape: usize,
    /// Its origin, mm in plate coordinates.
    pub(super) at: Vec2,
    /// Index of the row that it belongs to.
    pub(super) row: Option<usize>,
}

/// All outlines.
#[derive(Debug, Clone, Default)]
pub(super) struct Engraved {
    /// Shapes, each once.
    pub(super) shapes: Vec<Shape>,
    /// Where they stand: letters in the order of reading, decoration, the border.
    pub(super) stands: Vec<Stands>,
}

impl Engraved {
    /// What a job engraves: the letters of all rows, decoration, frames and credits of
    /// photographs, and the border.
    pub(super) fn of(job: &Job) -> Self {
        let mut all = Self::default();
        // The address tells open faces apart; no result depends on its value.
        let mut known: BTreeMap<(usize, u16, u64), usize> = BTreeMap::new();
        for (index, row) in job.fitted.rows.iter().enumerate() {
            let Some(line) = job.lines.get(row.line) else { continue };
            for glyph in &row.glyphs {
                let face = line.face_of(glyph.face);
                let address = std::ptr::from_ref(&**face) as usize;
                let key = (address, glyph.id, row.cap_height.to_bits());
                let shape = *known.entry(key).or_insert_with(|| {
                    let em = row.drawn_height() / face.cap_em();
                    let path = Affine::scale_non_uniform(em, -em) * face.outline(glyph.id);
                    all.shapes.push(if row.cut > 0.0 {
                        Shape::Stroke(path, row.cut)
                    } else {
                        Shape::Filled(path)
                    });
                    all.shapes.len() - 1
                });
                let at = Vec2::new(glyph.x, glyph.y);
                all.stands.push(Stands { shape, at, row: Some(index) });
            }
        }
        for placed in &job.decoration {
            let row = match placed.stands {
                Stood::Line(line) => job.fitted.rows.iter().position(|row| row.line == line),
                Stood::Corner(_) => None,
            };
            all.stands.push(Stands { shape: all.shapes.len(), at: Vec2::ZERO, row });
            all.shapes.push(Shape::Filled(placed.path.clone()));
        }
        for path in job.photos.iter().flat_map(PlacedPhoto::engraved) {
            all.stands.push(Stands { shape: all.shapes.len(), at: Vec2::ZERO, row: None });
            all.shapes.push(Shape::Filled(path.clone()));
        }
        if let Some(border) = job.layout.plate.border {
            for path in plate::border_paths(&job.layout.plate, &job.zones) {
                all.stands.push(Stands { shape: all.shapes.len(), at: Vec2::ZERO, row: None });
                all.shapes.push(Shape::Line(path, border.weight));
            }
        }
        all
    }
}

impl Shape {
    /// What is to be cut, or left standing, by a tool of a width, mm; `None` for outlines
    /// that cannot be worked with (see [`Area::of`]).
    pub(super) fn area(&self) -> Option<Area> {
        match self {
            Self::Filled(path) => Area::of(path),
            Self::Stroke(path, width) => round(path, *width),
            Self::Line(path, width) => {
                let style = Stroke::new(*width).with_join(Join::Miter).with_caps(Cap::Butt);
                Area::of(&kurbo::stroke(path.iter(), &style, &StrokeOpts::default(), ACCURACY))
            }
        }
    }

    /// What a tool of that width cuts in going along a line of its own width once: round
    /// where the line ends and turns. `None` for all else.
    pub(super) fn pass(&self, width: f64) -> Option<Area> {
        match self {
            Self::Line(path, own) | Self::Stroke(path, own) if (own - width).abs() <= SAME => {
                round(path, *own)
            }
            _ => None,
        }
    }
}

/// What a round tool of a width leaves in going along a path.
fn round(path: &BezPath, width: f64) -> Option<Area> {
    let style = Stroke::new(width).with_join(Join::Round).with_caps(Cap::Round);
    Area::of(&kurbo::stroke(path.iter(), &style, &StrokeOpts::default(), ACCURACY))
}
