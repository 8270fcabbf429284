//! Drawings read as they are drawn, and everything else refused at its place.

use kurbo::{BezPath, Point, Shape};

use super::{MOST_BYTES, MOST_CURVES, MOST_NESTED, MOST_NODES, MOST_SHAPES, MOST_TURNS, shape};

/// A drawing of 100 by 100 units, its content on line 2.
fn svg(content: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" \
         viewBox=\"0 0 100 100\">\n{content}\n</svg>"
    )
}

fn read(content: &str) -> BezPath {
    let text = svg(content);
    shape("crest.svg", text.clone().into_bytes())
        .unwrap_or_else(|told| panic!("{text}\n{}", told.render(false)))
}

/// What is said of a drawing, with line and column where it has them.
fn refused(text: String) -> (String, Option<(usize, usize)>) {
    let told = shape("crest.svg", text.clone().into_bytes()).expect_err(&text);
    assert!(told.help.is_some(), "{text}");
    assert_eq!(told.source.name, "crest.svg");
    (told.message.clone(), told.position().map(|at| (at.line, at.column)))
}

#[track_caller]
fn refuses(content: &str, says: &str, at: Option<(usize, usize)>) {
    let (message, place) = refused(svg(content));
    assert!(message.contains(says), "{content}: {message}");
    assert_eq!(place, at, "{content}: {message}");
}

/// Area in units of the height.
fn area(content: &str) -> f64 {
    read(content).area().abs()
}

#[track_caller]
fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 2e-5, "{a} is not {b}");
}

#[test]
fn a_drawing_is_one_high_and_stands_on_its_foot() {
    // 40 wide, 20 high.
    let path = read("<rect x='10' y='70' width='40' height='20'/>");
    let ink = path.bounding_box();
    for (got, want) in [(ink.x0, 0.0), (ink.y0, 0.0), (ink.x1, 2.0), (ink.y1, 1.0)] {
        near(got, want);
    }
    // The notch is at the top of the page, and y runs up here.
    let notched = read("<path d='M0 0 H40 L50 30 L60 0 H100 V100 H0 Z'/>");
    assert_eq!(notched.winding(Point::new(0.5, 0.9)), 0);
    assert_ne!(notched.winding(Point::new(0.5, 0.5)), 0);
}

#[test]
fn both_fill_rules_are_followed() {
    // Two squares of one direction, 80 and 40 wide: a ring by one rule, whole by the other.
    let squares = "M10 10 H90 V90 H10 Z M30 30 H70 V70 H30 Z";
    near(area(&format!("<path fill-rule='evenodd' d='{squares}'/>")), 0.75);
    near(area(&format!("<path d='{squares}'/>")), 1.0);
    near(area(&format!("<g style='fill-rule:evenodd'><path d='{squares}'/></g>")), 0.75);
    // Two shapes over each other do not cancel, whichever way round they run.
    near(area("<path d='M0 0 H50 V50 H0 Z'/><path d='M0 0 V50 H50 V0 Z'/>"), 1.0);
}

#[test]
fn transforms_repeats_and_units_are_followed() {
    let ink = |content: &str| read(content).bounding_box();
    // Turned by a quarter: 10 by 40 becomes 40 by 10.
    near(ink("<rect x='5' y='5' width='10' height='40' transform='rotate(90 30 30)'/>").x1, 4.0);
    // A group stretches across by 3.
    near(ink("<g transform='scale(3 1)'><rect width='10' height='10'/></g>").x1, 3.0);
    // Drawn twice, 30 apart, each 10 wide: 40 by 10, of which half is ink.
    let twice = "<defs><rect id='a' width='10' height='10'/></defs><use href='#a'/>\
                 <use xlink:href='#a' x='30'/>";
    near(ink(twice).x1, 4.0);
    near(area(twice), 2.0);
    // A tenth of an inch is 9.6 units of the page.
    near(ink("<rect width='0.1in' height='19.2'/>").x1, 0.5);
    // By a style sheet.
    near(
        area(
            "<style>.no { display: none }</style><rect class='no' width='90' height='90'/>\
               <rect width='10' height='10'/>",
        ),
        1.0,
    );
}

