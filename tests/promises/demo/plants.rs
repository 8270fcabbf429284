//! Trees, stones of the churchyard, and the rooks of the tower.

use super::brush::{Colour, Place, bell, ease, hash, mix, plus, rough, scaled};
use super::land::crest;

pub(super) fn trees(mut colour: Colour, place: Place) -> Colour {
    // Yews and bushes round the church: middle, half width, top.
    for (number, (q, half, high)) in [
        (0.275, 0.050, 0.060),
        (0.335, 0.052, 0.082),
        (-0.150, 0.030, 0.034),
        (-0.118, 0.020, 0.024),
        (0.242, 0.022, 0.030),
        (0.43, 0.06, 0.07),
        (-0.44, 0.07, 0.08),
    ]
    .into_iter()
    .enumerate()
    {
        if (place.q - q).abs() > half + 0.02 || place.y < 0.56 || place.y > 0.80 {
            continue;
        }
        let base = crest(q) + 0.012;
        let seed = 171 + 5 * u32::try_from(number).unwrap();
        let tall = (base - place.y) / high;
        let round = libm::sqrt((1.0 - tall.clamp(0.0, 1.0) * tall.clamp(0.0, 1.0)).max(0.0));
        let leaves = rough(place.q * 70.0, place.y * 70.0, 5, seed) - 0.5;
        let out =
            ((place.q - q).abs() - half * round).max(base - high - place.y).max(place.y - base);
        let cover = place.inside(out - leaves * 0.020);
        let sun = ease(0.3, -1.0, (place.q - q) / half) * ease(-0.15, 0.35, leaves + 0.2 * tall);
        let own = scaled([0.026, 0.030, 0.020], 1.0 + 1.2 * leaves);
        colour = mix(colour, plus(own, [0.50, 0.30, 0.11], 0.30 * sun), cover);
    }
    oak(colour, place)
}

/// A great tree on the left: limbs, and leaves in clouds with sky between them.
fn oak(mut colour: Colour, place: Place) -> Colour {
    if place.q > -0.13 || place.y < 0.33 || place.y > 0.76 {
        return colour;
    }
    let bark = [0.022, 0.016, 0.013];
    let limbs = [
        ((-0.284, 0.728), (-0.279, 0.560), 0.0100),
        ((-0.297, 0.742), (-0.282, 0.690), 0.0045),
        ((-0.270, 0.744), (-0.281, 0.695), 0.0045),
        ((-0.285, 0.746), (-0.283, 0.700), 0.0060),
        ((-0.279, 0.600), (-0.222, 0.500), 0.0055),
        ((-0.280, 0.575), (-0.345, 0.490), 0.0060),
        ((-0.279, 0.565), (-0.282, 0.440), 0.0060),
        ((-0.245, 0.540), (-0.200, 0.545), 0.0030),
        ((-0.319, 0.525), (-0.372, 0.530), 0.0030),
        ((-0.281, 0.500), (-0.245, 0.430), 0.0032),
        ((-0.281, 0.480), (-0.325, 0.415), 0.0032),
    ];
    for (from, to, thick) in limbs {
        let taper = thick * (1.0 - 0.5 * ease(from.1, to.1, place.y));
        let knots = 0.0015 * (rough(place.q * 60.0, place.y * 30.0, 3, 211) - 0.5);
        // Grass stands before the roots.
        let blades = place.y - 0.741 - 0.012 * (rough(place.q * 500.0, 1.0, 2, 213) - 0.5);
        let limb = (place.line_off(from, to) - taper - knots).max(blades);
        colour = mix(colour, bark, place.inside(limb));
    }
    let clumps = [
        (-0.285, 0.445, 0.066),
        (-0.225, 0.478, 0.050),
        (-0.350, 0.470, 0.058),
        (-0.255, 0.405, 0.044),
        (-0.320, 0.402, 0.046),
        (-0.205, 0.528, 0.034),
        (-0.372, 0.528, 0.044),
        (-0.285, 0.510, 0.046),
        (-0.335, 0.550, 0.026),
        (-0.240, 0.550, 0.022),
    ];
    let wind = rough(place.q * 34.0, place.y * 34.0, 4, 221) - 0.5;
    let fine = rough(place.q * 190.0, place.y * 190.0, 3, 227) - 0.5;
    let mut out = f64::MAX;
    let mut light = 0.0_f64;
    for (q, y, radius) in clumps {
        let here = place.round_out((q, y), radius);
        out = out.min(here);
        let side = ((place.q - q) * 0.75 + (q - place.q).abs() * 0.1 - (place.y - y)) / radius;
        light = light.max(bell(here, -0.3 * radius, 0.5 * radius) * ease(-0.2, 1.1, side));
    }
    let cover = place.inside(out + 0.012 - 0.075 * wind - 0.055 * fine);
    let deep = 0.55 + 0.9 * light;
    let own = scaled([0.034, 0.034, 0.020], deep * (1.0 + 1.6 * fine + wind));
    // The sun stands to the right of it, low.
    let rim = ease(-0.36, -0.17, place.q) * ease(0.36, 0.60, place.y) + 0.35 * light;
    let lit = plus(own, [0.62, 0.36, 0.12], 0.34 * rim * ease(-0.12, 0.32, fine + 0.5 * wind));
    mix(colour, lit, cover)
}

