//! What the demo picture is painted with: colours in linear light, shapes with soft edges,
//! noise that is the same everywhere.

/// Red, green and blue in linear light, 1 for white.
pub(super) type Colour = [f64; 3];

pub(super) fn mix(from: Colour, to: Colour, share: f64) -> Colour {
    let share = share.clamp(0.0, 1.0);
    std::array::from_fn(|i| from[i] + (to[i] - from[i]) * share)
}

pub(super) fn scaled(colour: Colour, by: f64) -> Colour {
    colour.map(|part| part * by)
}

pub(super) fn plus(colour: Colour, light: Colour, by: f64) -> Colour {
    std::array::from_fn(|i| colour[i] + light[i] * by)
}

/// From 0 at `from` to 1 at `to`, without corners.
pub(super) fn ease(from: f64, to: f64, at: f64) -> f64 {
    let way = ((at - from) / (to - from)).clamp(0.0, 1.0);
    way * way * (3.0 - 2.0 * way)
}

pub(super) fn bell(at: f64, middle: f64, width: f64) -> f64 {
    let off = (at - middle) / width;
    libm::exp(-off * off)
}

/// A number from 0 to 1 for a place of a grid.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "only mixed")]
pub(super) fn hash(x: f64, y: f64, seed: u32) -> f64 {
    let (x, y) = (x.floor() as i64 as u32, y.floor() as i64 as u32);
    let mut mixed = x.wrapping_mul(0x9E37_79B1) ^ y.wrapping_mul(0x85EB_CA77) ^ seed;
    mixed = (mixed ^ (mixed >> 15)).wrapping_mul(0x2C1B_3C6D);
    mixed = (mixed ^ (mixed >> 12)).wrapping_mul(0x297A_2D39);
    f64::from(mixed ^ (mixed >> 15)) / f64::from(u32::MAX)
}

/// Smooth noise from 0 to 1, a grid of 1.
fn noise(x: f64, y: f64, seed: u32) -> f64 {
    let (left, top) = (x.floor(), y.floor());
    let (across, down) = (ease(0.0, 1.0, x - left), ease(0.0, 1.0, y - top));
    let row = |y| {
        let from = hash(left, y, seed);
        from + (hash(left + 1.0, y, seed) - from) * across
    };
    let from = row(top);
    from + (row(top + 1.0) - from) * down
}

/// Noise with finer noise on it, from 0 to 1, `layers` times.
pub(super) fn rough(x: f64, y: f64, layers: u32, seed: u32) -> f64 {
    let (mut sum, mut most, mut part, mut fine) = (0.0, 0.0, 1.0, 1.0);
    for layer in 0..layers {
        sum += part * noise(x * fine + 7.3 * f64::from(layer), y * fine, seed + layer);
        most += part;
        part *= 0.5;
        fine *= 2.03;
    }
    sum / most
}

/// A place of the picture: `q` from its middle to the right, `y` from its top, both in heights
/// of the picture; and how large a dot is there.
#[derive(Clone, Copy)]
pub(super) struct Place {
    pub(super) q: f64,
    pub(super) y: f64,
    pub(super) dot: f64,
}

impl Place {
    /// How much of the dot lies inside, `out` being how far it is outside.
    pub(super) fn inside(&self, out: f64) -> f64 {
        (0.5 - out / self.dot).clamp(0.0, 1.0)
    }

    /// How far outside a rectangle.
    pub(super) fn box_out(&self, (left, right): (f64, f64), (top, foot): (f64, f64)) -> f64 {
        (left - self.q).max(self.q - right).max(top - self.y).max(self.y - foot)
    }

    /// How far outside a circle.
    pub(super) fn round_out(&self, (q, y): (f64, f64), radius: f64) -> f64 {
        libm::hypot(self.q - q, self.y - y) - radius
    }

    /// How far outside an opening with a pointed head: half its width, where the head
    /// springs, the sill.
    pub(super) fn arch_out(&self, q: f64, half: f64, (spring, sill): (f64, f64)) -> f64 {
        let along = (self.q - q).abs();
        if self.y > spring {
            return (along - half).max(self.y - sill);
        }
        libm::hypot(along + half, self.y - spring) - 2.0 * half
    }

    /// How far from a straight line between two places.
    pub(super) fn line_off(&self, from: (f64, f64), to: (f64, f64)) -> f64 {
        let (dq, dy) = (to.0 - from.0, to.1 - from.1);
        let along = ((self.q - from.0) * dq + (self.y - from.1) * dy) / (dq * dq + dy * dy);
        let along = along.clamp(0.0, 1.0);
        libm::hypot(self.q - from.0 - dq * along, self.y - from.1 - dy * along)
    }
}
