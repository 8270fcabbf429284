//! Promises about the files that drawings are written to: SVG, PNG, PDF.
//!
//! PDF is read by poppler and SVG drawn by librsvg, neither of which the
//! project uses.

use std::path::Path as FilePath;
use std::sync::Arc;

use ansata::drawing::write::{pdf, png, svg};
use ansata::drawing::{
    Drawing, Ends, Group, Item, LineType, Page, Paint, Path, Setting, Stroke, Text,
};
use ansata::layout::LetteringChoice;
use ansata::lettering::{Face, shaped_run};
use kurbo::{Affine, BezPath, Circle, Rect, Shape};

use crate::outside::run;

const BLACK: [u8; 3] = [0, 0, 0];
const WHITE: [u8; 3] = [255, 255, 255];

fn face(name: &str) -> Arc<Face> {
    Face::open(&LetteringChoice::shipped(name.to_owned())).unwrap()
}

/// A text with its start on the baseline at (x, y), mm; its em `size` mm.
fn text(words: &str, face: &Arc<Face>, size: f64, (x, y): (f64, f64), turned: f64) -> Text {
    let set = Setting { size, x, y, turned, colour: BLACK };
    Text::from_glyphs(words, face, &shaped_run(words, face, &[]).glyphs, set)
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> BezPath {
    Rect::new(x, y, x + width, y + height).to_path(0.1)
}

fn drawing(pages: Vec<Page>) -> Drawing {
    Drawing {
        title: "Marrowby Vale: tower plaque".to_owned(),
        description: "Rung here by the band of Marrowby Vale".to_owned(),
        background: Some(WHITE),
        pages,
    }
}

fn page(width: f64, height: f64, items: Vec<Item>) -> Page {
    Page { width, height, items }
}

/// A drawing with one of everything: shades, lines of every type, a mirrored
/// and a scaled group, level and turned text in static and variable fonts.
fn everything() -> Drawing {
    let plate = Path {
        path: rectangle(10.0, 10.0, 90.0, 55.0),
        fill: Some(Paint::Linear {
            from: (10.0, 10.0),
            to: (100.0, 65.0),
            stops: vec![(0.0, [228, 203, 139]), (0.5, [250, 236, 190]), (1.0, [205, 172, 100])],
        }),
        stroke: Some(Stroke {
            width: 0.35,
            line_type: LineType::Continuous,
            ends: Ends::Square,
            colour: BLACK,
        }),
    };
    let mut items = vec![Group::new("plate", "Brass, 90 x 55 mm", vec![plate.into()]).into()];
    let types = [
        LineType::Continuous,
        LineType::Dashed,
        LineType::LongDashedDotted,
        LineType::LongDashedDoubleDotted,
    ];
    for (line_type, y) in types.into_iter().zip([70.0, 72.0, 74.0, 76.0]) {
        let mut line = BezPath::new();
        line.move_to((10.0, y));
        line.line_to((110.0, y));
        items.push(
            Path::stroked(
                line,
                Stroke { width: 0.35, line_type, ends: Ends::Square, colour: BLACK },
            )
            .into(),
        );
    }
    let hole = Circle::new((15.0, 15.0), 1.6).to_path(1e-4);
    let mut mirrored = Group::new("mirrored", "", vec![Path::filled(hole, BLACK).into()]);
    mirrored.transform = Affine::new([-1.0, 0.0, 0.0, 1.0, 110.0, 0.0]);
    items.push(mirrored.into());
    let words = text("Efflorescence", &face("EB Garamond Italic"), 5.0, (0.0, 0.0), 0.0);
    let mut scaled = Group::new("scaled", "", vec![words.into()]);
    scaled.transform = Affine::new([2.0, 0.0, 0.0, 2.0, 20.0, 40.0]);
    items.push(scaled.into());
    let label = text("sixty-five bells", &face("Archivo Narrow"), 3.5, (112.0, 60.0), 90.0);
    items.push(label.into());
    items.push(part_of_circles().into());
    let mut drawing = drawing(vec![page(120.0, 80.0, items.clone()), page(100.0, 80.0, items)]);
    drawing.pages[1].items.truncate(3);
    drawing
}

/// A true circle and one drawn out of round, of which only a part is shown.
fn part_of_circles() -> Group {
    let stroke =
        Stroke { width: 0.7, line_type: LineType::Continuous, ends: Ends::Square, colour: BLACK };
    let circle = || ansata::drawing::Circle { centre: (0.0, 0.0), radius: 6.0, stroke };
    let mut long = Group::new("long", "", vec![circle().into()]);
    long.transform = Affine::new([1.5, 0.0, 0.0, 0.8, 8.0, 2.0]);
    let mut part = Group::new("part", "", vec![circle().into(), long.into()]);
    part.transform = Affine::translate((40.0, 22.0));
    part.clip = Some(Rect::new(-2.5, -7.0, 14.5, 4.25));
    part
}

/// Writes `bytes` as `name` in a folder of its own.
fn written(name: &str, bytes: &[u8]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(name), bytes).unwrap();
    folder
}

