//! Promises measured on the picture itself, not on what the program says of it.
//!
//! Edges are found by coverage: a pixel that is half dark is half inside. At
//! 600 dpi a pixel is 0.042 mm.

use crate::support::{Bench, plain};

const DPI: f64 = 600.0;

/// Darkness of each pixel from 0 to 1.
struct Picture {
    width: usize,
    height: usize,
    dark: Vec<f64>,
}

impl Picture {
    fn of(bench: &Bench, layout: &str) -> Self {
        let ran = bench.run(&[
            "proof",
            layout,
            "--only",
            "lettering",
            "-o",
            "letters.png",
            "--dpi",
            "600",
            "--replace",
        ]);
        assert!(ran.status < 2, "{}", ran.err);
        let image = image::load_from_memory(&bench.read("letters.png")).unwrap().to_luma8();
        Self {
            width: image.width() as usize,
            height: image.height() as usize,
            dark: image.pixels().map(|pixel| 1.0 - f64::from(pixel.0[0]) / 255.0).collect(),
        }
    }

    fn at(&self, x: usize, y: usize) -> f64 {
        self.dark[y * self.width + x]
    }

    /// Greatest darkness of each pixel row between two columns.
    fn rows(&self, from: usize, to: usize) -> Vec<f64> {
        (0..self.height).map(|y| (from..to).map(|x| self.at(x, y)).fold(0.0, f64::max)).collect()
    }

    /// Greatest darkness of each pixel column between two rows.
    fn columns(&self, from: usize, to: usize) -> Vec<f64> {
        (0..self.width).map(|x| (from..to).map(|y| self.at(x, y)).fold(0.0, f64::max)).collect()
    }
}

/// First and last edge of a profile of darkness, in pixels.
fn edges(profile: &[f64]) -> (f64, f64) {
    let first = profile.iter().position(|dark| *dark > 0.02).expect("there is ink");
    let last = profile.iter().rposition(|dark| *dark > 0.02).expect("there is ink");
    (first as f64 + 1.0 - profile[first], last as f64 + profile[last])
}

fn mm(pixels: f64) -> f64 {
    pixels * 25.4 / DPI
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "pixels of a small plate, rounded and not below 0"
)]
fn px(mm: f64) -> usize {
    (mm * DPI / 25.4).round().max(0.0) as usize
}

const LETTERINGS: [&str; 4] =
    ["Atkinson Hyperlegible", "Archivo Wide", "Besley Bold", "EB Garamond"];

#[test]
fn the_cap_height_that_is_told_is_the_height_of_the_capitals_drawn() {
    let bench = Bench::new();
    for lettering in LETTERINGS {
        let layout =
            plain("80 x 40 mm", &["HIH", "HI"], "").replace("Atkinson Hyperlegible", lettering);
        bench.put("cup.toml", layout);
        let report = bench.report("cup.toml");
        let picture = Picture::of(&bench, "cup.toml");
        for piece in report["pieces"].as_array().unwrap() {
            let ink = |key: &str| piece["ink"][key].as_f64().unwrap();
            // A band that holds this row alone.
            let (top, bottom) = (px(ink("y0") - 0.2), px(ink("y1") + 0.2));
            let profile = picture.rows(0, picture.width);
            let (first, last) = edges(&profile[top..bottom]);
            let told = piece["cap_height_mm"].as_f64().unwrap();
            let seen = mm(last - first);
            assert!((seen - told).abs() < 0.05, "{lettering}: {seen} mm drawn, {told} mm told");
        }
    }
}

#[test]
fn no_ink_stands_outside_the_margin() {
    let bench = Bench::new();
    let long = "Given in thankful memory of many years at the tenor by the ringers, \u{c1}gnes \u{c5}se \u{201c}Jig\u{201d}";
    for (lettering, margin) in LETTERINGS.iter().zip([5.0, 4.5, 6.0, 3.7]) {
        let layout =
            plain("70 x 45 mm", &["\u{c1}GNES", long, "jggy,"], "[fit]\nease = \"100 %\"\n")
                .replace("Atkinson Hyperlegible", lettering)
                .replace("material", &format!("margin = \"{margin} mm\"\nmaterial"));
        bench.put("cup.toml", layout);
        let picture = Picture::of(&bench, "cup.toml");
        let (left, right) = edges(&picture.columns(0, picture.height));
        let (top, bottom) = edges(&picture.rows(0, picture.width));
        // Half a pixel of the rasteriser's own.
        let slack = mm(0.5);
        assert!(mm(left) > margin - slack, "{lettering}: left {}", mm(left));
        assert!(mm(right) < 70.0 - margin + slack, "{lettering}: right {}", mm(right));
        assert!(mm(top) > margin - slack, "{lettering}: top {}", mm(top));
        assert!(mm(bottom) < 45.0 - margin + slack, "{lettering}: bottom {}", mm(bottom));
        // At the limit something touches: the fit leaves nothing unused.
        let used = [mm(left), 70.0 - mm(right), mm(top), 45.0 - mm(bottom)];
        let nearest = used.iter().copied().fold(f64::INFINITY, f64::min);
        assert!(
            (nearest - margin).abs() < 0.1,
            "{lettering}: nearest ink at {nearest}, margin {margin}"
        );
    }
}

#[test]
fn rows_stand_centred_on_their_axis() {
    let bench = Bench::new();
    for lettering in LETTERINGS {
        let layout = plain("80 x 50 mm", &["HELD HIGH", "Bells and beacons", "TIMBER"], "")
            .replace("Atkinson Hyperlegible", lettering);
        bench.put("cup.toml", layout);
        let report = bench.report("cup.toml");
        let axis = report["field"]["axis_x_mm"].as_f64().unwrap();
        assert!((axis - 40.0).abs() < 1e-9);
        let picture = Picture::of(&bench, "cup.toml");
        for piece in report["pieces"].as_array().unwrap() {
            let ink = |key: &str| piece["ink"][key].as_f64().unwrap();
            let (left, right) = edges(&picture.columns(px(ink("y0") - 0.1), px(ink("y1") + 0.1)));
            let middle = mm((left + right) / 2.0);
            assert!(
                (middle - axis).abs() < 0.1,
                "{lettering}: {} stands at {middle}",
                piece["text"]
            );
        }
    }
}