#[test]
fn lines_become_outlines_with_their_caps_and_dashes() {
    let line = |more: &str| {
        format!("<path d='M20 50 H80' fill='none' stroke='#000' stroke-width='10' {more}/>")
    };
    let ink = |content: &str| read(content).bounding_box();
    near(ink(&line("")).x1, 6.0);
    near(ink(&line("stroke-linecap='square'")).x1, 7.0);
    near(ink(&line("stroke-linecap='round'")).x1, 7.0);
    // Dashes of 10 and gaps of 10 along 60: three squares.
    near(area(&line("stroke-dasharray='10'")), 3.0);
    // A corner of 90° with a mitre reaches half the width beyond both lines.
    let corner = "<path d='M20 80 V20 H80' fill='none' stroke='#000' stroke-width='10'/>";
    near(ink(corner).x1, 65.0 / 65.0);
    // Fill and line of one shape are united: 70 by 70.
    near(area("<rect x='20' y='20' width='60' height='60' stroke='#000' stroke-width='10'/>"), 1.0);
}

#[test]
fn white_takes_away_what_lies_beneath_it_and_the_page_cuts_off() {
    let white = "<rect x='20' y='20' width='60' height='60' fill='#fff'/>";
    let dark = "<rect x='10' y='10' width='80' height='80'/>";
    near(area(&format!("{dark}{white}")), 1.0 - 36.0 / 64.0);
    near(area(&format!("{white}{dark}")), 1.0);
    // Half of it stands off the page: 50 by 80 is left.
    near(area("<rect x='-50' y='10' width='100' height='80'/>"), 50.0 / 80.0);
}

#[test]
fn what_a_picture_has_no_need_of_is_refused_at_its_place() {
    let rect = "<rect width='9' height='9'/>";
    refuses(&format!("{rect}<script>alert(1)</script>"), "script", Some((2, 29)));
    refuses("<rect width='9' height='9' onload='run()'/>", "script", Some((2, 28)));
    refuses("<foreignObject/>", "script or another document", Some((2, 1)));
    refuses("<image href='a.png'/>", "picture", Some((2, 1)));
    refuses("<text>Vale</text>", "text", Some((2, 1)));
    refuses("<use href='other.svg#a'/>", "another file", Some((2, 6)));
    refuses("<style>@import 'a.css';</style>", "another file", Some((2, 1)));
    refuses("<style>rect { fill: url(http://a/b.svg#c) }</style>", "another file", Some((2, 1)));
    refuses("<rect width='9' height='9' fill='url(a.svg#b)'/>", "another file", Some((2, 34)));
    refuses("<rect width='9' height='9'><animate/></rect>", "moves", Some((2, 28)));
    refuses("<switch/>", "`switch` cannot be engraved", Some((2, 1)));
    let (message, at) =
        refused(format!("<?xml version='1.0'?>\n<?xml-stylesheet href='a.css'?>\n{}", svg(rect)));
    assert_eq!((message.contains("another file"), at), (true, Some((2, 1))), "{message}");
}

#[test]
fn what_has_no_one_outline_is_refused() {
    let gradient = "<linearGradient id='g'><stop/></linearGradient>";
    let rect = "<rect width='9' height='9'";
    refuses(&format!("{gradient}{rect} fill='url(#g)'/>"), "gradients", Some((2, 81)));
    // One that nothing refers to does no harm.
    near(area(&format!("<defs>{gradient}</defs>{rect}/>")), 1.0);
    refuses(&format!("{rect} opacity='0.5'/>"), "half clear", None);
    refuses(&format!("{rect} fill-opacity='50%'/>"), "half clear", None);
    refuses(&format!("{rect} style='mix-blend-mode:multiply'/>"), "half clear", None);
    refuses(&format!("{rect} fill='red'/>{rect} fill='#00f'/>"), "#ff0000 and #0000ff", None);
}