/// A picture as grey levels, row by row, with its width in pixels.
fn grey(path: &FilePath) -> (Vec<u8>, usize) {
    let picture = image::open(path).unwrap().into_luma8();
    let width = usize::try_from(picture.width()).unwrap();
    (picture.into_raw(), width)
}

/// Ink along a row or column of grey levels, in pixels: half-covered ones count half.
fn ink<'a>(levels: impl Iterator<Item = &'a u8>) -> f64 {
    levels.map(|level| 1.0 - f64::from(*level) / 255.0).sum()
}

#[test]
fn the_same_drawing_gives_the_same_bytes() {
    let (one, two) = (everything(), everything());
    assert_eq!(svg(&one), svg(&two));
    assert_eq!(pdf(&one), pdf(&two));
    assert_eq!(png(&one, 150.0), png(&two, 150.0));
}

#[test]
fn a_pdf_page_has_exactly_the_size_asked_for() {
    // mm to points of 1/72 in: ISO 216 and ASME Y14.1 sheets; a plate of 6 x 4 in; one of 2 m.
    let sizes = [
        ((210.0, 297.0), (595.276, 841.890)),
        ((215.9, 279.4), (612.0, 792.0)),
        ((152.4, 101.6), (432.0, 288.0)),
        ((2000.0, 5.0), (5669.291, 14.173)),
    ];
    let pages = sizes.map(|((width, height), _)| page(width, height, vec![])).to_vec();
    let bytes = pdf(&drawing(pages)).unwrap();
    // As the file itself says it, to a thousandth of a point: /MediaBox[0 0 width height].
    let file = String::from_utf8_lossy(&bytes).into_owned();
    let boxes: Vec<Vec<f64>> = file
        .split("/MediaBox[")
        .skip(1)
        .map(|rest| {
            let numbers = rest.split(']').next().unwrap().split_whitespace();
            numbers.map(|number| number.parse().unwrap()).collect()
        })
        .collect();
    assert_eq!(boxes.len(), sizes.len());
    for (found, (_, (width, height))) in boxes.iter().zip(&sizes) {
        for (found, asked) in found.iter().zip([0.0, 0.0, *width, *height]) {
            assert!((found - asked).abs() < 0.001, "{boxes:?}");
        }
    }
    assert!(file.contains("/Lang(en)"));

    let folder = written("sheet.pdf", &bytes);
    let Some(said) = run("pdfinfo", &["-box", "-f", "1", "-l", "4", "sheet.pdf"], folder.path())
    else {
        return;
    };
    for (index, (_, (width, height))) in sizes.iter().enumerate() {
        let label = format!("Page {:4} MediaBox:", index + 1);
        let line = said.lines().find(|line| line.starts_with(&label)).unwrap();
        let numbers: Vec<f64> =
            line[label.len()..].split_whitespace().map(|n| n.parse().unwrap()).collect();
        // pdfinfo prints two decimals.
        for (read, asked) in numbers.iter().zip([0.0, 0.0, *width, *height]) {
            assert!((read - asked).abs() < 0.005 + 1e-9, "{line}");
        }
    }
    assert!(!said.contains("Date"), "{said}");
    assert!(said.contains("Marrowby Vale: tower plaque"), "{said}");
}

