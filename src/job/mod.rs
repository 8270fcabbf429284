//! The way through, as one short function: what was asked goes in, everything
//! known about the plaque comes out. Command line and remedies both call it, so
//! that they cannot differ. Knows nothing of files or terminals.

mod accept;
mod mark;

use crate::checks::{self, Facts};
use crate::finding::{Finding, Scope, Severity};
use crate::fit::{self, Fitted};
use crate::floors;
use crate::layout::{Diagnostic, Keys, Layout, Source};
use crate::lettering::{Face, FaceError, ShapedLine, shaped_line};
use crate::mount::{self, MountPlan};
use crate::plate::{self, ClearZone, Field};
use crate::wording;

pub use mark::MARK_LENGTH;

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
    /// What was noticed, in the order of print.
    pub findings: Vec<Judged>,
    /// The proof mark: [`MARK_LENGTH`] characters.
    pub mark: String,
}

impl Job {
    /// Whether files of this scope are withheld: a `stop` of the scope that
    /// nobody has accepted. Wording and lettering share the artwork.
    #[must_use]
    pub fn withholds(&self, scope: Scope) -> bool {
        self.findings.iter().any(|judged| judged.stops() && judged.finding.scope == scope)
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
    let lines = shaped(layout, &marks)?;
    let mount = mount::plan(layout);
    let mut zones = mount.zones();
    zones.extend(plate::border_zones(&layout.plate, &zones));
    let field = plate::field(&layout.plate, &zones);
    let floors = floors::of(&lines, layout);
    let fitted = fit::fitted(layout, &lines, &marks, &floors, &field);
    let facts = Facts {
        layout,
        lines: &lines,
        field: &field,
        zones: &zones,
        mount: &mount,
        fitted: &fitted,
    };
    let findings = accept::judged(checks::findings(&facts), &layout.accepted, &layout.keys);
    let mark = mark::mark(&facts);
    Ok(Job { layout: layout.clone(), lines, field, zones, mount, fitted, findings, mark })
}

fn shaped(layout: &Layout, marks: &[wording::Marks]) -> Result<Vec<ShapedLine>, Vec<Diagnostic>> {
    let mut lines = Vec::with_capacity(layout.lines.len());
    let mut mistakes: Vec<Diagnostic> = Vec::new();
    let mut opened: Vec<(&crate::layout::LetteringChoice, std::sync::Arc<Face>)> = Vec::new();
    for (index, (line, marks)) in layout.lines.iter().zip(marks).enumerate() {
        let known = opened.iter().find(|(choice, _)| *choice == &line.lettering);
        let face = match known {
            Some((_, face)) => face.clone(),
            None => match Face::open(&line.lettering) {
                Ok(face) => {
                    opened.push((&line.lettering, face.clone()));
                    face
                }
                Err(error) => {
                    let mistake = unopened(error, index, &layout.keys);
                    if !mistakes.iter().any(|known| known.span == mistake.span) {
                        mistakes.push(mistake);
                    }
                    continue;
                }
            },
        };
        lines.push(shaped_line(&line.text, &face, &line.features, &marks.stops));
    }
    if mistakes.is_empty() { Ok(lines) } else { Err(mistakes) }
}

/// A lettering that does not open, at the key that chose it: the line's own, else the default.
fn unopened(error: FaceError, index: usize, keys: &Keys) -> Diagnostic {
    let own = format!("line.{}.lettering", index + 1);
    let places = [own.as_str(), "lettering.default"];
    let axis = error.axis.and_then(|axis| {
        places.iter().find_map(|place| keys.exact(&format!("{place}.{}", axis.key())))
    });
    let span = axis.or_else(|| keys.exact(&own)).or_else(|| keys.span("lettering.default"));
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
