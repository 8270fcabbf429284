//! Photographs: whose they are, how they can be made, whether heads are cut, whether they
//! have pixels enough.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::floors;
use crate::layout::{Named, Photo, PhotoScreen};
use crate::lettering::missing;
use crate::photo::{
    Demand, Ground, Making, PlacedPhoto, Tones, demand, finest_pitch, making, shown_of,
};
use crate::units::digits::{fixed, trimmed};

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_key};

/// Shares nearer than this to the whole are the whole: a hundredth is not seen.
const WHOLE: f64 = 0.99;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for placed in facts.photos {
        let Some(photo) = facts.layout.photos.get(placed.index) else { continue };
        let one = One { facts, placed, photo };
        found.extend(one.permission());
        found.extend(one.credit());
        found.extend(one.process());
        found.extend(one.on_material());
        found.extend(one.heads());
        found.extend(one.sharpness());
        found.extend(one.screen());
        found.extend(one.pocket());
        found.extend(one.credit_line());
        found.extend(one.credit_letters());
    }
    found
}

/// One photograph in its place.
struct One<'a> {
    facts: &'a Facts<'a>,
    placed: &'a PlacedPhoto,
    photo: &'a Photo,
}

impl One<'_> {
    fn finding(
        &self,
        (code, severity, scope): (&'static str, Severity, Scope),
        key: &str,
        message: &str,
        (rule, source): (&str, &str),
    ) -> Finding {
        let index = self.placed.index + 1;
        let of_many = self.facts.layout.photos.len() > 1;
        let number = if of_many { format!(" {index}") } else { String::new() };
        Finding {
            code,
            severity,
            scope,
            place: at_key(&if key.is_empty() {
                format!("photo.{index}")
            } else {
                format!("photo.{index}.{key}")
            }),
            message: format!("Photograph{number}, {}: {message}", self.photo.path),
            measured: None,
            required: None,
            rule: rule.to_owned(),
            source: source.to_owned(),
        }
    }

    fn permission(&self) -> Option<Finding> {
        self.photo.permission.is_none().then(|| {
            self.finding(
                ("photo-without-permission", Severity::Stop, Scope::Photo),
                "",
                "nothing is told of who allowed it to be used. Ask the photographer, and write \
                 who allowed it, when and how: permission = \"\u{2026}\".",
                (
                    "a photograph is used with its photographer's permission",
                    "it is not ours to give",
                ),
            )
        })
    }

    fn credit(&self) -> Option<Finding> {
        self.photo.credit.is_none().then(|| {
            self.finding(
                ("photo-without-credit", Severity::Caution, Scope::Photo),
                "",
                "nobody is named who took it. Write credit = \"\u{2026}\", for the proof and for \
                 those who come after.",
                ("a photograph's credit is told", COMMON),
            )
        })
    }

    fn making(&self) -> Option<Making> {
        making(self.photo, self.facts.layout).ok()
    }

    fn process(&self) -> Option<Finding> {
        let objection = making(self.photo, self.facts.layout).err()?;
        let severity = if objection.impossible { Severity::Stop } else { Severity::Caution };
        let message = format!(
            "{}. Choose a process of its own for it, such as process = \"printed\" on a piece \
             that is set in, or \"etched\" or \"fibre laser\".",
            objection.why
        );
        Some(self.finding(
            ("photo-by-this-process", severity, Scope::Photo),
            "process",
            &message,
            ("the process can make tones", objection.source),
        ))
    }

    /// What a process of its own does to the plate, where it is made on that and not on a
    /// piece that is set in.
    fn on_material(&self) -> Vec<Finding> {
        let layout = self.facts.layout;
        let of_letters = layout.engraving.process;
        let own = self.photo.making.process.filter(|process| *process != of_letters);
        let Some(process) = own.filter(|_| self.photo.making.inset.is_none()) else {
            return Vec::new();
        };
        let material = layout.plate.material;
        let each = floors::objections_to(layout, process).into_iter();
        each.map(|objection| {
            let what = (objection.code(), objection.severity(), Scope::Photo);
            let rule = format!("{} and {}", process.word(), material.word());
            let told = objection.told(material);
            self.finding(what, "process", &told, (&rule, &objection.source))
        })
        .collect()
    }

    fn heads(&self) -> Option<Finding> {
        let seen = shown_of(self.photo, self.placed.crop, &self.placed.outline, self.placed.sides)?;
        (seen < WHOLE).then(|| {
            let message = format!(
                "{} % of the edge of what `heads` keeps lies outside the crop. Move the focus \
                 there, take a smaller zoom, or another shape or proportion.",
                fixed((1.0 - seen) * 100.0, 0)
            );
            Finding {
                measured: Some(Quantity::percent(seen)),
                required: Some(Quantity::percent(1.0)),
                ..self.finding(
                    ("photo-cuts-heads", Severity::Caution, Scope::Photo),
                    "heads",
                    &message,
                    ("what `heads` keeps stays inside the photograph", GEOMETRY),
                )
            }
        })
    }

    fn sharpness(&self) -> Option<Finding> {
        let demand = demand(&self.making()?, self.facts.layout.engraving.reading.distance);
        let has = self.placed.pixels_per_mm();
        let sized = |need: f64| {
            // Rounded down, so that what is printed does it.
            let width = (self.placed.width() * has / need * 10.0).floor() / 10.0;
            let height = (self.placed.height() * has / need * 10.0).floor() / 10.0;
            format!("{} \u{d7} {} mm", trimmed(width, 1), trimmed(height, 1))
        };
        let measured = |finding: Finding, need: f64| Finding {
            measured: Some(Quantity::pixels_per_mm(has)),
            required: Some(Quantity::pixels_per_mm(need)),
            ..finding
        };
        if has < demand.pixels_per_mm {
            let need = demand.pixels_per_mm;
            let message = format!(
                "it has {} pixels a mm at {} \u{d7} {} mm; {} a mm {}. It would be sharp up to {}, \
                 or from a file of more pixels.",
                fixed(has, 1),
                trimmed(self.placed.width(), 1),
                trimmed(self.placed.height(), 1),
                fixed(need, 1),
                self.why(&demand),
                sized(need)
            );
            let place = ("photo-not-sharp", Severity::Caution, Scope::Photo);
            let rule = ("pixels on a mm", source(&demand));
            return Some(measured(self.finding(place, "file", &message, rule), need));
        }
        let printers = demand.printers.filter(|need| has < *need)?;
        let message = format!(
            "it has {} pixels an inch, which is sharp at the reading distance; printers like 300 \
             an inch, which it has up to {}.",
            fixed(has * crate::units::MM_PER_INCH, 0),
            sized(printers)
        );
        let place = ("photo-under-300", Severity::Note, Scope::Photo);
        let rule = ("300 pixels an inch for print", COMMON);
        Some(measured(self.finding(place, "file", &message, rule), printers))
    }

    /// A screen finer than the process can make is made as fine as it can.
    fn screen(&self) -> Option<Finding> {
        let making = self.making()?;
        let Tones::Marks { screen: PhotoScreen::Dots(ruling) | PhotoScreen::Lines(ruling), dot } =
            making.tones
        else {
            return None;
        };
        let finest = finest_pitch(&making)?;
        (ruling.pitch < finest - EQUAL_MM / 10.0).then(|| {
            let message = format!(
                "its rows are asked for {} mm apart; with marks and gaps of {} mm at least and \
                 steps of {} mm they are made {} mm apart.",
                trimmed(ruling.pitch, 3),
                trimmed(dot, 3),
                trimmed(making.step, 3),
                trimmed(finest, 3)
            );
            Finding {
                measured: Some(Quantity::mm(ruling.pitch)),
                required: Some(Quantity::mm(finest)),
                ..self.finding(
                    ("screen-too-fine", Severity::Caution, Scope::Photo),
                    "screen.pitch",
                    &message,
                    ("a row holds a mark and a gap", GEOMETRY),
                )
            }
        })
    }

    fn why(&self, demand: &Demand) -> String {
        match demand.ground {
            Ground::Eye => format!(
                "are what the eye tells apart at {} mm, one a minute of arc",
                trimmed(self.facts.layout.engraving.reading.distance, 0)
            ),
            Ground::Screen => "are what its screen can show".to_owned(),
            Ground::Machine => "are what the machine can show".to_owned(),
        }
    }

    fn pocket(&self) -> Option<Finding> {
        let inset = self.photo.making.inset?;
        let thickness = self.facts.layout.plate.thickness;
        (inset.thickness >= thickness).then(|| {
            let message = format!(
                "its pocket, {} mm deep, goes through the plate of {} mm: what is behind it shows \
                 at the gap and must hold the piece. A thinner piece or a thicker plate leaves a \
                 floor.",
                trimmed(inset.thickness, 2),
                trimmed(thickness, 2)
            );
            Finding {
                measured: Some(Quantity::mm(inset.thickness)),
                required: Some(Quantity::mm(thickness)),
                ..self.finding(
                    ("pocket-through-plate", Severity::Caution, Scope::Photo),
                    "inset.thickness",
                    &message,
                    ("a pocket has a floor", GEOMETRY),
                )
            }
        })
    }

    /// Characters of an engraved credit that its lettering lacks.
    fn credit_letters(&self) -> Option<Finding> {
        let text = self.photo.credit.as_ref().filter(|_| self.photo.engraved_credit.is_some())?;
        let words = self.facts.layout.lines.iter().position(|line| line.ornament.is_none())?;
        let face = &self.facts.lines.get(words)?.face;
        let lacks = missing(face, text);
        let told = lacks.iter().map(|lack| {
            format!("\u{201c}{}\u{201d} (U+{:04X})", lack.character, u32::from(lack.character))
        });
        let told = told.collect::<Vec<_>>().join(", ");
        (!lacks.is_empty()).then(|| {
            let message = format!(
                "its credit is engraved in {}, the lettering of the first line, which has no \
                 {told}. Take another lettering there, or leave `engrave_credit` out.",
                face.name
            );
            self.finding(
                ("missing-character", Severity::Stop, Scope::Photo),
                "credit",
                &message,
                (
                    "every character that is engraved has a glyph",
                    &format!("character map of {}", face.name),
                ),
            )
        })
    }

    fn credit_line(&self) -> Option<Finding> {
        let height = self.photo.engraved_credit?.cap_height;
        let layout = self.facts.layout;
        let process = layout.engraving.process;
        let own = layout.shop.least_cap_height.get(&process).copied();
        let least = own.unwrap_or_else(|| floors::process_row(process).least);
        (height < least).then(|| {
            let message = format!(
                "its credit is {} mm high; {} makes nothing readable under {} mm.",
                trimmed(height, 2),
                process.word(),
                trimmed(least, 2)
            );
            let severity = if own.is_some() { Severity::Stop } else { Severity::Caution };
            Finding {
                measured: Some(Quantity::mm(height)),
                required: Some(Quantity::mm(least)),
                ..self.finding(
                    ("credit-too-small", severity, Scope::Photo),
                    "engrave_credit.cap_height",
                    &message,
                    (
                        "least cap height",
                        if own.is_some() { "the shop's own figure" } else { COMMON },
                    ),
                )
            }
        })
    }
}

fn source(demand: &Demand) -> &'static str {
    match demand.ground {
        Ground::Eye => "one minute of arc, ISO 8596",
        Ground::Screen | Ground::Machine => COMMON,
    }
}
