//! What is left of the face round the plate.

use kurbo::{Line, ParamCurve};

use super::FacePlan;

/// Longer than any face, mm.
const FAR: f64 = 1e5;

/// How far the plate is from the face's edge on all four sides, mm along the plate's own
/// centre lines, as a rule laid on them tells it; below 0 where it stands over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reveals {
    /// To the left.
    pub left: f64,
    /// Above.
    pub top: f64,
    /// To the right.
    pub right: f64,
    /// Below.
    pub bottom: f64,
}

impl FacePlan {
    /// What is left of the face round a plate of a size, mm, where it stands. Nothing where
    /// the face's size is not told, and where the plate's middle is not on it.
    #[must_use]
    pub fn reveals(&self, (width, height): (f64, f64)) -> Option<Reveals> {
        let edge = self.edge.as_ref()?;
        let (x, y) = self.on_face(width / 2.0, height / 2.0);
        if edge.depth_of(x, y) <= 0.0 {
            return None;
        }
        let path = edge.path();
        let level = Line::new((-FAR, y), (FAR, y));
        let upright = Line::new((x, -FAR), (x, FAR));
        let meets = |line: Line| {
            let on = move |segment: kurbo::PathSeg| {
                segment.intersect_line(line).into_iter().map(move |at| segment.eval(at.segment_t))
            };
            path.segments().flat_map(on).collect::<Vec<_>>()
        };
        let ends = |places: Vec<f64>, middle: f64| {
            let before = places.iter().copied().filter(|at| *at <= middle).reduce(f64::max)?;
            let behind = places.iter().copied().filter(|at| *at >= middle).reduce(f64::min)?;
            Some((before, behind))
        };
        let across = ends(meets(level).iter().map(|at| at.x).collect(), x)?;
        let down = ends(meets(upright).iter().map(|at| at.y).collect(), y)?;
        Some(Reveals {
            left: self.plate_x - across.0,
            top: self.plate_y - down.0,
            right: across.1 - self.plate_x - width,
            bottom: down.1 - self.plate_y - height,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Face, FaceEdge, FaceMaterial, FaceShape, Place};
    use crate::mount::surface::edges::edge;

    fn plan(width: f64, height: f64, shape: FaceShape, at: (f64, f64)) -> FacePlan {
        let face = Face {
            edge: Some(FaceEdge { width, height, shape, slope: None }),
            material: FaceMaterial::Beech,
            thickness: None,
            grain: None,
            trim: None,
            recess: None,
            across: Place::Centred,
            along: Place::Centred,
            mark: None,
            old: None,
        };
        let edge = edge(&face);
        FacePlan {
            face,
            plate_x: at.0,
            plate_y: at.1,
            edge,
            trim: None,
            gap_room: None,
            recess: None,
            mark: None,
        }
    }

    fn near(got: Option<Reveals>, wanted: [f64; 4]) {
        let Reveals { left, top, right, bottom } = got.unwrap();
        let off = [left, top, right, bottom].into_iter().zip(wanted).map(|(a, b)| (a - b).abs());
        assert!(off.fold(0.0, f64::max) < 0.01, "{got:?} is not {wanted:?}");
    }

    #[test]
    fn on_a_rectangle_they_are_what_its_sides_leave() {
        let plan = plan(150.0, 110.0, FaceShape::Rectangle, (15.0, 5.0));
        near(plan.reveals((120.0, 80.0)), [15.0, 5.0, 15.0, 25.0]);
        // 10 mm too wide: it stands over on the right.
        near(plan.reveals((145.0, 80.0)), [15.0, 5.0, -10.0, 25.0]);
        assert_eq!(plan.reveals((500.0, 80.0)), None);
    }

    #[test]
    fn on_other_faces_they_are_measured_along_the_plates_centre_lines() {
        // A disc of 100 mm, the plate's middle 30 mm above its own: half a chord of 40 mm.
        let disc = plan(100.0, 100.0, FaceShape::Circle, (30.0, 10.0));
        near(disc.reveals((40.0, 20.0)), [20.0, 10.0, 20.0, 70.0]);
        // A gable whose tip stands on the centre line.
        let points = vec![(50.0, 0.0), (100.0, 50.0), (100.0, 100.0), (0.0, 100.0), (0.0, 50.0)];
        let gable = plan(100.0, 100.0, FaceShape::Points(points), (30.0, 20.0));
        near(gable.reveals((40.0, 10.0)), [5.0, 20.0, 5.0, 70.0]);
    }
}
