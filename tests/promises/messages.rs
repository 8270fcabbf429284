//! What is wrong with a layout is told at its own line and column, all of it at once.

use ansata::layout::{
    Align, Axis, AxisValue, Breaks, Diagnostic, FixingAsked, Head, HolesAsked, Layout,
    LetteringChoice, LetteringSource, Paper, Place, Process, Shape, Shop, Source, Vocabulary, read,
    read_shop,
};
use serde::Deserialize;

/// A dedication plaque with every table filled.
pub(crate) const SAMPLE: &str = r#"ansata = 1
title  = "Striking cup: dedication plaque"

[proof]
number     = 2
replaces   = "proof 1"
date       = "2026-03-14"
client     = "The ringers of Marrowby Vale"
spelling   = "The tower secretary"
signatures = ["Tower captain", "Engraver"]

[plate]
size      = "120 x 80 mm"
shape     = "rounded"
corner    = "5 mm"
thickness = "1.5 mm"
material  = "brass"
finish    = "satin"
margin    = "7 mm"
border    = { inset = "3 mm", lines = 2, weight = "0.3 mm", gap = "1 mm", at_holes = "stop short" }

[engraving]
process   = "rotary"
cut       = "incised"
fill      = "black"
read_from = "60 cm"

[fit]
ease = "92 %"

[lettering]
default = "EB Garamond"

[[line]]
text      = "The Elowen Tarrant Striking Cup"
size      = 2.0
lettering = "EB Garamond Italic"
keep      = ["Elowen Tarrant"]

[[line]]
text     = "given by the ringers of Marrowby Vale"
features = ["smcp", "-liga"]
at_least = "2 mm"

[[line]]
text  = "MMXXVI"
space = 0.8

[mount]
fixing = { kind = "wood screw", gauge = 2, head = "round", length = "3/8 in" }
holes  = "four corners"
inset  = "6 mm"

[face]
size      = "150 x 110 mm"
material  = "black walnut"
thickness = "19 mm"
place     = { from_top = "20 mm" }
"#;

/// The least that a layout must hold; mistakes are made in it.
pub(crate) const SMALL: &str = r#"ansata = 1
title = "Cup"

[plate]
size = "120 x 80 mm"
material = "brass"

[lettering]
default = "EB Garamond"

[[line]]
text = "Given by the ringers"
"#;

/// The wording of a client who types on another system: a byte order mark, CRLF, edge
/// spaces, empty lines before, between and after.
const SENT: &str =
    "\u{FEFF}\r\nIn memory of\r\n  Elowen Tarrant \r\n \r\n\r\ntower captain\r\n\r\n";

fn companion(path: &str) -> Result<Vec<u8>, String> {
    match path {
        "sent.txt" => Ok(SENT.into()),
        "tab.txt" => Ok("One\n\nTwo\tthree\n".into()),
        "latin.txt" => Ok(b"For the caf\xe9".to_vec()),
        "wide.txt" => Ok(b"\xff\xfeO\0n\0e\0".to_vec()),
        "blank.txt" => Ok(" \n\u{200B}\n".into()),
        "long.txt" => Ok("word ".repeat(1000).into()),
        "many.txt" => Ok("name\n".repeat(10_000).into()),
        "huge.txt" => Ok(vec![b'a'; 2 << 20]),
        "ours.ttf" => Ok(vec![0, 1, 0, 0]),
        "hill.png" => Ok(hill()),
        "half.png" => Ok(hill().into_iter().take(60).collect()),
        "ours.svg" => {
            Ok(b"<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0H9V9'/></svg>".into())
        }
        _ => Err("there is no such file".to_owned()),
    }
}

