//! The proof mark: a short digest that ties proof, artwork and pattern together.
//!
//! SHA-256 over a version-tagged list of everything that will be cut or drilled,
//! in whole micrometres; the first 50 bits in base 32 (RFC 4648). A change that
//! moves no outline by a micrometre keeps the mark.

use sha2::{Digest, Sha256};

use super::cut::Cut;
use super::trace::{Step, Trace};

/// Characters in a proof mark.
pub const MARK_LENGTH: usize = 10;

/// The alphabet of RFC 4648, section 6.
const BASE32: &[u8; 32] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

/// Changes whenever the list below changes its meaning.
const VERSION: &[u8] = b"ansata-mark 1\n";

impl Cut {
    /// The proof mark: [`MARK_LENGTH`] characters. Tags are ASCII with a line feed; lengths
    /// are whole µm as eight bytes, the least first; a path is a letter and its points for
    /// each step, `M L Q C Z`, letters in their places.
    #[must_use]
    pub fn mark(&self) -> String {
        let mut digest = Sha256::new();
        digest.update(VERSION);
        tag(&mut digest, b"outline");
        path(&mut digest, &self.outline);
        if self.bevel != 0 {
            tag(&mut digest, b"bevel");
            length(&mut digest, self.bevel);
        }
        tag(&mut digest, b"border");
        if let Some(border) = &self.border {
            for line in &border.lines {
                path(&mut digest, line);
            }
            length(&mut digest, border.weight);
        }
        tag(&mut digest, b"holes");
        for hole in &self.holes {
            for value in [hole.at.0, hole.at.1, hole.diameter, hole.head] {
                length(&mut digest, value);
            }
            if let Some((across, down)) = hole.travel {
                tag(&mut digest, b"slot");
                length(&mut digest, across);
                length(&mut digest, down);
            }
        }
        // Told only where it is so: the same outlines are then cut mirrored.
        if self.behind {
            tag(&mut digest, b"from behind");
        }
        tag(&mut digest, b"lettering");
        if self.raised {
            tag(&mut digest, b"raised");
        }
        for row in 0..self.rows.len() {
            for letter in self.row(row) {
                path(&mut digest, &letter);
            }
        }
        if !self.decoration.is_empty() {
            tag(&mut digest, b"decoration");
            for drawing in &self.decoration {
                path(&mut digest, drawing);
            }
        }
        for photo in &self.photos {
            tag(&mut digest, b"photo");
            tag(&mut digest, photo.file.as_bytes());
            tag(&mut digest, photo.made.as_bytes());
            for side in photo.crop {
                length(&mut digest, side);
            }
            path(&mut digest, &photo.outline);
            if let Some(pocket) = &photo.pocket {
                tag(&mut digest, b"pocket");
                path(&mut digest, pocket);
            }
            for engraved in &photo.engraved {
                tag(&mut digest, b"engraved");
                path(&mut digest, engraved);
            }
        }
        base32(&digest.finalize())
    }
}

fn tag(digest: &mut Sha256, name: &[u8]) {
    digest.update(name);
    digest.update(b"\n");
}

fn length(digest: &mut Sha256, um: i64) {
    digest.update(um.to_le_bytes());
}

fn path(digest: &mut Sha256, trace: &Trace) {
    for step in &trace.steps {
        let (letter, points): (&[u8], Vec<_>) = match *step {
            Step::Move(a) => (b"M", vec![a]),
            Step::Line(a) => (b"L", vec![a]),
            Step::Quad(a, b) => (b"Q", vec![a, b]),
            Step::Cubic(a, b, c) => (b"C", vec![a, b, c]),
            Step::Close => (b"Z", Vec::new()),
        };
        digest.update(letter);
        for (x, y) in points {
            length(digest, x);
            length(digest, y);
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
