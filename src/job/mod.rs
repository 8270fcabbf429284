//! The way through, as one short function: what was asked goes in, everything
//! known about the plaque comes out. Command line and remedies both call it, so
//! that they cannot differ. Knows nothing of files or terminals.

mod accept;
mod credit;
mod cut;
mod mark;
mod narrow;
mod photos;
mod sign_off;
mod trace;

use std::sync::Arc;

use crate::checks::{self, Facts};
use crate::decoration::{self, Placed};
use crate::finding::{Finding, Scope, Severity};
use crate::fit::{self, Fitted};
use crate::floors;
use crate::layout::{Diagnostic, Keys, Layout, LetteringChoice, Line, Source};
use crate::lettering::{Face, FaceError, LineStyle, Narrower, ShapedLine, styled_line};
use crate::mount::{self, MountPlan};
use crate::photo::PlacedPhoto;
use crate::plate::{self, ClearZone, Field};
use crate::wording;

pub use cut::{Cut, CutBorder, CutGlyph, CutHole, CutPhoto};
pub use mark::MARK_LENGTH;
pub use sign_off::{Agreed, SignOff, Signature};
pub use trace::{Spot, Step, Trace, millimetres};

/// A finding, and whether the layout accepts it by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The finding.
    pub finding: Finding,
    /// The reason given, where it is accepted.
    pub accepted: Option<String>,
}

impl Judged {
    /// Whether this is a `stop` that nobody has accepted.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.finding.severity == Severity::Stop && self.accepted.is_none()
    }
}

/// Everything known about one plaque: what was asked, what fits, what was noticed.
#[derive(Debug, Clone)]
pub struct Job {
    /// What was asked.
    pub layout: Layout,
    /// Shaped lines, as in the layout.
    pub lines: Vec<ShapedLine>,
    /// Where lettering may stand.
    pub field: Field,
    /// Clear zones of holes and of a border that turns in round them.
    pub zones: Vec<ClearZone>,
    /// Holes and face.
    pub mount: MountPlan,
    /// Every glyph placed.
    pub fitted: Fitted,
    /// Photographs in their places.
    pub photos: Vec<PlacedPhoto>,
    /// All that is engraved beside lettering and border: ornaments in the corners, then
    /// drawings in the inscription from the top down.
    pub decoration: Vec<Placed>,
    /// What was noticed, in the order of print.
    pub findings: Vec<Judged>,
    /// What is cut.
    pub cut: Cut,
    /// The proof mark of it: [`MARK_LENGTH`] characters.
    pub mark: String,
    /// Who signed for what is cut, where anyone has.
    pub signed: Option<SignOff>,
}

impl Job {
    /// Whether files of this scope are withheld: a `stop` of the scope that
    /// nobody has accepted. Wording and lettering share the artwork.
    #[must_use]
    pub fn withholds(&self, scope: Scope) -> bool {
        self.findings.iter().any(|judged| judged.stops() && judged.finding.scope == scope)
    }

    /// Whether artwork is withheld: by a `stop` of the wording, of the lettering, of an emblem
    /// that is another's, or of the sign-off, which concerns everything that is cut.
    #[must_use]
    pub fn withholds_artwork(&self) -> bool {
        let scopes = [Scope::Wording, Scope::Lettering, Scope::Photo, Scope::SignOff];
        scopes.iter().any(|scope| self.withholds(*scope))
    }

    /// Whether pattern and drilling sheets are withheld: by a `stop` of the mount or of the
    /// sign-off.
    #[must_use]
    pub fn withholds_pattern(&self) -> bool {
        [Scope::Mount, Scope::SignOff].iter().any(|s| self.withholds(*s))
    }

    /// Whether any `stop` stands.
    #[must_use]
    pub fn stopped(&self) -> bool {
        self.findings.iter().any(Judged::stops)
    }
}

