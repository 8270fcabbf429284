//! Promises about pictures in the files that drawings are written to: the PDF is read by
//! poppler, the SVG drawn by librsvg, neither of which the project uses, and the PNG is
//! our own.

use std::f64::consts::PI;
use std::sync::Arc;

use ansata::drawing::write::{dxf, pdf, png, svg};
use ansata::drawing::{Drawing, Group, Image, Item, Page, Pixels, Scaling};
use ansata::picture::{Grey, Picture};
use image::RgbImage;
use kurbo::{Affine, Ellipse, Rect, Shape};

use crate::outside::run;

const WHITE: [u8; 3] = [255, 255, 255];
const NAVY: [u8; 3] = [0, 32, 96];
/// Nothing is like its own mirror image or like itself turned.
const PATCHES: [[u8; 3]; 6] =
    [[200, 30, 40], [10, 160, 70], NAVY, [250, 220, 60], [120, 120, 120], [1, 2, 3]];
/// Pixels to the side of a patch; they stand three across and two down.
const PATCH: u32 = 20;

fn one_page(width: f64, height: f64, items: Vec<Item>) -> Drawing {
    Drawing {
        title: "Marrowby Vale: tower plaque".to_owned(),
        description: "The ringers of Marrowby Vale".to_owned(),
        background: Some(WHITE),
        pages: vec![Page { width, height, items }],
    }
}

fn picture(area: Rect, pixels: Pixels) -> Image {
    let description = "The ringers at the tower door".to_owned();
    Image { area, pixels, scaling: Scaling::Smooth, clip: None, description }
}

fn colour(width: u32, height: u32, at: impl Fn(u32, u32) -> [u8; 3]) -> Pixels {
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    Pixels::Colour(Picture { width, height, rgb: places.flat_map(|(x, y)| at(x, y)).collect() })
}

fn grey(width: u32, height: u32, at: impl Fn(u32, u32) -> u8) -> Pixels {
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    let levels = places.map(|(x, y)| at(x, y)).collect();
    Pixels::Grey(Arc::new(Grey { width, height, levels }))
}

fn patches() -> Pixels {
    colour(3 * PATCH, 2 * PATCH, |x, y| {
        PATCHES[usize::try_from(x / PATCH + 3 * (y / PATCH)).unwrap()]
    })
}

/// The drawing as each program shows it at `dpi`, each with its name.
fn shown(drawing: &Drawing, dpi: u32) -> Vec<(&'static str, RgbImage)> {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    std::fs::write(at.join("all.pdf"), pdf(drawing).unwrap()).unwrap();
    std::fs::write(at.join("all.svg"), svg(drawing).unwrap()).unwrap();
    let ours = image::load_from_memory(&png(drawing, dpi.into()).unwrap()).unwrap();
    let mut all = vec![("ours", ours.into_rgb8())];
    let open = |name: &str| image::open(at.join(name)).unwrap().into_rgb8();
    let dots = dpi.to_string();
    if run("pdftoppm", &["-r", &dots, "-png", "all.pdf", "poppler"], at).is_some() {
        all.push(("poppler", open("poppler-1.png")));
    }
    let arguments = ["--dpi-x", &dots, "--dpi-y", &dots, "-b", "white", "-o", "r.png", "all.svg"];
    if run("rsvg-convert", &arguments, at).is_some() {
        all.push(("librsvg", open("r.png")));
    }
    all
}

/// How much of a pixel is covered by [`NAVY`] on white.
fn cover(pixel: [u8; 3]) -> f64 {
    (255.0 - f64::from(pixel[0])) / 255.0
}

