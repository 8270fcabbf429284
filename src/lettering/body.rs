//! Kinds of letters in a line and their heights, in cap heights.
//!
//! Marks and punctuation do not count, nor a single lower-case letter within a
//! capitalised word (the c of McKAY).

use std::cell::OnceCell;

use harfrust::Feature;
use smallvec::SmallVec;
use unicode_script::{Script, UnicodeScript};

use super::line::{Body, BodyKind, glyph_ink};
use super::runs::text_runs;
use super::shape::{ShapedGlyph, Shaper};
use super::{Face, measure};

/// Features that set lower case as small capitals, and capitals.
const SMALL_LOWER: [&str; 2] = ["smcp", "pcap"];
const SMALL_UPPER: [&str; 2] = ["c2sc", "c2pc"];

/// Kinds of letters that a line has; it seldom has more.
const FEW: usize = 4;

/// Kinds with their heights.
pub(super) type Bodies = SmallVec<[Body; FEW]>;

/// The kinds that a line contains, each once with its height; in the order of
/// [`BodyKind`]. Kinds whose height cannot be measured are left out.
pub(super) fn kinds(
    text: &str,
    face: &Face,
    features: &[String],
    glyphs: &[ShapedGlyph],
) -> Bodies {
    let mut found = Bodies::new();
    let mut add = |kind: BodyKind, height_em: Option<f64>| {
        let ratio = height_em.map(|height| height / face.cap_em()).filter(|ratio| *ratio > 0.0);
        if let Some(ratio) = ratio {
            found.push(Body { kind, ratio });
        }
    };
    // One by one they are needed only where heights are medians.
    let each = OnceCell::new();
    for (kind, script) in present(text) {
        let own = |glyph: &ShapedGlyph| {
            let letters = each.get_or_init(|| letters(text));
            let at = letters.binary_search_by_key(&glyph.cluster, |letter| letter.offset);
            at.ok()
                .and_then(|at| letters.get(at))
                .is_some_and(|letter| letter.kind == kind && letter.script == script)
        };
        match kind {
            Kind::Upper => {
                let letter = || measure::reference_letter(script.short_name()).unwrap_or('H');
                let small = small_height(face, features, &SMALL_UPPER, letter);
                add(BodyKind::SmallCapitals, small.map(|(height, _)| height));
                if !small.is_some_and(|(_, everywhere)| everywhere) {
                    add(BodyKind::Capitals, Some(face.cap_em()));
                }
            }
            Kind::Lower => {
                let letter = lower_reference(script);
                let small = small_height(face, features, &SMALL_LOWER, || letter);
                add(BodyKind::SmallCapitals, small.map(|(height, _)| height));
                if !small.is_some_and(|(_, everywhere)| everywhere) {
                    let top = match letter {
                        'x' => face.x_units,
                        _ => measure::top_units(face, letter),
                    };
                    let height = top.map(|top| top / face.upem);
                    add(BodyKind::LowerCase, height.or_else(|| median_height(face, glyphs, own)));
                }
            }
            Kind::Figure => add(BodyKind::Figures, median_height(face, glyphs, own)),
            Kind::Uncased => {
                let letter = measure::reference_letter(script.short_name());
                let top = letter.and_then(|letter| measure::top_units(face, letter));
                let height = top.map(|top| top / face.upem);
                add(BodyKind::Uncased, height.or_else(|| median_height(face, glyphs, own)));
            }
        }
    }
    least_of_each(found)
}

/// One entry a kind, with its least height.
fn least_of_each(mut found: Bodies) -> Bodies {
    found.sort_by(|a, b| a.kind.cmp(&b.kind).then(a.ratio.total_cmp(&b.ratio)));
    found.dedup_by_key(|body| body.kind);
    found
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Upper,
    Lower,
    Figure,
    Uncased,
}

/// A character that has a body height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Letter {
    offset: usize,
    kind: Kind,
    script: Script,
}

/// Kinds and scripts of the letters and figures of a text that count, each once; kind by
/// kind, scripts by their short names.
fn present(text: &str) -> SmallVec<[(Kind, Script); FEW]> {
    let bytes = text.as_bytes();
    let lower = any(bytes, u8::is_ascii_lowercase);
    // Two side by side count whatever else is in their word, and mostly come soon.
    let counts = || bytes.windows(2).any(|pair| pair.iter().all(u8::is_ascii_lowercase));
    if !text.is_ascii() || lower && !counts() {
        let mut all: SmallVec<[(Kind, Script); FEW]> = SmallVec::new();
        for letter in letters(text) {
            if !all.contains(&(letter.kind, letter.script)) {
                all.push((letter.kind, letter.script));
            }
        }
        all.sort_unstable_by_key(|(kind, script)| (*kind, script.short_name()));
        return all;
    }
    let mut kinds = SmallVec::new();
    if any(bytes, u8::is_ascii_uppercase) {
        kinds.push((Kind::Upper, Script::Latin));
    }
    if lower {
        kinds.push((Kind::Lower, Script::Latin));
    }
    if any(bytes, u8::is_ascii_digit) {
        kinds.push((Kind::Figure, Script::Common));
    }
    kinds
}

/// Whether any byte is of a kind, without stopping at the first that is: so many are looked
/// at at a time.
fn any(bytes: &[u8], is: impl Fn(&u8) -> bool) -> bool {
    bytes.iter().fold(false, |any, byte| any | is(byte))
}

