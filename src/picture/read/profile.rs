//! Embedded colour profiles (ICC.1:2022).
//!
//! moxcms reads them. Curves with a matrix, which cameras, telephones and programs write, are
//! worked out here, so that the same file gives the same bytes on every processor; tables of
//! several dimensions, which printers' inks need, are left to moxcms, which has a path for
//! each processor and may differ by a level between them.

use moxcms::{
    ColorProfile, DataColorSpace, Layout, ProfileText, RenderingIntent, ToneReprCurve,
    TransformOptions, Xyzd,
};

use super::Profile;
use super::colour::{Conversion, Shaper};
use super::stored::{Channels, Embedded, Stored};
use crate::picture::light::{encode, rounded, single};

/// Columns: XYZ of red, green and blue of sRGB seen by the light D50, in which profiles speak
/// (ICC's own profile sRGB2014; their sum is D50).
const SRGB: [[f64; 3]; 3] = [
    [0.436_065_67, 0.385_147_09, 0.143_066_41],
    [0.222_488_40, 0.716_873_17, 0.060_607_91],
    [0.013_916_02, 0.097_076_42, 0.714_096_07],
];

/// White in which profiles speak, D50 (ICC.1:2022, 7.2.16).
const D50: [f64; 3] = [0.9642, 1.0, 0.8249];

/// How far white may be from it. Old profiles of scanners are a few hundredths off; more than
/// this is damage.
const WHITE_OFF: f64 = 0.2;

/// Letters of a profile's own description that are kept.
const DESCRIBED: usize = 80;

/// What the embedded profile makes of samples, `None` where they are as without one.
pub(super) fn conversion(stored: &Stored) -> (Option<Conversion>, Profile) {
    let bytes = match &stored.profile {
        Embedded::None => return (None, Profile::None),
        Embedded::Damaged => return (None, Profile::Passed("it is damaged")),
        Embedded::Bytes(bytes) => bytes,
    };
    let Ok(profile) = ColorProfile::new_from_slice(bytes) else {
        return (None, Profile::Passed("it is damaged"));
    };
    let fits = match stored.channels {
        Channels::Grey | Channels::GreyAlpha => DataColorSpace::Gray,
        Channels::Rgb | Channels::RgbAlpha => DataColorSpace::Rgb,
        Channels::Cmyk => DataColorSpace::Cmyk,
    };
    if profile.color_space != fits {
        return (None, Profile::Passed("it is for another kind of colour than the picture's"));
    }
    match by(&profile, stored) {
        Ok(conversion) => (conversion, Profile::Used(description(&profile))),
        Err(why) => (None, Profile::Passed(why)),
    }
}

fn by(profile: &ColorProfile, stored: &Stored) -> Result<Option<Conversion>, &'static str> {
    let most = stored.samples.most();
    let tables =
        profile.lut_a_to_b_perceptual.is_some() || profile.lut_a_to_b_colorimetric.is_some();
    match (&profile.gray_trc, &profile.red_trc, &profile.green_trc, &profile.blue_trc) {
        (Some(curve), ..)
            if fits(profile, DataColorSpace::Gray) && profile.pcs == DataColorSpace::Xyz =>
        {
            let level = |light: &f64| rounded(encode(*light) * 255.0);
            Ok(Some(Conversion::Levels(lights(curve, most)?.iter().map(level).collect())))
        }
        (_, Some(red), Some(green), Some(blue))
            if !tables && profile.pcs == DataColorSpace::Xyz =>
        {
            let all = [lights(red, most)?, lights(green, most)?, lights(blue, most)?];
            let shaper = Shaper {
                lights: all.map(|lights| lights.into_iter().map(single).collect()),
                matrix: matrix(profile)?,
            };
            Ok((!is_srgb(&shaper, most)).then_some(Conversion::Shaper(shaper)))
        }
        _ => library(profile),
    }
}

fn fits(profile: &ColorProfile, space: DataColorSpace) -> bool {
    profile.color_space == space
}

/// The way of the library, for tables.
fn library(profile: &ColorProfile) -> Result<Option<Conversion>, &'static str> {
    const NOT_READ: &str = "it is of a kind that is not read";
    let layout = match profile.color_space {
        DataColorSpace::Gray => Layout::Gray,
        DataColorSpace::Rgb => Layout::Rgb,
        DataColorSpace::Cmyk => Layout::Rgba,
        _ => return Err(NOT_READ),
    };
    let options = TransformOptions {
        rendering_intent: RenderingIntent::Perceptual,
        ..TransformOptions::default()
    };
    let srgb = ColorProfile::new_srgb();
    profile
        .create_transform_16bit(layout, &srgb, Layout::Rgb, options)
        .map(|transform| Some(Conversion::Library(transform)))
        .map_err(|_| NOT_READ)
}

