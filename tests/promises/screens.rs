//! Promises about tone and screens: what a process makes of a photograph.

use ansata::picture::{Bits, Grey, Kernel, Screen, Toning, Unsharp, decode, finest_ruling};
use ansata::picture::{LocalContrast, screened, toned};
use serde_json::{Value, json};

use crate::demo;
use crate::outside::asked;

/// Dots per mm of 600 dpi.
const FINE: f64 = 600.0 / 25.4;

fn flat(width: u32, height: u32, level: u8) -> Grey {
    Grey { width, height, levels: vec![level; (width * height) as usize] }
}

/// From black to white in a row, by what looks even.
fn ramp(width: u32, height: u32) -> Grey {
    let row = (0..width).map(|x| u8::try_from(x * 255 / (width - 1)).unwrap());
    let levels = (0..height).flat_map(|_| row.clone()).collect();
    Grey { width, height, levels }
}

/// The demo photograph as it is shipped, small.
fn photograph(width: u32, height: u32) -> Grey {
    let bytes = include_bytes!("../../layouts/tower.jpg");
    let whole = image::load_from_memory(bytes).unwrap().to_luma8();
    let kind = image::imageops::FilterType::Triangle;
    let small = image::imageops::resize(&whole, width, height, kind);
    Grey { width, height, levels: small.into_raw() }
}

fn darkness(grey: &Grey) -> f64 {
    let dark = |level: &u8| 1.0 - decode(f64::from(*level) / 255.0);
    grey.levels.iter().map(dark).sum::<f64>() / grey.levels.len() as f64
}

fn share(bits: &Bits) -> f64 {
    bits.count() as f64 / (f64::from(bits.width()) * f64::from(bits.height()))
}

fn dots(per_mm: f64, angle_degrees: f64) -> Screen {
    Screen::Dots { per_mm, angle_degrees }
}

