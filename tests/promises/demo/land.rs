//! Sky, hills and the churchyard.

use super::brush::{Colour, Place, bell, ease, hash, mix, plus, rough, scaled};

/// Where the sun went down.
const SUN: (f64, f64) = (-0.19, 0.605);
const HAZE: Colour = [0.86, 0.56, 0.38];

/// The sky by height, and its colour there.
const SKY: [(f64, Colour); 6] = [
    (0.0, [0.030, 0.060, 0.150]),
    (0.20, [0.085, 0.125, 0.250]),
    (0.36, [0.230, 0.235, 0.350]),
    (0.48, [0.520, 0.390, 0.400]),
    (0.57, [0.820, 0.530, 0.370]),
    (0.66, [0.950, 0.640, 0.360]),
];

pub(super) fn sky(place: Place) -> Colour {
    let mut colour = SKY[SKY.len() - 1].1;
    for pair in SKY.windows(2).rev() {
        if place.y < pair[1].0 {
            colour = mix(
                pair[0].1,
                pair[1].1,
                ease(pair[0].0, pair[1].0, place.y) * 0.5
                    + 0.5 * (place.y - pair[0].0) / (pair[1].0 - pair[0].0),
            );
        }
    }
    let off = libm::hypot(place.q - SUN.0, (place.y - SUN.1) * 1.25);
    colour = plus(colour, [1.0, 0.66, 0.30], 1.15 * libm::exp(-off / 0.10));
    colour = plus(colour, [0.75, 0.30, 0.16], 0.34 * libm::exp(-off / 0.30));
    stars(moon(clouds(colour, place, off), place), place)
}

/// Thin bands, lit from below.
fn clouds(colour: Colour, place: Place, off: f64) -> Colour {
    let drift = rough(place.q * 2.5, place.y * 5.0, 3, 11);
    let slope = place.y + 0.10 * place.q;
    let thick = rough(place.q * 3.2 + drift * 1.6, slope * 21.0 + drift * 2.2, 5, 23);
    let where_they_are = bell(place.y, 0.40, 0.15) + 0.55 * bell(place.y, 0.13, 0.07);
    let cover = ease(0.50, 0.78, thick) * where_they_are;
    let lit = mix([0.30, 0.25, 0.36], [1.05, 0.58, 0.40], libm::exp(-off / 0.33) * 1.25);
    mix(colour, lit, 0.62 * cover)
}

fn moon(colour: Colour, place: Place) -> Colour {
    let (q, y, radius) = (0.215, 0.115, 0.0165);
    let off = libm::hypot(place.q - q, place.y - y);
    let disc = place.inside(place.round_out((q, y), radius));
    let dark = place.inside(place.round_out((q + 0.0072, y - 0.0060), radius * 0.99));
    let glow = plus(colour, [0.75, 0.72, 0.70], 0.13 * libm::exp(-off / 0.028));
    plus(glow, [0.95, 0.90, 0.78], disc * (1.0 - dark) + 0.012 * disc)
}

fn stars(colour: Colour, place: Place) -> Colour {
    const CELL: f64 = 0.026;
    let (x, y) = ((place.q / CELL).floor(), (place.y / CELL).floor());
    let at = |seed| hash(x, y, seed);
    if at(71) < 0.45 {
        return colour;
    }
    let star = ((x + 0.15 + 0.7 * at(72)) * CELL, (y + 0.15 + 0.7 * at(73)) * CELL);
    let off = libm::hypot(place.q - star.0, place.y - star.1);
    let size = 0.00042 + 0.00045 * at(74) * at(75);
    let light = 0.25 + 0.9 * at(75) * at(74);
    let seen = 1.0 - ease(0.10, 0.33, place.y);
    plus(colour, [0.95, 0.95, 1.0], light * seen * bell(off, 0.0, size))
}

