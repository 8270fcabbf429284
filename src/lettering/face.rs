//! A font opened once, at one instance.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use kurbo::{BezPath, Rect};

use super::file::{Drawing, check_container, hexadecimal};
use super::outline::Drawn;
use super::sfnt::Tables;
use super::shape::Kept;
use super::stroke::{self, GlyphStrokes, MOST_PAIRS, Measure, Pair, Pocket};
use super::{Entry, FamilyAxis, Inside, axes, catalogue, measure, nearest_entry, shipped, single};
use crate::layout::{Axis, AxisValue, FontFile, LetteringChoice, LetteringSource};

/// Units to the em that the OpenType specification allows (table `head`).
const UNITS_TO_THE_EM: std::ops::RangeInclusive<u16> = 16..=16384;

/// Why a lettering could not be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FaceError {
    /// What is wrong, for the person who chose the file.
    pub message: String,
    /// What to do.
    pub help: Option<String>,
    /// The axis that is set wrongly, where it is that.
    pub axis: Option<Axis>,
}

/// Where the bytes of a font come from.
enum Bytes {
    /// A shipped file, with its checksum and, where it is open already, what shares it.
    Shipped(&'static [u8], String, Option<Arc<[u8]>>),
    /// A shipped file of centre lines, with its checksum.
    Strokes(&'static [u8], String),
    /// A file of the user's own, with its checksum where that is known.
    Own(Arc<[u8]>, Option<String>),
}

/// A glyph has not been drawn yet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Undrawn;

/// A font at one instance: every axis set.
pub struct Face {
    /// Name for people: the catalogue's, or the file's path.
    pub name: String,
    /// The file's bytes.
    pub bytes: Arc<[u8]>,
    /// SHA-256 of the bytes, hexadecimal.
    pub sha256: String,
    /// Face index in a collection.
    pub index: u32,
    /// Every axis with its value, in the font's order.
    pub axes: Vec<(String, f32)>,
    /// Units to the em.
    pub upem: f64,
    /// One font unit, em.
    em_per_unit: f64,
    /// Cap height, font units: median ink height of E F H I T Z. Where these
    /// differ by more than 3 %, the height of the reference letter's ink above the
    /// baseline: the catalogue's letter, or H in a file of the user's own. Without
    /// Latin capitals, the same of the reference letter of the face's script.
    pub cap_units: f64,
    /// Height of the ink of x above the baseline, font units, where the face has one.
    pub x_units: Option<f64>,
    /// Licence in short, `None` for the user's own file.
    pub licence: Option<String>,
    /// What the user's own file says of itself; `None` for a shipped one.
    pub inside: Option<Inside>,
    /// The shaper's reading, at the instance.
    shaping: harfrust::Font,
    /// The reading that outlines come from, at the instance.
    drawing: Drawing,
    /// Outlines drawn so far, by glyph.
    drawn: Box<[OnceLock<Drawn>]>,
    /// Stroke widths measured so far, by glyph; none until the first is asked for.
    strokes: OnceLock<Box<[Measured]>>,
    /// What pairs of glyphs that touch shut in, as far as that has been asked.
    pockets: Mutex<BTreeMap<Pair, Pocket>>,
    /// Shaping plans made so far, and buffers.
    kept: Mutex<Kept>,
}

/// A glyph's widths, once they have been asked for; none where they could not be had.
type Measured = OnceLock<Option<Box<GlyphStrokes>>>;

impl std::fmt::Debug for Face {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Face({:?} {:?})", self.name, self.axes)
    }
}

impl Face {
    /// Opens a lettering: a shipped one by its catalogue name, or the user's own bytes.
    ///
    /// An axis that the choice does not set stands where the catalogue says, in a variable
    /// file of the user's own at its default. A shipped face as the catalogue sets it is
    /// opened once and shared; others are opened anew at each call.
    ///
    /// # Errors
    /// A name that is not in the catalogue; bytes that are not a readable font;
    /// an index past the collection; a face without the reference capitals; an axis that
    /// the lettering does not have, or a value out of its range.
    pub fn open(choice: &LetteringChoice) -> Result<Arc<Self>, FaceError> {
        match &choice.source {
            LetteringSource::Shipped(name) if choice.axes.is_empty() => Self::shipped(name),
            LetteringSource::Shipped(name) => {
                let shared = Arc::clone(&Self::shipped(name)?.bytes);
                Self::of_entry(named(name)?, &choice.axes, Some(shared))
            }
            LetteringSource::Own(file) => Self::of_file(file, &choice.axes, None),
        }
    }

