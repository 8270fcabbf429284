//! Where photographs stand.

use std::sync::{Arc, OnceLock};

use kurbo::{Affine, BezPath, Point, Shape as _};

use crate::layout::{Layout, Photo, PhotoSide, PhotoSize, PhotoStands, Shape};
use crate::plate::{Outline, lettering_edge};

use super::crop::crop;
use super::made::{Made, Shown};

/// How closely an outline is followed where it is held against the field, mm.
const FOLLOWED: f64 = 0.01;
/// Lengths nearer than this are equal, mm.
const EQUAL: f64 = 1e-6;
/// Halvings of the way from the edge of the field to its middle.
const HALVINGS: usize = 40;
/// The grid on which photographs stand, steps a mm: that of all that is cut.
const GRID: f64 = 1000.0;

/// Where one photograph stands and how large it is, once nothing of it is to be worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stand {
    /// At a side or a point.
    pub spot: Standing,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Width and height of what stands under it and belongs to it, white above it and all,
    /// mm; 0 for nothing.
    pub under: (f64, f64),
}

/// A side of the field, or the place of the centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Standing {
    /// In the middle of a side of what earlier photographs leave of the field.
    Side(PhotoSide),
    /// Centre, mm from the plate's left and top edges.
    At(f64, f64),
}

impl Stand {
    /// The stand that a photograph asks for; `None` where its place or size is to be worked
    /// out.
    #[must_use]
    pub fn asked(photo: &Photo) -> Option<Self> {
        match photo.stands {
            PhotoStands::Side(side) => Self::sized(photo, Standing::Side(side)),
            PhotoStands::At(x, y) => Self::sized(photo, Standing::At(x, y)),
            PhotoStands::Auto => None,
        }
    }

    /// The stand of a photograph at a spot, of the size that it asks for; `None` where that is
    /// to be worked out.
    #[must_use]
    pub fn sized(photo: &Photo, spot: Standing) -> Option<Self> {
        let (width, height) = match photo.size {
            PhotoSize::Both(width, height) => (width, height),
            PhotoSize::Width(width) => return Some(Self::of_width(photo, spot, width)),
            PhotoSize::Height(height) => (height * photo.proportion, height),
            PhotoSize::Largest(_) => return None,
        };
        Some(Self { spot, width, height, under: (0.0, 0.0) })
    }

    /// The stand of a photograph at a spot at a width, by its proportion.
    #[must_use]
    pub fn of_width(photo: &Photo, spot: Standing, width: f64) -> Self {
        Self { spot, width, height: width / photo.proportion, under: (0.0, 0.0) }
    }

    /// Half the width and half the height of everything together, `out` mm of frame with it.
    fn half(&self, out: f64) -> (f64, f64) {
        let across = (self.width / 2.0 + out).max(self.under.0 / 2.0);
        (across, (self.height + self.under.1) / 2.0 + out)
    }
}

/// A photograph in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPhoto {
    /// Which of the layout's photographs, from 0.
    pub index: usize,
    /// Left, top, right, bottom of the photograph, mm.
    pub sides: [f64; 4],
    /// Its outline, mm.
    pub outline: BezPath,
    /// The same in the coordinates of its own box, whose top left corner is 0.
    pub edge: Outline,
    /// The line round it as an area with its two edges, mm; `None` without a frame.
    pub frame: Option<BezPath>,
    /// The outer edge of that line, mm; `None` without a frame.
    frame_edge: Option<BezPath>,
    /// The edge of the pocket for it, mm; `None` where it is not set in.
    pub pocket: Option<BezPath>,
    /// Left, top, right, bottom of photograph, frame and what stands under it together, mm.
    pub taken: [f64; 4],
    /// The letters of its credit where they are engraved, mm.
    pub credit: Option<BezPath>,
    /// The part of the picture that is shown: left, top, right, bottom in its pixels.
    pub crop: [f64; 4],
    /// The side of the field that it takes, where it stands at one.
    pub side: Option<PhotoSide>,
    /// Its pixels as the process makes them, once somebody has asked.
    pub(super) pixels: OnceLock<Arc<Made>>,
    /// The same as it is seen.
    pub(super) shown: OnceLock<Shown>,
}