#[test]
fn numbers_that_are_none_are_refused_and_not_passed_over() {
    refuses("<path d='M0 0 L NaN 5 Z'/>", "damaged", Some((2, 10)));
    refuses("<path d='M0 0 L 5'/>", "damaged", Some((2, 10)));
    refuses("<path d='M0 0 L 1e9 5 Z'/>", "`d` cannot be", Some((2, 10)));
    refuses("<circle r='nan'/>", "`r` cannot be `nan`", Some((2, 12)));
    refuses("<rect width='1e999' height='9'/>", "`width` cannot be", Some((2, 14)));
    refuses("<rect width='inf' height='9'/>", "`width` cannot be", Some((2, 14)));
    refuses("<polygon points='0,0 1,1 2'/>", "`points` cannot be", Some((2, 18)));
    refuses("<g transform='rotate(a)'/>", "`transform` cannot be", Some((2, 15)));
    refuses("<g transform='spin(3)'/>", "`transform` cannot be", Some((2, 15)));
    refuses("<rect style='stroke-width:NaN'/>", "`stroke-width` cannot be", Some((2, 14)));
    let (message, _) = refused(svg("").replace("0 0 100 100", "0 0 0 100"));
    assert!(message.contains("`viewBox` cannot be"), "{message}");
}

#[test]
fn what_is_no_sound_drawing_is_refused() {
    let (message, at) =
        refused("<svg xmlns='http://www.w3.org/2000/svg'>\n<rect>\n</svg>".to_owned());
    assert!(message.contains("not sound XML"), "{message}");
    assert_eq!(at.map(|at| at.0), Some(3));
    for (text, says) in [
        (String::new(), "not sound XML"),
        ("hello".to_owned(), "not sound XML"),
        ("<html/>".to_owned(), "this is not SVG: the file holds `html`"),
        ("<svg/>".to_owned(), "this is not SVG"),
        (svg(""), "the drawing is empty"),
        (svg("<path d=''/>"), "the drawing is empty"),
        (svg("<path d='M0 0 L9 9'/>"), "the drawing is empty"),
        (svg("<rect width='90' height='1'/>"), "50 times as long"),
        (svg("<use href='#none'/>"), "not in the drawing"),
    ] {
        let (message, _) = refused(text.clone());
        assert!(message.contains(says), "{text}: {message}");
    }
    let told = shape("crest.svg", vec![0x1f, 0x8b, 8, 0, 0xff]).expect_err("packed");
    assert!(told.message.contains("UTF-8"), "{}", told.message);
}