/// The way through.
///
/// # Errors
/// Lettering that cannot be opened, told at the key that names it. The source
/// of these diagnostics is empty; the caller knows the file's name and text and
/// puts them in by [`at_source`].
pub fn job(layout: &Layout) -> Result<Job, Vec<Diagnostic>> {
    let layout = &*mount::sized(layout);
    let marks: Vec<_> = layout.lines.iter().map(wording::marks).collect();
    let mount = mount::plan(layout);
    let mut zones = mount.zones();
    zones.extend(plate::border_zones(&layout.plate, &zones));
    let corners = layout.corners.map_or_else(Vec::new, |asked| {
        let corners = decoration::corners(&layout.plate, &asked);
        zones.extend(decoration::zones(&corners, asked.gap));
        corners
    });
    let photos = photos::placed(layout);
    zones.extend(photos::zones(layout, &photos));
    let mut field = plate::field(&layout.plate, &zones);
    if let Some(axis) = photos::axis(layout, &photos, &field) {
        field.axis_x = axis;
    }
    let lines = shaped(layout, &marks, &field)?;
    let lines = narrowed(layout, lines, &marks, &field);
    let floors = floors::of(&lines, layout);
    let fitted = fit::fitted(layout, &lines, &marks, &floors, &field);
    let decoration = placed(corners, &lines, &fitted);
    let facts = Facts {
        layout,
        lines: &lines,
        field: &field,
        zones: &zones,
        mount: &mount,
        fitted: &fitted,
        photos: &photos,
        decoration: &decoration,
    };
    let findings = accept::judged(checks::findings(&facts), &layout.accepted, &layout.keys);
    let cut = cut::cut(&facts);
    let mark = cut.mark();
    let layout = layout.clone();
    let signed = None;
    Ok(Job {
        layout,
        lines,
        field,
        zones,
        mount,
        fitted,
        photos,
        decoration,
        findings,
        cut,
        mark,
        signed,
    })
}

/// All decoration where it stands.
fn placed(corners: Vec<Placed>, lines: &[ShapedLine], fitted: &Fitted) -> Vec<Placed> {
    let mut all = corners;
    all.extend(fitted.rows.iter().filter_map(|row| {
        let ornament = lines.get(row.line)?.ornament.as_ref()?;
        Some(Placed::in_row(row.line, ornament, (row.origin_x, row.baseline), row.cap_height))
    }));
    all
}

/// Faces opened so far, by what chose them.
#[derive(Default)]
struct Opened<'a> {
    faces: Vec<(&'a LetteringChoice, Arc<Face>)>,
}

impl<'a> Opened<'a> {
    fn face(&mut self, choice: &'a LetteringChoice) -> Result<Arc<Face>, FaceError> {
        if let Some((_, face)) = self.faces.iter().find(|(known, _)| *known == choice) {
            return Ok(Arc::clone(face));
        }
        let face = Face::open(choice)?;
        self.faces.push((choice, Arc::clone(&face)));
        Ok(face)
    }
}

fn shaped(
    layout: &Layout,
    marks: &[wording::Marks],
    field: &Field,
) -> Result<Vec<ShapedLine>, Vec<Diagnostic>> {
    let mut lines = Vec::with_capacity(layout.lines.len());
    let mut mistakes: Vec<Diagnostic> = Vec::new();
    let nothing = LetteringChoice::shipped("");
    let mut opened = Opened::default();
    // Lines that hold a drawing have nothing set; their face is that of the first words.
    let words = layout.lines.iter().find(|line| line.ornament.is_none());
    let words = words.map_or(&nothing, |line| &line.lettering);
    for (index, (line, marks)) in layout.lines.iter().zip(marks).enumerate() {
        let mut tell = |error: FaceError, other: Option<usize>| {
            let mistake = unopened(error, index, other, &layout.keys);
            if !mistakes.iter().any(|known| known.span == mistake.span) {
                mistakes.push(mistake);
            }
        };
        let mut others = Vec::with_capacity(line.setting.others.len());
        for (at, choice) in line.setting.others.iter().enumerate() {
            match opened.face(choice) {
                Ok(face) => others.push(face),
                Err(error) => tell(error, Some(at)),
            }
        }
        let choice = if line.ornament.is_some() { words } else { &line.lettering };
        match opened.face(choice) {
            Ok(face) if line.ornament.is_some() => {
                let drawing = line.ornament.as_ref();
                let drawing = drawing.and_then(|asked| decoration::ornament(asked, field));
                lines.push(ShapedLine::of_ornament(drawing, &face));
            }
            // Its face is that of a line of words, where this is told.
            Err(_) if line.ornament.is_some() => {}
            Ok(face) => lines.push(set(line, marks, &face, &others)),
            Err(error) => tell(error, None),
        }
    }
    if mistakes.is_empty() { Ok(lines) } else { Err(mistakes) }
}