impl PlacedPhoto {
    /// Width, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.sides[2] - self.sides[0]
    }

    /// Height, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.sides[3] - self.sides[1]
    }

    /// The outer edge of photograph and frame together, mm.
    #[must_use]
    pub fn outer(&self) -> &BezPath {
        self.frame_edge.as_ref().unwrap_or(&self.outline)
    }

    /// Edges of all that must be kept clear of: photograph with frame, and its credit.
    pub fn edges(&self) -> impl Iterator<Item = &BezPath> {
        std::iter::once(self.outer()).chain(&self.credit)
    }

    /// What is engraved about it, mm.
    pub fn engraved(&self) -> impl Iterator<Item = &BezPath> {
        self.frame.iter().chain(&self.credit)
    }

    /// Pixels of the picture on one mm of the plate.
    #[must_use]
    pub fn pixels_per_mm(&self) -> f64 {
        (self.crop[2] - self.crop[0]) / self.width()
    }
}

/// All photographs in their places, in the order of the layout. One at a side stands against
/// that side of the field, in the middle of what is left of it, as near to the edge as its
/// whole outline, frame and all, keeps inside.
#[must_use]
pub fn placed(layout: &Layout, stands: &[Stand]) -> Vec<PlacedPhoto> {
    let plate = &layout.plate;
    let edge = lettering_edge(plate);
    let field = edge.inset(plate.bevel + plate.margin).unwrap_or(edge);
    let mut rest = field.bounds();
    let mut all = Vec::with_capacity(stands.len());
    for (index, (photo, stand)) in layout.photos.iter().zip(stands).enumerate() {
        let out = photo.frame.map_or(0.0, |frame| frame.gap + frame.weight);
        let (half, below) = (stand.half(out), stand.under.1);
        let (centre, side) = match stand.spot {
            Standing::At(x, y) => (Point::new(x, y), None),
            Standing::Side(side) => {
                // The photograph is above the middle of itself and what stands under it.
                let up = Affine::translate((0.0, -below / 2.0));
                let mut shape = up * grown(&photo.shape, (stand.width, stand.height), out);
                if below > 0.0 {
                    shape.extend(foot(stand.under.0, half.1, below));
                }
                let centre = against(side, &field, rest, &shape, half);
                (Point::new(centre.x, centre.y - below / 2.0), Some(side))
            }
        };
        let centre = Point::new((centre.x * GRID).round() / GRID, (centre.y * GRID).round() / GRID);
        let placed = at(index, photo, *stand, centre, side);
        let [left, top, right, bottom] = placed.taken;
        match side {
            Some(PhotoSide::Left) => rest[0] = right + photo.gap,
            Some(PhotoSide::Right) => rest[2] = left - photo.gap,
            Some(PhotoSide::Top) => rest[1] = bottom + photo.gap,
            Some(PhotoSide::Bottom) => rest[3] = top - photo.gap,
            None => {}
        }
        all.push(placed);
    }
    all
}

fn at(
    index: usize,
    photo: &Photo,
    stand: Stand,
    centre: Point,
    side: Option<PhotoSide>,
) -> PlacedPhoto {
    let size = (stand.width, stand.height);
    let ring = |out: f64| moved(&grown(&photo.shape, size, out), centre);
    let out = photo.frame.map_or(0.0, |frame| frame.gap + frame.weight);
    let around = |out: f64| {
        let (x, y) = (size.0 / 2.0 + out, size.1 / 2.0 + out);
        [centre.x - x, centre.y - y, centre.x + x, centre.y + y]
    };
    PlacedPhoto {
        index,
        sides: around(0.0),
        outline: ring(0.0),
        edge: Outline::new(stand.width, stand.height, &photo.shape),
        frame: photo.frame.map(|frame| {
            let mut line = ring(out);
            line.extend(ring(frame.gap).reverse_subpaths());
            line
        }),
        frame_edge: photo.frame.map(|_| ring(out)),
        pocket: photo.making.inset.map(|inset| ring(inset.gap)),
        taken: {
            let [_, top, _, bottom] = around(out);
            let half = stand.half(out).0;
            [centre.x - half, top, centre.x + half, bottom + stand.under.1]
        },
        credit: None,
        crop: crop(photo, stand.width / stand.height),
        side,
        pixels: OnceLock::new(),
        shown: OnceLock::new(),
    }
}

/// The outline of a photograph, `out` mm farther out all round, its middle at the origin.
/// Square corners stay square, as a frame's do; an oval becomes its parallel curve.
fn grown(shape: &Shape, (width, height): (f64, f64), out: f64) -> BezPath {
    let (whole, tall) = (width + 2.0 * out, height + 2.0 * out);
    let shape = match shape {
        Shape::Rounded { corner } => Shape::Rounded { corner: corner + out },
        Shape::Oval if out > 0.0 => {
            let middle = Affine::translate((-width / 2.0, -height / 2.0));
            return middle * Outline::around_oval(width, height, out);
        }
        other => other.clone(),
    };
    let outline = Outline::new(whole, tall, &shape);
    Affine::translate((-whole / 2.0, -tall / 2.0)) * outline.path()
}

