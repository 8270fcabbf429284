//! The engraving as the tool would leave it: what it removes, and what it should but
//! cannot.
//!
//! Incised letters come out as their area opened by the width of the cut, raised ones
//! closed by it (see [`Area`]). Shapes that are too far apart for one cut to touch both are
//! worked out each for itself, equal ones once.

use std::collections::BTreeMap;
use std::rc::Rc;

use kurbo::{Affine, BezPath, Rect, Vec2};

use crate::job::Job;
use crate::lettering::Area;
use crate::plate;

use super::engraved::{Engraved, Stands};

/// How far a drawn edge may leave its true place on paper, mm: a tenth of the finest dot of
/// common printers.
const UNSEEN: f64 = 0.004;

/// What becomes of some shapes that stand together, about their own origin, mm.
#[derive(Debug, Clone)]
struct Made {
    /// Incised: what is cut. Raised: what is left standing.
    made: Area,
    /// What should have been removed and is not.
    missed: Area,
    /// Size of what should have been made, mm².
    asked: f64,
}

/// The same in its place.
struct Piece {
    made: Rc<Made>,
    at: Vec2,
}

/// The engraving as cut.
pub(super) struct AsCut {
    /// The ground, where that is what is removed.
    ground: Option<BezPath>,
    pieces: Vec<Piece>,
}

/// Paths of a part of the picture, in order of drawing.
pub(super) struct Drawn {
    /// Removed.
    pub(super) removed: BezPath,
    /// Left standing within what is removed; empty where letters are cut in.
    pub(super) standing: BezPath,
    /// Not removed though it should be.
    pub(super) missed: BezPath,
}

impl AsCut {
    /// What a tool that cuts so wide, mm, makes of a job's engraving; of the rows of
    /// lettering alone that `rows` names where it does. Outlines that are past working with
    /// are left out.
    pub(super) fn new(job: &Job, all: &Engraved, width: f64, rows: Option<&[usize]>) -> Self {
        let incised = job.layout.incised();
        let areas: Vec<Area> =
            all.shapes.iter().map(|shape| shape.area().unwrap_or_default()).collect();
        let reach = if incised { 0.0 } else { width / 2.0 };
        let wanted = |stands: &&Stands| {
            let of_row = rows.is_none_or(|rows| stands.row.is_some_and(|row| rows.contains(&row)));
            of_row && areas.get(stands.shape).is_some_and(|area| !area.is_empty())
        };
        let stands: Vec<Stands> = all.stands.iter().filter(wanted).copied().collect();
        let boxes: Vec<Rect> = (stands.iter())
            .map(|stands| {
                let bounds = areas.get(stands.shape).and_then(Area::bounds);
                bounds.unwrap_or_default().inflate(reach, reach) + stands.at
            })
            .collect();
        let mut known: BTreeMap<Vec<(usize, i64, i64)>, Rc<Made>> = BTreeMap::new();
        let mut pieces = Vec::new();
        for cluster in clusters(&boxes) {
            let members: Vec<Stands> =
                cluster.iter().filter_map(|index| stands.get(*index)).copied().collect();
            let Some(first) = members.first() else { continue };
            let key = members
                .iter()
                .map(|one| (one.shape, micro(one.at.x - first.at.x), micro(one.at.y - first.at.y)))
                .collect();
            let made = known.entry(key).or_insert_with(|| {
                let pass = |one: &Stands| all.shapes.get(one.shape)?.pass(width);
                let moved = |area: Area, one: &Stands| area.moved(one.at - first.at);
                let asked = Area::united(
                    members
                        .iter()
                        .map(|one| moved(areas.get(one.shape).cloned().unwrap_or_default(), one)),
                );
                let passes =
                    Area::united(members.iter().filter_map(|one| Some(moved(pass(one)?, one))));
                Rc::new(made(&asked, &passes, incised, width))
            });
            pieces.push(Piece { made: Rc::clone(made), at: first.at });
        }
        let ground = (!incised).then(|| plate::outline(&job.layout.plate).path());
        Self { ground, pieces }
    }

    /// The box of all that is made and missed, mm in plate coordinates; of the whole ground
    /// where that is removed. `None` where nothing is engraved.
    pub(super) fn bounds(&self) -> Option<Rect> {
        if let Some(ground) = &self.ground {
            return Some(kurbo::Shape::bounding_box(ground));
        }
        let boxes = self.pieces.iter().flat_map(|piece| {
            let both = [piece.made.made.bounds(), piece.made.missed.bounds()];
            both.into_iter().flatten().map(|bounds| bounds + piece.at)
        });
        boxes.reduce(|all, next| all.union(next))
    }

