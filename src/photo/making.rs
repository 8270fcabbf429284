//! How a process makes a photograph, from `processes.toml` and what the layout says.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::{Diffusion, Layout, Named, Photo, PhotoScreen, Process, Ruling, Tone};
use crate::units::digits::trimmed;

/// Angle of rows where none is told, degrees. Common practice, no source.
const USUAL_ANGLE: f64 = 45.0;

/// Levels as the picture has them.
const UNCHANGED: Tone = Tone { stretch: 0.0, local_contrast: None, midtone: 0.5, sharpen: 0.0 };

/// What is usual before a picture is made of marks: a screen swallows the ends of the scale and
/// softens edges, and metal is darker than the paper that people know photographs on. Common
/// practice, no source.
const FOR_MARKS: Tone = Tone { stretch: 0.005, local_contrast: None, midtone: 0.6, sharpen: 0.5 };

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Kind {
    Colour,
    Marks,
    Nothing,
}

#[derive(Debug, Clone, Deserialize)]
struct Row {
    name: String,
    tones: Kind,
    screen: Option<String>,
    pitch: Option<f64>,
    step: Option<f64>,
    dot: Option<f64>,
    #[serde(default)]
    stop: bool,
    why: Option<String>,
    source: String,
}

#[derive(Debug, Deserialize)]
struct Rows {
    process: Vec<Row>,
}

static ROWS: LazyLock<Rows> = LazyLock::new(|| {
    toml::from_str(include_str!("processes.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// What tones a photograph is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tones {
    /// Colour.
    Colour,
    /// Grey.
    Grey,
    /// Marks of one tone.
    Marks {
        /// How they are laid out.
        screen: PhotoScreen,
        /// The least mark and the least gap, mm.
        dot: f64,
    },
}

/// How a photograph is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Making {
    /// The process.
    pub process: Process,
    /// Its tones.
    pub tones: Tones,
    /// From dot to dot as the machine sets them, mm.
    pub step: f64,
    /// How levels are changed first.
    pub tone: Tone,
    /// Ground of these figures, as printed.
    pub source: &'static str,
}

impl Making {
    /// How it is made, in words.
    #[must_use]
    pub fn told(&self) -> String {
        let mm = |value: f64| trimmed(value, 4);
        let tones = match self.tones {
            Tones::Colour => "in colour".to_owned(),
            Tones::Grey => "in grey".to_owned(),
            Tones::Marks { screen, dot } => {
                let screen = match screen {
                    PhotoScreen::Diffused(weights) => {
                        format!("scattered dots ({})", weights.word())
                    }
                    PhotoScreen::Dots(ruling) => format!("dots, {}", ruled(ruling)),
                    PhotoScreen::Lines(ruling) => format!("lines, {}", ruled(ruling)),
                };
                format!("{screen}, least mark {} mm", mm(dot))
            }
        };
        let mut told = format!("{}, {tones}, steps of {} mm", self.process.word(), mm(self.step));
        if self.tone.stretch > 0.0 {
            told.push_str(&format!(", {} % stretched", trimmed(self.tone.stretch * 100.0, 2)));
        }
        if let Some(limit) = self.tone.local_contrast {
            told.push_str(&format!(", local contrast {}", trimmed(limit, 2)));
        }
        if (self.tone.midtone - 0.5).abs() > f64::EPSILON {
            told.push_str(&format!(", midtone to {}", trimmed(self.tone.midtone, 3)));
        }
        if self.tone.sharpen > 0.0 {
            told.push_str(&format!(", sharpened {}", trimmed(self.tone.sharpen, 2)));
        }
        told
    }
}

fn ruled(ruling: Ruling) -> String {
    format!("{} mm apart at {}\u{b0}", trimmed(ruling.pitch, 3), trimmed(ruling.angle, 1))
}

/// Why a process makes no photograph.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Objection {
    /// The process.
    pub process: Process,
    /// Whether it cannot be done at all.
    pub impossible: bool,
    /// In words that follow the process's name and a comma.
    pub why: &'static str,
    /// Ground of it, as printed.
    pub source: &'static str,
}

/// How a photograph of a layout is made.
///
/// # Errors
/// Where its process makes none.
pub fn making(photo: &Photo, layout: &Layout) -> Result<Making, Objection> {
    let process = photo.making.process.unwrap_or(layout.engraving.process);
    let row = row(process);
    let told = &photo.making;
    let (Some(step), false) = (row.step, row.tones == Kind::Nothing) else {
        return Err(Objection {
            process,
            impossible: row.stop,
            why: row.why.as_deref().unwrap_or_default(),
            source: &row.source,
        });
    };
    let step = told.step.unwrap_or(step);
    let dot = row.dot.unwrap_or(step).max(step);
    let usual = usual_screen(row);
    let tones = match (told.screen, row.tones) {
        (Some(screen), _) => Tones::Marks { screen, dot },
        (None, Kind::Marks) => Tones::Marks { screen: usual, dot },
        (None, _) if told.grey => Tones::Grey,
        (None, _) => Tones::Colour,
    };
    let usual = if matches!(tones, Tones::Marks { .. }) { FOR_MARKS } else { UNCHANGED };
    let tone = told.tone.unwrap_or(usual);
    Ok(Making { process, tones, step, tone, source: &row.source })
}

/// The process that a new photograph has to name on a plate that is made so: printing, where
/// the plate's own makes no photographs; `None` where it does.
#[must_use]
pub fn process_to_name(of_the_plate: Process) -> Option<Process> {
    (row(of_the_plate).tones == Kind::Nothing).then_some(Process::Printed)
}

fn usual_screen(row: &Row) -> PhotoScreen {
    match (row.screen.as_deref(), row.pitch) {
        (Some("dots"), Some(pitch)) => PhotoScreen::Dots(Ruling { pitch, angle: USUAL_ANGLE }),
        _ => PhotoScreen::Diffused(Diffusion::Stucki),
    }
}

fn row(process: Process) -> &'static Row {
    let row = ROWS.process.iter().find(|row| row.name == process.word());
    row.expect("a test holds every process's word to a row")
}

#[cfg(test)]
mod tests {
    use super::{Kind, ROWS, process_to_name, row};
    use crate::layout::{Named, Process};

    #[test]
    fn a_new_photograph_names_a_process_only_where_the_plates_makes_none() {
        assert_eq!(process_to_name(Process::Rotary), Some(Process::Printed));
        assert_eq!(process_to_name(Process::Etched), None);
        assert_eq!(row(Process::Printed).tones, Kind::Colour);
    }

    #[test]
    fn every_process_has_its_row_and_says_what_it_makes() {
        for (word, process) in Process::ALL {
            let row = row(*process);
            assert_eq!(row.name, *word);
            match row.tones {
                Kind::Nothing => assert!(row.why.is_some() && row.step.is_none(), "{word}"),
                Kind::Colour => assert!(row.step.is_some() && row.screen.is_none(), "{word}"),
                Kind::Marks => {
                    assert!(row.dot.unwrap() >= row.step.unwrap(), "{word}");
                    // A row of dots holds several steps, so that dots can grow.
                    assert!(row.pitch.is_none_or(|pitch| pitch >= 5.0 * row.step.unwrap()));
                }
            }
        }
        assert_eq!(ROWS.process.len(), Process::ALL.len());
    }
}
