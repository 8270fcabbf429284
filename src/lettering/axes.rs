//! Where the axes of a lettering stand: as the catalogue says, or as a layout asks.

use super::catalogue::thousandths;
use super::{Entry, FaceError, Family, FamilyAxis, catalogue};
use crate::layout::{Axis, AxisValue};
use crate::units::digits::trimmed;

/// What a layout asks of axes.
type Asked = [(Axis, AxisValue)];

/// Where every axis of a shipped lettering stands with what is asked of some.
///
/// # Errors
/// An axis that the family does not have; a value out of its range; a word that is none
/// of its own. Each names the axis.
pub(super) fn of_entry(entry: &Entry, asked: &Asked) -> Result<Vec<(String, f32)>, FaceError> {
    let mut axes = entry.axes.clone();
    let families = &catalogue().families;
    let Some(family) = families.get(entry.family) else { return Ok(axes) };
    for (axis, value) in asked {
        let Some(known) = family.axis(*axis) else {
            return Err(without(&entry.name, *axis, family));
        };
        let value = placed(&entry.name, known, *value)?;
        for (_, stands) in axes.iter_mut().filter(|(tag, _)| tag == axis.tag()) {
            *stands = value;
        }
    }
    Ok(axes)
}

/// The axes that are asked for of a file of the user's own, whose ranges are `ranges`.
///
/// # Errors
/// As [`of_entry`].
pub(super) fn of_file(
    name: &str,
    ranges: &[FamilyAxis],
    asked: &Asked,
) -> Result<Vec<(String, f32)>, FaceError> {
    let one = |(axis, value): &(Axis, AxisValue)| {
        let known = ranges.iter().find(|known| known.axis == *axis).ok_or_else(|| {
            let has: Vec<&str> = ranges.iter().map(|known| known.axis.name()).collect();
            let help = if has.is_empty() {
                "the file has no axes that can be set: leave it out".to_owned()
            } else {
                format!("it has: {}", has.join(", "))
            };
            error(*axis, format!("`{name}` has no axis for its {}", axis.name()), help)
        })?;
        Ok((axis.tag().to_owned(), placed(name, known, *value)?))
    };
    asked.iter().map(one).collect()
}

/// The words of an axis that lie in a range, of a font without words of its own.
pub(super) fn usual_words(axis: Axis, least: f32, most: f32) -> Vec<(&'static str, f32)> {
    let words =
        axis.words().iter().filter_map(|(word, usual)| Some((*word, thousandths((*usual)?))));
    words.filter(|(_, value)| (least..=most).contains(value)).collect()
}

/// How sheets and messages speak of axes that a layout sets: `weight 650, width 80`.
pub(super) fn in_words(axes: &[(String, f32)], asked: &Asked) -> String {
    let one = |(axis, _): &(Axis, AxisValue)| {
        let (_, value) = axes.iter().find(|(tag, _)| tag == axis.tag())?;
        Some(format!("{} {}", axis.name(), number(*value)))
    };
    asked.iter().filter_map(one).collect::<Vec<_>>().join(", ")
}

fn number(value: f32) -> String {
    trimmed(f64::from(value), 3)
}

fn error(axis: Axis, message: String, help: String) -> FaceError {
    FaceError { message, help: Some(help), axis: Some(axis) }
}

/// A value asked for, within the range of its axis.
fn placed(name: &str, known: &FamilyAxis, asked: AxisValue) -> Result<f32, FaceError> {
    let axis = known.axis;
    let (value, typed) = match asked {
        AxisValue::Thousandths(value) => (Some(thousandths(value)), number(thousandths(value))),
        AxisValue::Word(word) => {
            let found = known.words.iter().find(|(known, _)| *known == word);
            (found.map(|(_, value)| *value), word.to_owned())
        }
    };
    let value = value.filter(|value| (known.least..=known.most).contains(value));
    value.ok_or_else(|| {
        let words: Vec<String> = (known.words.iter())
            .map(|(word, value)| format!("{word} {}", number(*value)))
            .collect();
        let range = format!("it may be {} to {}", number(known.least), number(known.most));
        let help = if words.is_empty() { range } else { format!("{range}: {}", words.join(", ")) };
        error(axis, format!("the {} of `{name}` cannot be `{typed}`", axis.name()), help)
    })
}

/// What to say of an axis that a family does not have.
fn without(name: &str, axis: Axis, family: &Family) -> FaceError {
    let catalogue = catalogue();
    let has: Vec<&str> = family.axes.iter().map(|known| known.axis.name()).collect();
    let styles: Vec<&str> = (catalogue.entries.iter())
        .filter(|entry| catalogue.family(entry).is_some_and(|own| own.name == family.name))
        .map(|entry| entry.name.as_str())
        .collect();
    let who: Vec<&str> = (catalogue.families.iter())
        .filter(|family| family.axis(axis).is_some())
        .map(|family| family.name.as_str())
        .collect();
    let own = match (has.as_slice(), styles.as_slice()) {
        ([], [_]) => "it comes in one style".to_owned(),
        ([], styles) => format!("its styles are {}", styles.join(", ")),
        (has, _) => format!("it has {}", has.join(" and ")),
    };
    error(
        axis,
        format!("`{name}` has no axis for its {}", axis.name()),
        format!("{own}; {} can be set in {}", axis.name(), who.join(", ")),
    )
}
