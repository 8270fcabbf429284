//! A plaque drawn from what is cut, in lines and black.

use std::collections::BTreeSet;
use std::ops::Range;

use kurbo::{Affine, BezPath, Rect, Shape};

use crate::drawing::{Ends, Group, Item, LineType, Path, Stroke};
use crate::job::{Cut, CutHole, Trace, millimetres};

use super::super::block::{NARROW, circle, hole_edge, line_of};
use super::super::text::BLACK;
use super::super::words;

/// Width of the lines of what is laid over each other, mm (ISO 128-20: 0.13): dashes, which
/// are twelve times as long, still tell a small letter.
const FINE: f64 = 0.13;
/// Width of the edge of a plate side by side, mm (ISO 128-20: 0.25).
const EDGE: f64 = 0.25;

/// Scales of ISO 5455, larger than true and smaller.
const SCALES: [f64; 13] =
    [10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001];

/// Greatest enlargement of a line.
pub(super) const MOST: f64 = 10.0;

/// The largest scale of ISO 5455 that is no larger than both.
pub(super) fn scale_of(across: f64, down: f64) -> f64 {
    let most = across.min(down);
    SCALES.iter().copied().find(|scale| *scale <= most).unwrap_or(most)
}

/// A fine line of a type.
pub(super) fn line(line_type: LineType) -> Stroke {
    Stroke { width: FINE, line_type, ends: Ends::Square, colour: BLACK }
}

/// A box that is never without width or height, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Box2 {
    pub(super) left: f64,
    pub(super) top: f64,
    right: f64,
    bottom: f64,
}

impl Box2 {
    fn new(rect: Rect) -> Self {
        let Rect { x0, y0, x1, y1 } = rect;
        Self { left: x0, top: y0, right: x1.max(x0 + 0.1), bottom: y1.max(y0 + 0.1) }
    }

    /// Of a whole plaque with its heads.
    pub(super) fn of(cut: &Cut) -> Self {
        let heads = cut.holes.iter().map(|hole| hole_path(hole, hole.head.max(hole.diameter)));
        let paths = std::iter::once(cut.outline.path()).chain(heads);
        let boxes = paths.map(|path| path.bounding_box());
        Self::new(boxes.reduce(|all, next| all.union(next)).unwrap_or_default())
    }

    /// Round some paths; `None` where they show nothing.
    pub(super) fn round(paths: &[BezPath]) -> Option<Self> {
        let drawn = paths.iter().filter(|path| !path.elements().is_empty());
        drawn.map(|path| path.bounding_box()).reduce(|all, next| all.union(next)).map(Self::new)
    }

    /// Round both.
    pub(super) fn joined(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    pub(super) fn width(self) -> f64 {
        self.right - self.left
    }

    pub(super) fn height(self) -> f64 {
        self.bottom - self.top
    }
}

fn hole_path(hole: &CutHole, diameter: i64) -> BezPath {
    let place = (millimetres(hole.at.0), millimetres(hole.at.1));
    let radius = millimetres(diameter) / 2.0;
    match hole.travel {
        None => circle(place.0, place.1, radius),
        Some((across, down)) => hole_edge(place, (millimetres(across), millimetres(down)), radius),
    }
}

/// The letters of some rows, a path a row, mm.
pub(super) fn rows(cut: &Cut, rows: Range<usize>) -> Vec<BezPath> {
    rows.map(|row| cut.row(row).flat_map(|letter| letter.path()).collect()).collect()
}

/// Drawings, and what is engraved about photographs.
fn drawings(cut: &Cut) -> impl Iterator<Item = &Trace> {
    cut.decoration.iter().chain(cut.photos.iter().flat_map(|photo| &photo.engraved))
}

/// Everything but letters and drawings: edge, border, holes, edges of photographs, whose
/// pixels a record does not hold.
fn edges(cut: &Cut) -> Vec<BezPath> {
    let border = cut.border.iter().flat_map(|border| &border.lines).map(Trace::path);
    let holes = cut
        .holes
        .iter()
        .flat_map(|hole| [hole.diameter, hole.head].map(|diameter| hole_path(hole, diameter)));
    let photos = cut.photos.iter().flat_map(|photo| photo.pocket.iter().chain([&photo.outline]));
    let photos = photos.map(Trace::path);
    std::iter::once(cut.outline.path()).chain(border).chain(holes).chain(photos).collect()
}

/// One plaque: edges as lines, letters black.
pub(super) fn plaque(cut: &Cut, scale: f64, name: &str) -> Group {
    let sized = |path: BezPath| Affine::scale(scale) * path;
    let mut items: Vec<Item> = Vec::new();
    for (index, path) in edges(cut).into_iter().enumerate() {
        let width = if index == 0 { EDGE } else { NARROW.min(FINE) };
        items.push(Path::stroked(sized(path), line_of(width)).into());
    }
    let drawings = drawings(cut).map(Trace::path);
    for path in drawings.chain(rows(cut, 0..cut.rows.len())) {
        if !path.elements().is_empty() {
            items.push(Path::filled(sized(path), BLACK).into());
        }
    }
    Group::new(&name.to_lowercase(), &format!("{name} plaque"), items)
}

/// Both plaques in lines; of the old one only what the new one has not in the same place,
/// so that dashes are seen only where something is otherwise.
pub(super) fn over(old: &Cut, new: &Cut, scale: f64) -> Vec<Group> {
    let all = |cut: &Cut| -> Vec<Trace> {
        let edges = edges(cut).iter().map(Trace::of).collect::<Vec<_>>();
        let drawings = drawings(cut).cloned();
        let letters = (0..cut.rows.len()).flat_map(|row| cut.row(row));
        edges.into_iter().chain(drawings).chain(letters).collect()
    };
    let (old, new) = (all(old), all(new));
    let kept: BTreeSet<&Trace> = new.iter().collect();
    let gone: Vec<BezPath> =
        old.iter().filter(|trace| !kept.contains(trace)).map(Trace::path).collect();
    let here: Vec<BezPath> = new.iter().map(Trace::path).collect();
    vec![
        in_lines(("over-old", words::OVER_OLD), &gone, LineType::Dashed, scale),
        in_lines(("over-new", words::OVER_NEW), &here, LineType::Continuous, scale),
    ]
}

/// Paths in lines of a type, enlarged; their lines are not.
pub(super) fn in_lines(
    (name, description): (&str, &str),
    paths: &[BezPath],
    line_type: LineType,
    scale: f64,
) -> Group {
    let drawn = paths.iter().filter(|path| !path.elements().is_empty());
    let items = drawn
        .map(|path| Path::stroked(Affine::scale(scale) * path.clone(), line(line_type)).into());
    Group::new(name, description, items.collect())
}

#[cfg(test)]
mod tests {
    use super::scale_of;

    /// ISO 5455 (from memory): 1:1; 2:1, 5:1, 10:1; 1:2, 1:5, 1:10 and so on.
    #[test]
    fn a_scale_is_one_of_the_standard_and_fits() {
        let same = |a: f64, b: f64| (a - b).abs() < 1e-12;
        assert!(same(scale_of(1.5, 2.0), 1.0));
        assert!(same(scale_of(2.0, 7.0), 2.0));
        assert!(same(scale_of(0.99, 7.0), 0.5));
        assert!(same(scale_of(12.0, 30.0), 10.0));
        assert!(same(scale_of(1e-9, 1.0), 1e-9), "what no scale shows is drawn as it fits");
    }
}
