//! Promises about the plate: outlines, field, materials.

use std::f64::consts::PI;

use ansata::layout::{
    Finish, HandleLettering, Handles, Layout, Material, Named, Plate, Shape, Shop, Source,
    Vocabulary, read,
};
use ansata::plate::{
    ClearZone, Field, Outline, Side, ZoneKind, ZoneShape, field, material_row, outline,
};
use arbtest::arbitrary::{Result as Drawn, Unstructured};
use kurbo::{BezPath, ParamCurve, PathSeg, Point, Shape as _};

/// Rows of a reference table: comment lines and the header are passed over.
pub(crate) fn rows(text: &str) -> Vec<Vec<&str>> {
    let rows = text.lines().filter(|line| !line.starts_with("# ")).skip(1);
    rows.map(|row| row.split(',').collect()).collect()
}

/// A layout with these tables beside one line of wording.
pub(crate) fn asked(tables: &str) -> Layout {
    let text = format!(
        "ansata = 1\ntitle = \"Striking cup\"\n{tables}\n[[line]]\nlettering = \"Cinzel\"\ntext = \"Marrowby Vale\"\n"
    );
    let source = Source { name: "test.toml".to_owned(), text };
    let nothing = |_: &str| Err("no other files here".to_owned());
    let words = Vocabulary { lettering: vec!["Cinzel".to_owned()] };
    read(&source, Shop::default(), &words, &nothing)
        .unwrap_or_else(|mistakes| panic!("{mistakes:#?}"))
}

pub(crate) fn plate(width: f64, height: f64, shape: Shape) -> Plate {
    let mut plate = asked("[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n").plate;
    (plate.width, plate.height, plate.shape, plate.margin) = (width, height, shape, 0.0);
    plate
}

/// A number from `low` to `high`, in thousandths.
pub(crate) fn between(u: &mut Unstructured<'_>, low: f64, high: f64) -> Drawn<f64> {
    let step = u.int_in_range(0..=1_000_000u32)?;
    Ok(low + (high - low) * f64::from(step) / 1_000_000.0)
}

/// A plate of any shape and an outline of it, at its edge or some way in.
pub(crate) fn any_outline(u: &mut Unstructured<'_>) -> Drawn<(Plate, Outline)> {
    let (width, height) = (between(u, 20.0, 200.0)?, between(u, 20.0, 200.0)?);
    let short = width.min(height);
    let (width, height, shape) = match u.int_in_range(0..=7u8)? {
        0 => (width, height, Shape::Rectangle),
        1 => (width, height, Shape::Rounded { corner: between(u, 0.1, short / 2.0)? }),
        2 => (width, height, Shape::Oval),
        3 => (width, width, Shape::Circle),
        4 => (width, height, Shape::Notched { corner: between(u, 0.1, 0.45 * short)? }),
        5 => {
            let most = (width / 2.0).min(height);
            (width, height, Shape::Arch { rise: Some(between(u, 0.02 * width, most)?) })
        }
        6 => (width, height, Shape::Ansate(any_handles(u, width, height)?)),
        _ => {
            let points = any_polygon(u, width, height)?;
            let most = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(0.0, f64::max);
            (most(|p| p.0), most(|p| p.1), Shape::Points(points))
        }
    };
    let plate = plate(width, height, shape);
    let edge = outline(&plate);
    let inset = between(u, 0.0, 0.49 * width.min(height))?;
    let inset = if u.ratio(1, 4)? { 0.0 } else { inset };
    // Where that leaves nothing, less deep.
    let depths = (0..12).map(|halvings: i32| inset / f64::from(1 << halvings));
    let line = depths.filter_map(|inset| edge.inset(inset)).next().unwrap_or(edge);
    Ok((plate, line))
}

fn any_handles(u: &mut Unstructured<'_>, width: f64, height: f64) -> Drawn<Handles> {
    let tip = between(u, 2.0, height)?;
    Ok(Handles {
        width: Some(between(u, 1.0, 0.4 * width)?),
        root: Some(between(u, 1.0, tip.min(0.9 * height))?),
        tip: Some(tip),
        lettering: HandleLettering::Into,
    })
}