    /// As [`Self::open`]; where this is the same file of the user's own, what was read of
    /// its bytes is not read again.
    pub(super) fn at(&self, choice: &LetteringChoice) -> Result<Arc<Self>, FaceError> {
        match &choice.source {
            LetteringSource::Own(file)
                if Arc::ptr_eq(&file.bytes, &self.bytes) && file.index == self.index =>
            {
                Self::of_file(file, &choice.axes, Some(self))
            }
            _ => Self::open(choice),
        }
    }

    /// A file of the user's own, where it is open already with that face.
    fn of_file(
        file: &FontFile,
        asked: &[(Axis, AxisValue)],
        opened: Option<&Self>,
    ) -> Result<Arc<Self>, FaceError> {
        let sha256 = opened.map(|face| face.sha256.clone());
        let bytes = Bytes::Own(Arc::clone(&file.bytes), sha256);
        let mut face = Self::read(file.path.clone(), bytes, file.index, |ranges| {
            axes::of_file(&file.path, ranges, asked)
        })?;
        let inside = opened.and_then(|face| face.inside.clone());
        face.inside = Some(inside.unwrap_or_else(|| Inside::read(&face.bytes, face.index)));
        face.called(asked);
        face.set_heights(None)?;
        Ok(Arc::new(face))
    }

    /// The shaper's reading with an axis at another value.
    pub(super) fn instance(&self, tag: &str, value: f32) -> harfrust::Font {
        let axes = self
            .axes
            .iter()
            .map(|(own, stands)| (own.as_str(), if own == tag { value } else { *stands }));
        self.shaping.instance_builder().variations(axes).build()
    }

    /// A shipped face, opened at the first question and shared from then on: it
    /// never changes, and cures are proved by asking for the same faces many times.
    fn shipped(name: &str) -> Result<Arc<Self>, FaceError> {
        type Opened = OnceLock<Result<Arc<Face>, FaceError>>;
        static OPENED: OnceLock<Vec<Opened>> = OnceLock::new();
        let entries = &catalogue().entries;
        let opened = OPENED.get_or_init(|| entries.iter().map(|_| Opened::new()).collect());
        let found = entries.iter().zip(opened).find(|(entry, _)| entry.name == name);
        match found {
            Some((entry, place)) => place.get_or_init(|| Self::of_entry(entry, &[], None)).clone(),
            None => Self::of_entry(named(name)?, &[], None),
        }
    }

    fn of_entry(
        entry: &Entry,
        asked: &[(Axis, AxisValue)],
        shared: Option<Arc<[u8]>>,
    ) -> Result<Arc<Self>, FaceError> {
        let stands = axes::of_entry(entry, asked)?;
        let bytes = shipped::file(&entry.file).unwrap_or_default();
        let bytes = if entry.single_stroke() {
            Bytes::Strokes(bytes, entry.sha256.clone())
        } else {
            Bytes::Shipped(bytes, entry.sha256.clone(), shared)
        };
        let mut face = Self::read(entry.name.clone(), bytes, 0, |_| Ok(stands))?;
        let family = catalogue().family(entry);
        face.licence = family.map(|family| format!("{}, {}", family.spdx, family.copyright));
        face.called(asked);
        face.set_heights(entry.reference)?;
        Ok(Arc::new(face))
    }

    /// Names the axes that a layout sets behind the lettering's own name.
    fn called(&mut self, asked: &[(Axis, AxisValue)]) {
        if !asked.is_empty() {
            self.name = format!("{}, {}", self.name, axes::in_words(&self.axes, asked));
        }
    }

