//! Photographs as others read them: pixels against Pillow (libjpeg, libtiff, libwebp),
//! colours by profile against LittleCMS, reducing against Pillow's own.

use std::path::Path;

use ansata::picture::{Picture, Profile, Reading, read};
use serde_json::{Value, json};

use crate::outside::asked;
use crate::pictures::{Dice, broken, survives};

/// What the script answers, once for all tests, and where its files are.
fn made() -> Option<(tempfile::TempDir, Value)> {
    let folder = tempfile::tempdir().unwrap();
    let answer = asked("pictures.py", &json!({ "folder": folder.path() }))?;
    Some((folder, answer))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn whole(value: &Value) -> u32 {
    value.as_u64().and_then(|whole| u32::try_from(whole).ok()).unwrap()
}

/// The worst and the mean difference of two pictures' levels.
fn apart(one: &[u8], other: &[u8]) -> (f64, f64) {
    assert_eq!(one.len(), other.len());
    let far = |(one, other): (&u8, &u8)| f64::from(one.abs_diff(*other));
    let all: Vec<f64> = one.iter().zip(other).map(far).collect();
    let mean = all.iter().sum::<f64>() / f64::from(u32::try_from(all.len()).unwrap());
    (all.iter().copied().fold(0.0, f64::max), mean)
}

/// Facts as the script names them.
fn told(reading: &Reading) -> Value {
    let facts = &reading.facts;
    let profile = match &facts.profile {
        Profile::None => "none",
        Profile::Used(name) => {
            assert!(!name.is_empty());
            "used"
        }
        Profile::Passed(why) => why,
    };
    json!({
        "format": facts.format.word(), "bits": facts.bits, "colours": facts.colours.word(),
        "orientation": facts.orientation, "profile": profile, "over_white": facts.over_white,
    })
}

#[test]
fn every_kind_of_photograph_has_the_pixels_that_other_readers_give_it() {
    let Some((folder, answer)) = made() else { return };
    let pictures = answer["pictures"].as_array().unwrap();
    let mut wrong = Vec::new();
    for one in pictures {
        let name = one["file"].as_str().unwrap();
        let bytes = std::fs::read(folder.path().join(name)).unwrap();
        let wanted = std::fs::read(folder.path().join(one["wanted"].as_str().unwrap())).unwrap();
        let reading = match read(&bytes) {
            Ok(reading) => reading,
            Err(error) => {
                wrong.push(format!("{name}: {error}"));
                continue;
            }
        };
        let picture = &reading.picture;
        assert_eq!((picture.width, picture.height), (whole(&one["width"]), whole(&one["height"])));
        let told = told(&reading);
        for (key, value) in one["facts"].as_object().unwrap() {
            if told[key] != *value {
                wrong.push(format!("{name}: {key} is {}, not {value}", told[key]));
            }
        }
        let (most, mean) = apart(&picture.rgb, &wanted);
        if most > number(&one["most"]) || mean > number(&one["mean"]) {
            wrong.push(format!("{name}: {most} at worst, {mean:.3} on average"));
        }
    }
    assert!(pictures.len() > 90, "only {} pictures", pictures.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Peak signal-to-noise ratio of levels, dB.
fn likeness(one: &[u8], other: &[u8]) -> f64 {
    let square = |(one, other): (&u8, &u8)| {
        let far = f64::from(one.abs_diff(*other));
        far * far
    };
    let count = f64::from(u32::try_from(one.len()).unwrap());
    let mean = one.iter().zip(other).map(square).sum::<f64>() / count;
    10.0 * libm::log10(255.0 * 255.0 / mean.max(1e-9))
}

fn part(source: &Picture, wish: &Value) -> Picture {
    let crop: Vec<f64> = wish["crop"].as_array().unwrap().iter().map(number).collect();
    let crop = crop.try_into().unwrap();
    source.part(crop, whole(&wish["width"]), whole(&wish["height"]))
}

/// Like with like, Pillow's Lanczos in light and ours differ by how each rounds its weights
/// (Pillow in single precision too): a level at worst. Reduced as coded, the weave of the
/// picture comes out far darker, which is why it is not done so.
#[test]
fn a_reduced_picture_is_as_pillow_reduces_it_in_light() {
    let Some((folder, answer)) = made() else { return };
    let file = |name: &str| std::fs::read(folder.path().join(Path::new(name))).unwrap();
    let source = read(&file("source.png")).unwrap().picture;
    for wish in answer["reduced"].as_array().unwrap() {
        let ours = part(&source, wish);
        let [light, coded] =
            ["light", "coded"].map(|key| likeness(&ours.rgb, &file(wish[key].as_str().unwrap())));
        assert!(light > 60.0, "{wish}: {light:.1} dB from Pillow in light");
        assert!(coded < 32.0, "{wish}: {coded:.1} dB from Pillow as coded");
    }
}

/// The files of Pillow, among them progressive JPEG, packed TIFF, inks and tables of colour,
/// broken like those of our own making.
#[test]
fn broken_files_of_other_makers_end_in_words_too() {
    let Some((folder, answer)) = made() else { return };
    let mut read = 0;
    for (at, one) in answer["pictures"].as_array().unwrap().iter().enumerate() {
        let name = one["file"].as_str().unwrap();
        let whole = std::fs::read(folder.path().join(name)).unwrap();
        for seed in 0..10 {
            let mut dice = Dice::new(seed * 1000 + u64::try_from(at).unwrap());
            read += u32::from(survives(&broken(&whole, &mut dice), &format!("{name}, {seed}")));
        }
    }
    assert!(read > 100, "only {read} were read at all");
}