/// What stands under a photograph, its whole group's middle at the origin.
fn foot(width: f64, half_y: f64, below: f64) -> BezPath {
    kurbo::Rect::new(-width / 2.0, half_y - below, width / 2.0, half_y).to_path(FOLLOWED)
}

fn moved(path: &BezPath, centre: Point) -> BezPath {
    Affine::translate(centre.to_vec2()) * path
}

/// The points of a shape that is moved about in a field.
struct Followed<'a> {
    field: &'a Outline,
    points: Vec<Known>,
}

/// A point, and how deep in the field it is known to lie when the centre stands somewhere.
struct Known {
    off: kurbo::Vec2,
    centre: Point,
    depth: f64,
}

impl<'a> Followed<'a> {
    fn new(field: &'a Outline, shape: &BezPath) -> Self {
        let mut points = Vec::new();
        kurbo::flatten(shape.iter(), FOLLOWED, |element| {
            points.extend(element.end_point().map(|point| Known {
                off: point.to_vec2(),
                centre: Point::ZERO,
                depth: f64::NEG_INFINITY,
            }));
        });
        Self { field, points }
    }

    /// Whether all of it is inside with its centre here. A depth changes by no more than its
    /// point is moved: most points are not asked for it again.
    fn inside(&mut self, centre: Point) -> bool {
        self.points.iter_mut().all(|known| {
            if known.depth - known.centre.distance(centre) < 0.0 {
                let at = centre + known.off;
                (known.centre, known.depth) = (centre, self.field.depth_of(at.x, at.y));
            }
            known.depth >= -EQUAL
        })
    }
}

/// Where the centre of a shape stands that is pushed against one side of the field.
fn against(
    side: PhotoSide,
    field: &Outline,
    rest: [f64; 4],
    shape: &BezPath,
    (half_x, half_y): (f64, f64),
) -> Point {
    let [left, top, right, bottom] = rest;
    let middle = Point::new(f64::midpoint(left, right), f64::midpoint(top, bottom));
    let nearest = match side {
        PhotoSide::Left => Point::new(left + half_x, middle.y),
        PhotoSide::Right => Point::new(right - half_x, middle.y),
        PhotoSide::Top => Point::new(middle.x, top + half_y),
        PhotoSide::Bottom => Point::new(middle.x, bottom - half_y),
    };
    let mut followed = Followed::new(field, shape);
    let mut inside = |centre: Point| followed.inside(centre);
    // Where it has no room even in the middle, it stands where it would reach least far out
    // along its side; the checks tell it.
    if inside(nearest) || !inside(middle) {
        return nearest;
    }
    let (mut out, mut within) = (nearest, middle);
    for _ in 0..HALVINGS {
        let half = out.midpoint(within);
        if inside(half) { within = half } else { out = half }
    }
    // Towards the middle, so that snapping does not push it out again.
    let snapped = |from: f64, to: f64| {
        if to > from {
            (from * GRID - EQUAL).ceil() / GRID
        } else {
            (from * GRID + EQUAL).floor() / GRID
        }
    };
    Point::new(snapped(within.x, middle.x), snapped(within.y, middle.y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_remembered_of_points_changes_no_answer() {
        let shape = grown(&Shape::Oval, (30.0, 40.0), 2.0);
        let own = Shape::Arch { rise: None };
        for field in [
            Outline::new(100.0, 80.0, &Shape::Oval),
            Outline::new(100.0, 80.0, &own),
            Outline::new(100.0, 80.0, &Shape::Rounded { corner: 12.0 }),
        ] {
            let mut followed = Followed::new(&field, &shape);
            let offs: Vec<_> = followed.points.iter().map(|known| known.off).collect();
            let (mut within, mut out) = (0, 0);
            // From near to far and back, as halvings do.
            for step in 0..400_u32 {
                let far = f64::from(step * 7919 % 400) / 8.0;
                let (sin, cos) = libm::sincos(f64::from(step));
                let centre = Point::new(50.0 + far * cos, 40.0 + far * sin / 2.0);
                let plain = offs.iter().all(|off| {
                    let at = centre + *off;
                    field.depth_of(at.x, at.y) >= -EQUAL
                });
                assert_eq!(followed.inside(centre), plain, "{centre:?}");
                if plain { within += 1 } else { out += 1 }
            }
            assert!(within > 40 && out > 40, "{within} inside, {out} outside");
        }
    }
}