    /// Reads the bytes twice, once to shape and once to draw, and sets every axis:
    /// `stands` is told their ranges and says where some of them stand.
    fn read(
        name: String,
        bytes: Bytes,
        index: u32,
        stands: impl FnOnce(&[FamilyAxis]) -> Result<Vec<(String, f32)>, FaceError>,
    ) -> Result<Self, FaceError> {
        let unreadable = || FaceError {
            message: format!("`{name}` is not a font that can be read"),
            help: Some(
                "take the file from its source again; a TTF, OTF or TTC file is needed".to_owned(),
            ),
            axis: None,
        };
        let mut tables = None;
        let (bytes, sha256, mut drawing) = match bytes {
            Bytes::Shipped(bytes, sha256, shared) => {
                let drawing = Drawing::shipped(bytes).ok_or_else(unreadable)?;
                (shared.unwrap_or_else(|| bytes.into()), sha256, drawing)
            }
            Bytes::Strokes(bytes, sha256) => {
                let read = single::strokes(bytes).map_err(|error| FaceError {
                    message: format!("`{name}` is no alphabet of centre lines: {error}"),
                    ..unreadable()
                })?;
                tables = Some(read.tables.into());
                (bytes.into(), sha256, Drawing::Strokes(read.glyphs))
            }
            Bytes::Own(bytes, sha256) => {
                check_container(&name, &bytes, index)?;
                let drawing = Drawing::own(&bytes, index).ok_or_else(unreadable)?;
                let sha256 = sha256.unwrap_or_else(|| hexadecimal(&bytes));
                (bytes, sha256, drawing)
            }
        };
        let shaped: Arc<[u8]> = tables.unwrap_or_else(|| Arc::clone(&bytes));
        let shared: Arc<dyn AsRef<[u8]> + Send + Sync> = Arc::new(shaped);
        let plain = harfrust::Font::new(shared, index).ok_or_else(unreadable)?;
        let upem = plain.units_per_em();
        if !UNITS_TO_THE_EM.contains(&upem) {
            return Err(unreadable());
        }
        let axes = every_axis(&plain, &stands(&ranges(&plain))?);
        let shaping = plain
            .instance_builder()
            .variations(axes.iter().map(|(tag, value)| (tag.as_str(), *value)))
            .build();
        drawing.set(&axes);
        let glyphs = drawing.glyph_count();
        Ok(Self {
            name,
            bytes,
            sha256,
            index,
            axes,
            upem: f64::from(upem),
            em_per_unit: 1.0 / f64::from(upem),
            cap_units: f64::from(upem),
            x_units: None,
            licence: None,
            inside: None,
            shaping,
            drawing,
            drawn: (0..glyphs).map(|_| OnceLock::new()).collect(),
            strokes: OnceLock::new(),
            pockets: Mutex::default(),
            kept: Mutex::default(),
        })
    }

    fn set_heights(&mut self, reference: Option<char>) -> Result<(), FaceError> {
        self.cap_units = measure::cap_units(self, reference).ok_or_else(|| FaceError {
            message: format!("`{}` has no letter to take the cap height from", self.name),
            help: Some(
                "the capitals E F H I T Z, or the reference letter of another script, \
                 are needed with an outline; fonts of symbols or pictures have none"
                    .to_owned(),
            ),
            axis: None,
        })?;
        self.x_units = measure::top_units(self, 'x');
        Ok(())
    }

    /// Whether its glyphs are centre lines, which a tool follows once: open paths, to be
    /// drawn with the width of its cut. Ink boxes and heights are then those of these lines.
    #[must_use]
    pub fn single_stroke(&self) -> bool {
        matches!(self.drawing, Drawing::Strokes(_))
    }

    /// Cap height in em.
    #[must_use]
    pub fn cap_em(&self) -> f64 {
        self.cap_units / self.upem
    }

    /// Width of the letter O ÷ height of the letter I, by their ink; `None` where the
    /// face lacks either. The 2010 ADA Standards ask for 0.55 to 1.10 on signs (703.5.4).
    #[must_use]
    pub fn o_to_i(&self) -> Option<f64> {
        measure::o_to_i(self)
    }

    /// Height of a script's reference letter above the baseline, font units; `None` for a
    /// script without one, or where the face lacks it.
    #[must_use]
    pub fn reference_units(&self, script: &str) -> Option<f64> {
        measure::top_units(self, measure::reference_letter(script)?)
    }

    /// Whether a sheet may hold the font, or a part of it, beside outlines.
    #[must_use]
    pub fn embeddable(&self) -> bool {
        self.inside.as_ref().is_none_or(|inside| inside.embeddable)
    }

    /// Whether the file lists substitutions of an OpenType feature, such as `smcp`, for
    /// any script.
    #[must_use]
    pub fn offers(&self, feature: &str) -> bool {
        let tag = <&[u8; 4]>::try_from(feature.as_bytes());
        // Centre lines come without such a table.
        !self.single_stroke()
            && tag.is_ok_and(|tag| Tables::read(&self.bytes, self.index).substitutes(tag))
    }

    /// Least value of an axis by its tag; `None` where the face has no such axis.
    #[must_use]
    pub fn axis_least(&self, tag: &str) -> Option<f32> {
        let axes = self.shaping.axes();
        axes.iter().find(|axis| axis.tag() == tag).map(|axis| axis.min_value())
    }

    /// Outline of a glyph in em, y up; empty for a glyph without one.
    ///
    /// Every contour is closed. Fill it by the nonzero rule.
    #[must_use]
    pub fn outline(&self, glyph: u16) -> BezPath {
        self.drawn(glyph).map(|drawn| drawn.path.clone()).unwrap_or_default()
    }

