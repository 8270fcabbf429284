//! Numbers in attributes. A viewer passes over what it cannot read and draws something
//! else; an engraver must not.

use std::ops::Range;

use kurbo::BezPath;

use super::{GREATEST, MOST_CURVES, Refused};
use crate::layout::diagnostic::quoted;

/// Attributes that hold one number, with or without a unit.
const SINGLE: [&str; 20] = [
    "x",
    "y",
    "width",
    "height",
    "cx",
    "cy",
    "r",
    "rx",
    "ry",
    "x1",
    "y1",
    "x2",
    "y2",
    "stroke-width",
    "stroke-miterlimit",
    "stroke-dashoffset",
    "opacity",
    "fill-opacity",
    "stroke-opacity",
    "pathLength",
];
/// Units of SVG.
const UNITS: [&str; 9] = ["px", "mm", "cm", "in", "pt", "pc", "em", "ex", "%"];
/// Words that stand for a number.
const WORDS: [&str; 3] = ["auto", "inherit", "none"];
/// Functions of `transform`, with how many numbers they may take.
const TRANSFORMS: [(&str, &[usize]); 6] = [
    ("matrix", &[6]),
    ("translate", &[1, 2]),
    ("scale", &[1, 2]),
    ("rotate", &[1, 3]),
    ("skewX", &[1]),
    ("skewY", &[1]),
];

/// Refuses a value that is not what its attribute holds.
pub(super) fn check(name: &str, value: &str, at: &Range<usize>) -> Result<(), Refused> {
    let value = value.trim();
    let sound = match name {
        "d" => return path_data(value, at),
        "points" => numbers(value).is_some_and(|points| points.len().is_multiple_of(2)),
        "viewBox" => numbers(value)
            .is_some_and(|sides| matches!(sides[..], [_, _, w, h] if w > 0.0 && h > 0.0)),
        "transform" => transform(value),
        "stroke-dasharray" => {
            WORDS.contains(&value) || value.split([' ', ',']).all(|n| n.is_empty() || single(n))
        }
        name if SINGLE.contains(&name) => WORDS.contains(&value) || single(value),
        _ => true,
    };
    if sound { Ok(()) } else { Err(unsound(name, value, at)) }
}

fn unsound(name: &str, value: &str, at: &Range<usize>) -> Refused {
    Refused::new(
        Some(at.clone()),
        format!("`{name}` cannot be {}", quoted(value)),
        format!("plain numbers up to {GREATEST} are read"),
    )
}

/// A number with or without a unit.
fn single(text: &str) -> bool {
    let text = text.trim();
    let number = UNITS.iter().find_map(|unit| text.strip_suffix(unit)).unwrap_or(text);
    plain(number.trim()).is_some()
}

fn plain(text: &str) -> Option<f64> {
    let number = text.parse::<f64>().ok()?;
    (number.is_finite() && number.abs() <= GREATEST).then_some(number)
}

/// A list of numbers, parted by spaces, commas, or a sign.
fn numbers(text: &str) -> Option<Vec<f64>> {
    let mut parted = String::with_capacity(text.len() + 8);
    let mut before = ' ';
    for c in text.chars() {
        if (c == '-' || c == '+') && !matches!(before, 'e' | 'E') {
            parted.push(' ');
        }
        parted.push(if c == ',' { ' ' } else { c });
        before = c;
    }
    parted.split_whitespace().map(plain).collect()
}

fn transform(value: &str) -> bool {
    let mut rest = value.trim();
    while !rest.is_empty() {
        let Some((name, after)) = rest.split_once('(') else { return false };
        let Some((inner, after)) = after.split_once(')') else { return false };
        let takes = TRANSFORMS.iter().find(|(known, _)| *known == name.trim());
        let Some((_, takes)) = takes else { return false };
        if !numbers(inner).is_some_and(|given| takes.contains(&given.len())) {
            return false;
        }
        rest = after.trim_start_matches([' ', ',', '\n', '\t', '\r']);
    }
    true
}

fn path_data(value: &str, at: &Range<usize>) -> Result<(), Refused> {
    if value.is_empty() || value == "none" {
        return Ok(());
    }
    let Ok(path) = BezPath::from_svg(value) else {
        return Err(Refused::new(
            Some(at.clone()),
            "the data of this path is damaged",
            "save the drawing again: up to the damage it would be drawn, and be another",
        ));
    };
    if path.elements().len() > MOST_CURVES {
        return Err(too_many(Some(at.clone())));
    }
    let within = |x: f64| x.is_finite() && x.abs() <= GREATEST;
    let sound = path.segments().all(|segment| {
        let cubic = segment.to_cubic();
        [cubic.p0, cubic.p1, cubic.p2, cubic.p3].iter().all(|p| within(p.x) && within(p.y))
    });
    if sound { Ok(()) } else { Err(unsound("d", value, at)) }
}

/// A drawing of more curves than are followed.
pub(super) fn too_many(at: Option<Range<usize>>) -> Refused {
    Refused::new(
        at,
        format!("the drawing has more than {MOST_CURVES} lines and curves"),
        "simplify its paths: on a plate nothing finer than the cutter is seen",
    )
}
