//! Promises about the specimen sheet.

use ansata::drawing::{Group, Item, Text};
use ansata::layout::{Layout, Paper, Shop, Source, Vocabulary, read};
use ansata::lettering::{Entry, Filter, catalogue};
use ansata::sheets::{Specimen, SpecimenWishes, specimen};
use kurbo::{Affine, Point, Rect, Shape};

use crate::outside;
use crate::support::Bench;

/// White round the contents of a sheet that is read at a table, mm.
const MARGIN: f64 = 15.0;

fn layout(lines: &[&str]) -> Layout {
    let mut text = "ansata = 1\ntitle = \"Cup\"\nplate.size = \"100 x 100 mm\"\n\
                    plate.material = \"brass\"\nlettering.default = \"Cinzel\"\n"
        .to_owned();
    for line in lines {
        text.push_str(&format!("[[line]]\ntext = {}\n", toml::Value::String((*line).to_owned())));
    }
    let lettering = catalogue().names().map(str::to_owned).collect();
    let source = Source { name: "cup.toml".to_owned(), text };
    read(&source, Shop::default(), &Vocabulary { lettering }, &|_| Err(String::new())).unwrap()
}

fn of(lines: &[&str], filter: &Filter, cap_height: Option<f64>) -> Specimen {
    let layout = layout(lines);
    let entries: Vec<&Entry> = filter.entries(catalogue());
    let wishes = SpecimenWishes {
        title: None,
        lines: &layout.lines,
        entries: &entries,
        cap_height,
        paper: Paper::A4,
    };
    specimen(&wishes, catalogue())
}

fn everything(lines: &[&str]) -> Specimen {
    of(lines, &Filter::default(), None)
}

/// Groups of a page by their names' beginning, with all texts in them.
fn groups<'d>(items: &'d [Item], begins: &str) -> Vec<&'d Group> {
    let named = items.iter().filter_map(|item| match item {
        Item::Group(group) if group.name.starts_with(begins) => Some(group),
        _ => None,
    });
    named.collect()
}

/// Texts of a group where they stand on the page.
fn texts(group: &Group) -> Vec<(Affine, &Text)> {
    let found = group.items.iter().flat_map(|item| match item {
        Item::Text(text) if text.text.trim().is_empty() => Vec::new(),
        Item::Text(text) => vec![(group.transform, text)],
        // Tables hold their cells as groups.
        Item::Group(inner) => {
            texts(inner).into_iter().map(|(moved, text)| (group.transform * moved, text)).collect()
        }
        _ => Vec::new(),
    });
    found.collect()
}

/// Box of the ink of a level text, mm on its page.
fn ink((moved, text): &(Affine, &Text)) -> Rect {
    let boxes = text.glyphs.iter().filter_map(|glyph| {
        let outline = text.face.outline(glyph.id);
        let at = (text.x + glyph.x_em * text.size, text.y - glyph.y_em * text.size);
        let place = *moved * Affine::new([text.size, 0.0, 0.0, -text.size, at.0, at.1]);
        (!outline.is_empty()).then(|| (place * outline).bounding_box())
    });
    boxes.reduce(|a, b| a.union(b)).unwrap()
}

/// Boxes of the ink of a sample's rows: texts, or centre lines as wide as they are drawn.
fn inks(group: &Group) -> Vec<Rect> {
    let lines = group.items.iter().filter_map(|item| match item {
        Item::Path(path) => {
            let half = path.stroke.unwrap().width / 2.0;
            Some((group.transform * path.path.clone()).bounding_box().inflate(half, half))
        }
        _ => None,
    });
    texts(group).iter().map(ink).chain(lines).collect()
}

const DEDICATION: [&str; 5] = [
    "MARROWBY VALE",
    "The Elowen Tarrant\nStriking Cup",
    "given by her family and her band",
    "in memory of fifty years at the tenor",
    "1976 – 2026",
];

