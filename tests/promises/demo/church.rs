//! The church of Marrowby Vale: a tower with a bell in its opening, and a nave.

use super::brush::{Colour, Place, bell, ease, hash, mix, plus, rough, scaled};

/// Left edge, the corner between the lit face and the shaded one, right edge.
const TOWER: (f64, f64, f64) = (-0.105, -0.048, 0.105);
/// The middle of the shaded face.
const FACE: f64 = 0.0285;
const PARAPET: f64 = 0.222;
const FOOT: f64 = 0.672;
/// Where stages end, and their string courses run.
const COURSES: [f64; 3] = [0.228, 0.447, 0.572];

pub(super) fn church(colour: Colour, place: Place) -> Colour {
    if place.q < -0.13 || place.q > 0.26 || place.y < 0.13 {
        return colour;
    }
    tower(nave(colour, place), place)
}

/// Stone in courses: each block a little different.
fn stone(place: Place, lit: Colour) -> Colour {
    let row = (place.y / 0.0078).floor();
    let block = (place.q / 0.0185 + 0.5 * (row % 2.0) + 0.3 * hash(row, 0.0, 131)).floor();
    let (up, along) = (
        place.y / 0.0078 - row,
        place.q / 0.0185 + 0.5 * (row % 2.0) + 0.3 * hash(row, 0.0, 131) - block,
    );
    let joint = 0.86 + 0.14 * ease(0.0, 0.22, up) * ease(0.0, 0.12, along);
    let weather = rough(place.q * 26.0, place.y * 13.0, 5, 137) - 0.5;
    let grit = rough(place.q * 420.0, place.y * 420.0, 2, 139) - 0.5;
    scaled(
        lit,
        joint * (0.86 + 0.28 * hash(block, row, 141)) * (1.0 + 0.75 * weather + 0.16 * grit),
    )
}

/// How far the faces of a stage step out.
fn step(y: f64) -> f64 {
    0.0045 * ease(COURSES[1] - 0.001, COURSES[1] + 0.002, y)
        + 0.0055 * ease(COURSES[2] - 0.001, COURSES[2] + 0.002, y)
}

fn tower(mut colour: Colour, place: Place) -> Colour {
    let out = step(place.y);
    let (left, corner, right) = (TOWER.0 - out, TOWER.1 - out * 0.3, TOWER.2 + out);
    colour = pinnacles(colour, place);
    let body = place.box_out((left, right), (PARAPET, FOOT));
    let cover = place.inside(body.min(merlons(place)));
    if cover <= 0.0 {
        return colour;
    }
    let sunny = place.inside(place.q - corner);
    let low = ease(0.30, 0.66, place.y);
    let warm = mix([0.80, 0.555, 0.370], [0.60, 0.36, 0.20], low);
    let cool = mix([0.100, 0.090, 0.106], [0.066, 0.056, 0.058], low);
    // Sky light falls off to the far edge of the shaded face; the corner catches the sun.
    let across = (place.q - corner) / (right - corner);
    let cool = plus(cool, [0.36, 0.22, 0.13], 0.40 * bell(across, 0.0, 0.05));
    let cool = scaled(cool, 1.18 - 0.40 * ease(0.2, 1.0, across));
    let mut wall = stone(place, mix(cool, warm, sunny));
    for course in COURSES {
        let (lit, under) = (bell(place.y, course, 0.0024), bell(place.y, course + 0.007, 0.004));
        wall = mix(scaled(wall, 1.0 - 0.45 * under), scaled(wall, 1.75), lit);
    }
    wall = buttresses(wall, place, (left, corner, right));
    wall = clock(belfry(wall, place), place);
    wall = lower_window(wall, place);
    mix(colour, wall, cover)
}

