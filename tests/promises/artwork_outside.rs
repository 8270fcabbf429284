//! Artwork as programs see it that are not ours: areas, winding and overlaps by fontTools,
//! skia-pathops and shapely; letters counted by regex; sizes by librsvg, poppler, ezdxf and
//! qpdf; the archive by Python's zipfile.

use std::path::Path;

use serde_json::{Value, json};

use crate::outside::{asked, run};
use crate::pattern::machine::{assert_clean, read};
use crate::support::{Bench, plain, shipped};

/// Letterings whose letters overlap in themselves (Cinzel, Archivo: variable) and join
/// their neighbours (Great Vibes), accents, a ligature, digits in an emoji's manner.
fn joined() -> String {
    "ansata = 1\ntitle = \"Joined\"\n[plate]\nsize = \"150 x 100 mm\"\nmaterial = \"brass\"\n\
     [[line]]\ntext = \"MARROWBY VALE & BÔÅT\"\nlettering = { name = \"Cinzel\", weight = 650 }\n\
     [[line]]\ntext = \"Elowen Tarrant\"\nlettering = \"Great Vibes\"\n\
     [[line]]\ntext = \"office – Zoe\\u0308 8%\"\nlettering = { name = \"Archivo\", weight = 500 }\n"
        .to_owned()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn letters_cover_what_the_font_covers_and_run_the_right_way_round() {
    let bench = Bench::new();
    let mut names = shipped(&bench);
    bench.put("joined.toml", joined());
    names.push("joined.toml".to_owned());
    let mut folders = Vec::new();
    // Two cannot be made, and one has no filled letters.
    let others = ["cannot-fit.toml", "hairlines.toml", "bell-rope.toml"];
    for name in names.iter().filter(|name| !others.contains(&name.as_str())) {
        let ran = bench.run(&["make", name, "-o", &format!("made-{name}"), "--dpi", "20"]);
        assert_eq!(ran.status, 0, "{name}: {}{}", ran.out, ran.err);
        folders.push(bench.path(&format!("made-{name}")));
    }
    let fonts = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open");
    let paths: Vec<_> = folders.iter().map(|folder| folder.display().to_string()).collect();
    let question = json!({ "fonts": fonts.display().to_string(), "made": paths });
    let Some(answer) = asked("artwork.py", &question) else { return };
    let mut rows = 0;
    for (folder, found) in folders.iter().zip(answer["folders"].as_array().unwrap()) {
        let text = std::fs::read_to_string(folder.join("artwork.txt")).unwrap();
        let mut whole = 0.0;
        let mut characters = 0;
        for row in found["rows"].as_array().unwrap() {
            let [area, union, reference] =
                ["area", "union", "reference"].map(|key| number(&row[key]));
            let place = format!("{}: {row}", folder.display());
            assert_eq!(row["crossing"], 0, "{place}");
            assert_eq!(row["wrong"], 0, "{place}");
            // Signed areas add up to the covered area: nothing lies over anything.
            assert!((area - union).abs() < 1e-4 * area, "{place}");
            // Places are rounded to 1 µm, the font's own are not.
            assert!((area - reference).abs() < 1e-3 * reference, "{place}");
            let count = row["characters"].as_u64().unwrap();
            assert!(text.contains(&format!(": {count} characters (")), "{count}, {place}: {text}");
            characters += count;
            whole += area;
            rows += 1;
        }
        assert!(text.contains(&format!("all rows: {characters} characters (")), "{text}");
        let said = text.split("area filled ").nth(1).and_then(|rest| rest.split(' ').next());
        let said: f64 = said.unwrap().parse().unwrap();
        assert!((said - whole).abs() < 1e-3 * whole, "{said} mm² told, {whole} found");
        // A chain of straight lines leaves its curve by 0.01 mm at most. y runs up in DXF:
        // clockwise as seen is negative there.
        let (dxf, along) = (number(&found["dxf_area"]), number(&found["dxf_length"]));
        assert!((dxf + whole).abs() < 0.01 * along, "{dxf} against {whole}");
    }
    assert!(rows > 40, "only {rows} rows were looked at");
}

/// Dark pixels of a picture in mm², and the box of them in mm, at dots per mm.
fn inked(picture: &Path, per_mm: f64) -> (f64, [f64; 4]) {
    let picture = image::open(picture).unwrap().to_rgba8();
    let mut area = 0.0;
    let mut at = [f64::INFINITY, f64::INFINITY, 0.0, 0.0];
    for (x, y, pixel) in picture.enumerate_pixels() {
        let clear = 1.0 - f64::from(pixel.0[3]) / 255.0;
        let dark = 1.0 - (f64::from(pixel.0[0]) / 255.0 + clear).min(1.0);
        area += dark;
        if dark > 0.5 {
            let (x, y) = (f64::from(x), f64::from(y));
            at = [at[0].min(x), at[1].min(y), at[2].max(x + 1.0), at[3].max(y + 1.0)];
        }
    }
    (area / per_mm / per_mm, at.map(|side| side / per_mm))
}

#[test]
fn two_renderers_measure_the_same_plate_at_true_size() {
    let bench = Bench::new();
    shipped(&bench);
    let ran = bench.run(&["make", "dedication.toml", "-o", "made", "--dpi", "20"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let folder = bench.path("made");
    // 508 dpi are 20 dots a millimetre.
    let svg = |name: &str| {
        run(
            "rsvg-convert",
            &["-d", "508", "-p", "508", &format!("{name}.svg"), "-o", "seen.png"],
            &folder,
        )
        .map(|_| inked(&folder.join("seen.png"), 20.0))
    };
    let pdf = |name: &str| {
        run(
            "pdftoppm",
            &["-r", "508", "-png", "-singlefile", &format!("{name}.pdf"), "seen"],
            &folder,
        )
        .map(|_| inked(&folder.join("seen.png"), 20.0))
    };
    let text = String::from_utf8(bench.read("made/artwork.txt")).unwrap();
    let said = text.split("area filled ").nth(1).and_then(|rest| rest.split(' ').next());
    let said: f64 = said.unwrap().parse().unwrap();
    let looked = [svg("artwork-lettering-mm"), pdf("artwork-lettering-mm")];
    for (area, at) in looked.into_iter().flatten() {
        // Eight corner marks of 5 x 0.1 mm are on the sheet as well: 4 mm².
        assert!((area - 4.0 - said).abs() < 0.01 * said, "{area} seen, {said} told");
        // Corner marks reach 7 mm over the plate's 120 x 80 on a page of 136 x 96.
        for (found, wanted) in at.into_iter().zip([1.0, 1.0, 135.0, 95.0]) {
            assert!((found - wanted).abs() < 0.11, "{at:?}");
        }
    }
    for file in
        ["artwork-mm", "artwork-lettering-mm", "artwork-holes-mm", "proof", "pattern", "mockup"]
    {
        let name = format!("{file}.pdf");
        let Some(said) = run("qpdf", &["--check", &name], &folder) else { continue };
        assert!(said.contains("No syntax or stream encoding errors found"), "{name}: {said}");
    }
    if let Some(said) = run("pdfinfo", &["artwork-mm.pdf"], &folder) {
        // 136 x 96 mm in points of 1/72 in.
        assert!(said.contains("385.512 x 272.126 pts"), "{said}");
        assert!(said.contains("Pages:           1"), "{said}");
    }
}

#[test]
fn ezdxf_finds_nothing_to_mend_and_the_holes_where_they_are() {
    let bench = Bench::new();
    shipped(&bench);
    let ran = bench.run(&["make", "dedication.toml", "-o", "made", "--dpi", "20"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let text = |name: &str| String::from_utf8(bench.read(&format!("made/{name}.dxf"))).unwrap();
    let names = [
        "artwork-mm",
        "artwork-lettering-mm",
        "artwork-border-mm",
        "artwork-outline-mm",
        "artwork-holes-mm",
    ];
    let files: Vec<(String, String)> =
        names.iter().map(|name| (format!("{name}.dxf"), text(name))).collect();
    let Some(drawings) = read(&bench, &files) else { return };
    for (drawing, name) in drawings.iter().zip(names) {
        assert_clean(drawing, name);
        assert_eq!(drawing["units"], 4, "millimetres");
    }
    let layers: Vec<&String> = drawings[0]["layers"].as_object().unwrap().keys().collect();
    for layer in ["LETTERING", "BORDER", "OUTLINE", "HOLES", "CORNER-MARKS"] {
        assert!(layers.iter().any(|known| *known == layer), "{layers:?}");
    }
    let report: Value = serde_json::from_slice(&bench.read("made/report.json")).unwrap();
    let holes = report["holes"].as_array().unwrap();
    let circles = drawings[0]["circles"].as_array().unwrap();
    assert_eq!(circles.len(), holes.len());
    for (circle, hole) in circles.iter().zip(holes) {
        assert_eq!(circle[0], "HOLES");
        let far = [
            number(&circle[1]) - number(&hole["x_mm"]),
            number(&circle[2]) + number(&hole["y_mm"]),
            2.0 * number(&circle[3]) - number(&hole["clearance_diameter_mm"]),
        ];
        assert!(far.iter().all(|off| off.abs() < 2e-4), "{circle} {hole}");
    }
    // Letters are closed everywhere; so is the plate.
    for outline in drawings[0]["outlines"].as_array().unwrap() {
        let open = outline[0] == "CORNER-MARKS";
        assert_eq!(outline[1], !open, "{}", outline[0]);
    }
}

#[test]
fn the_archive_opens_elsewhere_and_holds_what_the_folder_holds() {
    let bench = Bench::with(&plain("90 x 50 mm", &["RUNG IN HONOUR", "of the new tenor"], ""));
    for folder in ["made", "again"] {
        let ran = bench.run(&["make", "cup.toml", "-o", folder, "--zip", "--dpi", "20"]);
        assert_eq!(ran.status, 0, "{}", ran.err);
    }
    assert_eq!(bench.read("made/cup.zip"), bench.read("again/cup.zip"), "the same bytes");
    let Some(answer) = asked("archive.py", &json!({ "file": bench.path("made/cup.zip") })) else {
        return;
    };
    assert_eq!(answer["damaged"], Value::Null);
    let files = answer["files"].as_object().unwrap();
    let mut names: Vec<&str> = files.keys().map(String::as_str).collect();
    names.push("cup.zip");
    names.sort_unstable();
    assert_eq!(names, bench.names("made"));
    for (name, told) in files {
        assert_eq!(told["dated"], json!([1980, 1, 1, 0, 0, 0]), "{name}");
        assert_eq!(told["size"], bench.read(&format!("made/{name}")).len(), "{name}");
        let same = std::fs::read(bench.path(&format!("made/{name}"))).unwrap();
        assert_eq!(told["crc"], crc32(&same), "{name}");
    }
}

/// CRC-32 of ISO 3309, bit by bit.
pub(crate) fn crc32(bytes: &[u8]) -> u32 {
    let step = |all: u32, byte: &u8| {
        (0..8).fold(all ^ u32::from(*byte), |bits, _| {
            if bits & 1 == 1 { (bits >> 1) ^ 0xEDB8_8320 } else { bits >> 1 }
        })
    };
    !bytes.iter().fold(u32::MAX, step)
}