#[test]
fn a_drawing_that_would_grow_without_end_is_refused() {
    // Entities that hold ten of each other, ten deep.
    let mut laughs = "<!DOCTYPE svg [\n<!ENTITY a0 'ha'>\n".to_owned();
    for level in 1..10 {
        let inner = format!("&a{};", level - 1).repeat(10);
        laughs.push_str(&format!("<!ENTITY a{level} '{inner}'>\n"));
    }
    laughs.push_str(&format!("]>\n{}", svg("<desc>&a9;</desc>")));
    assert_eq!(refused(laughs), ("the drawing declares entities".to_owned(), Some((2, 1))));
    let (message, _) = refused(format!("<!DOCTYPE svg [ ]>\n{}", svg("")));
    assert!(message.contains("declarations of its own"), "{message}");
    // Ten repeats of ten repeats of …, without any entity.
    let mut repeats = "<defs><rect id='u0' width='9' height='9'/>".to_owned();
    for level in 1..12 {
        let inner = format!("<use href='#u{}'/>", level - 1).repeat(10);
        repeats.push_str(&format!("<g id='u{level}'>{inner}</g>"));
    }
    let repeats = format!("{repeats}</defs><use href='#u11'/>");
    assert!(refused(svg(&repeats)).0.contains(&format!("more than {MOST_SHAPES} shapes")));
    refuses("<g id='a'><use href='#a'/></g>", "repeats itself", Some((2, 1)));
    let deep = format!("{}<rect/>{}", "<g>".repeat(20_000), "</g>".repeat(20_000));
    assert!(refused(svg(&deep)).0.contains("more than"));
    let deep = format!("{}<rect/>{}", "<g>".repeat(MOST_NESTED), "</g>".repeat(MOST_NESTED));
    assert!(refused(svg(&deep)).0.contains("inside each other"));
    let many = "<rect/>".repeat(MOST_SHAPES + 1);
    assert!(refused(svg(&many)).0.contains("shapes"));
    let many = "<g/>".repeat(usize::try_from(MOST_NODES).unwrap() + 1);
    assert!(refused(svg(&many)).0.contains("parts"));
    let long = format!("<path d='M0 0 {}'/>", "L1 1 ".repeat(MOST_CURVES + 1));
    assert!(refused(svg(&long)).0.contains("lines and curves"));
    let half = format!("<path d='M0 0 {}'/>", "L1 1 L2 5 ".repeat(MOST_CURVES / 3));
    assert!(refused(svg(&half.repeat(2))).0.contains("lines and curves"));
    // A star polygon of 499 points: each side crosses nearly all others.
    let star: String = (0..499_u32)
        .map(|at| {
            let (sin, cos) = libm::sincos(f64::from(at * 249) / 499.0 * std::f64::consts::TAU);
            format!("{} {} ", 50.0 + 49.0 * cos, 50.0 + 49.0 * sin)
        })
        .collect();
    let star = format!("<polygon fill-rule='evenodd' points='{star}'/>");
    assert!(refused(svg(&star)).0.contains("may cross"));
    let dashed = "<path d='M0 9 H90' stroke='#000' stroke-dasharray='0.001'/>";
    assert!(refused(svg(dashed)).0.contains("lines and curves"));
    let turns = "<rect width='9' height='9'/><rect width='5' height='5' fill='#fff'/>";
    assert!(refused(svg(&turns.repeat(MOST_TURNS))).0.contains("over each other"));
    assert!(refused(" ".repeat(MOST_BYTES + 1)).0.contains("bytes"));
}

#[test]
fn a_drawing_program_s_own_notes_do_no_harm() {
    let text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!DOCTYPE svg PUBLIC \"-//W3C//DTD \
                SVG 1.1//EN\" \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">\n<svg \
                xmlns=\"http://www.w3.org/2000/svg\" xmlns:own=\"http://example.org/own\" \
                width=\"40mm\" height=\"20mm\" own:version=\"1\">\n<title>Crest</title>\n\
                <metadata><own:note>x</own:note></metadata><own:view onload=\"x\"/>\n\
                <path own:kind=\"NaN\" d=\"m1,1h30v9h-30z\"/>\n</svg>";
    let path = shape("crest.svg", text.as_bytes().to_vec()).unwrap();
    near(path.bounding_box().x1, 30.0 / 9.0);
}

#[test]
fn broken_bytes_of_a_drawing_never_bring_it_down() {
    let sound = svg("<g transform='scale(2)'><path style='fill:#000' d='M1 1 C 3,3 -4e1,5 6 7 \
                     A 3 2 10 1 0 9 9 Z'/><circle cx='5' cy='5' r='3'/><use href='#b'/></g>\
                     <rect id='b' width='9' height='9' rx='2' stroke='#000'/>");
    let bytes = sound.into_bytes();
    // A fixed walk (xorshift64), so that what fails is found again.
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut below = |end: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state % end as u64).unwrap()
    };
    let (mut read, mut told) = (0, 0);
    for _ in 0..1500 {
        let mut broken = bytes.clone();
        for _ in 0..=below(4) {
            let at = below(broken.len());
            match below(4) {
                0 => broken[at] = b"<>/'&#0123456789.-eEAZ \x00\xff"[below(25)],
                1 if broken.len() > 1 => drop(broken.remove(at)),
                2 => broken.truncate(at.max(1)),
                _ => broken.insert(at, broken[below(broken.len())]),
            }
        }
        match shape("crest.svg", broken) {
            Ok(path) => {
                let ink = path.bounding_box();
                assert!((ink.height() - 1.0).abs() < 1e-5 && ink.width().is_finite());
                read += 1;
            }
            Err(mistake) => {
                assert!(!mistake.render(false).is_empty());
                told += 1;
            }
        }
    }
    assert!(read > 100 && told > 300, "{read} {told}");
}
