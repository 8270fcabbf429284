//! The thinnest stroke and narrowest counter of every shipped style over its own alphabet,
//! as a table that is made once (`minima.toml`), so that a list of all styles need not
//! measure them; a test measures again.

use std::sync::LazyLock;

use kurbo::{Affine, Line, ParamCurve, ParamCurveExtrema, Shape};
use serde::Deserialize;

use super::stroke::{Measure, Narrow};
use super::{Catalogue, Entry, Face, united};

/// Letters and figures by script (ISO 15924): first and last of a range. What a face does
/// not have of them is left out.
const ALPHABETS: [(&str, &[(char, char)]); 6] = [
    ("Latn", &[('A', 'Z'), ('a', 'z'), ('0', '9')]),
    ("Grek", &[('Α', 'Ω'), ('α', 'ω')]),
    ("Cyrl", &[('А', 'Я'), ('а', 'я')]),
    ("Hebr", &[('א', 'ת')]),
    ("Arab", &[('ا', 'غ'), ('ف', 'ي')]),
    ("Deva", &[('अ', 'ह')]),
];

/// The least widths of a style over its alphabet, cap heights.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Minima {
    /// The catalogue's name.
    pub name: String,
    /// Thinnest stroke.
    pub stroke: f64,
    /// The letter that has it.
    pub stroke_in: char,
    /// Narrowest counter.
    pub counter: f64,
    /// The letter that has it.
    pub counter_in: char,
    /// The stem of I at half its height, along the line: what ADA 703.5.7 calls its stroke.
    pub stem: f64,
}

#[derive(Debug, Deserialize)]
struct Rows {
    style: Vec<Minima>,
}

static ROWS: LazyLock<Vec<Minima>> = LazyLock::new(|| {
    let rows: Rows = toml::from_str(include_str!("minima.toml"))
        .expect("the table is part of the program and a test reads it");
    rows.style
});

/// The table's row of a style; `None` for a name that is not in the catalogue.
#[must_use]
pub fn minima_row(name: &str) -> Option<&'static Minima> {
    ROWS.iter().find(|row| row.name == name)
}

/// The letters and figures of the scripts of an entry's family that its face has.
#[must_use]
pub fn alphabet(catalogue: &Catalogue, entry: &Entry, face: &Face) -> Vec<char> {
    let family = catalogue.family(entry);
    let scripts =
        ALPHABETS.iter().filter(|(script, _)| family.is_some_and(|f| f.has_script(script)));
    let ranges = scripts.flat_map(|(_, ranges)| ranges.iter());
    let all = ranges.flat_map(|(first, last)| *first..=*last);
    all.filter(|character| face.nominal(*character).is_some()).collect()
}

impl Minima {
    /// Measures a style; `None` where it has no stroke, no counter or no I to measure.
    #[must_use]
    pub fn measured(name: &str, face: &Face, alphabet: &[char]) -> Option<Self> {
        let mut stroke: Option<(f64, char)> = None;
        let mut counter: Option<(f64, char)> = None;
        for letter in alphabet {
            let Some(glyph) = face.nominal(*letter) else { continue };
            let Measure::Widths(widths) = face.strokes(glyph) else { continue };
            let less = |least: &mut Option<(f64, char)>, one: Option<Narrow>| {
                let one = one.filter(|one| least.is_none_or(|(width, _)| one.width < width));
                *least = one.map(|one| (one.width, *letter)).or(*least);
            };
            less(&mut stroke, widths.stroke);
            less(&mut counter, widths.counter);
        }
        let ((stroke, stroke_in), (counter, counter_in)) = (stroke?, counter?);
        let (name, stem) = (name.to_owned(), stem(face)?);
        Some(Self { name, stroke, stroke_in, counter, counter_in, stem })
    }

    /// The row as the table writes it; widths rounded down, so that no plate is promised a
    /// stroke that is not there.
    #[must_use]
    pub fn row(&self) -> String {
        let down = |width: f64| (width * 1e4).floor() / 1e4;
        format!(
            "[[style]]\nname = \"{}\"\nstroke = {:.4}\nstroke_in = \"{}\"\ncounter = {:.4}\n\
             counter_in = \"{}\"\nstem = {:.4}\n",
            self.name,
            down(self.stroke),
            self.stroke_in,
            down(self.counter),
            self.counter_in,
            down(self.stem)
        )
    }
}

/// The widest run of ink of the I across half its height, cap heights.
fn stem(face: &Face) -> Option<f64> {
    let path = face.outline(face.nominal('I')?);
    let path = united(&(Affine::scale(1.0 / face.cap_em()) * path), 1e-6);
    let ink = path.bounding_box();
    let y = ink.center().y;
    let mut crossed: Vec<f64> = Vec::new();
    for segment in path.segments() {
        // Between its extrema a curve goes up or down only, so it crosses once at most.
        for range in segment.extrema_ranges() {
            let part = segment.subsegment(range);
            let (from, to) = (part.start().y, part.end().y);
            if (from > y) != (to > y) {
                let across = Line::new((ink.x0 - 1.0, y), (ink.x1 + 1.0, y));
                crossed.extend(
                    part.intersect_line(across).first().map(|hit| part.eval(hit.segment_t).x),
                );
            }
        }
    }
    crossed.sort_by(f64::total_cmp);
    crossed.chunks_exact(2).map(|pair| pair[1] - pair[0]).max_by(f64::total_cmp)
}
