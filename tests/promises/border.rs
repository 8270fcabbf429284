//! Promises about the border and what it does at holes.

use ansata::layout::{AtHoles, Border, Named, Plate, Shape};
use ansata::plate::{
    ClearZone, ZoneKind, ZoneShape, border_inner_edge, border_inset_needed, border_paths,
    border_zones, outline,
};
use arbtest::arbitrary::{Result as Drawn, Unstructured};
use kurbo::{BezPath, Point, Shape as _};

use crate::plate::{any_outline, any_zones, between, distance, plate, walk};

fn bordered(u: &mut Unstructured<'_>) -> Drawn<(Plate, Vec<ClearZone>)> {
    let (mut plate, _) = any_outline(u)?;
    let short = plate.width.min(plate.height);
    let at_holes = AtHoles::ALL[u.int_in_range(0..=2usize)?].1;
    let weight = between(u, 0.1, 1.0)?;
    plate.margin = short * 0.1;
    plate.border = Some(Border {
        inset: between(u, 0.5, short * 0.2)?,
        lines: u.int_in_range(1..=2u8)?,
        weight,
        gap: weight + between(u, 0.2, 2.0)?,
        at_holes,
    });
    let mut zones = any_zones(u, &plate)?;
    zones.retain(|zone| matches!(zone.shape, ZoneShape::Disc { .. }));
    Ok((plate, zones))
}

#[test]
fn no_point_of_a_border_comes_nearer_to_a_hole_than_its_clear_zone() {
    arbtest::arbtest(|u| {
        let (plate, zones) = bordered(u)?;
        let weight = plate.border.unwrap().weight;
        let edge = outline(&plate);
        for path in border_paths(&plate, &zones) {
            for point in walk(&path, 61) {
                for zone in &zones {
                    let ZoneShape::Disc { x, y, radius } = zone.shape else { continue };
                    let gap = distance(point, x, y) - weight / 2.0;
                    assert!(gap >= radius - 0.001, "{plate:?} {zone:?} at {point}: {gap}");
                }
                assert!(edge.depth_of(point.x, point.y) > 0.0, "{plate:?} at {point}");
            }
        }
        Ok(())
    })
    .budget_ms(2000);
}

fn corner_holes(width: f64, height: f64, inset: f64, radius: f64) -> Vec<ClearZone> {
    [
        (inset, inset),
        (width - inset, inset),
        (inset, height - inset),
        (width - inset, height - inset),
    ]
    .into_iter()
    .enumerate()
    .map(|(index, (x, y))| ClearZone {
        shape: ZoneShape::Disc { x, y, radius },
        kind: ZoneKind::Hole(index),
    })
    .collect()
}

fn with_border(at_holes: AtHoles, lines: u8) -> Plate {
    let mut plate = plate(120.0, 80.0, Shape::Rectangle);
    plate.margin = 7.0;
    plate.border = Some(Border { inset: 3.0, lines, weight: 0.4, gap: 1.0, at_holes });
    plate
}

#[test]
fn a_border_without_holes_in_its_way_runs_all_round() {
    for at_holes in [AtHoles::StopShort, AtHoles::StepIn, AtHoles::HolesOutside] {
        let plate = with_border(at_holes, 2);
        // Heads of corner holes 12 mm in do not reach a border 3 and 4 mm in.
        let paths = border_paths(&plate, &corner_holes(120.0, 80.0, 12.0, 5.0));
        let boxes: Vec<_> = paths.iter().map(BezPath::bounding_box).collect();
        assert_eq!(boxes.len(), 2);
        assert_eq!((boxes[0].x0, boxes[0].y1), (3.0, 77.0));
        assert_eq!((boxes[1].x0, boxes[1].y1), (4.0, 76.0));
        assert!((paths[0].area().abs() - 114.0 * 74.0).abs() < 1e-9);
    }
    let mut none = with_border(AtHoles::StepIn, 1);
    assert_eq!(border_inner_edge(&none), Some(3.2));
    none.border = None;
    assert!(border_paths(&none, &[]).is_empty() && border_inner_edge(&none).is_none());
}

#[test]
fn a_border_stops_short_where_a_hole_is_in_its_way() {
    let zones = corner_holes(120.0, 80.0, 5.0, 4.0);
    let paths = border_paths(&with_border(AtHoles::StopShort, 1), &zones);
    // By hand: the line 3 mm in is 2 mm from the holes' middle line; it may come to
    // 4.2 mm of the hole, so it ends √(4.2² − 2²) = 3.693 from it, at 8.693 mm.
    let end = 5.0 + (4.2f64 * 4.2 - 4.0).sqrt();
    let strokes = |path: &BezPath| {
        path.elements().iter().filter(|el| matches!(el, kurbo::PathEl::MoveTo(_))).count()
    };
    assert_eq!(strokes(&paths[0]), 4, "one open line a side, no crumbs in the corners");
    let xs: Vec<f64> =
        walk(&paths[0], 1).iter().map(|point| point.x).filter(|x| *x > 3.1 && *x < 60.0).collect();
    assert!(xs.iter().all(|x| (x - end).abs() < 1e-5), "{xs:?}");
}