/// Light of each sample, from 0 to 1, by a curve (ICC.1:2022, 10.6 and 10.18).
fn lights(curve: &ToneReprCurve, most: u16) -> Result<Vec<f64>, &'static str> {
    let share = |sample: u16| f64::from(sample) / f64::from(most);
    let light = |x: f64| match curve {
        ToneReprCurve::Lut(entries) => match entries.as_slice() {
            [] => Some(x),
            [gamma] => Some(libm::pow(x, f64::from(*gamma) / 256.0)),
            entries => between(entries, x),
        },
        ToneReprCurve::Parametric(numbers) => {
            let numbers: Vec<f64> = numbers.iter().copied().map(f64::from).collect();
            parametric(&numbers, x)
        }
    };
    let all: Option<Vec<f64>> = (0..=most).map(|sample| light(share(sample))).collect();
    let all = all.ok_or("its curves are damaged")?;
    if all.iter().any(|light| light.is_nan()) {
        return Err("its curves are damaged");
    }
    Ok(all.into_iter().map(|light| light.clamp(0.0, 1.0)).collect())
}

/// A table's value at a share of its length.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "tables have 65536 entries at most"
)]
fn between(entries: &[u16], x: f64) -> Option<f64> {
    let at = x * (entries.len() - 1) as f64;
    let low = at as usize;
    let [one, other] = [low, (low + 1).min(entries.len() - 1)].map(|at| entries.get(at));
    let (one, other) = (f64::from(*one?), f64::from(*other?));
    Some((one + (other - one) * (at - low as f64)) / f64::from(u16::MAX))
}

/// The five kinds of formula (ICC.1:2022, table 68), by how many numbers they have.
fn parametric(numbers: &[f64], x: f64) -> Option<f64> {
    let (g, a, b, c, d, e, f) = match *numbers {
        [g] => (g, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0),
        [g, a, b] => (g, a, b, 0.0, -b / a, 0.0, 0.0),
        [g, a, b, c] => (g, a, b, 0.0, -b / a, c, c),
        [g, a, b, c, d] => (g, a, b, c, d, 0.0, 0.0),
        [g, a, b, c, d, e, f] => (g, a, b, c, d, e, f),
        _ => return None,
    };
    Some(if x >= d { libm::pow((a * x + b).max(0.0), g) + e } else { c * x + f })
}

/// Light of the profile's red, green and blue to that of sRGB.
fn matrix(profile: &ColorProfile) -> Result<[[f32; 3]; 3], &'static str> {
    let column = |at: &Xyzd| [at.x, at.y, at.z];
    let columns =
        [&profile.red_colorant, &profile.green_colorant, &profile.blue_colorant].map(column);
    let sum = |at: usize| columns.iter().map(|column| column[at]).sum::<f64>();
    // The comparison is false for what is no number.
    if !(0..3).all(|at| (sum(at) - D50[at]).abs() < WHITE_OFF) {
        return Err("its colours do not add up to white");
    }
    let inverse = inverted(&SRGB);
    Ok(std::array::from_fn(|row| {
        std::array::from_fn(|of| {
            single((0..3).map(|at| inverse[row][at] * columns[of][at]).sum::<f64>())
        })
    }))
}

/// The inverse by cofactors.
fn inverted(m: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let minor = |row: usize, column: usize| {
        let (r, s, c, d) = ((row + 1) % 3, (row + 2) % 3, (column + 1) % 3, (column + 2) % 3);
        m[r][c] * m[s][d] - m[r][d] * m[s][c]
    };
    let whole: f64 = (0..3).map(|column| m[0][column] * minor(0, column)).sum();
    std::array::from_fn(|row| std::array::from_fn(|column| minor(column, row) / whole))
}

/// Whether a profile is sRGB but for how its maker rounded: no colour of a grid changes by
/// more than a level. Such a photograph is left as it is.
fn is_srgb(shaper: &Shaper, most: u16) -> bool {
    const GRID: [u8; 9] = [0, 16, 48, 80, 112, 144, 176, 216, 255];
    let wide = most / 255;
    let grid = GRID.iter().flat_map(|r| GRID.iter().flat_map(move |g| GRID.map(|b| [*r, *g, b])));
    grid.into_iter().all(|levels| {
        let coded = shaper.coded(levels.map(|level| u16::from(level) * wide));
        coded.iter().zip(levels).all(|(coded, level)| coded.abs_diff(level) <= 1)
    })
}

/// The profile's own name for itself, on one line.
fn description(profile: &ColorProfile) -> String {
    let text = match &profile.description {
        Some(ProfileText::PlainString(text)) => text.as_str(),
        Some(ProfileText::Localizable(all)) => all.first().map_or("", |one| one.value.as_str()),
        Some(ProfileText::Description(text)) => text.ascii_string.as_str(),
        None => "",
    };
    let clean: String = text.chars().filter(|c| !c.is_control()).take(DESCRIBED).collect();
    let clean = clean.trim();
    if clean.is_empty() { "without a name".to_owned() } else { clean.to_owned() }
}