#[test]
fn nothing_of_a_specimen_stands_off_the_page_or_over_another_part() {
    let long = "The ringers of Marrowby Vale and the watchers of its observatory ".repeat(28);
    let word = "Quillfeather".repeat(30);
    let many: Vec<String> = (0..60).map(|at| format!("Ringer {at} of the tower")).collect();
    let many: Vec<&str> = many.iter().map(String::as_str).collect();
    let wordings: [&[&str]; 8] = [
        &DEDICATION,
        &["Vale"],
        &["."],
        &["שלום לכל הבאים", "Vale"],
        &[&long],
        &[&word],
        &many,
        &["ΜΝΗΜΗ ΑΙΩΝΙΑ", "ΕΛΟΟΥΕΝ"],
    ];
    for lines in wordings {
        let specimen = everything(lines);
        let sheet = specimen.sheet.unwrap();
        let mut numbers = Vec::new();
        for page in &sheet.drawing.pages {
            let mut parts: Vec<Rect> = Vec::new();
            for group in groups(&page.items, "specimen-") {
                numbers.push(group.name.trim_start_matches("specimen-").parse::<usize>().unwrap());
                let all = inks(group).into_iter().reduce(|a, b| a.union(b)).unwrap();
                parts.push(all);
            }
            let labels = groups(&page.items, "labels");
            parts.extend(labels.iter().flat_map(|group| texts(group)).map(|text| ink(&text)));
            for (at, part) in parts.iter().enumerate() {
                let inside = part.x0 >= MARGIN - 0.3
                    && part.x1 <= page.width - MARGIN + 0.3
                    && part.y0 >= MARGIN - 0.3
                    && part.y1 <= page.height - MARGIN + 0.3;
                assert!(inside, "{part:?} on {} x {}", page.width, page.height);
                for other in &parts[at + 1..] {
                    let over = part.intersect(*other);
                    assert!(over.width() <= 0.0 || over.height() <= 0.0, "{part:?} {other:?}");
                }
            }
        }
        let expected: Vec<usize> = (1..=specimen.shown.len()).collect();
        assert_eq!(numbers, expected, "{lines:?}");
        assert_eq!(
            specimen.shown.len() + specimen.left_out.len(),
            catalogue().entries.len(),
            "{lines:?}"
        );
    }
}

#[test]
fn all_letterings_stand_at_one_cap_height_and_break_alike() {
    let wording = "In memory of Elowen Tarrant, who rang the tenor of Marrowby Vale for fifty \
                   years and taught a whole band to ring";
    for lines in [&DEDICATION[..], &[wording]] {
        let specimen = everything(lines);
        let mut rows: Vec<Vec<String>> = Vec::new();
        for page in &specimen.sheet.unwrap().drawing.pages {
            for group in groups(&page.items, "specimen-") {
                let texts = texts(group);
                for (_, text) in &texts {
                    let cap = text.size * text.face.cap_em();
                    assert!((cap - specimen.cap_height).abs() < 1e-9, "{}", group.name);
                }
                // Centre lines are no texts.
                if !texts.is_empty() {
                    rows.push(texts.iter().map(|(_, text)| text.text.clone()).collect());
                }
            }
        }
        rows.dedup();
        assert_eq!(rows.len(), 1, "{rows:?}");
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(words(&rows[0].join(" ")), words(&lines.join(" ")));
    }
}