pub(super) fn stones(mut colour: Colour, place: Place) -> Colour {
    for number in 0..11 {
        let at = |seed| hash(f64::from(number), 0.0, seed);
        let q = -0.245 + 0.052 * f64::from(number) + 0.020 * at(241);
        let down = 0.020 + 0.085 * at(243);
        if (q - 0.045).abs() < 0.045 {
            continue;
        }
        if (place.q - q).abs() > 0.05 || place.y < 0.64 || place.y > 0.85 {
            continue;
        }
        let foot = crest(q) + down;
        let size = 0.0065 + 0.085 * down;
        let half = size * (0.34 + 0.12 * at(245));
        let lean = 0.10 * (at(247) - 0.5);
        let tilted = Place { q: place.q + (place.y - foot) * lean, ..place };
        let slab = tilted.box_out((q - half, q + half), (foot - size, foot));
        let head = tilted.round_out((q, foot - size), half);
        let shadow = bell(place.y, foot + 0.002, 0.004 + 0.1 * down)
            * bell(place.q, q + half * 1.6, half * 1.8);
        colour = scaled(colour, 1.0 - 0.6 * shadow);
        let grit = rough(place.q * 240.0, place.y * 240.0, 3, 251) - 0.5;
        let edge = bell(tilted.q, q - half, 0.30 * half);
        let own =
            plus(scaled([0.085, 0.078, 0.075], 1.0 + 0.8 * grit), [0.70, 0.44, 0.22], 0.55 * edge);
        colour = mix(colour, own, place.inside(slab.min(head)));
    }
    colour
}

pub(super) fn rooks(mut colour: Colour, place: Place) -> Colour {
    for (q, y, span, turn) in [
        (0.150, 0.262, 0.0125, 0.10),
        (0.186, 0.238, 0.0100, -0.15),
        (0.205, 0.290, 0.0090, 0.20),
        (0.247, 0.262, 0.0075, 0.05),
        (-0.150, 0.215, 0.0095, -0.10),
        (0.268, 0.320, 0.0065, 0.00),
        (-0.184, 0.262, 0.0070, 0.15),
    ] {
        if (place.q - q).abs() > 2.0 * span || (place.y - y).abs() > 2.0 * span {
            continue;
        }
        let at =
            |along: f64, up: f64| (q + span * (along + turn * up), y - span * (up - turn * along));
        let mut off = place.line_off(at(-0.16, 0.0), at(0.20, -0.03)) - 0.13 * span;
        for side in [-1.0, 1.0] {
            let elbow = at(0.52 * side, 0.36);
            off = off.min(place.line_off(at(0.0, 0.03), elbow) - 0.085 * span);
            off = off.min(place.line_off(elbow, at(side, 0.12)) - 0.045 * span);
        }
        colour = mix(colour, [0.022, 0.020, 0.026], place.inside(off));
    }
    colour
}