#[test]
fn a_bar_of_100_mm_measures_100_mm_on_paper() {
    let items = vec![
        // Lying, standing, and a line 0.7 mm wide.
        Path::filled(rectangle(20.3, 30.7, 100.0, 4.0), BLACK).into(),
        Path::filled(rectangle(130.1, 20.9, 4.0, 100.0), BLACK).into(),
        {
            let mut line = BezPath::new();
            line.move_to((20.3, 60.0));
            line.line_to((120.3, 60.0));
            let line_type = LineType::Continuous;
            Path::stroked(line, Stroke { width: 0.7, line_type, ends: Ends::Square, colour: BLACK })
                .into()
        },
    ];
    let folder = written("bar.pdf", &pdf(&drawing(vec![page(210.0, 297.0, items)])).unwrap());
    if run("pdftoppm", &["-r", "600", "-gray", "-png", "bar.pdf", "bar"], folder.path()).is_none() {
        return;
    }
    let (levels, width) = grey(&folder.path().join("bar-1.png"));
    let mm = 25.4 / 600.0;
    let row = |y: f64| &levels[pixel(y / mm) * width..(pixel(y / mm) + 1) * width];
    let column = |x: f64| levels.iter().skip(pixel(x / mm)).step_by(width);
    // Lying bars without the standing one, which ends at 120.9 mm and starts at x = 130.1 mm.
    let left = pixel(125.0 / mm);
    let measured = [
        ink(row(32.7)[..left].iter()) * mm,
        ink(row(60.0)[..left].iter()) * mm,
        ink(column(132.1)) * mm,
    ];
    // The promise is a tenth of a millimetre; a pixel is 0.042 mm.
    for length in measured {
        assert!((length - 100.0).abs() < 0.1, "{measured:?}");
    }
    // Where it stands: ink left of x = 50 mm, and thickness of the line.
    let start = 50.0 - ink(row(32.7)[..pixel(50.0 / mm)].iter()) * mm;
    assert!((start - 20.3).abs() < 0.1, "{start}");
    let thick: f64 = ink(levels.iter().skip(pixel(70.0 / mm)).step_by(width)) * mm;
    assert!((thick - 4.7).abs() < 0.1, "{thick}");
}

/// The pixel that a place in pixels falls into.
fn pixel(place: f64) -> usize {
    // Places on a page at 600 dpi are small and positive.
    format!("{:.0}", place.floor()).parse().unwrap()
}

