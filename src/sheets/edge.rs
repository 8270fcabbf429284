//! The plate's edge on the sheets: in words, and where dimensions start from it.

use kurbo::{BezPath, PathEl};

use crate::layout::{Plate, Shape};
use crate::plate::outline;
use crate::units::digits::trimmed;

use super::dimension::Along;

/// Places nearer than this are one, mm.
const SAME: f64 = 0.005;

/// Where the plate's edge touches its box at a place along an axis, from the first
/// place across to the last, mm: extension lines come from there.
pub(super) fn touches(plate: &Plate, axis: Along, at: f64) -> (f64, f64) {
    touches_path(&outline(plate).path(), axis, at)
}

/// The same of any edge.
pub(super) fn touches_path(edge: &BezPath, axis: Along, at: f64) -> (f64, f64) {
    let ends = edge.elements().iter().filter_map(PathEl::end_point);
    let places = ends.filter_map(|point| {
        let (along, across) = match axis {
            Along::Across => (point.x, point.y),
            Along::Down => (point.y, point.x),
        };
        ((along - at).abs() <= SAME).then_some((across, across))
    });
    places.reduce(|all, next| (all.0.min(next.0), all.1.max(next.1))).unwrap_or((0.0, 0.0))
}

/// Most corners of a polygon that are told one by one.
const MOST_POINTS: usize = 12;

/// The outline in words.
pub(super) fn told(plate: &Plate, both: impl Fn(f64) -> String) -> String {
    match &plate.shape {
        Shape::Rectangle => "rectangle, square corners".to_owned(),
        Shape::Rounded { corner } => format!("rounded, corner radius {}", both(*corner)),
        Shape::Notched { corner } => {
            format!("notched, quarter circles of radius {} cut out of the corners", both(*corner))
        }
        Shape::Oval => "oval".to_owned(),
        Shape::Circle => "circle".to_owned(),
        Shape::Arch { rise } => match rise.filter(|rise| *rise < plate.width / 2.0) {
            None => "arch, its head a half circle".to_owned(),
            Some(rise) => format!(
                "arch, its head one arc that rises {} (radius {})",
                both(rise),
                both(plate.width * plate.width / (8.0 * rise) + rise / 2.0)
            ),
        },
        Shape::Ansate(handles) => {
            let size = handles.on(plate.width, plate.height);
            format!(
                "ansate: two handles {} wide, {} high at the root, {} at the tip",
                both(size.width),
                both(size.root),
                both(size.tip)
            )
        }
        Shape::Points(points) if points.len() <= MOST_POINTS => {
            let point = |(x, y): &(f64, f64)| format!("({}, {})", trimmed(*x, 2), trimmed(*y, 2));
            let points: Vec<String> = points.iter().map(point).collect();
            format!("straight sides from the top left, mm: {}", points.join(" "))
        }
        Shape::Points(points) => {
            format!("{} straight sides, by points as in the layout", points.len())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dimensions_start_where_the_edge_touches_its_box() {
        let plate = Plate {
            width: 100.0,
            height: 60.0,
            shape: Shape::Arch { rise: Some(20.0) },
            thickness: 1.0,
            material: crate::layout::Material::Brass,
            colours: crate::layout::Colours::Own,
            finish: crate::layout::Finish::Satin,
            coating: None,
            bevel: 0.0,
            margin: 3.0,
            border: None,
            quantity: 1,
            from_face: None,
        };
        // The sides run from the springing, 20 mm down, to the foot.
        assert_eq!(touches(&plate, Along::Across, 0.0), (20.0, 60.0));
        // The crown is a point, the foot runs from side to side.
        assert_eq!(touches(&plate, Along::Down, 0.0), (50.0, 50.0));
        assert_eq!(touches(&plate, Along::Down, 60.0), (0.0, 100.0));
        let mut polygon = plate.clone();
        polygon.shape = Shape::Points(vec![(10.0, 0.0), (100.0, 30.0), (0.0, 60.0)]);
        assert_eq!(touches(&polygon, Along::Across, 100.0), (30.0, 30.0));
    }
}