#[test]
fn the_width_beside_a_name_is_that_of_its_widest_row() {
    let specimen = everything(&DEDICATION);
    let mut checked = 0;
    for page in &specimen.sheet.unwrap().drawing.pages {
        let labels: Vec<(f64, String)> = groups(&page.items, "labels")
            .iter()
            .flat_map(|group| texts(group))
            .map(|(moved, text)| ((moved * Point::new(text.x, text.y)).y, text.text.clone()))
            .collect();
        for group in groups(&page.items, "specimen-") {
            let boxes = inks(group);
            let widest = boxes.iter().map(Rect::width).fold(0.0, f64::max);
            let top = boxes.iter().map(|b| b.y0).fold(f64::INFINITY, f64::min);
            // The last caption above it.
            let caption = labels.iter().filter(|(y, text)| *y < top && text.contains(" mm wide"));
            let (_, caption) = caption.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap();
            let stated: f64 = caption.split(' ').next().unwrap().parse().unwrap();
            assert!((stated - widest).abs() <= 0.051, "{caption} {widest}");
            checked += 1;
        }
    }
    assert_eq!(checked, 53);
}

#[test]
fn what_lacks_a_character_is_left_out_and_named_with_it() {
    let specimen = everything(&["שלום"]);
    let set = ["Frank Ruhl Libre", "Frank Ruhl Libre Bold"];
    assert_eq!(specimen.shown, set);
    assert!(specimen.left_out.iter().all(|out| out.lacks == ['ש', 'ל', 'ו', 'ם']));
    let pages = specimen.sheet.unwrap().drawing.pages;
    let labels: Vec<String> = pages
        .iter()
        .flat_map(|page| groups(&page.items, "labels"))
        .flat_map(|group| texts(group))
        .map(|(_, text)| text.text.clone())
        .collect();
    let said = labels.join("\n");
    assert!(
        said.contains("U+05E9\u{a0}ש, U+05DC\u{a0}ל") && said.contains("Great Vibes"),
        "{said}"
    );
    // fonts.md measured: of Latin-1 the blackletter lacks only the sign of division.
    let specimen = everything(&["1 ÷ 2"]);
    let out: Vec<&str> = specimen.left_out.iter().map(|out| out.name.as_str()).collect();
    assert_eq!(out, ["UnifrakturMaguntia"]);
    // No lettering has a bell.
    let specimen = everything(&["\u{1F514}"]);
    assert!(specimen.sheet.is_none() && specimen.shown.is_empty());
}

#[test]
fn a_right_to_left_wording_stands_at_the_right() {
    let specimen = everything(&["שלום"]);
    let page = &specimen.sheet.unwrap().drawing.pages[0];
    for group in groups(&page.items, "specimen-") {
        let right = texts(group).iter().map(ink).map(|b| b.x1).fold(0.0, f64::max);
        assert!((right - (page.width - MARGIN)).abs() < 0.01, "{right}");
    }
}

#[test]
fn a_stated_cap_height_holds_unless_the_page_is_too_small() {
    let short = of(&["Vale"], &Filter::default(), Some(12.0));
    assert!((short.cap_height - 12.0).abs() < 1e-9);
    let word = "Quillfeather".repeat(3);
    let long = of(&[&word], &Filter::default(), Some(12.0));
    assert!(long.cap_height < 12.0, "{}", long.cap_height);
}

#[test]
fn a_specimen_is_made_by_look_and_script_from_the_command_line() {
    let bench = Bench::new();
    let ran = bench.run(&[
        "lettering",
        "--specimen",
        "Elowen Tarrant",
        "--look",
        "script",
        "-o",
        "s.svg",
    ]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.starts_with("4 letterings at "), "{}", ran.out);
    let svg = String::from_utf8(bench.read("s.svg")).unwrap();
    for name in ["Number 1: Great Vibes", "Number 3: Yellowtail"] {
        assert!(svg.contains(name), "{name}");
    }
    let again = bench.run(&["lettering", "--specimen", "Elowen Tarrant", "-o", "s.svg"]);
    assert_eq!(again.status, 3, "an existing file is not replaced unasked: {}", again.err);
    let ran = bench.run(&[
        "lettering",
        "--specimen",
        "Мир",
        "--script",
        "cyrillic",
        "--cap-height",
        "1/4 in",
        "--paper",
        "letter",
        "-o",
        "s.pdf",
    ]);
    assert!(ran.out.contains("letterings at 6.35 mm cap height"), "{}{}", ran.out, ran.err);
    let first = bench.read("s.pdf");
    let ran = bench.run(&[
        "lettering",
        "--specimen",
        "Мир",
        "--script",
        "cyrillic",
        "--cap-height",
        "1/4 in",
        "--paper",
        "letter",
        "-o",
        "s.pdf",
        "--replace",
    ]);
    assert_eq!((ran.status, first == bench.read("s.pdf")), (0, true), "the same bytes again");
    if let Some(text) = outside::run("pdftotext", &["s.pdf", "-"], &bench.path(".")) {
        assert!(text.contains("Roboto Slab Bold") && text.matches("Мир").count() > 5, "{text}");
    }
}