/// A polygon that is seen whole from one point: points in the order of their
/// directions, at any distance, moved so that its box begins at 0.
fn any_polygon(u: &mut Unstructured<'_>, width: f64, height: f64) -> Drawn<Vec<(f64, f64)>> {
    let count = u.int_in_range(4..=9u32)?;
    let mut points = Vec::new();
    for index in 0..count {
        let angle = (f64::from(index) + between(u, 0.1, 0.9)?) * 2.0 * PI / f64::from(count);
        let (sin, cos) = libm::sincos(angle);
        let far = between(u, 0.25, 1.0)?;
        points.push((width / 2.0 * far * cos, height / 2.0 * far * sin));
    }
    let least = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::INFINITY, f64::min);
    let (left, top) = (least(|p| p.0), least(|p| p.1));
    let mut points: Vec<_> = points.iter().map(|(x, y)| (x - left, y - top)).collect();
    if u.ratio(1, 2)? {
        points.reverse();
    }
    Ok(points)
}

/// The only stretch at a height.
fn across(line: &Outline, y: f64) -> Option<(f64, f64)> {
    let chords = line.chords(y);
    assert!(chords.len() <= 1, "{chords:?}");
    chords.first().map(|chord| (chord.left, chord.right))
}

/// Points close together along a path.
pub(crate) fn walk(path: &BezPath, parts: u32) -> Vec<Point> {
    let steps = move |segment: PathSeg| {
        (0..parts).map(move |step| segment.eval(f64::from(step) / f64::from(parts)))
    };
    path.segments().flat_map(steps).collect()
}

pub(crate) fn distance(a: Point, x: f64, y: f64) -> f64 {
    libm::hypot(a.x - x, a.y - y)
}

