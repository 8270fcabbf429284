//! Characters that a lettering lacks, and which shipped lettering has them.

use std::sync::Arc;

use super::runs::text_runs;
use super::shape::{Shaper, shaped_run};
use super::{Entry, Face, catalogue, shipped};
use crate::layout::LetteringChoice;

/// A character without a glyph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// The character.
    pub character: char,
    /// Byte offset of its first use.
    pub offset: usize,
}

/// Characters of a text that a face lacks, each once, in order of first use.
///
/// White space and default-ignorable characters (joiners, soft hyphens, zero-width
/// spaces, marks of direction) have no ink and are never missing. An accented
/// letter that the face builds from its parts is there, and so is a mark that it
/// draws only as part of such a letter.
#[must_use]
pub fn missing(face: &Face, text: &str) -> Vec<Missing> {
    let lacks = |character: char| {
        !character.is_whitespace() && !is_ignorable(character) && face.nominal(character).is_none()
    };
    let mut found: Vec<Missing> = Vec::new();
    if !text.chars().any(lacks) {
        return found;
    }
    let unset = unset_clusters(face, text);
    for (offset, character) in text.char_indices().filter(|(_, character)| lacks(*character)) {
        // The last cluster that begins at or before the character holds it.
        let cluster = unset.partition_point(|(start, _)| *start <= offset).checked_sub(1);
        let shown = cluster.and_then(|at| unset.get(at)).is_some_and(|(_, unset)| !unset);
        if !shown && found.iter().all(|known| known.character != character) {
            found.push(Missing { character, offset });
        }
    }
    found
}

/// Letters and figures of a text that a face has, but without ink, each once, in order of
/// first use: its file is damaged or unfinished.
#[must_use]
pub fn blank(face: &Arc<Face>, text: &str) -> Vec<Missing> {
    let mut found: Vec<Missing> = Vec::new();
    for (offset, character) in text.char_indices() {
        let inked = |glyph| face.ink(glyph).is_some();
        let Some(glyph) = face.nominal(character) else { continue };
        let shows = !character.is_alphanumeric()
            || is_ignorable(character)
            || inked(glyph)
            || found.iter().any(|known| known.character == character);
        // The shaper may put another glyph in its place.
        if !shows
            && !shaped_run(&character.to_string(), face, &[]).glyphs.iter().any(|g| inked(g.id))
        {
            found.push(Missing { character, offset });
        }
    }
    found
}

/// Clusters of a shaped text in logical order, each with whether it shows the
/// missing glyph.
fn unset_clusters(face: &Face, text: &str) -> Vec<(usize, bool)> {
    let runs = text_runs(text);
    let (glyphs, _) = Shaper::new(face, &[], None).shaped(text, &runs.visual(&(0..text.len())));
    let mut clusters: Vec<(usize, bool)> =
        glyphs.iter().map(|shaped| (shaped.cluster, shaped.id == 0)).collect();
    clusters.sort_unstable();
    // Of one cluster the missing glyph sorts last: it decides.
    clusters.reverse();
    clusters.dedup_by_key(|(start, _)| *start);
    clusters.reverse();
    clusters
}

/// Names of shipped lettering that has a glyph of this character, in the order of
/// the catalogue.
#[must_use]
pub fn who_has(character: char) -> Vec<&'static str> {
    let has = |entry: &&Entry| {
        if entry.single_stroke() {
            let face = Face::open(&LetteringChoice::shipped(entry.name.as_str()));
            return face.is_ok_and(|face| face.nominal(character).is_some());
        }
        let bytes = shipped::file(&entry.file);
        let font = bytes.and_then(|bytes| harfrust::Font::new(bytes, 0));
        let glyph = font.and_then(|font| font.charmap().map_unicode(character));
        glyph.is_some_and(|glyph| glyph.to_u32() != 0)
    };
    let entries = catalogue().entries.iter();
    entries.filter(has).map(|entry| entry.name.as_str()).collect()
}