#[test]
fn no_crumb_of_border_is_left_between_a_hole_and_the_corner() {
    // Holes 8 mm in just touch a line 4 mm in on both sides of the corner; the two
    // cuts leave a corner of 2 x 2.6 mm, shorter than the clear zone is wide.
    let zones = corner_holes(120.0, 80.0, 8.0, 4.05);
    let mut plate = with_border(AtHoles::StopShort, 1);
    if let Some(border) = &mut plate.border {
        border.inset = 4.0;
    }
    let path = &border_paths(&plate, &zones)[0];
    let closed = path.elements().iter().any(|el| matches!(el, kurbo::PathEl::ClosePath));
    assert!(!closed, "it is open");
    assert!(walk(path, 50).iter().all(|point| distance(*point, 4.0, 4.0) > 4.0));
    // A hole that cuts a narrow plate's border through leaves both halves.
    let mut narrow = plate.clone();
    narrow.height = 14.0;
    let middle = ClearZone {
        shape: ZoneShape::Disc { x: 60.0, y: 7.0, radius: 4.0 },
        kind: ZoneKind::Hole(0),
    };
    let halves = border_paths(&narrow, &[middle]);
    // Plate of 120 less 4 mm a side.
    assert!((halves[0].bounding_box().width() - 112.0).abs() < 1e-9);
    let ends = walk(&halves[0], 1);
    assert!(ends.iter().any(|point| point.x < 60.0) && ends.iter().any(|point| point.x > 60.0));
}

#[test]
fn an_inner_line_turns_wider_only_where_the_outer_one_turns_too() {
    // 8 mm in: 5 mm from the outer line, 4 from the inner; only that one must turn.
    let zones = corner_holes(120.0, 80.0, 8.0, 4.05);
    let paths = border_paths(&with_border(AtHoles::StepIn, 2), &zones);
    assert_eq!(paths[0].elements().len(), 5, "the outer line is the plain rectangle");
    let near = walk(&paths[1], 300)
        .into_iter()
        .map(|point| distance(point, 8.0, 8.0))
        .fold(f64::INFINITY, f64::min);
    assert!((near - 4.25).abs() < 1e-4, "{near}");
}

#[test]
fn a_border_steps_in_round_a_hole_and_keeps_lettering_off_the_turn() {
    let zones = corner_holes(120.0, 80.0, 5.0, 4.0);
    let plate = with_border(AtHoles::StepIn, 2);
    let paths = border_paths(&plate, &zones);
    assert_eq!(paths.len(), 2);
    for (path, radius) in paths.iter().zip([4.2, 5.2]) {
        // One closed line, whose nearest point to each hole lies on the arc.
        assert!(matches!(path.elements().last(), Some(kurbo::PathEl::ClosePath)));
        for zone in &zones {
            let ZoneShape::Disc { x, y, .. } = zone.shape else { continue };
            let near = walk(path, 200)
                .into_iter()
                .map(|point| distance(point, x, y))
                .fold(f64::INFINITY, f64::min);
            assert!((near - radius).abs() < 1e-4, "{near} and {radius}");
        }
        // The corner itself is cut away.
        assert_eq!(path.winding(Point::new(5.0, 5.0)), 0);
        assert_ne!(path.winding(Point::new(60.0, 40.0)), 0);
    }
    let turned = border_zones(&plate, &zones);
    assert_eq!(turned.len(), 4);
    for (index, zone) in turned.iter().enumerate() {
        assert_eq!(zone.kind, ZoneKind::Border(index));
        // Inner line at 5.2, half its width 0.2, and the white of the straight run:
        // margin 7 less the inner edge 4.2.
        assert!(
            matches!(zone.shape, ZoneShape::Disc { radius, .. } if (radius - 8.2).abs() < 1e-9)
        );
    }
    assert!(border_zones(&with_border(AtHoles::StopShort, 2), &zones).is_empty());
    assert!(border_zones(&plate, &corner_holes(120.0, 80.0, 14.0, 4.0)).is_empty());
}

#[test]
fn the_inset_named_for_holes_outside_is_just_enough() {
    let zones = corner_holes(120.0, 80.0, 6.0, 4.0);
    let mut plate = with_border(AtHoles::HolesOutside, 1);
    let needed = border_inset_needed(&plate, &zones).unwrap();
    // By hand: the corner of the line, at a from both edges, must be 4.2 mm from (6, 6).
    let by_hand = 6.0 + 4.2 / std::f64::consts::SQRT_2;
    assert!(needed >= by_hand - 1e-9 && needed < by_hand + 0.01, "{needed} and {by_hand}");
    if let Some(border) = &mut plate.border {
        border.inset = needed;
    }
    let path = &border_paths(&plate, &zones)[0];
    assert!((path.area().abs() - (120.0 - 2.0 * needed) * (80.0 - 2.0 * needed)).abs() < 1e-6);
    // A hole in the middle can never be outside.
    let middle = ClearZone {
        shape: ZoneShape::Disc { x: 60.0, y: 40.0, radius: 4.0 },
        kind: ZoneKind::Hole(0),
    };
    assert_eq!(border_inset_needed(&plate, &[middle]), None);
    assert_eq!(border_inset_needed(&plate, &[]), None);
}
