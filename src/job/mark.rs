//! The proof mark: a short digest that ties proof, artwork and pattern together.
//!
//! SHA-256 over a version-tagged list of everything that will be cut or drilled,
//! in whole micrometres; the first 50 bits in base 32 (RFC 4648). A change that
//! moves no outline by a micrometre keeps the mark.

use kurbo::{Affine, BezPath, PathEl, Point};
use sha2::{Digest, Sha256};

use crate::checks::Facts;
use crate::layout::Side;
use crate::plate;

/// Characters in a proof mark.
pub const MARK_LENGTH: usize = 10;

/// The alphabet of RFC 4648, section 6.
const BASE32: &[u8; 32] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

/// Changes whenever the list below changes its meaning.
const VERSION: &[u8] = b"ansata-mark 1\n";

pub(super) fn mark(facts: &Facts<'_>) -> String {
    let mut digest = Sha256::new();
    digest.update(VERSION);
    tag(&mut digest, b"outline");
    path(&mut digest, &plate::outline(&facts.layout.plate).path());
    tag(&mut digest, b"border");
    for stroke in plate::border_paths(&facts.layout.plate, facts.zones) {
        path(&mut digest, &stroke);
    }
    if let Some(border) = facts.layout.plate.border {
        micrometres(&mut digest, border.weight);
    }
    tag(&mut digest, b"holes");
    for hole in &facts.mount.holes {
        for value in [hole.x, hole.y, hole.clearance_diameter, hole.head_diameter] {
            micrometres(&mut digest, value);
        }
        if hole.slot.is_some() {
            tag(&mut digest, b"slot");
            let (across, down) = hole.travel();
            micrometres(&mut digest, across);
            micrometres(&mut digest, down);
        }
    }
    // Told only where it is so: the same outlines are then cut mirrored.
    if facts.layout.engraving.from == Side::Behind {
        tag(&mut digest, b"from behind");
    }
    tag(&mut digest, b"lettering");
    for row in &facts.fitted.rows {
        let Some(line) = facts.lines.get(row.line) else { continue };
        for glyph in &row.glyphs {
            let face = line.face_of(glyph.face);
            let em = row.cap_height / face.cap_em();
            let place = Affine::new([em, 0.0, 0.0, -em, glyph.x, glyph.y]);
            path(&mut digest, &(place * face.outline(glyph.id)));
        }
    }
    base32(&digest.finalize())
}

fn tag(digest: &mut Sha256, name: &[u8]) {
    digest.update(name);
    digest.update(b"\n");
}

#[expect(clippy::cast_possible_truncation, reason = "`as` saturates; plates are at most metres")]
fn micrometres(digest: &mut Sha256, mm: f64) {
    digest.update(((mm * 1000.0).round() as i64).to_le_bytes());
}

fn path(digest: &mut Sha256, path: &BezPath) {
    let point = |digest: &mut Sha256, p: Point| {
        micrometres(digest, p.x);
        micrometres(digest, p.y);
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(a) => {
                digest.update(b"M");
                point(digest, a);
            }
            PathEl::LineTo(a) => {
                digest.update(b"L");
                point(digest, a);
            }
            PathEl::QuadTo(a, b) => {
                digest.update(b"Q");
                point(digest, a);
                point(digest, b);
            }
            PathEl::CurveTo(a, b, c) => {
                digest.update(b"C");
                point(digest, a);
                point(digest, b);
                point(digest, c);
            }
            PathEl::ClosePath => digest.update(b"Z"),
        }
    }
}

/// The first [`MARK_LENGTH`] base 32 characters of a digest.
fn base32(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(MARK_LENGTH);
    for index in 0..MARK_LENGTH {
        let bit = index * 5;
        let pair = u16::from(bytes.get(bit / 8).copied().unwrap_or(0)) << 8
            | u16::from(bytes.get(bit / 8 + 1).copied().unwrap_or(0));
        let value = usize::from((pair >> (11 - bit % 8)) & 31);
        text.push(char::from(BASE32.get(value).copied().unwrap_or(b'A')));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::base32;

    #[test]
    fn base_32_is_that_of_the_standard() {
        // RFC 4648, section 10: BASE32("foobar") = "MZXW6YTBOI======".
        assert_eq!(base32(b"foobar"), "MZXW6YTBOI");
    }
}
