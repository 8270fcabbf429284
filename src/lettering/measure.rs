//! Heights of a face, from its outlines: tables of a font are often wrong about them.

use super::Face;

/// Flat capitals, whose ink height is the cap height (median).
const FLAT_CAPITALS: [char; 6] = ['E', 'F', 'H', 'I', 'T', 'Z'];

/// Share of the median by which flat capitals may differ before one letter must
/// stand for all.
const MOST_SPREAD: f64 = 0.03;

/// Letters that stand for the height of a script, in the order in which they are
/// tried: of scripts with case the flat capital, of others a letter that fills the
/// height of most (common practice, no source).
const REFERENCE_LETTERS: [(&str, char); 14] = [
    ("Latn", 'H'),
    ("Grek", 'Η'),
    ("Cyrl", 'Н'),
    ("Armn", 'Ո'),
    ("Hebr", 'ה'),
    ("Arab", 'ا'),
    ("Deva", 'क'),
    ("Beng", 'ক'),
    ("Taml", 'க'),
    ("Thai", 'ก'),
    ("Geor", 'ა'),
    ("Hani", '永'),
    ("Hira", 'あ'),
    ("Hang", '가'),
];

/// The reference letter of a script (ISO 15924), where one is listed.
pub(super) fn reference_letter(script: &str) -> Option<char> {
    REFERENCE_LETTERS.iter().find(|(name, _)| *name == script).map(|(_, letter)| *letter)
}

/// Cap height of a face in font units (see [`Face::cap_units`]); `None` where it
/// has no letter to take it from.
pub(super) fn cap_units(face: &Face, reference: Option<char>) -> Option<f64> {
    if let Some(letter) = reference {
        return top_units(face, letter);
    }
    let mut flat: Vec<f64> =
        FLAT_CAPITALS.iter().filter_map(|letter| ink_height_units(face, *letter)).collect();
    if let Some(middle) = median(&mut flat) {
        let spread = flat.last().unwrap_or(&middle) - flat.first().unwrap_or(&middle);
        if spread <= MOST_SPREAD * middle {
            return Some(middle);
        }
        return top_units(face, 'H').or(Some(middle));
    }
    REFERENCE_LETTERS.iter().find_map(|(_, letter)| top_units(face, *letter))
}

/// Height of a letter's ink above the baseline in font units; `None` where the
/// face lacks it or draws nothing above the baseline.
pub(super) fn top_units(face: &Face, letter: char) -> Option<f64> {
    let ink = face.ink(face.nominal(letter)?)?;
    (ink.y1 > 0.0).then_some(ink.y1 * face.upem)
}

/// Width of the ink of O ÷ height of the ink of I; `None` where the face lacks either. Of a
/// single-stroke face with strokes of a tenth of the height, ISO 3098's lettering B.
///
/// Source: 2010 ADA Standards for Accessible Design, 703.5.4.
pub(super) fn o_to_i(face: &Face) -> Option<f64> {
    let o = face.ink(face.nominal('O')?)?;
    let ratio = o.width() * face.upem / ink_height_units(face, 'I')?;
    // Both are a stroke more than their centre lines.
    Some(if face.single_stroke() { 0.9 * ratio + 0.1 } else { ratio })
}

fn ink_height_units(face: &Face, letter: char) -> Option<f64> {
    let ink = face.ink(face.nominal(letter)?)?;
    Some(ink.height() * face.upem)
}

/// The median, sorting the values; of an even number the mean of the middle two.
pub(super) fn median(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let upper = *values.get(values.len() / 2)?;
    if values.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = *values.get(values.len() / 2 - 1)?;
    Some(f64::midpoint(lower, upper))
}
