//! Holes spread evenly along one edge or two opposite ones.

use crate::layout::{Edges, Plate, Shape};

use super::{beside, corners};

/// `count` holes along each of the edges, the first and the last where those of four
/// corners stand. None along the edges of an oval, a circle, a plate by points, or
/// along the head of an arch.
pub(super) fn along(plate: &Plate, inset: f64, edges: Edges, count: u32) -> Vec<(f64, f64)> {
    if matches!(plate.shape, Shape::Oval | Shape::Circle | Shape::Points(_)) {
        return Vec::new();
    }
    let (upper, lower) = (corners::upper(plate, inset), corners::lower(plate, inset));
    let row = |(x, y): (f64, f64)| -> Vec<(f64, f64)> {
        mirrored(x, plate.width, count).into_iter().map(|x| (x, y)).collect()
    };
    let arch = matches!(plate.shape, Shape::Arch { .. });
    match edges {
        Edges::Top | Edges::TopAndBottom if arch => Vec::new(),
        Edges::Top => row(upper),
        Edges::Bottom => row(lower),
        Edges::TopAndBottom => [row(upper), row(lower)].concat(),
        Edges::Left | Edges::Right | Edges::LeftAndRight => {
            let left: Vec<(f64, f64)> = column(plate, upper, lower, count);
            let both = left.into_iter().map(|place| beside(plate, place));
            both.flat_map(|[left, right]| match edges {
                Edges::Left => vec![left],
                Edges::Right => vec![right],
                _ => vec![left, right],
            })
            .collect()
        }
    }
}

/// The holes along the left edge.
fn column(plate: &Plate, upper: (f64, f64), lower: (f64, f64), count: u32) -> Vec<(f64, f64)> {
    let Shape::Arch { rise } = plate.shape else {
        let heights = mirrored(upper.1, plate.height, count);
        return heights.into_iter().map(|y| (upper.0, y)).collect();
    };
    let springing = rise.unwrap_or(plate.width / 2.0);
    let step = (lower.1 - springing) / f64::from(count.max(2) - 1);
    (0..count).map(|index| (lower.0, springing + step * f64::from(index))).collect()
}

/// `count` places from `first` to its mirror image within `whole`, at equal steps; the
/// second half mirrors the first, a middle one stands in the middle.
fn mirrored(first: f64, whole: f64, count: u32) -> Vec<f64> {
    let last = count.max(2) - 1;
    let step = (whole - 2.0 * first) / f64::from(last);
    let near = |index: u32| first + step * f64::from(index);
    (0..=last)
        .map(|index| match (2 * index).cmp(&last) {
            std::cmp::Ordering::Less => near(index),
            std::cmp::Ordering::Equal => whole / 2.0,
            std::cmp::Ordering::Greater => whole - near(last - index),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::mirrored;

    #[test]
    fn places_are_evenly_spread_and_mirror_each_other_exactly() {
        assert_eq!(mirrored(8.0, 120.0, 3), [8.0, 60.0, 112.0]);
        assert_eq!(mirrored(8.0, 120.0, 2), [8.0, 112.0]);
        for count in 2..=24 {
            let places = mirrored(7.3, 283.1, count);
            assert_eq!(places.len(), count as usize);
            for (place, other) in places.iter().zip(places.iter().rev()) {
                let same = |a: f64, b: f64| (283.1 - a).total_cmp(&b).is_eq();
                assert!(same(*place, *other) || same(*other, *place), "{places:?}");
            }
            let step = (283.1 - 14.6) / f64::from(count - 1);
            for pair in places.windows(2) {
                assert!((pair[1] - pair[0] - step).abs() < 1e-9, "{places:?}");
            }
        }
    }
}
