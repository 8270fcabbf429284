//! The fonts of SVG 1.1, chapter 20, as far as centre-line alphabets use them: one font, one
//! face, glyphs of one character each. Strict: what is not understood is refused, never
//! passed over, since it will be cut.

use kurbo::BezPath;
use usvg::roxmltree::{Document, Node, ParsingOptions};

use super::{Alphabet, Letter};

/// Most bytes of a file; the largest shipped has 70 kB.
const MOST_BYTES: usize = 1 << 20;
/// Most elements of a file.
const MOST_NODES: u32 = 20_000;
/// Most glyphs.
const MOST_GLYPHS: usize = 4000;
/// Most commands of a glyph's path; the longest shipped has about a hundred.
const MOST_COMMANDS: usize = 2000;
/// How far a glyph may reach and advance, in ems.
const MOST_EMS: f64 = 10.0;
/// Units to the em that fonts may have (OpenType, table `head`).
const UNITS_TO_THE_EM: std::ops::RangeInclusive<u16> = 16..=16384;

/// Reads the text of an SVG font.
///
/// # Errors
/// The first thing that is not as it must be, in words.
pub(super) fn alphabet(text: &str) -> Result<Alphabet, String> {
    if text.len() > MOST_BYTES {
        return Err(format!("it is larger than {} kB", MOST_BYTES >> 10));
    }
    // The files have a document type; entities of it are bounded by the reader.
    let options =
        ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|e| e.to_string())?;
    let font = only(document.root(), "font")?;
    let face = only(font, "font-face")?;
    let upem = face.attribute("units-per-em").and_then(|units| units.trim().parse::<u16>().ok());
    let upem = upem
        .filter(|units| UNITS_TO_THE_EM.contains(units))
        .ok_or("`units-per-em` is no whole number from 16 to 16384")?;
    let reach = MOST_EMS * f64::from(upem);
    let usual = number(font, "horiz-adv-x", reach)?.ok_or("the font has no `horiz-adv-x`")?;
    let missing_advance = match only(font, "missing-glyph") {
        Ok(missing) => number(missing, "horiz-adv-x", reach)?.unwrap_or(usual),
        Err(_) => usual,
    };
    let mut letters: Vec<Letter> = Vec::new();
    for glyph in font.children().filter(|node| node.tag_name().name() == "glyph") {
        if letters.len() == MOST_GLYPHS {
            return Err(format!("it has more than {MOST_GLYPHS} glyphs"));
        }
        let letter = letter(glyph, usual, reach)?;
        if letters.iter().any(|known| known.character == letter.character) {
            return Err(format!("{} is drawn twice", named(letter.character)));
        }
        letters.push(letter);
    }
    if letters.is_empty() {
        return Err("it has no glyphs".to_owned());
    }
    Ok(Alphabet { upem, missing_advance, letters })
}

/// The only descendant of a name.
fn only<'a, 'i>(node: Node<'a, 'i>, name: &str) -> Result<Node<'a, 'i>, String> {
    let mut found = node.descendants().filter(|node| node.tag_name().name() == name);
    match (found.next(), found.next()) {
        (Some(one), None) => Ok(one),
        (None, _) => Err(format!("it has no `{name}`")),
        (Some(_), Some(_)) => Err(format!("it has more than one `{name}`")),
    }
}

/// A number from 0 to `most`; `None` where it is not stated.
fn number(node: Node<'_, '_>, name: &str, most: f64) -> Result<Option<f64>, String> {
    let Some(text) = node.attribute(name) else { return Ok(None) };
    let value = text.trim().parse::<f64>().ok().filter(|value| (0.0..=most).contains(value));
    value.map(Some).ok_or_else(|| format!("`{name}` is `{text}`, no number from 0 to {most}"))
}

fn letter(glyph: Node<'_, '_>, usual: f64, reach: f64) -> Result<Letter, String> {
    let unicode = glyph.attribute("unicode").ok_or("a glyph has no `unicode`")?;
    let mut characters = unicode.chars();
    let (Some(character), None) = (characters.next(), characters.next()) else {
        return Err(format!("a glyph stands for `{unicode}`, not for one character"));
    };
    let told = |error: String| format!("{}: {error}", named(character));
    let advance = number(glyph, "horiz-adv-x", reach).map_err(told)?.unwrap_or(usual);
    let path = match glyph.attribute("d") {
        None => BezPath::new(),
        Some(data) => path(data, reach).map_err(told)?,
    };
    Ok(Letter { character, advance, path })
}

