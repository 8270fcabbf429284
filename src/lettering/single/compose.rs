//! Characters that the data lacks and that are made of parts which it has.
//!
//! A mark is what remains of a letter that the data draws with it (Â) when the parts of the
//! plain letter (A) are taken away; capitals and small letters have marks of their own. It
//! is put over another letter as high above its ink, and as far to the side of its middle,
//! as it stands over that one. Letters whose small form goes up to the ascenders are left
//! out: there accents take other forms. Which letter is which with which mark is that of
//! Unicode's canonical decompositions, against which a test holds the lists.

use kurbo::{Affine, BezPath, Line, Point, Rect, Shape, Vec2};

use super::{Alphabet, Letter, middle, parts};

/// How far points of two parts may differ that are the same part, units of an em of 1000:
/// the data has three figures.
const SAME: f64 = 1.5;

/// How a mark is made.
#[derive(Debug, Clone, Copy)]
enum Made {
    /// As it stands in a drawn letter.
    AsDrawn,
    /// Turned upside down: a caron of a circumflex.
    Turned,
    /// A level line as wide as it: a macron of a tilde.
    Level,
    /// The left half: a dot of a diaeresis.
    Half,
}

/// A mark: what it is made of and how, letters that the data draws with that, and letters
/// with the mark; each plain letter before the accented one.
struct Mark {
    made: Made,
    drawn: &'static str,
    composed: &'static str,
}

const MARKS: [Mark; 10] = [
    // Grave, acute, circumflex, tilde, diaeresis, ring, cedilla.
    Mark { made: Made::AsDrawn, drawn: "AÀEÈOÒaàeèoò", composed: "NǸnǹWẀwẁYỲyỳ" },
    Mark {
        made: Made::AsDrawn,
        drawn: "AÁEÉOÓaáeéoó",
        composed: "CĆcćGǴgǵKḰLĹMḾmḿNŃnńPṔpṕRŔrŕSŚsśWẂwẃZŹzź",
    },
    Mark {
        made: Made::AsDrawn, drawn: "AÂEÊOÔaâeêoô", composed: "CĈcĉGĜgĝHĤJĴıĵSŜsŝWŴwŵYŶyŷZẐzẑ"
    },
    Mark {
        made: Made::AsDrawn, drawn: "AÃNÑaãnñ", composed: "EẼeẽIĨıĩUŨuũVṼvṽYỸyỹ"
    },
    Mark { made: Made::AsDrawn, drawn: "AÄOÖaäoö", composed: "WẄwẅXẌxẍYŸyÿ" },
    Mark { made: Made::AsDrawn, drawn: "AÅaå", composed: "UŮuů" },
    Mark { made: Made::AsDrawn, drawn: "CÇcç", composed: "SŞsş" },
    // Caron, macron, dot above.
    Mark {
        made: Made::Turned,
        drawn: "AÂEÊOÔaâeêoô",
        composed: "AǍaǎCČcčDĎEĚeěGǦgǧNŇnňRŘrřSŠsšTŤZŽzž",
    },
    Mark {
        made: Made::Level, drawn: "AÃNÑaãnñ", composed: "AĀaāEĒeēIĪıīOŌoōUŪuūYȲyȳ"
    },
    Mark {
        made: Made::Half,
        drawn: "AÄOÖaäoö",
        composed: "BḂCĊcċDḊEĖeėFḞGĠgġIİMṀmṁPṖpṗSṠsṡTṪZŻzż",
    },
];

/// A mark with its place over a letter.
struct Placed {
    path: BezPath,
    /// From the top of the letter's ink to the lowest of the mark; of a mark below, from its
    /// foot to the highest of the mark.
    up: f64,
    /// From the letter's middle to the mark's.
    aside: f64,
    below: bool,
}

/// Characters that the data draws past all use: a sharp s in a few chords, and signs made of
/// two others that do not stand over each other. They count as missing.
const SPOILT: &str = "ß±¢¦";

/// Small figures and fractions, which the data gives the advance of a part of them.
const SHORT: &str = "ª°²³¹º¼½¾";

/// Adds the characters that the alphabet lacks and that can be composed of it; mends and
/// leaves out what the data has wrong.
pub(super) fn complete(alphabet: &mut Alphabet) {
    alphabet.letters.retain(|letter| !SPOILT.contains(letter.character));
    let beside = |letter: &Letter| letter.advance - letter.path.bounding_box().x1;
    if let Some(beside) = alphabet.letter('o').map(beside) {
        for letter in alphabet.letters.iter_mut().filter(|l| SHORT.contains(l.character)) {
            let right = letter.path.bounding_box().x1;
            letter.advance = letter.advance.max(right + beside);
        }
    }
    let dotless = [('ı', 'i'), ('ȷ', 'j')];
    let made: Vec<Letter> =
        dotless.iter().filter_map(|(plain, dotted)| undotted(alphabet, *plain, *dotted)).collect();
    add(alphabet, made);
    for mark in &MARKS {
        let made: Vec<Letter> = pairs(mark.composed)
            .filter_map(|(plain, accented)| {
                let upper = plain.is_uppercase();
                let placed = pairs(mark.drawn)
                    .filter(|(drawn, _)| drawn.is_uppercase() == upper)
                    .find_map(|(drawn, with)| placed(alphabet, mark.made, drawn, with))?;
                let plain = if accented == 'ĵ' { 'ȷ' } else { plain };
                accented_letter(alphabet.letter(plain)?, accented, &placed)
            })
            .collect();
        add(alphabet, made);
    }
    let made = punctuation(alphabet);
    add(alphabet, made);
}