/// A photograph of 40 x 30 pixels that grows lighter from left to right.
pub(crate) fn hill() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(40, 30, |x, _| {
        let level = u8::try_from(x * 6).unwrap();
        image::Rgb([level; 3])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

fn read_in(text: &str, shop: Shop) -> Result<Layout, Vec<Diagnostic>> {
    let source = Source { name: "cup.toml".to_owned(), text: text.to_owned() };
    let lettering = ["EB Garamond", "EB Garamond Italic"].map(str::to_owned).to_vec();
    read(&source, shop, &Vocabulary { lettering }, &companion)
}

fn read_text(text: &str) -> Result<Layout, Vec<Diagnostic>> {
    read_in(text, Shop::default())
}

/// What a terminal would show.
fn shown(mistakes: &[Diagnostic]) -> String {
    mistakes.iter().map(|mistake| mistake.render(false)).collect::<Vec<_>>().join("\n")
}

fn right(text: &str) -> Layout {
    read_text(text).unwrap_or_else(|mistakes| panic!("{text}\n{}", shown(&mistakes)))
}

fn wrong(text: &str) -> Vec<Diagnostic> {
    let mistakes = read_text(text).expect_err(text);
    assert!(!mistakes.is_empty(), "a refusal without a word: {text}");
    mistakes
}

/// The small layout with the client's own file for its wording.
fn with_wording(path: &str) -> String {
    let lines = "[[line]]\ntext = \"Given by the ringers\"\n";
    format!("wording = \"{path}\"\n{}", SMALL.replace(lines, ""))
}

#[test]
fn a_layout_is_read_as_it_is_meant() {
    let layout = right(SAMPLE);
    assert_eq!(layout.title, "Striking cup: dedication plaque");
    assert_eq!(layout.proof.number, 2);
    assert_eq!(layout.proof.signatures, ["Tower captain", "Engraver"]);
    assert_eq!(layout.proof.paper, Paper::A4);
    assert_eq!(layout.plate.shape, Shape::Rounded { corner: 5.0 });
    assert!((layout.engraving.reading.distance - 600.0).abs() < 1e-9);
    assert!((layout.fit.ease - 0.92).abs() < 1e-12);
    let first = &layout.lines[0];
    assert_eq!(first.lettering, LetteringChoice::shipped("EB Garamond Italic".to_owned()));
    assert_eq!(first.keep, ["Elowen Tarrant"]);
    assert_eq!((first.breaks, first.align), (Breaks::LastResort, Align::Centre));
    assert_eq!(layout.lines[1].features, ["smcp", "-liga"]);
    assert_eq!(layout.lines[1].breaks, Breaks::Free, "seven words");
    // 3/8 in = 9.525 mm, by hand.
    let screw = FixingAsked::WoodScrew {
        gauge: 2,
        head: Head::Round,
        length: 9.525,
        metal: None,
        cap: None,
    };
    assert_eq!(layout.mount.fixing, Some(screw));
    assert_eq!(layout.mount.holes, HolesAsked::FourCorners);
    let face = layout.face.expect("a face");
    assert_eq!((face.across, face.along), (Place::Centred, Place::FromStart(20.0)));
    assert!(!layout.inches);
}

#[test]
fn each_key_is_found_again_where_it_was_written() {
    let layout = right(SAMPLE);
    for (path, text) in [
        ("plate.margin", "\"7 mm\""),
        ("plate", "[plate]"),
        ("plate.border.gap", "\"1 mm\""),
        ("line.2.text", "\"given by the ringers of Marrowby Vale\""),
        ("line.3", "[[line]]"),
        ("line.3.lettering", "[[line]]"),
        ("mount.fixing.gauge", "2"),
        ("lettering.default", "\"EB Garamond\""),
    ] {
        let span = layout.keys.span(path).unwrap_or_else(|| panic!("{path}"));
        assert_eq!(&SAMPLE[span], text, "{path}");
    }
    let third = layout.keys.span("line.3").expect("line 3").start;
    assert!(third > layout.keys.span("line.2.at_least").expect("line 2").start);
}

#[derive(Deserialize)]
struct Mistakes {
    mistake: Vec<Mistake>,
}

#[derive(Deserialize)]
pub(crate) struct Mistake {
    pub(crate) replace: String,
    pub(crate) with: String,
    at: String,
    pub(crate) says: String,
    advises: String,
}

/// The table of single mistakes in the small layout.
pub(crate) fn mistakes() -> Vec<Mistake> {
    let table = include_str!("messages/mistakes.toml");
    let table: Mistakes = toml::from_str(table).expect("the table of mistakes");
    assert!(table.mistake.len() >= 30);
    table.mistake
}

#[test]
fn every_mistake_is_told_at_its_own_place_with_what_to_do() {
    right(SMALL);
    for mistake in mistakes() {
        let text = SMALL.replacen(&mistake.replace, &mistake.with, 1);
        assert_ne!(text, SMALL, "{} is not in the layout", mistake.replace);
        let told = wrong(&text);
        let rendered = shown(&told);
        assert_eq!(told.len(), 1, "{text}\n{rendered}");
        assert_eq!(told[0].message, mistake.says);
        assert_eq!(told[0].help.as_ref(), Some(&mistake.advises));
        assert!(rendered.contains(&format!("cup.toml:{}\n", mistake.at)), "{rendered}");
    }
}

#[test]
fn a_message_shows_file_line_column_the_line_itself_and_the_cure() {
    let told = wrong(&SMALL.replace("size =", "size=\"1\"\nheigth ="));
    assert_eq!(
        shown(&told),
        r#"error: `1` is not a width and a height
 --> cup.toml:5:6
  |
5 | size="1"
  |      ^^^
  |
  = help: write width x height, such as "120 x 80 mm" or "4 3/4 x 3 in"
error: unknown key `heigth` in [plate]
 --> cup.toml:6:1
  |
6 | heigth = "120 x 80 mm"
  | ^^^^^^
  |
  = help: the keys here are: size, shape, corner, rise, handles, points, reveal, thickness, material, finish, coating, cap, core, colour, bevel, margin, border, quantity"#
    );
    let coloured = told[0].render(true);
    assert!(coloured.contains("\u{1b}["), "{coloured:?}");
    assert!(!shown(&told).contains('\u{1b}'));
}

#[test]
fn several_mistakes_are_told_at_once_in_the_order_of_the_file() {
    let text = SAMPLE
        .replace("number     = 2", "number     = 0")
        .replace("\"brass\"", "\"bras\"")
        .replace("margin    = \"7 mm\"", "margin    = 7 mm")
        .replace("ease =", "eese =")
        .replace("size      = 2.0", "size      = 99")
        .replace("text  = \"MMXXVI\"", "text  = \"\"")
        .replace("gauge = 2", "gauge = \"two\"");
    let told = wrong(&text);
    let said: Vec<_> = told
        .iter()
        .map(|mistake| (mistake.position().expect("a place").line, mistake.message.as_str()))
        .collect();
    assert_eq!(
        said,
        [
            (5, "`proof.number` cannot be `0`"),
            (17, "`plate.material` cannot be `bras`"),
            (19, "the value of `margin` is not in quotes"),
            (29, "unknown key `eese` in [fit]"),
            (36, "`line.1.size` cannot be `99`"),
            (46, "`line.3.text` shows nothing"),
            (50, "`mount.fixing.gauge` must be a whole number without quotes, not text"),
        ]
    );
}

#[test]
fn a_slip_in_the_toml_does_not_bring_others_that_only_follow_from_it() {
    // An open text, brace or list swallows what comes after it.
    for text in [
        SMALL.replace("\"Cup\"", "\"\"\"Cup"),
        SMALL.replace("\"Cup\"", "{ a = 1,"),
        SMALL.replace("\"Cup\"", "[ 1,"),
    ] {
        let told = wrong(&text);
        assert_eq!(told.len(), 1, "{}", shown(&told));
        let place = told[0].position().expect("a place");
        assert_eq!((place.line, place.column), (2, 9), "{}", shown(&told));
    }
}

#[test]
fn the_clients_wording_is_taken_as_it_was_sent() {
    let layout = right(&with_wording("sent.txt"));
    let lines: Vec<_> = layout.lines.iter().map(|line| (line.text.as_str(), line.space)).collect();
    assert_eq!(
        lines,
        [("In memory of", 0.35), ("  Elowen Tarrant ", 0.0), ("tower captain", 0.35)]
    );
    // What a finding says of a line points to the key that named the file.
    let text = with_wording("sent.txt");
    assert_eq!(&text[layout.keys.span("line.2.text").expect("a place")], "\"sent.txt\"");
}

#[test]
fn a_mistake_in_the_clients_file_is_told_at_its_place_in_that_file() {
    assert_eq!(
        shown(&wrong(&with_wording("tab.txt"))),
        "error: the wording holds a tab (U+0009)
 --> tab.txt:3:4
  |
3 | Two    three
  |    ^^^^
  |
  = help: it cannot be engraved: write a space, or begin a new line"
    );
    for (file, place, message) in [
        ("latin.txt", "latin.txt:1:12", "this is not UTF-8 text: the byte is no character"),
        ("wide.txt", "wide.txt", "the file is UTF-16, not UTF-8 text"),
        ("blank.txt", "blank.txt", "the wording shows nothing"),
        ("long.txt", "long.txt:1:1", "this line is longer than 2000 characters"),
        ("many.txt", "many.txt:501:1", "the inscription has more than 500 rows"),
        ("huge.txt", "huge.txt", "the file has 2097152 bytes; at most 1048576 are read"),
        ("none.txt", "cup.toml:1:11", "the wording file `none.txt` cannot be read"),
    ] {
        let told = wrong(&with_wording(file));
        let rendered = shown(&told);
        assert_eq!(told.len(), 1, "{rendered}");
        assert_eq!(told[0].message, message);
        assert!(rendered.contains(&format!("--> {place}\n")), "{rendered}");
        assert!(rendered.len() < 1000, "{rendered}");
    }
}

#[test]
fn a_lettering_file_of_ones_own_is_read_once_and_kept_with_its_index() {
    let own = "{ file = \"ours.ttf\", index = 1 }";
    let layout = right(&SMALL.replace("\"EB Garamond\"", own));
    let LetteringSource::Own(file) = &layout.lines[0].lettering.source else {
        panic!("{:?}", layout.lines[0].lettering);
    };
    assert_eq!((file.path.as_str(), file.index, &*file.bytes), ("ours.ttf", 1, &[0, 1, 0, 0][..]));
}

#[test]
fn axes_in_braces_are_those_of_the_line_over_those_of_the_default() {
    let default = "{ name = \"EB Garamond\", weight = \"bold\", width = 80 }";
    let line = "ringers\"\nlettering = { weight = 650.5, optical_size = \"caption\" }\n\
                [[line]]\ntext = \"two\"\n[[line]]\ntext = \"three\"\n\
                lettering = { name = \"EB Garamond Italic\" }";
    let small = SMALL.replace("\"EB Garamond\"", default).replace("ringers\"", line);
    let layout = right(&small);
    let lettering: Vec<_> = layout.lines.iter().map(|line| &line.lettering).collect();
    let size = (Axis::OpticalSize, AxisValue::Word("caption"));
    let width = (Axis::Width, AxisValue::Thousandths(80_000));
    let bold = (Axis::Weight, AxisValue::Word("bold"));
    assert_eq!(lettering[0].axes, [(Axis::Weight, AxisValue::Thousandths(650_500)), width, size]);
    assert_eq!(lettering[1].axes, [bold, width]);
    assert_eq!(*lettering[2], LetteringChoice::shipped("EB Garamond Italic"));
}

#[test]
fn inches_are_answered_in_inches_and_the_shops_paper_wins() {
    let inches = SMALL.replace("120 x 80 mm", "4 3/4 x 3 in");
    let layout = right(&inches);
    assert!(layout.inches);
    assert_eq!(layout.proof.paper, Paper::Letter);
    assert!(
        (layout.plate.width - 120.65).abs() < 1e-9 && (layout.plate.height - 76.2).abs() < 1e-9
    );
    let shop = Shop { paper: Some(Paper::A3), ..Shop::default() };
    assert_eq!(read_in(&inches, shop).expect("a layout").proof.paper, Paper::A3);
}

pub(crate) const SHOP: &str = r#"ansata_shop = 1
name = "The bench behind the tower"
paper = "Letter"
text_to_head = "2 mm"
drills = ["2.5 mm", "5/64 in", "2 mm", "2.0 mm"]
cutters = [{ tip = "0.25 mm" }, { tip = "0.1 mm", angle = 40, depth = "0.2 mm" }]
least_land = "0.15 mm"

[least_cap_height]
rotary = "2.5 mm"
"fibre laser" = "1 mm"
"#;

fn shop_from(text: &str) -> Result<Shop, Vec<Diagnostic>> {
    read_shop(&Source { name: "shop.toml".to_owned(), text: text.to_owned() })
}

#[test]
fn a_shop_states_its_own_figures_once() {
    let shop = shop_from(SHOP).unwrap_or_else(|told| panic!("{}", shown(&told)));
    assert_eq!(shop.paper, Some(Paper::Letter));
    // 5/64 in = 1.984375 mm, by hand.
    assert_eq!(shop.drills, [1.984375, 2.0, 2.5]);
    let cutters: Vec<f64> = shop.cutters.iter().map(|cutter| cutter.width()).collect();
    // 0.1 + 0.4 tan 20° = 0.1 + 0.4 · 0.363 970, by table.
    assert!(cutters.len() == 2 && (cutters[1] - 0.245_588).abs() < 1e-6, "{cutters:?}");
    assert_eq!(shop.least_land, Some(0.15));
    let least: Vec<_> = shop.least_cap_height.into_iter().collect();
    assert_eq!(least, [(Process::Rotary, 2.5), (Process::FibreLaser, 1.0)]);
}

#[test]
fn a_shop_file_is_as_strict_as_a_layout() {
    let text = SHOP.replace("rotary =", "rotery =").replace("\"2 mm\", \"2.0", "2, \"2.0");
    let told = shop_from(&text.replace("\"Letter\"", "\"letter\"")).expect_err("mistakes");
    let said: Vec<_> = told
        .iter()
        .map(|mistake| (mistake.position().expect("a place").line, mistake.message.as_str()))
        .collect();
    assert_eq!(
        said,
        [
            (3, "`paper` cannot be `letter`"),
            (5, "`2` has no unit"),
            (10, "unknown key `rotery` in [least_cap_height]"),
        ]
    );
    let told = shop_from(SMALL).expect_err("a layout");
    assert_eq!(told[0].message, "this is a layout, not a shop file");
}

#[test]
fn files_of_any_size_and_kind_are_refused_soon_and_in_few_words() {
    let most = (1 << 20) - 500;
    let often = |part: &str| part.repeat(most / part.len());
    for text in [
        "a".repeat(2 << 20),
        format!("ansata = 1\ntitle = \"{}\"", "a".repeat(2 << 20)),
        SMALL.replace("Given", &often("Given ")),
        SMALL.replace("title", &often("title")),
        SMALL.replace("EB Garamond", &often("EB Garamond ")),
        SMALL.replace("brass", &often("brass")),
        SMALL.replace("120 x", &often("120 x")),
        SMALL.replace("[plate]", &format!("{}[plate]", "[[line]]\ntext = \"A\"\n".repeat(10_000))),
        (0..50_000).map(|number| format!("key{number} = 1\n")).collect(),
        format!("accept = [{}]", often("{},")),
        format!("accept = {}", often("[")),
        format!("accept = {}", often("{a=")),
        often("]{=\"\n"),
        often("=\n"),
        often("\r"),
        often("\0"),
        often("\"\"\"\n"),
        String::new(),
    ] {
        let start: String = text.chars().take(40).collect();
        let begun = std::time::Instant::now();
        let told = wrong(&text);
        assert!(told.len() <= 41, "{start}: {} mistakes", told.len());
        let rendered = shown(&told);
        assert!(rendered.len() < 20_000, "{start}: {} bytes", rendered.len());
        // Some hundredths of a second each; the bound only tells it from running away.
        assert!(begun.elapsed().as_secs() < 20, "{start}: {:?}", begun.elapsed());
    }
}

#[test]
fn an_inscription_has_room_for_five_hundred_rows_and_no_more() {
    let line = "[[line]]\ntext = \"A bell\"\n";
    let of = |count: usize| format!("{SMALL}{}", line.repeat(count - 1));
    assert_eq!(right(&of(500)).lines.len(), 500);
    let told = wrong(&of(501));
    assert_eq!(told[0].message, "the inscription has more than 500 rows");
    let long = |count: usize| SMALL.replace("Given by the ringers", &"é".repeat(count));
    assert_eq!(right(&long(2000)).lines.len(), 1);
    assert_eq!(wrong(&long(2001))[0].message, "`line.1.text` is longer than 2000 characters");
    let many = format!("[[line]]\ntext = \"{}\"\n", "é".repeat(1998)).repeat(10);
    assert_eq!(right(&format!("{SMALL}{many}")).lines.len(), 11);
    let told = wrong(&format!("{SMALL}{many}{line}"));
    assert_eq!(told[0].message, "the inscription has more than 20000 characters");
}

#[test]
fn rows_of_one_line_may_be_typed_in_any_way_that_toml_has() {
    let text = "In memory of\nElowen Tarrant";
    for typed in [
        "\"In memory of\\nElowen Tarrant\"",
        "\"\"\"\nIn memory of\nElowen Tarrant\n\"\"\"",
        "\"\"\"\r\nIn memory of\r\nElowen Tarrant\"\"\"",
        "'''In memory of\nElowen Tarrant'''",
    ] {
        let layout = right(&SMALL.replace("\"Given by the ringers\"", typed));
        assert_eq!(layout.lines[0].text, text, "{typed}");
    }
    let windows = format!("\u{FEFF}{}", SMALL.replace('\n', "\r\n"));
    assert_eq!(right(&windows).lines.len(), 1);
    let told = wrong(&windows.replace("ansata = 1", "ansata = 2"));
    assert!(shown(&told).contains("cup.toml:1:10\n"), "{}", shown(&told));
}

#[test]
fn no_input_makes_the_reader_panic() {
    let parts: Vec<&str> = SAMPLE.split_inclusive([' ', '\n', '"', '=', ',']).collect();
    arbtest::arbtest(|u| {
        // Now and then noise; else the sample with parts left out, doubled and changed.
        let text = if u.ratio(1, 8)? {
            String::from_utf8_lossy(u.bytes(u.len().min(400))?).into_owned()
        } else {
            let mut text = String::new();
            for part in &parts {
                match u.int_in_range(0..=40)? {
                    0 => {}
                    1 => text.extend([*part, *part]),
                    2 => text.push_str(u.choose(&parts)?),
                    3 => text
                        .extend([*part, u.choose(&["[", "}", "\"", "\\", "\u{301}", "½", "\0"])?]),
                    4 => text.push_str(&u.arbitrary::<f64>()?.to_string()),
                    _ => text.push_str(part),
                }
            }
            text
        };
        match read_text(&text) {
            Ok(layout) => assert!(!layout.lines.is_empty()),
            Err(told) => assert!(!told.is_empty() && !shown(&told).is_empty()),
        }
        if let Err(told) = shop_from(&text) {
            assert!(!told.is_empty() && !shown(&told).is_empty());
        }
        Ok(())
    })
    .budget_ms(3000);
}