/// Battlements over both faces.
fn merlons(place: Place) -> f64 {
    let teeth = |from: f64, to: f64, count: f64| {
        let pace = (to - from) / (count - 0.5);
        let way = (place.q - from) / pace;
        let along = (way - way.floor()) * pace;
        let tooth = (along - pace * 0.5).max(-along).max(from - place.q).max(place.q - to);
        tooth.max(PARAPET - 0.018 - place.y).max(place.y - PARAPET - 0.002)
    };
    teeth(TOWER.0, TOWER.1, 3.0).min(teeth(TOWER.1, TOWER.2, 5.0))
}

/// One at each corner that is seen, with a crocketed point.
fn pinnacles(mut colour: Colour, place: Place) -> Colour {
    for (q, half) in [(TOWER.0 + 0.006, 0.0075), (TOWER.1, 0.0085), (TOWER.2 - 0.006, 0.0085)] {
        let (top, spring) = (0.137, 0.190);
        if (place.q - q).abs() > 0.012 || place.y > 0.25 {
            continue;
        }
        let knob = 0.0011 * libm::sin((place.y - top) * 620.0);
        let slope = half * (place.y - top) / (spring - top) + knob * ease(top, spring, place.y);
        let out =
            if place.y < spring { (place.q - q).abs() - slope } else { (place.q - q).abs() - half };
        let out = out.max(top - place.y).max(place.y - 0.24);
        let ball = place.round_out((q, top), 0.0026);
        let turn = ease(-0.5, 0.4, (place.q - q) / half);
        let lit = mix([0.80, 0.55, 0.37], [0.105, 0.095, 0.11], turn);
        colour = mix(colour, stone(place, lit), place.inside(out.min(ball)));
    }
    colour
}

fn buttresses(mut wall: Colour, place: Place, (left, corner, right): (f64, f64, f64)) -> Colour {
    for (from, to, sunny) in [
        (left, left + 0.012, true),
        (corner - 0.010, corner, true),
        (corner, corner + 0.013, false),
        (right - 0.014, right, false),
    ] {
        if place.y < COURSES[0] + 0.004 {
            continue;
        }
        let inside = place.inside(place.box_out((from, to), (0.0, 1.0)));
        let beside = bell(place.q, to, 0.004) * if place.q > to { 1.0 } else { 0.0 };
        wall = scaled(wall, 1.0 + inside * if sunny { 0.13 } else { 0.20 });
        wall = scaled(wall, 1.0 - 0.42 * beside);
    }
    wall
}

/// The openings of the bell chamber: through the near one the sky is seen behind the bell.
fn belfry(wall: Colour, place: Place) -> Colour {
    let (half, head) = (0.0440, (0.338, 0.428));
    let out = place.arch_out(FACE, half, head);
    let mould = bell(out, 0.0055, 0.0028);
    let hood = bell(out, 0.0125, 0.0022) * if place.y < head.0 + 0.012 { 1.0 } else { 0.0 };
    let mut wall = scaled(wall, 1.0 - 0.50 * mould + 1.0 * hood);
    let sill = place.inside(
        place.box_out((FACE - half - 0.008, FACE + half + 0.008), (head.1, head.1 + 0.007)),
    );
    wall = mix(wall, scaled(wall, 1.9), sill);
    // The narrow one on the lit face has boards.
    let side = place.arch_out((TOWER.0 + TOWER.1) / 2.0 + 0.001, 0.0125, (0.350, 0.428));
    let board = (place.y / 0.0092).fract();
    let slat = scaled(mix([0.50, 0.34, 0.22], [0.045, 0.034, 0.032], ease(0.12, 0.75, board)), 1.0);
    wall = mix(scaled(wall, 1.0 - 0.4 * bell(side, 0.003, 0.0022)), slat, place.inside(side));
    if out > place.dot {
        return wall;
    }
    // Through the far opening, a little to the left and lower for the eye: the sky.
    let far = place.arch_out(FACE - 0.0045, half * 0.86, (head.0 + 0.006, head.1 - 0.004));
    let reveal =
        mix([0.050, 0.040, 0.042], [0.50, 0.30, 0.17], ease(0.55, 1.0, (place.q - FACE) / half));
    let sky = mix([0.86, 0.60, 0.44], [1.05, 0.74, 0.46], ease(0.28, 0.43, place.y));
    let inside = mix(stone(place, reveal), sky, place.inside(far));
    mix(wall, the_bell(inside, place), place.inside(out))
}

