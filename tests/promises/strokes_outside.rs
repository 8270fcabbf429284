//! The measure of strokes against a font made by fontTools, whose widths are known.

use serde_json::json;

use crate::lettering_outside::{root, say};
use crate::support::Bench;

/// Letters of `tests/outside/bars.py`, their thinnest stroke and narrowest counter, units of
/// which 700 are the cap height. The V is as thick as the ball in it: twice its area over
/// its girth, 178.41 in radius. No counter: 0.
const KNOWN: [(&str, f64, f64); 10] = [
    ("E", 40.0, 260.0),
    ("F", 25.0, 0.0),
    ("H", 33.0, 300.0),
    ("I", 55.0, 0.0),
    ("T", 70.0, 0.0),
    ("Z", 48.0, 0.0),
    ("O", 60.0, 580.0),
    ("o", 140.0, 120.0),
    ("V", 356.82, 0.0),
    ("W", f64::NAN, 0.0),
];

#[test]
fn bars_rings_and_wedges_of_a_font_made_elsewhere_are_as_wide_as_they_were_made() {
    let Ok(python) = std::env::var("ANSATA_PYTHON") else {
        let must = std::env::var("ANSATA_OUTSIDE").is_ok_and(|value| value == "1");
        assert!(!must, "ANSATA_PYTHON must name a Python for the outside checks");
        say("NOT CHECKED: ANSATA_PYTHON is not set; `tests/all` makes a font with fontTools");
        return;
    };
    let lines: String = KNOWN
        .iter()
        .map(|(letter, ..)| *letter)
        .chain(["X"])
        .map(|letter| format!("[[line]]\ntext = \"{letter}\"\ncap_height = \"10 mm\"\n"))
        .collect();
    let bench = Bench::with(&format!(
        "ansata = 1\ntitle = \"Bars\"\n[plate]\nsize = \"120 x 400 mm\"\nmaterial = \"brass\"\n\
         [engraving]\ncutter = {{ tip = \"0.1 mm\" }}\n[lettering]\ndefault = {{ file = \
         \"bars.ttf\" }}\n{lines}"
    ));
    let made = std::process::Command::new(python)
        .arg(root().join("tests/outside/bars.py"))
        .arg(bench.path("bars.ttf"))
        .output()
        .expect("ANSATA_PYTHON names a Python that runs");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    say(&format!("compared with {}", String::from_utf8_lossy(&made.stdout).trim()));
    let report = bench.report("cup.toml");
    for (line, (letter, stroke, counter)) in KNOWN.iter().enumerate() {
        let line = &report["lines"][line];
        assert_eq!(line["cap_height_mm"], 10.0, "{letter}");
        let measured = |key: &str| line["strokes"][key].as_f64();
        let near = |key: &str, units: f64| {
            let (got, wanted) = (measured(key).unwrap_or(0.0), units / 70.0);
            let within = (0.02 * wanted).max(0.01);
            assert!((got - wanted).abs() < within, "{letter}, {key}: {got}, not {wanted}");
        };
        if !stroke.is_nan() {
            near("thinnest_stroke_mm", *stroke);
        }
        if *counter > 0.0 {
            near("narrowest_counter_mm", *counter);
        } else {
            assert_eq!(measured("narrowest_counter_mm"), None, "{letter}");
        }
        assert!(line["strokes"]["not_measured"].is_null());
    }
    // A letter that is more than can be measured is not called sound.
    let comb = KNOWN.len();
    assert_eq!(report["lines"][comb]["strokes"]["not_measured"], "X");
    let all = report["findings"].as_array().unwrap().iter();
    let said: Vec<_> = all.filter(|f| f["code"] == "strokes-not-measured").collect();
    assert_eq!(said.len(), 1);
    assert_eq!(
        (&said[0]["severity"], &said[0]["where"]["line"]),
        (&json!("caution"), &json!(comb + 1))
    );
}