    /// What is missed, of the letters (incised) or of the ground round them (raised), as a
    /// share of the letters' area.
    pub(super) fn missed_share(&self) -> f64 {
        let (missed, asked) = self.pieces.iter().fold((0.0, 0.0), |sum, piece| {
            (sum.0 + piece.made.missed.size(), sum.1 + piece.made.asked)
        });
        if asked > 0.0 { missed / asked } else { 0.0 }
    }

    /// What a window shows, mm in plate coordinates times `scale`. Paths reach beyond the
    /// window.
    pub(super) fn drawn(&self, window: Rect, scale: f64) -> Drawn {
        let (mut made, mut missed) = (BezPath::new(), BezPath::new());
        for piece in &self.pieces {
            for (path, area) in [(&mut made, &piece.made.made), (&mut missed, &piece.made.missed)] {
                let bounds = area.bounds().map(|bounds| bounds + piece.at);
                if bounds.is_some_and(|bounds| bounds.overlaps(window)) {
                    let place = Affine::scale(scale) * Affine::translate(piece.at);
                    path.extend(place * area.path(UNSEEN / scale));
                }
            }
        }
        match &self.ground {
            Some(ground) => {
                let removed = Affine::scale(scale) * ground.clone();
                Drawn { removed, standing: made, missed }
            }
            None => Drawn { removed: made, standing: BezPath::new(), missed },
        }
    }
}

/// What becomes of an area; `passes` are lines that the tool makes by going along them once.
fn made(asked: &Area, passes: &Area, incised: bool, width: f64) -> Made {
    let size = asked.size();
    if incised {
        let made = asked.opened(width);
        let made = if passes.is_empty() { made } else { made.with(passes) };
        Made { missed: asked.without(&made), made, asked: size }
    } else {
        let made = asked.closed(width);
        Made { missed: made.without(asked), made, asked: size }
    }
}

/// A length in whole µm, in which positions are whole.
#[expect(clippy::cast_possible_truncation, reason = "plates are some metres wide at most")]
fn micro(length: f64) -> i64 {
    (length * 1000.0).round() as i64
}

/// Indices of boxes, those together that meet, directly or through others. In order of the
/// first of each.
fn clusters(boxes: &[Rect]) -> Vec<Vec<usize>> {
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    let left = |index: &usize| boxes.get(*index).map_or(0.0, |bounds| bounds.x0);
    order.sort_by(|a, b| left(a).total_cmp(&left(b)).then(a.cmp(b)));
    // The cluster of each box is the least index in it, found by following `first`.
    let mut first: Vec<usize> = (0..boxes.len()).collect();
    let mut open: Vec<usize> = Vec::new();
    for index in order {
        let Some(own) = boxes.get(index) else { continue };
        open.retain(|other| boxes.get(*other).is_some_and(|other| other.x1 >= own.x0));
        for other in &open {
            if boxes.get(*other).is_some_and(|other| other.y0 <= own.y1 && own.y0 <= other.y1) {
                let (a, b) = (root(&mut first, index), root(&mut first, *other));
                if let Some(place) = first.get_mut(a.max(b)) {
                    *place = a.min(b);
                }
            }
        }
        open.push(index);
    }
    let mut all: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for index in 0..boxes.len() {
        all.entry(root(&mut first, index)).or_default().push(index);
    }
    all.into_values().collect()
}

/// The least index of a cluster, the way to it shortened.
fn root(first: &mut [usize], mut index: usize) -> usize {
    while let Some(next) = first.get(index).copied().filter(|next| *next != index) {
        let after = first.get(next).copied().unwrap_or(next);
        if let Some(place) = first.get_mut(index) {
            *place = after;
        }
        index = next;
    }
    index
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_that_meet_through_others_are_one_cluster() {
        let square = |x: f64, y: f64| Rect::new(x, y, x + 2.0, y + 2.0);
        let boxes = [square(0.0, 0.0), square(10.0, 0.0), square(3.0, 0.0), square(1.5, 1.0)];
        assert_eq!(clusters(&boxes), [vec![0, 2, 3], vec![1]]);
        // Side by side in x alone they do not meet.
        assert_eq!(clusters(&[square(0.0, 0.0), square(1.0, 5.0)]).len(), 2);
        assert!(clusters(&[]).is_empty());
        // A swash over many letters joins them all.
        let mut many: Vec<Rect> = (0..50).map(|i| square(f64::from(i) * 3.0, 0.0)).collect();
        many.push(Rect::new(0.0, 1.0, 200.0, 1.5));
        assert_eq!(clusters(&many).len(), 1);
    }
}