/// The letters and figures of a text that count.
fn letters(text: &str) -> Vec<Letter> {
    let mut counted: Vec<Letter> = Vec::with_capacity(text.len());
    // Where the word begins that is being read.
    let mut word = 0;
    for (offset, character) in text.char_indices() {
        let letter = kind(character).map(|kind| Letter { offset, kind, script: script(character) });
        match letter {
            Some(letter) => counted.push(letter),
            // Marks on letters do not end a word.
            None if script(character) == Script::Inherited => {}
            None => {
                drop_lone_lower(&mut counted, word);
                word = counted.len();
            }
        }
    }
    drop_lone_lower(&mut counted, word);
    counted
}

/// Script of a character; of ASCII at once.
fn script(character: char) -> Script {
    match character {
        'a'..='z' | 'A'..='Z' => Script::Latin,
        _ if character.is_ascii() => Script::Common,
        _ => character.script(),
    }
}

/// Drops from the word that begins at `from` a single lower-case letter among capitals.
fn drop_lone_lower(letters: &mut Vec<Letter>, from: usize) {
    let word = letters.get(from..).unwrap_or_default();
    let count = |kind: Kind| word.iter().filter(|letter| letter.kind == kind).count();
    if word.len() > 2 && count(Kind::Lower) == 1 && count(Kind::Upper) >= 2 {
        let lower = word.iter().position(|letter| letter.kind == Kind::Lower);
        lower.map(|at| letters.remove(from + at));
    }
}

/// What kind of body a character has; `None` for marks, signs, spaces, and the
/// raised letters and figures that stand as marks.
fn kind(character: char) -> Option<Kind> {
    match character {
        'a'..='z' => return Some(Kind::Lower),
        'A'..='Z' => return Some(Kind::Upper),
        '0'..='9' => return Some(Kind::Figure),
        _ if character.is_ascii() => return None,
        _ => {}
    }
    let raised = matches!(
        character,
        'ª' | 'º' | '²' | '³' | '¹' | '¼'..='¾' | '\u{2070}'..='\u{209F}' | '\u{2150}'..='\u{215F}' | '\u{1D2C}'..='\u{1D6A}' | '\u{02B0}'..='\u{02FF}'
    );
    if raised || character.script() == Script::Inherited {
        None
    } else if character.is_lowercase() {
        Some(Kind::Lower)
    } else if character.is_uppercase() {
        Some(Kind::Upper)
    } else if character.is_numeric() {
        Some(Kind::Figure)
    } else if character.is_alphabetic() {
        Some(Kind::Uncased)
    } else {
        None
    }
}

/// A flat lower-case letter without ascender or descender.
fn lower_reference(script: Script) -> char {
    match script {
        Script::Greek => 'κ',
        Script::Cyrillic => 'х',
        Script::Armenian => 'ո',
        Script::Georgian => 'ა',
        _ => 'x',
    }
}

/// Height in em of a letter as small capital, and whether all letters are set so;
/// `None` where no such feature is asked for, or the face has none.
fn small_height(
    face: &Face,
    features: &[String],
    tags: &[&str],
    letter: impl FnOnce() -> char,
) -> Option<(f64, bool)> {
    let asked: Vec<Feature> = features
        .iter()
        .filter_map(|feature| feature.parse::<Feature>().ok())
        .filter(|feature| tags.contains(&feature.tag.to_string().as_str()))
        .collect();
    let last = asked.iter().rfind(|feature| feature.value != 0)?;
    let everywhere = asked.last().is_some_and(|feature| {
        feature.value != 0 && feature.start == 0 && feature.end == Feature::GLOBAL_END
    });
    let text = letter().to_string();
    let runs = text_runs(&text);
    let set = |features: &[String]| {
        let (glyphs, _) =
            Shaper::new(face, features, None).shaped(&text, &runs.visual(&(0..text.len())));
        glyphs.first().copied()
    };
    let (plain, small) = (set(&[])?, set(&[last.tag.to_string()])?);
    if plain.id == small.id {
        return None;
    }
    Some((glyph_ink(face, &small)?.y1, everywhere))
}

/// Median ink height in em of the glyphs that a question picks.
fn median_height(
    face: &Face,
    glyphs: &[ShapedGlyph],
    picked: impl Fn(&ShapedGlyph) -> bool,
) -> Option<f64> {
    let chosen = glyphs.iter().filter(|glyph| picked(glyph));
    let mut heights: Vec<f64> =
        chosen.filter_map(|glyph| glyph_ink(face, glyph)).map(|ink| ink.height()).collect();
    measure::median(&mut heights)
}

#[cfg(test)]
mod tests {
    use super::{letters, present};

    #[test]
    fn kinds_are_those_of_the_letters_that_count() {
        for text in [
            "",
            " ",
            "Vale",
            "McKAY",
            "McK",
            "A1b2",
            "McKAY 12 xy",
            "ABc",
            "1914–2003",
            "éA b",
            "XIIth IV.a",
        ] {
            let mut all = present(text);
            let each = letters(text);
            assert!(
                each.iter().all(|letter| all.contains(&(letter.kind, letter.script))),
                "{text}"
            );
            all.retain(|kind| !each.iter().any(|letter| (letter.kind, letter.script) == *kind));
            assert!(all.is_empty(), "{text} {all:?}");
        }
    }
}
