//! The shipped alphabets.

use std::sync::Arc;

use kurbo::{BezPath, ParamCurveNearest, PathSeg, Point, Shape};

use super::{parts, strokes};
use crate::layout::LetteringChoice;
use crate::lettering::{Face, catalogue, missing};

fn faces() -> Vec<Arc<Face>> {
    let entries = catalogue().single_stroke();
    entries.map(|e| Face::open(&LetteringChoice::shipped(e.name.as_str())).unwrap()).collect()
}

fn line(face: &Face, character: char) -> BezPath {
    face.outline(face.nominal(character).unwrap_or_else(|| panic!("{} {character}", face.name)))
}

/// Least distance of two paths.
fn distance(a: &BezPath, b: &BezPath) -> f64 {
    let b: Vec<PathSeg> = b.segments().collect();
    let from = |point: Point| {
        let nearest = b.iter().map(|part| part.nearest(point, 1e-6).distance_sq);
        nearest.fold(f64::INFINITY, f64::min).sqrt()
    };
    let mut least = f64::INFINITY;
    kurbo::flatten(a.iter(), 1e-4, |element| {
        if let Some(point) = element.end_point() {
            least = least.min(from(point));
        }
    });
    least
}

/// Letters with marks of Western Europe beyond those that the data draws, and of its
/// neighbours: what a mark composes.
const COMPOSED: &str = "ŠšŽžČčĚěŇňŘřĎŤĆćŃńŚśŹźŴŵŶŷẀẁẂẃẄẅỲỳŸĀāĒēĪīŌōŪūĖėĠġİŻżŮůĨĩŨũĤĴŞşṠṡ";

#[test]
fn western_accents_are_there_and_stand_clear_of_their_letters() {
    let mut measured = 0;
    for face in faces() {
        let text: String = ('À'..='ÿ').filter(|c| !"ÆÞßæðþ×÷".contains(*c)).collect();
        assert!(missing(&face, &(text.clone() + COMPOSED + "‘’“”‚„…–—\u{2010}")).is_empty());
        // In capitals as in lower case, at a fourteenth of the height, the finest stroke of
        // ISO 3098.
        let finest = face.cap_em() / 13.0;
        for character in COMPOSED.chars().filter(|c| !"Şş".contains(*c)) {
            let all = parts(&line(&face, character));
            let top = all.iter().map(|part| part.bounding_box().y0).fold(f64::MIN, f64::max);
            let (marks, letter): (Vec<_>, Vec<_>) =
                all.into_iter().partition(|part| part.bounding_box().y0 > top - 0.1);
            assert!(!letter.is_empty() && !marks.is_empty(), "{} {character}", face.name);
            let (marks, letter): (BezPath, BezPath) =
                (marks.into_iter().flatten().collect(), letter.into_iter().flatten().collect());
            assert!(
                marks.bounding_box().y0 > letter.bounding_box().y1,
                "{} {character}",
                face.name
            );
            let apart = distance(&marks, &letter);
            assert!(apart > finest, "{} {character}: {apart} of {finest}", face.name);
            measured += 1;
        }
    }
    assert!(measured > 250, "{measured}");
}

#[test]
fn a_letter_and_a_combining_mark_are_the_accented_letter() {
    for face in faces() {
        let shaped = |text: &str| -> Vec<u16> {
            let run = crate::lettering::shaped_run(text, &face, &[]);
            run.glyphs.iter().map(|glyph| glyph.id).collect()
        };
        for (apart, one) in [("e\u{301}", "é"), ("S\u{30C}", "Š"), ("w\u{302}", "ŵ")] {
            assert_eq!(shaped(apart), shaped(one), "{} {one}", face.name);
            assert!(missing(&face, apart).is_empty());
        }
        assert!(!missing(&face, "q\u{301}").is_empty(), "{}", face.name);
    }
}

#[test]
fn flat_capitals_stand_on_the_line_and_every_line_is_open() {
    for face in faces().iter().filter(|face| face.name != "EMS Allure") {
        let foot = |letter: char| line(face, letter).bounding_box().y0;
        assert!("EFHITZ".chars().all(|letter| foot(letter).abs() < 0.015), "{}", face.name);
    }
    for face in faces() {
        for character in ('!'..='~').chain(COMPOSED.chars()) {
            assert!(!line(&face, character).to_svg().contains('Z'), "{} {character}", face.name);
        }
    }
}

/// Upside down and moved by hand: the circumflex of the data is the caron's source.
#[test]
fn a_caron_is_a_circumflex_turned_over_its_own_letter() {
    let data = "<svg><font horiz-adv-x=\"100\"><font-face units-per-em=\"1000\"/>\
        <glyph unicode=\"A\" d=\"M 0 0 L 40 600 L 80 0\"/>\
        <glyph unicode=\"Â\" d=\"M 0 0 L 40 600 L 80 0 M 10 700 L 40 800 L 70 700\"/>\
        <glyph unicode=\"S\" horiz-adv-x=\"90\" d=\"M 0 50 L 60 650\"/></font></svg>";
    let read = strokes(data.as_bytes()).unwrap();
    // Â's roof stands 100 over A, on its middle: over S at 750, about 30.
    let caron = "M0,0.05 L0.06,0.65 M0,0.85 L0.03,0.75 L0.06,0.85";
    assert!(read.glyphs.iter().any(|glyph| rounded(glyph) == caron), "{:?}", read.glyphs);
}

fn rounded(path: &BezPath) -> String {
    let mut path = path.clone();
    path.apply_affine(kurbo::Affine::scale(1000.0));
    let whole: BezPath = path
        .iter()
        .map(|element| match element {
            kurbo::PathEl::MoveTo(p) => kurbo::PathEl::MoveTo(p.round()),
            kurbo::PathEl::LineTo(p) => kurbo::PathEl::LineTo(p.round()),
            other => other,
        })
        .collect();
    (kurbo::Affine::scale(0.001) * whole).to_svg()
}

#[test]
fn what_cannot_be_made_whole_is_a_missing_character() {
    for face in faces() {
        let lacking: String =
            missing(&face, "Straße, Æther, œuvre ±").iter().map(|m| m.character).collect();
        assert_eq!(lacking, "ßÆœ±", "{}", face.name);
    }
}
