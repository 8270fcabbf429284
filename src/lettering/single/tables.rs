//! A font of nothing but characters and advances, so that single-stroke wording is shaped
//! by the same shaper as all other: directions, accents and cuts are then its own affair.
//!
//! Source: the OpenType specification, tables `cmap` (format 12), `head`, `hhea`, `hmtx`,
//! `maxp`; checksums are left 0, since nothing reads these bytes but the shaper.

use super::Alphabet;

/// Bytes of the directory's head and of one of its records.
const HEAD: usize = 12;
const RECORD: usize = 16;

/// The font of an alphabet whose letters are in the order of their characters; glyph 0
/// stands for what is missing, the others follow in that order. Advances are rounded to
/// whole units.
///
/// # Errors
/// More letters than glyphs can be numbered.
pub(super) fn font(alphabet: &Alphabet) -> Result<Vec<u8>, String> {
    let count = u16::try_from(alphabet.letters.len() + 1).map_err(|_| "too many letters")?;
    let tables: [(&[u8; 4], Vec<u8>); 5] = [
        (b"cmap", characters(alphabet)),
        (b"head", head(alphabet.upem)),
        (b"hhea", horizontal(count)),
        (b"hmtx", advances(alphabet)),
        (b"maxp", [0x0000_5000_u32.to_be_bytes().as_slice(), &count.to_be_bytes()].concat()),
    ];
    let number = u16::try_from(tables.len()).unwrap_or_default();
    let mut font = 0x0001_0000_u32.to_be_bytes().to_vec();
    // Search hints: of 5 records, 4 is the greatest power of two.
    for part in [number, 4 * 16, 2, (number - 4) * 16] {
        font.extend(part.to_be_bytes());
    }
    let mut data = Vec::new();
    for (tag, table) in tables {
        font.extend(tag);
        font.extend(0_u32.to_be_bytes());
        font.extend(long(HEAD + RECORD * usize::from(number) + data.len()));
        font.extend(long(table.len()));
        data.extend(&table);
        data.resize(data.len().next_multiple_of(4), 0);
    }
    font.extend(data);
    Ok(font)
}

/// A length as tables hold it.
fn long(length: usize) -> [u8; 4] {
    u32::try_from(length).unwrap_or(u32::MAX).to_be_bytes()
}

fn characters(alphabet: &Alphabet) -> Vec<u8> {
    let groups = alphabet.letters.len();
    let mut table = Vec::new();
    // Version 0, one encoding: Windows, full Unicode, 12 bytes on.
    for part in [0_u16, 1, 3, 10] {
        table.extend(part.to_be_bytes());
    }
    table.extend(12_u32.to_be_bytes());
    table.extend([12_u16.to_be_bytes(), [0; 2]].concat());
    table.extend(long(16 + 12 * groups));
    table.extend([0; 4]);
    table.extend(long(groups));
    for (glyph, letter) in alphabet.letters.iter().enumerate() {
        let code = u32::from(letter.character).to_be_bytes();
        table.extend([code, code, long(glyph + 1)].concat());
    }
    table
}

fn head(upem: u16) -> Vec<u8> {
    let mut table = 0x0001_0000_u32.to_be_bytes().to_vec();
    table.extend([0; 8]);
    table.extend(0x5F0F_3CF5_u32.to_be_bytes());
    table.extend([0, 0]);
    table.extend(upem.to_be_bytes());
    // Dates, box, style, sizes, direction, format of the table of outlines: none.
    table.resize(54, 0);
    table
}

fn horizontal(count: u16) -> Vec<u8> {
    let mut table = 0x0001_0000_u32.to_be_bytes().to_vec();
    table.resize(34, 0);
    table.extend(count.to_be_bytes());
    table
}

fn advances(alphabet: &Alphabet) -> Vec<u8> {
    let letters = alphabet.letters.iter().map(|letter| letter.advance);
    let all = std::iter::once(alphabet.missing_advance).chain(letters);
    // A side bearing of 0: the shaper does not ask for it.
    all.flat_map(|advance| [whole(advance).to_be_bytes(), [0; 2]].concat()).collect()
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "`as` saturates; advances are 0 to 10 ems of at most 16384 units"
)]
fn whole(units: f64) -> u16 {
    units.round() as u16
}