#[test]
fn a_picture_fills_its_box_and_nothing_else() {
    let area = Rect::new(10.13, 6.37, 40.45, 27.02);
    let plain = || picture(area, colour(300, 200, |_, _| NAVY));
    let drawing = one_page(60.0, 40.0, vec![plain().into()]);
    let dpi = 1200;
    let mm = 25.4 / f64::from(dpi);
    for (name, picture) in shown(&drawing, dpi) {
        let row = picture.height() * 2 / 5;
        let column = picture.width() * 2 / 5;
        let (mut across, mut left) = (0.0, None);
        for x in 0..picture.width() {
            let ink = cover(picture.get_pixel(x, row).0);
            across += ink * mm;
            left = left.or((ink > 0.0).then(|| (f64::from(x) + 1.0 - ink) * mm));
        }
        let (mut down, mut top) = (0.0, None);
        for y in 0..picture.height() {
            let ink = cover(picture.get_pixel(column, y).0);
            down += ink * mm;
            top = top.or((ink > 0.0).then(|| (f64::from(y) + 1.0 - ink) * mm));
        }
        let found = [left.unwrap(), top.unwrap(), across, down];
        let wanted = [area.x0, area.y0, area.width(), area.height()];
        for (found, wanted) in found.iter().zip(wanted) {
            assert!((found - wanted).abs() < 0.05, "{name}: {found} mm for {wanted} mm");
        }
    }
}

#[test]
fn a_picture_cut_to_an_oval_covers_the_ovals_area() {
    let area = Rect::new(8.0, 5.0, 48.0, 33.0);
    let (a, b) = (18.7, 12.9);
    let mut oval = picture(area, colour(200, 140, |_, _| NAVY));
    oval.clip = Some(Ellipse::new(area.center(), (a, b), 0.0).to_path(1e-5));
    let drawing = one_page(56.0, 38.0, vec![oval.into()]);
    let dpi = 600;
    let mm = 25.4 / f64::from(dpi);
    for (name, picture) in shown(&drawing, dpi) {
        let covered: f64 = picture.pixels().map(|pixel| cover(pixel.0) * mm * mm).sum();
        let share = covered / (PI * a * b);
        assert!((share - 1.0).abs() < 0.005, "{name}: {share} of the area");
    }
}

/// Where in its box the middle of a patch stands, from 0 to 1.
fn middle(index: usize) -> (f64, f64) {
    [(1.0, 1.0), (3.0, 1.0), (5.0, 1.0), (1.0, 3.0), (3.0, 3.0), (5.0, 3.0)]
        .map(|(x, y)| (x / 6.0, y / 4.0))[index]
}

#[test]
fn colours_stay_and_stand_where_the_groups_transform_puts_them() {
    let area = Rect::new(4.0, 3.0, 34.0, 23.0);
    let turns = [
        Affine::IDENTITY,
        Affine::new([-1.0, 0.0, 0.0, 1.0, 60.0, 10.0]),
        Affine::new([0.0, 1.3, -1.3, 0.0, 50.0, 4.0]),
        Affine::new([1.0, 0.0, 0.0, -1.0, 3.0, 55.0]),
        Affine::translate((22.0, 12.0)) * Affine::rotate(0.5) * Affine::scale_non_uniform(0.9, 1.2),
        Affine::new([0.7, 0.1, -0.3, 0.9, 15.0, 8.0]),
    ];
    for to in turns {
        let mut group = Group::new("picture", "", vec![picture(area, patches()).into()]);
        group.transform = to;
        let drawing = one_page(64.0, 60.0, vec![group.into()]);
        for (name, picture) in shown(&drawing, 254) {
            for (index, wanted) in PATCHES.iter().enumerate() {
                let (x, y) = middle(index);
                let place = to * kurbo::Point::new(area.x0 + x * 30.0, area.y0 + y * 20.0);
                let found = picture.get_pixel(pixel(place.x), pixel(place.y)).0;
                assert_eq!(found, *wanted, "{name}, {to:?}, patch {index}");
            }
        }
    }
}

/// The pixel at 10 to the mm that a place in mm falls into.
fn pixel(place: f64) -> u32 {
    format!("{:.0}", (place * 10.0).floor()).parse().unwrap()
}

