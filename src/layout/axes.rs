//! Axes of variable lettering, and where a layout sets them.
//!
//! Source of the usual values: the OpenType specification, table `OS/2`,
//! `usWeightClass` and `usWidthClass`, with which the registered axes `wght` and
//! `wdth` agree.

use super::LetteringChoice;

/// An axis that a layout can set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// Thickness of the strokes, 400 for regular and 700 for bold.
    Weight,
    /// Width as drawn, per cent of the normal one.
    Width,
    /// Size for which it is drawn, points: small ones have sturdier thin strokes.
    OpticalSize,
}

impl Axis {
    /// All of them, in the order in which they are named.
    pub const ALL: [Self; 3] = [Self::Weight, Self::Width, Self::OpticalSize];

    /// The key of a layout.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Weight => "weight",
            Self::Width => "width",
            Self::OpticalSize => "optical_size",
        }
    }

    /// How messages and sheets call it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Weight => "weight",
            Self::Width => "width",
            Self::OpticalSize => "optical size",
        }
    }

    /// Its tag in a font.
    #[must_use]
    pub const fn tag(self) -> &'static str {
        match self {
            Self::Weight => "wght",
            Self::Width => "wdth",
            Self::OpticalSize => "opsz",
        }
    }

    /// The axis of a tag.
    #[must_use]
    pub fn of_tag(tag: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|axis| axis.tag() == tag)
    }

    /// Words for its values, with the usual value in thousandths where there is one.
    /// Optical sizes have none: each family has its own.
    #[must_use]
    pub const fn words(self) -> &'static [(&'static str, Option<u32>)] {
        match self {
            Self::Weight => &[
                ("thin", Some(100_000)),
                ("extra light", Some(200_000)),
                ("light", Some(300_000)),
                ("regular", Some(400_000)),
                ("medium", Some(500_000)),
                ("semibold", Some(600_000)),
                ("bold", Some(700_000)),
                ("extra bold", Some(800_000)),
                ("black", Some(900_000)),
            ],
            Self::Width => &[
                ("extra narrow", Some(62_500)),
                ("narrow", Some(75_000)),
                ("slightly narrow", Some(87_500)),
                ("normal", Some(100_000)),
                ("slightly wide", Some(112_500)),
                ("wide", Some(125_000)),
            ],
            Self::OpticalSize => {
                &[("caption", None), ("text", None), ("display", None), ("poster", None)]
            }
        }
    }
}

/// What a layout asks of an axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AxisValue {
    /// One of [`Axis::words`]; what it means is the lettering's to say.
    Word(&'static str),
    /// A number on the axis's own scale, in thousandths.
    Thousandths(u32),
}

impl LetteringChoice {
    /// What is asked of an axis, if anything.
    #[must_use]
    pub fn asked(&self, axis: Axis) -> Option<AxisValue> {
        self.axes.iter().find(|(known, _)| *known == axis).map(|(_, value)| *value)
    }

    /// Asks something of an axis, in place of what was asked before.
    pub fn ask(&mut self, axis: Axis, value: AxisValue) {
        self.axes.retain(|(known, _)| *known != axis);
        self.axes.push((axis, value));
        self.axes.sort_by_key(|(axis, _)| *axis);
    }
}

#[cfg(test)]
mod tests {
    use super::{Axis, AxisValue};
    use crate::layout::LetteringChoice;

    #[test]
    fn what_is_asked_later_takes_the_place_of_what_was_asked_before() {
        let mut choice = LetteringChoice::shipped("Archivo");
        assert_eq!(choice.asked(Axis::Width), None);
        choice.ask(Axis::Width, AxisValue::Word("narrow"));
        choice.ask(Axis::Weight, AxisValue::Thousandths(650_000));
        choice.ask(Axis::Width, AxisValue::Thousandths(80_000));
        assert_eq!(
            choice.axes,
            [
                (Axis::Weight, AxisValue::Thousandths(650_000)),
                (Axis::Width, AxisValue::Thousandths(80_000)),
            ]
        );
    }

    #[test]
    fn words_rise_along_their_axis() {
        for axis in Axis::ALL {
            let values: Vec<_> = axis.words().iter().filter_map(|(_, value)| *value).collect();
            assert!(values.is_sorted(), "{axis:?}");
            assert_eq!(Axis::of_tag(axis.tag()), Some(axis));
        }
    }
}