fn lines(per_mm: f64, angle_degrees: f64) -> Screen {
    Screen::Lines { per_mm, angle_degrees }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn said(grey: &Grey) -> Value {
    json!({ "width": grey.width, "height": grey.height, "levels": hex(&grey.levels) })
}

fn rows(bits: &Bits) -> String {
    hex(&bits.packed().flatten().collect::<Vec<u8>>())
}

fn made(bits: &Bits) -> Value {
    json!({ "width": bits.width(), "height": bits.height(), "rows": rows(bits) })
}

fn bytes(hex: &Value) -> Vec<u8> {
    let hex = hex.as_str().unwrap();
    let byte = |at: usize| u8::from_str_radix(&hex[at..at + 2], 16).unwrap();
    (0..hex.len()).step_by(2).map(byte).collect()
}

#[test]
fn every_flat_tone_reflects_what_it_shall_within_half_a_percent() {
    for kernel in Kernel::ALL {
        for level in 0..=255 {
            let flat = flat(120, 150, level);
            let off = share(&screened(&flat, Screen::Diffused(kernel), FINE, 1)) - darkness(&flat);
            assert!(off.abs() < 0.005, "{kernel:?}, level {level}: {off}");
        }
    }
    // Rows level with the process's own grow by whole rows of its dots, many at once.
    let level_rows = dots(2.4, 0.0);
    for screen in [dots(3.0, 45.0), dots(2.0, 15.0), lines(2.2, 30.0), level_rows] {
        let most = if screen == level_rows { 0.01 } else { 0.005 };
        for least in [1, 2, 3] {
            for level in (0..=255).step_by(30).chain([225, 250, 254]) {
                let flat = flat(200, 200, level);
                let off = share(&screened(&flat, screen, FINE, least)) - darkness(&flat);
                assert!(off.abs() < most, "{screen:?}, {least}, level {level}: {off}");
            }
        }
    }
}

#[test]
fn a_ramp_and_a_photograph_reflect_what_they_shall_within_half_a_percent() {
    for grey in [ramp(512, 150), photograph(300, 400)] {
        for least in [1, 2, 3] {
            let screens = [dots(2.0, 45.0), lines(2.0, 45.0)];
            for screen in Kernel::ALL.into_iter().map(Screen::Diffused).chain(screens) {
                let off = share(&screened(&grey, screen, FINE, least)) - darkness(&grey);
                assert!(off.abs() < 0.005, "{screen:?}, {grey:?}, {least}: {off}");
            }
        }
    }
}

#[test]
fn light_marks_on_dark_material_show_the_same_picture() {
    let grey = photograph(300, 400);
    for screen in [Screen::Diffused(Kernel::FloydSteinberg), dots(2.0, 45.0), lines(2.0, 15.0)] {
        let dark = screened(&grey, screen, FINE, 2);
        let light = dark.opposite();
        for (x, y) in (0..400).flat_map(|y| (0..300).map(move |x| (x, y))) {
            assert_ne!(dark.made(x, y), light.made(x, y));
        }
        assert!((share(&light) - (1.0 - darkness(&grey))).abs() < 0.005, "{screen:?}");
    }
}

#[test]
fn error_diffusion_is_that_of_a_plain_listing_of_the_published_kernels() {
    let pictures = [ramp(97, 61), photograph(90, 120), flat(41, 33, 250)];
    let cases: Vec<(&Grey, Kernel, u32)> = pictures
        .iter()
        .flat_map(|grey| Kernel::ALL.map(|kernel| (grey, kernel)))
        .flat_map(|(grey, kernel)| [1, 3].map(|least| (grey, kernel, least)))
        .collect();
    let asking: Vec<Value> = cases
        .iter()
        .map(|(grey, kernel, least)| {
            json!({ "picture": said(grey), "kernel": format!("{kernel:?}"), "least": least })
        })
        .collect();
    let Some(answer) = asked("screens.py", &json!({ "diffused": asking })) else { return };
    for ((grey, kernel, least), theirs) in cases.iter().zip(answer["diffused"].as_array().unwrap())
    {
        let ours = screened(grey, Screen::Diffused(*kernel), FINE, *least);
        assert_eq!(rows(&ours), theirs["rows"].as_str().unwrap(), "{kernel:?}, {grey:?}, {least}");
        assert!((darkness(grey) - theirs["dark"].as_f64().unwrap()).abs() < 1e-12);
        // Pillow's rounds light to 256 levels, loses what crosses an edge and leaves the first
        // rows of lights bare, which shows on the smallest.
        let off = share(&ours) - theirs["pillow"].as_f64().unwrap();
        assert!(
            *least > 1 || grey.width < 50 || off.abs() < 0.01,
            "{kernel:?}, {grey:?}: {off} from Pillow's"
        );
    }
}

#[test]
fn no_dot_and_no_gap_is_smaller_than_the_process_can_make() {
    let pictures = [ramp(400, 120), photograph(300, 400), flat(200, 200, 188)];
    let mut cases = Vec::new();
    for grey in &pictures {
        for least in [2, 3, 4, 7] {
            let ruling = finest_ruling(FINE, least);
            for screen in [
                dots(ruling, 45.0),
                dots(ruling * 0.6, 15.0),
                lines(ruling, 30.0),
                lines(ruling * 0.7, 0.0),
                Screen::Diffused(Kernel::Stucki),
            ] {
                cases.push((screen, least, screened(grey, screen, FINE, least)));
            }
        }
    }
    let asking: Vec<Value> = cases
        .iter()
        .map(|(screen, least, bits)| {
            let square = matches!(screen, Screen::Diffused(_));
            json!({ "dots": made(bits), "least": least, "square": square })
        })
        .collect();
    let Some(answer) = asked("screens.py", &json!({ "held": asking })) else { return };
    for ((screen, least, bits), alone) in cases.iter().zip(answer["held"].as_array().unwrap()) {
        assert_eq!(alone, &json!([0, 0]), "{screen:?}, {least}, {bits:?}");
    }
}

#[test]
fn dots_and_lines_stand_at_the_ruling_and_the_angle_that_were_asked_for() {
    // Rows of dots run at their angle and square to it; waves run across lines.
    let wanted = [
        (dots(2.0, 45.0), 2.0, 45.0),
        (dots(2.6, 15.0), 2.6, 15.0),
        (dots(1.3, 30.0), 1.3, 30.0),
        (lines(2.0, 60.0), 2.0, 60.0),
        (lines(2.5, 20.0), 2.5, 20.0),
    ];
    let asking: Vec<Value> = wanted
        .iter()
        .map(|(screen, ..)| {
            let bits = screened(&flat(600, 600, 200), *screen, FINE, 2);
            json!({ "dots": made(&bits), "per_mm": FINE })
        })
        .collect();
    let Some(answer) = asked("screens.py", &json!({ "rulings": asking })) else { return };
    for ((screen, ruling, angle), seen) in wanted.iter().zip(answer["rulings"].as_array().unwrap())
    {
        let (per_mm, turned) = (seen["per_mm"].as_f64().unwrap(), seen["angle"].as_f64().unwrap());
        assert!((per_mm / ruling - 1.0).abs() < 0.005, "{screen:?}: {per_mm} per mm");
        assert!((turned - angle).abs() < 0.4, "{screen:?}: {turned} degrees");
    }
}

#[test]
fn levels_contrast_and_sharpening_are_those_of_reference_libraries() {
    // scikit-image stretches a picture over all levels first: so let it have black and white.
    let mut grey = photograph(240, 320);
    grey.levels[0] = 0;
    grey.levels[1] = 255;
    let (sharp, clip) = (Unsharp { radius_px: 2.0, amount: 1.5 }, [2.0, 4.0]);
    let question = json!({
        "toned": [{ "picture": said(&grey), "black": 0.02, "white": 0.035 }],
        "clahe": clip.map(|clip| json!({ "picture": said(&grey), "tiles": [4, 4], "clip": clip })),
        "sharp": [{ "picture": said(&grey), "radius": sharp.radius_px, "amount": sharp.amount }],
    });
    let Some(answer) = asked("screens.py", &question) else { return };
    let off = |toning: Toning, theirs: &Value| {
        let ours = toned(&grey, &toning).levels;
        let off: Vec<u8> = ours.iter().zip(bytes(theirs)).map(|(a, b)| a.abs_diff(b)).collect();
        assert_eq!(off.len(), ours.len());
        let mean = off.iter().map(|off| f64::from(*off)).sum::<f64>() / off.len() as f64;
        (off.into_iter().max().unwrap(), mean)
    };
    let levels = Toning { black: 0.02, white: 0.035, ..Toning::default() };
    assert!(off(levels, &answer["toned"][0]).0 <= 1);
    let sharpened = Toning { sharpen: Some(sharp), ..Toning::default() };
    assert!(off(sharpened, &answer["sharp"][0]).0 <= 1);
    for (number, clip) in clip.into_iter().enumerate() {
        // It counts a level wholly where we count half of it, and its tiles' middles lie half
        // a dot off ours.
        let contrast = Some(LocalContrast { tiles: (4, 4), clip });
        let (most, mean) = off(Toning { contrast, ..Toning::default() }, &answer["clahe"][number]);
        assert!(most <= 8 && mean < 2.0, "{clip}: {most} at most, {mean} on average");
    }
}

#[test]
fn any_picture_becomes_dots_and_none_is_too_small() {
    arbtest::arbtest(|u| {
        let (width, height) = (u.int_in_range(0..=40)?, u.int_in_range(0..=40)?);
        let few = [0, 3, 128, 200, 250, 255];
        let level = |u: &mut arbtest::arbitrary::Unstructured| u.choose(&few).copied();
        let levels = (0..width * height).map(|_| level(u)).collect::<Result<Vec<u8>, _>>()?;
        let grey = Grey { width, height, levels };
        let least = u.int_in_range(0..=9)?;
        let odd = [0.0, -3.0, 0.5, 1.7, 4.0, 1e9, f64::NAN, f64::INFINITY];
        let (per_mm, angle) = (*u.choose(&odd)?, *u.choose(&odd)?);
        let per_dot = *u.choose(&[20.0, 5.0, 0.0, f64::NAN])?;
        let kernel = *u.choose(&Kernel::ALL)?;
        let screen =
            *u.choose(&[dots(per_mm, angle), lines(per_mm, angle), Screen::Diffused(kernel)])?;
        let bits = screened(&grey, screen, per_dot, least);
        assert_eq!((bits.width(), bits.height()), (width, height));
        if !matches!(screen, Screen::Diffused(_)) {
            let least = i64::from(least.clamp(1, width.max(height).max(1)));
            assert_eq!(alone(&bits, least), 0, "{screen:?}, {least}: {bits:?}");
            assert_eq!(alone(&bits.opposite(), least), 0, "{screen:?}, {least}: {bits:?}");
        }
        Ok(())
    })
    .budget_ms(3000);
}

/// Made dots that no disc of made dots covers, counted dot by dot.
fn alone(bits: &Bits, least: i64) -> usize {
    let (width, height) = (i64::from(bits.width()), i64::from(bits.height()));
    let disc: Vec<(i64, i64)> = (0..least * least)
        .map(|at| (at % least, at / least))
        .filter(|(x, y)| {
            let off = |at: i64| 2 * at + 1 - least;
            off(*x) * off(*x) + off(*y) * off(*y) <= least * least
        })
        .map(|(x, y)| (x - (least - 1) / 2, y - (least - 1) / 2))
        .collect();
    let inside = |x: i64, y: i64| (0..width).contains(&x) && (0..height).contains(&y);
    let is_made = |x: i64, y: i64| {
        !inside(x, y) || bits.made(u32::try_from(x).unwrap(), u32::try_from(y).unwrap())
    };
    let fits = |x: i64, y: i64| inside(x, y) && disc.iter().all(|(dx, dy)| is_made(x + dx, y + dy));
    (0..width * height)
        .map(|at| (at % width, at / width))
        .filter(|(x, y)| is_made(*x, *y))
        .filter(|(x, y)| !disc.iter().any(|(dx, dy)| fits(x - dx, y - dy)))
        .count()
}

#[test]
fn the_demo_photograph_is_what_its_program_paints() {
    let shipped = include_bytes!("../../layouts/tower.jpg");
    assert!(shipped.len() < 350_000, "{} bytes", shipped.len());
    let painted = demo::jpeg(&demo::painted(demo::SIZE), demo::SIZE);
    let dots = |bytes: &[u8]| image::load_from_memory(bytes).unwrap().to_rgb8();
    let (now, then) = (dots(&painted), dots(shipped));
    assert_eq!(now.dimensions(), demo::SIZE);
    assert_eq!(then.dimensions(), demo::SIZE);
    let most = now.iter().zip(then.iter()).map(|(a, b)| a.abs_diff(*b)).max().unwrap();
    if most > 1 {
        let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("tower.jpg");
        std::fs::write(&path, &painted).unwrap();
        panic!("{most} levels apart; as it is painted now: {}", path.display());
    }
}