#[test]
fn paint_lets_through_what_lies_beneath_where_there_is_less_of_it() {
    // Bare, half and full paint of navy over a ground of orange.
    const GROUND: [u8; 3] = [240, 140, 60];
    let levels = [255_u8, 128, 0];
    let Pixels::Grey(bare) =
        grey(3 * PATCH, PATCH, |x, _| levels[usize::try_from(x / PATCH).unwrap()])
    else {
        unreachable!("grey is grey")
    };
    let area = Rect::new(5.0, 5.0, 35.0, 15.0);
    let ground = ansata::drawing::Path::filled(area.inflate(2.0, 2.0).to_path(0.1), GROUND);
    let paint = picture(area, Pixels::Paint { bare, colour: NAVY });
    let drawing = one_page(40.0, 20.0, vec![ground.into(), paint.into()]);
    for (name, picture) in shown(&drawing, 254) {
        for (index, level) in (0_u32..).zip(levels) {
            let found = picture.get_pixel(100 + 100 * index, 100).0;
            for channel in 0..3 {
                let (over, under) = (f64::from(NAVY[channel]), f64::from(GROUND[channel]));
                let wanted = over + (under - over) * f64::from(level) / 255.0;
                let off = (f64::from(found[channel]) - wanted).abs();
                assert!(off <= 1.5, "{name}, {level}: {found:?}, {wanted}");
            }
        }
    }
}

#[test]
fn a_pdf_holds_every_pixel_as_it_was_given() {
    // No two pixels alike, so that neither loss nor reduction could go unseen.
    let rgb =
        colour(113, 67, |x, y| [x, y, (x * 7 + y * 3) % 256].map(|v| u8::try_from(v).unwrap()));
    let levels = grey(57, 91, |x, y| u8::try_from((x * 5 + y * 11) % 256).unwrap());
    let items = vec![
        picture(Rect::new(5.0, 5.0, 25.0, 15.0), rgb.clone()).into(),
        picture(Rect::new(5.0, 20.0, 15.0, 38.0), levels.clone()).into(),
    ];
    let folder = tempfile::tempdir().unwrap();
    let bytes = pdf(&one_page(60.0, 40.0, items)).unwrap();
    std::fs::write(folder.path().join("all.pdf"), &bytes).unwrap();
    if run("pdfimages", &["-png", "all.pdf", "one"], folder.path()).is_some() {
        for (name, given) in [("one-000.png", &rgb), ("one-001.png", &levels)] {
            let found = image::open(folder.path().join(name)).unwrap();
            assert_eq!((found.width(), found.height()), given.size());
            let found = match given {
                Pixels::Colour(_) => found.into_rgb8().into_raw(),
                _ => found.into_luma8().into_raw(),
            };
            assert!(found == given.bytes().0, "{name}");
        }
    }
    if let Some(said) = run("pdfimages", &["-list", "all.pdf"], folder.path()) {
        // Two pictures and nothing that masks them.
        let kinds: Vec<&str> =
            said.lines().skip(2).filter_map(|line| line.split_whitespace().nth(2)).collect();
        assert_eq!(kinds, ["image", "image"], "{said}");
    }
    if let Some(text) = run("qpdf", &["--json", "all.pdf"], folder.path()) {
        assert_eq!(text.matches("\"/Alt\": \"u:The ringers at the tower door\"").count(), 2);
        assert_eq!(text.matches("\"/S\": \"/Figure\"").count(), 2);
    }
}

#[test]
fn an_svg_holds_every_pixel_as_it_was_given_and_names_no_clip_twice() {
    let rgb =
        colour(113, 67, |x, y| [x, y, (x * 7 + y * 3) % 256].map(|v| u8::try_from(v).unwrap()));
    let mut cut = picture(Rect::new(5.0, 5.0, 25.0, 15.0), rgb.clone());
    cut.clip = Some(Rect::new(6.0, 6.0, 24.0, 14.0).to_rounded_rect(2.0).to_path(0.001));
    "Ringers & \"friends\" <1914>".clone_into(&mut cut.description);
    let drawing = one_page(60.0, 40.0, vec![cut.clone().into(), cut.into()]);
    let text = svg(&drawing).unwrap();
    for part in ["id=\"clip\"", "id=\"clip-2\"", "url(#clip)", "url(#clip-2)"] {
        assert_eq!(text.matches(part).count(), 1, "{part}");
    }
    assert!(text.contains("<title>Ringers &amp; &quot;friends&quot; &lt;1914&gt;</title>"));
    assert!(text.contains("preserveAspectRatio=\"none\" image-rendering=\"optimizeQuality\""));
    let tree = usvg::Tree::from_str(&text, &usvg::Options::default()).unwrap();
    let held = images(tree.root());
    assert_eq!(held.len(), 2);
    for bytes in held {
        let found = image::load_from_memory(&bytes).unwrap().into_rgb8().into_raw();
        assert!(found == rgb.bytes().0);
    }
    // The same drawing gives the same bytes in every format.
    let again = drawing.clone();
    assert_eq!(svg(&again).unwrap(), text);
    assert_eq!(pdf(&again), pdf(&drawing));
    assert_eq!(png(&again, 150.0), png(&drawing, 150.0));
}

