//! A photograph of 24 million pixels, as cameras give it.

use ansata::drawing::write::png as png_of;
use ansata::job::job;
use ansata::layout::{self, Shop, Source, Vocabulary};
use ansata::lettering::catalogue;
use ansata::picture::read;
use ansata::remedies::cures;
use ansata::sheets;
use image::ImageEncoder;
use image::codecs::jpeg::JpegEncoder;

use super::clock::{median, table};

const WIDTH: u32 = 6000;
const HEIGHT: u32 = 4000;

/// Slopes with grain: smoother pictures unpack faster than photographs do.
fn drawn() -> Vec<u8> {
    let mut state = 1_u32;
    let mut levels = Vec::new();
    for y in 0..HEIGHT {
        for x in 0..WIDTH {
            state ^= state << 13;
            state ^= state >> 17;
            state ^= state << 5;
            let grain = state % 24;
            for slope in [x * 230 / WIDTH, y * 230 / HEIGHT, (x / 50 + y / 50) % 2 * 150] {
                levels.push(u8::try_from(slope + grain).unwrap());
            }
        }
    }
    levels
}

/// A JPEG with a block of EXIF and perhaps a profile.
fn jpeg(levels: &[u8], orientation: u8, profile: bool) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut bytes, 90);
    let mut exif = b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\0\0\0\0\0\0\0".to_vec();
    exif[19] = orientation;
    encoder.set_exif_metadata(exif).unwrap();
    if profile {
        let profile = moxcms::ColorProfile::new_display_p3().encode().unwrap();
        encoder.set_icc_profile(profile).unwrap();
    }
    encoder.write_image(levels, WIDTH, HEIGHT, image::ExtendedColorType::Rgb8).unwrap();
    bytes
}

fn png(levels: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, WIDTH, HEIGHT);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_compression(png::Compression::Fast);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(levels).unwrap();
    writer.finish().unwrap();
    bytes
}

/// Reading, a part of 1500 x 1000, and its grey.
pub(super) fn photo() {
    let levels = drawn();
    let files = [
        ("JPEG", jpeg(&levels, 1, false)),
        ("JPEG of Display P3", jpeg(&levels, 1, true)),
        ("JPEG held upright", jpeg(&levels, 6, false)),
        ("PNG", png(&levels)),
    ];
    drop(levels);
    let mut rows = Vec::new();
    for (name, bytes) in files {
        let reading = median(|| read(&bytes).unwrap());
        let picture = read(&bytes).unwrap().picture;
        let crop = [0.0, 0.0, f64::from(picture.width), f64::from(picture.height)];
        let part = median(|| picture.part(crop, picture.width / 4, picture.height / 4));
        let small = picture.part(crop, picture.width / 4, picture.height / 4);
        let grey = median(|| small.grey());
        let proof = median(|| proof(&bytes));
        rows.push((format!("{name}, 24 megapixels"), vec![reading, part, grey, proof]));
    }
    let columns = ["read", "part, a quarter wide", "grey of the part", "file to finished proof"];
    table("photo", &columns, &rows);
}

/// From the bytes of a file to the proof's PNG, as the program makes it.
fn proof(bytes: &[u8]) -> Vec<u8> {
    let text = "ansata = 1\ntitle = \"Tower\"\n[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n\
                [lettering]\ndefault = \"Besley\"\n[[line]]\ntext = \"Rung in honour\"\n[[photo]]\n\
                file = \"tower\"\nwidth = \"36 mm\"\nshape = \"oval\"\nprocess = \"printed\"\n";
    let source = Source { name: "tower.toml".to_owned(), text: text.to_owned() };
    let lettering = catalogue().names().map(str::to_owned).collect();
    let file = |_: &str| Ok(bytes.to_vec());
    let layout = layout::read(&source, Shop::default(), &Vocabulary { lettering }, &file).unwrap();
    let job = job(&layout).unwrap();
    png_of(&sheets::proof(&job, &cures(&job)).drawing, 200.0).unwrap()
}