/// Distance from a point to a segment: the best of 64 samples, then by thirds.
fn nearest_on(segment: &PathSeg, x: f64, y: f64) -> f64 {
    let at = |t: f64| distance(segment.eval(t), x, y);
    let best = (0..=64u32).map(|step| f64::from(step) / 64.0);
    let best = best.min_by(|a, b| at(*a).total_cmp(&at(*b))).unwrap();
    let (mut low, mut high) = ((best - 1.0 / 64.0).max(0.0), (best + 1.0 / 64.0).min(1.0));
    for _ in 0..60 {
        let third = (high - low) / 3.0;
        if at(low + third) < at(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    at(f64::midpoint(low, high)).min(at(best))
}

#[test]
fn a_chord_of_a_circle_has_the_published_rise() {
    for row in rows(include_str!("../reference/sagitta.csv")) {
        let [radius, chord, rise] = [0, 1, 2].map(|cell: usize| row[cell].parse::<f64>().unwrap());
        let circle = outline(&plate(2.0 * radius, 2.0 * radius, Shape::Circle));
        let (left, right) = across(&circle, rise).unwrap();
        assert!((right - left - chord).abs() < 1e-5, "radius {radius}: {}", right - left);
        assert!((f64::midpoint(left, right) - radius).abs() < 1e-12);
    }
}

#[test]
fn chords_follow_the_closed_formulas() {
    let ellipse = outline(&plate(120.0, 80.0, Shape::Oval));
    let inner = outline(&plate(100.0, 100.0, Shape::Circle)).inset(12.5).unwrap();
    let rounded = outline(&plate(120.0, 80.0, Shape::Rounded { corner: 10.0 })).inset(4.0).unwrap();
    for step in 1..80 {
        let y = f64::from(step);
        let (left, right) = across(&ellipse, y).unwrap();
        let half = 60.0 * (1.0 - (y - 40.0) * (y - 40.0) / 1600.0).sqrt();
        assert!((left - (60.0 - half)).abs() < 1e-11 && (right - (60.0 + half)).abs() < 1e-11);
        // A circle's inset is the smaller circle.
        let root = 37.5 * 37.5 - (y - 50.0) * (y - 50.0);
        let chord = across(&inner, y);
        assert_eq!(chord.is_some(), root >= 0.0, "at {y}");
        if let Some((left, right)) = chord {
            assert!((right - left - 2.0 * root.sqrt()).abs() < 1e-9, "at {y}");
        }
        // A corner of 10, 4 mm in, is one of 6 about the same centre.
        let chord = across(&rounded, y);
        assert_eq!(chord.is_some(), (4.0..=76.0).contains(&y), "at {y}");
        if let Some((left, right)) = chord {
            let into = (10.0 - y).max(y - 70.0).max(0.0);
            let lost = 6.0 - (36.0 - into * into).max(0.0).sqrt();
            assert!((left - 4.0 - lost).abs() < 1e-11 && (right - 116.0 + lost).abs() < 1e-11);
        }
    }
    // Past its corner radius the inset is a plain rectangle.
    let square = outline(&plate(120.0, 80.0, Shape::Rounded { corner: 3.0 })).inset(3.0).unwrap();
    assert!(square.is_rectangle());
    assert_eq!(Some(square.bounds()), Some([3.0, 3.0, 117.0, 77.0]));
    assert_eq!(square.path().elements().len(), 5);
}

#[test]
fn nothing_is_left_of_a_plate_inset_to_its_middle() {
    for shape in [Shape::Rectangle, Shape::Rounded { corner: 5.0 }, Shape::Oval] {
        let edge = outline(&plate(120.0, 80.0, shape));
        assert!(edge.inset(39.999).is_some());
        assert!(edge.inset(40.0).is_none() && edge.inset(1e300).is_none());
        assert!(edge.inset(f64::NAN).is_none() && edge.inset(f64::INFINITY).is_none());
        // Insets add up, and going back out ends at the edge.
        let twice = edge.inset(3.0).and_then(|line| line.inset(4.0));
        assert_eq!(twice, edge.inset(7.0));
        assert_eq!(twice.and_then(|line| line.inset(-100.0)), Some(edge));
    }
}

#[test]
fn depth_is_the_distance_to_the_drawn_outline() {
    arbtest::arbtest(|u| {
        let (plate, line) = any_outline(u)?;
        let path = line.path();
        let (x, y) = (
            between(u, -0.3 * plate.width, 1.3 * plate.width)?,
            between(u, -0.3 * plate.height, 1.3 * plate.height)?,
        );
        let depth = line.depth_of(x, y);
        let nearest =
            path.segments().map(|segment| nearest_on(&segment, x, y)).fold(f64::INFINITY, f64::min);
        // 0.001 mm is the path's tolerance.
        assert!((depth.abs() - nearest).abs() < 0.001, "{line:?} at {x}, {y}: {depth}, {nearest}");
        if nearest > 0.01 {
            assert_eq!(path.winding(Point::new(x, y)) != 0, depth > 0.0, "{line:?} at {x}, {y}");
        }
        Ok(())
    })
    .budget_ms(1500);
}

#[test]
fn an_inset_is_as_far_from_the_edge_as_asked_everywhere() {
    arbtest::arbtest(|u| {
        let (plate, line) = any_outline(u)?;
        let edge = outline(&plate);
        let [left, top, right, bottom] = line.bounds();
        for point in walk(&line.path(), 37) {
            let depth = edge.depth_of(point.x, point.y);
            assert!((depth - line.depth()).abs() < 0.001, "{line:?} at {point}: {depth}");
            assert!(point.x >= left - 0.001 && point.x <= right + 0.001);
            assert!(point.y >= top - 0.001 && point.y <= bottom + 0.001);
        }
        // The ends of a chord lie on the line, and the chord is all of it.
        let y = between(u, top, bottom)?;
        for stretch in line.chords(y) {
            for (at, out) in [(stretch.left, -0.01), (stretch.right, 0.01)] {
                let depth = edge.depth_of(at, y) - line.depth();
                assert!(depth.abs() < 1e-8, "{line:?} at {at}, {y}: {depth}");
                let beyond = edge.depth_of(at + out, y);
                let other = line.chords(y).iter().any(|s| s.left < at + out && at + out < s.right);
                assert!(beyond < line.depth() || other, "{line:?}");
            }
        }
        assert!(line.chords(bottom + 1e-6).is_empty() && line.chords(top - 1e-6).is_empty());
        Ok(())
    })
    .budget_ms(1500);
}

#[test]
fn areas_agree_with_the_drawn_outline() {
    arbtest::arbtest(|u| {
        let (plate, line) = any_outline(u)?;
        let drawn = line.path().area().abs();
        // 0.001 mm all round is the path's tolerance.
        let around = 4.0 * (plate.width + plate.height) * 0.001;
        assert!((drawn - line.area()).abs() < around, "{line:?}: {drawn} and {}", line.area());
        Ok(())
    });
    let oval = outline(&plate(120.0, 80.0, Shape::Oval));
    assert!((oval.area() - PI * 60.0 * 40.0).abs() < 1e-9);
}

pub(crate) fn any_zones(u: &mut Unstructured<'_>, plate: &Plate) -> Drawn<Vec<ClearZone>> {
    let mut zones = Vec::new();
    for index in 0..u.int_in_range(0..=4usize)? {
        let (x, y) = (between(u, 0.0, plate.width)?, between(u, 0.0, plate.height)?);
        let (x1, y1) = (x + between(u, 0.0, 20.0)?, y + between(u, 0.0, 20.0)?);
        let gap = between(u, 0.0, 6.0)?;
        let shape = match u.int_in_range(0..=9)? {
            0 => ZoneShape::Box { x0: x, y0: y, x1, y1 },
            1 => ZoneShape::Rounded { x0: x, y0: y, x1, y1, radius: gap },
            2 => {
                let (across, down) = (between(u, 0.5, 15.0)?, between(u, 0.5, 15.0)?);
                ZoneShape::Oval { x, y, across, down, gap }
            }
            3 => ZoneShape::Arch { x0: x, y0: y, x1, y1, rise: between(u, 0.0, 20.0)?, gap },
            4 => {
                let share = between(u, 0.0, 0.3)?;
                match u.int_in_range(0..=3)? {
                    0 => ZoneShape::Side { side: Side::Left, at: plate.width * share },
                    1 => ZoneShape::Side { side: Side::Right, at: plate.width * (1.0 - share) },
                    2 => ZoneShape::Side { side: Side::Top, at: plate.height * share },
                    _ => ZoneShape::Side { side: Side::Bottom, at: plate.height * (1.0 - share) },
                }
            }
            _ => ZoneShape::Disc { x, y, radius: between(u, 0.5, 12.0)? },
        };
        zones.push(ClearZone { shape, kind: ZoneKind::Hole(index) });
    }
    Ok(zones)
}

/// Whether a point is free by at least `by` mm, by the definitions alone.
fn free(field: &Field, zones: &[ClearZone], x: f64, y: f64, by: f64) -> bool {
    let inside = field.outline.as_ref().is_some_and(|outline| outline.depth_of(x, y) >= by);
    inside && zones.iter().all(|zone| clear_of(&zone.shape, x, y) >= by)
}

/// How far a point lies outside a zone, by distances to plate outlines of the same shape;
/// below 0 inside, where it need not be the distance.
fn clear_of(shape: &ZoneShape, x: f64, y: f64) -> f64 {
    let off = |shape: Shape, [left, top, right, bottom]: [f64; 4], gap: f64| {
        -Outline::new(right - left, bottom - top, &shape).depth_of(x - left, y - top) - gap
    };
    match *shape {
        ZoneShape::Disc { x: cx, y: cy, radius } => libm::hypot(x - cx, y - cy) - radius,
        ZoneShape::Box { x0, y0, x1, y1 } => (x0 - x).max(x - x1).max(y0 - y).max(y - y1),
        ZoneShape::Rounded { x0, y0, x1, y1, radius } => {
            off(Shape::Rounded { corner: radius }, [x0, y0, x1, y1], 0.0)
        }
        ZoneShape::Oval { x, y, across, down, gap } => {
            off(Shape::Oval, [x - across, y - down, x + across, y + down], gap)
        }
        ZoneShape::Arch { x0, y0, x1, y1, rise, gap } => {
            let shape = if rise.min(y1 - y0) < 1e-6 {
                Shape::Rectangle
            } else {
                Shape::Arch { rise: Some(rise) }
            };
            off(shape, [x0, y0, x1, y1], gap)
        }
        ZoneShape::Side { side: Side::Left, at } => x - at,
        ZoneShape::Side { side: Side::Right, at } => at - x,
        ZoneShape::Side { side: Side::Top, at } => y - at,
        ZoneShape::Side { side: Side::Bottom, at } => at - y,
    }
}

#[test]
fn free_stretches_are_those_that_are_free_at_every_height_of_the_band() {
    arbtest::arbtest(|u| {
        let (mut plate, line) = any_outline(u)?;
        plate.margin = line.depth();
        let zones = any_zones(u, &plate)?;
        let field = field(&plate, &zones);
        let (top, bottom) = line.extent();
        let from = between(u, top, bottom)?;
        let to = between(u, from, bottom)?;
        let found = field.intervals(from, to);
        assert!(found.iter().all(|free| free.left < free.right));
        assert!(found.windows(2).all(|pair| pair[0].right <= pair[1].left), "{found:?}");
        for step in 0..=150 {
            let x = plate.width * f64::from(step) / 150.0;
            let says = found.iter().any(|free| free.left < x && x < free.right);
            let at_end = found
                .iter()
                .any(|free| (x - free.left).abs() < 1e-6 || (x - free.right).abs() < 1e-6);
            let heights = (0..=150).map(|part| from + (to - from) * f64::from(part) / 150.0);
            let really = heights.clone().all(|y| free(&field, &zones, x, y, 1e-9));
            let hardly = heights.clone().all(|y| free(&field, &zones, x, y, -1e-9));
            // Sampled heights may miss a grazing touch, so only one way is strict.
            assert!(at_end || hardly || !says, "{field:?}, {from} to {to}: {x} is not free");
            if really && !says && !at_end {
                let step = (to - from) / 150.0;
                let grazed = zones.iter().any(|zone| match zone.shape {
                    ZoneShape::Disc { x: cx, y: cy, radius } => {
                        let y = cy.clamp(from, to);
                        libm::hypot(x - cx, y - cy) < radius + step
                    }
                    ZoneShape::Box { y0, y1, .. } => {
                        y1 - y0 <= step || y0 >= to - step || y1 <= from + step
                    }
                    shape => heights.clone().any(|y| clear_of(&shape, x, y) < step),
                });
                assert!(grazed, "{field:?}, {from} to {to}: {x} is free");
            }
        }
        assert!(field.intervals(top - 0.001, bottom).is_empty());
        assert!(field.intervals(top, bottom + 0.001).is_empty());
        assert!(field.intervals(to + 0.001, from).is_empty());
        assert!(field.intervals(f64::NAN, to).is_empty());
        Ok(())
    })
    .budget_ms(1500);
}

#[test]
fn only_a_plain_rectangle_calls_itself_one() {
    let mut plate = plate(120.0, 80.0, Shape::Rounded { corner: 5.0 });
    (plate.margin, plate.bevel) = (3.0, 1.0);
    assert_eq!(field(&plate, &[]).rectangle(), None);
    assert_eq!(field(&plate, &[]).bounds(), Some([4.0, 4.0, 116.0, 76.0]));
    plate.bevel = 2.0;
    assert_eq!(field(&plate, &[]).rectangle(), Some([5.0, 5.0, 115.0, 75.0]));
    let hole = |x| ClearZone {
        shape: ZoneShape::Disc { x, y: 40.0, radius: 4.0 },
        kind: ZoneKind::Hole(0),
    };
    // A zone that only touches takes nothing away; one that reaches in does.
    assert!(field(&plate, &[hole(1.0)]).convex());
    let holed = field(&plate, &[hole(1.001)]);
    assert!(!holed.convex() && holed.rectangle().is_none() && holed.zones.len() == 1);
    plate.margin = 40.0;
    let nothing = field(&plate, &[hole(8.0)]);
    assert!(nothing.outline.is_none() && nothing.zones.is_empty() && nothing.bounds().is_none());
    assert!(nothing.intervals(0.0, 1.0).is_empty());
}

#[test]
fn a_zone_that_takes_a_side_leaves_a_rectangle_with_its_own_middle() {
    let mut plate = plate(120.0, 80.0, Shape::Rectangle);
    plate.margin = 4.0;
    let side =
        |side, at| ClearZone { shape: ZoneShape::Side { side, at }, kind: ZoneKind::Photo(0) };
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} for {b}");
    for (zone, sides, axis) in [
        (side(Side::Left, 50.0), [50.0, 4.0, 116.0, 76.0], 83.0),
        (side(Side::Right, 70.0), [4.0, 4.0, 70.0, 76.0], 37.0),
        (side(Side::Top, 30.0), [4.0, 30.0, 116.0, 76.0], 60.0),
        (side(Side::Bottom, 50.0), [4.0, 4.0, 116.0, 50.0], 60.0),
    ] {
        let left = field(&plate, &[zone]);
        assert_eq!((left.rectangle(), left.bounds()), (Some(sides), Some(sides)));
        assert!(left.convex());
        near(left.axis_x, axis);
        near(left.centre_y(), f64::midpoint(sides[1], sides[3]));
    }
    // A hole under the photograph takes nothing more away, one beside it does.
    let hole = |x| ClearZone {
        shape: ZoneShape::Disc { x, y: 12.0, radius: 6.0 },
        kind: ZoneKind::Hole(0),
    };
    let taken = side(Side::Left, 50.0);
    assert_eq!(field(&plate, &[taken, hole(44.0)]).rectangle(), Some([50.0, 4.0, 116.0, 76.0]));
    let holed = field(&plate, &[taken, hole(44.1)]);
    assert!(holed.rectangle().is_none() && !holed.convex() && holed.zones.len() == 2);
    near(holed.axis_x, 83.0);
    // A side that only touches the margin takes nothing, two that meet take all.
    let untouched = field(&plate, &[side(Side::Left, 4.0)]);
    near(untouched.axis_x, 60.0);
    assert!(untouched.zones.is_empty());
    let nothing = field(&plate, &[taken, side(Side::Right, 50.0)]);
    assert!(nothing.outline.is_none() && nothing.bounds().is_none());
    // On an oval it stays what it is, and convex.
    plate.shape = Shape::Oval;
    let oval = field(&plate, &[taken]);
    assert!(oval.convex() && oval.rectangle().is_none());
    near(oval.axis_x, 83.0);
    near(oval.centre_y(), 40.0);
}

#[test]
fn the_centre_of_area_moves_away_from_a_hole() {
    let plate = plate(120.0, 80.0, Shape::Rectangle);
    assert!((field(&plate, &[]).centre_y() - 40.0).abs() < 1e-12);
    for (y, radius) in [(12.0, 5.0), (60.0, 11.0), (40.0, 9.0)] {
        let shape = ZoneShape::Disc { x: 33.0, y, radius };
        let got = field(&plate, &[ClearZone { shape, kind: ZoneKind::Hole(0) }]).centre_y();
        let (whole, hole) = (120.0 * 80.0, PI * radius * radius);
        let expected = (whole * 40.0 - hole * y) / (whole - hole);
        assert!((got - expected).abs() < 0.0005, "{got} and {expected}");
    }
}

#[test]
fn material_figures_are_those_of_the_handbook() {
    for row in rows(include_str!("../reference/materials.csv")) {
        let (_, material) = *Material::ALL.iter().find(|(word, _)| *word == row[0]).unwrap();
        let figures = material_row(material);
        let [density, least, greatest] =
            [1, 2, 3].map(|cell: usize| row[cell].parse::<f64>().unwrap());
        assert!((figures.density - density).abs() < 1e-9, "{}", row[0]);
        assert!((figures.expansion.0 - least).abs() < 1e-9, "{}", row[0]);
        assert!((figures.expansion.1 - greatest).abs() < 1e-9, "{}", row[0]);
    }
    // What no handbook of ours gives says so.
    assert!(material_row(Material::Laminate).source.contains("from memory"));
    assert!(Finish::ALL.len() >= 4);
}