    /// Exact ink box of a glyph in em, y up; `None` for a glyph without ink.
    pub(super) fn ink(&self, glyph: u16) -> Option<Rect> {
        self.drawn(glyph)?.ink
    }

    /// How thin the strokes of a glyph are and how narrow its counters, cap heights of the
    /// face; measured at the first question.
    #[must_use]
    pub fn strokes(&self, glyph: u16) -> Measure<'_> {
        let drawn = self.drawn(glyph).filter(|drawn| drawn.ink.is_some());
        let all = self.strokes.get_or_init(|| self.drawn.iter().map(|_| OnceLock::new()).collect());
        let Some((drawn, place)) = drawn.zip(all.get(usize::from(glyph))) else {
            return Measure::Blank;
        };
        let measured = || {
            let measure =
                if self.single_stroke() { stroke::of_centre_lines } else { stroke::of_outline };
            measure(&drawn.path, self.cap_em()).map(Box::new)
        };
        place.get_or_init(measured).as_deref().map_or(Measure::Unmeasured, Measure::Widths)
    }

    /// What a pair of glyphs that touch shuts in, measured at the first question.
    pub(super) fn pocket(&self, pair: Pair, measured: impl FnOnce() -> Pocket) -> Pocket {
        let kept = || self.pockets.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = kept().get(&pair) {
            return *known;
        }
        let pocket = measured();
        let mut all = kept();
        if all.len() < MOST_PAIRS {
            all.insert(pair, pocket);
        }
        pocket
    }

    /// The same of a glyph that has been drawn before.
    ///
    /// # Errors
    /// It has not been drawn: see [`Self::draw`].
    pub(super) fn known_ink(&self, glyph: u16) -> Result<Option<&Rect>, Undrawn> {
        let Some(place) = self.drawn.get(usize::from(glyph)) else { return Ok(None) };
        place.get().map(|drawn| drawn.ink.as_ref()).ok_or(Undrawn)
    }

    /// Draws glyphs, so that [`Self::known_ink`] knows them.
    pub(super) fn draw(&self, glyphs: impl Iterator<Item = u16>) {
        for glyph in glyphs {
            self.drawn(glyph);
        }
    }

    fn drawn(&self, glyph: u16) -> Option<&Drawn> {
        let place = self.drawn.get(usize::from(glyph))?;
        Some(place.get_or_init(|| self.drawing.drawn(glyph, self.upem)))
    }

    /// Glyph of a character by the face's own table; `None` where it has none.
    #[must_use]
    pub fn nominal(&self, character: char) -> Option<u16> {
        let glyph = self.shaping.charmap().map_unicode(character)?;
        u16::try_from(glyph.to_u32()).ok().filter(|id| *id != 0)
    }

    /// One font unit, em.
    pub(super) fn em_per_unit(&self) -> f64 {
        self.em_per_unit
    }

    /// What is kept for shaping; `None` where a thread broke off while it held it.
    pub(super) fn kept(&self) -> Option<MutexGuard<'_, Kept>> {
        self.kept.lock().ok()
    }

    /// The shaper's reading of the file.
    pub(super) fn shaping(&self) -> &harfrust::Font {
        &self.shaping
    }
}

/// The entry of a name.
fn named(name: &str) -> Result<&'static Entry, FaceError> {
    catalogue().entry(name).ok_or_else(|| {
        let help = nearest_entry(name).map(|near| format!("did you mean `{}`?", near.name));
        FaceError { message: format!("no lettering is called `{name}`"), help, axis: None }
    })
}

/// The axes of a font that a layout can set.
fn ranges(font: &harfrust::Font) -> Vec<FamilyAxis> {
    let axes = font.axes();
    let known = axes.iter().filter_map(|axis| {
        let (least, most) = (axis.min_value(), axis.max_value());
        let axis = Axis::of_tag(&axis.tag().to_string())?;
        Some(FamilyAxis { axis, least, most, words: axes::usual_words(axis, least, most) })
    });
    known.collect()
}

/// Every axis of a font with the value asked for, or its default, within its range.
fn every_axis(font: &harfrust::Font, asked: &[(String, f32)]) -> Vec<(String, f32)> {
    font.axes()
        .iter()
        .map(|axis| {
            let tag = axis.tag().to_string();
            let wanted = asked.iter().find(|(name, _)| *name == tag).map(|(_, value)| *value);
            (tag, wanted.unwrap_or(axis.default_value()))
        })
        .collect()
}