/// Ranges one before the other, each with mist at its foot.
pub(super) fn hills(mut colour: Colour, place: Place) -> Colour {
    // Height of its top, how much it rises and falls, how wide, its colour.
    const RANGES: [(f64, f64, f64, Colour); 4] = [
        (0.578, 0.050, 2.6, [0.560, 0.370, 0.340]),
        (0.602, 0.055, 3.3, [0.300, 0.225, 0.245]),
        (0.632, 0.050, 4.1, [0.135, 0.120, 0.130]),
        (0.662, 0.045, 3.6, [0.062, 0.066, 0.058]),
    ];
    if place.y < 0.48 {
        return colour;
    }
    for (number, (top, rise, wide, own)) in RANGES.into_iter().enumerate() {
        let near = number as f64;
        let seed = 31 + 7 * u32::try_from(number).unwrap();
        let wood = rough(place.q * 90.0, near, 3, seed + 3) - 0.5;
        let mut ridge = top + rise * (rough(place.q * wide, 0.5, 4, seed) - 0.5);
        ridge += 0.0016 * near * wood;
        if number == 1 {
            ridge -= 0.046 * bell(place.q, DOME.0, 0.075);
            colour = observatory(colour, place);
        }
        let below = place.y - ridge;
        let cover = place.inside(-below);
        if cover <= 0.0 {
            continue;
        }
        let fields = rough(place.q * 14.0, place.y * 60.0, 3, seed + 5) - 0.5;
        let toward = libm::exp(-(place.q - SUN.0).abs() / 0.22);
        let mist = ease(0.0, 0.055, below) * (0.62 - 0.12 * near);
        let shaded = mix(scaled(own, 1.0 + 0.35 * fields), scaled(HAZE, 0.45 + 0.4 * toward), mist);
        let lit =
            plus(shaded, [0.9, 0.5, 0.22], 0.10 * toward * libm::exp(-below.max(0.0) / 0.012));
        colour = mix(colour, lit, cover);
    }
    colour
}

/// Where the middle of the observatory's dome stands.
const DOME: (f64, f64) = (0.305, 0.5415);

fn observatory(colour: Colour, place: Place) -> Colour {
    let (q, y) = DOME;
    let radius = 0.0185;
    let turn = ((place.q - q) / radius).clamp(-1.0, 1.0);
    let light = mix([0.95, 0.74, 0.56], [0.20, 0.19, 0.24], ease(-0.8, 0.9, turn));
    let drum = place.inside(place.box_out((q - radius * 0.94, q + radius * 0.94), (y, y + 0.03)));
    let dome = place.inside(place.round_out((q, y), radius).max(place.y - y));
    let rim = place.inside(place.box_out((q - radius, q + radius), (y - 0.001, y + 0.0015)));
    let slit = place.inside(place.box_out((q - 0.0065, q - 0.0015), (y - 0.017, y - 0.003)));
    let mut colour = mix(colour, scaled(light, 0.62), drum);
    colour = mix(colour, light, dome);
    colour = mix(colour, [0.10, 0.09, 0.11], rim * 0.8);
    mix(colour, [0.035, 0.035, 0.05], slit * dome)
}

/// The top of the church's own hill.
pub(super) fn crest(q: f64) -> f64 {
    0.655 + 0.42 * q * q + 0.012 * (rough(q * 6.0, 1.0, 3, 91) - 0.5)
}

