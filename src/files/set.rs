//! The files of `ansata make`, as they grow: sheets in their formats, with where the
//! plate and the zero lie on each page.

use crate::drawing::write::{WriteError, dxf, pdf, png_of_bits, png_of_pixels, svg_about};
use crate::job::Job;
use crate::report::SheetFile;
use crate::sheets::{self, MachineSheet, PhotoPixels, Sheet};

use super::Failure;
use super::folder::Output;

/// Formats of drawings for machines.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Format {
    Svg,
    Pdf,
    Dxf,
}

impl Format {
    /// Each with its ending.
    pub(crate) const ALL: [(&'static str, Self); 3] =
        [("svg", Self::Svg), ("pdf", Self::Pdf), ("dxf", Self::Dxf)];

    /// The format of an ending in small letters.
    pub(crate) fn of(ending: &str) -> Option<Self> {
        Self::ALL.iter().find(|(known, _)| *known == ending).map(|(_, format)| *format)
    }

    /// A drawing in it; SVG and DXF are counted from the drawing's zero.
    pub(crate) fn bytes(self, drawing: &MachineSheet) -> Result<Vec<u8>, WriteError> {
        match self {
            Self::Svg => svg_of(drawing),
            Self::Pdf => pdf(&drawing.sheet.drawing),
            Self::Dxf => dxf_of(drawing),
        }
    }
}

/// What is to be written, as it grows.
#[derive(Default)]
pub(crate) struct Set {
    /// Files.
    pub(crate) outputs: Vec<Output>,
    /// What the report says of their pages.
    pub(crate) sheets: Vec<SheetFile>,
}

impl Set {
    /// A sheet in one format.
    pub(crate) fn add(
        &mut self,
        name: &str,
        sheet: &Sheet,
        write: impl Fn(&Sheet) -> Result<Vec<u8>, WriteError>,
    ) -> Result<(), Failure> {
        let bytes =
            write(sheet).map_err(|error| Failure::Write(format!("error: {name}: {error}")))?;
        self.outputs.push(Output { name: name.to_owned(), bytes });
        for (index, page) in sheet.drawing.pages.iter().enumerate() {
            let plate = sheet.plate_at.get(index).copied().flatten();
            self.sheets.push(SheetFile {
                file: name.to_owned(),
                page: index + 1,
                width_mm: tolerable(page.width),
                height_mm: tolerable(page.height),
                plate_x_mm: plate.map(|(x, _)| tolerable(x)),
                plate_y_mm: plate.map(|(_, y)| tolerable(y)),
                zero_x_mm: None,
                zero_y_mm: None,
            });
        }
        Ok(())
    }

    /// What people with a machine are given: the face from its datum, and the plate's
    /// own drilling where it has holes.
    pub(crate) fn machine(&mut self, job: &Job) -> Result<(), Failure> {
        let face = sheets::pattern_for_machines(job);
        self.with_zero("pattern-mm.dxf", &face, dxf_of)?;
        self.with_zero("pattern-mm.svg", &face, svg_of)?;
        if !job.mount.holes.is_empty() {
            let plate = sheets::drilling_for_machines(job);
            self.with_zero("drilling-mm.dxf", &plate, dxf_of)?;
        }
        Ok(())
    }

    /// The artwork whole and by operation, each in three formats, and its text.
    pub(crate) fn artwork(&mut self, job: &Job) -> Result<(), Failure> {
        let artwork = sheets::artwork(job);
        self.three_formats("artwork-mm", &artwork.whole)?;
        for (operation, sheet) in &artwork.parts {
            self.three_formats(&format!("artwork-{operation}-mm"), sheet)?;
        }
        for photo in artwork.photos {
            let written = match &photo.pixels {
                PhotoPixels::Dots(bits) => png_of_bits(bits, photo.per_mm),
                PhotoPixels::Printed(pixels) => png_of_pixels(pixels, photo.per_mm),
            };
            let told = |error| Failure::Write(format!("error: {}: {error}", photo.name));
            self.outputs.push(Output { bytes: written.map_err(told)?, name: photo.name });
        }
        let bytes = artwork.text.into_bytes();
        self.outputs.push(Output { name: "artwork.txt".to_owned(), bytes });
        Ok(())
    }

    fn three_formats(&mut self, name: &str, drawing: &MachineSheet) -> Result<(), Failure> {
        for (ending, format) in Format::ALL {
            let file = format!("{name}.{ending}");
            match format {
                // The PDF has no zero of its own.
                Format::Pdf => self.add(&file, &drawing.sheet, |_| format.bytes(drawing))?,
                _ => self.with_zero(&file, drawing, |drawing| format.bytes(drawing))?,
            }
        }
        Ok(())
    }

    fn with_zero(
        &mut self,
        name: &str,
        drawing: &MachineSheet,
        write: impl Fn(&MachineSheet) -> Result<Vec<u8>, WriteError>,
    ) -> Result<(), Failure> {
        self.add(name, &drawing.sheet, |_| write(drawing))?;
        if let Some(file) = self.sheets.last_mut() {
            (file.zero_x_mm, file.zero_y_mm) =
                (Some(tolerable(drawing.zero.0)), Some(tolerable(drawing.zero.1)));
        }
        Ok(())
    }
}

/// As DXF, counted from its zero.
fn dxf_of(drawing: &MachineSheet) -> Result<Vec<u8>, WriteError> {
    dxf(&drawing.sheet.drawing, drawing.zero, &drawing.remark).map(String::into_bytes)
}

/// As SVG, counted from its zero.
fn svg_of(drawing: &MachineSheet) -> Result<Vec<u8>, WriteError> {
    svg_about(&drawing.sheet.drawing, drawing.zero).map(String::into_bytes)
}

/// A length as the report gives it.
fn tolerable(mm: f64) -> f64 {
    (mm * 10_000.0).round() / 10_000.0
}