/// A bell hung for ringing, mouth down, before its wheel.
fn the_bell(colour: Colour, place: Place) -> Colour {
    let q = FACE - 0.002;
    let wood = [0.028, 0.020, 0.016];
    let hub = (q, 0.3390);
    let rim = (place.round_out(hub, 0.0345)).abs() - 0.0016;
    let mut wheel = rim;
    for (dq, dy) in [(0.0, 1.0), (1.0, 0.0), (0.707, 0.707), (0.707, -0.707)] {
        let (dq, dy) = (dq * 0.034, dy * 0.034);
        let spoke = place.line_off((hub.0 - dq, hub.1 - dy), (hub.0 + dq, hub.1 + dy)) - 0.0007;
        wheel = wheel.min(spoke);
    }
    let mut colour = mix(colour, wood, place.inside(wheel));
    let stock = place.box_out((q - 0.041, q + 0.041), (0.3345, 0.3435));
    colour = mix(colour, scaled(wood, 1.3), place.inside(stock));
    // Crown, shoulder, waist and lip: half the width by the way down.
    let (crown, lip) = (0.3435, 0.4010);
    let down = ((place.y - crown) / (lip - crown)).clamp(0.0, 1.0);
    let flare = 0.0150 + 0.0045 * down + 0.0085 * libm::pow(down, 5.0);
    let shoulder =
        libm::sqrt((1.0 - (1.0 - down / 0.16).max(0.0) * (1.0 - down / 0.16).max(0.0)).max(0.0));
    let half = flare * (0.45 + 0.55 * shoulder);
    let metal = ((place.q - q).abs() - half).max(crown - place.y).max(place.y - lip);
    let turn = (place.q - q) / half.max(1e-9);
    let sheen = 0.30 * bell(turn, -0.62, 0.17) + 0.07 * bell(turn, 0.55, 0.3);
    let ring = bell(down, 0.83, 0.02) + bell(down, 0.20, 0.02);
    let bronze = plus([0.040, 0.027, 0.018], [1.0, 0.66, 0.36], sheen * (1.0 - 0.5 * ring));
    colour = mix(colour, bronze, place.inside(metal));
    let stem = place.line_off((q + 0.001, lip - 0.002), (q + 0.001, lip + 0.003)) - 0.0011;
    let clapper = place.round_out((q + 0.001, lip + 0.0045), 0.0036).min(stem);
    mix(colour, wood, place.inside(clapper))
}

fn clock(wall: Colour, place: Place) -> Colour {
    let middle = (FACE, 0.5080);
    let off = place.round_out(middle, 0.0);
    if off > 0.05 {
        return wall;
    }
    let mut wall = scaled(wall, 1.0 - 0.45 * bell(off, 0.0305, 0.003));
    wall = mix(wall, [0.040, 0.045, 0.065], place.inside(off - 0.0275));
    let ring = (off - 0.0245).abs() - 0.0011;
    wall = mix(wall, [0.66, 0.50, 0.25], place.inside(ring));
    for hour in 0..12 {
        let (sin, cos) = libm::sincos(f64::from(hour) * std::f64::consts::TAU / 12.0);
        let at = |far: f64| (middle.0 + sin * far, middle.1 - cos * far);
        let thick = if hour % 3 == 0 { 0.0013 } else { 0.0008 };
        wall = mix(
            wall,
            [0.72, 0.56, 0.30],
            place.inside(place.line_off(at(0.0175), at(0.0222)) - thick),
        );
    }
    // A quarter to eight.
    for (turn, far, thick) in [(270.0_f64, 0.0195, 0.0010), (232.5, 0.0130, 0.0014)] {
        let (sin, cos) = libm::sincos(turn.to_radians());
        let to = (middle.0 + sin * far, middle.1 - cos * far);
        wall = mix(wall, [0.95, 0.78, 0.48], place.inside(place.line_off(middle, to) - thick));
    }
    wall
}