fn path(data: &str, reach: f64) -> Result<BezPath, String> {
    let path = BezPath::from_svg(data).map_err(|error| format!("its path: {error}"))?;
    if path.elements().len() > MOST_COMMANDS {
        return Err(format!("its path has more than {MOST_COMMANDS} commands"));
    }
    let reaches = |path: &BezPath| {
        let all = path.control_box();
        [all.x0, all.y0, all.x1, all.y1].into_iter().all(|end| end.abs() <= reach)
    };
    if !path.is_finite() || !(path.is_empty() || reaches(&path)) {
        return Err(format!("its path leaves {MOST_EMS} ems"));
    }
    Ok(path)
}

/// A character in words.
fn named(character: char) -> String {
    format!("`{}` (U+{:04X})", character.escape_debug(), u32::from(character))
}

#[cfg(test)]
mod tests {
    use super::alphabet;

    fn font(inside: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\"><defs><font horiz-adv-x=\"378\">\
             <font-face units-per-em=\"1000\" cap-height=\"500\"/><missing-glyph/>{inside}\
             </font></defs></svg>"
        )
    }

    #[test]
    fn glyphs_are_read_with_their_own_advance_or_the_fonts() {
        let read = alphabet(&font(
            "<glyph unicode=\"I\" horiz-adv-x=\"252\" d=\"M 126 0 L 126 662\"/>\
             <glyph unicode=\"&#x22;\"/>",
        ))
        .unwrap();
        assert_eq!((read.upem, read.missing_advance), (1000, 378.0));
        assert_eq!(read.letter('I').map(|letter| letter.advance), Some(252.0));
        assert_eq!(read.letter('I').map(|l| l.path.to_svg()).as_deref(), Some("M126,0 L126,662"));
        let quote = read.letter('"').unwrap();
        assert!(quote.path.is_empty() && (quote.advance - 378.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_such_font_is_refused_in_words() {
        let glyph = |inside: &str| font(&format!("<glyph {inside}/>"));
        let entities = "<!DOCTYPE svg [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;\">\
             <!ENTITY c \"&b;&b;&b;&b;&b;\"><!ENTITY d \"&c;&c;&c;&c;&c;\">]>";
        let cases = [
            (String::new(), "root node"),
            ("<svg".to_owned(), "root node"),
            ("<svg/>".to_owned(), "it has no `font`"),
            ("<svg><font/><font/></svg>".to_owned(), "more than one `font`"),
            (font("<font-face/>"), "more than one `font-face`"),
            (font("").replace("1000", "8"), "no whole number from 16"),
            (font("").replace("1000", "1e3"), "no whole number from 16"),
            (font("").replace("378", "NaN"), "no number from 0 to 10000"),
            (font(""), "no glyphs"),
            (glyph("d=\"M 0 0\""), "no `unicode`"),
            (glyph("unicode=\"ffi\""), "not for one character"),
            (glyph("unicode=\"\""), "not for one character"),
            (glyph("unicode=\"a\" horiz-adv-x=\"-5\""), "`a` (U+0061): `horiz-adv-x` is `-5`"),
            (glyph("unicode=\"a\" horiz-adv-x=\"1e9\""), "no number from 0 to 10000"),
            (glyph("unicode=\"a\" d=\"L 5 5\""), "its path: "),
            (glyph("unicode=\"a\" d=\"M 0 0 L 5\""), "its path: "),
            (glyph("unicode=\"a\" d=\"M 0 0 X 5 5\""), "its path: "),
            (glyph("unicode=\"a\" d=\"M 0 0 L 1e9 0\""), "leaves 10 ems"),
            (glyph("unicode=\"a\" d=\"M 0 0 L 1e999 0\""), "its path"),
            (font("<glyph unicode=\"a\"/><glyph unicode=\"a\"/>"), "`a` (U+0061) is drawn twice"),
            (
                glyph(&format!("unicode=\"a\" d=\"M 0 0{}\"", " L 1 1".repeat(3000))),
                "2000 commands",
            ),
            (font(&"<g/>".repeat(30_000)), "nodes limit"),
            (" ".repeat(2 << 20), "larger than 1024 kB"),
            (format!("{entities}<svg>{}</svg>", "&d;".repeat(300)), ""),
        ];
        for (text, expected) in cases {
            let told = alphabet(&text).expect_err(expected);
            assert!(told.contains(expected), "{told} is not {expected}");
        }
    }
}
