use kurbo::{Affine, Rect, Shape};

use super::{on_face, plate_on_face};
use crate::drawing::{Drawing, Group, Item};
use crate::sheets::testing::{DEDICATION, dedication, layout_of, made, on_face_of};
use crate::sheets::within::text_boxes;

/// All labels, in the order of drawing.
fn labels(items: &[Item]) -> Vec<String> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Text(text) => all.push(text.text.clone()),
            Item::Group(group) => all.extend(labels(&group.items)),
            _ => {}
        }
    }
    all
}

fn group<'a>(items: &'a [Item], name: &str) -> Option<&'a Group> {
    items.iter().find_map(|item| match item {
        Item::Group(found) if found.name == name => Some(found),
        Item::Group(other) => group(&other.items, name),
        _ => None,
    })
}

fn box_of(group: &Group) -> Rect {
    let boxes = group.items.iter().filter_map(|item| match item {
        Item::Path(path) => Some(path.path.bounding_box()),
        _ => None,
    });
    boxes.reduce(|all, next| all.union(next)).unwrap()
}

/// Everything is on the page, and no two labels meet.
fn clean(drawing: &Drawing) {
    let page = &drawing.pages[0];
    let sheet = Rect::new(0.0, 0.0, page.width, page.height);
    let boxes = text_boxes(&page.items, Affine::IDENTITY);
    for (index, label) in boxes.iter().enumerate() {
        assert_eq!(sheet.union(*label), sheet, "{label:?} is off the page");
        for other in &boxes[index + 1..] {
            assert!(label.intersect(*other).is_zero_area(), "{label:?} meets {other:?}");
        }
    }
}

#[test]
fn without_a_face_there_is_no_drawing() {
    let (before, _) = DEDICATION.split_once("[face]").unwrap();
    assert!(on_face(&made(before)).is_none());
    assert!(plate_on_face(&layout_of(before).unwrap(), (60.0, 40.0)).is_none());
}

#[test]
fn it_tells_how_far_the_plate_is_from_the_faces_edges() {
    // 120 x 80 mm on 150 x 110 mm, 15 mm from its bottom edge: 15 mm on all four sides.
    let drawing = on_face(&dedication("")).unwrap();
    let mut told = labels(&drawing.pages[0].items);
    told.sort();
    let fifteen = ["15 mm"; 4].map(str::to_owned).to_vec();
    let others = ["110 mm", "120 mm", "150 mm", "80 mm"].map(str::to_owned);
    let mut wanted: Vec<String> = fifteen.into_iter().chain(others).collect();
    wanted.sort();
    assert_eq!(told, wanted);
    assert!(drawing.description.contains("15 mm left, 15 mm above, 15 mm right, 15 mm below"));
    clean(&drawing);
}

#[test]
fn face_and_plate_are_drawn_at_one_scale_and_in_place() {
    // 150 mm into 120 mm: 0.8, which leaves 15 · 0.8 = 12 mm beside the plate.
    let drawing = on_face(&dedication("")).unwrap();
    let items = &drawing.pages[0].items;
    let edge = box_of(group(items, "face-edge").unwrap());
    let plate = group(items, "plate").unwrap();
    let plate = plate.transform.transform_rect_bbox(Rect::new(0.0, 0.0, 120.0, 80.0));
    let near = |got: f64, wanted: f64| assert!((got - wanted).abs() < 1e-6, "{got}: {wanted}");
    near(edge.width(), 120.0);
    near(plate.width(), 96.0);
    near(plate.x0 - edge.x0, 12.0);
    near(edge.y1 - plate.y1, 12.0);
}

#[test]
fn a_plate_that_stands_over_is_told_so() {
    // 120 mm on a face of 110 mm.
    let job = on_face_of("size = \"110 x 110 mm\"\nmaterial = \"beech\"\nthickness = \"19 mm\"");
    let drawing = on_face(&job).unwrap();
    let told = labels(&drawing.pages[0].items);
    assert_eq!(told.iter().filter(|label| *label == "5 mm over").count(), 2);
    assert!(drawing.description.contains("5 mm over the edge left"));
    clean(&drawing);
}

#[test]
fn labels_find_room_however_tight_the_face_is() {
    let thick = "material = \"white oak\"\nthickness = \"19 mm\"\n";
    for face in [
        "size = \"121.5 x 84 mm\"\nplace = { from_top = \"1.5 mm\", from_left = \"1 mm\" }\n",
        "shape = \"circle\"\ndiameter = \"160 mm\"\ngrain = \"vertical\"\n",
        "shape = \"trapezium\"\ntop = \"150 mm\"\nfoot = \"220 mm\"\nheight = \"130 mm\"\n",
        "size = \"2000 x 300 mm\"\ngrain = \"horizontal\"\ntrim = { width = \"20 mm\" }\n",
        "size = \"300 x 2000 mm\"\nplace = { from_top = \"20 mm\" }\n",
        "place = { mark = \"centre\" }\n",
    ] {
        clean(&on_face(&on_face_of(&format!("{face}{thick}"))).unwrap());
    }
}

#[test]
fn the_grain_is_told_where_there_is_room_for_it() {
    let face = "material = \"white oak\"\nthickness = \"19 mm\"\ngrain = \"vertical\"\n";
    let grain = |size: &str| {
        let drawing = on_face(&on_face_of(&format!("size = \"{size}\"\n{face}"))).unwrap();
        labels(&drawing.pages[0].items).contains(&"grain".to_owned())
    };
    assert!(grain("200 x 200 mm"));
    assert!(!grain("124 x 84 mm"));
}

#[test]
fn a_plate_alone_on_its_face_fills_its_room() {
    let layout = layout_of(DEDICATION).unwrap();
    let drawing = plate_on_face(&layout, (60.0, 100.0)).unwrap();
    let page = &drawing.pages[0];
    assert!((page.width - 60.0).abs() < 1e-9);
    let edge = box_of(group(&page.items, "face-edge").unwrap());
    assert!((edge.width() / edge.height() - 150.0 / 110.0).abs() < 1e-9);
}