#[test]
fn words_in_a_pdf_can_be_searched_and_copied() {
    let garamond = face("EB Garamond");
    let hebrew = face("Frank Ruhl Libre");
    let lines = [
        ("office of the fjord, affluent", &garamond),
        ("Åse Ødegård & Zoë", &garamond),
        ("שלום עולם", &hebrew),
        ("1914–2003, Peal № 5", &garamond),
    ];
    let mut items: Vec<Item> = lines
        .iter()
        .zip([20.0, 30.0, 40.0, 50.0])
        .map(|((words, face), y)| text(words, face, 6.0, (20.0, y), 0.0).into())
        .collect();
    items.push(text("upright label", &face("Archivo"), 4.0, (150.0, 100.0), 90.0).into());
    let folder = written("words.pdf", &pdf(&drawing(vec![page(210.0, 297.0, items)])).unwrap());
    let Some(said) = run("pdftotext", &["-enc", "UTF-8", "words.pdf", "-"], folder.path()) else {
        return;
    };
    // Direction marks that poppler sets round right-to-left words are not ours.
    let plain: String = said
        .chars()
        .filter(|c| !matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'))
        .collect();
    for (words, _) in lines {
        assert!(plain.contains(words), "{words} in {plain}");
    }
    assert!(plain.contains("upright label"), "{plain}");
}

#[test]
fn fonts_travel_inside_the_pdf_with_their_characters() {
    let folder = written("all.pdf", &pdf(&everything()).unwrap());
    let Some(said) = run("pdffonts", &["all.pdf"], folder.path()) else { return };
    let fonts: Vec<&str> = said.lines().skip(2).collect();
    assert_eq!(fonts.len(), 2, "{said}");
    for font in fonts {
        // Columns: emb, sub, uni.
        let flags = font.split_whitespace().filter(|word| *word == "yes").count();
        assert_eq!(flags, 3, "{font}");
    }
}

#[test]
fn pdf_and_svg_show_the_same_picture() {
    let mut one = everything();
    one.pages.truncate(1);
    // Poppler sets letters on whole pixels; where they stand is the next promise.
    for item in &mut one.pages[0].items {
        if let Item::Group(group) = item {
            group.items.retain(|item| !matches!(item, Item::Text(_)));
        }
    }
    one.pages[0].items.retain(|item| !matches!(item, Item::Text(_)));
    let folder = written("all.pdf", &pdf(&one).unwrap());
    std::fs::write(folder.path().join("ours.png"), png(&one, 300.0).unwrap()).unwrap();
    if run("pdftocairo", &["-r", "300", "-png", "all.pdf", "all"], folder.path()).is_none() {
        return;
    }
    alike(&folder.path().join("ours.png"), &folder.path().join("all-1.png"));
}

#[test]
fn words_in_a_pdf_stand_where_the_drawing_says() {
    // Kerned, in a variable font away from its default instance, in a group at twice its size.
    let face = face("Archivo Wide");
    let words = "AVATAR To Wave";
    let label = text(words, &face, 4.0, (3.0, 20.0), 0.0);
    let starts: Vec<f64> = ["AVATAR", "To", "Wave"]
        .map(|word| {
            let byte = words.find(word).unwrap();
            let glyph = label.glyphs.iter().find(|glyph| glyph.range.start == byte).unwrap();
            10.0 + 2.0 * (3.0 + 4.0 * glyph.x_em)
        })
        .to_vec();
    let mut group = Group::new("label", "", vec![label.into()]);
    group.transform = Affine::new([2.0, 0.0, 0.0, 2.0, 10.0, 5.0]);
    let folder =
        written("words.pdf", &pdf(&drawing(vec![page(200.0, 60.0, vec![group.into()])])).unwrap());
    let Some(said) = run("pdftotext", &["-bbox", "words.pdf", "-"], folder.path()) else { return };
    // <word xMin="..." yMin=...>AVATAR</word>, in points.
    let found: Vec<f64> = said
        .split("<word xMin=\"")
        .skip(1)
        .map(|rest| rest.split('"').next().unwrap().parse::<f64>().unwrap() * 25.4 / 72.0)
        .collect();
    assert_eq!(found.len(), starts.len(), "{said}");
    for (found, start) in found.iter().zip(&starts) {
        assert!((found - start).abs() < 0.01, "{found} mm for {start} mm in {said}");
    }
}

#[test]
fn another_renderer_draws_the_svg_as_we_do() {
    let all = everything();
    let folder = written("all.svg", svg(&all).unwrap().as_bytes());
    std::fs::write(folder.path().join("ours.png"), png(&all, 300.0).unwrap()).unwrap();
    let arguments =
        ["--dpi-x", "300", "--dpi-y", "300", "-b", "white", "-o", "theirs.png", "all.svg"];
    if run("rsvg-convert", &arguments, folder.path()).is_none() {
        return;
    }
    alike(&folder.path().join("ours.png"), &folder.path().join("theirs.png"));
}

/// Two renderings of one drawing: they may differ where an edge covers part of a
/// pixel, since each renderer counts such cover in its own steps, and nowhere else.
/// So no pixel is half black and white apart, and the mean of the whole, mostly
/// plain areas and shades rounded their own way, is within half a level of 255.
fn alike(ours: &FilePath, theirs: &FilePath) {
    let ours = image::open(ours).unwrap().into_rgb8();
    let theirs = image::open(theirs).unwrap().into_rgb8();
    let near = |a: u32, b: u32| a.abs_diff(b) <= 1;
    assert!(near(ours.width(), theirs.width()) && near(ours.height(), theirs.height()));
    let (width, height) = (ours.width().min(theirs.width()), ours.height().min(theirs.height()));
    let (mut sum, mut far) = (0.0, 0_u32);
    for y in 0..height {
        for x in 0..width {
            let pairs = ours.get_pixel(x, y).0.into_iter().zip(theirs.get_pixel(x, y).0);
            let apart = pairs.map(|(a, b)| a.abs_diff(b)).max().unwrap_or(0);
            sum += f64::from(apart);
            far += u32::from(apart > 128);
        }
    }
    let mean = sum / (f64::from(width) * f64::from(height));
    assert!(far == 0 && mean < 0.5, "{far} pixels far apart, mean {mean} of 255 levels");
}

#[test]
fn a_png_has_the_pixels_and_the_resolution_asked_for() {
    // (mm, dpi, pixels, pixels per metre): 6 x 4 in at 300 dpi; 120 x 80 mm at 600 dpi,
    // 2834.6 x 1889.8 pixels; 300 / 0.0254 = 11811.02, 600 / 0.0254 = 23622.05.
    for ((width, height), dpi, pixels, per_metre) in [
        ((152.4, 101.6), 300.0, (1800, 1200), 11_811),
        ((120.0, 80.0), 600.0, (2835, 1890), 23_622),
        ((120.0, 80.0), 96.0, (454, 302), 3_780),
    ] {
        let bytes = png(&drawing(vec![page(width, height, vec![])]), dpi).unwrap();
        let reader = png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().unwrap();
        let info = reader.info();
        assert_eq!((info.width, info.height), pixels);
        let size = info.pixel_dims.unwrap();
        assert_eq!((size.xppu, size.yppu, size.unit), (per_metre, per_metre, png::Unit::Meter));
        // The image crate, which users' programs are likelier to have, reads it too.
        let picture = image::load_from_memory(&bytes).unwrap();
        assert_eq!((picture.width(), picture.height()), pixels);
    }
}

#[test]
fn artwork_has_a_clear_ground_and_a_sheet_a_white_one() {
    let square = || vec![Path::filled(rectangle(10.0, 10.0, 10.0, 10.0), BLACK).into()];
    let mut artwork = drawing(vec![page(30.3, 30.3, square())]);
    artwork.background = None;
    let clear = image::load_from_memory(&png(&artwork, 254.0).unwrap()).unwrap();
    assert_eq!(clear.color(), image::ColorType::Rgba8);
    let clear = clear.into_rgba8();
    assert_eq!(clear.get_pixel(50, 50).0, [0, 0, 0, 0]);
    assert_eq!(clear.get_pixel(150, 150).0, [0, 0, 0, 255]);
    assert!(!svg(&artwork).unwrap().contains("#ffffff"));

    let sheet = drawing(vec![page(30.33, 30.33, square())]);
    let white = image::load_from_memory(&png(&sheet, 254.0).unwrap()).unwrap();
    assert_eq!(white.color(), image::ColorType::Rgb8);
    let white = white.into_rgb8();
    // The last row is covered by the page in part only.
    for (x, y) in [(50, 50), (302, 302)] {
        assert_eq!(white.get_pixel(x, y).0, WHITE);
    }
}

#[test]
fn letters_stand_where_the_text_says_level_or_upright() {
    // Capital E of Atkinson Hyperlegible: its flat top and foot are its cap height.
    let face = face("Atkinson Hyperlegible");
    let size = 10.0 / face.cap_em();
    for (turned, wanted) in [(0.0, (20.0, 30.0)), (90.0, (20.0, 30.0))] {
        let label = text("E", &face, size, (20.0, 40.0), turned);
        let tree = usvg::Tree::from_str(
            &svg(&drawing(vec![page(100.0, 100.0, vec![label.into()])])).unwrap(),
            &usvg::Options::default(),
        )
        .unwrap();
        let letter = last_box(tree.root());
        // 96 / 25.4 units of CSS to the mm.
        let mm = |units: f32| f64::from(units) * 25.4 / 96.0;
        let (left, top) = (mm(letter.left()), mm(letter.top()));
        let (right, bottom) = (mm(letter.right()), mm(letter.bottom()));
        let (x, y) = wanted;
        if turned == 0.0 {
            // Stands on the baseline y = 40 and reaches 10 mm up.
            assert!((bottom - 40.0).abs() < 0.01 && (top - y).abs() < 0.01, "{letter:?}");
            assert!(left > x, "{letter:?}");
        } else {
            // Read from the right: its foot at x = 20, its top 10 mm to the left.
            assert!((right - x).abs() < 0.01 && (left - 10.0).abs() < 0.01, "{letter:?}");
            assert!(bottom < 40.0 && top > 30.0, "{letter:?}");
        }
    }
}

/// Box of what is drawn last.
fn last_box(group: &usvg::Group) -> usvg::Rect {
    match group.children().last() {
        Some(usvg::Node::Group(inner)) => last_box(inner),
        Some(node) => node.abs_bounding_box(),
        None => group.abs_bounding_box(),
    }
}

#[test]
fn no_wording_can_break_a_file() {
    let face = face("Atkinson Hyperlegible");
    let wild = "a<b>&\"'\u{0}\u{7}\u{ffff}\u{200b}\u{301}\u{ad}\r\n\u{10ffff}</svg>]]>שa";
    let mut broken = text(wild, &face, 5.0, (10.0, 20.0), 0.0);
    // Ranges past the end, inside a character, the wrong way round.
    broken.glyphs[0].range = 4000..5000;
    broken.glyphs[1].range = wild.len() - 2..wild.len() - 1;
    broken.glyphs[2].range.start = 9;
    let name = "a\"b<c>é \u{0}";
    let mut all =
        drawing(vec![page(100.0, 40.0, vec![Group::new(name, wild, vec![broken.into()]).into()])]);
    all.title = wild.to_owned();
    all.description = wild.to_owned();
    let tree = usvg::Tree::from_str(&svg(&all).unwrap(), &usvg::Options::default());
    assert!(tree.is_ok(), "{tree:?}");
    assert!(png(&all, 100.0).is_ok());
    let folder = written("wild.pdf", &pdf(&all).unwrap());
    run("pdfinfo", &["wild.pdf"], folder.path());
}

#[test]
fn a_glyph_that_its_font_lacks_is_refused_by_the_name_of_the_lettering() {
    let mut odd = text("ab", &face("Great Vibes"), 5.0, (10.0, 20.0), 0.0);
    odd.glyphs[1].id = u16::MAX;
    let said = pdf(&drawing(vec![page(100.0, 40.0, vec![odd.into()])])).unwrap_err().to_string();
    assert!(said.starts_with("the lettering `Great Vibes` cannot be put into a PDF: "), "{said}");
}