/// Grass, a path and a wall.
pub(super) fn churchyard(colour: Colour, place: Place) -> Colour {
    let below = place.y - crest(place.q);
    let blades = 0.0035 * (rough(place.q * 420.0, 3.0, 2, 97) - 0.5) * (1.0 + 6.0 * below.max(0.0));
    let cover = place.inside(-(below + blades));
    if cover <= 0.0 {
        return colour;
    }
    // What is near is larger.
    let near = 1.0 / (0.10 + below.max(0.0));
    let tufts = rough(place.q * 26.0 * near, place.y * 90.0 * near, 4, 101) - 0.5;
    let patches = rough(place.q * 7.0, place.y * 16.0, 4, 103) - 0.5;
    let fade = libm::exp(-below.max(0.0) / 0.16);
    let mut grass =
        scaled([0.074, 0.078, 0.036], (0.75 + 0.95 * fade) * (1.0 + 1.1 * tufts + 0.8 * patches));
    let toward = libm::exp(-(place.q - SUN.0).abs() / 0.20);
    let shade = 1.0 - 0.8 * ease(-0.10, -0.02, place.q) * (1.0 - ease(0.10, 0.26, place.q - below));
    let raking = (0.16 + 0.42 * toward) * shade * libm::exp(-below.max(0.0) / 0.075);
    grass = plus(grass, [0.62, 0.40, 0.15], raking * (0.55 + 1.2 * tufts.max(-0.4)));
    let sway = 0.040 + 0.085 * libm::sin((place.y - 0.655) * 13.0) * ease(0.655, 0.80, place.y);
    let half = 0.009 + 0.17 * below.max(0.0);
    let edge = (place.q - sway).abs() - half * (1.0 + 0.35 * tufts);
    let path = 1.0 - ease(-0.25 * half, 0.22 * half, edge);
    let gravel = rough(place.q * 120.0 * near.min(6.0), place.y * 240.0 * near.min(6.0), 3, 107);
    let stone = scaled([0.36, 0.275, 0.205], (0.28 + 0.9 * fade) * (0.70 + 0.6 * gravel));
    let ground = wall(mix(grass, stone, 0.85 * path), place, path);
    mix(colour, ground, cover)
}

/// A dry wall across the foot of the hill, open for the path.
fn wall(colour: Colour, place: Place, path: f64) -> Colour {
    if place.y < 0.79 || place.y > 0.92 {
        return colour;
    }
    let bent = Place {
        q: place.q + 0.006 * (rough(place.q * 40.0, place.y * 40.0, 2, 123) - 0.5),
        y: place.y + 0.007 * (rough(place.q * 50.0, place.y * 50.0, 2, 125) - 0.5),
        ..place
    };
    let (whole, place) = (place, bent);
    let foot = 0.862 - 0.16 * place.q * place.q + 0.05 * place.q;
    let high = 0.040;
    let row = ((foot - place.y) / (high / 5.0)).floor();
    let stone = ((place.q + 0.5) / 0.0155 + 0.37 * row + 0.5 * hash(row, 5.0, 113)).floor();
    let ragged = 0.004 * (hash(stone, 9.0, 117) - 0.5);
    let out = (foot - high + ragged - place.y).max(place.y - foot);
    let cover = place.inside(out) * (1.0 - ease(0.02, 0.35, path));
    let along = (place.q + 0.5) / 0.0155 + 0.37 * row + 0.5 * hash(row, 5.0, 113) - stone;
    let up = (foot - place.y) / (high / 5.0) - row;
    let joint =
        ease(0.0, 0.16, along) * ease(1.0, 0.84, along) * ease(0.0, 0.2, up) * ease(1.0, 0.75, up);
    let tone = 0.055
        + 0.075 * hash(stone, row, 119)
        + 0.05 * (rough(place.q * 260.0, place.y * 260.0, 2, 121) - 0.5);
    let top = bell(place.y, foot - high, 0.006);
    let toward = libm::exp(-(place.q - SUN.0).abs() / 0.30);
    let lit = plus(
        scaled([1.0, 0.88, 0.74], tone * (0.25 + 0.75 * joint)),
        [0.5, 0.3, 0.14],
        0.5 * top * toward,
    );
    let shadow = 1.0 - 0.55 * bell(place.y, foot + 0.008, 0.014) * (1.0 - ease(0.02, 0.35, path));
    let bare = whole.inside(whole.y - foot - 0.002);
    mix(scaled(colour, shadow), lit, cover * bare)
}