/// Bytes of the PNGs that an SVG holds.
fn images(group: &usvg::Group) -> Vec<Vec<u8>> {
    let held = group.children().iter().flat_map(|node| match node {
        usvg::Node::Group(inner) => images(inner),
        usvg::Node::Image(image) => match image.kind() {
            usvg::ImageKind::PNG(bytes) => vec![bytes.to_vec()],
            _ => vec![],
        },
        _ => vec![],
    });
    held.collect()
}

#[test]
fn dots_stay_sharp_where_pixels_are_finer_and_even_where_they_are_coarser() {
    // 10 dots to the mm, every other one black.
    let dots = grey(200, 200, |x, y| if (x + y) % 2 == 0 { 0 } else { 255 });
    let mut sharp = picture(Rect::new(2.0, 2.0, 22.0, 22.0), dots);
    sharp.scaling = Scaling::Crisp;
    let drawing = one_page(24.0, 24.0, vec![sharp.into()]);
    let levels = |dpi: f64| image::load_from_memory(&png(&drawing, dpi).unwrap()).unwrap();
    // 50 pixels to the mm: five to the dot, black or white and nothing between.
    let fine = levels(1270.0).into_luma8();
    for (x, y, pixel) in fine.enumerate_pixels() {
        let inside = (100..1100).contains(&x) && (100..1100).contains(&y);
        let black = inside && ((x - 100) / 5 + (y - 100) / 5) % 2 == 0;
        assert_eq!(pixel.0[0], if black { 0 } else { 255 }, "{x}, {y}");
    }
    // 3.94 pixels to the mm, 2.5 dots to the pixel: an even grey without a pattern, of half
    // the light of white, which sRGB codes as 188.
    let coarse = levels(100.0).into_luma8();
    for y in 12..82 {
        for x in 12..82 {
            let level = coarse.get_pixel(x, y).0[0];
            assert!(level.abs_diff(188) < 12, "{x}, {y}: {level}");
        }
    }
}

#[test]
fn what_shows_nothing_is_left_out_and_machines_get_no_pictures() {
    let whole = Rect::new(5.0, 5.0, 25.0, 15.0);
    let mut hidden = picture(whole, patches());
    hidden.clip = Some(kurbo::BezPath::new());
    let flat = picture(Rect::new(5.0, 5.0, 5.0, 15.0), patches());
    let nothing = one_page(60.0, 40.0, vec![hidden.into(), flat.into()]);
    let bare = one_page(60.0, 40.0, vec![]);
    assert!(!svg(&nothing).unwrap().contains("<image"));
    assert_eq!(png(&nothing, 100.0), png(&bare, 100.0));
    assert!(!String::from_utf8_lossy(&pdf(&nothing).unwrap()).contains("/Subtype/Image"));

    let with = one_page(60.0, 40.0, vec![picture(whole, patches()).into()]);
    assert_eq!(dxf(&with, (0.0, 0.0), ""), dxf(&bare, (0.0, 0.0), ""));

    let broken = colour(3, 3, |_, _| NAVY);
    let Pixels::Colour(mut broken) = broken else { panic!("colour") };
    broken.width = 4;
    let broken = one_page(60.0, 40.0, vec![picture(whole, Pixels::Colour(broken)).into()]);
    assert!(svg(&broken).is_err() && pdf(&broken).is_err() && png(&broken, 100.0).is_err());
}