#[test]
fn a_layout_shows_its_own_lines_and_a_mistake_is_told() {
    let bench = Bench::new();
    let layouts = crate::support::shipped(&bench);
    assert!(layouts.iter().any(|name| name == "dedication.toml"));
    let ran =
        bench.run(&["lettering", "--layout", "dedication.toml", "-o", "s.png", "--dpi", "50"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("53 letterings"), "{}", ran.out);
    for (arguments, says) in [
        (&["--specimen", "A"][..], "write -o specimen.pdf"),
        (&["--specimen", "A", "-o", "s.pgf"], "the ending says the format"),
        (&["--specimen", "", "-o", "x.pdf"], "`line.1.text` shows nothing"),
        (&["--specimen", "A\tB", "-o", "x.pdf"], "holds a tab"),
        (&["--specimen", "A", "--look", "scritp", "-o", "x.pdf"], "did you mean `script`?"),
        (&["--specimen", "A", "--script", "greak", "-o", "x.pdf"], "did you mean `greek`?"),
        (&["--specimen", "A", "--cap-height", "8", "-o", "x.pdf"], "8 mm"),
        (&["--specimen", "A", "--cap-height", "9 m", "-o", "x.pdf"], "--cap-height"),
        (&["--specimen", "A", "--paper", "A9", "-o", "x.pdf"], "it may be A4"),
        (&["--specimen", "\u{1F514}", "-o", "x.pdf"], "(U+1F514)"),
        (
            &["--specimen", "A", "--look", "script", "--script", "hebrew", "-o", "x.pdf"],
            "fewer words",
        ),
        (&["-o", "x.pdf"], "goes with --specimen"),
        (&["--cap-height", "8 mm"], "goes with --specimen"),
    ] {
        let ran = bench.run(&[&["lettering"], arguments].concat());
        assert_eq!(ran.status, 2, "{arguments:?}: {}", ran.out);
        assert!(ran.err.contains(says), "{arguments:?}: {}", ran.err);
    }
    assert!(!bench.has("x.pdf") && !bench.has("s.pgf"));
}

#[test]
fn the_list_keeps_to_a_hundred_columns_and_filters() {
    let bench = Bench::new();
    let list = bench.run(&["lettering"]);
    let widest = list.out.lines().map(|row| row.chars().count()).max().unwrap();
    assert!(widest <= 100, "{widest}");
    let ran = bench.run(&["lettering", "--axis", "width", "--json"]);
    let list: Vec<serde_json::Value> = serde_json::from_str(&ran.out).unwrap();
    let names: Vec<&str> = list.iter().map(|entry| entry["family"].as_str().unwrap()).collect();
    assert!(names.contains(&"Archivo") && !names.contains(&"Oswald"), "{names:?}");
    assert_eq!(list[0]["axes"][0]["key"], "width");
    let ran = bench.run(&["lettering", "--look", "brush script", "--licence"]);
    assert!(ran.out.starts_with("Copyright (c) 2011 by Brian J. Bonislawsky"), "{}", ran.out);
    assert!(ran.out.contains("Apache License"));
    let ran = bench.run(&["lettering", "--figures", "oldstile"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("did you mean `old-style`?"), "{}", ran.err);
}