/// Default-ignorable code points: Unicode 15.0, `DerivedCoreProperties.txt`.
const IGNORABLE: [(u32, u32); 17] = [
    (0x00AD, 0x00AD),
    (0x034F, 0x034F),
    (0x061C, 0x061C),
    (0x115F, 0x1160),
    (0x17B4, 0x17B5),
    (0x180B, 0x180F),
    (0x200B, 0x200F),
    (0x202A, 0x202E),
    (0x2060, 0x206F),
    (0x3164, 0x3164),
    (0xFE00, 0xFE0F),
    (0xFEFF, 0xFEFF),
    (0xFFA0, 0xFFA0),
    (0xFFF0, 0xFFF8),
    (0x1BCA0, 0x1BCA3),
    (0x1D173, 0x1D17A),
    (0xE0000, 0xE0FFF),
];

/// Whether a character is without ink by its nature.
pub(super) fn is_ignorable(character: char) -> bool {
    let code = u32::from(character);
    IGNORABLE.iter().any(|(first, last)| (*first..=*last).contains(&code))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::LetteringChoice;

    fn face(name: &str) -> Arc<Face> {
        Face::open(&LetteringChoice::shipped(name.to_owned())).unwrap()
    }

    fn names(face: &Face, text: &str) -> Vec<(char, usize)> {
        missing(face, text).iter().map(|m| (m.character, m.offset)).collect()
    }

    #[test]
    fn each_missing_character_is_named_once_with_its_first_place() {
        // Besley lacks the trade mark sign and Hebrew (fonts.md measured the first).
        let besley = face("Besley");
        assert_eq!(names(&besley, "Bell™ and Bell™ ה"), [('™', 4), ('ה', 20)]);
        assert_eq!(names(&besley, "A plain line"), []);
        assert_eq!(names(&besley, ""), []);
    }

    #[test]
    fn characters_without_ink_are_never_missing() {
        let text = "a\u{200B}b\u{00AD}c\u{200D}d\u{2060}e\u{FE0F} \n\t\u{2003}\u{FEFF}\u{2028}";
        assert_eq!(names(&face("Archivo"), text), []);
    }

    #[test]
    fn an_accent_that_joins_its_letter_is_not_missing() {
        // e and U+0301 compose to the é that every shipped face draws.
        for name in catalogue().names() {
            assert_eq!(names(&face(name), "Cafe\u{0301}"), [], "{name}");
        }
    }

    #[test]
    fn hebrew_is_found_in_the_lettering_that_has_it() {
        assert_eq!(who_has('ה'), ["Frank Ruhl Libre", "Frank Ruhl Libre Bold"]);
        assert_eq!(who_has('\u{1F514}'), Vec::<&str>::new());
        assert_eq!(who_has('A').len(), catalogue().entries.len());
    }

    /// The Unicode Character Database of Debian's package `unicode-data`, where it
    /// is installed; the version of the table above.
    #[test]
    fn the_table_of_ignorable_characters_is_unicodes() {
        let path = "/usr/share/unicode/DerivedCoreProperties.txt";
        let Ok(file) = std::fs::read_to_string(path) else {
            eprintln!("SKIPPED: {path} is not there (Debian package unicode-data)");
            return;
        };
        let mut listed = std::collections::BTreeSet::new();
        for line in file.lines().filter(|l| l.contains("; Default_Ignorable_Code_Point")) {
            let range = line.split(';').next().unwrap().trim();
            let (first, last) = range.split_once("..").unwrap_or((range, range));
            let code = |text: &str| u32::from_str_radix(text, 16).unwrap();
            listed.extend(code(first)..=code(last));
        }
        assert!(listed.len() > 4000);
        let ours = (0..=0x0010_FFFF).filter(|c| char::from_u32(*c).is_some_and(is_ignorable));
        assert_eq!(listed, ours.collect());
    }
}