fn add(alphabet: &mut Alphabet, made: Vec<Letter>) {
    for letter in made {
        if alphabet.letter(letter.character).is_none() {
            alphabet.letters.push(letter);
        }
    }
}

/// Neighbours of a list, two by two.
fn pairs(list: &str) -> impl Iterator<Item = (char, char)> {
    list.chars().step_by(2).zip(list.chars().skip(1).step_by(2))
}

/// What stays of an i or j without the parts above the height of x.
fn undotted(alphabet: &Alphabet, plain: char, dotted: char) -> Option<Letter> {
    let top = alphabet.letter('x')?.path.bounding_box().y1;
    let letter = alphabet.letter(dotted)?;
    let stays = |part: &BezPath| part.bounding_box().y0 < top;
    let path: BezPath = parts(&letter.path).into_iter().filter(stays).flatten().collect();
    (!path.is_empty()).then_some(Letter { character: plain, path, ..*letter })
}

/// The mark of a letter that is drawn with it.
fn placed(alphabet: &Alphabet, made: Made, plain: char, with: char) -> Option<Placed> {
    let (plain, with) = (alphabet.letter(plain)?, alphabet.letter(with)?);
    let same = SAME * f64::from(alphabet.upem) / 1000.0;
    let mut rest = parts(&with.path);
    for part in parts(&plain.path) {
        let at = rest.iter().position(|other| is_same(&part, other, same))?;
        rest.remove(at);
    }
    let mark: BezPath = rest.into_iter().flatten().collect();
    if mark.is_empty() {
        return None;
    }
    let letter = plain.path.bounding_box();
    let below = middle(&mark).y < letter.y0;
    let aside = middle(&mark).x - letter.center().x;
    let path = remade(mark, made);
    let box_ = path.bounding_box();
    let up = if below { box_.y1 - letter.y0 } else { box_.y0 - letter.y1 };
    Some(Placed { path, up, aside, below })
}

/// Whether two parts differ by a shift only, each point by at most `same`.
fn is_same(a: &BezPath, b: &BezPath, same: f64) -> bool {
    let points = |path: &BezPath| -> Vec<Point> {
        path.elements().iter().filter_map(kurbo::PathEl::end_point).collect()
    };
    let (a, b) = (points(a), points(b));
    let shift = a.first().zip(b.first()).map_or(Vec2::ZERO, |(a, b)| *b - *a);
    a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| (*a + shift).distance(*b) <= same)
}

fn remade(mark: BezPath, made: Made) -> BezPath {
    let Rect { x0, y0, x1, y1 } = mark.bounding_box();
    match made {
        Made::AsDrawn => mark,
        Made::Turned => Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, y0 + y1]) * mark,
        Made::Level => {
            let level = f64::midpoint(y0, y1);
            Line::new((x0, level), (x1, level)).to_path(0.1)
        }
        Made::Half => halves(&mark).0,
    }
}

/// The parts of a path to the left and to the right of its middle.
fn halves(path: &BezPath) -> (BezPath, BezPath) {
    let across = middle(path).x;
    let (left, right): (Vec<_>, Vec<_>) =
        parts(path).into_iter().partition(|part| middle(part).x < across);
    (left.into_iter().flatten().collect(), right.into_iter().flatten().collect())
}

fn accented_letter(letter: &Letter, character: char, mark: &Placed) -> Option<Letter> {
    if letter.path.is_empty() || mark.path.is_empty() {
        return None;
    }
    let (own, box_) = (letter.path.bounding_box(), mark.path.bounding_box());
    let rise = if mark.below { own.y0 + mark.up - box_.y1 } else { own.y1 + mark.up - box_.y0 };
    let across = own.center().x + mark.aside - box_.center().x;
    let moved = Affine::translate((across, rise)) * mark.path.clone();
    let path = letter.path.iter().chain(moved.iter()).collect();
    Some(Letter { character, advance: letter.advance, path })
}

/// Single quotes of double ones, low quotes of commas, an ellipsis of stops, a hyphen.
fn punctuation(alphabet: &Alphabet) -> Vec<Letter> {
    let quote = |double: char, single: char| {
        let double = alphabet.letter(double)?;
        let (left, _) = halves(&double.path);
        let advance = double.advance - pitch(double)?;
        (!left.is_empty()).then_some(Letter { character: single, advance, path: left })
    };
    let row = |character: char, of: char, count: u8, pitch: f64| {
        let one = alphabet.letter(of)?;
        let shifts = (0..count).map(|at| f64::from(at) * pitch);
        let path: BezPath =
            shifts.flat_map(|shift| Affine::translate((shift, 0.0)) * one.path.clone()).collect();
        let advance = one.advance + f64::from(count - 1) * pitch;
        (!path.is_empty()).then_some(Letter { character, advance, path })
    };
    let closing = alphabet.letter('”').and_then(pitch);
    let stop = alphabet.letter('.').map(|letter| letter.advance);
    [
        quote('“', '‘'),
        quote('”', '’'),
        row('‚', ',', 1, 0.0),
        closing.and_then(|pitch| row('„', ',', 2, pitch)),
        stop.and_then(|pitch| row('…', '.', 3, pitch)),
        row('\u{2010}', '-', 1, 0.0),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// From the left half of a double quote to the right one.
fn pitch(double: &Letter) -> Option<f64> {
    let (left, right) = halves(&double.path);
    (!left.is_empty() && !right.is_empty()).then(|| middle(&right).x - middle(&left).x)
}