fn lower_window(wall: Colour, place: Place) -> Colour {
    lit_window(wall, place, FACE, 0.0200, (0.618, 0.652))
}

/// A window with light behind it and a mullion.
fn lit_window(wall: Colour, place: Place, q: f64, half: f64, head: (f64, f64)) -> Colour {
    if (place.q - q).abs() > 5.0 * half {
        return wall;
    }
    let out = place.arch_out(q, half, head);
    let glow = plus(wall, [0.95, 0.50, 0.16], 0.10 * libm::exp(-out.max(0.0) / 0.012));
    let frame = scaled(glow, 1.0 - 0.5 * bell(out, 0.002, 0.0018));
    let bars = ((place.q - q).abs() - half * 0.07).min((place.y - head.0).abs() - half * 0.06);
    let pane = mix([1.0, 0.62, 0.24], [0.70, 0.34, 0.10], ease(head.0 - half, head.1, place.y));
    let glass = mix(pane, [0.06, 0.035, 0.02], place.inside(bars));
    mix(frame, glass, place.inside(out))
}

fn nave(mut colour: Colour, place: Place) -> Colour {
    let (from, to) = (0.09, 0.242);
    let (ridge, eave) = (0.532, 0.590);
    if place.q < from || place.y < ridge - 0.03 {
        return colour;
    }
    let wall = place.inside(place.box_out((from, to - 0.004), (eave - 0.002, FOOT + 0.01)));
    let dim = mix([0.098, 0.084, 0.086], [0.070, 0.058, 0.052], ease(eave, FOOT, place.y));
    let mut stones = scaled(stone(place, dim), 1.0 - 0.5 * bell(place.y, eave, 0.010));
    for q in [0.130, 0.168, 0.206] {
        stones = lit_window(stones, place, q, 0.0092, (0.622, 0.650));
        let beside = place.inside(place.box_out((q + 0.0155, q + 0.0225), (0.605, 0.70)));
        stones = scaled(stones, 1.0 + 0.45 * beside);
    }
    colour = mix(colour, stones, wall);
    let slant = (place.y - ridge) * 0.10;
    let roof = place.inside(place.box_out((from, to + slant), (ridge, eave)));
    let slate = (place.y / 0.0050).floor();
    let tile = hash((place.q / 0.0072 + 0.5 * (slate % 2.0)).floor(), slate, 151);
    let edge = 0.80 + 0.20 * ease(0.0, 0.35, (place.y / 0.0050).fract());
    let moss = rough(place.q * 30.0, place.y * 30.0, 4, 153) - 0.5;
    let sheen = mix([0.150, 0.150, 0.190], [0.095, 0.088, 0.100], ease(ridge, eave, place.y));
    let slates = scaled(sheen, edge * (0.82 + 0.36 * tile) * (1.0 + 0.5 * moss));
    colour = mix(colour, slates, roof);
    let cap = place.inside(place.box_out((from, to + 0.001), (ridge - 0.003, ridge + 0.0018)));
    colour = mix(colour, [0.36, 0.28, 0.25], cap);
    // A cross on the gable.
    let post = place.box_out((to - 0.0045, to - 0.0025), (ridge - 0.024, ridge));
    let arm = place.box_out((to - 0.0095, to + 0.0025), (ridge - 0.0180, ridge - 0.0160));
    mix(colour, [0.10, 0.085, 0.085], place.inside(post.min(arm)))
}
