use kurbo::{Affine, ParamCurve, Rect, Shape};

use super::fixing_sample;
use crate::drawing::{Drawing, Group, Item};
use crate::sheets::testing::{DEDICATION, dedication, layout_of};
use crate::sheets::within::text_boxes;

/// One of every kind, and every head.
const FIXINGS: [&str; 12] = [
    "{ kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }",
    "{ kind = \"wood screw\", gauge = 4, head = \"oval\", length = \"5/8 in\" }",
    "{ kind = \"wood screw\", gauge = 10, head = \"flat\", length = \"2 in\" }",
    "{ kind = \"wood screw\", gauge = 4, head = \"flat\", length = \"5/8 in\", cap = \"12 mm\" }",
    "{ kind = \"machine screw\", thread = \"M3\", head = \"countersunk\", length = \"10 mm\", into = \
     \"insert\", insert_bore = \"4 mm\", insert_depth = \"6 mm\" }",
    "{ kind = \"machine screw\", thread = \"M3\", head = \"dome\", length = \"25 mm\", into = \"nut\" }",
    "{ kind = \"machine screw\", thread = \"M4\", head = \"pan\", length = \"10 mm\", into = \"tapped \
     hole\" }",
    "{ kind = \"pin\", shank = \"1.3 mm\", head = \"3 mm\", length = \"13 mm\" }",
    "{ kind = \"rear stud\", diameter = \"3 mm\", length = \"10 mm\" }",
    "{ kind = \"standoff\", cap = \"16 mm\", hole = \"10 mm\", off = \"15 mm\", gauge = 6, length = \
     \"5/8 in\" }",
    "{ kind = \"wood screw\", gauge = 0, head = \"round\", length = \"2 mm\" }",
    "{ kind = \"pin\", shank = \"6 mm\", head = \"20 mm\", length = \"150 mm\" }",
];

fn group<'a>(items: &'a [Item], name: &str) -> Option<&'a Group> {
    items.iter().find_map(|item| match item {
        Item::Group(found) if found.name == name => Some(found),
        Item::Group(other) => group(&other.items, name),
        _ => None,
    })
}

fn width_of(drawing: &Drawing, name: &str) -> f64 {
    let group = group(&drawing.pages[0].items, name).unwrap();
    let boxes = group.items.iter().filter_map(|item| match item {
        Item::Path(path) => Some(path.path.bounding_box()),
        _ => None,
    });
    boxes.reduce(|all, next| all.union(next)).unwrap().width()
}

#[test]
fn head_and_hole_are_as_wide_as_the_plan_says() {
    let mut seen = 0;
    for asked in FIXINGS {
        let job = dedication(asked);
        let fixing = job.mount.fixing.as_ref().unwrap();
        if !fixing.through_plate() {
            continue;
        }
        seen += 1;
        let drawing = fixing_sample(&job.layout).unwrap();
        let (head, hole) = (width_of(&drawing, "head"), width_of(&drawing, "hole"));
        let scale = head / fixing.head_diameter;
        assert!((scale - 2.0).abs() < 0.01 || (scale - 1.0).abs() < 0.01, "{asked}: {scale}");
        assert!((hole - fixing.clearance * scale).abs() < 0.01, "{asked}");
        assert!(drawing.description.contains(&super::words::mm(fixing.head_diameter)));
        assert!(drawing.description.contains(&super::words::mm(fixing.clearance)));
    }
    assert_eq!(seen, FIXINGS.len() - 1);
}

#[test]
fn a_round_no_4_is_as_the_standard_has_it() {
    // ASME B18.6.1: No. 4, round head 0.211 in; ASME B18.2.8, normal fit: 0.1285 in.
    let asked = "{ kind = \"wood screw\", gauge = 4, head = \"round\", length = \"1/2 in\" }";
    let drawing = fixing_sample(&dedication(asked).layout).unwrap();
    assert!((width_of(&drawing, "head") - 2.0 * 0.211 * 25.4).abs() < 0.01);
    assert!((width_of(&drawing, "hole") - 2.0 * 0.1285 * 25.4).abs() < 0.01);
}

#[test]
fn labels_stand_on_the_page_and_do_not_meet() {
    let tape = DEDICATION
        .replace(FIXINGS[0], "{ kind = \"tape\" }")
        .replace("holes  = \"four corners\"\ninset  = \"8 mm\"", "");
    let mut layouts = vec![layout_of(&tape).unwrap()];
    layouts.extend(FIXINGS.map(|asked| dedication(asked).layout));
    for layout in layouts {
        let drawing = fixing_sample(&layout).unwrap();
        let page = &drawing.pages[0];
        let sheet = Rect::new(0.0, 0.0, page.width, page.height);
        let boxes = text_boxes(&page.items, Affine::IDENTITY);
        assert!(!boxes.is_empty());
        for (index, label) in boxes.iter().enumerate() {
            assert_eq!(sheet.union(*label), sheet, "{}: {label:?}", drawing.title);
            for other in &boxes[index + 1..] {
                assert!(label.intersect(*other).is_zero_area(), "{}", drawing.title);
            }
        }
    }
}

#[test]
fn no_hatching_runs_through_a_hole() {
    for asked in FIXINGS {
        let job = dedication(asked);
        let fixing = job.mount.fixing.as_ref().unwrap();
        let section = super::Section::of(
            &job.layout,
            job.layout.mount.fixing.as_ref().unwrap(),
            Some(fixing),
        );
        let group = section.group(Affine::IDENTITY);
        // Face, then plate: each its hatching, its edges, its breaks.
        for (index, bore) in [(0, fixing.bores[0].diameter), (3, fixing.clearance)] {
            let Item::Path(lines) = &group.items[index] else { panic!("hatching is a path") };
            assert!(lines.path.segments().count() > 3, "{asked}");
            let start = job.layout.plate.thickness + fixing.off;
            for line in lines.path.segments() {
                let middle = line.eval(0.5);
                let deep = index == 3 || middle.x < start + 0.2;
                assert!(!deep || middle.y.abs() >= bore / 2.0 - 1e-9, "{asked}: {middle:?}");
            }
        }
    }
}

#[test]
fn without_a_fixing_there_is_no_drawing() {
    let none = DEDICATION
        .replace(&format!("fixing = {}", FIXINGS[0]), "")
        .replace("holes  = \"four corners\"\ninset  = \"8 mm\"", "");
    assert!(fixing_sample(&layout_of(&none).unwrap()).is_none());
}