/// The lines, those narrowed that may be and miss their height.
fn narrowed(
    layout: &Layout,
    lines: Vec<ShapedLine>,
    marks: &[wording::Marks],
    field: &Field,
) -> Vec<ShapedLine> {
    if layout.lines.iter().all(|line| line.setting.narrow_to.is_none()) {
        return lines;
    }
    let others: Vec<Vec<Arc<Face>>> = lines.iter().map(|line| line.others.clone()).collect();
    let features: Vec<Vec<String>> = lines.iter().map(|line| line.features.clone()).collect();
    let each = layout.lines.iter().zip(&lines).zip(others.iter().zip(&features));
    let mut narrowers: Vec<Option<Narrower<'_>>> = each
        .map(|((line, shaped), (others, features))| {
            let language = line.setting.language.as_deref();
            let style = LineStyle { features, language, others };
            let least = whole_per_cent(line.setting.narrow_to?);
            Narrower::new(shaped, &line.lettering, style, least)
        })
        .collect();
    narrow::Fitting { layout, marks, field }.narrowed(lines, &mut narrowers)
}

/// A share as whole per cent that are no less.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of a layout lies between 0.01 and 1"
)]
fn whole_per_cent(share: f64) -> u32 {
    (share * 100.0 - 1e-9).ceil() as u32
}

/// A line in its faces, as it is engraved.
fn set(line: &Line, marks: &wording::Marks, face: &Arc<Face>, others: &[Arc<Face>]) -> ShapedLine {
    let features = line.all_features();
    let language = line.setting.language.as_deref();
    let style = LineStyle { features: &features, language, others };
    match wording::engraved(line, &marks.stops) {
        Some(engraved) => styled_line(&engraved.text, face, &style, &engraved.stops),
        None => styled_line(&line.text, face, &style, &marks.stops),
    }
}

/// A lettering that does not open, at the key that chose it: the line's own, else that of
/// all lines; `other` is its place among the further ones.
fn unopened(error: FaceError, index: usize, other: Option<usize>, keys: &Keys) -> Diagnostic {
    let (own, all) = match other {
        None => (format!("line.{}.lettering", index + 1), "lettering.default".to_owned()),
        Some(at) => {
            let own = format!("line.{}.others.{}", index + 1, at + 1);
            (own, format!("lettering.others.{}", at + 1))
        }
    };
    let places = [own.as_str(), all.as_str()];
    let axis = error.axis.and_then(|axis| {
        places.iter().find_map(|place| keys.exact(&format!("{place}.{}", axis.key())))
    });
    let span = axis.or_else(|| keys.exact(&own)).or_else(|| keys.span(&all));
    Diagnostic {
        source: Source { name: String::new(), text: String::new() },
        span,
        message: error.message,
        help: error.help,
    }
}

/// Diagnostics of [`job`] with the layout's own name and text put in.
#[must_use]
pub fn at_source(diagnostics: Vec<Diagnostic>, source: &Source) -> Vec<Diagnostic> {
    diagnostics.into_iter().map(|d| Diagnostic { source: source.clone(), ..d }).collect()
}
